//! Ways, cells and values of many points at a time, in plain loops over slices that the compiler turns into vector code.

use super::terrain::{CELL, FINE, FINE_HALF, Spot, Terrain};

/// As many points as are worked on together.
pub const GROUP: usize = 64;

/// Added to a number below it, it leaves the nearest whole number in the last bits.
const WHOLE: f32 = 8_388_608.0;
/// Those bits.
const BITS: u32 = 0x007f_ffff;
/// Shares of the run by the class of a cell, for a first look.
const ABOUT: [f32; 8] = [0.0, 0.1, 0.6, 1.0, 0.5, 0.8, 0.5, 0.5];
/// The same; not a number where the way must be looked at closely. The sixth is the edge between fairway and rough.
pub const SHARES: [f32; 8] = [0.0, 0.1, 0.6, 1.0, f32::NAN, 0.8, f32::NAN, f32::NAN];

/// Room for the points of a group.
pub struct Room {
    /// Lengths.
    pub along: [f32; GROUP],
    /// The whole way to the right.
    pub dx: [f32; GROUP],
    /// The whole way ahead.
    pub dy: [f32; GROUP],
    /// The share of the way that the ball goes.
    pub share: [f32; GROUP],
    /// Cells.
    pub cells: [u32; GROUP],
    /// Values.
    pub values: [f32; GROUP],
}

/// The first so many of a buffer.
#[inline(always)]
fn first<T>(of: &[T], count: usize) -> &[T] {
    of.get(..count).unwrap_or_default()
}

/// The same to be written to.
#[inline(always)]
fn room_for<T>(of: &mut [T], count: usize) -> &mut [T] {
    of.get_mut(..count).unwrap_or_default()
}

impl Room {
    /// Empty.
    pub const fn new() -> Self {
        Self {
            along: [0.0; GROUP],
            dx: [0.0; GROUP],
            dy: [0.0; GROUP],
            share: [1.0; GROUP],
            cells: [0; GROUP],
            values: [0.0; GROUP],
        }
    }
}

/// How lengths and sides of points become ways in the plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// Sine and cosine of the direction.
    pub dir: (f32, f32),
    /// A point's length becomes this much …
    pub base: f32,
    /// … and so much of what it was.
    pub slope: f32,
    /// Its side is multiplied by this.
    pub wide: f32,
}

impl Turn {
    /// The length that a point goes.
    #[inline(always)]
    pub fn along(&self, along: f32) -> f32 {
        let along = along * self.slope + self.base;
        if along > 0.0 { along } else { 0.0 }
    }

    /// Lengths and ways of points.
    #[inline(never)]
    pub fn ways(&self, along: &[f32], across: &[f32], room: &mut Room) {
        let n = along.len().min(GROUP);
        let (length, dx, dy) = (room_for(&mut room.along, n), room_for(&mut room.dx, n), room_for(&mut room.dy, n));
        let out = length.iter_mut().zip(dx).zip(dy);
        for ((a, b), ((length, dx), dy)) in first(along, n).iter().zip(first(across, n)).zip(out) {
            let (a, b) = (self.along(*a), b * self.wide);
            *length = a;
            *dx = a * self.dir.0 + b * self.dir.1;
            *dy = a * self.dir.1 - b * self.dir.0;
        }
    }
}

/// Holds a number between nought and `most` with one comparison each way.
#[inline(always)]
fn held(value: f32, most: f32) -> f32 {
    let value = if value > 0.0 { value } else { 0.0 };
    if value < most { value } else { most }
}

/// The number of a cell from its column and row, still between cells.
#[inline(always)]
fn cell(i: f32, j: f32, (last_i, last_j): (f32, f32), cols: f32, before: f32) -> u32 {
    let i = held(i, last_i) + WHOLE - WHOLE;
    let j = held(j, last_j) + WHOLE - WHOLE;
    (j * cols + i + before + WHOLE).to_bits() & BITS
}

impl Terrain {
    /// The wide cells where points land that are carried this share of their way.
    #[inline(never)]
    pub fn landings(&self, from: Spot, carried: f32, room: &mut Room, count: usize) {
        let (x, y) = (from.x / CELL - self.first.x, from.y / CELL - self.first.y);
        let (last, cols, share) = ((self.last.x, self.last.y), self.cols as f32, carried / CELL);
        let ways = first(&room.dx, count).iter().zip(first(&room.dy, count));
        for ((dx, dy), out) in ways.zip(room_for(&mut room.cells, count)) {
            *out = cell(x + share * dx, y + share * dy, last, cols, 0.0);
        }
    }

