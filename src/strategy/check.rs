//! Holes that cannot be solved, said before anything is laid out.

use super::{Hole, Kind};
use crate::ground::Point;
use std::fmt;

/// The longest hole that is solved, from the tee to the hole along its line, yards.
pub const LONGEST: f64 = 1200.0;
/// The shortest.
pub const SHORTEST: f64 = 10.0;

/// Why a hole cannot be solved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BadHole {
    /// A place is not a number, or the hole is longer or shorter than any.
    Length(f64),
    /// The hole is not cut on a green.
    NoGreen,
    /// The tee lies in a penalty area, out of bounds, in a bunker, among trees or on the green.
    Tee(Kind),
}

impl fmt::Display for BadHole {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Length(yards) if yards.is_finite() => write!(
                f,
                "a hole of {yards:.0} yards cannot be planned: {SHORTEST:.0} to {LONGEST:.0} yards can; check `length` and the green's `front`"
            ),
            Self::Length(_) => write!(f, "the tee or the hole has no place; check `length` and the green's `front`"),
            Self::NoGreen => write!(
                f,
                "the hole is not cut on a green, so it cannot be planned; give `green`, or move the hole location on to it"
            ),
            Self::Tee(kind) => {
                let ground = match kind {
                    Kind::PenaltyRed | Kind::PenaltyYellow => "in a penalty area",
                    Kind::Out => "out of bounds",
                    Kind::Green => "on the green",
                    _ => "in a bunker or among trees",
                };
                write!(f, "the tee stands {ground}; move the tee or end that ground short of it")
            }
        }
    }
}

impl std::error::Error for BadHole {}

/// Refuses what cannot be solved.
///
/// # Errors
/// [`BadHole`], with its cure.
pub fn check(hole: &Hole<'_>) -> Result<(), BadHole> {
    let gap = |a: &Point, b: &Point| libm::hypot(b.right - a.right, b.ahead - a.ahead);
    let straight = gap(&hole.tee, &hole.pin);
    let places = || hole.line.iter().chain([&hole.tee, &hole.pin]);
    let farthest = places().map(|p| gap(p, &hole.pin)).fold(straight, f64::max);
    if !straight.is_finite() || places().any(|p| !p.right.is_finite() || !p.ahead.is_finite()) {
        return Err(BadHole::Length(f64::NAN));
    }
    if straight < SHORTEST {
        return Err(BadHole::Length(straight));
    }
    if farthest > LONGEST {
        return Err(BadHole::Length(farthest));
    }
    if hole.lies.kind(hole.pin) != Kind::Green {
        return Err(BadHole::NoGreen);
    }
    match hole.lies.kind(hole.tee) {
        Kind::Fairway | Kind::Rough | Kind::Waste | Kind::Deep => Ok(()),
        kind => Err(BadHole::Tee(kind)),
    }
}
