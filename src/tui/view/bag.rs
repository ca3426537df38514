//! The Bag page: the clubs to scale, their numbers with where each comes from, gaps, overlaps, remarks, the text field.

use super::layout::Shape;
use super::{bag_scale, paint};
use crate::pattern::Source;
use crate::player::Number;
use crate::sheet::{BagRow, BagSheet, StepSort};
use crate::tui::state::{BagScreen, Field, FieldFor, State};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

/// Columns of each number, a blank in front included.
const WIDTHS: [(Number, usize, &str); 5] = [
    (Number::Carry, 6, "carry"),
    (Number::Run, 5, "run"),
    (Number::Curve, 6, "curve"),
    (Number::Box, 9, "2 in 3"),
    (Number::Mishits, 9, "mishits"),
];
/// Columns of the step to the next club.
const STEP: usize = 8;
/// Columns of the sign that there are more words.
const SIGN: usize = 12;
/// The least columns in which a lane says something.
const LEAST_LANE: usize = 24;

/// The head of the page.
fn head(state: &State, sheet: &BagSheet) -> Line<'static> {
    let looks = state.looks;
    let between = looks.between();
    let unit = state.shown_units().word();
    let words = if sheet.all_assumed {
        format!("{between}{}{between}{unit}{between}all assumed (~) from {}", sheet.player, sheet.assumed_of)
    } else {
        format!("{between}{}{between}{unit}{between}~ assumed from {}", sheet.player, sheet.assumed_of)
    };
    Line::from(vec![Span::styled("Bag", looks.heading()), Span::styled(words, looks.quiet())])
}

/// A number with the mark of an assumed one.
fn marked(row: &BagRow, number: Number, state: &State) -> String {
    let Some(figure) = row.figure(number, state.shown_units()) else { return "-".to_owned() };
    match row.from(number) {
        Some(Source::Assumed) => format!("~{figure}"),
        _ => figure,
    }
}

fn step_words(row: &BagRow, state: &State) -> String {
    let Some(step) = row.step else { return String::new() };
    let yards = crate::units::Length::yards(step.yards).show(state.shown_units());
    match step.sort {
        StepSort::Even => yards,
        StepSort::Gap => format!("gap {yards}"),
        StepSort::Overlap => format!("near {yards}"),
    }
}

/// Where the parts of the table stand at a width.
struct Table {
    name: usize,
    /// Each shown number: its position in [`WIDTHS`] and the column at which it ends.
    numbers: Vec<(usize, usize)>,
    step: Option<usize>,
    lane: Option<(usize, usize)>,
}

impl Table {
    fn of(sheet: &BagSheet, cursor: usize, width: usize) -> Self {
        let longest = sheet.rows.iter().map(|r| r.name.width()).max().unwrap_or(4);
        let name = longest.clamp(4, 18).min(width.saturating_sub(11).max(4)) + 2;
        let mut numbers = Vec::new();
        let mut end = name;
        for (i, (_, columns, _)) in WIDTHS.iter().enumerate() {
            if end + columns <= width {
                end += columns;
                numbers.push((i, end));
            }
        }
        if numbers.iter().all(|(i, _)| *i != cursor) {
            let columns = WIDTHS.get(cursor).map_or(6, |(_, c, _)| *c);
            end = name + columns;
            numbers = vec![(cursor, end)];
        }
        let step = (end + STEP <= width).then(|| {
            end += STEP;
            end
        });
        let lane = (end + 2 + LEAST_LANE <= width).then(|| (end + 2, width - end - 2));
        Self { name, numbers, step, lane }
    }

