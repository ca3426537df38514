//! A map read by the tests' own small reader and written again in the shapes that exporters give it.
//!
//! What each exporter does: reference/open-formats 1.8, seen there in runs of the real programs.

use serde_json::{Value, json};
use std::collections::BTreeMap;

/// A map as nodes, ways and relations.
#[derive(Clone, Debug, Default)]
pub struct OsmMap {
    pub nodes: BTreeMap<i64, (f64, f64)>,
    pub node_tags: BTreeMap<i64, Vec<(String, String)>>,
    pub ways: Vec<(i64, Vec<i64>, Vec<(String, String)>)>,
    pub relations: Vec<(i64, Vec<(i64, String)>, Vec<(String, String)>)>,
}

/// The value of an attribute in a line of XML, with either quote.
fn attribute(line: &str, name: &str) -> Option<String> {
    for quote in ['"', '\''] {
        let start = format!(" {name}={quote}");
        if let Some(at) = line.find(&start) {
            let rest = &line[at + start.len()..];
            let text = &rest[..rest.find(quote)?];
            let plain = text.replace("&quot;", "\"").replace("&apos;", "'").replace("&lt;", "<").replace("&gt;", ">");
            return Some(plain.replace("&amp;", "&"));
        }
    }
    None
}

impl OsmMap {
    /// Reads the samples, which have one element on a line.
    pub fn read(xml: &str) -> Self {
        enum Open {
            None,
            Node(i64),
            Way,
            Relation,
        }
        let mut map = Self::default();
        let mut open = Open::None;
        for line in xml.lines() {
            let number = |name: &str| attribute(line, name).and_then(|t| t.parse::<i64>().ok());
            let trimmed = line.trim();
            if trimmed.starts_with("<node ") {
                let place = |name: &str| attribute(line, name).unwrap().parse::<f64>().unwrap();
                let id = number("id").unwrap();
                map.nodes.insert(id, (place("lon"), place("lat")));
                open = Open::Node(id);
            } else if trimmed.starts_with("<way ") {
                map.ways.push((number("id").unwrap(), Vec::new(), Vec::new()));
                open = Open::Way;
            } else if trimmed.starts_with("<relation ") {
                map.relations.push((number("id").unwrap(), Vec::new(), Vec::new()));
                open = Open::Relation;
            } else if trimmed.starts_with("<nd ") {
                map.ways.last_mut().unwrap().1.push(number("ref").unwrap());
            } else if trimmed.starts_with("<member ") {
                let role = attribute(line, "role").unwrap();
                map.relations.last_mut().unwrap().1.push((number("ref").unwrap(), role));
            } else if trimmed.starts_with("<tag ") {
                let tag = (attribute(line, "k").unwrap(), attribute(line, "v").unwrap());
                match open {
                    Open::Node(id) => map.node_tags.entry(id).or_default().push(tag),
                    Open::Way => map.ways.last_mut().unwrap().2.push(tag),
                    Open::Relation => map.relations.last_mut().unwrap().2.push(tag),
                    Open::None => {}
                }
            }
        }
        map
    }

    /// As XML again.
    pub fn xml(&self) -> String {
        let escape = |t: &str| t.replace('&', "&amp;").replace('<', "&lt;").replace('"', "&quot;");
        let tags = |tags: &[(String, String)]| {
            tags.iter().map(|(k, v)| format!("<tag k=\"{}\" v=\"{}\"/>", escape(k), escape(v))).collect::<String>()
        };
        let mut out = String::from("<?xml version='1.0' encoding='UTF-8'?>\n<osm version=\"0.6\">\n");
        for (id, (lon, lat)) in &self.nodes {
            let own = self.node_tags.get(id).map_or(String::new(), |t| tags(t));
            out += &format!("<node id=\"{id}\" lat=\"{lat}\" lon=\"{lon}\">{own}</node>\n");
        }
        for (id, nodes, own) in &self.ways {
            let nodes: String = nodes.iter().map(|n| format!("<nd ref=\"{n}\"/>")).collect();
            out += &format!("<way id=\"{id}\">{nodes}{}</way>\n", tags(own));
        }
        for (id, members, own) in &self.relations {
            let members: String =
                members.iter().map(|(w, role)| format!("<member type=\"way\" ref=\"{w}\" role=\"{role}\"/>")).collect();
            out += &format!("<relation id=\"{id}\">{members}{}</relation>\n", tags(own));
        }
        out + "</osm>\n"
    }

    fn object(tags: &[(String, String)]) -> Value {
        Value::Object(tags.iter().map(|(k, v)| (k.clone(), Value::from(v.as_str()))).collect())
    }

    /// Overpass JSON with `out geom` (`with_geometry`) or as plain elements.
    pub fn overpass(&self, with_geometry: bool) -> String {
        let place = |n: &i64| self.nodes.get(n).map_or(Value::Null, |(lon, lat)| json!({ "lat": lat, "lon": lon }));
        let mut elements = Vec::new();
        for (id, (lon, lat)) in &self.nodes {
            let tags = self.node_tags.get(id);
            if !with_geometry || tags.is_some() {
                let mut node = json!({ "type": "node", "id": id, "lat": lat, "lon": lon });
                if let Some(tags) = tags {
                    node["tags"] = Self::object(tags);
                }
                elements.push(node);
            }
        }
        for (id, nodes, tags) in &self.ways {
            let mut way = json!({ "type": "way", "id": id, "nodes": nodes, "tags": Self::object(tags) });
            if with_geometry {
                way["geometry"] = Value::from(nodes.iter().map(place).collect::<Vec<_>>());
            }
            elements.push(way);
        }
        for (id, members, tags) in &self.relations {
            let members: Vec<Value> = members
                .iter()
                .map(|(way, role)| {
                    let mut member = json!({ "type": "way", "ref": way, "role": role });
                    if with_geometry {
                        let nodes = &self.ways.iter().find(|(w, ..)| w == way).unwrap().1;
                        member["geometry"] = Value::from(nodes.iter().map(place).collect::<Vec<_>>());
                    }
                    member
                })
                .collect();
            elements.push(json!({ "type": "relation", "id": id, "members": members, "tags": Self::object(tags) }));
        }
        json!({ "version": 0.6, "generator": "a test", "osm3s": { "copyright": "from www.openstreetmap.org under ODbL" }, "elements": elements })
            .to_string()
    }

