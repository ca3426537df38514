//! From an edit to the characters that change.

use crate::notebook::{Kind, Node};

use super::element::{Spot, Writer, count};
use super::layout::Layout;
use super::scalar::{self, Room, Style};
use super::value::{Act, Meaning};
use super::{Back, Edit, Op, Path, Refusal, Step, Value};

/// One way to make an edit: characters to replace, what that must mean, and the way back.
pub(super) struct Plan {
    pub splices: Vec<(usize, usize, String)>,
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

struct Hand<'h, 't> {
    layout: &'h Layout<'t>,
    root: &'h Node,
    path: &'h Path,
}

/// What a list or map takes in.
enum New<'v> {
    Item(&'v Value),
    Entry(&'v str, &'v Value),
}

impl<'h> Hand<'h, '_> {
    fn name(&self) -> String {
        self.path.to_string()
    }

    fn unproved(&self) -> Refusal {
        Refusal::Unproved(self.name())
    }

    fn wrong(&self, node: &Node, wanted: &'static str) -> Refusal {
        Refusal::Wrong { path: self.name(), found: node.word(), wanted }
    }

    fn writers(&self) -> [Writer<'h, '_>; 2] {
        [false, true].map(|strict| Writer { layout: self.layout, strict })
    }

    // ---- set ----

    fn set(&self, value: &Value, was: Option<&Value>, back: Option<&Back>) -> Result<Vec<Plan>, Refusal> {
        let spot = Spot::find(self.layout, self.root, self.path)?;
        if was.is_some_and(|was| *was != Value::from(spot.node)) {
            return Err(Refusal::Changed(self.name()));
        }
        let (around, index) = spot.around.ok_or_else(|| self.unproved())?;
        let start = self.layout.value_start(around, index).ok_or_else(|| self.unproved())?;
        let end = self.layout.full_end(spot.node);
        if let Some(back) = back {
            let over = start + back.over.len();
            if over >= end && self.layout.slice(start, over) == back.over {
                return Ok(vec![self.set_plan(&spot, value, start, over, back.text.clone())]);
            }
        }
        let scalar = |v: &Value| matches!(v, Value::Text(_) | Value::Nothing);
        let old = Value::from(spot.node);
        if !(scalar(&old) && scalar(value)) || back.is_some() && !scalar(&old) {
            if self.layout.has_comment(start, end) {
                return Err(Refusal::Comment(self.name()));
            }
            return Ok(self
                .writers()
                .iter()
                .map(|w| self.set_plan(&spot, value, start, end, self.whole_value(&spot, w, value)))
                .collect());
        }
        let Value::Text(text) = value else {
            if self.layout.has_comment(start, end) {
                return Err(Refusal::Comment(self.name()));
            }
            return Ok(vec![self.set_plan(&spot, value, start, end, String::new())]);
        };
        let lead = if spot.node.span.start > start { self.layout.slice(start, spot.node.span.start) } else { "" };
        let lead = if lead.is_empty() && old == Value::Nothing { " " } else { lead };
        let written = self.ways(&spot, text);
        Ok(written
            .into_iter()
            .map(|(text, new)| self.set_plan(&spot, &Value::Text(text), start, end, format!("{lead}{new}")))
            .collect())
    }

    /// A value written anew behind its colon or dash.
    fn whole_value(&self, spot: &Spot, writer: &Writer, value: &Value) -> String {
        let Some((around, index)) = spot.around else { return String::new() };
        let in_list = matches!(around.kind, Kind::List(_));
        if spot.flow {
            let written = writer.flow(value);
            return if in_list { written } else { format!(" {written}") };
        }
        let column = self.layout.element_column(around);
        if in_list {
            let item = writer.item(value, column, self.dash_gap(around, index), writer.fits(value));
            return item.get(1..).unwrap_or_default().to_owned();
        }
        let used = around.entries().get(index).map_or(0, |e| e.key.chars().count() + 2) + column;
        writer.after_key(value, column, used, writer.fits(value))
    }

