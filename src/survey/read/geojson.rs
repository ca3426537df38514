//! GeoJSON as several exporters write it: tags flat, nested or in one text, ids in five places, rings closed or not said to be.
//!
//! # References
//! RFC 7946 (2016): positions are longitude, latitude on WGS 84; another `crs` is of an older form and is refused.
//! What the exporters do: reference/open-formats 1.8, seen in runs of each.

use super::osm::{Line, element};
use super::overpass::json;
use super::rings;
use super::{Source, Unreadable};
use crate::course::Credit;
use crate::ground::LonLat;
use crate::survey::element::{Element, Map, Patch, Shape, Tags, ring};
use crate::survey::kind::is_areal;
use serde_json::{Map as Object, Value};

/// Reads GeoJSON.
pub fn read(source: Source<'_>) -> Result<Map, Unreadable> {
    let root = match json(source) {
        Ok(root) => root,
        // Some programs write NaN, which is no JSON; what else the file holds is still good.
        Err(error) => without_nan(source).ok_or(error)?,
    };
    refuse_other_crs(source, &root)?;
    let mut map = Map::default();
    match root.get("type").and_then(Value::as_str) {
        Some("FeatureCollection") => {
            let features = root.get("features").and_then(Value::as_array);
            for (index, item) in features.into_iter().flatten().enumerate() {
                feature(&mut map, index + 1, item);
            }
        }
        Some("Feature") => feature(&mut map, 1, &root),
        Some(_) if root.get("coordinates").is_some() || root.get("geometries").is_some() => {
            geometry(&mut map, "feature 1".to_owned(), Tags::default(), &root);
        }
        _ => {
            let what = "this JSON is neither GeoJSON nor Overpass JSON";
            return Err(Unreadable::new(
                source.name,
                what,
                "give a FeatureCollection, or run the query with `[out:json]`",
            ));
        }
    }
    map.credits.extend(credit(&root, &map));
    // Other programs write the name of a layer there, which is no course's.
    let ours = root.get("format").and_then(Value::as_str).is_some_and(|f| f.starts_with("marram/ground/"));
    map.name = root.get("name").and_then(Value::as_str).filter(|_| ours).map(str::to_owned);
    Ok(map)
}

/// The file with `NaN` and `Infinity` outside texts taken as `null`; `None` when that is not what is wrong.
fn without_nan(source: Source<'_>) -> Option<Value> {
    let text = super::text_of(source).ok()?;
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(['"', 'N', 'I']) {
        let (before, from) = rest.split_at(at);
        out.push_str(before);
        let length = if from.starts_with('"') {
            string_length(from)
        } else if let Some(word) = ["NaN", "Infinity"].iter().find(|word| from.starts_with(**word)) {
            if out.ends_with('-') {
                out.pop();
            }
            out.push_str("null");
            rest = from.get(word.len()..)?;
            continue;
        } else {
            1
        };
        out.push_str(from.get(..length)?);
        rest = from.get(length..)?;
    }
    out.push_str(rest);
    serde_json::from_str(&out).ok()
}

/// The length of the JSON text that begins here, its quotes included.
fn string_length(text: &str) -> usize {
    let mut escaped = false;
    for (at, c) in text.char_indices().skip(1) {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '"' => return at + 1,
            _ => {}
        }
    }
    text.len()
}

fn refuse_other_crs(source: Source<'_>, root: &Value) -> Result<(), Unreadable> {
    let Some(crs) = root.get("crs").filter(|crs| !crs.is_null()) else { return Ok(()) };
    let name = crs.pointer("/properties/name").and_then(Value::as_str).unwrap_or("one that is not named");
    let folded = name.to_uppercase();
    let wgs84 = folded.ends_with("CRS84") || folded.ends_with("4326") || folded == "WGS84" || folded == "WGS 84";
    if wgs84 {
        return Ok(());
    }
    let what = format!("its positions are in {}, not longitude and latitude", crate::units::plain_text::plain(name));
    Err(Unreadable::new(source.name, what, "export it again in WGS 84 (EPSG:4326), as RFC 7946 asks"))
}

