//! A flat plane about a place of the earth: longitude and latitude to yards east and north, and back.
//!
//! The plane takes its two scales from the curvature of the ellipsoid at its centre. A sphere would be wrong by up to half a
//! per cent of every distance; this is wrong by less than [`Flat::error_bound`], which for the ground of one hole is
//! centimetres.
//!
//! # References
//! World Geodetic System 1984: semi-major axis 6,378,137 m, flattening 1/298.257223563. Radii of curvature in the meridian
//! and the prime vertical: any textbook of geodesy, as Torge, *Geodesy* (3rd edition, 2001), section 4.1.

use super::Point;
use crate::units::length::METRES_PER_YARD;

/// Semi-major axis of WGS 84, metres.
const SEMI_MAJOR_M: f64 = 6_378_137.0;
/// Flattening of WGS 84.
const FLATTENING: f64 = 1.0 / 298.257_223_563;
/// The least radius of curvature anywhere, in the meridian at the equator, metres.
const LEAST_RADIUS_M: f64 = 6_335_439.0;

/// A position on WGS 84, in degrees.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct LonLat {
    /// Longitude, east positive.
    pub lon: f64,
    /// Latitude, north positive.
    pub lat: f64,
}

impl LonLat {
    /// A position by its two numbers, longitude first as in RFC 7946.
    pub const fn new(lon: f64, lat: f64) -> Self {
        Self { lon, lat }
    }

    /// Whether it is a place of the earth: finite, and not beyond a pole.
    pub fn is_on_earth(self) -> bool {
        self.lon.is_finite() && self.lat.is_finite() && self.lat.abs() <= 90.0 && self.lon.abs() <= 360.0
    }

    /// The same place to 1e-7 degrees, 11 mm: how maps write positions, so equal places compare equal.
    pub fn key(self) -> (i64, i64) {
        // A position lies within 3.6e9 of these steps, far inside what the type holds.
        ((self.lon * 1e7).round() as i64, (self.lat * 1e7).round() as i64)
    }
}

/// The plane about its centre: `right` is east and `ahead` is north, in yards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flat {
    centre: LonLat,
    /// Yards in a degree of longitude.
    east: f64,
    /// Yards in a degree of latitude.
    north: f64,
}

impl Flat {
    /// The plane about `centre`.
    pub fn about(centre: LonLat) -> Self {
        let (sin, cos) = libm::sincos(centre.lat.to_radians());
        let squared = FLATTENING * (2.0 - FLATTENING);
        let under = 1.0 - squared * sin * sin;
        let meridian = SEMI_MAJOR_M * (1.0 - squared) / (under * under.sqrt());
        let prime_vertical = SEMI_MAJOR_M / under.sqrt();
        let yards_per_degree = |radius: f64| radius.to_radians() / METRES_PER_YARD;
        Self { centre, east: yards_per_degree(prime_vertical * cos), north: yards_per_degree(meridian) }
    }

    /// The plane about the middle of the rectangle round some positions; `None` without any.
    pub fn around(positions: impl IntoIterator<Item = LonLat>) -> Option<Self> {
        let mut positions = positions.into_iter();
        let first = positions.next()?;
        let (mut low, mut high) = (first, first);
        for position in positions {
            // Taken near the first, so that a course on the date line has its middle on it.
            let lon = first.lon + turned(position.lon - first.lon);
            low = LonLat::new(low.lon.min(lon), low.lat.min(position.lat));
            high = LonLat::new(high.lon.max(lon), high.lat.max(position.lat));
        }
        Some(Self::about(LonLat::new((low.lon + high.lon) / 2.0, (low.lat + high.lat) / 2.0)))
    }

    /// Its centre.
    pub const fn centre(&self) -> LonLat {
        self.centre
    }

    /// Metres in a degree of longitude and of latitude.
    pub fn metres_per_degree(&self) -> (f64, f64) {
        (self.east * METRES_PER_YARD, self.north * METRES_PER_YARD)
    }

    /// A position in the plane.
    ///
    /// ```
    /// use marram::ground::{Flat, LonLat, Point};
    /// let flat = Flat::about(LonLat::new(-51.1672876, -30.0248633));
    /// let north = flat.point(LonLat::new(-51.1672876, -29.0248633));
    /// assert!((north.ahead * 0.9144 - 110_852.86).abs() < 0.01);
    /// ```
    pub fn point(&self, position: LonLat) -> Point {
        Point::new(turned(position.lon - self.centre.lon) * self.east, (position.lat - self.centre.lat) * self.north)
    }

