//! Plain text for the notice board, and what the desk has to see to.

use super::super::issue::{Issue, Weight};
use super::super::{Competition, Totals, draw};
use super::{FOOT, Table, award_lines, dates, tables};
use crate::units::plain_text::plain;
use unicode_width::UnicodeWidthStr;

/// The results as text of fixed width.
pub fn board(competition: &Competition, totals: &Totals<'_>) -> String {
    let setup = &competition.setup;
    let mut out = format!("{}\n{}, {}\n", plain(&setup.name), plain(&competition.course.name), dates(competition));
    if !totals.is_final() {
        out.push_str("NOT FINAL: cards or decisions are missing\n");
    }
    for table in tables(competition, totals) {
        out.push('\n');
        push(&mut out, &table);
    }
    let awards = award_lines(competition, totals);
    if !awards.is_empty() {
        out.push('\n');
        for award in awards {
            out.push_str(&plain(&award));
            out.push('\n');
        }
    }
    for bracket in &totals.brackets {
        out.push('\n');
        for line in draw::text(bracket) {
            out.push_str(&plain(&line));
            out.push('\n');
        }
    }
    out.push('\n');
    out.push_str(FOOT);
    out.push('\n');
    out
}

fn push(out: &mut String, table: &Table) {
    let heading = plain(&table.title).to_uppercase();
    out.push_str(&format!("{heading}\n{}\n", plain(&table.terms)));
    let rows: Vec<Vec<String>> =
        table.rows.iter().map(|row| row.iter().map(|cell| plain(cell).into_owned()).collect()).collect();
    let columns: Vec<&str> = table.columns.iter().map(|name| short(name)).collect();
    let widths: Vec<usize> = columns
        .iter()
        .enumerate()
        .map(|(at, name)| {
            let cells = rows.iter().filter_map(|row| row.get(at)).map(|cell| cell.width());
            cells.chain([name.width()]).max().unwrap_or(0)
        })
        .collect();
    let heads: Vec<String> = columns.iter().map(|name| (*name).to_owned()).collect();
    for row in std::iter::once(&heads).chain(&rows) {
        let mut line = String::new();
        for ((cell, width), figure) in row.iter().zip(&widths).zip(&table.figures) {
            let blanks = " ".repeat(width.saturating_sub(cell.width()));
            if *figure {
                line.extend([blanks.as_str(), cell])
            } else {
                line.extend([cell.as_str(), &blanks])
            }
            line.push_str("  ");
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
    if rows.is_empty() {
        out.push_str("nobody\n");
    }
}

fn short(column: &'static str) -> &'static str {
    if column == "Playing Handicap" { "PH" } else { column }
}

/// What is missing or disagrees, one a line with what to do.
pub fn issues_text(issues: &[Issue]) -> String {
    let mut out = String::new();
    for (weight, heading) in [(Weight::Open, "Missing or in disagreement"), (Weight::Question, "Questions")] {
        let own: Vec<&Issue> = issues.iter().filter(|issue| issue.weight == weight).collect();
        if own.is_empty() {
            continue;
        }
        out.push_str(&format!("{heading} ({}):\n", own.len()));
        for issue in own {
            let who = match (&issue.name, &issue.id) {
                (Some(name), Some(id)) if name != id => format!("{name} ({id}): "),
                (Some(name), _) => format!("{name}: "),
                _ => String::new(),
            };
            out.push_str(&plain(&format!("  {who}{}", issue.message)));
            out.push('\n');
            if !issue.advice.is_empty() {
                out.push_str(&plain(&format!("      {}", issue.advice)));
                out.push('\n');
            }
        }
    }
    out
}
