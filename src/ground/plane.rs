//! Points and polygons of the plane, with the exact questions asked of them.
//!
//! **Edges belong to a shape.** A point that lies on an edge to the left or right counts as inside, so a mirrored
//! shape gives mirrored answers; ahead and behind, the nearer edge counts and the farther does not, so that two
//! shapes which meet at a distance do not both claim it.

/// A point of the plane, in yards.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Point {
    /// To the right of the first leg; negative is left.
    pub right: f64,
    /// Ahead along the first leg from the start of the line.
    pub ahead: f64,
}

impl Point {
    /// A point by its two numbers, yards.
    pub const fn new(right: f64, ahead: f64) -> Self {
        Self { right, ahead }
    }

    /// The straight distance to `other`, yards.
    pub fn distance(self, other: Self) -> f64 {
        (self - other).length()
    }

    /// Its distance from the origin, yards.
    pub fn length(self) -> f64 {
        (self.right * self.right + self.ahead * self.ahead).sqrt()
    }

    /// The scalar product.
    pub fn dot(self, other: Self) -> f64 {
        self.right * other.right + self.ahead * other.ahead
    }

    /// Positive when `other` points to the right of `self`.
    pub fn turn_to(self, other: Self) -> f64 {
        self.ahead * other.right - self.right * other.ahead
    }

    /// The same place on the hole as seen in a mirror: left and right exchanged.
    pub fn mirrored(self) -> Self {
        Self::new(-self.right, self.ahead)
    }

    /// The direction `degrees` clockwise from `ahead`, of length one.
    pub fn towards(degrees: f64) -> Self {
        let (sin, cos) = libm::sincos(degrees.to_radians());
        Self::new(sin, cos)
    }

    /// Degrees clockwise from `ahead`, in -180..=180.
    pub fn degrees(self) -> f64 {
        libm::atan2(self.right, self.ahead).to_degrees()
    }

    /// The direction to the right of this one, of the same length.
    pub const fn to_the_right(self) -> Self {
        Self::new(self.ahead, -self.right)
    }

    /// Of length one, the same direction; a point of no length stays as it is.
    pub fn unit(self) -> Self {
        let length = self.length();
        if length > 0.0 { self * (1.0 / length) } else { self }
    }
}

impl std::ops::Add for Point {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self::new(self.right + other.right, self.ahead + other.ahead)
    }
}

impl std::ops::Sub for Point {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self::new(self.right - other.right, self.ahead - other.ahead)
    }
}

impl std::ops::Mul<f64> for Point {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self::new(self.right * factor, self.ahead * factor)
    }
}

/// The smallest upright rectangle round some points; empty when `left > right`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// Least `right`.
    pub left: f64,
    /// Greatest `right`.
    pub right: f64,
    /// Least `ahead`.
    pub near: f64,
    /// Greatest `ahead`.
    pub far: f64,
}

impl Bounds {
    /// Nothing at all.
    pub const EMPTY: Self =
        Self { left: f64::INFINITY, right: f64::NEG_INFINITY, near: f64::INFINITY, far: f64::NEG_INFINITY };

    /// Around these points.
    pub fn around(points: impl IntoIterator<Item = Point>) -> Self {
        points.into_iter().fold(Self::EMPTY, Self::with)
    }

    /// Grown to hold `point`.
    pub fn with(self, point: Point) -> Self {
        Self {
            left: self.left.min(point.right),
            right: self.right.max(point.right),
            near: self.near.min(point.ahead),
            far: self.far.max(point.ahead),
        }
    }

    /// Whether `point` lies in it or on its edge.
    pub fn holds(&self, point: Point) -> bool {
        point.right >= self.left && point.right <= self.right && point.ahead >= self.near && point.ahead <= self.far
    }

    /// Whether the two rectangles share a place.
    pub fn meets(&self, other: &Self) -> bool {
        self.left <= other.right && other.left <= self.right && self.near <= other.far && other.near <= self.far
    }

    /// How far `point` lies outside, yards; 0 inside.
    pub fn distance(&self, point: Point) -> f64 {
        let beside = (self.left - point.right).max(point.right - self.right).max(0.0);
        let before = (self.near - point.ahead).max(point.ahead - self.far).max(0.0);
        Point::new(beside, before).length()
    }
}

