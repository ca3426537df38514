//! Strokes to hole out on plain ground: the printed model as it stands.
//!
//! # References
//! Reference on strategy, section 5: total distances, a straight fairway 32 yards wide, a green of 28 by 24, gaps between swings filled.

use super::solution::{Solution, Stand, solve};
use super::{Fineness, Hole, Kit, LevelGreen, Plain, Unsolved, Worth};
use crate::ground::Point;
use crate::pattern::{Lie, Pattern, Skill, Still};
use std::sync::atomic::AtomicBool;

/// How far beside the line a ball in the rough lies, yards; nearer than this to the hole it is as far beside as short of it.
const ROUGH_BESIDE: f64 = 24.0;

/// How finely the printed model is worked.
const PRINTED: Fineness = Fineness { grid: 6.0, weigh: 128, value: 256, shown: 512 };

/// The plain hole with everything it is made of.
pub struct PlainHole {
    kit: Kit,
    length: f64,
}

impl PlainHole {
    /// The plain hole for a skill, long enough for shots from `farthest` yards.
    pub fn new(skill: Skill, farthest: f64) -> Self {
        Self { kit: Kit::new(Pattern::printed(skill), PRINTED), length: farthest.clamp(60.0, 700.0) }
    }

    /// Solves it and asks `f`.
    ///
    /// # Errors
    /// [`Unsolved::CalledOff`] soon after `cancel` is set.
    pub fn ask<T>(&self, cancel: &AtomicBool, f: impl FnOnce(&Solution<'_>) -> T) -> Result<T, Unsolved> {
        let pin = Point { right: 0.0, ahead: self.length };
        let tee = Point::default();
        let line = [tee, pin];
        let hole = Hole {
            lies: &Plain { length: self.length },
            tee,
            pin,
            line: &line,
            green: &LevelGreen { putts: &self.kit.pattern.putts, hole: pin },
            kit: &self.kit,
            conditions: &Still,
            fineness: PRINTED,
        };
        Ok(f(&solve(hole, &Worth::Strokes, cancel)?))
    }

    /// Where a ball lies that is `yards` from the hole with this lie.
    pub fn place(&self, lie: Lie, yards: f64) -> Point {
        let (beside, short) = match lie {
            Lie::Rough if yards < ROUGH_BESIDE * std::f64::consts::SQRT_2 => (0.7 * yards, 0.7 * yards),
            Lie::Rough => (ROUGH_BESIDE, (yards * yards - ROUGH_BESIDE * ROUGH_BESIDE).sqrt()),
            _ => (0.0, yards),
        };
        Point { right: beside, ahead: self.length - short }
    }
}

/// Strokes to hole out from `yards` with this lie on the plain hole.
///
/// # Errors
/// [`Unsolved::CalledOff`] soon after `cancel` is set.
pub fn expect(skill: Skill, lie: Lie, yards: f64, cancel: &AtomicBool) -> Result<f64, Unsolved> {
    let plain = PlainHole::new(skill, yards + 10.0);
    let at = plain.place(lie, yards);
    plain.ask(cancel, |solution| solution.strokes(Stand { at, lie, taken: 0 }))
}
