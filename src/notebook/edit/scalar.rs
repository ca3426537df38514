//! Ways to write a text so that it reads back as it was.

use crate::notebook::guard::hidden;

/// Where a text is to be written.
#[derive(Clone, Copy, Debug)]
pub(super) struct Room {
    /// Inside `{ … }` or `[ … ]`.
    pub flow: bool,
    /// Column of the lines of a block under the key or dash.
    pub indent: usize,
    /// Columns used in front of the text in its line.
    pub used: usize,
    /// The line end.
    pub eol: &'static str,
}

/// How a text is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Style {
    /// Bare.
    Plain,
    /// `'…'`.
    Single,
    /// `"…"`.
    Double,
    /// `|`: every line break counts.
    Literal,
    /// `>`: lines are joined.
    Folded,
}

impl Style {
    /// The style of a scalar as it stands in a text.
    pub fn of(written: &str, plain: bool) -> Style {
        match written.chars().next() {
            _ if plain => Style::Plain,
            Some('\'') => Style::Single,
            Some('|') => Style::Literal,
            Some('>') => Style::Folded,
            _ => Style::Double,
        }
    }
}

/// `text` in the first of these styles that can hold it; double quotes can hold anything.
pub(super) fn best(text: &str, room: Room) -> String {
    order(text, room).into_iter().find_map(|style| write(text, style, room)).unwrap_or_else(|| double(text))
}

/// The styles to try for a new text, the one that reads best first.
pub(super) fn order(text: &str, room: Room) -> Vec<Style> {
    let quotes = if text.contains(['"', '\\']) && !text.contains('\'') {
        [Style::Single, Style::Double]
    } else {
        [Style::Double, Style::Single]
    };
    let mut styles = Vec::new();
    if !room.flow {
        if text.trim_end_matches('\n').contains('\n') || text.ends_with('\n') {
            styles.push(Style::Literal);
        } else if room.used + text.chars().count() > super::layout::WIDTH {
            styles.push(Style::Folded);
        }
    }
    styles.push(Style::Plain);
    styles.extend(quotes);
    styles
}

/// `text` in `style`, or `None` when that style cannot hold it.
pub(super) fn write(text: &str, style: Style, room: Room) -> Option<String> {
    match style {
        Style::Plain => plain(text, room.flow).then(|| text.to_owned()),
        Style::Single => single(text).then(|| format!("'{}'", text.replace('\'', "''"))),
        Style::Double => Some(double(text)),
        Style::Literal | Style::Folded if room.flow => None,
        Style::Literal => block('|', text, text.trim_end_matches('\n').split('\n').map(str::to_owned).collect(), room),
        Style::Folded => block('>', text, folded(text.trim_end_matches('\n'), room)?, room),
    }
}

/// Whether a text can stand bare: it begins with no mark, holds nothing that would end it, and has no blank at an end.
pub(super) fn plain(text: &str, flow: bool) -> bool {
    let mut chars = text.chars();
    let Some(first) = chars.next() else { return false };
    let second = chars.next();
    let mark = match first {
        '-' | '?' | ':' => second.is_none_or(|c| c.is_whitespace() || flow && matches!(c, ',' | '[' | ']' | '{' | '}')),
        ',' | '[' | ']' | '{' | '}' | '#' | '&' | '*' | '!' | '|' | '>' | '\'' | '"' | '%' | '@' | '`' => true,
        _ => false,
    };
    !mark
        && text.trim() == text
        && !text.contains(": ")
        && !text.ends_with(':')
        && !text.contains(" #")
        && !text.starts_with("---")
        && !text.starts_with("...")
        && !(flow && text.contains([',', '[', ']', '{', '}']))
        && !(flow && text.contains(':') && text.contains(['"', '\'']))
        && !text.chars().any(unwritable)
}

/// Characters that only an escape can write.
fn unwritable(c: char) -> bool {
    hidden(c) || c == '\u{85}'
}

fn single(text: &str) -> bool {
    !text.chars().any(unwritable)
}

