//! A card at the desk: its keys while it is keyed, looked at, ruled on.

use super::desk::{DeskAsk, begin, confirm, digit, explain, moved, row_index, save};
use super::desk_forms as forms;
use super::{Effect, push};
use crate::competition::board::CardRow;
use crate::competition::pad::{Focus, Pad};
use crate::competition::write::file_stem;
use crate::scoring::HoleScore;
use crate::tui::commands::{DeskAct, Page};
use crate::tui::keymap::Key;
use crate::tui::state::{FormKind, Notice, RulingChoice, Screen, State};

pub(super) fn keying(state: &mut State, act: DeskAct, key: Key, effects: &mut Vec<Effect>) {
    let Some(pad) = state.desk.as_mut().and_then(|desk| desk.pad.as_mut()) else { return };
    let changed = match act {
        DeskAct::Score | DeskAct::Zero => {
            let full = pad.at >= pad.scores.len() && pad.focus == Focus::Holes;
            let done = digit(key).is_some_and(|digit| pad.digit(digit));
            if !done {
                let words = if full {
                    "Every hole is keyed: Left goes back to one, Enter to the next card"
                } else {
                    "A score is 1 or more; for 10 press 9, then +"
                };
                state.notice = Some(Notice::warning(words));
            }
            done
        }
        DeskAct::Raise => pad.raise(),
        DeskAct::PickedUp => pad.put(HoleScore::PickedUp),
        DeskAct::NotPlayed => pad.put(HoleScore::NotPlayed),
        DeskAct::TakeBack => pad.back(),
        DeskAct::Left => {
            pad.step(-1);
            false
        }
        DeskAct::Right => {
            pad.step(1);
            false
        }
        DeskAct::WrittenTotal => {
            pad.focus = if pad.focus == Focus::Holes { Focus::WrittenTotal } else { Focus::Holes };
            false
        }
        DeskAct::Marker => {
            pad.marker = next_said(pad.marker);
            true
        }
        DeskAct::Player => {
            pad.player = next_said(pad.player);
            true
        }
        DeskAct::Enter => return next_card(state, effects),
        DeskAct::Find => return forms::find(state),
        _ => false,
    };
    if changed {
        save(state, effects);
    }
}

fn next_said(said: Option<bool>) -> Option<bool> {
    match said {
        None => Some(true),
        Some(true) => Some(false),
        Some(false) => None,
    }
}

/// Goes on to the next card that waits for this keyer, from the one just keyed on and around.
fn next_card(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(desk) = state.desk.as_mut() else { return };
    let Some(pad) = desk.pad.take() else { return };
    let rows = desk.rows();
    let here = row_index(desk, &pad.id, pad.round).unwrap_or(0);
    let next = (1..rows.len())
        .filter_map(|by| rows.get((here + by) % rows.len()))
        .find(|row| desk.waits_for_me(row))
        .map(|row| (row.id.clone(), row.round));
    match next {
        Some((id, round)) if pad.mended_by.is_none() => begin(state, &id, round, None, effects),
        Some(_) => close_pad(state),
        None => {
            close_pad(state);
            state.notice = Some(Notice::word("No card waits for this keyer any more; n names another keyer"));
        }
    }
}

/// Leaves the card being keyed.
pub fn close_pad(state: &mut State) {
    state.screens.retain(|screen| screen.page() != Page::Keying);
    if let Some(desk) = state.desk.as_mut() {
        desk.pad = None;
    }
}

pub(super) fn on_card(state: &mut State, act: DeskAct, key: Key, effects: &mut Vec<Effect>) {
    let Some(desk) = state.desk.as_mut() else { return };
    let Some((id, round, at)) = desk.card.clone() else { return };
    let Some(row) = desk.board.as_ref().and_then(|board| board.card(&id, round).cloned()) else { return };
    let holes = row.sheet.holes.len();
    match act {
        DeskAct::Left | DeskAct::Right => {
            let by = if act == DeskAct::Right { 1 } else { holes.max(1) - 1 };
            desk.card = Some((id, round, (at + by) % holes.max(1)));
        }
        DeskAct::Enter | DeskAct::Score => {
            begin(state, &id, round, None, effects);
            if let Some(pad) = state.desk.as_mut().and_then(|desk| desk.pad.as_mut()) {
                pad.at = if pad.is_whole() { at } else { pad.at };
                pad.focus = Focus::Holes;
                if act == DeskAct::Score && digit(key).is_some_and(|digit| pad.digit(digit)) {
                    save(state, effects);
                }
            }
        }
        DeskAct::Mend => mend(state, &row, at),
        DeskAct::Rule => {
            let Some(hole) = row.sheet.holes.get(at).copied() else { return };
            if row.card.is_none() {
                state.notice = Some(Notice::warning("The card has not come in: key it first"));
                return;
            }
            desk.ruling = Some(RulingChoice { id: id.clone(), round, hole, added: 2, outcomes: Vec::new(), cursor: 0 });
            push(state, Screen::Ruling);
            effects.push(Effect::Desk(DeskAsk::Outcomes(id, round, hole, 2)));
        }
        DeskAct::LateAct => forms::late_act(state),
        DeskAct::Confirm => confirm(state, effects),
        DeskAct::Proof => explain(state, effects),
        DeskAct::Undo => effects.push(Effect::Desk(DeskAsk::TakeBack)),
        _ => {}
    }
}

fn mend(state: &mut State, row: &CardRow, at: usize) {
    let Some(desk) = state.desk.as_mut() else { return };
    let keyer = desk.keyer.clone();
    let stem = file_stem(&keyer);
    let other = desk
        .board
        .as_ref()
        .and_then(|board| board.keyings(row).find(|k| !k.copy && file_stem(&k.keyer) != stem).cloned());
    let Some(other) = other.filter(|_| !desk.is_blind(row)) else {
        state.notice = Some(Notice::warning("There is no keying of somebody else to mend here yet"));
        return;
    };
    if keyer.is_empty() {
        return forms::keyer(state, FormKind::Keyer);
    }
    let mut pad = Pad::new(&row.id, &row.name, row.round, &other.keyer, row.sheet.clone(), &other.scores);
    pad.written = other.written_total.map_or_else(String::new, |total| total.to_string());
    (pad.marker, pad.player) = (other.marker, other.player);
    pad.mended_by = Some(keyer);
    pad.at = at;
    pad.focus = Focus::Holes;
    desk.pad = Some(pad);
    push(state, Screen::Keying);
}

pub(super) fn on_ruling(state: &mut State, act: DeskAct, effects: &mut Vec<Effect>) {
    let Some(ruling) = state.desk.as_mut().and_then(|desk| desk.ruling.as_mut()) else { return };
    match act {
        DeskAct::Raise | DeskAct::Lower => {
            let by: i8 = if act == DeskAct::Raise { 1 } else { -1 };
            ruling.added = ruling.added.saturating_add_signed(by).clamp(1, 20);
            let ask = DeskAsk::Outcomes(ruling.id.clone(), ruling.round, ruling.hole, ruling.added);
            effects.push(Effect::Desk(ask));
        }
        DeskAct::Enter => forms::ruling(state),
        _ => ruling.cursor = moved(ruling.cursor, ruling.outcomes.len(), act),
    }
}
