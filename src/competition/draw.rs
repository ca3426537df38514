//! Match-play draws: the bracket, who meets whom, and the strokes of each match.
//!
//! # References
//! Rules of Handicapping, Appendix C (2024): the allowance first, then the difference of the rounded Playing Handicaps from the
//! lowest. Rules of Golf 3.2: a match is won by the lead, strokes are taken by hole.

use super::Competition;
use super::issue::Issue;
use super::late::{self, Late};
use super::setup::{Draw, Event};
use super::units::{Unit, Units, units};
use crate::handicap::{StrokeIndexes, match_strokes, strokes_by_hole};
use std::collections::HashSet;

/// A bracket as far as it is played.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Bracket {
    /// The name of the draw.
    pub name: String,
    /// The conditions in one sentence.
    pub terms: String,
    /// Rounds, the first with every match.
    pub rounds: Vec<Vec<Match>>,
}

/// One match.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Match {
    /// Names of the two sides; `None` while it is open, `bye` where nobody is met.
    pub sides: [Option<String>; 2],
    /// Who receives strokes and where, one sentence each; empty: level, or not known yet.
    pub strokes: Vec<String>,
    /// The name of the winner.
    pub winner: Option<String>,
}

const BYE: &str = "bye";

/// The brackets of a competition.
pub fn brackets(competition: &Competition, issues: &mut Vec<Issue>) -> Vec<Bracket> {
    if competition.setup.draws.is_empty() {
        return Vec::new();
    }
    let late = late::apply(competition, &mut Vec::new());
    competition.setup.draws.iter().map(|draw| bracket(competition, draw, &late, issues)).collect()
}

fn bracket(competition: &Competition, draw: &Draw, late: &Late, issues: &mut Vec<Issue>) -> Bracket {
    let units = units(competition, &draw.event, &late.field, &mut Vec::new(), &mut HashSet::new());
    let find = |id: &str| units.list.iter().find(|unit| unit.id == id);
    let mut wrong = |message: String, advice: &str| {
        issues.push(Issue::open("draw", format!("{}: {message}", draw.event.name), advice));
    };
    let mut seats: Vec<Option<&str>> = Vec::new();
    let mut seen = HashSet::new();
    for id in &draw.order {
        if id.eq_ignore_ascii_case(BYE) {
            seats.push(None);
        } else if find(id).is_none() {
            wrong(format!("the field has no {id}"), "mend the order of the draw");
        } else if !seen.insert(id.as_str()) {
            wrong(format!("{id} stands twice"), "take one out of the order");
        } else {
            seats.push(Some(id.as_str()));
        }
    }
    seats.resize(seats.len().max(2).next_power_of_two(), None);
    let mut now: Vec<Option<Option<&str>>> = seats.into_iter().map(Some).collect();
    let mut rounds = Vec::new();
    let mut played = draw.winners.iter();
    while now.len() > 1 {
        let named = played.next().map_or(&[][..], |winners| winners.as_slice());
        let mut next = Vec::new();
        let mut made = Vec::new();
        let mut used = HashSet::new();
        for pair in now.chunks(2) {
            let (a, b) = (pair.first().copied().flatten(), pair.get(1).copied().flatten());
            let won = |seat: Option<&str>| named.iter().any(|id| Some(id.as_str()) == seat);
            let through = match (a, b) {
                (Some(a), Some(None)) => Some(a),
                (Some(None), Some(b)) => Some(b),
                (Some(a), Some(_)) if won(a) => Some(a),
                (Some(_), Some(b)) if won(b) => Some(b),
                _ => None,
            };
            if let Some(Some(id)) = through {
                used.insert(id);
            }
            let name = |seat: Option<Option<&str>>| {
                seat.map(|id| {
                    id.map_or_else(|| BYE.to_owned(), |id| find(id).map_or(id.to_owned(), |u| u.name.clone()))
                })
            };
            let sides = [a.flatten().and_then(find), b.flatten().and_then(find)];
            let strokes =
                if let [Some(a), Some(b)] = sides { strokes_of(&draw.event, &units, a, b) } else { Vec::new() };
            made.push(Match { sides: [name(a), name(b)], strokes, winner: name(through).filter(|w| w != BYE) });
            next.push(through);
        }
        for stranger in named.iter().filter(|id| !used.contains(id.as_str())) {
            wrong(
                format!("{stranger} has won round {} without a match in it", rounds.len() + 1),
                "mend the winners of the draw",
            );
        }
        rounds.push(made);
        now = next;
    }
    let terms = format!("{}, {}", draw.event.play, terms(&draw.event));
    Bracket { name: draw.event.name.clone(), terms, rounds }
}

