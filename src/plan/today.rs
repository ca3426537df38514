//! What the day does to the plan of a hole: against a usual day, in other winds, and in figures.

use super::model::{HolePlan, Shot, Switch};
use super::question::Question;
use super::{NoPlan, plan};
use crate::course::day::Wind;
use crate::ground::Point;
use crate::pattern::{Conditions, Lie, Swing};
use crate::today::{Day, HoleAir, wind_sentence};
use crate::units::{Across, Along, Length, LengthUnit};
use std::sync::atomic::AtomicBool;

/// The wind of the day's table and of switch lines: twelve miles an hour, a fresh golfing breeze (Beaufort 3 to 4).
pub const TWELVE_MILES_M_S: f64 = 12.0 * 0.447_04;
/// The first shot of another plan is on another line from here on, yards.
const ANOTHER_LINE: f64 = 8.0;
/// The approach that the table speaks of, yards: a middle iron for most.
const APPROACH: f64 = 150.0;

/// What a wind does to one shot, yards.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Blown {
    /// The shot's carry in still air.
    pub carry: f64,
    /// What the wind adds to it.
    pub by: f64,
    /// How far right it takes it.
    pub drift: f64,
}

/// What a twelve-mile wind from today's direction does to a hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Breeze {
    /// As a player says it.
    pub sentence: String,
    /// The longest club from the tee.
    pub drive: Blown,
    /// A shot of about 150 yards into the green.
    pub approach: Blown,
    /// Strokes it costs against no wind at all.
    pub strokes: f64,
}

/// A hole today.
#[derive(Clone, Debug, PartialEq)]
pub struct HoleToday {
    /// Mean strokes by the plan of a usual day.
    pub usual: f64,
    /// And of today.
    pub today: f64,
    /// What is played differently; `None` where the play stays.
    pub how: Option<String>,
    /// What twelve miles an hour do; `None` where no direction is known.
    pub breeze: Option<Breeze>,
}

/// The same question on a usual day.
pub fn usual(question: &Question) -> Question {
    Question { day: Day::usual(&question.course), cut: None, forward: 0.0, ..question.clone() }
}

/// A hole today against a usual day.
///
/// # Errors
/// [`NoPlan`].
pub fn hole_today(question: &Question, cancel: &AtomicBool) -> Result<HoleToday, NoPlan> {
    let before = plan(&usual(question), cancel)?;
    let now = plan(question, cancel)?;
    let strokes = |p: &HolePlan| p.plays.first().map_or(0.0, |play| play.expected_strokes);
    let breeze = match question.day.wind.filter(|_| question.hole.bearing.is_some()) {
        None => None,
        Some(wind) => {
            let fixed = Wind { speed_m_s: TWELVE_MILES_M_S, at_height_m: 10.0, ..wind };
            let asked = |wind: Option<Wind>| Question { day: question.day.with_wind(wind), ..question.clone() };
            let (blown, still) = (asked(Some(fixed)), asked(None));
            let cost = strokes(&plan(&blown, cancel)?) - strokes(&plan(&still, cancel)?);
            let (drive, approach) = figures(&blown, &still);
            let sentence = wind_sentence(Some(fixed), &question.hole).unwrap_or_default();
            Some(Breeze { sentence, drive, approach, strokes: cost })
        }
    };
    let how = changed(&before, &now, question.units);
    Ok(HoleToday { usual: strokes(&before), today: strokes(&now), how, breeze })
}

/// The longest club from the tee and a shot of about 150 yards into the green, in a wind and without it.
fn figures(blown: &Question, still: &Question) -> (Blown, Blown) {
    let pattern = blown.pattern();
    let (windy, calm) = (blown.air(&pattern), still.air(&pattern));
    let ground = &blown.hole.ground;
    let line = ground.line();
    let tee = blown.tee_point().unwrap_or_default();
    let one = |swing: Option<&Swing>, from: Point, direction_deg: f64| {
        let Some(swing) = swing else { return Blown::default() };
        let of = |air: &HoleAir| air.change(swing, from, direction_deg.to_radians());
        let (with, without) = (of(&windy), of(&calm));
        Blown {
            carry: swing.carry() * without.carry,
            by: swing.carry() * (with.carry - without.carry),
            drift: with.drift,
        }
    };
    let longest = pattern.swings(Lie::Tee).iter().max_by(|a, b| a.carry().total_cmp(&b.carry()));
    let middle = pattern
        .swings(Lie::Fairway)
        .iter()
        .filter(|s| s.full)
        .min_by(|a, b| (a.carry() - APPROACH).abs().total_cmp(&(b.carry() - APPROACH).abs()));
    let green = ground.green.as_ref().map_or_else(|| line.at(ground.length).0, |g| g.middle);
    let last = line.place(Along((ground.length.0 - APPROACH).max(0.0)), Across(0.0));
    let first_deg = line.heading_deg(Along(blown.origin().0.0.max(0.0)));
    (one(longest, tee, first_deg), one(middle, last, (green - last).degrees()))
}

