//! The ribbon: the drawing of a hole laid along its line, as a grid of half-cells, and its true shape.
//!
//! A terminal row is two half-rows, and a column is as wide as a half-row is tall, so a half-cell is square and the
//! drawing is **to scale both ways** with one scale: yards a half-cell. The start is at the left, the green at the
//! right, the left of the hole at the top. The scale is the smaller of fitting the whole hole (every tee, the green and
//! some ground round them) and showing [`ACROSS`] yards across; what room is left goes evenly to both ends.
//!
//! Along the line a half-cell shows the ground on the normal of the line. Inside a sharp bend there are half-cells
//! without ground of their own ([`HalfCell::surface`] is `None`): the hole is folded there. In the true shape every
//! half-cell is a piece of the plane, turned so that tee to green lies level.

mod paint;
mod strips;
#[cfg(test)]
mod tests;

pub use strips::{BendMark, Letter, Tick};

use super::corridor::Fairway;
use super::hole::Ground;
use super::line::HoleLine;
use super::plane::{Bounds, Point};
use super::surface::Surface;
use crate::units::{Across, Along};

/// How much ground is shown across at least, yards.
pub const ACROSS: f64 = 80.0;

/// How much ground is shown behind the tees, and past the green, yards.
const BEHIND: f64 = 12.0;
const PAST: f64 = 20.0;

/// Which drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum View {
    /// Unrolled along the hole line.
    #[default]
    AlongLine,
    /// As it lies in the plane, tee to green level.
    TrueShape,
}

/// One square of the drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HalfCell {
    /// What most of it shows; `None` where there is no ground, inside a sharp bend.
    pub surface: Option<Surface>,
    /// The feature it belongs to, by index.
    pub feature: Option<usize>,
}

impl HalfCell {
    const NONE: Self = Self { surface: None, feature: None };
}

/// How the plane is turned for the true shape.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Frame {
    origin: Point,
    ahead: Point,
}

/// A drawn hole. Made by [`Ribbon::new`]; a value without a terminal in it.
#[derive(Clone, Debug, PartialEq)]
pub struct Ribbon {
    view: View,
    columns: usize,
    half_rows: usize,
    /// Yards a half-cell.
    scale: f64,
    /// What lies at the left edge: along the line, or ahead in the frame.
    first: f64,
    /// What lies in the middle between top and bottom: across the line, or to the right in the frame.
    middle: f64,
    line: HoleLine,
    frame: Frame,
    cells: Vec<HalfCell>,
    fairways: Vec<Option<Fairway>>,
    tees: Vec<Point>,
}

impl Ribbon {
    /// Draws a hole on so many columns and half-rows for a player of this tee, by index: the tee turns the true shape.
    /// Any size can be asked for; one without columns or half-rows shows nothing.
    pub fn new(ground: &Ground, tee: usize, columns: usize, half_rows: usize, view: View) -> Self {
        let line = ground.line();
        let green = ground.green.as_ref().map_or_else(|| line.place(ground.length, Across(0.0)), |green| green.middle);
        let origin = ground.tees.get(tee).map_or_else(Point::default, |tee| tee.point);
        let level = green - origin;
        let ahead = if level.length() > 1.0 { level.unit() } else { Point::new(0.0, 1.0) };
        let mut ribbon = Self {
            view,
            columns,
            half_rows,
            scale: 1.0,
            first: 0.0,
            middle: 0.0,
            frame: Frame { origin, ahead },
            cells: Vec::new(),
            fairways: Vec::new(),
            tees: ground.tees.iter().map(|tee| tee.point).collect(),
            line,
        };
        let shown = ribbon.shown(ground);
        let (near, far) = (shown.near - BEHIND, shown.far + PAST);
        ribbon.middle = match view {
            View::AlongLine => 0.0,
            View::TrueShape => (shown.left + shown.right) / 2.0,
        };
        // The true shape of a dog-leg needs room for the whole of its line.
        let across = match view {
            View::AlongLine => ACROSS,
            View::TrueShape => ACROSS.max(shown.right - shown.left + ACROSS / 2.0),
        };
        let whole = |count: usize| count.max(1) as f64;
        ribbon.scale = ((far - near) / whole(columns)).max(across / whole(half_rows));
        ribbon.first = (near + far) / 2.0 - ribbon.scale * columns as f64 / 2.0;
        ribbon.paint(ground);
        ribbon
    }

