//! An open form of the Desk, over the lower part of whatever page it belongs to.

use super::desk::fit;
use super::paint;
use crate::tui::looks::Looks;
use crate::tui::state::{Desk, DeskForm as Form, FormKind, State};
use crate::tui::update::desk_forms::found;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

/// Draws an open form over the lower part of a page of the desk; returns where its cursor is.
pub fn over(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let desk = state.desk.as_ref()?;
    let form = desk.form.as_ref()?;
    let (lines, at) = lines(desk, form, usize::from(area.width), state.looks);
    let rows = (lines.len() as u16).min(area.height);
    let over = Rect { y: area.bottom() - rows, height: rows, ..area };
    for y in over.top()..over.bottom() {
        paint::text(buf, over, over.x, y, &" ".repeat(usize::from(over.width)), Style::reset(), state.looks);
    }
    let from = lines.len().saturating_sub(usize::from(rows));
    paint::lines(buf, over, lines.get(from..).unwrap_or_default(), state.looks);
    let (row, column) = at;
    let y = over.y + row.checked_sub(from)? as u16;
    Some((over.x + (column as u16).min(over.width.saturating_sub(1)), y))
}

/// The form as lines, and row and column of its cursor.
pub fn lines(desk: &Desk, form: &Form, width: usize, looks: Looks) -> (Vec<Line<'static>>, (usize, usize)) {
    let rule = if looks.ascii { "-" } else { "─" };
    let mut out = vec![Line::styled(rule.repeat(width), looks.quiet())];
    out.extend(paint::wrap(&form.title, width).into_iter().map(|l| Line::styled(l, looks.heading())));
    let mut cursor = (0, 0);
    let label_width = form.fields.iter().map(|f| f.label.len()).max().unwrap_or(0) + 2;
    for (at, field) in form.fields.iter().enumerate() {
        let here = at == form.at;
        let label = format!("{:<label_width$}", field.label);
        let value = field.input.value();
        let room = width.saturating_sub(label_width + 1);
        // The end of a long value is what is being typed.
        let from = field.input.visual_scroll(room);
        let shown: String = value.chars().skip(from).collect();
        if here {
            cursor = (out.len(), label_width + field.input.visual_cursor().saturating_sub(from));
        }
        let value = if field.choices.is_empty() { shown.clone() } else { format!("< {value} >") };
        let pad = 24_usize.saturating_sub(value.width()).min(room.saturating_sub(value.width()));
        let mut spans = vec![
            Span::styled(label, if here { looks.heading() } else { looks.quiet() }),
            Span::styled(format!("{value}{}", " ".repeat(pad)), if here { looks.chosen() } else { looks.text() }),
        ];
        let left = width.saturating_sub(label_width + value.width() + pad + 2);
        if here && field.hint.width() <= left {
            spans.push(Span::styled(format!("  {}", field.hint), looks.quiet()));
        }
        out.push(Line::from(spans));
        if here && field.hint.width() > left {
            out.extend(paint::wrap(field.hint, width).into_iter().map(|l| Line::styled(l, looks.quiet())));
        }
    }
    if form.kind == FormKind::Find {
        for (n, row) in found(desk.rows(), &form.value(0)).into_iter().take(5).enumerate() {
            let lead = if n == 0 { "> " } else { "  " };
            let words = format!("{lead}{} {} {}", fit(&row.name, 26), fit(&row.id, 8), row.words());
            out.push(Line::styled(words, if n == 0 { looks.text() } else { looks.quiet() }));
        }
    }
    for reason in form.refused.iter().take(12) {
        out.extend(paint::wrap(reason, width).into_iter().map(|l| Line::styled(l, looks.caution())));
    }
    let foot = if form.fields.len() > 1 {
        "Enter goes on, Up and Down change fields, Esc leaves it"
    } else {
        "Enter takes it, Esc leaves it"
    };
    out.push(Line::styled(foot, looks.quiet()));
    (out, cursor)
}
