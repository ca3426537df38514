//! The Day sheet page: typing, keeping, taking back, and pasting a whole sheet.

use super::today::Ask;
use super::{Effect, How, push};
use crate::course::day_write::{self, Field};
use crate::notebook::edit::Edit;
use crate::session::Session;
use crate::shelf;
use crate::tui::commands::day::DayAct;
use crate::tui::keymap::Key;
use crate::tui::state::{DayScreen, Notice, Screen, State};
use tui_input::{Input, InputRequest};

/// The most that a field takes.
const MOST_TYPED: usize = 60;

/// A change of the day sheet as it is asked of the edge.
#[derive(Clone, Debug, PartialEq)]
pub struct DayEdit {
    /// The edits, in order.
    pub edits: Vec<Edit>,
    /// Whether it is new, or takes one back, or makes one again.
    pub how: How,
}

/// Runs a command of the page.
pub fn run(state: &mut State, act: DayAct, key: Key, effects: &mut Vec<Effect>) {
    match act {
        DayAct::Open => {
            let first = state.session.course.as_ref().map_or(0, |c| 7 + c.tees.len());
            push(state, Screen::Day(Box::new(DayScreen { row: first + state.position, ..DayScreen::default() })));
        }
        DayAct::Edit => {
            let value = here(state).map(|f| written(&state.session, &f)).unwrap_or_default();
            open(state, value);
        }
        DayAct::Type => open(state, if let Key::Char(c) = key { c.to_string() } else { String::new() }),
        DayAct::Clear => {
            if let Some(field) = here(state) {
                keep(state, &field, "", effects);
            }
        }
        DayAct::Table => {
            if let Some(day) = state.day_screen_mut() {
                day.table = !day.table;
            }
        }
        DayAct::Export => effects.push(Effect::Today(Ask::Export)),
    }
}

fn here(state: &State) -> Option<Field> {
    let row = state.day_screen()?.row;
    state.derived.day.rows.get(row).map(|r| r.field.clone())
}

fn written(session: &Session, field: &Field) -> String {
    session.day.as_ref().map(|(_, file)| day_write::written(&file.text, field)).unwrap_or_default()
}

fn open(state: &mut State, value: String) {
    if let Some(day) = state.day_screen_mut() {
        day.input = Some(Input::new(value));
        day.message = None;
    }
}

/// Up and down.
pub fn step(state: &mut State, by: isize) {
    let rows = state.derived.day.rows.len();
    if let Some(day) = state.day_screen_mut() {
        day.row = day.row.saturating_add_signed(by).min(rows.saturating_sub(1));
    }
}

/// Keys while something is typed; returns whether the key was used.
pub fn field_key(state: &mut State, key: Key, effects: &mut Vec<Effect>) -> bool {
    let Some(Screen::Day(day)) = state.screens.last_mut() else { return false };
    let Some(input) = day.input.as_mut() else { return false };
    let request = match key {
        Key::Char(_) if input.value().chars().count() >= MOST_TYPED => None,
        Key::Char(c) => Some(InputRequest::InsertChar(c)),
        Key::Backspace => Some(InputRequest::DeletePrevChar),
        Key::Delete => Some(InputRequest::DeleteNextChar),
        Key::Left => Some(InputRequest::GoToPrevChar),
        Key::Right => Some(InputRequest::GoToNextChar),
        Key::Home => Some(InputRequest::GoToStart),
        Key::End => Some(InputRequest::GoToEnd),
        Key::Esc => {
            day.input = None;
            day.message = None;
            return true;
        }
        Key::Enter | Key::Tab | Key::Down => {
            let typed = input.value().to_owned();
            if let Some(field) = here(state) {
                keep(state, &field, &typed, effects);
            }
            return true;
        }
        Key::Ctrl('c') => {
            effects.push(Effect::Quit);
            return true;
        }
        _ => None,
    };
    if let Some(request) = request {
        day.message = None;
        input.handle(request);
    }
    true
}

