//! How many putts a skill needs from a distance on a level green.
//!
//! # References
//! Broadie, "Assessing Golfer Performance on the PGA TOUR", *Interfaces* 42(2), 2012, section 3.3 (as transcribed in the
//! reference on strategy, 1.2): independent errors of direction and pace, aimed half a yard past, able to drop while it would roll at most
//! two thirds of a yard past. The miss leaves a new putt; pace error grows by a quarter of itself for every 20 ft beyond 20 ft (our fit).

use super::normal::{chance_below, quantile};

/// One standard deviation of pace, as a share of the putt's length; it hardly changes with skill.
pub const PACE_SPREAD: f64 = 0.057;
/// How many putts are told apart; the last stands for itself and more.
pub const MOST_PUTTS: usize = 6;

const HOLE_RADIUS_YD: f64 = 2.125 / 36.0;
const AIMED_PAST_YD: f64 = 0.5;
const DROPS_WITHIN_YD: f64 = 2.0 / 3.0;
const DIRECTIONS: usize = 16;
const PACES: usize = 32;

/// Chances of one, two, three … putts by distance, in yards from the hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Putts {
    distance: Vec<f64>,
    chances: Vec<[f64; MOST_PUTTS]>,
}

/// Errors that stand for all of them.
struct Errors {
    direction: f64,
    /// Angles with their sine and cosine; one side only: the other is its mirror image.
    sides: Vec<(f64, (f64, f64))>,
    /// Errors of pace in standard deviations.
    paces: Vec<f64>,
}

impl Errors {
    fn new(direction: f64) -> Self {
        let side = |i: usize| {
            let angle = direction * quantile(0.5 + 0.5 * (i as f64 + 0.5) / DIRECTIONS as f64);
            (angle, (libm::sin(angle), libm::cos(angle)))
        };
        let paces = (0..PACES).map(|j| quantile((j as f64 + 0.5) / PACES as f64)).collect();
        Self { direction, sides: (0..DIRECTIONS).map(side).collect(), paces }
    }
}

impl Putts {
    /// For one standard deviation of direction in degrees and of pace as a share of the length.
    pub fn new(direction_deg: f64, pace: f64) -> Self {
        let distance: Vec<f64> = stations_ft().map(|ft| ft / 3.0).collect();
        let mut curve = Self { chances: vec![[0.0, 1.0, 0.0, 0.0, 0.0, 0.0]; distance.len()], distance };
        if let Some(first) = curve.chances.first_mut() {
            *first = [1.0, 0.0, 0.0, 0.0, 0.0, 0.0];
        }
        let errors = Errors::new(direction_deg.to_radians());
        // A short miss can leave a putt as long as itself, so the whole is gone through until it settles.
        for _ in 0..3 {
            for i in 1..curve.distance.len() {
                let d = curve.distance.get(i).copied().unwrap_or_default();
                let row = curve.chances_from(d, &errors, pace);
                if let Some(slot) = curve.chances.get_mut(i) {
                    *slot = row;
                }
            }
        }
        curve
    }

    fn chances_from(&self, d: f64, errors: &Errors, pace: f64) -> [f64; MOST_PUTTS] {
        let long = 1.0 + 0.25 * ((3.0 * d - 20.0) / 20.0).max(0.0);
        let pace_yd = pace * long * (d + AIMED_PAST_YD);
        let holed = chance_holed(d, errors.direction, pace_yd);
        let half_angle = libm::atan(HOLE_RADIUS_YD / d);
        let (mut left, mut weight) = ([0.0; MOST_PUTTS], 0.0);
        for (angle, (sin, cos)) in &errors.sides {
            for error in &errors.paces {
                let roll = d + AIMED_PAST_YD + pace_yd * error;
                let past = roll - d;
                if *angle < half_angle && (0.0..=DROPS_WITHIN_YD).contains(&past) {
                    continue;
                }
                let (beside, beyond) = (roll * sin, roll * cos - d);
                let next = self.chances((beside * beside + beyond * beyond).sqrt());
                left.iter_mut().zip(next).for_each(|(l, n)| *l += n);
                weight += 1.0;
            }
        }
        let missed = if weight > 0.0 { (1.0 - holed) / weight } else { 0.0 };
        let mut row = [0.0; MOST_PUTTS];
        for (j, share) in left.iter().enumerate() {
            if let Some(slot) = row.get_mut((j + 1).min(MOST_PUTTS - 1)) {
                *slot += missed * share;
            }
        }
        if let Some(first) = row.first_mut() {
            *first += if weight > 0.0 { holed } else { 1.0 };
        }
        row
    }

    /// Chances of holing out in exactly 1, 2 … putts from `yards`; beyond the last station it is held there.
    pub fn chances(&self, yards: f64) -> [f64; MOST_PUTTS] {
        let i = self.distance.partition_point(|d| *d <= yards);
        let (Some(low), Some(a)) = (self.distance.get(i.saturating_sub(1)), self.chances.get(i.saturating_sub(1)))
        else {
            return [1.0, 0.0, 0.0, 0.0, 0.0, 0.0];
        };
        let (Some(high), Some(b)) = (self.distance.get(i), self.chances.get(i)) else {
            return *a;
        };
        let t = ((yards - low) / (high - low)).clamp(0.0, 1.0);
        let mut row = *a;
        row.iter_mut().zip(b).for_each(|(x, y)| *x += t * (y - *x));
        row
    }

