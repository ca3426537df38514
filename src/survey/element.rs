//! What a map file holds, whatever its format: elements with an id, tags and a shape, and what had to be left out.

use crate::course::Credit;
use crate::ground::LonLat;

/// A ring of positions; the first is not repeated.
pub type Ring = Vec<LonLat>;

/// A surface with the rings cut out of it.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Patch {
    /// The outer ring.
    pub outer: Ring,
    /// Rings cut out of it.
    pub inner: Vec<Ring>,
}

/// Where an element lies.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// At one place.
    Point(LonLat),
    /// Along a line, at least two places.
    Line(Vec<LonLat>),
    /// On one or more surfaces.
    Area(Vec<Patch>),
}

impl Shape {
    /// Every position of it.
    pub fn positions(&self) -> Box<dyn Iterator<Item = LonLat> + '_> {
        match self {
            Self::Point(position) => Box::new(std::iter::once(*position)),
            Self::Line(line) => Box::new(line.iter().copied()),
            Self::Area(patches) => {
                Box::new(patches.iter().flat_map(|p| p.outer.iter().chain(p.inner.iter().flatten()).copied()))
            }
        }
    }
}

/// Key and value pairs in the order of the file.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Tags(pub Vec<(String, String)>);

impl Tags {
    /// The value of a key.
    pub fn get(&self, key: &str) -> Option<&str> {
        self.0.iter().find(|(k, _)| k == key).map(|(_, v)| v.as_str())
    }

    /// The value of a key as the wiki would write it: blanks around it gone, in lower case.
    pub fn word(&self, key: &str) -> Option<String> {
        self.get(key).map(|v| v.trim().to_lowercase()).filter(|v| !v.is_empty())
    }

    /// Adds a pair; the first of two with one key stays.
    pub fn add(&mut self, key: impl Into<String>, value: impl Into<String>) {
        let key = key.into();
        if self.get(&key).is_none() {
            self.0.push((key, value.into()));
        }
    }

    /// Whether the element says anything that the ground of a hole could be made of.
    pub fn matter(&self) -> bool {
        const KEYS: [&str; 8] =
            ["golf", "natural", "waterway", "landuse", "highway", "barrier", "building", "golf:course:name"];
        self.0.iter().any(|(key, value)| {
            KEYS.contains(&key.as_str())
                || key == "leisure" && value.trim() == "golf_course"
                || matches!(key.as_str(), "route" | "type") && value.trim() == "golf"
        })
    }
}

/// One element of a map.
#[derive(Clone, Debug, PartialEq)]
pub struct Element {
    /// `way/123`, `node/5`, `relation/7`, or the id its file gives it.
    pub id: String,
    /// What it says of itself.
    pub tags: Tags,
    /// Where it lies.
    pub shape: Shape,
}

/// Elements that belong together, as the holes of one course: a relation that is no surface.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// `relation/7`.
    pub id: String,
    /// What it says of itself.
    pub tags: Tags,
    /// The ids of its members.
    pub members: Vec<String>,
}

/// Something that could not be used at all, with the reason.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Discarded {
    /// Its id.
    pub id: String,
    /// Why, in words without a full stop.
    pub why: String,
}

/// What was found in one file or in several.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Map {
    /// The elements that matter, in the order of the file.
    pub elements: Vec<Element>,
    /// Relations that are no surface.
    pub groups: Vec<Group>,
    /// What could not be used.
    pub discarded: Vec<Discarded>,
    /// What was put right or is doubtful, in sentences without a full stop.
    pub warnings: Vec<String>,
    /// Whose data it is; `None` when no file says so.
    pub credits: Vec<Credit>,
    /// The name that a ground file of a notebook gives its course.
    pub name: Option<String>,
    /// How many elements say nothing about golf or the ground round it, and are not listed.
    pub passed_over: usize,
}

impl Map {
    /// Leaves something out with its reason.
    pub fn discard(&mut self, id: impl Into<String>, why: impl Into<String>) {
        self.discarded.push(Discarded { id: id.into(), why: why.into() });
    }

    /// Says something that a person should look at.
    pub fn warn(&mut self, words: impl Into<String>) {
        let words = words.into();
        if !self.warnings.contains(&words) {
            self.warnings.push(words);
        }
    }

    /// Adds what another file holds.
    pub fn join(&mut self, other: Self) {
        self.elements.extend(other.elements);
        self.groups.extend(other.groups);
        self.discarded.extend(other.discarded);
        for words in other.warnings {
            self.warn(words);
        }
        for credit in other.credits {
            if !self.credits.contains(&credit) {
                self.credits.push(credit);
            }
        }
        self.name = self.name.take().or(other.name);
        self.passed_over += other.passed_over;
    }
}

/// A ring without its repeated end and without a place that stands twice in a row.
pub fn ring(mut positions: Vec<LonLat>) -> Ring {
    positions.dedup_by_key(|p| p.key());
    if positions.len() > 1 && positions.first().map(|p| p.key()) == positions.last().map(|p| p.key()) {
        positions.pop();
    }
    positions
}
