//! Nodes of a human file: raw text, lists and maps, each with the bytes where it stood.

/// A range of bytes in the text of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct Span {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

/// A value with its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// Where it stands in the text.
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
        match &self.kind {
            Kind::Map(entries) => entries.iter().find(|e| e.key == key).map(|e| &e.value),
            _ => None,
        }
    }

    /// The raw text when this is a scalar.
    pub fn text(&self) -> Option<&str> {
        match &self.kind {
            Kind::Text { text, .. } => Some(text),
            _ => None,
        }
    }
}
