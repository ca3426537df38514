//! OpenStreetMap's own model, nodes, ways and relations, put together into elements. Shared by XML and Overpass JSON.
//!
//! # References
//! OpenStreetMap wiki, *Relation:multipolygon*: members in the roles outer and inner form closed rings; a missing role may be
//! taken as outer; old maps have the tags on the outer way.

use super::rings::{self, Unclosed};
use crate::course::Credit;
use crate::ground::LonLat;
use crate::survey::element::{Element, Group, Map, Patch, Shape, Tags, ring};
use crate::survey::kind::is_areal;
use std::collections::{HashMap, HashSet};

/// The three sorts of element.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sort {
    /// A place.
    Node,
    /// A line or a ring.
    Way,
    /// Several together.
    Relation,
}

impl Sort {
    /// By its word.
    pub fn of(word: &str) -> Option<Self> {
        match word {
            "node" => Some(Self::Node),
            "way" => Some(Self::Way),
            "relation" => Some(Self::Relation),
            _ => None,
        }
    }

    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Node => "node",
            Self::Way => "way",
            Self::Relation => "relation",
        }
    }
}

/// A member of a relation.
#[derive(Clone, Debug)]
pub struct Member {
    /// Its sort.
    pub sort: Sort,
    /// Its number.
    pub id: i64,
    /// `outer`, `inner` or anything else.
    pub role: String,
    /// Its places, where the file gives them with the relation.
    pub geometry: Vec<Option<LonLat>>,
}

struct Way {
    nodes: Vec<i64>,
    /// Given with the way; a clipped place is `None`.
    geometry: Vec<Option<LonLat>>,
    tags: Tags,
}

/// Everything that one file says.
#[derive(Default)]
pub struct Data {
    /// What is being put together.
    pub map: Map,
    places: HashMap<i64, LonLat>,
    tagged: Vec<(i64, Tags)>,
    ways: HashMap<i64, Way>,
    way_order: Vec<i64>,
    relations: Vec<(i64, Vec<Member>, Tags)>,
}

impl Data {
    /// Takes a node.
    pub fn node(&mut self, id: i64, position: LonLat, tags: Tags) {
        if !position.is_on_earth() {
            let swapped = position.lat.abs() > 90.0 && position.lon.abs() <= 90.0;
            let why = if swapped {
                "its latitude lies beyond a pole; latitude and longitude may be swapped"
            } else {
                "its position is not a place of the earth"
            };
            self.map.discard(format!("node/{id}"), why);
            return;
        }
        self.places.insert(id, position);
        if tags.matter() {
            self.tagged.push((id, tags));
        } else if !tags.0.is_empty() {
            self.map.passed_over += 1;
        }
    }

    /// Takes a way: its node numbers, or its places, or both.
    pub fn way(&mut self, id: i64, nodes: Vec<i64>, geometry: Vec<Option<LonLat>>, tags: Tags) {
        if self.ways.insert(id, Way { nodes, geometry, tags }).is_none() {
            self.way_order.push(id);
        }
    }

    /// Takes a relation.
    pub fn relation(&mut self, id: i64, members: Vec<Member>, tags: Tags) {
        self.relations.push((id, members, tags));
    }

    /// Puts everything together.
    pub fn resolve(mut self) -> Map {
        self.map.credits.push(Credit::openstreetmap());
        let mut taken = HashSet::new();
        let relations = std::mem::take(&mut self.relations);
        for (id, members, tags) in relations {
            self.one_relation(id, &members, tags, &mut taken);
        }
        for (id, tags) in std::mem::take(&mut self.tagged) {
            if let Some(position) = self.places.get(&id) {
                let shape = Shape::Point(*position);
                self.map.elements.push(Element { id: format!("node/{id}"), tags, shape });
            }
        }
        for id in std::mem::take(&mut self.way_order) {
            let Some(way) = self.ways.get(&id) else { continue };
            if taken.contains(&id) {
                continue;
            }
            if !way.tags.matter() {
                self.map.passed_over += usize::from(!way.tags.0.is_empty());
                continue;
            }
            let name = format!("way/{id}");
            let tags = way.tags.clone();
            let Some(line) = self.line(id, &name) else { continue };
            self.map.elements.extend(element(&mut self.map.discarded, &mut self.map.warnings, name, tags, line));
        }
        self.map
    }

    /// The places of a way; what is missing is said, and fewer than two are none.
    fn line(&mut self, id: i64, name: &str) -> Option<Line> {
        let way = self.ways.get(&id)?;
        let places: Vec<Option<LonLat>> = if way.geometry.is_empty() {
            way.nodes.iter().map(|node| self.places.get(node).copied()).collect()
        } else {
            way.geometry.clone()
        };
        let closed = way.nodes.len() > 3 && way.nodes.first() == way.nodes.last();
        self.found(places, closed, name)
    }

