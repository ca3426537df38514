//! Where the items and entries of lists and maps stand, and how new ones are written.

use crate::notebook::{Kind, Node};

use super::layout::{Layout, WIDTH};
use super::scalar::{self, Room};
use super::{Path, Refusal, Value};

/// A value on the way of a path.
#[derive(Clone, Debug)]
pub(super) struct Spot<'n> {
    /// Positions from the top.
    pub at: Vec<usize>,
    /// The value.
    pub node: &'n Node,
    /// Whether it stands inside brackets.
    pub flow: bool,
    /// The list or map around it and the position there; none at the top.
    pub around: Option<(&'n Node, usize)>,
}

impl<'n> Spot<'n> {
    /// Follows a path from the top.
    pub fn find(layout: &Layout, root: &'n Node, path: &Path) -> Result<Self, Refusal> {
        let mut spot = Spot { at: Vec::new(), node: root, flow: false, around: None };
        for step in path.steps() {
            let index = step.index_in(spot.node).ok_or_else(|| Refusal::Missing(path.to_string()))?;
            spot = spot.child(layout, index).ok_or_else(|| Refusal::Missing(path.to_string()))?;
        }
        Ok(spot)
    }

    /// The item or entry at `index`.
    pub fn child(&self, layout: &Layout, index: usize) -> Option<Spot<'n>> {
        let node = match &self.node.kind {
            Kind::List(items) => items.get(index)?,
            Kind::Map(entries) => &entries.get(index)?.value,
            _ => return None,
        };
        let mut at = self.at.clone();
        at.push(index);
        Some(Spot { at, node, flow: self.flow || layout.is_flow(self.node), around: Some((self.node, index)) })
    }
}

impl Layout<'_> {
    /// First byte of the item or entry `index`: its dash, its key, or the value itself in `[ … ]`.
    pub fn element_start(&self, container: &Node, index: usize) -> Option<usize> {
        match &container.kind {
            Kind::Map(entries) => entries.get(index).map(|e| e.key_span.start),
            Kind::List(items) if self.is_flow(container) => items.get(index).map(|n| n.span.start),
            Kind::List(items) => match index.checked_sub(1) {
                None => Some(container.span.start),
                Some(before) => self.mark(self.full_end(items.get(before)?), '-'),
            },
            _ => None,
        }
    }

    /// The byte after the colon or the dash of the item or entry `index`; the value itself in `[ … ]`.
    pub fn value_start(&self, container: &Node, index: usize) -> Option<usize> {
        match &container.kind {
            Kind::Map(entries) => self.mark(entries.get(index)?.key_span.end, ':').map(|c| c + 1),
            Kind::List(items) if self.is_flow(container) => items.get(index).map(|n| n.span.start),
            _ => self.element_start(container, index).map(|d| d + 1),
        }
    }

    /// The end of the item or entry `index`.
    pub fn element_end(&self, container: &Node, index: usize) -> Option<usize> {
        match &container.kind {
            Kind::Map(entries) => entries.get(index).map(|e| self.full_end(&e.value).max(e.key_span.end)),
            Kind::List(items) => items.get(index).map(|n| self.full_end(n)),
            _ => None,
        }
    }

    /// The column at which the items or entries of a block list or map begin.
    pub fn element_column(&self, container: &Node) -> usize {
        self.column(self.element_start(container, 0).unwrap_or(container.span.start))
    }
}

/// How many items or entries a list or map has.
pub(super) fn count(container: &Node) -> usize {
    container.items().len() + container.entries().len()
}

/// Writes new values. `strict` puts every text in double quotes, which always reads back.
pub(super) struct Writer<'l, 't> {
    pub layout: &'l Layout<'t>,
    pub strict: bool,
}

impl Writer<'_, '_> {
    /// `key: value` in a block map whose entries begin at `column`; lines after the first are indented.
    pub fn entry(&self, key: &str, value: &Value, column: usize) -> String {
        let key = self.key(key);
        let used = column + key.chars().count() + 2;
        format!("{key}:{}", self.after_key(value, column, used, self.fits(value)))
    }