/// Whose data it is: as the file says, or OpenStreetMap where its ids are.
fn credit(root: &Value, map: &Map) -> Option<Credit> {
    let said = |key: &str| root.get(key).and_then(Value::as_str).map(str::trim).filter(|t| !t.is_empty());
    if let Some(attribution) = said("attribution") {
        let licence = said("licence").or_else(|| said("license")).map(str::to_owned);
        let source = said("source").map(str::to_owned);
        return Some(Credit { attribution: attribution.to_owned(), licence, source });
    }
    let words = ["copyright", "generator", "licence", "license", "source", "name", "description"];
    let named = words.iter().filter_map(|key| said(key)).any(|t| t.to_lowercase().contains("openstreetmap"));
    let ids = map.elements.iter().any(|e| {
        let (sort, number) = e.id.split_once('/').unwrap_or_default();
        matches!(sort, "node" | "way" | "relation") && number.parse::<i64>().is_ok()
    });
    (named || ids).then(Credit::openstreetmap)
}

fn feature(map: &mut Map, number: usize, item: &Value) {
    let empty = Object::new();
    let properties = item.get("properties").and_then(Value::as_object).unwrap_or(&empty);
    let geometry_value = item.get("geometry").unwrap_or(&Value::Null);
    let id = id(item, properties, geometry_value).unwrap_or_else(|| format!("feature {number}"));
    let tags = tags(properties);
    if !tags.matter() {
        map.passed_over += 1;
        return;
    }
    geometry(map, id, tags, geometry_value);
}

/// The id by which its makers know it, as `way/123` where it is one of OpenStreetMap.
fn id(item: &Value, properties: &Object<String, Value>, geometry: &Value) -> Option<String> {
    let text = |value: &Value| match value {
        Value::String(text) => Some(text.trim().to_owned()).filter(|t| !t.is_empty()),
        Value::Number(number) => Some(number.to_string()),
        _ => None,
    };
    let property = |key: &str| properties.get(key).and_then(text);
    let sort =
        property("type").or_else(|| property("osm_type")).or_else(|| property("@type")).map(|s| s.to_lowercase());
    let sort = sort.filter(|s| matches!(s.as_str(), "node" | "way" | "relation"));
    if let Some(id) = item.get("id").and_then(text).or_else(|| property("@id")).or_else(|| property("id")) {
        return Some(match (id.parse::<i64>(), sort) {
            (Ok(number), Some(sort)) => format!("{sort}/{number}"),
            _ => canonical(&id),
        });
    }
    // The layers of a common converter: ways as lines, relations and closed ways as multipolygons.
    if let Some(way) = property("osm_way_id") {
        return Some(format!("way/{way}"));
    }
    let osm = property("osm_id")?;
    let sort = sort.unwrap_or_else(|| {
        match geometry.get("type").and_then(Value::as_str).unwrap_or_default() {
            "Point" => "node",
            "LineString" => "way",
            _ => "relation",
        }
        .to_owned()
    });
    Some(format!("{sort}/{osm}"))
}

/// `w123`, `n5`, `r7` and `a246` as `way/123`, `node/5`, `relation/7`; anything else as it is.
fn canonical(id: &str) -> String {
    let Some((letter, digits)) = id.split_at_checked(1) else { return id.to_owned() };
    let Ok(number) = digits.parse::<i64>() else { return id.to_owned() };
    match letter {
        "n" => format!("node/{number}"),
        "w" => format!("way/{number}"),
        "r" => format!("relation/{number}"),
        // Areas are numbered apart: twice the way, or twice the relation and one.
        "a" if number % 2 == 0 => format!("way/{}", number / 2),
        "a" => format!("relation/{}", (number - 1) / 2),
        _ => id.to_owned(),
    }
}

fn tags(properties: &Object<String, Value>) -> Tags {
    let mut tags = Tags::default();
    let mut take = |object: &Object<String, Value>| {
        for (key, value) in object {
            match value {
                Value::String(text) => tags.add(key.as_str(), text.as_str()),
                Value::Number(number) => tags.add(key.as_str(), number.to_string()),
                Value::Array(items) if key == "holes" => {
                    let holes: Vec<String> = items.iter().filter_map(plain_value).collect();
                    tags.add("holes", holes.join(";"));
                }
                _ => {}
            }
        }
    };
    take(properties);
    if let Some(nested) = properties.get("tags").and_then(Value::as_object) {
        take(nested);
    }
    if let Some(text) = properties.get("other_tags").and_then(Value::as_str) {
        for (key, value) in other_tags(text) {
            tags.add(key, value);
        }
    }
    surface_as_golf(&mut tags);
    tags
}

