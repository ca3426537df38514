//! Changes of the open notebook and its layers: where they go, what can be taken back, what the disk does not have yet.

use super::State;
use super::annotate::Form;
use crate::notebook::edit::{Edit, Op};
use crate::units::digest::Digest;
use std::path::Path;

/// The file that is written to.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub enum Where {
    /// The notebook.
    #[default]
    Notebook,
    /// A layer beside it, by its file name.
    Beside(String),
}

/// What a change was made on, so that many small moves are taken back as one.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mark(pub u8, pub String);

/// A change that can be taken back, or made again.
#[derive(Clone, Debug, PartialEq)]
pub struct DoneEdit {
    /// In which file.
    pub place: Where,
    /// The edits that do it.
    pub edits: Vec<Edit>,
    /// On which hole.
    pub hole: u8,
    /// The number of the round's next line when it was made: what was entered later is taken back first.
    pub at: u64,
    /// What it was, in a few words.
    pub words: String,
    /// See [`Mark`].
    pub mark: Option<Mark>,
}

impl DoneEdit {
    /// Lets this one take `later` back as well, whose edits come first.
    pub fn join(&mut self, later: Vec<Edit>) {
        let same = later.len() == self.edits.len()
            && later
                .iter()
                .zip(&self.edits)
                .all(|(a, b)| a.path == b.path && matches!((&a.op, &b.op), (Op::Set { .. }, Op::Set { .. })));
        if !same {
            self.edits.splice(0..0, later);
            return;
        }
        for (mine, later) in self.edits.iter_mut().zip(later) {
            if let (Op::Set { was, back, .. }, Op::Set { was: now, .. }) = (&mut mine.op, &later.op) {
                was.clone_from(now);
                *back = None;
            }
        }
    }
}

/// A change that was shown and is not on the disk yet.
#[derive(Clone, Debug, PartialEq)]
pub struct Unsaved {
    /// In which file.
    pub place: Where,
    /// Its edits.
    pub edits: Vec<Edit>,
    /// On which hole.
    pub hole: u8,
    /// What it was.
    pub words: String,
    /// The text after it.
    pub after: Digest,
    /// The form it was typed in, to be shown again when it cannot be written.
    pub form: Option<Box<Form>>,
}

/// Everything about changes of the course.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct CourseEdits {
    /// Notes go into the player's own layer, not into the notebook.
    pub own_layer: bool,
    /// What can be taken back, the last change last.
    pub undo: Vec<DoneEdit>,
    /// What can be made again.
    pub redo: Vec<DoneEdit>,
    /// What the disk does not have yet, in order.
    pub unsaved: Vec<Unsaved>,
    /// Files of which a backup was made since they were opened.
    pub backed_up: Vec<String>,
}

/// The most changes kept for taking back.
pub const MOST_UNDO: usize = 500;

impl State {
    /// The file of `place` as it is open; `None` without a notebook.
    pub fn file_of(&self, place: &Where) -> Option<String> {
        let notebook = &self.session.course_file.as_ref()?.name;
        Some(match place {
            Where::Notebook => notebook.clone(),
            Where::Beside(name) => Path::new(notebook).with_file_name(name).display().to_string(),
        })
    }

    /// The player whose layer is written to.
    pub fn layer_person(&self) -> Option<String> {
        self.session.people.get(self.player).filter(|p| !p.assumed).map(|p| p.name.clone())
    }

    /// Where notes go now.
    pub fn writes_to(&self) -> Where {
        let own = self.course_edits.own_layer.then(|| {
            let notebook = &self.session.course_file.as_ref()?.name;
            let file = crate::shelf::layer_name(notebook, &self.layer_person()?)?;
            Some(Where::Beside(Path::new(&file).file_name()?.to_str()?.to_owned()))
        });
        own.flatten().unwrap_or_default()
    }

    /// Whether the page in front is one on which the notebook is written, so that undo is of its changes alone.
    pub fn writes_course(&self) -> bool {
        matches!(self.page_below(), crate::tui::commands::Page::Annotate | crate::tui::commands::Page::Draw)
    }

    /// The number of the round's next line, 0 without a round.
    pub fn round_line(&self) -> u64 {
        self.session.round.as_ref().map_or(0, |r| r.next_seq())
    }

    /// Whether the next thing to be taken back on the Hole page is a change of the notebook and not a score: the later of the two.
    pub fn notes_undo_first(&self) -> bool {
        let Some(last) = self.course_edits.undo.last() else { return false };
        let score = self.session.round.as_ref().and_then(|r| r.undo().ok());
        match score {
            Some(crate::round::Event::Undo { of }) => of < last.at,
            _ => true,
        }
    }

    /// Whether the next thing to be made again is a change of the notebook: what was taken back last comes first.
    pub fn notes_redo_first(&self) -> bool {
        let Some(last) = self.course_edits.redo.last() else { return false };
        last.at == self.round_line() || self.session.round.as_ref().is_none_or(|r| r.redo().is_err())
    }
}
