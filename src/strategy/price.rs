//! What a piece of ground costs, and how often it is found.

use super::chances::flow;
use super::choice::Choice;
use super::eval::Next;
use super::finish::Finish;
use super::lattice::Place;
use super::row::{Gather, Lead, Row};
use super::solution::{Play, Solution, Stand};
use super::solve::MOST_STROKES;
use super::{Hole, Lies, Unsolved, Worth, solve};
use crate::ground::Point;
use crate::pattern::Cloud;
use rayon::prelude::*;
use std::collections::HashMap;
use std::sync::atomic::AtomicBool;

/// Expected strokes from the tee of a hole as it is, and what each piece of ground costs: `without[n]` is the same ground with piece `n`
/// turned to rough, and the price is what that saves, both planned anew for fewest strokes, never below zero. Prices do not add up. Both
/// sides are solved with the fineness of the hole, so that its error is in both and cancels; they are worked on as many threads as there
/// are and come out with the same digits on any number.
///
/// # Errors
/// As [`solve`].
pub fn prices(hole: Hole<'_>, without: &[&dyn Lies], cancel: &AtomicBool) -> Result<(f64, Vec<f64>), Unsolved> {
    prices_and(hole, without, cancel, |_| ()).map(|(whole, prices, ())| (whole, prices))
}