fn plain_value(value: &Value) -> Option<String> {
    match value {
        Value::String(text) => Some(text.clone()),
        Value::Number(number) => Some(number.to_string()),
        _ => None,
    }
}

/// Ground drawn for a notebook says its `surface`, which wins over a `golf` beside it: it is what a person changes.
fn surface_as_golf(tags: &mut Tags) {
    let surface = tags.word("surface");
    let golf = match surface.as_deref() {
        Some("penalty") => "penalty_area",
        Some("out") => "out_of_bounds",
        Some("deep") => "deep_rough",
        Some("waste") => "waste_area",
        Some("water") => "water",
        Some(
            word @ ("fairway" | "green" | "fringe" | "tee" | "bunker" | "rough" | "trees" | "path" | "hole" | "line"
            | "pin"),
        ) => word,
        _ => return,
    };
    let golf = golf.to_owned();
    tags.0.retain(|(key, _)| key != "golf");
    tags.add("golf", golf);
}

/// `"golf"=>"bunker","name"=>"Kettle"`.
fn other_tags(text: &str) -> Vec<(String, String)> {
    let mut pairs = Vec::new();
    let mut texts = Vec::new();
    let mut rest = text;
    while let Some(at) = rest.find('"') {
        let from = rest.get(at..).unwrap_or_default();
        let length = string_length(from);
        let inside = from.get(1..length.saturating_sub(1)).unwrap_or_default();
        texts.push(inside.replace("\\\"", "\"").replace("\\\\", "\\"));
        rest = from.get(length..).unwrap_or_default();
        let paired = rest.trim_start().starts_with("=>");
        if !paired {
            if let [key, value] = texts.as_slice() {
                pairs.push((key.clone(), value.clone()));
            }
            texts.clear();
        }
    }
    pairs
}

fn geometry(map: &mut Map, id: String, tags: Tags, value: &Value) {
    match shapes(map, &id, &tags, value) {
        Ok(shapes) => {
            for (index, shape) in shapes.into_iter().enumerate() {
                map.elements.push(Element { id: part(&id, index), tags: tags.clone(), shape });
            }
        }
        Err(why) => map.discard(id, why),
    }
}

/// The shapes of a geometry: several for several lines or places.
fn shapes(map: &mut Map, id: &str, tags: &Tags, value: &Value) -> Result<Vec<Shape>, String> {
    let sort = value.get("type").and_then(Value::as_str).unwrap_or_default();
    let coordinates = value.get("coordinates").unwrap_or(&Value::Null);
    let items = coordinates.as_array().map(Vec::as_slice).unwrap_or_default();
    match sort {
        "Point" => position(coordinates).map(|p| vec![Shape::Point(p)]),
        "MultiPoint" => items.iter().map(|item| position(item).map(Shape::Point)).collect(),
        "LineString" => line(map, id, tags, coordinates),
        "MultiLineString" => lines(tags, items),
        "Polygon" => polygon(coordinates).map(|patch| vec![Shape::Area(vec![patch])]),
        "MultiPolygon" => patches(map, id, items),
        "GeometryCollection" => {
            Err("it is a collection of geometries; export one geometry for each feature".to_owned())
        }
        "" => Err("it has no geometry".to_owned()),
        other => Err(format!("it has a geometry of an unknown type, {}", crate::units::plain_text::plain(other))),
    }
}

fn part(id: &str, index: usize) -> String {
    if index == 0 { id.to_owned() } else { format!("{id}#{}", index + 1) }
}

/// A position, or why it is none.
fn position(value: &Value) -> Result<LonLat, String> {
    let numbers = value.as_array().map(Vec::as_slice).unwrap_or_default();
    let (Some(lon), Some(lat)) = (numbers.first().and_then(Value::as_f64), numbers.get(1).and_then(Value::as_f64))
    else {
        return Err("one of its positions is not two numbers".to_owned());
    };
    let position = LonLat::new(lon, lat);
    if position.is_on_earth() {
        Ok(position)
    } else if lat.abs() > 90.0 && lon.abs() <= 90.0 {
        Err("a latitude lies beyond a pole; latitude and longitude may be swapped".to_owned())
    } else if lat.abs() > 360.0 || lon.abs() > 360.0 {
        Err("its positions are not degrees; export it in WGS 84 (EPSG:4326)".to_owned())
    } else {
        Err("one of its positions is not a place of the earth".to_owned())
    }
}

