//! A hole as the solver takes it.

use super::{GreenValue, Kit, Lies};
use crate::ground::Point;
use crate::pattern::Conditions;

/// One hole, one player, one day. Places are those of the plane of [`crate::ground`], in yards.
#[derive(Clone, Copy)]
pub struct Hole<'a> {
    /// Where each kind of ground lies.
    pub lies: &'a dyn Lies,
    /// Where the player tees off.
    pub tee: Point,
    /// Where the hole is cut.
    pub pin: Point,
    /// The hole line: its start, its bends, the middle of the green.
    pub line: &'a [Point],
    /// What a ball on the green is worth.
    pub green: &'a dyn GreenValue,
    /// The player's swings, laid out in points.
    pub kit: &'a Kit,
    /// Air, wind and height.
    pub conditions: &'a dyn Conditions,
    /// How finely to work.
    pub fineness: Fineness,
}

/// How finely values are held and shots are scattered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fineness {
    /// Yards between places whose value is held, near the hole; twice and four times that farther away.
    pub grid: f64,
    /// Points of an ordinary shot while plays are weighed against each other.
    pub weigh: usize,
    /// Points of an ordinary shot for the values themselves.
    pub value: usize,
    /// Points of an ordinary shot for the plays shown to a person.
    pub shown: usize,
}

impl Fineness {
    /// The usual one.
    pub const USUAL: Self = Self { grid: 6.0, weigh: 64, value: 128, shown: 512 };
    /// For prices and switch lines: differences of values that share their error.
    pub const COARSE: Self = Self { grid: 8.0, weigh: 32, value: 64, shown: 256 };
}
