//! Entering scores, undo, redo, closing the round.

use super::{Effect, happen};
use crate::round::{CardBox, Detail, Event, NotPossible, Place, RoundState, ScoreKey};
use crate::sheet::LiveCard;
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
    let at = place_of(state);
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
    let given = state.session.round.as_ref().and_then(|r| r.card_box(at)).is_some_and(CardBox::gives_hole);
    if given && score == ScoreKey::Clear {
        happen(state, Event::Detail { place: at, set: Detail::Conceded(false) }, effects);
        return;
    }
    let was = standing(state);
    let entered = state.session.round.as_ref().map(|r| r.enter(score, at));
    match entered {
        Some(Ok(event)) => {
            let stays = matches!(score, ScoreKey::Clear | ScoreKey::Raise);
            if happen(state, event, effects) {
                if stays {
                    say_what_changed(state, was);
                } else {
                    go_to(state, state.session.place(), was);
                }
            }
        }
        Some(Err(reason)) => refuse(state, &reason),
        None => {}
    }
}

fn refuse(state: &mut State, reason: &NotPossible) {
    state.notice = Some(Notice::warning(reason.to_string()));
}

/// The box with the focus: the side's where it has one ball.
fn place_of(state: &State) -> Place {
    Place { player: state.session.holder(state.player), position: state.position }
}

/// After a score the focus goes where the round says: the next player, then the next hole.
fn go_to(state: &mut State, place: Place, was: Was) {
    state.session.follow_round();
    if place.position != state.position {
        super::hole::arrive(state, place.position);
    }
    state.player = place.player;
    say_what_changed(state, was);
}

/// How a match stood before a key.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Was {
    over: bool,
    extra: usize,
}

fn standing(state: &State) -> Was {
    let extra = state.session.round.as_ref().map_or(0, RoundState::extra_holes);
    Was { over: state.derived.live.as_ref().is_some_and(LiveCard::is_won), extra }
}

/// Says that a match is over or goes on, or that the card is full; entry stays possible all the same.
fn say_what_changed(state: &mut State, was: Was) {
    let Some(round) = &state.session.round else { return };
    let extra = round.extra_holes();
    let live = state.session.live(&state.session.cards());
    let full = round.is_full();
    let words = match &live {
        Some(live) if live.is_won() && !was.over => {
            let winner = live.sides.iter().find(|side| side.standing.figure.is_some_and(|f| f > 0));
            let words = winner.map_or_else(|| "tied".to_owned(), |side| format!("{} {}", side.name, side.now));
            let more = if full { "" } else { " The holes left may still be scored." };
            Some(format!("The match is over: {words}. r c closes the round.{more}"))
        }
        Some(_) if extra > was.extra => {
            let hole = state.session.order.last().copied().unwrap_or(0);
            Some(format!("Tied: the match goes on, extra hole {extra} is hole {hole}."))
        }
        _ if full => Some("Every hole has its score. r c closes the round; c shows the card.".to_owned()),
        _ => None,
    };
    if let Some(words) = words {
        state.notice = Some(Notice::word(words));
    }
}

/// Gives the hole away for the side, or takes that back; where a score stands, notes that the last stroke was conceded.
pub fn concede(state: &mut State, effects: &mut Vec<Effect>) {
    let at = place_of(state);
    let was = standing(state);
    let Some(card_box) = state.session.round.as_ref().and_then(|r| r.card_box(at)) else { return };
    let (conceded, scored) = (!card_box.conceded, card_box.score.is_entered());
    if !happen(state, Event::Detail { place: at, set: Detail::Conceded(conceded) }, effects) {
        return;
    }
    if scored || !conceded {
        let words = match (scored, conceded) {
            (true, true) => "Noted: the last stroke was conceded.",
            (true, false) => "Noted: the last stroke was not conceded.",
            (false, _) => "The hole is not given away.",
        };
        state.notice = Some(Notice::word(words));
    } else if let Some(round) = &state.session.round {
        // The hole is decided, so the focus goes on to the next one.
        go_to(state, round.on_the_next_hole(at), was);
    }
}

/// Notes one more penalty stroke in the score just entered; after as many as the score could hold it begins at none.
pub fn penalty(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(round) = &state.session.round else { return };
    let place = round.just_entered().unwrap_or_else(|| place_of(state));
    let Some(card_box) = round.card_box(place) else { return };
    let most = match card_box.score.gross() {
        Some(gross) => gross.saturating_sub(1),
        None => {
            state.notice = Some(Notice::warning(
                "Penalty strokes are noted to a score: enter the score first, penalties included.",
            ));
            return;
        }
    };
    let strokes = if card_box.penalty_strokes >= most { 0 } else { card_box.penalty_strokes + 1 };
    let hole = state.session.order.get(place.position).copied().unwrap_or(0);
    if happen(state, Event::Detail { place, set: Detail::PenaltyStrokes(strokes) }, effects) {
        let words = match strokes {
            0 => format!("Hole {hole}: no penalty strokes noted."),
            1 => format!("Hole {hole}: one of the strokes is a penalty stroke. - notes another."),
            n => format!("Hole {hole}: {n} of the strokes are penalty strokes."),
        };
        state.notice = Some(Notice::word(words));
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
            round.card_of(player).iter().enumerate().map(move |(position, b)| (Place { player, position }, words_of(b)))
        })
        .collect()
}

/// What stands in a box, in words.
fn words_of(card_box: &CardBox) -> String {
    let mut words = vec![card_box.score.to_string()];
    if card_box.gives_hole() {
        words.push("the hole conceded".to_owned());
    } else if card_box.conceded {
        words.push("the last stroke conceded".to_owned());
    }
    if card_box.penalty_strokes > 0 {
        words.push(format!("penalty strokes {}", card_box.penalty_strokes));
    }
    words.retain(|w| !w.is_empty());
    words.join(", ")
}

/// Closes the round and asks for its readable card.
pub fn close(state: &mut State, effects: &mut Vec<Effect>) {
    if happen(state, Event::Closed, effects) {
        effects.push(Effect::WriteCard);
    }
}
