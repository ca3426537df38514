//! The plan from any stand, and what every club would do from there.

use super::model::{Play, Shot, SideCost};
use super::solved::SolvedHole;
use crate::ground::Point;
use crate::pattern::Lie;
use crate::strategy::{self, Kind, Stand};
use crate::units::{Across, Along};

/// A danger that a club finds less often than this is not spoken of.
const RARE: f64 = 0.005;
/// A miss that is spoken of, yards.
const MISS: f64 = 15.0;

/// One club from a stand, aimed as well as it can be.
#[derive(Clone, Debug, PartialEq)]
pub struct ClubHere {
    /// The shot: club, where it is meant to finish, the line in words.
    pub shot: Shot,
    /// Which club of the bag, from the longest; `None` for a drop.
    pub club: Option<usize>,
    /// A full swing, not a part of one.
    pub full: bool,
    /// Its length on usual fairway, carry and run, yards.
    pub total: f64,
    /// Where it is meant to finish.
    pub target: Point,
    /// Strokes to come, this one included.
    pub strokes: f64,
    /// How much worse it is than the best, in the unit of what is aimed for; never below 0.
    pub worse: f64,
    /// Pieces of ground that are dangers with the chance that this shot finishes there, the likeliest first.
    pub dangers: Vec<(usize, f64)>,
    /// The chance that it finishes out of bounds.
    pub out: f64,
    /// Where it finishes: places with their weights.
    pub spots: Vec<(Point, f64)>,
}

/// Why there is nothing to choose from a stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NothingToChoose {
    /// It is putted.
    OnTheGreen,
    /// The ball would lie in a penalty area: a drop comes first.
    InAPenaltyArea,
    /// The ball would be out of bounds.
    OutOfBounds,
}

/// What a stand answers.
#[derive(Clone, Debug, PartialEq)]
pub struct StandPlan {
    /// Which shot of the hole it is taken for, counted from 1.
    pub shot: usize,
    /// How the ball lies; `None` where nothing is to choose.
    pub lie: Option<Lie>,
    /// Why nothing is to choose.
    pub nothing: Option<NothingToChoose>,
    /// Strokes to come from here; `None` out of bounds.
    pub to_come: Option<f64>,
    /// Steady and bold from here.
    pub plays: Vec<Play>,
    /// Every club, the longest first, with steady where it is a part swing.
    pub clubs: Vec<ClubHere>,
    /// Which of `clubs` is the steady play.
    pub best: usize,
    /// What missing the steady play's aim costs by side.
    pub sides: Option<SideCost>,
}

impl SolvedHole {
    /// The stand at a place of the hole: the tee when `at` is `None`.
    pub(super) fn stand(&self, at: Option<(Along, Across)>) -> Result<Stand, (usize, NothingToChoose, Point)> {
        let solution = self.solution();
        let Some((along, across)) = at else { return Ok(solution.tee()) };
        let point = self.question().hole.ground.line().place(along, across);
        if (point - solution.tee().at).length() < 1.0 {
            return Ok(solution.tee());
        }
        let taken = self.taken(point);
        match (solution.kind(point), solution.lie(point)) {
            (Kind::Green, _) => Err((taken, NothingToChoose::OnTheGreen, point)),
            (Kind::Out, _) => Err((taken, NothingToChoose::OutOfBounds, point)),
            (_, None) => Err((taken, NothingToChoose::InAPenaltyArea, point)),
            (_, Some(lie)) => Ok(Stand { at: point, lie, taken }),
        }
    }

    /// The plan from a place of the hole; from the tee when `at` is `None`.
    pub fn from_stand(&self, at: Option<(Along, Across)>) -> StandPlan {
        let (ready, solution) = (self.ready(), self.solution());
        let stand = match self.stand(at) {
            Ok(stand) => stand,
            Err((taken, nothing, point)) => {
                return StandPlan {
                    shot: taken + 1,
                    lie: None,
                    nothing: Some(nothing),
                    to_come: solution.value_at(point),
                    plays: Vec::new(),
                    clubs: Vec::new(),
                    best: 0,
                    sides: None,
                };
            }
        };
        let (plays, steady) = ready.plays(solution, stand);
        let to_come = plays.first().map(|play| play.expected_strokes - stand.taken as f64);
        let mut found = solution.clubs(stand);
        let least = found.iter().chain(&steady).map(|play| play.cost).fold(f64::INFINITY, f64::min);
        let mut best = 0;
        if let Some(steady) = &steady {
            let same = |play: &strategy::Play| {
                let total = |p: &strategy::Play| p.swing.as_ref().map(|s| (s.club, s.full));
                total(play) == total(steady)
            };
            match found.iter().position(same) {
                // The recommended aim of that club, which is the least spread of those worth the same.
                Some(at) => {
                    best = at;
                    if let Some(slot) = found.get_mut(at) {
                        *slot = steady.clone();
                    }
                }
                None => {
                    let total = |p: &strategy::Play| p.swing.as_ref().map_or(0.0, |s| s.total);
                    best = found.iter().position(|p| total(p) < total(steady)).unwrap_or(found.len());
                    found.insert(best, steady.clone());
                }
            }
        }
        let clubs = found.iter().map(|play| self.club_here(stand, play, least)).collect();
        let sides = steady.and_then(|play| solution.sides(stand, &play, MISS));
        StandPlan {
            shot: stand.taken + 1,
            lie: Some(stand.lie),
            nothing: None,
            to_come,
            plays,
            clubs,
            best,
            sides: sides.map(|(left, right)| SideCost { left, right }),
        }
    }

    fn club_here(&self, stand: Stand, play: &strategy::Play, least: f64) -> ClubHere {
        let (ready, solution) = (self.ready(), self.solution());
        let chances = solution.chances(stand, play);
        let pattern = solution.pattern(stand, play);
        let all: f64 = pattern.iter().map(|(_, weight, _)| weight).sum::<f64>().max(f64::MIN_POSITIVE);
        let features = &self.question().hole.ground.features;
        let mut by_piece = vec![0.0; features.len()];
        let mut out = 0.0;
        for (at, weight, kind) in &pattern {
            match ready.lies.piece(*at).and_then(|piece| by_piece.get_mut(piece)) {
                Some(sum) => *sum += weight / all,
                None if *kind == Kind::Out => out += weight / all,
                None => {}
            }
        }
        let mut dangers: Vec<(usize, f64)> = by_piece
            .into_iter()
            .enumerate()
            .filter(|(i, chance)| *chance >= RARE && features.get(*i).is_some_and(|f| f.surface.is_danger()))
            .collect();
        dangers.sort_by(|a, b| b.1.total_cmp(&a.1));
        ClubHere {
            shot: ready.shot(stand, play),
            club: play.swing.as_ref().map(|s| s.club),
            full: play.swing.as_ref().is_some_and(|s| s.full),
            total: play.swing.as_ref().map_or(0.0, |s| s.total),
            target: play.target,
            strokes: strategy::mean(&chances) - stand.taken as f64,
            worse: (play.cost - least).max(0.0),
            dangers,
            out,
            spots: pattern.into_iter().map(|(at, weight, _)| (at, weight / all)).collect(),
        }
    }
}
