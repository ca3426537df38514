//! The Pupils page: one hole, every pupil, play, price and where the play becomes another.

use super::layout::Shape;
use super::paint;
use crate::tui::state::{Answer, PupilPlay, PupilsScreen, State};
use crate::units::Length;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

fn head(state: &State, page: &PupilsScreen) -> Line<'static> {
    let looks = state.looks;
    let between = looks.between();
    let sheet = state.derived.hole.as_ref();
    let hole = sheet.map_or_else(String::new, |s| format!("{} {}", s.number, s.name.clone().unwrap_or_default()));
    let list = page.lists.get(page.list).map_or_else(|| "no list".to_owned(), |(_, name)| name.clone());
    let wants = page.key.as_ref().map(|k| k.aimed.wants()).unwrap_or_default();
    let done = page.answers.iter().flatten().filter(|a| is_whole(a)).count();
    let many = page.answers.len();
    let progress = if done < many { format!("{between}{done} of {many} worked out") } else { String::new() };
    let words = format!(
        "{between}{}{between}{list}{between}{wants}{between}{}{progress}",
        hole.trim(),
        state.shown_units().word()
    );
    Line::from(vec![Span::styled("Pupils", looks.heading()), Span::styled(words, looks.quiet())])
}

fn is_whole(answer: &Answer) -> bool {
    match answer {
        Answer::None(_) => true,
        Answer::Play(play) => play.price.is_some() && play.crossings.is_some(),
    }
}

/// To the nearest 0.05, as prices are said.
fn price_words(price: &(String, f64)) -> String {
    if price.1 < 0.025 {
        "nothing over 0.05".to_owned()
    } else {
        format!("{} {:.2}", price.0, (price.1 * 20.0).round() / 20.0)
    }
}

fn crossing_words(state: &State, play: &PupilPlay, carry: f64) -> String {
    let units = state.shown_units();
    match &play.crossings {
        None => "…".to_owned(),
        Some(all) if all.is_empty() => "same from a fifth shorter to a fifth longer".to_owned(),
        Some(all) => {
            let words: Vec<String> = all
                .iter()
                .map(|(at, club)| {
                    let way = if *at < carry { "or less" } else { "or more" };
                    format!("{} {way}: {club}", Length::yards(*at).show(units))
                })
                .collect();
            words.join("; ")
        }
    }
}

