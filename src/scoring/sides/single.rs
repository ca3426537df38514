//! A player alone: the ball is the side.

use super::{BallValue, Better, Partners, SideValue, best};

pub(super) struct Single;

impl Partners for Single {
    fn side(&self, balls: &[BallValue], better: Better) -> SideValue {
        best(balls, 1, better)
    }

    fn needs(&self) -> &'static str {
        "the player's gross score"
    }
}
