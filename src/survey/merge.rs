//! A person's layer taken into the notebook, hole by hole: first as a preview, then as the two new texts.
//!
//! Every change is an edit of the notebook that is proved before it counts, so comments and order stay. What was written for one
//! pupil stays that pupil's: it gets `when: { pupil: NAME }`. Holes that were taken go out of the layer, else their notes would
//! be shown twice.

use crate::course::{self, Course, Layer};
use crate::notebook::edit::{Edit, Op, Path, Value, apply};
use crate::notebook::{self, Node, Severity};
use crate::units::LengthUnit;

/// The lists of a hole that a layer can add to, in the order in which they are shown.
const LISTS: [&str; 4] = ["aims", "dangers", "layups", "notes"];

/// What becomes of one thing that a layer says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MergeAct {
    /// It comes to the rest.
    Added,
    /// It stands instead of something.
    Replaced,
    /// The layer hides it and it goes out of the notebook.
    TakenOut,
    /// What it replaces or hides is not there any more: a replacement is added, a hiding does nothing.
    NotFound,
    /// The notebook says the same already.
    Already,
}

impl MergeAct {
    /// Its word in reports.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Added => "added",
            Self::Replaced => "replaced",
            Self::TakenOut => "taken out",
            Self::NotFound => "not found",
            Self::Already => "there already",
        }
    }
}

/// One thing that a layer says and what becomes of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MergeStep {
    /// `aims`, `dangers`, `layups` or `notes`; for something hidden the list where it was found.
    pub list: &'static str,
    /// What becomes of it.
    pub act: MergeAct,
    /// Its words, or the id that is hidden.
    pub words: String,
    /// The words of what goes.
    pub was: Option<String>,
}

/// What a layer would change on one hole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MergeHole {
    /// The hole.
    pub number: u8,
    /// Its changes in the order of the layer.
    pub steps: Vec<MergeStep>,
    /// The lines of the notebook as they are and as they would be, each with its number from 1.
    pub before: Vec<(usize, String)>,
    /// See `before`.
    pub after: Vec<(usize, String)>,
}

/// A layer merged into a notebook, or the preview of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Merged {
    /// Whose layer it is.
    pub whose: String,
    /// The holes that were taken.
    pub holes: Vec<MergeHole>,
    /// The new text of the notebook.
    pub notebook: String,
    /// The new text of the layer, without those holes; `None` where its own text could not be changed so.
    pub layer: Option<String>,
}

