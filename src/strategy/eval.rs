//! What a play is worth: the mean over its pattern.

use super::field::{Field, Greens};
use super::finish::{Finish, Flight, Stretches, add_trees_along, at_rest, back_on_line, finish, stopped};
use super::lattice::Lattice;
use super::mesh::Mesh;
use super::terrain::{FINE_HALF, Spot, Terrain};
use super::{Hole, Kind};
use crate::pattern::putts::MOST_PUTTS;
use crate::pattern::{Change, Cloud, Lie, Model, Swing};

/// Marks a point whose whole way must be followed, not only its end.
const WHOLE: u16 = 1 << 15;
/// Chance that a ball in trees is not found (assumed).
const LOST_IN_TREES: f32 = 0.03;
/// A run shorter than this, in yards, counts as part of the carry.
const NO_RUN: f32 = 2.5;
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

/// One play as it is summed.
struct Shot<'a> {
    from: Spot,
    aim: f32,
    dir: (f32, f32),
    cloud: &'a Cloud,
    flight: Flight,
    fan: Option<&'a Fan>,
}

impl Shot<'_> {
    /// Whether trees stop the point at this length and side.
    #[inline]
    fn caught(&self, along: f32, across: f32) -> bool {
        let Some(fan) = self.fan else { return false };
        let line = fan.along(self.aim + across / along.max(1.0));
        !line.is_empty() && stopped(line, self.flight, self.cloud.carried * along).is_some()
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
        let count = ((high - low) / STEP).ceil() as usize + 1;
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
            None => field.read::<true>(&self.terrain, spot.x, spot.y),
            Some(_) if self.terrain.whole(cell) == Some(kind) => field.about_cell(cell),
            Some(lie) => self.lattice.stencil_in(self.lattice.zone(cell), lie, spot).mean(values),
        }
    }

    /// The mean of a play over `cloud`, played from `from` in direction `aim` (radians).
    pub fn tally(
        &self,
        next: &Next<'_>,
        from: Spot,
        aim: f32,
        cloud: &Cloud,
        flight: Flight,
        fan: Option<&Fan>,
    ) -> Tally {
        let dir = libm::sincosf(aim);
        let reach = cloud.along.first().copied().unwrap_or_default();
        let mut pending = Vec::new();
        // A run of a couple of yards is not worth looking where it begins.
        let run = (1.0 - cloud.carried) * reach > NO_RUN;
        let shot = Shot { from, aim, dir, cloud, flight, fan };
        let sum = match (Self::near(from, dir, reach), run, fan.is_some()) {
            (true, true, true) => self.mean::<true, true, true>(next.field, &shot, &mut pending),
            (true, true, false) => self.mean::<true, true, false>(next.field, &shot, &mut pending),
            (true, false, true) => self.mean::<true, false, true>(next.field, &shot, &mut pending),
            (true, false, false) => self.mean::<true, false, false>(next.field, &shot, &mut pending),
            (false, true, true) => self.mean::<false, true, true>(next.field, &shot, &mut pending),
            (false, true, false) => self.mean::<false, true, false>(next.field, &shot, &mut pending),
            (false, false, true) => self.mean::<false, false, true>(next.field, &shot, &mut pending),
            (false, false, false) => self.mean::<false, false, false>(next.field, &shot, &mut pending),
        };
        let mut tally = Tally::of(sum);
        for i in pending {
            let (whole, i) = (i & WHOLE != 0, usize::from(i & !WHOLE));
            let (Some(a), Some(b)) = (cloud.along.get(i), cloud.across.get(i)) else { continue };
            let (dx, dy) = (a * dir.0 + b * dir.1, a * dir.1 - b * dir.0);
            let end = if whole {
                let to = Spot { x: from.x + dx, y: from.y + dy };
                let stretches = fan.map(|f| f.along(aim + b / a.max(1.0))).filter(|t| !t.is_empty());
                finish(&self.terrain, from, to, cloud.carried, stretches.map(|t| (t, flight)))
            } else {
                let share = if run { self.rolled(from, (dx, dy), a, cloud.carried) } else { 1.0 };
                at_rest(&self.terrain, from, Spot { x: from.x + share * dx, y: from.y + share * dy })
            };
            self.add(next, &mut tally, cloud.weight_of(i), end);
        }
        tally
    }

    /// The mean of the finishes that the field knows; the others are left in `pending`.
    #[inline]
    fn mean<const NEAR: bool, const RUN: bool, const TREES: bool>(
        &self,
        field: &Field,
        shot: &Shot<'_>,
        pending: &mut Vec<u16>,
    ) -> f32 {
        let (cloud, (s, c), from) = (shot.cloud, shot.dir, shot.from);
        let n = cloud.ordinary;
        let mut total = 0.0;
        for (weight, part) in [(cloud.weight, 0..n), (cloud.mishit_weight, n..cloud.len())] {
            let first = part.start;
            let (along, across) = (cloud.along.get(part.clone()), cloud.across.get(part));
            let mut sum = 0.0;
            for (i, (a, b)) in along.unwrap_or_default().iter().zip(across.unwrap_or_default()).enumerate() {
                let (dx, dy) = (a * s + b * c, a * c - b * s);
                let share = if RUN { self.rolled(from, (dx, dy), a, cloud.carried) } else { 1.0 };
                let value = field.read::<NEAR>(&self.terrain, from.x + share * dx, from.y + share * dy);
                let caught = TREES && shot.caught(*a, *b);
                if share.is_nan() || caught {
                    pending.push((first + i) as u16 | WHOLE);
                } else if value.is_nan() {
                    pending.push((first + i) as u16);
                } else {
                    sum += value;
                }
            }
            total += weight * sum;
        }
        total
    }

    /// About the mean, at a first look: water is a drop at the nearest dry ground, out of bounds plays again, trees stop nothing.
    pub fn glance(&self, next: &Next<'_>, from: Spot, aim: f32, cloud: &Cloud) -> f32 {
        let dir = libm::sincosf(aim);
        let reach = cloud.along.first().copied().unwrap_or_default();
        if Self::near(from, dir, reach) {
            self.about::<true>(next, from, dir, cloud)
        } else {
            self.about::<false>(next, from, dir, cloud)
        }
    }

    /// Whether a shot may finish on the fine raster.
    fn near(from: Spot, (s, c): (f32, f32), reach: f32) -> bool {
        let (x, y) = (from.x + reach * s, from.y + reach * c);
        let margin = FINE_HALF * 1.42 + 0.45 * reach + 8.0;
        x * x + y * y < margin * margin
    }

    #[inline]
    fn about<const NEAR: bool>(&self, next: &Next<'_>, from: Spot, (s, c): (f32, f32), cloud: &Cloud) -> f32 {
        let mut total = 0.0;
        let (n, carried) = (cloud.ordinary, cloud.carried);
        for (weight, part) in [(cloud.weight, 0..n), (cloud.mishit_weight, n..cloud.len())] {
            let mut sum = 0.0;
            let (along, across) = (cloud.along.get(part.clone()), cloud.across.get(part));
            for (a, b) in along.unwrap_or_default().iter().zip(across.unwrap_or_default()) {
                let (dx, dy) = (a * s + b * c, a * c - b * s);
                let run = self.terrain.roll_about(from.x + carried * dx, from.y + carried * dy);
                let share = carried + run * (1.0 - carried);
                let value = next.field.about::<NEAR>(&self.terrain, from.x + share * dx, from.y + share * dy);
                sum += if value.is_nan() { next.again } else { value };
            }
            total += weight * sum;
        }
        total
    }

    /// The share of its whole length that a ball goes, by where it lands; not a number where the run must be looked at.
    #[inline(always)]
    fn rolled(&self, from: Spot, (dx, dy): (f32, f32), along: &f32, carried: f32) -> f32 {
        let (share, clear) = self.terrain.roll(from.x + carried * dx, from.y + carried * dy);
        let run = share * (1.0 - carried);
        if run * along <= clear { carried + run } else { f32::NAN }
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

    /// The pattern as the conditions of the day make it.
    pub fn changed(&self, swing: &Swing, from: Spot, aim: f32, cloud: &Cloud) -> Option<Cloud> {
        if self.hole.conditions.still() {
            return None;
        }
        let change = self.hole.conditions.change(swing, self.terrain.point(from), f64::from(aim));
        (change != Change::NONE).then(|| apply(change, swing, cloud))
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

fn apply(change: Change, swing: &Swing, cloud: &Cloud) -> Cloud {
    let (carry, run) = (swing.carry() * change.carry, swing.run() * change.run);
    let total = (carry + run).max(1e-3);
    let stretch = (total / swing.total.max(1e-3)) as f32;
    // The drift is aimed off for: it goes with the length, as the direction of the start does, so a whole pattern keeps its aim.
    let meant = swing.total as f32;
    let mut new = cloud.clone();
    for (a, b) in new.along.iter_mut().zip(&mut new.across) {
        *a = ((meant + (*a - meant) * change.along as f32) * stretch).max(0.0);
        *b *= change.across as f32;
    }
    new.carried = (carry / total).clamp(0.0, 1.0) as f32;
    new
}

/// The average number that chances of putts mean.
pub fn average_putts(row: &[f32; MOST_PUTTS]) -> f32 {
    row.iter().enumerate().map(|(j, p)| (j as f32 + 1.0) * p).sum()
}
