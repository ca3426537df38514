//! What is learnt, as changes that a person may agree to, edit or refuse. Nothing here writes.

use super::judge::Part;
use super::learn::{ASSUMED_OFF, FEWEST, Figure, GIVEN_OFF, Learnt, learn};
use super::round::RoundReview;
use super::stage::{REVIEWED, Stage};
use crate::pattern::bag::TWO_IN_THREE;
use crate::pattern::{Club, Pattern, Skill, Source};
use crate::plan::Question;
use crate::player::Number;
use crate::strategy::{Kit, Worth};
use crate::units::{Across, Length, LengthUnit};
use serde::Serialize;
use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

/// What logged shots say of one club, in yards.
#[derive(Clone, Debug)]
pub struct ClubLearnt {
    /// The club as the bag has it.
    pub club: Club,
    /// In the measure of its pattern.
    pub learnt: Learnt,
    /// Its carry.
    pub carry: Figure,
    /// How far right of its aim it finishes on average.
    pub side: Figure,
    /// The box of two in three.
    pub wide: Figure,
    /// See `wide`.
    pub deep: Figure,
    /// Of how many of its shots the aim was logged.
    pub aimed: usize,
}

/// A change that is proposed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Proposed {
    /// A number of a club in the player's file.
    Number {
        /// The club as the file names it.
        club: String,
        /// Which number: its key in the file.
        key: &'static str,
        /// As it would be typed.
        text: String,
    },
    /// A note to a hole in the player's own layer.
    Note {
        /// The course's name.
        course: String,
        /// The hole.
        hole: u8,
        /// The words.
        text: String,
    },
}

/// A proposal with what stands behind it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Proposal {
    /// What it is, the same as long as it is about the same thing.
    pub id: String,
    /// In a sentence.
    pub words: String,
    /// How many shots stand behind it.
    pub shots: usize,
    /// The change.
    pub change: Proposed,
}

impl Proposed {
    /// The text that may be edited before it is agreed to.
    pub fn text(&self) -> &str {
        match self {
            Self::Number { text, .. } | Self::Note { text, .. } => text,
        }
    }

    /// The number it changes.
    pub fn number(&self) -> Option<Number> {
        match self {
            Self::Number { key, .. } => Number::ALL.into_iter().find(|n| n.key() == *key),
            Self::Note { .. } => None,
        }
    }
}

/// What the shots of reviewed rounds say of each club of the bag as it is now.
pub fn clubs(reviews: &[RoundReview], pattern: &Pattern) -> Vec<ClubLearnt> {
    let all = || reviews.iter().flat_map(|r| &r.holes).flat_map(|h| &h.shots);
    let mut out = Vec::new();
    for (number, club) in pattern.clubs.iter().enumerate() {
        let own = all().filter(|s| s.club.as_deref().is_some_and(|c| c.trim().eq_ignore_ascii_case(club.name.trim())));
        let flown: Vec<_> = own
            .filter_map(|s| s.flown.filter(|f| f.full))
            .filter_map(|f| {
                // Measured against the bag of today, so that a change once agreed to is not proposed again.
                let now = pattern.swings(f.lie).iter().find(|s| s.club == number && s.full)?;
                let across = f.across + f.curve - now.curve;
                Some(super::judge::Flown { meant: now.total, spread: (now.along, now.across), across, ..f })
            })
            .collect();
        let off = if club.carry_from == Source::Given { GIVEN_OFF } else { ASSUMED_OFF };
        let learnt = learn(&flown, off, club.mishits);
        let total = club.total();
        let of = |f: Figure, g: &dyn Fn(f64) -> f64| Figure {
            value: g(f.value),
            low: g(f.low),
            high: g(f.high),
            moved: f.moved,
        };
        out.push(ClubLearnt {
            carry: of(learnt.length, &|x| (total * x - club.run).max(1.0)),
            side: of(learnt.side, &|x| total * x),
            wide: of(learnt.wide, &|x| club.wide * x),
            deep: of(learnt.deep, &|x| club.deep * x),
            aimed: flown.iter().filter(|f| f.aimed).count(),
            learnt,
            club: club.clone(),
        });
    }
    out
}