    fn found(&mut self, places: Vec<Option<LonLat>>, closed: bool, name: &str) -> Option<Line> {
        let total = places.len();
        let found: Vec<LonLat> = places.into_iter().flatten().filter(|p| p.is_on_earth()).collect();
        let missing = total - found.len();
        if found.len() < 2 {
            let why = match (total, missing) {
                (0, _) => "it has no places; ask for them with `out geom`".to_owned(),
                (_, 0) => "it has only one place".to_owned(),
                _ => format!("{missing} of its {total} nodes are not in the file"),
            };
            self.map.discard(name, why);
            return None;
        }
        if missing > 0 {
            self.map.warn(format!("{name}: {missing} of its {total} nodes are not in the file; drawn without them"));
        }
        Some(Line { places: found, closed })
    }

    fn one_relation(&mut self, id: i64, members: &[Member], mut tags: Tags, taken: &mut HashSet<i64>) {
        let name = format!("relation/{id}");
        let surface = matches!(tags.get("type"), Some("multipolygon" | "boundary"));
        if !surface {
            if tags.matter() || tags.get("golf:par").is_some() {
                let members = members.iter().map(|m| format!("{}/{}", m.sort.word(), m.id)).collect();
                self.map.groups.push(Group { id: name, tags, members });
            }
            return;
        }
        if !tags.matter() {
            // Old maps: the tags stand on the one outer way.
            let outers: Vec<&Member> = members.iter().filter(|m| m.sort == Sort::Way && m.role != "inner").collect();
            let [only] = outers.as_slice() else {
                self.map.passed_over += 1;
                return;
            };
            match self.ways.get(&only.id).filter(|way| way.tags.matter()) {
                Some(way) => {
                    tags = way.tags.clone();
                    taken.insert(only.id);
                }
                None => {
                    self.map.passed_over += 1;
                    return;
                }
            }
        }
        let (mut outer, mut inner) = (Vec::new(), Vec::new());
        for member in members {
            if member.sort != Sort::Way {
                continue;
            }
            let way_name = format!("way/{}", member.id);
            let line = if self.ways.contains_key(&member.id) {
                self.line(member.id, &way_name)
            } else if member.geometry.is_empty() {
                self.map.warn(format!("{name}: its member {way_name} is not in the file"));
                None
            } else {
                self.found(member.geometry.clone(), false, &way_name)
            };
            let Some(line) = line else { continue };
            let same = self.ways.get(&member.id).is_some_and(|way| {
                way.tags.get("golf").is_some() && way.tags.get("golf") == tags.get("golf") && member.role != "inner"
            });
            if same && taken.insert(member.id) {
                self.map.discard(way_name, format!("it is the outline of {name}, which says the same"));
            }
            let mut places = line.places;
            if line.closed {
                places.extend(places.first().copied());
            }
            if member.role == "inner" { inner.push(places) } else { outer.push(places) }
        }
        let mut close = |lines: Vec<Vec<LonLat>>| {
            let (rings, problems) = rings::assemble(lines);
            for problem in problems {
                match problem {
                    Unclosed::Closed { gap_m } => {
                        self.map.warn(format!("{name}: a ring was open by {gap_m:.1} m and has been closed"));
                    }
                    Unclosed::Left { gap_m } => {
                        self.map.warn(format!("{name}: a ring is open by {gap_m:.0} m and has been left out"));
                    }
                }
            }
            rings
        };
        let (outer, inner) = (close(outer), close(inner));
        let patches = rings::nest(outer, inner);
        if patches.is_empty() {
            self.map.discard(name, "none of its rings is closed");
            return;
        }
        self.map.elements.push(Element { id: name, tags, shape: Shape::Area(patches) });
    }
}

/// The places of a way, and whether its ends are one node.
pub struct Line {
    /// At least two.
    pub places: Vec<LonLat>,
    /// The last place is the first one, though the file may have lost it.
    pub closed: bool,
}

/// A way as an element: a surface where it is closed and its tags say one, else a line.
pub fn element(
    discarded: &mut Vec<crate::survey::element::Discarded>,
    warnings: &mut Vec<String>,
    id: String,
    tags: Tags,
    line: Line,
) -> Option<Element> {
    let areal = is_areal(&tags);
    let ends_meet = line.places.first().map(|p| p.key()) == line.places.last().map(|p| p.key());
    if !areal {
        let mut places = line.places;
        places.dedup_by_key(|p| p.key());
        if places.len() < 2 {
            discarded.push(crate::survey::element::Discarded { id, why: "it is a line without length".to_owned() });
            return None;
        }
        return Some(Element { id, tags, shape: Shape::Line(places) });
    }
    if !(line.closed || ends_meet) {
        let open = tags.get("waterway").is_some() || tags.word("natural").as_deref() == Some("tree_row");
        if open {
            return Some(Element { id, tags, shape: Shape::Line(line.places) });
        }
        let gap = rings::gap_m(&line.places);
        if gap > rings::CLOSABLE_M {
            let why = format!("its outline is open by {gap:.0} m");
            discarded.push(crate::survey::element::Discarded { id, why });
            return None;
        }
        warnings.push(format!("{id}: its outline was open by {gap:.1} m and has been closed"));
    }
    let outer = ring(line.places);
    if outer.len() < 3 {
        discarded
            .push(crate::survey::element::Discarded { id, why: "its outline has fewer than three places".to_owned() });
        return None;
    }
    Some(Element { id, tags, shape: Shape::Area(vec![Patch { outer, inner: Vec::new() }]) })
}
