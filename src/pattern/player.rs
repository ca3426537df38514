//! A player's whole pattern: clubs, swings for every lie, putting.

use super::bag::{self, Bag, Club, Remark, TWO_IN_THREE};
use super::lie::{mishit_factor, reach, widening};
use super::{Lie, Model, Putts, Skill, Swing};

/// Two full swings further apart than this are joined by part swings.
const WIDEST_GAP: f64 = 8.0;
/// Part swings below the shortest club.
const PART_STEP: f64 = 5.0;
/// Below this length part swings come closer.
const SHORT: f64 = 30.0;
/// The step below it.
const SHORT_STEP: f64 = 2.5;

/// Totals of the printed model's full swings, as shares of the drive (reference on strategy, section 5).
const PRINTED: [f64; 14] = [1.0, 0.92, 0.87, 0.82, 0.77, 0.72, 0.67, 0.62, 0.575, 0.53, 0.485, 0.44, 0.395, 0.35];

/// A player: every swing from every lie, and the putts.
#[derive(Clone, Debug, PartialEq)]
pub struct Pattern {
    /// The skill behind what is assumed; its drive is that of the bag.
    pub skill: Skill,
    /// The laws in force.
    pub model: Model,
    /// The clubs from the longest. Empty in the printed model, which knows lengths only.
    pub clubs: Vec<Club>,
    /// What the bag's owner should be told.
    pub remarks: Vec<Remark>,
    /// Putting.
    pub putts: Putts,
    swings: Vec<Vec<Swing>>,
}

/// A full swing before the lie has its say.
struct Full {
    club: usize,
    total: f64,
    carried: f64,
    across: f64,
    along: f64,
    lean: f64,
    mishit: f64,
    curve: f64,
    driver: bool,
}

impl Pattern {
    /// The printed model of a skill: fourteen lengths, no run.
    pub fn printed(skill: Skill) -> Self {
        let fulls: Vec<Full> = PRINTED
            .iter()
            .enumerate()
            .map(|(club, share)| Full {
                club,
                total: share * skill.drive,
                carried: 1.0,
                across: 1.0,
                along: 1.0,
                lean: 0.0,
                mishit: skill.mishit,
                curve: 0.0,
                driver: false,
            })
            .collect();
        Self::build(skill, Model::Printed, Vec::new(), Vec::new(), &fulls, &[])
    }

    /// A player's own bag, filled in from `skill` where it is silent.
    pub fn of(bag: &Bag, skill: &Skill) -> Self {
        let (drive, clubs, mut remarks) = bag::complete(bag, skill);
        let skill = Skill { drive, ..skill.clone() };
        let tee = |total: f64| widening(Lie::Tee, &skill, total);
        let fulls: Vec<Full> = clubs
            .iter()
            .enumerate()
            .map(|(i, c)| {
                let total = c.total();
                Full {
                    club: i,
                    total,
                    carried: c.carry / total,
                    across: c.wide / TWO_IN_THREE / tee(total) / skill.across_spread(total),
                    along: c.deep / TWO_IN_THREE / tee(total) / skill.along_spread(total),
                    lean: c.lean,
                    mishit: c.mishits,
                    curve: c.curve,
                    driver: c.driver,
                }
            })
            .collect();
        let mut known = Vec::new();
        for swing in &bag.swings {
            match fulls.iter().find(|f| {
                clubs.get(f.club).is_some_and(|c| c.name.eq_ignore_ascii_case(swing.club.trim()))
                    && swing.carry > 0.0
                    && swing.carry < f.total
            }) {
                Some(full) => known.push((full.club, swing.carry / bag::carried_share(swing.carry, drive))),
                None => remarks.push(Remark::UnknownSwing(swing.name.clone())),
            }
        }
        Self::build(skill, Model::Ground, clubs, remarks, &fulls, &known)
    }

    fn build(
        skill: Skill,
        model: Model,
        clubs: Vec<Club>,
        remarks: Vec<Remark>,
        fulls: &[Full],
        known: &[(usize, f64)],
    ) -> Self {
        let swings = Lie::ALL.iter().map(|lie| swings_from(*lie, &skill, model, fulls, known)).collect();
        Self { putts: skill.putts(), skill, model, clubs, remarks, swings }
    }

    /// Every swing from `lie`, the longest first.
    pub fn swings(&self, lie: Lie) -> &[Swing] {
        self.swings.get(lie as usize).map_or(&[], Vec::as_slice)
    }

    /// How far the longest swing from `lie` goes, carry and run.
    pub fn reach(&self, lie: Lie) -> f64 {
        self.swings(lie).first().map_or(0.0, |s| s.total)
    }

    /// The longest carry from `lie`.
    pub fn longest_carry(&self, lie: Lie) -> f64 {
        self.swings(lie).iter().map(Swing::carry).fold(0.0, f64::max)
    }

    /// The name of a swing: `7 iron`, or `7 iron, eased to 141`.
    pub fn name(&self, swing: &Swing) -> String {
        match self.clubs.get(swing.club) {
            Some(club) if swing.full => club.name.clone(),
            Some(club) => format!("{}, part swing", club.name),
            None => format!("{:.0} yd", swing.total),
        }
    }
}

