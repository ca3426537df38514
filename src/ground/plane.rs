//! Points and polygons of the plane.

/// A point of the plane, in yards.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Point {
    /// To the right of the first leg; negative is left.
    pub right: f64,
    /// Ahead along the first leg from the start of the line.
    pub ahead: f64,
}

/// A closed polygon with optional holes in it, in yards. The first point is not repeated.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Polygon {
    /// The outer ring.
    pub outer: Vec<Point>,
    /// Rings cut out of it.
    pub inner: Vec<Vec<Point>>,
}