fn positions(value: &Value) -> Result<Vec<LonLat>, String> {
    value.as_array().map(Vec::as_slice).unwrap_or_default().iter().map(position).collect()
}

/// A line, which may be a surface.
fn line(map: &mut Map, id: &str, tags: &Tags, value: &Value) -> Result<Vec<Shape>, String> {
    let places = positions(value)?;
    if places.len() < 2 {
        return Err("it is a line of fewer than two positions".to_owned());
    }
    let mut refused = Vec::new();
    let line = Line { places, closed: false };
    let made = element(&mut refused, &mut map.warnings, id.to_owned(), tags.clone(), line);
    let why = refused.pop().map_or_else(String::new, |d| d.why);
    made.map(|element| vec![element.shape]).ok_or(why)
}

fn lines(tags: &Tags, items: &[Value]) -> Result<Vec<Shape>, String> {
    let all = items.iter().map(positions).collect::<Result<Vec<_>, _>>()?;
    if is_areal(tags) {
        let (rings, _) = rings::assemble(all);
        let patches = rings::nest(rings, Vec::new());
        return if patches.is_empty() {
            Err("none of its rings is closed".to_owned())
        } else {
            Ok(vec![Shape::Area(patches)])
        };
    }
    let lines: Vec<Shape> = all.into_iter().filter(|places| places.len() > 1).map(Shape::Line).collect();
    if lines.is_empty() { Err("it has no line of two positions".to_owned()) } else { Ok(lines) }
}

fn polygon(value: &Value) -> Result<Patch, String> {
    let mut rings = Vec::new();
    for item in value.as_array().map(Vec::as_slice).unwrap_or_default() {
        let places = ring(positions(item)?);
        if places.len() >= 3 {
            rings.push(places);
        } else if rings.is_empty() {
            return Err("its outline has fewer than three places".to_owned());
        }
    }
    let mut rings = rings.into_iter();
    let outer = rings.next().ok_or_else(|| "it has no outline".to_owned())?;
    Ok(Patch { outer, inner: rings.collect() })
}

fn patches(map: &mut Map, id: &str, items: &[Value]) -> Result<Vec<Shape>, String> {
    let mut patches = Vec::new();
    let mut last = "it has no outline".to_owned();
    for item in items {
        match polygon(item) {
            Ok(patch) => patches.push(patch),
            Err(why) => last = why,
        }
    }
    if patches.is_empty() {
        return Err(last);
    }
    if patches.len() < items.len() {
        map.warn(format!("{id}: a part of it has been left out: {last}"));
    }
    Ok(vec![Shape::Area(patches)])
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn tags_in_one_text_are_taken_apart() {
        let pairs = other_tags(r#""golf"=>"bunker","name"=>"the \"Deep\" one, left","a"=>"""#);
        assert_eq!(pairs[0], ("golf".to_owned(), "bunker".to_owned()));
        assert_eq!(pairs[1].1, "the \"Deep\" one, left");
    }

    #[test]
    fn ids_of_every_exporter_are_one_id() {
        for (id, wanted) in
            [("w5", "way/5"), ("a10", "way/5"), ("a11", "relation/5"), ("way/5", "way/5"), ("n7", "node/7")]
        {
            assert_eq!(canonical(id), wanted);
        }
        assert_eq!(canonical("wall"), "wall");
    }

    #[test]
    fn a_nan_costs_its_feature_and_no_other() {
        let text = r#"{"type":"FeatureCollection","features":[
            {"type":"Feature","id":"way/1","properties":{"golf":"pin","name":"NaN is no number"},"geometry":{"type":"Point","coordinates":[1.0,NaN]}},
            {"type":"Feature","id":"way/2","properties":{"golf":"pin"},"geometry":{"type":"Point","coordinates":[1.0,-Infinity]}},
            {"type":"Feature","id":"way/3","properties":{"golf":"pin"},"geometry":{"type":"Point","coordinates":[1.0,2.0]}}]}"#;
        let map = read(Source { name: "x.geojson", bytes: text.as_bytes() }).unwrap();
        assert_eq!(map.elements.iter().map(|e| e.id.as_str()).collect::<Vec<_>>(), ["way/3"]);
        assert_eq!(map.discarded.iter().map(|d| d.id.as_str()).collect::<Vec<_>>(), ["way/1", "way/2"]);
    }
}
