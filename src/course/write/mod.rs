//! Changes to a notebook or a layer: edits that are proved, and read again before anything is written.
//!
//! [`things`] and [`changes`] speak of what was written about a hole, [`sketch`] and [`notation`] of its ground.

pub mod edges;
pub mod notation;
pub mod sketch;
pub mod things;

pub use things::{Sort, Thing, added, changes, hidden, removed, things};

use super::decode::quoted;
use super::model::Course;
use super::read::{read, read_layer};
use crate::notebook::edit::{self, Edit, Path, Refusal, Value};
use crate::notebook::{Diagnostic, Lines, Node, Severity};

/// Which file is changed.
#[derive(Clone, Copy, Debug)]
pub enum Of<'c> {
    /// The notebook itself.
    Notebook,
    /// A layer over this course.
    Layer(&'c Course),
}

/// A text with a change made.
#[derive(Clone, Debug, PartialEq)]
pub struct Made {
    /// The new text.
    pub text: String,
    /// The edits that take it back, in order.
    pub inverse: Vec<Edit>,
    /// Lines of the new text that are new or changed, from 1; `None` when lines only went.
    pub lines: Option<(usize, usize)>,
    /// What the reader warns of now and did not before, with the lines.
    pub warnings: Vec<String>,
}

/// Why a change was not made. The text is as it was.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotMade {
    /// Somebody has changed the place since it was read.
    #[error("{0}")]
    Changed(String),
    /// The edit cannot be made, or the reader would refuse the result.
    #[error("{0}")]
    Refused(String),
}

/// Makes `edits` on `text`, one after the other, each proved; then reads the result. `known` are the problems that the text
/// has already.
///
/// # Errors
/// The first edit that is refused, or the first error that the reader finds now and did not before, with what to do.
pub fn make(text: &str, edits: &[Edit], of: Of<'_>, known: &[Diagnostic]) -> Result<Made, NotMade> {
    let mut now = text.to_owned();
    let mut inverse = Vec::new();
    let mut lines: Option<(usize, usize)> = None;
    for edit in edits {
        let done = edit::apply(&now, edit).map_err(|refusal| match refusal {
            Refusal::Changed(_) | Refusal::Missing(_) => NotMade::Changed(refusal.to_string()),
            other => NotMade::Refused(other.to_string()),
        })?;
        if done.lines.0 <= done.lines.1 {
            let (first, last) = lines.unwrap_or(done.lines);
            lines = Some((first.min(done.lines.0), last.max(done.lines.1)));
        }
        now = done.text;
        inverse.insert(0, done.inverse);
    }
    let (later, found) = match of {
        Of::Notebook => {
            let (course, found) = read(&now);
            (course.is_some_and(|c| c.read_only), found)
        }
        Of::Layer(course) => {
            let (layer, found) = read_layer(&now, Some(course));
            (layer.is_some_and(|l| l.read_only), found)
        }
    };
    if later {
        return Err(NotMade::Refused(
            "the file was written for a later marram; it can be read here and not changed".to_owned(),
        ));
    }
    let is_new = |d: &&Diagnostic| !known.iter().any(|k| k.code == d.code && k.message == d.message);
    let words = |d: &Diagnostic| {
        if d.advice.is_empty() { d.message.clone() } else { format!("{}; {}", d.message, d.advice) }
    };
    if let Some(error) = found.iter().filter(is_new).find(|d| d.severity == Severity::Error) {
        return Err(NotMade::Refused(words(error)));
    }
    let line = |d: &Diagnostic| Lines::new(&now).place(d.span.start).line;
    let warnings = found.iter().filter(is_new).map(|d| format!("line {}: {}", line(d), words(d))).collect();
    Ok(Made { text: now, inverse, lines, warnings })
}

/// The node of a hole with the path to it, by its number however it is written: `04` is hole 4 too.
pub fn hole_node(root: &Node, number: u8) -> Option<(Path, &Node)> {
    root.get("holes")?.items().iter().find_map(|hole| {
        let raw = hole.get("hole").and_then(Node::text)?;
        (raw.trim().parse::<u8>().ok() == Some(number)).then(|| (Path::new().key("holes").of("hole", raw), hole))
    })
}

/// A hole to be added at the end of a notebook.
#[derive(Clone, Debug, PartialEq)]
pub struct NewHole {
    /// Its number.
    pub number: u8,
    /// Its par, as it is written.
    pub par: String,
    /// Its stroke index; unknown when `None`.
    pub stroke_index: Option<String>,
    /// The tee at which its line starts.
    pub tee: String,
    /// Its length from that tee, in the file's unit.
    pub length: String,
}

impl NewHole {
    /// The edit that adds it.
    pub fn edit(&self) -> Edit {
        let length = Value::map([("length", self.length.as_str())]);
        let hole: [(&str, Value); 5] = [
            ("hole", self.number.to_string().into()),
            ("par", self.par.as_str().into()),
            ("stroke_index", self.stroke_index.as_deref().unwrap_or("unknown").into()),
            ("line_from", self.tee.as_str().into()),
            ("tees", Value::map([(self.tee.as_str(), length)])),
        ];
        Edit::push(Path::new().key("holes"), Value::map(hole))
    }
}

/// The text of a new layer without a word on any hole yet: `course` is the notebook's file name.
pub fn new_layer(course: &str, person: &str, edition: Option<&str>) -> String {
    let safe = |words: &str| words.replace('\\', "\\\\").replace('"', "\\\"");
    let edition = edition.map(|e| format!("edition: \"{}\"\n", safe(e))).unwrap_or_default();
    let person = safe(person.trim());
    format!(
        "format: notebook-layer/1\n\n# Your own pages over somebody else's notebook, which this file never changes.\ncourse: \"{}\"\nby: \"{person}\"\nfor: \"{person}\"\n{edition}\nholes: []\n",
        safe(course)
    )
}

/// Advice where a layer cannot take something.
pub fn not_in_a_layer(what: &str) -> String {
    format!("a layer has no {}: write it into the notebook (o changes where you write)", quoted(what))
}
