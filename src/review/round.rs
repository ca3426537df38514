//! Rounds judged: one for its own page, many for a season. Each hole of one notebook, tee and player is solved once.

use super::judge::{Case, HoleReview, Look, Part, judge};
use super::level::Level;
use super::mean::Mean;
use super::stage::{REVIEWED, Stage};
use crate::course::{Card, WindSide};
use crate::pattern::{Pattern, Skill};
use crate::plan::Question;
use crate::session::Session;
use crate::strategy::{Kit, Worth};
use rayon::prelude::*;
use serde::Serialize;
use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

/// A round to be judged, with what is open as it was that day.
#[derive(Clone, Debug)]
pub struct RoundCase {
    /// What was open: the notebook of that day, the player, the round.
    pub session: Session,
    /// Whose play.
    pub player: usize,
}

/// A danger with what was said of it and what it did.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DangerReview {
    /// The hole.
    pub hole: u8,
    /// Its name.
    pub name: String,
    /// Its price in the frozen plan, where there is one.
    pub price: Option<f64>,
    /// What it took from this player.
    pub took: f64,
    /// How often.
    pub times: usize,
}

/// A round, judged.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RoundReview {
    /// Its name.
    pub id: String,
    /// The day.
    pub date: String,
    /// The course's name.
    pub course: String,
    /// The player's name.
    pub player: String,
    /// The tee.
    pub tee: String,
    /// The index that the measure beside the player's own is of.
    pub index: f64,
    /// The holes that could be judged.
    pub holes: Vec<HoleReview>,
    /// By hole judged: chances of its score by the plan, `[n]` of n strokes.
    pub chances: Vec<Vec<f64>>,
    /// By hole judged: the wind on it.
    pub wind: Vec<Option<&'static str>>,
    /// Dangers that took something or were priced.
    pub dangers: Vec<DangerReview>,
    /// What the reader must know.
    pub remarks: Vec<String>,
}

/// A part of the game in one round or many.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PartReview {
    /// Which.
    pub part: Part,
    /// Strokes gained in all.
    pub total: f64,
    /// The mean of a stroke.
    pub each: Mean,
    /// Against a player of the same index, in all; `None` for penalties.
    pub against_index: Option<f64>,
}

impl RoundReview {
    /// By part of the game.
    pub fn parts(&self) -> Vec<PartReview> {
        parts_of(self.holes.iter())
    }

    /// Strokes gained on holes with a score.
    pub fn gained(&self) -> f64 {
        self.holes.iter().filter_map(|h| h.gained).sum()
    }

    /// Strokes expected on holes with a score, and those taken.
    pub fn expected_and_taken(&self) -> (f64, i32) {
        let scored = self.holes.iter().filter_map(|h| Some((h.expected, i32::from(h.score?))));
        scored.fold((0.0, 0), |(e, t), (expected, score)| (e + expected, t + score))
    }

    /// What choices of club cost in all, and how many choices were judged.
    pub fn decisions(&self) -> (f64, usize) {
        let all = self.holes.iter().flat_map(|h| &h.shots).filter_map(|s| s.decision);
        all.fold((0.0, 0), |(sum, n), d| (sum + d, n + 1))
    }

    /// The holes that mattered most, by what they gained or lost.
    pub fn holes_that_mattered(&self, count: usize) -> Vec<&HoleReview> {
        let mut holes: Vec<&HoleReview> = self.holes.iter().filter(|h| h.gained.is_some()).collect();
        let size = |h: &HoleReview| h.gained.unwrap_or(0.0).abs();
        holes.sort_by(|a, b| size(b).total_cmp(&size(a)).then(a.position.cmp(&b.position)));
        holes.truncate(count);
        holes
    }

    /// The strokes that mattered most: hole, what was done, what it gained with its penalties.
    pub fn shots_that_mattered(&self, count: usize) -> Vec<(u8, String, f64)> {
        let mut all: Vec<(usize, u8, String, f64)> = Vec::new();
        for hole in &self.holes {
            for shot in &hole.shots {
                let Some(gained) = shot.gained else { continue };
                all.push((hole.position, hole.hole, shot.words(), gained - f64::from(shot.penalty)));
            }
            if let Some(putts) = &hole.putts
                && let Some(gained) = putts.gained
            {
                let from = putts.first_ft.map_or_else(String::new, |ft| format!(" from {ft:.0} ft"));
                let word = if putts.count == 1 { "putt" } else { "putts" };
                all.push((hole.position, hole.hole, format!("{} {word}{from}", putts.count), gained));
            }
        }
        all.sort_by(|a, b| b.3.abs().total_cmp(&a.3.abs()).then(a.0.cmp(&b.0)));
        all.into_iter().take(count).map(|(_, hole, words, gained)| (hole, words, gained)).collect()
    }

