//! What a play is worth: the mean over its pattern.

use super::field::{Field, Greens};
use super::finish::{Finish, Stretches, add_trees_along, back_on_line};
use super::lattice::Lattice;
use super::mesh::Mesh;
use super::terrain::{Spot, Terrain};
use super::{Hole, Kind};
use crate::pattern::putts::MOST_PUTTS;
use crate::pattern::{Lie, Model, Swing};

/// Chance that a ball in trees is not found (assumed).
const LOST_IN_TREES: f32 = 0.03;
/// Chance that a ball in long grass is not found (assumed).
const LOST_IN_DEEP: f32 = 0.08;

/// Everything about a hole that does not change while it is solved.
pub struct Course<'a> {
    /// The hole.
    pub hole: Hole<'a>,
    /// Its rasters.
    pub terrain: Terrain,
    /// Places whose value is held.
    pub lattice: Lattice,
    /// From places to cells.
    pub mesh: Mesh,
    /// Chances of putts.
    pub greens: Greens,
    /// The hole line close by close, from its start, counted from the hole.
    pub line: Vec<Spot>,
}

/// Values after a stroke.
#[derive(Clone, Copy)]
pub struct Next<'a> {
    /// Values of finishes with this stroke taken.
    pub field: &'a Field,
    /// Values of places with this stroke taken.
    pub values: &'a [f32],
    /// Values of finishes with this stroke and a penalty stroke taken.
    pub penalised_field: &'a Field,
    /// Values of places with this stroke and a penalty stroke taken.
    pub penalised: &'a [f32],
    /// What a penalty stroke adds besides (1 when values are strokes to come).
    pub penalty: f32,
    /// Value of playing again from the same place with this stroke and a penalty taken, penalty added; used to choose relief.
    pub again: f32,
    /// About what it costs to meet trees at once.
    pub shut: f32,
}

/// The mean over a pattern: value of the finishes, and the weight of those played again from the same place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tally {
    /// Sum of weight × value over finishes.
    pub sum: f32,
    /// Weight of stroke and distance.
    pub again: f32,
    /// Weight of a ball that stays where it is.
    pub stay: f32,
}

impl Tally {
    /// A sum and nothing else.
    pub const fn of(sum: f32) -> Self {
        Self { sum, again: 0.0, stay: 0.0 }
    }
}

/// Lines of trees about a place, by direction.
pub struct Fan {
    first: f32,
    per_radian: f32,
    /// Where each line's stretches end.
    ends: Vec<u32>,
    stretches: Stretches,
}

impl Fan {
    /// Stretches along the nearest line.
    #[inline]
    pub fn along(&self, direction: f32) -> &[(f32, f32)] {
        let k = ((direction - self.first) * self.per_radian + 0.5).max(0.0) as i32 as usize;
        let k = k.min(self.ends.len().saturating_sub(1));
        let end = |k: usize| self.ends.get(k).copied().unwrap_or_default() as usize;
        let begin = k.checked_sub(1).map_or(0, end);
        self.stretches.get(begin..end(k)).unwrap_or_default()
    }

    /// Whether there are trees on any line between two directions.
    pub fn any(&self, low: f32, high: f32) -> bool {
        let last = self.ends.len().saturating_sub(1);
        let line = |direction: f32| (((direction - self.first) * self.per_radian + 0.5).max(0.0) as usize).min(last);
        let end = |k: usize| self.ends.get(k).copied().unwrap_or_default();
        end(line(high)) > line(low).checked_sub(1).map_or(0, end)
    }

    /// One line for every direction.
    pub fn single(stretches: Stretches) -> Option<Self> {
        let ends = vec![stretches.len() as u32];
        (!stretches.is_empty()).then_some(Self { first: 0.0, per_radian: 0.0, ends, stretches })
    }

    /// Lines from `from` between two directions (radians), or `None` when there are no trees on any.
    pub fn new(terrain: &Terrain, from: Spot, (low, high): (f32, f32), reach: f32) -> Option<Self> {
        if !terrain.has(Kind::Trees) {
            return None;
        }
        const STEP: f32 = 0.045;
        // On whole steps, so that a mirrored hole gives the mirrored lines.
        let low = (low / STEP).floor() * STEP;
        let count = ((high / STEP).ceil() - low / STEP) as usize + 1;
        let mut fan =
            Self { first: low, per_radian: 1.0 / STEP, ends: Vec::with_capacity(count), stretches: Stretches::new() };
        for k in 0..count {
            let dir = libm::sincosf(low + STEP * k as f32);
            add_trees_along(terrain, from, dir, reach, &mut fan.stretches);
            fan.ends.push(fan.stretches.len() as u32);
        }
        (!fan.stretches.is_empty()).then_some(fan)
    }
}

