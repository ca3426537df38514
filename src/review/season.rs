//! Rounds over time: scores by hole, par and wind, the index as it went, the eclectic, and what to practise.

use super::judge::{HoleReview, Part};
use super::ledger::{Ledger, forecasts};
use super::mean::Mean;
use super::round::{PartReview, RoundCase, RoundReview, parts_of};
use crate::handicap::{Pcc, Returned, ReturnedHole, Score, adjusted_gross, index_from_record, score_differential};
use crate::scoring::HoleScore;
use crate::sheet::golfer::tee_rating;
use crate::units::tenths::{HandicapIndex, Tenths};
use chrono::NaiveDate;
use serde::Serialize;
use std::collections::BTreeMap;

/// One round of a season.
#[derive(Clone, Debug)]
pub struct SeasonRound {
    /// Its name.
    pub id: String,
    /// The day.
    pub date: String,
    /// The course and tee.
    pub place: String,
    /// Holes with a score.
    pub holes: usize,
    /// Strokes on them.
    pub gross: i32,
    /// Expected less taken, for eighteen holes.
    pub gained: f64,
    /// The Score Differential, where the round makes one.
    pub differential: Option<Tenths>,
    /// The index after it, from the rounds here alone; not official.
    pub index: Option<HandicapIndex>,
}

/// Scores of some holes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Scoring {
    /// `hole 4`, `par 3`, `into the wind`.
    pub name: String,
    /// Strokes over par.
    pub over_par: Mean,
    /// Expected less taken.
    pub gained: Mean,
}

/// The best score on each hole of a course from one tee.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Eclectic {
    /// The course and tee.
    pub place: String,
    /// Hole, par, best score.
    pub holes: Vec<(u8, u8, u8)>,
}

/// Something to practise.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Practice {
    /// What.
    pub what: String,
    /// Strokes that it loses in eighteen holes against a player of the same index; positive is what could be saved.
    pub saves: f64,
    /// Half the 90 % interval of that.
    pub half: Option<f64>,
    /// Strokes it rests on.
    pub n: usize,
}

/// A season.
#[derive(Clone, Debug)]
pub struct Season {
    /// The player.
    pub player: String,
    /// The index that the measure beside the player's own is of, the latest.
    pub index: f64,
    /// The rounds, oldest first.
    pub rounds: Vec<SeasonRound>,
    /// Gained in eighteen holes, over rounds.
    pub each_round: Mean,
    /// By part of the game, over all strokes.
    pub parts: Vec<PartReview>,
    /// Rounds' worth of holes with a score.
    pub rounds_worth: f64,
    /// The course played most.
    pub home: Option<String>,
    /// Its holes.
    pub by_hole: Vec<Scoring>,
    /// By par.
    pub by_par: Vec<Scoring>,
    /// By wind.
    pub by_wind: Vec<Scoring>,
    /// The best of each hole of the course played most.
    pub eclectic: Option<Eclectic>,
    /// What to practise, the dearest first.
    pub practice: Vec<Practice>,
    /// Decisions: what they cost a round, and how many were judged.
    pub decisions: (f64, usize),
    /// The forecasts.
    pub ledger: Ledger,
    /// What the reader must know.
    pub remarks: Vec<String>,
}

