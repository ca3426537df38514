//! The plan of the hole as lines: plays, what they leave, chances, why.

use super::paint;
use crate::plan::{HolePlan, Play, PlayName, reasons};
use crate::round::Ability;
use crate::tui::looks::Looks;
use crate::tui::state::State;
use crate::units::Length;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// The plan as lines of at most `width` columns; empty where there is nothing to say.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let Some(plan) = &state.derived.plan else {
        return waiting(state, width);
    };
    let frozen = state.session.frozen.is_some() && state.session.round.is_some();
    let when = if frozen { ", frozen before the round" } else { "" };
    let mut out = vec![Line::from(vec![
        Span::styled("Plan", looks.heading()),
        Span::styled(format!("  {}{when}", plan.aimed.wants()), looks.quiet()),
    ])];
    for (i, play) in plan.plays.iter().enumerate() {
        let mark = mark(looks, i);
        let label = 9;
        for (k, part) in paint::wrap(&said(state, play), width.saturating_sub(label)).into_iter().enumerate() {
            let head = if k == 0 { format!("{mark} {}", word(play.name)) } else { String::new() };
            out.push(Line::from(vec![
                Span::styled(format!("{head:<label$}"), looks.stroke()),
                Span::styled(part, looks.text()),
            ]));
        }
        let indent = "  ";
        out.push(Line::from(vec![Span::raw(indent), Span::styled(figures(state, plan, i, width), looks.figure())]));
    }
    out.extend(pinned(state, width));
    out.extend(professional(state, plan, width));
    if let Some(first) = plan.plays.first() {
        for (i, part) in paint::wrap(&first.reasons.join(" "), width.saturating_sub(9)).into_iter().enumerate() {
            let head = if i == 0 { "why" } else { "" };
            out.push(Line::from(vec![
                Span::styled(format!("{head:<9}"), looks.quiet()),
                Span::styled(part, looks.quiet()),
            ]));
        }
    }
    for switch in &plan.switches {
        for (i, part) in
            paint::wrap(&format!("{}: {}", switch.when, switch.play), width.saturating_sub(9)).into_iter().enumerate()
        {
            let head = if i == 0 { "switch" } else { "" };
            out.push(Line::from(vec![
                Span::styled(format!("{head:<9}"), looks.quiet()),
                Span::styled(part, looks.quiet()),
            ]));
        }
    }
    for remark in &plan.remarks {
        out.extend(paint::wrap(remark, width).into_iter().map(|part| Line::styled(part, looks.quiet())));
    }
    out.push(Line::default());
    out
}

/// The mark of the first play and of the others.
pub(super) const fn mark(looks: Looks, play: usize) -> &'static str {
    match (looks.ascii, play) {
        (false, 0) => "●",
        (false, _) => "○",
        (true, 0) => "*",
        (true, _) => "o",
    }
}

/// The play pinned at the stand with its price.
pub(super) fn pinned(state: &State, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let Some((pin, cost)) = &state.derived.answered.pinned else { return Vec::new() };
    let unit = pin.aimed.unit();
    let price = match cost {
        Some(cost) => priced(*cost, state.derived.plan_key.as_ref().map_or(unit, |k| k.aimed.unit())),
        None => format!("{} when it was pinned", priced(pin.cost, unit)),
    };
    let words = pin.words.replace(&format!(" {}", state.shown_units().word()), "");
    let sign = if looks.ascii { "+" } else { "▪" };
    labelled(&format!("{sign} pinned"), &format!("{}, {words}; {price}", pin.club), width, looks, looks.text())
}

/// What a play costs against the best, in words.
fn priced(cost: f64, unit: &str) -> String {
    match unit {
        "of chance" if cost < 0.01 => "worth the same".to_owned(),
        "of chance" => format!("{} less", reasons::percent(cost)),
        _ if tidy(cost) < 0.05 => "worth the same".to_owned(),
        _ => format!("costs {:.2} {unit}", tidy(cost)),
    }
}

/// The written aim where it differs from the plan's.
fn professional(state: &State, plan: &HolePlan, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let Some(aim) = &plan.professional else { return Vec::new() };
    let whose = aim.whose.as_ref().map(|w| format!(" ({w})")).unwrap_or_default();
    let price = priced(aim.costs, plan.aimed.unit());
    let sign = if looks.ascii { "#" } else { "◇" };
    let words = format!("{}{whose}, {}; {price} by your pattern", aim.aim, aim.club);
    labelled(&format!("{sign} written"), &words, width, looks, looks.text())
}

/// Words with a label before the first line.
fn labelled(head: &str, words: &str, width: usize, looks: Looks, style: Style) -> Vec<Line<'static>> {
    let label = if head.chars().count() >= 9 { 10 } else { 9 };
    let parts = paint::wrap(words, width.saturating_sub(label));
    let line = |(i, part): (usize, String)| {
        let head = if i == 0 { head } else { "" };
        Line::from(vec![Span::styled(format!("{head:<label$}"), looks.stroke()), Span::styled(part, style)])
    };
    parts.into_iter().enumerate().map(line).collect()
}

pub(super) const fn word(name: PlayName) -> &'static str {
    match name {
        PlayName::Steady => "steady",
        PlayName::Bold => "bold",
        PlayName::Equal => "play",
    }
}

/// The first shot with its line, the rest by their clubs: the line of a later shot is for the place it is played from.
pub(super) fn said(state: &State, play: &Play) -> String {
    // The figures of the page are in its unit already, so the word for it is left out.
    let unit = format!(" {}", state.shown_units().word());
    let mut words =
        play.shots.first().map(|s| format!("{}, {}", s.club, s.words.replace(&unit, ""))).unwrap_or_default();
    for shot in play.shots.iter().skip(1) {
        words.push_str(&format!("; then {}", shot.club));
    }
    words
}

/// What the first shot leaves, strokes, points and the chance of net par of one play.
fn figures(state: &State, plan: &HolePlan, play: usize, width: usize) -> String {
    let Some(play) = plan.plays.get(play) else { return String::new() };
    let units = state.shown_units();
    let leaves = play.shots.first().map(|s| Length::yards(s.leaves).show(units)).unwrap_or_default();
    let own = HolePlan { plays: vec![play.clone()], ..plan.clone() };
    let (strokes, points, par) = (tidy(play.expected_strokes), own.points(), reasons::percent(own.net_par()));
    if width < 46 {
        format!("{leaves} left {strokes:.2} {points:.1} pts net par {par}")
    } else {
        format!("leaves {leaves}, {strokes:.2} strokes, {points:.1} points, net par {par}")
    }
}

/// To the nearest 0.05: no finer figure is known.
pub(super) fn tidy(strokes: f64) -> f64 {
    (strokes * 20.0).round() / 20.0
}

fn waiting(state: &State, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let words = if let Some(why) = state.session.why_not(Ability::LivePlan) {
        why
    } else if let Some(why) = state.derived.plan_key.as_ref().and_then(|k| state.plans.why_none(k)) {
        format!("No plan: {why}.")
    } else if state.plans.asked.is_some() {
        "Plan  being worked out…".to_owned()
    } else {
        return Vec::new();
    };
    paint::wrap(&words, width).into_iter().map(|part| Line::styled(part, looks.quiet())).collect()
}
