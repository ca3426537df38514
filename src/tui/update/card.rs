//! Moving between players.

use crate::tui::state::State;

/// The next player of the round, round and round.
pub fn next_player(state: &mut State) {
    let n = state.session.golfers.len().max(1);
    state.player = (state.player + 1) % n;
    state.hole.stand = None;
    state.hole.tee = None;
}

/// One up or down, staying inside.
pub fn other_player(state: &mut State, step: isize) {
    let n = state.session.golfers.len().max(1);
    state.player = state.player.saturating_add_signed(step).min(n - 1);
}
