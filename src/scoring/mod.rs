//! One card: gross, net, points, match state; one format a file.
//!
//! Takes only par, strokes received and the score by hole. Gross by hole is what was played and certified; everything
//! else is computed from it and can always be computed again. A format is how sides are made (`sides/`, one kind a file)
//! and what is counted (`stroke`, `stableford`, `par_bogey`, `maximum`, `match_play`).
//!
//! ```
//! use marram::handicap::{Play, Scoring};
//! use marram::scoring::{Ball, CardHole, HoleScore, Side, Terms, format};
//!
//! let holes = (1..=18_u8).map(|number| CardHole {
//!     number,
//!     par: 4,
//!     strokes: i32::from(number <= 9),
//!     score: if number <= 16 { HoleScore::Gross(5) } else { HoleScore::Empty },
//! });
//! let side = Side::new(vec![Ball { holes: holes.collect() }]);
//! let stableford = format(Play::individual(Scoring::Stableford), Terms::net(18))?;
//! assert_eq!(stableford.words(&[side.clone()], 0, 18), "25 points after 16, 7 fewer than two a hole");
//! assert_eq!(stableford.chase(&[side], 0, 29).as_deref(), Some("needs 4 points from the last two for 29"));
//! # Ok::<(), marram::scoring::TermsError>(())
//! ```

mod format;
mod hole;
mod match_play;
mod maximum;
mod par_bogey;
mod running;
mod sides;
mod stableford;
mod stroke;
mod tally;

pub use format::{Ball, CardError, Count, Format, HoleResult, HoleValue, Side, Standing, Terms};
pub use hole::{CardHole, HoleScore, HoleScoreError, net, net_double_bogey, stableford_points};
pub use maximum::{MaximumError, MaximumScore};
pub use running::{Running, running};

use crate::handicap::{Play, Scoring};

/// Terms that a format cannot be played by.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TermsError {
    /// Maximum Score without its maximum.
    #[error(
        "Maximum Score needs its maximum: a number of strokes, `par + 5`, `twice par`, `net double bogey`, or a limit \
         for each hole"
    )]
    NoMaximum,
    /// A limit for each hole, of another number of holes.
    #[error("the maximum has a limit for {found} holes; the round has {holes}")]
    MaximumHoles {
        /// Holes of the round.
        holes: usize,
        /// Limits given.
        found: usize,
    },
    /// A round without holes.
    #[error("a round needs at least one hole")]
    NoHoles,
}

/// The rules of a format under these Terms.
///
/// # Errors
/// [`TermsError`] where the Terms leave out what the format needs.
pub fn format(play: Play, terms: Terms) -> Result<Box<dyn Format>, TermsError> {
    if terms.holes == 0 {
        return Err(TermsError::NoHoles);
    }
    let partners = sides::partners(play.sides);
    let unit: Box<dyn tally::Unit> = match play.scoring {
        Scoring::Match => return Ok(Box::new(match_play::MatchPlay { play, terms, partners })),
        Scoring::Stroke => Box::new(stroke::Stroke),
        Scoring::Stableford => Box::new(stableford::Stableford),
        Scoring::ParBogey => Box::new(par_bogey::ParBogey),
        Scoring::Maximum => {
            let limit = terms.maximum.clone().ok_or(TermsError::NoMaximum)?;
            match &limit {
                MaximumScore::ByHole(limits) if limits.len() < terms.holes => {
                    return Err(TermsError::MaximumHoles { holes: terms.holes, found: limits.len() });
                }
                _ => Box::new(maximum::Maximum { limit }),
            }
        }
    };
    Ok(Box::new(tally::Tally { play, terms, unit, partners }))
}