    fn header(&self, state: &State) -> Line<'static> {
        let mut out = format!("{:<1$}", "  club", self.name);
        for (i, _) in &self.numbers {
            if let Some((_, columns, word)) = WIDTHS.get(*i) {
                out.push_str(&format!("{word:>columns$}"));
            }
        }
        if self.step.is_some() {
            out.push_str(&format!("{:>STEP$}", "step"));
        }
        if let Some((_, width)) = self.lane {
            let words = if state.looks.ascii { "  carry o, run =, box :" } else { "  carry ●, run ━, box ░" };
            out.push_str(&paint::shorten(words, width + 2));
        }
        Line::styled(out, state.looks.quiet())
    }

    fn row(&self, state: &State, sheet: &BagSheet, at: usize, bag: &BagScreen, chosen: bool) -> Line<'static> {
        let looks = state.looks;
        let Some(row) = sheet.rows.get(at) else { return Line::default() };
        let name = paint::shorten(&row.name, self.name - 2);
        let pad = self.name.saturating_sub(2 + name.width());
        let mark = if chosen { "> " } else { "  " };
        let style = if chosen { looks.heading() } else { looks.text() };
        let mut spans = vec![Span::styled(format!("{mark}{name}{}", " ".repeat(pad)), style)];
        for (i, _) in &self.numbers {
            let Some((number, columns, _)) = WIDTHS.get(*i) else { continue };
            let words = paint::shorten(&marked(row, *number, state), columns - 1);
            spans.push(Span::raw(" ".repeat(columns - words.width())));
            let style = if chosen && *i == bag.column {
                looks.chosen()
            } else if row.from(*number) == Some(Source::Given) {
                looks.figure()
            } else {
                looks.quiet()
            };
            spans.push(Span::styled(words, style));
        }
        if self.step.is_some() {
            let odd = row.step.is_some_and(|s| s.sort != StepSort::Even);
            let style = if odd { looks.caution() } else { looks.quiet() };
            spans.push(Span::styled(format!("{:>STEP$}", step_words(row, state)), style));
        }
        if let Some((_, width)) = self.lane {
            spans.push(Span::raw("  "));
            spans.extend(bag_scale::lane(sheet, at, width, looks));
        }
        Line::from(spans)
    }
}

/// What the number under the cursor is and where it comes from, the remarks, gaps and overlaps.
fn words(state: &State, sheet: &BagSheet, row: usize, number: Number, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let mut out = Vec::new();
    let mut add = |words: &str, style| {
        out.extend(paint::wrap(words, width).into_iter().map(|part| Line::styled(part, style)));
    };
    if let Some(row) = sheet.rows.get(row) {
        let origin = sheet.origin(row, number, state.shown_units());
        let figure = row.figure(number, state.shown_units()).map(|f| format!(" {f}")).unwrap_or_default();
        add(&format!("{}, {}{figure}: {origin}", row.name, number.word()), looks.text());
    }
    for remark in &sheet.remarks {
        add(remark, looks.caution());
    }
    for step in sheet.steps_in_words(state.shown_units()) {
        add(&step, looks.quiet());
    }
    out
}

/// The page as plain text.
pub fn lines(state: &State) -> Vec<Line<'static>> {
    let (Some(sheet), Some(bag)) = (&state.derived.bag, state.bag_screen()) else {
        return vec![Line::from("No player is open.")];
    };
    let mut out = vec![head(state, sheet)];
    for row in &sheet.rows {
        if row.shot.is_none() {
            out.push(Line::from(format!("{}: {}", row.name, sheet.origin(row, Number::Carry, state.shown_units()))));
            continue;
        }
        let numbers: Vec<String> =
            Number::ALL.iter().map(|n| format!("{} {}", n.word(), marked(row, *n, state))).collect();
        let step = row.step.map(|_| format!("; step {}", step_words(row, state))).unwrap_or_default();
        out.push(Line::from(format!("{}: {}{step}", row.name, numbers.join(", "))));
    }
    let row = bag.row.min(sheet.rows.len().saturating_sub(1));
    out.extend(words(state, sheet, row, bag.number(), 200));
    if let Some(field) = &bag.field {
        out.push(Line::from(format!("{}{}", label(state, field), field.input.value())));
        out.extend(field.message.clone().map(Line::from));
    }
    out
}

/// What a field asks for.
fn label(state: &State, field: &Field) -> String {
    match &field.what {
        FieldFor::NewClub => "A new club, as 7 iron or 56 wedge: ".to_owned(),
        FieldFor::Number(club, number) => {
            // A file is written in its own unit, whatever the page shows.
            let unit = match number {
                Number::Mishits => String::new(),
                _ => {
                    state.session.people.get(state.player).map(|p| format!(", {}", p.units.word())).unwrap_or_default()
                }
            };
            format!("{club}, {}{unit}, {}: ", number.word(), number.form())
        }
    }
}

/// Draws the open field; gives the place of the cursor.
fn draw_field(state: &State, field: &Field, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let looks = state.looks;
    let width = usize::from(area.width);
    let label = paint::shorten(&label(state, field), width.saturating_sub(12));
    let x = paint::text(buf, area, area.x, area.y, &label, looks.heading(), looks);
    let x = if label.ends_with(' ') { x } else { x + 1 };
    let room = usize::from(area.right().saturating_sub(x + 1));
    let skip = field.input.visual_scroll(room.max(1));
    let shown: String = field.input.value().chars().skip(skip).collect();
    paint::text(buf, area, x, area.y, &shown, looks.figure(), looks);
    let (words, style) = match &field.message {
        Some(message) => (message.clone(), looks.danger()),
        None if field.what == FieldFor::NewClub => ("Enter adds it; Esc leaves it".to_owned(), looks.quiet()),
        None => ("Enter keeps it; an empty one is assumed; Esc leaves it".to_owned(), looks.quiet()),
    };
    for (y, part) in (area.y + 1..area.bottom()).zip(paint::wrap(&words, width)) {
        paint::text(buf, area, area.x, y, &part, style, looks);
    }
    let cursor = x + field.input.visual_cursor().saturating_sub(skip) as u16;
    Some((cursor.min(area.right().saturating_sub(1)), area.y))
}

