//! The scout's list behind the screen, and a layer taken into the notebook hole by hole.

use super::course_edits::CourseAsk;
use super::pupils::PupilsAsk;
use super::{Effect, hole, push};
use crate::jobs::Cancel;
use crate::plan::Question;
use crate::shelf::CourseText;
use crate::survey::merge::{Merged, merge};
use crate::survey::scout::{ScoutLine, rank, scout_hole};
use crate::tui::commands::{MergeAct, ScoutAct};
use crate::tui::state::{MergeScreen, Notice, ScoutJob, ScoutScreen, Screen, State};
use crate::units::digest::Digest;

/// What one hole gave: its lines, or why there are none.
pub type Scouted = Result<Vec<ScoutLine>, String>;

/// Runs a command of the scout's list.
pub fn run(state: &mut State, act: ScoutAct, effects: &mut Vec<Effect>) {
    match act {
        ScoutAct::Open => {
            let job = job(state);
            let screen = ScoutScreen { done: (0, job.holes.len()), notebook: job.notebook, ..ScoutScreen::default() };
            push(state, Screen::Scout(Box::new(screen)));
            effects.push(Effect::Pupils(PupilsAsk::Scout(Box::new(job))));
        }
        ScoutAct::Up | ScoutAct::Down => {
            let by = if act == ScoutAct::Up { -1 } else { 1 };
            if let Some(page) = state.scout_mut() {
                page.cursor = page.cursor.saturating_add_signed(by).min(page.lines.len().saturating_sub(1));
            }
        }
        ScoutAct::GoThere => {
            let Some(line) = state.scout().and_then(|p| p.lines.get(p.cursor)).cloned() else { return };
            let Some(position) = state.session.order.iter().position(|n| *n == line.hole) else { return };
            hole::arrive(state, position);
            state.hole.stand = Some((line.at, line.across));
            state.screens.clear();
            state.notice = Some(Notice::word(format!("{}: {}", line.what, line.measure.words())));
        }
    }
}

/// The questions of every hole, beginning with the one on screen; of each tee the players that are open.
fn job(state: &State) -> ScoutJob {
    let many = state.session.order.len();
    let units = state.shown_units();
    let holes = (0..many)
        .map(|i| (state.position + i) % many.max(1))
        .filter_map(|position| {
            let number = *state.session.order.get(position)?;
            let asked = (0..state.session.golfers.len())
                .filter_map(|player| {
                    let question = state.session.question(position, player, None, state.session.aimed(), units)?;
                    Some((state.session.golfers.get(player)?.name.clone(), question))
                })
                .collect();
            Some((number, asked))
        })
        .collect();
    ScoutJob { notebook: state.session.notebook_digest, holes }
}

/// Works the list out, hole by hole.
pub fn work(job: &ScoutJob, cancel: &Cancel, tell: &mut dyn FnMut(u8, Scouted)) {
    for (number, asked) in &job.holes {
        let asked: Vec<(&str, &Question)> = asked.iter().map(|(name, q)| (name.as_str(), q)).collect();
        let found = scout_hole(&asked, cancel.flag());
        if cancel.is_cancelled() {
            return;
        }
        tell(*number, found.map_err(|why| why.to_string()));
    }
}

/// One hole was looked at.
pub fn told(state: &mut State, notebook: Option<Digest>, number: u8, found: Scouted) {
    let Some(page) = state.scout_mut().filter(|p| p.notebook == notebook) else { return };
    page.done.0 += 1;
    match found {
        Ok(lines) => {
            let chosen = page.lines.get(page.cursor).cloned();
            page.lines.extend(lines);
            rank(&mut page.lines);
            // The cursor stays on its line while others come before it.
            if let Some(at) = chosen.and_then(|c| page.lines.iter().position(|l| *l == c)) {
                page.cursor = at;
            }
        }
        Err(why) => page.left.push(format!("hole {number}: {why}")),
    }
}

/// Runs a command of the page of merging.
pub fn run_merge(state: &mut State, act: MergeAct, effects: &mut Vec<Effect>) {
    let layers = state.session.layers.len();
    match act {
        MergeAct::Open => {
            let here = state.current_hole().map(|h| h.number);
            let layer = state.session.layers.first().map(|(layer, _)| layer);
            let at = layer.and_then(|l| l.holes.iter().position(|h| Some(h.number) == here)).unwrap_or(0);
            push(state, Screen::Merge(Box::new(MergeScreen { hole: at, ..MergeScreen::default() })));
        }
        MergeAct::NextHole | MergeAct::PreviousHole => {
            let Some(page) = state.merge() else { return };
            let holes = state.session.layers.get(page.layer).map_or(0, |(l, _)| l.holes.len()).max(1);
            let by = if act == MergeAct::NextHole { 1 } else { holes - 1 };
            if let Some(page) = state.merge_mut() {
                page.hole = (page.hole + by) % holes;
                page.scroll = 0;
            }
        }
        MergeAct::NextLayer => {
            if let Some(page) = state.merge_mut() {
                *page = MergeScreen { layer: (page.layer + 1) % layers.max(1), ..MergeScreen::default() };
            }
        }
        MergeAct::Up | MergeAct::Down => {
            if let Some(page) = state.merge_mut() {
                let by = if act == MergeAct::Up { -1 } else { 1 };
                page.scroll = page.scroll.saturating_add_signed(by).min(1000);
            }
            return;
        }
        MergeAct::Take => return take(state, effects),
    }
    look(state);
}

/// The hole of the layer that is looked at, merged.
fn merged(state: &State) -> Option<Result<(u8, Merged), String>> {
    let page = state.merge()?;
    let (layer, file) = state.session.layers.get(page.layer)?;
    let notebook = state.session.course_file.as_ref()?;
    let number = layer.holes.get(page.hole.min(layer.holes.len().saturating_sub(1)))?.number;
    Some(merge(&notebook.text, &file.text, &[number]).map(|m| (number, m)).map_err(|why| why.to_string()))
}

/// Works the preview out for the hole that is looked at.
pub fn look(state: &mut State) {
    let shown = merged(state).map(|done| done.and_then(|(_, m)| m.holes.into_iter().next().ok_or_else(String::new)));
    if let Some(page) = state.merge_mut() {
        page.shown = shown;
    }
}

fn take(state: &mut State, effects: &mut Vec<Effect>) {
    if let Some(round) = &state.session.round
        && round.opening().kind.under_the_rules()
        && !round.is_closed()
    {
        state.notice = Some(Notice::warning("A round under the Rules is open: take the layer in after it"));
        return;
    }
    if !state.course_edits.unsaved.is_empty() || state.session.home == crate::session::Home::Example {
        state.notice =
            Some(Notice::warning("Your last change is not on the disk yet; the example is taken in nowhere"));
        return;
    }
    let (number, done) = match merged(state) {
        Some(Ok(done)) => done,
        Some(Err(why)) => {
            state.notice = Some(Notice::warning(why));
            return;
        }
        None => return,
    };
    let Some(page) = state.merge() else { return };
    let (Some(notebook), Some((_, layer))) = (&state.session.course_file, state.session.layers.get(page.layer)) else {
        return;
    };
    let text = |file: &crate::session::ReadFile, text: String| CourseText {
        file: file.name.clone(),
        base: Some(file.digest()),
        text,
        back_up: true,
    };
    let mut texts = vec![text(notebook, done.notebook)];
    texts.extend(done.layer.map(|rest| text(layer, rest)));
    effects.push(Effect::Course(CourseAsk::Take(number, texts)));
}
