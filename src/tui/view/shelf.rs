//! The shelf: notebooks, players, rounds.

use super::paint;
use crate::tui::state::{Screen, State};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

/// The shelf as lines, and the line of the item under the cursor.
pub fn lines(state: &State, width: usize) -> (Vec<Line<'static>>, usize) {
    let looks = state.looks;
    let cursor = state
        .screens
        .iter()
        .rev()
        .find_map(|s| if let Screen::Shelf { cursor } = s { Some(*cursor) } else { None })
        .unwrap_or(0);
    let mut out = vec![Line::styled("Shelf", looks.heading())];
    let mut at = 0;
    let mut last = None;
    for (i, item) in state.shelf.iter().enumerate() {
        if last != Some(item.kind) {
            out.push(Line::default());
            out.push(Line::styled(item.kind.heading(), looks.quiet()));
            last = Some(item.kind);
        }
        let here = i == cursor;
        if here {
            at = out.len();
        }
        let mark = if here { "> " } else { "  " };
        let text = paint::shorten(&format!("{mark}{:<28}", item.title), width);
        out.push(Line::from(vec![
            Span::styled(text, if here { looks.chosen() } else { looks.text() }),
            Span::styled(format!("  {}", item.detail), looks.quiet()),
        ]));
    }
    out.push(Line::default());
    for hint in [
        "marram new course NAME puts a notebook on the shelf; marram new player NAME a player.",
        "Enter opens; Esc goes back.",
    ] {
        for part in paint::wrap(hint, width) {
            out.push(Line::styled(part, looks.quiet()));
        }
    }
    (out, at)
}

/// Draws the shelf; the cursor stands on the item.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let (lines, at) = lines(state, usize::from(area.width));
    let room = usize::from(area.height);
    let scroll = (at + 3).saturating_sub(room).min(lines.len().saturating_sub(room));
    super::help::scrolled(buf, area, &lines, scroll, state.looks);
    at.checked_sub(scroll).filter(|y| *y < room).map(|y| (area.x, area.y + y as u16))
}
