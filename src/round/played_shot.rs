//! Shots as a player logs them: club, lie, where they finished, putts. Every part may be missing; nothing is guessed here.
//!
//! Lengths are whole tenths of a yard (putts: of a foot), so that what was logged is compared and undone exactly.

use serde::{Deserialize, Serialize};

/// The most strokes with a club that a hole's log takes, putts aside.
pub const MOST_SHOTS: usize = 30;
/// The longest name of a club in a log.
pub const LONGEST_CLUB: usize = 40;

/// How a ball lay, in the words of the trade.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum ShotLie {
    /// On the tee.
    Tee,
    /// Fairway or fringe.
    Fairway,
    /// Rough.
    Rough,
    /// Long grass.
    Deep,
    /// Waste ground.
    Waste,
    /// A bunker.
    Sand,
    /// Under trees.
    Trees,
    /// The putting green.
    Green,
}

impl ShotLie {
    /// All of them.
    pub const ALL: [Self; 8] =
        [Self::Tee, Self::Fairway, Self::Rough, Self::Deep, Self::Waste, Self::Sand, Self::Trees, Self::Green];

    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Tee => "tee",
            Self::Fairway => "fairway",
            Self::Rough => "rough",
            Self::Deep => "deep",
            Self::Waste => "waste",
            Self::Sand => "sand",
            Self::Trees => "trees",
            Self::Green => "green",
        }
    }

    /// Its letter in a line of shots.
    pub const fn letter(self) -> &'static str {
        match self {
            Self::Tee => "tee",
            Self::Fairway => "f",
            Self::Rough => "r",
            Self::Deep => "deep",
            Self::Waste => "waste",
            Self::Sand => "s",
            Self::Trees => "t",
            Self::Green => "g",
        }
    }
}

/// Why a stroke cost one more.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Penalty {
    /// Relief from a penalty area.
    Water,
    /// Out of bounds or lost: stroke and distance.
    Out,
    /// Unplayable.
    Unplayable,
}

/// Short or long of what was aimed at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum ShortLong {
    /// Short.
    Short,
    /// Long.
    Long,
}

/// Left or right of what was aimed at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum LeftRight {
    /// Left.
    Left,
    /// Right.
    Right,
}

/// A place on the ribbon, counted from the start of the hole line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct Spot {
    /// Along the line, tenths of a yard.
    pub at: i32,
    /// Beside it, right positive, tenths of a yard.
    pub across: i32,
}

/// One stroke with a club other than a putt on the green.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct PlayedShot {
    /// The club.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub club: Option<String>,
    /// How the ball lay; none is by the ground where it was.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lie: Option<ShotLie>,
    /// Where it was aimed to finish.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub aim: Option<Spot>,
    /// Where it finished, on the ribbon.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spot: Option<Spot>,
    /// What it left to the hole, tenths of a yard.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left: Option<u32>,
    /// How far beside the hole line it finished, right positive, tenths of a yard; with `left` it makes a place.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub beside: Option<i32>,
    /// Short or long of what was aimed at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<ShortLong>,
    /// Left or right of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub side: Option<LeftRight>,
    /// What it finished in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub into: Option<ShotLie>,
    /// Why it cost one more.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub penalty: Option<Penalty>,
    /// It was holed.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub holed: bool,
}

/// The putts of a hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct PuttsTaken {
    /// How many.
    pub count: u8,
    /// The length of the first, tenths of a foot.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub first_ft: Option<u16>,
}

/// What was logged of one hole of one player.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct HoleShots {
    /// The shots in order, putts aside.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub shots: Vec<PlayedShot>,
    /// The putts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub putts: Option<PuttsTaken>,
}

impl HoleShots {
    /// Whether nothing was logged.
    pub fn is_empty(&self) -> bool {
        self.shots.is_empty() && self.putts.is_none()
    }

    /// Penalty strokes in it.
    pub fn penalties(&self) -> usize {
        self.shots.iter().filter(|s| s.penalty.is_some()).count()
    }

    /// Strokes in it, penalties and putts included.
    pub fn strokes(&self) -> usize {
        self.shots.len() + self.penalties() + self.putts.map_or(0, |p| usize::from(p.count))
    }

    /// Whether it tells of the whole hole: it ends in the hole.
    pub fn holed_out(&self) -> bool {
        self.putts.is_some_and(|p| p.count > 0) || self.shots.last().is_some_and(|s| s.holed)
    }

    /// What cannot have been, in a sentence; `None` when it could.
    pub fn impossible(&self) -> Option<String> {
        if self.shots.len() > MOST_SHOTS {
            return Some(format!("a hole takes at most {MOST_SHOTS} shots here"));
        }
        let last = self.shots.len().saturating_sub(1);
        for (i, shot) in self.shots.iter().enumerate() {
            let n = i + 1;
            if shot.club.as_ref().is_some_and(|c| c.chars().count() > LONGEST_CLUB) {
                return Some(format!("shot {n}: the name of a club has at most {LONGEST_CLUB} characters"));
            }
            if shot.left.is_some_and(|l| l > 9_000) {
                return Some(format!("shot {n}: nothing is left 900 yards from the hole"));
            }
            if shot.beside.is_some_and(|b| b.abs() > 4_000) {
                return Some(format!("shot {n}: 400 yards beside the line is another hole"));
            }
            if shot.spot.is_some_and(|s| !(-2_000..=9_000).contains(&s.at) || s.across.abs() > 4_000) {
                return Some(format!("shot {n}: that place is not on this hole"));
            }
            if shot.holed && (i < last || self.putts.is_some_and(|p| p.count > 0)) {
                return Some(format!("shot {n} was holed, so nothing comes after it"));
            }
            if shot.holed && shot.penalty.is_some() {
                return Some(format!("shot {n} was holed and cannot cost a penalty"));
            }
            if shot.lie == Some(ShotLie::Tee) && i > 0 && !self.shots.get(i - 1).is_some_and(distance) {
                return Some(format!("shot {n} is from the tee, and the one before it was in play"));
            }
        }
        let putts = self.putts?;
        if putts.count > 15 {
            return Some("more than 15 putts are not believed".to_owned());
        }
        if putts.first_ft.is_some_and(|ft| ft > 2_500) {
            return Some("a first putt of more than 250 feet is not believed".to_owned());
        }
        None
    }
}

fn distance(shot: &PlayedShot) -> bool {
    shot.penalty.is_some()
}
