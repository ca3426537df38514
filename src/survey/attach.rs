//! Which green, tees and ground belong to which hole: by geometry, never by the order of a file.
//!
//! # References
//! reference/open-formats 1.9: the distances below, in metres.

use super::element::Map;
use super::hole::{Along, FoundGreen, FoundTee};
use super::kind::Kind;
use super::lines::HoleTrack;
use super::placed::{Lies, Placed};
use super::track::{Track, metres};
use super::values::tee_names;
use crate::ground::plane::edges;
use crate::ground::{Point, Polygon};

/// A green this near to the last place of a line is its green.
const GREEN: f64 = metres(40.0);
/// A tee this near to the first place is one of its tees.
const TEE: f64 = metres(30.0);
/// Or this near to the first quarter of the line.
const TEE_BESIDE: f64 = metres(45.0);
/// Bunkers, penalty areas and boundaries this near threaten the hole.
const DANGER: f64 = metres(70.0);
/// Trees and long grass this near.
const COVER: f64 = metres(40.0);
/// A fairway that does not touch a line.
const FAIRWAY: f64 = metres(30.0);
/// A fringe round a green.
const FRINGE: f64 = metres(10.0);

/// Holes that a drawn feature names itself, so that what a person put right by hand stays so.
fn named(map: &Map, item: &Placed) -> Option<Vec<String>> {
    let text = map.elements.get(item.element)?.tags.get("holes")?;
    let holes: Vec<String> = text.split(';').map(|h| h.trim().to_owned()).filter(|h| !h.is_empty()).collect();
    (!holes.is_empty()).then_some(holes)
}

/// The green of each hole: the one that holds its last place, else the nearest within reach.
pub fn greens(map: &Map, placed: &[Placed], members: &[usize], tracks: &[HoleTrack]) -> Vec<Option<FoundGreen>> {
    let greens: Vec<usize> = of_kind(placed, members, |k| *k == Kind::Green);
    let chosen: Vec<Option<usize>> = tracks.iter().map(|hole| green_of(map, placed, &greens, hole)).collect();
    tracks
        .iter()
        .zip(&chosen)
        .map(|(hole, green)| {
            let index = (*green)?;
            let shared = chosen.iter().filter(|other| **other == Some(index)).count() > 1;
            measure(map, placed, index, &hole.track, shared)
        })
        .collect()
}

fn green_of(map: &Map, placed: &[Placed], greens: &[usize], hole: &HoleTrack) -> Option<usize> {
    let own = placed.get(hole.index).and_then(|p| names_of(map, p));
    let item = |index: &usize| placed.get(*index);
    let said = greens.iter().find(|i| {
        let listed = item(i).and_then(|g| named(map, g));
        listed.zip(own.as_ref()).is_some_and(|(listed, own)| own.iter().any(|name| listed.contains(name)))
    });
    if let Some(said) = said {
        return Some(*said);
    }
    let last = hole.track.end();
    let away = |point: Point| {
        let near = greens.iter().filter_map(move |i| Some((*i, item(i)?.distance(point))));
        near.min_by(|a, b| a.1.total_cmp(&b.1))
    };
    // A line that runs on past its green: another of its last places may lie on one.
    let length = hole.track.length();
    let mut left = 0.0;
    let mut back = hole.track.0.iter().rev().peekable();
    while let Some(point) = back.next() {
        if let Some((green, distance)) = away(*point).filter(|(_, d)| *d <= 0.0) {
            let _ = distance;
            return Some(green);
        }
        left += back.peek().map_or(0.0, |next| next.distance(*point));
        if left > length / 4.0 || left > metres(60.0) {
            break;
        }
    }
    away(last).filter(|(_, distance)| *distance <= GREEN).map(|(green, _)| green)
}

/// How a hole may be named by a drawn feature: by the id of its line, and by its number.
fn names_of(map: &Map, hole: &Placed) -> Option<Vec<String>> {
    let element = map.elements.get(hole.element)?;
    let number = element.tags.get("ref").and_then(|r| super::values::reference(r).number);
    Some(std::iter::once(element.id.clone()).chain(number.map(|n| n.to_string())).collect())
}

