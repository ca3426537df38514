//! Commit first: club, line and side are marked before the answer shows; then the answer and the price of the difference.

use super::model::{Shot, SideCost};
use super::solved::SolvedHole;
use crate::ground::Point;
use crate::units::{Across, Along, FromTee};
use serde::{Deserialize, Serialize};

/// The kind of line in the file of a player's commitments.
pub const COMMIT_FORMAT: &str = "commit/1";
/// Sides that differ by less than this are alike, strokes.
const ALIKE: f64 = 0.05;

/// A side of a shot, as the player looks along it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum MissSide {
    /// Left.
    Left,
    /// Right.
    Right,
    /// Neither is worse.
    #[default]
    Either,
}

impl MissSide {
    /// The next, round and round.
    #[must_use]
    pub const fn next(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Either,
            Self::Either => Self::Left,
        }
    }

    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Left => "left",
            Self::Right => "right",
            Self::Either => "neither",
        }
    }

    /// The worse side of two costs.
    pub fn worse(sides: SideCost) -> Self {
        match sides.left - sides.right {
            d if d > ALIKE => Self::Left,
            d if d < -ALIKE => Self::Right,
            _ => Self::Either,
        }
    }
}

/// What was marked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mark {
    /// Which club of the bag, from the longest.
    pub club: usize,
    /// Its length, yards.
    pub total: f64,
    /// Towards which point.
    pub towards: Point,
    /// The side that must not be missed.
    pub side: MissSide,
}

/// What was marked against the plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Judged {
    /// The shot that was marked.
    pub marked: Shot,
    /// The side that was marked.
    pub side: MissSide,
    /// The plan's steady shot.
    pub best: Shot,
    /// The side that costs more.
    pub worse: MissSide,
    /// What missing the plan's aim by 15 yards costs by side.
    pub sides: Option<SideCost>,
    /// What the marked shot costs against the best, in the unit of what is aimed for; never below 0.
    pub price: f64,
    /// That unit.
    pub unit: String,
}

/// A commitment as it is kept for the pupil's book: one JSON object a line.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Commitment {
    /// [`COMMIT_FORMAT`].
    pub format: String,
    /// When, ISO date.
    pub on: String,
    /// The player.
    pub player: String,
    /// The course.
    pub course: String,
    /// The hole.
    pub hole: u8,
    /// The tee.
    pub tee: String,
    /// What it was for.
    pub aimed: super::Aimed,
    /// From where, by the player's tee; `None` on it.
    pub from: Option<(FromTee, Across)>,
    /// What was marked and what the plan says.
    pub judged: Judged,
}

impl SolvedHole {
    /// Judges what was marked at a place of the hole; the tee when `at` is `None`.
    pub fn judge(&self, at: Option<(Along, Across)>, mark: Mark) -> Option<Judged> {
        let (ready, solution) = (self.ready(), self.solution());
        let stand = self.stand(at).ok()?;
        let marked = solution.marked(stand, mark.club, mark.total, mark.towards)?;
        let pair = solution.steady_and_bold(stand, self.question().aimed.same())?;
        let least = solution.plays(stand).first().map_or(pair.steady.cost, |p| p.cost);
        let sides = solution.sides(stand, &pair.steady, 15.0).map(|(left, right)| SideCost { left, right });
        Some(Judged {
            marked: ready.shot(stand, &marked),
            side: mark.side,
            best: ready.shot(stand, &pair.steady),
            worse: sides.map_or(MissSide::Either, MissSide::worse),
            sides,
            price: (marked.cost - least).max(0.0),
            unit: self.question().aimed.unit().to_owned(),
        })
    }
}
