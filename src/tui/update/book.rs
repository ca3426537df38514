//! The pocket book from the screen: asked for, made beside the keys, said where it lies.

use super::Effect;
use crate::round::Ability;
use crate::tui::state::{Notice, State};

/// Asks for the book of the player looked at.
pub fn write(state: &mut State, effects: &mut Vec<Effect>) {
    // In play under the Rules only what was frozen before the round may be printed.
    let plans = state.session.why_not(Ability::LivePlan).is_none() || state.session.frozen.is_some();
    state.book = Some(state.player);
    state.notice = Some(Notice::word("The book is being made; the keys go on."));
    effects.push(Effect::WriteBook { player: state.player, plans });
}

/// It was made, or why it was not.
pub fn written(state: &mut State, answer: Result<String, String>) {
    state.book = None;
    state.notice = Some(match answer {
        Ok(words) => Notice::word(words),
        Err(words) => Notice::failure(words),
    });
}
