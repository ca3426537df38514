//! Measuring on the ground: distances and carries between two places, the width of a gap, the angle of a front edge, what a
//! distance marker reads, and whether card, line and marker agree.
//!
//! # References
//! Markers read to the middle of the green (common practice; some clubs measure to the front, so a marker says which). Length of
//! a hole against its line: reference/open-formats 6.2.

use super::attach::chord;
use crate::course::Hole;
use crate::ground::plane::{edges, meeting, nearest_on};
use crate::ground::{Ground, Point, Polygon, Putting, Surface};
use crate::units::{Length, LengthUnit};

/// What lies between two places.
#[derive(Clone, Debug, PartialEq)]
pub struct Crossed {
    /// Which feature of the ground.
    pub feature: usize,
    /// What it is.
    pub surface: Surface,
    /// Yards from the first place to where it begins; 0 when the place lies in it.
    pub reach: f64,
    /// Yards to where it ends: the carry over it.
    pub carry: f64,
}

/// The dangers on the straight way from one place to another, nearest first.
pub fn crossed(ground: &Ground, from: Point, to: Point) -> Vec<Crossed> {
    let length = from.distance(to);
    let mut found = Vec::new();
    if length <= 0.0 {
        return found;
    }
    let ahead = (to - from).unit();
    for (feature, piece) in ground.features.iter().enumerate().filter(|(_, f)| f.surface.is_danger()) {
        for shape in &piece.shapes {
            let mut cuts: Vec<f64> = shape
                .rings()
                .flat_map(edges)
                .filter_map(|edge| meeting((from, to), edge))
                .map(|p| (p - from).dot(ahead))
                .collect();
            cuts.extend([0.0, length]);
            cuts.sort_by(f64::total_cmp);
            for pair in cuts.windows(2) {
                let [near, far] = pair else { continue };
                if far - near > 1e-6 && shape.contains(from + ahead * ((near + far) / 2.0)) {
                    found.push(Crossed { feature, surface: piece.surface, reach: *near, carry: *far });
                }
            }
        }
    }
    found.sort_by(|a, b| a.feature.cmp(&b.feature).then(a.reach.total_cmp(&b.reach)));
    // A surface drawn in several pieces is one danger where they touch.
    let mut whole: Vec<Crossed> = Vec::new();
    for piece in found {
        match whole.last_mut().filter(|w| w.feature == piece.feature && piece.reach - w.carry < 1e-6) {
            Some(last) => last.carry = last.carry.max(piece.carry),
            None => whole.push(piece),
        }
    }
    whole.sort_by(|a, b| a.reach.total_cmp(&b.reach));
    whole
}

/// Two places of a hole measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Between {
    /// The straight distance, yards: what a ball flies.
    pub straight: f64,
    /// How much farther along the line the second place lies, yards; negative when it lies back.
    pub along: f64,
    /// How much higher the second place lies, yards.
    pub rise: f64,
    /// Compass direction from the first to the second, degrees, where the hole's bearing is known.
    pub bearing: Option<f64>,
    /// The dangers on the straight way, nearest first, each with its reach and its carry.
    pub crossed: Vec<Crossed>,
}

/// Measures from one place of a hole to another, both in the hole's plane.
pub fn between(hole: &Hole, from: Point, to: Point) -> Between {
    let line = hole.ground.line();
    let (a, b) = (line.locate(from).0, line.locate(to).0);
    let away = to - from;
    let turn = if away.length() > 0.0 { away.degrees() } else { 0.0 };
    Between {
        straight: from.distance(to),
        along: b.0 - a.0,
        rise: hole.ground.height_at(b) - hole.ground.height_at(a),
        bearing: hole.bearing.map(|first| libm::fmod(first + turn + 720.0, 360.0)),
        crossed: crossed(&hole.ground, from, to),
    }
}

