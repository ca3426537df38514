//! What lies on the shelf, as the screen lists it.

use std::path::PathBuf;

/// The kinds of things on the shelf, in the order in which they are listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ShelfKind {
    /// A round that is not closed.
    RoundInProgress,
    /// A course notebook.
    Notebook,
    /// A player.
    Player,
    /// A closed round.
    RoundClosed,
    /// The example inside the program.
    Example,
}

impl ShelfKind {
    /// The heading over its items.
    pub const fn heading(self) -> &'static str {
        match self {
            Self::RoundInProgress => "Rounds in progress",
            Self::Notebook => "Notebooks",
            Self::Player => "Players",
            Self::RoundClosed => "Finished rounds",
            Self::Example => "Inside the program",
        }
    }
}

/// One thing on the shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShelfItem {
    /// What it is.
    pub kind: ShelfKind,
    /// Its name.
    pub title: String,
    /// A few words more.
    pub detail: String,
    /// Its file; the example has none.
    pub path: Option<PathBuf>,
}