/// Draws the page; gives the place of the cursor: in the field, else on the number.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect, shape: Shape) -> Option<(u16, u16)> {
    let looks = state.looks;
    let margin = u16::from(shape == Shape::Wide);
    let area = Rect { x: area.x + margin, width: area.width - 2 * margin, ..area };
    let (Some(sheet), Some(bag)) = (&state.derived.bag, state.bag_screen()) else {
        paint::text(buf, area, area.x, area.y, "No player is open.", looks.quiet(), looks);
        return None;
    };
    let row = bag.row.min(sheet.rows.len().saturating_sub(1));
    let head = head(state, sheet);
    let x = paint::text(buf, area, area.x, area.y, "Bag", looks.heading(), looks);
    let tail = head.spans.get(1).map(|s| s.content.to_string()).unwrap_or_default();
    let tail = paint::shorten(&tail, usize::from(area.right().saturating_sub(x)));
    paint::text(buf, area, x, area.y, &tail, looks.quiet(), looks);
    // The words have two rows at least, the table what it needs if it can; the drawing a third, or what is left over.
    let inner = area.height.saturating_sub(1);
    let needed = words(state, sheet, row, bag.number(), usize::from(area.width)).len().max(3) as u16;
    let over = inner.saturating_sub(sheet.rows.len() as u16 + 1 + needed);
    let least = (area.height * 3 / 10).max(5) + 2;
    let most = bag_scale::rows_of_use(sheet, area.width).max(least);
    let drawing = if inner < 14 { 0 } else { over.clamp(least, most) };
    let field_area = Rect { y: area.y + 1, height: drawing, ..area };
    bag_scale::field(buf, field_area, sheet, row, state.shown_units(), looks);

    let rest = inner - drawing;
    let words_least = rest.min(2);
    let shown = (sheet.rows.len() as u16).min(rest.saturating_sub(words_least + 1));
    let table = Table::of(sheet, bag.column, usize::from(area.width));
    let top = field_area.bottom();
    let header = Rect { y: top, height: rest.min(1), ..area };
    paint::lines(buf, header, &[table.header(state)], looks);
    let first = (row + 1).saturating_sub(usize::from(shown));
    let body = Rect { y: header.bottom(), height: shown, ..area };
    let all: Vec<Line<'static>> =
        (first..sheet.rows.len()).take(usize::from(shown)).map(|i| table.row(state, sheet, i, bag, i == row)).collect();
    paint::lines(buf, body, &all, looks);

    let under = Rect { y: body.bottom(), height: area.bottom().saturating_sub(body.bottom()), ..area };
    if let Some(field) = &bag.field {
        return draw_field(state, field, buf, under);
    }
    draw_words(state, sheet, row, bag, buf, under);
    let end = table.numbers.iter().find(|(i, _)| *i == bag.column).map(|(_, end)| *end)?;
    let place = (area.x + (end as u16).saturating_sub(1), body.y + (row - first) as u16);
    (place.0 < area.right() && place.1 < body.bottom()).then_some(place)
}

/// The words under the table, a page of them.
fn draw_words(state: &State, sheet: &BagSheet, row: usize, bag: &BagScreen, buf: &mut Buffer, area: Rect) {
    let looks = state.looks;
    let room = usize::from(area.height);
    let width = usize::from(area.width);
    let mut all = words(state, sheet, row, bag.number(), width);
    if all.len() > room {
        // The sign that there is more must not stand on words.
        all = words(state, sheet, row, bag.number(), width.saturating_sub(SIGN));
    }
    if room == 0 {
        return;
    }
    let pages = all.len().div_ceil(room).max(1);
    let page = bag.page % pages;
    paint::lines(buf, area, all.get(page * room..).unwrap_or_default(), looks);
    if pages > 1 {
        let words = format!(" {}/{pages} Space ", page + 1);
        paint::right(buf, area, area.bottom() - 1, &words, looks.chosen(), looks);
    }
}
