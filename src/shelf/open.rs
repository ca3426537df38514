//! Opening what a person names: a notebook, a round, a player.

use super::load::{self, Wanted};
use super::round::{Taken, take_up};
use crate::session::{Home, Session};
use crate::store::{LastUsed, Limit, Notify, Sort, Store, StoreError, Trouble, read_text};
use std::path::{Path, PathBuf};

/// Opens a path: a round's log takes the round up, a notebook opens for the player used last, a player's file opens the
/// notebook that is open now (`before`) or was open last.
///
/// # Errors
/// [`StoreError`] with place, cause and cure.
pub fn open(
    store: &Store,
    path: &Path,
    before: Option<&Session>,
    last: &LastUsed,
    today: &str,
    notify: Box<Notify>,
) -> Result<Taken, StoreError> {
    if path.extension().is_some_and(|e| e == "log") {
        return take_up(store, path, today, notify);
    }
    let text = read_text(path, Limit::YAML)?.text;
    match format_of(&text) {
        "player" => {
            let course = before
                .filter(|s| s.home == Home::Files)
                .and_then(|s| s.course_file.as_ref())
                .map(|f| PathBuf::from(&f.name))
                .or_else(|| last.course.as_ref().map(PathBuf::from))
                .or_else(|| only(store, Sort::Notebook));
            let Some(course) = course else {
                return Err(StoreError {
                    place: path.to_owned(),
                    trouble: Trouble::Missing,
                    what: "this is a player, and no notebook is open for them".to_owned(),
                    cure: "open a notebook first, then the player".to_owned(),
                });
            };
            notebook(store, &course, Some(path.to_owned()), today)
        }
        "day-sheet" => {
            let (day, _) = crate::course::read_day(&text, None);
            let course = day.map(|d| d.course).unwrap_or_default();
            let course = store.shelf().find(Sort::Notebook, &course, path.parent().unwrap_or(Path::new(".")))?;
            let wanted = Wanted {
                players: player_for(store, last).into_iter().map(|p| (p, None)).collect(),
                day: Some(path.to_owned()),
                holes: None,
            };
            Ok(Taken { session: load::open_course(&course, &wanted, today)?, round: None, words: Vec::new() })
        }
        _ => notebook(store, path, player_for(store, last), today),
    }
}

fn notebook(store: &Store, path: &Path, player: Option<PathBuf>, today: &str) -> Result<Taken, StoreError> {
    // Today's sheet of this notebook, when it lies on the shelf.
    let day = super::day::day_path(store, path, today).filter(|p| p.is_file());
    let wanted = Wanted { players: player.into_iter().map(|p| (p, None)).collect(), day, holes: None };
    let session = load::open_course(path, &wanted, today)?;
    let mut words = Vec::new();
    if session.people.first().is_some_and(|p| p.assumed) {
        words.push("No player is named, so the page is for one of index 18 on the men's card; `marram new player NAME` makes yours".to_owned());
    }
    Ok(Taken { session, round: None, words })
}

/// The player to open for: the only one, else the last used (cli.md).
pub fn player_for(store: &Store, last: &LastUsed) -> Option<PathBuf> {
    only(store, Sort::Player).or_else(|| last.player.as_ref().map(PathBuf::from).filter(|p| p.is_file()))
}

fn only(store: &Store, sort: Sort) -> Option<PathBuf> {
    let found = store.shelf().list(sort).ok()?;
    match found.as_slice() {
        [one] => Some(one.path.clone()),
        _ => None,
    }
}

/// The word after `format:` before the slash; empty when the text does not begin so.
pub fn format_of(text: &str) -> &str {
    text.lines()
        .map(|l| l.trim_start_matches('\u{feff}'))
        .find_map(|line| line.strip_prefix("format:"))
        .and_then(|rest| rest.trim().split('/').next())
        .unwrap_or_default()
}
