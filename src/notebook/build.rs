//! Parser events become nodes; what the guard forbids is reported where it stands.

use super::place::BLANKS;
use std::collections::HashSet;

use granit_parser::{Event, Options, Parser, ScalarStyle, Span as Mark, StrInput, StructureStyle};

use super::read::Problems;
use super::{Diagnostic, Entry, Kind, MAX_DEPTH, MAX_TEXT, MAX_VALUES, Node, Span, endings, quoted, syntax};

/// Why a text could not be read to its end.
pub(super) enum Failure {
    /// The syntax breaks here, or it is nested too deep: smaller pieces may still be read.
    Here(Diagnostic),
    /// The file has too many values: nothing more is tried.
    TooMany(Diagnostic),
}

/// Reads `text`, which stands at byte `base` of its file, into one node; `None` when it holds no document.
/// `budget` is the number of events that may still be used.
pub(super) fn nodes(
    text: &str,
    base: usize,
    budget: &mut usize,
    problems: &mut Problems,
) -> Result<Option<Node>, Failure> {
    let mut options = Options::default();
    options.emit_unresolved_aliases = true;
    let parser = Parser::new_from_str_with_options(text, options);
    Builder { text, base, parser, budget, problems, last: base }.document()
}

struct Builder<'t, 'p> {
    text: &'t str,
    base: usize,
    parser: Parser<'t, StrInput<'t>>,
    budget: &'p mut usize,
    problems: &'p mut Problems,
    /// End of the last token seen, where the header of a block scalar is looked for.
    last: usize,
}

