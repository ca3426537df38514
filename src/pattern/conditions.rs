//! What air, wind and height do to a shot, asked by place and direction.

use super::Swing;
use crate::ground::Point;

/// What a shot becomes. All ones and zero: nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// The carry is multiplied by this.
    pub carry: f64,
    /// The run is multiplied by this.
    pub run: f64,
    /// The scatter along the line is multiplied by this.
    pub along: f64,
    /// The scatter across the line is multiplied by this.
    pub across: f64,
    /// How far right the ball is taken, in yards; it is aimed off for, as a curve is.
    pub drift: f64,
}

impl Change {
    /// No change.
    pub const NONE: Self = Self { carry: 1.0, run: 1.0, along: 1.0, across: 1.0, drift: 0.0 };
}

/// The conditions of the day and the lie of the land. Asked once for each play considered, so an answer should cost well under a
/// microsecond (a table by swing and direction, say).
pub trait Conditions: Sync {
    /// What becomes of `swing` played from `from` towards `direction` (radians clockwise from the plane's `ahead`).
    fn change(&self, swing: &Swing, from: Point, direction: f64) -> Change;

    /// Whether nothing ever changes, so that nobody need ask.
    fn still(&self) -> bool {
        false
    }
}

/// Still air on level ground.
#[derive(Clone, Copy, Debug, Default)]
pub struct Still;

impl Conditions for Still {
    fn change(&self, _: &Swing, _: Point, _: f64) -> Change {
        Change::NONE
    }

    fn still(&self) -> bool {
        true
    }
}
