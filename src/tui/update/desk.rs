//! The Desk: moving about, keying a card, taking over what the desk's folder tells.

use super::desk_forms as forms;
use super::{Effect, push};
use crate::competition::effect::Outcome;
use crate::competition::pad::{Focus, Pad};
use crate::competition::setup_rows::SetupRow;
use crate::competition::values::{Change, Ruling, What};
use crate::scoring::HoleScore;
use crate::shelf::{NewEntrant, Seen};
use crate::tui::commands::{DeskAct, Page};
use crate::tui::keymap::Key;
use crate::tui::state::{Desk, FormKind, Notice, Part, RulingChoice, Screen, State};
use std::path::PathBuf;

/// What the desk asks of the edge.
#[derive(Clone, Debug, PartialEq)]
pub enum DeskAsk {
    /// Open a competition; without a path the one open last, else the only one on the shelf.
    Open(Option<PathBuf>),
    /// Make a new competition of this name and open it.
    New(String),
    /// Save a keying.
    Key(Box<Pad>),
    /// Write a ruling; the edge adds the time.
    Rule(Box<Ruling>),
    /// Write a late act; the edge adds the time.
    Change(Box<Change>),
    /// Take the last act back.
    TakeBack,
    /// Work the outcomes of a ruling out.
    Outcomes(String, usize, u8, u8),
    /// Explain a line.
    Explain(String),
    /// The start sheet.
    StartSheet,
    /// Take a list over as the field.
    Import(PathBuf),
    /// Add an entry.
    Enter(NewEntrant),
    /// Change a value of the set-up, or add an event.
    SetUp(Option<Box<SetupRow>>, String),
    /// Write the results, with the reason for another.
    Close(Option<String>),
}

/// What the edge tells the desk.
#[derive(Clone, Debug)]
pub enum DeskNews {
    /// A competition is open: its folder as shown.
    Opened(String),
    /// There is none to open, and why.
    NotOpened(String),
    /// The folder was read.
    Seen(Box<Seen>),
    /// The folder cannot be read now.
    Gone(String),
    /// Keyings were saved: how many still wait, why, and a word.
    Kept(usize, Option<String>, Option<String>),
    /// Something went as asked.
    Said(String),
    /// What the open form asked for was refused, and why; or there is no form, and it is told.
    Refused(Vec<String>),
    /// What each lawful ruling would do.
    Outcomes(String, u8, u8, Vec<Outcome>),
    /// A text to show.
    Text(String, String),
    /// Closing needs a reason.
    NeedsReason(String),
}

/// Takes news over.
pub fn news(state: &mut State, news: DeskNews) {
    if let DeskNews::Opened(folder) = news {
        let keyer = state.desk.as_ref().map(|desk| desk.keyer.clone()).unwrap_or_default();
        state.desk = Some(Box::new(Desk { folder, keyer, ..Desk::default() }));
        push(state, Screen::Desk);
        return;
    }
    if let DeskNews::NotOpened(words) = news {
        push(state, Screen::Desk);
        state.notice = Some(Notice::warning(words));
        return;
    }
    let Some(desk) = state.desk.as_mut() else { return };
    match news {
        DeskNews::Opened(_) | DeskNews::NotOpened(_) => {}
        DeskNews::Seen(seen) => {
            let first = desk.board.is_none();
            desk.take(*seen);
            if first && desk.board.is_none() {
                desk.part = Part::Problems;
            } else if first && desk.board.as_ref().is_some_and(|board| board.cards.is_empty()) {
                desk.part = Part::Field;
            }
        }
        DeskNews::Gone(words) => desk.gone = Some(words),
        DeskNews::Kept(waiting, trouble, words) => {
            desk.waiting = waiting;
            desk.trouble = trouble;
            if let Some(words) = words {
                state.notice = Some(Notice::warning(words));
            }
        }
        DeskNews::Said(words) => {
            desk.form = None;
            if desk.ruling.take().is_some() && state.page() == Page::Ruling {
                state.screens.pop();
            }
            state.notice = Some(Notice::word(words));
        }
        DeskNews::Refused(words) => match desk.form.as_mut() {
            Some(form) => form.refused = words,
            None => state.notice = Some(Notice::failure(words.join("; "))),
        },
        DeskNews::Outcomes(id, hole, added, outcomes) => {
            if let Some(ruling) = desk.ruling.as_mut()
                && (ruling.id.as_str(), ruling.hole, ruling.added) == (id.as_str(), hole, added)
            {
                ruling.cursor = ruling.cursor.min(outcomes.len().saturating_sub(1));
                ruling.outcomes = outcomes;
            }
        }
        DeskNews::Text(title, text) => {
            desk.text = Some((title, text.lines().map(str::to_owned).collect(), 0));
            push(state, Screen::DeskText);
        }
        DeskNews::NeedsReason(words) => {
            let field = crate::tui::state::DeskField::new("why", "the reason is printed with the next result", "");
            let title = format!("{words}. Another result needs its reason");
            desk.form = Some(crate::tui::state::DeskForm::new(FormKind::Reason, title, vec![field]));
        }
    }
}