    /// A point of the plane as a position.
    pub fn position(&self, point: Point) -> LonLat {
        LonLat::new(self.centre.lon + point.right / self.east, self.centre.lat + point.ahead / self.north)
    }

    /// How far the distance of two places can be wrong, in yards: `reach` is how far they lie from the centre at most,
    /// `length` how far from each other.
    ///
    /// East-west scales change with the cosine of the latitude and north-south ones with the radius in the meridian (at most
    /// one part in a hundred of that), so the relative error is at most `(tan φ + 0.01) r/R + ((1 + tan φ) r/R)²`.
    pub fn error_bound(&self, reach: f64, length: f64) -> f64 {
        let share = reach * METRES_PER_YARD / LEAST_RADIUS_M;
        let slope = libm::tan(self.centre.lat.to_radians()).abs();
        let second = (1.0 + slope) * share;
        length * ((slope + 0.01) * share + second * second)
    }
}

/// A difference of longitudes in -180..=180.
fn turned(degrees: f64) -> f64 {
    if degrees > 180.0 {
        degrees - 360.0
    } else if degrees < -180.0 {
        degrees + 360.0
    } else {
        degrees
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use geographiclib_rs::{Geodesic, InverseGeodesic};
    use proptest::prelude::*;

    fn geodesic_m(a: LonLat, b: LonLat) -> f64 {
        Geodesic::wgs84().inverse(a.lat, a.lon, b.lat, b.lon)
    }

    /// Metres a degree at the centre of the Porto Alegre sample (open-formats 4.2, computed there with other code).
    #[test]
    fn the_scales_are_those_of_the_ellipsoid() {
        let (east, north) = Flat::about(LonLat::new(-51.167_287_6, -30.024_863_3)).metres_per_degree();
        assert!((north - 110_852.86).abs() < 0.01, "{north}");
        assert!((east - 96_462.22).abs() < 0.01, "{east}");
    }

    #[test]
    fn a_course_on_the_date_line_is_not_as_wide_as_the_earth() {
        let flat = Flat::around([LonLat::new(179.999, -16.0), LonLat::new(-179.999, -16.0)]).unwrap();
        let (a, b) = (flat.point(LonLat::new(179.999, -16.0)), flat.point(LonLat::new(-179.999, -16.0)));
        assert!(a.distance(b) < 300.0, "{a:?} {b:?}");
    }

    proptest! {
        /// Against Karney's geodesics (geographiclib), on the ground of a hole and of a course.
        #[test]
        fn no_distance_is_wrong_by_more_than_the_bound(
            lat in -70.0..70.0f64, lon in -179.0..179.0f64,
            reach in prop::sample::select(vec![300.0, 1500.0, 3000.0f64]),
            a in (0.0..1.0f64, 0.0..360.0f64), b in (0.0..1.0f64, 0.0..360.0f64),
        ) {
            let flat = Flat::about(LonLat::new(lon, lat));
            let at = |(share, degrees): (f64, f64)| Point::towards(degrees) * (share * reach);
            let (a, b) = (at(a), at(b));
            let true_yards = geodesic_m(flat.position(a), flat.position(b)) / METRES_PER_YARD;
            let bound = flat.error_bound(reach, a.distance(b));
            prop_assert!((true_yards - a.distance(b)).abs() <= bound + 1e-6, "{true_yards} {} {bound}", a.distance(b));
        }

        #[test]
        fn a_position_comes_back(lat in -80.0..80.0f64, lon in -179.0..179.0f64, right in -3000.0..3000.0f64, ahead in -3000.0..3000.0f64) {
            let flat = Flat::about(LonLat::new(lon, lat));
            let point = Point::new(right, ahead);
            prop_assert!(flat.point(flat.position(point)).distance(point) < 1e-6);
        }
    }

    /// A hole of 600 yards at 60 degrees of latitude: less than a hand's breadth.
    #[test]
    fn the_ground_of_a_hole_is_flat_enough() {
        let bound = Flat::about(LonLat::new(10.0, 60.0)).error_bound(300.0, 600.0);
        assert!(bound < 0.06, "{bound} yards");
    }
}
