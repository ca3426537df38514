//! The Day sheet page: the things of the day at the left, the holes with their locations and what the day changes at the right.

use super::paint;
use crate::course::day_write::Field;
use crate::plan::{Blown, HoleToday};
use crate::session::DayRow;
use crate::tui::looks::Looks;
use crate::tui::state::{DayScreen, State};
use crate::units::Length;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

/// From this width on the holes stand beside the rest.
const TWO_COLUMNS: u16 = 76;
/// Columns of a title and of what is written.
const TITLE: usize = 15;

/// Draws the page; returns where the cursor stands.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let screen = state.day_screen()?;
    let looks = state.looks;
    let head = heading(state);
    paint::lines(buf, Rect { height: 1, ..area }, &[head], looks);
    let body = Rect { y: area.y + 1, height: area.height.saturating_sub(1), ..area };
    let rows = &state.derived.day.rows;
    let (things, holes): (Vec<_>, Vec<_>) =
        rows.iter().enumerate().partition(|(_, r)| !matches!(r.field, Field::Hole(_)));
    if area.width < TWO_COLUMNS {
        return one_column(state, screen, buf, body);
    }
    let left_width = (body.width / 3).clamp(35, 46);
    let left = Rect { width: left_width, ..body };
    let right = Rect { x: body.x + left_width + 2, width: body.width - left_width - 2, ..body };
    let mut cursor = None;
    let mut y = left.y;
    for (i, row) in &things {
        if y >= left.bottom() {
            break;
        }
        let at = thing(state, screen, *i, row, buf, Rect { y, height: 1, ..left });
        cursor = cursor.or(at);
        y += 1;
    }
    let rest = Rect { y: (y + 1).min(left.bottom()), height: left.bottom().saturating_sub(y + 1), ..left };
    paint::lines(buf, rest, &about(state, screen, usize::from(rest.width)), looks);
    if screen.table {
        paint::lines(buf, right, &table(state, usize::from(right.width)), looks);
        return cursor;
    }
    let mut y = right.y;
    // Eighteen holes fit on every usual screen; of more the cursor's part is shown.
    let room = usize::from(right.height);
    let at = holes.iter().position(|(i, _)| *i == screen.row).unwrap_or(0);
    let skip = if holes.len() <= room { 0 } else { at.saturating_sub(room / 2).min(holes.len() - room) };
    for (i, row) in holes.iter().skip(skip) {
        if y >= right.bottom() {
            break;
        }
        let at = hole(state, screen, *i, row, buf, Rect { y, height: 1, ..right });
        cursor = cursor.or(at);
        y += 1;
    }
    cursor
}

/// Everything in one column, the cursor's part of it.
fn one_column(state: &State, screen: &DayScreen, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let looks = state.looks;
    if screen.table {
        paint::lines(buf, area, &table(state, usize::from(area.width)), looks);
        return None;
    }
    let rows = &state.derived.day.rows;
    let foot = about(state, screen, usize::from(area.width));
    let foot_rows = (foot.len() as u16).min(4).min(area.height / 3);
    let list = Rect { height: area.height - foot_rows, ..area };
    let room = usize::from(list.height);
    let skip = screen.row.saturating_sub(room / 2).min(rows.len().saturating_sub(room));
    let mut cursor = None;
    for ((i, row), y) in rows.iter().enumerate().skip(skip).zip(list.top()..list.bottom()) {
        let place = Rect { y, height: 1, ..list };
        let at = match row.field {
            Field::Hole(_) => hole(state, screen, i, row, buf, place),
            _ => thing(state, screen, i, row, buf, place),
        };
        cursor = cursor.or(at);
    }
    paint::lines(buf, Rect { y: list.bottom(), height: foot_rows, ..area }, &foot, looks);
    cursor
}

fn heading(state: &State) -> Line<'static> {
    let looks = state.looks;
    let course = state.session.course.as_ref().map(|c| c.name.clone()).unwrap_or_default();
    let date = state.session.day.as_ref().map_or_else(|| state.session.today.clone(), |(d, _)| d.date.clone());
    let unknown = state.session.unknown_hole_locations();
    let words = match (&state.session.day, unknown) {
        (None, _) => "no sheet yet: what you type begins one".to_owned(),
        (Some(_), 0) => "every hole location known".to_owned(),
        (Some(_), n) => format!("{n} hole locations not known"),
    };
    Line::from(vec![
        Span::styled("Day sheet", looks.heading()),
        Span::styled(format!("{0}{course}{0}{date}{0}{words}", looks.between()), looks.quiet()),
    ])
}