/// The same, and what `ask` finds out of the hole as it is, which is solved in any case.
///
/// # Errors
/// As [`solve`].
pub fn prices_and<T: Send>(
    hole: Hole<'_>,
    without: &[&dyn Lies],
    cancel: &AtomicBool,
    ask: impl FnOnce(&Solution<'_>) -> T + Send,
) -> Result<(f64, Vec<f64>, T), Unsolved> {
    let whole = || {
        let solution = solve(hole, &Worth::Strokes, cancel)?;
        Ok::<_, Unsolved>((solution.strokes(solution.tee()), ask(&solution)))
    };
    let strokes = |lies: &dyn Lies| {
        let solution = solve(Hole { lies, ..hole }, &Worth::Strokes, cancel)?;
        Ok(solution.strokes(solution.tee()))
    };
    let (whole, others) =
        rayon::join(whole, || without.par_iter().map(|lies| strokes(*lies)).collect::<Result<Vec<f64>, Unsolved>>());
    let (whole, asked) = whole?;
    Ok((whole, others?.into_iter().map(|other| (whole - other).max(0.0)).collect(), asked))
}

/// Where a play leads, and which part of that by way of each piece of ground.
struct Parts {
    whole: Row,
    pieces: Vec<(usize, Row)>,
}

impl Parts {
    /// The row of the balls that do not finish in a piece.
    fn without(&self, piece: usize) -> Option<Row> {
        let (_, part) = self.pieces.iter().find(|(p, _)| *p == piece)?;
        let mut row = self.whole.clone();
        for (list, gone) in [(&mut row.to, &part.to), (&mut row.penalised, &part.penalised)] {
            for (id, weight) in gone {
                if let Ok(i) = list.binary_search_by_key(id, |(k, _)| *k)
                    && let Some((_, w)) = list.get_mut(i)
                {
                    *w = (*w - weight).max(0.0);
                }
            }
        }
        row.putts.iter_mut().zip(part.putts).for_each(|(w, p)| *w = (*w - p).max(0.0));
        row.again = (row.again - part.again).max(0.0);
        row.stay = (row.stay - part.stay).max(0.0);
        Some(row)
    }
}

/// Plays from places by the strokes taken, as far as they were asked for.
type Known = HashMap<(u32, usize), Option<Parts>>;

impl Solution<'_> {
    /// For each of `count` pieces of ground the chance that a ball of this play, followed by the plan, finishes in it at least once;
    /// `piece` names the piece at a point.
    pub fn finds(&self, stand: Stand, play: &Play, count: usize, piece: &dyn Fn(Point) -> Option<usize>) -> Vec<f64> {
        let view = self.view(stand);
        let places = self.course().lattice.places.len();
        let first = self.parts(&view.next, view.place, play.choice, view.cloud(play.choice).as_ref(), piece);
        let mut known = Known::new();
        // Every place the plan comes to is worked out once, then each piece is left out in turn.
        flow(places, &first.whole, stand.taken, |id, taken| {
            self.know(&mut known, id, taken, piece).map(|parts| parts.whole.clone())
        });
        let touched = |target: usize| {
            let has = |parts: &Parts| parts.pieces.iter().any(|(p, _)| *p == target);
            has(&first) || known.values().flatten().any(has)
        };
        (0..count)
            .map(|target| {
                if !touched(target) {
                    return 0.0;
                }
                let start = first.without(target);
                let (told, waiting) = flow(places, start.as_ref().unwrap_or(&first.whole), stand.taken, |id, taken| {
                    let parts = known.get(&(id, self.layer_of(taken)))?.as_ref()?;
                    Some(parts.without(target).unwrap_or_else(|| parts.whole.clone()))
                });
                (1.0 - told.iter().sum::<f64>() - waiting).clamp(0.0, 1.0)
            })
            .collect()
    }

    fn know<'k>(
        &self,
        known: &'k mut Known,
        id: u32,
        taken: usize,
        piece: &dyn Fn(Point) -> Option<usize>,
    ) -> Option<&'k Parts> {
        let key = (id, self.layer_of(taken));
        known
            .entry(key)
            .or_insert_with(|| {
                let place = self.course().lattice.places.get(id as usize).copied()?;
                let (choice, next) = self.planned(id as usize, taken)?;
                Some(self.parts(&next, place, choice, None, piece))
            })
            .as_ref()
    }

    /// Strokes taken as far as they change the plan.
    fn layer_of(&self, taken: usize) -> usize {
        self.layers.as_ref().map_or(0, |layers| taken.min(layers.table.settled()))
    }

    /// What the plan does at a place with these strokes taken.
    fn planned(&self, id: usize, taken: usize) -> Option<(Choice, Next<'_>)> {
        let place = *self.course().lattice.places.get(id)?;
        if let Some(layers) = &self.layers
            && taken < layers.table.settled()
            && let Some(choice) = layers.layer(taken).best.get(id).copied().flatten()
        {
            let again = layers.cost_of(self.course(), place, Some(id), taken + 2);
            return Some((choice, layers.next(taken, again)));
        }
        let [choice, ..] = self.solved.plays.get(id)?;
        let here = self.solved.values.get(id).copied().unwrap_or(MOST_STROKES);
        Some(((*choice)?, self.solved.next(here)))
    }

    fn parts(
        &self,
        next: &Next<'_>,
        place: Place,
        choice: Choice,
        cloud: Option<&Cloud>,
        piece: &dyn Fn(Point) -> Option<usize>,
    ) -> Parts {
        let course = self.course();
        let mut gather = Gather::new(course.lattice.places.len());
        let mut found: Vec<(usize, f32, Finish)> = Vec::new();
        let mut lead = Lead::default();
        let mut see = |weight: f32, end: Finish, lead: &mut Lead| {
            let spot = match end {
                Finish::Lies(spot, _) | Finish::Out(spot) => spot,
                Finish::Wet { at, .. } => at,
                Finish::Stays => place.spot,
            };
            if let Some(at) = piece(course.terrain.point(spot)) {
                found.push((at, weight, end));
            }
            course.gather(next, lead, weight, end);
        };
        let whole = match choice {
            Choice::Swing { swing, aim } => {
                if let Some(prepared) = course.swing(place.lie, swing) {
                    let cloud = cloud.unwrap_or(&prepared.value);
                    course.each_finish(place, aim, prepared, cloud, |weight, end| see(weight, end, &mut lead));
                }
                lead.row(course, &mut gather)
            }
            _ => course.row(next, place, choice, None),
        };
        let mut numbers: Vec<usize> = found.iter().map(|(p, ..)| *p).collect();
        numbers.sort_unstable();
        numbers.dedup();
        let pieces = numbers
            .into_iter()
            .map(|p| {
                lead.clear();
                for (_, weight, end) in found.iter().filter(|(q, ..)| *q == p) {
                    course.gather(next, &mut lead, *weight, *end);
                }
                (p, lead.row(course, &mut gather))
            })
            .collect();
        Parts { whole, pieces }
    }
}
