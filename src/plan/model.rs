//! The plan of one hole as values.

use super::Aimed;
use crate::units::{Across, FromTee};
use serde::{Deserialize, Serialize};

/// The name of a play (product.md, vocabulary).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum PlayName {
    /// The least spread of the hole score among plays worth the same; the recommendation.
    Steady,
    /// The most reach of the first shot among them.
    Bold,
    /// Steady and bold are one.
    Equal,
}

impl PlayName {
    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Steady => "steady",
            Self::Bold => "bold",
            Self::Equal => "equal",
        }
    }
}

/// One shot of a play.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Shot {
    /// The club or part swing.
    pub club: String,
    /// Where it is aimed to finish, from the player's tee along the line.
    pub at: FromTee,
    /// And beside the line.
    pub across: Across,
    /// The line in words.
    pub words: String,
    /// Its carry, yards.
    pub carry: f64,
    /// What it leaves to the hole when it finishes as meant, yards.
    pub leaves: f64,
}

/// One way to play the hole.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Play {
    /// Steady, bold, or both in one.
    pub name: PlayName,
    /// The shots until the green is meant to be reached, when each finishes as meant.
    pub shots: Vec<Shot>,
    /// Mean strokes on the hole.
    pub expected_strokes: f64,
    /// The difference of its value from the recommended play's, in the unit of what is aimed for.
    pub worth: f64,
    /// `chances[n]` is the chance of holing out in `n` strokes.
    pub chances: Vec<f64>,
    /// Two or three sentences.
    pub reasons: Vec<String>,
}

/// What a danger costs (product.md: expected strokes as it is less those with that ground turned to rough, both re-planned
/// for fewest strokes; prices do not add up).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Price {
    /// Which piece of ground, by index of the feature.
    pub feature: usize,
    /// Strokes; never below 0.
    pub strokes: f64,
    /// The chance that a ball of this plan finishes in it at least once.
    pub chance: f64,
}

/// What missing the aim costs, by side.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct SideCost {
    /// Strokes more when the first shot finishes 15 yards left of its aim.
    pub left: f64,
    /// And right.
    pub right: f64,
}

/// Strokes to come from a place along the hole line.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct AlongHere {
    /// The place, from the player's tee.
    pub at: FromTee,
    /// Strokes to come from there, by the ground that lies there.
    pub strokes: f64,
}

/// What a professional wrote as the aim from the tee, against the plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Professional {
    /// The aim as it is written.
    pub aim: String,
    /// Whose layer it comes from; `None` is the notebook itself.
    pub whose: Option<String>,
    /// The club that suits that line best.
    pub club: String,
    /// What the line costs against the best play, in the unit of what is aimed for; never below 0.
    pub costs: f64,
}

/// A condition and what to play then.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Switch {
    /// `hole at the back`, `needing one point`.
    pub when: String,
    /// The play in a few words.
    pub play: String,
}

/// The plan of one hole.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct HolePlan {
    /// What it is for.
    pub aimed: Aimed,
    /// Par on the player's card.
    pub par: u8,
    /// Strokes received.
    pub strokes_received: i32,
    /// The plays, the recommended first.
    pub plays: Vec<Play>,
    /// Dangers by price, the dearest first; empty while they are being worked out.
    pub prices: Vec<Price>,
    /// Which side not to miss.
    pub sides: Option<SideCost>,
    /// What would change the play.
    pub switches: Vec<Switch>,
    /// What the player should be told: no club reaches, clubs assumed.
    pub remarks: Vec<String>,
    /// Strokes to come along the hole line, from the tee on.
    #[serde(default)]
    pub along: Vec<AlongHere>,
    /// The written aim from the tee, where it differs from the plan's by more than 0.05.
    #[serde(default)]
    pub professional: Option<Professional>,
}

impl HolePlan {
    /// The chances of the recommended play.
    pub fn chances(&self) -> &[f64] {
        self.plays.first().map_or(&[], |p| p.chances.as_slice())
    }

    /// The chance of a gross score of at most `score` by the recommended play.
    pub fn chance_at_most(&self, score: i32) -> f64 {
        let n = usize::try_from(score + 1).unwrap_or(0);
        self.chances().iter().take(n).sum()
    }

    /// The chance of net par or better.
    pub fn net_par(&self) -> f64 {
        self.chance_at_most(i32::from(self.par) + self.strokes_received)
    }

    /// The chance of net birdie or better.
    pub fn net_birdie(&self) -> f64 {
        self.chance_at_most(i32::from(self.par) + self.strokes_received - 1)
    }

    /// Mean Stableford points of the recommended play.
    pub fn points(&self) -> f64 {
        self.chances()
            .iter()
            .zip(0..)
            .map(|(p, n)| {
                p * f64::from(crate::scoring::stableford_points(i32::from(self.par), self.strokes_received, Some(n)))
            })
            .sum()
    }
}
