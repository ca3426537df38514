//! The places whose value is held: a lattice for each lie, close near the hole, wide far from the line.

use super::terrain::{CELL, FINE, Spot, Terrain, fine_middle};
use super::{Hole, Kind};
use crate::pattern::Lie;

/// Half the side of the square about the hole with the closest lattice, in steps of it.
const CLOSE_STEPS: f32 = 6.0;
/// Beyond this from the hole line the lattice is the widest, yards.
const CORRIDOR: f32 = 46.0;
/// Lies that a place may have, tee aside.
const LIES: usize = 8;

/// A place whose value is held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Where.
    pub spot: Spot,
    /// How the ball lies.
    pub lie: Lie,
    /// Whether it lies far from the line, where values need not be as close.
    pub far: bool,
}

/// One lattice of a step, for every lie.
struct Level {
    step: f32,
    x0: f32,
    y0: f32,
    nx: usize,
    ny: usize,
    /// Number of the place at each node, by lie; `NONE` where there is none.
    ids: Vec<Vec<u32>>,
}

const NONE: u32 = u32::MAX;

/// All places of a hole; the first is the tee.
pub struct Lattice {
    levels: Vec<Level>,
    /// Which level answers in each wide cell.
    zone: Vec<u8>,
    /// The places, from the hole outward after the tee.
    pub places: Vec<Place>,
}

/// Up to four places and their weights.
#[derive(Clone, Copy, Debug, Default)]
pub struct Stencil {
    /// Numbers of places.
    pub ids: [u32; 4],
    /// Weights; they sum to one, or to zero when no place is near.
    pub weights: [f32; 4],
}

impl Stencil {
    /// The mean of values of places.
    #[inline]
    pub fn mean(&self, values: &[f32]) -> f32 {
        let mut sum = 0.0;
        for (id, weight) in self.ids.iter().zip(self.weights) {
            sum += weight * values.get(*id as usize).copied().unwrap_or_default();
        }
        sum
    }
}

impl Lattice {
    /// Lays the lattices where each lie occurs.
    pub fn new(hole: &Hole<'_>, terrain: &Terrain) -> Self {
        let step = hole.fineness.grid.clamp(1.0, 24.0) as f32;
        let mut lattice = Self {
            levels: [1.0, 2.0, 4.0].iter().map(|f| Level::new(step * f, terrain)).collect(),
            zone: zones(hole, terrain, step),
            places: vec![Place { spot: terrain.spot(hole.tee), lie: Lie::Tee, far: false }],
        };
        for j in 0..terrain.rows {
            for i in 0..terrain.cols {
                let zone = lattice.zone.get(j * terrain.cols + i).copied().unwrap_or_default();
                match terrain.whole(j * terrain.cols + i) {
                    Some(kind) => lattice.mark(terrain.middle(i, j), zone, kind),
                    None => terrain.kinds(i, j).iter().for_each(|k| lattice.mark(terrain.middle(i, j), zone, *k)),
                }
            }
        }
        for k in 0..FINE * FINE {
            let spot = fine_middle(k % FINE, k / FINE);
            let zone = lattice.zone(terrain.index(spot.x, spot.y));
            lattice.mark(spot, zone, terrain.fine_kind(k));
        }
        lattice.number(terrain);
        lattice
    }

    fn mark(&mut self, spot: Spot, zone: u8, kind: Kind) {
        let Some(lie) = kind.lie() else { return };
        let Some(level) = self.levels.get_mut(usize::from(zone)) else { return };
        let slots = level.corners(spot);
        if let Some(ids) = level.ids.get_mut(lie as usize - 1) {
            for slot in slots {
                if let Some(id) = ids.get_mut(slot) {
                    *id = 0;
                }
            }
        }
    }