    /// How many strokes of the card the log tells of, and how many there are.
    pub fn told(&self) -> (usize, usize) {
        let told = |h: &HoleReview| {
            let putts = h.putts.filter(|p| p.gained.is_some()).map_or(0, |p| usize::from(p.count));
            let shots = h.shots.iter().filter(|s| s.gained.is_some());
            putts + shots.map(|s| 1 + usize::from(s.penalty)).sum::<usize>()
        };
        let scored = self.holes.iter().filter_map(|h| Some((told(h), usize::from(h.score?))));
        scored.fold((0, 0), |(a, b), (t, s)| (a + t.min(s), b + s))
    }
}

/// Parts of the game over holes.
pub fn parts_of<'h>(holes: impl Iterator<Item = &'h HoleReview> + Clone) -> Vec<PartReview> {
    let one = |part: Part| {
        let all: Vec<(f64, Option<f64>)> = holes.clone().flat_map(|h| h.of_part(part)).collect();
        PartReview {
            part,
            total: all.iter().map(|a| a.0).sum(),
            each: Mean::of(all.iter().map(|a| a.0)),
            against_index: (part != Part::Penalty).then(|| all.iter().filter_map(|a| a.1).sum()),
        }
    };
    Part::ALL.into_iter().map(one).collect()
}

impl super::judge::ShotReview {
    /// `driver from the tee to rough, 152 left`.
    pub fn words(&self) -> String {
        let club = self.club.as_deref().unwrap_or("a shot");
        let from = match (self.lie, self.to_hole_yd) {
            ("?", _) => String::new(),
            (lie, Some(yards)) if self.part != Part::Tee && lie != "tee" => format!(" from {yards:.0} in the {lie}"),
            (lie, _) => format!(" from the {lie}"),
        };
        let to = match (self.into, self.left_yd) {
            (_, Some(0.0)) => ", holed".to_owned(),
            (Some("green"), Some(left)) => format!(" to the green, {:.0} ft left", 3.0 * left),
            (Some(into), Some(left)) => format!(" to {into}, {left:.0} left"),
            _ if self.penalty > 0 => ", played again".to_owned(),
            _ => String::new(),
        };
        let about = if self.about { " (about)" } else { "" };
        let penalty = if self.penalty > 0 { ", a penalty" } else { "" };
        format!("{club}{from}{to}{penalty}{about}")
    }
}

/// A hole of the round of this number, judged, with the chances of its scores; or why not.
type Judged = (usize, Result<(HoleReview, Vec<f64>), String>);

/// One hole of one round, waiting for its solution.
struct Waiting {
    round: usize,
    position: usize,
}

