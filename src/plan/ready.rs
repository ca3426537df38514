//! A hole made ready for the solver, owning all that a solution borrows.

use super::answer::NoPlan;
use super::ground::Rastered;
use super::model::{HolePlan, Play, PlayName, Shot, SideCost};
use super::question::Question;
use super::{Aimed, words};
use crate::ground::Point;
use crate::strategy::{self, Fineness, Hole, Kind, Kit, Lies, Solution, Stand, Worth};
use crate::today::{GreenWorth, HoleAir};
use crate::units::{Across, Along};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

/// The most shots that a play is spelled out for.
const MOST_SHOTS: usize = 6;
/// A miss that is spoken of, yards.
const MISS: f64 = 15.0;

/// A hole made ready for the solver.
pub struct Ready {
    /// What is asked.
    pub question: Question,
    /// The ground.
    pub lies: Rastered,
    /// The player's swings.
    pub kit: Arc<Kit>,
    air: HoleAir,
    green: GreenWorth,
    tee: Point,
    pin: Point,
    line: Vec<Point>,
}

impl Ready {
    /// Lays the hole of a question out.
    ///
    /// # Errors
    /// [`NoPlan`] when there is no green or no such tee.
    pub fn new(question: &Question, fineness: Fineness) -> Result<Self, NoPlan> {
        Self::with_kit(question, Arc::new(Kit::new(question.pattern(), fineness)))
    }

    /// The same with a kit that was laid out before.
    ///
    /// # Errors
    /// [`NoPlan`] when there is no green or no such tee.
    pub fn with_kit(question: &Question, kit: Arc<Kit>) -> Result<Self, NoPlan> {
        let pin = question.pin_point().ok_or(NoPlan::NoGreen)?;
        let tee = question.tee_point().ok_or(NoPlan::NoTee)?;
        let ground = &question.hole.ground;
        let line = ground.line();
        let mut points: Vec<Point> = vec![tee];
        let start = question.origin().0.0;
        points.extend(ground.bends.iter().filter(|b| b.at.0 > start).map(|b| line.place(b.at, Across(0.0))));
        points.push(ground.green.as_ref().map_or(pin, |g| g.middle));
        Ok(Self {
            question: question.clone(),
            lies: Rastered::new(ground),
            air: question.air(&kit.pattern),
            green: question.green(pin, &kit.pattern),
            kit,
            tee,
            pin,
            line: points,
        })
    }

    /// Where the hole is cut.
    pub fn pin(&self) -> Point {
        self.pin
    }

    /// The hole as the solver takes it.
    pub fn hole(&self) -> Hole<'_> {
        Hole {
            lies: &self.lies,
            tee: self.tee,
            pin: self.pin,
            line: &self.line,
            green: &self.green,
            kit: &self.kit,
            conditions: &self.air,
            fineness: self.kit.fineness,
        }
    }

    /// The solution for what is aimed at, from one for strokes; in a match the opponent is the same player off the same tee.
    ///
    /// # Errors
    /// [`NoPlan::CalledOff`].
    pub fn valued<'a>(&self, strokes: Solution<'a>, aimed: Aimed, cancel: &AtomicBool) -> Result<Solution<'a>, NoPlan> {
        let q = &self.question;
        let opponent = if aimed == Aimed::Match {
            let tee = strokes.tee();
            strokes.plays(tee).first().map_or_else(Vec::new, |play| strokes.chances(tee, play))
        } else {
            Vec::new()
        };
        match aimed.worth(q.par, q.strokes_received, &opponent) {
            Worth::Strokes => Ok(strokes),
            worth => strokes.revalued(&worth, cancel).map_err(|_| NoPlan::CalledOff),
        }
    }

    /// The plan from the tee without prices and reasons.
    pub fn plan(&self, solution: &Solution<'_>) -> HolePlan {
        let q = &self.question;
        let tee = solution.tee();
        let (plays, first) = self.plays(solution, tee);
        let sides = first.and_then(|play| solution.sides(tee, &play, MISS));
        let mut remarks: Vec<String> = self.kit.pattern.remarks.iter().map(ToString::to_string).collect();
        remarks.extend(self.unreached(solution));
        HolePlan {
            aimed: q.aimed,
            par: q.par,
            strokes_received: q.strokes_received,
            plays,
            prices: Vec::new(),
            sides: sides.map(|(left, right)| SideCost { left, right }),
            switches: Vec::new(),
            remarks,
            along: self.along(solution),
            professional: None,
        }
    }

    /// Steady and bold from a stand with their chances, and the steady one as the solver has it.
    pub fn plays(&self, solution: &Solution<'_>, stand: Stand) -> (Vec<Play>, Option<strategy::Play>) {
        let Some(pair) = solution.steady_and_bold(stand, self.question.aimed.same()) else {
            return (Vec::new(), None);
        };
        let named = if pair.equal {
            vec![(&pair.steady, PlayName::Equal)]
        } else {
            vec![(&pair.steady, PlayName::Steady), (&pair.bold, PlayName::Bold)]
        };
        let plays = named
            .into_iter()
            .map(|(play, name)| {
                let chances = solution.chances(stand, play);
                Play {
                    name,
                    shots: self.shots(solution, stand, play),
                    expected_strokes: strategy::mean(&chances),
                    worth: pair.steady.cost - play.cost,
                    chances,
                    reasons: Vec::new(),
                }
            })
            .collect();
        (plays, Some(pair.steady))
    }

    /// The plays of the plan, each from where the one before is meant to finish, until the green.
    pub fn follow(
        &self,
        solution: &Solution<'_>,
        from: Stand,
        first: &strategy::Play,
        mut f: impl FnMut(Stand, &strategy::Play),
    ) {
        let (mut stand, mut play) = (from, Some(first.clone()));
        for _ in 0..MOST_SHOTS {
            let Some(now) = play.take() else { return };
            f(stand, &now);
            let Some(lie) = solution.lie(now.target).filter(|_| self.lies.kind(now.target) != Kind::Green) else {
                return;
            };
            stand = Stand { at: now.target, lie, taken: stand.taken + 1 };
            play = solution.at_once(stand);
        }
    }

    /// The shots until the green, each finishing as meant.
    pub fn shots(&self, solution: &Solution<'_>, from: Stand, first: &strategy::Play) -> Vec<Shot> {
        let mut shots = Vec::new();
        self.follow(solution, from, first, |stand, play| shots.push(self.shot(stand, play)));
        shots
    }

    /// One shot in words.
    pub fn shot(&self, stand: Stand, play: &strategy::Play) -> Shot {
        let q = &self.question;
        let (at, across) = q.hole.ground.line().locate(play.target);
        let club = play.swing.as_ref().map_or_else(|| "a drop".to_owned(), |s| self.kit.pattern.name(s));
        let from_tee = stand.taken == 0 && stand.at == self.tee;
        Shot {
            club,
            at: q.origin().from_tee(Along(at.0)),
            across,
            words: words::line(&q.course, &q.hole, stand.at, play.target, from_tee, q.units),
            carry: play.swing.as_ref().map_or(0.0, |s| s.carry()),
            leaves: play.leaves_yd,
        }
    }
}