fn swings_from(lie: Lie, skill: &Skill, model: Model, fulls: &[Full], known: &[(usize, f64)]) -> Vec<Swing> {
    let reach = reach(lie, skill, model);
    let longest = reach.swing * skill.drive;
    let make = |full: &Full, total: f64, whole: bool| {
        let widening = widening(lie, skill, total);
        let carried =
            if whole || model == Model::Printed { full.carried } else { bag::carried_share(total, skill.drive) };
        let run = if matches!(lie, Lie::Sand | Lie::SteepSand | Lie::ShallowSand) {
            0.5 * (1.0 - carried)
        } else if lie == Lie::Trees && model == Model::Ground {
            0.45
        } else {
            1.0 - carried
        };
        Swing {
            club: full.club,
            full: whole,
            lie,
            total,
            carried: 1.0 - run,
            along: widening * full.along * skill.along_spread(total),
            across: widening * full.across * skill.across_spread(total),
            lean: full.lean,
            mishit: (full.mishit * mishit_factor(lie)).min(0.6),
            curve: full.curve * total / full.total.max(1.0),
        }
    };
    // From anything but a tee a long club is held to the reach of the lie; one that would lose an eighth or more is left in the bag.
    let mut whole: Vec<(&Full, f64)> = fulls
        .iter()
        .filter(|f| lie == Lie::Tee || !f.driver || fulls.len() == 1)
        .filter(|f| match model {
            Model::Printed => f.total <= longest + 1e-9,
            Model::Ground => lie == Lie::Tee || f.total <= longest * 1.125,
        })
        .map(|f| {
            let swing = if lie == Lie::Tee { f.total } else { f.total.min(longest) };
            (f, swing * reach.kept)
        })
        .collect();
    if whole.is_empty()
        && let Some(shortest) = fulls.last()
    {
        whole.push((shortest, shortest.total.min(longest) * reach.kept));
    }
    let mut swings: Vec<Swing> = Vec::new();
    for (i, (full, total)) in whole.iter().enumerate() {
        swings.push(make(full, *total, true));
        let next = whole.get(i + 1).map_or(0.0, |(_, t)| *t);
        if next > 0.0 {
            let parts = ((total - next) / WIDEST_GAP).ceil().max(1.0) as usize;
            for j in 1..parts {
                let t = total - (total - next) * j as f64 / parts as f64;
                swings.push(make(full, t, false));
            }
        } else {
            parts_below(*total).for_each(|t| swings.push(make(full, t, false)));
        }
    }
    for (club, total) in known {
        if let Some(full) = fulls.iter().find(|f| f.club == *club)
            && *total <= longest
        {
            swings.push(make(full, total * reach.kept, false));
        }
    }
    swings.sort_by(|a, b| b.total.total_cmp(&a.total).then(b.full.cmp(&a.full)).then(a.club.cmp(&b.club)));
    swings
}

/// Part swings of the shortest club, down to a chip.
fn parts_below(full: f64) -> impl Iterator<Item = f64> {
    let first = ((full - 2.5) / PART_STEP).floor().max(0.0) as usize;
    let long = (0..=first).rev().map(|i| i as f64 * PART_STEP).filter(move |t| *t >= SHORT && *t < full);
    let short = (1..12).rev().map(|i| f64::from(i) * SHORT_STEP).filter(move |t| *t < full && *t < SHORT);
    long.chain(short)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::course::Card;
    use crate::pattern::BagClub;

    #[test]
    fn no_gap_is_wider_than_eight_yards() {
        for pattern in [
            Pattern::printed(Skill::tour(Card::Men)),
            Pattern::of(&Bag::default(), &Skill::of_index(20.0, Card::Women)),
        ] {
            for lie in Lie::ALL {
                let totals: Vec<f64> = pattern.swings(lie).iter().map(|s| s.total).collect();
                assert!(!totals.is_empty());
                assert!(totals.windows(2).all(|w| w[0] - w[1] <= 8.0 + 1e-9 && w[0] >= w[1]), "{lie:?} {totals:?}");
                assert!(*totals.last().unwrap() <= 2.5 + 1e-9);
            }
        }
    }

    /// Reference on strategy, section 5, "reach".
    #[test]
    fn lies_shorten_as_printed() {
        let tour = Pattern::printed(Skill::tour(Card::Men));
        assert!((tour.reach(Lie::Tee) - 283.0).abs() < 1e-9);
        assert!(tour.reach(Lie::Fairway) <= 0.92 * 283.0 + 1e-9);
        assert!((tour.reach(Lie::Rough) - 0.82 * 0.91 * 283.0).abs() < 1e-6);
        assert!((tour.reach(Lie::Sand) - 0.72 * 0.90 * 283.0).abs() < 1e-6);
    }

    #[test]
    fn the_box_given_is_the_box_played_from_the_tee() {
        let bag = Bag {
            clubs: vec![BagClub {
                name: "driver".into(),
                carry: Some(214.0),
                run: Some(18.0),
                wide: Some(34.0),
                deep: Some(26.0),
                mishits: Some(1.0 / 12.0),
                curve: Some(7.0),
                ..BagClub::default()
            }],
            swings: Vec::new(),
        };
        let p = Pattern::of(&bag, &Skill::of_index(14.6, Card::Men));
        let s = &p.swings(Lie::Tee)[0];
        assert!((s.across - 34.0 / 1.94).abs() < 1e-9);
        assert!((s.along - 26.0 / 1.94).abs() < 1e-9);
        assert!((s.carry() - 214.0).abs() < 1e-9 && (s.run() - 18.0).abs() < 1e-9);
        assert!((s.mishit - 1.0 / 12.0).abs() < 1e-9 && (s.curve - 7.0).abs() < 1e-9);
    }
}
