//! A computed line as a person speaks it: by a landmark, by the edge of a danger, by the line of the hole.

use crate::course::{Course, Hole, Landmark};
use crate::ground::{Point, Surface};
use crate::units::{Length, LengthUnit};

/// A landmark further off the line than this, in degrees, is no help to the eye.
const NEAR_DEG: f64 = 9.0;
/// A danger's edge serves when it lies within this of the finish along the shot, yards.
const NEAR_YARDS: f64 = 45.0;
/// Less than this aside is at the thing itself, yards.
const AT: f64 = 2.5;

/// How to speak the line from `from` to `to` on `hole`; on the tee when `from_tee`.
pub fn line(course: &Course, hole: &Hole, from: Point, to: Point, from_tee: bool, units: LengthUnit) -> String {
    let away = Point { right: to.right - from.right, ahead: to.ahead - from.ahead };
    let reach = away.length();
    if reach < 1.0 {
        return "where it lies".to_owned();
    }
    let aim = away.right.atan2(away.ahead).to_degrees();
    if on_green(hole, to) {
        return at_green(hole, from, to, units);
    }
    let seen = hole.landmarks.iter().chain(&course.landmarks).filter(|l| from_tee || seen_elsewhere(l));
    let best = seen
        .filter_map(|l| Some((l, turn(aim - direction(hole, l, from)?))))
        .filter(|(_, off)| off.abs() <= NEAR_DEG)
        .min_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
    if let Some((landmark, off)) = best {
        return beside(reach * off.to_radians().tan(), &landmark.name, units);
    }
    edge_of_danger(hole, from, away, reach, units).unwrap_or_else(|| {
        let (_, across) = hole.ground.line().locate(to);
        beside(across.0, "the line of the hole", units)
    })
}

fn beside(right: f64, of: &str, units: LengthUnit) -> String {
    if right.abs() < AT {
        return format!("at {of}");
    }
    let figure = Length::yards(right.abs()).show(units);
    format!("{figure} {} {} of {of}", units.word(), if right > 0.0 { "right" } else { "left" })
}

/// The difference of two directions, -180 to 180 degrees.
fn turn(deg: f64) -> f64 {
    (deg + 180.0).rem_euclid(360.0) - 180.0
}

/// A landmark said to be seen from the tee only is not spoken of later.
fn seen_elsewhere(landmark: &Landmark) -> bool {
    landmark.seen_from.as_deref().is_none_or(|s| s != "tee")
}

/// The direction to a landmark in the plane, degrees clockwise from ahead.
pub(super) fn direction(hole: &Hole, landmark: &Landmark, from: Point) -> Option<f64> {
    if let Some(at) = landmark.at {
        let place = hole.ground.line().place(at, landmark.across.unwrap_or_default());
        let away = Point { right: place.right - from.right, ahead: place.ahead - from.ahead };
        return Some(away.right.atan2(away.ahead).to_degrees());
    }
    Some(landmark.bearing? - hole.bearing?)
}

fn on_green(hole: &Hole, to: Point) -> bool {
    hole.ground.green.as_ref().is_some_and(|g| g.outline.contains(to) || (g.middle - to).length() < 6.0)
}

fn at_green(hole: &Hole, from: Point, to: Point, units: LengthUnit) -> String {
    let Some(green) = &hole.ground.green else { return "at the green".to_owned() };
    let shot = Point { right: green.middle.right - from.right, ahead: green.middle.ahead - from.ahead };
    let unit = if shot.length() > 1.0 { shot.unit() } else { Point { right: 0.0, ahead: 1.0 } };
    let off = to - green.middle;
    let right = off.right * unit.ahead - off.ahead * unit.right;
    let past = off.right * unit.right + off.ahead * unit.ahead;
    let mut words = if right.abs() < AT {
        "at the middle of the green".to_owned()
    } else {
        beside(right, "the middle of the green", units)
    };
    if past.abs() >= AT {
        let figure = Length::yards(past.abs()).show(units);
        words.push_str(&format!(", {figure} {}", if past > 0.0 { "past it" } else { "short of it" }));
    }
    words
}

/// `12 yards left of Kettle's right edge`: the nearest named edge level with the finish.
fn edge_of_danger(hole: &Hole, from: Point, away: Point, reach: f64, units: LengthUnit) -> Option<String> {
    let unit = Point { right: away.right / reach, ahead: away.ahead / reach };
    let mut best: Option<(f64, String)> = None;
    for feature in hole.ground.features.iter().filter(|f| f.named && f.surface.is_danger() && f.surface != Surface::Out)
    {
        let spots = feature.shapes.iter().flat_map(|s| s.outer.iter());
        let (mut left, mut right, mut level) = (f64::INFINITY, f64::NEG_INFINITY, false);
        for spot in spots {
            let d = Point { right: spot.right - from.right, ahead: spot.ahead - from.ahead };
            let along = d.right * unit.right + d.ahead * unit.ahead;
            let across = d.right * unit.ahead - d.ahead * unit.right;
            if (along - reach).abs() < NEAR_YARDS {
                level = true;
                left = left.min(across);
                right = right.max(across);
            }
        }
        if !level {
            continue;
        }
        // The edge that faces the line, as the eye finds it.
        let (edge, side) = if left > 0.0 { (left, "left") } else { (right, "right") };
        if edge.abs() <= 60.0 && best.as_ref().is_none_or(|(b, _)| edge.abs() < *b) {
            best = Some((edge.abs(), beside(-edge, &format!("{}'s {side} edge", feature.name), units)));
        }
    }
    best.map(|(_, words)| words)
}