/// Puts a season together from rounds and their reviews, which stand in the same order, oldest first.
pub fn season(cases: &[RoundCase], reviewed: &[Result<RoundReview, String>]) -> Season {
    let mut remarks = Vec::new();
    let good: Vec<(&RoundCase, &RoundReview)> = cases
        .iter()
        .zip(reviewed)
        .filter_map(|(case, review)| match review {
            Ok(review) if review.holes.iter().any(|h| h.score.is_some() || !h.shots.is_empty()) => Some((case, review)),
            Ok(_) => None,
            Err(why) => {
                let id = case.session.round.as_ref().map(|r| r.opening().id.as_str().to_owned()).unwrap_or_default();
                remarks.push(format!("{id}: {why}"));
                None
            }
        })
        .collect();
    let reviews: Vec<RoundReview> = good.iter().map(|(_, r)| (*r).clone()).collect();
    let holes = || reviews.iter().flat_map(|r| &r.holes);
    let scored = holes().filter(|h| h.score.is_some()).count();
    let rounds_worth = scored as f64 / 18.0;
    let rounds = rounds_of(&good);
    let home = most_played(&reviews);
    let of_home: Vec<&HoleReview> = reviews
        .iter()
        .filter(|r| Some(place(r)) == home)
        .flat_map(|r| &r.holes)
        .filter(|h| h.score.is_some())
        .collect();
    let decided: Vec<f64> = holes().flat_map(|h| &h.shots).filter_map(|s| s.decision).collect();
    let told = holes().filter(|h| h.shots.iter().any(|s| s.gained.is_some()) || h.putts.is_some()).count();
    let told_worth = told as f64 / 18.0;
    if told == 0 && scored > 0 {
        remarks.push("no shots are logged, so parts of the game cannot be told".to_owned());
    }
    Season {
        player: reviews.last().map(|r| r.player.clone()).unwrap_or_default(),
        index: reviews.last().map_or(crate::session::ASSUMED_INDEX, |r| r.index),
        each_round: Mean::of(rounds.iter().filter(|r| r.holes >= 9).map(|r| r.gained)),
        parts: parts_of(holes()),
        rounds_worth,
        by_hole: groups(of_home.iter().map(|h| (format!("hole {}", h.hole), *h)), hole_number),
        by_par: groups(holes().map(|h| (format!("par {}", h.par), h)), hole_number),
        by_wind: groups(
            reviews
                .iter()
                .flat_map(|r| r.holes.iter().zip(&r.wind))
                .filter_map(|(h, w)| Some((format!("wind {}", (*w)?), h))),
            |_| 0,
        ),
        eclectic: home.clone().filter(|_| !of_home.is_empty()).map(|place| eclectic(place, &of_home)),
        practice: practice(&reviews, told_worth),
        decisions: (if told_worth > 0.0 { decided.iter().sum::<f64>() / told_worth } else { 0.0 }, decided.len()),
        ledger: Ledger::of(&forecasts(&reviews)),
        home,
        rounds,
        remarks,
    }
}

fn hole_number(name: &str) -> u32 {
    name.rsplit(' ').next().and_then(|n| n.parse().ok()).unwrap_or(0)
}

fn place(review: &RoundReview) -> String {
    format!("{}, {}", review.course, review.tee)
}

fn most_played(reviews: &[RoundReview]) -> Option<String> {
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    for review in reviews {
        *counts.entry(place(review)).or_default() += 1;
    }
    counts.into_iter().max_by_key(|(_, n)| *n).map(|(place, _)| place)
}

fn groups<'h>(holes: impl Iterator<Item = (String, &'h HoleReview)>, order: impl Fn(&str) -> u32) -> Vec<Scoring> {
    let mut by: BTreeMap<String, Vec<&HoleReview>> = BTreeMap::new();
    for (name, hole) in holes.filter(|(_, h)| h.score.is_some()) {
        by.entry(name).or_default().push(hole);
    }
    let mut out: Vec<Scoring> = by
        .into_iter()
        .map(|(name, holes)| Scoring {
            over_par: Mean::of(holes.iter().filter_map(|h| Some(f64::from(h.score?) - f64::from(h.par)))),
            gained: Mean::of(holes.iter().filter_map(|h| h.gained)),
            name,
        })
        .collect();
    out.sort_by_key(|s| order(&s.name));
    out
}

fn eclectic(place: String, holes: &[&HoleReview]) -> Eclectic {
    let mut best: BTreeMap<u8, (u8, u8)> = BTreeMap::new();
    for hole in holes {
        if let Some(score) = hole.score {
            let entry = best.entry(hole.hole).or_insert((hole.par, score));
            entry.1 = entry.1.min(score);
        }
    }
    Eclectic { place, holes: best.into_iter().map(|(hole, (par, score))| (hole, par, score)).collect() }
}

/// The kinds of stroke that practice is for.
fn kind(part: Part, yards: f64, lie: &str) -> Option<&'static str> {
    Some(match part {
        Part::Tee => "tee shots of par 4s and 5s",
        Part::Approach if yards < 100.0 => "shots from 30 to 100 yards",
        Part::Approach if yards < 150.0 => "shots from 100 to 150 yards",
        Part::Approach if yards < 200.0 => "shots from 150 to 200 yards",
        Part::Approach => "shots from beyond 200 yards",
        Part::Short if lie.contains("sand") => "bunkers by the green",
        Part::Short => "chips and pitches",
        Part::Putt | Part::Penalty => return None,
    })
}

