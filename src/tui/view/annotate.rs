//! The page of everything written about a hole: the drawing, the list, and the form over it.

use super::layout::{self, Shape};
use super::{hole, paint};
use crate::course::write::{Sort, Thing};
use crate::tui::state::{Form, State, Where, fields};
use crate::units::{Across, Along};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

/// Columns of the names of fields.
const LABEL: usize = 16;

fn place_words(state: &State, place: &Where) -> String {
    match place {
        Where::Beside(name) => name.clone(),
        Where::Notebook => state
            .file_of(place)
            .and_then(|f| std::path::Path::new(&f).file_name().and_then(|n| n.to_str()).map(str::to_owned))
            .unwrap_or_default(),
    }
}

fn head(state: &State) -> Line<'static> {
    let looks = state.looks;
    let between = looks.between();
    let sheet = state.derived.hole.as_ref();
    let hole = sheet.map_or_else(String::new, |s| format!("{} {}", s.number, s.name.clone().unwrap_or_default()));
    let tee = sheet.map_or_else(String::new, |s| s.tee.clone());
    let whom = match state.writes_to() {
        Where::Notebook => "into the notebook",
        Where::Beside(_) => "into your own layer",
    };
    let unit = state.shown_units().word();
    let words = format!("{between}{}{between}{unit} from the {tee} tee{between}writes {whom}", hole.trim());
    Line::from(vec![Span::styled("Notes", looks.heading()), Span::styled(words, looks.quiet())])
}

/// What a thing says in one line: what it is about, where, the words, for whom.
fn summary(state: &State, thing: &Thing) -> String {
    let shown = |key: &str| thing.field(key).map(|t| fields::to_screen(state, thing.sort, key, t));
    let mut facts: Vec<String> = Vec::new();
    for key in ["name", "of", "side", "landmark", "shape"] {
        facts.extend(shown(key));
    }
    if thing.sort == Sort::Note {
        facts.extend(shown("at"));
    } else if let Some(at) = shown("at") {
        facts.push(shown("across").map_or_else(|| at.clone(), |a| format!("{at} {a}")));
    }
    facts.extend(shown("to_middle").map(|t| format!("{t} to the middle")));
    facts.extend(shown("in").map(|t| format!("in: {t}")));
    facts.extend(shown("out").map(|t| format!("out: {t}")));
    let when: Vec<String> = thing
        .fields
        .iter()
        .filter(|(key, _)| key.starts_with("when."))
        .map(|(key, text)| format!("{} {}", fields::label(key), fields::to_screen(state, thing.sort, key, text)))
        .collect();
    let mut out = facts.join(", ");
    if let Some(text) = thing.field("text") {
        if !out.is_empty() {
            out.push_str(": ");
        }
        out.push_str(text);
    }
    if !when.is_empty() {
        out.push_str(&format!(" [{}]", when.join("; ")));
    }
    if let Some(id) = thing.field("replaces") {
        out.push_str(&format!(" [instead of {id}]"));
    }
    out
}

/// The list at a width, and the first and last line of what is under the cursor.
fn list(state: &State, width: usize) -> (Vec<Line<'static>>, (usize, usize)) {
    let looks = state.looks;
    let all = &state.derived.written.things;
    if all.is_empty() {
        let words = "Nothing is written for this hole yet. n adds a note where the stand is, a an aim point, g a danger, y a lay-up, i the walk, c a caution.";
        let lines = paint::wrap(words, width).into_iter().map(|l| Line::styled(l, looks.quiet())).collect();
        return (lines, (0, 0));
    }
    let cursor = state.annotate().map_or(0, |p| p.cursor.min(all.len() - 1));
    let mut out = Vec::new();
    let mut chosen = (0, 0);
    let head = if width < 50 { 10 } else { 13 };
    for (index, (place, thing)) in all.iter().enumerate() {
        let is_chosen = index == cursor;
        let mark = if is_chosen { "> " } else { "  " };
        let whose = match place {
            Where::Notebook => String::new(),
            Where::Beside(name) => format!(" ({name})"),
        };
        let words = format!("{}{whose}", summary(state, thing));
        let room = width.saturating_sub(head).max(1);
        let parts = if is_chosen { paint::wrap(&words, room) } else { vec![paint::shorten(&words, room)] };
        let style = if is_chosen { looks.heading() } else { looks.text() };
        if is_chosen {
            chosen.0 = out.len();
        }
        for (i, part) in parts.into_iter().enumerate() {
            let label = if i == 0 { format!("{mark}{}", thing.sort.word()) } else { String::new() };
            let label = format!("{:<head$}", paint::shorten(&label, head - 1));
            out.push(Line::from(vec![Span::styled(label, looks.quiet()), Span::styled(part, style)]));
        }
        if is_chosen {
            chosen.1 = out.len().saturating_sub(1);
        }
    }
    (out, chosen)
}

