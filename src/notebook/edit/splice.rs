//! From an edit to the characters that change.

use crate::notebook::Node;

use super::element::Writer;
use super::layout::Layout;
use super::value::Meaning;
use super::{Edit, Op, Path, Refusal};

/// Stretches of a text, in order, and what comes in their place.
pub(super) type Splices = Vec<(usize, usize, String)>;

/// One way to make an edit: characters to replace, what that must mean, and the way back.
pub(super) struct Plan {
    pub splices: Splices,
    pub meaning: Meaning,
    pub inverse: Edit,
}

impl Plan {
    /// The text with the splices made.
    pub fn made(&self, text: &str) -> String {
        let mut out = String::with_capacity(text.len() + 256);
        let mut at = 0;
        for (start, end, new) in &self.splices {
            out.push_str(text.get(at..*start).unwrap_or_default());
            out.push_str(new);
            at = *end;
        }
        out.push_str(text.get(at..).unwrap_or_default());
        out
    }
}

/// The ways to make `edit`, the one that reads best first.
pub(super) fn plans(layout: &Layout, root: &Node, edit: &Edit) -> Result<Vec<Plan>, Refusal> {
    let hand = Hand { layout, root, path: &edit.path };
    match &edit.op {
        Op::Set { value, was, back } => hand.set(value, was.as_ref(), back.as_ref()),
        Op::Add { key, value, at, back } => hand.add(key, value, *at, back.as_ref()),
        Op::Push { value, at, back } => hand.push(value, *at, back.as_ref()),
        Op::Remove { was } => hand.remove(was.as_ref()),
    }
}

/// An edit at work: the text, its nodes, the place.
#[derive(Clone, Copy)]
pub(super) struct Hand<'h, 't> {
    pub layout: &'h Layout<'t>,
    pub root: &'h Node,
    pub path: &'h Path,
}

impl<'h, 't> Hand<'h, 't> {
    pub fn name(&self) -> String {
        self.path.to_string()
    }

    pub fn unproved(&self) -> Refusal {
        Refusal::Unproved(self.name())
    }

    pub fn wrong(&self, node: &Node, wanted: &'static str) -> Refusal {
        Refusal::Wrong { path: self.name(), found: node.word(), wanted }
    }

    pub fn writers(&self) -> [Writer<'h, 't>; 2] {
        [false, true].map(|strict| Writer { layout: self.layout, strict })
    }
}
