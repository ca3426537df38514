//! Works a plan out: plays, their chances, what they leave, prices of the dangers, the side not to miss.

use super::ground::Rastered;
use super::model::{HolePlan, Play, PlayName, Price, Shot, SideCost, Switch};
use super::question::{Pin, Question};
use super::{Aimed, reasons, words};
use crate::ground::Point;
use crate::pattern::Still;
use crate::strategy::{self, Fineness, Hole, Kind, Kit, LevelGreen, Lies, Solution, Stand, Unsolved, Worth, solve};
use crate::units::{Across, Along};
use rayon::prelude::*;
use std::fmt;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

/// The most shots that a play is spelled out for.
const MOST_SHOTS: usize = 6;
/// A miss that is spoken of, yards.
const MISS: f64 = 15.0;

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoPlan {
    /// The hole has no green drawn.
    NoGreen,
    /// The hole has no such tee.
    NoTee,
    /// The work was called off.
    CalledOff,
    /// The hole cannot be solved as it is drawn, and why.
    Bad(String),
}

impl fmt::Display for NoPlan {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoGreen => "this hole has no green drawn, so there is nothing to plan towards",
            Self::NoTee => "this hole has no such tee",
            Self::CalledOff => "the plan was called off",
            Self::Bad(why) => why,
        })
    }
}

impl std::error::Error for NoPlan {}

impl From<Unsolved> for NoPlan {
    fn from(unsolved: Unsolved) -> Self {
        match unsolved {
            Unsolved::CalledOff => Self::CalledOff,
            bad @ Unsolved::Bad(_) => Self::Bad(bad.to_string()),
        }
    }
}

/// A hole made ready for the solver.
struct Ready<'q> {
    question: &'q Question,
    lies: Rastered,
    kit: Arc<Kit>,
    tee: Point,
    pin: Point,
    line: Vec<Point>,
}

impl<'q> Ready<'q> {
    fn new(question: &'q Question, fineness: Fineness) -> Result<Self, NoPlan> {
        let pin = question.pin_point().ok_or(NoPlan::NoGreen)?;
        let tee = question.tee_point().ok_or(NoPlan::NoTee)?;
        let ground = &question.hole.ground;
        let line = ground.line();
        let mut points: Vec<Point> = vec![tee];
        let start = question.origin().0.0;
        points.extend(ground.bends.iter().filter(|b| b.at.0 > start).map(|b| line.place(b.at, Across(0.0))));
        points.push(ground.green.as_ref().map_or(pin, |g| g.middle));
        Ok(Self { question, lies: Rastered::new(ground), kit: question.kit(fineness), tee, pin, line: points })
    }

