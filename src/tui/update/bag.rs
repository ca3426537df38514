//! The Bag page: from number to number, typing one, clubs in and out, taking changes back.

use super::Effect;
use crate::notebook::edit::Edit;
use crate::pattern::bag::usual_share;
use crate::player::{Change, Number, write};
use crate::session::Session;
use crate::tui::keymap::Key;
use crate::tui::state::{BagEdits, Field, FieldFor, Notice, Screen, State};
use tui_input::{Input, InputRequest};

/// The most that a field takes.
const MOST_TYPED: usize = 60;

/// A change of a player's file as it is asked of the edge.
#[derive(Clone, Debug, PartialEq)]
pub struct PlayerEdit {
    /// Which player of the session.
    pub player: usize,
    /// The edits, in order.
    pub edits: Vec<Edit>,
    /// Whether it is new, or takes one back, or makes one again.
    pub how: How,
    /// The club on which the cursor stands afterwards.
    pub club: Option<String>,
}

/// How a change came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// A person made it.
    Made,
    /// It takes the last one back.
    Undone,
    /// It makes the last one again.
    DoneAgain,
}

impl How {
    /// Moves the edits that take a change back to where the next undo or redo looks for them.
    pub(super) fn settle(self, undo: &mut Vec<Vec<Edit>>, redo: &mut Vec<Vec<Edit>>, inverse: Vec<Edit>) {
        match self {
            Self::Made => {
                redo.clear();
                undo.push(inverse);
            }
            Self::Undone => {
                undo.pop();
                redo.push(inverse);
            }
            Self::DoneAgain => {
                redo.pop();
                undo.push(inverse);
            }
        }
    }

    /// The words that stand before what was changed.
    pub(super) const fn head(self) -> &'static str {
        match self {
            Self::Made => "",
            Self::Undone => "Taken back. ",
            Self::DoneAgain => "Made again. ",
        }
    }
}

/// Up and down.
pub fn step(state: &mut State, by: isize) {
    let rows = state.derived.bag.as_ref().map_or(0, |b| b.rows.len());
    if let Some(bag) = state.bag_screen_mut() {
        bag.row = bag.row.saturating_add_signed(by).min(rows.saturating_sub(1));
    }
}

/// Turns to the words that did not fit, and back to the first.
pub fn turn_page(state: &mut State) {
    if let Some(bag) = state.bag_screen_mut() {
        bag.page = bag.page.wrapping_add(1);
    }
}

/// Left and right.
pub fn step_number(state: &mut State, by: isize) {
    if let Some(bag) = state.bag_screen_mut() {
        bag.column = bag.column.saturating_add_signed(by).min(Number::ALL.len() - 1);
    }
}

/// Keeps the cursor on a row that is there.
pub fn keep_cursor_inside(state: &mut State) {
    step(state, 0);
}

fn club_here(state: &State) -> Option<(String, Number)> {
    let bag = state.bag_screen()?;
    let rows = &state.derived.bag.as_ref()?.rows;
    // The file may have become shorter on the disk.
    let row = rows.get(bag.row.min(rows.len().saturating_sub(1)))?;
    Some((row.name.clone(), bag.number()))
}

fn text_of(session: &Session, player: usize) -> String {
    session.player_file(player).map(|f| f.text.clone()).unwrap_or_default()
}

/// Opens the field of the number under the cursor, empty but for `digit` when one began it.
pub fn edit(state: &mut State, digit: Option<char>) {
    let Some((club, number)) = club_here(state) else { return };
    let value = match digit {
        Some(c) => c.to_string(),
        None => write::written(&text_of(&state.session, state.player), &club, number),
    };
    open_field(state, FieldFor::Number(club, number), value);
}

/// Opens the field for the name of a new club.
pub fn add(state: &mut State) {
    open_field(state, FieldFor::NewClub, String::new());
}

fn open_field(state: &mut State, what: FieldFor, value: String) {
    if let Some(bag) = state.bag_screen_mut() {
        bag.field = Some(Field { input: Input::new(value), what, message: None });
    }
}

/// Takes the number under the cursor out of the file.
pub fn clear(state: &mut State, effects: &mut Vec<Effect>) {
    let Some((club, number)) = club_here(state) else { return };
    let change = Change::Number { club: club.clone(), number, text: String::new() };
    match propose(state, &change) {
        Ok(edits) if edits.is_empty() => {
            state.notice = Some(Notice::word(format!("The {} of {club} is assumed already.", number.word())));
        }
        Ok(edits) => ask(state, edits, How::Made, Some(club), effects),
        Err(why) => state.notice = Some(Notice::warning(why)),
    }
}

/// Takes the club under the cursor out of the bag.
pub fn remove(state: &mut State, effects: &mut Vec<Effect>) {
    let Some((club, _)) = club_here(state) else { return };
    match propose(state, &Change::Remove { club }) {
        Ok(edits) => ask(state, edits, How::Made, None, effects),
        Err(why) => state.notice = Some(Notice::warning(why)),
    }
}

/// Takes the last change of this bag back, or makes it again.
pub fn undo(state: &mut State, again: bool, effects: &mut Vec<Effect>) {
    let (from, how) =
        if again { (&state.bag_edits.redo, How::DoneAgain) } else { (&state.bag_edits.undo, How::Undone) };
    if let Some(edits) = from.last().cloned() {
        let club = club_here(state).map(|(club, _)| club);
        ask(state, edits, how, club, effects);
    }
}