/// Ranks kinds of stroke by what they lose against a player of the same index.
fn practice(reviews: &[RoundReview], rounds: f64) -> Vec<Practice> {
    let mut by: BTreeMap<&'static str, Vec<f64>> = BTreeMap::new();
    for hole in reviews.iter().flat_map(|r| &r.holes) {
        for shot in &hole.shots {
            let (Some(gained), Some(yards)) = (shot.against_index, shot.to_hole_yd) else { continue };
            if let Some(kind) = kind(shot.part, yards, shot.lie) {
                by.entry(kind).or_default().push(gained);
            }
        }
        if let Some(putts) = &hole.putts
            && let (Some(gained), Some(ft)) = (putts.against_index, putts.first_ft)
        {
            let kind = match ft {
                ft if ft <= 6.0 => "putts to 6 feet",
                ft if ft <= 20.0 => "putts of 6 to 20 feet",
                _ => "putts beyond 20 feet",
            };
            by.entry(kind).or_default().push(gained);
        }
    }
    if rounds <= 0.0 {
        return Vec::new();
    }
    let mut out: Vec<Practice> = by
        .into_iter()
        .map(|(what, gained)| {
            let mean = Mean::of(gained.iter().copied());
            let a_round = mean.n as f64 / rounds;
            Practice {
                what: what.to_owned(),
                saves: -mean.mean * a_round,
                half: mean.half.map(|h| h * a_round),
                n: mean.n,
            }
        })
        .collect();
    out.sort_by(|a, b| b.saves.total_cmp(&a.saves));
    out
}

impl Practice {
    /// Whether the interval leaves nought out.
    pub fn is_sure(&self) -> bool {
        self.half.is_some_and(|half| self.saves - half > 0.0)
    }
}

/// The rounds with their differentials and the index that these rounds make.
fn rounds_of(good: &[(&RoundCase, &RoundReview)]) -> Vec<SeasonRound> {
    let mut out: Vec<SeasonRound> = Vec::new();
    let mut scores: Vec<Score> = Vec::new();
    let mut of_score: Vec<usize> = Vec::new();
    for (case, review) in good {
        let scored: Vec<&HoleReview> = review.holes.iter().filter(|h| h.score.is_some()).collect();
        let score = score_of(case);
        let differential = score.and_then(|score| match score.returned {
            Returned::Full { holes, adjusted_gross, rating, slope, pcc } => {
                score_differential(adjusted_gross, rating, slope, pcc, holes).value
            }
            Returned::OfficialOnly => None,
        });
        if let Some(score) = score {
            scores.push(score);
            of_score.push(out.len());
        }
        let share = 18.0 / (scored.len().max(1) as f64);
        out.push(SeasonRound {
            id: review.id.clone(),
            date: review.date.clone(),
            place: place(review),
            holes: scored.len(),
            gross: scored.iter().filter_map(|h| h.score).map(i32::from).sum(),
            gained: review.gained() * share,
            differential,
            index: None,
        });
    }
    let rules = good.last().map(|(case, _)| case.session.rules).unwrap_or_default();
    for revision in index_from_record(&scores, &rules).revisions {
        if let Some(round) = of_score.get(revision.place).and_then(|i| out.get_mut(*i)) {
            round.index = revision.index();
        }
    }
    out
}

/// The round as a score of a record, when it makes one.
fn score_of(case: &RoundCase) -> Option<Score> {
    let session = &case.session;
    let (course, golfer) = (session.course.as_ref()?, session.golfers.get(case.player)?);
    let order = session.order.get(..session.holes())?;
    let rating = tee_rating(course, &golfer.tee, golfer.card, order).ok()?;
    let strokes = golfer.strokes_at_full();
    let boxes = session.boxes(case.player);
    let holes: Option<Vec<(i32, Option<i32>, ReturnedHole)>> = order
        .iter()
        .enumerate()
        .map(|(at, number)| {
            let par = i32::from(course.hole(*number)?.par.on(golfer.card)?);
            let returned = match boxes.get(at)?.score {
                HoleScore::Gross(n) => ReturnedHole::Holed(n),
                HoleScore::PickedUp => ReturnedHole::NotFinished { most_likely: None },
                HoleScore::NotPlayed | HoleScore::Empty => return None,
            };
            Some((par, golfer.index.map(|_| strokes.get(at).copied().unwrap_or(0)), returned))
        })
        .collect();
    let total = adjusted_gross(&holes?, &session.rules).total?;
    let opening = session.round.as_ref()?.opening();
    let date = NaiveDate::parse_from_str(&opening.date, "%Y-%m-%d").ok()?;
    let returned = Returned::Full {
        holes: rating.holes,
        adjusted_gross: total,
        rating: rating.rating,
        slope: rating.slope,
        pcc: Pcc::default(),
    };
    Some(Score { date, returned, official: None })
}
