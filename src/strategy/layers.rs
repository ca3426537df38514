//! The plan for a value by strokes taken: one layer of values for each number of strokes, from the last that matters to the first.

use super::choice::{Choice, Depth};
use super::eval::{Course, Next};
use super::field::Field;
use super::lattice::Place;
use super::ledger::Ledger;
use super::look::Scratch;
use super::row::Row;
use super::solve::CalledOff;
use super::worth::Table;
use crate::pattern::putts::MOST_PUTTS;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};

/// Values with so many strokes taken. All are costs: value with its sign changed.
pub struct Layer {
    /// Costs of places.
    pub values: Vec<f32>,
    /// Costs of finishes.
    pub field: Field,
    /// What is done from every place; `None` where nothing matters any more.
    pub best: Vec<Option<Choice>>,
    /// Where that leads, once somebody has asked.
    pub rows: Vec<OnceLock<Row>>,
}

/// Every layer of a hole.
pub struct Layers {
    /// The value of every score.
    pub table: Table,
    layers: Vec<Layer>,
    /// When nothing matters any more; it answers for every later stroke.
    end: Layer,
}

impl Layers {
    /// Works from the last layer to the first.
    ///
    /// # Errors
    /// [`CalledOff`] soon after `cancel` is set.
    pub fn solve(course: &Course<'_>, table: Table, cancel: &AtomicBool) -> Result<Self, CalledOff> {
        let last = table.settled();
        let count = course.lattice.places.len();
        let lost = -table.worth(last) as f32;
        let layer = |taken: usize| Layer {
            values: vec![lost; count],
            field: Field::new(&course.terrain, &course.greens, &|row| putts_cost(&table, taken, row)),
            best: vec![None; count],
            rows: (0..count).map(|_| OnceLock::new()).collect(),
        };
        let layers: Vec<Layer> = (0..last).map(layer).collect();
        let mut end = layer(last);
        end.field.refresh(&course.mesh, &end.values, 0, count);
        end.field.refresh_wet(&course.terrain, 0.0, None);
        let mut solved = Self { table, layers, end };
        let mut scratch = Scratch::default();
        // With no stroke taken a player stands somewhere that is asked for itself.
        for taken in (1..last).rev() {
            let (mut values, mut best) = (vec![lost; count], vec![None; count]);
            for (id, place) in course.lattice.places.iter().enumerate() {
                if id % 64 == 0 && cancel.load(Ordering::Relaxed) {
                    return Err(CalledOff);
                }
                if !solved.matters(course, *place, taken) {
                    continue;
                }
                let again = solved.cost_of(course, *place, Some(id), taken + 2);
                let stay = solved.cost_of(course, *place, Some(id), taken + 1);
                let (next, ledger) = (solved.next(taken, again), Ledger::Table { again, stay });
                course.look(&next, *place, ledger, &mut scratch);
                let fan = course.fan(*place, scratch.promising());
                course.weigh_kept(&next, *place, fan.as_ref(), ledger, &mut scratch);
                if let [Some(choice), ..] = scratch.kept() {
                    let cost = ledger.cost(course.weigh(&next, *place, choice, Depth::Value, fan.as_ref()));
                    if let (Some(v), Some(b)) = (values.get_mut(id), best.get_mut(id)) {
                        *v = cost.min(lost);
                        *b = Some(choice);
                    }
                }
            }
            solved.put(course, taken, values, best);
        }
        Ok(solved)
    }

    fn put(&mut self, course: &Course<'_>, taken: usize, values: Vec<f32>, best: Vec<Option<Choice>>) {
        let Some((before, later)) = self.layers.split_at_mut_checked(taken + 1) else { return };
        let Some(layer) = before.last_mut() else { return };
        let after = later.first().unwrap_or(&self.end);
        layer.values = values;
        layer.best = best;
        layer.field.refresh(&course.mesh, &layer.values, 0, layer.values.len());
        layer.field.refresh_wet(&course.terrain, 0.0, Some(&after.field));
    }

    /// Whether any play from a place can still change the value: strokes to the green and one putt.
    fn matters(&self, course: &Course<'_>, place: Place, taken: usize) -> bool {
        let farthest = 1.3 * course.hole.kit.pattern.reach(crate::pattern::Lie::Tee) as f32;
        let strokes = ((place.spot.away() - 30.0) / farthest).ceil().max(1.0) as usize;
        taken + strokes + 1 < self.table.settled()
    }

    /// The layer with this many strokes taken.
    pub fn layer(&self, taken: usize) -> &Layer {
        self.layers.get(taken).unwrap_or(&self.end)
    }

    /// Cost of a place with this many strokes taken; `id` where it is one of the places held.
    pub fn cost_of(&self, course: &Course<'_>, place: Place, id: Option<usize>, taken: usize) -> f32 {
        let layer = self.layer(taken);
        match id {
            Some(id) => layer.values.get(id).copied().unwrap_or_default(),
            None => course.value_at(&layer.values, place.lie, place.spot),
        }
    }

    /// The values after a stroke with `taken` strokes taken before it.
    pub fn next(&self, taken: usize, again: f32) -> Next<'_> {
        let (one, two) = (self.layer(taken + 1), self.layer(taken + 2));
        let slope = (self.table.worth(0) - self.table.worth(self.table.settled())) / self.table.settled().max(1) as f64;
        Next {
            field: &one.field,
            values: &one.values,
            penalised_field: &two.field,
            penalised: &two.values,
            penalty: 0.0,
            again,
            shut: 0.8 * slope as f32,
        }
    }
}

/// Cost of these chances of putts with `taken` strokes taken.
pub fn putts_cost(table: &Table, taken: usize, row: &[f32; MOST_PUTTS]) -> f32 {
    -row.iter().enumerate().map(|(j, p)| p * table.worth(taken + 1 + j) as f32).sum::<f32>()
}
