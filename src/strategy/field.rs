//! What a finish is worth, folded into one raster: lie and value in one number.
//!
//! Only finishes that do not depend on where the ball came from have a number; a penalty area, out of bounds and ground where a ball may be lost
//! or stopped low hold "not a number", so that one sum of a pattern tells whether any of its finishes needs a closer look.

use super::lattice::Lattice;
use super::terrain::{CELL, FINE, FINE_HALF, Spot, Terrain, fine_index, fine_middle};
use super::{GreenValue, Kind};
use crate::pattern::putts::MOST_PUTTS;

/// Values of finishes: the wide raster, then the fine one.
#[derive(Clone)]
pub struct Field {
    cells: Vec<f32>,
    /// The same for a first look: only out of bounds is not a number, water is worth a drop at the nearest dry ground.
    about: Vec<f32>,
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

/// The values that fill a field.
#[derive(Clone, Copy)]
pub struct Filling<'a> {
    /// The rasters.
    pub terrain: &'a Terrain,
    /// The places.
    pub lattice: &'a Lattice,
    /// Their values.
    pub values: &'a [f32],
    /// What a penalty stroke adds.
    pub penalty: f32,
}

impl Filling<'_> {
    #[inline]
    fn value(&self, zone: u8, kind: Kind, spot: Spot) -> f32 {
        match kind.lie() {
            Some(lie) => self.lattice.stencil_in(zone, lie, spot).mean(self.values),
            None => f32::NAN,
        }
    }
}

impl Field {
    /// An empty field with the green filled in; `putts` gives the value of these chances of putts.
    pub fn new(terrain: &Terrain, greens: &Greens, putts: &dyn Fn(&[f32; MOST_PUTTS]) -> f32) -> Self {
        let wide = terrain.cols * terrain.rows;
        let mut field =
            Self { cells: vec![f32::NAN; wide + FINE * FINE], about: vec![f32::NAN; wide + FINE * FINE], wide };
        let green = greens.fine.iter().enumerate().filter_map(|(k, row)| Some((wide + k, (*row)?)));
        for (cell, row) in green.chain(greens.wide.iter().copied()) {
            field.set(cell, putts(&row), f32::NAN);
        }
        field
    }

    #[inline]
    fn set(&mut self, index: usize, value: f32, about: f32) {
        if let (Some(c), Some(a)) = (self.cells.get_mut(index), self.about.get_mut(index)) {
            *c = value;
            *a = if value.is_nan() { about } else { value };
        }
    }

    #[inline(always)]
    fn index<const NEAR: bool>(&self, terrain: &Terrain, x: f32, y: f32) -> usize {
        if NEAR && let Some(k) = fine_index(Spot { x, y }) { self.wide + k } else { terrain.index(x, y) }
    }

    /// The value of a finish, or not a number.
    #[inline(always)]
    pub fn read<const NEAR: bool>(&self, terrain: &Terrain, x: f32, y: f32) -> f32 {
        self.cells.get(self.index::<NEAR>(terrain, x, y)).copied().unwrap_or(f32::NAN)
    }

    /// About the value of a finish; not a number out of bounds.
    #[inline(always)]
    pub fn about<const NEAR: bool>(&self, terrain: &Terrain, x: f32, y: f32) -> f32 {
        self.about.get(self.index::<NEAR>(terrain, x, y)).copied().unwrap_or(f32::NAN)
    }

    /// Takes the values of places into every cell between two distances from the hole.
    pub fn refresh(&mut self, with: &Filling<'_>, from: f32, to: f32) {
        let terrain = with.terrain;
        annulus(terrain, from, to, |i, j| {
            let cell = j * terrain.cols + i;
            let (zone, spot) = (with.lattice.zone(cell), terrain.middle(i, j));
            match terrain.whole(cell) {
                Some(Kind::Green) => {}
                Some(kind) => {
                    let value = with.value(zone, kind, spot);
                    if needs_care(kind) { self.set(cell, f32::NAN, value) } else { self.set(cell, value, value) }
                }
                None => {
                    let (mut sum, mut about, mut known) = (0.0, 0.0, 0.0);
                    for kind in terrain.kinds(i, j) {
                        // Green beyond the fine raster keeps its own cells; at a shared edge it is like the fairway beside it.
                        let value = with.value(zone, if kind == Kind::Green { Kind::Fairway } else { kind }, spot);
                        sum += if needs_care(kind) { f32::NAN } else { value };
                        if !value.is_nan() {
                            about += value;
                            known += 1.0;
                        }
                    }
                    self.set(cell, sum / 4.0, about / known);
                }
            }
        });
        for (wet, dry) in &terrain.wet {
            let value = with.penalty + self.about.get(*dry as usize).copied().unwrap_or(f32::NAN);
            if let Some(slot) = self.about.get_mut(*wet as usize) {
                *slot = value;
            }
        }
        if from < FINE_HALF * 1.42 {
            self.refresh_fine(with, from, to);
        }
    }

    fn refresh_fine(&mut self, with: &Filling<'_>, from: f32, to: f32) {
        for k in 0..FINE * FINE {
            let spot = fine_middle(k % FINE, k / FINE);
            let square = spot.x * spot.x + spot.y * spot.y;
            let kind = with.terrain.fine_kind(k);
            if square < from * from || square > to * to || kind == Kind::Green {
                continue;
            }
            let cell = with.terrain.index(spot.x, spot.y);
            let value = with.value(with.lattice.zone(cell), kind, spot);
            if kind.penalty() {
                let about = self.about.get(cell).copied().unwrap_or(f32::NAN);
                self.set(self.wide + k, f32::NAN, about);
            } else if needs_care(kind) {
                self.set(self.wide + k, f32::NAN, value);
            } else {
                self.set(self.wide + k, value, value);
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
