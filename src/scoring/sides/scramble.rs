//! Scramble: all play from the place of the ball chosen, one score (common practice; handicaps by Appendix C).

use super::{BallValue, Better, Partners, SideValue, best};

pub(super) struct Scramble;

impl Partners for Scramble {
    fn side(&self, balls: &[BallValue], better: Better) -> SideValue {
        best(balls, 1, better)
    }

    fn needs(&self) -> &'static str {
        "the team's one gross score"
    }
}
