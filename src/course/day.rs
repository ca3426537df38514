//! The day sheet: what is known of one day on one course.
//!
//! Paces and moved markers are figures in the course's unit, for the sheet itself names none.

use super::condition::{HoleLocationArea, WindSide};
use super::model::{Course, Firmness, Hole};
use crate::units::{Length, LengthUnit};
use serde::{Deserialize, Serialize};

pub use super::read::read_day;

/// What a round is played for; the last two are played under the Rules.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
pub enum Kind {
    /// Nothing depends on it.
    #[default]
    #[serde(rename = "practice")]
    Practice,
    /// The score counts for a Handicap Index.
    #[serde(rename = "for handicap")]
    ForHandicap,
    /// Played in a competition.
    #[serde(rename = "competition")]
    Competition,
}

impl Kind {
    /// Every kind, mildest first.
    pub const ALL: [Self; 3] = [Self::Practice, Self::ForHandicap, Self::Competition];

    /// The word that files and screens use.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Practice => "practice",
            Self::ForHandicap => "for handicap",
            Self::Competition => "competition",
        }
    }

    /// Whether the Rules of Golf bind the player, Rule 4.3a among them.
    pub const fn under_the_rules(self) -> bool {
        !matches!(self, Self::Practice)
    }
}

/// A wind as a forecast gives it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wind {
    /// Metres a second.
    pub speed_m_s: f64,
    /// Compass direction that it comes from, degrees.
    pub from_deg: f64,
    /// The height for which it is given, metres.
    pub at_height_m: f64,
}

impl Wind {
    /// Below this no player speaks of a wind, metres a second (Beaufort 0 and 1: calm and light air, up to 1.5).
    pub const CALM_M_S: f64 = 1.6;

    /// The side of it on a hole: empty when it is calm, `None` when the hole has no bearing.
    pub fn on(self, hole: &Hole) -> Option<Vec<WindSide>> {
        if self.speed_m_s < Self::CALM_M_S {
            return Some(Vec::new());
        }
        hole.bearing.map(|bearing| vec![WindSide::of(self.from_deg, bearing)])
    }
}

/// A side of the green.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GreenSide {
    /// The left edge.
    Left,
    /// The right edge.
    Right,
}

/// Where today's hole is cut.
#[derive(Clone, Debug, PartialEq)]
pub enum HoleLocation {
    /// Paces on from the front edge, and in from a side when that is known; a pace is one of the course's unit.
    Paced {
        /// On from the front edge.
        on: f64,
        /// In from a side.
        from_side: Option<(f64, GreenSide)>,
    },
    /// An area, as `back` or `back left`.
    Areas(Vec<HoleLocationArea>),
}

impl HoleLocation {
    /// The areas that the hole lies in, on a green of this depth and width in yards: a third of the depth, and a half of
    /// the width when that is known.
    pub fn areas(&self, depth: f64, width: f64, unit: LengthUnit) -> Vec<HoleLocationArea> {
        let (on, from_side) = match self {
            Self::Areas(areas) => return areas.clone(),
            Self::Paced { on, from_side } => (Length::new(*on, unit).as_yards(), from_side),
        };
        let mut areas = vec![if on < depth / 3.0 {
            HoleLocationArea::Front
        } else if on <= depth * 2.0 / 3.0 {
            HoleLocationArea::Middle
        } else {
            HoleLocationArea::Back
        }];
        if let Some((paces, side)) = from_side {
            let near = Length::new(*paces, unit).as_yards() <= width / 2.0;
            areas.push(match (side, near) {
                (GreenSide::Left, true) | (GreenSide::Right, false) => HoleLocationArea::Left,
                (GreenSide::Right, true) | (GreenSide::Left, false) => HoleLocationArea::Right,
            });
        }
        areas
    }
}

/// One day on one course.
#[derive(Clone, Debug, PartialEq)]
pub struct DaySheet {
    /// ISO date.
    pub date: String,
    /// File name of the notebook.
    pub course: String,
    /// The golf format, as `stableford`.
    pub play: Option<String>,
    /// How the round counts.
    pub kind: Kind,
    /// The wind; `None` is not known.
    pub wind: Option<Wind>,
    /// Degrees Celsius.
    pub temperature_c: Option<f64>,
    /// At sea level, hectopascals.
    pub pressure_hpa: Option<f64>,
    /// Stimpmeter feet.
    pub green_speed: Option<f64>,
    /// How hard the ground is.
    pub firmness: Option<Firmness>,
    /// Tees whose markers are moved: forwards is positive, in the course's unit.
    pub markers: Vec<(String, f64)>,
    /// Hole locations that are known, by hole.
    pub hole_locations: Vec<(u8, HoleLocation)>,
    /// Written for a later marram: it may be read and never rewritten.
    pub read_only: bool,
}

impl DaySheet {
    /// Where the hole is cut today; `None` is not known.
    pub fn hole_location(&self, hole: u8) -> Option<&HoleLocation> {
        self.hole_locations.iter().find(|(number, _)| *number == hole).map(|(_, location)| location)
    }

    /// The areas in which today's hole lies, for [`super::Facts`]; `None` is not known.
    pub fn areas(&self, course: &Course, hole: &Hole) -> Option<Vec<HoleLocationArea>> {
        let location = self.hole_location(hole.number)?;
        match (&hole.sketch.green, &hole.ground.green) {
            (_, Some(green)) => Some(location.areas(green.depth, green.width, course.units)),
            (Some(green), None) => Some(location.areas(green.depth, green.width, course.units)),
            (None, None) => match location {
                HoleLocation::Areas(areas) => Some(areas.clone()),
                HoleLocation::Paced { .. } => None,
            },
        }
    }

    /// The side of today's wind on a hole, for [`super::Facts`]; `None` is not known.
    pub fn wind_on(&self, hole: &Hole) -> Option<Vec<WindSide>> {
        self.wind?.on(hole)
    }

    /// How far the markers of a tee are moved forward, yards; negative is back.
    pub fn markers_forward(&self, course: &Course, tee: &str) -> f64 {
        let moved = self.markers.iter().find(|(name, _)| name == tee).map_or(0.0, |(_, by)| *by);
        Length::new(moved, course.units).as_yards()
    }
}
