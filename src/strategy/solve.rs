//! The fewest strokes from every place of a hole, by dynamic programming from the hole outward.

use super::Hole;
use super::aims::Choose;
use super::choice::{Choice, Depth, Gather, Row};
use super::eval::{Course, Fan, Next, Tally, average_putts};
use super::field::{Field, Greens};
use super::lattice::{Lattice, Place};
use super::terrain::{Spot, Terrain};
use crate::pattern::Lie;
use std::sync::atomic::{AtomicBool, Ordering};

/// A play that more often than this has to be made again is no play.
const MOST_AGAIN: f32 = 0.9;
/// No place is worth more strokes than this.
pub const MOST_STROKES: f32 = 30.0;
/// Plays that are kept after the screening.
const KEPT: usize = 8;
/// Yards by which the values of one ring of places reach into cells.
const REACHES: f32 = 26.0;

/// A hole solved for fewest strokes.
pub struct Solved<'a> {
    /// The hole and its rasters.
    pub course: Course<'a>,
    /// Strokes to come from every place.
    pub values: Vec<f32>,
    /// What is done from every place.
    pub policy: Vec<Choice>,
    /// Where that leads.
    pub rows: Vec<Row>,
    /// Values of finishes.
    pub field: Field,
}

/// The work was called off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CalledOff;

impl std::fmt::Display for CalledOff {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "called off")
    }
}

impl std::error::Error for CalledOff {}

/// Lays the rasters of a hole and the places whose value is held.
pub fn course<'a>(hole: Hole<'a>) -> Course<'a> {
    let terrain = Terrain::new(&hole);
    let lattice = Lattice::new(&hole, &terrain);
    let greens = Greens::new(&terrain, hole.green);
    let line = close_line(&hole, &terrain);
    Course { hole, terrain, lattice, greens, line }
}

/// The hole line by steps of four yards, from its start to the hole.
fn close_line(hole: &Hole<'_>, terrain: &Terrain) -> Vec<Spot> {
    const STEP: f32 = 4.0;
    let mut points: Vec<Spot> = hole.line.iter().map(|p| terrain.spot(*p)).collect();
    if let Some(last) = points.last_mut()
        && points_to_pin(*last)
    {
        // The last leg is played to the hole, not to the middle of the green.
        *last = Spot { x: 0.0, y: 0.0 };
    }
    if points.len() < 2 {
        points = vec![terrain.spot(hole.tee), Spot { x: 0.0, y: 0.0 }];
    }
    let mut line = Vec::new();
    for leg in points.windows(2) {
        let [a, b] = leg else { continue };
        let (dx, dy) = (b.x - a.x, b.y - a.y);
        let length = (dx * dx + dy * dy).sqrt();
        let steps = (length / STEP).ceil().max(1.0) as usize;
        line.extend(
            (0..steps).map(|i| Spot { x: a.x + dx * i as f32 / steps as f32, y: a.y + dy * i as f32 / steps as f32 }),
        );
    }
    line.extend(points.last());
    line
}

fn points_to_pin(last: Spot) -> bool {
    last.away() < 60.0
}

/// Strokes to come when nothing better is known: high, because a low start leaks through drops that go backwards.
fn guess(hole: &Hole<'_>, place: Place) -> f32 {
    let skill = &hole.kit.pattern.skill;
    let lie = match place.lie {
        Lie::Tee | Lie::Fairway => 0.0,
        Lie::Rough => 0.15,
        Lie::Waste | Lie::ShallowSand | Lie::Sand => 0.3,
        Lie::SteepSand | Lie::Deep => 0.6,
        Lie::Trees => 0.9,
    };
    (2.5 + 0.02 * skill.index.max(0.0) + 1.4 * f64::from(place.spot.away()) / skill.drive.max(50.0)) as f32 + lie
}

/// Solves a hole for fewest strokes.
///
/// # Errors
/// [`CalledOff`] soon after `cancel` is set.
pub fn solve<'a>(hole: Hole<'a>, cancel: &AtomicBool) -> Result<Solved<'a>, CalledOff> {
    let course = course(hole);
    let field = Field::new(&course.terrain, &course.greens, &average_putts);
    let count = course.lattice.places.len();
    let mut solved = Solved {
        values: course.lattice.places.iter().map(|p| guess(&hole, *p)).collect(),
        policy: vec![Choice::Recover; count],
        rows: vec![Row::default(); count],
        course,
        field,
    };
    solved.field.refresh(&solved.course.terrain, &solved.course.lattice, &solved.values, 0.0, f32::INFINITY);
    let sweeps = if solved.course.terrain.has_hazards() { 2 } else { 1 };
    for sweep in 0..sweeps {
        solved.sweep(sweep == 0, cancel)?;
        solved.settle(cancel)?;
    }
    Ok(solved)
}

