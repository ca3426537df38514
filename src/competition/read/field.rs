//! `field.csv`: entrants, and results where they stand there instead of in `cards/`.

use super::super::codes::{FIELD_CONTACT, FIELD_HOLE, FIELD_SCORE, NOT_A_START, NOT_A_STATUS, NOT_AN_ID};
use super::super::entries::{Entry, Wants, read_entries};
use super::super::values::{Entrant, Status};
use super::is_id;
use crate::course::decode::Code;
use crate::notebook::table::{Cell, Row, Table, read_table};
use crate::notebook::{Diagnostic, Severity};
use crate::scoring::HoleScore;
use std::collections::HashSet;

/// Reads the field. `holes` are the hole numbers of the first round in the order of the card; `handicaps` says whether
/// every entry needs a handicap. A list with an error is not to be used in part: then nothing is returned.
pub fn read_field(text: &str, holes: &[u8], handicaps: bool) -> (Vec<Entrant>, Vec<Diagnostic>) {
    let (table, mut problems) = read_table(text);
    let entries = read_entries(&table, Wants { handicap: handicaps, team: false }, &mut problems);
    let columns = Columns::of(&table, holes, &mut problems);
    let mut taken: HashSet<String> =
        entries.iter().filter_map(|entry| entry.id.as_ref()).map(|id| id.text.to_lowercase()).collect();
    let mut field = Vec::with_capacity(entries.len());
    for entry in &entries {
        if let Some(row) = table.rows.get(entry.row) {
            field.push(columns.entrant(entry, row, &mut taken, &mut problems));
        }
    }
    problems.sort_by_key(|d| (d.span.start, d.span.end));
    if problems.iter().any(|problem| problem.severity == Severity::Error) {
        field.clear();
    }
    (field, problems)
}

struct Columns {
    category: Option<usize>,
    group: Option<usize>,
    start_time: Option<usize>,
    start_hole: Option<usize>,
    status: Option<usize>,
    /// The column of each hole of the round.
    holes: Vec<Option<usize>>,
}

impl Columns {
    fn of(table: &Table<'_>, holes: &[u8], problems: &mut Vec<Diagnostic>) -> Columns {
        for column in &table.columns {
            let hole = column.name.strip_prefix('h').and_then(|hole| hole.parse::<u8>().ok());
            if let Some(hole) = hole.filter(|hole| !holes.contains(hole)) {
                let message = format!("a column for hole {hole}, which the round has not");
                problems.push(error(FIELD_HOLE, column.span, message, "take the column out"));
            }
            if ["paid", "email", "phone"].contains(&column.name.as_str()) {
                let message = format!("the column `{}` is not needed and not used", column.name);
                let problem = Diagnostic::warning(FIELD_CONTACT.text(), column.span, message);
                problems.push(problem.advise("take it out: a field that is carried about holds no contact data"));
            }
        }
        Columns {
            category: table.column(&["category", "division"]),
            group: table.column(&["group"]),
            start_time: table.column(&["start_time"]),
            start_hole: table.column(&["start_hole"]),
            status: table.column(&["status"]),
            holes: holes.iter().map(|hole| table.column(&[format!("h{hole}").as_str()])).collect(),
        }
    }

