//! Entering scores, undo, redo, closing the round.

use super::{Effect, happen};
use crate::round::{Event, NotPossible, Place, ScoreKey};
use crate::tui::commands::Act;
use crate::tui::keymap::Key;
use crate::tui::state::{Notice, State};

/// Enters a score; without a round it begins one first, and the edge sends the key again.
pub fn enter(state: &mut State, act: Act, key: Key, effects: &mut Vec<Effect>) {
    if state.session.round.is_none() {
        effects.push(Effect::Begin);
        // The edge performs effects before the next key, so the key in hand simply comes again.
        state.pending.clear();
        return;
    }
    let at = Place { player: state.player, position: state.position };
    let score = match (act, key) {
        (Act::RaiseScore, _) => ScoreKey::Raise,
        (Act::PickedUp, _) => ScoreKey::PickedUp,
        (Act::NotPlayed, _) => ScoreKey::NotPlayed,
        (Act::ClearScore, _) => ScoreKey::Clear,
        (_, Key::Char(c)) => match ScoreKey::of(c) {
            Some(score) => score,
            None => return,
        },
        _ => return,
    };
    let entered = state.session.round.as_ref().map(|r| r.enter(score, at));
    match entered {
        Some(Ok(event)) => {
            let stays = matches!(score, ScoreKey::Clear | ScoreKey::Raise);
            if happen(state, event, effects) && !stays {
                go_to_next_box(state);
            }
        }
        Some(Err(reason)) => refuse(state, &reason),
        None => {}
    }
}

fn refuse(state: &mut State, reason: &NotPossible) {
    state.notice = Some(Notice::warning(reason.to_string()));
}

/// After a score the focus goes where the round says: the next player, then the next hole.
fn go_to_next_box(state: &mut State) {
    let place = state.session.place();
    if place.position != state.position {
        super::hole::arrive(state, place.position);
    }
    state.player = place.player;
    if state.session.round.as_ref().is_some_and(|r| r.is_full()) {
        state.notice = Some(Notice::word("Every hole has its score. r c closes the round; c shows the card."));
    }
}

/// Undo and redo, both appended like any other change. The focus goes to the box that changed.
pub fn undo(state: &mut State, again: bool, effects: &mut Vec<Effect>) {
    let Some(round) = &state.session.round else { return };
    let event = if again { round.redo() } else { round.undo() };
    let before = boxes(state);
    match event {
        Ok(event) => {
            if happen(state, event, effects) {
                let changed = boxes(state).into_iter().zip(before).find(|(after, before)| after != before);
                if let Some(((place, words), _)) = changed {
                    if place.position != state.position {
                        super::hole::arrive(state, place.position);
                    }
                    state.player = place.player;
                    let hole = state.session.order.get(place.position).copied().unwrap_or(0);
                    let what = if again { "Done again" } else { "Undone" };
                    let words = if words.is_empty() { "no score".to_owned() } else { words };
                    state.notice = Some(Notice::word(format!("{what}: hole {hole} has {words} now")));
                }
            }
        }
        Err(reason) => refuse(state, &reason),
    }
}

fn boxes(state: &State) -> Vec<(Place, String)> {
    let Some(round) = &state.session.round else { return Vec::new() };
    let players = round.opening().players.len();
    (0..players)
        .flat_map(|player| {
            round
                .card_of(player)
                .iter()
                .enumerate()
                .map(move |(position, b)| (Place { player, position }, crate::scoring::HoleScore::to_string(&b.score)))
        })
        .collect()
}

/// Closes the round and asks for its readable card.
pub fn close(state: &mut State, effects: &mut Vec<Effect>) {
    if happen(state, Event::Closed, effects) {
        effects.push(Effect::WriteCard);
    }
}
