//! The Measure page: two places on the drawing, and what lies between them in words.

use super::layout::{self, Shape};
use super::{hole, paint};
use crate::tui::state::{Measured, State};
use crate::units::Length;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::{Line, Span};

fn head(state: &State) -> Line<'static> {
    let looks = state.looks;
    let between = looks.between();
    let sheet = state.derived.hole.as_ref();
    let hole = sheet.map_or_else(String::new, |s| format!("{} {}", s.number, s.name.clone().unwrap_or_default()));
    let words = format!("{between}{}{between}{}, level", hole.trim(), state.shown_units().word());
    Line::from(vec![Span::styled("Measure", looks.heading()), Span::styled(words, looks.quiet())])
}

/// A place as it is spoken: from the player's tee and beside the line.
fn spoken(state: &State, end: usize) -> String {
    let Some(page) = state.measure() else { return String::new() };
    let Some((at, across)) = page.ends.get(end) else { return String::new() };
    let units = state.shown_units();
    let origin = state.derived.hole.as_ref().and_then(|h| h.origin).unwrap_or_default();
    let side = across.show(units);
    let side = if side == "0" { "on the line".to_owned() } else { side };
    format!("{} from the tee, {side}", origin.from_tee(*at).show(units))
}

fn rows(state: &State, measured: &Measured, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let units = state.shown_units();
    let show = |yards: f64| Length::yards(yards).show(units);
    let mut out = Vec::new();
    let moving = state.measure().map_or(0, |m| m.moving);
    for (i, name) in ["A", "B"].iter().enumerate() {
        let mark = if i == moving { "> " } else { "  " };
        let style = if i == moving { looks.heading() } else { looks.text() };
        out.push(Line::from(vec![
            Span::styled(format!("{mark}{name}        "), style),
            Span::styled(spoken(state, i), style),
        ]));
    }
    let mut fact = |label: &str, figure: String, rest: String| {
        let used = 11 + figure.chars().count();
        let parts = paint::wrap(&rest, width.saturating_sub(used).max(12));
        let mut parts = parts.into_iter();
        out.push(Line::from(vec![
            Span::styled(format!("{label:<11}"), looks.quiet()),
            Span::styled(figure, looks.figure()),
            Span::styled(parts.next().map(|p| format!(" {p}")).unwrap_or_default(), looks.quiet()),
        ]));
        for part in parts {
            out.push(Line::styled(format!("{:11}{part}", ""), looks.quiet()));
        }
    };
    let differs = (measured.straight - measured.along).abs() >= 5.0 && measured.along > 1.0;
    let along =
        if differs { format!("straight; {} along the line", show(measured.along)) } else { "straight".to_owned() };
    fact("distance", show(measured.straight), along);
    if measured.crossed.is_empty() {
        fact("carry", "nothing".to_owned(), "in the way".to_owned());
    }
    for (name, piece) in &measured.crossed {
        let words = format!("over {name} ({}), which begins at {}", piece.surface.word(), show(piece.reach));
        fact("carry", show(piece.carry), words);
    }
    if let Some((a, b, wide, _)) = &measured.gap {
        fact("gap", show(*wide), format!("between {a} (nearest to A) and {b} (nearest to B), where it is narrowest"));
    }
    if let Some(wide) = measured.fairway {
        fact("fairway", show(wide), format!("wide at {}", if moving == 0 { "A" } else { "B" }));
    }
    if let Some([front, middle, back]) = measured.green {
        let words = format!(
            "front, {} middle, {} back, from {}",
            show(middle),
            show(back),
            if moving == 0 { "A" } else { "B" }
        );
        fact("green", show(front), words);
    }
    if let Some(degrees) = measured.front_edge {
        let rounded = degrees.round();
        let words = if rounded.abs() < 3.0 {
            "square to the line from A".to_owned()
        } else if rounded > 0.0 {
            "across the line from A: its right lies farther away".to_owned()
        } else {
            "across the line from A: its left lies farther away".to_owned()
        };
        fact("front edge", format!("{}°", rounded.abs()), words);
    }
    if let Some((check, to_front)) = &measured.marker {
        let which = if *to_front { "front" } else { "middle" };
        let words = format!(
            "to the {which}; measured {}{}",
            show(check.measured),
            if check.agrees { ": they agree" } else { "" }
        );
        fact("marker", show(check.reads), words);
    }
    for warning in &measured.warnings {
        for part in paint::wrap(warning, width) {
            out.push(Line::styled(part, looks.caution()));
        }
    }
    out
}

/// The page as plain text.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let mut out = vec![head(state)];
    if let Some(input) = state.measure().and_then(|m| m.marker.as_ref()) {
        out.push(Line::from(format!("{MARKER}{}", input.value())));
    }
    if let Some(measured) = &state.derived.measured {
        out.extend(rows(state, measured, width));
    }
    out
}

const MARKER: &str = "The marker here reads (150, or 150 front): ";

/// Draws the page; returns where the cursor belongs: on the place that moves, or in the field.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect, shape: Shape) -> Option<(u16, u16)> {
    let looks = state.looks;
    let caution = state.derived.hole.as_ref().is_some_and(|h| h.caution.is_some());
    let l = layout::hole(area, shape, caution);
    paint::lines(buf, l.head, &[head(state)], looks);
    hole::drawing(state, buf, l.ribbon);
    let mut cursor = None;
    if let (Some(drawing), Some(measured), Some(page)) =
        (&state.derived.drawing, &state.derived.measured, state.measure())
    {
        let [a, b] = measured.points;
        let steps = (a.distance(b) / (drawing.ribbon.scale() * 1.5)).clamp(1.0, 300.0) as usize;
        let mut mark = |point, glyph: char| -> Option<(u16, u16)> {
            let (column, half) = drawing.ribbon.cell_of_point(point)?;
            let (x, y) = (l.ribbon.x + column as u16, l.ribbon.y + (half / 2) as u16);
            if x >= l.ribbon.right() || y >= l.ribbon.bottom() {
                return None;
            }
            let cell = buf.cell_mut((x, y))?;
            cell.set_char(glyph);
            if looks.paints() {
                cell.set_fg(looks.ink_on(crate::ground::Surface::Fairway)).modifier.insert(Modifier::BOLD);
            } else {
                cell.set_style(Style::new().add_modifier(Modifier::BOLD | Modifier::REVERSED));
            }
            Some((x, y))
        };
        for i in 1..steps {
            mark(a + (b - a) * (i as f64 / steps as f64), if looks.ascii { '*' } else { '•' });
        }
        for (i, glyph) in ['A', 'B'].into_iter().enumerate() {
            let place = measured.points.get(i).and_then(|p| mark(*p, glyph));
            if i == page.moving {
                cursor = place;
            }
        }
    }
    let top = l.ribbon.bottom();
    let body = Rect { x: l.head.x, y: top, width: l.head.width, height: area.bottom().saturating_sub(top + 1) };
    let mut y = body.y;
    if let Some(input) = state.measure().and_then(|m| m.marker.as_ref()) {
        let x = paint::text(buf, body, body.x, y, MARKER, looks.heading(), looks);
        paint::text(buf, body, x, y, input.value(), looks.figure(), looks);
        cursor = Some(((x + input.visual_cursor() as u16).min(body.right().saturating_sub(1)), y));
        y += 1;
    }
    if let Some(measured) = &state.derived.measured {
        let rest = Rect { y, height: body.bottom().saturating_sub(y), ..body };
        paint::lines(buf, rest, &rows(state, measured, usize::from(body.width)), looks);
    }
    cursor
}
