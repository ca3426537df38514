//! An entry or item is added.

use crate::notebook::place::BLANKS;
use crate::notebook::{Kind, Node};

use super::element::{Spot, Writer, count};
use super::splice::{Hand, Plan, Splices};
use super::value::{Act, Meaning};
use super::{Back, Edit, Op, Refusal, Step, Value};

/// What a list or map takes in.
enum New<'v> {
    Item(&'v Value),
    Entry(&'v str, &'v Value),
}

impl Hand<'_, '_> {
    pub(super) fn add(
        &self,
        key: &str,
        value: &Value,
        at: Option<usize>,
        back: Option<&Back>,
    ) -> Result<Vec<Plan>, Refusal> {
        let spot = Spot::find(self.layout, self.root, self.path)?;
        if !matches!(spot.node.kind, Kind::Map(_) | Kind::Nothing) {
            return Err(self.wrong(spot.node, "a map"));
        }
        if spot.node.entry(key).is_some() {
            return Err(Refusal::There(self.path.clone().key(key).to_string()));
        }
        self.insert(&spot, &New::Entry(key, value), at, back)
    }

    pub(super) fn push(&self, value: &Value, at: Option<usize>, back: Option<&Back>) -> Result<Vec<Plan>, Refusal> {
        let spot = match Spot::find(self.layout, self.root, self.path) {
            Ok(spot) => spot,
            Err(missing) => {
                let Some((around, Step::Key(key))) = self.path.split() else { return Err(missing) };
                let hand = Hand { path: &around, ..*self };
                let spot = Spot::find(self.layout, self.root, &around).map_err(|_| missing)?;
                if !matches!(spot.node.kind, Kind::Map(_) | Kind::Nothing) {
                    return Err(hand.wrong(spot.node, "a map"));
                }
                return hand.insert(&spot, &New::Entry(key, &Value::List(vec![value.clone()])), None, None);
            }
        };
        if !matches!(spot.node.kind, Kind::List(_) | Kind::Nothing) {
            return Err(self.wrong(spot.node, "a list"));
        }
        self.insert(&spot, &New::Item(value), at, back)
    }

    fn insert(&self, spot: &Spot, new: &New, at: Option<usize>, back: Option<&Back>) -> Result<Vec<Plan>, Refusal> {
        let n = count(spot.node);
        if n == 0 {
            return self.fill(spot, new);
        }
        let at = at.unwrap_or(n).min(n);
        let (meaning, inverse) = self.insertion(spot, new, at);
        let plan = |splices| Plan { splices, meaning: meaning.clone(), inverse: inverse.clone() };
        let flow = spot.flow || self.layout.is_flow(spot.node);
        if flow && !self.layout.is_flow(spot.node) {
            return Err(self.unproved());
        }
        let mut plans = Vec::new();
        if let Some(back) = back {
            let splices = if flow { self.flow_back(spot.node, at, back) } else { self.block_back(spot.node, at, back) };
            plans.extend(splices.map(plan));
        }
        for writer in self.writers() {
            let splices = if flow {
                let text = match new {
                    New::Item(value) => writer.flow(value),
                    New::Entry(key, value) => writer.flow_entry(key, value),
                };
                self.flow_insert(spot.node, at, &text)
            } else {
                let text = self.block_text(spot.node, &writer, new, at);
                self.block_insert(spot.node, at, &text)
            };
            plans.extend(splices.map(plan));
        }
        Ok(plans)
    }

    fn insertion(&self, spot: &Spot, new: &New, at: usize) -> (Meaning, Edit) {
        let (act, path, was) = match new {
            New::Item(value) => (Act::Item(at, (*value).clone()), self.path.clone().item(at), *value),
            New::Entry(key, value) => {
                (Act::Entry(at, (*key).to_owned(), (*value).clone()), self.path.clone().key(key), *value)
            }
        };
        let inverse = Edit { path, op: Op::Remove { was: Some(was.clone()) } };
        (Meaning { path: spot.at.clone(), act }, inverse)
    }

    /// The first item or entry of an empty list or map, or of a key with nothing behind it.
    fn fill(&self, spot: &Spot, new: &New) -> Result<Vec<Plan>, Refusal> {
        let value = match new {
            New::Item(value) => Value::List(vec![(*value).clone()]),
            New::Entry(key, value) => Value::Map(vec![((*key).to_owned(), (*value).clone())]),
        };
        let (around, index) = spot.around.ok_or_else(|| self.unproved())?;
        let start = self.layout.value_start(around, index).ok_or_else(|| self.unproved())?;
        let end = spot.node.span.end.max(start);
        if self.layout.has_comment(start, end) {
            return Err(Refusal::Comment(self.name()));
        }
        let mut plans = Vec::new();
        for writer in self.writers() {
            let written = self.whole_value(spot, &writer, &value);
            if !written.starts_with(['\n', '\r']) || spot.flow {
                plans.push(self.set_plan(spot, &value, start, end, written));
                continue;
            }
            // The comment behind `key: []` stays in the line of the key.
            let line_end = self.layout.line_end(end);
            let comment = self.layout.slice(end, line_end).trim_matches(BLANKS);
            let comment = if comment.is_empty() { String::new() } else { format!(" {comment}") };
            plans.push(self.set_plan(spot, &value, start, line_end, format!("{comment}{written}")));
        }
        Ok(plans)
    }

    /// The number of blanks behind the dash of the item at `index`, when its value stands in the same line.
    pub(super) fn dash_gap(&self, list: &Node, index: usize) -> usize {
        let start = self.layout.value_start(list, index);
        let value = list.items().get(index).map(|n| n.span.start);
        match (start, value) {
            (Some(s), Some(v)) if v > s && self.layout.slice(s, v).bytes().all(|b| b == b' ') => v - s,
            _ => 1,
        }
    }