    /// Gives numbers from the hole outward.
    fn number(&mut self, terrain: &Terrain) {
        let mut found = Vec::new();
        for (l, level) in self.levels.iter().enumerate() {
            for (lie, ids) in level.ids.iter().enumerate() {
                for (slot, id) in ids.iter().enumerate() {
                    if *id != NONE {
                        let spot = stand_near(terrain, level.node(slot), lie + 1, level.step);
                        found.push((spot.away(), l, lie, slot, spot));
                    }
                }
            }
        }
        found.sort_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2, a.3).cmp(&(b.1, b.2, b.3))));
        for (_, l, lie, slot, spot) in found {
            let id = self.places.len() as u32;
            if let Some(place) = Lie::ALL.get(lie + 1) {
                self.places.push(Place { spot, lie: *place, far: l == 2 });
            }
            if let Some(held) =
                self.levels.get_mut(l).and_then(|level| level.ids.get_mut(lie)).and_then(|ids| ids.get_mut(slot))
            {
                *held = id;
            }
        }
    }

    /// The places about a spot with this lie. Where the lie does not occur, those nearest are taken.
    #[inline]
    pub fn stencil(&self, terrain: &Terrain, lie: Lie, spot: Spot) -> Stencil {
        let zone = self.zone.get(terrain.index(spot.x, spot.y)).copied().unwrap_or(2);
        self.stencil_in(zone, lie, spot)
    }

    /// The same when the zone of the cell is known.
    #[inline]
    pub fn stencil_in(&self, zone: u8, lie: Lie, spot: Spot) -> Stencil {
        let lie = match lie {
            Lie::Tee => Lie::Fairway,
            other => other,
        };
        if let Some(level) = self.levels.get(usize::from(zone)) {
            let stencil = level.stencil(lie, spot);
            if stencil.weights.iter().sum::<f32>() > 0.0 {
                return stencil;
            }
        }
        self.stencil_afar(lie, spot)
    }

    #[cold]
    fn stencil_afar(&self, lie: Lie, spot: Spot) -> Stencil {
        for level in &self.levels {
            let stencil = level.stencil(lie, spot);
            if stencil.weights.iter().sum::<f32>() > 0.0 {
                return stencil;
            }
        }
        // The nearest place as far from the hole: a lie that does not occur here is priced by where it does.
        let away = spot.away();
        let nearest = self.places.iter().enumerate().skip(1).filter(|(_, p)| p.lie == lie).min_by(|(_, a), (_, b)| {
            let far = |p: &Place| {
                let beside = (p.spot.x - spot.x).abs() + (p.spot.y - spot.y).abs();
                (p.spot.away() - away).abs() + 0.1 * beside
            };
            far(a).total_cmp(&far(b))
        });
        match nearest {
            Some((id, _)) => Stencil { ids: [id as u32, 0, 0, 0], weights: [1.0, 0.0, 0.0, 0.0] },
            None => Stencil::default(),
        }
    }

    /// Which level answers in a wide cell.
    pub fn zone(&self, cell: usize) -> u8 {
        self.zone.get(cell).copied().unwrap_or(2)
    }
}

impl Level {
    fn new(step: f32, terrain: &Terrain) -> Self {
        let first = |low: f32| (low / step).floor() * step - step;
        let (x0, y0) = (first(terrain.origin.x), first(terrain.origin.y));
        let count =
            |start: f32, cells: usize, low: f32| ((low + CELL * cells as f32 - start) / step).ceil() as usize + 2;
        let nx = count(x0, terrain.cols, terrain.origin.x);
        let ny = count(y0, terrain.rows, terrain.origin.y);
        Self { step, x0, y0, nx, ny, ids: vec![vec![NONE; nx * ny]; LIES] }
    }

    fn node(&self, slot: usize) -> Spot {
        Spot { x: self.x0 + self.step * (slot % self.nx) as f32, y: self.y0 + self.step * (slot / self.nx) as f32 }
    }

    #[inline]
    fn base(&self, spot: Spot) -> (usize, f32, f32) {
        let fx = ((spot.x - self.x0) / self.step).clamp(0.0, (self.nx - 2) as f32);
        let fy = ((spot.y - self.y0) / self.step).clamp(0.0, (self.ny - 2) as f32);
        let (i, j) = (fx as usize, fy as usize);
        (j * self.nx + i, fx - i as f32, fy - j as f32)
    }

