//! How the log writes what stands in one box of a card.

use crate::scoring::HoleScore;
use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;

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
