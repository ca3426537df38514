//! A course surveyed again after it was annotated: only ground moves, and nothing that a person wrote is lost.
//!
//! What the notebook says is compared with the draft that its own ground file gives. Where both are the same nobody changed it, and
//! the new survey's value takes its place; what a person changed stays, and is named where the survey says otherwise. In the
//! ground file features keep the holes, colours and names that they were given by hand, and those drawn by hand stay.

use super::changes::{Change, compare};
use super::draft::Draft;
use super::element::{Element, Map};
use super::ground_file;
use super::ground_read::{GroundFile, names, read_ground};
use super::lay::lay_over;
use super::one_course::{Refused, Survey, survey, survey_over};
use super::read::Source;
use crate::course;
use crate::notebook::edit::{Edit, Path, Value, apply};
use crate::notebook::{self, Node, Severity};
use crate::units::LengthUnit;

/// Lists of pieces of a sketch that a draft writes by id.
const PIECES: [&str; 2] = ["bunkers", "penalty"];
/// What a walk says of a hole.
const SAID: [&str; 2] = ["aims", "notes"];

/// A survey over an annotated notebook, ready to be written.
#[derive(Clone, Debug)]
pub struct Again {
    /// The survey.
    pub survey: Survey,
    /// The notebook's new text.
    pub notebook: String,
    /// The ground file's new text.
    pub ground: String,
    /// What moved, in words.
    pub moved: Vec<Change>,
    /// Where a person's number stands against the survey's, in sentences.
    pub kept: Vec<String>,
    /// Features that the map no longer shows, by id and kind.
    pub gone: Vec<String>,
}

/// Why a course cannot be surveyed again.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotAgain {
    /// The survey itself.
    #[error("{0}")]
    Refused(#[from] Refused),
    /// The notebook has an error, so that no edit of it can be proved.
    #[error("the notebook has an error in line {0}, so it is not touched: {1}")]
    Broken(usize, String),
    /// Written for a later marram.
    #[error("the notebook was written for a later marram and is never rewritten")]
    Later,
    /// The ground file cannot be read.
    #[error("the ground file that is there cannot be read, so nothing is written over it: {0}")]
    Ground(String),
}

/// The notebook and the ground as they are.
#[derive(Clone, Copy, Debug)]
pub struct Before<'a> {
    /// The notebook's text.
    pub notebook: &'a str,
    /// The text of its ground file; `None` where there is none yet.
    pub ground: Option<&'a str>,
    /// The name of the ground file.
    pub ground_name: &'a str,
}

