//! What a Handicap Index says of a player's shots when nothing better is known.
//!
//! # References
//! The rows, formulas and calibrated spread are those of the reference on strategy, section 5, found by fitting one number
//! a skill to the Course Rating lines (Course Rating System; state association texts) and to the tour's table of average strokes (Broadie,
//! *Interfaces* 42(2), 2012). Distances: Course Rating definitions of scratch and bogey golfer.

use super::putts::Putts;
use crate::course::Card;

/// The numbers behind a player's pattern. Distances in yards, angles in degrees.
#[derive(Clone, Debug, PartialEq)]
pub struct Skill {
    /// Handicap Index; plus handicaps are negative.
    pub index: f64,
    /// Whose rows were used.
    pub card: Card,
    /// Total length of the drive, carry and run.
    pub drive: f64,
    /// Spread against the tour's, the calibrated number.
    pub spread: f64,
    /// One standard deviation of the driver's direction.
    pub driver_deg: f64,
    /// Chance of a mishit from a good lie.
    pub mishit: f64,
    /// One standard deviation of a putt's direction.
    pub putt_deg: f64,
    /// Spread of the longest shots off the fairway against the same from a tee.
    pub fairway_spread: f64,
    /// Longest shot off the fairway, as a share of the drive.
    pub fairway_reach: f64,
    /// Spread from rough.
    pub rough_spread: f64,
    /// Length kept from rough.
    pub rough_length: f64,
    /// How far the numbers rest on rows that were fitted.
    pub ground: Footing,
}

/// How a skill was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Footing {
    /// On a row or between two rows that were fitted.
    Fitted,
    /// Better than scratch: between scratch and the tour's row, which was measured on harder courses.
    BetweenScratchAndTour,
    /// Beyond the last row, along the line of the last two.
    BeyondTheRows,
}

const MEN: [(f64, f64); 7] =
    [(0.0, 1.066), (5.0, 1.402), (10.0, 1.738), (15.0, 2.058), (20.0, 2.338), (28.0, 2.886), (36.0, 3.390)];
const WOMEN: [(f64, f64); 8] = [
    (0.0, 1.265),
    (5.0, 1.633),
    (10.0, 1.976),
    (15.0, 2.281),
    (20.0, 2.536),
    (24.0, 2.690),
    (28.0, 2.928),
    (36.0, 3.341),
];

/// The index that stands for the tour's row.
pub const TOUR_INDEX: f64 = -6.0;
/// The highest Handicap Index (Rules of Handicapping 2024, Rule 5.3).
pub const HIGHEST_INDEX: f64 = 54.0;

impl Skill {
    /// The tour's row (men: the published table; women: a guess without a table, said in docs/model.md).
    pub fn tour(card: Card) -> Self {
        let (drive, spread, driver_deg, putt_deg) = match card {
            Card::Men => (283.0, 1.0, 3.75, 1.46),
            Card::Women => (250.0, 1.106, 3.85, 1.51),
        };
        Self {
            index: TOUR_INDEX,
            card,
            drive,
            spread,
            driver_deg,
            mishit: 0.03,
            putt_deg,
            fairway_spread: 1.79,
            fairway_reach: 0.92,
            rough_spread: 1.65,
            rough_length: 0.91,
            ground: Footing::Fitted,
        }
    }

