//! The key help and the finder, both made from the command table.

use super::paint;
use crate::tui::commands::{self, Page};
use crate::tui::looks::Looks;
use crate::tui::state::{Finder, State};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

/// The lines of the key help of `page`, at `width` columns.
pub fn help_lines(state: &State, page: Page, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let mut out = vec![Line::styled(format!("Keys on the {} page", page.title()), looks.heading()), Line::default()];
    let commands: Vec<_> = commands::all().filter(|c| c.pages.contains(&page)).collect();
    let key_width = 18.min(width / 3).max(6);
    for command in commands {
        let reason = (command.why_not)(state);
        let keys = paint::shorten(&state.keymap.words(command), key_width - 1);
        let style = if reason.is_some() { looks.quiet() } else { looks.text() };
        let words = match &reason {
            Some(reason) => format!("{} Not now: {reason}", command.sentence),
            None => command.sentence.to_owned(),
        };
        for (i, part) in paint::wrap(&words, width.saturating_sub(key_width).max(8)).into_iter().enumerate() {
            let head = if i == 0 { keys.clone() } else { String::new() };
            let pad = key_width.saturating_sub(unicode_width::UnicodeWidthStr::width(head.as_str()));
            out.push(Line::from(vec![
                Span::styled(head, looks.figure()),
                Span::raw(" ".repeat(pad)),
                Span::styled(part, style),
            ]));
        }
    }
    out.push(Line::default());
    for caution in CAUTIONS {
        for part in paint::wrap(caution, width) {
            out.push(Line::styled(part, looks.quiet()));
        }
    }
    out
}

/// The cautions that belong to the whole program (product.md, "Cautions shown where they belong").
pub const CAUTIONS: [&str; 4] = [
    "Not official: a Handicap Index is issued only by an authorised association, a Course Rating only by an authorised team. Figures here are for planning and checking.",
    "Local Rules and the Committee decide; look at them before you use any of this in a round.",
    "Never play until the group ahead is out of range. An aim point is never a person, nor a place where people stand.",
    "Stop for lightning when the Committee suspends play or you see danger; mind heat, slopes and carts.",
];

/// Draws lines from `scroll` on, with a word about what is left out.
pub fn scrolled(buf: &mut Buffer, area: Rect, all: &[Line<'static>], scroll: usize, looks: Looks) {
    turned(buf, area, all, scroll, " below", looks);
}

/// As [`scrolled`], with other words behind `so many more`.
pub fn turned(buf: &mut Buffer, area: Rect, all: &[Line<'static>], scroll: usize, more: &str, looks: Looks) {
    let room = usize::from(area.height);
    let scroll = scroll.min(all.len().saturating_sub(room));
    let shown = all.get(scroll..).unwrap_or_default();
    paint::lines(buf, area, shown, looks);
    if shown.len() > room && area.height > 0 {
        let more = format!(" {} more{more} ", shown.len() - room);
        paint::right(buf, area, area.bottom() - 1, &more, looks.chosen(), looks);
    }
}

/// Draws the finder over the lower part of `area`; returns the place of the cursor.
pub fn finder(buf: &mut Buffer, area: Rect, state: &State, finder: &Finder, page: Page) -> Option<(u16, u16)> {
    let looks = state.looks;
    let found = finder.found(page);
    let rows = (found.len() as u16 + 1).clamp(2, (area.height / 2).max(3)).min(area.height);
    let area = Rect { y: area.bottom() - rows, height: rows, ..area };
    for y in area.top()..area.bottom() {
        paint::text(buf, area, area.x, y, &" ".repeat(usize::from(area.width)), looks.text(), looks);
    }
    let x = paint::text(buf, area, area.x, area.y, ": ", looks.heading(), looks);
    let x = paint::text(buf, area, x, area.y, &finder.letters, looks.text(), looks);
    if found.is_empty() {
        paint::text(buf, area, x + 2, area.y, "no command fits; Backspace widens, Esc closes", looks.quiet(), looks);
    }
    let room = usize::from(rows.saturating_sub(1));
    let first = (finder.cursor + 1).saturating_sub(room);
    for (i, command) in found.iter().enumerate().skip(first).take(room) {
        let y = area.y + 1 + (i - first) as u16;
        let reason = (command.why_not)(state);
        let style = if i == finder.cursor {
            looks.chosen()
        } else if reason.is_some() {
            looks.quiet()
        } else {
            looks.text()
        };
        let words = reason.map_or_else(|| command.sentence.to_owned(), |r| format!("not now: {r}"));
        let row = format!(" {:<10} {:<26} {}", paint::shorten(&state.keymap.words(command), 10), command.title, words);
        let row = paint::shorten(&row, usize::from(area.width));
        paint::text(buf, area, area.x, y, &row, style, looks);
    }
    Some((x.min(area.right().saturating_sub(1)), area.y))
}