/// A distance marker on a hole: against the ground, and against what the card leaves from there.
#[derive(Clone, Debug, PartialEq)]
pub struct MarkerHere {
    /// Against the ground.
    pub check: MarkerCheck,
    /// What the card leaves from the marker: its length less what has been played along the line, yards; by tee.
    pub card_leaves: Vec<(String, f64)>,
    /// Where marker, line and card do not agree, in sentences without a full stop.
    pub warnings: Vec<String>,
}

/// Holds a marker that stands at a place against line and card. `None` on a hole without a green.
pub fn marker_here(hole: &Hole, reads: Length, at: Point, to: Reference, unit: LengthUnit) -> Option<MarkerHere> {
    let green = hole.ground.green.as_ref()?;
    let check = marker(reads, at, green, to);
    let show = |yards: f64| Length::yards(yards).show(unit);
    let along = hole.ground.line().locate(at).0.0;
    // The card counts to the middle of the green; a marker to the front reads half its depth less.
    let short = if to == Reference::Front { green.depth / 2.0 } else { 0.0 };
    let card_leaves: Vec<(String, f64)> =
        hole.tees.iter().map(|tee| (tee.name.clone(), tee.length - (along - tee.at.0) - short)).collect();
    let mut warnings = Vec::new();
    if !check.agrees {
        let what = if to == Reference::Front { "the front" } else { "the middle" };
        warnings.push(format!(
            "the marker reads {} and {what} of the green is {} away",
            show(check.reads),
            show(check.measured)
        ));
    }
    for (tee, leaves) in &card_leaves {
        if (leaves - check.reads).abs() > CARD.max(check.reads * 0.05) {
            warnings.push(format!(
                "by the card from {tee} there are {} left here, and the marker reads {}",
                show(*leaves),
                show(check.reads)
            ));
        }
    }
    warnings.extend(line_and_card(hole, unit));
    Some(MarkerHere { check, card_leaves, warnings })
}

/// Where the card's lengths do not fit the drawn line, in sentences without a full stop.
pub fn line_and_card(hole: &Hole, unit: LengthUnit) -> Vec<String> {
    let along = |tee: &crate::course::HoleTee| hole.ground.length.0 - tee.at.0;
    let told = hole.tees.iter().filter_map(|tee| Some((tee, length_disagrees(tee.length, along(tee), unit)?)));
    told.map(|(tee, words)| format!("{}: {words}", tee.name)).collect()
}

/// The gap between two pieces of ground: its ends and its width in yards. `None` when one of them has no surface; the width is 0
/// where they touch.
pub fn gap(a: &[Polygon], b: &[Polygon]) -> Option<(Point, Point, f64)> {
    let mut best: Option<(Point, Point, f64)> = None;
    let mut offer = |from: Point, to: Point| {
        let width = from.distance(to);
        if best.is_none_or(|(_, _, known)| width < known) {
            best = Some((from, to, width));
        }
    };
    for (one, other) in a.iter().flat_map(|s| b.iter().map(move |o| (s, o))) {
        for edge in edges(&one.outer) {
            for side in edges(&other.outer) {
                if let Some(place) = meeting(edge, side) {
                    offer(place, place);
                }
                offer(edge.0, nearest_on(side.0, side.1, edge.0));
                offer(nearest_on(edge.0, edge.1, side.0), side.0);
            }
        }
        let inside = |shape: &Polygon, other: &Polygon| other.outer.first().copied().filter(|p| shape.contains(*p));
        if let Some(place) = inside(one, other).or_else(|| inside(other, one)) {
            offer(place, place);
        }
    }
    best
}

/// How the front edge of a green lies across the line of play, in degrees: 0 is square, positive when the right of it is
/// farther away. Measured between the quarters of its width. `None` for a green without a front there.
pub fn front_edge_deg(green: &Putting, heading_deg: f64) -> Option<f64> {
    let ahead = Point::towards(heading_deg);
    let right = ahead.to_the_right();
    let front = |side: f64| {
        let place = green.middle + right * (side * green.width / 4.0);
        chord(&green.outline, place, ahead).map(|(front, _)| front)
    };
    let (left, right_end) = (front(-1.0)?, front(1.0)?);
    let along = right_end - left;
    Some(libm::atan2(along.dot(ahead), along.dot(right)).to_degrees())
}