    /// The skill of a Handicap Index, from +6.0 (as -6) to 54; beyond these it is held at the end.
    ///
    /// ```
    /// use marram::{course::Card, pattern::Skill};
    /// let scratch = Skill::of_index(0.0, Card::Men);
    /// assert_eq!((scratch.drive, scratch.spread), (250.0, 1.066));
    /// ```
    pub fn of_index(index: f64, card: Card) -> Self {
        let index = if index.is_finite() { index.clamp(TOUR_INDEX, HIGHEST_INDEX) } else { 18.0 };
        if index < 0.0 {
            return Self::plus(index, card);
        }
        // Women's rows were fitted with their bogey golfer (24) where the men's is 20.
        let level = match card {
            Card::Men => index,
            Card::Women => index * 20.0 / 24.0,
        };
        let (drive, rows): (f64, &[(f64, f64)]) = match card {
            Card::Men => (250.0 - 2.5 * index.min(20.0) - 1.5 * (index - 20.0).max(0.0), &MEN),
            Card::Women => (210.0 - 2.5 * index.min(24.0) - 1.5 * (index - 24.0).max(0.0), &WOMEN),
        };
        Self {
            index,
            card,
            drive,
            spread: on_rows(rows, index),
            driver_deg: 4.3 + 0.09 * level,
            mishit: (0.045 + 0.004 * level).max(0.03),
            putt_deg: 1.775 + 0.0525 * level,
            fairway_spread: 1.3,
            fairway_reach: 0.88,
            rough_spread: 1.4,
            rough_length: 0.90,
            ground: if index > 36.0 { Footing::BeyondTheRows } else { Footing::Fitted },
        }
    }

    fn plus(index: f64, card: Card) -> Self {
        let (scratch, tour) = (Self::of_index(0.0, card), Self::tour(card));
        let t = index / TOUR_INDEX;
        let mix = |a: f64, b: f64| a + t * (b - a);
        Self {
            index,
            card,
            drive: mix(scratch.drive, tour.drive),
            spread: mix(scratch.spread, tour.spread),
            driver_deg: mix(scratch.driver_deg, tour.driver_deg),
            mishit: mix(scratch.mishit, tour.mishit),
            putt_deg: mix(scratch.putt_deg, tour.putt_deg),
            fairway_spread: mix(scratch.fairway_spread, tour.fairway_spread),
            fairway_reach: mix(scratch.fairway_reach, tour.fairway_reach),
            rough_spread: mix(scratch.rough_spread, tour.rough_spread),
            rough_length: mix(scratch.rough_length, tour.rough_length),
            ground: Footing::BetweenScratchAndTour,
        }
    }

    /// The putting that belongs to this skill.
    pub fn putts(&self) -> Putts {
        Putts::new(self.putt_deg, super::putts::PACE_SPREAD)
    }

    /// One standard deviation along the line of a shot of `total` yards from a perfect lie.
    pub fn along_spread(&self, total: f64) -> f64 {
        let rate = mix_to_driver(0.0364, 0.0638, self.ramp(total)) * self.spread;
        self.short_spread(total).max(rate * total)
    }

    /// One standard deviation across the line of a shot of `total` yards from a perfect lie.
    pub fn across_spread(&self, total: f64) -> f64 {
        let deg = mix_to_driver(2.2 / 3.8 * self.driver_deg, self.driver_deg, self.ramp(total));
        (0.85 * self.short_spread(total)).max(total * libm::tan(deg.to_radians()))
    }

    fn short_spread(&self, total: f64) -> f64 {
        1.145 * self.spread * libm::pow(total.max(0.0) / 10.0, 0.672)
    }

    fn ramp(&self, total: f64) -> f64 {
        ((total / self.drive - 0.55) / 0.45).clamp(0.0, 1.0)
    }
}

fn mix_to_driver(iron: f64, driver: f64, ramp: f64) -> f64 {
    iron + (driver - iron) * ramp
}