/// `"…"` with escapes; holds any text.
pub(super) fn double(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            '\r' => out.push_str("\\r"),
            c if unwritable(c) => {
                let n = u32::from(c);
                out.push_str(&match n {
                    0..=0xff => format!("\\x{n:02x}"),
                    0x100..=0xffff => format!("\\u{n:04x}"),
                    _ => format!("\\U{n:08x}"),
                });
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}

/// A block scalar of these lines, when they can be written so.
fn block(mark: char, text: &str, lines: Vec<String>, room: Room) -> Option<String> {
    let body = text.trim_end_matches('\n');
    let chomp = match text.len() - body.len() {
        0 => "-",
        1 => "",
        _ => return None,
    };
    let odd = body.chars().any(|c| c != '\n' && c != '\t' && unwritable(c));
    let blank_line = body.split('\n').any(|l| !l.is_empty() && l.trim().is_empty());
    if odd || blank_line || body.is_empty() || body.starts_with(['\n', ' ', '\t']) {
        return None;
    }
    let mut out = format!("{mark}{chomp}");
    for line in lines {
        out.push_str(room.eol);
        if !line.is_empty() {
            out.push_str(&" ".repeat(room.indent));
            out.push_str(&line);
        }
    }
    Some(out)
}

/// Lines that fold back to `text`; `None` where folding would change it.
fn folded(text: &str, room: Room) -> Option<Vec<String>> {
    let width = super::layout::WIDTH.saturating_sub(room.indent + 4).max(40);
    let mut lines = Vec::new();
    for (n, paragraph) in text.split('\n').enumerate() {
        // A line that begins with a blank would not be folded.
        if paragraph.starts_with([' ', '\t']) {
            return None;
        }
        if n > 0 {
            lines.push(String::new());
        }
        let mut line = String::new();
        let mut count = 0;
        for word in words(paragraph) {
            let long = word.chars().count();
            if count > 0 && count + 1 + long > width {
                lines.push(std::mem::take(&mut line));
                count = 0;
            }
            if count > 0 {
                line.push(' ');
                count += 1;
            }
            line.push_str(word);
            count += long;
        }
        if count > 0 {
            lines.push(line);
        } else if n == 0 {
            return None;
        }
    }
    Some(lines)
}

/// The pieces between single blanks; runs of blanks stay inside a piece.
fn words(text: &str) -> Vec<&str> {
    let bytes = text.as_bytes();
    let mut words = Vec::new();
    let mut from = 0;
    for (i, _) in text.match_indices(' ') {
        let before = i.checked_sub(1).and_then(|k| bytes.get(k));
        let after = bytes.get(i + 1);
        let alone = |b: Option<&u8>| b.is_some_and(|b| !matches!(b, b' ' | b'\t'));
        if alone(before) && alone(after) && i >= from {
            words.push(text.get(from..i).unwrap_or_default());
            from = i + 1;
        }
    }
    words.push(text.get(from..).unwrap_or_default());
    words
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::notebook::read;
    use proptest::prelude::*;

    const STYLES: [Style; 5] = [Style::Plain, Style::Single, Style::Double, Style::Literal, Style::Folded];

    fn room(flow: bool, eol: &'static str) -> Room {
        Room { flow, indent: 4, used: 8, eol }
    }

    fn reads_back(text: &str, style: Style, flow: bool, eol: &'static str) {
        let Some(written) = write(text, style, room(flow, eol)) else { return };
        let file = if flow {
            format!("a:{eol}  k: {{ x: {written}, y: 1 }}{eol}b: 2{eol}")
        } else {
            format!("a:{eol}  k: {written}{eol}b: 2{eol}")
        };
        let (node, problems) = read(&file);
        let errors: Vec<_> = problems.iter().filter(|d| d.severity == crate::notebook::Severity::Error).collect();
        assert!(errors.is_empty(), "{file:?} {errors:?}");
        let node = node.unwrap();
        assert_eq!(node.get("b").and_then(|n| n.text()), Some("2"), "{file:?}");
        let k = node.get("a").and_then(|n| n.get("k")).unwrap();
        let found = if flow { k.get("x").unwrap() } else { k };
        assert_eq!(found.text(), Some(text), "{style:?} {file:?}");
    }

    #[test]
    fn marks_and_guesses_read_back() {
        for text in [
            "",
            " ",
            "no",
            "~",
            "04",
            "+1.3",
            "-",
            "- a",
            "-1",
            "a: b",
            "a:",
            "a #b",
            "a#b",
            "#3",
            "{a}",
            "[a",
            "*",
            "&x",
            "!x",
            "|",
            ">",
            "'",
            "\"",
            "it's",
            "say \"go\"",
            "a\\b",
            "@x",
            "`x",
            "%x",
            "a, b",
            "75L..",
            "..200",
            "1..9",
            "? x",
            ":x",
            "a\nb",
            "a\n\nb\n",
            "a\n b\n",
            " a",
            "a ",
            "a\t b",
            "\ta",
            "a\n\n\n",
            "\n",
            "\na",
            "---",
            "--- a",
            "...",
            "\u{1b}[0m",
            "\u{85}",
            "\u{feff}x",
            "\u{2028}",
            "é 七番",
            "null",
            "a  b",
            "key: |",
            "x:y",
            "http://a/b",
            "x]",
            "a\r\nb",
            "\u{7f}",
            "\u{10ffff}",
            "<<",
            "=",
        ] {
            for style in STYLES {
                for flow in [false, true] {
                    for eol in ["\n", "\r\n"] {
                        reads_back(text, style, flow, eol);
                    }
                }
            }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]
        #[test]
        fn any_text_reads_back(
            text in prop_oneof![
                "[ -~\n]{0,60}", "[a-c:#,'\"{}\\[\\] \n\\\\-]{0,24}", "\\PC{0,20}", "[a-z ]{80,300}", "([a-z]{1,9}[ \n]{1,2}){20,60}",
                any::<String>()
            ],
            flow in any::<bool>(), crlf in any::<bool>(), style in 0usize..5,
        ) {
            reads_back(&text, STYLES[style], flow, if crlf { "\r\n" } else { "\n" });
        }
    }

    #[test]
    fn prose_is_written_as_it_reads_best() {
        let long = "The left half hides the flag and the right half shows it, so play to the mast and let the wind do the rest of it.";
        let best = |t: &str, flow| best(t, room(flow, "\n"));
        assert_eq!(best("Left half, always.", false), "Left half, always.");
        assert_eq!(best("Left half, always.", true), "\"Left half, always.\"");
        assert_eq!(best("play: left", false), "\"play: left\"");
        assert_eq!(best("say \"go\": now", false), "'say \"go\": now'");
        assert_eq!(best("one\ntwo", false), "|-\n    one\n    two");
        assert!(best(long, false).starts_with(">-\n    The left half"));
        assert_eq!(best("one\ntwo", true), "\"one\\ntwo\"");
    }
}
