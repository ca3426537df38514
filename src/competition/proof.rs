//! Proof of place: any line of a result explains itself, from the scores that were keyed to what settled the tie.

use super::cards::{Card, ruling_words};
use super::handicaps::Ground;
use super::result::{EventResult, Line};
use super::units::{Unit, units};
use super::values::{Change, Entrant, What};
use super::words::hole_words;
use super::{Competition, Totals, show};
use crate::handicap::{Allowance, playing_working};
use crate::scoring::HoleScore;
use crate::units::tenths::whole_handicap_text;
use std::collections::HashSet;

/// Everything that can be said of an entrant or side: handicap, card, keyings, rulings, late acts, places and why.
/// `who` is an id, or a name in any case; `None` when there is no such line.
pub fn explain(competition: &Competition, totals: &Totals<'_>, who: &str) -> Option<String> {
    let mut out = String::new();
    let mut told: HashSet<String> = HashSet::new();
    for result in &totals.events {
        for (at, line) in result.lines.iter().enumerate() {
            let own = line.id == who || line.name.eq_ignore_ascii_case(who);
            let member = line.players.iter().any(|p| p.id == who || p.name.eq_ignore_ascii_case(who));
            if !own && !member {
                continue;
            }
            let one_ball = result.play.is_some_and(|play| play.one_ball());
            let ids: Vec<&str> =
                if one_ball { vec![line.id.as_str()] } else { line.players.iter().map(|p| p.id.as_str()).collect() };
            for id in ids {
                if told.insert(id.to_owned()) {
                    card_of(&mut out, competition, totals, id);
                }
            }
            place_of(&mut out, competition, totals, result, at, line);
        }
    }
    (!out.is_empty()).then_some(out)
}

fn card_of(out: &mut String, competition: &Competition, totals: &Totals<'_>, id: &str) {
    let entrant = totals.late.field.iter().find(|entrant| entrant.id == id);
    match entrant {
        Some(entrant) => out.push_str(&format!("{} ({id}), {} ratings\n", entrant.name, entrant.card.whose())),
        None => out.push_str(&format!("side {id}\n")),
    }
    if let Some(entrant) = entrant {
        let as_of = competition.setup.as_of.as_deref().map_or_else(String::new, |day| format!(" as of {day}"));
        match entrant.index {
            Some(index) => out.push_str(&format!("  Handicap Index {index}{as_of}\n")),
            None => out.push_str("  no Handicap Index\n"),
        }
        if let Some(status) = entrant.status {
            out.push_str(&format!("  {}: {}\n", status.code(), status.words()));
        }
    }
    for at in &totals.late.order {
        if let Some(change) = competition.changes.get(*at).filter(|change| change.id.as_deref() == Some(id)) {
            out.push_str(&format!("  {}\n", change_words(competition, change)));
        }
    }
    for (round, set_up) in competition.setup.rounds.iter().enumerate() {
        match totals.cards.get(id, round) {
            Some(card) => round_of(out, competition, card, round, &set_up.holes),
            None => out.push_str(&format!("  round {}, {}: out\n", round + 1, set_up.date)),
        }
    }
}

fn round_of(out: &mut String, competition: &Competition, card: &Card, round: usize, holes: &[u8]) {
    out.push_str(&format!("  round {}: {}\n", round + 1, card.status.words()));
    out.push_str(&row("hole", holes.iter().map(u8::to_string)));
    for at in &card.keyings {
        if let Some(keying) = competition.keyings.get(*at) {
            let when = keying.at.as_deref().map_or_else(String::new, |at| format!(" {at}"));
            out.push_str(&row("keyed", keying.scores.iter().map(shown)));
            let mended = keying.mended_by.as_deref().map_or_else(String::new, |by| format!(", mended by {by}"));
            out.push_str(&format!("      by {}{when}{mended} ({})\n", keying.keyer, keying.file));
        }
    }
    if card.keyings.is_empty() {
        out.push_str(&row("field.csv", card.returned.iter().map(shown)));
    }
    for place in &card.disagree {
        out.push_str(&format!("    keyings disagree on hole {}\n", holes.get(*place).copied().unwrap_or_default()));
    }
    for ruling in card.rulings.iter().filter_map(|at| competition.rulings.get(*at)) {
        out.push_str(&format!("    ruling: {}\n", ruling_words(ruling)));
    }
    if card.stands != card.returned {
        out.push_str(&row("stands", card.stands.iter().map(shown)));
    }
}