    fn entrant(
        &self,
        entry: &Entry<'_>,
        row: &Row<'_>,
        taken: &mut HashSet<String>,
        problems: &mut Vec<Diagnostic>,
    ) -> Entrant {
        let text = |column| row.get(column).map(|cell| cell.text.to_string());
        let mut value = |column, code, advice: &str, noun: &str, fine: &dyn Fn(&str) -> bool| {
            let cell = row.get(column)?;
            if !fine(&cell.text) {
                problems.push(error(code, cell.span, format!("`{}` is no {noun}", cell.text), advice));
                return None;
            }
            Some(cell.text.to_string())
        };
        let start_time = value(self.start_time, NOT_A_START, "write hours and minutes, as 09:12", "start time", &|t| {
            start_time(t).is_some()
        });
        let hole_of = |text: &str| text.parse::<u8>().ok().filter(|hole| (1..=36).contains(hole));
        let start_hole =
            value(self.start_hole, NOT_A_START, "write a hole number, as 10", "hole", &|t| hole_of(t).is_some());
        let status = value(self.status, NOT_A_STATUS, "write NR, WD, DQ or NS, or nothing", "status", &|t| {
            Status::parse(t).is_some()
        });
        let id = match &entry.id {
            Some(id) => {
                if !is_id(&id.text) {
                    problems.push(error(
                        NOT_AN_ID,
                        id.span,
                        format!("`{}` cannot be an id", id.text),
                        super::ID_ADVICE,
                    ));
                }
                id.text.to_string()
            }
            None => made_id(&entry.name, taken),
        };
        Entrant {
            id,
            name: entry.name.clone(),
            card: entry.card,
            index: entry.index,
            course_handicap: entry.course_handicap,
            playing_handicap: entry.playing_handicap,
            tee: entry.tee.as_ref().map(|cell| cell.text.to_string()),
            tee_at: entry.tee.as_ref().map(|cell| cell.span),
            category: text(self.category),
            team: entry.team.as_ref().map(|cell| cell.text.to_string()),
            group: text(self.group),
            start_time: start_time.as_deref().and_then(self::start_time),
            start_hole: start_hole.as_deref().and_then(hole_of),
            status: status.as_deref().and_then(Status::parse),
            scores: self.scores(row, problems),
            span: entry.span,
        }
    }

    // A blank among results is a hole not played (open formats 7.1); a row of blanks is a card that is out.
    fn scores(&self, row: &Row<'_>, problems: &mut Vec<Diagnostic>) -> Vec<HoleScore> {
        let cells: Vec<Option<&Cell<'_>>> = self.holes.iter().map(|column| row.get(*column)).collect();
        if cells.iter().all(Option::is_none) {
            return Vec::new();
        }
        let mut scores = Vec::with_capacity(cells.len());
        for cell in cells {
            let Some(cell) = cell else {
                scores.push(HoleScore::NotPlayed);
                continue;
            };
            let score = HoleScore::parse(&cell.text).unwrap_or_else(|_| {
                problems.push(error(
                    FIELD_SCORE,
                    cell.span,
                    format!("`{}` is no score", cell.text),
                    score_advice(&cell.text),
                ));
                HoleScore::Empty
            });
            scores.push(score);
        }
        scores
    }
}

fn error(code: Code, span: crate::notebook::Span, message: String, advice: &str) -> Diagnostic {
    Diagnostic::error(code.text(), span, message).advise(advice)
}

fn score_advice(text: &str) -> &'static str {
    let like_a_date = text.contains(['/', '-', '.']) && text.bytes().filter(u8::is_ascii_digit).count() > 1;
    if like_a_date || text.bytes().any(|b| b.is_ascii_alphabetic()) && text.len() > 3 {
        "a spreadsheet may have made a date of it: format the columns as text; scores are 1 to 50, x or blank"
    } else {
        "write strokes from 1 to 50, x for no score, nothing for not played"
    }
}

/// `9:12`, `09:12` or `09:12:00` as `09:12`.
pub fn start_time(text: &str) -> Option<String> {
    let mut parts = text.trim().split(':');
    let hour: u8 = parts.next()?.parse().ok().filter(|hour| *hour < 24)?;
    let minute: u8 = parts.next().filter(|m| m.len() == 2)?.parse().ok().filter(|minute| *minute < 60)?;
    match parts.next() {
        None | Some("00") => parts.next().is_none().then(|| format!("{hour:02}:{minute:02}")),
        Some(_) => None,
    }
}

/// An id from a name: names are not keys, so a second one of the same letters gets a number.
fn made_id(name: &str, taken: &mut HashSet<String>) -> String {
    let mut base = String::new();
    for c in name.chars().flat_map(char::to_lowercase) {
        if c.is_alphanumeric() {
            base.push(c);
        } else if !base.is_empty() && !base.ends_with('-') && !matches!(c, '\'' | '’') {
            base.push('-');
        }
    }
    let base: String = base.trim_matches('-').chars().take(36).collect();
    let base = if base.is_empty() { "player".to_owned() } else { base.trim_end_matches('-').to_owned() };
    let mut id = base.clone();
    let mut number = 2;
    while !taken.insert(id.clone()) {
        id = format!("{base}-{number}");
        number += 1;
    }
    id
}
