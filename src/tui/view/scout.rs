//! The scout's list, and what a layer would change in the notebook.

use super::layout::Shape;
use super::paint;
use crate::course::Sure;
use crate::survey::merge::MergeAct;
use crate::tui::state::State;
use crate::units::{Across, Length};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};

const fn known(sure: Option<Sure>) -> &'static str {
    match sure {
        Some(Sure::Guess) => "guessed",
        Some(Sure::Map) => "from the map",
        Some(Sure::Paced) => "paced",
        Some(Sure::Laser) => "lasered",
        None => "nobody says how well it is known",
    }
}

/// The scout's list as lines, and the line of the cursor.
pub fn lines(state: &State, width: usize) -> (Vec<Line<'static>>, usize) {
    let Some(page) = state.scout() else { return (Vec::new(), 0) };
    let looks = state.looks;
    let units = state.shown_units();
    let show = |yards: f64| Length::yards(yards).show(units);
    let progress = if page.done.0 < page.done.1 {
        format!("{}{} of {} holes looked at", looks.between(), page.done.0, page.done.1)
    } else {
        String::new()
    };
    let head = format!("{}what to measure next{}{}{progress}", looks.between(), looks.between(), units.word());
    let mut out = vec![Line::from(vec![
        Span::styled("Scout's list", looks.heading()),
        Span::styled(paint::shorten(&head, width.saturating_sub(12)), looks.quiet()),
    ])];
    let mut at = 0;
    for (index, line) in page.lines.iter().enumerate() {
        let chosen = index == page.cursor;
        let mark = if chosen { "> " } else { "  " };
        let style = if chosen { looks.heading() } else { looks.text() };
        if chosen {
            at = out.len();
        }
        let place = format!("{}, {}", show(line.at.0), Across(line.across.0).show(units));
        let doubt = if looks.ascii { "+-" } else { "±" };
        let words = format!(
            "hole {}  {}: {} (now {place} along the line; {}, {doubt}{})",
            line.hole,
            line.what,
            line.measure.words(),
            known(line.sure),
            show(line.doubt)
        );
        for (i, part) in paint::wrap(&words, width.saturating_sub(2)).into_iter().enumerate() {
            out.push(Line::styled(format!("{}{part}", if i == 0 { mark } else { "  " }), style));
        }
        for player in &line.players {
            let arrow = if looks.ascii { "->" } else { "→" };
            let words = format!(
                "{:.0} in 4 for {}: {} {arrow} {}",
                player.share * 4.0,
                player.player,
                player.play,
                player.instead
            );
            for part in paint::wrap(&words, width.saturating_sub(6)) {
                out.push(Line::styled(format!("      {part}"), looks.quiet()));
            }
        }
    }
    if page.lines.is_empty() && page.done.0 == page.done.1 {
        let words = "No number that is unmeasured or guessed would change a play by a plausible error. Esc goes back.";
        out.extend(paint::wrap(words, width).into_iter().map(|l| Line::styled(l, looks.quiet())));
    } else if page.lines.is_empty() {
        out.push(Line::styled("Looking at the hole on screen first.", looks.quiet()));
    }
    for words in &page.left {
        out.extend(paint::wrap(words, width).into_iter().map(|l| Line::styled(l, looks.caution())));
    }
    (out, at)
}

