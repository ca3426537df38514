//! What if: the plan and the strokes of a hole with something changed, beside those without.

use super::Aimed;
use super::answer::NoPlan;
use super::model::{HolePlan, Shot};
use super::question::Question;
use super::solved::SolvedHole;
use crate::pattern::{Bag, BagClub, Pattern};
use crate::strategy::Fineness;
use rayon::prelude::*;
use std::sync::atomic::AtomicBool;

/// A longer driver in this question carries so much more, yards.
pub const LONGER: f64 = 15.0;
/// With every miss on one side, half of a normal pattern is left: its spread is the square root of `1 - 2 / pi` of the whole.
const ONE_SIDED: f64 = 0.603;

/// What is changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// Nothing: the plan as it is.
    AsItIs,
    /// The longest club carries [`LONGER`] yards more; the others as they are.
    Longer,
    /// No ball misses to the left.
    NoLeftMiss,
    /// A scratch player's pattern, assumed from index 0.
    Scratch,
    /// Another tee.
    From(String),
}

/// One answer.
#[derive(Clone, Debug, PartialEq)]
pub struct WhatIf {
    /// What is changed.
    pub change: Change,
    /// The steady play, each shot finishing as meant.
    pub shots: Vec<Shot>,
    /// Mean strokes on the hole.
    pub strokes: f64,
    /// Strokes fewer than without the change; negative when it costs.
    pub saves: f64,
    /// The chance of net par or better.
    pub net_par: f64,
}

/// The bag with every number filled in and the longest club carrying `by` yards more.
pub fn longer(pattern: &Pattern, by: f64) -> Bag {
    let mut bag = whole(pattern);
    let carry = |club: &BagClub| club.carry.unwrap_or(0.0);
    if let Some(club) = bag.clubs.iter_mut().max_by(|a, b| carry(a).total_cmp(&carry(b))) {
        club.carry = club.carry.map(|c| (c + by).max(1.0));
    }
    bag
}

/// The bag that a pattern was made from, with nothing left to assume.
fn whole(pattern: &Pattern) -> Bag {
    let clubs = pattern.clubs.iter().map(|c| BagClub {
        name: c.name.clone(),
        carry: Some(c.carry),
        run: Some(c.run),
        curve: Some(c.curve),
        wide: Some(c.wide),
        deep: Some(c.deep),
        lean: Some(c.lean),
        mishits: Some(c.mishits),
    });
    Bag { clubs: clubs.collect(), swings: Vec::new() }
}

/// The questions: as it is first.
fn questions(question: &Question) -> Vec<(Change, Question)> {
    let pattern = question.pattern();
    let with = |bag: Bag| Question { bag: Bag { swings: question.bag.swings.clone(), ..bag }, ..question.clone() };
    let mut one_sided = whole(&pattern);
    for club in &mut one_sided.clubs {
        club.wide = club.wide.map(|wide| wide * ONE_SIDED);
    }
    let mut all = vec![
        (Change::AsItIs, question.clone()),
        (Change::Longer, with(longer(&pattern, LONGER))),
        (Change::NoLeftMiss, with(one_sided)),
        (Change::Scratch, Question { index: 0.0, bag: Bag::default(), ..question.clone() }),
    ];
    let others = question.hole.ground.tees.iter().filter(|t| t.name != question.tee);
    all.extend(
        others
            .take(4)
            .map(|tee| (Change::From(tee.name.clone()), Question { tee: tee.name.clone(), ..question.clone() })),
    );
    all
}

/// Answers every question; one that cannot be answered (a tee in a penalty area) is left out.
///
/// # Errors
/// [`NoPlan`] when the hole as it is has no plan, or the work is called off.
pub fn what_if(question: &Question, cancel: &AtomicBool) -> Result<Vec<WhatIf>, NoPlan> {
    let plans: Vec<(Change, Result<HolePlan, NoPlan>)> = questions(question)
        .into_par_iter()
        .map(|(change, asked)| {
            let plan = SolvedHole::new(&asked, Fineness::COARSE, cancel).map(|solved| solved.bare_plan());
            (change, plan)
        })
        .collect();
    let mut usual = None;
    let mut out = Vec::new();
    for (change, plan) in plans {
        let plan = match plan {
            Ok(plan) => plan,
            Err(why) if change == Change::AsItIs || why == NoPlan::CalledOff => return Err(why),
            Err(_) => continue,
        };
        let net_par = plan.net_par();
        let Some(play) = plan.plays.into_iter().next() else { continue };
        let strokes = play.expected_strokes;
        let saves = *usual.get_or_insert(strokes) - strokes;
        out.push(WhatIf { change, shots: play.shots, strokes, saves, net_par });
    }
    Ok(out)
}

/// The same hole for one format.
#[derive(Clone, Debug, PartialEq)]
pub struct ForFormat {
    /// The format.
    pub aimed: Aimed,
    /// Its steady play.
    pub shots: Vec<Shot>,
    /// Mean strokes on the hole.
    pub strokes: f64,
    /// Mean Stableford points.
    pub points: f64,
    /// The chance of net par or better.
    pub net_par: f64,
}

/// Every format side by side, solved for strokes once.
///
/// # Errors
/// [`NoPlan`].
pub fn compare(question: &Question, cancel: &AtomicBool) -> Result<Vec<ForFormat>, NoPlan> {
    const ALL: [Aimed; 6] =
        [Aimed::Strokes, Aimed::Points, Aimed::NetPar, Aimed::ParBogey, Aimed::Maximum(None), Aimed::Match];
    let rows: Result<Vec<Option<ForFormat>>, NoPlan> = ALL
        .into_par_iter()
        .map(|aimed| {
            let asked = Question { aimed, ..question.clone() };
            let plan = SolvedHole::new(&asked, Fineness::COARSE, cancel)?.bare_plan();
            let (points, net_par) = (plan.points(), plan.net_par());
            Ok(plan.plays.into_iter().next().map(|play| ForFormat {
                aimed,
                strokes: play.expected_strokes,
                shots: play.shots,
                points,
                net_par,
            }))
        })
        .collect();
    Ok(rows?.into_iter().flatten().collect())
}
