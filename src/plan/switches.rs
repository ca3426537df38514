//! Switch lines: what would change the play, worked out before the round and hence lawful to read during it.

use super::answer::NoPlan;
use super::model::{HolePlan, Shot, Switch};
use super::question::{Pin, Question};
use super::ready::Ready;
use super::{Aimed, what_if};
use crate::strategy::{Kit, Solution, Table, Worth, solve};
use crate::units::{Length, LengthUnit};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

/// Changes of the longest carry that are tried, yards: the nearest that changes the play on each side is said.
const CARRIES: [f64; 3] = [5.0, 10.0, 15.0];
/// A first shot aimed this much further aside is another line, yards.
const ANOTHER_LINE: f64 = 12.0;

/// A condition that a switch line names. Each is a way to ask the question anew; wind by strength and quarter joins here.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum When {
    /// Where the hole is cut.
    Hole(Pin),
    /// The longest club carries so far, or less.
    CarryingOnly(f64),
    /// The longest club carries so far, or more.
    Carrying(f64),
    /// Another format.
    For(Aimed),
    /// So many Stableford points are needed on this hole.
    Needing(u8),
}

impl When {
    /// The condition in words; carries are of the club `longest`.
    pub fn words(self, longest: &str, units: LengthUnit) -> String {
        let show = |yards: f64| Length::yards(yards).show(units);
        match self {
            Self::Hole(Pin::Front) => "hole at the front".to_owned(),
            Self::Hole(Pin::Middle) => "hole in the middle".to_owned(),
            Self::Hole(Pin::Back) => "hole at the back".to_owned(),
            Self::CarryingOnly(yards) => format!("{longest} carrying {} or less", show(yards)),
            Self::Carrying(yards) => format!("{longest} carrying {} or more", show(yards)),
            Self::For(aimed) => aimed.wants().to_owned(),
            Self::Needing(points) => format!("needing {}", points_words(points)),
        }
    }
}

/// `one point`, `two points`.
fn points_words(points: u8) -> String {
    match points {
        1 => "one point".to_owned(),
        2 => "two points".to_owned(),
        3 => "three points".to_owned(),
        4 => "four points".to_owned(),
        n => format!("{n} points"),
    }
}

/// The switch lines of a hole; `ready` and `strokes` are the hole at the fineness at which they are worked out.
pub fn lines(
    ready: &Ready,
    strokes: Solution<'_>,
    plan: &HolePlan,
    cancel: &AtomicBool,
) -> Result<Vec<Switch>, NoPlan> {
    let question = &ready.question;
    let mut out = Vec::new();
    let Some(usual) = plan.plays.first().map(|p| p.shots.clone()) else { return Ok(out) };
    let clubs = &ready.kit.pattern.clubs;
    let longest = clubs.iter().max_by(|a, b| a.carry.total_cmp(&b.carry)).map(|c| (c.name.clone(), c.carry));
    let name = longest.as_ref().map_or("driver", |(name, _)| name.as_str()).to_owned();
    let mut say = |when: When, shots: Option<Vec<Shot>>| {
        if let Some(play) = shots.and_then(|shots| changed(plan, &usual, &shots, question.units)) {
            out.push(Switch { when: when.words(&name, question.units), play });
            return true;
        }
        false
    };

    // A hole location that is known has no such lines.
    if question.pin == Pin::Middle && question.cut.is_none() {
        for pin in [Pin::Front, Pin::Back] {
            let asked = Question { pin, ..question.clone() };
            say(When::Hole(pin), asked_anew(&asked, Arc::clone(&ready.kit), &usual, cancel)?);
        }
    }
    if let Some((_, carry)) = longest {
        for sign in [-1.0, 1.0] {
            for by in CARRIES {
                let bag = what_if::longer(&ready.kit.pattern, sign * by);
                let asked = Question { bag, ..question.clone() };
                let kit = Arc::new(Kit::new(asked.pattern(), ready.kit.fineness));
                let when = if sign < 0.0 { When::CarryingOnly(carry - by) } else { When::Carrying(carry + by) };
                if say(when, asked_anew(&asked, kit, &usual, cancel)?) {
                    break;
                }
            }
        }
    }
    // The other values of the same hole need no second solution for strokes.
    let mut solution = strokes;
    for aimed in [Aimed::Strokes, Aimed::Points, Aimed::Match].into_iter().filter(|a| *a != question.aimed) {
        solution = unvalued(solution, cancel)?;
        solution = ready.valued(solution, aimed, cancel)?;
        say(When::For(aimed), closest(ready, &solution, &usual, aimed.same()));
    }
    let net_par = i32::from(question.par) + question.strokes_received;
    for points in [1_u8, 2, 3] {
        // Two points are net par (Rules of Golf, Rule 21.1b).
        let Ok(most) = usize::try_from(net_par + 2 - i32::from(points)) else { continue };
        if most < 2 || points == 2 && question.aimed == Aimed::NetPar {
            continue;
        }
        solution = solution.revalued(&Worth::Table(Table::at_most(most)), cancel).map_err(|_| NoPlan::CalledOff)?;
        say(When::Needing(points), closest(ready, &solution, &usual, Aimed::NetPar.same()));
    }
    Ok(out)
}