fn row(head: &str, cells: impl Iterator<Item = String>) -> String {
    let mut line = format!("    {head:<10}");
    for cell in cells {
        line.push_str(&format!(" {cell:>2}"));
    }
    format!("{}\n", line.trim_end())
}

fn shown(score: &HoleScore) -> String {
    if score.is_entered() { score.to_string() } else { "_".to_owned() }
}

/// A late act in one line, with the cards it touches.
pub fn change_words(competition: &Competition, change: &Change) -> String {
    let from = change.from.as_deref().map_or_else(String::new, |from| format!(" from {from}"));
    let why = change.why.as_deref().map_or_else(String::new, |why| format!(": {why}"));
    let by = change.by.as_deref().unwrap_or("the Committee");
    let witness = change.witness.as_deref().map_or_else(String::new, |w| format!(", witness {w}"));
    let touches = touched(competition, change);
    let touches = if touches.is_empty() { String::new() } else { format!("; touches {}", touches.join(", ")) };
    format!("{} {}{from} to {}{why} ({by}{witness}){touches}", change.at, change.what.words(), change.what.to())
}

/// The cards that a late act touches: the entrant's, and those of sides that play off that entrant's handicap.
pub fn touched(competition: &Competition, change: &Change) -> Vec<String> {
    let Some(id) = &change.id else { return Vec::new() };
    let handicap = matches!(change.what, What::Index(_) | What::PlayingHandicap(_) | What::Tee(_) | What::Status(_));
    let mut cards = vec![id.clone()];
    if handicap {
        for side in competition.sides.values().flatten().filter(|side| side.players.contains(id)) {
            if !cards.contains(&side.id) {
                cards.push(side.id.clone());
            }
        }
    }
    cards
}

fn place_of(
    out: &mut String,
    competition: &Competition,
    totals: &Totals<'_>,
    result: &EventResult,
    at: usize,
    line: &Line,
) {
    let place = match (line.place, line.status, &line.unfinished) {
        (Some(place), ..) if line.tied => format!("shares place {place}"),
        (Some(place), ..) => format!("place {place}"),
        (None, Some(status), _) => status.words().to_owned(),
        (None, None, Some(why)) => format!("no place yet: {why}"),
        (None, None, None) => "no place yet".to_owned(),
    };
    out.push_str(&format!("  {}: {place}\n", result.title()));
    let Some(event) = competition.setup.events.get(result.event) else { return };
    out.push_str(&format!("    {}\n", show::terms_of(competition, event)));
    if result.play.is_some() {
        handicap_of(out, competition, totals, result, line);
    }
    let figures: Vec<String> = [("gross", line.gross), ("net", line.net), ("points", line.points)]
        .into_iter()
        .filter_map(|(name, value)| value.map(|value| format!("{name} {value}")))
        .collect();
    if !figures.is_empty() {
        out.push_str(&format!("    {}\n", figures.join(", ")));
    }
    if line.spans.is_empty() {
        return;
    }
    let mut neighbours: Vec<&Line> = Vec::new();
    neighbours.extend(at.checked_sub(1).and_then(|before| result.lines.get(before)));
    neighbours.push(line);
    neighbours.extend(result.lines.get(at + 1));
    for other in neighbours.into_iter().filter(|other| !other.spans.is_empty() && other.result == line.result) {
        let spans: Vec<String> = other.spans.iter().map(|span| format!("{} {}", span.span, span.figure)).collect();
        let decided = other.decided_by.map_or_else(String::new, |by| format!(" → {by}"));
        out.push_str(&format!("    tie: {}: {}{decided}\n", other.name, spans.join(", ")));
    }
    for at in &totals.late.order {
        let Some(change) = competition.changes.get(*at) else { continue };
        let named = matches!(&change.what, What::Lot(ids) | What::PlayOff(ids) if ids.contains(&line.id));
        if named && change.event.as_deref().is_some_and(|name| name.eq_ignore_ascii_case(&event.name)) {
            out.push_str(&format!("    {}\n", change_words(competition, change)));
        }
    }
}

