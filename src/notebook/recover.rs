//! A text whose syntax breaks somewhere is read again in pieces, so that one slip costs one entry and not the file.
//!
//! Indentation tells the pieces apart: the entries of a map begin at one column, the items of a list with a dash at
//! one column, and whatever stands further right belongs to them. A piece that cannot be read is split again if its
//! first line holds nothing but its key or its dash; the smallest piece that cannot be split becomes broken.

use super::place::BLANKS;
use std::collections::HashSet;

use super::build::{self, Failure};
use super::read::Problems;
use super::{Diagnostic, Entry, Kind, MAX_DEPTH, MAX_VALUES, Node, Span, syntax};

/// Reads what can be read of `text`, whose first error as a whole is `first`.
pub(super) fn recover(text: &str, first: Diagnostic, problems: &mut Problems) -> Option<Node> {
    let bom = if text.starts_with('\u{feff}') { 3 } else { 0 };
    let mut reader = Pieces { file: text, budget: 2 * MAX_VALUES, problems };
    reader.split(Span::new(bom, text.len()), first, 0)
}

struct Pieces<'t, 'p> {
    file: &'t str,
    budget: usize,
    problems: &'p mut Problems,
}

/// One line of a piece.
#[derive(Clone, Copy)]
struct Line<'t> {
    start: usize,
    indent: usize,
    body: &'t str,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Shape {
    Map,
    List,
}

impl<'t> Pieces<'t, '_> {
    /// Splits a piece that cannot be read whole; reports `error` when it cannot be split.
    fn split(&mut self, span: Span, error: Diagnostic, depth: usize) -> Option<Node> {
        let lines = self.lines(span);
        let parts = (depth < MAX_DEPTH && !self.problems.is_full()).then(|| parts(&lines, span)).flatten();
        let Some((shape, parts)) = parts else {
            self.problems.push(error);
            return Some(Node { span: self.trimmed(span), kind: Kind::Broken });
        };
        let before = self.problems.mark();
        let node = match shape {
            Shape::Map => self.map(&parts, depth),
            Shape::List => self.list(&parts, depth),
        };
        if self.problems.mark() == before {
            self.problems.push(error);
        }
        Some(node)
    }

    fn map(&mut self, parts: &[Part], depth: usize) -> Node {
        let mut entries: Vec<Entry> = Vec::new();
        let mut known: HashSet<String> = HashSet::new();
        for part in parts {
            if self.problems.is_full() {
                break;
            }
            if part.stray {
                self.problems.push(syntax::bad_indent(self.trimmed(part.span)));
                continue;
            }
            for entry in self.entry(part.span, depth) {
                if known.insert(entry.key.clone()) {
                    entries.push(entry);
                } else {
                    self.problems.push(build::duplicate(&entry.key, entry.key_span));
                }
            }
        }
        Node { span: around(parts.first(), parts.last(), self), kind: Kind::Map(entries) }
    }

    /// The entry that a piece holds; a key over an unreadable block keeps what the block still gives.
    fn entry(&mut self, span: Span, depth: usize) -> Vec<Entry> {
        let seen = self.problems.mark();
        let error = match build::nodes(span.of(self.file), span.start, &mut self.budget, self.problems) {
            Ok(Some(Node { kind: Kind::Map(entries), .. })) => return entries,
            Ok(Some(node)) => syntax::no_colon(self.first_line(node.span)),
            Ok(None) => return Vec::new(),
            Err(Failure::TooMany(d)) => {
                self.problems.push(d);
                return Vec::new();
            }
            Err(Failure::Here(d)) => d,
        };
        self.problems.back_to(seen);
        let text = span.of(self.file);
        let indent = text.len() - text.trim_start_matches(' ').len();
        let Some((key, key_len, after)) = key_of(text.get(indent..).unwrap_or_default()) else {
            self.problems.push(error);
            return Vec::new();
        };
        let key_span = Span::new(span.start + indent, span.start + indent + key_len);
        let value_start = span.start + indent + after;
        let header = self.file.get(value_start..span.end).unwrap_or_default();
        let value = match block_below(header) {
            Some(offset) => {
                let below = Span::new(value_start + offset, span.end);
                self.split(below, error, depth + 1)
            }
            None => {
                self.problems.push(error);
                None
            }
        };
        let value = value.unwrap_or(Node { span: self.trimmed(Span::new(value_start, span.end)), kind: Kind::Broken });
        vec![Entry { key, key_span, value }]
    }

    fn list(&mut self, parts: &[Part], depth: usize) -> Node {
        let mut items = Vec::new();
        for part in parts {
            if self.problems.is_full() {
                break;
            }
            if part.stray {
                self.problems.push(syntax::bad_indent(self.trimmed(part.span)));
                continue;
            }
            let seen = self.problems.mark();
            match build::nodes(part.span.of(self.file), part.span.start, &mut self.budget, self.problems) {
                Ok(Some(Node { kind: Kind::List(found), .. })) => items.extend(found),
                Ok(_) => {}
                Err(Failure::TooMany(d)) => {
                    self.problems.push(d);
                    break;
                }
                Err(Failure::Here(d)) => {
                    self.problems.back_to(seen);
                    items.extend(self.item(part.span, d, depth));
                }
            }
        }
        Node { span: around(parts.first(), parts.last(), self), kind: Kind::List(items) }
    }

    /// The item behind a dash, read entry by entry.
    fn item(&mut self, span: Span, error: Diagnostic, depth: usize) -> Option<Node> {
        let text = span.of(self.file);
        let dash = text.len() - text.trim_start_matches(' ').len();
        let rest = text.get(dash + 1..).unwrap_or_default();
        let blanks = rest.len() - rest.trim_start_matches(' ').len();
        let inner = Span::new(span.start + dash + 1 + blanks, span.end);
        self.split(inner, error, depth + 1)
    }

    fn lines(&self, span: Span) -> Vec<Line<'t>> {
        let mut lines = Vec::new();
        let mut start = span.start;
        let line_start = self.file.get(..start).and_then(|t| t.rfind('\n')).map_or(0, |i| i + 1);
        let mut lead = start - line_start;
        for raw in span.of(self.file).split_inclusive('\n') {
            let body = raw.trim_end_matches(BLANKS);
            let trimmed = body.trim_start_matches(' ');
            let indent = lead + body.len() - trimmed.len();
            if !trimmed.is_empty() && !trimmed.starts_with('#') {
                lines.push(Line { start, indent, body: trimmed });
            }
            lead = 0;
            start += raw.len();
        }
        lines
    }

    fn trimmed(&self, span: Span) -> Span {
        let text = span.of(self.file);
        let end = span.start + text.trim_end_matches(BLANKS).len();
        let lead = text.len() - text.trim_start_matches(BLANKS).len();
        Span::new((span.start + lead).min(end), end)
    }

    fn first_line(&self, span: Span) -> Span {
        let text = span.of(self.file);
        let end = text.find(['\n', '\r']).unwrap_or(text.len());
        Span::new(span.start, span.start + end)
    }
}

