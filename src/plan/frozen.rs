//! A plan frozen before a round: the whole of it, for every player and hole, never worked out again.

use super::HolePlan;
use serde::{Deserialize, Serialize};

/// The kind of file.
pub const FROZEN_FORMAT: &str = "frozen-plan/1";

/// The plan of one hole for one player.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct FrozenHole {
    /// Index of the player in the round.
    pub player: usize,
    /// Index of the hole in playing order.
    pub position: usize,
    /// The plan.
    pub plan: HolePlan,
}

/// All plans of a round as they stood when they were frozen.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Frozen {
    /// [`FROZEN_FORMAT`].
    pub format: String,
    /// When it was frozen, as the computer's clock said.
    pub at: String,
    /// The course's name.
    pub course: String,
    /// The plans.
    pub holes: Vec<FrozenHole>,
}

impl Frozen {
    /// The plan for a player on a hole.
    pub fn hole(&self, player: usize, position: usize) -> Option<&HolePlan> {
        self.holes.iter().find(|h| h.player == player && h.position == position).map(|h| &h.plan)
    }
}
