//! Best 1, 2, 3 or 4 of four scores on each hole (common practice; handicaps by Appendix C).

use super::{BallValue, Better, Partners, SideValue, best};

pub(super) struct BestOfFour(pub(super) usize);

impl Partners for BestOfFour {
    fn side(&self, balls: &[BallValue], better: Better) -> SideValue {
        best(balls, self.0, better)
    }

    fn needs(&self) -> &'static str {
        match self.0 {
            1 => "one gross score of the four, written to the player who made it",
            2 => "two gross scores of the four, written to the players who made them",
            3 => "three gross scores of the four, written to the players who made them",
            _ => "all four gross scores",
        }
    }
}
