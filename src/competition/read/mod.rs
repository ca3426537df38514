//! Readers of a competition's files: `read(text) -> (Option<value>, Vec<Diagnostic>)`, never failing outright.

mod acts;
mod events;
mod field;
mod keying;
mod setup;
mod sides;
mod tees;

pub use acts::{read_change, read_ruling};
pub use field::{read_field, start_time};
pub use keying::read_keying;
pub use setup::read_setup;
pub use sides::{read_sides, sides_of_field};
pub use tees::check_tees;

use super::codes::{NOT_A_TIME, NOT_AN_ID};
use crate::course::decode::{FileKind, Reader, quoted};
use crate::notebook::{self, Diagnostic, Node};

/// Opens a file of one kind and reads its map.
fn file<T>(
    text: &str,
    kind: FileKind,
    body: impl FnOnce(&mut Reader, &Node) -> Option<T>,
) -> (Option<T>, Vec<Diagnostic>) {
    let (root, problems) = notebook::read(text);
    let mut reader = Reader::new(problems);
    let value = root.and_then(|root| if reader.preamble(&root, kind) { body(&mut reader, &root) } else { None });
    (value, reader.finish())
}

/// A moment, `2026-05-16T15:20` with or without seconds and zone, kept as it is written.
fn moment(r: &mut Reader, node: &Node, key: &str) -> Option<String> {
    let text = r.raw(node, key)?;
    if is_moment(text) {
        return Some(text.to_owned());
    }
    let message = format!("`{key}` needs a date and a time of day, not {}", quoted(text));
    r.error(NOT_A_TIME, node.span, message, "write `2026-05-16T15:20`");
    None
}

fn is_moment(text: &str) -> bool {
    let text = text.replacen(' ', "T", 1);
    ["%Y-%m-%dT%H:%M", "%Y-%m-%dT%H:%M:%S"].iter().any(|f| chrono::NaiveDateTime::parse_from_str(&text, f).is_ok())
        || chrono::DateTime::parse_from_rfc3339(&text).is_ok()
        || chrono::DateTime::parse_from_str(&text, "%Y-%m-%dT%H:%M%:z").is_ok()
}

/// The id of a card: it names a folder, so what no folder can be called is refused.
fn id(r: &mut Reader, node: &Node, key: &str) -> Option<String> {
    let text = r.raw(node, key)?;
    if is_id(text) {
        return Some(text.to_owned());
    }
    let message = format!("`{key}` cannot be {}", quoted(text));
    r.error(NOT_AN_ID, node.span, message, ID_ADVICE);
    None
}

const ID_ADVICE: &str = "an id is at most 40 letters, digits, `-`, `_` or `.`, as M0142: it names the card's folder";

/// Whether a text can be the id of a card.
pub(super) fn is_id(text: &str) -> bool {
    let shape = |c: char| c.is_alphanumeric() || matches!(c, '-' | '_' | '.');
    !text.is_empty()
        && text.chars().count() <= 40
        && text.chars().all(shape)
        && !text.starts_with('.')
        && !text.ends_with('.')
}