/// Linear between rows, and along the last two beyond them.
fn on_rows(rows: &[(f64, f64)], x: f64) -> f64 {
    let mut pair = rows.windows(2).filter_map(|w| match w {
        [a, b] => Some((*a, *b)),
        _ => None,
    });
    let mut found = pair.next();
    for (a, b) in pair {
        if x >= a.0 {
            found = Some((a, b));
        }
    }
    found.map_or(1.0, |((x0, y0), (x1, y1))| y0 + (y1 - y0) * (x - x0) / (x1 - x0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Reference on strategy, section 5, the printed rows.
    #[test]
    fn rows_are_the_printed_ones() {
        for (card, index, drive, k, deg, q, putt) in [
            (Card::Men, 5.0, 237.5, 1.402, 4.75, 0.065, 2.04),
            (Card::Men, 20.0, 200.0, 2.338, 6.10, 0.125, 2.83),
            (Card::Men, 36.0, 176.0, 3.390, 7.54, 0.189, 3.67),
            (Card::Women, 10.0, 185.0, 1.976, 5.05, 0.078, 2.21),
            (Card::Women, 24.0, 150.0, 2.690, 6.10, 0.125, 2.83),
            (Card::Women, 36.0, 132.0, 3.341, 7.00, 0.165, 3.35),
        ] {
            let s = Skill::of_index(index, card);
            assert!((s.drive - drive).abs() < 1e-9);
            assert!((s.spread - k).abs() < 1e-9);
            assert!((s.driver_deg - deg).abs() < 0.006);
            assert!((s.mishit - q).abs() < 0.0006);
            assert!((s.putt_deg - putt).abs() < 0.006);
        }
    }

    #[test]
    fn skill_falls_steadily_with_the_index_and_ends_are_said() {
        for card in [Card::Men, Card::Women] {
            let mut last = Skill::tour(card);
            for tenth in -59..=540 {
                let s = Skill::of_index(f64::from(tenth) / 10.0, card);
                assert!(s.drive <= last.drive && s.spread >= last.spread && s.mishit >= last.mishit);
                last = s;
            }
        }
        assert_eq!(Skill::of_index(-2.0, Card::Men).ground, Footing::BetweenScratchAndTour);
        assert_eq!(Skill::of_index(40.0, Card::Men).ground, Footing::BeyondTheRows);
        assert!(Skill::of_index(f64::NAN, Card::Men).drive > 0.0);
    }

    /// Reference on strategy, 2.2: the calibrated scratch scatters 8.0 across and 8.2 along at 155 yd off a fairway, 19.7 across with the
    /// driver; the calibrated bogey golfer 17.0 and 21.3 at 154 yd, 10.5 and 12.3 at 97.
    #[test]
    fn scatter_is_that_of_the_reference() {
        use crate::pattern::lie::{Lie, widening};
        for (index, total, lie, across, along) in [
            (0.0, 155.0, Lie::Fairway, 8.0, Some(8.2)),
            (0.0, 250.0, Lie::Tee, 19.7, None),
            (20.0, 154.0, Lie::Fairway, 17.0, Some(21.3)),
            (20.0, 97.0, Lie::Fairway, 10.5, Some(12.3)),
        ] {
            let s = Skill::of_index(index, Card::Men);
            let m = widening(lie, &s, total);
            assert!((m * s.across_spread(total) - across).abs() < 0.08, "{index} {total}");
            assert!(along.is_none_or(|a| (m * s.along_spread(total) - a).abs() < 0.08), "{index} {total}");
        }
    }

    /// Accuracy Table, Course Rating System Manual, section 4, scratch men, read as one side alone holding two in three (size / 1.94):
    /// 150 yd 15 x 16, 170 yd 18 x 17, 250 yd 41 across. Bogey men are wider here than in the table, by the reference's own finding.
    #[test]
    fn scratch_scatter_agrees_with_the_accuracy_table() {
        let scratch = Skill::of_index(0.0, Card::Men);
        for (total, wide, deep) in [(150.0, 15.0, 16.0), (170.0, 18.0, 17.0)] {
            assert!((scratch.across_spread(total) * 1.94 / wide - 1.0).abs() < 0.12, "{total}");
            assert!((scratch.along_spread(total) * 1.94 / deep - 1.0).abs() < 0.12, "{total}");
        }
        assert!((scratch.across_spread(250.0) * 1.046 * 1.94 / 41.0 - 1.0).abs() < 0.08);
    }
}