/// The changes of the bag that shots propose.
pub fn of_clubs(clubs: &[ClubLearnt], unit: LengthUnit) -> Vec<Proposal> {
    let mut out = Vec::new();
    for seen in clubs.iter().filter(|c| c.learnt.ordinary >= FEWEST) {
        let name = &seen.club.name;
        let shots = seen.learnt.shots;
        let show = |yards: f64| Length::yards(yards).show(unit);
        let side = |yards: f64| Across(yards).show(unit);
        let mut add = |number: Number, text: String, words: String| {
            out.push(Proposal {
                id: format!("{name}: {}", number.key()),
                words,
                shots,
                change: Proposed::Number { club: name.clone(), key: number.key(), text },
            });
        };
        let within = |f: Figure| format!("{} to {}", show(f.low), show(f.high));
        if seen.carry.moved && show(seen.carry.value) != show(seen.club.carry) {
            let (now, new) = (show(seen.club.carry), show(seen.carry.value));
            add(
                Number::Carry,
                new.clone(),
                format!("{name}: carry {now} -> {new} ({}, {shots} shots)", within(seen.carry)),
            );
        }
        if seen.side.moved && seen.side.value.abs() >= 2.0 {
            let new = seen.club.curve + seen.side.value;
            let text = side(new);
            let aim = if seen.aimed * 2 >= shots {
                "it was aimed"
            } else {
                "the plan aims it (no aims are logged: it may be your aim)"
            };
            let words = format!(
                "{name}: finishes {} of where {aim} ({} to {}, {shots} shots): curve {} -> {text}",
                side(seen.side.value),
                side(seen.side.low),
                side(seen.side.high),
                side(seen.club.curve)
            );
            add(Number::Curve, text, words);
        }
        if seen.wide.moved || seen.deep.moved {
            // The side of the box that shots leave in doubt moves as far as they say, no farther.
            let text = format!("{} x {}", show(seen.wide.value), show(seen.deep.value));
            let now = format!("{} x {}", show(seen.club.wide), show(seen.club.deep));
            if text != now {
                let words = format!(
                    "{name}: two in three within {text}, not {now} (wide {}, deep {}, {shots} shots)",
                    within(seen.wide),
                    within(seen.deep)
                );
                add(Number::Box, text, words);
            }
        }
        if seen.learnt.mishits.moved && seen.learnt.mishits.value > 0.005 {
            let one_in = |q: f64| format!("1 in {:.0}", (1.0 / q.max(0.005)).max(2.0));
            let (now, new) = (one_in(seen.club.mishits), one_in(seen.learnt.mishits.value));
            if now != new {
                add(Number::Mishits, new.clone(), format!("{name}: mishits {now} -> {new} ({shots} shots)"));
            }
        }
    }
    out
}

/// The fewest tee shots on a hole that say something of its aim.
const FEWEST_TEE_SHOTS: usize = 8;
/// A side that luck alone would bring oftener than this is not spoken of.
const BY_LUCK: f64 = 0.08;

/// Notes to holes that tee shots and dangers propose.
pub fn of_holes(reviews: &[RoundReview]) -> Vec<Proposal> {
    let mut sides: BTreeMap<(String, u8), (usize, usize, usize)> = BTreeMap::new();
    let mut dangers: BTreeMap<(String, u8, String), (usize, f64)> = BTreeMap::new();
    for review in reviews {
        for hole in &review.holes {
            let first = hole.shots.first().filter(|s| s.part == Part::Tee);
            if let Some(side) = first.and_then(|s| s.side) {
                let counts = sides.entry((review.course.clone(), hole.hole)).or_default();
                counts.0 += 1;
                counts.1 += usize::from(side < 0);
                counts.2 += usize::from(side > 0);
            }
        }
        for danger in review.dangers.iter().filter(|d| d.times > 0) {
            let counts = dangers.entry((review.course.clone(), danger.hole, danger.name.clone())).or_default();
            counts.0 += danger.times;
            counts.1 += danger.took;
        }
    }
    let mut out = Vec::new();
    for ((course, hole), (n, left, right)) in sides {
        let (most, word) = if left > right { (left, "left") } else { (right, "right") };
        let luck = at_least(most, n);
        if n < FEWEST_TEE_SHOTS || luck > BY_LUCK {
            continue;
        }
        let text = format!("{most} of {n} tee shots ended {word} of the aim: move the aim?");
        out.push(Proposal {
            id: format!("{course} {hole}: tee shots {word}"),
            words: format!("{course}, hole {hole}: {text} (luck alone: 1 in {:.0})", (1.0 / luck).max(1.0)),
            shots: n,
            change: Proposed::Note { course, hole, text },
        });
    }
    for ((course, hole, name), (times, took)) in dangers {
        if times >= 4 && took / times as f64 >= 0.4 {
            let text = format!("{name} took {took:.1} strokes in {times} visits: give it more room?");
            out.push(Proposal {
                id: format!("{course} {hole}: {name}"),
                words: format!("{course}, hole {hole}: {text}"),
                shots: times,
                change: Proposed::Note { course, hole, text },
            });
        }
    }
    out
}

