//! An entry or item is taken away.

use crate::notebook::place::BLANKS;
use crate::notebook::{Kind, Node};

use super::element::{Spot, count};
use super::splice::{Hand, Plan, Splices};
use super::value::{Act, Meaning};
use super::{Back, Edit, Op, Refusal, Step, Value};

impl Hand<'_, '_> {
    pub(super) fn remove(&self, was: Option<&Value>) -> Result<Vec<Plan>, Refusal> {
        let (around, step) = self.path.split().ok_or_else(|| self.unproved())?;
        let spot = Spot::find(self.layout, self.root, &around)?;
        let index = self.index_to_remove(&spot, step, was)?;
        let hand = Hand { path: &around, ..*self };
        if count(spot.node) == 1 {
            return hand.empty(&spot);
        }
        let old = spot.child(self.layout, index).map(|s| Value::from(s.node)).ok_or_else(|| self.unproved())?;
        let flow = spot.flow || self.layout.is_flow(spot.node);
        let made = if flow { hand.flow_remove(spot.node, index) } else { hand.block_remove(spot.node, index) };
        let (splices, back) = made?;
        let op = match spot.node.entries().get(index) {
            Some(entry) => Op::Add { key: entry.key.clone(), value: old, at: Some(index), back: Some(back) },
            None => Op::Push { value: old, at: Some(index), back: Some(back) },
        };
        // The key that the path goes by is the one that goes.
        let around = match (around.split(), spot.at.last(), step) {
            (Some((list, Step::Of { key, .. })), Some(item), Step::Key(gone)) if key == gone => list.item(*item),
            _ => around,
        };
        let meaning = Meaning { path: spot.at.clone(), act: Act::Remove(index) };
        Ok(vec![Plan { splices, meaning, inverse: Edit { path: around, op } }])
    }

    /// The position to remove: where the path says, or where the item that it meant has moved to.
    fn index_to_remove(&self, spot: &Spot, step: &Step, was: Option<&Value>) -> Result<usize, Refusal> {
        let found = step.index_in(spot.node);
        let Some(was) = was else { return found.ok_or_else(|| Refusal::Missing(self.name())) };
        let is = |i: usize| spot.child(self.layout, i).is_some_and(|s| Value::from(s.node) == *was);
        if let Some(index) = found.filter(|&i| is(i)) {
            return Ok(index);
        }
        let mut same = (0..spot.node.items().len()).filter(|&i| is(i));
        match (same.next(), same.next()) {
            (Some(index), None) => Ok(index),
            _ => Err(Refusal::Changed(self.name())),
        }
    }

    /// The only item or entry goes: `[]` or `{}` stays.
    fn empty(&self, spot: &Spot) -> Result<Vec<Plan>, Refusal> {
        let layout = self.layout;
        let (around, index) = spot.around.ok_or_else(|| self.unproved())?;
        let start = layout.value_start(around, index).ok_or_else(|| self.unproved())?;
        let (empty, brackets) = match spot.node.kind {
            Kind::List(_) => (Value::List(Vec::new()), "[]"),
            _ => (Value::Map(Vec::new()), "{}"),
        };
        if layout.is_flow(spot.node) {
            if layout.has_comment(spot.node.span.start, spot.node.span.end) {
                return Err(Refusal::Comment(self.name()));
            }
            let lead = layout.slice(start, spot.node.span.start);
            return Ok(vec![self.set_plan(spot, &empty, start, spot.node.span.end, format!("{lead}{brackets}"))]);
        }
        if spot.flow {
            return Err(self.unproved());
        }
        let first = layout.element_start(spot.node, 0).ok_or_else(|| self.unproved())?;
        let end = layout.line_end(layout.full_end(spot.node));
        let lead = if layout.has_comment(start, first) { layout.slice(start, first) } else { " " };
        Ok(vec![self.set_plan(spot, &empty, start, end, format!("{lead}{brackets}"))])
    }

    fn block_remove(&self, node: &Node, index: usize) -> Result<(Splices, Back), Refusal> {
        let layout = self.layout;
        let start = layout.element_start(node, index).ok_or_else(|| self.unproved())?;
        let end = layout.element_end(node, index).ok_or_else(|| self.unproved())?;
        let after = layout.next_line(end);
        let back = |text: &str, gap| Back { text: text.to_owned(), over: String::new(), gap, bare: false };
        if !layout.begins_line(start) {
            // The first entry behind a dash: the next one takes its place.
            let next = layout.element_start(node, index + 1).ok_or_else(|| self.unproved())?;
            if layout.has_comment(after, next) {
                return Err(Refusal::Comment(self.name()));
            }
            return Ok((vec![(start, next, String::new())], back(layout.slice(start, next), 0)));
        }
        let line = layout.line_start(start);
        let gap = match index.checked_sub(1) {
            None => layout.idle_lines(after, true, usize::MAX),
            Some(before) => {
                let from = layout.next_line(layout.element_end(node, before).ok_or_else(|| self.unproved())?);
                layout.slice(from, line).matches('\n').count()
            }
        };
        let kept = back(layout.slice(line, after), gap);
        if layout.is_open_end(after) {
            let before = layout.slice(0, line);
            let cut = before.strip_suffix('\n').map_or(before, |t| t.strip_suffix('\r').unwrap_or(t)).len();
            return Ok((vec![(cut, after, String::new())], back(layout.slice(cut, after), gap)));
        }
        Ok((vec![(line, after, String::new())], kept))
    }

    fn flow_remove(&self, node: &Node, index: usize) -> Result<(Splices, Back), Refusal> {
        let layout = self.layout;
        let start = layout.element_start(node, index).ok_or_else(|| self.unproved())?;
        let end = layout.element_end(node, index).ok_or_else(|| self.unproved())?;
        let back = |text: &str, gap, bare| Back { text: text.to_owned(), over: String::new(), gap, bare };
        if let Some(next) = layout.element_start(node, index + 1) {
            if layout.has_comment(start, next) {
                return Err(Refusal::Comment(self.name()));
            }
            return Ok((vec![(start, next, String::new())], back(layout.slice(start, next), 0, false)));
        }
        let before = index.checked_sub(1).and_then(|i| layout.element_end(node, i)).ok_or_else(|| self.unproved())?;
        if layout.begins_line(start) {
            let line_before = layout.line_end(layout.line_start(start).saturating_sub(1));
            let gap = layout.slice(before, line_before).matches('\n').count();
            // A comment in the line of the item goes with it.
            let tail = |at: usize| {
                let line = layout.line_end(at);
                if layout.slice(at, line).trim_matches(BLANKS).starts_with('#') { line } else { at }
            };
            if let Some(comma) = layout.mark(end, ',') {
                let to = tail(comma + 1);
                return Ok((vec![(line_before, to, String::new())], back(layout.slice(line_before, to), gap, true)));
            }
            let comma = layout.mark(before, ',').ok_or_else(|| self.unproved())?;
            if comma < line_before {
                let to = tail(end);
                let kept = back(layout.slice(line_before, to), gap, true);
                return Ok((vec![(comma, comma + 1, String::new()), (line_before, to, String::new())], kept));
            }
        }
        if layout.has_comment(before, end) {
            return Err(Refusal::Comment(self.name()));
        }
        Ok((vec![(before, end, String::new())], back(layout.slice(before, end), 0, false)))
    }
}