    fn corners(&self, spot: Spot) -> [usize; 4] {
        let (base, _, _) = self.base(spot);
        [base, base + 1, base + self.nx, base + self.nx + 1]
    }

    #[inline]
    fn stencil(&self, lie: Lie, spot: Spot) -> Stencil {
        let (base, tx, ty) = self.base(spot);
        let Some(ids) = self.ids.get(lie as usize - 1) else {
            return Stencil::default();
        };
        let id = |slot: usize| ids.get(slot).copied().unwrap_or(NONE);
        let mut stencil = Stencil {
            ids: [id(base), id(base + 1), id(base + self.nx), id(base + self.nx + 1)],
            weights: [(1.0 - tx) * (1.0 - ty), tx * (1.0 - ty), (1.0 - tx) * ty, tx * ty],
        };
        let mut sum = 0.0;
        for (id, weight) in stencil.ids.iter_mut().zip(&mut stencil.weights) {
            if *id == NONE {
                *id = 0;
                *weight = 0.0;
            }
            sum += *weight;
        }
        if sum > 1e-4 {
            stencil.weights.iter_mut().for_each(|w| *w /= sum);
        } else {
            stencil.weights = [0.0; 4];
        }
        stencil
    }
}

/// Where a ball of this lie (by number) is played from that a node in trees answers for: the nearest such ground, for no ball is played
/// out of trees as if it lay beside them.
fn stand_near(terrain: &Terrain, node: Spot, lie: usize, step: f32) -> Spot {
    if lie == Lie::Trees as usize || terrain.kind(node) != Kind::Trees {
        return node;
    }
    let reach = (step / CELL) as i32;
    let mut best = (f32::INFINITY, node);
    for j in -reach..=reach {
        for i in -reach..=reach {
            let spot = Spot { x: node.x + CELL * i as f32, y: node.y + CELL * j as f32 };
            let away = (i * i + j * j) as f32;
            if away < best.0 && terrain.kind(spot) as usize == lie {
                best = (away, spot);
            }
        }
    }
    best.1
}

/// Which lattice answers in each wide cell: 0 the closest, 2 the widest.
fn zones(hole: &Hole<'_>, terrain: &Terrain, step: f32) -> Vec<u8> {
    let line: Vec<Spot> = [hole.tee].iter().chain(hole.line).chain([&hole.pin]).map(|p| terrain.spot(*p)).collect();
    let mut zone = vec![2_u8; terrain.cols * terrain.rows];
    for j in 0..terrain.rows {
        for i in 0..terrain.cols {
            let at = terrain.middle(i, j);
            let kind = if at.x.abs() < CLOSE_STEPS * step && at.y.abs() < CLOSE_STEPS * step {
                0
            } else if hole.line.windows(2).any(|leg| near_leg(leg, terrain, at)) || near_ends(&line, at) {
                1
            } else {
                2
            };
            if let Some(slot) = zone.get_mut(j * terrain.cols + i) {
                *slot = kind;
            }
        }
    }
    zone
}

fn near_ends(line: &[Spot], at: Spot) -> bool {
    line.iter().any(|p| (p.x - at.x).powi(2) + (p.y - at.y).powi(2) < CORRIDOR * CORRIDOR)
}

fn near_leg(leg: &[crate::ground::Point], terrain: &Terrain, at: Spot) -> bool {
    let [a, b] = leg else { return false };
    let (a, b) = (terrain.spot(*a), terrain.spot(*b));
    let (dx, dy) = (b.x - a.x, b.y - a.y);
    let square = dx * dx + dy * dy;
    let t = if square > 0.0 { (((at.x - a.x) * dx + (at.y - a.y) * dy) / square).clamp(0.0, 1.0) } else { 0.0 };
    (at.x - a.x - t * dx).powi(2) + (at.y - a.y - t * dy).powi(2) < CORRIDOR * CORRIDOR
}