/// Opens the Desk page.
pub fn open(state: &mut State, effects: &mut Vec<Effect>) {
    if state.desk.is_some() {
        push(state, Screen::Desk);
    } else {
        effects.push(Effect::Desk(DeskAsk::Open(None)));
    }
}

/// Lets a command of the desk happen.
pub fn run(state: &mut State, act: DeskAct, key: Key, effects: &mut Vec<Effect>) {
    match act {
        DeskAct::Open => return open(state, effects),
        DeskAct::New => return forms::new_competition(state),
        _ => {}
    }
    match state.page_below() {
        Page::Keying => keying(state, act, key, effects),
        Page::DeskCard => on_card(state, act, key, effects),
        Page::Ruling => on_ruling(state, act, effects),
        Page::DeskText => {
            if let Some((_, lines, scroll)) = state.desk.as_mut().and_then(|desk| desk.text.as_mut()) {
                *scroll = moved(*scroll, lines.len(), act);
            }
        }
        _ => on_desk(state, act, key, effects),
    }
}

fn moved(at: usize, length: usize, act: DeskAct) -> usize {
    let last = length.saturating_sub(1);
    match act {
        DeskAct::Up => at.saturating_sub(1),
        DeskAct::Down => (at + 1).min(last),
        DeskAct::PageUp => at.saturating_sub(15),
        DeskAct::PageDown => (at + 15).min(last),
        DeskAct::First => 0,
        DeskAct::Last => last,
        _ => at,
    }
}

fn on_desk(state: &mut State, act: DeskAct, key: Key, effects: &mut Vec<Effect>) {
    let Some(desk) = state.desk.as_mut() else { return };
    let part = desk.part;
    match act {
        DeskAct::NextPart | DeskAct::PreviousPart => {
            let by = if act == DeskAct::NextPart { 1 } else { Part::ALL.len() - 1 };
            desk.part = Part::ALL.get((part as usize + by) % Part::ALL.len()).copied().unwrap_or_default();
        }
        DeskAct::Left | DeskAct::Right if part == Part::Live => {
            let orders = desk.board.as_ref().map_or(0, |board| board.events.len()).max(1);
            let by = if act == DeskAct::Right { 1 } else { orders - 1 };
            desk.order = (desk.order + by) % orders;
            if let Some(cursor) = desk.cursors.get_mut(Part::Live as usize) {
                *cursor = 0;
            }
        }
        DeskAct::Up | DeskAct::Down | DeskAct::PageUp | DeskAct::PageDown | DeskAct::First | DeskAct::Last => {
            let length = desk.length(part);
            if let Some(cursor) = desk.cursors.get_mut(part as usize) {
                *cursor = moved(*cursor, length, act);
            }
        }
        DeskAct::Score => match (part, digit(key)) {
            (Part::Cards, Some(digit)) => key_row(state, Some(digit), effects),
            _ => state.notice = Some(Notice::warning("A digit keys a card: go to the cards with Tab")),
        },
        DeskAct::Enter => enter(state, effects),
        DeskAct::View => view_card(state),
        DeskAct::Find => forms::find(state),
        DeskAct::Rule => {
            view_card(state);
            if state.page() == Page::DeskCard {
                state.notice = Some(Notice::word("Go to the hole with Left and Right, then r"));
            }
        }
        DeskAct::LateAct => forms::late_act(state),
        DeskAct::Confirm => confirm(state, effects),
        DeskAct::In => mark_in(state, effects),
        DeskAct::Proof => explain(state, effects),
        DeskAct::Draw => forms::draw(state),
        DeskAct::Import => forms::import(state),
        DeskAct::EnterEntrant => forms::entrant(state),
        DeskAct::AddEvent => forms::event(state),
        DeskAct::StartSheet => effects.push(Effect::Desk(DeskAsk::StartSheet)),
        DeskAct::Close => effects.push(Effect::Desk(DeskAsk::Close(None))),
        DeskAct::Keyer => forms::keyer(state, FormKind::Keyer),
        DeskAct::Undo => effects.push(Effect::Desk(DeskAsk::TakeBack)),
        _ => {}
    }
}

