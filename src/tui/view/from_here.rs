//! The plan from the stand as lines, when it has left the tee.

use super::paint;
use super::plan::{mark, said, tidy, word};
use crate::plan::{NothingToChoose, Play, StandPlan, reasons};
use crate::round::Ability;
use crate::tui::ask::AskKey;
use crate::tui::state::State;
use crate::units::Length;
use ratatui::text::{Line, Span};

/// The plan from the stand as lines of at most `width` columns; the plan from the tee is left aside meanwhile.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let Some(plan) = state.derived.answered.stand_plan() else {
        let words = match state.answer(|key| AskKey::Stand(key, state.hole.stand)) {
            Some(Err(why)) => format!("No plan from here: {why}."),
            _ => match state.session.why_not(Ability::AdviceFromStand) {
                Some(why) => why,
                None => "From here  being worked out…".to_owned(),
            },
        };
        return paint::wrap(&words, width).into_iter().map(|part| Line::styled(part, looks.quiet())).collect();
    };
    let mut head = format!("  as shot {}", plan.shot);
    if let Some(strokes) = plan.to_come {
        head.push_str(&format!(", {:.2} strokes to come", tidy(strokes)));
    }
    let mut out = vec![Line::from(vec![
        Span::styled("From here", looks.heading()),
        Span::styled(paint::shorten(&head, width.saturating_sub(9)), looks.quiet()),
    ])];
    if let Some(nothing) = plan.nothing {
        let words = match nothing {
            NothingToChoose::OnTheGreen => "On the green: the putter.",
            NothingToChoose::InAPenaltyArea => {
                "In a penalty area: one stroke more and a drop first; the figure is from the drop nearest to it."
            }
            NothingToChoose::OutOfBounds => "Out of bounds: stroke and distance, from where the last one was played.",
        };
        out.extend(paint::wrap(words, width).into_iter().map(|part| Line::styled(part, looks.text())));
    }
    for (i, play) in plan.plays.iter().enumerate() {
        let label = 9;
        for (k, part) in paint::wrap(&said(state, play), width.saturating_sub(label)).into_iter().enumerate() {
            let head = if k == 0 { format!("{} {}", mark(looks, i), word(play.name)) } else { String::new() };
            out.push(Line::from(vec![
                Span::styled(format!("{head:<label$}"), looks.stroke()),
                Span::styled(part, looks.text()),
            ]));
        }
        out.push(Line::from(vec![Span::raw("  "), Span::styled(figures(state, plan, play), looks.figure())]));
    }
    if let Some(sides) = plan.sides {
        let (worse, side, more) = if sides.left >= sides.right {
            (sides.left - sides.right, "left", "right")
        } else {
            (sides.right - sides.left, "right", "left")
        };
        if worse >= 0.05 {
            let miss = Length::yards(15.0).show(state.shown_units());
            let words =
                format!("A miss of {miss} {side} costs {} more than one to the {more}.", reasons::strokes(worse));
            for (i, part) in paint::wrap(&words, width.saturating_sub(9)).into_iter().enumerate() {
                let head = if i == 0 { "why" } else { "" };
                out.push(Line::styled(format!("{head:<9}{part}"), looks.quiet()));
            }
        }
    }
    out.extend(super::plan::pinned(state, width));
    out.push(Line::default());
    out
}

/// What the first shot leaves, strokes to come and the chance of net par.
fn figures(state: &State, plan: &StandPlan, play: &Play) -> String {
    let leaves = play.shots.first().map(|s| Length::yards(s.leaves).show(state.shown_units())).unwrap_or_default();
    let taken = plan.shot.saturating_sub(1) as f64;
    let net_par = state.derived.hole.as_ref().and_then(|h| Some(i32::from(h.par?) + h.strokes));
    let chance: Option<f64> = net_par.map(|most| {
        let upto = usize::try_from(most + 1).unwrap_or(0);
        play.chances.iter().take(upto).sum()
    });
    let par = chance.map_or_else(String::new, |c| format!(", net par {}", reasons::percent(c)));
    format!("leaves {leaves}, {:.2} to come{par}", tidy(play.expected_strokes - taken))
}
