//! The ground as cells of one or two yards, for questions asked millions of times.
//!
//! A cell is asked at its middle; the middles lie on whole multiples of the cell, so a column of them runs along the
//! first leg of the line and a mirrored hole gives the mirrored raster. The shapes of [`Ground`] are the reference: a
//! cell holds exactly what [`Ground::surface_at`] gives at its middle.

use super::find::{Painted, TEE_ROUND};
use super::hole::Ground;
use super::plane::{Bounds, Point, crossing, edges};
use super::surface::Surface;
use crate::units::{Across, Along};

/// How far to the sides of the line and of the green the cells reach, yards. Beyond them the nearest cell answers.
pub const BESIDE: f64 = 100.0;

/// How far behind the tees and past the end of the line the cells reach, yards.
pub const BEYOND: f64 = 60.0;

/// No feature: what [`Raster::feature_byte`] gives on ground that no feature covers.
pub const NO_FEATURE: u16 = u16::MAX;

/// The surfaces of a hole as bytes, and beside them the feature each cell belongs to.
#[derive(Clone, Debug, PartialEq)]
pub struct Raster {
    /// The side of a cell, yards.
    cell: f64,
    per_yard: f64,
    /// Number of the leftmost and of the nearest cell, counted from the origin.
    left: i32,
    near: i32,
    columns: i32,
    rows: i32,
    surfaces: Vec<u8>,
    features: Vec<u16>,
}

impl Raster {
    /// Cells of one yard.
    pub fn new(ground: &Ground) -> Self {
        Self::with_cells(ground, 1)
    }

    /// Cells of `yards` whole yards, at least one.
    pub fn with_cells(ground: &Ground, yards: u8) -> Self {
        let cell = f64::from(yards.max(1));
        let bounds = extent(ground);
        let number = |figure: f64| (figure / cell) as i32;
        let (left, right) = (number(bounds.left.floor()) - 1, number(bounds.right.ceil()) + 1);
        let (near, far) = (number(bounds.near.floor()) - 1, number(bounds.far.ceil()) + 1);
        let (columns, rows) = (right - left + 1, far - near + 1);
        let count = columns as usize * rows as usize;
        let mut raster = Self {
            cell,
            per_yard: 1.0 / cell,
            left,
            near,
            columns,
            rows,
            surfaces: vec![Surface::Rough.byte(); count],
            features: vec![NO_FEATURE; count],
        };
        let painted = ground.painted();
        let (under, over): (Vec<_>, Vec<_>) = painted.iter().partition(|p| p.surface > Surface::Tee);
        let mut cuts = Vec::new();
        for shape in under.into_iter().rev() {
            raster.paint(shape, &mut cuts);
        }
        for tee in &ground.tees {
            raster.paint_tee(tee.point);
        }
        for shape in over.into_iter().rev() {
            raster.paint(shape, &mut cuts);
        }
        raster
    }

    /// The same cells with one feature turned to rough, as for its price.
    pub fn without(&self, feature: usize) -> Self {
        let mut raster = self.clone();
        for (surface, owner) in raster.surfaces.iter_mut().zip(&mut raster.features) {
            if usize::from(*owner) == feature && *owner != NO_FEATURE {
                *surface = Surface::Rough.byte();
                *owner = NO_FEATURE;
            }
        }
        raster
    }

    /// The side of a cell, yards.
    pub const fn cell(&self) -> f64 {
        self.cell
    }

    /// Cells across.
    pub const fn columns(&self) -> usize {
        self.columns as usize
    }

    /// Cells ahead.
    pub const fn rows(&self) -> usize {
        self.rows as usize
    }

    /// All surfaces, row by row from the nearest, each from left to right; see [`Surface::from_byte`].
    pub fn bytes(&self) -> &[u8] {
        &self.surfaces
    }

    /// The place in [`Self::bytes`] that answers for a point.
    #[inline]
    pub fn index(&self, point: Point) -> usize {
        let column = (nearest(point.right * self.per_yard) - self.left).clamp(0, self.columns - 1);
        let row = (nearest(point.ahead * self.per_yard) - self.near).clamp(0, self.rows - 1);
        row as usize * self.columns as usize + column as usize
    }

    /// The middle of the cell at this place of [`Self::bytes`].
    pub fn middle(&self, index: usize) -> Point {
        let columns = self.columns as usize;
        let (row, column) = (index / columns, index % columns);
        Point::new((column as i32 + self.left) as f64 * self.cell, (row as i32 + self.near) as f64 * self.cell)
    }

    /// The surface at a point as a byte.
    #[inline]
    pub fn byte(&self, point: Point) -> u8 {
        self.surfaces.get(self.index(point)).copied().unwrap_or(Surface::Rough as u8)
    }

    /// The surface at a point.
    #[inline]
    pub fn surface(&self, point: Point) -> Surface {
        Surface::from_byte(self.byte(point))
    }

    /// The feature at a point, by index.
    pub fn feature(&self, point: Point) -> Option<usize> {
        self.features.get(self.index(point)).filter(|owner| **owner != NO_FEATURE).map(|owner| usize::from(*owner))
    }

