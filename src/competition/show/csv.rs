//! Results as CSV.
//!
//! # References
//! RFC 4180 (2005), written strictly: CR LF, a header, quotes only where they are needed.

use super::super::words::points_text;
use super::super::{Competition, Totals};
use crate::units::tenths::whole_handicap_text;

const HEADER: &str =
    "event,division,place,tied,id,name,playing_handicap,gross,net,points,result,decided_by,figures,status";

/// Every line of every event. With `spreadsheet_safe` a text that a spreadsheet would take for a formula gets an
/// apostrophe in front.
pub fn csv(competition: &Competition, totals: &Totals<'_>, spreadsheet_safe: bool) -> String {
    let index = competition.setup.publish_index;
    let mut out = HEADER.to_owned();
    out.push_str(if index { ",index\r\n" } else { "\r\n" });
    let text = |text: &str| field(text, spreadsheet_safe);
    let number = |value: Option<i32>| value.map_or_else(String::new, |value| value.to_string());
    for result in &totals.events {
        for line in &result.lines {
            let spans: Vec<String> = line.spans.iter().map(|s| format!("{} {}", s.span, s.figure)).collect();
            let points = line.merit.map_or_else(|| number(line.points), points_text);
            let mut cells = vec![
                text(&result.name),
                text(result.division.as_deref().unwrap_or_default()),
                line.place.map_or_else(String::new, |place| place.to_string()),
                if line.tied { "yes" } else { "no" }.to_owned(),
                text(&line.id),
                text(&line.name),
                line.playing_handicap
                    .map_or_else(String::new, |own| field(&whole_handicap_text(own), spreadsheet_safe)),
                number(line.gross),
                number(line.net),
                points,
                number(line.result),
                text(&line.decided_by.map_or_else(String::new, |decided| decided.to_string())),
                text(&spans.join("; ")),
                line.status.map_or("", |status| status.code()).to_owned(),
            ];
            if index {
                let own: Vec<String> =
                    line.players.iter().map(|p| p.index.map_or_else(String::new, |index| index.to_string())).collect();
                cells.push(text(&own.join(" & ")));
            }
            out.push_str(&cells.join(","));
            out.push_str("\r\n");
        }
    }
    out
}

/// One field: quoted where it has to be, with an apostrophe where a spreadsheet would compute it.
pub fn field(text: &str, spreadsheet_safe: bool) -> String {
    let formula = text.trim_start().starts_with(['=', '+', '-', '@']) || text.starts_with(['\t', '\r']);
    let text = if spreadsheet_safe && formula { format!("'{text}") } else { text.to_owned() };
    if text.contains([',', '"', '\r', '\n']) || text.starts_with(' ') || text.ends_with(' ') {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text
    }
}