/// The switch lines of the wind: where it is not known, twelve miles an hour into, with and from either side; where it is, none at
/// all and half as much again.
///
/// # Errors
/// [`NoPlan::CalledOff`].
pub fn wind_lines(question: &Question, made: &HolePlan, cancel: &AtomicBool) -> Result<Vec<Switch>, NoPlan> {
    let mut asked: Vec<(String, Question)> = Vec::new();
    match question.day.wind.filter(|w| w.speed_m_s >= Wind::CALM_M_S && question.hole.bearing.is_some()) {
        Some(wind) => {
            let stronger = Wind { speed_m_s: 1.5 * wind.speed_m_s, ..wind };
            for (when, wind) in [("the wind gone", None), ("the wind half as strong again", Some(stronger))] {
                asked.push((when.to_owned(), Question { day: question.day.with_wind(wind), ..question.clone() }));
            }
        }
        None => {
            for (when, turn) in [("into", 0.0), ("with", 180.0), ("from the left", 270.0), ("from the right", 90.0)] {
                let mut hole = question.hole.clone();
                // Against the line of play: the compass does not matter.
                let bearing = hole.bearing.unwrap_or_default();
                hole.bearing = Some(bearing);
                let wind = Wind { speed_m_s: TWELVE_MILES_M_S, from_deg: bearing + turn, at_height_m: 10.0 };
                let when = match when {
                    "into" | "with" => format!("{when} 12 mph"),
                    side => format!("12 mph {side}"),
                };
                asked.push((when, Question { hole, day: question.day.with_wind(Some(wind)), ..question.clone() }));
            }
        }
    }
    let mut out = Vec::new();
    for (when, asked) in asked {
        match plan(&asked, cancel) {
            Ok(other) => {
                if let Some(play) = changed(made, &other, question.units) {
                    out.push(Switch { when, play });
                }
            }
            Err(NoPlan::CalledOff) => return Err(NoPlan::CalledOff),
            Err(_) => {}
        }
    }
    Ok(out)
}

/// A club without the words for a part of its swing: an eased seven iron is a seven iron.
fn club(shot: &Shot) -> &str {
    shot.club.strip_suffix(", part swing").unwrap_or(&shot.club)
}

/// What the other plan plays differently in a few words; `None` where a play of it that is worth the same begins as this one does.
pub fn changed(was: &HolePlan, other: &HolePlan, units: LengthUnit) -> Option<String> {
    let before = &was.plays.first()?.shots;
    let first = before.first()?;
    let same = other.plays.iter().find(|p| p.shots.first().is_some_and(|s| club(s) == club(first)));
    let now = &same.or_else(|| other.plays.first())?.shots;
    let next = now.first()?;
    let clubs = || now.iter().map(club).take(3).collect::<Vec<_>>().join(", ");
    if club(next) != club(first) {
        return Some(format!("{} for {}", clubs(), club(first)));
    }
    let second = |shots: &[Shot]| shots.get(1).map(|s| club(s).to_owned());
    if second(now) != second(before) {
        return match (second(now), second(before)) {
            (Some(now), Some(before)) => Some(format!("then {now} for {before}")),
            (None, Some(_)) => Some(format!("{} reaches", club(next))),
            (Some(now), None) => Some(format!("no longer reached: then {now}")),
            (None, None) => None,
        };
    }
    let aside = next.across.0 - first.across.0;
    let further = next.at.0 - first.at.0;
    if aside.abs() >= ANOTHER_LINE && further.abs() < 40.0 {
        let side = if aside > 0.0 { "right" } else { "left" };
        return Some(format!("{} {} further {side}", club(next), Length::yards(aside.abs()).show(units)));
    }
    None
}
