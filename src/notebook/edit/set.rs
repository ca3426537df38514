//! A value is replaced.

use crate::notebook::place::BLANKS;
use crate::notebook::{Kind, Node};

use super::element::{Spot, Writer};
use super::scalar::{self, Room, Style};
use super::splice::{Hand, Plan};
use super::value::{Act, Meaning};
use super::{Back, Edit, Op, Path, Refusal, Step, Value};

impl Hand<'_, '_> {
    pub(super) fn set(&self, value: &Value, was: Option<&Value>, back: Option<&Back>) -> Result<Vec<Plan>, Refusal> {
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
    pub(super) fn whole_value(&self, spot: &Spot, writer: &Writer, value: &Value) -> String {
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
                let inner = written.lines().skip(1).find(|l| !l.trim_matches(BLANKS).is_empty());
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

    pub(super) fn set_plan(&self, spot: &Spot, value: &Value, start: usize, end: usize, new: String) -> Plan {
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
