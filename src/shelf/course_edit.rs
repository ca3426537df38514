//! Changing the open notebook or a layer of it: shown from the new text at once, written by a saver behind the screen.

use super::load::Load;
use crate::course::{self, Course, write};
use crate::notebook::Diagnostic;
use crate::notebook::edit::Edit;
use crate::session::{ReadFile, Session};
use crate::store::{Expect, Store, StoreError};
use crate::units::digest::Digest;
use std::path::{Path, PathBuf};

/// A change of the notebook or of a layer.
#[derive(Clone, Debug, PartialEq)]
pub struct CourseEdited {
    /// What is open with it.
    pub session: Session,
    /// How it was made.
    pub made: write::Made,
    /// The text before it; `None` for a layer that was not there.
    pub before: Option<Digest>,
}

/// The file of a person's own layer over the open notebook: `NAME.PERSON.yaml` beside it.
pub fn layer_name(notebook: &str, person: &str) -> Option<String> {
    let slug = crate::round::slug(person);
    let path = Path::new(notebook);
    let stem = path.file_stem().and_then(|s| s.to_str())?;
    (!slug.is_empty()).then(|| path.with_file_name(format!("{stem}.{slug}.yaml")).display().to_string())
}

/// The text of an open file of the course, with its known problems: the notebook or a layer.
pub fn course_text<'s>(session: &'s Session, file: &str) -> Option<(&'s str, &'s [Diagnostic])> {
    let notebook = session.course_file.iter();
    let mut files = notebook.chain(session.layers.iter().map(|(_, f)| f));
    files.find(|f| f.name == file).map(|f| (f.text.as_str(), f.diagnostics.as_slice()))
}

/// What is open with `edits` made in `file`; nothing is written. A layer that is not there yet begins with `begin`.
///
/// # Errors
/// [`write::NotMade`]: nothing has changed.
pub fn edit_course(
    session: &Session,
    file: &str,
    edits: &[Edit],
    begin: Option<&str>,
) -> Result<CourseEdited, write::NotMade> {
    let refused = |words: &str| write::NotMade::Refused(words.to_owned());
    let course = session.course.as_ref().ok_or_else(|| refused("no notebook is open"))?;
    let there = course_text(session, file);
    let (text, known) = match (there, begin) {
        (Some(there), _) => there,
        (None, Some(begin)) => (begin, &[][..]),
        (None, None) => return Err(refused("this file is not open any more")),
    };
    let is_notebook = session.course_file.as_ref().is_some_and(|f| f.name == file);
    let of = if is_notebook { write::Of::Notebook } else { write::Of::Layer(course) };
    if is_notebook && course.read_only {
        return Err(refused("the notebook was written for a later marram; it is never rewritten"));
    }
    let made = write::make(text, edits, of, known)?;
    let before = there.map(|(text, _)| Digest::of(text.as_bytes()));
    let session = with_course_text(session, file, made.text.clone());
    Ok(CourseEdited { session, made, before })
}

/// What is open with the text of the notebook or of a layer replaced; players, round and frozen plan stay as they are.
pub fn with_course_text(session: &Session, file: &str, text: String) -> Session {
    let mut out = session.clone();
    if session.course_file.as_ref().is_some_and(|f| f.name == file) {
        let all = |course: &Option<Course>| -> Vec<u8> {
            course.iter().flat_map(|c| c.holes.iter().map(|h| h.number)).collect()
        };
        let in_order = session.order == all(&session.course);
        let mut load = Load::new(&session.today);
        load.course(file, text);
        let ground = session.ground.as_ref().map(|g| (g.name.as_str(), g.text.clone()));
        if ground.is_some() {
            load.ground(ground);
        }
        for (_, layer) in &session.layers {
            load.layer(&layer.name, layer.text.clone());
        }
        if let Some((_, day)) = &session.day {
            load.day(&day.name, day.text.clone());
        }
        let read = load.finish(session.home);
        if read.course.is_none() {
            return out;
        }
        if in_order && session.round.is_none() {
            out.order = all(&read.course);
        }
        let stays = |f: &ReadFile| session.player_files.iter().any(|p| p.name == f.name);
        out.problems.retain(stays);
        out.problems.splice(0..0, read.problems);
        (out.course, out.course_file, out.notebook_digest) = (read.course, read.course_file, read.notebook_digest);
        (out.ground, out.layers, out.day) = (read.ground, read.layers, read.day);
    } else {
        let (layer, diagnostics) = course::read_layer(&text, session.course.as_ref());
        let read = ReadFile { name: file.to_owned(), text, diagnostics };
        out.problems.retain(|f| f.name != file);
        if !read.diagnostics.is_empty() {
            out.problems.push(read.clone());
        }
        let Some(layer) = layer else { return out };
        match out.layers.iter_mut().find(|(_, f)| f.name == file) {
            Some(old) => *old = (layer, read),
            None => {
                let at = out.layers.iter().position(|(_, f)| f.name.as_str() > file).unwrap_or(out.layers.len());
                out.layers.insert(at, (layer, read));
            }
        }
    }
    out.refresh();
    out
}

