//! A layer: one person's additions to a notebook, as values.

use super::written::{Aim, Danger, Layup, Note};
use crate::notebook::Span;

/// A person's additions to a notebook.
#[derive(Clone, Debug, PartialEq)]
pub struct Layer {
    /// The course file it is for.
    pub course: String,
    /// Who wrote it.
    pub by: Option<String>,
    /// For whom.
    pub for_whom: Option<String>,
    /// The edition of the notebook it was written against.
    pub edition: Option<String>,
    /// Its holes.
    pub holes: Vec<LayerHole>,
    /// Written for a later marram: it may be read and never rewritten.
    pub read_only: bool,
}

impl Layer {
    /// Whose it is, as it is shown beside a note: who wrote it, else for whom it is.
    pub fn whose(&self) -> &str {
        self.by.as_deref().or(self.for_whom.as_deref()).unwrap_or("a layer")
    }

    /// Whether it is meant for this player: one without `for` is for everyone.
    pub fn is_for(&self, player: &str) -> bool {
        self.for_whom.as_ref().is_none_or(|name| name.trim().to_lowercase() == player.trim().to_lowercase())
    }
}

/// What a layer adds to one hole.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct LayerHole {
    /// The hole's number.
    pub number: u8,
    /// Added aims.
    pub aims: Vec<Aim>,
    /// Added dangers.
    pub dangers: Vec<Danger>,
    /// Added lay-ups.
    pub layups: Vec<Layup>,
    /// Added notes.
    pub notes: Vec<Note>,
    /// Ids that are hidden, with their places in the layer.
    pub hides: Vec<(String, Span)>,
}
