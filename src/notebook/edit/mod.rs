//! Edits that change the lines they must and no others: comments, order, layout and line ends stay.
//!
//! An [`Edit`] is data: where, and what. [`apply`] makes it on a text, then proves it: both texts are read again, and
//! the nodes of raw text must differ by exactly this edit. What cannot be proved is refused and nothing is changed.
//! Every edit comes back with its inverse, which is applied to the text as it is *then*, and is refused when someone
//! has changed that place in between.

mod element;
mod insert;
mod layout;
mod remove;
mod scalar;
mod set;
mod splice;
mod value;

pub use value::{Path, Step, Value};

use super::{Node, Severity, read};
use layout::Layout;

/// A change of one place of a text.
#[derive(Clone, Debug, PartialEq)]
pub struct Edit {
    /// Where: the value for [`Op::Set`] and [`Op::Remove`], the list or map for the others.
    pub path: Path,
    /// What.
    pub op: Op,
}

/// What an [`Edit`] does.
#[derive(Clone, Debug, PartialEq)]
pub enum Op {
    /// Gives the value at the path another value. The way it is written is kept where it can be.
    Set {
        /// The new value.
        value: Value,
        /// What must stand there now; any value when `None`.
        was: Option<Value>,
        /// The way to write it, when it is put back.
        back: Option<Back>,
    },
    /// Adds an entry to the map at the path.
    Add {
        /// The new key, which must not be there yet.
        key: String,
        /// Its value.
        value: Value,
        /// Place among the entries; last when `None`.
        at: Option<usize>,
        /// The way to write it, when it is put back.
        back: Option<Back>,
    },
    /// Adds an item to the list at the path; where the last key of the path is missing or empty, the list is made.
    Push {
        /// The new item.
        value: Value,
        /// Place among the items; last when `None`.
        at: Option<usize>,
        /// The way to write it, when it is put back.
        back: Option<Back>,
    },
    /// Takes the entry or item at the path away, with the comments on its own lines.
    Remove {
        /// What must stand there now; any value when `None`. An item that has moved within its list is found by it.
        was: Option<Value>,
    },
}

/// The exact characters of something that is put back.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Back {
    /// The characters to write.
    text: String,
    /// The characters that must stand there now ([`Op::Set`]).
    over: String,
    /// How many lines with nothing but a comment or blanks stand between it and its neighbour ([`Op::Add`], [`Op::Push`]).
    gap: usize,
    /// Whether `text` is the item alone, without the comma and blanks around it.
    bare: bool,
}

impl Edit {
    /// Sets the text at `path`.
    pub fn set(path: Path, value: impl Into<Value>) -> Self {
        Edit { path, op: Op::Set { value: value.into(), was: None, back: None } }
    }

    /// Adds `key` with `value` to the map at `path`, last.
    pub fn add(path: Path, key: &str, value: impl Into<Value>) -> Self {
        Edit { path, op: Op::Add { key: key.to_owned(), value: value.into(), at: None, back: None } }
    }

    /// Adds an item to the list at `path`, last; makes the list where its key is missing.
    pub fn push(path: Path, value: impl Into<Value>) -> Self {
        Edit { path, op: Op::Push { value: value.into(), at: None, back: None } }
    }

    /// Takes away what stands at `path`.
    pub fn remove(path: Path) -> Self {
        Edit { path, op: Op::Remove { was: None } }
    }

    /// The same edit, refused unless `was` stands there: for [`Op::Set`] and [`Op::Remove`].
    #[must_use]
    pub fn over(mut self, value: impl Into<Value>) -> Self {
        match &mut self.op {
            Op::Set { was, .. } | Op::Remove { was } => *was = Some(value.into()),
            Op::Add { .. } | Op::Push { .. } => {}
        }
        self
    }
}

/// A text with an edit made.
#[derive(Clone, Debug, PartialEq)]
pub struct Edited {
    /// The new text.
    pub text: String,
    /// Lines of the new text that are new or changed, from 1, first and last; first is last + 1 when lines only went.
    pub lines: (usize, usize),
    /// Lines of the old text that they replace, in the same way.
    pub old_lines: (usize, usize),
    /// The edit that takes it back.
    pub inverse: Edit,
}

