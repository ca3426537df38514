//! The fewest strokes from every place of a hole, by dynamic programming from the hole outward.

use super::Hole;
use super::aims::{Bearing, Choose};
use super::choice::{Choice, Depth};
use super::eval::{Course, Fan, Next, Tally, average_putts};
use super::field::{Field, Greens};
use super::finish::{Flight, stopped};
use super::lattice::{Lattice, Place};
use super::mesh::Mesh;
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
const SETTLED: f32 = 0.006;

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
    let mesh = Mesh::new(&terrain, &lattice);
    let greens = Greens::new(&terrain, hole.green);
    let line = close_line(&hole, &terrain);
    Course { hole, terrain, lattice, mesh, greens, line }
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
    let mut fans: Vec<Option<Fan>> = (0..count).map(|_| None).collect();
    let mut solved = Solved {
        values: course.lattice.places.iter().map(|p| guess(&hole, *p)).collect(),
        plays: vec![[None; KEPT]; count],
        course,
        field,
    };
    solved.field.refresh(&solved.course.mesh, &solved.values, 0, count);
    solved.field.refresh_wet(&solved.course.terrain, 1.0);
    solved.round(Pass::Look, &mut fans, cancel)?;
    if solved.course.terrain.has_hazards() {
        solved.round(Pass::Weigh, &mut fans, cancel)?;
    }
    for _ in 0..ROUNDS {
        let m = solved.round(Pass::Value, &mut fans, cancel)?;
        if m < SETTLED {
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
    fn round(&mut self, pass: Pass, fans: &mut [Option<Fan>], cancel: &AtomicBool) -> Result<f32, CalledOff> {
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
                let change = self.place(id, pass, fans, &mut scratch);
                shift += change;
                if self.course.lattice.places.get(id).is_some_and(|p| !p.far && p.lie != Lie::Trees) {
                    moved = moved.max(change.abs());
                }
            }
            self.field.refresh(&self.course.mesh, &self.values, begin, end);
            if pass == Pass::Look {
                let until = self.foresee(end, inner + width + 40.0, shift / (end - begin).max(1) as f32);
                self.field.refresh(&self.course.mesh, &self.values, end, until);
                self.field.refresh_wet(&self.course.terrain, 1.0);
            }
            begin = end;
        }
        self.place(0, pass, fans, &mut scratch);
        Ok(moved)
    }

    /// Works on one place and returns by how much its value moved.
    fn place(&mut self, id: usize, pass: Pass, fans: &mut [Option<Fan>], scratch: &mut Scratch) -> f32 {
        let (Some(place), Some(fan)) = (self.course.lattice.places.get(id).copied(), fans.get_mut(id)) else {
            return 0.0;
        };
        let here = self.values.get(id).copied().unwrap_or(MOST_STROKES);
        let kept = self.plays.get(id).copied().unwrap_or([None; KEPT]);
        let next = self.next(here);
        let value = match pass {
            Pass::Look => {
                self.course.look(&next, place, &account, scratch);
                // The trees about a place are looked up once, for the plays that were kept.
                *fan = self.course.fan(place, scratch.ranked.iter().take(KEPT).map(|(_, c)| c));
                self.course.weigh_kept(&next, place, fan.as_ref(), &account, scratch)
            }
            Pass::Weigh => {
                scratch.ranked.clear();
                scratch.ranked.extend(kept.iter().flatten().map(|c| (0.0, *c)));
                self.course.weigh_kept(&next, place, fan.as_ref(), &account, scratch)
            }
            Pass::Value => match kept {
                [Some(choice), ..] => account(self.course.weigh(&next, place, choice, Depth::Value, fan.as_ref())),
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

    /// Moves the first guess of places farther out by what the last ring was off; returns the first place not moved.
    fn foresee(&mut self, from: usize, until: f32, shift: f32) -> usize {
        let places = self.course.lattice.places.get(from..).unwrap_or_default();
        let end = from + places.partition_point(|p| p.spot.away() < until);
        for (value, place) in self.values.iter_mut().zip(&self.course.lattice.places).take(end).skip(from) {
            *value = guess(&self.course.hole, *place) + shift;
        }
        end
    }

    /// The values after a stroke from a place that is worth `here`.
    pub fn next(&self, here: f32) -> Next<'_> {
        Next {
            field: &self.field,
            values: &self.values,
            penalised_field: &self.field,
            penalised: &self.values,
            penalty: 1.0,
            again: 1.0 + here,
        }
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
        let low = self.low_trees(place);
        let glance = |choice: Choice| {
            let Choice::Swing { swing, aim } = choice else { return f32::INFINITY };
            let Some(prepared) = self.swing(place.lie, swing) else { return f32::INFINITY };
            let changed = self.changed(&prepared.swing, place.spot, aim, &prepared.screen);
            let sum = self.glance(next, place.spot, aim, changed.as_ref().unwrap_or(&prepared.screen));
            // A ball that meets trees at once is as good as in them.
            let blocked = low.as_ref().is_some_and(|fan| stopped_low(fan.along(aim), prepared.flight));
            account(Tally::of(if blocked { sum + 0.8 } else { sum }))
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
        if let Some(fan) = &low {
            self.round_trees(place, fan, &mut scratch.plays);
            scratch.ranked.extend(scratch.plays.iter().map(|play| (glance(*play), *play)));
        }
        scratch.rank();
    }

    /// Trees close by, for the start of the flight.
    pub fn low_trees(&self, place: Place) -> Option<Fan> {
        const LOW: f32 = 45.0;
        const ALL_ROUND: f32 = 2.2;
        if !self.real() || self.terrain.to_trees(place.spot) > LOW {
            return None;
        }
        let pin = Self::to_pin(place.spot);
        Fan::new(&self.terrain, place.spot, (pin - ALL_ROUND, pin + ALL_ROUND), LOW)
    }

    /// Where the line to the hole is shut by trees close by: short swings to either side of them.
    pub fn round_trees(&self, place: Place, low: &Fan, out: &mut Vec<Choice>) {
        const ASIDE: [f32; 8] = [-0.45, 0.45, -0.8, 0.8, -1.2, 1.2, -1.7, 1.7];
        out.clear();
        let pin = Self::to_pin(place.spot);
        let swings = self.hole.kit.swings(place.lie);
        let shut = |p: &super::Prepared| stopped_low(low.along(pin), p.flight);
        if !swings.first().is_some_and(shut) {
            return;
        }
        let mut last = f32::INFINITY;
        for (number, prepared) in swings.iter().enumerate() {
            let total = prepared.swing.total as f32;
            if total >= 10.0 && total <= 0.72 * last {
                last = total;
                out.extend(ASIDE.map(|aside| Choice::Swing { swing: number as u16, aim: pin + aside }));
            }
        }
    }

    /// Weighs the plays ranked first, sorts them and returns the best value.
    pub fn weigh_kept(
        &self,
        next: &Next<'_>,
        place: Place,
        fan: Option<&Fan>,
        account: &dyn Fn(Tally) -> f32,
        scratch: &mut Scratch,
    ) -> f32 {
        scratch.ranked.truncate(KEPT);
        for (value, choice) in &mut scratch.ranked {
            *value = account(self.weigh(next, place, *choice, Depth::Weigh, fan));
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
    let repeated = tally.again + tally.stay;
    if repeated > MOST_AGAIN || tally.sum.is_nan() {
        return f32::INFINITY;
    }
    (1.0 + tally.sum + tally.again) / (1.0 - repeated)
}