/// The page of merging as lines.
pub fn merge_lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let Some(page) = state.merge() else { return Vec::new() };
    let looks = state.looks;
    let mut out = Vec::new();
    let Some((layer, file)) = state.session.layers.get(page.layer) else {
        return vec![Line::styled("This notebook has no layer any more. Esc goes back.", looks.quiet())];
    };
    let short = std::path::Path::new(&file.name).file_name().and_then(|n| n.to_str()).unwrap_or_default();
    let at = format!("hole {} of {}", page.hole + 1, layer.holes.len());
    let head = format!("{}{at}{}{}{}{short}", looks.between(), looks.between(), layer.whose(), looks.between());
    out.push(Line::from(vec![
        Span::styled("Into the notebook", looks.heading()),
        Span::styled(paint::shorten(&head, width.saturating_sub(17)), looks.quiet()),
    ]));
    let shown = match &page.shown {
        None => {
            out.push(Line::styled("The layer says nothing of any hole. Esc goes back.", looks.quiet()));
            return out;
        }
        Some(Err(why)) => {
            out.extend(paint::wrap(why, width).into_iter().map(|l| Line::styled(l, looks.caution())));
            return out;
        }
        Some(Ok(shown)) => shown,
    };
    out.push(Line::styled(format!("Hole {}", shown.number), looks.heading()));
    for step in &shown.steps {
        let style = match step.act {
            MergeAct::Added | MergeAct::Replaced => looks.text(),
            MergeAct::TakenOut | MergeAct::NotFound => looks.caution(),
            MergeAct::Already => looks.quiet(),
        };
        let was = step.was.as_ref().map(|w| format!(" (instead of: {w})")).unwrap_or_default();
        let words = format!("{} ({}): {}{was}", step.act.word(), step.list, step.words);
        for (i, part) in paint::wrap(&words, width.saturating_sub(2)).into_iter().enumerate() {
            out.push(Line::styled(format!("{}{part}", if i == 0 { "" } else { "  " }), style));
        }
    }
    out.push(Line::default());
    // Both texts side by side where there is room, else one under the other.
    let row = |line: Option<&(usize, String)>, width: usize| {
        let words = line.map(|(n, text)| format!("{n:>5} {}", text.trim_end())).unwrap_or_default();
        let words = paint::shorten(&words, width);
        let pad = width.saturating_sub(unicode_width::UnicodeWidthStr::width(words.as_str()));
        format!("{words}{}", " ".repeat(pad))
    };
    if width >= 100 {
        let half = (width - 3) / 2;
        out.push(Line::styled(format!("{:<half$}   {}", "      as it is", "      as it would be"), looks.quiet()));
        for i in 0..shown.before.len().max(shown.after.len()) {
            out.push(Line::from(vec![
                Span::styled(row(shown.before.get(i), half), looks.quiet()),
                Span::raw(" | "),
                Span::styled(row(shown.after.get(i), half), looks.figure()),
            ]));
        }
    } else {
        for (mark, side, style) in [("-", &shown.before, looks.quiet()), ("+", &shown.after, looks.figure())] {
            out.extend(
                side.iter().map(|l| Line::styled(format!("{mark}{}", row(Some(l), width.saturating_sub(1))), style)),
            );
        }
    }
    out
}

/// Draws the scout's list.
pub fn draw(state: &State, buf: &mut Buffer, area: Rect, shape: Shape) -> Option<(u16, u16)> {
    let margin = u16::from(shape == Shape::Wide);
    let area = Rect { x: area.x + margin, width: area.width - 2 * margin, ..area };
    let (lines, at) = lines(state, usize::from(area.width));
    let room = usize::from(area.height);
    let from = if lines.len() <= room { 0 } else { (at + 4).saturating_sub(room).min(lines.len() - room) };
    paint::lines(buf, area, lines.get(from..).unwrap_or_default(), state.looks);
    let row = at.saturating_sub(from) as u16;
    (row < area.height).then_some((area.x, area.y + row))
}

/// Draws the page of merging.
pub fn draw_merge(state: &State, buf: &mut Buffer, area: Rect, shape: Shape) -> Option<(u16, u16)> {
    let margin = u16::from(shape == Shape::Wide);
    let area = Rect { x: area.x + margin, width: area.width - 2 * margin, ..area };
    let lines = merge_lines(state, usize::from(area.width));
    let last = lines.len().saturating_sub(usize::from(area.height));
    let from = state.merge().map_or(0, |p| p.scroll).min(last);
    paint::lines(buf, area, lines.get(from..).unwrap_or_default(), state.looks);
    None
}
