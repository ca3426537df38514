//! What a leader's place needs from those who are still out: the figure with which each of them would pass it.

use super::result::{EventResult, Line};
use super::setup::Event;
use super::units::{Unit, Units, units};
use super::{Competition, Totals};
use crate::handicap::{Scoring, Sides};
use crate::scoring::{CardHole, Count, HoleScore};
use std::collections::HashSet;

/// A leader and those who can still pass.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Needs {
    /// Who leads, with the figure; empty while nobody has a total.
    pub leader: String,
    /// One sentence for each who is still out.
    pub out: Vec<Need>,
}

/// What one who is still out would have to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Need {
    /// The entrant or side.
    pub id: String,
    /// In one sentence.
    pub words: String,
    /// Can still pass the leader.
    pub can: bool,
}

/// For each order of the totals.
pub fn needs(competition: &Competition, totals: &Totals<'_>) -> Vec<Needs> {
    let mut made: Option<(usize, Units)> = None;
    let mut all = Vec::with_capacity(totals.events.len());
    for result in &totals.events {
        let Some(event) = competition.setup.events.get(result.event).filter(|_| result.play.is_some()) else {
            all.push(Needs::default());
            continue;
        };
        if made.as_ref().is_none_or(|(of, _)| *of != result.event) {
            let found = units(competition, event, &totals.late.field, &mut Vec::new(), &mut HashSet::new());
            made = Some((result.event, found));
        }
        if let Some((_, units)) = &made {
            all.push(of_order(competition, totals, result, event, units));
        }
    }
    all
}

fn of_order(
    competition: &Competition,
    totals: &Totals<'_>,
    result: &EventResult,
    event: &Event,
    units: &Units,
) -> Needs {
    let Some(leader) = result.lines.first().filter(|line| line.place.is_some()) else { return Needs::default() };
    let Some(figure) = leader.result else { return Needs::default() };
    let shared = result.lines.iter().filter(|line| line.result == Some(figure) && line.place.is_some()).count();
    let with = if shared > 1 { format!(" and {} more", shared - 1) } else { String::new() };
    let leader = format!("{}{with} with {}", leader.name, figure_words(event, figure));
    let by_id: std::collections::HashMap<&str, &Unit> = units.list.iter().map(|u| (u.id.as_str(), u)).collect();
    let open = result.lines.iter().filter(|line| line.place.is_none() && line.status.is_none());
    let out =
        open.map(|line| need(competition, totals, event, by_id.get(line.id.as_str()).copied(), units, line, figure));
    Needs { leader, out: out.collect() }
}

fn figure_words(event: &Event, figure: i32) -> String {
    match event.play.scoring {
        Scoring::Stableford => format!("{figure} points"),
        Scoring::ParBogey => format!("{figure:+}"),
        _ if event.count == Count::Net => format!("net {figure}"),
        _ => format!("gross {figure}"),
    }
}

fn need(
    competition: &Competition,
    totals: &Totals<'_>,
    event: &Event,
    unit: Option<&Unit>,
    units: &Units,
    line: &Line,
    leader: i32,
) -> Need {
    let better_more = matches!(event.play.scoring, Scoring::Stableford | Scoring::ParBogey);
    let wanted = if better_more { leader + 1 } else { leader - 1 };
    let simple = |words: String| Need { id: line.id.clone(), words, can: true };
    let one = event.play.sides == Sides::Individual || event.play.one_ball();
    let ([round], Some(unit), true, false) = (event.rounds.as_slice(), unit, one, event.eclectic) else {
        return simple(format!("{}: {} passes", line.name, figure_words(event, wanted)));
    };
    let Some((ball, ground)) =
        unit.balls.first().and_then(|balls| balls.first()).and_then(|ball| Some((ball, units.ground(0, ball.ground)?)))
    else {
        return simple(format!("{}: no handicap yet", line.name));
    };
    let entrant = unit.players.first().and_then(|at| totals.late.field.get(*at));
    let id = if event.play.one_ball() { unit.id.as_str() } else { entrant.map_or("", |e| e.id.as_str()) };
    let numbers = event.holes.as_ref().or_else(|| Some(&competition.setup.rounds.get(*round)?.holes));
    let card = totals.cards.get(id, *round);
    let holes: Vec<CardHole> = numbers
        .map_or(&[][..], |holes| holes.as_slice())
        .iter()
        .enumerate()
        .map(|(n, number)| CardHole {
            number: *number,
            par: ground.part.pars.get(n).copied().unwrap_or(4),
            strokes: if event.count == Count::Net { ball.handicap.by_hole.get(n).copied().unwrap_or(0) } else { 0 },
            score: ground.places.get(n).and_then(|place| card?.stands.get(*place).copied()).unwrap_or_default(),
        })
        .collect();
    let left: Vec<&CardHole> = holes.iter().filter(|hole| hole.score == HoleScore::Empty).collect();
    let many = left.len();
    let on = if many == holes.len() { String::new() } else { format!(" on the {many} left") };
    let name = &line.name;
    match event.play.scoring {
        Scoring::Stroke | Scoring::Match => {
            let broken = holes.iter().any(|h| matches!(h.score, HoleScore::PickedUp | HoleScore::NotPlayed));
            if broken || many == 0 {
                return Need { can: false, ..simple(format!("{name}: has a hole without a score")) };
            }
            let received: i32 = holes.iter().map(|hole| hole.strokes).sum();
            let so_far: i32 = holes.iter().filter_map(CardHole::gross).sum();
            let most = wanted + received - so_far;
            let par: i32 = left.iter().map(|hole| i32::from(hole.par)).sum();
            if most < many as i32 {
                return Need { can: false, ..simple(format!("{name}: can pass no more, {many} holes left")) };
            }
            let tie = most + 1;
            simple(format!("{name}: gross {most}{on} passes, {tie} ties (par {par}{})", receives(received)))
        }
        Scoring::Stableford => {
            let so_far: i32 = holes.iter().filter_map(CardHole::points).sum();
            let most: i32 = left.iter().map(|h| 1 + i32::from(h.par) + h.strokes).sum();
            let wanted = wanted - so_far;
            if wanted > most {
                return Need { can: false, ..simple(format!("{name}: can pass no more, {many} holes left")) };
            }
            simple(format!("{name}: {wanted} points{on} pass, {} tie", wanted - 1))
        }
        Scoring::ParBogey => simple(format!("{name}: {wanted:+} passes, {:+} ties; {many} holes left", wanted - 1)),
        Scoring::Maximum => simple(format!("{name}: {} passes; {many} holes left", figure_words(event, wanted))),
    }
}

fn receives(strokes: i32) -> String {
    match strokes {
        0 => String::new(),
        1.. => format!(", receives {strokes}"),
        _ => format!(", gives {}", -strokes),
    }
}
