//! Commit first: what is marked, and after that the answer with the price of the difference.

use super::paint;
use super::plan::tidy;
use crate::plan::{MissSide, reasons};
use crate::tui::ask::AskKey;
use crate::tui::state::{CommitScreen, State};
use ratatui::text::{Line, Span};

/// The lines of the marking, at most `width` columns wide.
pub fn lines(state: &State, commit: &CommitScreen, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let head = if commit.committed.is_some() { "  committed" } else { "  mark your play; the plan shows after it" };
    let mut out = vec![Line::from(vec![
        Span::styled("Commit first", looks.heading()),
        Span::styled(paint::shorten(head, width.saturating_sub(12)), looks.quiet()),
    ])];
    let club = commit.clubs.get(commit.club).map_or("", |(_, name, _)| name.as_str());
    let line = |label: &str, value: String, keys: &str| {
        let mut spans = vec![
            Span::styled(format!("{label:<9}"), looks.quiet()),
            Span::styled(paint::shorten(&value, width.saturating_sub(9)), looks.text()),
        ];
        if commit.committed.is_none() && width >= value.chars().count() + keys.chars().count() + 13 {
            spans.push(Span::styled(format!("  {keys}"), looks.quiet()));
        }
        Line::from(spans)
    };
    let (updown, leftright) = if looks.ascii { ("Up Down", "Left Right") } else { ("↑↓", "←→") };
    out.push(line("club", club.to_owned(), updown));
    out.push(line("line", state.derived.answered.marked_words.clone(), leftright));
    let side = match commit.side {
        MissSide::Either => "neither side is worse".to_owned(),
        side => format!("must not miss {}", side.word()),
    };
    out.push(line("side", side, "Tab"));
    let Some(mark) = commit.committed else {
        out.push(Line::styled(paint::shorten("Enter commits, Esc goes back", width), looks.quiet()));
        return out;
    };
    out.push(Line::default());
    let Some(judged) = state.judged() else {
        let words = match state.answer(|key| AskKey::Judge(key, commit.from, mark)) {
            Some(Err(why)) => format!("No answer: {why}."),
            Some(Ok(_)) => format!("{club} is not played from here."),
            None => "The answer is being worked out…".to_owned(),
        };
        out.extend(paint::wrap(&words, width).into_iter().map(|part| Line::styled(part, looks.quiet())));
        return out;
    };
    let unit = format!(" {}", state.shown_units().word());
    let label = 9;
    let mut say = |head: &str, words: &str, style| {
        for (i, part) in paint::wrap(words, width.saturating_sub(label)).into_iter().enumerate() {
            let head = if i == 0 { head } else { "" };
            out.push(Line::from(vec![
                Span::styled(format!("{head:<label$}"), looks.stroke()),
                Span::styled(part, style),
            ]));
        }
    };
    say("the plan", &format!("{}, {}", judged.best.club, judged.best.words.replace(&unit, "")), looks.text());
    let price = tidy(judged.price);
    let price = if judged.unit == "of chance" {
        if judged.price < 0.01 {
            "worth the same".to_owned()
        } else {
            format!("{} less", reasons::percent(judged.price))
        }
    } else if price < 0.05 {
        "worth the same within 0.05".to_owned()
    } else {
        format!("costs {price:.2} {}", judged.unit)
    };
    say("yours", &format!("{}: {price}", judged.marked.club), looks.danger());
    let side = match (judged.worse, judged.side == judged.worse) {
        (MissSide::Either, true) => "right: neither side costs more".to_owned(),
        (MissSide::Either, false) => "neither side costs 0.05 more than the other here".to_owned(),
        (worse, right) => {
            let more = judged.sides.map_or(0.0, |s| (s.left - s.right).abs());
            format!("{}{} costs {} more", if right { "right: " } else { "" }, worse.word(), reasons::strokes(more))
        }
    };
    say("side", &side, looks.text());
    out.push(Line::styled(paint::shorten("Kept for your book. Enter or Esc goes back.", width), looks.quiet()));
    out
}
