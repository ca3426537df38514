//! Nodes of a human file: raw text, lists and maps, each with the bytes where it stood.

/// A range of bytes in the text of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl Span {
    /// From `start` up to, not including, `end`.
    pub fn new(start: usize, end: usize) -> Self {
        Span { start, end: end.max(start) }
    }

    /// The empty span at `at`.
    pub fn at(at: usize) -> Self {
        Span { start: at, end: at }
    }

    /// The part of `text` it covers; empty when it does not lie in `text`.
    pub fn of(self, text: &str) -> &str {
        text.get(self.start..self.end).unwrap_or_default()
    }
}

/// A value with its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// Where it stands in the text: from the first mark (quote, `|`, bracket, first key or dash) to the last
    /// character, without the line break after it. Nothing has an empty span after the colon or the dash.
    pub span: Span,
    /// What it is.
    pub kind: Kind,
}

/// What a value is. A scalar keeps its raw text: `no`, `04` and `+1.3` mean what their key makes of them.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// Nothing stands after the key or the dash.
    Nothing,
    /// A scalar; `plain` when it was written without quotes or block marks.
    Text {
        /// The text, unquoted and unfolded.
        text: String,
        /// Written bare.
        plain: bool,
    },
    /// A list.
    List(Vec<Node>),
    /// A map in file order; a repeated key has been reported and only its first entry stays.
    Map(Vec<Entry>),
    /// Something stood here that could not be read; it has been reported and needs no second message.
    Broken,
}

/// One key of a map and its value.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// The raw key.
    pub key: String,
    /// Where the key stands.
    pub key_span: Span,
    /// Its value.
    pub value: Node,
}

impl Node {
    /// The value of `key` when this is a map that has it.
    pub fn get(&self, key: &str) -> Option<&Node> {
        self.entry(key).map(|e| &e.value)
    }

    /// The entry of `key` when this is a map that has it.
    pub fn entry(&self, key: &str) -> Option<&Entry> {
        self.entries().iter().find(|e| e.key == key)
    }

    /// The entries when this is a map, else none.
    pub fn entries(&self) -> &[Entry] {
        match &self.kind {
            Kind::Map(entries) => entries,
            _ => &[],
        }
    }

    /// The items when this is a list, else none.
    pub fn items(&self) -> &[Node] {
        match &self.kind {
            Kind::List(items) => items,
            _ => &[],
        }
    }

    /// The raw text when this is a scalar.
    pub fn text(&self) -> Option<&str> {
        match &self.kind {
            Kind::Text { text, .. } => Some(text),
            _ => None,
        }
    }

    /// Whether nothing in it is broken, at any depth.
    pub fn is_whole(&self) -> bool {
        match &self.kind {
            Kind::Broken => false,
            Kind::List(items) => items.iter().all(Node::is_whole),
            Kind::Map(entries) => entries.iter().all(|e| e.value.is_whole()),
            Kind::Nothing | Kind::Text { .. } => true,
        }
    }

    /// What it is, in the words of a message: `a text`, `a list`, `a map`, `nothing`.
    pub fn word(&self) -> &'static str {
        match &self.kind {
            Kind::Nothing => "nothing",
            Kind::Text { .. } => "a text",
            Kind::List(_) => "a list",
            Kind::Map(_) => "a map",
            Kind::Broken => "something that could not be read",
        }
    }
}
