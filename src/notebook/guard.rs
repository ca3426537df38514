//! What is refused before any parser sees it: bytes that are not text, and texts that are too much.

use super::{Diagnostic, Span};

/// Largest file, in bytes (4 MiB).
pub const MAX_BYTES: usize = 4 << 20;
/// Deepest nesting of lists and maps.
pub const MAX_DEPTH: usize = 24;
/// Most parser events of one file: every scalar is one, every list and map two.
pub const MAX_VALUES: usize = 600_000;
/// Longest scalar, in bytes of its text (64 KiB).
pub const MAX_TEXT: usize = 64 << 10;

/// The text of a file, or why its bytes are no text. Says line and column of the first byte that is not UTF-8.
pub fn decode(bytes: &[u8]) -> Result<&str, Diagnostic> {
    if bytes.len() > MAX_BYTES {
        return Err(too_big(bytes.len()));
    }
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(Diagnostic::error("utf16", Span::at(0), "the file is UTF-16, not UTF-8")
            .advise("save it as UTF-8 in your editor"));
    }
    std::str::from_utf8(bytes).map_err(|e| {
        let good = bytes.get(..e.valid_up_to()).and_then(|b| std::str::from_utf8(b).ok()).unwrap_or_default();
        let place = super::Lines::new(good).place(good.len());
        let byte = bytes.get(good.len()).copied().unwrap_or(0);
        Diagnostic::error(
            "not-utf8",
            Span::new(good.len(), good.len() + 1),
            format!("the byte 0x{byte:02x} in line {}, column {} is not UTF-8 text", place.line, place.column),
        )
        .advise("save the file as UTF-8 in your editor; the letter at this place shows which one was meant")
    })
}

/// Bytes that are no text made showable: each byte that is not UTF-8 becomes `?`, so that spans of a problem of
/// [`decode`] stay true.
pub fn showable(bytes: &[u8]) -> String {
    let mut out = String::with_capacity(bytes.len());
    for chunk in bytes.utf8_chunks() {
        out.push_str(chunk.valid());
        out.extend(std::iter::repeat_n('?', chunk.invalid().len()));
    }
    out
}

/// A file beyond [`MAX_BYTES`].
pub(super) fn too_big(bytes: usize) -> Diagnostic {
    Diagnostic::error(
        "too-big",
        Span::at(0),
        format!("the file has {bytes} bytes; at most {MAX_BYTES} (4 MiB) are read"),
    )
    .advise("a course notebook is some tens of kilobytes: is it the right file?")
}

/// The text for the parser: control characters become blanks of the same length, so that every span stays true, and
/// are reported; `None` when there are none.
pub(super) fn without_controls(text: &str, problems: &mut super::read::Problems) -> Option<String> {
    if !text.chars().any(is_control) {
        return None;
    }
    let mut clean = String::with_capacity(text.len());
    for (at, c) in text.char_indices() {
        if is_control(c) {
            problems.push(
                Diagnostic::error(
                    "control-character",
                    Span::new(at, at + c.len_utf8()),
                    format!("the control character {} cannot stand in a file", shown(c)),
                )
                .advise("delete it; it is read as a blank"),
            );
            clean.extend(std::iter::repeat_n(' ', c.len_utf8()));
        } else {
            clean.push(c);
        }
    }
    Some(clean)
}

/// Characters that YAML does not allow in a file at all (YAML 1.2.2, 5.1, production c-printable).
pub(super) fn is_control(c: char) -> bool {
    matches!(c, '\0'..='\x08' | '\x0b'..='\x0c' | '\x0e'..='\x1f' | '\x7f'..='\u{84}' | '\u{86}'..='\u{9f}' | '\u{fffe}' | '\u{ffff}')
}

/// Characters that must not reach a terminal as they are: control characters, line breaks and the marks that turn the
/// direction of writing.
pub(super) fn hidden(c: char) -> bool {
    c.is_control()
        || is_control(c)
        || matches!(c, '\u{feff}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{61c}')
}

/// A control character as it is shown: `\x1b`, `\u{9b}`.
pub(super) fn shown(c: char) -> String {
    let n = u32::from(c);
    if n < 0x80 { format!("\\x{n:02x}") } else { format!("\\u{{{n:x}}}") }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    #[test]
    fn bytes_that_are_not_text_say_where() {
        let d = decode(b"a: 1\nb\xc3\xa9: caf\xe9\n").unwrap_err();
        assert_eq!((d.code, d.span), ("not-utf8", Span::new(13, 14)));
        assert!(d.message.contains("0xe9 in line 2, column 8"), "{}", d.message);
        assert_eq!(decode(b"\xff\xfea\0").unwrap_err().code, "utf16");
        assert_eq!(decode(b"a: \xc3").unwrap_err().code, "not-utf8");
        assert_eq!(decode(b"\xef\xbb\xbfa: 1\r\n").unwrap(), "\u{feff}a: 1\r\n");
    }
}