/// Why nothing is merged.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoMerge {
    /// One of the two texts has an error.
    #[error("the {0} has an error in line {1}, so nothing is merged: {2}")]
    Broken(&'static str, usize, String),
    /// A text that may not be rewritten.
    #[error("the {0} was written for a later marram and is never rewritten")]
    Later(&'static str),
    /// A hole that the layer does not have.
    #[error("the layer says nothing of hole {0}")]
    NoHole(u8),
    /// An edit that could not be proved.
    #[error("hole {0}: {1}")]
    Refused(u8, String),
}

/// Merges the named holes of a layer, or all of them when none is named. Nothing is written; the preview is the same value.
///
/// # Errors
/// [`NoMerge`]; nothing is half merged.
pub fn merge(notebook: &str, layer: &str, holes: &[u8]) -> Result<Merged, NoMerge> {
    let (course, problems) = course::read(notebook);
    let course = sound("notebook", notebook, &problems, course)?;
    let (said, problems) = course::read_layer(layer, Some(&course));
    let said = sound("layer", layer, &problems, said)?;
    if course.read_only {
        return Err(NoMerge::Later("notebook"));
    }
    if let Some(missing) = holes.iter().find(|n| !said.holes.iter().any(|h| h.number == **n)) {
        return Err(NoMerge::NoHole(*missing));
    }
    let root = notebook::read(layer).0;
    let nodes = root.as_ref().and_then(|r| r.get("holes")).map(Node::items).unwrap_or_default();
    let unit = root
        .as_ref()
        .and_then(|r| r.get("units"))
        .and_then(Node::text)
        .map_or(course.units, |word| if word.trim() == "metres" { LengthUnit::Metres } else { LengthUnit::Yards });
    let mut into = Into { text: notebook.to_owned(), layer: &said, course: &course, unit };
    let mut merged = Merged { whose: said.whose().to_owned(), holes: Vec::new(), notebook: String::new(), layer: None };
    let mut rest = (!said.read_only).then(|| layer.to_owned());
    for hole in &said.holes {
        if !holes.is_empty() && !holes.contains(&hole.number) {
            continue;
        }
        let Some(node) = nodes.iter().find(|n| number_of(n) == Some(hole.number)) else { continue };
        let before = into.text.clone();
        let steps = into.hole(hole.number, node)?;
        let (before, after) = changed(&before, &into.text);
        merged.holes.push(MergeHole { number: hole.number, steps, before, after });
        let raw = node.get("hole").and_then(Node::text).unwrap_or_default();
        rest = rest.and_then(|text| {
            apply(&text, &Edit::remove(Path::new().key("holes").of("hole", raw))).ok().map(|e| e.text)
        });
    }
    let (_, problems) = course::read(&into.text);
    if let Some(error) = problems.iter().find(|d| d.severity == Severity::Error) {
        let line = notebook::Lines::new(&into.text).place(error.span.start).line;
        return Err(NoMerge::Broken("merged notebook", line, error.message.clone()));
    }
    merged.notebook = into.text;
    merged.layer = rest;
    Ok(merged)
}

/// The value of a text without errors.
fn sound<T>(
    which: &'static str,
    text: &str,
    problems: &[notebook::Diagnostic],
    value: Option<T>,
) -> Result<T, NoMerge> {
    let broken = |d: &notebook::Diagnostic| {
        NoMerge::Broken(which, notebook::Lines::new(text).place(d.span.start).line, d.message.clone())
    };
    match (value, problems.iter().find(|d| d.severity == Severity::Error)) {
        (_, Some(error)) => Err(broken(error)),
        (Some(value), None) => Ok(value),
        (None, None) => Err(NoMerge::Broken(which, 1, "it cannot be read".to_owned())),
    }
}

fn number_of(node: &Node) -> Option<u8> {
    node.get("hole").and_then(Node::text)?.trim().parse().ok()
}

/// The notebook while a layer goes into it.
struct Into<'a> {
    text: String,
    layer: &'a Layer,
    course: &'a Course,
    /// The unit of the layer.
    unit: LengthUnit,
}