impl<'t> Builder<'t, '_> {
    fn document(mut self) -> Result<Option<Node>, Failure> {
        let mut root = None;
        while let Some((event, mark)) = self.next()? {
            match event {
                Event::StreamEnd => break,
                Event::DocumentStart(..) if root.is_some() => {
                    let span = self.place(mark);
                    self.problems.push(
                        Diagnostic::error("second-document", span, "a second document begins here; a file holds one")
                            .advise("delete this line and what follows, or keep it in a file of its own"),
                    );
                    break;
                }
                Event::StreamStart | Event::DocumentStart(..) | Event::DocumentEnd => {}
                event => root = Some(self.node(event, mark, 0)?),
            }
        }
        Ok(root)
    }

    /// The next event; none when so many problems were found that the rest is left unread.
    fn next(&mut self) -> Result<Option<(Event<'t>, Mark)>, Failure> {
        if self.problems.is_full() {
            return Ok(None);
        }
        match self.parser.next_event() {
            None => Ok(None),
            Some(Err(e)) => Err(Failure::Here(syntax::explain(self.text, self.base, &e))),
            Some(Ok((event, mark))) => {
                let Some(left) = self.budget.checked_sub(1) else {
                    let span = self.place(mark);
                    return Err(Failure::TooMany(
                        Diagnostic::error(
                            "too-many-values",
                            span,
                            format!("the file holds more than {MAX_VALUES} values"),
                        )
                        .advise("a course notebook holds some thousands: is it the right file?"),
                    ));
                };
                *self.budget = left;
                Ok(Some((event, mark)))
            }
        }
    }

    /// The node that `event` begins, with everything in it.
    fn node(&mut self, event: Event<'t>, mark: Mark, depth: usize) -> Result<Node, Failure> {
        let span = self.place(mark);
        match event {
            Event::Scalar(value, style, anchor, tag) => {
                let span = self.scalar_span(style, span);
                let fine = self.properties(anchor, tag.is_some(), span);
                if style == ScalarStyle::Plain && span.start == span.end {
                    return Ok(Node { span, kind: if fine { Kind::Nothing } else { Kind::Broken } });
                }
                self.last = span.end;
                if value.len() > MAX_TEXT {
                    self.problems.push(
                        Diagnostic::error(
                            "too-long-text",
                            Span::new(span.start, span.start + 1),
                            format!("this text has {} bytes; at most {MAX_TEXT} (64 KiB) are read", value.len()),
                        )
                        .advise("is a quote missing at its end? Else split it"),
                    );
                    return Ok(Node { span, kind: Kind::Broken });
                }
                let plain = style == ScalarStyle::Plain;
                if plain && let Some(d) = endings::hash(self.text, self.local(span.end), &value) {
                    self.problems
                        .push(Diagnostic { span: Span::new(d.span.start + self.base, d.span.end + self.base), ..d });
                }
                Ok(Node {
                    span,
                    kind: if fine { Kind::Text { text: value.into_owned(), plain } } else { Kind::Broken },
                })
            }
            Event::SequenceStart(_, anchor, tag) => {
                self.properties(anchor, tag.is_some(), span);
                self.enter(span, depth)?;
                self.list(span, depth + 1)
            }
            Event::MappingStart(style, anchor, tag) => {
                self.properties(anchor, tag.is_some(), span);
                self.enter(span, depth)?;
                self.map(span, style, depth + 1)
            }
            _ => {
                self.last = span.end;
                self.problems.push(
                    Diagnostic::error("alias", span, "a `*name` that stands for another place in the file is not read")
                        .advise("write the value itself, or put a text that begins with `*` in quotes"),
                );
                Ok(Node { span, kind: Kind::Broken })
            }
        }
    }

    fn enter(&mut self, span: Span, depth: usize) -> Result<(), Failure> {
        // A block begins with no mark of its own.
        if span.end > span.start {
            self.last = span.end;
        }
        if depth >= MAX_DEPTH {
            return Err(Failure::Here(
                Diagnostic::error(
                    "too-deep",
                    Span::new(span.start, span.start + 1),
                    format!("lists and maps are nested more than {MAX_DEPTH} deep here"),
                )
                .advise("is a closing bracket missing?"),
            ));
        }
        Ok(())
    }

    fn list(&mut self, start: Span, depth: usize) -> Result<Node, Failure> {
        let mut items: Vec<Node> = Vec::new();
        let mut end = start.end;
        while let Some((event, mark)) = self.next()? {
            if matches!(event, Event::SequenceEnd) {
                end = end.max(self.close(mark));
                break;
            }
            let mut node = self.node(event, mark, depth)?;
            if node.kind == Kind::Nothing {
                node.span = self.after_dash(node.span);
                self.last = node.span.end;
            }
            end = end.max(node.span.end);
            items.push(node);
        }
        Ok(Node { span: Span::new(start.start, end), kind: Kind::List(items) })
    }

    fn map(&mut self, start: Span, style: StructureStyle, depth: usize) -> Result<Node, Failure> {
        let flow = style == StructureStyle::Flow;
        let mut entries: Vec<Entry> = Vec::new();
        let mut seen: HashSet<String> = HashSet::new();
        let mut end = start.end;
        while let Some((event, mark)) = self.next()? {
            if matches!(event, Event::MappingEnd) {
                end = end.max(self.close(mark));
                break;
            }
            let key = self.node(event, mark, depth)?;
            let colon = self.colon_after(key.span);
            if let Some(colon) = colon {
                self.last = self.last.max(colon + 1);
            }
            let Some((event, mark)) = self.next()? else { break };
            let block_list = matches!(event, Event::SequenceStart(StructureStyle::Block, ..));
            let mut value = self.node(event, mark, depth)?;
            if block_list && let Some(dash) = self.first_dash(colon) {
                value.span.start = dash;
            }
            if value.span.start == value.span.end {
                value.span = Span::at(colon.map_or(key.span.end, |c| c + 1));
            }
            end = end.max(value.span.end);
            let Kind::Text { text: name, .. } = key.kind else {
                if key.kind != Kind::Broken {
                    self.problems.push(
                        Diagnostic::error(
                            "key-not-text",
                            self.visible(key.span),
                            format!("a key is a word, not {}", key.word()),
                        )
                        .advise("write `key: value`"),
                    );
                }
                continue;
            };
            if colon.is_none() && value.kind == Kind::Nothing {
                let d = self.dangling(&entries, &name, key.span, flow);
                self.problems.push(d);
                continue;
            }
            // Most maps are small, and looking through them is faster than hashing.
            if seen.is_empty() && entries.len() >= 16 {
                seen.extend(entries.iter().map(|e| e.key.clone()));
            }
            let again =
                if seen.is_empty() { entries.iter().any(|e| e.key == name) } else { !seen.insert(name.clone()) };
            if again {
                self.problems.push(duplicate(&name, key.span));
                continue;
            }
            entries.push(Entry { key: name, key_span: key.span, value });
        }
        Ok(Node { span: Span::new(start.start, end), kind: Kind::Map(entries) })
    }

    /// A word without a colon among the entries of a map: the tail of a text that a comma ended, or a key alone.
    fn dangling(&self, entries: &[Entry], name: &str, key: Span, flow: bool) -> Diagnostic {
        if flow
            && let Some(before) = entries.last()
            && matches!(before.value.kind, Kind::Text { plain: true, .. })
        {
            let gap = Span::new(self.local(before.value.span.end), self.local(key.start)).of(self.text);
            if gap.trim_matches(BLANKS) == "," {
                return endings::comma(before.value.span.end, gap, &before.key);
            }
        }
        Diagnostic::error("key-without-value", key, format!("{} has no colon and no value", quoted(name)))
            .advise("write `key: value`")
    }

    /// Reports anchors and tags; false when the value has one.
    fn properties(&mut self, anchor: usize, tag: bool, span: Span) -> bool {
        if anchor != 0 {
            self.problems.push(
                Diagnostic::error("alias", self.visible(span), "a value marked with `&name` is not read")
                    .advise("delete the mark, or put a text that begins with `&` in quotes"),
            );
        }
        if tag {
            self.problems.push(
                Diagnostic::error("tag", self.visible(span), "a value marked with `!name` is not read")
                    .advise("delete the mark, or put a text that begins with `!` in quotes"),
            );
        }
        anchor == 0 && !tag
    }

    /// A byte of the file as a byte of the piece that is read.
    fn local(&self, at: usize) -> usize {
        at.saturating_sub(self.base)
    }

    /// Bytes of the file that a parser mark covers.
    fn place(&self, mark: Mark) -> Span {
        let range = mark.byte_range().unwrap_or_else(|| self.local(self.last)..self.local(self.last));
        Span::new(range.start + self.base, range.end + self.base)
    }

    fn close(&mut self, mark: Mark) -> usize {
        let span = self.place(mark);
        if span.end > span.start {
            self.last = span.end;
            return span.end;
        }
        0
    }

    fn visible(&self, span: Span) -> Span {
        if span.end > span.start { span } else { Span::new(span.start, span.start + 1) }
    }

    /// The byte of the colon that follows a key, blanks aside.
    fn colon_after(&self, key: Span) -> Option<usize> {
        let rest = self.text.get(self.local(key.end)..)?;
        let at = rest.len() - rest.trim_start_matches(BLANKS).len();
        rest.get(at..)?.starts_with(':').then_some(key.end + at)
    }

    /// Where the nothing behind a dash stands; the parser looks for it behind the comments that follow.
    fn after_dash(&self, span: Span) -> Span {
        let from = self.local(self.last.min(span.start));
        let stretch = self.text.get(from..self.local(span.start)).unwrap_or_default();
        let dash = marks(stretch).filter(|&(_, c)| c == '-').last();
        dash.map_or(span, |(i, _)| Span::at(self.base + from + i + 1))
    }

    /// The first dash of a list under a key; the parser gives the item instead where the dash stands below its key.
    fn first_dash(&self, colon: Option<usize>) -> Option<usize> {
        let from = colon? + 1;
        marks(self.text.get(self.local(from)..)?).find(|&(_, c)| c == '-').map(|(i, _)| from + i)
    }

    /// The parser gives only the lines of a block scalar; its span begins at the `|` or `>` and ends with its last text.
    fn scalar_span(&self, style: ScalarStyle, span: Span) -> Span {
        if !matches!(style, ScalarStyle::Literal | ScalarStyle::Folded) {
            return span;
        }
        let from = self.local(self.last);
        let to = (self.local(span.start)).max(from);
        let start = block_header(self.text.get(from..).unwrap_or_default()).map_or(to, |i| from + i);
        let end = (self.local(span.end)).max(start);
        let shown = self.text.get(start..end).unwrap_or_default().trim_end_matches(BLANKS);
        Span::new(start + self.base, start + shown.len() + self.base)
    }
}

/// A key that stands a second time in its map.
pub(super) fn duplicate(key: &str, span: Span) -> Diagnostic {
    Diagnostic::error("duplicate-key", span, format!("the key {} stands here a second time", quoted(key)))
        .advise("keep one of the two; the first one is read")
}

/// The byte of the `|` or `>` that begins a block scalar, comments and line breaks before it aside.
fn block_header(text: &str) -> Option<usize> {
    marks(text).find(|&(_, c)| matches!(c, '|' | '>')).map(|(i, _)| i)
}

/// The characters of `text` that are neither blank nor in a comment.
pub(super) fn marks(text: &str) -> impl Iterator<Item = (usize, char)> {
    let mut comment = false;
    let mut before = ' ';
    text.char_indices().filter(move |&(_, c)| {
        if matches!(c, '\n' | '\r') {
            comment = false;
        } else if c == '#' && BLANKS.contains(&before) {
            comment = true;
        }
        before = c;
        !comment && !BLANKS.contains(&c)
    })
}
