//! The fewest strokes from every place of a hole, by dynamic programming from the hole outward.

use super::Hole;
use super::aims::{Bearing, Choose};
use super::choice::{Choice, Depth};
use super::eval::{Course, Fan, Next, Tally, average_putts};
use super::field::{Field, Filling, Greens};
use super::finish::{Flight, stopped};
use super::lattice::{Lattice, Place};
use super::terrain::{Spot, Terrain};
use crate::pattern::Lie;
use std::sync::atomic::{AtomicBool, Ordering};

/// A play that more often than this has to be made again is no play.
const MOST_AGAIN: f32 = 0.9;
/// No place is worth more strokes than this.
pub const MOST_STROKES: f32 = 30.0;
/// Plays that are kept after the first look.
pub const KEPT: usize = 5;
/// Swings whose aims are looked at more closely.
const NARROWED: usize = 5;
/// Rounds of values with the plays kept; each carries drops that go backwards one step further.
const ROUNDS: usize = 6;
/// Values that move less than this between rounds are settled.
const SETTLED: f32 = 0.002;

/// A hole solved for fewest strokes.
pub struct Solved<'a> {
    /// The hole and its rasters.
    pub course: Course<'a>,
    /// Strokes to come from every place.
    pub values: Vec<f32>,
    /// The best plays from every place, the best first.
    pub plays: Vec<[Option<Choice>; KEPT]>,
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
        plays: vec![[None; KEPT]; count],
        course,
        field,
    };
    solved.refresh(0.0, f32::INFINITY);
    solved.round(Pass::Look, cancel)?;
    if solved.course.terrain.has_hazards() {
        solved.round(Pass::Weigh, cancel)?;
    }
    for _ in 0..ROUNDS {
        if solved.round(Pass::Value, cancel)? < SETTLED {
            break;
        }
    }
    Ok(solved)
}

/// What is done at every place in one round from the hole outward.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Pass {
    /// Every play is looked at, the best are weighed and kept.
    Look,
    /// The plays kept are weighed again.
    Weigh,
    /// The value of the best play is taken on the most points.
    Value,
}

impl Solved<'_> {
    /// One round; returns by how much the value moved most, far-off ground aside.
    fn round(&mut self, pass: Pass, cancel: &AtomicBool) -> Result<f32, CalledOff> {
        let mut scratch = Scratch::default();
        let count = self.course.lattice.places.len();
        let (mut begin, mut moved) = (1, 0.0_f32);
        while begin < count {
            if cancel.load(Ordering::Relaxed) {
                return Err(CalledOff);
            }
            let places = &self.course.lattice.places;
            let inner = places.get(begin).map_or(0.0, |p| p.spot.away());
            let width = if inner < 24.0 {
                3.0
            } else if inner < 48.0 {
                6.0
            } else {
                12.0
            };
            let ring = places.get(begin..).unwrap_or_default();
            let end = begin + ring.partition_point(|p| p.spot.away() < inner + width);
            let mut shift = 0.0;
            for id in begin..end {
                let change = self.place(id, pass, &mut scratch);
                shift += change;
                moved = moved.max(change.abs());
            }
            // How far the cells reach that take part of their value from this ring.
            let step = self.course.hole.fineness.grid as f32 * if inner < 48.0 { 2.9 } else { 3.5 };
            let mut outer = inner + width + step;
            if pass == Pass::Look {
                outer += 12.0;
                self.foresee(end, outer + 40.0, shift / (end - begin).max(1) as f32);
            }
            self.refresh((inner - step).max(0.0), outer);
            begin = end;
        }
        self.place(0, pass, &mut scratch);
        Ok(moved)
    }

    fn refresh(&mut self, from: f32, to: f32) {
        let with = Filling {
            terrain: &self.course.terrain,
            lattice: &self.course.lattice,
            values: &self.values,
            penalty: 1.0,
        };
        self.field.refresh(&with, from, to);
    }

    /// Works on one place and returns by how much its value moved.
    fn place(&mut self, id: usize, pass: Pass, scratch: &mut Scratch) -> f32 {
        let Some(place) = self.course.lattice.places.get(id).copied() else { return 0.0 };
        let here = self.values.get(id).copied().unwrap_or(MOST_STROKES);
        let kept = self.plays.get(id).copied().unwrap_or([None; KEPT]);
        let next = self.next(here);
        let value = match pass {
            Pass::Look => {
                self.course.look(&next, place, &account, scratch);
                self.course.weigh_kept(&next, place, &account, scratch)
            }
            Pass::Weigh => {
                scratch.ranked.clear();
                scratch.ranked.extend(kept.iter().flatten().map(|c| (0.0, *c)));
                self.course.weigh_kept(&next, place, &account, scratch)
            }
            Pass::Value => match kept {
                [Some(choice), ..] => {
                    let fan = self.course.fan(place, [choice].iter());
                    account(self.course.weigh(&next, place, choice, Depth::Value, fan.as_ref()))
                }
                _ => MOST_STROKES,
            },
        }
        .min(MOST_STROKES);
        if pass != Pass::Value
            && let Some(slot) = self.plays.get_mut(id)
        {
            *slot = scratch.kept();
        }
        if let Some(slot) = self.values.get_mut(id) {
            *slot = value;
        }
        value - here
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

    /// The values after a stroke from a place that is worth `here`.
    pub fn next(&self, here: f32) -> Next<'_> {
        Next { field: &self.field, values: &self.values, penalised: &self.values, penalty: 1.0, again: 1.0 + here }
    }
}

