//! The surveyed ground of a course as GeoJSON: what a notebook's `ground` names, and what any map program opens.
//!
//! Every feature says its `surface` and its `holes`, and keeps the `golf` tags it came with, so that a survey of this file
//! gives the same course again. One feature stands on one line, so that two editions can be compared.
//!
//! # References
//! RFC 7946 (2016): longitude before latitude on WGS 84, exterior rings counter-clockwise and interior ones clockwise, at
//! most seven decimals are worth writing.

use super::element::{Element, Patch, Shape};
use super::hole::{Number, SurveyedHole};
use super::kind::Kind;
use super::one_course::Survey;
use crate::ground::LonLat;
use serde_json::{Map, Value, json};

/// Tags that say something about golf or the ground; the rest of what a map knows is not the notebook's business.
const KEPT: [&str; 20] = [
    "reads",
    "ele",
    "description",
    "golf",
    "name",
    "ref",
    "par",
    "handicap",
    "dist",
    "tee",
    "colour",
    "color",
    "leisure",
    "natural",
    "waterway",
    "landuse",
    "highway",
    "barrier",
    "width",
    "course",
];

/// Writes the ground of a survey. `today` is the date that the file carries.
pub fn write(survey: &Survey, today: &str) -> String {
    let mut out = String::from("{\"type\":\"FeatureCollection\",\n");
    let mut head = |key: &str, value: &str| {
        out.push_str(&format!("{}:{},\n", Value::from(key), Value::from(value)));
    };
    head("format", "marram/ground/1");
    head("name", &survey.name);
    head("surveyed", today);
    if let Some(credit) = survey.credits.first() {
        let all: Vec<&str> = survey.credits.iter().map(|c| c.attribution.as_str()).collect();
        head("attribution", &all.join("; "));
        if let Some(licence) = &credit.licence {
            head("licence", licence);
        }
        if let Some(source) = &credit.source {
            head("source", source);
        }
    }
    out.push_str("\"features\":[\n");
    let lines: Vec<String> = features(survey).into_iter().map(|f| f.to_string()).collect();
    out.push_str(&lines.join(",\n"));
    out.push_str("\n]}\n");
    out
}

fn features(survey: &Survey) -> Vec<Value> {
    let mut written = vec![false; survey.placed.len()];
    let mut features = Vec::new();
    let course = survey.placed.iter().position(|p| p.kind == Kind::Course && course_is(survey, p.element));
    for (index, item) in survey.placed.iter().enumerate().filter(|(i, _)| Some(*i) == course) {
        if let (Some(element), Some(flag)) = (survey.map.elements.get(item.element), written.get_mut(index)) {
            *flag = true;
            features.push(feature(element, &item.kind, None, &element.shape));
        }
    }
    for hole in &survey.holes {
        features.push(line_of_play(survey, hole));
        let mut own: Vec<usize> = Vec::new();
        own.extend(survey.index_of(&hole.id));
        own.extend(hole.tees.iter().filter_map(|t| survey.index_of(&t.id)));
        own.extend(hole.green.as_ref().map(|g| g.index));
        own.extend(hole.pins.iter().filter_map(|(id, _)| survey.index_of(id)));
        own.extend(hole.along.iter().map(|a| a.index));
        own.extend(hole.said.iter().map(|s| s.index));
        for index in own {
            let Some(flag) = written.get_mut(index).filter(|flag| !**flag) else { continue };
            *flag = true;
            let Some(item) = survey.placed.get(index) else { continue };
            let Some(element) = survey.map.elements.get(item.element) else { continue };
            // The line of a hole is written the right way round.
            let turned = (item.kind == Kind::Hole).then(|| Shape::Line(positions(survey, &hole.track.0)));
            let shape = turned.as_ref().unwrap_or(&element.shape);
            features.push(feature(element, &item.kind, Some(holes_of(survey, index)), shape));
        }
    }
    // Golf along no hole stays in the file: a person may yet say where it belongs.
    for line in &survey.unattached {
        let Some(index) = survey.index_of(&line.id) else { continue };
        let Some(flag) = written.get_mut(index).filter(|flag| !**flag) else { continue };
        *flag = true;
        let Some(item) = survey.placed.get(index) else { continue };
        if let Some(element) = survey.map.elements.get(item.element) {
            features.push(feature(element, &item.kind, Some(Vec::new()), &element.shape));
        }
    }
    features
}

fn course_is(survey: &Survey, element: usize) -> bool {
    let id = survey.map.elements.get(element).map(|e| e.id.as_str());
    id.is_some() && id == survey.outline.as_deref()
}