/// Front, back and width of a green on the line of play through the hole's target.
fn measure(map: &Map, placed: &[Placed], index: usize, track: &Track, shared: bool) -> Option<FoundGreen> {
    let item = placed.get(index)?;
    let shape = item.shapes().iter().min_by(|a, b| a.distance(track.end()).total_cmp(&b.distance(track.end())))?;
    // Each hole of a shared green has its own part of it, round the end of its line.
    let target = if shared && shape.contains(track.end()) { track.end() } else { shape.middle() };
    let target = if shape.contains(target) { target } else { shape.nearest_edge(target)? };
    let from = track.0.iter().rev().find(|p| !shape.contains(**p) && p.distance(target) > metres(5.0))?;
    let ahead = (target - *from).unit();
    let (front, back) = chord(shape, target, ahead)?;
    let middle = (front + back) * 0.5;
    let (left, right) = chord(shape, middle, ahead.to_the_right())?;
    let id = map.elements.get(item.element)?.id.clone();
    Some(FoundGreen { index, id, shared, front, back, width: left.distance(right) })
}

/// Where the line through `place` in direction `ahead` meets the edge before and after it.
pub fn chord(shape: &Polygon, place: Point, ahead: Point) -> Option<(Point, Point)> {
    let mut before: Option<f64> = None;
    let mut after: Option<f64> = None;
    for (a, b) in edges(&shape.outer) {
        let (side_a, side_b) = (ahead.turn_to(a - place), ahead.turn_to(b - place));
        if side_a == side_b || side_a.min(side_b) > 0.0 || side_a.max(side_b) < 0.0 {
            continue;
        }
        let meets = a + (b - a) * (side_a / (side_a - side_b));
        let along = (meets - place).dot(ahead);
        if along <= 1e-9 {
            before = Some(before.map_or(along, |known| known.max(along)));
        }
        if along >= -1e-9 {
            after = Some(after.map_or(along, |known| known.min(along)));
        }
    }
    Some((place + ahead * before?, place + ahead * after?))
}

fn of_kind(placed: &[Placed], members: &[usize], is: impl Fn(&Kind) -> bool) -> Vec<usize> {
    members.iter().copied().filter(|i| placed.get(*i).is_some_and(|p| is(&p.kind))).collect()
}

/// The tees of each hole, the farthest from the green first, and the tees of none.
pub fn tees(map: &Map, placed: &[Placed], members: &[usize], tracks: &[HoleTrack]) -> (Vec<Vec<FoundTee>>, Vec<usize>) {
    let mut found: Vec<Vec<FoundTee>> = vec![Vec::new(); tracks.len()];
    let mut left = Vec::new();
    for index in of_kind(placed, members, |k| *k == Kind::Tee) {
        let Some(item) = placed.get(index) else { continue };
        let homes = tee_homes(map, placed, item, tracks);
        if homes.is_empty() {
            left.push(index);
        }
        let Some(element) = map.elements.get(item.element) else { continue };
        let names = tee_names(&element.tags);
        for home in homes {
            let (Some(hole), Some(list)) = (tracks.get(home), found.get_mut(home)) else { continue };
            let place = hole.track.beside(item.middle);
            let tee = |name: Option<String>| FoundTee {
                name,
                id: element.id.clone(),
                point: item.middle,
                along: place.along,
                across: place.across,
                length: hole.track.length() - place.along,
            };
            if names.is_empty() {
                list.push(tee(None));
            }
            list.extend(names.iter().map(|name| tee(Some(name.clone()))));
        }
    }
    for list in &mut found {
        list.sort_by(|a, b| a.along.total_cmp(&b.along));
    }
    (found, left)
}

fn tee_homes(map: &Map, placed: &[Placed], tee: &Placed, tracks: &[HoleTrack]) -> Vec<usize> {
    let all = || tracks.iter().enumerate();
    if let Some(listed) = named(map, tee) {
        let names = |hole: &HoleTrack| placed.get(hole.index).and_then(|p| names_of(map, p)).unwrap_or_default();
        let homes: Vec<usize> =
            all().filter(|(_, hole)| names(hole).iter().any(|n| listed.contains(n))).map(|(i, _)| i).collect();
        if !homes.is_empty() {
            return homes;
        }
    }
    let holding: Vec<usize> = all().filter(|(_, hole)| tee.holds(hole.track.start())).map(|(i, _)| i).collect();
    if !holding.is_empty() {
        return holding;
    }
    let claims = all().filter_map(|(index, hole)| {
        let from_start = tee.distance(hole.track.start());
        let place = hole.track.beside(tee.middle);
        let on_line = place.distance < 0.05;
        let early = place.along <= hole.track.length() / 4.0 && place.distance <= TEE_BESIDE;
        (from_start <= TEE || early).then_some((index, if on_line { -1.0 } else { from_start }))
    });
    claims.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(index, _)| index).into_iter().collect()
}

