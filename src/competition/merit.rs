//! An order of merit: points for places in other events.
//!
//! Those who share a place share the points of the places they take up, exactly; places come after the tie-breaks of
//! their event. Who has no place has no points. With `best: n` the n best results of each count.

use super::Competition;
use super::draws::{Draws, drawn};
use super::issue::Issue;
use super::late::Late;
use super::order::{Scored, put_in_order};
use super::result::{EventResult, Line, PlayerRef};
use super::setup::{Event, Merit};
use super::words::points_text;
use crate::units::tenths::Exact;
use std::collections::HashMap;
use std::num::NonZeroU32;

struct Table<'t> {
    competition: &'t Competition,
    late: &'t Late,
    event: &'t Event,
}

impl Draws for Table<'_> {
    fn event(&self) -> &Event {
        self.event
    }

    fn drawn(&self, lot: bool, division: Option<&str>, id: &str) -> Option<usize> {
        drawn(self.competition, self.late, self.event, lot, division, id)
    }
}

/// Totals an order of merit over the events totalled so far.
pub(super) fn total(
    competition: &Competition,
    place: usize,
    event: &Event,
    before: &[EventResult],
    late: &Late,
    issues: &mut Vec<Issue>,
) -> EventResult {
    let mut won: HashMap<&str, (Line, Vec<Exact>)> = HashMap::new();
    if let Some(merit) = &event.merit {
        for result in before.iter().filter(|result| merit.of.contains(&result.name)) {
            for line in &result.lines {
                let entry = won.entry(line.id.as_str()).or_insert_with(|| (line_of(line), Vec::new()));
                entry.1.extend(points(merit, result, line));
            }
        }
    }
    let best = event.merit.as_ref().and_then(|merit| merit.best).unwrap_or(usize::MAX);
    let mut scored: Vec<(Exact, Scored)> = won
        .into_values()
        .map(|(mut line, mut points)| {
            points.sort_by_key(|one| std::cmp::Reverse(*one));
            let sum: Exact = points.iter().copied().take(best).sum();
            line.merit = Some(sum);
            (sum, Scored { line, figure: None, last_round: None, last: Default::default() })
        })
        .collect();
    // Equal sums get one figure, whatever fractions they were made of.
    scored.sort_by_key(|one| std::cmp::Reverse(one.0));
    let mut figure = 0;
    let mut last: Option<Exact> = None;
    let scored = scored
        .into_iter()
        .map(|(sum, mut one)| {
            if last.replace(sum) != Some(sum) {
                figure += 1;
            }
            one.figure = Some(figure);
            one
        })
        .collect();
    let lines = put_in_order(&Table { competition, late, event }, scored, &[], None, issues);
    EventResult { event: place, name: event.name.clone(), play: None, count: event.count, division: None, lines }
}

fn line_of(line: &Line) -> Line {
    let players = line.players.iter().map(|p| PlayerRef { playing_handicap: None, ..p.clone() }).collect();
    Line { id: line.id.clone(), name: line.name.clone(), players, ..Line::default() }
}

fn points(merit: &Merit, result: &EventResult, line: &Line) -> Option<Exact> {
    let place = line.place?;
    let sharers = result.lines.iter().filter(|other| other.place == Some(place)).count();
    let taken = merit.points.iter().skip(place.checked_sub(1)?).take(sharers);
    let sum: i64 = taken.map(|points| i64::from(*points)).sum();
    Some(Exact::ratio(sum, NonZeroU32::new(u32::try_from(sharers).ok()?)?))
}

/// A table of points in words.
pub fn table_words(merit: &Merit) -> String {
    let points: Vec<String> = merit
        .points
        .iter()
        .enumerate()
        .map(|(at, points)| format!("{} {}", at + 1, points_text(Exact::whole(i64::from(*points)))))
        .collect();
    let best = merit.best.map_or_else(String::new, |best| format!("; the best {best} count"));
    format!("points by place: {}{best}; shared places share the points of the places they take up", points.join(", "))
}
