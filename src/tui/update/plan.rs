//! The plan on the Hole page: tables, the club looked at, pins, commit first.

use super::{Effect, happen};
use crate::ground::Point;
use crate::plan::{COMMIT_FORMAT, Commitment, Mark, MissSide, Pinned};
use crate::round::Event;
use crate::tui::ask::{Answer, AskKey};
use crate::tui::commands::PlanAct;
use crate::tui::state::{CommitScreen, Notice, Panel, Screen, State};
use crate::units::{Across, Along};

/// A step of the marked line, yards.
const STEP: f64 = 2.0;

/// Runs a command of the plan.
pub fn run(state: &mut State, act: PlanAct, effects: &mut Vec<Effect>) {
    match act {
        PlanAct::Map => state.hole.map = !state.hole.map,
        PlanAct::Clubs => toggle(state, Panel::Clubs),
        PlanAct::Compare => toggle(state, Panel::Compare),
        PlanAct::WhatIf => toggle(state, Panel::WhatIf),
        PlanAct::Commit => open_commit(state),
        PlanAct::Pin => pin(state, effects),
        PlanAct::Longer => look_at(state, -1),
        PlanAct::Shorter => look_at(state, 1),
        PlanAct::LocalRule => local_rule(state, effects),
        PlanAct::MarkLonger => mark(state, |commit| commit.club = commit.club.saturating_sub(1)),
        PlanAct::MarkShorter => {
            mark(state, |commit| commit.club = (commit.club + 1).min(commit.clubs.len().saturating_sub(1)));
        }
        PlanAct::MarkLeft => mark(state, |commit| commit.right = (commit.right - STEP).max(-120.0)),
        PlanAct::MarkRight => mark(state, |commit| commit.right = (commit.right + STEP).min(120.0)),
        PlanAct::MarkSide => mark(state, |commit| commit.side = commit.side.next()),
        PlanAct::MarkDone => commit(state),
    }
}

fn toggle(state: &mut State, panel: Panel) {
    state.hole.panel = (state.hole.panel != Some(panel)).then_some(panel);
    state.hole.more = 0;
}

const NOT_YET: &str = "The hole is still being worked out; press again in a moment.";

/// Looks at another club from here: its pattern lies over the drawing.
fn look_at(state: &mut State, by: isize) {
    let answered = &state.derived.answered;
    let (Some(plan), Some(now)) = (answered.stand_plan(), answered.chosen) else {
        state.notice = Some(Notice::word(NOT_YET));
        return;
    };
    let to = now.saturating_add_signed(by).min(plan.clubs.len().saturating_sub(1));
    let Some(club) = plan.clubs.get(to) else { return };
    let words = if to == now {
        let end = if by < 0 { "longest" } else { "shortest" };
        format!("{} is the {end} club from here.", club.shot.club)
    } else {
        let best = if to == plan.best { "; the plan's own" } else { "" };
        format!("{}, {}{best}", club.shot.club, club.shot.words)
    };
    state.hole.club = (to != plan.best).then(|| club.shot.club.clone());
    state.notice = Some(Notice::word(words));
}

/// Pins the play looked at, or takes it away again.
fn pin(state: &mut State, effects: &mut Vec<Effect>) {
    let Some(club) = state.derived.answered.club().cloned() else {
        state.notice = Some(Notice::word(NOT_YET));
        return;
    };
    let (Some(course), Some(sheet), Some(key)) = (&state.session.course, &state.derived.hole, &state.derived.plan_key)
    else {
        return;
    };
    let pinned = Pinned {
        course: course.name.clone(),
        hole: sheet.number,
        player: key.player.clone(),
        tee: sheet.tee.clone(),
        from: state.from_here(),
        club: club.shot.club.clone(),
        total: club.total,
        at: club.shot.at,
        across: club.shot.across,
        words: club.shot.words.clone(),
        aimed: key.aimed,
        cost: club.worse,
    };
    let words = format!("{}, {}", pinned.club, pinned.words);
    let kept = state.pins.pin(pinned);
    state.notice =
        Some(Notice::word(if kept { format!("Pinned: {words}") } else { format!("No longer pinned: {words}") }));
    effects.push(Effect::KeepPins(Box::new(state.pins.clone())));
}