fn terms(event: &Event) -> String {
    let usual = if event.allowance_given { "" } else { ", the recommended one" };
    match &event.allowance {
        crate::handicap::Allowance::Each(percent) => format!("allowance {percent}{usual}"),
        other => format!("allowance {other}{usual}"),
    }
}

/// Who receives strokes in a match: the lowest Playing Handicap plays off nought.
fn strokes_of(event: &Event, units: &Units, a: &Unit, b: &Unit) -> Vec<String> {
    let mut balls = Vec::new();
    for unit in [a, b] {
        for ball in unit.balls.first().into_iter().flatten() {
            let Some(playing) = ball.handicap.playing else { return vec![format!("{}: no handicap", unit.name)] };
            balls.push((unit, playing, ball.ground));
        }
    }
    let playing: Vec<i32> = balls.iter().map(|(_, playing, _)| *playing).collect();
    let mut out = Vec::new();
    for ((unit, own, ground), strokes) in balls.iter().zip(match_strokes(&playing)) {
        let Some(ground) = units.ground(0, *ground).filter(|_| strokes > 0) else { continue };
        let numbers: Vec<u8> = event.holes.clone().unwrap_or_else(|| (1..=ground.part.pars.len() as u8).collect());
        let holes = holes_of(strokes, &ground.part.indexes, &numbers);
        let who = if balls.len() > 2 { format!("{} (off {own})", unit.name) } else { unit.name.clone() };
        out.push(format!("{who} receives {strokes}: {holes}"));
    }
    out
}

fn holes_of(strokes: i32, indexes: &StrokeIndexes, numbers: &[u8]) -> String {
    let by_hole = strokes_by_hole(strokes, indexes);
    let words: Vec<String> = numbers
        .iter()
        .zip(&by_hole)
        .filter(|(_, strokes)| **strokes > 0)
        .map(|(hole, strokes)| if *strokes > 1 { format!("{hole} ({strokes})") } else { hole.to_string() })
        .collect();
    format!("holes {}", words.join(", "))
}

/// A bracket as plain text lines.
pub fn text(bracket: &Bracket) -> Vec<String> {
    let mut out = vec![format!("{} ({})", bracket.name, bracket.terms)];
    let last = bracket.rounds.len();
    for (at, matches) in bracket.rounds.iter().enumerate() {
        out.push(match last - at {
            1 => "Final".to_owned(),
            2 => "Semi-finals".to_owned(),
            _ => format!("Round {}", at + 1),
        });
        for (number, one) in matches.iter().enumerate() {
            let [a, b] = &one.sides;
            let name = |side: &Option<String>, from: usize| {
                side.clone().unwrap_or_else(|| format!("winner of match {} of round {at}", 2 * number + from))
            };
            let winner = match &one.winner {
                Some(winner) if ![a, b].iter().any(|s| s.as_deref() == Some(BYE)) => format!("; {winner} won"),
                _ => String::new(),
            };
            out.push(format!("  {}. {} v {}{winner}", number + 1, name(a, 1), name(b, 2)));
            out.extend(one.strokes.iter().map(|words| format!("     {words}")));
        }
    }
    if let Some(winner) = bracket.rounds.last().and_then(|r| r.first()).and_then(|m| m.winner.as_ref()) {
        out.push(format!("Winner: {winner}"));
    }
    out
}
