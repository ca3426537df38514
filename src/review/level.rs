//! What a player of an index needs from a lie and a distance on plain ground: the measure beside a player's own expectation.
//!
//! # References
//! Strokes gained: Broadie, *Interfaces* 42(2), 2012: strokes expected before a stroke, less those expected after it, less the stroke.

use super::stage::REVIEWED;
use crate::ground::Point;
use crate::pattern::{Lie, Pattern, Putts, Skill, Still};
use crate::strategy::{Hole, Kit, LevelGreen, Plain, Stand, Unsolved, Worth, solve};
use std::sync::atomic::AtomicBool;

/// How far beside the line a ball in the rough lies, yards.
const ROUGH_BESIDE: f64 = 24.0;

/// Lies that the table tells apart.
const LIES: [Lie; 5] = [Lie::Tee, Lie::Fairway, Lie::Rough, Lie::Sand, Lie::Trees];

/// Strokes to hole out by lie and distance, on the green by feet.
#[derive(Clone, Debug, PartialEq)]
pub struct Level {
    yards: Vec<f64>,
    rows: Vec<[f64; 5]>,
    feet: Vec<f64>,
    putts: Vec<f64>,
}

impl Level {
    /// From printed rows: yards with strokes from tee, fairway, rough, sand and trees, and feet with putts; both from the least.
    pub fn printed(rows: &[(f64, [f64; 5])], putts: &[(f64, f64)]) -> Self {
        Self {
            yards: rows.iter().map(|r| r.0).collect(),
            rows: rows.iter().map(|r| r.1).collect(),
            feet: putts.iter().map(|p| p.0).collect(),
            putts: putts.iter().map(|p| p.1).collect(),
        }
    }

    /// A player of this skill on the plain hole of the printed model.
    ///
    /// # Errors
    /// [`Unsolved`] when called off.
    pub fn of(skill: &Skill, cancel: &AtomicBool) -> Result<Self, Unsolved> {
        const LENGTH: f64 = 620.0;
        let kit = Kit::new(Pattern::printed(skill.clone()), REVIEWED);
        let (tee, pin) = (Point::default(), Point::new(0.0, LENGTH));
        let line = [tee, pin];
        let hole = Hole {
            lies: &Plain { length: LENGTH },
            tee,
            pin,
            line: &line,
            green: &LevelGreen { putts: &kit.pattern.putts, hole: pin },
            kit: &kit,
            conditions: &Still,
            fineness: REVIEWED,
        };
        let solution = solve(hole, &Worth::Strokes, cancel)?;
        let yards: Vec<f64> =
            (1..20).map(|i| f64::from(i) * 5.0).chain((5..=30).map(|i| f64::from(i) * 20.0)).collect();
        let value = |lie: Lie, yards: f64| {
            // In the rough a ball lies 24 yards off the line, nearer in as far beside the hole as short of it (reference, section 5).
            let beside = if lie == Lie::Rough { ROUGH_BESIDE.min(yards / std::f64::consts::SQRT_2) } else { 0.0 };
            let at = Point::new(beside, LENGTH - (yards * yards - beside * beside).max(0.0).sqrt());
            solution.at_once(Stand { at, lie, taken: 0 }).map_or(10.0, |p| p.cost)
        };
        let rows = yards.iter().map(|y| LIES.map(|lie| value(lie, *y))).collect();
        let putts: Putts = skill.putts();
        let feet: Vec<f64> = (1..=40).map(f64::from).chain((9..=25).map(|i| f64::from(i) * 5.0)).collect();
        Ok(Self { putts: feet.iter().map(|ft| putts.average(ft / 3.0)).collect(), yards, rows, feet })
    }

    /// Strokes to hole out from a lie; `None` is the green.
    pub fn strokes(&self, lie: Option<Lie>, yards: f64) -> f64 {
        let Some(lie) = lie else { return self.putting(3.0 * yards) };
        let column = match lie {
            Lie::Tee => 0,
            Lie::Fairway => 1,
            Lie::Rough | Lie::Waste | Lie::Deep => 2,
            Lie::ShallowSand | Lie::Sand | Lie::SteepSand => 3,
            Lie::Trees => 4,
        };
        let of: Vec<f64> = self.rows.iter().map(|r| r.get(column).copied().unwrap_or_default()).collect();
        between(&self.yards, &of, yards)
    }

    /// Putts from a distance in feet.
    pub fn putting(&self, feet: f64) -> f64 {
        if feet < 0.3 { 1.0 } else { between(&self.feet, &self.putts, feet) }
    }

