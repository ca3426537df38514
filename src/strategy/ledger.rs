//! How the mean of a play becomes its cost: strokes to come, or value lost.

use super::eval::Tally;

/// A play that more often than this has to be made again is no play.
pub const MOST_AGAIN: f32 = 0.9;

/// How a tally is accounted. Lower is better.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Ledger {
    /// Strokes to come; a play made again is worth what it is worth, in closed form.
    Strokes,
    /// A value by strokes taken, with its sign changed.
    Table {
        /// Cost of the same place with a penalty stroke more.
        again: f32,
        /// Cost of the same place.
        stay: f32,
    },
}

impl Ledger {
    /// The cost of a play.
    #[inline]
    pub fn cost(self, tally: Tally) -> f32 {
        if tally.sum.is_nan() {
            return f32::INFINITY;
        }
        match self {
            Self::Strokes => {
                let repeated = tally.again + tally.stay;
                if repeated > MOST_AGAIN {
                    return f32::INFINITY;
                }
                (1.0 + tally.sum + tally.again) / (1.0 - repeated)
            }
            Self::Table { again, stay } => tally.sum + tally.again * again + tally.stay * stay,
        }
    }
}
