//! Why a command cannot run now, in words.

use super::Page;
use crate::round::Ability;
use crate::tui::state::State;

pub fn always(_: &State) -> Option<String> {
    None
}

pub fn needs_course(state: &State) -> Option<String> {
    state.session.course.is_none().then(|| "No notebook is open: choose one on the Shelf (s).".to_owned())
}

pub fn needs_score(state: &State) -> Option<String> {
    needs_course(state).or_else(|| state.session.why_no_score())
}

pub fn needs_round(state: &State) -> Option<String> {
    let none = || Some("No score has been entered yet.".to_owned());
    needs_score(state).or_else(|| if state.session.round.is_none() { none() } else { None })
}

pub fn needs_match(state: &State) -> Option<String> {
    let no_match = || "only in a match is a hole or a stroke conceded; x is picked up".to_owned();
    needs_score(state).or_else(|| match &state.session.round {
        Some(round) => round.opening().why_no_concession(),
        None => Some(no_match()),
    })
}

pub fn needs_player(state: &State) -> Option<String> {
    let none = state.session.people.is_empty() && state.page_below() != Page::Shelf;
    none.then(|| "No player is open.".to_owned())
}

pub fn needs_record(state: &State) -> Option<String> {
    let shown = state.derived.record.as_ref().is_some_and(|shown| shown.sheet.is_ok());
    (!shown).then(|| "There is no record to add a score to.".to_owned())
}

pub fn needs_players(state: &State) -> Option<String> {
    (state.session.golfers.len() < 2).then(|| "This round has one player.".to_owned())
}

/// The sheet may be changed; in play under the Rules the wind and the rest stay as forecast.
pub fn day_sheet(state: &State) -> Option<String> {
    needs_course(state).or_else(|| state.session.why_not(Ability::MeasuredWind))
}

pub fn needs_day(state: &State) -> Option<String> {
    state.session.day.is_none().then(|| "There is no day sheet yet: type something on it.".to_owned())
}

pub fn green_read(state: &State) -> Option<String> {
    needs_course(state).or_else(|| state.session.why_not(Ability::GreenRead)).or_else(|| {
        let none = state.current_hole().is_none_or(|h| h.ground.green.is_none());
        none.then(|| "This hole has no green drawn.".to_owned())
    })
}

pub fn needs_undo(state: &State) -> Option<String> {
    if state.page_below() == Page::Day {
        let none = state.day_edits.undo.is_empty();
        return none.then(|| "Nothing has been changed on this sheet yet.".to_owned());
    }
    if state.page_below() == Page::Bag {
        return state.bag_edits.why_no_undo(state);
    }
    if state.writes_course() || state.notes_undo_first() {
        let none = state.course_edits.undo.is_empty();
        return none.then(|| "Nothing has been changed in this notebook yet.".to_owned());
    }
    state.session.why_no_undo()
}

pub fn needs_redo(state: &State) -> Option<String> {
    if state.page_below() == Page::Day {
        let none = state.day_edits.redo.is_empty();
        return none.then(|| "Nothing has been undone on this sheet.".to_owned());
    }
    if state.page_below() == Page::Bag {
        return state.bag_edits.why_no_redo(state);
    }
    if state.writes_course() || state.notes_redo_first() {
        let none = state.course_edits.redo.is_empty();
        return none.then(|| "Nothing has been taken back in this notebook.".to_owned());
    }
    state.session.why_no_redo()
}

pub fn stand_allowed(state: &State) -> Option<String> {
    needs_course(state).or_else(|| state.session.why_not(Ability::StandDistances))
}

pub fn live_plan(state: &State) -> Option<String> {
    needs_course(state).or_else(|| state.session.why_not(Ability::LivePlan)).or_else(|| {
        let frozen = state.session.frozen.is_some() && state.session.round.is_some();
        frozen.then(|| "The plan of this round is frozen.".to_owned())
    })
}

pub fn needs_problems(state: &State) -> Option<String> {
    state.session.problems.is_empty().then(|| "The files that are open have no problems.".to_owned())
}

pub fn needs_open_round(state: &State) -> Option<String> {
    state.session.why_no_close()
}

pub fn needs_person(state: &State) -> Option<String> {
    state.session.people.is_empty().then(|| "No player is open: choose one on the Shelf (s).".to_owned())
}

pub fn needs_player_file(state: &State) -> Option<String> {
    needs_person(state).or_else(|| {
        let none = state.session.player_file(state.player).is_none();
        none.then(|| "This player has no file; `marram new player NAME` makes yours.".to_owned())
    })
}

pub fn needs_cards(state: &State) -> Option<String> {
    let elsewhere = state.page_below() == Page::Desk
        && state.desk.as_ref().is_some_and(|desk| desk.part != crate::tui::state::Part::Cards);
    needs_desk(state).or_else(|| elsewhere.then(|| "a digit keys a card: go to the cards with Tab".to_owned()))
}

/// Shots are recorded for afterwards in every round (Rule 4.3a allows it), also in one that is closed: its log keeps that it was
/// opened for them and closed again.
pub fn can_log(state: &State) -> Option<String> {
    let reads_only = || state.session.read_only.clone();
    needs_course(state).or_else(reads_only).or_else(|| {
        let one_ball = state.session.round.as_ref().is_some_and(|r| r.opening().one_ball());
        one_ball.then(|| "Partners share one ball here, so no player's shots are logged.".to_owned())
    })
}

pub fn can_review(state: &State) -> Option<String> {
    needs_course(state)
}

pub fn has_proposal(state: &State) -> Option<String> {
    state.proposal().is_none().then(|| "No proposal is under the cursor; 3 shows what was learnt.".to_owned())
}

pub fn own_layer(state: &State) -> Option<String> {
    needs_course(state).or_else(|| {
        let nobody = state.layer_person().is_none();
        nobody.then(|| "a layer belongs to a player; `marram new player NAME` makes yours.".to_owned())
    })
}

/// Drawing shows the falls of the green and changes the ground that distances rest on: before a round, or after it.
pub fn drawing_allowed(state: &State) -> Option<String> {
    needs_course(state).or_else(|| state.session.why_not(Ability::GreenContours))
}

pub fn needs_desk(state: &State) -> Option<String> {
    let none = state.desk.as_ref().is_none_or(|desk| desk.board.is_none() && desk.setup.is_empty());
    none.then(|| "No competition is open: N makes one, the Shelf (s) lists those there are.".to_owned())
}

pub fn book_allowed(state: &State) -> Option<String> {
    needs_course(state)
        .or_else(|| needs_person(state))
        .or_else(|| state.book.is_some().then(|| "The book is being made.".to_owned()))
}

pub fn needs_layer(state: &State) -> Option<String> {
    needs_course(state).or_else(|| {
        let none = state.session.layers.is_empty();
        none.then(|| "This notebook has no layer; n o writes into your own.".to_owned())
    })
}