fn unvalued<'a>(solution: Solution<'a>, cancel: &AtomicBool) -> Result<Solution<'a>, NoPlan> {
    solution.revalued(&Worth::Strokes, cancel).map_err(|_| NoPlan::CalledOff)
}

/// The play of another question about the same hole.
fn asked_anew(
    asked: &Question,
    kit: Arc<Kit>,
    usual: &[Shot],
    cancel: &AtomicBool,
) -> Result<Option<Vec<Shot>>, NoPlan> {
    let ready = match Ready::with_kit(asked, kit) {
        Ok(ready) => ready,
        Err(NoPlan::CalledOff) => return Err(NoPlan::CalledOff),
        Err(_) => return Ok(None),
    };
    let solution = match solve(ready.hole(), &Worth::Strokes, cancel).map_err(NoPlan::from) {
        Ok(solution) => ready.valued(solution, asked.aimed, cancel)?,
        Err(NoPlan::CalledOff) => return Err(NoPlan::CalledOff),
        Err(_) => return Ok(None),
    };
    Ok(closest(&ready, &solution, usual, asked.aimed.same()))
}

/// The best play, or one worth the same whose first shot is the usual one: a person changes no club for nothing.
fn closest(ready: &Ready, solution: &Solution<'_>, usual: &[Shot], same: f64) -> Option<Vec<Shot>> {
    let tee = solution.tee();
    let plays = solution.plays(tee);
    let least = plays.first()?.cost;
    let worth_the_same = plays.iter().take_while(|p| p.cost <= least + same);
    let first = usual.first()?;
    let off = |play: &crate::strategy::Play| {
        let shot = ready.shot(tee, play);
        (shot.club == first.club).then(|| (shot.across.0 - first.across.0).abs())
    };
    let kept = worth_the_same
        .filter_map(|play| Some((play, off(play)?)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(play, _)| play);
    let play = kept.or_else(|| plays.first())?;
    Some(ready.shots(solution, tee, play))
}

/// The play in a few words when it is another than the usual one: its clubs, or its line; `bold` where it is the bold play.
fn changed(plan: &HolePlan, usual: &[Shot], shots: &[Shot], units: LengthUnit) -> Option<String> {
    let (first, was) = (shots.first()?, usual.first()?);
    let clubs = |shots: &[Shot]| shots.iter().map(|s| s.club.clone()).collect::<Vec<_>>();
    if first.club == was.club {
        let aside = first.across.0 - was.across.0;
        if aside.abs() >= ANOTHER_LINE {
            let side = if aside > 0.0 { "right" } else { "left" };
            return Some(format!("{} {} further {side}", first.club, Length::yards(aside.abs()).show(units)));
        }
        // What follows is decided where the ball lies; only another club for the shot that is meant next is worth a line.
        let second = |shots: &[Shot]| shots.get(1).map(|s| s.club.clone());
        return (second(shots) != second(usual) && shots.len() > 1).then(|| clubs(shots).join(", then "));
    }
    let bold = plan.plays.get(1).and_then(|p| p.shots.first());
    if bold.is_some_and(|b| b.club == first.club) {
        return Some(format!("bold, {}", clubs(shots).join(", then ")));
    }
    Some(clubs(shots).join(", then "))
}
