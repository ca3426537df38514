//! Changes of the notebook and its layers: shown at once, written behind the screen, taken back and made again.

use super::{Effect, How, annotate};
use crate::course::write::{self, NotMade};
use crate::notebook::edit::Edit;
use crate::session::{Home, Session};
use crate::shelf::{self, CourseText};
use crate::tui::state::{DoneEdit, Form, MOST_UNDO, Mark, Notice, State, Unsaved, Where};
use crate::units::digest::Digest;

/// A change as it is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct CourseEdit {
    /// In which file.
    pub place: Where,
    /// The edits, in order.
    pub edits: Vec<Edit>,
    /// Whether it is new, or takes one back, or makes one again.
    pub how: How,
    /// On which hole.
    pub hole: u8,
    /// What it is, in a few words.
    pub words: String,
    /// See [`Mark`].
    pub mark: Option<Mark>,
    /// The form it was typed in.
    pub form: Option<Box<Form>>,
}

/// What is asked of the edge.
#[derive(Clone, Debug, PartialEq)]
pub enum CourseAsk {
    /// Make the person's own copy of the example, then the change.
    OwnCopy(Box<CourseEdit>),
    /// Write a text, behind the screen.
    Save(CourseText),
}

/// What the edge says.
#[derive(Debug)]
pub enum CourseTold {
    /// The example is the person's own now.
    Copied(Box<Session>, Box<CourseEdit>, String),
    /// A text is on the disk, by its digest; words when the system could not promise that it survives a power cut.
    Saved(Digest, Option<String>),
    /// Somebody changed the file meanwhile: what is open now, read again.
    Conflict(Box<Session>),
    /// It could not be written.
    NotSaved(String),
}

/// Makes a change, or asks for the own copy first. The notice says what was written where.
///
/// # Errors
/// Why nothing has changed.
pub fn make(state: &mut State, edit: CourseEdit, effects: &mut Vec<Effect>) -> Result<(), NotMade> {
    if let Some(why) = &state.session.read_only {
        // A round that another program holds may still be looked at; its notebook is another file.
        if state.session.course_file.is_none() {
            return Err(NotMade::Refused(why.clone()));
        }
    }
    if state.session.home == Home::Example {
        effects.push(Effect::Course(CourseAsk::OwnCopy(Box::new(edit))));
        return Ok(());
    }
    let file = state.file_of(&edit.place).ok_or_else(|| NotMade::Refused("no notebook is open".to_owned()))?;
    let begin = match &edit.place {
        Where::Notebook => None,
        Where::Beside(_) => new_layer(state),
    };
    let done = shelf::edit_course(&state.session, &file, &edit.edits, begin.as_deref())?;
    state.session = done.session;
    let back_up = done.before.is_some() && !state.course_edits.backed_up.contains(&file);
    if back_up {
        state.course_edits.backed_up.push(file.clone());
    }
    let at = state.round_line();
    let entry = DoneEdit {
        place: edit.place.clone(),
        edits: done.made.inverse,
        hole: edit.hole,
        at,
        words: edit.words.clone(),
        mark: edit.mark.clone(),
    };
    let edits = &mut state.course_edits;
    match edit.how {
        How::Made => {
            edits.redo.clear();
            let joins = entry.mark.is_some() && edits.undo.last().is_some_and(|last| last.mark == entry.mark);
            match edits.undo.last_mut().filter(|_| joins) {
                Some(last) => last.join(entry.edits),
                None => edits.undo.push(entry),
            }
            if edits.undo.len() > MOST_UNDO {
                edits.undo.remove(0);
            }
        }
        How::Undone => {
            edits.undo.pop();
            edits.redo.push(entry);
        }
        How::DoneAgain => {
            edits.redo.pop();
            edits.undo.push(entry);
        }
    }
    edits.unsaved.push(Unsaved {
        place: edit.place,
        edits: edit.edits,
        hole: edit.hole,
        words: edit.words.clone(),
        after: Digest::of(done.made.text.as_bytes()),
        form: edit.form,
    });
    let head = match edit.how {
        How::Made => "",
        How::Undone => "Taken back: ",
        How::DoneAgain => "Made again: ",
    };
    let short = std::path::Path::new(&file).file_name().and_then(|n| n.to_str()).unwrap_or(&file).to_owned();
    let lines = match done.made.lines {
        None => short,
        Some((a, b)) if a == b => format!("line {a} of {short}"),
        Some((a, b)) => format!("lines {a} to {b} of {short}"),
    };
    let warning = done.made.warnings.first().map(|w| format!("; {w}")).unwrap_or_default();
    let words = format!("{head}{}, {lines}{warning}", edit.words);
    state.notice = Some(if warning.is_empty() { Notice::word(words) } else { Notice::warning(words) });
    effects.push(Effect::Course(CourseAsk::Save(CourseText {
        file,
        base: done.before,
        text: done.made.text,
        back_up,
    })));
    Ok(())
}