    /// Lets `f` take the hole over `lies`.
    fn on_ground<T>(&self, lies: &dyn Lies, f: impl FnOnce(Hole<'_>) -> T) -> T {
        let green = LevelGreen { putts: &self.kit.pattern.putts, hole: self.pin };
        f(Hole {
            lies,
            tee: self.tee,
            pin: self.pin,
            line: &self.line,
            green: &green,
            kit: &self.kit,
            conditions: &Still,
            fineness: self.kit.fineness,
        })
    }

    /// Solves the hole over `lies` for `worth` and lets `f` ask.
    fn with<T>(
        &self,
        lies: &dyn Lies,
        worth: &Worth,
        cancel: &AtomicBool,
        f: impl FnOnce(&Solution<'_>) -> T,
    ) -> Result<T, NoPlan> {
        self.on_ground(lies, |hole| solve(hole, worth, cancel).map(|solution| f(&solution)).map_err(NoPlan::from))
    }

    /// The value of a hole score for what is aimed at; in a match against an opponent who is the same player off the same tee.
    fn worth(&self, cancel: &AtomicBool) -> Result<Worth, NoPlan> {
        let q = self.question;
        let opponent = match q.aimed {
            Aimed::Match => self.with(&self.lies, &Worth::Strokes, cancel, |solution| {
                let tee = solution.tee();
                solution.plays(tee).first().map_or_else(Vec::new, |play| solution.chances(tee, play))
            })?,
            _ => Vec::new(),
        };
        Ok(q.aimed.worth(q.par, q.strokes_received, &opponent))
    }
}

/// The plan of a hole without its prices, which take longer.
///
/// # Errors
/// [`NoPlan`].
pub fn plan(question: &Question, cancel: &AtomicBool) -> Result<HolePlan, NoPlan> {
    let ready = Ready::new(question, Fineness::USUAL)?;
    let worth = ready.worth(cancel)?;
    let mut plan = ready.with(&ready.lies, &worth, cancel, |solution| ready.plan(solution))?;
    reasons::write(question, &mut plan);
    Ok(plan)
}

/// Adds the prices of the dangers, by re-planning for fewest strokes with each turned to rough, and the switch lines.
///
/// # Errors
/// [`NoPlan`].
pub fn price(question: &Question, plan: &mut HolePlan, cancel: &AtomicBool) -> Result<(), NoPlan> {
    let ready = Ready::new(question, Fineness::COARSE)?;
    let features = &question.hole.ground.features;
    let dangers: Vec<usize> =
        features.iter().enumerate().filter(|(_, f)| f.surface.is_danger()).map(|(i, _)| i).collect();
    let without: Vec<Rastered> = dangers.iter().map(|feature| ready.lies.without(*feature)).collect();
    let grounds: Vec<&dyn Lies> = without.iter().map(|lies| lies as &dyn Lies).collect();
    let found = |solution: &Solution<'_>| {
        let tee = solution.tee();
        let first = solution.plays(tee).first().cloned();
        first.map_or_else(Vec::new, |play| solution.finds(tee, &play, features.len(), &|at| ready.lies.piece(at)))
    };
    // The hole as it is is solved once for both; the switch lines do not wait for the prices.
    let (priced, switches) = rayon::join(
        || ready.on_ground(&ready.lies, |hole| strategy::prices_and(hole, &grounds, cancel, found)),
        || switches(question, plan, cancel),
    );
    let (_, costs, finds) = priced.map_err(NoPlan::from)?;
    let switches = switches?;
    let mut prices: Vec<Price> = dangers
        .iter()
        .zip(costs)
        .map(|(feature, strokes)| Price {
            feature: *feature,
            strokes,
            chance: finds.get(*feature).copied().unwrap_or(0.0),
        })
        .collect();
    prices.sort_by(|a, b| b.strokes.total_cmp(&a.strokes).then(a.feature.cmp(&b.feature)));
    plan.prices = prices;
    plan.switches = switches;
    reasons::write(question, plan);
    Ok(())
}

/// What the play would be with the hole at the front or the back, where that changes a club or a line. A hole location that is
/// known has no such lines.
fn switches(question: &Question, plan: &HolePlan, cancel: &AtomicBool) -> Result<Vec<Switch>, NoPlan> {
    let Some(usual) = plan.plays.first().filter(|_| question.pin == Pin::Middle) else { return Ok(Vec::new()) };
    let worth = Ready::new(question, Fineness::COARSE)?.worth(cancel)?;
    let line = |(pin, when): (Pin, &str)| -> Result<Option<Switch>, NoPlan> {
        let asked = Question { pin, ..question.clone() };
        let ready = Ready::new(&asked, Fineness::COARSE)?;
        let shots = ready.with(&ready.lies, &worth, cancel, |solution| {
            let plays = solution.plays(solution.tee());
            let least = plays.first().map_or(0.0, |p| p.cost);
            let same: Vec<Vec<Shot>> = plays
                .iter()
                .filter(|p| p.cost <= least + question.aimed.same())
                .map(|p| ready.shots(solution, p))
                .collect();
            // The usual first shot stays when it is still worth the same: a person changes no club for nothing.
            let kept = same
                .iter()
                .position(|shots| shots.first().zip(usual.shots.first()).is_some_and(|(a, b)| a.club == b.club));
            kept.or((!same.is_empty()).then_some(0)).and_then(|i| same.get(i).cloned())
        })?;
        let Some(shots) = shots else { return Ok(None) };
        let clubs = |shots: &[Shot]| shots.iter().map(|s| s.club.clone()).collect::<Vec<_>>();
        let changed = clubs(&shots) != clubs(&usual.shots);
        Ok(changed.then(|| Switch { when: when.to_owned(), play: clubs(&shots).join(", then ") }))
    };
    let lines = [(Pin::Front, "hole at the front"), (Pin::Back, "hole at the back")];
    let found: Vec<Option<Switch>> = lines.into_par_iter().map(line).collect::<Result<_, _>>()?;
    Ok(found.into_iter().flatten().collect())
}

impl Ready<'_> {
    fn plan(&self, solution: &Solution<'_>) -> HolePlan {
        let q = self.question;
        let tee = solution.tee();
        let mut plays = Vec::new();
        let mut sides = None;
        if let Some(pair) = solution.steady_and_bold(tee, q.aimed.same()) {
            sides = solution.sides(tee, &pair.steady, MISS).map(|(left, right)| SideCost { left, right });
            let named = if pair.equal {
                vec![(&pair.steady, PlayName::Equal)]
            } else {
                vec![(&pair.steady, PlayName::Steady), (&pair.bold, PlayName::Bold)]
            };
            for (play, name) in named {
                let chances = solution.chances(tee, play);
                plays.push(Play {
                    name,
                    shots: self.shots(solution, play),
                    expected_strokes: strategy::mean(&chances),
                    worth: pair.steady.cost - play.cost,
                    chances,
                    reasons: Vec::new(),
                });
            }
        }
        HolePlan {
            aimed: q.aimed,
            par: q.par,
            strokes_received: q.strokes_received,
            plays,
            prices: Vec::new(),
            sides,
            switches: Vec::new(),
            remarks: self.kit.pattern.remarks.iter().map(ToString::to_string).collect(),
        }
    }

    /// The plays of the plan, each from where the one before is meant to finish, until the green.
    fn follow(&self, solution: &Solution<'_>, first: &strategy::Play, mut f: impl FnMut(Stand, &strategy::Play)) {
        let (mut stand, mut play) = (solution.tee(), Some(first.clone()));
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
    fn shots(&self, solution: &Solution<'_>, first: &strategy::Play) -> Vec<Shot> {
        let q = self.question;
        let line = q.hole.ground.line();
        let mut shots = Vec::new();
        self.follow(solution, first, |stand, play| {
            let (at, across) = line.locate(play.target);
            let club = play.swing.as_ref().map_or_else(|| "a drop".to_owned(), |s| self.kit.pattern.name(s));
            shots.push(Shot {
                club,
                at: q.origin().from_tee(Along(at.0)),
                across,
                words: words::line(&q.course, &q.hole, stand.at, play.target, shots.is_empty(), q.units),
                carry: play.swing.as_ref().map_or(0.0, |s| s.carry()),
                leaves: play.leaves_yd,
            });
        });
        shots
    }
}