/// Judges rounds of one player, in their order. The inner error says why a round cannot be judged at all.
///
/// `chances` also works the chances of every score out, for forecasts.
pub fn review_rounds(
    rounds: &[RoundCase],
    look: Look,
    chances: bool,
    cancel: &AtomicBool,
) -> Vec<Result<RoundReview, String>> {
    let mut out: Vec<Result<RoundReview, String>> = rounds.iter().map(empty).collect();
    let mut jobs: BTreeMap<String, (Question, Vec<Waiting>)> = BTreeMap::new();
    let mut levels: BTreeMap<(i64, bool), Option<Level>> = BTreeMap::new();
    let mut kits: BTreeMap<String, Arc<Kit>> = BTreeMap::new();
    for (number, case) in rounds.iter().enumerate() {
        if out.get(number).is_none_or(Result::is_err) {
            continue;
        }
        for position in 0..case.session.order.len() {
            let units = case.session.golfers.get(case.player).map(|g| g.units).unwrap_or_default();
            let Some(question) = case.session.question(position, case.player, None, case.session.aimed(), units) else {
                continue;
            };
            if !has_something(case, position) {
                continue;
            }
            levels.entry(level_key(question.index, question.card)).or_insert(None);
            let key = key_of(case, &question);
            jobs.entry(key).or_insert_with(|| (question, Vec::new())).1.push(Waiting { round: number, position });
        }
    }
    let made: Vec<Option<Level>> = levels
        .keys()
        .copied()
        .collect::<Vec<_>>()
        .par_iter()
        .map(|(tenths, women)| {
            let card = if *women { Card::Women } else { Card::Men };
            Level::of(&Skill::of_index(*tenths as f64 / 10.0, card), cancel).ok()
        })
        .collect();
    levels.values_mut().zip(made).for_each(|(slot, level)| *slot = level);
    for (question, _) in jobs.values() {
        let key = kit_key(question);
        kits.entry(key).or_insert_with(|| {
            let pattern = Pattern::of(&question.bag, &Skill::of_index(question.index, question.card));
            Arc::new(Kit::new(pattern, REVIEWED))
        });
    }
    let jobs: Vec<(Question, Vec<Waiting>)> = jobs.into_values().collect();
    let judged: Vec<Vec<Judged>> = jobs
        .par_iter()
        .map(|(question, waiting)| {
            let (Some(Some(level)), Some(kit)) =
                (levels.get(&level_key(question.index, question.card)), kits.get(&kit_key(question)))
            else {
                return Vec::new();
            };
            one_hole(rounds, question, waiting, level, kit, look, chances, cancel)
        })
        .collect();
    for (round, result) in judged.into_iter().flatten() {
        let Some(Ok(review)) = out.get_mut(round) else { continue };
        match result {
            Ok((hole, chances)) => {
                review.holes.push(hole);
                review.chances.push(chances);
            }
            Err(why) => review.remarks.push(why),
        }
    }
    for (review, case) in out.iter_mut().zip(rounds) {
        if let Ok(review) = review {
            finish(review, case);
        }
    }
    out
}

/// Judges one round closely.
///
/// # Errors
/// Why it cannot be judged, in a sentence.
pub fn review_round(case: &RoundCase, cancel: &AtomicBool) -> Result<RoundReview, String> {
    review_rounds(std::slice::from_ref(case), Look::Close, true, cancel)
        .pop()
        .unwrap_or_else(|| Err("there is no round".to_owned()))
}

fn empty(case: &RoundCase) -> Result<RoundReview, String> {
    let session = &case.session;
    let round = session.round.as_ref().ok_or("no round is open to review")?;
    if session.course.is_none() {
        return Err("the notebook of this round cannot be read; marram check names its problems".to_owned());
    }
    let golfer = session.golfers.get(case.player).ok_or("this round has no such player")?;
    if round.opening().one_ball() {
        return Err(
            "partners shared one ball, so the strokes are not one player's; such a round is not reviewed".to_owned()
        );
    }
    let opening = round.opening();
    Ok(RoundReview {
        id: opening.id.as_str().to_owned(),
        date: opening.date.clone(),
        course: opening.course_name.clone(),
        player: golfer.name.clone(),
        tee: golfer.tee.clone(),
        index: golfer.index.map_or(crate::session::ASSUMED_INDEX, |i| f64::from(i.value().tenths()) / 10.0),
        holes: Vec::new(),
        chances: Vec::new(),
        wind: Vec::new(),
        dangers: Vec::new(),
        remarks: Vec::new(),
    })
}

fn has_something(case: &RoundCase, position: usize) -> bool {
    case.session
        .boxes(case.player)
        .get(position)
        .is_some_and(|b| b.score.gross().is_some() || !b.shots.is_empty() || b.score.is_entered())
}

fn level_key(index: f64, card: Card) -> (i64, bool) {
    ((index * 10.0).round() as i64, card == Card::Women)
}

fn kit_key(question: &Question) -> String {
    format!("{:?}|{:?}|{:?}", question.bag, question.index, question.card)
}

/// What makes two holes of two rounds the same to the solver.
fn key_of(case: &RoundCase, question: &Question) -> String {
    let digest = |file: Option<&crate::session::ReadFile>| file.map(|f| f.digest().short(16)).unwrap_or_default();
    let session = &case.session;
    let notebook = session.notebook_digest.map(|d| d.short(16)).unwrap_or_default();
    format!(
        "{notebook}|{}|{}|{}|{:?}|{}",
        digest(session.ground.as_ref()),
        question.hole.number,
        question.tee,
        question.pin,
        kit_key(question)
    )
}

