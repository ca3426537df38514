//! Where the hole is cut on a green, how far from its edges, and whether that is a good place.

use crate::course::HoleLocationArea;
use crate::course::day::{GreenSide, HoleLocation};
use crate::ground::{Point, Putting};
use crate::putting::{GreenSpeed, HoleAdvice, hole_advice};
use crate::units::{Length, LengthUnit};

/// Nearer to an edge than this a hole location is seldom wanted, yards: "at least four paces from any edge" (common practice; the
/// USGA's guide to hole locations names four paces).
const FEW_PACES: f64 = 4.0;

/// Distances from the hole to the edges of the green along and across its own axis, yards; negative where it lies beyond the edge.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Edges {
    /// To the front edge.
    pub front: f64,
    /// To the back edge.
    pub back: f64,
    /// To the left edge.
    pub left: f64,
    /// To the right edge.
    pub right: f64,
    /// To the nearest edge in any direction; negative off the green.
    pub nearest: f64,
}

/// The axis of a green and the direction to its right.
fn axes(green: &Putting) -> (Point, Point) {
    let ahead = Point::towards(green.axis_deg);
    (ahead, ahead.to_the_right())
}

/// Where a line through `at` along `way` meets the edge of the green, yards along it: the nearest stretch of green about it.
fn across(green: &Putting, at: Point, way: Point) -> Option<(f64, f64)> {
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for (a, b) in crate::ground::plane::edges(&green.outline.outer) {
        let (da, db) = (way.turn_to(a - at), way.turn_to(b - at));
        if (da > 0.0) != (db > 0.0) {
            let p = a + (b - a) * (da / (da - db));
            let along = (p - at).dot(way);
            low = low.min(along);
            high = high.max(along);
        }
    }
    (low < high).then_some((low, high))
}

/// The place of a hole location: paces on from the front edge along the green's own axis, and in from a side at that depth; between
/// the sides where none is given; areas in their middles. A place beyond an edge is held a yard inside it.
pub fn place_of(green: &Putting, location: &HoleLocation, unit: LengthUnit) -> Point {
    let (ahead, right) = axes(green);
    let whole = across(green, green.middle, ahead).unwrap_or((-green.depth / 2.0, green.depth / 2.0));
    let yards = |paces: f64| Length::new(paces, unit).as_yards();
    let (on, side) = match location {
        HoleLocation::Paced { on, from_side } => (yards(*on), from_side.map(|(paces, side)| (yards(paces), side))),
        HoleLocation::Areas(areas) => {
            let depth = whole.1 - whole.0;
            let has = |area| areas.contains(&area);
            let on = if has(HoleLocationArea::Front) {
                depth / 6.0
            } else if has(HoleLocationArea::Back) {
                depth * 5.0 / 6.0
            } else {
                depth / 2.0
            };
            let quarter = green.width / 4.0;
            let side = if has(HoleLocationArea::Left) {
                Some((quarter, GreenSide::Left))
            } else if has(HoleLocationArea::Right) {
                Some((quarter, GreenSide::Right))
            } else {
                None
            };
            (on, side)
        }
    };
    let at_depth = green.middle + ahead * (whole.0 + on).clamp(whole.0 + 1.0, (whole.1 - 1.0).max(whole.0 + 1.0));
    let Some((left, far)) = across(green, at_depth, right) else { return at_depth };
    let inside = |v: f64| v.clamp(left + 1.0, (far - 1.0).max(left + 1.0));
    let beside = match side {
        Some((paces, GreenSide::Left)) => inside(left + paces),
        Some((paces, GreenSide::Right)) => inside(far - paces),
        None => 0.5 * (left + far),
    };
    at_depth + right * beside
}

/// How far a place on the green is from its edges.
pub fn edges(green: &Putting, at: Point) -> Edges {
    let (ahead, right) = axes(green);
    let (front, back) = across(green, at, ahead).unwrap_or((0.0, 0.0));
    let (left, far) = across(green, at, right).unwrap_or((0.0, 0.0));
    Edges { front: -front, back, left: -left, right: far, nearest: -green.outline.distance(at) }
}

/// What to say of a hole location.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PinAdvice {
    /// It lies this many yards from the nearest edge, which is close.
    Close(f64),
    /// The ground falls by so many per cent there: marginal, too steep, or nothing stops.
    Steep(f64, HoleAdvice),
}

/// Advice on a hole location: near an edge, or on too steep a slope for the green speed. The Committee decides.
pub fn advice(green: &Putting, at: Point, grade_pct: Option<f64>, speed: GreenSpeed) -> Vec<PinAdvice> {
    let mut out = Vec::new();
    let near = edges(green, at).nearest;
    if near < FEW_PACES - 0.25 {
        out.push(PinAdvice::Close(near.max(0.0)));
    }
    if let Some(pct) = grade_pct {
        let said = hole_advice(speed, pct);
        if said != HoleAdvice::Fine {
            out.push(PinAdvice::Steep(pct, said));
        }
    }
    out
}

impl PinAdvice {
    /// In a few words.
    pub fn words(&self, unit: LengthUnit) -> String {
        match self {
            Self::Close(yards) => format!("{} from the edge", Length::yards(*yards).show(unit)),
            Self::Steep(pct, said) => format!(
                "{pct:.1} % there, {}",
                match said {
                    HoleAdvice::NothingStops => "no ball stops",
                    HoleAdvice::TooSteep => "too steep for this speed",
                    _ => "marginal for this speed",
                }
            ),
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn greens() -> Vec<Putting> {
        let (course, _) = crate::course::read(include_str!("../../sample-courses/corvane.yaml"));
        course.unwrap().holes.into_iter().filter_map(|h| h.ground.green).collect()
    }

    proptest! {
        /// Paces written and paces measured back are the same wherever the place lies on the green.
        #[test]
        fn paces_are_what_was_paced(n in 0usize..18, on in 6.0..20.0f64, side in 4.0..9.0f64, left: bool) {
            let green = greens().into_iter().nth(n).unwrap();
            let side = (side, if left { GreenSide::Left } else { GreenSide::Right });
            let location = HoleLocation::Paced { on, from_side: Some(side) };
            let at = place_of(&green, &location, LengthUnit::Yards);
            prop_assume!(green.outline.contains(at));
            let found = edges(&green, at);
            let (ahead, _) = axes(&green);
            let (front, _) = across(&green, green.middle, ahead).unwrap();
            prop_assert!(((at - green.middle).dot(ahead) - front - on).abs() < 1e-6);
            let inside = if left { found.left } else { found.right };
            prop_assert!((inside - side.0).abs() < 1e-6, "{found:?}");
        }
    }

    #[test]
    fn every_location_lies_on_the_green() {
        for green in greens() {
            for on in [0.0, 3.0, 15.0, 60.0] {
                for from_side in [None, Some((0.0, GreenSide::Left)), Some((80.0, GreenSide::Right))] {
                    let at = place_of(&green, &HoleLocation::Paced { on, from_side }, LengthUnit::Yards);
                    assert!(green.outline.distance(at) < 0.5, "{on} {from_side:?}");
                }
            }
        }
    }
}
