//! What can happen in a round, as data: the events that its log keeps.

use super::id::RoundId;
use super::played_shot::HoleShots;
pub use crate::course::day::Kind;
use crate::course::model::Card;
use crate::scoring::HoleScore;
use crate::units::digest::Digest;
use serde::{Deserialize, Serialize};

/// The kind of file that a round's log is; its first line carries it.
pub const LOG_FORMAT: &str = "round-log/1";

/// The most players on one card.
pub const MOST_PLAYERS: usize = 4;

/// The most holes of one round: twice round eighteen.
pub const MOST_HOLES: usize = 36;

/// A file as it was when the round referred to it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct FileRef {
    /// Where it was found, as the person or the shelf named it.
    pub file: String,
    /// Its bytes then.
    pub digest: Digest,
}

/// One player of a round, as they stood when it was opened.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Entrant {
    /// The name on the card.
    pub name: String,
    /// The player's file; none for one assumed or typed in.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<FileRef>,
    /// The tee set played, as the notebook names it.
    pub tee: String,
    /// Whose ratings, par and stroke index apply.
    #[serde(with = "card_word")]
    pub card: Card,
    /// The Handicap Index as the trade writes it, `14.6` or `+1.3`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handicap_index: Option<String>,
    /// The Course Handicap, plus handicaps negative.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub course_handicap: Option<i32>,
    /// The Playing Handicap, plus handicaps negative.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub playing_handicap: Option<i32>,
    /// Strokes received on each hole in playing order, given back negative.
    pub strokes: Vec<i32>,
}

/// The opening record of a round: all that the card needs to be entered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Opening {
    /// [`LOG_FORMAT`], or a later one that this program only reads.
    pub format: String,
    /// The round's name and the name of its files.
    pub id: RoundId,
    /// The day it is played, `2026-05-16`.
    pub date: String,
    /// The course's name.
    pub course_name: String,
    /// The course's notebook.
    pub course: FileRef,
    /// Layers of the notebook that were shown with it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub layers: Vec<FileRef>,
    /// The day sheet, when there is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub day: Option<FileRef>,
    /// What it is played for.
    pub kind: Kind,
    /// The golf format, as `stableford`; none for a plain count of strokes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub play: Option<String>,
    /// The handicap allowance in per cent, when one was applied.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub allowance: Option<u16>,
    /// Numbers of the holes in playing order; twice round a nine has each twice.
    pub holes: Vec<u8>,
    /// One to four players.
    pub players: Vec<Entrant>,
    /// The rest of what the format is played by; nothing of it in a plain count and in logs from before there were formats.
    #[serde(default, skip_serializing_if = "RoundTerms::is_usual")]
    pub terms: RoundTerms,
    /// Whether the Committee forbids distance-measuring devices (Model Local Rule G-5).
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub no_distance_devices: bool,
}

/// The Terms of a round's format beyond its name, frozen when it was opened.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct RoundTerms {
    /// Shares of a side's handicap from the lowest player to the highest, in per cent; empty where one figure is enough.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub shares: Vec<u8>,
    /// The allowance is another than the recommended one.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub allowance_given: bool,
    /// The maximum of Maximum Score, as `net double bogey`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub maximum: Option<String>,
    /// Gross scores are compared; nobody receives strokes.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub gross: bool,
    /// A match that is tied after the round stands; otherwise it is played on hole by hole.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub tie_stands: bool,
    /// Who plays together, as places in [`Opening::players`]; empty when each plays alone.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sides: Vec<Vec<usize>>,
}

impl RoundTerms {
    fn is_usual(&self) -> bool {
        *self == Self::default()
    }
}

/// A box of the card.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Default, Serialize, Deserialize)]
pub struct Place {
    /// Index into [`Opening::players`].
    pub player: usize,
    /// Index into [`Opening::holes`]: 0 is the first hole played.
    pub position: usize,
}

/// A detail of a box beside its score.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Detail {
    /// In a box without a score the side gave the hole away; in a box with one the last stroke was conceded to the player.
    Conceded(bool),
    /// The player's side gave up the match before this hole was finished.
    GaveUp(bool),
    /// How many of the strokes are penalty strokes.
    PenaltyStrokes(u8),
    /// A note to the hole; empty takes it away.
    Note(String),
    /// The shots and putts of the hole, all of them as they stand after this line; an empty list takes them away.
    Shots(HoleShots),
}

/// What a stored text is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum TextRole {
    /// The course notebook.
    Notebook,
    /// The surveyed ground of the notebook.
    Ground,
    /// A layer.
    Layer,
    /// A player.
    Player,
    /// The day sheet.
    Day,
}

/// A text stored by its digest, so that the round can be judged by what was known then.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct StoredText {
    /// What it is of.
    pub role: TextRole,
    /// The file it was read from.
    pub file: String,
    /// Its bytes; it lies in `rounds/texts/DIGEST`.
    pub digest: Digest,
}

/// One thing that happened in a round.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Event {
    /// The round was opened; always the first line and never another.
    Opened(Box<Opening>),
    /// The texts of the files were stored, at the first score.
    Texts(Vec<StoredText>),
    /// The whole plan was frozen in `plans/`.
    PlanFrozen {
        /// The name of the frozen plan's file.
        stamp: String,
        /// Its bytes.
        digest: Digest,
    },
    /// The Committee's Local Rule on distance-measuring devices was switched (Model Local Rule G-5).
    NoDistanceDevices(bool),
    /// A box was scored, corrected or cleared.
    Score {
        /// Which box.
        #[serde(flatten)]
        place: Place,
        /// What stands in it now.
        score: HoleScore,
    },
    /// A detail of a box was set.
    Detail {
        /// Which box.
        #[serde(flatten)]
        place: Place,
        /// What was set.
        set: Detail,
    },
    /// The score or detail of line `of` was undone.
    Undo {
        /// Its sequence number.
        of: u64,
    },
    /// The score or detail of line `of` was done again.
    Redo {
        /// Its sequence number.
        of: u64,
    },
    /// The players went to another hole without scoring.
    MovedTo(Place),
    /// The card was closed.
    Closed,
    /// The card was opened again to correct it.
    Reopened {
        /// Why, in the person's words; may be empty.
        why: String,
    },
}

/// The card's word in the log.
mod card_word {
    use super::Card;
    use serde::{Deserialize, Deserializer, Serializer, de::Error};

    pub(super) fn serialize<S: Serializer>(card: &Card, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(match card {
            Card::Men => "men",
            Card::Women => "women",
        })
    }

    pub(super) fn deserialize<'de, D: Deserializer<'de>>(deserializer: D) -> Result<Card, D::Error> {
        match String::deserialize(deserializer)?.as_str() {
            "men" => Ok(Card::Men),
            "women" => Ok(Card::Women),
            other => Err(D::Error::custom(format!("`{other}` is no card; `men` or `women`"))),
        }
    }
}