impl Into<'_> {
    fn hole(&mut self, number: u8, node: &Node) -> Result<Vec<MergeStep>, NoMerge> {
        let mut steps = Vec::new();
        for list in LISTS {
            for item in node.get(list).map(Node::items).unwrap_or_default() {
                if let Some(hidden) = item.get("hides") {
                    self.hide(number, hidden, &mut steps)?;
                } else {
                    steps.push(self.item(number, list, item)?);
                }
            }
        }
        if let Some(hidden) = node.get("hides") {
            self.hide(number, hidden, &mut steps)?;
        }
        Ok(steps)
    }

    /// The list of a hole in the notebook as it is now.
    fn list(&self, number: u8, list: &'static str) -> (Path, Vec<Node>) {
        let root = notebook::read(&self.text).0;
        let holes = root.as_ref().and_then(|r| r.get("holes")).map(Node::items).unwrap_or_default();
        let hole = holes.iter().find(|n| number_of(n) == Some(number));
        let raw = hole.and_then(|h| h.get("hole")).and_then(Node::text).map_or(number.to_string(), str::to_owned);
        let items = hole.and_then(|h| h.get(list)).map(|l| l.items().to_vec()).unwrap_or_default();
        (Path::new().key("holes").of("hole", &raw).key(list), items)
    }

    fn item(&mut self, number: u8, list: &'static str, item: &Node) -> Result<MergeStep, NoMerge> {
        let replaces = item.get("replaces").and_then(Node::text).map(|id| id.trim().to_owned());
        let value = self.value(item);
        let (path, known) = self.list(number, list);
        let words = words(item);
        if known.iter().any(|k| Value::from(k) == value) {
            return Ok(MergeStep { list, act: MergeAct::Already, words, was: None });
        }
        let same = |k: &&Node| replaces.as_deref().is_some_and(|id| identity(k) == id);
        let old: Vec<usize> = known.iter().enumerate().filter(|(_, k)| same(k)).map(|(i, _)| i).collect();
        let Some((first, others)) = old.split_first() else {
            self.edit(number, &Edit::push(path, value))?;
            let act = if replaces.is_some() { MergeAct::NotFound } else { MergeAct::Added };
            return Ok(MergeStep { list, act, words, was: None });
        };
        let was = known.get(*first).map(self::words);
        // One name may stand for several; all of them are replaced. The last goes first, so that places hold.
        for index in others.iter().rev() {
            self.edit(number, &Edit::remove(path.clone().item(*index)))?;
        }
        self.edit(number, &Edit::remove(path.clone().item(*first)))?;
        let op = Op::Push { value, at: Some(*first), back: None };
        self.edit(number, &Edit { path, op })?;
        Ok(MergeStep { list, act: MergeAct::Replaced, words, was })
    }

    fn hide(&mut self, number: u8, hidden: &Node, steps: &mut Vec<MergeStep>) -> Result<(), NoMerge> {
        let one = std::iter::once(hidden).filter(|n| n.text().is_some());
        let ids: Vec<String> = one.chain(hidden.items()).filter_map(Node::text).map(|t| t.trim().to_owned()).collect();
        for id in ids {
            let mut found = false;
            for list in LISTS {
                loop {
                    let (path, known) = self.list(number, list);
                    let Some(index) = known.iter().position(|k| identity(k) == id) else { break };
                    found = true;
                    let was = known.get(index).map(words);
                    self.edit(number, &Edit::remove(path.item(index)))?;
                    steps.push(MergeStep { list, act: MergeAct::TakenOut, words: id.clone(), was });
                }
            }
            if !found {
                steps.push(MergeStep { list: "notes", act: MergeAct::NotFound, words: id, was: None });
            }
        }
        Ok(())
    }

    fn edit(&mut self, number: u8, edit: &Edit) -> Result<(), NoMerge> {
        self.text = apply(&self.text, edit).map_err(|refusal| NoMerge::Refused(number, refusal.to_string()))?.text;
        Ok(())
    }

    /// What a layer says as the notebook writes it: without `replaces`, in the notebook's unit, for its pupil alone.
    fn value(&self, item: &Node) -> Value {
        let mut entries: Vec<(String, Value)> = match Value::from(item) {
            Value::Map(entries) => entries.into_iter().filter(|(key, _)| key != "replaces").collect(),
            other => return other,
        };
        if self.unit != self.course.units {
            let scale = self.unit.in_yards() / self.course.units.in_yards();
            entries.iter_mut().for_each(|(key, value)| convert(key, value, scale));
        }
        if let Some(pupil) = &self.layer.for_whom {
            let pupil = (String::from("pupil"), Value::from(pupil.as_str()));
            match entries.iter_mut().find(|(key, _)| key == "when") {
                Some((_, Value::Map(when))) if !when.iter().any(|(key, _)| key == "pupil") => when.push(pupil),
                Some(_) => {}
                None => {
                    let place = entries.iter().position(|(key, _)| key == "text").unwrap_or(entries.len());
                    entries.insert(place, ("when".to_owned(), Value::Map(vec![pupil])));
                }
            }
        }
        Value::Map(entries)
    }
}

/// Numbers of lengths in another unit, to a tenth.
fn convert(key: &str, value: &mut Value, scale: f64) {
    match value {
        Value::Map(entries) => entries.iter_mut().for_each(|(key, value)| convert(key, value, scale)),
        Value::List(items) => items.iter_mut().for_each(|item| convert(key, item, scale)),
        Value::Text(text) if matches!(key, "at" | "across" | "to_middle" | "from" | "carry") => {
            *text = scaled(text, scale);
        }
        _ => {}
    }
}

