//! Handicap allowances: the recommended table, each entry overridable by the Terms of the Competition.

use super::{Play, Scoring, Sides};
use crate::units::tenths::Exact;
use std::fmt;

/// A handicap allowance, 0 to 100 per cent.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Percent(u8);

impl Percent {
    /// The whole handicap.
    pub const FULL: Percent = Percent(100);

    /// An allowance, `None` above 100.
    pub const fn new(value: u8) -> Option<Percent> {
        if value <= 100 { Some(Percent(value)) } else { None }
    }

    /// Reads `95` or `95%`.
    ///
    /// # Errors
    /// [`PercentError`] when not a whole number from 0 to 100.
    pub fn parse(text: &str) -> Result<Percent, PercentError> {
        let trimmed = text.trim();
        let digits = trimmed.strip_suffix('%').unwrap_or(trimmed).trim_end();
        Some(digits)
            .filter(|digits| digits.bytes().all(|b| b.is_ascii_digit()))
            .and_then(|digits| digits.parse().ok())
            .and_then(Percent::new)
            .ok_or_else(|| PercentError(trimmed.to_owned()))
    }

    /// The number of per cent.
    pub const fn value(self) -> u8 {
        self.0
    }

    /// As a ratio.
    pub fn exact(self) -> Exact {
        Exact::hundredths(i64::from(self.0))
    }
}

impl fmt::Display for Percent {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} %", self.0)
    }
}

/// A text that is no allowance.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}`: a handicap allowance is a whole number of per cent from 0 to 100")]
pub struct PercentError(pub String);

/// How the players' Course Handicaps become what is played off.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Allowance {
    /// Each player's own, so many per cent.
    Each(Percent),
    /// So many per cent of the partners' sum.
    Combined(Percent),
    /// Shares from the lowest Course Handicap to the highest, added.
    LowToHigh(Vec<Percent>),
}

impl fmt::Display for Allowance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Allowance::Each(percent) => percent.fmt(f),
            Allowance::Combined(percent) => write!(f, "{percent} of the sum"),
            Allowance::LowToHigh(shares) => {
                for (place, share) in shares.iter().enumerate() {
                    if place > 0 {
                        f.write_str("-")?;
                    }
                    write!(f, "{}", share.value())?;
                }
                f.write_str(" % low to high")
            }
        }
    }
}

/// The recommended allowance of a format.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recommended {
    /// The allowance.
    pub allowance: Allowance,
    /// True where the lowest plays off nought and the others receive the difference.
    pub off_the_lowest: bool,
    /// False where the table has no such format and the nearest one's figure is taken.
    pub in_the_table: bool,
}

/// The recommended allowance of a format.
///
/// Formats that the table does not name take the figure of the same sides at stroke play.
///
/// # References
/// Rules of Handicapping, Appendix C (2024, USGA text).
pub fn recommended(play: Play) -> Recommended {
    let percent = |value| Percent::new(value).unwrap_or(Percent::FULL);
    let shares = |values: &[u8]| Allowance::LowToHigh(values.iter().copied().map(percent).collect());
    let each = |value| Allowance::Each(percent(value));
    let is_match = play.scoring == Scoring::Match;
    let par_bogey = play.scoring == Scoring::ParBogey;
    let (allowance, in_the_table) = match play.sides {
        Sides::Individual => (each(if is_match { 100 } else { 95 }), true),
        Sides::FourBall => (each(if is_match || par_bogey { 90 } else { 85 }), play.scoring != Scoring::Maximum),
        Sides::Foursomes => (Allowance::Combined(percent(50)), true),
        Sides::Greensomes | Sides::Chapman => (shares(&[60, 40]), true),
        Sides::Scramble(2) => (shares(&[35, 15]), true),
        Sides::Scramble(3) => (shares(&[30, 20, 10]), true),
        Sides::Scramble(_) => (shares(&[25, 20, 15, 10]), true),
        Sides::BestOfFour(count) => (
            each(match (count, par_bogey) {
                (1, _) => 75,
                (2, true) => 80,
                (2, false) => 85,
                (3, true) => 90,
                _ => 100,
            }),
            matches!(play.scoring, Scoring::Stroke | Scoring::ParBogey),
        ),
        Sides::TotalOfTwo => (each(100), is_match),
    };
    Recommended { allowance, off_the_lowest: is_match, in_the_table }
}
