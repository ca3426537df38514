//! A pupil's plan of a hole in the old edition and in the new one.

use crate::plan::{NoPlan, Question, plan};
use crate::survey::flip::{changed, play_words};
use std::sync::atomic::AtomicBool;

/// Expected strokes that differ by less are shown as the same.
const SHOWN: f64 = 0.05;

/// A hole that a pupil should play otherwise, or that became harder or easier.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanChange {
    /// The hole.
    pub hole: u8,
    /// Whether the first shot is another one.
    pub play_changes: bool,
    /// The recommended plays in words; `None` where the hole could not be planned.
    pub before: Option<String>,
    /// See `before`.
    pub now: Option<String>,
    /// Expected strokes then and now.
    pub strokes_before: Option<f64>,
    /// See `strokes_before`.
    pub strokes_now: Option<f64>,
}

impl PlanChange {
    /// How many strokes more the hole takes now.
    pub fn more(&self) -> Option<f64> {
        Some(self.strokes_now? - self.strokes_before?)
    }
}

/// Compares the plans of one player. `None` where neither the play nor what it takes has changed.
///
/// # Errors
/// [`NoPlan::CalledOff`] alone: a hole that cannot be planned is a plan that is missing.
pub fn plan_change(old: &Question, new: &Question, cancel: &AtomicBool) -> Result<Option<PlanChange>, NoPlan> {
    let made = |question: &Question| match plan(question, cancel) {
        Ok(plan) => Ok(Some(plan)),
        Err(NoPlan::CalledOff) => Err(NoPlan::CalledOff),
        Err(_) => Ok(None),
    };
    if old.hole.ground == new.hole.ground && old.par == new.par {
        return Ok(None);
    }
    let (before, now) = (made(old)?, made(new)?);
    let play_changes = match (&before, &now) {
        (Some(a), Some(b)) => changed(a, b),
        (None, None) => false,
        _ => true,
    };
    let strokes = |p: &Option<crate::plan::HolePlan>| p.as_ref()?.plays.first().map(|p| p.expected_strokes);
    let (strokes_before, strokes_now) = (strokes(&before), strokes(&now));
    let apart = strokes_before.zip(strokes_now).map_or(0.0, |(a, b)| (a - b).abs());
    if !play_changes && apart < SHOWN {
        return Ok(None);
    }
    let words = |p: &Option<crate::plan::HolePlan>, q: &Question| Some(play_words(p.as_ref()?.plays.first()?, q));
    Ok(Some(PlanChange {
        hole: new.hole.number,
        play_changes,
        before: words(&before, old),
        now: words(&now, new),
        strokes_before,
        strokes_now,
    }))
}
