//! The Handicap page: opening it, typing a score to come.

use super::{Effect, push};
use crate::shelf::ShelfKind;
use crate::tui::commands::Page;
use crate::tui::keymap::Key;
use crate::tui::state::{HandicapScreen, Notice, Screen, ShelfFile, State};
use tui_input::InputRequest;

/// The most characters of a score to come.
const LONGEST: usize = 40;

/// Opens the record of the player under the cursor on the shelf, else of the player looked at.
pub fn open(state: &mut State, effects: &mut Vec<Effect>) {
    if state.page() == Page::Shelf {
        let cursor = match state.screens.last() {
            Some(Screen::Shelf { cursor }) => *cursor,
            _ => 0,
        };
        if let Some(path) = state.shelf.get(cursor).filter(|i| i.kind == ShelfKind::Player).and_then(|i| i.path.clone())
        {
            effects.push(Effect::ReadPlayer(path));
            return;
        }
    }
    show(state, None);
}

/// Shows a record: of a file from the shelf, else of the player looked at.
pub fn show(state: &mut State, file: Option<ShelfFile>) {
    push(state, Screen::Handicap(Box::new(HandicapScreen { file, ..HandicapScreen::default() })));
}

/// Begins to type a score to come.
pub fn type_score(state: &mut State) {
    if let Some(Screen::Handicap(screen)) = state.screens.last_mut() {
        screen.typing = true;
        screen.scroll = 0;
    }
}

/// Keys of the text field: letters go in, Enter keeps what is typed, Esc takes it away. Returns whether the key was used.
pub fn key(state: &mut State, key: Key, effects: &mut Vec<Effect>) -> bool {
    let Some(Screen::Handicap(screen)) = state.screens.last_mut() else { return false };
    if !screen.typing {
        return false;
    }
    let request = match key {
        Key::Char(c) if screen.input.value().chars().count() < LONGEST => InputRequest::InsertChar(c),
        Key::Backspace => InputRequest::DeletePrevChar,
        Key::Delete => InputRequest::DeleteNextChar,
        Key::Left => InputRequest::GoToPrevChar,
        Key::Right => InputRequest::GoToNextChar,
        Key::Home => InputRequest::GoToStart,
        Key::End => InputRequest::GoToEnd,
        Key::Enter => {
            screen.typing = false;
            return true;
        }
        Key::Esc => {
            screen.typing = false;
            screen.input.reset();
            return true;
        }
        Key::Ctrl('c') => {
            effects.push(Effect::Quit);
            return true;
        }
        Key::Char(_) => {
            state.notice = Some(Notice::warning("A score to come is shorter than this."));
            return true;
        }
        _ => return true,
    };
    screen.input.handle(request);
    true
}

/// Pasted text goes into the field where one is open. Returns whether it was used.
pub fn pasted(state: &mut State, text: &str) -> bool {
    let Some(Screen::Handicap(screen)) = state.screens.last_mut() else { return false };
    if !screen.typing {
        return false;
    }
    let room = LONGEST.saturating_sub(screen.input.value().chars().count());
    for c in text.chars().filter(|c| !c.is_control()).take(room) {
        screen.input.handle(InputRequest::InsertChar(c));
    }
    true
}
