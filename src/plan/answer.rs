//! Works a plan out: plays, their chances, what they leave, prices of the dangers, the side not to miss.

use super::ground::Rastered;
use super::model::{HolePlan, Price};
use super::question::Question;
use super::ready::Ready;
use super::solved::SolvedHole;
use super::{reasons, switches};
use crate::strategy::{self, Fineness, Lies, Unsolved};
use std::fmt;
use std::sync::atomic::AtomicBool;

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

/// The plan of a hole without its prices, which take longer.
///
/// # Errors
/// [`NoPlan`].
pub fn plan(question: &Question, cancel: &AtomicBool) -> Result<HolePlan, NoPlan> {
    Ok(SolvedHole::new(question, Fineness::USUAL, cancel)?.plan())
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
    let strokes = strategy::solve(ready.hole(), &strategy::Worth::Strokes, cancel)?;
    let first = strokes.at_once(strokes.tee());
    let piece = |at| ready.lies.piece(at);
    let finds = first.map_or_else(Vec::new, |play| strokes.finds(strokes.tee(), &play, features.len(), &piece));
    let without: Vec<Rastered> = dangers.iter().map(|feature| ready.lies.without(*feature)).collect();
    let grounds: Vec<&dyn Lies> = without.iter().map(|lies| lies as &dyn Lies).collect();
    let (_, costs) = strategy::prices(ready.hole(), &grounds, cancel)?;
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
    plan.switches = switches::lines(&ready, strokes, plan, cancel)?;
    plan.switches.extend(super::today::wind_lines(question, plan, cancel)?);
    reasons::write(question, plan);
    Ok(())
}