/// Keeps what was typed: it is judged first, and stays in its field when it cannot be kept.
fn keep(state: &mut State, field: &Field, typed: &str, effects: &mut Vec<Effect>) {
    let Some(text) = shelf::day_text(&state.session) else { return };
    let made = day_write::edits(&text, field, typed).and_then(|edits| {
        if !edits.is_empty() {
            day_write::make(&text, &edits, state.session.course.as_ref())?;
        }
        Ok(edits)
    });
    match made {
        Ok(edits) => {
            let typing = state.day_screen().is_some_and(|d| d.input.is_some());
            if edits.is_empty() {
                close(state);
            } else {
                ask(edits, How::Made, effects);
            }
            if typing {
                step(state, 1);
            }
        }
        Err(why) => match state.day_screen_mut() {
            Some(day) if day.input.is_some() => day.message = Some(why),
            _ => state.notice = Some(Notice::warning(why)),
        },
    }
}

fn close(state: &mut State) {
    if let Some(day) = state.day_screen_mut() {
        day.input = None;
        day.message = None;
    }
}

fn ask(edits: Vec<Edit>, how: How, effects: &mut Vec<Effect>) {
    effects.push(Effect::Today(Ask::Edit(DayEdit { edits, how })));
}

/// Takes the last change of the sheet back, or makes it again.
pub fn undo(state: &mut State, again: bool, effects: &mut Vec<Effect>) {
    let (from, how) =
        if again { (&state.day_edits.redo, How::DoneAgain) } else { (&state.day_edits.undo, How::Undone) };
    if let Some(edits) = from.last().cloned() {
        ask(edits, how, effects);
    }
}

/// Pasted text: into the field that is open, else a whole sheet read line by line. Returns whether it was used.
pub fn pasted(state: &mut State, text: &str, effects: &mut Vec<Effect>) -> bool {
    let Some(Screen::Day(day)) = state.screens.last_mut() else { return false };
    if let Some(input) = day.input.as_mut().filter(|_| !text.trim().contains('\n')) {
        let room = MOST_TYPED.saturating_sub(input.value().chars().count());
        for c in text.chars().filter(|c| !c.is_control()).take(room) {
            input.handle(InputRequest::InsertChar(c));
        }
        return true;
    }
    if let Some(why) = crate::tui::commands::why_no_day(state) {
        state.notice = Some(Notice::warning(why));
        return true;
    }
    match import(&state.session, text) {
        Ok((edits, count, odd)) if edits.is_empty() => {
            let words = if count == 0 {
                "Nothing in the pasted text names a hole or a thing of the sheet"
            } else {
                "The sheet says all of that already"
            };
            state.notice = Some(Notice::warning(format!("{words}{}", odd_words(&odd))));
        }
        Ok((edits, count, odd)) => {
            close(state);
            ask(edits, How::Made, effects);
            state.notice = Some(Notice::word(format!("{count} lines read{}", odd_words(&odd))));
        }
        Err(why) => state.notice = Some(Notice::warning(why)),
    }
    true
}

fn odd_words(odd: &[String]) -> String {
    match odd {
        [] => String::new(),
        [one] => format!("; not understood: {one}"),
        [first, ..] => format!("; {} lines not understood, the first: {first}", odd.len()),
    }
}

/// The edits that put a plain text or CSV on the sheet, how many of its lines say something, and those that do not.
///
/// # Errors
/// The first line that the sheet cannot take, and why.
pub fn import(session: &Session, text: &str) -> Result<(Vec<Edit>, usize, Vec<String>), String> {
    let (found, odd) = session.day_import(text);
    let mut now = shelf::day_text(session).ok_or("no notebook is open for a day sheet")?;
    let mut all = Vec::new();
    for (field, value) in &found {
        let edits = day_write::edits(&now, field, value).map_err(|why| format!("{}: {why}", field.title()))?;
        now = day_write::make(&now, &edits, session.course.as_ref())
            .map_err(|why| format!("{}: {why}", field.title()))?
            .text;
        all.extend(edits);
    }
    Ok((all, found.len(), odd))
}

/// The file has the change.
pub fn edited(state: &mut State, session: Session, edit: DayEdit, inverse: Vec<Edit>, words: String) {
    let round = state.session.round.take();
    state.session = session;
    if state.session.round.is_none() {
        state.session.round = round;
    }
    state.session.refresh();
    let edits = &mut state.day_edits;
    edit.how.settle(&mut edits.undo, &mut edits.redo, inverse);
    close(state);
    let head = edit.how.head();
    state.notice = Some(Notice::word(format!("{head}{words}")));
}
