//! A line as it is walked, in the plane: lengths along it, places beside it, distances to it.

use crate::ground::plane::{edges, meeting, nearest_on};
use crate::ground::{Point, Polygon};
use crate::units::length::METRES_PER_YARD;

/// Metres as yards.
pub const fn metres(metres: f64) -> f64 {
    metres / METRES_PER_YARD
}

/// A line of at least two points.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Track(pub Vec<Point>);

/// Where a point lies along a line and beside it.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Beside {
    /// Yards along the line from its start; negative before it, more than its length past its end.
    pub along: f64,
    /// Yards to the right of it; negative is left.
    pub across: f64,
    /// The distance to the line itself.
    pub distance: f64,
}

impl Track {
    /// Its length, yards.
    pub fn length(&self) -> f64 {
        self.0.windows(2).map(|pair| if let [a, b] = pair { a.distance(*b) } else { 0.0 }).sum()
    }

    /// Its first point; the origin when there is none.
    pub fn start(&self) -> Point {
        self.0.first().copied().unwrap_or_default()
    }

    /// Its last point.
    pub fn end(&self) -> Point {
        self.0.last().copied().unwrap_or_default()
    }

    /// Where a point lies: at the nearest place of the line, whose first and last stretch go on straight.
    pub fn beside(&self, point: Point) -> Beside {
        let mut best = Beside { distance: f64::INFINITY, ..Beside::default() };
        let mut walked = 0.0;
        let last = self.0.len().saturating_sub(2);
        for (index, pair) in self.0.windows(2).enumerate() {
            let [a, b] = pair else { continue };
            let length = a.distance(*b);
            let ahead = (*b - *a).unit();
            let distance = nearest_on(*a, *b, point).distance(point);
            if distance < best.distance {
                let away = point - *a;
                let forward = away.dot(ahead);
                let low = if index == 0 { f64::NEG_INFINITY } else { 0.0 };
                let high = if index == last { f64::INFINITY } else { length };
                let along = forward.clamp(low, high);
                let on_line = *a + ahead * along;
                let beside = point - on_line;
                let side = if beside.dot(ahead.to_the_right()) < 0.0 { -1.0 } else { 1.0 };
                best = Beside { along: walked + along, across: side * beside.length(), distance };
            }
            walked += length;
        }
        best
    }

    /// The distance to a shape: 0 where they touch.
    pub fn distance(&self, shape: &Polygon) -> f64 {
        if self.0.iter().any(|p| shape.contains(*p)) {
            return 0.0;
        }
        let mut best = f64::INFINITY;
        for pair in self.0.windows(2) {
            let [a, b] = pair else { continue };
            for (from, to) in shape.rings().flat_map(edges) {
                best = best.min(between((*a, *b), (from, to)));
                if best == 0.0 {
                    return 0.0;
                }
            }
        }
        best
    }

    /// The distance to another line: 0 where they cross.
    pub fn distance_to_line(&self, line: &[Point]) -> f64 {
        let mut best = f64::INFINITY;
        for pair in self.0.windows(2) {
            let [a, b] = pair else { continue };
            for other in line.windows(2) {
                let [c, d] = other else { continue };
                best = best.min(between((*a, *b), (*c, *d)));
            }
        }
        best
    }

    /// The same line without the places that bend it by no more than `tolerance` (Douglas and Peucker 1973).
    pub fn simplified(&self, tolerance: f64) -> Self {
        let mut keep = vec![false; self.0.len()];
        let ends = [0, self.0.len().saturating_sub(1)];
        for end in ends {
            if let Some(flag) = keep.get_mut(end) {
                *flag = true;
            }
        }
        let mut stretches = vec![(0, self.0.len().saturating_sub(1))];
        while let Some((from, to)) = stretches.pop() {
            let (Some(a), Some(b)) = (self.0.get(from), self.0.get(to)) else { continue };
            let inside = self.0.iter().enumerate().take(to).skip(from + 1);
            let farthest = inside
                .map(|(index, p)| (index, nearest_on(*a, *b, *p).distance(*p)))
                .max_by(|x, y| x.1.total_cmp(&y.1));
            if let Some((index, _)) = farthest.filter(|(_, away)| *away > tolerance) {
                if let Some(flag) = keep.get_mut(index) {
                    *flag = true;
                }
                stretches.push((from, index));
                stretches.push((index, to));
            }
        }
        Self(self.0.iter().zip(keep).filter(|(_, keep)| *keep).map(|(p, _)| *p).collect())
    }
}

/// The distance of two stretches: 0 where they cross.
fn between(a: (Point, Point), b: (Point, Point)) -> f64 {
    if meeting(a, b).is_some() {
        return 0.0;
    }
    [
        nearest_on(a.0, a.1, b.0).distance(b.0),
        nearest_on(a.0, a.1, b.1).distance(b.1),
        nearest_on(b.0, b.1, a.0).distance(a.0),
        nearest_on(b.0, b.1, a.1).distance(a.1),
    ]
    .into_iter()
    .fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_measured_along_and_beside() {
        let track = Track(vec![Point::new(0.0, 0.0), Point::new(0.0, 100.0), Point::new(100.0, 100.0)]);
        assert_eq!(track.length(), 200.0);
        let place = track.beside(Point::new(-5.0, 40.0));
        assert_eq!((place.along, place.across, place.distance), (40.0, -5.0, 5.0));
        let place = track.beside(Point::new(60.0, 90.0));
        assert_eq!((place.along, place.across), (160.0, 10.0), "right of the second leg");
        assert_eq!(track.beside(Point::new(3.0, -20.0)).along, -20.0, "behind the start");
        assert_eq!(track.beside(Point::new(130.0, 100.0)).along, 230.0, "past the end");
    }

    #[test]
    fn a_line_is_as_far_from_a_shape_as_from_its_nearest_edge() {
        let track = Track(vec![Point::new(0.0, 0.0), Point::new(0.0, 100.0)]);
        let square = |left: f64| {
            Polygon::simple(vec![
                Point::new(left, 40.0),
                Point::new(left + 10.0, 40.0),
                Point::new(left + 10.0, 50.0),
                Point::new(left, 50.0),
            ])
        };
        assert_eq!(track.distance(&square(12.0)), 12.0);
        assert_eq!(track.distance(&square(-5.0)), 0.0, "it crosses the line, no corner inside");
    }

    #[test]
    fn what_bends_little_is_left_out() {
        let track =
            Track(vec![Point::new(0.0, 0.0), Point::new(1.0, 50.0), Point::new(0.0, 100.0), Point::new(60.0, 200.0)]);
        assert_eq!(track.simplified(3.0).0.len(), 3);
        assert_eq!(track.simplified(0.5).0.len(), 4);
    }
}
