//! Questions asked of what is open: what to practise for its course, what a target needs.

use super::chance::Dice;
use super::mean::Mean;
use super::simulate::less_spread;
use super::stage::{REVIEWED, Stage};
use super::target::{Needed, Target, ToCome, needed, ways};
use crate::pattern::{Lie, Pattern, Skill};
use crate::plan::Aimed;
use crate::scoring::HoleScore;
use crate::session::Session;
use crate::strategy::{Fineness, Kit, Worth};
use rayon::prelude::*;
use serde::Serialize;
use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

/// What ten per cent less spread of a club from a lie would save.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Saving {
    /// The club.
    pub club: String,
    /// The lie.
    pub lie: &'static str,
    /// Strokes a round.
    pub saves: f64,
    /// Half the 90 % interval of the working, which plays rounds out.
    pub half: Option<f64>,
    /// How often a round it is played.
    pub shots: f64,
}

/// Rounds are played out in so many lots, whose spread tells how sure the figures are.
const LOTS: usize = 8;
/// Plays of each hole in a lot.
const PLAYS: usize = 14;

fn stage(session: &Session, position: usize, player: usize, kit: &Arc<Kit>) -> Option<Stage> {
    let units = session.golfers.get(player)?.units;
    let question = session.question(position, player, None, Aimed::Strokes, units)?;
    Stage::new(question, kit.clone()).ok()
}

fn kit(session: &Session, player: usize, fineness: Fineness) -> Option<Arc<Kit>> {
    let person = session.people.get(player)?;
    let index = session.golfers.get(player)?.index;
    let index = index.map_or(crate::session::ASSUMED_INDEX, |i| f64::from(i.value().tenths()) / 10.0);
    let pattern = Pattern::of(&person.bag, &Skill::of_index(index, person.card));
    Some(Arc::new(Kit::new(pattern, fineness)))
}

/// What to practise for the course that is open: every club and lie that the plan uses, the dearest first.
pub fn practise_course(session: &Session, player: usize, cancel: &AtomicBool) -> Vec<Saving> {
    let Some(kit) = kit(session, player, REVIEWED) else { return Vec::new() };
    type Lots = Vec<Vec<(usize, Lie, f64, f64)>>;
    let holes: Vec<Lots> = (0..session.order.len())
        .into_par_iter()
        .filter_map(|position| {
            let stage = stage(session, position, player, &kit)?;
            stage
                .solved(&Worth::Strokes, cancel, |solution| {
                    (0..LOTS)
                        .map(|lot| {
                            let mut dice = Dice::new((position * LOTS + lot) as u64);
                            less_spread(&stage, &solution, PLAYS, &mut dice)
                        })
                        .collect()
                })
                .ok()
        })
        .collect();
    let share = 18.0 / holes.len().max(1) as f64;
    let mut by: BTreeMap<(usize, Lie), ([f64; LOTS], f64)> = BTreeMap::new();
    for lots in &holes {
        for (lot, found) in lots.iter().enumerate() {
            for (club, lie, saved, shots) in found {
                let entry = by.entry((*club, *lie)).or_insert(([0.0; LOTS], 0.0));
                if let Some(slot) = entry.0.get_mut(lot) {
                    *slot += saved * share;
                }
                entry.1 += shots * share / LOTS as f64;
            }
        }
    }
    let mut out: Vec<Saving> = by
        .into_iter()
        .filter(|(_, (_, shots))| *shots >= 0.1)
        .map(|((club, lie), (lots, shots))| {
            let mean = Mean::of(lots);
            let club = kit.pattern.clubs.get(club).map(|c| c.name.clone()).unwrap_or_default();
            Saving { club, lie: lie.word(), saves: mean.mean, half: mean.half, shots }
        })
        .collect();
    out.sort_by(|a, b| b.saves.total_cmp(&a.saves));
    out
}

/// What a target needs of the holes without a score.
///
/// # Errors
/// Why it cannot be told.
pub fn need(session: &Session, player: usize, target: Target, cancel: &AtomicBool) -> Result<Needed, String> {
    let course = session.course.as_ref().ok_or("the notebook cannot be read")?;
    let golfer = session.golfers.get(player).ok_or("there is no such player")?;
    let kit = kit(session, player, Fineness { shown: 128, ..REVIEWED }).ok_or("there is no such player")?;
    let (mut so_far, mut to_come) = (0, Vec::new());
    for (position, number) in session.order.iter().enumerate() {
        let score = session.boxes(player).get(position).map(|b| b.score).unwrap_or_default();
        let received = golfer.strokes.get(position).copied().unwrap_or(0);
        let par = course.hole(*number).and_then(|h| h.par.on(golfer.card)).unwrap_or(4);
        match (score, target) {
            (HoleScore::Gross(n), _) => so_far += target.count(par, received, i32::from(n)),
            (HoleScore::PickedUp | HoleScore::NotPlayed, Target::Points(_)) => {}
            (HoleScore::PickedUp | HoleScore::NotPlayed, _) => {
                return Err(format!("hole {number} has no score that counts, so no total of strokes can be reached"));
            }
            (HoleScore::Empty, _) => to_come.push((position, received)),
        }
    }
    let holes: Vec<Result<ToCome, String>> = to_come
        .par_iter()
        .map(|(position, received)| {
            let number = session.order.get(*position).copied().unwrap_or(0);
            let stage = stage(session, *position, player, &kit)
                .ok_or_else(|| format!("hole {number} has no green or no such tee, so its scores cannot be told"))?;
            ways(&stage, *received, cancel).map_err(|why| format!("hole {number}: {why}"))
        })
        .collect();
    let holes: Result<Vec<ToCome>, String> = holes.into_iter().collect();
    Ok(needed(target, so_far, &holes?))
}
