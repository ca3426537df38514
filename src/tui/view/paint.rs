//! Putting text on the screen buffer: every string passes here, so no control character ever reaches the terminal.

use crate::tui::looks::Looks;
use crate::units::plain_text::plain;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::Line;
use unicode_width::UnicodeWidthStr;

/// Writes `text` at (`x`, `y`) inside `area`, at most to its right edge; returns the column after it.
pub fn text(buf: &mut Buffer, area: Rect, x: u16, y: u16, words: &str, style: Style, looks: Looks) -> u16 {
    if y < area.top() || y >= area.bottom() || x >= area.right() || x < area.left() {
        return x;
    }
    let words = looks.plain(&plain(words));
    buf.set_stringn(x, y, words, usize::from(area.right() - x), style).0
}

/// Writes `text` so that it ends at the right edge of `area`.
pub fn right(buf: &mut Buffer, area: Rect, y: u16, words: &str, style: Style, looks: Looks) {
    let width = looks.plain(&plain(words)).width() as u16;
    if width <= area.width {
        text(buf, area, area.right() - width, y, words, style, looks);
    }
}

/// Writes styled lines from the top of `area`, as many as fit; returns how many that were.
pub fn lines(buf: &mut Buffer, area: Rect, lines: &[Line<'_>], looks: Looks) -> usize {
    let mut shown = 0;
    for (line, y) in lines.iter().zip(area.top()..area.bottom()) {
        let mut x = area.left();
        for span in &line.spans {
            x = text(buf, area, x, y, &span.content, line.style.patch(span.style), looks);
        }
        shown += 1;
    }
    shown
}

/// Breaks `words` into lines of at most `width` columns at blanks; a longer word is cut.
pub fn wrap(words: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut out = Vec::new();
    for paragraph in words.lines() {
        let mut line = String::new();
        for word in paragraph.split_whitespace() {
            let mut word = word.to_owned();
            while word.width() > width {
                if !line.is_empty() {
                    out.push(std::mem::take(&mut line));
                }
                let mut head = String::new();
                while let Some(c) = word.chars().next() {
                    if head.width() + unicode_width::UnicodeWidthChar::width(c).unwrap_or(0) > width && !head.is_empty()
                    {
                        break;
                    }
                    head.push(c);
                    word.remove(0);
                }
                out.push(head);
            }
            if word.is_empty() {
                continue;
            }
            if line.is_empty() {
                line = word;
            } else if line.width() + 1 + word.width() <= width {
                line.push(' ');
                line.push_str(&word);
            } else {
                out.push(std::mem::replace(&mut line, word));
            }
        }
        if !line.is_empty() {
            out.push(line);
        }
    }
    out
}

/// `words` cut to `width` columns, with a mark where something was left off.
pub fn shorten(words: &str, width: usize) -> String {
    if words.width() <= width {
        return words.to_owned();
    }
    let mut out = String::new();
    for c in words.chars() {
        if out.width() + unicode_width::UnicodeWidthChar::width(c).unwrap_or(0) + 1 > width {
            break;
        }
        out.push(c);
    }
    if width > 0 {
        out.push('…');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_break_at_blanks_and_never_exceed_the_width() {
        assert_eq!(wrap("a fade off the mast", 10), ["a fade off", "the mast"]);
        assert_eq!(wrap("unbreakable", 4), ["unbr", "eaka", "ble"]);
        assert_eq!(shorten("Corvane Links", 8), "Corvane…");
        assert_eq!(shorten("x", 0), "");
    }
}
