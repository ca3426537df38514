//! The ground of a hole as bytes about the hole itself: kinds, and how far a ball may roll before the ground changes.
//!
//! Everything here is counted from the hole, so that a mirrored hole is the mirror image to the last cell.

use super::lanes::SHARES;
use super::{Hole, Kind, Lies};
use crate::ground::Point;

/// Side of a cell of the wide raster, yards.
pub const CELL: f32 = 2.0;
/// Half the side of the fine raster about the hole, yards.
pub const FINE_HALF: f32 = 32.0;
/// Cells of the fine raster along each side: half a yard each.
pub const FINE: usize = 128;
/// Ground beside the line and the tees that is known, yards.
const BESIDE: f64 = 120.0;
/// Ground behind the tee and past the green.
const BEYOND: f64 = 60.0;

/// A place counted from the hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// To the right.
    pub x: f32,
    /// Ahead.
    pub y: f32,
}

impl Spot {
    /// How far from the hole.
    pub fn away(self) -> f32 {
        (self.x * self.x + self.y * self.y).sqrt()
    }
}

/// How a ball runs after landing on a kind of ground, as a share of its run on fairway.
pub const fn run_share(kind: Kind) -> f32 {
    match kind {
        Kind::Green | Kind::Fairway => 1.0,
        Kind::Rough | Kind::Waste => 0.6,
        Kind::Deep => 0.1,
        _ => 0.0,
    }
}

/// Whether a rolling ball is stopped or lost by it.
pub const fn stops(kind: Kind) -> bool {
    !matches!(kind, Kind::Green | Kind::Fairway | Kind::Rough | Kind::Waste)
}

/// The rasters of one hole.
pub struct Terrain {
    /// The hole in the plane.
    pub pin: Point,
    /// Cells of the wide raster across and ahead.
    pub cols: usize,
    /// See `cols`.
    pub rows: usize,
    /// Middle of the first wide cell.
    pub origin: Spot,
    /// Half the middle of the first wide cell, and the number of the last cell across and ahead.
    pub first: Spot,
    /// See `first`.
    pub last: Spot,
    /// Kinds by the yard: two by two to a wide cell.
    yard: Vec<u8>,
    /// The kind that fills a wide cell, or [`SHARED`].
    whole: Vec<u8>,
    /// Wet wide cells, each with the nearest dry one.
    pub wet: Vec<(u32, u32)>,
    /// Wet fine cells, each with its wide cell.
    pub wet_fine: Vec<(u32, u32)>,
    /// Kinds by the half yard about the hole.
    fine: Vec<u8>,
    /// Run of a ball that lands in a wide cell: share (three bits) and clear yards / 2 (five bits).
    pub roll: Vec<u8>,
    /// Yards to the nearest trees by wide cell, at most 255; empty without trees.
    trees: Vec<u8>,
    /// Yards by which a wide cell in trees is surely away from open ground; empty without trees.
    thick: Vec<u8>,
    /// Yards by which a wet wide cell is surely away from dry ground; empty without water.
    depth: Vec<u8>,
    /// Kinds present, one bit each.
    present: u16,
}

/// A wide cell that several kinds share.
const SHARED: u8 = 255;

impl Terrain {
    /// Lays the rasters of a hole.
    pub fn new(hole: &Hole<'_>) -> Self {
        let places = || hole.line.iter().chain([&hole.tee, &hole.pin]);
        let side = |f: &dyn Fn(&Point) -> f64, start: f64, pick: fn(f64, f64) -> f64| places().map(f).fold(start, pick);
        let left = side(&|p| p.right, f64::INFINITY, f64::min) - BESIDE - hole.pin.right;
        let right = side(&|p| p.right, f64::NEG_INFINITY, f64::max) + BESIDE - hole.pin.right;
        let near = side(&|p| p.ahead, f64::INFINITY, f64::min) - BEYOND - hole.pin.ahead;
        let far = side(&|p| p.ahead, f64::NEG_INFINITY, f64::max) + BEYOND - hole.pin.ahead;
        let cell = f64::from(CELL);
        let (c0, c1) = ((left / cell).floor(), (right / cell).ceil());
        let (r0, r1) = ((near / cell).floor(), (far / cell).ceil());
        let mut terrain = Self {
            pin: hole.pin,
            cols: (c1 - c0) as usize + 1,
            rows: (r1 - r0) as usize + 1,
            origin: Spot { x: (c0 * cell) as f32, y: (r0 * cell) as f32 },
            first: Spot { x: c0 as f32, y: r0 as f32 },
            last: Spot { x: (c1 - c0) as f32, y: (r1 - r0) as f32 },
            yard: Vec::new(),
            whole: Vec::new(),
            wet: Vec::new(),
            wet_fine: Vec::new(),
            fine: Vec::new(),
            roll: Vec::new(),
            trees: Vec::new(),
            thick: Vec::new(),
            depth: Vec::new(),
            present: 0,
        };
        terrain.read(hole.lies);
        terrain.whole = terrain.wholes();
        terrain.roll = terrain.rolls();
        if terrain.has(Kind::PenaltyRed) || terrain.has(Kind::PenaltyYellow) {
            terrain.wet = terrain.nearest_dry();
            terrain.wet_fine = (0..FINE * FINE)
                .filter(|k| terrain.fine_kind(*k).penalty())
                .map(|k| {
                    let spot = fine_middle(k % FINE, k / FINE);
                    (k as u32, terrain.index(spot.x, spot.y) as u32)
                })
                .collect();
            terrain.depth = terrain.yards_to(|kind| !kind.penalty());
        }
        if terrain.has(Kind::Trees) {
            terrain.trees = terrain.yards_to(|kind| kind == Kind::Trees);
            terrain.thick = terrain.yards_to(|kind| kind != Kind::Trees);
        }
        terrain
    }

