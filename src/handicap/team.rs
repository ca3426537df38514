//! Handicaps of a side with one ball, and the strokes of a match from the lowest.

use super::{Allowance, CourseHandicap, Rules};
use crate::units::tenths::Exact;

/// The handicap of a side, plus handicaps negative.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TeamHandicap {
    unrounded: Exact,
    value: i32,
}

impl TeamHandicap {
    /// The sum of the players' parts before rounding.
    pub const fn unrounded(self) -> Exact {
        self.unrounded
    }

    /// The whole handicap of the side.
    pub const fn value(self) -> i32 {
        self.value
    }
}

/// Why a side's handicap cannot be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TeamError {
    /// The shares are for another number of players.
    #[error("the allowance is for {wanted} players, the side has {found}")]
    Players {
        /// Players the shares are for.
        wanted: usize,
        /// Players of the side.
        found: usize,
    },
    /// Each player keeps their own handicap in this format.
    #[error("in this format each player has their own Playing Handicap, the side has none")]
    OwnHandicaps,
}

/// The handicap of a side that plays one ball, from its players' Course Handicaps in any order.
///
/// Low and high rank by Course Handicap, so a player better than scratch is the lowest and lowers the side's.
///
/// # Errors
/// [`TeamError`] when the shares do not fit the number of players, or the format gives each player their own.
///
/// # References
/// Rules of Handicapping 6.2 and Appendix C (2024): unrounded products are added and rounded once, unless
/// [`Rules::round_team_parts`].
pub fn team_handicap(
    allowance: &Allowance,
    players: &[CourseHandicap],
    rules: &Rules,
) -> Result<TeamHandicap, TeamError> {
    let mut from_low: Vec<Exact> = players.iter().map(|player| player.for_allowance(rules)).collect();
    from_low.sort();
    let parts: Vec<Exact> = match allowance {
        Allowance::Each(_) => return Err(TeamError::OwnHandicaps),
        Allowance::Combined(percent) => from_low.iter().map(|&own| own * percent.exact()).collect(),
        Allowance::LowToHigh(shares) => {
            if shares.len() != from_low.len() {
                return Err(TeamError::Players { wanted: shares.len(), found: from_low.len() });
            }
            from_low.iter().zip(shares).map(|(&own, share)| own * share.exact()).collect()
        }
    };
    let unrounded: Exact = parts.iter().copied().sum();
    let value =
        if rules.round_team_parts { parts.iter().map(|part| part.to_whole()).sum() } else { unrounded.to_whole() };
    Ok(TeamHandicap { unrounded, value })
}

/// Strokes of a match: the lowest Playing Handicap plays off nought, the others receive the difference of the rounded
/// Playing Handicaps (Appendix C 2024: "after handicap allowances have been applied").
pub fn match_strokes(playing: &[i32]) -> Vec<i32> {
    let lowest = playing.iter().copied().min().unwrap_or(0);
    playing.iter().map(|own| own - lowest).collect()
}
