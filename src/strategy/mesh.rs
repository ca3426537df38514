//! From the values of places to the value of every cell: which places each cell takes its value from, in the order in which they are solved.

use super::Kind;
use super::field::needs_care;
use super::lattice::{Lattice, Stencil};
use super::terrain::{FINE, Terrain, fine_middle};

/// A cell that lies on one kind of ground.
#[derive(Clone, Copy)]
struct Whole {
    cell: u32,
    care: bool,
    from: Stencil,
}

/// A cell that several kinds share: how many of its quarters are known, and where they take their values from.
#[derive(Clone, Copy)]
struct Shared {
    cell: u32,
    care: bool,
    known: f32,
    from: [Stencil; 4],
}

/// Every cell that takes its value from places, ordered by the last of them.
pub struct Mesh {
    whole: Vec<Whole>,
    shared: Vec<Shared>,
    whole_starts: Vec<u32>,
    shared_starts: Vec<u32>,
    /// Where each cell is found: number in `whole`, or in `shared` with [`IN_SHARED`], or [`NOWHERE`].
    of: Vec<u32>,
}

/// Marks a number of `shared`.
const IN_SHARED: u32 = 1 << 31;
/// A cell that takes no value from places.
const NOWHERE: u32 = u32::MAX;

/// The value of one cell.
pub struct Set {
    /// The cell.
    pub cell: usize,
    /// Its value as if the ball's way here did not matter.
    pub value: f32,
    /// Whether it does.
    pub care: bool,
}

impl Mesh {
    /// Looks up the places of every cell of the wide raster and then of the fine one.
    pub fn new(terrain: &Terrain, lattice: &Lattice) -> Self {
        let (mut whole, mut shared) = (Vec::new(), Vec::new());
        for j in 0..terrain.rows {
            for i in 0..terrain.cols {
                let cell = j * terrain.cols + i;
                let (zone, spot) = (lattice.zone(cell), terrain.middle(i, j));
                match terrain.whole(cell) {
                    Some(kind) => {
                        if let Some(lie) = kind.lie() {
                            let from = lattice.stencil_in(zone, lie, spot);
                            whole.push(Whole { cell: cell as u32, care: needs_care(kind), from });
                        }
                    }
                    None => {
                        let kinds = terrain.kinds(i, j);
                        let mut from = [Stencil::default(); 4];
                        let mut known = 0.0;
                        for (kind, slot) in kinds.iter().zip(&mut from) {
                            // A shared edge of the green beyond the fine raster is like the fairway beside it.
                            let kind = if *kind == Kind::Green { Kind::Fairway } else { *kind };
                            if let Some(lie) = kind.lie() {
                                *slot = lattice.stencil_in(zone, lie, spot);
                                known += 1.0;
                            }
                        }
                        let care = kinds.iter().any(|k| needs_care(*k));
                        shared.push(Shared { cell: cell as u32, care, known, from });
                    }
                }
            }
        }
        let wide = terrain.cols * terrain.rows;
        for k in 0..FINE * FINE {
            let kind = terrain.fine_kind(k);
            if let Some(lie) = kind.lie() {
                let spot = fine_middle(k % FINE, k / FINE);
                let zone = lattice.zone(terrain.index(spot.x, spot.y));
                let from = lattice.stencil_in(zone, lie, spot);
                whole.push(Whole { cell: (wide + k) as u32, care: needs_care(kind), from });
            }
        }
        let count = lattice.places.len();
        let (whole, whole_starts) = bucket(whole, count, |w| last(&w.from));
        let (shared, shared_starts) = bucket(shared, count, |s| s.from.iter().map(last).max().unwrap_or(0));
        let mut of = vec![NOWHERE; wide + FINE * FINE];
        let numbers = whole.iter().map(|w| w.cell).zip(0..).chain(shared.iter().map(|s| s.cell).zip(IN_SHARED..));
        for (cell, number) in numbers {
            if let Some(slot) = of.get_mut(cell as usize) {
                *slot = number;
            }
        }
        Self { whole, shared, whole_starts, shared_starts, of }
    }

    /// The places that a cell takes its value from, and the weight of each stencil; none on the green, in water and out of bounds.
    #[inline]
    pub fn of(&self, cell: u32) -> (&[Stencil], f32) {
        match self.of.get(cell as usize).copied().unwrap_or(NOWHERE) {
            NOWHERE => (&[], 0.0),
            k if k & IN_SHARED == 0 => (self.whole.get(k as usize).map_or(&[], |w| std::slice::from_ref(&w.from)), 1.0),
            k => self.shared.get((k & !IN_SHARED) as usize).map_or((&[], 0.0), |s| (&s.from, 1.0 / s.known)),
        }
    }

    /// Calls `f` with the value of every cell whose last place is one of `from..to`.
    pub fn each(&self, values: &[f32], from: usize, to: usize, mut f: impl FnMut(Set)) {
        let range = |starts: &[u32]| {
            let at = |id: usize| starts.get(id.min(starts.len() - 1)).map_or(0, |s| *s as usize);
            at(from)..at(to)
        };
        for w in self.whole.get(range(&self.whole_starts)).unwrap_or_default() {
            f(Set { cell: w.cell as usize, value: w.from.mean(values), care: w.care });
        }
        for s in self.shared.get(range(&self.shared_starts)).unwrap_or_default() {
            let sum: f32 = s.from.iter().map(|stencil| stencil.mean(values)).sum();
            f(Set { cell: s.cell as usize, value: sum / s.known, care: s.care });
        }
    }
}

fn last(stencil: &Stencil) -> usize {
    let used = stencil.ids.iter().zip(stencil.weights).filter(|(_, w)| *w > 0.0);
    used.map(|(id, _)| *id as usize).max().unwrap_or(0)
}

/// Sorts by a key below `keys`, keeping the order of equals; and where each key starts.
fn bucket<T: Copy>(items: Vec<T>, keys: usize, key: impl Fn(&T) -> usize) -> (Vec<T>, Vec<u32>) {
    let mut starts = vec![0_u32; keys + 2];
    let of: Vec<u32> = items.iter().map(|item| key(item) as u32).collect();
    for k in &of {
        if let Some(slot) = starts.get_mut(*k as usize + 1) {
            *slot += 1;
        }
    }
    let mut sum = 0;
    for slot in &mut starts {
        sum += *slot;
        *slot = sum;
    }
    let mut filled = starts.clone();
    let mut sorted = items.clone();
    for (item, k) in items.iter().zip(&of) {
        if let Some(at) = filled.get_mut(*k as usize) {
            if let Some(slot) = sorted.get_mut(*at as usize) {
                *slot = *item;
            }
            *at += 1;
        }
    }
    (sorted, starts)
}