/// The hole locations of each hole in the order of the file, and those of none.
pub fn pins(
    map: &Map,
    placed: &[Placed],
    members: &[usize],
    tracks: &[HoleTrack],
    greens: &[Option<FoundGreen>],
) -> (Vec<Vec<(String, Point)>>, Vec<usize>) {
    let mut found: Vec<Vec<(String, Point)>> = vec![Vec::new(); tracks.len()];
    let mut left = Vec::new();
    for index in of_kind(placed, members, |k| *k == Kind::Pin) {
        let Some(item) = placed.get(index) else { continue };
        let Some(element) = map.elements.get(item.element) else { continue };
        let away = |(hole, green): (&HoleTrack, &Option<FoundGreen>)| {
            let on_green = green.as_ref().and_then(|g| placed.get(g.index)).is_some_and(|g| g.holds(item.middle));
            let end = hole.track.end().distance(item.middle);
            // A place of the line decides; on its green is next; else how near to its end.
            let on_line = hole.track.0.iter().any(|p| p.distance(item.middle) < 0.05);
            if on_line {
                -1.0
            } else if on_green {
                end / 1e6
            } else {
                end
            }
        };
        let nearest = tracks.iter().zip(greens).map(away).enumerate().min_by(|a, b| a.1.total_cmp(&b.1));
        match nearest.filter(|(_, distance)| *distance <= GREEN) {
            Some((hole, _)) => {
                if let Some(list) = found.get_mut(hole) {
                    list.push((element.id.clone(), item.middle));
                }
            }
            None => left.push(index),
        }
    }
    (found, left)
}

/// The ground along each hole, nearest first, and golf that lies along none.
pub fn ground(
    map: &Map,
    placed: &[Placed],
    members: &[usize],
    tracks: &[HoleTrack],
    greens: &[Option<FoundGreen>],
) -> (Vec<Vec<Along>>, Vec<usize>) {
    let mut found: Vec<Vec<Along>> = vec![Vec::new(); tracks.len()];
    let mut left = Vec::new();
    for (index, item) in placed.iter().enumerate() {
        let golf = item.kind.is_golf() || map.elements.get(item.element).is_some_and(|e| e.tags.get("golf").is_some());
        // Golf of another course is that course's; water, trees and paths belong to nobody.
        if golf && !members.contains(&index) {
            continue;
        }
        let reach = match item.kind {
            Kind::Bunker | Kind::Penalty(_) | Kind::Out | Kind::Waste => DANGER,
            Kind::Trees | Kind::Deep | Kind::Rough | Kind::Path => COVER,
            Kind::Fairway | Kind::Fringe => FAIRWAY,
            _ => continue,
        };
        let homes = homes_of(map, placed, item, tracks, greens, reach);
        if homes.is_empty() && golf {
            left.push(index);
        }
        for (home, along) in homes {
            if let Some(list) = found.get_mut(home) {
                list.push(Along { index, ..along });
            }
        }
    }
    for list in &mut found {
        list.sort_by(|a, b| a.from.total_cmp(&b.from).then(a.left.total_cmp(&b.left)));
    }
    (found, left)
}

