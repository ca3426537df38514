//! Greensomes and Chapman: both partners drive, then one ball (common practice; handicaps by Appendix C).

use super::{BallValue, Better, Partners, SideValue, best};

pub(super) struct Greensomes;

impl Partners for Greensomes {
    fn side(&self, balls: &[BallValue], better: Better) -> SideValue {
        best(balls, 1, better)
    }

    fn needs(&self) -> &'static str {
        "the side's gross score with the drive it chose, the other partner playing next"
    }
}

pub(super) struct Chapman;

impl Partners for Chapman {
    fn side(&self, balls: &[BallValue], better: Better) -> SideValue {
        best(balls, 1, better)
    }

    fn needs(&self) -> &'static str {
        "the side's gross score with the ball it chose after both second strokes"
    }
}