    /// The cells where points finish.
    #[inline(never)]
    pub fn finishes<const NEAR: bool>(&self, from: Spot, room: &mut Room, count: usize) {
        let (x, y) = (from.x / CELL - self.first.x, from.y / CELL - self.first.y);
        let (last, cols) = ((self.last.x, self.last.y), self.cols as f32);
        let (wide, most) = ((self.cols * self.rows) as f32, (FINE - 1) as f32);
        let ways = first(&room.dx, count).iter().zip(first(&room.dy, count)).zip(first(&room.share, count));
        for (((dx, dy), share), out) in ways.zip(room_for(&mut room.cells, count)) {
            let (dx, dy) = (share * dx, share * dy);
            let coarse = cell(x + dx * (1.0 / CELL), y + dy * (1.0 / CELL), last, cols, 0.0);
            if NEAR {
                let (i, j) = ((from.x + dx + FINE_HALF) * 2.0 - 0.5, (from.y + dy + FINE_HALF) * 2.0 - 0.5);
                let fine = cell(i, j, (most, most), FINE as f32, wide);
                let inside = ((from.x + dx).abs() < FINE_HALF) & ((from.y + dy).abs() < FINE_HALF);
                *out = if inside { fine } else { coarse };
            } else {
                *out = coarse;
            }
        }
    }

    /// The shares of their ways that balls go, by the cells they land in; not a number where the run must be looked at.
    #[inline(never)]
    pub fn runs(&self, carried: f32, room: &mut Room, count: usize) {
        let kept = SHARES.map(|share| share * (1.0 - carried));
        let landed = first(&room.cells, count).iter().zip(first(&room.along, count));
        for ((cell, along), share) in landed.zip(room_for(&mut room.share, count)) {
            let byte = self.roll.get(*cell as usize).copied().unwrap_or_default();
            let run = kept.get(usize::from(byte >> 5)).copied().unwrap_or_default();
            let clear = f32::from(byte & 31) * CELL;
            *share = if run * along <= clear { carried + run } else { f32::NAN };
        }
    }

    /// The same without a closer look.
    #[inline(never)]
    pub fn runs_about(&self, carried: f32, room: &mut Room, count: usize) {
        let shares = ABOUT.map(|share| carried + share * (1.0 - carried));
        for (cell, share) in first(&room.cells, count).iter().zip(room_for(&mut room.share, count)) {
            let byte = self.roll.get(*cell as usize).copied().unwrap_or_default();
            *share = shares.get(usize::from(byte >> 5)).copied().unwrap_or_default();
        }
    }
}

/// Looks the cells up.
#[inline(never)]
pub fn look_up(values: &[f32], room: &mut Room, count: usize) {
    for (cell, value) in first(&room.cells, count).iter().zip(room_for(&mut room.values, count)) {
        *value = values.get(*cell as usize).copied().unwrap_or(f32::NAN);
    }
}

impl Room {
    /// The sum of values by weight; not a number when a value or a share is none.
    #[inline(never)]
    pub fn sum(&self, weights: &[f32]) -> f32 {
        let ((w, _), (v, _), (s, _)) =
            (weights.as_chunks::<8>(), self.values.as_chunks::<8>(), self.share.as_chunks::<8>());
        let mut sums = [0.0_f32; 8];
        for ((w, v), s) in w.iter().zip(v).zip(s) {
            for (sum, ((w, v), s)) in sums.iter_mut().zip(w.iter().zip(v).zip(s)) {
                *sum += w * (v + 0.0 * s);
            }
        }
        sums.iter().sum()
    }

    /// The same where what is not a number counts `instead`.
    #[inline(never)]
    pub fn sum_or(&self, weights: &[f32], instead: f32) -> f32 {
        let ((w, _), (v, _)) = (weights.as_chunks::<8>(), self.values.as_chunks::<8>());
        let mut sums = [0.0_f32; 8];
        for (w, v) in w.iter().zip(v) {
            for (sum, (w, v)) in sums.iter_mut().zip(w.iter().zip(v)) {
                let value = if v.is_nan() { instead } else { *v };
                *sum += w * value;
            }
        }
        sums.iter().sum()
    }
}
