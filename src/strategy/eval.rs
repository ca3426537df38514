//! What a play is worth: the mean over its pattern.

use super::field::{Field, Greens};
use super::finish::{Finish, Flight, Stretches, back_on_line, finish, stopped};
use super::lattice::Lattice;
use super::terrain::{FINE_HALF, Spot, Terrain};
use super::{Hole, Kind};
use crate::pattern::putts::MOST_PUTTS;
use crate::pattern::{Change, Cloud, Lie, Model, Swing};

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
    /// Values of places with this stroke and a penalty stroke taken.
    pub penalised: &'a [f32],
    /// What a penalty stroke adds besides (1 when values are strokes to come).
    pub penalty: f32,
    /// Value of playing again from the same place with this stroke and a penalty taken, penalty added; used to choose relief.
    pub again: f32,
}

/// The mean over a pattern: value of the finishes, and the weight of those played again from the same place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tally {
    /// Sum of weight × value over finishes.
    pub sum: f32,
    /// Weight of stroke and distance.
    pub again: f32,
}

/// Lines of trees about a place, by direction.
pub struct Fan {
    first: f32,
    step: f32,
    rays: Vec<Stretches>,
}

impl Fan {
    /// Stretches along the nearest line.
    pub fn along(&self, direction: f32) -> &[(f32, f32)] {
        let k = ((direction - self.first) / self.step + 0.5).max(0.0) as usize;
        self.rays.get(k.min(self.rays.len().saturating_sub(1))).map_or(&[], Vec::as_slice)
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
        let rays: Vec<Stretches> =
            (0..count).map(|k| trees_by_angle(terrain, from, low + STEP * k as f32, reach)).collect();
        rays.iter().any(|r| !r.is_empty()).then_some(Self { first: low, step: STEP, rays })
    }
}

