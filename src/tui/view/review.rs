//! The Review page: its parts in a row, then the lines of the one that is shown, the proposals with a cursor.

use super::{help, paint};
use crate::tui::state::{Content, ReviewScreen, State, Tab, Typed};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

/// Draws the page; returns the place of the cursor while something is typed.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let screen = state.review_screen()?;
    let width = usize::from(area.width);
    let mut head = vec![tabs(state, screen, width)];
    let mut field = None;
    if let Some(typing) = screen.typing {
        let ask = ask(typing);
        field = Some((head.len() as u16, ask.width() as u16));
        head.push(Line::from(vec![
            Span::styled(ask, state.looks.heading()),
            Span::styled(format!("{:<24}", screen.input.value()), state.looks.chosen()),
            Span::styled("  Enter, Esc", state.looks.quiet()),
        ]));
    } else if screen.tab == Tab::Need && !screen.target.is_empty() {
        head.push(Line::styled(format!("Target: {}", screen.target), state.looks.figure()));
    }
    let rows = (head.len() as u16).min(area.height);
    paint::lines(buf, Rect { height: rows, ..area }, &head, state.looks);
    let body = Rect { y: area.y + rows, height: area.height - rows, ..area };
    let (lines, focus) = body_lines(state, screen, width);
    // The proposal under the cursor is kept in view.
    let scroll = match focus {
        Some(row) if row >= usize::from(body.height) => row + 2 - usize::from(body.height),
        Some(_) => 0,
        None => screen.scroll,
    };
    help::scrolled(buf, body, &lines, scroll, state.looks);
    field
        .map(|(y, x)| (area.x + x + screen.input.visual_cursor() as u16, area.y + y))
        .filter(|(x, _)| *x < area.right())
}

const fn ask(typing: Typed) -> &'static str {
    match typing {
        Typed::Target => "Target: ",
        Typed::Figure => "Instead: ",
    }
}

/// The whole page as lines.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let Some(screen) = state.review_screen() else { return Vec::new() };
    let mut out = vec![tabs(state, screen, width)];
    if let Some(typing) = screen.typing {
        out.push(Line::from(format!("{}{}", ask(typing), screen.input.value())));
    }
    out.extend(body_lines(state, screen, width).0);
    out
}

fn tabs(state: &State, screen: &ReviewScreen, width: usize) -> Line<'static> {
    let looks = state.looks;
    let mut spans = vec![Span::styled("Review", looks.heading())];
    let long = width >= 70;
    for (tab, number) in Tab::ALL.into_iter().zip(1..) {
        let name = format!("{number} {}", tab.title());
        let here = tab == screen.tab;
        spans.push(Span::raw(if long { "  " } else { " " }));
        // A mark as well as a colour says which part is shown.
        let text = if here { format!("[{name}]") } else { name };
        spans.push(Span::styled(text, if here { looks.heading() } else { looks.quiet() }));
    }
    Line::from(spans)
}

/// The lines of the part, and the row of the proposal under the cursor.
fn body_lines(state: &State, screen: &ReviewScreen, width: usize) -> (Vec<Line<'static>>, Option<usize>) {
    let looks = state.looks;
    let mut out = vec![Line::default()];
    match screen.content.get(&screen.tab) {
        None | Some(Content::Waiting) => out.push(Line::styled("Working it out …", looks.quiet())),
        Some(Content::Nothing(why)) => {
            out.extend(paint::wrap(why, width).into_iter().map(|l| Line::styled(l, looks.text())));
        }
        Some(Content::Lines(lines, proposals)) => {
            for text in lines.iter() {
                out.extend(broken(text, width).into_iter().map(|part| {
                    let style = if is_heading(&part) {
                        looks.heading()
                    } else if part.starts_with("note ") {
                        looks.caution()
                    } else {
                        looks.text()
                    };
                    Line::styled(looks.plain(&part), style)
                }));
            }
            let mut focus = None;
            for (i, proposal) in proposals.iter().enumerate() {
                let here = i == screen.cursor;
                let mark = if here { "> " } else { "  " };
                let style = if here { looks.chosen() } else { looks.text() };
                if here {
                    focus = Some(out.len());
                }
                for (row, part) in paint::wrap(&proposal.words, width.saturating_sub(2).max(8)).into_iter().enumerate()
                {
                    let mark = if row == 0 { mark } else { "  " };
                    out.push(Line::styled(format!("{mark}{part}"), style));
                }
            }
            return (out, focus);
        }
    }
    (out, None)
}

/// A line that names what comes: it is not indented and says no figure.
fn is_heading(line: &str) -> bool {
    let first = line.chars().next().unwrap_or(' ');
    first.is_uppercase() && !line.contains("  ") && line.len() < 90 && !line.ends_with('.')
}

/// A line broken at the width, its parts indented as far as its own text is.
fn broken(text: &str, width: usize) -> Vec<String> {
    if text.width() <= width {
        return vec![text.to_owned()];
    }
    let indent = text.len() - text.trim_start().len();
    let hang = (indent + 8).min(width / 3);
    // Tables keep their columns as far as they fit; only words are broken.
    let head: String = text.chars().take_while(|c| *c == ' ').collect();
    let parts = paint::wrap(text.trim_start(), width.saturating_sub(hang).max(8));
    parts
        .into_iter()
        .enumerate()
        .map(|(i, part)| if i == 0 { format!("{head}{part}") } else { format!("{}{part}", " ".repeat(hang)) })
        .collect()
}
