//! A mark that ended a text its writer meant to go on: a comma, a hash, a colon.

use super::{Diagnostic, Kind, Node, Span, nearest, quoted};

/// What to do about every one of them.
const CURE: &str = "put the text in quotes, or write it as a block under its key";

/// Whether the entry `index` of a `{ … }` map is the tail of the text before it: `{ text: one, two: three }`.
///
/// A decoder that finds an unknown key asks this before it reports the key, and reports the comma instead.
/// The entry before must be bare text, one of the two must look like prose (a blank in it), and the key must not be a
/// slip for one of the keys `known` there.
pub fn comma_ended<S: AsRef<str>>(map: &Node, index: usize, known: &[S]) -> Option<Diagnostic> {
    let entries = map.entries();
    let before = entries.get(index.checked_sub(1)?)?;
    let entry = entries.get(index)?;
    // Only a map between braces begins before its first key.
    let braces = entries.first().is_some_and(|first| map.span.start < first.key_span.start);
    let Kind::Text { plain: true, text: head } = &before.value.kind else { return None };
    let prose = entry.key.contains(' ') || head.contains(' ');
    if !braces || !prose || nearest(&entry.key, known).is_some() {
        return None;
    }
    Some(comma(before.value.span.end, ",", &before.key))
}

/// The comma at `end` (the end of the bare value of `key`) ended a text; `gap` is what stands up to the next key.
pub(super) fn comma(end: usize, gap: &str, key: &str) -> Diagnostic {
    let at = end + gap.find(',').unwrap_or(0);
    Diagnostic::error("comma-ended-text", Span::new(at, at + 1), format!("the comma ended the text of {}", quoted(key)))
        .advise(CURE)
}

/// A colon followed by a blank inside a bare text.
pub(super) fn colon(at: usize) -> Diagnostic {
    Diagnostic::error(
        "colon-ended-text",
        Span::new(at, at + 1),
        "a colon followed by a blank cannot stand in a bare text",
    )
    .advise(CURE)
}

/// A ` #` that hides the end of a `{ … }` or `[ … ]`.
pub(super) fn hash_in_brackets(at: usize, close: char) -> Diagnostic {
    Diagnostic::error(
        "hash-ended-text",
        Span::new(at, at + 1),
        format!("the # after a blank begins a comment, which hides the closing `{close}`"),
    )
    .advise(CURE)
}

/// A ` #word` after a bare text of several words: probably not meant as a comment.
pub(super) fn hash(text: &str, end: usize, value: &str) -> Option<Diagnostic> {
    if !value.contains(' ') {
        return None;
    }
    let rest = text.get(end..)?;
    let tail = rest.strip_prefix(' ')?.strip_prefix('#')?;
    let first = tail.chars().next()?;
    first.is_alphanumeric().then(|| {
        Diagnostic::warning(
            "hash-ended-text",
            Span::new(end + 1, end + 2),
            "the # ended this text; what follows is read as a comment",
        )
        .advise(format!("{CURE}; a comment is clearer with a blank after its #"))
    })
}
