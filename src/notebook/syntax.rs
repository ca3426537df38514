//! What the parser stumbled over, in the words of the person who wrote the file.

use super::place::BLANKS;
use granit_parser::{ErrorKind, ScanError};

use super::{Diagnostic, Span, endings};

/// Turns a scan error of `text`, which stands at byte `base` of its file, into a problem with a cure.
pub(super) fn explain(text: &str, base: usize, error: &ScanError) -> Diagnostic {
    let at = floor(text, error.marker().byte_offset().unwrap_or(0));
    let mut d = words(text, at, error);
    d.span = Span::new(d.span.start + base, d.span.end + base);
    d
}

fn words(text: &str, at: usize, error: &ScanError) -> Diagnostic {
    let here = one(text, at);
    let kind = error.kind();
    if let Some(d) = tab(text, at, kind) {
        return d;
    }
    match kind {
        ErrorKind::MappingValueNotAllowed => endings::colon(at),
        ErrorKind::ExpectedFlowMappingSeparator | ErrorKind::ExpectedFlowSequenceSeparator => {
            if text.get(at..).is_some_and(|t| t.starts_with(':')) {
                return endings::colon(at);
            }
            Diagnostic::error("syntax", here, "a comma or the closing bracket is missing before this")
                .advise("put a comma between the entries, or close the bracket")
        }
        ErrorKind::UnclosedFlowCollection { open } => unclosed(text, at, *open),
        ErrorKind::UnexpectedEofFlowSequence => unclosed(text, at, '['),
        ErrorKind::UnexpectedEofFlowMapping | ErrorKind::UnexpectedEofImplicitFlowMapping => unclosed(text, at, '{'),
        ErrorKind::MismatchedFlowCollectionEnd { open, close } => {
            Diagnostic::error("wrong-bracket", here, format!("`{close}` closes what `{open}` opened"))
                .advise(format!("close it with `{}`", partner(*open)))
        }
        ErrorKind::MisplacedFlowCollectionEnd => {
            Diagnostic::error("wrong-bracket", here, "this bracket closes nothing")
                .advise("delete it, or put the text in quotes")
        }
        ErrorKind::UnclosedQuotedScalar => Diagnostic::error("unclosed-quote", here, "this quote is never closed")
            .advise("close it at the end of the text, or take it away"),
        ErrorKind::InvalidTrailingSingleQuotedScalar | ErrorKind::InvalidTrailingDoubleQuotedScalar => {
            Diagnostic::error("syntax", here, "the text goes on after its closing quote")
                .advise("put the whole text in quotes; inside \"…\" write \\\", inside '…' write ''")
        }
        ErrorKind::UnknownQuotedScalarEscape => Diagnostic::error(
            "syntax",
            here,
            "a backslash in this \"…\" text is followed by a letter that means nothing there",
        )
        .advise("write \\\\ for a backslash, or use '…'"),
        ErrorKind::UnexpectedCharacter { character } => text_start(here, *character),
        ErrorKind::RecursionLimitExceeded => {
            Diagnostic::error("too-deep", here, "lists and maps are nested too deep here")
                .advise("is a closing bracket missing?")
        }
        ErrorKind::InvalidIndentation
        | ErrorKind::ExpectedBlockMappingKey
        | ErrorKind::ExpectedBlockSequenceEntry
        | ErrorKind::BlockSequenceEntryNotAllowed
        | ErrorKind::InvalidBlockScalarIndent
        | ErrorKind::InvalidFlowScalarIndent
        | ErrorKind::InvalidQuotedScalarIndent => bad_indent(here),
        ErrorKind::SimpleKeyExpected | ErrorKind::InvalidSimpleKey => no_colon(here),
        ErrorKind::MissingAnchorOrAliasName => {
            text_start(here, text.get(at..).and_then(|t| t.chars().next()).unwrap_or('*'))
        }
        _ => Diagnostic::error("syntax", here, error.info()).advise("compare it with the lines above"),
    }
}

/// A line that is neither an entry nor the rest of a text.
pub(super) fn no_colon(here: Span) -> Diagnostic {
    Diagnostic::error("key-without-value", here, "this line has no colon, so it is neither a key nor part of a text")
        .advise("write `key: value`, or indent it under the text that it continues")
}

/// A line whose indentation matches nothing above it.
pub(super) fn bad_indent(here: Span) -> Diagnostic {
    Diagnostic::error("bad-indent", here, "this stands at an indentation that matches nothing above it")
        .advise("line it up with its neighbours, in blanks")
}

fn text_start(here: Span, character: char) -> Diagnostic {
    Diagnostic::error("text-start", here, format!("a bare text cannot begin with `{}`", character.escape_debug()))
        .advise("put the text in quotes")
}

/// A tab in the indentation of the line at `at` or of those that continue it.
fn tab(text: &str, at: usize, kind: &ErrorKind) -> Option<Diagnostic> {
    let named = matches!(
        kind,
        ErrorKind::TabNotAllowed
            | ErrorKind::TabInBlockIndentation
            | ErrorKind::TabAtBlockScalarStart
            | ErrorKind::TabInIndentation
            | ErrorKind::TabInPlainScalar
    );
    let start = text.get(..at)?.rfind(['\n', '\r']).map_or(0, |i| i + 1);
    let mut from = start;
    for (n, line) in text.get(start..)?.split_inclusive('\n').enumerate() {
        if n > 1 && !named {
            break;
        }
        let indent = line.len() - line.trim_start_matches([' ', '\t']).len();
        let blanks = line.get(..indent).unwrap_or_default();
        if !line.trim_matches(BLANKS).is_empty()
            && let Some(i) = blanks.find('\t')
        {
            return Some(
                Diagnostic::error("tab-indent", Span::new(from + i, from + indent), "a tab stands in the indentation")
                    .advise("indent with blanks; most editors can turn tabs into blanks"),
            );
        }
        from += line.len();
    }
    named.then(|| {
        Diagnostic::error("tab-indent", one(text, at), "a tab stands where only blanks may").advise("use blanks")
    })
}

/// A bracket that is never closed, or whose closing stands in a comment.
fn unclosed(text: &str, at: usize, open: char) -> Diagnostic {
    let at = if text.get(at..).is_some_and(|t| t.starts_with(open)) {
        at
    } else {
        text.get(..at).and_then(|t| t.rfind(open)).unwrap_or(at)
    };
    let close = partner(open);
    let rest = text.get(at..).unwrap_or_default();
    let line = rest.split(['\n', '\r']).next().unwrap_or_default();
    if let Some(hash) = line.find(" #")
        && line.get(hash..).is_some_and(|t| t.contains(close))
    {
        return endings::hash_in_brackets(at + hash + 1, close);
    }
    Diagnostic::error("unclosed-bracket", one(text, at), format!("this `{open}` is never closed"))
        .advise(format!("put a `{close}` where it ends, or put the text in quotes"))
}

fn partner(open: char) -> char {
    if open == '[' { ']' } else { '}' }
}

/// The character at `at`, or an empty span at the end.
fn one(text: &str, at: usize) -> Span {
    let len =
        text.get(at..).and_then(|t| t.chars().next()).filter(|c| !matches!(c, '\n' | '\r')).map_or(0, char::len_utf8);
    Span::new(at, at + len)
}

fn floor(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}
