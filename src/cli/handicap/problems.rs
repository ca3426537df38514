//! Problems of a file as text: place, message, the line, a caret, what to do.

use crate::notebook::{Diagnostic, Lines, Severity};
use crate::units::plain_text::plain;
use std::borrow::Cow;
use std::io::{self, Write};

/// Most problems said of one file.
const MOST: usize = 200;
/// Longest excerpt in columns.
const WIDEST: usize = 120;

/// A message with nothing in it that a terminal could obey.
pub(super) fn shown(text: &str) -> Cow<'_, str> {
    plain(text)
}

/// Writes every problem of a file; true when one is an error.
pub(super) fn report(name: &str, text: &str, problems: &mut [Diagnostic], err: &mut dyn Write) -> io::Result<bool> {
    problems.sort_by_key(|problem| problem.span.start);
    let lines = Lines::new(text);
    for problem in problems.iter().take(MOST) {
        let place = lines.place(problem.span.start);
        let severity = problem.severity.word();
        writeln!(err, "{}:{}:{}: {severity}: {}", plain(name), place.line, place.column, plain(&problem.message))?;
        excerpt(lines.line(place.line - 1), place.column, problem.span.of(text), err)?;
        if !problem.advice.is_empty() {
            writeln!(err, "  {}", plain(&problem.advice))?;
        }
    }
    if problems.len() > MOST {
        writeln!(err, "{}: and {} more problems", plain(name), problems.len() - MOST)?;
    }
    Ok(problems.iter().any(|problem| problem.severity == Severity::Error))
}

fn excerpt(line: &str, column: usize, marked: &str, err: &mut dyn Write) -> io::Result<()> {
    let line = line.trim_start_matches('\u{feff}');
    // The part of a long line that holds the place.
    let from = (column - 1).saturating_sub(WIDEST / 2) * usize::from(line.chars().count() > WIDEST);
    let before: String = line.chars().skip(from).take(column - 1 - from).collect();
    let rest: String = line.chars().skip(column - 1).take(WIDEST - before.chars().count().min(WIDEST)).collect();
    let before = plain(&before).replace('\t', " ");
    let marked = marked.lines().next().unwrap_or_default().chars().count().clamp(1, rest.chars().count().max(1));
    let caret = "^".repeat(marked);
    writeln!(err, "  {before}{}", plain(&rest))?;
    let indent: String = before.chars().map(|_| ' ').collect();
    writeln!(err, "  {indent}{caret}")
}
