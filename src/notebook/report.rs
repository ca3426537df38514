//! Problems as a person or a program reads them: place, line, caret, cure.

use unicode_width::UnicodeWidthChar;

use super::guard::{hidden, shown};
use super::{Diagnostic, Lines, Severity, Span};

/// Most problems shown of one file.
pub const MAX_SHOWN: usize = 200;
/// Widest line of an excerpt, in columns of the terminal, its margin included.
pub const MAX_WIDTH: usize = 120;
/// Longest message or advice, in characters.
const MAX_WORDS: usize = 400;
/// Blanks before an excerpt.
const MARGIN: &str = "    ";

/// Problems of one file, ready to be printed.
///
/// ```
/// use marram::notebook::{read, report::Report};
/// let text = "holes:\n  - text: left: right\n";
/// let (_, problems) = read(text);
/// let shown = Report::new("links.yaml", text, &problems).to_text();
/// assert!(shown.starts_with("links.yaml:2:15: error: "));
/// ```
#[derive(Clone, Debug)]
pub struct Report<'a> {
    file: String,
    lines: Lines<'a>,
    sorted: Vec<&'a Diagnostic>,
}

impl<'a> Report<'a> {
    /// Sorts `problems` of `text` by place. `file` is the name as the person gave it.
    pub fn new(file: &str, text: &'a str, problems: &'a [Diagnostic]) -> Self {
        let mut sorted: Vec<&Diagnostic> = problems.iter().collect();
        sorted.sort_by_key(|d| (d.span.start, d.severity, d.span.end));
        Report { file: clean(file), lines: Lines::new(text), sorted }
    }

    /// Whether one of the problems is an error.
    pub fn has_errors(&self) -> bool {
        self.sorted.iter().any(|d| d.severity == Severity::Error)
    }

    /// `FILE:LINE:COL: error: what`, the line, a caret, what to do, for each problem; at most [`MAX_SHOWN`] of them and
    /// how many more. Empty when there is no problem.
    pub fn to_text(&self) -> String {
        let mut out = String::new();
        for d in self.sorted.iter().take(MAX_SHOWN) {
            let place = self.lines.place(d.span.start);
            out.push_str(&format!(
                "{}:{}:{}: {}: {}\n",
                self.file,
                place.line,
                place.column,
                d.severity.word(),
                words(&d.message)
            ));
            if let Some((line, caret)) = excerpt(&self.lines, d.span) {
                out.push_str(&format!("{MARGIN}{line}\n{MARGIN}{caret}\n"));
            }
            if !d.advice.is_empty() {
                out.push_str(&format!("{MARGIN}{}\n", words(&d.advice)));
            }
        }
        if let Some(more) = self.more() {
            out.push_str(&format!("{}: {more}\n", self.file));
        }
        out
    }

    /// One JSON object a line (`marram/check/1`): `schema`, `file`, `line`, `column`, `severity`, `message`, `advice`.
    /// Lines and columns count from 1, columns in characters; both are `null` in the line that says how many more
    /// problems there are.
    pub fn to_json_lines(&self) -> String {
        let mut out = String::new();
        let mut push = |line: Option<usize>, column: Option<usize>, severity: Severity, message: &str, advice: &str| {
            let object = serde_json::json!({
                "schema": "marram/check/1",
                "file": self.file,
                "line": line,
                "column": column,
                "severity": severity.word(),
                "message": words(message),
                "advice": words(advice),
            });
            out.push_str(&object.to_string());
            out.push('\n');
        };
        for d in self.sorted.iter().take(MAX_SHOWN) {
            let place = self.lines.place(d.span.start);
            push(Some(place.line), Some(place.column), d.severity, &d.message, &d.advice);
        }
        if let Some(more) = self.more() {
            let rest = self.sorted.iter().skip(MAX_SHOWN);
            let worst = rest.map(|d| d.severity).min().unwrap_or(Severity::Error);
            push(None, None, worst, &more, "");
        }
        out
    }

    fn more(&self) -> Option<String> {
        let more = self.sorted.len().checked_sub(MAX_SHOWN).filter(|&n| n > 0)?;
        let uncounted = self.sorted.iter().any(|d| d.code == "too-many-problems");
        let at_least = if uncounted { "at least " } else { "" };
        let problems = if more == 1 { "problem is" } else { "problems are" };
        Some(format!("{at_least}{more} more {problems} not shown"))
    }
}

/// A text from a file made safe for a terminal: control characters and marks that turn the direction of writing are
/// shown as `\x1b` or `\u{202e}`, a tab as a blank.
pub fn clean(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '\t' => out.push(' '),
            c if hidden(c) => out.push_str(&shown(c)),
            c => out.push(c),
        }
    }
    out
}

/// A message or an advice: safe for a terminal and of bounded length.
fn words(text: &str) -> String {
    match text.char_indices().nth(MAX_WORDS) {
        Some((end, _)) => format!("{}...", clean(text.get(..end).unwrap_or_default())),
        None => clean(text),
    }
}

/// One character of a line as it is shown.
struct Cell {
    shown: String,
    width: usize,
    /// Whether the caret stands under it.
    marked: bool,
}