/// A value with its cursor when it is typed; returns the column after it and the cursor's place.
fn value(
    state: &State,
    screen: &DayScreen,
    i: usize,
    row: &DayRow,
    buf: &mut Buffer,
    place: Rect,
    width: u16,
) -> Option<(u16, u16)> {
    let looks = state.looks;
    let here = screen.row == i;
    let typed = screen.input.as_ref().filter(|_| here);
    if let Some(input) = typed {
        let box_ = Rect { width: width.min(place.width), ..place };
        paint::text(buf, box_, box_.x, box_.y, &" ".repeat(usize::from(box_.width)), looks.chosen(), looks);
        paint::text(buf, box_, box_.x, box_.y, input.value(), looks.chosen(), looks);
        let at = (input.visual_cursor() as u16).min(box_.width.saturating_sub(1));
        return Some((box_.x + at, box_.y));
    }
    let nothing = if looks.ascii { "-" } else { "·" };
    let words = if row.written.is_empty() { nothing } else { &row.written };
    let style = if here {
        looks.chosen()
    } else if row.written.is_empty() {
        looks.quiet()
    } else {
        looks.figure()
    };
    let words = paint::shorten(words, usize::from(width.min(place.width)));
    paint::text(buf, place, place.x, place.y, &words, style, looks);
    here.then_some((place.x, place.y))
}

fn thing(
    state: &State,
    screen: &DayScreen,
    i: usize,
    row: &DayRow,
    buf: &mut Buffer,
    place: Rect,
) -> Option<(u16, u16)> {
    let looks = state.looks;
    let title = paint::shorten(&row.field.title(), TITLE - 1);
    paint::text(
        buf,
        place,
        place.x,
        place.y,
        &title,
        if screen.row == i { looks.heading() } else { looks.text() },
        looks,
    );
    let x = place.x + TITLE as u16;
    let rest = Rect { x, width: place.right().saturating_sub(x), ..place };
    let cursor = value(state, screen, i, row, buf, rest, rest.width);
    let used = row.written.width().max(1) as u16 + 2;
    if screen.row != i || screen.input.is_none() {
        let after = Rect { x: x + used, width: rest.width.saturating_sub(used), ..rest };
        if after.width > 6 && !row.means.is_empty() {
            let words = paint::shorten(&row.means, usize::from(after.width));
            paint::text(buf, after, after.x, after.y, &words, looks.quiet(), looks);
        }
    }
    cursor
}

/// `4  14 on, 5 from left   in the face from the left   7 iron for 9 iron`.
fn hole(
    state: &State,
    screen: &DayScreen,
    i: usize,
    row: &DayRow,
    buf: &mut Buffer,
    place: Rect,
) -> Option<(u16, u16)> {
    let looks = state.looks;
    let Field::Hole(number) = row.field else { return None };
    let style = if screen.row == i { looks.heading() } else { looks.text() };
    paint::text(buf, place, place.x, place.y, &format!("{number:>2}"), style, looks);
    let x = place.x + 4;
    let width = 22;
    let cursor = value(state, screen, i, row, buf, Rect { x, width: place.right().saturating_sub(x), ..place }, width);
    let found = state.derived.day.holes.iter().find(|(n, _)| *n == number).and_then(|(_, f)| f.as_ref());
    let wind_x = x + width + 1;
    let room = place.right().saturating_sub(wind_x);
    let wide = room >= 48;
    let wind_width: u16 = if wide { 27 } else { room };
    let (words, wind_style) = if !row.advice.is_empty() && !wide {
        (row.advice.clone(), looks.caution())
    } else {
        (row.means.clone(), looks.quiet())
    };
    let wind_place = Rect { x: wind_x, width: wind_width.min(room), ..place };
    let changed = changed_words(found);
    if !wide && !changed.0.is_empty() && row.advice.is_empty() {
        let words = paint::shorten(&changed.0, usize::from(wind_place.width));
        paint::text(buf, wind_place, wind_place.x, place.y, &words, changed_style(looks, changed.1), looks);
        return cursor;
    }
    paint::text(
        buf,
        wind_place,
        wind_place.x,
        place.y,
        &paint::shorten(&words, usize::from(wind_place.width)),
        wind_style,
        looks,
    );
    if wide {
        let rest = Rect { x: wind_x + wind_width, width: room - wind_width, ..place };
        let (words, style) = if row.advice.is_empty() {
            (changed.0, changed_style(looks, changed.1))
        } else {
            (row.advice.clone(), looks.caution())
        };
        paint::text(buf, rest, rest.x, place.y, &paint::shorten(&words, usize::from(rest.width)), style, looks);
    }
    cursor
}

fn changed_style(looks: Looks, changed: bool) -> Style {
    if changed { looks.stroke() } else { looks.quiet() }
}

/// What the day changes on a hole, and whether the play changes.
fn changed_words(found: Option<&Result<HoleToday, String>>) -> (String, bool) {
    match found {
        None => (String::new(), false),
        Some(Err(why)) => (why.clone(), false),
        Some(Ok(hole)) => {
            let by = hole.today - hole.usual;
            let strokes = if by.abs() < 0.025 { String::new() } else { format!("{by:+.2}") };
            match &hole.how {
                Some(how) if strokes.is_empty() => (how.clone(), true),
                Some(how) => (format!("{strokes}  {how}"), true),
                None if strokes.is_empty() => ("as usual".to_owned(), false),
                None => (strokes, false),
            }
        }
    }
}

