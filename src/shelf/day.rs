//! Changing the day sheet from the screen: made when there is none, proved first, never over what someone else wrote.

use super::copy::own_copy;
use super::edit::NotEdited;
use super::load::shown;
use crate::course::day_write::{self, Made};
use crate::course::{Course, read_day};
use crate::notebook::edit::Edit;
use crate::session::{ReadFile, Session};
use crate::store::{Expect, Limit, Store, read_text};
use std::path::{Path, PathBuf};

/// A day sheet that was changed.
pub struct DayEdited {
    /// What is open now.
    pub session: Session,
    /// The edits that take it back.
    pub inverse: Vec<Edit>,
    /// One line that says what was written where.
    pub words: String,
}

/// The bare name of the notebook's file.
fn course_file(session: &Session) -> Option<String> {
    let name = &session.course_file.as_ref()?.name;
    Some(Path::new(name).file_name()?.to_string_lossy().into_owned())
}

/// The text of the day sheet that is open, or of the one that would be begun today.
pub fn day_text(session: &Session) -> Option<String> {
    if let Some((_, file)) = &session.day {
        return Some(file.text.clone());
    }
    Some(day_write::starter(&session.today, &course_file(session)?))
}

/// Where today's sheet of a notebook lies on the shelf.
pub fn day_path(store: &Store, course: &Path, today: &str) -> Option<PathBuf> {
    Some(store.shelf().days().join(format!("{today}-{}.yaml", course.file_stem()?.to_str()?)))
}

/// What is open with another text of the day sheet.
pub fn with_day(session: &Session, name: String, text: String) -> Session {
    let mut out = session.clone();
    let (day, diagnostics) = read_day(&text, out.course.as_ref());
    let file = ReadFile { name, text, diagnostics };
    out.problems.retain(|f| f.name != file.name);
    if !file.diagnostics.is_empty() {
        out.problems.push(file.clone());
    }
    if let Some(day) = day {
        out.day = Some((day, file));
    }
    out.refresh();
    out
}

/// What is open with `edits` made in its day sheet; nothing is written.
///
/// # Errors
/// [`NotEdited::Refused`].
pub fn day_edited(session: &Session, edits: &[Edit]) -> Result<(Session, Made), NotEdited> {
    let none = || NotEdited::Refused("no notebook is open for a day sheet".to_owned());
    let text = day_text(session).ok_or_else(none)?;
    let course: Option<&Course> = session.course.as_ref();
    let made = day_write::make(&text, edits, course).map_err(NotEdited::Refused)?;
    let name =
        session.day.as_ref().map_or_else(|| format!("days/{}.yaml", session.today), |(_, file)| file.name.clone());
    Ok((with_day(session, name, made.text.clone()), made))
}

/// Makes `edits` in the day sheet, begun for today where there is none, after the person's own copy of the example.
///
/// # Errors
/// [`NotEdited`]: neither the file nor what is open has changed.
pub fn edit_day(store: &Store, session: &Session, edits: &[Edit]) -> Result<DayEdited, NotEdited> {
    let copy = own_copy(store, session)?;
    let round = session.round.clone();
    let mut session = copy.as_ref().map_or_else(|| session.clone(), |c| c.session.clone());
    if session.round.is_none() {
        session.round = round;
    }
    let begun = session.day.is_none();
    if begun
        && let Some(place) =
            session.course_file.as_ref().and_then(|f| day_path(store, Path::new(&f.name), &session.today))
        && place.is_file()
    {
        let file = read_text(&place, Limit::YAML)?;
        let name = shown(&place);
        let words = format!("Nothing was changed: {name} was there already and is shown now");
        return Err(NotEdited::OwnDiffers { session: Box::new(with_day(&session, name, file.text)), words });
    }
    let read = session.day.as_ref().map(|(_, file)| (file.name.clone(), file.digest()));
    let (mut after, made) = day_edited(&session, edits)?;
    let none = || NotEdited::Refused("no notebook is open for a day sheet".to_owned());
    let (place, expect) = match read {
        Some((name, digest)) => {
            let place = PathBuf::from(&name);
            store.back_up(&place)?;
            (place, Expect::AsRead(digest))
        }
        None => {
            let course = session.course_file.as_ref().ok_or_else(none)?;
            let place = day_path(store, Path::new(&course.name), &session.today).ok_or_else(none)?;
            store.make_folder(&store.shelf().days())?;
            (place, Expect::New)
        }
    };
    let saved = store.save(&place, made.text.as_bytes(), expect)?;
    if let Some((_, file)) = &mut after.day {
        file.name = shown(&place);
    }
    let head = if begun { "Begun" } else { "Written" };
    let mut words = match made.lines {
        Some((first, _)) if !begun => format!("{head}: line {first} of {}", place.display()),
        _ => format!("{head}: {}", place.display()),
    };
    for warning in &made.warnings {
        words.push_str("; ");
        words.push_str(warning);
    }
    if let Some(error) = saved.not_synced {
        words.push_str(&format!(". {error}"));
    }
    Ok(DayEdited { session: after, inverse: made.inverse, words })
}

/// Writes the day sheet as plain text and as CSV beside it; files of an earlier export are replaced.
///
/// # Errors
/// [`NotEdited`] when there is no sheet, or a file cannot be written.
pub fn export_day(store: &Store, session: &Session) -> Result<String, NotEdited> {
    let none = || NotEdited::Refused("there is no day sheet to write out".to_owned());
    let (_, file) = session.day.as_ref().ok_or_else(none)?;
    let place = PathBuf::from(&file.name);
    let (text, csv) = (place.with_extension("txt"), place.with_extension("csv"));
    store.save(&text, session.day_plain(&file.text).as_bytes(), Expect::Anything)?;
    store.save(&csv, session.day_csv(&file.text).as_bytes(), Expect::Anything)?;
    Ok(format!("Written: {} and {}", text.display(), csv.display()))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use super::*;
    use crate::course::day_write::{Field, edits};
    use crate::session::Home;
    use crate::shelf::example;
    use crate::store::Shelf;
    use std::fs;

    #[test]
    fn the_first_thing_typed_begins_a_sheet_and_it_can_be_taken_back() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::new(Shelf::at(folder.path()));
        let session = example("2026-05-16");
        let change = |s: &Session, n: u8, what: &str| edits(&day_text(s).unwrap(), &Field::Hole(n), what).unwrap();
        let one = edit_day(&store, &session, &change(&session, 4, "14 5l")).unwrap();
        let place = folder.path().join("days/2026-05-16-corvane.yaml");
        let text = fs::read_to_string(&place).unwrap();
        assert!(text.contains("4: 14 on, 5 from left") && text.contains("course: corvane.yaml"), "{text}");
        assert_eq!(one.session.home, Home::Files);
        assert!(one.words.starts_with("Begun: "), "{}", one.words);
        let two = edit_day(&store, &one.session, &change(&one.session, 5, "b")).unwrap();
        assert!(fs::read_to_string(&place).unwrap().contains("5: back"));
        let back = edit_day(&store, &two.session, &two.inverse).unwrap();
        assert_eq!(fs::read_to_string(&place).unwrap(), text);
        assert!(back.words.starts_with("Written: "));
        // From the example again: the sheet that is there is shown, not written over.
        match edit_day(&store, &session, &change(&session, 7, "f")) {
            Err(NotEdited::OwnDiffers { session, .. }) => assert!(session.day.is_some()),
            _ => panic!("written over"),
        }
        assert_eq!(fs::read_to_string(&place).unwrap(), text);
    }
}
