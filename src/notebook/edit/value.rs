//! Values without places, paths to them, and what an edit means for them.

use std::fmt;

use crate::notebook::{Kind, Node};

/// A value of raw text without its place: what edits write and what proofs compare.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Value {
    /// Nothing after the key or dash.
    Nothing,
    /// Raw text.
    Text(String),
    /// A list.
    List(Vec<Value>),
    /// A map in order.
    Map(Vec<(String, Value)>),
    /// Something that could not be read.
    Broken,
}

impl Value {
    /// A map of these entries, in this order.
    pub fn map<K: Into<String>, V: Into<Value>>(entries: impl IntoIterator<Item = (K, V)>) -> Self {
        Value::Map(entries.into_iter().map(|(k, v)| (k.into(), v.into())).collect())
    }

    /// A list of these items.
    pub fn list<V: Into<Value>>(items: impl IntoIterator<Item = V>) -> Self {
        Value::List(items.into_iter().map(Into::into).collect())
    }

    /// The value at the end of `path` of positions.
    fn at_mut(&mut self, path: &[usize]) -> Option<&mut Value> {
        let Some((first, rest)) = path.split_first() else { return Some(self) };
        match self {
            Value::List(items) => items.get_mut(*first)?.at_mut(rest),
            Value::Map(entries) => entries.get_mut(*first)?.1.at_mut(rest),
            _ => None,
        }
    }
}

impl From<&str> for Value {
    fn from(text: &str) -> Self {
        Value::Text(text.to_owned())
    }
}

impl From<String> for Value {
    fn from(text: String) -> Self {
        Value::Text(text)
    }
}

impl From<&Node> for Value {
    fn from(node: &Node) -> Self {
        match &node.kind {
            Kind::Nothing => Value::Nothing,
            Kind::Broken => Value::Broken,
            Kind::Text { text, .. } => Value::Text(text.clone()),
            Kind::List(items) => Value::List(items.iter().map(Value::from).collect()),
            Kind::Map(entries) => Value::Map(entries.iter().map(|e| (e.key.clone(), Value::from(&e.value))).collect()),
        }
    }
}

/// One step of a [`Path`].
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Step {
    /// The value of a key.
    Key(String),
    /// An item of a list, counted from 0.
    Item(usize),
    /// The first item of a list, a map, whose `key` has this raw text: `hole` is `4`. Holds when items move.
    Of {
        /// The key.
        key: String,
        /// Its raw text.
        text: String,
    },
}

/// The way to a value from the top of a file.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Path(Vec<Step>);

impl Path {
    /// The top of the file.
    pub fn new() -> Self {
        Path::default()
    }

    /// On to the value of `key`.
    #[must_use]
    pub fn key(self, key: &str) -> Self {
        self.step(Step::Key(key.to_owned()))
    }

    /// On to item `index`, counted from 0.
    #[must_use]
    pub fn item(self, index: usize) -> Self {
        self.step(Step::Item(index))
    }

    /// On to the item whose `key` is `text`.
    #[must_use]
    pub fn of(self, key: &str, text: &str) -> Self {
        self.step(Step::Of { key: key.to_owned(), text: text.to_owned() })
    }

    /// On by `step`.
    #[must_use]
    pub fn step(mut self, step: Step) -> Self {
        self.0.push(step);
        self
    }

    /// The steps.
    pub fn steps(&self) -> &[Step] {
        &self.0
    }

    /// The path to the list or map around it, and the last step.
    pub fn split(&self) -> Option<(Path, &Step)> {
        let (last, rest) = self.0.split_last()?;
        Some((Path(rest.to_vec()), last))
    }

    /// The node there.
    pub fn find<'n>(&self, node: &'n Node) -> Option<&'n Node> {
        self.0.iter().try_fold(node, |node, step| {
            let index = step.index_in(node)?;
            node.items().get(index).or_else(|| node.entries().get(index).map(|e| &e.value))
        })
    }
}

impl Step {
    /// The position of the item or entry that the step names in `node`.
    pub(super) fn index_in(&self, node: &Node) -> Option<usize> {
        match self {
            Step::Key(key) => node.entries().iter().position(|e| e.key == *key),
            Step::Item(index) => (*index < node.items().len()).then_some(*index),
            Step::Of { key, text } => {
                node.items().iter().position(|item| item.get(key).and_then(Node::text) == Some(text.as_str()))
            }
        }
    }
}

impl fmt::Display for Path {
    /// `holes[hole 4].notes[2]`; items are counted from 1, as a person counts.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.is_empty() {
            return f.write_str("the file");
        }
        for (n, step) in self.0.iter().enumerate() {
            match step {
                Step::Key(key) if n == 0 => f.write_str(key)?,
                Step::Key(key) => write!(f, ".{key}")?,
                Step::Item(index) => write!(f, "[{}]", index + 1)?,
                Step::Of { key, text } => write!(f, "[{key} {text}]")?,
            }
        }
        Ok(())
    }
}

/// What an edit does to values: the part of the proof that knows nothing of text.
#[derive(Clone, Debug)]
pub(super) struct Meaning {
    /// Positions from the top to the value or to the list or map.
    pub path: Vec<usize>,
    /// What happens there.
    pub act: Act,
}

/// See [`Meaning`].
#[derive(Clone, Debug)]
pub(super) enum Act {
    /// The value becomes this.
    Set(Value),
    /// An item comes at this position.
    Item(usize, Value),
    /// An entry comes at this position.
    Entry(usize, String, Value),
    /// The item or entry at this position goes.
    Remove(usize),
}

impl Meaning {
    /// Applies it to `root`; false when the place is not there.
    pub fn apply(&self, root: &mut Value) -> bool {
        let Some(at) = root.at_mut(&self.path) else { return false };
        match (&self.act, at) {
            (Act::Set(value), at) => *at = value.clone(),
            (Act::Item(i, value), Value::List(items)) if *i <= items.len() => items.insert(*i, value.clone()),
            (Act::Entry(i, key, value), Value::Map(entries)) if *i <= entries.len() => {
                entries.insert(*i, (key.clone(), value.clone()));
            }
            (Act::Remove(i), Value::List(items)) if *i < items.len() => {
                items.remove(*i);
            }
            (Act::Remove(i), Value::Map(entries)) if *i < entries.len() => {
                entries.remove(*i);
            }
            _ => return false,
        }
        true
    }
}
