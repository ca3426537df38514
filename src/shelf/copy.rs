//! Making the example one's own: its files come to the shelf before the first change is kept.

use super::example::EXAMPLE_FILES;
use super::load::{self, Wanted};
use crate::session::{Home, Session};
use crate::store::{Expect, Store, StoreError, Trouble};

/// What is open after the copy.
pub struct OwnCopy {
    /// The same, opened from the person's files.
    pub session: Session,
    /// One line that says where they lie.
    pub words: String,
}

/// Copies the example to the shelf when it is what is open; `None` when the files are the person's own already. Files that
/// are there already are never written over: they are the person's own.
///
/// # Errors
/// [`StoreError`] when a file cannot be written: nothing that was open is lost.
pub fn own_copy(store: &Store, session: &Session) -> Result<Option<OwnCopy>, StoreError> {
    if session.home != Home::Example {
        return Ok(None);
    }
    let root = store.shelf().root().to_owned();
    for file in &EXAMPLE_FILES {
        let place = root.join(file.place);
        if let Some(folder) = place.parent() {
            store.make_folder(folder)?;
        }
        match store.save(&place, file.text.as_bytes(), Expect::New) {
            Ok(_) => {}
            Err(error) if error.trouble == Trouble::Exists => {}
            Err(error) => return Err(error),
        }
    }
    let [course, _, player] = &EXAMPLE_FILES;
    let tee = session.people.first().map(|p| p.tee.clone());
    let wanted = Wanted { players: vec![(root.join(player.place), tee)], ..Wanted::default() };
    let session = load::open_course(&root.join(course.place), &wanted, &session.today)?;
    Ok(Some(OwnCopy { session, words: format!("This is your own copy now, in {}", root.display()) }))
}