fn ask(state: &State, edits: Vec<Edit>, how: How, club: Option<String>, effects: &mut Vec<Effect>) {
    effects.push(Effect::EditPlayer(PlayerEdit { player: state.player, edits, how, club }));
}

/// The edits of a change, proved and read on the text at hand, so that a refusal comes before anything is asked of the disk.
fn propose(state: &State, change: &Change) -> Result<Vec<Edit>, String> {
    let text = text_of(&state.session, state.player);
    let sheet = state.derived.bag.as_ref();
    let assumed: Vec<&str> = sheet
        .filter(|s| s.all_assumed)
        .map(|s| s.rows.iter().filter(|r| r.shot.is_some()).map(|r| r.name.as_str()).collect())
        .unwrap_or_default();
    let edits = write::edits(&text, change, &assumed)?;
    if !edits.is_empty() {
        write::make(&text, &edits)?;
    }
    Ok(edits)
}

/// Before which club of the bag a new one stands, by the length that its name says; last when the name says nothing.
fn place_of(state: &State, name: &str) -> Option<String> {
    let sheet = state.derived.bag.as_ref()?;
    let total = usual_share(name)? * sheet.drive;
    let shorter = |r: &&crate::sheet::BagRow| r.shot.as_ref().is_some_and(|c| c.total() < total);
    sheet.rows.iter().find(shorter).map(|r| r.name.clone())
}

/// A key while a field is open; returns whether it was used.
pub fn field_key(state: &mut State, key: Key, effects: &mut Vec<Effect>) -> bool {
    let Some(Screen::Bag(bag)) = state.screens.last_mut() else { return false };
    let Some(field) = bag.field.as_mut() else { return false };
    let request = match key {
        Key::Char(_) if field.input.value().chars().count() >= MOST_TYPED => None,
        Key::Char(c) => Some(InputRequest::InsertChar(c)),
        Key::Backspace => Some(InputRequest::DeletePrevChar),
        Key::Delete => Some(InputRequest::DeleteNextChar),
        Key::Left => Some(InputRequest::GoToPrevChar),
        Key::Right => Some(InputRequest::GoToNextChar),
        Key::Home => Some(InputRequest::GoToStart),
        Key::End => Some(InputRequest::GoToEnd),
        Key::Esc => {
            bag.field = None;
            return true;
        }
        Key::Enter | Key::Tab => {
            keep(state, effects);
            return true;
        }
        Key::Ctrl('c') => {
            effects.push(Effect::Quit);
            return true;
        }
        _ => None,
    };
    if let Some(request) = request {
        field.message = None;
        field.input.handle(request);
    }
    true
}

/// Pasted text goes into the open field; returns whether there is one.
pub fn pasted(state: &mut State, text: &str) -> bool {
    let Some(Screen::Bag(bag)) = state.screens.last_mut() else { return false };
    let Some(field) = bag.field.as_mut() else { return false };
    let room = MOST_TYPED.saturating_sub(field.input.value().chars().count());
    for c in text.chars().filter(|c| !c.is_control()).take(room) {
        field.input.handle(InputRequest::InsertChar(c));
    }
    field.message = None;
    true
}

/// Keeps what was typed: it is judged first, and the field stays open until the file has it.
fn keep(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(field) = state.bag_screen().and_then(|b| b.field.clone()) else { return };
    let typed = field.input.value().trim().to_owned();
    let (change, club) = match field.what {
        FieldFor::Number(club, number) => (Change::Number { club: club.clone(), number, text: typed }, club),
        FieldFor::NewClub if typed.is_empty() => return close(state),
        FieldFor::NewClub => (Change::Add { club: typed.clone(), before: place_of(state, &typed) }, typed),
    };
    match propose(state, &change) {
        Ok(edits) if edits.is_empty() => close(state),
        Ok(edits) => ask(state, edits, How::Made, Some(club), effects),
        Err(why) => {
            if let Some(field) = state.bag_screen_mut().and_then(|b| b.field.as_mut()) {
                field.message = Some(why);
            }
        }
    }
}

fn close(state: &mut State) {
    if let Some(bag) = state.bag_screen_mut() {
        bag.field = None;
    }
}

/// The file has the change: it is shown, and can be taken back.
pub fn edited(state: &mut State, session: Session, edit: PlayerEdit, inverse: Vec<Edit>, words: String) {
    state.session = session;
    let file = state.session.player_file(edit.player).map(|f| f.name.clone()).unwrap_or_default();
    if state.bag_edits.file != file {
        state.bag_edits = BagEdits { file, ..BagEdits::default() };
    }
    let edits = &mut state.bag_edits;
    edit.how.settle(&mut edits.undo, &mut edits.redo, inverse);
    let added = state.bag_screen().and_then(|b| b.field.as_ref()).is_some_and(|f| f.what == FieldFor::NewClub);
    state.refresh();
    let row = edit.club.as_ref().and_then(|club| state.derived.bag.as_ref()?.row_of(club));
    if let Some(bag) = state.bag_screen_mut() {
        bag.field = None;
        if let Some(row) = row {
            bag.row = row;
        }
        if added {
            bag.column = 0;
        }
    }
    keep_cursor_inside(state);
    let head = edit.how.head();
    state.notice = Some(Notice::word(format!("{head}{words}")));
}
