//! Tables over the text of the Hole page: every club from here, formats side by side, what if.

use super::paint;
use super::plan::tidy;
use crate::plan::{Change, ClubHere, ForFormat, Shot, WhatIf, reasons};
use crate::tui::ask::{Answer, AskKey};
use crate::tui::state::{Panel, State};
use crate::units::Length;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use unicode_width::UnicodeWidthStr;

/// A table narrower than this leaves its figures under its words.
const NARROW: usize = 58;

/// The lines of the table that is open, at most `width` columns wide.
pub fn lines(state: &State, panel: Panel, width: usize) -> Vec<Line<'static>> {
    match panel {
        Panel::Clubs => clubs(state, width),
        Panel::Compare => match asked(state, AskKey::Compare) {
            Ok(Answer::Compare(rows)) => formats(state, rows, width),
            Ok(_) => Vec::new(),
            Err(why) => waiting(state, "Formats", &why, width),
        },
        Panel::WhatIf => match asked(state, AskKey::WhatIf) {
            Ok(Answer::WhatIf(rows)) => changes(state, rows, width),
            Ok(_) => Vec::new(),
            Err(why) => waiting(state, "What if", &why, width),
        },
    }
}

/// The answer to a question about the hole, or why it is not there yet.
fn asked(state: &State, key: impl FnOnce(crate::tui::state::PlanKey) -> AskKey) -> Result<&Answer, String> {
    match state.answer(key) {
        Some(Ok(answer)) => Ok(answer),
        Some(Err(why)) => Err(why.clone()),
        None => Err("being worked out…".to_owned()),
    }
}

fn waiting(state: &State, title: &str, why: &str, width: usize) -> Vec<Line<'static>> {
    let words = format!("{title}  {why}");
    paint::wrap(&words, width).into_iter().map(|part| Line::styled(part, state.looks.quiet())).collect()
}

fn heading(state: &State, title: &str, words: &str, width: usize) -> Line<'static> {
    Line::from(vec![
        Span::styled(title.to_owned(), state.looks.heading()),
        Span::styled(
            format!("  {}", paint::shorten(words, width.saturating_sub(title.len() + 2))),
            state.looks.quiet(),
        ),
    ])
}

/// Words in `width` columns, cut or padded.
fn cell(words: &str, width: usize) -> String {
    let words = paint::shorten(words, width);
    let pad = width.saturating_sub(words.width());
    format!("{words}{}", " ".repeat(pad))
}

/// A row of words and figures; on narrow screens the figures stand under the words.
fn row(
    state: &State,
    name: (&str, usize),
    words: &str,
    figures: &[(String, Style)],
    width: usize,
    chosen: bool,
) -> Vec<Line<'static>> {
    let looks = state.looks;
    let mark = match (chosen, looks.ascii) {
        (true, false) => "● ",
        (true, true) => "* ",
        (false, _) => "  ",
    };
    let all: usize = figures.iter().map(|(f, _)| f.width()).sum();
    let mut spans = vec![Span::styled(mark, looks.stroke()), Span::styled(cell(name.0, name.1), looks.text())];
    let of_figures = |out: &mut Vec<Span<'static>>| {
        out.extend(figures.iter().map(|(f, style)| Span::styled(f.clone(), *style)));
    };
    if width < NARROW {
        spans.push(Span::styled(paint::shorten(&format!(" {words}"), width.saturating_sub(name.1 + 2)), looks.quiet()));
        let mut second = vec![Span::raw("  ")];
        of_figures(&mut second);
        return vec![Line::from(spans), Line::from(second)];
    }
    let room = width.saturating_sub(name.1 + 3 + all);
    spans.push(Span::styled(format!(" {}", cell(words, room)), looks.quiet()));
    of_figures(&mut spans);
    vec![Line::from(spans)]
}

fn clubs(state: &State, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let answered = &state.derived.answered;
    let Some(plan) = answered.stand_plan() else {
        return match asked(state, |key| AskKey::Stand(key, state.hole.stand)) {
            Ok(_) => Vec::new(),
            Err(why) => waiting(state, "Every club", &why, width),
        };
    };
    let unit = state.derived.plan_key.as_ref().map_or("strokes", |k| k.aimed.unit());
    let words = format!("from here, as shot {}; worse in {unit}; [ ] look at one, m p pins it", plan.shot);
    let mut out = vec![heading(state, "Every club", &words, width)];
    if plan.clubs.is_empty() {
        out.push(Line::styled("There is no club to choose from here.", looks.text()));
        return out;
    }
    let name = plan.clubs.iter().map(|c| c.shot.club.width()).max().unwrap_or(4).min(if width < 90 { 12 } else { 22 });
    if width >= NARROW {
        let dangers = if width >= 76 { "  dangers found" } else { "" };
        let figures = [(format!("{:>7}{:>9}{:>7}{dangers:<26}", "leaves", "to come", "worse"), looks.quiet())];
        let figures = if width >= 76 {
            figures
        } else {
            [(format!("{:>7}{:>9}{:>7}", "leaves", "to come", "worse"), looks.quiet())]
        };
        out.extend(row(state, ("", name), "where it finishes", &figures, width, false));
    }
    for (i, club) in plan.clubs.iter().enumerate() {
        let worse = if club.worse < 0.005 { "-".to_owned() } else { format!("{:.2}", club.worse) };
        let leaves = Length::yards(club.shot.leaves).show(state.shown_units());
        let mut figures = vec![
            (format!("{leaves:>7}"), looks.text()),
            (format!("{:>9.2}", tidy(club.strokes)), looks.figure()),
            (format!("{worse:>7}"), looks.danger()),
        ];
        if width >= 76 || width < NARROW {
            let room = if width < NARROW { width.saturating_sub(27) } else { 24 };
            figures.push((format!("  {}", cell(&dangers(state, club), room)), looks.quiet()));
        }
        let words = club.shot.words.replace(&format!(" {}", state.shown_units().word()), "");
        let lines = row(state, (&club.shot.club, name), &words, &figures, width, i == plan.best);
        let style = if Some(i) == answered.chosen && i != plan.best { looks.chosen() } else { Style::new() };
        out.extend(lines.into_iter().map(|line| line.patch_style(style)));
    }
    out
}