/// The words under the things: how to type, why not, what the hole under the cursor becomes.
fn about(state: &State, screen: &DayScreen, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let mut out: Vec<Line<'static>> = Vec::new();
    let mut say = |words: &str, style: Style| {
        out.extend(paint::wrap(words, width).into_iter().map(|l| Line::styled(l, style)));
    };
    let Some(row) = state.derived.day.rows.get(screen.row) else {
        say("No notebook is open: choose one on the Shelf (s).", looks.text());
        return out;
    };
    if let Some(why) = crate::tui::commands::why_no_day(state) {
        say(&why, looks.caution());
    } else if let Some(message) = &screen.message {
        say(message, looks.caution());
    } else {
        say(&format!("{}: {}", row.field.title(), row.field.form()), looks.quiet());
    }
    if !row.advice.is_empty() {
        say(&format!("Advice: {}. The Committee decides.", row.advice), looks.caution());
    }
    if let Field::Hole(number) = row.field {
        if !row.means.is_empty() {
            say(&format!("Wind {}.", row.means), looks.text());
        }
        let found = state.derived.day.holes.iter().find(|(n, _)| *n == number).and_then(|(_, f)| f.as_ref());
        if let Some(Ok(hole)) = found {
            let how = hole.how.as_deref().map_or_else(|| "played as on a usual day".to_owned(), str::to_owned);
            say(&format!("{:.2} strokes, usually {:.2}: {how}.", hole.today, hole.usual), looks.text());
        }
    }
    let all = &state.derived.day.holes;
    let done: Vec<&HoleToday> = all.iter().filter_map(|(_, f)| f.as_ref()?.as_ref().ok()).collect();
    if !done.is_empty() {
        let (changed, by): (usize, f64) =
            done.iter().fold((0, 0.0), |(n, by), h| (n + usize::from(h.how.is_some()), by + h.today - h.usual));
        let of = if done.len() == all.len() {
            String::new()
        } else {
            format!(" ({} of {} holes so far)", done.len(), all.len())
        };
        say(
            &format!("Today {by:+.1} strokes against a usual day; the play changes on {changed} holes{of}."),
            looks.heading(),
        );
    }
    out
}

/// What a 12-mile wind does to each hole.
fn table(state: &State, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let units = state.shown_units();
    let mut out = vec![Line::styled(
        paint::shorten("What 12 mph from today's direction does to each hole", width),
        looks.heading(),
    )];
    out.push(Line::styled(
        paint::shorten(&format!("{:>2}  {:<26} {:>11} {:>11} {:>7}", "", "wind", "drive", "150 in", "strokes"), width),
        looks.quiet(),
    ));
    let shot = |b: &Blown| {
        let show = |yards: f64| Length::yards(yards.abs()).show(units);
        let by = if b.by.abs() < 0.5 {
            "0".to_owned()
        } else {
            format!("{}{}", if b.by < 0.0 { "-" } else { "+" }, show(b.by))
        };
        let side = if b.drift.abs() < 0.5 {
            String::new()
        } else {
            format!(" {}{}", show(b.drift), if b.drift < 0.0 { "L" } else { "R" })
        };
        format!("{by}{side}")
    };
    for (number, found) in &state.derived.day.holes {
        let line = match found {
            None => format!("{number:>2}  …"),
            Some(Err(why)) => format!("{number:>2}  {why}"),
            Some(Ok(HoleToday { breeze: None, .. })) => format!("{number:>2}  no direction known"),
            Some(Ok(HoleToday { breeze: Some(b), .. })) => format!(
                "{number:>2}  {:<26} {:>11} {:>11} {:>+7.2}",
                paint::shorten(&b.sentence, 26),
                shot(&b.drive),
                shot(&b.approach),
                b.strokes
            ),
        };
        out.push(Line::styled(paint::shorten(&line, width), looks.text()));
    }
    if state.derived.day.holes.iter().all(|(_, f)| f.is_none()) && state.session.day.is_none() {
        out.truncate(1);
        out.extend(
            paint::wrap("Type a wind on the sheet first: its direction is what the table needs.", width)
                .into_iter()
                .map(|l| Line::styled(l, looks.text())),
        );
    } else {
        let words = "Length and drift of a shot as meant; changes are good to about 30 per cent.";
        out.extend(paint::wrap(words, width).into_iter().map(|l| Line::styled(l, looks.quiet())));
    }
    out
}

/// The whole page as lines.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let Some(screen) = state.day_screen() else { return Vec::new() };
    let mut out = vec![heading(state)];
    for row in &state.derived.day.rows {
        let written = if row.written.is_empty() { "not known" } else { &row.written };
        let mut words = format!("{}: {written}", row.field.title());
        for part in [&row.means, &row.advice].into_iter().filter(|p| !p.is_empty()) {
            words.push_str(&format!("; {part}"));
        }
        if let Field::Hole(number) = row.field {
            let found = state.derived.day.holes.iter().find(|(n, _)| *n == number).and_then(|(_, f)| f.as_ref());
            let (changed, _) = changed_words(found);
            if !changed.is_empty() {
                words.push_str(&format!("; {changed}"));
            }
        }
        out.push(Line::from(words));
    }
    out.extend(about(state, screen, width));
    if screen.table {
        out.extend(table(state, width));
    }
    out
}
