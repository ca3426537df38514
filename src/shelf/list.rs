//! What lies on the shelf, as the screen lists it.

use crate::course;
use crate::round::replay;
use crate::store::{Limit, Sort, Store, read, read_text};
use std::path::PathBuf;

/// The kinds of things on the shelf, in the order in which they are listed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ShelfKind {
    /// A round that is not closed.
    RoundInProgress,
    /// A competition.
    Competition,
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
            Self::Competition => "Competitions",
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

/// Lists the shelf. What cannot be read is listed with the reason, never left out.
pub fn list(store: &Store) -> Vec<ShelfItem> {
    let mut out = Vec::new();
    for (sort, kind) in [
        (Sort::Round, ShelfKind::RoundInProgress),
        (Sort::Competition, ShelfKind::Competition),
        (Sort::Notebook, ShelfKind::Notebook),
        (Sort::Player, ShelfKind::Player),
    ] {
        match store.shelf().list(sort) {
            Ok(found) => out.extend(found.into_iter().map(|f| item(kind, f.name, f.path))),
            Err(error) => {
                out.push(ShelfItem { kind, title: kind.heading().to_owned(), detail: error.to_string(), path: None })
            }
        }
    }
    out.push(ShelfItem {
        kind: ShelfKind::Example,
        title: "the example round".to_owned(),
        detail: "Corvane Links, an invented course".to_owned(),
        path: None,
    });
    out.sort_by(|a, b| (a.kind, &a.title).cmp(&(b.kind, &b.title)));
    out
}

fn item(kind: ShelfKind, name: String, path: PathBuf) -> ShelfItem {
    let (kind, detail) = match kind {
        ShelfKind::RoundInProgress => round_words(&path),
        ShelfKind::Notebook => (kind, notebook_words(&path)),
        ShelfKind::Competition => (kind, competition_words(&path)),
        other => (other, String::new()),
    };
    ShelfItem { kind, title: name, detail, path: Some(path) }
}

fn round_words(path: &std::path::Path) -> (ShelfKind, String) {
    let bytes = match read(path, Limit::MAP) {
        Ok(file) => file.bytes,
        Err(error) => return (ShelfKind::RoundInProgress, error.to_string()),
    };
    let Some(state) = replay(&bytes).state else {
        return (ShelfKind::RoundInProgress, "its log has no opening record".to_owned());
    };
    let opening = state.opening();
    let names: Vec<&str> = opening.players.iter().map(|p| p.name.as_str()).collect();
    let entered = state.card_of(0).iter().filter(|b| b.score.is_entered()).count();
    let words = format!(
        "{}, {}, {}, {} of {} holes",
        opening.course_name,
        names.join(", "),
        opening.kind.word(),
        entered,
        opening.holes.len()
    );
    (if state.is_closed() { ShelfKind::RoundClosed } else { ShelfKind::RoundInProgress }, words)
}

fn competition_words(path: &std::path::Path) -> String {
    match read_text(&path.join("competition.yaml"), Limit::YAML) {
        Err(error) => error.to_string(),
        Ok(file) => match crate::competition::read::read_setup(&file.text) {
            (Some(setup), _) => {
                let dates: Vec<&str> = setup.rounds.iter().map(|round| round.date.as_str()).collect();
                format!("{}, {}", setup.name, dates.join(" and "))
            }
            (None, problems) => format!("cannot be read: {} problems", problems.len()),
        },
    }
}

fn notebook_words(path: &std::path::Path) -> String {
    match read_text(path, Limit::YAML) {
        Err(error) => error.to_string(),
        Ok(file) => match course::read(&file.text) {
            (Some(course), problems) => {
                let found = if problems.is_empty() { String::new() } else { format!(", {} problems", problems.len()) };
                format!("{}, {} holes{found}", course.name, course.holes.len())
            }
            (None, problems) => format!("cannot be read: {} problems", problems.len()),
        },
    }
}
