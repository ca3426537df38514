//! One swing from one place, summed over its points.

use super::eval::{Course, Fan, Next, Tally};
use super::field::Field;
use super::finish::{Finish, Flight, at_rest, finish, stopped};
use super::lanes::{GROUP, Room, Turn, look_up};
use super::terrain::{FINE_HALF, Spot};
use super::{Kind, Prepared};
use crate::pattern::{Change, Cloud};

/// A run shorter than this, in yards, counts as part of the carry.
const NO_RUN: f32 = 2.5;

/// One swing from one place.
#[derive(Clone, Copy)]
pub struct Shot<'a> {
    /// Where from.
    pub from: Spot,
    /// The direction of its aim, radians.
    pub aim: f32,
    /// The flight of the swing as meant.
    pub flight: Flight,
    /// Its points.
    pub cloud: &'a Cloud,
    /// Trees about the place.
    pub fan: Option<&'a Fan>,
    /// How its points lie in the plane.
    turn: Turn,
    /// The share of each length that is carried.
    carried: f32,
}

impl<'a> Shot<'a> {
    /// The same aimed elsewhere; the conditions are taken to be the same there.
    pub fn aimed(self, aim: f32) -> Self {
        Self { aim, turn: Turn { dir: libm::sincosf(aim), ..self.turn }, ..self }
    }

    /// The same with a fan of trees.
    pub fn among(self, fan: Option<&'a Fan>) -> Self {
        Self { fan, ..self }
    }

    /// Stretches of trees on the way of a point, if there are any.
    #[inline]
    fn trees(&self, along: f32, across: f32) -> Option<&'a [(f32, f32)]> {
        let line = self.fan?.along(self.aim + across / along.max(1.0));
        (!line.is_empty()).then_some(line)
    }

    /// Whether trees stop the point at this length and side.
    #[inline]
    fn caught(&self, along: f32, across: f32) -> bool {
        self.trees(along, across).is_some_and(|t| stopped(t, self.flight, self.carried * along).is_some())
    }

    /// The points in groups: along, across, weight.
    fn groups(&self) -> impl Iterator<Item = ((&'a [f32], &'a [f32]), &'a [f32])> {
        let cloud = self.cloud;
        cloud.along.chunks(GROUP).zip(cloud.across.chunks(GROUP)).zip(cloud.weights.chunks(GROUP))
    }

    fn reach(&self) -> f32 {
        self.turn.along(self.cloud.meant)
    }

    /// Whether it may finish on the fine raster.
    fn near(&self) -> bool {
        let reach = self.reach();
        let (x, y) = (self.from.x + reach * self.turn.dir.0, self.from.y + reach * self.turn.dir.1);
        let margin = FINE_HALF * 1.42 + 0.45 * reach + 8.0;
        x * x + y * y < margin * margin
    }

    /// A run of a couple of yards is not worth looking where it begins.
    fn runs(&self) -> bool {
        (1.0 - self.carried) * self.reach() > NO_RUN
    }
}

/// What is done with the points of a shot.
pub trait Sink {
    /// Points at rest on ground whose value the field knows: their cells, weights, and the sum of their values by weight.
    fn plain(&mut self, cells: &[u32], weights: &[f32], sum: f32);
    /// A point at rest in trees or long grass: the cell filled with it.
    fn lossy(&mut self, cell: u32, weight: f32, kind: Kind);
    /// A point whose way there matters.
    fn odd(&mut self, weight: f32, end: Finish);
}

/// Sums values.
struct Sum<'s, 'a> {
    course: &'s Course<'a>,
    next: &'s Next<'s>,
    tally: Tally,
}

impl Sink for Sum<'_, '_> {
    fn plain(&mut self, _: &[u32], _: &[f32], sum: f32) {
        self.tally.sum += sum;
    }

    fn lossy(&mut self, cell: u32, weight: f32, kind: Kind) {
        let lost = self.course.lost(kind);
        let value = self.next.field.roughly().get(cell as usize).copied().unwrap_or(f32::NAN);
        self.tally.sum += weight * (1.0 - lost) * value.min(self.next.again);
        self.tally.again += weight * lost;
    }

    fn odd(&mut self, weight: f32, end: Finish) {
        self.course.add(self.next, &mut self.tally, weight, end);
    }
}

