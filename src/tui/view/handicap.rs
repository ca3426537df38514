//! The Handicap page: a player's record, the working of the index, its plot, and what a score to come would do.

use super::plot;
use super::{help, paint};
use crate::sheet::record::NOT_OFFICIAL;
use crate::sheet::{RecordSheet, ScoreLine};
use crate::tui::state::{HandicapScreen, State};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

/// From this width on the working stands beside the plot.
const TWO_COLUMNS: usize = 100;

/// Before the text field.
const ASK: &str = "What if ";

/// Draws the page: the head stands still, the rest turns under it; returns the place of the cursor while a score is typed.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect) -> Option<(u16, u16)> {
    let screen = state.handicap_screen()?;
    let width = usize::from(area.width);
    let (head, field) = head(state, screen, width);
    let rows = (head.len() as u16).min(area.height.saturating_sub(1));
    paint::lines(buf, Rect { height: rows, ..area }, &head, state.looks);
    let body = Rect { y: area.y + rows, height: area.height - rows, ..area };
    let lines = body_lines(state, width, usize::from(body.height));
    help::scrolled(buf, body, &lines, screen.scroll, state.looks);
    let place = field.filter(|_| screen.typing)?;
    let cursor = screen.input.visual_cursor().min(usize::from(area.width).saturating_sub(ASK.len() + 1));
    (place < rows).then_some((area.x + (ASK.len() + cursor) as u16, area.y + place))
}

/// The whole page as lines.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let Some(screen) = state.handicap_screen() else { return Vec::new() };
    let (mut out, _) = head(state, screen, width);
    // Read aloud, one thing comes after the other.
    out.extend(body_lines(state, width.min(TWO_COLUMNS - 1), 24));
    out
}

/// The lines that stay: whose record, that it is not official, the index, the score to come; and the row of its field.
fn head(state: &State, screen: &HandicapScreen, width: usize) -> (Vec<Line<'static>>, Option<u16>) {
    let looks = state.looks;
    let sheet = state.derived.record.as_ref().map(|shown| &shown.sheet);
    let name = match sheet {
        Some(Ok(sheet)) => sheet.name.clone(),
        _ => state.session.people.get(state.player).map(|p| p.name.clone()).unwrap_or_default(),
    };
    let mut out = vec![Line::from(vec![
        Span::styled("Handicap", looks.heading()),
        Span::styled(format!("{}{name}", looks.between()), looks.heading()),
    ])];
    let mut say = |words: &str, style| {
        out.extend(paint::wrap(words, width).into_iter().map(|part| Line::styled(part, style)));
    };
    say(NOT_OFFICIAL, looks.quiet());
    match sheet {
        Some(Ok(sheet)) => say(&sheet.agreement(), looks.figure()),
        Some(Err(why)) => {
            say(why, looks.text());
            return (out, None);
        }
        None => return (out, None),
    }
    let row = out.len() as u16;
    let typed = screen.input.value();
    let field = if screen.typing {
        let pad = 24_usize.saturating_sub(typed.width());
        vec![
            Span::styled(ASK, looks.heading()),
            Span::styled(format!("{typed}{}", " ".repeat(pad)), looks.chosen()),
            Span::styled("  Enter keeps it, Esc takes it away", looks.quiet()),
        ]
    } else if typed.is_empty() {
        let words = "w: a score to come, as 88, 88 71.2 131, or a differential as 14.2";
        vec![Span::styled(ASK, looks.heading()), Span::styled(words, looks.quiet())]
    } else {
        vec![Span::styled(ASK, looks.heading()), Span::styled(typed.to_owned(), looks.figure())]
    };
    out.push(Line::from(field));
    match state.derived.record.as_ref().and_then(|shown| shown.what_if.as_ref()) {
        Some(Ok(sentences)) => {
            for sentence in sentences {
                out.extend(indented(sentence, width).into_iter().map(|part| Line::styled(part, looks.text())));
            }
        }
        Some(Err(why)) => out.extend(indented(why, width).into_iter().map(|part| Line::styled(part, looks.caution()))),
        None => {}
    }
    (out, Some(row))
}

fn indented(words: &str, width: usize) -> Vec<String> {
    let pad = " ".repeat(ASK.len());
    paint::wrap(words, width.saturating_sub(ASK.len())).into_iter().map(|part| format!("{pad}{part}")).collect()
}

