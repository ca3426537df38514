//! OpenStreetMap XML.
//!
//! # References
//! OpenStreetMap API 0.6: `osm` with `node`, `way` (`nd ref`), `relation` (`member type ref role`) and `tag k v`, in any order.

use super::osm::{Data, Member, Sort};
use super::xml::{self, Attributes, Visit};
use super::{Source, Unreadable};
use crate::ground::LonLat;
use crate::survey::element::{Map, Tags};

/// Reads OpenStreetMap XML.
pub fn read(source: Source<'_>) -> Result<Map, Unreadable> {
    let mut file = File::default();
    xml::read(source, &mut file)?;
    Ok(file.data.resolve())
}

#[derive(Default)]
struct File {
    data: Data,
    open: Option<Open>,
}

struct Open {
    sort: Sort,
    id: Option<i64>,
    deleted: bool,
    position: LonLat,
    tags: Tags,
    nodes: Vec<i64>,
    members: Vec<Member>,
}

fn number(text: Option<&str>) -> f64 {
    text.and_then(|t| t.trim().parse().ok()).unwrap_or(f64::NAN)
}

fn whole(text: Option<&str>) -> Option<i64> {
    text.and_then(|t| t.trim().parse().ok())
}

impl Visit for File {
    fn open(&mut self, name: &str, attributes: &Attributes<'_>, depth: usize) {
        if depth == 2 {
            let Some(sort) = Sort::of(name) else { return };
            self.open = Some(Open {
                sort,
                id: whole(attributes.get("id")),
                // Editors keep what was deleted in their files.
                deleted: attributes.get("action") == Some("delete") || attributes.get("visible") == Some("false"),
                position: LonLat::new(number(attributes.get("lon")), number(attributes.get("lat"))),
                tags: Tags::default(),
                nodes: Vec::new(),
                members: Vec::new(),
            });
            return;
        }
        let Some(open) = self.open.as_mut().filter(|_| depth == 3) else { return };
        match name {
            "tag" => {
                if let Some((key, value)) = attributes.get("k").zip(attributes.get("v")) {
                    open.tags.add(key, value);
                }
            }
            "nd" => open.nodes.extend(whole(attributes.get("ref"))),
            "member" => {
                if let Some((sort, id)) = attributes.get("type").and_then(Sort::of).zip(whole(attributes.get("ref"))) {
                    let role = attributes.get("role").unwrap_or_default().to_owned();
                    open.members.push(Member { sort, id, role, geometry: Vec::new() });
                }
            }
            _ => {}
        }
    }

    fn text(&mut self, _: &str, _: &str, _: usize) {}

    fn close(&mut self, _: &str, depth: usize) {
        if depth != 2 {
            return;
        }
        let Some(open) = self.open.take().filter(|open| !open.deleted) else { return };
        let Some(id) = open.id else {
            self.data.map.discard(open.sort.word(), "it has no id that can be read");
            return;
        };
        match open.sort {
            Sort::Node => self.data.node(id, open.position, open.tags),
            Sort::Way => self.data.way(id, open.nodes, Vec::new(), open.tags),
            Sort::Relation => self.data.relation(id, open.members, open.tags),
        }
    }
}
