//! What a finish is worth, folded into one raster: lie and value in one number.
//!
//! Only finishes that do not depend on where the ball came from have a number; a penalty area, out of bounds and ground where a ball may be lost
//! or stopped low hold "not a number", so that one sum of a pattern tells whether any of its finishes needs a closer look.

use super::lattice::Lattice;
use super::terrain::{CELL, FINE, Spot, Terrain, fine_index, fine_middle};
use super::{GreenValue, Kind};
use crate::pattern::putts::MOST_PUTTS;

/// Values of finishes: the wide raster, then the fine one.
#[derive(Clone)]
pub struct Field {
    cells: Vec<f32>,
    wide: usize,
}

/// Chances of putts over the fine raster, and the green beyond it.
pub struct Greens {
    /// By fine cell; `None` off the green.
    fine: Vec<Option<[f32; MOST_PUTTS]>>,
    /// Wide cells that hold green, with the chances at their middle.
    wide: Vec<(usize, [f32; MOST_PUTTS])>,
}

impl Greens {
    /// Asks the green for every cell of it.
    pub fn new(terrain: &Terrain, green: &dyn GreenValue) -> Self {
        let at = |spot: Spot| green.chances(terrain.point(spot)).map(|p| p as f32);
        let fine = (0..FINE * FINE)
            .map(|k| (terrain.fine_kind(k) == Kind::Green).then(|| at(fine_middle(k % FINE, k / FINE))))
            .collect();
        let mut wide = Vec::new();
        for j in 0..terrain.rows {
            for i in 0..terrain.cols {
                if terrain.kinds(i, j).contains(&Kind::Green) {
                    wide.push((j * terrain.cols + i, at(terrain.middle(i, j))));
                }
            }
        }
        Self { fine, wide }
    }

    /// Chances of putts at a spot on the green.
    pub fn at(&self, terrain: &Terrain, spot: Spot) -> [f32; MOST_PUTTS] {
        const TWO: [f32; MOST_PUTTS] = [0.0, 1.0, 0.0, 0.0, 0.0, 0.0];
        if let Some(row) = fine_index(spot).and_then(|k| self.fine.get(k)) {
            return row.unwrap_or(TWO);
        }
        let cell = terrain.index(spot.x, spot.y);
        self.wide
            .binary_search_by_key(&cell, |(c, _)| *c)
            .ok()
            .and_then(|i| self.wide.get(i))
            .map_or(TWO, |(_, row)| *row)
    }
}

/// Whether a finish on this kind needs to know where the ball came from.
pub const fn needs_care(kind: Kind) -> bool {
    matches!(kind, Kind::Trees | Kind::Deep | Kind::PenaltyRed | Kind::PenaltyYellow | Kind::Out)
}

impl Field {
    /// An empty field with the green filled in; `putts` gives the value of these chances of putts.
    pub fn new(terrain: &Terrain, greens: &Greens, putts: &dyn Fn(&[f32; MOST_PUTTS]) -> f32) -> Self {
        let wide = terrain.cols * terrain.rows;
        let mut field = Self { cells: vec![f32::NAN; wide + FINE * FINE], wide };
        field.fill_green(greens, putts);
        field
    }

    /// Fills the green.
    pub fn fill_green(&mut self, greens: &Greens, putts: &dyn Fn(&[f32; MOST_PUTTS]) -> f32) {
        for (slot, row) in self.cells.iter_mut().skip(self.wide).zip(&greens.fine) {
            if let Some(row) = row {
                *slot = putts(row);
            }
        }
        for (cell, row) in &greens.wide {
            if let Some(slot) = self.cells.get_mut(*cell) {
                *slot = putts(row);
            }
        }
    }

    /// The value of a finish, or not a number.
    #[inline(always)]
    pub fn read<const NEAR: bool>(&self, terrain: &Terrain, x: f32, y: f32) -> f32 {
        let index = if NEAR {
            match fine_index(Spot { x, y }) {
                Some(k) => self.wide + k,
                None => terrain.index(x, y),
            }
        } else {
            terrain.index(x, y)
        };
        self.cells.get(index).copied().unwrap_or(f32::NAN)
    }

    /// Takes the values of places into every cell between two distances from the hole.
    pub fn refresh(&mut self, terrain: &Terrain, lattice: &Lattice, values: &[f32], from: f32, to: f32) {
        let value = |zone: u8, kind: Kind, spot: Spot| match kind.lie() {
            Some(lie) => {
                let s = lattice.stencil_in(zone, lie, spot);
                let mut sum = 0.0;
                for (id, weight) in s.ids.iter().zip(s.weights) {
                    sum += weight * values.get(*id as usize).copied().unwrap_or_default();
                }
                sum
            }
            None => f32::NAN,
        };
        let wide = self.wide;
        annulus(terrain, from, to, |i, j| {
            let cell = j * terrain.cols + i;
            let (zone, spot) = (lattice.zone(cell), terrain.middle(i, j));
            let kinds = terrain.kinds(i, j);
            let [a, b, c, d] = kinds;
            let Some(slot) = self.cells.get_mut(cell) else { return };
            if a == b && a == c && a == d {
                if a != Kind::Green {
                    *slot = if needs_care(a) { f32::NAN } else { value(zone, a, spot) };
                }
                return;
            }
            let mut sum = 0.0;
            for kind in kinds {
                // Green at the edge of a shared cell keeps the value the green gave it; it has no lattice of its own.
                sum += match kind {
                    Kind::Green => value(zone, Kind::Fairway, spot),
                    kind if needs_care(kind) => f32::NAN,
                    kind => value(zone, kind, spot),
                };
            }
            *slot = sum / 4.0;
        });
        if from < 46.0 {
            for k in 0..FINE * FINE {
                let spot = fine_middle(k % FINE, k / FINE);
                let away = spot.away();
                let kind = terrain.fine_kind(k);
                if away < from || away > to || kind == Kind::Green {
                    continue;
                }
                let zone = lattice.zone(terrain.index(spot.x, spot.y));
                if let Some(slot) = self.cells.get_mut(wide + k) {
                    *slot = if needs_care(kind) { f32::NAN } else { value(zone, kind, spot) };
                }
            }
        }
    }
}

/// Calls `f` for every wide cell whose middle lies between two distances from the hole.
fn annulus(terrain: &Terrain, from: f32, to: f32, mut f: impl FnMut(usize, usize)) {
    for j in 0..terrain.rows {
        let y = terrain.middle(0, j).y;
        let outer = to * to - y * y;
        if outer < 0.0 {
            continue;
        }
        let outer = outer.sqrt();
        let inner = (from * from - y * y).max(0.0).sqrt();
        let column = |x: f32| (x - terrain.origin.x) / CELL;
        let first = column(-outer).ceil().max(0.0) as usize;
        let last = column(outer).floor().min((terrain.cols - 1) as f32);
        if last < 0.0 {
            continue;
        }
        let last = last as usize;
        if inner <= 0.0 || from <= 0.0 {
            (first..=last).for_each(|i| f(i, j));
            continue;
        }
        let left_end = column(-inner).floor();
        let right_start = column(inner).ceil().max(0.0) as usize;
        if left_end >= 0.0 {
            (first..=last.min(left_end as usize)).for_each(|i| f(i, j));
        }
        let start = right_start.max(first).max(if left_end >= 0.0 { left_end as usize + 1 } else { 0 });
        (start..=last).for_each(|i| f(i, j));
    }
}
