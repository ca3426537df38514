//! What a lie does to a shot: how far it can be sent, how wide it scatters, how often it is mishit.
//!
//! # References
//! Reference on strategy, section 5 ("reach", "lie multiplier") and 2.3: tee and fairway fitted, rough fitted for the tour and assumed for
//! amateurs, sand an assumed shape fitted to the tour's table. Deep, waste and the faces of bunkers are this program's own, said in docs/model.md.

use super::Skill;

/// How a ball lies before a stroke. On the green it is putted, see [`super::putts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[repr(u8)]
pub enum Lie {
    /// On a tee.
    Tee = 0,
    /// Fairway, fringe or another tee's grass.
    Fairway = 1,
    /// Rough.
    Rough = 2,
    /// Long grass, heather, gorse.
    Deep = 3,
    /// Waste ground.
    Waste = 4,
    /// A bunker with a low face.
    ShallowSand = 5,
    /// An ordinary bunker.
    Sand = 6,
    /// A bunker with a high face.
    SteepSand = 7,
    /// Under trees.
    Trees = 8,
}

impl Lie {
    /// Every lie, in the order of its number.
    pub const ALL: [Self; 9] = [
        Self::Tee,
        Self::Fairway,
        Self::Rough,
        Self::Deep,
        Self::Waste,
        Self::ShallowSand,
        Self::Sand,
        Self::SteepSand,
        Self::Trees,
    ];

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Tee => "tee",
            Self::Fairway => "fairway",
            Self::Rough => "rough",
            Self::Deep => "deep",
            Self::Waste => "waste",
            Self::ShallowSand => "shallow sand",
            Self::Sand => "sand",
            Self::SteepSand => "steep sand",
            Self::Trees => "trees",
        }
    }
}

/// Which set of laws holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Model {
    /// The calibrated model as it is printed: total distances, no run, trees as a stroke back to the fairway.
    Printed,
    /// The same on real ground: carry and run apart, deep grass, faces of bunkers, trees that stop and block.
    Ground,
}

/// How far a swing can be sent from a lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// The longest swing that can be made, as a share of the drive.
    pub swing: f64,
    /// The share of its length that is kept.
    pub kept: f64,
}

/// How far the longest swing of `lie` goes.
pub fn reach(lie: Lie, skill: &Skill, model: Model) -> Reach {
    let (swing, kept) = match lie {
        Lie::Tee => (1.0, 1.0),
        Lie::Fairway => (skill.fairway_reach, 1.0),
        Lie::Rough => (0.82, skill.rough_length),
        Lie::Deep => (0.44, 0.75),
        Lie::Waste => (0.82, 0.92),
        Lie::ShallowSand => (0.82, 0.90),
        Lie::Sand => match model {
            Model::Printed => (0.72, 0.90),
            Model::Ground => (0.62, 0.90),
        },
        Lie::SteepSand => (0.35, 0.80),
        Lie::Trees => (0.38, 1.0),
    };
    Reach { swing, kept }
}

/// By how much `lie` widens a shot of `total` yards, against a perfect lie.
pub fn widening(lie: Lie, skill: &Skill, total: f64) -> f64 {
    let long = ((total / skill.drive - 0.55) / 0.35).clamp(0.0, 1.0);
    let fairway = 1.0 + (skill.fairway_spread - 1.0) * long;
    match lie {
        Lie::Tee => 1.046,
        Lie::Fairway => fairway,
        Lie::Rough => skill.rough_spread,
        Lie::Deep => 1.5 * skill.rough_spread,
        Lie::Waste => 1.1 * skill.rough_spread,
        Lie::ShallowSand => 0.9 * sand(total),
        Lie::Sand => sand(total),
        Lie::SteepSand => 1.3 * sand(total),
        Lie::Trees => 1.4,
    }
}

/// Worst for the long bunker shot: 40 to 100 yards, as the tour's table shows.
fn sand(total: f64) -> f64 {
    let rise = ((total - 30.0) / 30.0).clamp(0.0, 1.0);
    let fall = ((150.0 - total) / 70.0).clamp(0.0, 1.0);
    1.75 + SAND_WORST * rise.min(fall)
}

const SAND_WORST: f64 = 0.95;

/// By how much `lie` multiplies the chance of a mishit.
pub fn mishit_factor(lie: Lie) -> f64 {
    match lie {
        Lie::Tee | Lie::Fairway => 1.0,
        Lie::Rough | Lie::Waste | Lie::ShallowSand | Lie::Sand => 2.0,
        Lie::Deep | Lie::SteepSand | Lie::Trees => 3.0,
    }
}
