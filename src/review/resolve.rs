//! From what was logged to places: as far as the log goes, and how well each place is known.

use super::stage::Stage;
use crate::ground::Point;
use crate::pattern::Lie;
use crate::round::{HoleShots, LeftRight, Penalty, PlayedShot, ShortLong, ShotLie};
use crate::strategy::{Kind, Lies};

/// How well a place is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Known {
    /// By words alone: a guess that is said to be one.
    About,
    /// Its distance to the hole.
    Distance,
    /// Its place.
    Placed,
}

/// Where a ball lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// In the plane.
    pub at: Point,
    /// How it lies; `None` on the green.
    pub lie: Option<Lie>,
    /// How well that is known.
    pub known: Known,
}

/// What became of a stroke.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ended {
    /// It lies there, after relief where there was a penalty.
    Lies(Place),
    /// Played again from where it was.
    Again,
    /// In the hole.
    Holed,
    /// The log does not say.
    Unknown,
}

/// Short of what was meant by this share, when "short" is all that is known (our convention, said in docs/review.md).
const SHORT: f64 = 0.88;
/// Long by this share.
const LONG: f64 = 1.08;
/// Left or right by this share of the length, at least [`LEAST_BESIDE`].
const BESIDE: f64 = 0.12;
const LEAST_BESIDE: f64 = 8.0;
/// A ball on the green of which nothing more is known lies so far from the hole, yards.
const ON_GREEN: f64 = 7.0;

/// What became of shot `number` (from 0) of a hole, played from `here`, when the meant play finishes at `target`.
pub fn ended(stage: &Stage, hole: &HoleShots, number: usize, here: Option<&Place>, target: Option<Point>) -> Ended {
    let Some(shot) = hole.shots.get(number) else { return Ended::Unknown };
    if shot.holed {
        return Ended::Holed;
    }
    if shot.penalty == Some(Penalty::Out) {
        return Ended::Again;
    }
    let next = hole.shots.get(number + 1);
    let last = next.is_none();
    let putted = last && hole.putts.is_some_and(|p| p.count > 0);
    let word = shot.into.or(next.and_then(|n| n.lie)).or(putted.then_some(ShotLie::Green));
    let placed = place(stage, shot).or_else(|| first_putt(stage, hole, shot, last));
    let found = placed.or_else(|| guess(stage, shot, word, here, target).map(|at| (at, Known::About)));
    let Some((at, known)) = found else { return Ended::Unknown };
    let lie = match (word, known) {
        // A guessed place says nothing of the ground that was not said.
        (None, Known::About) => Some(on_grass(stage, at)),
        (None, Known::Distance) if stage.lie(at, None).is_none() => None,
        (None, Known::Distance) => Some(on_grass(stage, at)),
        (None, Known::Placed) if stage.lies.kind(at).penalty() || stage.lies.kind(at) == Kind::Out => Some(Lie::Rough),
        _ => stage.lie(at, word),
    };
    Ended::Lies(Place { at, lie, known })
}

fn on_grass(stage: &Stage, at: Point) -> Lie {
    match stage.lie(at, None) {
        Some(Lie::Fairway) => Lie::Fairway,
        _ => Lie::Rough,
    }
}

/// The place that the log gives outright.
fn place(stage: &Stage, shot: &PlayedShot) -> Option<(Point, Known)> {
    let yards = |tenths: i32| f64::from(tenths) / 10.0;
    if let Some(spot) = shot.spot {
        return Some((stage.point(yards(spot.at), yards(spot.across)), Known::Placed));
    }
    let left = f64::from(shot.left?) / 10.0;
    let beyond = shot.length == Some(ShortLong::Long);
    if let Some(beside) = shot.beside {
        return Some((stage.leaving(left, yards(beside), beyond), Known::Placed));
    }
    let side = match shot.side {
        Some(LeftRight::Left) => -1.0,
        Some(LeftRight::Right) => 1.0,
        None => 0.0,
    };
    Some((stage.leaving(left, side * (BESIDE * left).clamp(4.0, 25.0).min(left), beyond), Known::Distance))
}

/// The first putt says how far from the hole the last shot finished.
fn first_putt(stage: &Stage, hole: &HoleShots, shot: &PlayedShot, last: bool) -> Option<(Point, Known)> {
    let feet = hole.putts.filter(|_| last)?.first_ft?;
    let beyond = shot.length == Some(ShortLong::Long);
    Some((stage.leaving(f64::from(feet) / 30.0, 0.0, beyond), Known::Distance))
}

/// A place by words: what was meant, moved as they say.
fn guess(
    stage: &Stage,
    shot: &PlayedShot,
    word: Option<ShotLie>,
    here: Option<&Place>,
    target: Option<Point>,
) -> Option<Point> {
    let says = shot.length.is_some() || shot.side.is_some() || shot.beside.is_some() || word.is_some();
    if !says && shot.penalty.is_none() {
        return None;
    }
    let (here, target) = (here?, target?);
    if word == Some(ShotLie::Green) {
        return Some(stage.leaving(ON_GREEN, 0.0, shot.length == Some(ShortLong::Long)));
    }
    let way = target - here.at;
    let length = way.length();
    let ahead = way.unit();
    let share = match shot.length {
        Some(ShortLong::Short) => SHORT,
        Some(ShortLong::Long) => LONG,
        None => 1.0,
    };
    let beside = (BESIDE * length).max(LEAST_BESIDE);
    let side = match shot.side {
        Some(LeftRight::Left) => -beside,
        Some(LeftRight::Right) => beside,
        None => 0.0,
    };
    let at = here.at + ahead * (share * length) + ahead.to_the_right() * side;
    let Some(across) = shot.beside else { return Some(at) };
    let (along, _) = stage.line.locate(at);
    Some(stage.point(along.0, f64::from(across) / 10.0))
}
