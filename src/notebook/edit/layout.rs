//! How a text is laid out: line ends, indentation, what is written between brackets.

use crate::notebook::build::marks;
use crate::notebook::place::BLANKS;
use crate::notebook::{Kind, Node};

/// The layout of a text as far as edits must follow it.
pub(super) struct Layout<'t> {
    pub text: &'t str,
    /// The line end to write: that of the first line.
    pub eol: &'static str,
    /// How far lists stand to the right of their key.
    pub list_indent: usize,
    /// How far maps stand to the right of their key.
    pub map_indent: usize,
    /// Where keys and texts stand, in order.
    texts: Vec<(usize, usize)>,
}

/// Widest line that an edit writes when it can help it.
pub(super) const WIDTH: usize = 100;

impl<'t> Layout<'t> {
    pub fn of(text: &'t str, root: &Node) -> Self {
        let eol = match text.find('\n') {
            Some(i) if text.get(..i).is_some_and(|t| t.ends_with('\r')) => "\r\n",
            _ => "\n",
        };
        let mut layout = Layout { text, eol, list_indent: 2, map_indent: 2, texts: Vec::new() };
        let (mut list, mut map) = (None, None);
        layout.habits(root, &mut list, &mut map);
        layout.note_texts(root);
        layout.list_indent = list.unwrap_or(2);
        layout.map_indent = map.unwrap_or(2);
        layout
    }

    /// Finds the first list and the first map under a key.
    fn habits(&self, node: &Node, list: &mut Option<usize>, map: &mut Option<usize>) {
        if list.is_some() && map.is_some() || self.is_flow(node) {
            return;
        }
        for e in node.entries() {
            if e.value.span.start > e.key_span.end && !self.is_flow(&e.value) {
                let step = self.column(e.value.span.start).checked_sub(self.column(e.key_span.start));
                match (&e.value.kind, step) {
                    (Kind::List(_), Some(n)) => *list = list.or(Some(n)),
                    (Kind::Map(_), Some(n)) if n > 0 => *map = map.or(Some(n)),
                    _ => {}
                }
            }
            self.habits(&e.value, list, map);
        }
        for item in node.items() {
            self.habits(item, list, map);
        }
    }

    /// Whether a list or map is written between brackets.
    pub fn is_flow(&self, node: &Node) -> bool {
        matches!(node.kind, Kind::List(_) | Kind::Map(_)) && node.span.of(self.text).starts_with(['{', '['])
    }

    /// Whether it is a list or map laid out by indentation.
    pub fn is_block(&self, node: &Node) -> bool {
        matches!(node.kind, Kind::List(_) | Kind::Map(_)) && !self.is_flow(node)
    }

