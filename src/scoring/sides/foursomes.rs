//! Foursomes: one ball, alternate strokes, alternate tee shots (Rules of Golf 22, 2023).

use super::{BallValue, Better, Partners, SideValue, best};

pub(super) struct Foursomes;

impl Partners for Foursomes {
    fn side(&self, balls: &[BallValue], better: Better) -> SideValue {
        best(balls, 1, better)
    }

    fn needs(&self) -> &'static str {
        "the side's gross score with its one ball"
    }

    /// By holes played, not by the number of the hole: the partner who began plays every other tee (22.3).
    fn on_the_tee(&self, at: usize) -> Option<usize> {
        Some(at % 2)
    }
}
