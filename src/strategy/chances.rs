//! The chances of every score, and of finding each piece of ground, when the plan is played from a place.
//!
//! The rows of the policy are pushed backward, without any choice being made anew (reference on strategy, section 8, advice 9).

use super::choice::{Choice, Gather, Row};
use super::finish::Finish;
use super::lattice::Place;
use super::solve::{MOST_STROKES, Solved};
use crate::ground::Point;
use crate::pattern::Lie;

/// Scores that are told apart; what is left beyond is below one in a million for any player.
pub const SCORES: usize = 40;
/// Rounds of the backward push: balls that go back to farther places need more than one.
const ROUNDS: usize = 6;
/// A round that moves no chance by this ends the push.
const STILL: f32 = 1e-6;
/// Strokes followed forward for the chance of finding a piece of ground.
const FOLLOWED: usize = 14;
/// A place visited more seldom is not followed.
const SELDOM: f32 = 1e-5;

/// `chances[n]` of holing out in `n` strokes, from every place by the policy.
#[derive(Clone, Debug)]
pub struct Chances {
    of: Vec<[f32; SCORES]>,
}

impl Chances {
    /// Pushes the policy of `solved` backward.
    pub fn new(solved: &Solved<'_>) -> Self {
        let rows = solved.rows();
        let mut chances = Self { of: vec![[0.0; SCORES]; rows.len()] };
        for _ in 0..ROUNDS {
            let mut moved = 0.0_f32;
            // Places stand from the hole outward after the tee, so the tee comes last.
            for id in (1..rows.len()).chain([0]) {
                let Some(row) = rows.get(id) else { continue };
                let after = chances.after(row);
                if let Some(old) = chances.of.get_mut(id) {
                    moved = old.iter().zip(&after).map(|(a, b)| (a - b).abs()).fold(moved, f32::max);
                    *old = after;
                }
            }
            if moved < STILL {
                break;
            }
        }
        chances
    }

    /// The chances of a row, with its own repeats (again, stay) worked out exactly score by score.
    fn after(&self, row: &Row) -> [f32; SCORES] {
        let mut out = [0.0_f32; SCORES];
        for (list, strokes) in [(&row.to, 1), (&row.penalised, 2)] {
            for (id, weight) in list {
                let Some(there) = self.of.get(*id as usize) else { continue };
                for (a, b) in out.iter_mut().skip(strokes).zip(there) {
                    *a += weight * b;
                }
            }
        }
        for (a, p) in out.iter_mut().skip(2).zip(row.putts) {
            *a += p;
        }
        if row.again > 0.0 || row.stay > 0.0 {
            for n in 0..SCORES {
                let back = |k: usize| n.checked_sub(k).and_then(|m| out.get(m)).copied().unwrap_or(0.0);
                let more = row.stay * back(1) + row.again * back(2);
                if let Some(a) = out.get_mut(n) {
                    *a += more;
                }
            }
        }
        out
    }
}

