//! Hole lines the right way round: from tee to green, or derived where a hole is drawn as a surface.

use super::element::{Element, Map};
use super::kind::Kind;
use super::placed::{Lies, Placed};
use super::track::{Track, metres};
use crate::ground::Point;

/// How near an end of a line must be to a tee or a green to be one (open-formats 1.5).
const NEAR: f64 = metres(20.0);

/// A hole line from tee to green.
#[derive(Clone, Debug)]
pub struct HoleTrack {
    /// Which placed element.
    pub index: usize,
    /// The line, from tee to green.
    pub track: Track,
}

/// What stands at an end of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum End {
    Tee,
    Green,
    Nothing,
}

/// The lines of these holes. A line that runs from green to tee is turned round with a warning, one that cannot be a hole is
/// left out.
pub fn lines(map: &mut Map, placed: &[Placed], holes: &[usize]) -> Vec<HoleTrack> {
    let mut found = Vec::new();
    for &index in holes {
        let Some(item) = placed.get(index) else { continue };
        let Some(id) = map.elements.get(item.element).map(|e: &Element| e.id.clone()) else { continue };
        let track = match &item.lies {
            Lies::Line(line) if !closed(line) => Track(line.clone()),
            Lies::Point(_) => {
                map.discard(id, "a hole is drawn as a line, and this is one place");
                continue;
            }
            // Older advice drew the whole hole as a surface.
            Lies::Line(line) => match derived(placed, &[crate::ground::Polygon::simple(line.clone())]) {
                Some(track) => said(map, &id, track),
                None => {
                    map.discard(id, "the hole is drawn as a surface, and no tee and green lie on it");
                    continue;
                }
            },
            Lies::Area(shapes) => match derived(placed, shapes) {
                Some(track) => said(map, &id, track),
                None => {
                    map.discard(id, "the hole is drawn as a surface, and no tee and green lie on it");
                    continue;
                }
            },
        };
        if track.length() < metres(20.0) {
            map.discard(id, format!("a hole line of {:.0} m is no hole", track.length() * metres(1.0).recip()));
            continue;
        }
        found.push(HoleTrack { index, track: turned(map, placed, &id, track) });
    }
    found
}

fn closed(line: &[Point]) -> bool {
    line.len() > 3 && line.first().zip(line.last()).is_some_and(|(a, b)| a.distance(*b) < 0.02)
}

fn said(map: &mut Map, id: &str, track: Track) -> Track {
    map.warn(format!("{id}: the hole is drawn as a surface; its line runs from the farthest tee on it to the green"));
    track
}

/// From the farthest tee on a surface to the green on it.
fn derived(placed: &[Placed], shapes: &[crate::ground::Polygon]) -> Option<Track> {
    let on = |kind: Kind| {
        let here = placed.iter().filter(move |p| p.kind == kind);
        here.map(|p| p.middle).filter(|m| shapes.iter().any(|s| s.contains(*m)))
    };
    let green = on(Kind::Green).next().or_else(|| on(Kind::Pin).next())?;
    let tee = on(Kind::Tee).max_by(|a, b| a.distance(green).total_cmp(&b.distance(green)))?;
    Some(Track(vec![tee, green]))
}

fn turned(map: &mut Map, placed: &[Placed], id: &str, track: Track) -> Track {
    let ((start, _), (end, exact)) = (end(placed, track.start()), end(placed, track.end()));
    match (start, end) {
        (End::Green, End::Tee) => {
            map.warn(format!("{id}: the line runs from green to tee and has been turned round"));
            Track(track.0.into_iter().rev().collect())
        }
        (End::Green, End::Nothing) => {
            map.warn(format!("{id}: the line begins at a green; it may run from green to tee"));
            track
        }
        // A tee on the last place itself; one that merely lies near is the next hole's.
        (End::Nothing, End::Tee) if exact => {
            map.warn(format!("{id}: the line ends on a tee; it may run from green to tee"));
            track
        }
        _ => track,
    }
}

/// What stands at a place, and whether it is that very place: a tee or pin that is a place of the line decides, else the nearer
/// of the two.
fn end(placed: &[Placed], point: Point) -> (End, bool) {
    let mut best = (f64::INFINITY, End::Nothing);
    for item in placed {
        let end = match item.kind {
            Kind::Tee => End::Tee,
            Kind::Green | Kind::Pin => End::Green,
            _ => continue,
        };
        if item.bounds.distance(point) > NEAR {
            continue;
        }
        let away = item.distance(point);
        // On a place of the line itself: nearer than anything that merely lies near.
        let away = if matches!(item.lies, Lies::Point(_)) && away < 0.05 { -1.0 } else { away };
        if away <= NEAR && away < best.0 {
            best = (away, end);
        }
    }
    (best.1, best.0 < 0.0)
}
