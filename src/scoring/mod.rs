//! One card: gross, net, points, match state; one format a file.
//!
//! Takes only par, strokes received and the score by hole. Gross by hole is what was played and certified; everything
//! else is computed from it and can always be computed again.

mod hole;
mod running;

pub use hole::{CardHole, HoleScore, HoleScoreError, net, net_double_bogey, stableford_points};
pub use running::{Running, running};