impl Solved<'_> {
    /// Weighs plays from every place, from the hole outward.
    fn sweep(&mut self, first: bool, cancel: &AtomicBool) -> Result<(), CalledOff> {
        let mut scratch = Scratch::default();
        let count = self.course.lattice.places.len();
        let mut begin = 1;
        while begin < count {
            if cancel.load(Ordering::Relaxed) {
                return Err(CalledOff);
            }
            let places = &self.course.lattice.places;
            let inner = places.get(begin).map_or(0.0, |p| p.spot.away());
            let width = if inner < 24.0 {
                3.0
            } else if inner < 60.0 {
                6.0
            } else {
                12.0
            };
            let end =
                begin + places.get(begin..).unwrap_or_default().partition_point(|p| p.spot.away() < inner + width);
            let mut shift = 0.0;
            for id in begin..end {
                let Some(place) = self.course.lattice.places.get(id).copied() else { continue };
                let here = self.values.get(id).copied().unwrap_or(MOST_STROKES);
                let (choice, value) = self.best(place, here, &mut scratch);
                shift += value - here;
                if let (Some(v), Some(p)) = (self.values.get_mut(id), self.policy.get_mut(id)) {
                    *v = value;
                    *p = choice;
                }
            }
            if first {
                self.foresee(end, inner + width + 50.0, shift / (end - begin).max(1) as f32);
            }
            let outer = inner + width + REACHES * if first { 2.0 } else { 1.0 };
            self.field.refresh(
                &self.course.terrain,
                &self.course.lattice,
                &self.values,
                (inner - REACHES).max(0.0),
                outer,
            );
            begin = end;
        }
        if let Some(place) = self.course.lattice.places.first().copied() {
            let here = self.values.first().copied().unwrap_or(MOST_STROKES);
            let (choice, value) = self.best(place, here, &mut scratch);
            if let (Some(v), Some(p)) = (self.values.first_mut(), self.policy.first_mut()) {
                *v = value;
                *p = choice;
            }
        }
        Ok(())
    }

    /// Moves the first guess of places farther out by what the last ring was off.
    fn foresee(&mut self, from: usize, until: f32, shift: f32) {
        let places = self.course.lattice.places.iter().enumerate().skip(from);
        for (id, place) in places.take_while(|(_, p)| p.spot.away() < until) {
            if let Some(v) = self.values.get_mut(id) {
                *v = guess(&self.course.hole, *place) + shift;
            }
        }
    }

    /// The best play from a place and its value.
    fn best(&self, place: Place, here: f32, scratch: &mut Scratch) -> (Choice, f32) {
        let next = self.next(here);
        let course = &self.course;
        course.plays(place, Choose::Places, &mut scratch.plays);
        let fan = course.fan(place, &scratch.plays);
        scratch.ranked.clear();
        for choice in &scratch.plays {
            let tally = course.weigh(&next, place, *choice, Depth::Screen, fan.as_ref());
            scratch.ranked.push((account(tally), *choice));
        }
        scratch.ranked.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut best = (Choice::Recover, f32::INFINITY);
        for (_, choice) in scratch.ranked.iter().take(KEPT) {
            let value = account(course.weigh(&next, place, *choice, Depth::Weigh, fan.as_ref()));
            if value < best.1 {
                best = (*choice, value);
            }
        }
        (best.0, best.1.min(MOST_STROKES))
    }

    /// The values after a stroke from a place that is worth `here`.
    pub fn next(&self, here: f32) -> Next<'_> {
        Next { field: &self.field, values: &self.values, penalised: &self.values, penalty: 1.0, again: 1.0 + here }
    }

    /// Finds where the plays chosen lead and makes the values those of these plays.
    fn settle(&mut self, cancel: &AtomicBool) -> Result<(), CalledOff> {
        let mut gather = Gather::new(self.values.len());
        for id in 0..self.values.len() {
            if id % 64 == 0 && cancel.load(Ordering::Relaxed) {
                return Err(CalledOff);
            }
            let (Some(place), Some(choice)) =
                (self.course.lattice.places.get(id).copied(), self.policy.get(id).copied())
            else {
                continue;
            };
            let here = self.values.get(id).copied().unwrap_or(MOST_STROKES);
            let row = self.course.row(&self.next(here), place, choice, None, &mut gather);
            if let Some(slot) = self.rows.get_mut(id) {
                *slot = row;
            }
        }
        for _ in 0..80 {
            let mut moved = 0.0_f32;
            // The tee is last: every other place may be reached from it.
            for id in (1..self.rows.len()).chain([0]) {
                let Some(row) = self.rows.get(id) else { continue };
                let value =
                    account(Tally { sum: row.mean(&self.values, &self.values, 1.0, average_putts), again: row.again })
                        .min(MOST_STROKES);
                if let Some(v) = self.values.get_mut(id) {
                    moved = moved.max((*v - value).abs());
                    *v = value;
                }
            }
            if moved < 2e-4 {
                break;
            }
        }
        self.field.refresh(&self.course.terrain, &self.course.lattice, &self.values, 0.0, f32::INFINITY);
        Ok(())
    }
}

impl Course<'_> {
    /// The fan of trees for a set of plays from a place.
    pub fn fan(&self, place: Place, plays: &[Choice]) -> Option<Fan> {
        if place.lie == Lie::Trees || !self.real() {
            return None;
        }
        let (span, reach) = self.span(place, plays)?;
        Fan::new(&self.terrain, place.spot, span, reach)
    }
}

#[derive(Default)]
struct Scratch {
    plays: Vec<Choice>,
    ranked: Vec<(f32, Choice)>,
}

/// Strokes to come of a tally, stroke and distance in closed form.
pub fn account(tally: Tally) -> f32 {
    if tally.again > MOST_AGAIN || tally.sum.is_nan() {
        return f32::INFINITY;
    }
    (1.0 + tally.sum + tally.again) / (1.0 - tally.again)
}