/// The dangers that a club finds, the likeliest first.
fn dangers(state: &State, club: &ClubHere) -> String {
    let Some(hole) = state.current_hole() else { return String::new() };
    let mut named: Vec<(String, f64)> = club
        .dangers
        .iter()
        .filter_map(|(i, chance)| Some((hole.ground.features.get(*i)?.name.clone(), *chance)))
        .collect();
    if club.out >= 0.005 {
        named.push(("out of bounds".to_owned(), club.out));
    }
    named.sort_by(|a, b| b.1.total_cmp(&a.1));
    let words: Vec<String> =
        named.iter().map(|(name, chance)| format!("{name} {}", reasons::percent(*chance))).collect();
    words.join(", ")
}

/// The clubs of a play with the line of its first shot.
fn play(state: &State, shots: &[Shot]) -> String {
    let unit = format!(" {}", state.shown_units().word());
    let first = shots.first().map(|s| format!("{}, {}", s.club, s.words.replace(&unit, ""))).unwrap_or_default();
    let rest: String = shots.iter().skip(1).map(|s| format!("; {}", s.club)).collect();
    format!("{first}{rest}")
}

fn formats(state: &State, rows: &[ForFormat], width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let mut out = vec![heading(state, "Formats", "the plan from the tee for each; f plans for the next", width)];
    let name = 24;
    if width >= NARROW {
        let head = [(format!("{:>9}{:>8}{:>9}", "strokes", "points", "net par"), looks.quiet())];
        out.extend(row(state, ("", name), "steady", &head, width, false));
    }
    let now = state.derived.plan_key.as_ref().map(|k| k.aimed);
    for format in rows {
        let figures = [
            (format!("{:>9.2}", tidy(format.strokes)), looks.figure()),
            (format!("{:>8.2}", format.points), looks.figure()),
            (format!("{:>9}", reasons::percent(format.net_par)), looks.figure()),
        ];
        let chosen = now.is_some_and(|now| now.word() == format.aimed.word());
        out.extend(row(state, (format.aimed.wants(), name), &play(state, &format.shots), &figures, width, chosen));
    }
    let same = rows
        .windows(2)
        .all(|w| matches!(w, [a, b] if a.shots.first().map(|s| &s.club) == b.shots.first().map(|s| &s.club)));
    let words = if same { "Every format plays the same first club here." } else { "The formats part on this tee." };
    out.push(Line::styled(words, looks.quiet()));
    out
}

fn changes(state: &State, rows: &[WhatIf], width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let mut out = vec![heading(state, "What if", "the plan and its strokes with one thing changed", width)];
    let name = 26;
    if width >= NARROW {
        let head = [(format!("{:>9}{:>8}{:>9}", "strokes", "saves", "net par"), looks.quiet())];
        out.extend(row(state, ("", name), "steady", &head, width, false));
    }
    let longer = Length::yards(crate::plan::what_if::LONGER).show(state.shown_units());
    for what in rows {
        let words = match &what.change {
            Change::AsItIs => "as it is".to_owned(),
            Change::Longer => format!("longest club {longer} longer"),
            Change::NoLeftMiss => "no miss to the left".to_owned(),
            Change::Scratch => "a scratch player".to_owned(),
            Change::From(tee) => format!("from the {tee} tees"),
        };
        // To the nearest 0.05, as every figure in strokes.
        let saves =
            if what.change == Change::AsItIs { String::new() } else { format!("{:+.2}", tidy(what.saves) + 0.0) };
        let figures = [
            (format!("{:>9.2}", tidy(what.strokes)), looks.figure()),
            (format!("{saves:>8}"), if what.saves < -0.025 { looks.danger() } else { looks.stroke() }),
            (format!("{:>9}", reasons::percent(what.net_par)), looks.figure()),
        ];
        let chosen = what.change == Change::AsItIs;
        out.extend(row(state, (&words, name), &play(state, &what.shots), &figures, width, chosen));
    }
    let note = "No miss to the left: one side of the pattern, so its width is 0.6 of yours. A scratch player: clubs assumed from index 0, your strokes received.";
    out.extend(paint::wrap(note, width).into_iter().map(|part| Line::styled(part, looks.quiet())));
    out
}