fn local_rule(state: &mut State, effects: &mut Vec<Effect>) {
    let now = state.session.round.as_ref().is_some_and(|r| r.no_distance_devices());
    if happen(state, Event::NoDistanceDevices(!now), effects) {
        state.notice = Some(Notice::word(if now {
            "Distances are shown again: no Local Rule forbids devices in this round."
        } else {
            "Distances from the stand are off in a round under the Rules: Model Local Rule G-5. m l takes it back."
        }));
    }
}

/// Opens the marking of a play from the stand.
fn open_commit(state: &mut State) {
    let Some(plan) = state.derived.answered.stand_plan() else {
        state.notice = Some(Notice::word(NOT_YET));
        return;
    };
    // Only full swings can be marked: a part swing in the list would give the plan away.
    let clubs: Vec<(usize, String, f64)> =
        plan.clubs.iter().filter(|c| c.full).filter_map(|c| Some((c.club?, c.shot.club.clone(), c.total))).collect();
    if clubs.is_empty() {
        state.notice = Some(Notice::word("There is no club to choose from here."));
        return;
    }
    let to_go =
        state.derived.stand.as_ref().and_then(|s| s.green.as_ref()).map_or(f64::INFINITY, |g| g.middle.straight);
    let off = |club: &(usize, String, f64)| (club.2 - to_go).abs();
    let nearest = clubs.iter().enumerate().min_by(|a, b| off(a.1).total_cmp(&off(b.1))).map_or(0, |(i, _)| i);
    let club = if to_go.is_finite() { nearest } else { 0 };
    let commit =
        CommitScreen { clubs, club, right: 0.0, side: MissSide::Either, from: state.hole.stand, committed: None };
    state.hole.panel = None;
    state.hole.map = false;
    state.hole.more = 0;
    super::push(state, Screen::Commit(Box::new(commit)));
}

/// Changes what is marked, as long as it is not committed to.
fn mark(state: &mut State, change: impl FnOnce(&mut CommitScreen)) {
    let Some(Screen::Commit(commit)) = state.screens.last_mut() else { return };
    if commit.committed.is_some() {
        state.notice = Some(Notice::word("That is committed; Enter or Esc goes back, m k marks anew."));
        return;
    }
    change(commit);
}

/// Commits; once the answer stands, goes back.
fn commit(state: &mut State) {
    let target = target(state);
    let Some(Screen::Commit(commit)) = state.screens.last_mut() else { return };
    if commit.committed.is_some() {
        state.screens.pop();
        return;
    }
    let (Some(towards), Some((club, _, total))) = (target, commit.clubs.get(commit.club)) else { return };
    commit.committed = Some(Mark { club: *club, total: *total, towards, side: commit.side });
}

/// Where the marked play is meant to finish: on the hole line at the club's length, so far beside it.
pub fn target(state: &State) -> Option<Point> {
    let commit = state.commit()?;
    let (_, _, total) = commit.clubs.get(commit.club)?;
    let hole = state.current_hole()?;
    let line = hole.ground.line();
    let sheet = state.derived.hole.as_ref()?;
    let (at, across) = super::spot_of(state, sheet)?;
    let from = line.place(at, across);
    let end = hole.ground.length.0;
    let mut along = at.0.max(0.0);
    while along < end && (line.place(Along(along), Across(0.0)) - from).length() < *total {
        along += 1.0;
    }
    Some(line.place(Along(along.min(end)), Across(commit.right)))
}

/// Keeps an answer; one to a commitment goes to the player's file too.
pub fn answered(state: &mut State, key: AskKey, answer: Result<Answer, String>, effects: &mut Vec<Effect>) {
    if let (AskKey::Judge(plan, from, _), Ok(Answer::Judged(Some(judged)))) = (&key, &answer)
        && state.answers.get(&key).is_none()
    {
        let origin = state.derived.hole.as_ref().and_then(|h| h.origin).unwrap_or_default();
        effects.push(Effect::KeepCommitment(Box::new(Commitment {
            format: COMMIT_FORMAT.to_owned(),
            on: state.today.clone(),
            player: plan.player.clone(),
            course: state.session.course.as_ref().map(|c| c.name.clone()).unwrap_or_default(),
            hole: plan.hole,
            tee: plan.tee.clone(),
            aimed: plan.aimed,
            from: from.map(|(at, across)| (origin.from_tee(at), across)),
            judged: judged.clone(),
        })));
    }
    state.answers.keep(key, answer);
}