    /// The rectangle that must be seen: in along and across the line, or in the frame of the true shape.
    fn shown(&self, ground: &Ground) -> Bounds {
        let length = ground.length.0.max(1.0);
        let green = ground.green.iter().flat_map(|green| green.outline.outer.iter().copied());
        let tees = ground.tees.iter().map(|tee| tee.point);
        match self.view {
            View::AlongLine => {
                let placed = |point| {
                    let (at, across) = self.line.locate(point);
                    Point::new(across.0, at.0)
                };
                let ends = [Point::new(0.0, 0.0), Point::new(0.0, length)];
                Bounds::around(tees.chain(green).map(placed).chain(ends))
            }
            View::TrueShape => {
                let on_line =
                    self.line.steps(0.0, length).into_iter().map(|at| self.line.place(Along(at), Across(0.0)));
                Bounds::around(tees.chain(green).chain(on_line).map(|point| self.framed(point)))
            }
        }
    }

    fn framed(&self, point: Point) -> Point {
        let away = point - self.frame.origin;
        Point::new(away.dot(self.frame.ahead.to_the_right()), away.dot(self.frame.ahead))
    }

    /// Which drawing it is.
    pub const fn view(&self) -> View {
        self.view
    }

    /// Its width in half-cells.
    pub const fn columns(&self) -> usize {
        self.columns
    }

    /// Its height in half-cells.
    pub const fn half_rows(&self) -> usize {
        self.half_rows
    }

    /// Yards a half-cell, both ways.
    pub const fn scale(&self) -> f64 {
        self.scale
    }

    /// The half-cell at a column from the left and a half-row from the top; without ground outside the drawing.
    pub fn cell(&self, column: usize, half_row: usize) -> HalfCell {
        if column >= self.columns {
            return HalfCell::NONE;
        }
        self.cells.get(half_row * self.columns + column).copied().unwrap_or(HalfCell::NONE)
    }

    /// The fairway in the middle of a column; none in the true shape, whose columns do not lie across the line.
    pub fn fairway(&self, column: usize) -> Option<Fairway> {
        self.fairways.get(column).copied().flatten()
    }

    /// The level places of a column's middle and of a half-row's middle, yards.
    fn level(&self, column: f64, half_row: f64) -> (f64, f64) {
        let across = self.middle + (half_row - self.half_rows as f64 / 2.0) * self.scale;
        (self.first + column * self.scale, across)
    }

    /// The point of the plane in the middle of a half-cell.
    pub fn point(&self, column: usize, half_row: usize) -> Point {
        let (ahead, across) = self.level(column as f64 + 0.5, half_row as f64 + 0.5);
        match self.view {
            View::AlongLine => self.line.place(Along(ahead), Across(across)),
            View::TrueShape => self.frame.origin + self.frame.ahead * ahead + self.frame.ahead.to_the_right() * across,
        }
    }

    /// The position on the hole in the middle of a half-cell.
    pub fn place(&self, column: usize, half_row: usize) -> (Along, Across) {
        match self.view {
            View::AlongLine => {
                let (at, across) = self.level(column as f64 + 0.5, half_row as f64 + 0.5);
                (Along(at), Across(across))
            }
            View::TrueShape => self.line.locate(self.point(column, half_row)),
        }
    }

    /// Where a position of the hole is drawn, in columns and half-rows from the left and the top edge; it may lie
    /// outside the drawing.
    pub fn spot(&self, at: Along, across: Across) -> (f64, f64) {
        let (ahead, right) = match self.view {
            View::AlongLine => (at.0, across.0),
            View::TrueShape => {
                let framed = self.framed(self.line.place(at, across));
                (framed.ahead, framed.right)
            }
        };
        let half_row = (right - self.middle) / self.scale + self.half_rows as f64 / 2.0;
        ((ahead - self.first) / self.scale, half_row)
    }

    /// Where a point of the plane is drawn; see [`Self::spot`].
    pub fn spot_of(&self, point: Point) -> (f64, f64) {
        match self.view {
            View::AlongLine => {
                let (at, across) = self.line.locate(point);
                self.spot(at, across)
            }
            View::TrueShape => {
                let framed = self.framed(point);
                let half_row = (framed.right - self.middle) / self.scale + self.half_rows as f64 / 2.0;
                ((framed.ahead - self.first) / self.scale, half_row)
            }
        }
    }

    /// The half-cell that a spot lies in, when it is on the drawing.
    pub fn on_drawing(&self, spot: (f64, f64)) -> Option<(usize, usize)> {
        let (column, half_row) = (spot.0.floor(), spot.1.floor());
        let inside =
            column >= 0.0 && half_row >= 0.0 && column < self.columns as f64 && half_row < self.half_rows as f64;
        inside.then_some((column as usize, half_row as usize))
    }

    /// The half-cell of a position of the hole, when it is on the drawing.
    pub fn cell_of(&self, at: Along, across: Across) -> Option<(usize, usize)> {
        self.on_drawing(self.spot(at, across))
    }

    /// The half-cell of a point of the plane, when it is on the drawing.
    pub fn cell_of_point(&self, point: Point) -> Option<(usize, usize)> {
        self.on_drawing(self.spot_of(point))
    }
}