#[allow(clippy::too_many_arguments)]
fn one_hole(
    rounds: &[RoundCase],
    question: &Question,
    waiting: &[Waiting],
    level: &Level,
    kit: &Arc<Kit>,
    look: Look,
    chances: bool,
    cancel: &AtomicBool,
) -> Vec<Judged> {
    let refused = |why: String| {
        let words = format!("hole {}: {why}", question.hole.number);
        waiting.iter().map(|w| (w.round, Err(words.clone()))).collect()
    };
    let stage = match Stage::new(question.clone(), kit.clone()) {
        Ok(stage) => stage,
        Err(why) => return refused(why.to_string()),
    };
    let judged = stage.solved(&Worth::Strokes, cancel, |solution| {
        let by_plan = || {
            let tee = solution.tee();
            solution.at_once(tee).map(|play| solution.chances(tee, &play)).unwrap_or_default()
        };
        let scores = if chances { by_plan() } else { Vec::new() };
        let one = |w: &Waiting| {
            let case = rounds.get(w.round)?;
            let card = case.session.boxes(case.player).get(w.position)?;
            let asked = Case { position: w.position, logged: &card.shots, score: card.score, level, look };
            let mut hole = judge(&stage, &solution, &asked);
            hole.received = case.session.golfers.get(case.player)?.strokes.get(w.position).copied().unwrap_or(0);
            // What was frozen before the round is what was said of it.
            let frozen = case.session.frozen.as_ref().and_then(|f| f.hole(case.player, w.position));
            let said = frozen.map_or_else(|| scores.clone(), |plan| plan.chances().to_vec());
            Some((w.round, Ok((hole, said))))
        };
        waiting.iter().filter_map(one).collect::<Vec<_>>()
    });
    judged.unwrap_or_else(|why| refused(why.to_string()))
}

fn finish(review: &mut RoundReview, case: &RoundCase) {
    let mut both: Vec<(HoleReview, Vec<f64>)> =
        std::mem::take(&mut review.holes).into_iter().zip(std::mem::take(&mut review.chances)).collect();
    both.sort_by_key(|(hole, _)| hole.position);
    (review.holes, review.chances) = both.into_iter().unzip();
    let session = &case.session;
    review.wind = review
        .holes
        .iter()
        .map(|h| {
            let hole = session.course.as_ref()?.hole(h.hole)?;
            let (day, _) = session.day.as_ref()?;
            let sides = day.wind_on(hole)?;
            Some(match sides.first()? {
                WindSide::Into => "into",
                WindSide::With => "with",
                WindSide::Across => "across",
            })
        })
        .collect();
    review.dangers = dangers(review, case);
    let logged = review.holes.iter().filter(|h| !h.shots.is_empty() || h.putts.is_some()).count();
    let scored = review.holes.iter().filter(|h| h.score.is_some()).count();
    let holes = session.order.len();
    if logged == 0 {
        review
            .remarks
            .push("no shot is logged, so only scores against expectation can be told; S logs shots".to_owned());
    } else if logged < holes {
        review
            .remarks
            .push(format!("shots are logged on {logged} of {holes} holes; the review goes as far as they do"));
    }
    if scored < holes {
        review.remarks.push(format!("{scored} of {holes} holes have a score"));
    }
}

fn dangers(review: &RoundReview, case: &RoundCase) -> Vec<DangerReview> {
    let mut out: Vec<DangerReview> = Vec::new();
    for hole in &review.holes {
        let frozen = case.session.frozen.as_ref().and_then(|f| f.hole(case.player, hole.position));
        let name_of = |feature: usize| {
            let course = case.session.course.as_ref()?;
            course.hole(hole.hole)?.ground.features.get(feature).map(|f| f.name.clone())
        };
        let start = out.len();
        for taken in &hole.taken {
            match out.iter_mut().skip(start).find(|d| d.name == taken.name) {
                Some(known) => {
                    known.took += taken.strokes;
                    known.times += 1;
                }
                None => out.push(DangerReview {
                    hole: hole.hole,
                    name: taken.name.clone(),
                    price: None,
                    took: taken.strokes,
                    times: 1,
                }),
            }
        }
        for price in frozen.map_or(&[][..], |plan| plan.prices.as_slice()).iter().filter(|p| p.strokes >= 0.025) {
            let Some(name) = name_of(price.feature) else { continue };
            match out.iter_mut().skip(start).find(|d| d.name == name) {
                Some(known) => known.price = Some(price.strokes),
                None => {
                    out.push(DangerReview { hole: hole.hole, name, price: Some(price.strokes), took: 0.0, times: 0 })
                }
            }
        }
    }
    out
}
