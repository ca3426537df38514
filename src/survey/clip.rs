//! Surfaces and lines cut to the ground round a hole, and lines given a width.

use crate::ground::plane::Bounds;
use crate::ground::{HoleLine, Point, Polygon, shapes};
use crate::units::{Across, Along};

/// A surface cut to a rectangle; `None` when nothing of it lies inside.
///
/// # References
/// Sutherland and Hodgman, *Reentrant polygon clipping* (1974): the part outside collapses onto the edge, which covers no ground.
pub fn polygon(shape: &Polygon, to: &Bounds) -> Option<Polygon> {
    let bounds = shape.bounds();
    if !bounds.meets(to) {
        return None;
    }
    let inside = bounds.left >= to.left && bounds.right <= to.right && bounds.near >= to.near && bounds.far <= to.far;
    if inside {
        return Some(shape.clone());
    }
    let outer = ring(&shape.outer, to);
    let inner = shape.inner.iter().map(|r| ring(r, to)).filter(|r| r.len() >= 3).collect();
    let cut = Polygon { outer, inner };
    (cut.outer.len() >= 3 && cut.area() > 1e-6).then_some(cut)
}

fn ring(points: &[Point], to: &Bounds) -> Vec<Point> {
    let beside = |p: Point| [p.right - to.left, to.right - p.right, p.ahead - to.near, to.far - p.ahead];
    let mut ring = points.to_vec();
    for side in 0..4 {
        let depth = |p: Point| beside(p).get(side).copied().unwrap_or_default();
        let mut cut = Vec::with_capacity(ring.len() + 4);
        for (a, b) in crate::ground::plane::edges(&ring) {
            let (from, end) = (depth(a), depth(b));
            if from >= 0.0 {
                cut.push(a);
            }
            if (from < 0.0) != (end < 0.0) {
                cut.push(a + (b - a) * (from / (from - end)));
            }
        }
        cut.dedup();
        ring = cut;
    }
    ring
}

/// The stretches of a line that come near a rectangle.
pub fn line(points: &[Point], to: &Bounds) -> Vec<Vec<Point>> {
    let mut runs: Vec<Vec<Point>> = Vec::new();
    let mut open = false;
    for pair in points.windows(2) {
        let [a, b] = pair else { continue };
        let near = Bounds::around([*a, *b]).meets(to);
        if near {
            match runs.last_mut().filter(|_| open) {
                Some(run) => run.push(*b),
                None => runs.push(vec![*a, *b]),
            }
        }
        open = near;
    }
    runs
}

/// A line of a width in yards, with round ends.
pub fn with_width(points: &[Point], width: f64) -> Vec<Polygon> {
    // On a straight line the places along and across are those of the plane.
    let straight = HoleLine::new(&[], Along(1.0));
    let places: Vec<(Along, Across)> = points.iter().map(|p| (Along(p.ahead), Across(p.right))).collect();
    shapes::path(&straight, &places, width).unwrap_or_default()
}

/// A disc, as a ring of sixteen points that covers as much ground.
pub fn disc(middle: Point, radius: f64) -> Polygon {
    const CORNERS: u8 = 16;
    let step = 360.0 / f64::from(CORNERS);
    // A polygon of n corners covers n/2 sin(2π/n) of the circle's square.
    let share = f64::from(CORNERS) / 2.0 * libm::sin(step.to_radians()) / std::f64::consts::PI;
    let radius = radius / share.sqrt();
    Polygon::simple((0..CORNERS).map(|i| middle + Point::towards(f64::from(i) * step) * radius).collect())
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const BOX: Bounds = Bounds { left: -50.0, right: 50.0, near: 0.0, far: 100.0 };

    proptest! {
        #[test]
        fn inside_the_rectangle_nothing_changes(
            ring in prop::collection::vec((-90.0..90.0f64, -40.0..140.0f64), 3..9),
            probes in prop::collection::vec((-49.0..49.0f64, 1.0..99.0f64), 20),
        ) {
            let shape = Polygon::simple(ring.into_iter().map(|(r, a)| Point::new(r, a)).collect());
            let cut = polygon(&shape, &BOX).unwrap_or_default();
            for (right, ahead) in probes {
                let probe = Point::new(right, ahead);
                prop_assert_eq!(cut.contains(probe), shape.contains(probe), "{:?}", probe);
            }
            prop_assert!(cut.outer.iter().all(|p| BOX.distance(*p) < 1e-9));
        }
    }

    #[test]
    fn a_disc_covers_its_ground() {
        let area = disc(Point::new(3.0, 4.0), 5.0).area();
        assert!((area - std::f64::consts::PI * 25.0).abs() < 1e-9, "{area}");
    }

    #[test]
    fn a_stream_is_as_wide_as_it_says() {
        let shapes = with_width(&[Point::new(-30.0, 10.0), Point::new(30.0, 20.0)], 4.0);
        assert!(shapes.iter().any(|s| s.contains(Point::new(0.0, 15.0 + 1.9))));
        assert!(!shapes.iter().any(|s| s.contains(Point::new(0.0, 15.0 + 2.2))));
    }
}
