//! Changing a player's file from the screen: proved first, kept whole or not at all, never over what someone else wrote.

use super::copy::own_copy;
use super::load::with_player;
use crate::notebook::edit::Edit;
use crate::player::{self, Made};
use crate::session::Session;
use crate::store::{Expect, Store, StoreError};
use std::path::Path;

/// A player's file that was changed.
pub struct PlayerEdited {
    /// What is open now.
    pub session: Session,
    /// The edits that take it back.
    pub inverse: Vec<Edit>,
    /// One line that says what was written where, with what the reader warns of.
    pub words: String,
}

/// Why a player's file was not changed; it is as it was.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotEdited {
    /// The edit cannot be made on this text, or the reader would refuse the result.
    #[error("{0}")]
    Refused(String),
    /// The file could not be written, or is not what was read.
    #[error(transparent)]
    Store(#[from] StoreError),
}

/// Makes `edits` in the file of a player, after the person's own copy of the example where that is what is open.
///
/// # Errors
/// [`NotEdited`]: neither the file nor what is open has changed.
pub fn edit_player(store: &Store, session: &Session, player: usize, edits: &[Edit]) -> Result<PlayerEdited, NotEdited> {
    let copy = own_copy(store, session)?;
    let (session, copied) = match &copy {
        Some(copy) => (&copy.session, Some(copy.words.as_str())),
        None => (session, None),
    };
    let (after, made) = edited(session, player, edits)?;
    let file = session.player_file(player).ok_or_else(no_file)?;
    let place = Path::new(&file.name);
    store.back_up(place)?;
    let saved = store.save(place, made.text.as_bytes(), Expect::AsRead(file.digest()))?;
    let mut words = written_words(&file.name, &made);
    for more in copied.map(str::to_owned).into_iter().chain(saved.not_synced.map(|e| e.to_string())) {
        words.push_str(". ");
        words.push_str(&more);
    }
    Ok(PlayerEdited { session: after, inverse: made.inverse, words })
}

/// What is open with `edits` made in the text of a player's file; nothing is written.
///
/// # Errors
/// [`NotEdited::Refused`].
pub fn edited(session: &Session, player: usize, edits: &[Edit]) -> Result<(Session, Made), NotEdited> {
    let file = session.player_file(player).ok_or_else(no_file)?;
    let made = player::write::make(&file.text, edits).map_err(NotEdited::Refused)?;
    let after = with_player(session, player, made.text.clone());
    Ok((after, made))
}

fn no_file() -> NotEdited {
    NotEdited::Refused("this player has no file; `marram new player NAME` makes one".to_owned())
}

fn written_words(file: &str, made: &Made) -> String {
    let mut words = match made.lines {
        None => format!("Written to {file}"),
        Some((first, last)) if first == last => format!("Written to {file}, line {first}"),
        Some((first, last)) => format!("Written to {file}, lines {first} to {last}"),
    };
    for warning in &made.warnings {
        words.push_str("; ");
        words.push_str(warning);
    }
    words
}
