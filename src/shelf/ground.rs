//! Surveyed ground that a notebook names: whether the file is there to be read.

use crate::course::Course;
use crate::notebook::{self, Diagnostic, Node, Span};
use crate::store::{Limit, beside, read};
use std::path::Path;

/// What is wrong with the ground that the notebook at `path` names; `None` when it names none or the file can be read.
pub fn ground_trouble(path: &Path, text: &str, course: &Course) -> Option<Diagnostic> {
    let named = course.ground.as_ref()?;
    let error = beside(path, named).and_then(|place| read(&place, Limit::MAP)).err()?;
    let root = notebook::read(text).0;
    let node = root.as_ref().and_then(|root| root.get("course")).and_then(|course| course.get("ground"));
    let span = node.map_or(Span::at(0), |node: &Node| node.span);
    let message = format!("the surveyed ground `{named}` cannot be read: {}", error.what);
    let advice = "put the file beside the notebook, or take `ground` out; the sketch is used until then";
    Some(Diagnostic::warning("ground-not-read", span, message).advise(advice))
}