/// A closed polygon with optional holes in it, in yards. The first point is not repeated.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Polygon {
    /// The outer ring.
    pub outer: Vec<Point>,
    /// Rings cut out of it.
    pub inner: Vec<Vec<Point>>,
}

/// The edges of a ring, the closing one included.
pub fn edges(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> + '_ {
    let next = ring.iter().copied().skip(1).chain(ring.first().copied());
    ring.iter().copied().zip(next)
}

/// Where an edge meets the row `ahead`, with +1 when the edge runs away from the tee and -1 towards it.
///
/// The edge is always taken from its nearer end, so that the answer does not depend on the direction in which a ring
/// was drawn.
#[inline]
pub(crate) fn crossing(from: Point, to: Point, ahead: f64) -> Option<(f64, i32)> {
    let (low, high, way) = if from.ahead <= to.ahead { (from, to, 1) } else { (to, from, -1) };
    if low.ahead <= ahead && ahead < high.ahead {
        let share = (ahead - low.ahead) / (high.ahead - low.ahead);
        Some((low.right + share * (high.right - low.right), way))
    } else {
        None
    }
}

/// How often the ring goes round the ground just left and just right of `point`.
fn windings(ring: &[Point], point: Point) -> (i32, i32) {
    let (mut left, mut right) = (0, 0);
    for (from, to) in edges(ring) {
        if let Some((at, way)) = crossing(from, to, point.ahead) {
            if at < point.right {
                left += way;
            }
            if at <= point.right {
                right += way;
            }
        }
    }
    (left, right)
}

/// The point of the stretch `from`..`to` nearest to `point`.
pub fn nearest_on(from: Point, to: Point, point: Point) -> Point {
    let along = to - from;
    let square = along.dot(along);
    if square <= 0.0 {
        return from;
    }
    let share = ((point - from).dot(along) / square).clamp(0.0, 1.0);
    from + along * share
}

/// Where two stretches cross, if they do; touching ends count.
pub fn meeting(a: (Point, Point), b: (Point, Point)) -> Option<Point> {
    let (u, v) = (a.1 - a.0, b.1 - b.0);
    let turn = u.turn_to(v);
    if turn == 0.0 {
        return None;
    }
    let between = b.0 - a.0;
    let (s, t) = (between.turn_to(v) / turn, between.turn_to(u) / turn);
    ((0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t)).then(|| a.0 + u * s)
}

impl Polygon {
    /// A polygon without holes.
    pub const fn simple(outer: Vec<Point>) -> Self {
        Self { outer, inner: Vec::new() }
    }

    /// All its rings, the outer one first.
    pub fn rings(&self) -> impl Iterator<Item = &[Point]> {
        std::iter::once(self.outer.as_slice()).chain(self.inner.iter().map(Vec::as_slice))
    }

    /// The rectangle round it.
    pub fn bounds(&self) -> Bounds {
        Bounds::around(self.outer.iter().copied())
    }

    /// Whether `point` lies in it; see the file's head for points on an edge.
    pub fn contains(&self, point: Point) -> bool {
        let (left, right) = windings(&self.outer, point);
        (left != 0 || right != 0)
            && self.inner.iter().all(|ring| {
                let (left, right) = windings(ring, point);
                left == 0 || right == 0
            })
    }

    /// Its area, square yards.
    pub fn area(&self) -> f64 {
        let ring = |points: &[Point]| {
            edges(points).map(|(a, b)| a.right * b.ahead - b.right * a.ahead).sum::<f64>().abs() / 2.0
        };
        ring(&self.outer) - self.inner.iter().map(|hole| ring(hole)).sum::<f64>()
    }

    /// The point of its edge nearest to `point`; `None` for a polygon without points.
    pub fn nearest_edge(&self, point: Point) -> Option<Point> {
        self.rings()
            .flat_map(edges)
            .map(|(from, to)| nearest_on(from, to, point))
            .min_by(|a, b| a.distance(point).total_cmp(&b.distance(point)))
    }

    /// The distance from `point` to its edge, yards: negative inside, infinite for a polygon without points.
    pub fn distance(&self, point: Point) -> f64 {
        let edge = self.nearest_edge(point).map_or(f64::INFINITY, |nearest| nearest.distance(point));
        if self.contains(point) { -edge } else { edge }
    }