/// Plot, working, what moves the index, and the scores.
fn body_lines(state: &State, width: usize, room: usize) -> Vec<Line<'static>> {
    let Some(Ok(sheet)) = state.derived.record.as_ref().map(|shown| &shown.sheet) else { return Vec::new() };
    let looks = state.looks;
    let mut out = vec![Line::default()];
    if width >= TWO_COLUMNS {
        let left_width = 50.min(width / 2);
        let left = words(state, sheet, left_width);
        let right = plot::plot(&sheet.scores, width - left_width - 2, left.len().saturating_sub(2).clamp(8, 16), looks);
        for row in 0..left.len().max(right.len()) {
            let mut line = left.get(row).cloned().unwrap_or_default();
            let pad = (left_width + 2).saturating_sub(line.width());
            line.push_span(Span::raw(" ".repeat(pad)));
            for span in right.get(row).into_iter().flat_map(|l| l.spans.iter().map(|s| s.clone().patch_style(l.style)))
            {
                line.push_span(span);
            }
            out.push(line);
        }
    } else {
        out.extend(plot::plot(&sheet.scores, width, (room / 2).clamp(5, 12), looks));
        out.push(Line::default());
        out.extend(words(state, sheet, width));
    }
    out.push(Line::default());
    out.extend(table(sheet, width, state));
    out
}

/// How the index was made, and what moves it.
fn words(state: &State, sheet: &RecordSheet, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let mut out = Vec::new();
    if !sheet.working.is_empty() {
        let after = sheet.scores.last().map(|s| format!(" after {}", s.date)).unwrap_or_default();
        out.push(Line::styled(format!("How the index was made{after}"), looks.heading()));
        for line in &sheet.working {
            let room = width.saturating_sub(line.figure.width() + 1);
            let fits = line.what.width() <= room;
            if fits {
                let dots = room.saturating_sub(line.what.width());
                out.push(Line::from(vec![
                    Span::styled(line.what.clone(), looks.quiet()),
                    Span::raw(" ".repeat(dots + 1)),
                    Span::styled(line.figure.clone(), looks.text()),
                ]));
            } else {
                out.extend(paint::wrap(&line.to_string(), width).into_iter().map(|l| Line::styled(l, looks.quiet())));
            }
        }
    }
    if !sheet.next.is_empty() {
        out.push(Line::styled("What moves it in the next round", looks.heading()));
        for sentence in &sheet.next {
            out.extend(paint::wrap(sentence, width).into_iter().map(|l| Line::styled(l, looks.text())));
        }
    }
    if !sheet.left_out.is_empty() {
        out.push(Line::styled("Left out", looks.heading()));
        for why in &sheet.left_out {
            out.extend(paint::wrap(why, width).into_iter().map(|l| Line::styled(l, looks.caution())));
        }
    }
    out
}

/// The scores, newest first.
fn table(sheet: &RecordSheet, width: usize, state: &State) -> Vec<Line<'static>> {
    let looks = state.looks;
    let place_width = width.saturating_sub(54).min(34);
    let head = format!(
        "{:<10}  {:>5} {:>9} {:>12}   {:>11}  {:<place_width$}",
        "date", "gross", "rated", "differential", "index after", "where"
    );
    let mut out = vec![Line::styled(paint::shorten(head.trim_end(), width), looks.heading())];
    out.extend(sheet.scores.iter().rev().map(|score| {
        let (counts, _) = plot::marks(looks);
        let mark = if score.counts { counts } else { ' ' };
        let value = score.differential.map_or_else(|| "waits".to_owned(), |d| d.to_string());
        let value = if score.estimated { format!("about {value}") } else { value };
        let index = score.index.map(|i| i.to_string()).unwrap_or_default();
        let holes = if score.holes == 18 { String::new() } else { format!("/{}", score.holes) };
        let style = if score.on_record { looks.text() } else { looks.quiet() };
        let row =
            format!("{:<10}  {:>5} {:>9} {:>12} ", score.date, format!("{}{holes}", score.gross), score.rated, value);
        let rest = format!(" {index:>11}  {}", paint::shorten(&place_of(score), place_width));
        Line::from(vec![
            Span::styled(row, style),
            Span::styled(mark.to_string(), looks.stroke()),
            Span::styled(rest, style),
        ])
    }));
    out
}

fn place_of(score: &ScoreLine) -> String {
    match score.exceptional {
        0 => score.place.clone(),
        taken => format!("exceptional, {} off all; {}", -taken, score.place),
    }
}