    /// The bytes of the text from `start` to `end`.
    pub fn slice(&self, start: usize, end: usize) -> &'t str {
        self.text.get(start..end).unwrap_or_default()
    }

    /// First byte of the line that holds `at`.
    pub fn line_start(&self, at: usize) -> usize {
        self.slice(0, at)
            .rfind('\n')
            .map_or_else(|| if self.text.starts_with('\u{feff}') { 3.min(at) } else { 0 }, |i| i + 1)
    }

    /// First byte of the line after the one that holds `at`; the end of the text in the last line.
    pub fn next_line(&self, at: usize) -> usize {
        self.slice(at, self.text.len()).find('\n').map_or(self.text.len(), |i| at + i + 1)
    }

    /// The end of the line that holds `at`, without its line break.
    pub fn line_end(&self, at: usize) -> usize {
        let start = self.line_start(at);
        start + self.slice(start, self.next_line(at)).trim_end_matches(['\n', '\r']).len()
    }

    /// The column of `at`, from 0, in characters.
    pub fn column(&self, at: usize) -> usize {
        self.slice(self.line_start(at), at).chars().count()
    }

    /// Whether only blanks stand before `at` in its line.
    pub fn begins_line(&self, at: usize) -> bool {
        self.slice(self.line_start(at), at).bytes().all(|b| b == b' ')
    }

    /// Whether the text ends without a line break.
    pub fn is_open_end(&self, at: usize) -> bool {
        at == self.text.len() && !self.text.ends_with('\n')
    }

    /// A byte in the last line of a node: its end, or the start of the last blank line that a `|+` block keeps.
    pub fn full_end(&self, node: &Node) -> usize {
        let last = match &node.kind {
            Kind::List(items) if self.is_block(node) => items.last(),
            Kind::Map(entries) if self.is_block(node) => entries.last().map(|e| &e.value),
            _ => None,
        };
        if let Some(last) = last {
            return self.full_end(last);
        }
        if self.keeps_blank_lines(node) {
            let after = self.next_line(node.span.end);
            let mut end = node.span.end;
            let mut at = after;
            while at < self.text.len() && self.slice(at, self.next_line(at)).trim_matches(BLANKS).is_empty() {
                end = at;
                at = self.next_line(at);
            }
            return end;
        }
        node.span.end
    }

    /// Whether it is a block scalar with a `+` behind its mark.
    fn keeps_blank_lines(&self, node: &Node) -> bool {
        self.block_header(node).is_some_and(|h| h.split('#').next().is_some_and(|h| h.contains('+')))
    }

    /// The first line of a block scalar from its mark, when it is one.
    pub fn block_header(&self, node: &Node) -> Option<&'t str> {
        let written = node.span.of(self.text);
        let block = matches!(node.kind, Kind::Text { plain: false, .. }) && written.starts_with(['|', '>']);
        block.then(|| written.split(['\n', '\r']).next().unwrap_or_default())
    }

    /// First mark `c` at or after `from`, comments aside.
    pub fn mark(&self, from: usize, c: char) -> Option<usize> {
        marks(self.slice(from, self.text.len())).next().filter(|&(_, found)| found == c).map(|(i, _)| from + i)
    }

    /// Whether a comment stands between the two bytes; a `#` inside a text is none.
    pub fn has_comment(&self, start: usize, end: usize) -> bool {
        self.slice(start, end).match_indices('#').any(|(i, _)| {
            let at = start + i;
            let before = self.slice(0, at).chars().next_back().unwrap_or(' ');
            let text = self.texts.partition_point(|&(s, _)| s <= at).checked_sub(1).and_then(|n| self.texts.get(n));
            BLANKS.contains(&before) && text.is_none_or(|&(_, e)| at >= e)
        })
    }

    /// Notes where keys and texts stand; of a block scalar its lines without the one of the mark.
    fn note_texts(&mut self, node: &Node) {
        if matches!(node.kind, Kind::Text { .. }) {
            let header = self.block_header(node).map_or(0, str::len);
            self.texts.push((node.span.start + header, node.span.end));
        }
        for e in node.entries() {
            self.texts.push((e.key_span.start, e.key_span.end));
            self.note_texts(&e.value);
        }
        for item in node.items() {
            self.note_texts(item);
        }
    }

    /// How many lines from the line start `at` on, towards `step`, hold nothing but a comment or blanks; at most `most`.
    pub fn idle_lines(&self, at: usize, forward: bool, most: usize) -> usize {
        let (mut at, mut n) = (at, 0);
        while n < most {
            let (from, to) = if forward {
                (at, self.next_line(at))
            } else {
                let Some(end) = at.checked_sub(1) else { break };
                (self.line_start(end), at)
            };
            let line = self.slice(from, to).trim_matches(BLANKS);
            if from == to || !(line.is_empty() || line.starts_with('#')) {
                break;
            }
            at = if forward { to } else { from };
            n += 1;
        }
        n
    }

    /// The line start `n` lines on or back from the line start `at`.
    pub fn lines_off(&self, at: usize, forward: bool, n: usize) -> usize {
        (0..n).fold(at, |at, _| if forward { self.next_line(at) } else { self.line_start(at.saturating_sub(1)) })
    }
}