    /// The ways to write a text in place of a scalar, each with the text that it means: its own style first.
    fn ways(&self, spot: &Spot, text: &str) -> Vec<(String, String)> {
        let Some((around, _)) = spot.around else { return Vec::new() };
        let written = spot.node.span.of(self.layout.text);
        let header = self.layout.block_header(spot.node);
        let used = self.layout.column(spot.node.span.start).max(1);
        let column = if spot.flow { 0 } else { self.layout.element_column(around) };
        let mut room = Room { flow: spot.flow, indent: column + 2, used, eol: self.layout.eol };
        let mut ways = Vec::new();
        let mut styles = Vec::new();
        if let Kind::Text { plain, text: old } = &spot.node.kind {
            let style = Style::of(written, *plain);
            if let Some(header) = header {
                let inner = written.lines().skip(1).find(|l| !l.trim().is_empty());
                room.indent = inner.map_or(room.indent, |l| l.len() - l.trim_start_matches(' ').len());
                let comment = comment_of(header);
                // A block keeps the line break at its end: it belongs to the way of writing.
                let kept =
                    if old.ends_with('\n') && !text.ends_with('\n') { format!("{text}\n") } else { text.to_owned() };
                for style in [style, Style::Literal] {
                    if let Some(new) = scalar::write(&kept, style, room) {
                        ways.push((kept.clone(), with_comment(&new, comment)));
                    }
                }
            } else if style != Style::Plain || scalar::order(text, room).first() == Some(&Style::Plain) {
                styles.push(style);
            }
        }
        styles.extend(scalar::order(text, room));
        styles.push(Style::Double);
        for style in styles {
            if let Some(new) = scalar::write(text, style, room) {
                ways.push((text.to_owned(), with_comment(&new, header.and_then(comment_of))));
            }
        }
        ways.dedup();
        ways
    }

    fn set_plan(&self, spot: &Spot, value: &Value, start: usize, end: usize, new: String) -> Plan {
        let old = self.layout.slice(start, end).to_owned();
        let back = Back { text: old, over: new.clone(), gap: 0, bare: false };
        let inverse = Edit {
            path: self.path_after(spot, value),
            op: Op::Set { value: Value::from(spot.node), was: Some(value.clone()), back: Some(back) },
        };
        Plan {
            splices: vec![(start, end, new)],
            meaning: Meaning { path: spot.at.clone(), act: Act::Set(value.clone()) },
            inverse,
        }
    }

    /// The path as it reads after the edit: `holes[hole 4].hole` set to 5 is then `holes[hole 5].hole`, or the item
    /// by its position when the key no longer tells it apart.
    fn path_after(&self, spot: &Spot, value: &Value) -> Path {
        let ([head @ .., Step::Of { key, .. }, Step::Key(last)], [.., index, _]) =
            (self.path.steps(), spot.at.as_slice())
        else {
            return self.path.clone();
        };
        if key != last {
            return self.path.clone();
        }
        let head = head.iter().cloned().fold(Path::new(), Path::step);
        if let (Value::Text(text), Some(list)) = (value, head.find(self.root))
            && !list.items().iter().any(|item| item.get(key).and_then(Node::text) == Some(text))
        {
            return head.of(key, text).key(last);
        }
        head.item(*index).key(last)
    }

    // ---- add and push ----

    fn add(&self, key: &str, value: &Value, at: Option<usize>, back: Option<&Back>) -> Result<Vec<Plan>, Refusal> {
        let spot = Spot::find(self.layout, self.root, self.path)?;
        if !matches!(spot.node.kind, Kind::Map(_) | Kind::Nothing) {
            return Err(self.wrong(spot.node, "a map"));
        }
        if spot.node.entry(key).is_some() {
            return Err(Refusal::There(self.path.clone().key(key).to_string()));
        }
        self.insert(&spot, &New::Entry(key, value), at, back)
    }