/// The text with which the layer that is written to begins.
fn new_layer(state: &State) -> Option<String> {
    let file = state.session.course_file.as_ref()?;
    let name = std::path::Path::new(&file.name).file_name()?.to_str()?.to_owned();
    let edition = state.session.course.as_ref()?.edition.clone();
    Some(write::new_layer(&name, &state.layer_person()?, edition.as_deref()))
}

/// Takes the last change back, or makes the last one again that was taken back.
pub fn undo(state: &mut State, again: bool, effects: &mut Vec<Effect>) {
    let (from, how) =
        if again { (&state.course_edits.redo, How::DoneAgain) } else { (&state.course_edits.undo, How::Undone) };
    let Some(last) = from.last().cloned() else { return };
    if let Some(position) = state.session.order.iter().position(|n| *n == last.hole)
        && state.current_hole().is_none_or(|h| h.number != last.hole)
    {
        super::hole::arrive(state, position);
    }
    let edit = CourseEdit {
        place: last.place,
        edits: last.edits,
        how,
        hole: last.hole,
        words: last.words,
        mark: None,
        form: None,
    };
    if let Err(why) = make(state, edit, effects) {
        let what = if again { "cannot be made again" } else { "cannot be taken back" };
        state.notice = Some(Notice::warning(format!("It {what}: {why}")));
    }
}

/// What the edge said of a change.
pub fn told(state: &mut State, told: CourseTold, effects: &mut Vec<Effect>) {
    match told {
        CourseTold::Copied(session, edit, words) => {
            let own_layer = state.course_edits.own_layer;
            state.session = *session;
            state.course_edits = crate::tui::state::CourseEdits { own_layer, ..Default::default() };
            let form = edit.form.clone();
            match make(state, *edit, effects) {
                Ok(()) => {
                    let what = state.notice.take().map(|n| n.words).unwrap_or_default();
                    state.notice = Some(Notice::word(format!("{words}: {what}")));
                }
                Err(why) => {
                    state.notice = Some(Notice::warning(format!("{words}; {why}")));
                    annotate::reopen(state, form, &why);
                }
            }
        }
        CourseTold::Saved(digest, words) => {
            if let Some(at) = state.course_edits.unsaved.iter().position(|u| u.after == digest) {
                state.course_edits.unsaved.drain(..=at);
            }
            if let Some(words) = words {
                state.notice = Some(Notice::warning(words));
            }
        }
        CourseTold::Conflict(session) => {
            reread(state, *session, effects);
        }
        CourseTold::NotSaved(words) => {
            let words = format!("Not written yet, shown only here: {words}. The next change tries again");
            state.notice = Some(Notice::failure(words));
        }
    }
}

/// The files were read again: changes that the disk does not have yet are made anew on what stands there now; what cannot be is
/// shown beside it. Nothing on the disk is written over.
pub fn reread(state: &mut State, session: Session, effects: &mut Vec<Effect>) {
    let round = state.session.round.take();
    let frozen = state.session.frozen.take();
    state.session = session;
    state.session.round = round;
    if state.session.frozen.is_none() {
        state.session.frozen = frozen;
    }
    state.session.refresh();
    let mut unsaved = std::mem::take(&mut state.course_edits.unsaved);
    for index in (0..unsaved.len()).rev() {
        let Some(one) = unsaved.get(index) else { continue };
        let on_disk = state
            .file_of(&one.place)
            .and_then(|file| shelf::course_text(&state.session, &file).map(|(text, _)| Digest::of(text.as_bytes())));
        // This one and all before it have arrived.
        if on_disk == Some(one.after) {
            unsaved.drain(..=index);
            break;
        }
    }
    if unsaved.is_empty() {
        annotate::compare_form(state);
        return;
    }
    let keep = state.course_edits.undo.len().saturating_sub(unsaved.len());
    state.course_edits.undo.truncate(keep);
    state.course_edits.redo.clear();
    let many = unsaved.len();
    let mut refused = None;
    for one in unsaved {
        let form = one.form.clone();
        let edit = CourseEdit {
            place: one.place,
            edits: one.edits,
            how: How::Made,
            hole: one.hole,
            words: one.words,
            mark: None,
            form: one.form,
        };
        let words = edit.words.clone();
        if let Err(why) = make(state, edit, effects) {
            refused = Some((form, why, words));
        }
    }
    match refused {
        None => {
            let words = match many {
                1 => "The file was changed on the disk meanwhile; your change was made on the new text".to_owned(),
                n => format!("The file was changed on the disk meanwhile; your {n} changes were made on the new text"),
            };
            state.notice = Some(Notice::word(words));
            annotate::compare_form(state);
        }
        Some((form, why, words)) => {
            state.notice = Some(Notice::warning(format!("Not written ({words}): {why} on the disk")));
            annotate::reopen(state, form, &why);
        }
    }
}
