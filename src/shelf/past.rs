//! A round as it was: judged by the notebook, the player and the day sheet that were kept with it.

use super::freeze::frozen;
use super::round::{from_kept_texts, notebook_of};
use crate::round::{RoundState, TextRole, replay};
use crate::session::Session;
use crate::store::{Limit, Sort, Store, StoreError, Trouble, read};
use crate::units::digest::Digest;
use std::path::{Path, PathBuf};

/// A round that is looked back on; nothing of it is locked or written.
#[derive(Clone, Debug)]
pub struct Past {
    /// Its log.
    pub log: PathBuf,
    /// What was open that day.
    pub session: Session,
    /// What the reader must know.
    pub words: Vec<String>,
}

/// Reads a round as it was.
///
/// # Errors
/// [`StoreError`] when there is no log, or nothing in it.
pub fn as_it_was(log: &Path, today: &str) -> Result<Past, StoreError> {
    let bytes = read(log, Limit::MAP)?.bytes;
    let read = replay(&bytes);
    let mut words: Vec<String> =
        read.problems.iter().filter(|p| p.loses_something()).map(|p| format!("{p}; {}", p.advice())).collect();
    let Some(state) = read.state else {
        return Err(StoreError {
            place: log.to_owned(),
            trouble: Trouble::WrongSort,
            what: "this is no round's log".to_owned(),
            cure: "name a round, as in rounds/".to_owned(),
        });
    };
    let mut session = match kept(&state, log) {
        true => from_kept_texts(&state, log, today),
        false => {
            let now = notebook_of(&state, log, today, &mut words);
            if state.has_started() {
                words.push(
                    "the texts of that day are not kept with this round; it is judged by the notebook as it is now"
                        .to_owned(),
                );
            }
            now
        }
    };
    session.people = state.opening().players.iter().map(|entrant| super::load::person_of(entrant, &session)).collect();
    session.shelf = log.parent().and_then(Path::parent).map(super::load::shown);
    let (frozen, trouble) = frozen(&state, log);
    session.frozen = frozen;
    words.extend(trouble);
    session.round = Some(state);
    session.refresh();
    Ok(Past { log: log.to_owned(), session, words })
}

/// Whether the notebook's text is kept and is what it was.
fn kept(state: &RoundState, log: &Path) -> bool {
    let folder = log.parent().unwrap_or(Path::new(".")).join("texts");
    state.texts().iter().any(|t| t.role == TextRole::Notebook)
        && state.texts().iter().all(|t| {
            let bytes = std::fs::read(folder.join(t.digest.to_string()));
            bytes.is_ok_and(|b| Digest::of(&b) == t.digest)
        })
}

/// Every round on the shelf in which a player of this name plays, oldest first, with their place in it; words name what could
/// not be read.
pub fn rounds_of(store: &Store, name: &str, today: &str) -> (Vec<(Past, usize)>, Vec<String>) {
    let mut words = Vec::new();
    let found = match store.shelf().list(Sort::Round) {
        Ok(found) => found,
        Err(error) => return (Vec::new(), vec![error.to_string()]),
    };
    let mut out: Vec<(Past, usize)> = Vec::new();
    for round in found {
        match as_it_was(&round.path, today) {
            Ok(past) => {
                let player = past.session.people.iter().position(|p| p.name.trim().eq_ignore_ascii_case(name.trim()));
                out.extend(player.map(|player| (past, player)));
            }
            Err(error) => words.push(error.to_string()),
        }
    }
    let when = |past: &Past| {
        past.session.round.as_ref().map(|r| (r.opening().date.clone(), r.opening().id.as_str().to_owned()))
    };
    out.sort_by_key(|(past, _)| when(past));
    (out, words)
}
