//! What the pages of the day ask of the edge and are told by it.

use super::DayEdit;
use crate::notebook::edit::Edit;
use crate::plan::{GreenPicture, HoleToday, Question};
use crate::session::Session;
use crate::tui::state::{Notice, PlanKey, State};
use std::sync::Arc;

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub enum Ask {
    /// Change the day sheet.
    Edit(DayEdit),
    /// Write the sheet as text and CSV beside it.
    Export,
    /// Find what the day changes on a hole, in the background.
    Hole(Box<PlanKey>, Box<Question>),
    /// Work a green out, in the background.
    Green(Box<PlanKey>, Box<Question>),
}

/// What is told.
#[derive(Debug)]
pub enum Told {
    /// The sheet was changed: what is open now, what was asked, the edits that take it back, a word.
    Edited(Box<Session>, DayEdit, Vec<Edit>, String),
    /// What the day changes on a hole.
    Hole(Box<PlanKey>, Result<HoleToday, String>),
    /// A green.
    Green(Box<PlanKey>, Result<Arc<GreenPicture>, String>),
    /// A job came to nothing; it may be asked again.
    Nothing,
}

/// Takes what was told.
pub fn told(state: &mut State, told: Told) {
    match told {
        Told::Edited(session, edit, inverse, words) => super::day::edited(state, *session, edit, inverse, words),
        Told::Hole(key, found) => state.day_holes.keep(*key, found),
        Told::Green(key, found) => state.greens.keep(*key, found),
        Told::Nothing => {
            state.day_holes.asked = None;
            state.greens.asked = None;
            state.notice = Some(Notice::warning("Something could not be worked out; it is tried again when asked."));
        }
    }
}

/// What to ask for next: the green on screen first, then a hole of the day.
pub fn wanted(state: &mut State) -> Option<Ask> {
    if let Some((key, question)) = state.next_green() {
        state.greens.asked = Some(key.clone());
        return Some(Ask::Green(Box::new(key), Box::new(question)));
    }
    // One job at a time: a green that is waited for is not held up by a hole of the day.
    if state.greens.asked.is_some() {
        return None;
    }
    let (key, question) = state.next_day_hole()?;
    state.day_holes.asked = Some(key.clone());
    Some(Ask::Hole(Box::new(key), Box::new(question)))
}