/// The table: each pupil on a line where it fits, else on several.
fn table(state: &State, page: &PupilsScreen, width: usize) -> (Vec<Line<'static>>, usize) {
    let looks = state.looks;
    let units = state.shown_units();
    let mut out = Vec::new();
    let mut at = 0;
    let name = page.people.iter().map(|p| p.name.width()).max().unwrap_or(4).clamp(4, 18);
    let wide = width >= 100;
    let tee = page.people.iter().map(|p| p.tee.width()).max().unwrap_or(3).clamp(3, 10);
    let (play, cost) = if wide { (width.saturating_sub(name + tee + 62).clamp(16, 44), 22) } else { (0, 0) };
    if wide {
        out.push(Line::styled(
            format!(
                "  {:<name$} {:<tee$} {:>5} {:>5}  {:<play$} {:<cost$} the play changes at a carry of",
                "pupil", "tee", "carry", "mean", "first shot", "dearest"
            ),
            looks.quiet(),
        ));
    }
    for (index, person) in page.people.iter().enumerate() {
        let chosen = index == page.cursor;
        let mark = if chosen { "> " } else { "  " };
        let style = if chosen { looks.heading() } else { looks.text() };
        if chosen {
            at = out.len();
        }
        let carry = person.driver_carry();
        let figure = carry.map_or_else(
            || "-".to_owned(),
            |(yards, from)| {
                let assumed = if from == crate::pattern::Source::Assumed { "~" } else { "" };
                format!("{assumed}{}", Length::yards(yards).show(units))
            },
        );
        let who = format!(
            "{mark}{:<name$} {:<tee$} {figure:>5}",
            paint::shorten(&person.name, name),
            paint::shorten(&person.tee, tee)
        );
        let answer = page.answers.get(index).and_then(Option::as_ref);
        let (mean, first, dear, cross) = match answer {
            None => (String::new(), "working it out".to_owned(), String::new(), String::new()),
            Some(Answer::None(why)) => (String::new(), why.clone(), String::new(), String::new()),
            Some(Answer::Play(play)) => (
                format!("{:.2}", play.strokes),
                play.play.clone(),
                play.price.as_ref().map_or_else(|| "…".to_owned(), price_words),
                crossing_words(state, play, carry.map_or(200.0, |(yards, _)| yards)),
            ),
        };
        if wide {
            let pad = |words: &str, columns: usize| {
                let words = paint::shorten(words, columns);
                let gap = columns.saturating_sub(words.width());
                format!("{words}{}", " ".repeat(gap))
            };
            let left = width.saturating_sub(name + tee + 18 + play + cost);
            let parts = paint::wrap(&cross, left.max(10));
            let mut parts = parts.into_iter();
            let indent = " ".repeat(name + tee + 18 + play + cost);
            out.push(Line::from(vec![
                Span::styled(who, style),
                Span::styled(format!(" {mean:>5}  "), looks.figure()),
                Span::styled(pad(&first, play), style),
                Span::styled(format!(" {} ", pad(&dear, cost)), looks.danger()),
                Span::styled(parts.next().unwrap_or_default(), looks.text()),
            ]));
            out.extend(parts.map(|p| Line::styled(format!("{indent}{p}"), looks.text())));
        } else {
            out.push(Line::from(vec![Span::styled(who, style), Span::styled(format!(" {mean:>5}"), looks.figure())]));
            let mut facts = vec![first];
            facts.extend((!dear.is_empty()).then(|| format!("dearest: {dear}")));
            facts.extend((!cross.is_empty()).then(|| format!("carry {cross}")));
            for part in paint::wrap(&facts.join("; "), width.saturating_sub(4)) {
                out.push(Line::styled(format!("    {part}"), looks.text()));
            }
        }
    }
    out.push(Line::default());
    for remark in &page.remarks {
        out.extend(paint::wrap(remark, width).into_iter().map(|l| Line::styled(l, looks.caution())));
    }
    out.extend(paint::wrap(ABOUT, width).into_iter().map(|l| Line::styled(l, looks.quiet())));
    (out, at)
}

const ABOUT: &str = "Mean strokes of the steady play, the dearest danger with its price in strokes. The carry at which the play changes: the whole bag made longer or shorter together, until another club is the first shot; ~ is assumed.";

/// The page as plain text.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let Some(page) = state.pupils() else { return Vec::new() };
    let mut out = vec![head(state, page)];
    if page.listed {
        out.extend(table(state, page, width).0);
    } else {
        out.push(Line::from("Looking for lists of pupils"));
    }
    out
}

/// Draws the page.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect, shape: Shape) -> Option<(u16, u16)> {
    let page = state.pupils()?;
    let margin = u16::from(shape == Shape::Wide);
    let area = Rect { x: area.x + margin, width: area.width - 2 * margin, ..area };
    let line = paint::shorten(&head(state, page).to_string(), usize::from(area.width));
    let x = paint::text(buf, area, area.x, area.y, "Pupils", state.looks.heading(), state.looks);
    let rest = line.get("Pupils".len()..).unwrap_or_default();
    paint::text(buf, area, x, area.y, rest, state.looks.quiet(), state.looks);
    let body = Rect { y: area.y + 1, height: area.height.saturating_sub(1), ..area };
    if !page.listed {
        paint::text(buf, body, body.x, body.y, "Looking for lists of pupils", state.looks.quiet(), state.looks);
        return None;
    }
    let (lines, at) = table(state, page, usize::from(body.width));
    let room = usize::from(body.height);
    let from = if lines.len() <= room { 0 } else { (at + 4).saturating_sub(room).min(lines.len() - room) };
    paint::lines(buf, body, lines.get(from..).unwrap_or_default(), state.looks);
    let row = (at - from.min(at)) as u16;
    (row < body.height).then_some((body.x, body.y + row))
}
