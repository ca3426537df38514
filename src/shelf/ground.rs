//! The surveyed ground that a notebook names: found beside it, read, laid over its sketches.

use super::load::shown;
use crate::course::Course;
use crate::notebook::Diagnostic;
use crate::session::ReadFile;
use crate::store::{Limit, beside, read_text};
use crate::survey::codes::ground_missing;
use crate::survey::{lay_over, read_ground};
use std::path::Path;

/// What came of it.
#[derive(Clone, Debug, Default)]
pub struct LaidGround {
    /// The ground file with its problems; `None` when the notebook names none or it cannot be read.
    pub file: Option<ReadFile>,
    /// Problems at places of the notebook.
    pub in_notebook: Vec<Diagnostic>,
}

/// Lays the ground beside a notebook over its course. Without the file the sketches stand, with a warning that says so.
pub fn lay_beside(course: &mut Course, notebook: &Path, text: &str) -> LaidGround {
    let Some(named) = course.ground.clone() else { return LaidGround::default() };
    match beside(notebook, &named).and_then(|place| read_text(&place, Limit::MAP)) {
        Ok(file) => lay(course, &shown(&file.path), file.text),
        Err(error) => {
            let missing = ground_missing(text, &named, &error.what, &error.cure);
            LaidGround { file: None, in_notebook: vec![missing] }
        }
    }
}

/// Lays ground that has been read over a course.
pub fn lay(course: &mut Course, name: &str, text: String) -> LaidGround {
    let (ground, mut diagnostics) = read_ground(name, &text);
    let laid = lay_over(course, &ground);
    diagnostics.extend(laid.in_ground);
    diagnostics.sort_by_key(|d| (d.span.start, d.span.end));
    LaidGround { file: Some(ReadFile { name: name.to_owned(), text, diagnostics }), in_notebook: laid.in_notebook }
}
