//! Text from a file made safe to show: a terminal never receives a control character or a direction override from it.
//!
//! # References
//! ECMA-48 (1991), sections 5.2 and 5.3: the C0 and C1 control sets. Unicode Standard Annex 9 (Unicode 15.1): the directional
//! formatting characters, which reorder what stands beside them on the line.

use std::borrow::Cow;
use std::fmt::Write;

/// Whether a terminal could do more with this character than show it.
const fn is_active(c: char) -> bool {
    matches!(c,
        '\u{0}'..='\u{1f}' | '\u{7f}'..='\u{9f}'
        | '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}'
        | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

fn show(text: &str, keeps: impl Fn(char) -> bool) -> Cow<'_, str> {
    if !text.chars().any(|c| is_active(c) && !keeps(c)) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 8);
    for c in text.chars() {
        if is_active(c) && !keeps(c) {
            let code = u32::from(c);
            // Writing to a String cannot fail.
            let _ = if code < 0x100 { write!(out, "\\x{code:02x}") } else { write!(out, "\\u{{{code:x}}}") };
        } else {
            out.push(c);
        }
    }
    Cow::Owned(out)
}

/// One line of text for the screen: every control character, line ends and tabs included, is shown as `\x1b`, every
/// direction override as `\u{202e}`.
///
/// ```
/// use marram::units::plain_text::plain;
/// assert_eq!(plain("Kettle\x1b[2J"), "Kettle\\x1b[2J");
/// assert_eq!(plain("über 6½"), "über 6½");
/// ```
pub fn plain(text: &str) -> Cow<'_, str> {
    show(text, |_| false)
}

/// Text of several lines for the screen: as [`plain`], but line ends stay.
///
/// ```
/// use marram::units::plain_text::plain_lines;
/// assert_eq!(plain_lines("one\ntwo\x07"), "one\ntwo\\x07");
/// ```
pub fn plain_lines(text: &str) -> Cow<'_, str> {
    show(text, |c| c == '\n')
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn escapes_become_text() {
        assert_eq!(plain("a\u{1b}]0;t\u{7}b"), "a\\x1b]0;t\\x07b");
        assert_eq!(plain("\u{9b}31m"), "\\x9b31m", "the one-character form of the same sequence");
        assert_eq!(plain("a\tb\r\n"), "a\\x09b\\x0d\\x0a");
        assert_eq!(plain_lines("a\r\nb"), "a\\x0d\nb");
        assert_eq!(plain("4\u{202e}L"), "4\\u{202e}L");
        assert!(matches!(plain("Long runs off."), Cow::Borrowed(_)));
    }

    proptest! {
        #[test]
        fn nothing_active_is_left(text in any::<String>()) {
            prop_assert!(!plain(&text).chars().any(|c| c.is_control() || is_active(c)));
            prop_assert!(!plain_lines(&text).chars().any(|c| c != '\n' && is_active(c)));
            let once = plain(&text);
            prop_assert_eq!(plain(&once), once.clone(), "showing twice changes nothing more");
        }
    }
}