fn digit(key: Key) -> Option<u8> {
    match key {
        Key::Char(c) => c.to_digit(10).and_then(|d| u8::try_from(d).ok()),
        _ => None,
    }
}

fn enter(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(desk) = state.desk.as_mut() else { return };
    match desk.part {
        Part::Cards => {
            let waits = desk
                .row()
                .is_some_and(|row| desk.keyer.is_empty() && row.whole_keyings() == 0 || desk.waits_for_me(row));
            if waits { key_row(state, None, effects) } else { view_card(state) }
        }
        Part::Live | Part::Field => explain(state, effects),
        Part::Acts | Part::Problems => view_card(state),
        Part::SetUp => forms::value(state),
        Part::Results => {}
    }
}

fn explain(state: &mut State, effects: &mut Vec<Effect>) {
    let id = match (state.page(), state.desk.as_ref()) {
        (Page::DeskCard, Some(desk)) => desk.card.as_ref().map(|(id, ..)| id.clone()),
        (_, Some(desk)) => desk.id_here(),
        _ => None,
    };
    match id {
        Some(id) => effects.push(Effect::Desk(DeskAsk::Explain(id))),
        None => state.notice = Some(Notice::warning("The cursor is on nobody")),
    }
}

fn view_card(state: &mut State) {
    let Some(desk) = state.desk.as_mut() else { return };
    let Some(id) = desk.id_here() else {
        state.notice = Some(Notice::warning("The cursor is on no card"));
        return;
    };
    let round = if desk.part == Part::Cards { desk.row().map_or(0, |row| row.round) } else { 0 };
    let Some(row) = desk.board.as_ref().and_then(|board| board.card(&id, round).cloned()) else {
        state.notice = Some(Notice::warning(format!("{id} has no card")));
        return;
    };
    let hole = row.card.as_ref().and_then(|card| card.disagree.first().copied()).unwrap_or(0);
    desk.card = Some((id, round, hole));
    push(state, Screen::DeskCard);
}

fn key_row(state: &mut State, digit: Option<u8>, effects: &mut Vec<Effect>) {
    let Some(row) = state.desk.as_ref().and_then(|desk| desk.row()) else {
        state.notice = Some(Notice::warning("There is no card: read a list with F, or enter a player with E"));
        return;
    };
    let (id, round) = (row.id.clone(), row.round);
    begin(state, &id, round, digit, effects);
}

/// Begins to key a card, or goes on with one's own keying of it.
pub fn begin(state: &mut State, id: &str, round: usize, digit: Option<u8>, effects: &mut Vec<Effect>) {
    let Some(desk) = state.desk.as_mut() else { return };
    if desk.keyer.is_empty() {
        return forms::keyer(state, FormKind::KeyerThen(id.to_owned(), round, digit));
    }
    let Some(row) = desk.board.as_ref().and_then(|board| board.card(id, round).cloned()) else { return };
    if let Some(status) = row.without_place {
        let words = format!("{} is entered as {}; a late act (a) takes that back", row.name, status.words());
        state.notice = Some(Notice::warning(words));
        return;
    }
    let keyer = desk.keyer.clone();
    let (before, total, said) = own_keying(desk, &row, &keyer);
    let mut pad = Pad::new(id, &row.name, round, &keyer, row.sheet.clone(), &before);
    pad.written = total;
    (pad.marker, pad.player) = said;
    if let Some(at) = row_index(desk, id, round)
        && let Some(cursor) = desk.cursors.first_mut()
    {
        *cursor = at;
    }
    let changed = digit.is_some_and(|digit| pad.digit(digit));
    desk.pad = Some(pad);
    push(state, Screen::Keying);
    if changed {
        save(state, effects);
    }
}

