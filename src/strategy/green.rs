//! What a ball on the green is worth, asked by position.

use crate::ground::Point;
use crate::pattern::Putts;
use crate::pattern::putts::MOST_PUTTS;

/// Chances of one, two, three … putts from a place on the green.
pub trait GreenValue: Sync {
    /// Chances of holing out in exactly 1, 2 … putts from `at`; they sum to one.
    fn chances(&self, at: Point) -> [f64; MOST_PUTTS];
}

/// A level green: distance to the hole alone decides.
#[derive(Clone, Copy, Debug)]
pub struct LevelGreen<'a> {
    /// The player's putting.
    pub putts: &'a Putts,
    /// Where the hole is.
    pub hole: Point,
}

impl GreenValue for LevelGreen<'_> {
    fn chances(&self, at: Point) -> [f64; MOST_PUTTS] {
        let away = libm::hypot(at.right - self.hole.right, at.ahead - self.hole.ahead);
        self.putts.chances(away)
    }
}