impl Course<'_> {
    /// A swing from a place in a direction (radians), on the points of `cloud`.
    pub fn shot<'s>(&self, prepared: &Prepared, from: Spot, aim: f32, cloud: &'s Cloud) -> Shot<'s> {
        let still = self.hole.conditions.still();
        let change =
            (!still).then(|| self.hole.conditions.change(&prepared.swing, self.terrain.point(from), f64::from(aim)));
        let (mut turn, mut carried) =
            (Turn { dir: libm::sincosf(aim), base: 0.0, slope: 1.0, wide: 1.0 }, cloud.carried);
        if let Some(change) = change.filter(|change| *change != Change::NONE) {
            let swing = &prepared.swing;
            let (carry, run) = (swing.carry() * change.carry, swing.run() * change.run);
            let total = (carry + run).max(1e-3);
            let stretch = total / swing.total.max(1e-3);
            // The drift is aimed off for: it goes with the length, as the direction of the start does, so a whole pattern keeps its aim.
            turn.base = (swing.total * (1.0 - change.along) * stretch) as f32;
            turn.slope = (change.along * stretch) as f32;
            turn.wide = change.across as f32;
            carried = (carry / total).clamp(0.0, 1.0) as f32;
        }
        Shot { from, aim, flight: prepared.flight, cloud, fan: None, turn, carried }
    }

    /// The mean of a shot.
    pub fn tally(&self, next: &Next<'_>, shot: &Shot<'_>) -> Tally {
        let mut sum = Sum { course: self, next, tally: Tally::of(0.0) };
        self.over(next.field, shot, &mut sum);
        sum.tally
    }

    /// Calls the sink with every point of a shot.
    pub fn over(&self, field: &Field, shot: &Shot<'_>, sink: &mut impl Sink) {
        let slant = shot.cloud.slant * shot.turn.wide;
        let trees = shot.fan.is_some_and(|fan| fan.any(shot.aim - slant, shot.aim + slant));
        let (near, runs, from, carried) = (shot.near(), shot.runs(), shot.from, shot.carried);
        let mut room = Room::new();
        for ((along, across), weights) in shot.groups() {
            let count = along.len();
            shot.turn.ways(along, across, &mut room);
            if runs {
                self.terrain.landings(from, carried, &mut room, count);
                self.terrain.runs(carried, &mut room, count);
            }
            if near {
                self.terrain.finishes::<true>(from, &mut room, count);
            } else {
                self.terrain.finishes::<false>(from, &mut room, count);
            }
            look_up(field.exact(), &mut room, count);
            let sum = room.sum(weights);
            let caught = |l: usize| {
                let (along, across) = (room.along.get(l)?, across.get(l)?);
                shot.caught(*along, across * shot.turn.wide).then_some(())
            };
            let clear = !trees || (0..count).all(|l| caught(l).is_none());
            if clear && !sum.is_nan() {
                sink.plain(room.cells.get(..count).unwrap_or_default(), weights, sum);
                continue;
            }
            let points = room.dx.iter().zip(&room.dy).zip(&room.share).zip(&room.values).zip(&room.cells);
            for (l, (((((dx, dy), share), value), cell), weight)) in points.zip(weights).enumerate() {
                if *weight == 0.0 {
                    continue;
                }
                if share.is_nan() || trees && caught(l).is_some() {
                    sink.odd(*weight, self.end(shot, (*dx, *dy), across.get(l).copied().unwrap_or_default()));
                } else if let (true, Some(kind)) = (value.is_nan(), self.terrain.lossy(*cell)) {
                    sink.lossy(*cell, *weight, kind);
                } else if value.is_nan() {
                    let spot = Spot { x: from.x + share * dx, y: from.y + share * dy };
                    sink.odd(*weight, at_rest(&self.terrain, from, spot));
                } else {
                    sink.plain(std::slice::from_ref(cell), std::slice::from_ref(weight), weight * value);
                }
            }
        }
    }

    /// Where a point finishes that goes this way, followed all along it.
    fn end(&self, shot: &Shot<'_>, (dx, dy): (f32, f32), across: f32) -> Finish {
        let (s, c) = shot.turn.dir;
        let trees = shot.trees(dx * s + dy * c, across * shot.turn.wide).map(|t| (t, shot.flight));
        finish(&self.terrain, shot.from, Spot { x: shot.from.x + dx, y: shot.from.y + dy }, shot.carried, trees)
    }

    /// About the mean, at a first look: water is a drop at the nearest dry ground, out of bounds plays again, trees stop nothing.
    pub fn glance(&self, next: &Next<'_>, shot: &Shot<'_>) -> f32 {
        let (near, from, carried) = (shot.near(), shot.from, shot.carried);
        let mut room = Room::new();
        let mut total = 0.0;
        for ((along, across), weights) in shot.groups() {
            let count = along.len();
            shot.turn.ways(along, across, &mut room);
            self.terrain.landings(from, carried, &mut room, count);
            self.terrain.runs_about(carried, &mut room, count);
            if near {
                self.terrain.finishes::<true>(from, &mut room, count);
            } else {
                self.terrain.finishes::<false>(from, &mut room, count);
            }
            look_up(next.field.roughly(), &mut room, count);
            total += room.sum_or(weights, next.again);
        }
        total
    }

    /// Calls `f` with the weight and the finish of every point, each followed all the way.
    pub fn each_end(&self, shot: &Shot<'_>, mut f: impl FnMut(f32, Finish)) {
        let mut room = Room::new();
        for ((along, across), weights) in shot.groups() {
            shot.turn.ways(along, across, &mut room);
            for (((dx, dy), across), weight) in room.dx.iter().zip(&room.dy).zip(across).zip(weights) {
                if *weight > 0.0 {
                    f(*weight, self.end(shot, (*dx, *dy), *across));
                }
            }
        }
    }
}