/// The line that a span begins in and the carets under it, at most [`MAX_WIDTH`] columns with the margin; `None` when
/// the line is blank and the caret would stand under nothing.
fn excerpt(lines: &Lines, span: Span) -> Option<(String, String)> {
    let index = lines.index_of(span.start);
    let start = lines.start(index);
    let line = lines.line(index);
    if line.trim().is_empty() && !line.contains('\t') {
        return None;
    }
    let room = MAX_WIDTH - MARGIN.len();
    // A line may have megabytes: only what can stand round the caret is looked at.
    let target = span.start.saturating_sub(start).min(line.len());
    let first = back(line, target, room);
    let mut cells = Vec::new();
    let mut column = 0;
    let mut caret_at = None;
    for (i, c) in line.get(first..).unwrap_or_default().char_indices() {
        let at = start + first + i;
        let inside = at >= span.start && at < span.end.max(span.start + 1);
        if inside && caret_at.is_none() {
            caret_at = Some(cells.len());
        }
        if caret_at.is_some_and(|n| cells.len() > n + room) {
            break;
        }
        let (shown, width) = cell(c, column);
        column += width;
        cells.push(Cell { shown, width, marked: inside });
    }
    let caret = caret_at.unwrap_or(cells.len());
    if caret == cells.len() {
        cells.push(Cell { shown: String::new(), width: 1, marked: true });
    }
    let complete = first == 0;
    Some(window(&cells, caret, room, complete, lines, index, first))
}

/// Cuts the cells to `room` columns round the caret.
fn window(
    cells: &[Cell],
    caret: usize,
    room: usize,
    complete: bool,
    lines: &Lines,
    index: usize,
    first: usize,
) -> (String, String) {
    const DOTS: &str = "...";
    let total: usize = cells.iter().map(|c| c.width).sum();
    let rest = lines.line(index).get(first..).unwrap_or_default().chars().count();
    let all = complete && total <= room && rest <= cells.len();
    let (mut from, mut to) = (0, cells.len());
    if !all {
        let side = room.saturating_sub(2 * DOTS.len());
        let width = |a: usize, b: usize| cells.get(a..b).unwrap_or_default().iter().map(|c| c.width).sum::<usize>();
        // A third before the caret, the rest behind it.
        from = caret;
        while from > 0 && width(from - 1, caret) <= side / 3 {
            from -= 1;
        }
        to = caret;
        while to < cells.len() && width(from, to + 1) <= side {
            to += 1;
        }
        while from > 0 && width(from - 1, to) <= side {
            from -= 1;
        }
    }
    let left = if from > 0 || !complete { DOTS } else { "" };
    let right = if to < cells.len() || (!all && rest > cells.len()) { DOTS } else { "" };
    let (mut line, mut under) = (left.to_owned(), " ".repeat(left.len()));
    for cell in cells.get(from..to).unwrap_or_default() {
        line.push_str(&cell.shown);
        under.push_str(&if cell.marked { "^" } else { " " }.repeat(cell.width));
    }
    line.push_str(right);
    (line.trim_end().to_owned(), under.trim_end().to_owned())
}

fn cell(c: char, column: usize) -> (String, usize) {
    match c {
        '\t' => {
            let width = 4 - column % 4;
            (" ".repeat(width), width)
        }
        c if hidden(c) => {
            let shown = shown(c);
            let width = shown.len();
            (shown, width)
        }
        c => (c.to_string(), c.width().unwrap_or(0)),
    }
}

/// At most `n` characters before `at`, as the byte where they begin.
fn back(line: &str, at: usize, n: usize) -> usize {
    let mut at = at;
    while !line.is_char_boundary(at) {
        at -= 1;
    }
    line.get(..at).and_then(|t| t.char_indices().rev().nth(n)).map_or(0, |(i, _)| i)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn at(text: &str, start: usize, end: usize) -> (String, String) {
        excerpt(&Lines::new(text), Span::new(start, end)).unwrap()
    }

    #[test]
    fn the_caret_stands_under_the_place() {
        assert_eq!(at("a\nwind: 5\n", 8, 9), ("wind: 5".into(), "      ^".into()));
        assert_eq!(at("name: x", 0, 4), ("name: x".into(), "^^^^".into()));
        assert_eq!(at("a: {", 4, 4), ("a: {".into(), "    ^".into()));
        // Wide letters take two columns each, a combining accent none.
        assert_eq!(at("七番: x", 8, 9), ("七番: x".into(), "      ^".into()));
        assert_eq!(at("e\u{301}: x", 5, 6), ("e\u{301}: x".into(), "   ^".into()));
    }

    #[test]
    fn tabs_and_control_characters_are_shown() {
        assert_eq!(at("\ta: \u{1b}x", 0, 1), ("    a: \\x1bx".into(), "^^^^".into()));
        assert_eq!(at("a: \u{1b}x", 3, 4), ("a: \\x1bx".into(), "   ^^^^".into()));
        assert_eq!(at("a: \u{202e}x", 6, 7).0, "a: \\u{202e}x");
    }

    #[test]
    fn a_long_line_is_cut_round_the_caret() {
        let text = format!("text: {} HERE {}", "a".repeat(5_000), "b".repeat(3_000_000));
        let place = text.find("HERE").unwrap();
        let (line, caret) = at(&text, place, place + 4);
        assert_eq!(line.len(), MAX_WIDTH - MARGIN.len());
        assert!(line.starts_with("...a") && line.ends_with("b..."));
        assert_eq!(line.find("HERE"), caret.find("^^^^"));
        let (line, _) = at(&text, 0, 4);
        assert!(line.starts_with("text: a") && line.ends_with("a..."), "{line}");
        let (line, caret) = at(&text, text.len(), text.len());
        assert!(line.starts_with("...b") && line.ends_with('b'), "{line}");
        assert_eq!(caret.len(), line.len() + 1);
    }

    #[test]
    fn a_line_that_fits_is_whole() {
        let text = "x".repeat(MAX_WIDTH - MARGIN.len());
        assert_eq!(at(&text, 3, 4).0, text);
    }
}