impl Course<'_> {
    /// Looks at every play from a place and leaves the most promising, the best first, in `scratch`.
    pub fn look(&self, next: &Next<'_>, place: Place, account: &dyn Fn(Tally) -> f32, scratch: &mut Scratch) {
        scratch.ranked.clear();
        if self.recovers(place) {
            scratch.ranked.push((0.0, Choice::Recover));
            return;
        }
        if place.lie == Lie::Trees {
            self.ways_out(place, &mut scratch.plays);
            for choice in &scratch.plays {
                let tally = self.weigh(next, place, *choice, Depth::Screen, None);
                scratch.ranked.push((account(tally), *choice));
            }
            scratch.rank();
            return;
        }
        self.bearings(place, Choose::Places, &mut scratch.bearings);
        let low = self.low_trees(place, &scratch.bearings);
        let glance = |choice: Choice| {
            let Choice::Swing { swing, aim } = choice else { return f32::INFINITY };
            let Some(prepared) = self.swing(place.lie, swing) else { return f32::INFINITY };
            let changed = self.changed(&prepared.swing, place.spot, aim, &prepared.screen);
            let sum = self.glance(next, place.spot, aim, changed.as_ref().unwrap_or(&prepared.screen));
            // A ball that meets trees at once is as good as in them.
            let blocked = low.as_ref().is_some_and(|fan| stopped_low(fan.along(aim), prepared.flight));
            account(Tally { sum: if blocked { sum + 0.7 } else { sum }, again: 0.0 })
        };
        scratch.best_of.clear();
        for bearing in &scratch.bearings {
            let mut best = (f32::INFINITY, 0.0);
            for steps in [0.0, -2.0, 2.0] {
                let value = glance(bearing.play(steps));
                scratch.ranked.push((value, bearing.play(steps)));
                if value < best.0 {
                    best = (value, steps);
                }
            }
            scratch.best_of.push((best.0, best.1, *bearing));
        }
        scratch.best_of.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (_, steps, bearing) in scratch.best_of.iter().take(NARROWED) {
            for more in [-1.0, 1.0] {
                let play = bearing.play(steps + more);
                scratch.ranked.push((glance(play), play));
            }
        }
        scratch.rank();
    }

    /// Trees close by, for the start of the flight.
    fn low_trees(&self, place: Place, bearings: &[Bearing]) -> Option<Fan> {
        const LOW: f32 = 45.0;
        if !self.real() || self.terrain.to_trees(place.spot) > LOW {
            return None;
        }
        let (low, high) = bearings.iter().fold((f32::INFINITY, f32::NEG_INFINITY), |(l, h), b| {
            (l.min(b.aim - 3.0 * b.step), h.max(b.aim + 3.0 * b.step))
        });
        Fan::new(&self.terrain, place.spot, (low, high), LOW)
    }

    /// Weighs the plays ranked first, sorts them and returns the best value.
    pub fn weigh_kept(
        &self,
        next: &Next<'_>,
        place: Place,
        account: &dyn Fn(Tally) -> f32,
        scratch: &mut Scratch,
    ) -> f32 {
        scratch.ranked.truncate(KEPT);
        let fan = self.fan(place, scratch.ranked.iter().map(|(_, c)| c));
        for (value, choice) in &mut scratch.ranked {
            *value = account(self.weigh(next, place, *choice, Depth::Weigh, fan.as_ref()));
        }
        scratch.rank();
        scratch.ranked.first().map_or(MOST_STROKES, |(value, _)| *value)
    }

    /// The fan of trees for a set of plays from a place.
    pub fn fan<'p>(&self, place: Place, plays: impl Iterator<Item = &'p Choice>) -> Option<Fan> {
        if place.lie == Lie::Trees || !self.real() || !self.terrain.has(super::Kind::Trees) {
            return None;
        }
        let (span, reach) = self.span(place.lie, plays)?;
        Fan::new(&self.terrain, place.spot, span, reach)
    }
}

/// Whether the first trees on a line stop a flight as it rises.
fn stopped_low(stretches: &[(f32, f32)], flight: Flight) -> bool {
    !stretches.is_empty() && stopped(stretches, flight, flight.carry).is_some()
}

/// Room for weighing the plays of one place.
#[derive(Default)]
pub struct Scratch {
    plays: Vec<Choice>,
    bearings: Vec<Bearing>,
    best_of: Vec<(f32, f32, Bearing)>,
    ranked: Vec<(f32, Choice)>,
}

impl Scratch {
    fn rank(&mut self) {
        self.ranked.sort_by(|a, b| a.0.total_cmp(&b.0));
    }

    /// The best plays.
    pub fn kept(&self) -> [Option<Choice>; KEPT] {
        let mut kept = [None; KEPT];
        kept.iter_mut().zip(&self.ranked).for_each(|(slot, (_, choice))| *slot = Some(*choice));
        kept
    }
}

/// Strokes to come of a tally, stroke and distance in closed form.
pub fn account(tally: Tally) -> f32 {
    if tally.again > MOST_AGAIN || tally.sum.is_nan() {
        return f32::INFINITY;
    }
    (1.0 + tally.sum + tally.again) / (1.0 - tally.again)
}
