//! What stands in one box of a round's card, and how the log writes it.

use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;

/// What stands in one box of a card.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum HoleScore {
    /// Nothing yet.
    #[default]
    Empty,
    /// Holed out in so many strokes, penalties included; never 0.
    Gross(u8),
    /// Started and not finished: picked up.
    PickedUp,
    /// Never started.
    NotPlayed,
}

impl HoleScore {
    /// The most strokes a box takes.
    pub const MOST: u8 = 50;

    /// A score of so many strokes, `None` for 0 or more than [`HoleScore::MOST`].
    pub fn gross_of(strokes: u8) -> Option<Self> {
        (1..=Self::MOST).contains(&strokes).then_some(Self::Gross(strokes))
    }

    /// The strokes, where the hole was holed out.
    pub const fn gross(self) -> Option<u8> {
        match self {
            Self::Gross(strokes) => Some(strokes),
            _ => None,
        }
    }

    /// True where something was entered.
    pub const fn is_entered(self) -> bool {
        !matches!(self, Self::Empty)
    }
}

/// In the log a box is a number, `"picked up"`, `"not played"` or `null`.
impl Serialize for HoleScore {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Empty => serializer.serialize_none(),
            Self::Gross(strokes) => serializer.serialize_u8(*strokes),
            Self::PickedUp => serializer.serialize_str("picked up"),
            Self::NotPlayed => serializer.serialize_str("not played"),
        }
    }
}

impl<'de> Deserialize<'de> for HoleScore {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Box;
        impl Visitor<'_> for Box {
            type Value = HoleScore;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "1 to {}, \"picked up\", \"not played\" or null", HoleScore::MOST)
            }

            fn visit_u64<E: Error>(self, strokes: u64) -> Result<HoleScore, E> {
                u8::try_from(strokes)
                    .ok()
                    .and_then(HoleScore::gross_of)
                    .ok_or_else(|| E::custom(format!("{strokes} is no score for a hole")))
            }

            fn visit_str<E: Error>(self, text: &str) -> Result<HoleScore, E> {
                match text {
                    "picked up" => Ok(HoleScore::PickedUp),
                    "not played" => Ok(HoleScore::NotPlayed),
                    other => Err(E::custom(format!("`{other}` is no score for a hole"))),
                }
            }

            fn visit_unit<E: Error>(self) -> Result<HoleScore, E> {
                Ok(HoleScore::Empty)
            }
        }
        deserializer.deserialize_any(Box)
    }
}
