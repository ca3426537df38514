//! What a finish is worth, folded into one raster: lie and value in one number.
//!
//! Only finishes that do not depend on where the ball came from have a number; a penalty area, out of bounds and ground where a ball may be lost
//! or stopped low hold "not a number", so that one sum of a pattern tells whether any of its finishes needs a closer look.

use super::mesh::Mesh;
use super::terrain::{FINE, Spot, Terrain, fine_index, fine_middle};
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

    /// Chances of putts in a cell of the two rasters, the wide one (of `wide` cells) first.
    pub fn of(&self, wide: usize, cell: usize) -> Option<&[f32; MOST_PUTTS]> {
        match cell.checked_sub(wide) {
            Some(k) => self.fine.get(k)?.as_ref(),
            None => {
                let i = self.wide.binary_search_by_key(&cell, |(c, _)| *c).ok()?;
                self.wide.get(i).map(|(_, row)| row)
            }
        }
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

    /// The value of a finish, or not a number.
    pub fn read(&self, terrain: &Terrain, spot: Spot) -> f32 {
        self.cells.get(terrain.cell(spot)).copied().unwrap_or(f32::NAN)
    }

    /// Values of finishes by cell; not a number where the ball's way there matters.
    pub fn exact(&self) -> &[f32] {
        &self.cells
    }

    /// The same for a first look; not a number out of bounds.
    pub fn roughly(&self) -> &[f32] {
        &self.about
    }

    /// About the value of a finish in a wide cell.
    #[inline]
    pub fn about_cell(&self, cell: usize) -> f32 {
        self.about.get(cell).copied().unwrap_or(f32::NAN)
    }

    /// Takes the values of places into every cell whose last place is one of `from..to`.
    pub fn refresh(&mut self, mesh: &Mesh, values: &[f32], from: usize, to: usize) {
        let (cells, about) = (&mut self.cells, &mut self.about);
        mesh.each(values, from, to, |set| {
            if let (Some(c), Some(a)) = (cells.get_mut(set.cell), about.get_mut(set.cell)) {
                *c = if set.care { f32::NAN } else { set.value };
                *a = set.value;
            }
        });
    }

    /// Gives water, for a first look, the value of a drop on the nearest dry ground: `penalty` more than there, or what it is
    /// worth `after` a penalty stroke.
    pub fn refresh_wet(&mut self, terrain: &Terrain, penalty: f32, after: Option<&Self>) {
        for (wet, dry) in &terrain.wet {
            let value = penalty + after.unwrap_or(self).about_cell(*dry as usize);
            if let Some(slot) = self.about.get_mut(*wet as usize) {
                *slot = value;
            }
        }
        for (fine, cell) in &terrain.wet_fine {
            let value = self.about.get(*cell as usize).copied().unwrap_or(f32::NAN);
            if let Some(slot) = self.about.get_mut(self.wide + *fine as usize) {
                *slot = value;
            }
        }
    }
}