/// The chance that of `n` even throws at least `k` fall on one given side.
fn at_least(k: usize, n: usize) -> f64 {
    let mut term = 0.5f64.powi(n as i32);
    let mut sum = 0.0;
    for i in 0..=n {
        if i >= k {
            sum += term;
        }
        term *= (n - i) as f64 / (i + 1) as f64;
    }
    sum
}

/// The calibration constant of the skill, from scores.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Calibration {
    /// By how much the printed constant is multiplied.
    pub factor: f64,
    /// The 90 % interval.
    pub low: f64,
    /// See `low`.
    pub high: f64,
    /// Holes with a score behind it.
    pub holes: usize,
}

/// How far a player's own constant is believed to lie from the printed one, as a share (our judgement).
const OWN_CONSTANT: f64 = 0.15;
/// Holes whose slope in the constant is worked out.
const SLOPES: usize = 6;

/// The calibration constant that fits the scores of reviewed rounds: a normal prior about the printed constant, the mean of
/// expected less taken, and how the expectation moves with the constant on some of the holes. `None` without scores.
pub fn calibrate(reviews: &[RoundReview], questions: &[Question], cancel: &AtomicBool) -> Option<Calibration> {
    // What a choice of club cost is not scatter.
    let of_scatter = |h: &super::HoleReview| Some(h.gained? - h.shots.iter().filter_map(|s| s.decision).sum::<f64>());
    let gained = super::Mean::of(reviews.iter().flat_map(|r| &r.holes).filter_map(of_scatter));
    if gained.n < 9 {
        return None;
    }
    let step = 0.1;
    let mut slopes = Vec::new();
    for question in questions.iter().take(SLOPES) {
        let expected = |factor: f64| {
            let skill = Skill::of_index(question.index, question.card);
            let skill = Skill { spread: skill.spread * factor, ..skill };
            let kit = Arc::new(Kit::new(Pattern::of(&question.bag, &skill), REVIEWED));
            let stage = Stage::new(question.clone(), kit).ok()?;
            stage.solved(&Worth::Strokes, cancel, |s| s.at_once(s.tee()).map(|p| p.cost)).ok().flatten()
        };
        slopes.push((expected(1.0 + step)? - expected(1.0)?) / (1.0f64 + step).ln());
    }
    let slope = super::Mean::of(slopes).mean;
    if slope < 0.02 {
        // A bag with every box given leaves the constant nothing to say.
        return None;
    }
    let noise = (gained.sd / (gained.n as f64).sqrt()).max(1e-3) / slope;
    let (prior, seen) = (OWN_CONSTANT.powi(-2), noise.powi(-2));
    let mean = (-gained.mean / slope) * seen / (prior + seen);
    let half = crate::pattern::normal::quantile(0.95) / (prior + seen).sqrt();
    Some(Calibration { factor: mean.exp(), low: (mean - half).exp(), high: (mean + half).exp(), holes: gained.n })
}

impl Calibration {
    /// In words.
    pub fn words(&self) -> String {
        let fits = self.low <= 1.0 && 1.0 <= self.high;
        let says = if fits {
            "the printed constant fits your scores"
        } else if self.factor > 1.0 {
            "you score higher than the printed constant says"
        } else {
            "you score lower than the printed constant says"
        };
        format!(
            "scatter where it is assumed: {:.2} times the printed ({:.2} to {:.2}, {} holes); {says}",
            self.factor, self.low, self.high, self.holes
        )
    }
}

/// One standard deviation of a side of a box of two in three.
pub fn deviation(side: f64) -> f64 {
    side / TWO_IN_THREE
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: of 12 even throws at least 9 on one given side: (220 + 66 + 12 + 1) / 4096.
    #[test]
    fn luck_by_hand() {
        assert!((at_least(9, 12) - 299.0 / 4096.0).abs() < 1e-12);
        assert!((at_least(0, 12) - 1.0).abs() < 1e-12);
        assert!((at_least(12, 12) - 1.0 / 4096.0).abs() < 1e-12);
    }
}
