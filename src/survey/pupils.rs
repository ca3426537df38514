//! One hole for all pupils: how each of them should play it, what it costs them most, and the carry at which the play crosses
//! over to another one.

use super::flip::{club_of, longest, play_words, same_play, with_carry};
use crate::plan::{HolePlan, NoPlan, Play, Question, plan, price};
use std::sync::atomic::AtomicBool;

/// How far from the pupil's own carry a crossing is looked for, yards.
pub const FAR: f64 = 40.0;
/// The step in which it is looked for, yards.
const STEP: f64 = 10.0;

/// Where a pupil's play crosses over.
#[derive(Clone, Debug, PartialEq)]
pub struct Crossing {
    /// The carry of the longest club from which (or below which) another play is better, yards.
    pub carry: f64,
    /// Whether that takes a longer carry than the pupil has.
    pub longer: bool,
    /// The play then, in words.
    pub play: String,
}

/// One pupil on one hole.
#[derive(Clone, Debug, PartialEq)]
pub struct PupilRow {
    /// The pupil.
    pub name: String,
    /// The tee.
    pub tee: String,
    /// The carry of the longest club, yards, assumed or given.
    pub carry: Option<f64>,
    /// The plan with its prices; `None` where there is none.
    pub plan: Option<HolePlan>,
    /// Why there is none.
    pub why: Option<String>,
    /// The recommended play in words.
    pub play: String,
    /// The dearest piece of ground and the strokes it costs.
    pub dearest: Option<(String, f64)>,
    /// Where the play crosses over within 40 yards of the pupil's carry.
    pub crossing: Option<Crossing>,
}

/// Works one pupil out. A hole that cannot be planned is a row that says why.
///
/// # Errors
/// [`NoPlan::CalledOff`] alone.
pub fn pupil_row(name: &str, question: &Question, cancel: &AtomicBool) -> Result<PupilRow, NoPlan> {
    let mut row = PupilRow {
        name: name.to_owned(),
        tee: question.tee.clone(),
        carry: longest(question).map(|(_, carry, _)| carry),
        plan: None,
        why: None,
        play: String::new(),
        dearest: None,
        crossing: None,
    };
    let mut made = match plan(question, cancel) {
        Ok(made) => made,
        Err(NoPlan::CalledOff) => return Err(NoPlan::CalledOff),
        Err(why) => {
            row.why = Some(why.to_string());
            return Ok(row);
        }
    };
    price(question, &mut made, cancel)?;
    row.play = made.plays.first().map(|p| play_words(p, question)).unwrap_or_default();
    row.dearest = made
        .prices
        .first()
        .filter(|p| p.strokes >= 0.005)
        .and_then(|p| Some((question.hole.ground.features.get(p.feature)?.name.clone(), p.strokes)));
    row.crossing = crossing(question, cancel)?;
    row.plan = Some(made);
    Ok(row)
}

/// The nearest carry of the longest club at which the first shot becomes another one.
///
/// The play that is compared is the club and the side of it: a longer carry with the same club to the same side of the line is
/// the same play, wherever it ends.
///
/// # Errors
/// [`NoPlan`].
pub fn crossing(question: &Question, cancel: &AtomicBool) -> Result<Option<Crossing>, NoPlan> {
    let Some((club, own, spelled)) = longest(question) else { return Ok(None) };
    let at = |carry: f64| -> Result<Option<HolePlan>, NoPlan> {
        plan(&with_carry(&spelled, club, carry), cancel).map(Some).or_else(|error| match error {
            NoPlan::CalledOff => Err(error),
            // A carry that no player has is no crossing.
            _ => Ok(None),
        })
    };
    let Some(base) = at(own)? else { return Ok(None) };
    let Some(play) = base.plays.first().cloned() else { return Ok(None) };
    let stays = |plan: &HolePlan| plan.plays.iter().any(|other| alike(&play, other));
    let mut away = STEP;
    while away <= FAR {
        for longer in [true, false] {
            let sign = if longer { 1.0 } else { -1.0 };
            let far = own + sign * away;
            let Some(plan) = at(far)?.filter(|plan| !stays(plan)) else { continue };
            // Between the last carry that keeps the play and this one, to a yard.
            let (mut keeps, mut turns, mut then) = (own + sign * (away - STEP), far, plan);
            while (turns - keeps).abs() > 1.0 {
                let half = (turns + keeps) / 2.0;
                match at(half)? {
                    Some(plan) if !stays(&plan) => (turns, then) = (half, plan),
                    _ => keeps = half,
                }
            }
            let words = then.plays.first().map(|p| play_words(p, question)).unwrap_or_default();
            return Ok(Some(Crossing { carry: turns.round(), longer, play: words }));
        }
        away += STEP;
    }
    Ok(None)
}

/// The same club to the same side; a carry that grows moves the aim on without making it another play.
fn alike(a: &Play, b: &Play) -> bool {
    let same_side = match (a.shots.first(), b.shots.first()) {
        (Some(a), Some(b)) => {
            club_of(&a.club) == club_of(&b.club) && (a.across.0 - b.across.0).abs() < super::flip::SAME_AIM
        }
        _ => false,
    };
    same_side || same_play(a, b)
}
