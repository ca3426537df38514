//! The map of a hole tied to its notebook: longitude and latitude to places of the hole's own plane.

use super::element::Shape;
use crate::ground::{Flat, LonLat, Point, Polygon};

/// Turns positions of the map into places of a hole: origin at the start of its line, `ahead` along its first leg.
#[derive(Clone, Copy, Debug)]
pub struct Tie {
    flat: Flat,
    start: Point,
    /// The direction of `ahead` on the map, as sine and cosine of its compass direction.
    turn: (f64, f64),
    origin: Point,
}

impl Tie {
    /// The tie that brings the map's `start` to `to_start` of the hole and points its `end` at `to_end`. `None` when either pair
    /// lies on one place.
    pub fn between(start: LonLat, end: LonLat, to_start: Point, to_end: Point) -> Option<Self> {
        // The plane is the hole's own: over one hole it is true to centimetres.
        let flat = Flat::around([start, end])?;
        let (from, to) = (flat.point(start), flat.point(end));
        if from.distance(to) < 10.0 || to_start.distance(to_end) < 10.0 {
            return None;
        }
        let turn = (to - from).degrees() - (to_end - to_start).degrees();
        Some(Self { flat, start: from, turn: libm::sincos(turn.to_radians()), origin: to_start })
    }

    /// A position as a place of the hole's plane.
    pub fn point(&self, position: LonLat) -> Point {
        let away = self.flat.point(position) - self.start;
        let (sin, cos) = self.turn;
        self.origin + Point::new(away.right * cos - away.ahead * sin, away.right * sin + away.ahead * cos)
    }

    /// A place of the hole's plane as a position.
    pub fn position(&self, point: Point) -> LonLat {
        let away = point - self.origin;
        let (sin, cos) = self.turn;
        let back = Point::new(away.right * cos + away.ahead * sin, away.ahead * cos - away.right * sin);
        self.flat.position(self.start + back)
    }

    /// Compass direction of the hole's first leg, degrees.
    pub fn bearing(&self) -> f64 {
        libm::fmod(libm::atan2(self.turn.0, self.turn.1).to_degrees() + 360.0, 360.0)
    }

    /// The surfaces of a shape; none for places and lines.
    pub fn surfaces(&self, shape: &Shape) -> Vec<Polygon> {
        let ring = |positions: &[LonLat]| positions.iter().map(|p| self.point(*p)).collect::<Vec<_>>();
        match shape {
            Shape::Area(patches) => patches
                .iter()
                .map(|p| Polygon { outer: ring(&p.outer), inner: p.inner.iter().map(|r| ring(r)).collect() })
                .collect(),
            _ => Vec::new(),
        }
    }

    /// How far a distance on this hole can be wrong, yards, for ground within `reach` of its middle.
    pub fn error_bound(&self, reach: f64) -> f64 {
        self.flat.error_bound(reach, 2.0 * reach)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn start_and_end_come_where_they_belong_and_right_stays_right() {
        // A hole that runs due east.
        let (start, end) = (LonLat::new(10.0, 50.0), LonLat::new(10.005, 50.0));
        let tie = Tie::between(start, end, Point::default(), Point::new(0.0, 390.0)).unwrap();
        assert!(tie.point(start).length() < 1e-9);
        assert!(tie.point(end).right.abs() < 1e-6 && tie.point(end).ahead > 380.0);
        let south = tie.point(LonLat::new(10.0, 49.9995));
        assert!(south.right > 50.0, "south is right of a hole that runs east: {south:?}");
        assert!((tie.bearing() - 90.0).abs() < 1e-9);
        let back = tie.position(tie.point(LonLat::new(10.003, 50.001)));
        assert!((back.lon - 10.003).abs() < 1e-10 && (back.lat - 50.001).abs() < 1e-10);
    }
}
