//! Results written out: for the notice board, a spreadsheet, a page, other programs, the handicap system.

mod csv;
mod html;
mod json;
mod markdown;
mod record;
mod start_sheet;
mod text;

pub use csv::{csv, field as csv_field};
pub use html::html;
pub use json::json;
pub use markdown::markdown;
pub use record::{ScoreForRecord, for_record, record_csv};
pub use start_sheet::start_sheet;
pub use text::{board, issues_text};

use super::result::{EventResult, Line};
use super::setup::Event;
use super::words::points_text;
use super::{Competition, Totals};
use crate::handicap::{Allowance, Scoring};
use crate::scoring::Count;
use crate::units::tenths::whole_handicap_text;

/// What is printed of an event: its columns and how each line fills them.
pub(super) struct Table {
    /// `medal, division A`.
    pub title: String,
    /// The conditions in one sentence.
    pub terms: String,
    /// The headings.
    pub columns: Vec<&'static str>,
    /// For each column: whether it holds figures.
    pub figures: Vec<bool>,
    /// The lines.
    pub rows: Vec<Vec<String>>,
}

/// The tables of all events.
pub(super) fn tables(competition: &Competition, totals: &Totals<'_>) -> Vec<Table> {
    totals.events.iter().map(|result| table(competition, result)).collect()
}

fn table(competition: &Competition, result: &EventResult) -> Table {
    let event = competition.setup.events.get(result.event);
    let index = competition.setup.publish_index;
    let scoring = result.play.map(|play| play.scoring);
    let net = result.count == Count::Net && scoring.is_some();
    let mut columns = vec![("Place", false), ("Name", false)];
    if index {
        columns.push(("Index", true));
    }
    if net {
        columns.push(("Playing Handicap", true));
    }
    match scoring {
        None => columns.push(("Points", true)),
        Some(Scoring::Stableford) => columns.push(("Points", true)),
        Some(Scoring::ParBogey) => columns.push(("Result", true)),
        Some(_) => {
            columns.push(("Gross", true));
            if net {
                columns.push(("Net", true));
            }
        }
    }
    columns.push(("Settled by", false));
    let rows = result
        .lines
        .iter()
        .map(|line| columns.iter().map(|(column, _)| cell(line, column, scoring)).collect())
        .collect();
    Table {
        title: result.title(),
        terms: event.map_or_else(String::new, |event| terms(competition, event)),
        columns: columns.iter().map(|(name, _)| *name).collect(),
        figures: columns.iter().map(|(_, figure)| *figure).collect(),
        rows,
    }
}

fn cell(line: &Line, column: &str, scoring: Option<Scoring>) -> String {
    let figure = |value: Option<i32>| value.map_or_else(String::new, |value| value.to_string());
    // Without a place a total would be read as one.
    let placed = line.place.is_some();
    match column {
        "Place" => place(line),
        "Name" => line.name.clone(),
        "Index" => {
            let own: Vec<String> =
                line.players.iter().map(|p| p.index.map_or_else(|| "–".to_owned(), |i| i.to_string())).collect();
            own.join(" & ")
        }
        "Playing Handicap" => match line.playing_handicap {
            Some(own) => whole_handicap_text(own),
            None => {
                let own: Vec<String> =
                    line.players.iter().filter_map(|p| p.playing_handicap).map(whole_handicap_text).collect();
                own.join(" & ")
            }
        },
        "Gross" => figure(line.gross.filter(|_| placed)),
        "Net" => figure(line.net.filter(|_| placed)),
        "Points" => match (line.merit, scoring) {
            (Some(points), _) => points_text(points),
            (None, _) => figure(line.points.filter(|_| placed)),
        },
        "Result" => match line.result {
            Some(0) => "level".to_owned(),
            Some(up) if up > 0 => format!("{up} up"),
            Some(down) => format!("{} down", -down),
            None => String::new(),
        },
        "Settled by" => settled(line),
        _ => String::new(),
    }
}

