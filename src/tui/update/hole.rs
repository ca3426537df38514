//! The Hole page: from hole to hole, and the stand.

use crate::course::Hole;
use crate::ground::stops::{self, Matter};
use crate::sheet::HoleSheet;
use crate::tui::state::{Notice, State};
use crate::units::{Across, Along};

/// Goes `by` holes on, staying on the card.
pub fn step(state: &mut State, by: isize) {
    let last = state.session.order.len().saturating_sub(1);
    let to = state.position.saturating_add_signed(by).min(last);
    if to == state.position {
        let end = if by > 0 { "This is the last hole." } else { "This is the first hole." };
        state.notice = Some(Notice::word(end));
    } else {
        arrive(state, to);
    }
}

/// Arrives on the tee of the hole at `position`.
pub fn arrive(state: &mut State, position: usize) {
    state.position = position;
    state.hole.stand = None;
    state.hole.more = 0;
    state.hole.club = None;
}

/// Where the stand is: the spot walked to, else the tee of `sheet`.
pub fn spot_of(state: &State, sheet: &HoleSheet) -> Option<(Along, Across)> {
    if let Some(stand) = state.hole.stand {
        return Some(stand);
    }
    let hole = state.current_hole()?;
    hole.tee(&sheet.tee).or_else(|| hole.tees.first()).map(|t| (t.at, t.across))
}

fn spot(state: &State) -> Option<(Along, Across)> {
    spot_of(state, state.derived.hole.as_ref()?)
}

/// Walks the stand by so many of the shown units, staying on the sheet of the drawing.
pub fn walk(state: &mut State, along: f64, across: f64) {
    let unit = state.shown_units().in_yards();
    let Some((at, beside)) = spot(state) else {
        state.notice = Some(Notice::warning("This hole has no tee to walk from."));
        return;
    };
    let Some(hole) = state.current_hole() else { return };
    let last = hole.ground.length.0 + 60.0;
    let first = hole.tees.iter().map(|t| t.at.0).fold(0.0, f64::min) - 20.0;
    let to = ((at.0 + along * unit).clamp(first, last), (beside.0 + across * unit).clamp(-150.0, 150.0));
    // A sum of steps there and back lands on the same spot, not a hair beside it.
    let tidy = |v: f64| (v * 1024.0).round() / 1024.0;
    state.hole.stand = Some((Along(tidy(to.0)), Across(tidy(to.1))));
}

/// Walks to the next or the previous place along the hole where something begins or ends.
pub fn to_thing(state: &mut State, ahead: bool) {
    let Some((at, beside)) = spot(state) else { return };
    let Some(hole) = state.current_hole() else { return };
    let stops = &state.derived.stops;
    let found = if ahead { stops::next(stops, at) } else { stops::previous(stops, at) };
    match found {
        Some(stop) => {
            let words = matter_words(&stop.what, hole);
            let to = stop.at;
            state.hole.stand = Some((to, beside));
            state.notice = Some(Notice::word(words));
        }
        None => {
            let end = if ahead { "Nothing further on." } else { "Nothing further back." };
            state.notice = Some(Notice::word(end));
        }
    }
}

/// What a stop is, in words.
fn matter_words(what: &Matter, hole: &Hole) -> String {
    let feature = |i: &usize| hole.ground.features.get(*i).map_or("something", |f| f.name.as_str());
    match what {
        Matter::Tee(i) => format!("the {} tee", hole.ground.tees.get(*i).map_or("next", |t| t.name.as_str())),
        Matter::FairwayBegins => "the fairway begins".to_owned(),
        Matter::FairwayEnds => "the fairway ends".to_owned(),
        Matter::Pinch => "the fairway pinches".to_owned(),
        Matter::Bend(i) => {
            let turn = hole.ground.bends.get(*i).map_or(0.0, |b| b.turn_deg);
            format!("the hole turns {:.0} degrees {}", turn.abs(), if turn > 0.0 { "right" } else { "left" })
        }
        Matter::DangerBegins(i) => format!("{} begins", feature(i)),
        Matter::DangerEnds(i) => format!("{} ends", feature(i)),
        Matter::Front => "the front of the green".to_owned(),
        Matter::Middle => "the middle of the green".to_owned(),
        Matter::Back => "the back of the green".to_owned(),
    }
}

/// Turns to the lines that did not fit, and from the last back to the first.
pub fn turn_page(state: &mut State) {
    let (total, room) = crate::tui::view::hole::text_extent(state);
    let next = state.hole.more + room.max(1);
    state.hole.more = if next < total { next } else { 0 };
}

/// Looks from the next set of tees of this hole; after the last, from the player's own again.
pub fn look_from_next_tee(state: &mut State) {
    let Some(hole) = state.current_hole() else { return };
    let names: Vec<String> = hole.tees.iter().map(|t| t.name.clone()).collect();
    let own = state.session.golfers.get(state.player).map(|g| g.tee.clone()).unwrap_or_default();
    let now = state.hole.tee.clone().unwrap_or_else(|| own.clone());
    let next = names.iter().position(|n| *n == now).map_or(0, |i| (i + 1) % names.len().max(1));
    let Some(next) = names.get(next).cloned() else { return };
    state.hole.stand = None;
    state.notice = Some(if next == own {
        Notice::word(format!("From your own tees, {own}."))
    } else {
        Notice::word(format!("As from the {next} tees; the round keeps {own}. Esc goes back."))
    });
    state.hole.tee = (next != own).then_some(next);
}