impl Course<'_> {
    /// Whether trees and lost balls follow the laws of real ground.
    pub fn real(&self) -> bool {
        self.hole.kit.pattern.model == Model::Ground
    }

    /// Value of a place by its lie.
    #[inline]
    pub fn value_at(&self, values: &[f32], lie: Lie, spot: Spot) -> f32 {
        self.lattice.stencil(&self.terrain, lie, spot).mean(values)
    }

    /// Chance that a ball on this kind of ground is lost.
    pub fn lost(&self, kind: Kind) -> f32 {
        match kind {
            Kind::Trees if self.real() => LOST_IN_TREES,
            Kind::Deep if self.real() => LOST_IN_DEEP,
            _ => 0.0,
        }
    }

    /// The spots where a ball from a penalty area may be dropped: lateral where red (Rule 17.1d(3)), back on the line (17.1d(2)).
    pub fn drops(&self, (dry, ground): (Spot, Kind), wet: Spot, kind: Kind) -> [Option<(Spot, Kind)>; 2] {
        let lateral = (kind == Kind::PenaltyRed).then_some((dry, ground));
        // From good ground at the edge of a red area going farther back gains nothing.
        if lateral.is_some() && matches!(ground, Kind::Green | Kind::Fairway | Kind::Rough) {
            return [lateral, None];
        }
        let back = back_on_line(&self.terrain, wet, 1.0).map(|spot| (spot, self.terrain.kind(spot)));
        [lateral, back.or_else(|| lateral.is_none().then_some((dry, ground)))]
    }

    /// Value of the best relief from a penalty area, penalty included, and the drop it is.
    pub fn relief(&self, next: &Next<'_>, dry: (Spot, Kind), wet: Spot, kind: Kind) -> (f32, Option<(Spot, Kind)>) {
        let mut best = (f32::INFINITY, None);
        for drop in self.drops(dry, wet, kind).into_iter().flatten() {
            let value = next.penalty + self.value_of(next.penalised_field, next.penalised, drop.0, drop.1);
            if value < best.0 {
                best = (value, Some(drop));
            }
        }
        best
    }

    /// Value of a ball at rest: from its cell where that lies on one kind of ground, else from the places about it.
    fn value_of(&self, field: &Field, values: &[f32], spot: Spot, kind: Kind) -> f32 {
        let cell = self.terrain.index(spot.x, spot.y);
        match kind.lie() {
            None => field.read(&self.terrain, spot),
            Some(_) if self.terrain.whole(cell) == Some(kind) => field.about_cell(cell),
            Some(lie) => self.lattice.stencil_in(self.lattice.zone(cell), lie, spot).mean(values),
        }
    }

    /// Adds one finish.
    pub fn add(&self, next: &Next<'_>, tally: &mut Tally, weight: f32, end: Finish) {
        match end {
            Finish::Lies(spot, kind) => {
                let lost = self.lost(kind);
                let value = self.value_of(next.field, next.values, spot, kind);
                // Unplayable: stroke and distance is always allowed (Rule 19.2a).
                let value = value.min(next.again);
                tally.sum += weight * (1.0 - lost) * value;
                tally.again += weight * lost;
            }
            Finish::Wet { dry, ground, wet, kind, .. } => {
                let (relief, _) = self.relief(next, (dry, ground), wet, kind);
                if relief <= next.again {
                    tally.sum += weight * relief;
                } else {
                    tally.again += weight;
                }
            }
            Finish::Out(_) => tally.again += weight,
            Finish::Stays => tally.stay += weight,
        }
    }

    /// How far the middle of a swing's pattern finishes on usual fairway in the conditions of the day.
    pub fn meant(&self, swing: &Swing, from: Spot, aim: f32) -> f32 {
        if self.hole.conditions.still() {
            return swing.total as f32;
        }
        let change = self.hole.conditions.change(swing, self.terrain.point(from), f64::from(aim));
        (swing.carry() * change.carry + swing.run() * change.run) as f32
    }
}

/// The average number that chances of putts mean.
pub fn average_putts(row: &[f32; MOST_PUTTS]) -> f32 {
    row.iter().enumerate().map(|(j, p)| (j as f32 + 1.0) * p).sum()
}