impl Solved<'_> {
    /// What is done from a place of the lattice.
    fn choice(&self, id: usize) -> Choice {
        self.plays.get(id).and_then(|kept| kept.first().copied().flatten()).unwrap_or(Choice::Recover)
    }

    /// Where the policy leads from every place.
    fn rows(&self) -> Vec<Row> {
        let places = &self.course.lattice.places;
        let mut gather = Gather::new(places.len());
        places
            .iter()
            .enumerate()
            .map(|(id, place)| {
                let here = self.values.get(id).copied().unwrap_or(MOST_STROKES);
                self.course.row(&self.next(here), *place, self.choice(id), None, &mut gather)
            })
            .collect()
    }

    /// `chances[n]` of holing out in `n` strokes when `choice` is played from a place and the policy after it; they sum to one.
    pub fn score_chances(&self, chances: &Chances, at: Point, lie: Lie, choice: Choice) -> Vec<f64> {
        let place = Place { spot: self.course.terrain.spot(at), lie, far: false };
        let mut gather = Gather::new(self.course.lattice.places.len());
        let row = self.course.row(&self.next(MOST_STROKES), place, choice, None, &mut gather);
        let raw = chances.after(&row);
        let sum: f64 = raw.iter().map(|c| f64::from(*c)).sum();
        // Rounding of single precision and the tail beyond the last score are put back in proportion.
        raw.iter().map(|c| f64::from(*c) / sum.max(1e-9)).collect()
    }

    /// For each of `count` pieces of ground the chance that a ball of this plan finishes in it at least once, from the tee of
    /// the hole; `piece` names the piece at a point.
    pub fn finds(&self, first: Choice, count: usize, piece: &dyn Fn(Point) -> Option<usize>) -> Vec<f64> {
        let course = &self.course;
        let places = &course.lattice.places;
        let mut gather = Gather::new(places.len());
        let next = self.next(MOST_STROKES);
        let mut known: Vec<Option<(Row, Vec<(usize, f32)>)>> = vec![None; places.len()];
        let mut hit = vec![0.0; count];
        for (target, hit) in hit.iter_mut().enumerate() {
            let mut here = vec![0.0_f32; places.len()];
            if let Some(tee) = here.first_mut() {
                *tee = 1.0;
            }
            for stroke in 0..FOLLOWED {
                let mut after = vec![0.0_f32; places.len()];
                for (id, mass) in here.iter().enumerate().filter(|(_, m)| **m > SELDOM) {
                    let (Some(place), Some(slot)) = (places.get(id), known.get_mut(id)) else { continue };
                    let choice = if id == 0 { first } else { self.choice(id) };
                    let (row, pieces) = slot.get_or_insert_with(|| {
                        let row = course.row(&next, *place, choice, None, &mut gather);
                        (row, self.pieces_found(*place, choice, count, piece))
                    });
                    let found = pieces.iter().find(|(p, _)| *p == target).map_or(0.0, |(_, c)| *c);
                    *hit += f64::from(mass * found);
                    // A ball that has found it once is followed no further for this piece.
                    let rest = mass * (1.0 - found);
                    let onward: f32 =
                        row.to.iter().chain(&row.penalised).map(|(_, w)| w).sum::<f32>() + row.again + row.stay;
                    let share = if onward > 0.0 { rest * (onward - found).max(0.0) / onward } else { 0.0 }
                        / (1.0 - found).max(1e-6);
                    for (to, weight) in row.to.iter().chain(&row.penalised) {
                        if let Some(slot) = after.get_mut(*to as usize) {
                            *slot += share * weight;
                        }
                    }
                    if let Some(slot) = after.get_mut(id) {
                        *slot += share * (row.again + row.stay);
                    }
                }
                here = after;
                if stroke > 2 && here.iter().sum::<f32>() < 1e-3 {
                    break;
                }
            }
            *hit = hit.clamp(0.0, 1.0);
        }
        hit
    }

    /// How often a choice from a place finishes in each piece of ground.
    fn pieces_found(
        &self,
        place: Place,
        choice: Choice,
        count: usize,
        piece: &dyn Fn(Point) -> Option<usize>,
    ) -> Vec<(usize, f32)> {
        let mut found = vec![0.0_f32; count];
        let course = &self.course;
        let mut add = |weight: f32, spot| {
            if let Some(slot) = piece(course.terrain.point(spot)).and_then(|p| found.get_mut(p)) {
                *slot += weight;
            }
        };
        match choice {
            Choice::Swing { swing, aim } => {
                if let Some(prepared) = course.swing(place.lie, swing) {
                    course.each_finish(place, aim, prepared, &prepared.value, |weight, end| match end {
                        Finish::Lies(spot, _) => add(weight, spot),
                        Finish::Wet { wet, .. } => add(weight, wet),
                        Finish::Out | Finish::Stays => {}
                    });
                }
            }
            Choice::Drop { spot, .. } => add(1.0, spot),
            Choice::Recover => {}
        }
        found.into_iter().enumerate().filter(|(_, c)| *c > 0.0).collect()
    }
}