    fn block_text(&self, node: &Node, writer: &Writer, new: &New, at: usize) -> String {
        let column = self.layout.element_column(node);
        match new {
            New::Entry(key, value) => writer.entry(key, value, column),
            New::Item(value) => {
                let like = at.saturating_sub(1);
                let beside = node.items().get(like);
                let flow = match beside {
                    Some(n) if self.layout.is_flow(n) => {
                        writer.flow(value).chars().count() + column <= super::layout::WIDTH
                    }
                    Some(n) if self.layout.is_block(n) => false,
                    _ => writer.fits(value),
                };
                writer.item(value, column, self.dash_gap(node, like), flow)
            }
        }
    }

    fn block_insert(&self, node: &Node, at: usize, text: &str) -> Option<Splices> {
        let (layout, eol) = (self.layout, self.layout.eol);
        let blanks = " ".repeat(layout.element_column(node));
        let Some(before) = at.checked_sub(1) else {
            let start = layout.element_start(node, 0)?;
            return Some(vec![(start, start, format!("{text}{eol}{blanks}"))]);
        };
        let place = layout.next_line(layout.element_end(node, before)?);
        Some(vec![(place, place, self.as_lines(place, &format!("{blanks}{text}")))])
    }

    /// Whole lines put in at the line start `place`, or after the end of a text that ends without a line break.
    fn as_lines(&self, place: usize, lines: &str) -> String {
        let own_start = lines.strip_prefix('\r').unwrap_or(lines).strip_prefix('\n');
        if self.layout.is_open_end(place) {
            let lines = own_start.map_or_else(|| format!("{}{lines}", self.layout.eol), |_| lines.to_owned());
            return lines.strip_suffix('\n').map(|l| l.strip_suffix('\r').unwrap_or(l).to_owned()).unwrap_or(lines);
        }
        let lines = own_start.unwrap_or(lines);
        if lines.ends_with('\n') { lines.to_owned() } else { format!("{lines}{}", self.layout.eol) }
    }

    fn block_back(&self, node: &Node, at: usize, back: &Back) -> Option<Splices> {
        let layout = self.layout;
        let (line, forward) = match at.checked_sub(1) {
            None => {
                let first = layout.element_start(node, 0)?;
                if !layout.begins_line(first) {
                    return Some(vec![(first, first, back.text.clone())]);
                }
                (layout.line_start(first), false)
            }
            Some(before) => (layout.next_line(layout.element_end(node, before)?), true),
        };
        let idle = layout.idle_lines(line, forward, back.gap);
        let place = layout.lines_off(line, forward, idle);
        // The last of the idle lines lost its line break with what stood behind it.
        let cut = forward && idle < back.gap && place == layout.text.len() && back.text.starts_with(['\r', '\n']);
        let text = if cut { back.text.clone() } else { self.as_lines(place, &back.text) };
        Some(vec![(place, place, text)])
    }

    /// Whether the items or entries stand one to a line.
    fn one_a_line(&self, node: &Node) -> bool {
        let last = count(node).saturating_sub(1);
        let first = self.layout.slice(node.span.start, node.span.end).contains('\n');
        first && self.layout.element_start(node, last).is_some_and(|s| self.layout.begins_line(s))
    }

    fn flow_insert(&self, node: &Node, at: usize, text: &str) -> Option<Splices> {
        let (layout, eol) = (self.layout, self.layout.eol);
        if at < count(node) {
            let start = layout.element_start(node, at)?;
            let gap = if self.one_a_line(node) && layout.begins_line(start) {
                format!("{eol}{}", " ".repeat(layout.column(start)))
            } else {
                " ".to_owned()
            };
            return Some(vec![(start, start, format!("{text},{gap}"))]);
        }
        let last = at.checked_sub(1)?;
        let end = layout.element_end(node, last)?;
        if !self.one_a_line(node) {
            return Some(vec![(end, end, format!(", {text}"))]);
        }
        let new_line = format!("{eol}{}{text}", " ".repeat(layout.column(layout.element_start(node, last)?)));
        self.flow_append(end, &new_line, 0, false)
    }

    /// A new line behind the last item of a list that has one item a line; `gap` idle lines stay between. `whole`: the
    /// line has its comma where it needs one.
    fn flow_append(&self, end: usize, new_line: &str, gap: usize, whole: bool) -> Option<Splices> {
        let layout = self.layout;
        let place = |line: usize| {
            let next = layout.next_line(line);
            let idle = layout.idle_lines(next, true, gap);
            if idle == 0 { line } else { layout.line_end(layout.lines_off(next, true, idle - 1)) }
        };
        if let Some(comma) = layout.mark(end, ',') {
            let line = place(layout.line_end(comma));
            let comma = if whole { "" } else { "," };
            return Some(vec![(line, line, format!("{new_line}{comma}"))]);
        }
        let line = layout.line_end(end);
        let rest = layout.slice(end, line).trim_matches(BLANKS);
        if rest.is_empty() || rest.starts_with('#') {
            let line = place(line);
            return Some(vec![(end, end, ",".to_owned()), (line, line, new_line.to_owned())]);
        }
        Some(vec![(end, end, format!(",{new_line}"))])
    }

    fn flow_back(&self, node: &Node, at: usize, back: &Back) -> Option<Splices> {
        if back.bare {
            return self.flow_append(self.layout.element_end(node, at.checked_sub(1)?)?, &back.text, back.gap, true);
        }
        let place = match self.layout.element_start(node, at) {
            Some(start) => start,
            None => self.layout.element_end(node, at.checked_sub(1)?)?,
        };
        Some(vec![(place, place, back.text.clone())])
    }
}