    fn read(&mut self, lies: &dyn Lies) {
        let (w, h) = (2 * self.cols, 2 * self.rows);
        self.yard = Vec::with_capacity(w * h);
        for j in 0..h {
            let y = f64::from(self.origin.y) - 0.5 + j as f64;
            for i in 0..w {
                let x = f64::from(self.origin.x) - 0.5 + i as f64;
                self.yard.push(lies.kind(self.plane(x, y)) as u8);
            }
        }
        self.fine = Vec::with_capacity(FINE * FINE);
        for j in 0..FINE {
            for i in 0..FINE {
                let at = fine_middle(i, j);
                self.fine.push(lies.kind(self.plane(f64::from(at.x), f64::from(at.y))) as u8);
            }
        }
        let mut seen = [false; 256];
        for byte in self.yard.iter().chain(&self.fine) {
            if let Some(slot) = seen.get_mut(usize::from(*byte)) {
                *slot = true;
            }
        }
        self.present = (0..12).filter(|i| seen.get(*i) == Some(&true)).fold(0, |m, i| m | 1 << i);
    }

    fn plane(&self, x: f64, y: f64) -> Point {
        Point { right: self.pin.right + x, ahead: self.pin.ahead + y }
    }

    /// A spot as a point of the plane.
    pub fn point(&self, spot: Spot) -> Point {
        self.plane(f64::from(spot.x), f64::from(spot.y))
    }

    /// A point of the plane as a spot.
    pub fn spot(&self, point: Point) -> Spot {
        Spot { x: (point.right - self.pin.right) as f32, y: (point.ahead - self.pin.ahead) as f32 }
    }

    /// Whether this kind occurs anywhere.
    pub fn has(&self, kind: Kind) -> bool {
        self.present >> (kind as u16) & 1 == 1
    }

    /// Whether a ball can be lost, wet or out of bounds.
    pub fn has_hazards(&self) -> bool {
        self.has(Kind::PenaltyRed)
            || self.has(Kind::PenaltyYellow)
            || self.has(Kind::Out)
            || self.has(Kind::Deep)
            || self.has(Kind::Trees)
    }

    /// The kind at a spot.
    #[inline]
    pub fn kind(&self, spot: Spot) -> Kind {
        Kind::of_byte(match fine_index(spot) {
            Some(i) => self.fine.get(i).copied().unwrap_or_default(),
            None => self.yard.get(self.yard_index(spot)).copied().unwrap_or_default(),
        })
    }

    #[inline(always)]
    fn yard_index(&self, spot: Spot) -> usize {
        let i = (spot.x - 2.0 * self.first.x + 1.0).max(0.0).min(2.0 * self.last.x + 1.0) as i32 as usize;
        let j = (spot.y - 2.0 * self.first.y + 1.0).max(0.0).min(2.0 * self.last.y + 1.0) as i32 as usize;
        j * 2 * self.cols + i
    }

    /// The wide cell of a spot; beyond the edge the nearest one.
    #[inline(always)]
    pub fn index(&self, x: f32, y: f32) -> usize {
        // Through i32: the way from a float to it is short.
        let i = (x * (1.0 / CELL) - self.first.x + 0.5).max(0.0).min(self.last.x) as i32 as usize;
        let j = (y * (1.0 / CELL) - self.first.y + 0.5).max(0.0).min(self.last.y) as i32 as usize;
        j * self.cols + i
    }

    /// The cell of a spot in the two rasters laid one after the other, the wide one first.
    #[inline]
    pub fn cell(&self, spot: Spot) -> usize {
        fine_index(spot).map_or_else(|| self.index(spot.x, spot.y), |k| self.cols * self.rows + k)
    }