    /// Paints one polygon over what is there.
    fn paint(&mut self, painted: &Painted<'_>, cuts: &mut Vec<Cut>) {
        let (surface, owner) =
            (painted.surface.byte(), painted.feature.and_then(|index| u16::try_from(index).ok()).unwrap_or(NO_FEATURE));
        cuts.clear();
        for (ring, points) in painted.shape.rings().enumerate() {
            for (from, to) in edges(points) {
                let low = from.ahead.min(to.ahead);
                let high = from.ahead.max(to.ahead);
                let first = ((low / self.cell).ceil() as i32).max(self.near);
                let last = ((high / self.cell).ceil() as i32 - 1).min(self.near + self.rows - 1);
                for row in first..=last {
                    if let Some((at, way)) = crossing(from, to, f64::from(row) * self.cell) {
                        cuts.push(Cut { row, ring, at: at / self.cell, way });
                    }
                }
            }
        }
        cuts.sort_unstable_by(|a, b| (a.row, a.ring).cmp(&(b.row, b.ring)).then(a.at.total_cmp(&b.at)));
        for row in cuts.chunk_by(|a, b| a.row == b.row) {
            let Some(number) = row.first().map(|cut| cut.row) else { continue };
            let holes: Vec<(i32, i32)> = row
                .chunk_by(|a, b| a.ring == b.ring)
                .filter(|ring| ring.first().is_some_and(|cut| cut.ring > 0))
                .flat_map(|ring| stretches(ring).map(|(from, to)| (from.floor() as i32 + 1, to.ceil() as i32 - 1)))
                .collect();
            let outer = row.partition_point(|cut| cut.ring == 0);
            let outer = row.get(..outer).unwrap_or_default();
            for (from, to) in stretches(outer) {
                let (from, to) = (from.ceil() as i32, to.floor() as i32);
                if holes.is_empty() {
                    self.fill(number, from, to, surface, owner);
                    continue;
                }
                for column in from.max(self.left)..=to.min(self.left + self.columns - 1) {
                    if !holes.iter().any(|hole| hole.0 <= column && column <= hole.1) {
                        self.fill(number, column, column, surface, owner);
                    }
                }
            }
        }
    }

    fn fill(&mut self, row: i32, from: i32, to: i32, surface: u8, owner: u16) {
        let from = from.max(self.left) - self.left;
        let to = to.min(self.left + self.columns - 1) - self.left;
        if to < from {
            return;
        }
        let start = (row - self.near) as usize * self.columns as usize;
        let range = start + from as usize..=start + to as usize;
        if let Some(cells) = self.surfaces.get_mut(range.clone()) {
            cells.fill(surface);
        }
        if let Some(cells) = self.features.get_mut(range) {
            cells.fill(owner);
        }
    }

    fn paint_tee(&mut self, tee: Point) {
        let round = (TEE_ROUND / self.cell) as i32 + 1;
        let (column, row) = (nearest(tee.right / self.cell), nearest(tee.ahead / self.cell));
        for row in (row - round).max(self.near)..=(row + round).min(self.near + self.rows - 1) {
            for column in column - round..=column + round {
                let middle = Point::new(f64::from(column) * self.cell, f64::from(row) * self.cell);
                if tee.distance(middle) <= TEE_ROUND {
                    self.fill(row, column, column, Surface::Tee.byte(), NO_FEATURE);
                }
            }
        }
    }
}

/// A ring's edge meeting the middle of a row of cells, in cells from the origin.
struct Cut {
    row: i32,
    ring: usize,
    at: f64,
    way: i32,
}

/// The stretches inside one ring on one row, from its sorted cuts; a mere touch is none.
fn stretches(cuts: &[Cut]) -> impl Iterator<Item = (f64, f64)> + '_ {
    let mut winding = 0;
    let mut from = 0.0;
    cuts.iter().filter_map(move |cut| {
        if winding == 0 {
            from = cut.at;
        }
        winding += cut.way;
        (winding == 0 && from < cut.at).then_some((from, cut.at))
    })
}

/// The nearest whole number, halves away from zero so that left and right are treated alike.
#[inline]
fn nearest(figure: f64) -> i32 {
    (figure + 0.5f64.copysign(figure)) as i32
}

/// The rectangle that the cells cover; even about the line's first leg only where the ground is.
fn extent(ground: &Ground) -> Bounds {
    let line = ground.line();
    let length = ground.length.0;
    let tees = ground.tees.iter().map(|tee| tee.point);
    let green = ground.green.iter().flat_map(|green| green.outline.outer.iter().copied());
    let on_line =
        line.steps(0.0f64.min(length), length.max(0.0)).into_iter().map(|at| line.place(Along(at), Across(0.0)));
    let bounds = Bounds::around(tees.chain(green).chain(on_line));
    Bounds {
        left: (bounds.left - BESIDE).max(-3000.0),
        right: (bounds.right + BESIDE).min(3000.0),
        near: (bounds.near - BEYOND).max(-3000.0),
        far: (bounds.far + BEYOND).min(3000.0),
    }
}