fn scaled(text: &str, scale: f64) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(start) = rest.find(|c: char| c.is_ascii_digit()) {
        let (before, from) = rest.split_at(start);
        out.push_str(before);
        // A range is written with two points: `200..` is 200 and an open end.
        let end = from.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(from.len());
        let end = from.get(..end).and_then(|f| f.find("..")).unwrap_or(end);
        let (figure, after) = from.split_at(end);
        match figure.parse::<f64>() {
            Ok(number) => out.push_str(&format!("{}", (number * scale * 10.0).round() / 10.0)),
            Err(_) => out.push_str(figure),
        }
        rest = after;
    }
    out.push_str(rest);
    out
}

/// By what a layer names something: its `id`, else its name, else what it is of, else its text.
fn identity(node: &Node) -> String {
    let of = |key: &str| node.get(key).and_then(Node::text).map(str::trim).filter(|t| !t.is_empty());
    ["id", "name", "of", "text"].iter().find_map(|key| of(key)).unwrap_or_default().to_owned()
}

/// What is shown of a thing: its name and its words.
fn words(node: &Node) -> String {
    let of = |key: &str| node.get(key).and_then(Node::text).map(str::trim).filter(|t| !t.is_empty());
    let name = of("name").or_else(|| of("of"));
    match (name, of("text")) {
        (Some(name), Some(text)) => format!("{name}: {text}"),
        (Some(one), None) | (None, Some(one)) => one.to_owned(),
        (None, None) => {
            let entries = node.entries().iter().filter_map(|e| Some(format!("{} {}", e.key, e.value.text()?)));
            entries.collect::<Vec<_>>().join(", ")
        }
    }
}

/// Numbered lines.
type Lines = Vec<(usize, String)>;

/// The lines in which two texts differ, with their numbers: those that went and those that came.
fn changed(old: &str, new: &str) -> (Lines, Lines) {
    let (a, b): (Vec<&str>, Vec<&str>) = (old.lines().collect(), new.lines().collect());
    let head = a.iter().zip(&b).take_while(|(x, y)| x == y).count();
    let room = a.len().min(b.len()) - head;
    let tail = a.iter().rev().zip(b.iter().rev()).take_while(|(x, y)| x == y).count().min(room);
    let part = |all: &[&str]| -> Lines {
        all.iter().enumerate().take(all.len() - tail).skip(head).map(|(i, l)| (i + 1, (*l).to_owned())).collect()
    };
    let (gone, come) = (part(&a), part(&b));
    // A hole is a hundred lines; what is longer is shown as one block.
    if gone.len() * come.len() > 1_000_000 {
        return (gone, come);
    }
    without_common(gone, come)
}

