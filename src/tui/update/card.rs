//! Moving between players.

use crate::tui::state::State;

/// The next player of the round, round and round.
pub fn next_player(state: &mut State) {
    let n = state.session.golfers.len().max(1);
    state.player = (state.player + 1) % n;
    state.hole.stand = None;
    state.hole.tee = None;
}

/// One card up or down, staying inside; partners with one ball have one card.
pub fn other_player(state: &mut State, step: isize) {
    let holders = state.session.holders();
    let now = state.session.holder(state.player);
    let at = holders.iter().position(|player| *player == now).unwrap_or(0);
    let to = at.saturating_add_signed(step).min(holders.len().saturating_sub(1));
    state.player = holders.get(to).copied().unwrap_or(0);
}
