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
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum NotEdited {
    /// The edit cannot be made on this text, or the reader would refuse the result.
    #[error("{0}")]
    Refused(String),
    /// The file could not be written, or is not what was read.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The example was shown, and the person's own copy of it says other things: that is open now, unchanged.
    #[error("{words}")]
    OwnDiffers {
        /// The person's own copy, opened.
        session: Box<Session>,
        /// One line that says so.
        words: String,
    },
}

/// Makes `edits` in the file of a player, after the person's own copy of the example where that is what is open.
///
/// # Errors
/// [`NotEdited`]: neither the file nor what is open has changed.
pub fn edit_player(store: &Store, session: &Session, player: usize, edits: &[Edit]) -> Result<PlayerEdited, NotEdited> {
    let copy = own_copy(store, session)?;
    let shown = session.player_file(player);
    let session = copy.as_ref().map_or(session, |c| &c.session);
    let file = session.player_file(player).ok_or_else(no_file)?;
    if copy.is_some() && shown.is_some_and(|f| f.text != file.text) {
        // The numbers on screen were not these, so the change was not meant for them.
        let words =
            format!("Nothing was changed: {} is yours and differs from the example; it is shown now", file.name);
        return Err(NotEdited::OwnDiffers { session: Box::new(session.clone()), words });
    }
    let (after, made) = edited(session, player, edits)?;
    let place = Path::new(&file.name);
    if copy.is_none() {
        store.back_up(place)?;
    }
    let saved = store.save(place, made.text.as_bytes(), Expect::AsRead(file.digest()))?;
    let mut words = written_words(&file.name, &made, copy.is_some());
    if let Some(error) = saved.not_synced {
        words.push_str(&format!(". {error}"));
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

fn written_words(file: &str, made: &Made, copied: bool) -> String {
    let head = if copied { "This is your own copy now" } else { "Written" };
    let mut words = match made.lines {
        None => format!("{head}: {file}"),
        Some((first, last)) if first == last => format!("{head}: line {first} of {file}"),
        Some((first, last)) => format!("{head}: lines {first} to {last} of {file}"),
    };
    for warning in &made.warnings {
        words.push_str("; ");
        words.push_str(warning);
    }
    words
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::player::{Change, Number};
    use crate::session::Home;
    use crate::shelf::{Wanted, example, open_course};
    use crate::store::{Shelf, Trouble};
    use std::fs;

    fn carry(session: &Session, text: &str) -> Vec<Edit> {
        let change = Change::Number { club: "driver".to_owned(), number: Number::Carry, text: text.to_owned() };
        player::write::edits(&session.player_file(0).unwrap().text, &change, &[]).unwrap()
    }

    #[test]
    fn the_example_becomes_ones_own_with_one_line_changed() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::new(Shelf::at(folder.path()));
        let session = example("2026-05-16");
        let before = session.player_file(0).unwrap().text.clone();
        let done = edit_player(&store, &session, 0, &carry(&session, "221")).unwrap();
        let place = folder.path().join("players/wren-hallam.yaml");
        let after = fs::read_to_string(&place).unwrap();
        assert_eq!(after, before.replacen("carry: 214", "carry: 221", 1));
        assert!(done.words.starts_with("This is your own copy now: line 18 of "), "{}", done.words);
        assert_eq!(done.session.home, Home::Files);
        assert_eq!(done.session.people.first().unwrap().carry, Some(221.0));
        assert_eq!(done.session.people.first().unwrap().tee, "Club");
        assert!(folder.path().join("corvane.yaml").is_file(), "the notebook comes along, as with a round");

        let back = edit_player(&store, &done.session, 0, &done.inverse).unwrap();
        assert_eq!(fs::read_to_string(&place).unwrap(), before, "taken back to the byte");
        assert!(back.words.starts_with("Written: line 18 of "), "{}", back.words);
        assert!(folder.path().join("backups").is_dir(), "one's own file is backed up before it is changed");

        // From the example again: what is one's own is neither written over nor changed unseen.
        fs::write(&place, before.replacen("carry: 214", "carry: 230", 1)).unwrap();
        match edit_player(&store, &session, 0, &carry(&session, "221")) {
            Err(NotEdited::OwnDiffers { session, words }) => {
                assert_eq!(session.people.first().unwrap().carry, Some(230.0));
                assert!(words.contains("differs from the example"), "{words}");
            }
            other => panic!("{:?}", other.map(|d| d.words)),
        }
        assert!(fs::read_to_string(&place).unwrap().contains("carry: 230"));
    }

    #[test]
    fn a_file_changed_on_the_disk_is_never_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::new(Shelf::at(folder.path()));
        let first = own_copy(&store, &example("2026-05-16")).unwrap().unwrap().session;
        let place = folder.path().join("players/wren-hallam.yaml");
        let theirs = fs::read_to_string(&place).unwrap().replacen("Wren Hallam", "Wren H.", 1);
        fs::write(&place, &theirs).unwrap();
        match edit_player(&store, &first, 0, &carry(&first, "221")) {
            Err(NotEdited::Store(error)) => assert_eq!(error.trouble, Trouble::Changed),
            other => panic!("{:?}", other.map(|d| d.words)),
        }
        assert_eq!(fs::read_to_string(&place).unwrap(), theirs);
        let wanted = Wanted { players: vec![(place.clone(), None)], ..Wanted::default() };
        let again = open_course(&folder.path().join("corvane.yaml"), &wanted, "2026-05-16").unwrap();
        edit_player(&store, &again, 0, &carry(&again, "221")).unwrap();
        assert_eq!(fs::read_to_string(&place).unwrap(), theirs.replacen("carry: 214", "carry: 221", 1));
    }
}