/// Leaves out the longest run of lines that both have in order.
fn without_common(gone: Lines, come: Lines) -> (Lines, Lines) {
    let (n, m) = (gone.len(), come.len());
    let mut length = vec![vec![0_u32; m + 1]; n + 1];
    let at = |table: &[Vec<u32>], i: usize, j: usize| table.get(i).and_then(|row| row.get(j)).copied().unwrap_or(0);
    let same = |i: usize, j: usize| gone.get(i).map(|l| &l.1) == come.get(j).map(|l| &l.1);
    for i in (0..n).rev() {
        for j in (0..m).rev() {
            let best = if same(i, j) {
                at(&length, i + 1, j + 1) + 1
            } else {
                at(&length, i + 1, j).max(at(&length, i, j + 1))
            };
            if let Some(cell) = length.get_mut(i).and_then(|row| row.get_mut(j)) {
                *cell = best;
            }
        }
    }
    let (mut i, mut j) = (0, 0);
    let (mut kept_a, mut kept_b) = (Vec::new(), Vec::new());
    while i < n || j < m {
        if i < n && j < m && same(i, j) {
            (i, j) = (i + 1, j + 1);
        } else if j >= m || i < n && at(&length, i + 1, j) >= at(&length, i, j + 1) {
            kept_a.extend(gone.get(i).cloned());
            i += 1;
        } else {
            kept_b.extend(come.get(j).cloned());
            j += 1;
        }
    }
    (kept_a, kept_b)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    const NOTEBOOK: &str = include_str!("../../sample-courses/corvane.yaml");

    fn layer(head: &str, holes: &str) -> String {
        format!("format: notebook-layer/1\ncourse: corvane.yaml\n{head}holes:\n{holes}")
    }

    #[test]
    fn a_note_is_added_and_its_hole_leaves_the_layer() {
        let text = layer(
            "by: Ana\n",
            "  - hole: 2\n    notes:\n      - at: tee\n        text: Left half.\n  - hole: 3\n    notes:\n      - { at: green, text: Stay below. }\n",
        );
        let merged = merge(NOTEBOOK, &text, &[2]).unwrap();
        assert_eq!(merged.holes.len(), 1);
        let hole = merged.holes.first().unwrap();
        assert_eq!(hole.steps.first().map(|s| (s.list, s.act)), Some(("notes", MergeAct::Added)));
        assert!(hole.before.is_empty() && hole.after.iter().any(|(_, l)| l.contains("Left half.")), "{hole:?}");
        let rest = merged.layer.unwrap();
        assert!(!rest.contains("Left half") && rest.contains("Stay below"), "{rest}");
        let again = merge(&merged.notebook, &text, &[2]).unwrap();
        assert_eq!(again.holes.first().and_then(|h| h.steps.first()).map(|s| s.act), Some(MergeAct::Already));
        assert_eq!(again.notebook, merged.notebook);
        assert_eq!(merge(NOTEBOOK, &text, &[7]), Err(NoMerge::NoHole(7)));
    }

    #[test]
    fn what_is_replaced_and_hidden_goes_and_a_pupils_note_stays_the_pupils() {
        let course = course::read(NOTEBOOK).0.unwrap();
        let hole =
            course.holes.iter().find(|h| h.notes.len() > 1 || !h.aims.is_empty() && !h.notes.is_empty()).unwrap();
        let id = &hole.notes.first().unwrap().written.id;
        let quoted = crate::survey::draft::in_quotes(id);
        let text = layer(
            "for: Wren Hallam\n",
            &format!(
                "  - hole: {}\n    notes:\n      - replaces: {quoted}\n        at: green\n        text: Mine instead.\n    hides: [ \"no such thing\" ]\n",
                hole.number
            ),
        );
        let merged = merge(NOTEBOOK, &text, &[]).unwrap();
        let steps = &merged.holes.first().unwrap().steps;
        assert_eq!(steps.iter().map(|s| s.act).collect::<Vec<_>>(), [MergeAct::Replaced, MergeAct::NotFound]);
        let now = course::read(&merged.notebook).0.unwrap();
        let notes = &now.hole(hole.number).unwrap().notes;
        assert_eq!(notes.len(), hole.notes.len());
        let mine = notes.iter().find(|n| n.written.text.as_deref() == Some("Mine instead.")).unwrap();
        assert!(format!("{:?}", mine.written.when).contains("Wren Hallam"));
        assert!(!notes.iter().any(|n| n.written.id == *id));
        // A layer without a hole is a layer that can still be read.
        let (rest, problems) = course::read_layer(&merged.layer.unwrap(), Some(&now));
        assert!(rest.is_some_and(|l| l.holes.is_empty()), "{problems:?}");
        assert!(problems.iter().all(|d| d.severity != Severity::Error), "{problems:?}");
    }

    #[test]
    fn lengths_of_another_unit_are_turned_over() {
        assert_eq!(scaled("200..", 1.5), "300..");
        assert_eq!(scaled("100..120", 2.0), "200..240");
        assert_eq!(scaled("4L", 1.0936), "4.4L");
        assert_eq!(scaled("tee", 2.0), "tee");
    }
}