    fn coordinates(&self, nodes: &[i64]) -> Vec<Value> {
        nodes.iter().map(|n| json!([self.nodes[n].0, self.nodes[n].1])).collect()
    }

    /// The surfaces of a relation; an inner ring goes to the first outer one, which is right in the samples.
    fn polygons(&self, members: &[(i64, String)]) -> Value {
        let nodes = |way: &i64| self.ways.iter().find(|(w, ..)| w == way).unwrap().1.clone();
        let mut pieces: Vec<Vec<i64>> = members.iter().filter(|(_, r)| r != "inner").map(|(w, _)| nodes(w)).collect();
        let mut polygons: Vec<Vec<Value>> = Vec::new();
        while !pieces.is_empty() {
            let mut outer = pieces.remove(0);
            while outer.first() != outer.last() {
                let last = outer.last().unwrap();
                let at = pieces.iter().position(|p| p.first() == Some(last) || p.last() == Some(last)).unwrap();
                let mut piece = pieces.remove(at);
                if piece.first() != outer.last() {
                    piece.reverse();
                }
                outer.extend(piece.into_iter().skip(1));
            }
            polygons.push(vec![Value::from(self.coordinates(&outer))]);
        }
        for (way, _) in members.iter().filter(|(_, r)| r == "inner") {
            polygons[0].push(Value::from(self.coordinates(&nodes(way))));
        }
        Value::from(polygons)
    }

    /// GeoJSON in one of the four shapes.
    pub fn geojson(&self, exporter: Exporter) -> String {
        let mut features = Vec::new();
        let mut push = |sort: &str, id: i64, tags: &[(String, String)], geometry: Value| {
            features.push(exporter.feature(sort, id, tags, geometry));
        };
        for (id, tags) in &self.node_tags {
            push("node", *id, tags, json!({ "type": "Point", "coordinates": [self.nodes[id].0, self.nodes[id].1] }));
        }
        let inner: Vec<i64> = self
            .relations
            .iter()
            .flat_map(|(_, m, _)| m.iter().filter(|(_, r)| r == "inner").map(|(w, _)| *w))
            .collect();
        for (id, nodes, tags) in self.ways.iter().filter(|(_, _, tags)| !tags.is_empty()) {
            if exporter == Exporter::DropsInner && inner.contains(id) {
                continue;
            }
            let line = json!({ "type": "LineString", "coordinates": self.coordinates(nodes) });
            let closed = nodes.first() == nodes.last();
            let area = json!({ "type": "Polygon", "coordinates": [self.coordinates(nodes)] });
            let outline = tags.iter().any(|(k, _)| k == "leisure");
            match exporter {
                _ if !closed => push("way", *id, tags, line),
                Exporter::LinesOnly if !outline => push("way", *id, tags, line),
                Exporter::Twice => {
                    if !outline {
                        push("way", *id, tags, line);
                    }
                    push(
                        "way",
                        *id,
                        tags,
                        json!({ "type": "MultiPolygon", "coordinates": [[self.coordinates(nodes)]] }),
                    );
                }
                _ => push("way", *id, tags, area),
            }
        }
        for (id, members, tags) in &self.relations {
            push("relation", *id, tags, json!({ "type": "MultiPolygon", "coordinates": self.polygons(members) }));
        }
        json!({ "type": "FeatureCollection", "generator": "from OpenStreetMap", "features": features }).to_string()
    }
}

/// What an exporter makes of a map.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exporter {
    /// Flat tags, `id: "way/5"`: the reference case.
    Flat,
    /// Nested tags, number ids and a `type` beside them.
    Nested,
    /// Every closed way as a line and as a surface; no ids at all.
    Twice,
    /// Nested tags; tagged inner members vanish.
    DropsInner,
    /// Closed ways as lines, tags in one text, ids in columns.
    LinesOnly,
}

impl Exporter {
    fn feature(self, sort: &str, id: i64, tags: &[(String, String)], geometry: Value) -> Value {
        let object = OsmMap::object(tags);
        match self {
            Self::Flat => {
                json!({ "type": "Feature", "id": format!("{sort}/{id}"), "properties": object, "geometry": geometry })
            }
            Self::Nested | Self::DropsInner => {
                json!({ "type": "Feature", "properties": { "type": sort, "id": id, "tags": object, "relations": [], "meta": {} }, "geometry": geometry })
            }
            Self::Twice => json!({ "type": "Feature", "properties": object, "geometry": geometry }),
            Self::LinesOnly => {
                let other: Vec<String> = tags
                    .iter()
                    .filter(|(k, _)| k != "name" && k != "leisure")
                    .map(|(k, v)| format!("\"{k}\"=>\"{}\"", v.replace('\\', "\\\\").replace('"', "\\\"")))
                    .collect();
                let named = |key: &str| tags.iter().find(|(k, _)| k == key).map(|(_, v)| v.clone());
                let column = if sort == "way" && geometry["type"] != "LineString" { "osm_way_id" } else { "osm_id" };
                json!({ "type": "Feature", "properties": { column: id.to_string(), "name": named("name"), "leisure": named("leisure"),
                    "other_tags": other.join(",") }, "geometry": geometry })
            }
        }
    }
}
