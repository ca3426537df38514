//! Four-ball: the better ball of two partners (Rules of Golf 23, 2023).

use super::{BallValue, Better, Partners, SideValue, best};

pub(super) struct FourBall;

impl Partners for FourBall {
    /// The lower counts; one is enough, the other may be left out (23.2a, 23.2b).
    fn side(&self, balls: &[BallValue], better: Better) -> SideValue {
        best(balls, 1, better)
    }

    fn needs(&self) -> &'static str {
        "one partner's gross score, written to the partner who made it; the other may be left out"
    }
}