fn form_title(state: &State, form: &Form) -> String {
    let file = place_words(state, &form.place);
    match (&form.of, &form.replaces) {
        (Some(_), _) => format!("{} on hole {}, in {file}", capital(form.sort.word()), form.hole),
        (None, Some(id)) => {
            format!(
                "Your own {} on hole {} instead of {}, into {file}",
                form.sort.word(),
                form.hole,
                paint::shorten(id, 30)
            )
        }
        (None, None) => format!("New {} on hole {}, into {file}", form.sort.word(), form.hole),
    }
}

fn capital(word: &str) -> String {
    let mut chars = word.chars();
    chars.next().map(|c| c.to_uppercase().chain(chars).collect()).unwrap_or_default()
}

/// The page as plain text.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let mut out = vec![head(state)];
    let Some(form) = state.form() else {
        out.extend(list(state, width).0);
        return out;
    };
    out.push(Line::from(form_title(state, form)));
    for (i, field) in form.fields.iter().enumerate() {
        let mark = if i == form.at { "> " } else { "  " };
        let theirs = field.theirs.as_ref().map(|t| format!(" | on the disk now: {t}")).unwrap_or_default();
        out.push(Line::from(format!("{mark}{}: {}{theirs}", fields::label(field.key), field.input.value())));
    }
    if let Some(field) = form.fields.get(form.at) {
        out.push(Line::from(fields::hint(state, form.sort, field.key, field.input.value())));
    }
    out.extend(form.message.clone().map(Line::from));
    out
}

/// Marks on the drawing where aim points and lay-ups are; the one under the cursor stronger.
fn marks(state: &State, buf: &mut Buffer, area: Rect) {
    let Some(drawing) = &state.derived.drawing else { return };
    let unit = state.session.course.as_ref().map(|c| c.units).unwrap_or_default();
    let cursor = state.annotate().map_or(0, |p| p.cursor);
    for (index, (_, thing)) in state.derived.written.things.iter().enumerate() {
        if !matches!(thing.sort, Sort::Aim | Sort::Layup) {
            continue;
        }
        let Some(at) = thing.field("at").and_then(|t| t.parse::<f64>().ok()) else { continue };
        let across = thing.field("across").and_then(|t| Across::read(t, unit)).unwrap_or_default();
        let Some((column, half)) = drawing.ribbon.cell_of(Along(at * unit.in_yards()), across) else { continue };
        let (x, y) = (area.x + column as u16, area.y + (half / 2) as u16);
        if y >= area.bottom() || x >= area.right() {
            continue;
        }
        if let Some(cell) = buf.cell_mut((x, y)) {
            cell.set_char(if index == cursor { 'X' } else { '+' }).modifier.insert(Modifier::BOLD);
            if !state.looks.paints() {
                cell.modifier.insert(Modifier::REVERSED);
            } else {
                let ink = state.looks.ink_on(crate::ground::Surface::Fairway);
                cell.set_fg(ink);
            }
        }
    }
}