/// Surveys again. Nothing is written; the same value is the preview.
///
/// # Errors
/// [`NotAgain`]; then nothing is to be written.
pub fn again(sources: &[Source<'_>], name: Option<&str>, before: Before<'_>, today: &str) -> Result<Again, NotAgain> {
    let (old_course, problems) = course::read(before.notebook);
    if let Some(error) = problems.iter().find(|d| d.severity == Severity::Error) {
        let line = notebook::Lines::new(before.notebook).place(error.span.start).line;
        return Err(NotAgain::Broken(line, error.message.clone()));
    }
    if old_course.as_ref().is_some_and(|c| c.read_only) {
        return Err(NotAgain::Later);
    }
    let known = match before.ground {
        Some(text) => {
            let (file, problems) = read_ground(before.ground_name, text);
            if let Some(error) = problems.iter().find(|d| d.severity == Severity::Error) {
                return Err(NotAgain::Ground(error.message.clone()));
            }
            Some(file)
        }
        None => None,
    };
    let new = survey_over(sources, name, |map| known.iter().for_each(|file| keep(map, file)))?;
    let unit = unit_of(before.notebook);
    let draft = |survey: &Survey| Draft { survey, unit, ground: before.ground_name, today }.write();
    let base = match before.ground {
        Some(text) => {
            let source = Source { name: before.ground_name, bytes: text.as_bytes() };
            Some(draft(&survey(&[source], None)?))
        }
        None => None,
    };
    let mut into = Notebook { text: before.notebook.to_owned(), kept: Vec::new() };
    into.merge(base.as_deref(), &draft(&new));
    let ground = ground_file::write(&new, today);
    let gone = known.iter().flat_map(|file| gone(&new, file)).collect();
    let laid = |text: &str, ground: Option<&GroundFile>| {
        let mut course = course::read(text).0?;
        ground.iter().for_each(|ground| {
            lay_over(&mut course, ground);
        });
        Some(course)
    };
    let (new_ground, _) = read_ground(before.ground_name, &ground);
    let moved = match (laid(before.notebook, known.as_ref()), laid(&into.text, Some(&new_ground))) {
        (Some(old), Some(new)) => compare(&old, &new),
        _ => Vec::new(),
    };
    Ok(Again { survey: new, notebook: into.text, ground, moved, kept: into.kept, gone })
}

fn unit_of(notebook: &str) -> LengthUnit {
    let root = notebook::read(notebook).0;
    let word = root.as_ref().and_then(|r| r.get("course")).and_then(|c| c.get("units")).and_then(Node::text);
    match word.map(str::trim) {
        Some("metres" | "meters") => LengthUnit::Metres,
        _ => LengthUnit::Yards,
    }
}

/// Whether an id is one that a map gives.
fn of_map(id: &str) -> bool {
    ["way/", "node/", "relation/", "line/", "wpt/", "trk/"].iter().any(|start| id.starts_with(start))
}

/// Gives the elements of a new map what the ground file says of them by hand, and adds what was drawn there by hand.
fn keep(map: &mut Map, file: &GroundFile) {
    for old in &file.map.elements {
        match map.elements.iter_mut().find(|e| e.id == old.id) {
            Some(new) => keep_tags(new, old),
            // A feature without an id of a map was drawn by a person.
            None if !of_map(&old.id) => map.elements.push(old.clone()),
            None => {}
        }
    }
}

fn keep_tags(new: &mut Element, old: &Element) {
    if names(old).next().is_some()
        && let Some(holes) = old.tags.get("holes")
    {
        new.tags.add("holes", holes);
    }
    for key in ["colour", "name", "par", "handicap", "ref"] {
        if let Some(value) = old.tags.get(key) {
            new.tags.add(key, value);
        }
    }
}

/// The features of the ground file that the new survey does not have.
fn gone(new: &Survey, file: &GroundFile) -> Vec<String> {
    let lost = file.map.elements.iter().filter(|old| !old.id.starts_with("line/") && new.index_of(&old.id).is_none());
    lost.map(|old| format!("{} ({})", old.id, super::kind::kind_of(&old.tags).word())).collect()
}

/// A notebook while a survey goes into it.
struct Notebook {
    text: String,
    kept: Vec<String>,
}

/// The holes of a notebook's text.
fn holes(text: &str) -> Vec<Node> {
    let root = notebook::read(text).0;
    root.as_ref().and_then(|r| r.get("holes")).map(|h| h.items().to_vec()).unwrap_or_default()
}

fn text_of<'a>(node: &'a Node, key: &str) -> Option<&'a str> {
    node.get(key).and_then(Node::text).map(str::trim)
}

/// The same hole in another text: by its id, else by its number where one of the two has no id.
fn same_hole<'a>(all: &'a [Node], hole: &Node) -> Option<&'a Node> {
    let id = text_of(hole, "id");
    let by_id = id.and_then(|id| all.iter().find(|h| text_of(h, "id") == Some(id)));
    let number = |h: &Node| text_of(h, "hole").and_then(|n| n.parse::<u8>().ok());
    by_id.or_else(|| all.iter().find(|h| number(h) == number(hole) && (id.is_none() || text_of(h, "id").is_none())))
}

impl Notebook {
    fn merge(&mut self, base: Option<&str>, draft: &str) {
        self.head(draft);
        let base = base.map(holes).unwrap_or_default();
        for new in holes(draft) {
            let all = holes(&self.text);
            let Some(ours) = same_hole(&all, &new) else {
                self.new_hole(&all, &new);
                continue;
            };
            let Some(raw) = ours.get("hole").and_then(Node::text) else { continue };
            let path = Path::new().key("holes").of("hole", raw);
            let empty = Node { kind: notebook::Kind::Map(Vec::new()), ..new.clone() };
            // A gap of the draft is as good as nothing: the new hole takes its place.
            let gap = text_of(ours, "tees") == Some("unknown");
            let was = if gap { ours } else { same_hole(&base, &new).unwrap_or(&empty) };
            let sketched = base.is_empty() && !gap;
            self.hole(&path, raw, ours.clone(), was, &new, sketched);
        }
    }