    /// The middle of a wide cell.
    pub fn middle(&self, i: usize, j: usize) -> Spot {
        Spot { x: self.origin.x + CELL * i as f32, y: self.origin.y + CELL * j as f32 }
    }

    /// The four kinds, by the yard, of a wide cell.
    pub fn kinds(&self, i: usize, j: usize) -> [Kind; 4] {
        let w = 2 * self.cols;
        let first = 2 * j * w + 2 * i;
        let kind = |at: usize| Kind::of_byte(self.yard.get(at).copied().unwrap_or_default());
        [kind(first), kind(first + 1), kind(first + w), kind(first + w + 1)]
    }

    /// The kind that fills a wide cell, or `None` when several share it.
    #[inline]
    pub fn whole(&self, cell: usize) -> Option<Kind> {
        self.whole.get(cell).filter(|b| **b != SHARED).map(|b| Kind::of_byte(*b))
    }

    /// The kind of trees or long grass that fills a cell of the two rasters.
    #[inline]
    pub fn lossy(&self, cell: u32) -> Option<Kind> {
        let (cell, wide) = (cell as usize, self.cols * self.rows);
        let kind = if cell < wide { self.whole(cell)? } else { self.fine_kind(cell - wide) };
        matches!(kind, Kind::Trees | Kind::Deep).then_some(kind)
    }

    /// Whether a cell of the two rasters lies on this kind and no other.
    #[inline]
    pub fn fills(&self, cell: usize, kind: Kind) -> bool {
        let wide = self.cols * self.rows;
        if cell < wide { self.whole(cell) == Some(kind) } else { self.fine_kind(cell - wide) == kind }
    }

    fn wholes(&self) -> Vec<u8> {
        let cells = (0..self.rows).flat_map(|j| (0..self.cols).map(move |i| (i, j)));
        cells
            .map(|(i, j)| {
                let [a, b, c, d] = self.kinds(i, j);
                if a == b && a == c && a == d { a as u8 } else { SHARED }
            })
            .collect()
    }

    /// For every cell that holds water, the dry cell nearest to it.
    fn nearest_dry(&self) -> Vec<(u32, u32)> {
        let wet = |cell: usize, i: usize, j: usize| match self.whole(cell) {
            Some(kind) => kind.penalty(),
            None => self.kinds(i, j).iter().any(|k| k.penalty()),
        };
        let dry = |cell: usize| self.whole(cell).is_some_and(|k| !k.penalty() && k != Kind::Out);
        let mut edge = std::collections::VecDeque::new();
        let mut found: Vec<u32> = vec![u32::MAX; self.cols * self.rows];
        let mut list = Vec::new();
        for j in 0..self.rows {
            for i in 0..self.cols {
                let cell = j * self.cols + i;
                if wet(cell, i, j) {
                    list.push(cell as u32);
                } else if dry(cell)
                    && let Some(slot) = found.get_mut(cell)
                {
                    *slot = cell as u32;
                }
            }
        }
        // From every dry cell beside water outward, a step at a time.
        let beside = |cell: usize| {
            let (i, j) = (cell % self.cols, cell / self.cols);
            [
                (i > 0, cell.wrapping_sub(1)),
                (i + 1 < self.cols, cell + 1),
                (j > 0, cell.wrapping_sub(self.cols)),
                (j + 1 < self.rows, cell + self.cols),
            ]
            .into_iter()
            .filter_map(|(inside, c)| inside.then_some(c))
        };
        for cell in &list {
            for near in beside(*cell as usize) {
                if found.get(near).is_some_and(|f| *f == near as u32) {
                    edge.push_back(near);
                }
            }
        }
        while let Some(cell) = edge.pop_front() {
            let from = found.get(cell).copied().unwrap_or(u32::MAX);
            for near in beside(cell) {
                if let Some(slot) = found.get_mut(near)
                    && *slot == u32::MAX
                {
                    *slot = from;
                    edge.push_back(near);
                }
            }
        }
        list.into_iter()
            .filter_map(|cell| Some((cell, *found.get(cell as usize)?)))
            .filter(|(_, dry)| *dry != u32::MAX)
            .collect()
    }

    /// The kind of a fine cell.
    pub fn fine_kind(&self, index: usize) -> Kind {
        Kind::of_byte(self.fine.get(index).copied().unwrap_or_default())
    }

    /// The share of the run that a ball landing here keeps (not a number: look closely), and the yards for which nothing can stop it.
    #[inline(always)]
    pub fn roll(&self, x: f32, y: f32) -> (f32, f32) {
        let byte = self.roll.get(self.index(x, y)).copied().unwrap_or_default();
        (SHARES.get(usize::from(byte >> 5)).copied().unwrap_or_default(), f32::from(byte & 31) * CELL)
    }

