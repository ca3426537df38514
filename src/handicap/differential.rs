//! Score Differentials of eighteen and nine holes.

use super::Holes;
use crate::units::tenths::{Exact, FigureError, HandicapIndex, SlopeRating, Tenths};

/// The playing conditions calculation of a day, −1.0 to +3.0; published by the authority, never computed here.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Pcc(Tenths);

/// A text that is no playing conditions calculation.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum PccError {
    /// Not a figure.
    #[error(transparent)]
    Figure(#[from] FigureError),
    /// Out of bounds.
    #[error("`{0}`: the playing conditions calculation is from -1 to 3")]
    OutOfRange(String),
}

impl Pcc {
    /// From its value, `None` outside −1.0 to +3.0.
    pub fn new(value: Tenths) -> Option<Pcc> {
        (Tenths::new(-10)..=Tenths::new(30)).contains(&value).then_some(Pcc(value))
    }

    /// Reads `-1`, `0`, `+2`, `1.0`.
    ///
    /// # Errors
    /// [`PccError`] outside −1 to 3 or when not a figure.
    pub fn parse(text: &str) -> Result<Pcc, PccError> {
        let trimmed = text.trim();
        let value = Tenths::parse(trimmed.strip_prefix('+').unwrap_or(trimmed))?;
        Pcc::new(value).ok_or_else(|| PccError::OutOfRange(trimmed.to_owned()))
    }

    /// The value.
    pub const fn value(self) -> Tenths {
        self.0
    }
}

/// A Score Differential before and after rounding.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Differential {
    /// The exact value: of 18 holes, or of nine alone.
    pub unrounded: Exact,
    /// To a tenth; `None` for nine holes, whose differential is not rounded before it is made one of 18.
    pub value: Option<Tenths>,
}

/// The Score Differential of an adjusted gross score.
///
/// # References
/// Rules of Handicapping 5.1a: `113 / slope × (adjusted gross − rating − PCC)`, to a tenth; 5.1b: with half the PCC for
/// nine holes, not rounded.
pub fn score_differential(
    adjusted_gross: i32,
    rating: Tenths,
    slope: SlopeRating,
    pcc: Pcc,
    holes: Holes,
) -> Differential {
    let above = Exact::whole(i64::from(adjusted_gross)) - rating.exact();
    let correction = pcc.value().exact();
    match holes {
        Holes::Eighteen => {
            let unrounded = slope.standard_over() * (above - correction);
            Differential { unrounded, value: Some(unrounded.to_tenths()) }
        }
        Holes::Nine => Differential { unrounded: slope.standard_over() * (above - correction.halved()), value: None },
    }
}

/// Two nine-hole differentials as one of 18, added unrounded and rounded once (5.1b, 2020 text).
pub fn combined_nines(first: Exact, second: Exact) -> Exact {
    first + second
}

/// **Estimate** of the expected differential of the nine holes not played, `0.52 × index + 1.197`.
///
/// No association prints the formula: this is a fit known from memory (M). Never show it as official; let the official
/// differential be typed instead.
pub fn estimated_expected_nine(index: HandicapIndex) -> Exact {
    Exact::hundredths(52) * index.value().exact() + Exact::thousandths(1197)
}

/// The most strokes on a tee whose differential is no higher than `wanted`.
pub fn adjusted_gross_for(wanted: Tenths, rating: Tenths, slope: SlopeRating, pcc: Pcc) -> i32 {
    let near =
        (wanted.exact() * slope.over_standard() + rating.exact() + pcc.value().exact()).to_whole().saturating_add(1);
    // Rounding to a tenth moves the answer by at most one stroke around the exact inverse.
    (near - 3..=near)
        .rev()
        .find(|&gross| {
            score_differential(gross, rating, slope, pcc, Holes::Eighteen).value.is_some_and(|value| value <= wanted)
        })
        .unwrap_or(near - 3)
}