    /// What stands behind `key:`; begins with a blank or a line break.
    pub fn after_key(&self, value: &Value, column: usize, used: usize, flow: bool) -> String {
        let (eol, layout) = (self.layout.eol, self.layout);
        match value {
            Value::Nothing | Value::Broken => String::new(),
            Value::Text(text) => format!(" {}", self.text(text, column + 2, used)),
            Value::List(items) if !items.is_empty() && !flow => {
                let column = column + layout.list_indent;
                format!("{eol}{}{}", " ".repeat(column), self.items(items, column))
            }
            Value::Map(entries) if !entries.is_empty() && !flow => {
                let column = column + layout.map_indent;
                format!("{eol}{}{}", " ".repeat(column), self.entries(entries, column))
            }
            value => format!(" {}", self.flow(value)),
        }
    }

    /// `- value` in a block list whose dashes stand at `column`; `gap` blanks follow the dash.
    pub fn item(&self, value: &Value, column: usize, gap: usize, flow: bool) -> String {
        let inner = column + 1 + gap;
        let blanks = " ".repeat(gap);
        match value {
            Value::Nothing | Value::Broken => "-".to_owned(),
            Value::Text(text) => format!("-{blanks}{}", self.text(text, column + 2, inner)),
            Value::Map(entries) if !entries.is_empty() && !flow => format!("-{blanks}{}", self.entries(entries, inner)),
            Value::List(items) if !items.is_empty() && !flow => format!("-{blanks}{}", self.items(items, inner)),
            value => format!("-{blanks}{}", self.flow(value)),
        }
    }

    fn entries(&self, entries: &[(String, Value)], column: usize) -> String {
        self.lines(entries.iter().map(|(k, v)| self.entry(k, v, column)), column)
    }

    fn items(&self, items: &[Value], column: usize) -> String {
        self.lines(items.iter().map(|v| self.item(v, column, 1, self.fits(v))), column)
    }

    fn lines(&self, parts: impl Iterator<Item = String>, column: usize) -> String {
        parts.collect::<Vec<_>>().join(&format!("{}{}", self.layout.eol, " ".repeat(column)))
    }

    /// A value inside brackets.
    pub fn flow(&self, value: &Value) -> String {
        let comma = |parts: Vec<String>| parts.join(", ");
        match value {
            Value::Nothing | Value::Broken => String::new(),
            Value::Text(text) => {
                let room = Room { flow: true, indent: 0, used: 0, eol: self.layout.eol };
                if self.strict { scalar::double(text) } else { scalar::best(text, room) }
            }
            Value::List(items) if items.iter().any(|v| matches!(v, Value::Map(_))) => {
                format!("[ {} ]", comma(items.iter().map(|v| self.flow(v)).collect()))
            }
            Value::List(items) => format!("[{}]", comma(items.iter().map(|v| self.flow(v)).collect())),
            Value::Map(entries) if entries.is_empty() => "{}".to_owned(),
            Value::Map(entries) => {
                format!("{{ {} }}", comma(entries.iter().map(|(k, v)| self.flow_entry(k, v)).collect()))
            }
        }
    }

    /// `key: value` inside brackets.
    pub fn flow_entry(&self, key: &str, value: &Value) -> String {
        match value {
            Value::Nothing => format!("{}:", self.key(key)),
            value => format!("{}: {}", self.key(key), self.flow(value)),
        }
    }

    fn text(&self, text: &str, indent: usize, used: usize) -> String {
        let room = Room { flow: false, indent, used, eol: self.layout.eol };
        if self.strict { scalar::double(text) } else { scalar::best(text, room) }
    }

    fn key(&self, key: &str) -> String {
        if scalar::plain(key, true) { key.to_owned() } else { scalar::double(key) }
    }

    /// Whether a value is short and without prose, so that it reads well on one line between brackets.
    pub fn fits(&self, value: &Value) -> bool {
        fn short(value: &Value) -> bool {
            match value {
                Value::Text(t) => scalar::plain(t, true) && t.chars().count() <= 30 && t.split(' ').count() <= 4,
                Value::List(items) => items.iter().all(short),
                Value::Map(entries) => entries.iter().all(|(_, v)| short(v)),
                Value::Nothing | Value::Broken => false,
            }
        }
        short(value) && self.flow(value).chars().count() <= WIDTH * 7 / 10
    }
}
