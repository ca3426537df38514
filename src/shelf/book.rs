//! The pocket book of what is open, written on the shelf.

use super::freeze::plans as work_out;
use crate::print::{About, Book, Wish, book, lay, pdf};
use crate::round::slug;
use crate::session::Session;
use crate::store::{Expect, Store, StoreError};

/// Why there is no book.
#[derive(Debug, thiserror::Error)]
pub enum NoBook {
    /// It could not be written.
    #[error(transparent)]
    File(#[from] StoreError),
    /// It could not be made.
    #[error("{0}")]
    Made(String),
}

/// Makes the pocket book of a player and writes it to `books/` on the shelf, over the last one of the same course, player and
/// day. The plan is the frozen one, else worked out; `plans` leaves it out. Gives words that say where it lies.
///
/// # Errors
/// [`NoBook`].
pub fn write_book(store: &Store, session: &Session, player: usize, plans: bool) -> Result<String, NoBook> {
    let under_the_rules = session.day.as_ref().is_some_and(|(day, _)| day.kind.under_the_rules())
        || session.round.as_ref().is_some_and(|r| r.opening().kind.under_the_rules());
    let wish = Wish { competition: under_the_rules, ..Wish::default() };
    let frozen = match (&session.frozen, plans) {
        (_, false) => None,
        (Some(frozen), true) => Some(frozen.clone()),
        (None, true) => Some(work_out(session)),
    };
    let nobody = || NoBook::Made("there is no course and player to make a book of".to_owned());
    let made = Book::new(session, player, None, frozen.as_ref(), &wish).ok_or_else(nobody)?;
    let laid = lay(&book::book(&made, &wish), wish.page);
    let about = About {
        title: format!("{}, {} tee, {}", made.course.name, made.tee_name(), made.whose()),
        author: made.course.by.clone(),
    };
    let bytes = pdf(&laid.pages, &about).map_err(|e| NoBook::Made(e.to_string()))?;
    let folder = store.shelf().root().join("books");
    store.make_folder(&folder)?;
    let name = format!("{}-{}-{}.pdf", slug(&made.course.name), slug(&made.golfer.name), made.date());
    // The program alone writes these, each made anew from the same files.
    let saved = store.save(&folder.join(name), &bytes, Expect::Anything)?;
    let shortened = match laid.shortened.len() {
        0 => String::new(),
        1 => "; one text was shortened to fit".to_owned(),
        n => format!("; {n} texts were shortened to fit"),
    };
    Ok(format!("The book has {} pages: {}{shortened}", laid.pages.len(), saved.path.display()))
}
