//! Lists: the shelf, the key help, the problems, and the finder's letters.

use super::{Effect, leave, run, score};
use crate::shelf::ShelfKind;
use crate::tui::commands::Page;
use crate::tui::keymap::Key;
use crate::tui::state::{Notice, Screen, State};

/// Moves the cursor or the text of the list on top.
pub fn step(state: &mut State, by: isize) {
    let items = state.shelf.len();
    match state.screens.last_mut() {
        Some(Screen::Shelf { cursor }) => *cursor = cursor.saturating_add_signed(by).min(items.saturating_sub(1)),
        Some(Screen::Help { scroll } | Screen::Problems { scroll } | Screen::Card { scroll }) => {
            *scroll = scroll.saturating_add_signed(by).min(10_000);
        }
        Some(Screen::Handicap(screen)) => screen.scroll = screen.scroll.saturating_add_signed(by).min(10_000),
        Some(Screen::Review(screen)) => super::review::step(screen, by),
        // The other pages step by commands of their own.
        Some(_) => {}
        // Without a course the shelf is the bottom of the stack and has no screen of its own yet.
        None => state.screens.push(Screen::Shelf { cursor: usize::from(by > 0).min(items.saturating_sub(1)) }),
    }
}

/// The shelf may have become shorter.
pub fn keep_cursor_inside(state: &mut State) {
    let last = state.shelf.len().saturating_sub(1);
    if let Some(Screen::Shelf { cursor }) = state.screens.last_mut() {
        *cursor = (*cursor).min(last);
    }
}

/// Opens the thing under the cursor.
pub fn choose(state: &mut State, effects: &mut Vec<Effect>) {
    let cursor = match state.screens.last() {
        Some(Screen::Shelf { cursor }) => *cursor,
        _ => 0,
    };
    if state.shelf.get(cursor).is_some() {
        score::keep_place(state, effects);
    }
    match state.shelf.get(cursor) {
        None => {
            state.notice = Some(Notice::warning("The shelf is empty; `marram new course NAME` puts a notebook on it."))
        }
        Some(item) => match (&item.path, item.kind) {
            (_, ShelfKind::Example) => effects.push(Effect::OpenExample),
            (Some(path), ShelfKind::Competition) => {
                effects.push(Effect::Desk(super::DeskAsk::Open(Some(path.clone()))));
            }
            (Some(path), _) => effects.push(Effect::Open(path.clone())),
            (None, _) => {}
        },
    }
}

/// Keys in the finder: letters narrow, arrows move, Enter runs, Esc closes. Returns whether the key was used.
pub fn finder_key(state: &mut State, key: Key, effects: &mut Vec<Effect>) -> bool {
    let below = state.page_below();
    let Some(Screen::Finder(finder)) = state.screens.last_mut() else { return false };
    match key {
        Key::Char(c) => {
            if finder.letters.chars().count() < 60 {
                finder.letters.push(c);
            }
            finder.cursor = 0;
        }
        Key::Backspace => {
            finder.letters.pop();
            finder.cursor = 0;
        }
        Key::Up => finder.cursor = finder.cursor.saturating_sub(1),
        Key::Down | Key::Tab => finder.cursor = (finder.cursor + 1).min(finder.found(below).len().saturating_sub(1)),
        Key::Enter => {
            let chosen = finder.found(below).get(finder.cursor).copied();
            state.screens.pop();
            debug_assert_ne!(state.page(), Page::Finder);
            if let Some(command) = chosen {
                let digits = [
                    crate::tui::commands::Act::Score,
                    crate::tui::commands::Act::Desk(crate::tui::commands::DeskAct::Score),
                ];
                if digits.contains(&command.act) {
                    state.notice = Some(Notice::word("Press a digit to enter a score."));
                } else if command.act == crate::tui::commands::Act::TypeNumber {
                    state.notice = Some(Notice::word("Press a digit to begin a number."));
                } else {
                    run(state, command, key, effects);
                }
            }
        }
        Key::Esc => {
            state.screens.pop();
        }
        Key::Ctrl('c') => leave(state, effects),
        _ => {}
    }
    true
}