/// How ground names a hole: by its number, or by its id as long as the number is only proposed.
pub fn hole_name(hole: &SurveyedHole) -> Value {
    match &hole.number {
        Number::Known(number) => Value::from(*number),
        Number::Unknown { .. } => Value::from(hole.id.as_str()),
    }
}

/// The holes that an element belongs to, the one it lies nearest to first.
fn holes_of(survey: &Survey, index: usize) -> Vec<Value> {
    let mut holes: Vec<(bool, f64, Value)> = Vec::new();
    for hole in &survey.holes {
        let id = survey.placed.get(index).and_then(|p| survey.map.elements.get(p.element)).map(|e| e.id.as_str());
        let along = hole.along.iter().find(|a| a.index == index).map(|a| (!a.owner, a.distance));
        let own = id == Some(hole.id.as_str())
            || hole.green.as_ref().is_some_and(|g| g.index == index)
            || hole.tees.iter().any(|t| Some(t.id.as_str()) == id)
            || hole.pins.iter().any(|(pin, _)| Some(pin.as_str()) == id)
            || hole.said.iter().any(|s| s.index == index);
        if let Some((other, distance)) = along.or(own.then_some((false, 0.0))) {
            holes.push((other, distance, hole_name(hole)));
        }
    }
    holes.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    holes.into_iter().map(|(_, _, name)| name).collect()
}

fn positions(survey: &Survey, points: &[crate::ground::Point]) -> Vec<LonLat> {
    points.iter().map(|p| survey.flat.position(*p)).collect()
}

/// The line of play of the notebook: from the tee at its start to the middle of the green. It ties the map to the notebook.
fn line_of_play(survey: &Survey, hole: &SurveyedHole) -> Value {
    let shape = Shape::Line(positions(survey, &hole.played.0));
    json!({
        "type": "Feature",
        "id": format!("line/{}", hole.id),
        "properties": { "surface": "line", "holes": [hole_name(hole)] },
        "geometry": geometry(&shape),
    })
}

fn feature(element: &Element, kind: &Kind, holes: Option<Vec<Value>>, shape: &Shape) -> Value {
    let mut properties = Map::new();
    let surface = if matches!(kind, Kind::Other(_)) { "other" } else { kind.word() };
    properties.insert("surface".to_owned(), Value::from(surface));
    if let Kind::Penalty(Some(colour)) = kind {
        properties.insert("colour".to_owned(), Value::from(colour.word()));
    }
    if let Some(holes) = holes {
        properties.insert("holes".to_owned(), Value::from(holes));
    }
    for (key, value) in &element.tags.0 {
        let stem = key.split(':').next().unwrap_or(key);
        if KEPT.contains(&stem) && !properties.contains_key(key) {
            properties.insert(key.clone(), Value::from(value.as_str()));
        }
    }
    json!({ "type": "Feature", "id": element.id, "properties": properties, "geometry": geometry(shape) })
}

fn geometry(shape: &Shape) -> Value {
    match shape {
        Shape::Point(position) => json!({ "type": "Point", "coordinates": coordinates(position) }),
        Shape::Line(line) => {
            json!({ "type": "LineString", "coordinates": line.iter().map(coordinates).collect::<Vec<_>>() })
        }
        Shape::Area(patches) => match patches.as_slice() {
            [one] => json!({ "type": "Polygon", "coordinates": rings(one) }),
            many => json!({ "type": "MultiPolygon", "coordinates": many.iter().map(rings).collect::<Vec<_>>() }),
        },
    }
}

fn rings(patch: &Patch) -> Vec<Vec<Value>> {
    let outer = std::iter::once(ring(&patch.outer, true));
    outer.chain(patch.inner.iter().map(|inner| ring(inner, false))).collect()
}

/// A closed ring in the direction that the standard asks for.
fn ring(positions: &[LonLat], counter_clockwise: bool) -> Vec<Value> {
    let next = positions.iter().skip(1).chain(positions.first());
    let double_area: f64 = positions.iter().zip(next).map(|(a, b)| a.lon * b.lat - b.lon * a.lat).sum();
    let mut ring: Vec<Value> = positions.iter().map(coordinates).collect();
    if (double_area > 0.0) != counter_clockwise {
        ring.reverse();
    }
    ring.extend(ring.first().cloned());
    ring
}

fn coordinates(position: &LonLat) -> Value {
    let seven = |degrees: f64| (degrees * 1e7).round() / 1e7;
    json!([seven(position.lon), seven(position.lat)])
}