/// Draws the page; returns where the cursor belongs: in the field, else on the stand.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect, shape: Shape) -> Option<(u16, u16)> {
    let looks = state.looks;
    let caution = state.derived.hole.as_ref().is_some_and(|h| h.caution.is_some());
    let l = layout::hole(area, shape, caution);
    paint::lines(buf, l.head, &[head(state)], looks);
    // A small screen gives the form all its rows.
    let hides = state.form().is_some() && area.height < 22;
    let mut cursor = None;
    let top = if hides {
        l.head.bottom()
    } else {
        cursor = hole::drawing(state, buf, l.ribbon);
        marks(state, buf, l.ribbon);
        l.ribbon.bottom()
    };
    let body = Rect { x: l.head.x, y: top, width: l.head.width, height: area.bottom().saturating_sub(top + 1) };
    if let Some(form) = state.form() {
        return draw_form(state, form, buf, body);
    }
    let (lines, (first, last)) = list(state, usize::from(body.width));
    let room = usize::from(body.height).max(1);
    let from = (last + 1).saturating_sub(room).min(first);
    paint::lines(buf, body, lines.get(from..).unwrap_or_default(), looks);
    if lines.len() > room {
        let words = format!(" {}-{} of {} lines ", from + 1, (from + room).min(lines.len()), lines.len());
        paint::right(buf, body, body.y, &words, looks.chosen(), looks);
    }
    cursor
}

fn draw_form(state: &State, form: &Form, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let looks = state.looks;
    let width = usize::from(area.width);
    let title = paint::shorten(&form_title(state, form), width);
    paint::text(buf, area, area.x, area.y, &title, looks.heading(), looks);
    let field = form.fields.get(form.at)?;
    let hint = fields::hint(state, form.sort, field.key, field.input.value());
    let mut foot: Vec<Line<'static>> = Vec::new();
    foot.extend(paint::wrap(&hint, width).into_iter().map(|l| Line::styled(l, looks.quiet())));
    if let Some(message) = &form.message {
        let style = looks.danger();
        foot.extend(paint::wrap(message, width).into_iter().map(|l| Line::styled(l, style)));
    } else {
        let words = "Enter keeps it, Tab goes to the next field, Esc leaves it";
        foot.push(Line::styled(paint::shorten(words, width), looks.quiet()));
    }
    let most = usize::from(area.height).saturating_sub(2).max(1);
    foot.truncate(most.saturating_sub(1).max(1));
    let rows = usize::from(area.height).saturating_sub(1 + foot.len()).max(1);
    let shown = form.fields.len().min(rows);
    let from = (form.at + 1).saturating_sub(shown);
    let label = LABEL.min(width / 3);
    let right = if form.both { width.saturating_sub(label) / 2 } else { 0 };
    let room = width.saturating_sub(label + right).max(1);
    let mut cursor = None;
    for (row, (index, field)) in form.fields.iter().enumerate().skip(from).take(shown).enumerate() {
        let y = area.y + 1 + row as u16;
        let focus = index == form.at;
        let mark = if focus { "> " } else { "  " };
        let name = paint::shorten(&format!("{mark}{}", fields::label(field.key)), label.saturating_sub(1));
        paint::text(buf, area, area.x, y, &name, if focus { looks.heading() } else { looks.quiet() }, looks);
        let x = area.x + label as u16;
        let value = field.input.value();
        let own = Rect { width: (label + room) as u16, ..area };
        if focus {
            let skip = field.input.visual_scroll(room.saturating_sub(1).max(1));
            let text: String = value.chars().skip(skip).collect();
            paint::text(buf, own, x, y, &text, looks.figure(), looks);
            let at = x + field.input.visual_cursor().saturating_sub(skip) as u16;
            cursor = Some((at.min(own.right().saturating_sub(1)), y));
        } else {
            paint::text(buf, own, x, y, &paint::shorten(value, room), looks.text(), looks);
        }
        if let Some(theirs) = field.theirs.as_ref().filter(|_| right > 2) {
            let x = area.x + (label + room) as u16;
            let words = paint::shorten(&format!("| {theirs}"), right);
            paint::text(buf, area, x, y, &words, looks.caution(), looks);
        }
    }
    let y = area.y + 1 + shown as u16;
    let under = Rect { y, height: area.bottom().saturating_sub(y), ..area };
    paint::lines(buf, under, &foot, looks);
    debug_assert!(title.width() <= width);
    cursor
}