    /// Average putts from `yards`.
    ///
    /// ```
    /// use marram::{course::Card, pattern::Skill};
    /// let putts = Skill::tour(Card::Men).putts();
    /// assert!((putts.average(20.0 / 3.0) - 1.878).abs() < 0.04); // the tour's table, 20 ft
    /// ```
    pub fn average(&self, yards: f64) -> f64 {
        average_of(&self.chances(yards))
    }
}

/// The average number of putts that these chances mean.
pub fn average_of(chances: &[f64; MOST_PUTTS]) -> f64 {
    chances.iter().enumerate().map(|(j, p)| (j as f64 + 1.0) * p).sum()
}

fn chance_holed(d: f64, direction: f64, pace_yd: f64) -> f64 {
    let half_angle = libm::atan(HOLE_RADIUS_YD / d);
    let line = 2.0 * chance_below(half_angle / direction) - 1.0;
    let speed = chance_below((DROPS_WITHIN_YD - AIMED_PAST_YD) / pace_yd) - chance_below(-AIMED_PAST_YD / pace_yd);
    line * speed
}

/// Distances in feet at which the curve is held: close where it bends, wide where it is nearly straight.
fn stations_ft() -> impl Iterator<Item = f64> {
    let close = (0..24).map(|i| f64::from(i) * 0.5);
    let middle = (12..30).map(f64::from);
    let far = (15..30).map(|i| f64::from(i) * 2.0);
    let end = (12..=36).map(|i| f64::from(i) * 5.0);
    close.chain(middle).chain(far).chain(end)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{course::Card, pattern::Skill};

    /// Broadie 2012 (transcribed): expected putts, PGA TOUR 2003-2010, 1 to 60 ft; issue: within 0.04.
    #[test]
    fn tour_putts_are_the_published_ones() {
        let putts = Skill::tour(Card::Men).putts();
        for (ft, e) in [
            (1.0, 1.001),
            (2.0, 1.009),
            (3.0, 1.053),
            (4.0, 1.147),
            (5.0, 1.256),
            (6.0, 1.357),
            (7.0, 1.443),
            (8.0, 1.515),
            (10.0, 1.626),
            (15.0, 1.790),
            (20.0, 1.878),
            (30.0, 1.978),
            (40.0, 2.055),
            (50.0, 2.135),
            (60.0, 2.218),
        ] {
            let got = putts.average(ft / 3.0);
            assert!((got - e).abs() < 0.04, "{ft} ft: {got} against {e}");
        }
    }

    /// One-putt share, PGA TOUR: 3 ft 96, 5 ft 77, 10 ft 40, 20 ft 15, 30 ft 7, 60 ft 2 per cent (article quoting Broadie).
    #[test]
    fn tour_one_putts_are_the_published_ones() {
        let putts = Skill::tour(Card::Men).putts();
        for (ft, p) in [(3.0, 0.96), (5.0, 0.77), (10.0, 0.40), (20.0, 0.15), (30.0, 0.07), (60.0, 0.02)] {
            let [one, ..] = putts.chances(ft / 3.0);
            assert!((one - p).abs() < 0.012, "{ft} ft: {one} against {p}");
        }
    }

    /// Broadie 2012 (quoted): a 90-golfer holes half from 5 ft and averages 2.0 from 19 ft; the tour 8 ft and 33 ft. New
    /// York Times, 21 July 2008: handicaps 0-9 hole half from 6 ft.
    #[test]
    fn half_are_holed_from_where_it_was_published() {
        let half = |s: &Skill| {
            let p = s.putts();
            (1..400).map(|i| f64::from(i) / 10.0).find(|ft| p.chances(ft / 3.0)[0] < 0.5)
        };
        assert!((half(&Skill::tour(Card::Men)).unwrap_or(0.0) - 8.0).abs() < 0.3);
        assert!((half(&Skill::of_index(5.0, Card::Men)).unwrap_or(0.0) - 6.3).abs() < 0.2);
        assert!((half(&Skill::of_index(18.1, Card::Men)).unwrap_or(0.0) - 5.0).abs() < 0.3);
        let ninety = Putts::new(2.72, 0.055);
        assert!((ninety.average(19.0 / 3.0) - 2.0).abs() < 0.03);
        let [_, _, three, ..] = ninety.chances(10.0);
        assert!((three - 0.17).abs() < 0.02, "three putts from 30 ft: {three}");
    }

    #[test]
    fn chances_sum_to_one_and_averages_grow() {
        let putts = Skill::of_index(36.0, Card::Men).putts();
        let mut last = 0.0;
        for i in 0..500 {
            let d = f64::from(i) * 0.1;
            let row = putts.chances(d);
            assert!((row.iter().sum::<f64>() - 1.0).abs() < 1e-9);
            let e = average_of(&row);
            assert!(e >= last - 1e-9, "{d} yd");
            last = e;
        }
    }
}