fn handicap_of(out: &mut String, competition: &Competition, totals: &Totals<'_>, result: &EventResult, line: &Line) {
    let Some(event) = competition.setup.events.get(result.event) else { return };
    let made = units(competition, event, &totals.late.field, &mut Vec::new(), &mut HashSet::new());
    let Some(unit) = made.list.iter().find(|unit| unit.id == line.id) else { return };
    for (ball, player) in unit.balls.iter().flatten().zip(players(unit, &totals.late.field)) {
        let ground = made.ground(0, ball.ground);
        if let (Some(entrant), Some(ground)) = (player, ground)
            && !event.play.one_ball()
        {
            working(out, competition, event, entrant, ground, ball.handicap.par_difference, ball.handicap.given);
        }
        if let Some(playing) = ball.handicap.playing {
            let who = if unit.players.len() > 1 && !event.play.one_ball() {
                player.map_or("", |e| e.name.as_str())
            } else {
                ""
            };
            let strokes = ball.handicap.by_hole.iter().map(i32::to_string);
            out.push_str(
                &format!("    Playing Handicap {} {who}\n", whole_handicap_text(playing)).replace(" \n", "\n"),
            );
            out.push_str(&row("strokes", strokes));
        }
    }
}

fn players<'f>(unit: &Unit, field: &'f [Entrant]) -> Vec<Option<&'f Entrant>> {
    unit.players.iter().map(|at| field.get(*at)).collect()
}

fn working(
    out: &mut String,
    competition: &Competition,
    event: &super::setup::Event,
    entrant: &Entrant,
    ground: &Ground,
    par_difference: i32,
    given: bool,
) {
    let base = ground.base(event);
    match (entrant.index, &base.rating, &event.allowance) {
        _ if given => out.push_str("    the Playing Handicap was given with the entry\n"),
        _ if entrant.course_handicap.is_some() => out.push_str("    the Course Handicap was given with the entry\n"),
        (Some(index), Some(rating), Allowance::Each(percent)) => {
            let rules = &competition.setup.rules;
            let lines = playing_working(index, rating, *percent, par_difference, rules);
            let words: Vec<String> = lines.iter().map(ToString::to_string).collect();
            out.push_str(&format!("    {} tees, {}: {}\n", base.tee, hole_words_of(event), words.join("; ")));
        }
        _ => {}
    }
}

fn hole_words_of(event: &super::setup::Event) -> String {
    event.holes.as_ref().map_or_else(|| "whole round".to_owned(), |holes| hole_words(holes))
}

/// Every card with its group and status, for the desk.
pub fn card_list(competition: &Competition, totals: &Totals<'_>) -> String {
    let mut rows: Vec<(String, String, &str, &str, String)> = Vec::new();
    for (round, set_up) in competition.setup.rounds.iter().enumerate() {
        for entrant in &totals.late.field {
            let card = totals.cards.get(&entrant.id, round);
            let status = match (entrant.status, card) {
                (Some(status), _) => status.words(),
                (None, Some(card)) => card.status.words(),
                (None, None) => "out",
            };
            let keyers: Vec<&str> = card
                .into_iter()
                .flat_map(|card| &card.keyings)
                .filter_map(|at| competition.keyings.get(*at))
                .map(|keying| keying.keyer.as_str())
                .collect();
            let group = entrant.group.clone().unwrap_or_default();
            let when = [entrant.start_time.clone(), entrant.start_hole.map(|hole| format!("hole {hole}"))];
            let start: Vec<String> = when.into_iter().flatten().collect();
            let who = if keyers.is_empty() { String::new() } else { format!("  by {}", keyers.join(", ")) };
            rows.push((
                format!("{}|{:>6}|{}", set_up.date, group, start.join(" ")),
                entrant.name.clone(),
                &entrant.id,
                status,
                who,
            ));
        }
    }
    rows.sort();
    let mut out = String::new();
    let mut last = String::new();
    for (head, name, id, status, who) in rows {
        if head != last {
            let words: Vec<&str> = head.split('|').map(str::trim).collect();
            let group = words
                .get(1)
                .filter(|group| !group.is_empty())
                .map_or_else(|| "no group".to_owned(), |g| format!("group {g}"));
            let start = words.get(2).copied().unwrap_or_default();
            out.push_str(format!("{} {group} {start}", words.first().copied().unwrap_or_default()).trim_end());
            out.push('\n');
            last.clone_from(&head);
        }
        out.push_str(&format!("  {status:<13} {name} ({id}){who}\n"));
    }
    out
}
