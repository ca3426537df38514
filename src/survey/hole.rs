//! A hole as the map shows it: its line the right way round, its number and card, and what was found along it.

use super::profile::Profile;
use super::said::Said;
use super::track::Track;
use crate::course::ByCard;
use crate::ground::Point;

/// What a hole is called.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Number {
    /// As the map says.
    Known(u8),
    /// The map does not say: one of these, counted from 1 in the order in which they are walked, with the number that the draft
    /// puts in its place.
    Unknown {
        /// Its place among those without a number.
        nth: usize,
        /// The number of the draft.
        draft: u8,
    },
}

impl Number {
    /// As reports show it: `4`, `?1`.
    pub fn shown(&self) -> String {
        match self {
            Self::Known(number) => number.to_string(),
            Self::Unknown { nth, .. } => format!("?{nth}"),
        }
    }

    /// The number in the draft.
    pub const fn in_draft(&self) -> u8 {
        match self {
            Self::Known(number) | Self::Unknown { draft: number, .. } => *number,
        }
    }

    /// Whether the map says it.
    pub const fn is_known(&self) -> bool {
        matches!(self, Self::Known(_))
    }
}

/// A tee of a hole.
#[derive(Clone, Debug, PartialEq)]
pub struct FoundTee {
    /// The set it is of; `None` where the map does not say.
    pub name: Option<String>,
    /// Its id.
    pub id: String,
    /// Its middle in the plane of the course.
    pub point: Point,
    /// Yards along the line from its first place; negative behind it.
    pub along: f64,
    /// Yards to the right of the line.
    pub across: f64,
    /// Yards along the line to the last place.
    pub length: f64,
}

/// The green of a hole.
#[derive(Clone, Debug, PartialEq)]
pub struct FoundGreen {
    /// Which placed element.
    pub index: usize,
    /// Its id.
    pub id: String,
    /// Whether other holes end on it too.
    pub shared: bool,
    /// Where the line of play meets its front edge and its back edge, in the plane of the course.
    pub front: Point,
    /// See `front`.
    pub back: Point,
    /// Across the line of play through its middle, yards.
    pub width: f64,
}

impl FoundGreen {
    /// From front to back, yards.
    pub fn depth(&self) -> f64 {
        self.front.distance(self.back)
    }

    /// The middle between front and back.
    pub fn middle(&self) -> Point {
        (self.front + self.back) * 0.5
    }
}

/// A piece of ground along a hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Along {
    /// Which placed element.
    pub index: usize,
    /// Its distance from the line, yards; 0 where the line runs through it.
    pub distance: f64,
    /// Where it begins and ends along the line, yards from the first place.
    pub from: f64,
    /// See `from`.
    pub to: f64,
    /// Its leftmost and rightmost place across the line.
    pub left: f64,
    /// See `left`.
    pub right: f64,
    /// Whether this hole is the one it lies nearest to.
    pub owner: bool,
}

/// A hole of the map.
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyedHole {
    /// The id of its line.
    pub id: String,
    /// What it is called.
    pub number: Number,
    /// Its name.
    pub name: Option<String>,
    /// Par by card.
    pub par: ByCard<u8>,
    /// Stroke index by card.
    pub stroke_index: ByCard<u8>,
    /// The length that the map states and the line agrees with, yards.
    pub stated: Option<f64>,
    /// Its line as it is mapped, from tee to green, in the plane of the course.
    pub track: Track,
    /// The line of play of the draft: from the tee at its start to the middle of the green.
    pub played: Track,
    /// Its tees, the farthest from the green first.
    pub tees: Vec<FoundTee>,
    /// Its green, when one is mapped with an outline.
    pub green: Option<FoundGreen>,
    /// Hole locations, in the order of the file; the last is the usual one.
    pub pins: Vec<(String, Point)>,
    /// Ground along it.
    pub along: Vec<Along>,
    /// Heights along its line of play.
    pub profile: Profile,
    /// What somebody who walked it said of its places.
    pub said: Vec<Said>,
}

impl SurveyedHole {
    /// The length of the mapped line from its first place, yards.
    pub fn line_yards(&self) -> f64 {
        self.track.length()
    }

    /// What the map does not say.
    pub fn gaps(&self) -> Vec<&'static str> {
        let mut gaps = Vec::new();
        let has = |value: &ByCard<u8>| value.men.is_some() || value.women.is_some();
        if !self.number.is_known() {
            gaps.push("number");
        }
        if !has(&self.par) {
            gaps.push("par");
        }
        if !has(&self.stroke_index) {
            gaps.push("stroke_index");
        }
        if self.green.is_none() {
            gaps.push("green");
        }
        if self.tees.is_empty() {
            gaps.push("tee");
        }
        gaps
    }
}