    fn push(&self, value: &Value, at: Option<usize>, back: Option<&Back>) -> Result<Vec<Plan>, Refusal> {
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
            let comment = self.layout.slice(end, line_end).trim();
            let comment = if comment.is_empty() { String::new() } else { format!(" {comment}") };
            plans.push(self.set_plan(spot, &value, start, line_end, format!("{comment}{written}")));
        }
        Ok(plans)
    }

    // ---- block ----

    /// The number of blanks behind the dash of the item at `index`, when its value stands in the same line.
    fn dash_gap(&self, list: &Node, index: usize) -> usize {
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
                let like = at.checked_sub(1).unwrap_or(0);
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

    fn block_insert(&self, node: &Node, at: usize, text: &str) -> Option<Vec<(usize, usize, String)>> {
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

    fn block_back(&self, node: &Node, at: usize, back: &Back) -> Option<Vec<(usize, usize, String)>> {
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

    // ---- flow ----

    /// Whether the items or entries stand one to a line.
    fn one_a_line(&self, node: &Node) -> bool {
        let last = count(node).saturating_sub(1);
        let first = self.layout.slice(node.span.start, node.span.end).contains('\n');
        first && self.layout.element_start(node, last).is_some_and(|s| self.layout.begins_line(s))
    }

    fn flow_insert(&self, node: &Node, at: usize, text: &str) -> Option<Vec<(usize, usize, String)>> {
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
    fn flow_append(&self, end: usize, new_line: &str, gap: usize, whole: bool) -> Option<Vec<(usize, usize, String)>> {
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
        let rest = layout.slice(end, line).trim();
        if rest.is_empty() || rest.starts_with('#') {
            let line = place(line);
            return Some(vec![(end, end, ",".to_owned()), (line, line, new_line.to_owned())]);
        }
        Some(vec![(end, end, format!(",{new_line}"))])
    }

    fn flow_back(&self, node: &Node, at: usize, back: &Back) -> Option<Vec<(usize, usize, String)>> {
        if back.bare {
            return self.flow_append(self.layout.element_end(node, at.checked_sub(1)?)?, &back.text, back.gap, true);
        }
        let place = match self.layout.element_start(node, at) {
            Some(start) => start,
            None => self.layout.element_end(node, at.checked_sub(1)?)?,
        };
        Some(vec![(place, place, back.text.clone())])
    }

    // ---- remove ----

    fn remove(&self, was: Option<&Value>) -> Result<Vec<Plan>, Refusal> {
        let (around, step) = self.path.split().ok_or_else(|| self.unproved())?;
        let spot = Spot::find(self.layout, self.root, &around)?;
        let index = self.to_remove(&spot, step, was)?;
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
    fn to_remove(&self, spot: &Spot, step: &Step, was: Option<&Value>) -> Result<usize, Refusal> {
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

    fn block_remove(&self, node: &Node, index: usize) -> Result<(Vec<(usize, usize, String)>, Back), Refusal> {
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

    fn flow_remove(&self, node: &Node, index: usize) -> Result<(Vec<(usize, usize, String)>, Back), Refusal> {
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
                if layout.slice(at, line).trim().starts_with('#') { line } else { at }
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

/// The comment in the first line of a block scalar, with the blanks before it.
fn comment_of(header: &str) -> Option<&str> {
    let mark = header.find([' ', '\t']).unwrap_or(header.len());
    header.get(mark..).filter(|c| c.contains('#'))
}

/// A text with the comment that stood behind the mark of its block: behind the new mark, or behind the quotes.
fn with_comment(written: &str, comment: Option<&str>) -> String {
    let Some(comment) = comment else { return written.to_owned() };
    match written.find(['\n', '\r']).filter(|_| written.starts_with(['|', '>'])) {
        Some(end) => {
            format!("{}{comment}{}", written.get(..end).unwrap_or_default(), written.get(end..).unwrap_or_default())
        }
        None => format!("{written}{comment}"),
    }
}