    /// What the course needs so that the ground is found and its credit shown.
    fn head(&mut self, draft: &str) {
        let course = |text: &str| notebook::read(text).0.and_then(|r| r.get("course").cloned());
        let (Some(ours), Some(new)) = (course(&self.text), course(draft)) else { return };
        for key in ["ground", "attribution", "licence", "source"] {
            if let (None, Some(value)) = (ours.get(key), new.get(key)) {
                self.try_edit("the course", &Edit::add(Path::new().key("course"), key, Value::from(value)));
            }
        }
        let sets = |text: &str| {
            let root = notebook::read(text).0;
            let items = root.as_ref().and_then(|r| r.get("tees")).map(|t| t.items().to_vec()).unwrap_or_default();
            items
        };
        let known: Vec<String> = sets(&self.text).iter().filter_map(|t| Some(text_of(t, "name")?.to_owned())).collect();
        for set in sets(draft) {
            if text_of(&set, "name").is_some_and(|name| !known.iter().any(|k| k == name)) {
                self.try_edit("the tees", &Edit::push(Path::new().key("tees"), Value::from(&set)));
            }
        }
    }

    fn new_hole(&mut self, all: &[Node], new: &Node) {
        let mut value = Value::from(new);
        let taken: Vec<u8> = all.iter().filter_map(|h| text_of(h, "hole")?.parse().ok()).collect();
        let wanted = text_of(new, "hole").and_then(|n| n.parse::<u8>().ok()).unwrap_or(1);
        let number =
            if taken.contains(&wanted) { (1..=36).find(|n| !taken.contains(n)).unwrap_or(wanted) } else { wanted };
        if let Value::Map(entries) = &mut value {
            entries.iter_mut().filter(|(k, _)| k == "hole").for_each(|(_, v)| *v = Value::Text(number.to_string()));
        }
        self.try_edit(&format!("hole {number}"), &Edit::push(Path::new().key("holes"), value));
    }

    fn hole(&mut self, path: &Path, raw: &str, ours: Node, was: &Node, new: &Node, sketched: bool) {
        let place = format!("hole {raw}");
        if sketched {
            // A sketch without ground: the survey brings shapes and the compass, and no number of the person's moves.
            if let (None, Some(value)) = (ours.get("bearing"), new.get("bearing")) {
                self.try_edit(&place, &Edit::add(path.clone(), "bearing", Value::from(value)));
            }
            return;
        }
        for key in ["id", "name", "par", "stroke_index", "line_from", "bearing", "bends", "heights"] {
            self.value(&place, path, key, &ours, was, new);
        }
        self.map(&place, path, "tees", &ours, was, new);
        let sketch = |n: &Node| n.get("sketch").cloned().filter(|s| !s.entries().is_empty());
        match (sketch(&ours), sketch(new)) {
            (None, Some(value)) if sketch(was).is_none() => {
                self.try_edit(&place, &Edit::add(path.clone(), "sketch", Value::from(&value)));
            }
            (Some(ours), Some(new)) => {
                let empty = Node { kind: notebook::Kind::Map(Vec::new()), ..new.clone() };
                let was = sketch(was).unwrap_or(empty);
                let path = path.clone().key("sketch");
                for list in PIECES {
                    self.pieces(&place, &path, list, [&ours, &was, &new]);
                }
                self.map(&place, &path, "green", &ours, &was, &new);
            }
            _ => {}
        }
        for list in SAID {
            let items = |n: &Node| {
                n.get(list).map(|l| l.items().iter().map(Value::from).collect::<Vec<_>>()).unwrap_or_default()
            };
            let (old, known) = (items(was), items(&ours));
            for item in items(new).into_iter().filter(|i| !old.contains(i) && !known.contains(i)) {
                self.try_edit(&place, &Edit::push(path.clone().key(list), item));
            }
        }
    }