/// A stretch of lines that belongs together.
#[derive(Clone, Copy)]
struct Part {
    span: Span,
    /// Its indentation matches nothing.
    stray: bool,
}

/// The entries or items of a piece, when it has any structure to split by.
fn parts(lines: &[Line], span: Span) -> Option<(Shape, Vec<Part>)> {
    let first = lines.first()?;
    let shape = if is_item(first.body) {
        Shape::List
    } else {
        key_of(first.body)?;
        Shape::Map
    };
    let mut starts: Vec<(usize, bool)> = Vec::new();
    for line in lines {
        let begins = line.indent == first.indent
            && match shape {
                Shape::List => is_item(line.body),
                Shape::Map => !is_item(line.body) && key_of(line.body).is_some(),
            };
        if begins {
            starts.push((line.start, false));
        } else if line.indent < first.indent && !line.body.starts_with(['\t', '}', ']']) {
            starts.push((line.start, true));
        }
    }
    let ends = starts.iter().skip(1).map(|(s, _)| *s).chain([span.end]);
    let parts = starts.iter().zip(ends).map(|(&(start, stray), end)| Part { span: Span::new(start, end), stray });
    Some((shape, parts.collect()))
}

fn around(first: Option<&Part>, last: Option<&Part>, pieces: &Pieces) -> Span {
    match (first, last) {
        (Some(a), Some(b)) => pieces.trimmed(Span::new(a.span.start, b.span.end)),
        _ => Span::default(),
    }
}

fn is_item(body: &str) -> bool {
    body == "-" || body.starts_with("- ")
}

/// The key that a line begins with, its length as written, and the byte after its colon.
fn key_of(body: &str) -> Option<(String, usize, usize)> {
    let quote = body.chars().next().filter(|c| matches!(c, '"' | '\''));
    let line = body.split(['\n', '\r']).next().unwrap_or_default();
    let len = match quote {
        Some(q) => line.get(1..)?.find(q)? + 2,
        None => {
            if line.starts_with(['{', '[', '}', ']', '#', '&', '*', '!', '|', '>', '%', '@', '`', ',', '\t']) {
                return None;
            }
            line.char_indices()
                .find(|&(i, c)| {
                    c == ':' && line.get(i + 1..).is_none_or(|r| r.is_empty() || r.starts_with([' ', '\t']))
                })
                .map(|(i, _)| i)?
        }
    };
    let raw = line.get(..len)?.trim_end_matches(BLANKS);
    let after = line.get(len..)?.trim_start_matches(BLANKS);
    let colon = line.len() - after.len();
    if !after.starts_with(':') {
        return None;
    }
    let key = raw.trim_matches(['"', '\'']);
    (!key.is_empty()).then(|| (key.to_owned(), raw.len(), colon + 1))
}

/// Where the block under `key:` begins, when nothing but a comment stands behind the colon.
fn block_below(after_colon: &str) -> Option<usize> {
    let line_end = after_colon.find('\n')?;
    let head = after_colon.get(..line_end)?.trim_matches(BLANKS);
    let below = after_colon.get(line_end + 1..)?;
    let holds = !below.trim_matches(BLANKS).is_empty();
    (holds && (head.is_empty() || head.starts_with('#'))).then_some(line_end + 1)
}
