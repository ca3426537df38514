//! Overpass JSON, with places given beside ways and relations (`out geom`) or as nodes of their own, or both.

use super::osm::{Data, Member, Sort};
use super::{Source, Unreadable, text_of};
use crate::ground::LonLat;
use crate::survey::element::{Map, Tags};
use serde_json::Value;

/// Whether a JSON object is one of Overpass: it has a list of elements.
pub fn looks_like(text: &str) -> bool {
    // A feature of GeoJSON may have a property of this name, but not before it says that it is a feature.
    let elements = text.find("\"elements\"");
    let geojson = ["\"FeatureCollection\"", "\"Feature\"", "\"features\""].iter().filter_map(|w| text.find(w)).min();
    elements.is_some_and(|at| geojson.is_none_or(|other| at < other))
}

/// Reads Overpass JSON.
pub fn read(source: Source<'_>) -> Result<Map, Unreadable> {
    let root = json(source)?;
    let Some(elements) = root.get("elements").and_then(Value::as_array) else {
        return Err(Unreadable::new(
            source.name,
            "there is no list of elements in it",
            "run the query again with `out geom`",
        ));
    };
    let mut data = Data::default();
    if let Some(remark) = root.get("remark").and_then(Value::as_str) {
        // Overpass says here that it ran out of time or memory, and that elements are missing.
        data.map.warn(format!("the server said: {}", crate::units::plain_text::plain(remark.trim())));
    }
    let mut centres = 0;
    for (index, element) in elements.iter().enumerate() {
        let sort = element.get("type").and_then(Value::as_str).and_then(Sort::of);
        let id = element.get("id").and_then(Value::as_i64);
        let Some((sort, id)) = sort.zip(id) else {
            data.map.discard(format!("element {}", index + 1), "it has no type and id of OpenStreetMap");
            continue;
        };
        let tags = tags(element);
        match sort {
            Sort::Node => data.node(id, position(element).unwrap_or(LonLat::new(f64::NAN, f64::NAN)), tags),
            Sort::Way => {
                let nodes = whole_numbers(element.get("nodes"));
                let geometry = geometry(element);
                centres += usize::from(nodes.is_empty() && geometry.is_empty() && element.get("center").is_some());
                data.way(id, nodes, geometry, tags);
            }
            Sort::Relation => {
                let members = element.get("members").and_then(Value::as_array);
                let members = members.into_iter().flatten().filter_map(member).collect();
                data.relation(id, members, tags);
            }
        }
    }
    if centres > 0 {
        data.map.warn(format!(
            "{centres} ways have only a middle and no outline: the query ended with `out center`; run it again with `out geom`"
        ));
    }
    Ok(data.resolve())
}

/// A whole file of JSON.
pub fn json(source: Source<'_>) -> Result<Value, Unreadable> {
    let text = text_of(source)?;
    serde_json::from_str(text).map_err(|error| {
        let place = format!("{}:{}:{}", source.name, error.line(), error.column());
        let said = error.to_string();
        let what = said.split(" at line ").next().unwrap_or("broken").to_owned();
        let what = if error.is_eof() {
            "the file ends too early: it was cut off".to_owned()
        } else {
            format!("this is broken JSON: {what}")
        };
        Unreadable::new(place, what, "download or export it again")
    })
}

fn tags(element: &Value) -> Tags {
    let mut tags = Tags::default();
    for (key, value) in element.get("tags").and_then(Value::as_object).into_iter().flatten() {
        if let Some(value) = value.as_str() {
            tags.add(key.as_str(), value);
        }
    }
    tags
}

fn position(value: &Value) -> Option<LonLat> {
    Some(LonLat::new(value.get("lon")?.as_f64()?, value.get("lat")?.as_f64()?))
}

/// Clipped places stand as `null`.
fn geometry(value: &Value) -> Vec<Option<LonLat>> {
    value.get("geometry").and_then(Value::as_array).into_iter().flatten().map(position).collect()
}

fn whole_numbers(value: Option<&Value>) -> Vec<i64> {
    value.and_then(Value::as_array).into_iter().flatten().filter_map(Value::as_i64).collect()
}

fn member(value: &Value) -> Option<Member> {
    Some(Member {
        sort: Sort::of(value.get("type")?.as_str()?)?,
        id: value.get("ref")?.as_i64()?,
        role: value.get("role").and_then(Value::as_str).unwrap_or_default().to_owned(),
        geometry: geometry(value),
    })
}
