//! Total of two: both partners' scores added on each hole (common practice; handicaps by Appendix C).

use super::{BallValue, Better, Partners, SideValue, best};

pub(super) struct TotalOfTwo;

impl Partners for TotalOfTwo {
    fn side(&self, balls: &[BallValue], better: Better) -> SideValue {
        best(balls, 2, better)
    }

    fn needs(&self) -> &'static str {
        "both partners' gross scores"
    }
}