    /// The middle of its area; the mean of its points when it has none. The origin for a polygon without points.
    pub fn middle(&self) -> Point {
        let (mut sum, mut double) = (Point::default(), 0.0);
        let Some(&base) = self.outer.first() else {
            return sum;
        };
        for (a, b) in edges(&self.outer) {
            let (a, b) = (a - base, b - base);
            let part = a.right * b.ahead - b.right * a.ahead;
            sum = sum + (a + b) * part;
            double += part;
        }
        if double.abs() > 1e-9 {
            return base + sum * (1.0 / (3.0 * double));
        }
        let all = self.outer.iter().copied().fold(Point::default(), |a, b| a + b);
        all * (1.0 / self.outer.len() as f64)
    }

    /// The same shape as seen in a mirror.
    pub fn mirrored(&self) -> Self {
        let ring = |points: &[Point]| points.iter().map(|p| p.mirrored()).collect();
        Self { outer: ring(&self.outer), inner: self.inner.iter().map(|hole| ring(hole)).collect() }
    }
}

/// The first place where a ring crosses itself, if it does.
///
/// Edges are compared only with those whose distances ahead overlap theirs.
pub fn crosses_itself(ring: &[Point]) -> Option<Point> {
    let mut sorted: Vec<(usize, Point, Point)> =
        edges(ring).enumerate().map(|(index, (from, to))| (index, from, to)).collect();
    let count = sorted.len();
    sorted.sort_by(|a, b| (a.1.ahead.min(a.2.ahead)).total_cmp(&b.1.ahead.min(b.2.ahead)));
    for (place, &(index, from, to)) in sorted.iter().enumerate() {
        let far = from.ahead.max(to.ahead);
        for &(other, start, end) in sorted.iter().skip(place + 1) {
            if start.ahead.min(end.ahead) > far {
                break;
            }
            let apart = index.abs_diff(other);
            if apart <= 1 || apart == count - 1 {
                continue;
            }
            if let Some(point) = meeting((from, to), (start, end)) {
                return Some(point);
            }
        }
    }
    None
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn square(left: f64, near: f64, side: f64) -> Vec<Point> {
        vec![
            Point::new(left, near),
            Point::new(left, near + side),
            Point::new(left + side, near + side),
            Point::new(left + side, near),
        ]
    }

    #[test]
    fn a_polygon_knows_inside_area_and_distance() {
        let shape = Polygon { outer: square(0.0, 0.0, 10.0), inner: vec![square(4.0, 4.0, 2.0)] };
        assert!((shape.area() - 96.0).abs() < 1e-12);
        assert!(shape.contains(Point::new(1.0, 1.0)));
        assert!(!shape.contains(Point::new(5.0, 5.0)), "in its hole");
        assert!((shape.distance(Point::new(-3.0, 5.0)) - 3.0).abs() < 1e-12);
        assert!((shape.distance(Point::new(5.0, 5.0)) - 1.0).abs() < 1e-12);
        assert!((shape.distance(Point::new(2.0, 5.0)) + 2.0).abs() < 1e-12);
        assert_eq!(Polygon::simple(square(0.0, 0.0, 10.0)).middle(), Point::new(5.0, 5.0));
    }

    #[test]
    fn edges_to_the_sides_belong_and_only_the_nearer_of_two_meeting_shapes_claims_a_row() {
        let shape = Polygon::simple(square(0.0, 0.0, 10.0));
        assert!(shape.contains(Point::new(0.0, 5.0)));
        assert!(shape.contains(Point::new(10.0, 5.0)));
        assert!(shape.contains(Point::new(5.0, 0.0)));
        assert!(!shape.contains(Point::new(5.0, 10.0)));
    }

    #[test]
    fn a_bow_tie_crosses_itself() {
        let tie = vec![Point::new(0.0, 0.0), Point::new(10.0, 10.0), Point::new(10.0, 0.0), Point::new(0.0, 10.0)];
        assert_eq!(crosses_itself(&tie), Some(Point::new(5.0, 5.0)));
        assert_eq!(crosses_itself(&square(0.0, 0.0, 3.0)), None);
    }
}