type Before = (Vec<HoleScore>, String, (Option<bool>, Option<bool>));

fn own_keying(desk: &Desk, row: &crate::competition::board::CardRow, keyer: &str) -> Before {
    let own = desk.board.as_ref().and_then(|board| {
        let stem = crate::competition::write::file_stem(keyer);
        let mine =
            |k: &&crate::competition::values::Keying| !k.copy && crate::competition::write::file_stem(&k.keyer) == stem;
        board.keyings(row).find(mine).cloned()
    });
    own.map_or_else(Default::default, |k| {
        let total = k.written_total.map_or_else(String::new, |total| total.to_string());
        (k.scores, total, (k.marker, k.player))
    })
}

fn row_index(desk: &Desk, id: &str, round: usize) -> Option<usize> {
    desk.rows().iter().position(|row| row.id == id && row.round == round)
}

fn save(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(desk) = state.desk.as_mut() else { return };
    if let Some(pad) = &desk.pad {
        desk.waiting = desk.waiting.max(1);
        effects.push(Effect::Desk(DeskAsk::Key(Box::new(pad.clone()))));
    }
}

fn keying(state: &mut State, act: DeskAct, key: Key, effects: &mut Vec<Effect>) {
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

fn on_card(state: &mut State, act: DeskAct, key: Key, effects: &mut Vec<Effect>) {
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

fn mend(state: &mut State, row: &crate::competition::board::CardRow, at: usize) {
    let Some(desk) = state.desk.as_mut() else { return };
    let keyer = desk.keyer.clone();
    let stem = crate::competition::write::file_stem(&keyer);
    let other = desk.board.as_ref().and_then(|board| {
        board.keyings(row).find(|k| !k.copy && crate::competition::write::file_stem(&k.keyer) != stem).cloned()
    });
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

fn on_ruling(state: &mut State, act: DeskAct, effects: &mut Vec<Effect>) {
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

/// The Committee confirms the card, recorded as an act with the time.
fn confirm(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(desk) = state.desk.as_ref() else { return };
    let id = if state.page() == Page::DeskCard { desk.card.as_ref().map(|c| c.0.clone()) } else { desk.id_here() };
    let Some(id) = id else { return };
    let came_in = desk.board.as_ref().is_some_and(|b| b.cards.iter().any(|row| row.id == id && row.card.is_some()));
    if !came_in {
        state.notice = Some(Notice::warning("The card has not come in yet"));
        return;
    }
    let by = if desk.by.is_empty() { "Committee".to_owned() } else { desk.by.clone() };
    let change = forms::change(Some(id), What::Confirmed, "looked at", &by);
    effects.push(Effect::Desk(DeskAsk::Change(Box::new(change))));
}

/// A keying with nothing in its boxes says that the card has come in.
fn mark_in(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(desk) = state.desk.as_mut().filter(|desk| desk.part == Part::Cards) else { return };
    if desk.keyer.is_empty() {
        return forms::keyer(state, FormKind::Keyer);
    }
    let Some(row) = desk.row().cloned() else { return };
    if row.card.is_some() {
        state.notice = Some(Notice::word(format!("{} is {} already", row.name, row.words())));
        return;
    }
    let pad = Pad::new(&row.id, &row.name, row.round, &desk.keyer, row.sheet.clone(), &[]);
    effects.push(Effect::Desk(DeskAsk::Key(Box::new(pad))));
    if let Some(cursor) = desk.cursors.first_mut() {
        *cursor += 1;
    }
    let length = desk.length(Part::Cards);
    if let Some(cursor) = desk.cursors.first_mut() {
        *cursor = (*cursor).min(length.saturating_sub(1));
    }
}