/// `1`, `2=` for a shared place, a status, or `–` while there is none.
fn place(line: &Line) -> String {
    match (line.place, line.status) {
        (Some(place), _) if line.tied => format!("{place}="),
        (Some(place), _) => place.to_string(),
        (None, Some(status)) => status.code().to_owned(),
        (None, None) => "–".to_owned(),
    }
}

/// What settled the place, with the figures that did; of an unfinished card what is missing.
pub(super) fn settled(line: &Line) -> String {
    if let Some(why) = &line.unfinished {
        return why.clone();
    }
    let Some(decided) = line.decided_by else {
        // Its figures lost against those of the line above.
        let spans: Vec<String> =
            line.spans.iter().take(4).map(|span| format!("{} {}", span.span, span.figure)).collect();
        return if spans.is_empty() { String::new() } else { format!("({})", spans.join(", ")) };
    };
    let end = line.spans.iter().position(|span| span.span == decided).map_or(line.spans.len(), |at| at + 1);
    let spans: Vec<String> = line.spans.iter().take(end).map(|span| format!("{} {}", span.span, span.figure)).collect();
    if spans.is_empty() { decided.to_string() } else { format!("{decided} ({})", spans.join(", ")) }
}

/// The conditions of an event in one sentence.
pub fn terms_of(competition: &Competition, event: &Event) -> String {
    terms(competition, event)
}

fn terms(competition: &Competition, event: &Event) -> String {
    if let Some(merit) = &event.merit {
        return format!("{} over {}", super::merit::table_words(merit), merit.of.join(", "));
    }
    let mut parts = vec![format!("{}, {}", event.play, event.count.name())];
    if event.count == Count::Net {
        let usual = crate::handicap::recommended(event.play).allowance;
        let own = if event.allowance == usual { "" } else { " (not the recommended one)" };
        parts.push(match &event.allowance {
            Allowance::Each(percent) => format!("allowance {percent}{own}"),
            other => format!("allowance {other}{own}"),
        });
    }
    if let Some(maximum) = &event.maximum {
        parts.push(format!("maximum {maximum}"));
    }
    if let Some(holes) = &event.holes {
        parts.push(super::words::hole_words(holes));
        if event.count == Count::Net {
            let how = match event.strokes {
                super::setup::PartStrokes::AsOnTheEighteen => "strokes as on the eighteen",
                super::setup::PartStrokes::AsANine => "strokes as a nine",
            };
            parts.push(how.to_owned());
        }
    }
    if competition.setup.rounds.len() > 1 {
        let rounds: Vec<String> = event.rounds.iter().map(|round| (round + 1).to_string()).collect();
        parts.push(format!(
            "round {}{}",
            rounds.join(" and "),
            if event.eclectic { ", the best score of each hole" } else { "" }
        ));
    }
    let ties: Vec<String> = event.ties.iter().map(ToString::to_string).collect();
    parts.push(format!("ties: {}", ties.join(", ")));
    parts.join("; ")
}

/// The dates of the rounds, `2026-05-16` or `2026-05-16 and 2026-05-17`.
pub(super) fn dates(competition: &Competition) -> String {
    let dates: Vec<&str> = competition.setup.rounds.iter().map(|round| round.date.as_str()).collect();
    dates.join(" and ")
}

/// `nearest the hole, hole 6: Ana Vesely, 1.42 m`.
pub(super) fn award_lines(competition: &Competition, totals: &Totals<'_>) -> Vec<String> {
    competition
        .setup
        .awards
        .iter()
        .filter_map(|award| {
            let id = award.id.as_ref()?;
            let name = totals.late.field.iter().find(|e| e.id == *id).map_or(id.as_str(), |e| e.name.as_str());
            let hole = award.hole.map_or_else(String::new, |hole| format!(", hole {hole}"));
            let measure = award.measure.as_ref().map_or_else(String::new, |m| format!(", {m}"));
            Some(format!("{}{hole}: {name}{measure}", award.name))
        })
        .collect()
}

/// What every result says at its foot.
pub(super) const FOOT: &str =
    "The Committee decides. Strokes received, nets, points and ties are computed from the certified gross scores.";