/// To what a distance marker reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Reference {
    /// The middle of the green.
    #[default]
    Middle,
    /// Its front edge.
    Front,
}

/// A distance marker against the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MarkerCheck {
    /// What it reads, yards.
    pub reads: f64,
    /// What it is, yards.
    pub measured: f64,
    /// Whether they agree.
    pub agrees: bool,
}

/// A marker and the card may be apart by this and still agree, yards (open-formats 6.2).
const CARD: f64 = 15.0;
/// A marker may be off by this and still agree: what a fix of a phone can be off, yards.
const MARKER: f64 = 6.0;

/// Compares a marker with the straight distance to the green.
pub fn marker(reads: Length, at: Point, green: &Putting, reference: Reference) -> MarkerCheck {
    let to = match reference {
        Reference::Middle => green.middle,
        Reference::Front => green.front_point,
    };
    let measured = at.distance(to);
    let reads = reads.as_yards();
    MarkerCheck { reads, measured, agrees: (reads - measured).abs() <= MARKER.max(reads * 0.03) }
}

/// Whether the length of the card fits the measured line: within 5 % or 15 yards. Gives the words of a warning when not.
pub fn length_disagrees(card: f64, line: f64, unit: LengthUnit) -> Option<String> {
    let apart = (card - line).abs();
    if apart <= (0.05 * card).max(15.0) {
        return None;
    }
    let show = |yards: f64| Length::yards(yards).show(unit);
    Some(format!("the card says {} and the line measures {}", show(card), show(line)))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::ground::{Face, Feature};
    use crate::units::Along;

    fn square(right: f64, ahead: f64, side: f64) -> Polygon {
        let half = side / 2.0;
        Polygon::simple(vec![
            Point::new(right - half, ahead - half),
            Point::new(right - half, ahead + half),
            Point::new(right + half, ahead + half),
            Point::new(right + half, ahead - half),
        ])
    }

    fn ground(shapes: Vec<Polygon>) -> Ground {
        let feature = Feature { name: "Pit".into(), named: true, surface: Surface::Bunker, face: Face::Usual, shapes };
        Ground {
            bends: Vec::new(),
            length: Along(300.0),
            tees: Vec::new(),
            features: vec![feature],
            green: None,
            heights: Vec::new(),
        }
    }

    #[test]
    fn a_carry_is_measured_to_the_far_edge() {
        let ground = ground(vec![square(0.0, 200.0, 20.0)]);
        let over = crossed(&ground, Point::new(0.0, 0.0), Point::new(0.0, 280.0));
        assert_eq!(over.len(), 1);
        assert!((over[0].reach - 190.0).abs() < 1e-9 && (over[0].carry - 210.0).abs() < 1e-9);
        let out_of = crossed(&ground, Point::new(0.0, 195.0), Point::new(0.0, 280.0));
        assert_eq!(out_of[0].reach, 0.0);
        assert!((out_of[0].carry - 15.0).abs() < 1e-9);
        assert!(crossed(&ground, Point::new(30.0, 0.0), Point::new(30.0, 280.0)).is_empty());
    }

    #[test]
    fn a_gap_is_as_wide_as_its_narrowest() {
        let (_, _, width) = gap(&[square(0.0, 0.0, 10.0)], &[square(25.0, 3.0, 10.0)]).unwrap();
        assert!((width - 15.0).abs() < 1e-9);
        assert_eq!(gap(&[square(0.0, 0.0, 10.0)], &[square(6.0, 0.0, 10.0)]).unwrap().2, 0.0);
        assert_eq!(gap(&[square(0.0, 0.0, 30.0)], &[square(0.0, 0.0, 4.0)]).unwrap().2, 0.0, "one in the other");
        assert_eq!(gap(&[], &[square(0.0, 0.0, 4.0)]), None);
    }

    fn green(outline: Polygon) -> Putting {
        Putting {
            front: Along(285.0),
            depth: 30.0,
            width: 30.0,
            middle: Point::new(0.0, 300.0),
            front_point: Point::new(0.0, 285.0),
            back_point: Point::new(0.0, 315.0),
            axis_deg: 0.0,
            outline,
            falls: None,
        }
    }

    #[test]
    fn a_front_edge_that_falls_away_to_the_right_is_positive() {
        let slanted = Polygon::simple(vec![
            Point::new(-15.0, 280.0),
            Point::new(-15.0, 315.0),
            Point::new(15.0, 315.0),
            Point::new(15.0, 290.0),
        ]);
        let degrees = front_edge_deg(&green(slanted.clone()), 0.0).unwrap();
        assert!((degrees - libm::atan2(10.0, 30.0).to_degrees()).abs() < 1e-9, "{degrees}");
        let mirrored = front_edge_deg(&green(slanted.mirrored()), 0.0).unwrap();
        assert!((degrees + mirrored).abs() < 1e-9);
        assert!(front_edge_deg(&green(square(0.0, 300.0, 30.0)), 0.0).unwrap().abs() < 1e-9);
    }

    #[test]
    fn a_hole_is_measured_from_place_to_place() {
        let text = include_str!("../../sample-courses/corvane.yaml");
        let course = crate::course::read(text).0.unwrap();
        let hole = course.hole(4).unwrap();
        let line = hole.ground.line();
        let place = |at: f64, across: f64| line.place(Along(at), crate::units::Across(across));
        let over = between(hole, place(0.0, 0.0), place(256.0, -20.0));
        let kettle = over.crossed.iter().find(|c| hole.ground.features[c.feature].name == "Kettle").unwrap();
        assert!(kettle.reach > 230.0 && kettle.carry < 262.0 && kettle.reach < kettle.carry, "{kettle:?}");
        assert!((over.along - 256.0).abs() < 0.5);
        assert!((over.bearing.unwrap() - hole.bearing.unwrap()).abs() < 6.0);
        let back = between(hole, place(256.0, -20.0), place(0.0, 0.0));
        assert!((back.straight - over.straight).abs() < 1e-9 && (back.rise + over.rise).abs() < 1e-9);
        let middle = hole.ground.green.as_ref().unwrap().middle;
        let at = line.place(Along(hole.ground.length.0 - 150.0), crate::units::Across(0.0));
        let reads = Length::yards(at.distance(middle));
        let here = marker_here(hole, reads, at, Reference::Middle, LengthUnit::Yards).unwrap();
        assert_eq!(here.warnings, Vec::<String>::new());
        let wrong = marker_here(hole, Length::yards(190.0), at, Reference::Middle, LengthUnit::Yards).unwrap();
        assert!(!wrong.check.agrees && wrong.warnings.len() > 1, "{wrong:?}");
    }

    #[test]
    fn markers_and_cards_are_told_apart_from_the_ground() {
        let green = green(square(0.0, 300.0, 30.0));
        let at = Point::new(0.0, 150.0);
        assert!(marker(Length::yards(150.0), at, &green, Reference::Middle).agrees);
        assert!(!marker(Length::yards(150.0), at, &green, Reference::Front).agrees, "135 to the front");
        assert!(!marker(Length::metres(150.0), at, &green, Reference::Middle).agrees);
        assert_eq!(length_disagrees(400.0, 412.0, LengthUnit::Yards), None);
        assert!(length_disagrees(400.0, 425.0, LengthUnit::Yards).is_some());
        assert_eq!(length_disagrees(160.0, 173.0, LengthUnit::Yards), None, "15 yards on a short hole");
    }
}