    /// One value: the survey's where nobody changed it.
    fn value(&mut self, place: &str, path: &Path, key: &str, ours: &Node, was: &Node, new: &Node) {
        let of = |node: &Node| node.get(key).map(Value::from);
        let (ours, was, new) = (of(ours), of(was), of(new));
        if ours == new || was == new {
            return;
        }
        let unknown =
            |v: &Option<Value>| matches!(v, None | Some(Value::Nothing)) || *v == Some(Value::from("unknown"));
        match (&ours, new) {
            (None, Some(value)) if was.is_none() => {
                self.try_edit(place, &Edit::add(path.clone(), key, value));
            }
            (Some(mine), Some(value)) if ours == was || unknown(&ours) => {
                let edit = Edit::set(path.clone().key(key), value).over(mine.clone());
                self.try_edit(place, &edit);
            }
            (Some(_), None) if ours == was => self.try_edit(place, &Edit::remove(path.clone().key(key))),
            (Some(mine), Some(value)) => {
                self.kept.push(format!("{place}: {key} stays {}; the survey has {}", shown(mine), shown(&value)));
            }
            _ => {}
        }
    }

    /// A map entry by entry; as a whole where one of the three has none.
    fn map(&mut self, place: &str, path: &Path, key: &str, ours: &Node, was: &Node, new: &Node) {
        let (Some(mine), Some(then)) = (ours.get(key), new.get(key)) else {
            self.value(place, path, key, ours, was, new);
            return;
        };
        if mine.entries().is_empty() || then.entries().is_empty() {
            self.value(place, path, key, ours, was, new);
            return;
        }
        let empty = Node { kind: notebook::Kind::Map(Vec::new()), ..then.clone() };
        let before = was.get(key).unwrap_or(&empty);
        let path = path.clone().key(key);
        let mut keys: Vec<&str> = then.entries().iter().map(|e| e.key.as_str()).collect();
        keys.extend(before.entries().iter().map(|e| e.key.as_str()).filter(|k| then.get(k).is_none()));
        for entry in keys {
            self.value(&format!("{place}, {key}"), &path, entry, mine, before, then);
        }
    }

    /// Pieces by id: new ones come, those that the map lost go where nobody wrote anything about them.
    fn pieces(&mut self, place: &str, path: &Path, list: &str, [ours, was, new]: [&Node; 3]) {
        let items = |n: &Node| n.get(list).map(|l| l.items().to_vec()).unwrap_or_default();
        let (mine, before, then) = (items(ours), items(was), items(new));
        let has = |all: &[Node], item: &Node| {
            let id = text_of(item, "id");
            id.is_some() && all.iter().any(|other| text_of(other, "id") == id)
        };
        for item in then.iter().filter(|i| !has(&before, i) && !has(&mine, i)) {
            self.try_edit(place, &Edit::push(path.clone().key(list), Value::from(item)));
        }
        for item in before.iter().filter(|i| !has(&then, i) && has(&mine, i)) {
            let Some(id) = text_of(item, "id") else { continue };
            let untouched = mine.iter().any(|m| Value::from(m) == Value::from(item));
            // The last of a list would leave an empty one behind: the list goes as a whole.
            let last = mine.len() == 1 && !then.iter().any(|i| !has(&before, i));
            match (untouched, last) {
                (true, true) => self.try_edit(place, &Edit::remove(path.clone().key(list))),
                (true, false) => self.try_edit(place, &Edit::remove(path.clone().key(list).of("id", id))),
                (false, _) => {
                    self.kept.push(format!("{place}: {id} stays in the notebook; the survey has it no longer"))
                }
            }
        }
    }

    /// Makes an edit, or says that it is left to the person.
    fn try_edit(&mut self, place: &str, edit: &Edit) {
        match apply(&self.text, edit) {
            Ok(edited) => self.text = edited.text,
            Err(refusal) => self.kept.push(format!("{place}: {refusal}")),
        }
    }
}

/// A value on one line.
fn shown(value: &Value) -> String {
    match value {
        Value::Nothing => "nothing".to_owned(),
        Value::Broken => "something unreadable".to_owned(),
        Value::Text(text) => text.clone(),
        Value::List(items) => format!("[ {} ]", items.iter().map(shown).collect::<Vec<_>>().join(", ")),
        Value::Map(entries) => {
            format!(
                "{{ {} }}",
                entries.iter().map(|(k, v)| format!("{k}: {}", shown(v))).collect::<Vec<_>>().join(", ")
            )
        }
    }
}
