//! A human file in memory: its bytes as they are, what was understood of them, and what was wrong.

use super::edit::{self, Edit, Edited, Refusal};
use super::report::Report;
use super::{Diagnostic, Node, decode, read, showable};

/// A human file. Its bytes are kept as they are; nodes and problems are made from them and never written back.
#[derive(Clone, Debug, PartialEq)]
pub struct Document {
    bytes: Vec<u8>,
    /// The text for excerpts, where the bytes are no text.
    shown: Option<String>,
    root: Option<Node>,
    problems: Vec<Diagnostic>,
}

impl Document {
    /// Reads a file's bytes; never fails outright.
    ///
    /// ```
    /// use marram::notebook::Document;
    /// let file = Document::open(b"hole: 4\r\npar: caf\xe9\r\n".to_vec());
    /// assert_eq!(file.bytes(), b"hole: 4\r\npar: caf\xe9\r\n");
    /// assert_eq!(file.problems().len(), 1);
    /// ```
    pub fn open(bytes: Vec<u8>) -> Self {
        match decode(&bytes).map(read) {
            Ok((root, problems)) => Document { bytes, shown: None, root, problems },
            Err(problem) => {
                // Of a file that is too large or UTF-16 no line is worth showing.
                let shown = if problem.code == "not-utf8" { showable(&bytes) } else { String::new() };
                Document { bytes, shown: Some(shown), root: None, problems: vec![problem] }
            }
        }
    }

    /// The bytes to write: those that were read.
    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// The text; where the bytes are no text, what can be shown of them.
    pub fn text(&self) -> &str {
        match &self.shown {
            Some(shown) => shown,
            None => std::str::from_utf8(&self.bytes).unwrap_or_default(),
        }
    }

    /// What was understood.
    pub fn root(&self) -> Option<&Node> {
        self.root.as_ref()
    }

    /// The problems of the text, in file order. A room that knows the keys adds its own behind them.
    pub fn problems(&self) -> &[Diagnostic] {
        &self.problems
    }

    /// Problems of this file (these and those of other rooms) ready to be printed under the name `file`.
    pub fn report<'a>(&'a self, file: &str, problems: &'a [Diagnostic]) -> Report<'a> {
        Report::new(file, self.text(), problems)
    }

    /// Makes an edit; see [`edit::apply`].
    ///
    /// # Errors
    /// The [`Refusal`] of [`edit::apply`]; a file whose bytes are no text takes no edit.
    pub fn edit(&self, edit: &Edit) -> Result<Edited, Refusal> {
        match (&self.shown, self.problems.first()) {
            (Some(shown), Some(d)) => Err(Refusal::Broken {
                line: super::Lines::new(shown).place(d.span.start).line,
                message: d.message.clone(),
            }),
            _ => edit::apply(self.text(), edit),
        }
    }
}