/// A text to be written in place of another.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CourseText {
    /// The file.
    pub file: String,
    /// The text that stands there now; `None` when the file is new.
    pub base: Option<Digest>,
    /// The text to write.
    pub text: String,
    /// Whether a backup is made first.
    pub back_up: bool,
}

impl CourseText {
    /// Lets a later change of the same file take the place of this one while it waits. Gives `later` back when it is another file's.
    pub fn then(&mut self, later: CourseText) -> Option<CourseText> {
        if later.file != self.file {
            return Some(later);
        }
        // A change of what waits here builds on it; any other was made anew on what stands on the disk.
        if later.base != Some(Digest::of(self.text.as_bytes())) {
            self.base = later.base;
        }
        self.back_up |= later.back_up;
        self.text = later.text;
        None
    }
}

/// Writes it, durable when this returns.
///
/// # Errors
/// [`StoreError`]: what stood there stands there still.
pub fn save_course(store: &Store, asked: &CourseText) -> Result<Option<String>, StoreError> {
    let place = PathBuf::from(&asked.file);
    if asked.back_up {
        store.back_up(&place)?;
    }
    let expect = asked.base.map_or(Expect::New, Expect::AsRead);
    let saved = store.save(&place, asked.text.as_bytes(), expect)?;
    Ok(saved.not_synced.map(|e| e.to_string()))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::notebook::edit::{Path as Place, Value};
    use crate::shelf::example;
    use crate::store::{Shelf, Trouble};
    use std::fs;

    fn note(text: &str) -> Vec<Edit> {
        let place = Place::new().key("holes").of("hole", "4").key("notes");
        vec![Edit::push(place, Value::map([("at", "tee"), ("text", text)]))]
    }

    #[test]
    fn a_note_is_there_at_once_and_everything_else_as_it_was() {
        let session = example("2026-05-16");
        let file = session.course_file.as_ref().unwrap().name.clone();
        let done = edit_course(&session, &file, &note("Left half."), None).unwrap();
        let hole = |s: &Session| s.course.as_ref().unwrap().hole(4).unwrap().notes.len();
        assert_eq!(hole(&done.session), hole(&session) + 1);
        assert_eq!(done.session.people, session.people);
        assert_eq!(done.session.golfers, session.golfers);
        assert_eq!(done.session.order, session.order);
        assert_eq!(done.made.text.lines().count(), session.course_file.as_ref().unwrap().text.lines().count() + 2);
        let back = edit_course(&done.session, &file, &done.made.inverse, None).unwrap();
        assert_eq!(back.session, session, "taken back, nothing differs");
    }

    #[test]
    fn what_waits_takes_the_last_text_and_the_first_base() {
        let of = |text: &str| Some(Digest::of(text.as_bytes()));
        let asked = |base, text: &str| CourseText { file: "a".into(), base, text: text.into(), back_up: false };
        let mut waits = asked(of("0"), "1");
        assert_eq!(waits.then(asked(of("1"), "2")), None);
        assert_eq!((waits.base, waits.text.as_str()), (of("0"), "2"));
        assert_eq!(waits.then(asked(of("theirs"), "theirs and mine")), None, "made anew on another text");
        assert_eq!(waits.base, of("theirs"));
        let other = CourseText { file: "b".into(), ..asked(None, "x") };
        assert_eq!(waits.then(other.clone()), Some(other));
    }

    #[test]
    fn a_file_changed_on_the_disk_is_not_written_over() {
        let folder = tempfile::tempdir().unwrap();
        let store = Store::new(Shelf::at(folder.path()));
        let place = folder.path().join("c.yaml");
        fs::write(&place, "one\n").unwrap();
        let asked = |base: &str, text: &str| CourseText {
            file: place.display().to_string(),
            base: Some(Digest::of(base.as_bytes())),
            text: text.into(),
            back_up: true,
        };
        save_course(&store, &asked("one\n", "two\n")).unwrap();
        assert_eq!(fs::read_to_string(&place).unwrap(), "two\n");
        fs::write(&place, "theirs\n").unwrap();
        assert_eq!(save_course(&store, &asked("two\n", "three\n")).unwrap_err().trouble, Trouble::Changed);
        assert_eq!(fs::read_to_string(&place).unwrap(), "theirs\n");
    }
}