    /// Yards to the nearest trees, at most 255.
    pub fn to_trees(&self, spot: Spot) -> f32 {
        self.trees.get(self.index(spot.x, spot.y)).map_or(255.0, |d| f32::from(*d))
    }

    fn rolls(&self) -> Vec<u8> {
        let gaps = self.gaps(stops);
        let cells = (0..self.rows).flat_map(|j| (0..self.cols).map(move |i| (i, j)));
        cells
            .zip(gaps)
            .map(|((i, j), gap)| {
                let class: u8 = match self.whole(j * self.cols + i) {
                    Some(Kind::Green | Kind::Fairway) => 3,
                    Some(Kind::Rough | Kind::Waste) => 2,
                    Some(Kind::Deep) => 1,
                    Some(_) => 0,
                    None => {
                        let kinds = self.kinds(i, j);
                        if kinds.iter().any(|k| stops(*k)) {
                            4
                        } else if kinds.iter().all(|k| run_share(*k) >= 1.0) {
                            3
                        } else {
                            5
                        }
                    }
                };
                class << 5 | gap.saturating_sub(1).min(31) as u8
            })
            .collect()
    }

    /// A step from a spot in trees after which it may be out of them, yards.
    pub fn tree_step(&self, spot: Spot) -> f32 {
        let thick = self.thick.get(self.index(spot.x, spot.y)).map_or(0.0, |d| f32::from(*d));
        (0.85 * thick - 2.0).max(2.0)
    }

    fn yards_to(&self, wanted: impl Fn(Kind) -> bool) -> Vec<u8> {
        self.gaps(wanted).into_iter().map(|d| (f32::from(d) * CELL).min(255.0) as u8).collect()
    }

    /// A step from a wet spot in any direction after which it may be dry, yards.
    pub fn wet_step(&self, spot: Spot) -> f32 {
        let depth = self.depth.get(self.index(spot.x, spot.y)).map_or(0.0, |d| f32::from(*d));
        (0.85 * depth - 2.0).max(1.0)
    }

    /// Distance in cells from each wide cell to the nearest that holds such ground (a chamfer of 3 and 4, within 6 per cent).
    fn gaps(&self, wanted: impl Fn(Kind) -> bool) -> Vec<u16> {
        const FAR: u16 = 3 * 255;
        let padded = self.cols + 2;
        let mut d = vec![FAR; padded * self.rows];
        for (j, row) in d.chunks_exact_mut(padded).enumerate() {
            for (i, slot) in row.iter_mut().skip(1).take(self.cols).enumerate() {
                let here = match self.whole(j * self.cols + i) {
                    Some(kind) => wanted(kind),
                    None => self.kinds(i, j).iter().any(|k| wanted(*k)),
                };
                if here {
                    *slot = 0;
                }
            }
        }
        let mut before = vec![FAR; padded];
        for row in d.chunks_exact_mut(padded) {
            step_on(row, &before, false);
            before.copy_from_slice(row);
        }
        before.fill(FAR);
        for row in d.chunks_exact_mut(padded).rev() {
            step_on(row, &before, true);
            before.copy_from_slice(row);
        }
        let inner = |row: &[u16]| row.iter().skip(1).take(self.cols).map(|v| v / 3).collect::<Vec<u16>>();
        d.chunks_exact(padded).flat_map(inner).collect()
    }
}

/// One row of a chamfer from the row before it, from one side to the other.
fn step_on(row: &mut [u16], before: &[u16], backwards: bool) {
    let mut beside = u16::MAX - 8;
    let mut cell = |(slot, near): (&mut u16, &[u16])| {
        if let [a, b, c] = near {
            let least = (*a.min(c) + 4).min(*b.min(&beside) + 3);
            *slot = least.min(*slot);
            beside = *slot;
        }
    };
    let last = row.len().saturating_sub(1);
    let Some(inner) = row.get_mut(1..last) else { return };
    if backwards {
        inner.iter_mut().rev().zip(before.windows(3).rev()).for_each(&mut cell);
    } else {
        inner.iter_mut().zip(before.windows(3)).for_each(&mut cell);
    }
}

/// The fine cell of a spot, when it is within the fine raster.
#[inline(always)]
pub fn fine_index(spot: Spot) -> Option<usize> {
    if spot.x.abs() < FINE_HALF && spot.y.abs() < FINE_HALF {
        let i = ((spot.x + FINE_HALF) * 2.0) as i32 as usize;
        let j = ((spot.y + FINE_HALF) * 2.0) as i32 as usize;
        Some(j.min(FINE - 1) * FINE + i.min(FINE - 1))
    } else {
        None
    }
}

/// The middle of a fine cell.
pub fn fine_middle(i: usize, j: usize) -> Spot {
    Spot { x: 0.25 - FINE_HALF + 0.5 * i as f32, y: 0.25 - FINE_HALF + 0.5 * j as f32 }
}