fn trees_by_angle(terrain: &Terrain, from: Spot, angle: f32, reach: f32) -> Stretches {
    super::finish::trees_along(terrain, from, libm::sincosf(angle), reach)
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
    pub fn drops(&self, dry: Spot, wet: Spot, kind: Kind) -> [Option<(Spot, Lie)>; 2] {
        let lie = |spot: Spot| (spot, self.terrain.kind(spot).lie().unwrap_or(Lie::Fairway));
        let lateral = (kind == Kind::PenaltyRed).then(|| lie(dry));
        // Where the flight ran towards the hole the last dry spot lies on that line already.
        let back = back_on_line(&self.terrain, wet, 1.0).map(lie);
        [lateral, back.or_else(|| (kind == Kind::PenaltyYellow).then(|| lie(dry)))]
    }

    /// Value of the best relief from a penalty area, penalty included.
    pub fn relief(&self, next: &Next<'_>, dry: Spot, wet: Spot, kind: Kind) -> f32 {
        let mut best = f32::INFINITY;
        for (spot, lie) in self.drops(dry, wet, kind).into_iter().flatten() {
            best = best.min(next.penalty + self.value_at(next.penalised, lie, spot));
        }
        best
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
        let (s, c) = libm::sincosf(aim);
        let Some(fan) = fan else {
            let reach = cloud.along.first().copied().unwrap_or_default();
            let near = Self::near(from, (s, c), reach);
            let sum = match (near, cloud.carried < 1.0) {
                (true, true) => self.fast::<true, true>(next.field, from, (s, c), cloud),
                (true, false) => self.fast::<true, false>(next.field, from, (s, c), cloud),
                (false, true) => self.fast::<false, true>(next.field, from, (s, c), cloud),
                (false, false) => self.fast::<false, false>(next.field, from, (s, c), cloud),
            };
            if !sum.is_nan() {
                return Tally { sum, again: 0.0 };
            }
            return self.closely(next, from, (aim, s, c), cloud, flight, None);
        };
        self.closely(next, from, (aim, s, c), cloud, flight, Some(fan))
    }

    /// The mean without a look at anything but the field; not a number as soon as one finish needs more.
    #[inline]
    fn fast<const NEAR: bool, const RUN: bool>(
        &self,
        field: &Field,
        from: Spot,
        (s, c): (f32, f32),
        cloud: &Cloud,
    ) -> f32 {
        let part = |along: &[f32], across: &[f32]| {
            let mut sum = 0.0;
            for (a, b) in along.iter().zip(across) {
                let (dx, dy) = (a * s + b * c, a * c - b * s);
                let share = if RUN { self.rolled(from, (dx, dy), a, cloud.carried) } else { 1.0 };
                sum += field.read::<NEAR>(&self.terrain, from.x + share * dx, from.y + share * dy);
            }
            sum
        };
        let (a, b) = (&cloud.along, &cloud.across);
        let n = cloud.ordinary;
        let ordinary = part(a.get(..n).unwrap_or_default(), b.get(..n).unwrap_or_default());
        let mishits = part(a.get(n..).unwrap_or_default(), b.get(n..).unwrap_or_default());
        // Without mishits their empty sum is zero, whatever the weight.
        cloud.weight * ordinary + cloud.mishit_weight * mishits
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

    /// The mean with a closer look at each finish that needs one.
    fn closely(
        &self,
        next: &Next<'_>,
        from: Spot,
        (aim, s, c): (f32, f32, f32),
        cloud: &Cloud,
        flight: Flight,
        fan: Option<&Fan>,
    ) -> Tally {
        let mut tally = Tally { sum: 0.0, again: 0.0 };
        for (i, (a, b)) in cloud.along.iter().zip(&cloud.across).enumerate() {
            let weight = cloud.weight_of(i);
            let (dx, dy) = (a * s + b * c, a * c - b * s);
            let stretches = fan.map(|f| f.along(aim + b / a.max(1.0))).filter(|t| !t.is_empty());
            let caught =
                stretches.is_some_and(|t| stopped(t, flight, cloud.carried * (a * a + b * b).sqrt()).is_some());
            if !caught {
                let share = self.rolled(from, (dx, dy), a, cloud.carried);
                let value = next.field.read::<true>(&self.terrain, from.x + share * dx, from.y + share * dy);
                if !value.is_nan() && !share.is_nan() {
                    tally.sum += weight * value;
                    continue;
                }
            }
            let to = Spot { x: from.x + dx, y: from.y + dy };
            let end = finish(&self.terrain, from, to, cloud.carried, stretches.map(|t| (t, flight)));
            self.add(next, &mut tally, weight, end);
        }
        tally
    }

    /// Adds one finish.
    pub fn add(&self, next: &Next<'_>, tally: &mut Tally, weight: f32, end: Finish) {
        match end {
            Finish::Lies(spot, kind) => {
                let lost = self.lost(kind);
                let value = match kind.lie() {
                    None => next.field.read::<true>(&self.terrain, spot.x, spot.y),
                    Some(lie) => self.value_at(next.values, lie, spot),
                };
                tally.sum += weight * (1.0 - lost) * value;
                tally.again += weight * lost;
            }
            Finish::Wet { dry, wet, kind } => {
                let relief = self.relief(next, dry, wet, kind);
                if relief <= next.again {
                    tally.sum += weight * relief;
                } else {
                    tally.again += weight;
                }
            }
            Finish::Out => tally.again += weight,
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
}

fn apply(change: Change, swing: &Swing, cloud: &Cloud) -> Cloud {
    let (carry, run) = (swing.carry() * change.carry, swing.run() * change.run);
    let total = (carry + run).max(1e-3);
    let stretch = (total / swing.total.max(1e-3)) as f32;
    let (meant, drift) = (swing.total as f32, change.drift / swing.total.max(1e-3));
    let mut new = cloud.clone();
    for (a, b) in new.along.iter_mut().zip(&mut new.across) {
        let share = *a * drift as f32;
        *a = ((meant + (*a - meant) * change.along as f32) * stretch).max(0.0);
        *b = *b * change.across as f32 + share;
    }
    new.carried = (carry / total).clamp(0.0, 1.0) as f32;
    new
}

/// The average number that chances of putts mean.
pub fn average_putts(row: &[f32; MOST_PUTTS]) -> f32 {
    row.iter().enumerate().map(|(j, p)| (j as f32 + 1.0) * p).sum()
}
