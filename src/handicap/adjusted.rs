//! Adjusted gross score: each hole as it enters the record.

use super::Rules;
use std::ops::RangeInclusive;

/// A hole as it was returned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReturnedHole {
    /// Holed out in so many strokes.
    Holed(u8),
    /// Started and not holed out, with the most likely score where it is known.
    NotFinished {
        /// Strokes taken with penalties plus those most likely still needed; see [`most_likely`].
        most_likely: Option<u8>,
    },
    /// Never started, for a valid reason.
    NotPlayed,
}

/// Why a hole stands in the record as it does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Recorded {
    /// The strokes taken.
    AsPlayed,
    /// The most likely score.
    MostLikely,
    /// Cut to par + 2 + strokes received.
    NetDoubleBogey,
    /// Cut to par + 5: no index yet.
    ParPlusFive,
    /// Not played: par + strokes received.
    NetPar,
    /// Not played: no number; the differential takes an expected part.
    Expected,
}

/// One hole for the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AdjustedHole {
    /// The score, `None` where an expected part takes its place.
    pub score: Option<i32>,
    /// Why.
    pub why: Recorded,
}

/// Whether a card makes a score for the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Acceptance {
    /// An 18-hole score.
    Eighteen,
    /// A nine-hole score.
    Nine,
    /// An 18-hole score of 10 to 17 holes played: its differential is official only.
    PartOfEighteen,
    /// Too few holes were played.
    TooFew,
    /// Before there is an index only full nines and eighteens are accepted.
    NotFullWithoutIndex,
}

/// A card adjusted for the record.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AdjustedGross {
    /// Each hole in the order given.
    pub holes: Vec<AdjustedHole>,
    /// The sum, `None` where a hole has no number.
    pub total: Option<i32>,
    /// Holes that were started.
    pub played: usize,
    /// Whether it makes a score.
    pub acceptance: Acceptance,
}

/// The cap of one hole: net double bogey, or par + 5 before there is an index (`strokes` is `None`).
///
/// The strokes are those of the full rounded Course Handicap, whatever the Terms of a competition restrict it to.
///
/// # References
/// Rules of Handicapping 3.1a, 3.1b.
pub fn hole_cap(par: i32, strokes: Option<i32>) -> i32 {
    strokes.map_or(par + 5, |strokes| par + 2 + strokes)
}

/// One hole as it enters the record.
///
/// # References
/// Rules of Handicapping 3.1 (holed), 3.2 and Clarification 3.2/2 (not played), 3.3 (not finished).
pub fn adjusted_hole(par: i32, strokes: Option<i32>, returned: ReturnedHole, rules: &Rules) -> AdjustedHole {
    let cap = hole_cap(par, strokes);
    let capped = if strokes.is_some() { Recorded::NetDoubleBogey } else { Recorded::ParPlusFive };
    let limited = |score: i32, why| {
        if score > cap {
            AdjustedHole { score: Some(cap), why: capped }
        } else {
            AdjustedHole { score: Some(score), why }
        }
    };
    match returned {
        ReturnedHole::Holed(gross) => limited(i32::from(gross), Recorded::AsPlayed),
        ReturnedHole::NotFinished { most_likely } => match most_likely {
            Some(likely) => limited(i32::from(likely), Recorded::MostLikely),
            None => AdjustedHole { score: Some(cap), why: capped },
        },
        ReturnedHole::NotPlayed if rules.not_played_is_net_par => {
            AdjustedHole { score: Some(par + strokes.unwrap_or(0)), why: Recorded::NetPar }
        }
        ReturnedHole::NotPlayed => AdjustedHole { score: None, why: Recorded::Expected },
    }
}

/// A whole card (9 or 18 holes) for the record; each hole is par, strokes received (`None` before there is an index),
/// what was returned.
///
/// # References
/// Rules of Handicapping 3.1 to 3.3; least number of holes: USGA FAQ and nine-hole page 2024; 2020: 14 of 18 and 7 of 9
/// (Rule 2.2, from memory).
pub fn adjusted_gross(holes: &[(i32, Option<i32>, ReturnedHole)], rules: &Rules) -> AdjustedGross {
    let adjusted: Vec<AdjustedHole> =
        holes.iter().map(|&(par, strokes, returned)| adjusted_hole(par, strokes, returned, rules)).collect();
    let played = holes.iter().filter(|(_, _, returned)| *returned != ReturnedHole::NotPlayed).count();
    let with_index = holes.iter().all(|(_, strokes, _)| strokes.is_some());
    AdjustedGross {
        total: adjusted.iter().map(|hole| hole.score).sum(),
        holes: adjusted,
        played,
        acceptance: acceptance(holes.len(), played, with_index, rules),
    }
}

fn acceptance(holes: usize, played: usize, with_index: bool, rules: &Rules) -> Acceptance {
    let full = holes == played && (holes == 9 || holes == 18);
    if !with_index && !full {
        return Acceptance::NotFullWithoutIndex;
    }
    if rules.not_played_is_net_par {
        return match (holes, played) {
            (18, 14..) => Acceptance::Eighteen,
            (9, 7..) => Acceptance::Nine,
            (18, 7..) => Acceptance::Nine,
            _ => Acceptance::TooFew,
        };
    }
    match (holes, played) {
        (18, 18) => Acceptance::Eighteen,
        (18, 10..) => Acceptance::PartOfEighteen,
        (_, 9) => Acceptance::Nine,
        _ => Acceptance::TooFew,
    }
}

/// Where a ball lies when a hole is given up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BallLies {
    /// On the green no more than 5 feet (1.5 m) from the hole.
    OnGreenWithinFiveFeet,
    /// From 5 feet to 20 yards (20 m) from the hole; also off the green within 5 feet, which the table does not list.
    WithinTwentyYards,
    /// Farther than 20 yards (20 m).
    Farther,
}

/// The most likely score after `strokes` taken with penalties: the least and the most that the rule allows; the player
/// judges which.
///
/// # References
/// Rules of Handicapping 3.3, table.
pub fn most_likely(strokes: u8, lies: BallLies) -> RangeInclusive<u8> {
    let (least, most) = match lies {
        BallLies::OnGreenWithinFiveFeet => (1, 1),
        BallLies::WithinTwentyYards => (2, 3),
        BallLies::Farther => (3, 4),
    };
    strokes.saturating_add(least)..=strokes.saturating_add(most)
}
