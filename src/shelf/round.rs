//! Taking a round up again: its log, its notebook, its players.

use super::load::{self, Load, Wanted};
use crate::round::RoundState;
use crate::session::{Home, Session};
use crate::store::{Notify, OpenRound, RoundFile, Store, StoreError};
use std::path::Path;

/// A round that was taken up.
pub struct Taken {
    /// What is open now.
    pub session: Session,
    /// The round to be written; `None` when it is only shown.
    pub round: Option<OpenRound>,
    /// What the person must know: a torn line, another program, a notebook that changed.
    pub words: Vec<String>,
}

/// Takes up the round whose log is `path`.
///
/// # Errors
/// [`StoreError`] when the log cannot be read.
pub fn take_up(store: &Store, path: &Path, today: &str, notify: Box<Notify>) -> Result<Taken, StoreError> {
    let mut words = Vec::new();
    let (state, round, read_only) = match store.open_round(path, notify)? {
        RoundFile::ToWrite(round) => {
            for problem in &round.problems {
                words.push(format!("{problem}; {}", problem.advice()));
            }
            if let Some(aside) = &round.set_aside {
                words.push(format!("the torn line lies in {}", aside.display()));
            }
            if !round.locked {
                words.push("this drive keeps no second program out; open the round in one place only".to_owned());
            }
            (round.state.clone(), Some(*round), None)
        }
        RoundFile::ToRead(read) => {
            for problem in &read.problems {
                words.push(format!("{problem}; {}", problem.advice()));
            }
            let why = read.why.to_string();
            words.push(why.clone());
            (read.state, None, Some(why))
        }
    };
    let mut session = notebook_of(&state, path, today, &mut words);
    session.read_only = read_only;
    session.shelf = path.parent().and_then(Path::parent).map(super::load::shown);
    let (frozen, trouble) = super::freeze::frozen(&state, path);
    session.frozen = frozen;
    words.extend(trouble);
    session.round = Some(state);
    session.refresh();
    keep_missing_texts(&session, round.as_ref());
    Ok(Taken { session, round, words })
}

/// Stores what a kill at the first score kept from being stored, as long as the files are still what they were.
fn keep_missing_texts(session: &Session, round: Option<&OpenRound>) {
    let (Some(round), Some(state)) = (round, session.round.as_ref()) else { return };
    let missing = round.log.texts_missing(state);
    if missing.is_empty() {
        return;
    }
    let found = super::begin::keep_texts(session)
        .into_iter()
        .filter(|text| missing.iter().any(|m| m.digest == text.stored().digest))
        .collect();
    round.log.keep_texts(found);
}

/// The notebook and players of a round: from their files, else from the texts kept with the round.
pub(super) fn notebook_of(state: &RoundState, log: &Path, today: &str, words: &mut Vec<String>) -> Session {
    let opening = state.opening();
    // The log lies in `rounds/` of its shelf, and names files from there.
    let root = log.parent().and_then(Path::parent).unwrap_or(Path::new("."));
    let wanted = Wanted {
        players: opening
            .players
            .iter()
            .filter_map(|p| Some((root.join(&p.file.as_ref()?.file), Some(p.tee.clone()))))
            .filter(|(path, _)| path.is_file())
            .collect(),
        day: opening.day.as_ref().map(|d| root.join(&d.file)).filter(|p| p.is_file()),
        holes: Some(opening.holes.clone()),
    };
    let mut session = match load::open_course(&root.join(&opening.course.file), &wanted, today) {
        Ok(session) => session,
        Err(error) => {
            words.push(error.to_string());
            from_kept_texts(state, log, today)
        }
    };
    let changed = session.course_file.as_ref().is_some_and(|f| f.digest() != opening.course.digest);
    if changed && state.has_started() {
        words.push(
            "the notebook has changed since the round began; the text it began with is kept with the round".to_owned(),
        );
    }
    // The round says who plays; a player whose file is gone still has a card.
    session.people = opening.players.iter().map(|entrant| super::load::person_of(entrant, &session)).collect();
    session
}

pub(super) fn from_kept_texts(state: &RoundState, log: &Path, today: &str) -> Session {
    let mut load = Load::new(today);
    let folder = log.parent().unwrap_or(Path::new(".")).join("texts");
    for kept in state.texts() {
        let Ok(text) = std::fs::read_to_string(folder.join(kept.digest.to_string())) else { continue };
        match kept.role {
            crate::round::TextRole::Notebook => load.course(&kept.file, text),
            crate::round::TextRole::Layer => load.layer(&kept.file, text),
            crate::round::TextRole::Player => load.player(&kept.file, text, None),
            crate::round::TextRole::Day => load.day(&kept.file, text),
            crate::round::TextRole::Ground => load.ground(Some((&kept.file, text))),
        }
    }
    load.holes(state.opening().holes.clone());
    load.finish(Home::Files)
}