    /// Strokes gained by one stroke and its penalties: from a lie and distance to another; `None` after it is in the hole.
    pub fn gained(&self, before: (Option<Lie>, f64), after: Option<(Option<Lie>, f64)>, penalties: f64) -> f64 {
        let left = after.map_or(0.0, |(lie, yards)| self.strokes(lie, yards));
        self.strokes(before.0, before.1) - left - 1.0 - penalties
    }
}

/// Linear between stations, held at the ends.
fn between(x: &[f64], y: &[f64], at: f64) -> f64 {
    let i = x.partition_point(|s| *s <= at);
    let get = |i: usize| Some((*x.get(i)?, *y.get(i)?));
    match (i.checked_sub(1).and_then(get), get(i)) {
        (Some((x0, y0)), Some((x1, y1))) => y0 + (y1 - y0) * (at - x0) / (x1 - x0),
        (Some((_, y0)), None) => y0,
        (None, Some((_, y1))) => y1,
        (None, None) => 0.0,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::course::Card;

    /// Broadie, *Interfaces* 42(2), 2012, table of average strokes and of putts, PGA TOUR 2003-2010 (as transcribed; tee 440 4.08, rough 160
    /// 3.23, fairway 20 2.40, recovery 200 3.87; 10 ft 1.626, 3 ft 1.053). Recomputed by hand below, stroke by stroke.
    fn tour() -> Level {
        Level::printed(
            &[
                (20.0, [2.9, 2.40, 2.59, 2.53, 3.51]),
                (160.0, [2.99, 2.98, 3.23, 3.28, 3.81]),
                (180.0, [3.05, 3.08, 3.31, 3.40, 3.82]),
                (200.0, [3.12, 3.19, 3.42, 3.55, 3.87]),
                (440.0, [4.08, 4.27, 4.49, 4.97, 4.94]),
                (460.0, [4.17, 4.34, 4.58, 5.11, 5.03]),
            ],
            &[(3.0, 1.053), (10.0, 1.626), (15.0, 1.790), (20.0, 1.878)],
        )
    }

    #[test]
    fn a_hole_recomputed_by_hand() {
        let t = tour();
        // 450 yards: 4.125 at the tee. A drive into the rough at 170: 3.27 left. 4.125 - 3.27 - 1 = -0.145.
        let drive = t.gained((Some(Lie::Tee), 450.0), Some((Some(Lie::Rough), 170.0)), 0.0);
        assert!((drive + 0.145).abs() < 1e-9);
        // Short of the green on 20 yards of fairway: 3.27 - 2.40 - 1 = -0.13.
        let approach = t.gained((Some(Lie::Rough), 170.0), Some((Some(Lie::Fairway), 20.0)), 0.0);
        assert!((approach + 0.13).abs() < 1e-9);
        // A pitch to 3 feet: 2.40 - 1.053 - 1 = 0.347; holed: 1.053 - 0 - 1 = 0.053.
        let pitch = t.gained((Some(Lie::Fairway), 20.0), Some((None, 1.0)), 0.0);
        let putt = t.gained((None, 1.0), None, 0.0);
        assert!((pitch - 0.347).abs() < 1e-9 && (putt - 0.053).abs() < 1e-9);
        // They sum to what the hole gained: 4.125 expected, 4 taken.
        assert!((drive + approach + pitch + putt - 0.125).abs() < 1e-9);
        // Out of bounds from the tee: the same place again, two strokes the worse.
        let out = t.gained((Some(Lie::Tee), 450.0), Some((Some(Lie::Tee), 450.0)), 1.0);
        assert!((out + 2.0).abs() < 1e-9);
    }

    #[test]
    fn a_worse_player_needs_more_from_everywhere() {
        let never = AtomicBool::new(false);
        let level = |index: f64| Level::of(&Skill::of_index(index, Card::Men), &never).unwrap();
        let (scratch, twenty) = (level(0.0), level(20.0));
        for yards in [10.0, 45.0, 150.0, 300.0, 500.0] {
            for lie in [Lie::Fairway, Lie::Rough, Lie::Sand] {
                assert!(scratch.strokes(Some(lie), yards) < twenty.strokes(Some(lie), yards), "{lie:?} {yards}");
            }
            assert!(scratch.strokes(None, yards / 30.0) <= twenty.strokes(None, yards / 30.0));
        }
        // Reference on strategy, 6.5: fairway 150 yd, M 0 3.09, M 20 3.94 (accepted within 0.05 there; a first look here).
        assert!((scratch.strokes(Some(Lie::Fairway), 150.0) - 3.09).abs() < 0.08);
        assert!((twenty.strokes(Some(Lie::Fairway), 150.0) - 3.94).abs() < 0.08);
    }
}