fn homes_of(
    map: &Map,
    placed: &[Placed],
    item: &Placed,
    tracks: &[HoleTrack],
    greens: &[Option<FoundGreen>],
    reach: f64,
) -> Vec<(usize, Along)> {
    let listed = named(map, item);
    let mut homes: Vec<(usize, Along)> = Vec::new();
    for (index, hole) in tracks.iter().enumerate() {
        let said = listed.as_ref().is_some_and(|listed| {
            let names = placed.get(hole.index).and_then(|p| names_of(map, p)).unwrap_or_default();
            names.iter().any(|n| listed.contains(n))
        });
        if listed.is_some() && !said {
            continue;
        }
        let far = |bounds: &crate::ground::plane::Bounds| {
            hole.track.0.windows(2).all(|pair| {
                let [a, b] = pair else { return true };
                let (left, right) = (a.right.min(b.right) - reach, a.right.max(b.right) + reach);
                let (near, end) = (a.ahead.min(b.ahead) - reach, a.ahead.max(b.ahead) + reach);
                bounds.left > right || bounds.right < left || bounds.near > end || bounds.far < near
            })
        };
        if !said && far(&item.bounds) {
            continue;
        }
        let distance = distance(item, &hole.track);
        let near = match (&item.kind, greens.get(index)) {
            (Kind::Fringe, Some(Some(green))) => {
                placed.get(green.index).is_some_and(|g| g.shapes().iter().any(|s| touches(item, s, FRINGE)))
            }
            _ => distance <= reach,
        };
        if said || near {
            homes.push((index, extent(item, &hole.track, distance)));
        }
    }
    let least = homes.iter().map(|(_, along)| along.distance).fold(f64::INFINITY, f64::min);
    if item.kind == Kind::Fairway && listed.is_none() {
        // A fairway that a line runs through is that hole's alone; else it is the nearest hole's.
        homes.retain(|(_, along)| along.distance <= least);
    }
    for (_, along) in &mut homes {
        along.owner = along.distance <= least;
    }
    homes
}

fn touches(item: &Placed, shape: &Polygon, reach: f64) -> bool {
    item.shapes().iter().flat_map(|s| &s.outer).any(|p| shape.distance(*p) <= reach)
}

fn distance(item: &Placed, track: &Track) -> f64 {
    match &item.lies {
        Lies::Point(point) => track.beside(*point).distance,
        Lies::Line(line) => track.distance_to_line(line),
        Lies::Area(shapes) => shapes.iter().map(|s| track.distance(s)).fold(f64::INFINITY, f64::min),
    }
}

fn extent(item: &Placed, track: &Track, distance: f64) -> Along {
    let mut extent = Along {
        index: 0,
        distance,
        from: f64::INFINITY,
        to: f64::NEG_INFINITY,
        left: f64::INFINITY,
        right: f64::NEG_INFINITY,
        owner: false,
    };
    let points: Vec<Point> = match &item.lies {
        Lies::Point(point) => vec![*point],
        Lies::Line(line) => line.clone(),
        Lies::Area(shapes) => shapes.iter().flat_map(|s| s.outer.iter().copied()).collect(),
    };
    for point in points {
        let place = track.beside(point);
        extent.from = extent.from.min(place.along);
        extent.to = extent.to.max(place.along);
        extent.left = extent.left.min(place.across);
        extent.right = extent.right.max(place.across);
    }
    extent
}

/// Rings cut out of fairways that are as large as a green, where no green lies: one exporter loses the greens inside them.
pub fn lost_greens(map: &Map, placed: &[Placed], members: &[usize]) -> Vec<String> {
    let square_metres = |yards: f64| yards * METRES_SQUARED;
    let mut found = Vec::new();
    for index in of_kind(placed, members, |k| *k == Kind::Fairway) {
        let Some(item) = placed.get(index) else { continue };
        for ring in item.shapes().iter().flat_map(|s| &s.inner) {
            let shape = Polygon::simple(ring.clone());
            let area = square_metres(shape.area());
            let middle = shape.middle();
            let taken = placed.iter().any(|p| {
                matches!(p.kind, Kind::Green | Kind::Bunker | Kind::Rough | Kind::Tee | Kind::Penalty(_))
                    && p.holds(middle)
            });
            if (150.0..=1200.0).contains(&area) && !taken {
                let id = map.elements.get(item.element).map_or("a fairway", |e| e.id.as_str());
                found.push(format!("{id}: {area:.0} m² are cut out of this fairway and nothing is drawn there; it may be a green that an exporter lost"));
            }
        }
    }
    found
}

const METRES_SQUARED: f64 = crate::units::length::METRES_PER_YARD * crate::units::length::METRES_PER_YARD;
