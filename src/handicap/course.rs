//! Course Handicap and Playing Handicap from an index and the ratings of a tee.

use super::{Percent, Rules};
use crate::units::tenths::{Exact, HandicapIndex, SlopeRating, Tenths};

/// How many holes a rating is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Holes {
    /// One rated nine.
    Nine,
    /// The whole course.
    Eighteen,
}

impl Holes {
    /// 9 or 18.
    pub const fn count(self) -> usize {
        match self {
            Holes::Nine => 9,
            Holes::Eighteen => 18,
        }
    }

    /// From 9 or 18, `None` otherwise.
    pub const fn of(count: usize) -> Option<Holes> {
        match count {
            9 => Some(Holes::Nine),
            18 => Some(Holes::Eighteen),
            _ => None,
        }
    }
}

/// The ratings of one tee for one card (men's or women's), all of the same holes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TeeRating {
    /// What rating, slope and par are for.
    pub holes: Holes,
    /// Course Rating in strokes.
    pub rating: Tenths,
    /// Slope Rating.
    pub slope: SlopeRating,
    /// Par of those holes.
    pub par: i32,
}

/// A Course Handicap before rounding, plus handicaps negative.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct CourseHandicap(Exact);

/// A Playing Handicap, plus handicaps negative.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlayingHandicap {
    unrounded: Exact,
    par_difference: i32,
}

/// The Course Handicap of an index on a tee.
///
/// Eighteen holes: `index × slope / 113 + (rating − par)`. Nine holes: the halved index is rounded to a tenth first, and
/// rating, slope and par are those of the nine.
///
/// # References
/// Rules of Handicapping 6.1a, 6.1b (2020, 2024); USGA Local Guidance for Rule 6 (the halved index). Great Britain and
/// Ireland left `rating − par` out until April 2024: [`Rules::rating_less_par`].
pub fn course_handicap(index: HandicapIndex, tee: &TeeRating, rules: &Rules) -> CourseHandicap {
    let index = match tee.holes {
        Holes::Eighteen => index.value(),
        Holes::Nine => index.value().exact().halved().to_tenths(),
    };
    let by_slope = index.exact() * tee.slope.over_standard();
    CourseHandicap(if rules.rating_less_par {
        by_slope + tee.rating.exact() - Exact::whole(i64::from(tee.par))
    } else {
        by_slope
    })
}

impl CourseHandicap {
    /// A Course Handicap given as such.
    pub const fn from_exact(value: Exact) -> CourseHandicap {
        CourseHandicap(value)
    }

    /// A whole Course Handicap given as such.
    pub const fn from_whole(value: i32) -> CourseHandicap {
        CourseHandicap(Exact::whole(value as i64))
    }

    /// The full calculated value, which the Playing Handicap is made from.
    pub const fn unrounded(self) -> Exact {
        self.0
    }

    /// The whole Course Handicap, for net double bogey and net par.
    pub fn rounded(self) -> i32 {
        self.0.to_whole()
    }

    /// What an allowance is applied to under `rules`.
    pub fn for_allowance(self, rules: &Rules) -> Exact {
        if rules.round_course_handicap_first { Exact::whole(i64::from(self.rounded())) } else { self.0 }
    }

    /// The Playing Handicap: Course Handicap × allowance, rounded, plus the difference in par.
    ///
    /// # References
    /// Rules of Handicapping 6.2 and Appendix C (2024): the allowance is applied to the unrounded Course Handicap; 6.2b:
    /// the difference in par is added to the Playing Handicap, a whole number after rounding.
    pub fn playing(self, allowance: Percent, par_difference: i32, rules: &Rules) -> PlayingHandicap {
        PlayingHandicap { unrounded: self.for_allowance(rules) * allowance.exact(), par_difference }
    }
}

impl PlayingHandicap {
    /// Course Handicap × allowance, without the difference in par.
    pub const fn unrounded(self) -> Exact {
        self.unrounded
    }

    /// What was added for tees of different par.
    pub const fn par_difference(self) -> i32 {
        self.par_difference
    }

    /// The strokes received (negative: given back).
    pub fn value(self) -> i32 {
        self.unrounded.to_whole().saturating_add(self.par_difference)
    }
}

/// What a player from a tee of `par` adds when the lowest par in the competition is `lowest_par` (Rules of Handicapping
/// 6.2b, USGA FAQ): the difference where gross or net scores decide, nothing where results are stated against par.
pub fn par_difference(play: super::Play, par: i32, lowest_par: i32) -> i32 {
    use super::Scoring;
    match play.scoring {
        Scoring::Stroke | Scoring::Maximum | Scoring::Match => par - lowest_par,
        Scoring::Stableford | Scoring::ParBogey => 0,
    }
}
