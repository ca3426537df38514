//! Results as Markdown.

use super::super::{Competition, Totals, draw};
use super::{FOOT, award_lines, dates, tables};
use crate::units::plain_text::plain;

/// A heading and a table for each event.
pub fn markdown(competition: &Competition, totals: &Totals<'_>) -> String {
    let setup = &competition.setup;
    let mut out =
        format!("# {}\n\n{}, {}\n", escaped(&setup.name), escaped(&competition.course.name), dates(competition));
    if !totals.is_final() {
        out.push_str("\n**Not final:** cards or decisions are missing.\n");
    }
    for table in tables(competition, totals) {
        out.push_str(&format!("\n## {}\n\n{}\n\n", escaped(&table.title), escaped(&table.terms)));
        out.push_str(&format!("| {} |\n", table.columns.join(" | ")));
        let rules: Vec<&str> = table.figures.iter().map(|figure| if *figure { "---:" } else { "---" }).collect();
        out.push_str(&format!("| {} |\n", rules.join(" | ")));
        for row in &table.rows {
            let cells: Vec<String> = row.iter().map(|cell| escaped(cell)).collect();
            out.push_str(&format!("| {} |\n", cells.join(" | ")));
        }
    }
    let awards = award_lines(competition, totals);
    if !awards.is_empty() {
        out.push('\n');
        for award in awards {
            out.push_str(&format!("* {}\n", escaped(&award)));
        }
    }
    for bracket in &totals.brackets {
        for (at, line) in draw::text(bracket).iter().enumerate() {
            let text = escaped(line.trim_start());
            out.push_str(&if at == 0 { format!("\n## {text}\n\n") } else { format!("* {text}\n") });
        }
    }
    out.push_str(&format!("\n{FOOT}\n"));
    out
}

/// Text that stays text: no mark of the format in it means anything.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in plain(text).chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '&' => out.push_str("&amp;"),
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '#' | '~' | '!' => {
                out.push('\\');
                out.push(c);
            }
            _ => out.push(c),
        }
    }
    out
}