impl Edited {
    /// The new or changed lines with their numbers.
    pub fn changed(&self) -> Vec<(usize, &str)> {
        let (first, last) = self.lines;
        let lines = self.text.lines().enumerate().map(|(i, l)| (i + 1, l));
        lines.skip(first - 1).take((last + 1).saturating_sub(first)).collect()
    }
}

/// Why an edit was not made. The text is as it was.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// The text has errors, so it is not certain what an edit would change.
    #[error("line {line} has an error, so nothing is changed: {message}")]
    Broken {
        /// Its first error, from 1.
        line: usize,
        /// What the error says.
        message: String,
    },
    /// Nothing stands at the path.
    #[error("there is nothing at {0}")]
    Missing(String),
    /// Something else stands at the path than the edit needs.
    #[error("{path} is {found}, not {wanted}")]
    Wrong {
        /// The path.
        path: String,
        /// What stands there.
        found: &'static str,
        /// What the edit needs.
        wanted: &'static str,
    },
    /// The key is there already.
    #[error("{0} is there already")]
    There(String),
    /// Someone has changed the place since.
    #[error("{0} has been changed since, so it is left as it is")]
    Changed(String),
    /// A comment would be lost.
    #[error("a comment stands inside {0} and would be lost; change it by hand")]
    Comment(String),
    /// The result did not prove to be this edit and nothing else.
    #[error("{0} cannot be changed without touching more than this; change it by hand")]
    Unproved(String),
}

/// Makes `edit` on `text`.
///
/// ```
/// use marram::notebook::edit::{Edit, Path, Value, apply};
/// let text = "holes:\n  - hole: 4   # the long one\n    par: 4\n";
/// let notes = Path::new().key("holes").of("hole", "4").key("notes");
/// let note = Value::map([("at", "tee"), ("text", "Left half, always.")]);
/// let done = apply(text, &Edit::push(notes, note)).unwrap();
/// assert_eq!(
///     done.text,
///     "holes:\n  - hole: 4   # the long one\n    par: 4\n    notes:\n      - at: tee\n        text: Left half, always.\n"
/// );
/// assert_eq!(apply(&done.text, &done.inverse).unwrap().text, text);
/// ```
///
/// # Errors
/// A [`Refusal`] with its reason; the text is then as it was.
pub fn apply(text: &str, edit: &Edit) -> Result<Edited, Refusal> {
    let node = whole(text)?;
    let layout = Layout::of(text, &node);
    let mut last = Refusal::Unproved(edit.path.to_string());
    for plan in splice::plans(&layout, &node, edit)? {
        let new = plan.made(text);
        match proved(&node, &new, &plan.meaning) {
            true => {
                let (lines, old_lines) = changed_lines(text, &new);
                return Ok(Edited { text: new, lines, old_lines, inverse: plan.inverse });
            }
            false => last = Refusal::Unproved(edit.path.to_string()),
        }
    }
    Err(last)
}

/// The node of a text without errors.
fn whole(text: &str) -> Result<Node, Refusal> {
    let (node, problems) = read(text);
    if let Some(d) = problems.iter().find(|d| d.severity == Severity::Error) {
        let line = super::Lines::new(text).place(d.span.start).line;
        return Err(Refusal::Broken { line, message: d.message.clone() });
    }
    node.ok_or_else(|| Refusal::Missing(Path::new().to_string()))
}

/// Whether `new` reads as the old nodes with the meaning of the edit applied, without an error.
fn proved(old: &Node, new: &str, meaning: &value::Meaning) -> bool {
    let Ok(node) = whole(new) else { return false };
    let mut expected = Value::from(old);
    meaning.apply(&mut expected) && expected == Value::from(&node)
}

/// First and last changed line of the new and of the old text.
fn changed_lines(old: &str, new: &str) -> ((usize, usize), (usize, usize)) {
    let a: Vec<&str> = old.split_inclusive('\n').collect();
    let b: Vec<&str> = new.split_inclusive('\n').collect();
    let head = a.iter().zip(&b).take_while(|(x, y)| x == y).count();
    let room = a.len().min(b.len()) - head;
    let tail = a.iter().rev().zip(b.iter().rev()).take_while(|(x, y)| x == y).count().min(room);
    ((head + 1, b.len() - tail), (head + 1, a.len() - tail))
}
