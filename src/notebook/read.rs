//! A text becomes nodes and problems.

use super::build::{self, Failure};
use super::{Diagnostic, Kind, MAX_BYTES, Node, Span, guard, recover};

/// Most problems that are kept of one file; reports show fewer.
const MAX_PROBLEMS: usize = 1_000;

/// Reads a text. Gives what could be understood, and every problem in file order.
///
/// The node is `None` when nothing could be read: an empty file, one that is too large, or one that has no
/// structure at all. Where the syntax breaks in one place, the smallest list item or map entry around it
/// becomes [`Kind::Broken`] and everything else is read. Spans are bytes of `text`.
///
/// ```
/// let (node, problems) = marram::notebook::read("hole: 04\nup: +1.3\n");
/// let node = node.unwrap();
/// assert_eq!(node.get("hole").and_then(|n| n.text()), Some("04"));
/// assert!(problems.is_empty());
/// ```
pub fn read(text: &str) -> (Option<Node>, Vec<Diagnostic>) {
    let mut problems = Problems::default();
    let node = read_into(text, &mut problems);
    (node, problems.finish(text))
}

fn read_into(text: &str, problems: &mut Problems) -> Option<Node> {
    if text.len() > MAX_BYTES {
        problems.push(guard::too_big(text.len()));
        return None;
    }
    let clean = guard::without_controls(text, problems);
    let text = clean.as_deref().unwrap_or(text);
    let mut budget = super::MAX_VALUES;
    let seen = problems.mark();
    let node = match build::nodes(text, 0, &mut budget, problems) {
        Ok(node) => node,
        Err(Failure::TooMany(d)) => {
            problems.push(d);
            return None;
        }
        Err(Failure::Here(d)) => {
            problems.back_to(seen);
            recover::recover(text, d, problems)
        }
    };
    match node {
        Some(Node { kind: Kind::Nothing, .. }) | None if problems.is_empty() => {
            problems.push(
                Diagnostic::error("empty-file", Span::at(0), "nothing is written in this file")
                    .advise("begin it with a `format:` line; `marram new` writes a starter file"),
            );
            None
        }
        other => other,
    }
}

/// The problems found so far, up to a limit.
#[derive(Default)]
pub(super) struct Problems {
    list: Vec<Diagnostic>,
    dropped: usize,
    stopped: bool,
}

impl Problems {
    /// Keeps a problem, or only counts it beyond the limit.
    pub fn push(&mut self, d: Diagnostic) {
        if self.list.len() < MAX_PROBLEMS {
            self.list.push(d);
        } else {
            self.dropped += 1;
        }
    }

    /// Whether none was found.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Whether the limit is reached, so that looking for more is of no use; asked before a part is left unread.
    pub fn is_full(&mut self) -> bool {
        let full = self.list.len() >= MAX_PROBLEMS;
        self.stopped |= full;
        full
    }

    /// How far the list has come, for [`Problems::back_to`].
    pub fn mark(&self) -> (usize, usize) {
        (self.list.len(), self.dropped)
    }

    /// Forgets what was found since a mark, because that part is read again in smaller pieces.
    pub fn back_to(&mut self, (len, dropped): (usize, usize)) {
        self.list.truncate(len);
        self.dropped = dropped;
    }

    fn finish(mut self, text: &str) -> Vec<Diagnostic> {
        self.list.sort_by_key(|d| (d.span.start, d.span.end));
        if self.stopped || self.dropped > 0 {
            let message =
                format!("there are more problems than the first {MAX_PROBLEMS}; looking for them stopped there");
            let place = Span::at(self.list.last().map_or(0, |d| d.span.end).min(text.len()));
            self.list.push(
                Diagnostic::error("too-many-problems", place, message).advise("mend the first ones and check again"),
            );
        }
        self.list
    }
}
