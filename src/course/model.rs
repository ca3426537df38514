//! What a course notebook says, as values.

use super::written::{Aim, Danger, Layup, Note, Sure};
use crate::ground::{Bend, Face, Ground, Surface};
use crate::notebook::Span;
use crate::units::{Across, Along, Band, LengthUnit, tenths};

/// How hard the ground is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Firmness {
    /// Takes a mark from every ball.
    Soft,
    /// A usual day.
    #[default]
    Medium,
    /// A dry day.
    Firm,
    /// Hard as a road.
    Baked,
}

/// Whose ratings, par and stroke index apply.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Card {
    /// The men's card.
    #[default]
    Men,
    /// The women's card.
    Women,
}

impl Card {
    /// Both cards.
    pub const BOTH: [Self; 2] = [Self::Men, Self::Women];

    /// `men's` or `women's`, as in "the men's card".
    pub const fn whose(self) -> &'static str {
        match self {
            Self::Men => "men's",
            Self::Women => "women's",
        }
    }
}

/// One value, or one for each card.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ByCard<T> {
    /// On the men's card.
    pub men: Option<T>,
    /// On the women's card.
    pub women: Option<T>,
}

impl<T> ByCard<T> {
    /// On neither card.
    pub const NEITHER: Self = Self { men: None, women: None };

    /// The value on `card`, borrowed.
    pub const fn get(&self, card: Card) -> Option<&T> {
        match card {
            Card::Men => self.men.as_ref(),
            Card::Women => self.women.as_ref(),
        }
    }
}

impl<T: Copy> ByCard<T> {
    /// The same value on both.
    pub const fn both(value: T) -> Self {
        Self { men: Some(value), women: Some(value) }
    }

    /// The value on `card`.
    pub const fn on(&self, card: Card) -> Option<T> {
        match card {
            Card::Men => self.men,
            Card::Women => self.women,
        }
    }
}

/// A Course Rating in exact tenths and its Slope Rating.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rating {
    /// Course Rating.
    pub rating: tenths::Tenths,
    /// Slope Rating, 55 to 155.
    pub slope: u16,
}

/// The ratings of a tee set for one card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TeeRating {
    /// Of the whole course.
    pub whole: Rating,
    /// Of holes 1 to 9.
    pub front_nine: Option<Rating>,
    /// Of holes 10 to 18.
    pub back_nine: Option<Rating>,
}

/// A set of tees.
#[derive(Clone, Debug, PartialEq)]
pub struct TeeSet {
    /// Its name as the notebook writes it.
    pub name: String,
    /// Ratings by card; a missing one means not rated for it.
    pub ratings: ByCard<TeeRating>,
}

/// An order of holes other than "all in order".
#[derive(Clone, Debug, PartialEq)]
pub struct Circuit {
    /// Its name, as `twice round`.
    pub name: String,
    /// Hole numbers in playing order.
    pub holes: Vec<u8>,
    /// One stroke index for each hole of the order and each card, when given.
    pub stroke_index: ByCard<Vec<u8>>,
    /// Ratings by tee set.
    pub tees: Vec<TeeSet>,
}

/// Something seen from afar, used to speak a line of play.
#[derive(Clone, Debug, PartialEq)]
pub struct Landmark {
    /// Its name, as `the mast`.
    pub name: String,
    /// Compass direction, degrees, for one seen from more than one hole.
    pub bearing: Option<f64>,
    /// Its place on this hole.
    pub at: Option<Along>,
    /// See `at`.
    pub across: Option<Across>,
    /// From where it is seen, as written.
    pub seen_from: Option<String>,
}

/// Whose data a map was made from, and on what terms: shown wherever the course is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Credit {
    /// The notice to show, as `© OpenStreetMap contributors`.
    pub attribution: String,
    /// The licence, as `ODbL-1.0`.
    pub licence: Option<String>,
    /// The database, as `OpenStreetMap`.
    pub source: Option<String>,
}

impl Credit {
    /// What OpenStreetMap asks for.
    ///
    /// # References
    /// Open Database License 1.0, sections 4.2 and 4.3; openstreetmap.org/copyright.
    pub fn openstreetmap() -> Self {
        Self {
            attribution: "© OpenStreetMap contributors".to_owned(),
            licence: Some("ODbL-1.0".to_owned()),
            source: Some("OpenStreetMap".to_owned()),
        }
    }

    /// One line for a screen or a printed page, the address spelled out: paper has no links.
    ///
    /// ```
    /// let line = marram::course::Credit::openstreetmap().line();
    /// assert_eq!(line, "Course map: © OpenStreetMap contributors, ODbL-1.0, openstreetmap.org/copyright");
    /// ```
    pub fn line(&self) -> String {
        let mut line = format!("Course map: {}", self.attribution);
        if let Some(licence) = &self.licence {
            line.push_str(", ");
            line.push_str(licence);
        }
        if self.attribution.contains("OpenStreetMap") {
            line.push_str(", openstreetmap.org/copyright");
        }
        line
    }
}

/// A course and what was written about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Its name.
    pub name: String,
    /// The unit of every length in its file.
    pub units: LengthUnit,
    /// Above sea level, yards (converted from the file's unit).
    pub elevation: Option<f64>,
    /// Stimpmeter feet on a usual day.
    pub green_speed: Option<f64>,
    /// On a usual day.
    pub firmness: Firmness,
    /// File name of surveyed ground beside the notebook.
    pub ground: Option<String>,
    /// Whose map the ground was made from.
    pub credit: Option<Credit>,
    /// Edition as written.
    pub edition: Option<String>,
    /// Who wrote it.
    pub by: Option<String>,
    /// Tee sets in the order of the file.
    pub tees: Vec<TeeSet>,
    /// Circuits; empty means all holes in order.
    pub circuits: Vec<Circuit>,
    /// Landmarks of the whole course.
    pub landmarks: Vec<Landmark>,
    /// Holes in order of their numbers, never empty. A hole that could not be read is absent and was reported.
    pub holes: Vec<Hole>,
    /// Numbers of holes that are written but could not be read.
    pub unread: Vec<u8>,
    /// Written for a later marram: it may be read and never rewritten.
    pub read_only: bool,
}

/// A tee of one hole.
#[derive(Clone, Debug, PartialEq)]
pub struct HoleTee {
    /// The tee set's name.
    pub name: String,
    /// Length of the hole from it, along the line to the middle of the green, yards.
    pub length: f64,
    /// Where it stands: `at` along the line (from `length`, or `starts_at`).
    pub at: Along,
    /// Beside the line.
    pub across: Across,
    /// Where it is written.
    pub span: Span,
}

/// One hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Its number.
    pub number: u8,
    /// Its identity, by which surveyed ground may name it whatever its number.
    pub id: Option<String>,
    /// Its name.
    pub name: Option<String>,
    /// Par by card.
    pub par: ByCard<u8>,
    /// Stroke index by card.
    pub stroke_index: ByCard<u8>,
    /// The tee whose place starts the line.
    pub line_from: String,
    /// Compass direction of the first leg, degrees.
    pub bearing: Option<f64>,
    /// Tees in the order of the course's tee sets.
    pub tees: Vec<HoleTee>,
    /// What was drawn, as numbers along the line: kept for editing and for saying what is missing.
    pub sketch: Sketch,
    /// Turns of the line.
    pub bends: Vec<Bend>,
    /// Heights along the line, yards against the start.
    pub heights: Vec<(Along, f64)>,
    /// Landmarks of this hole.
    pub landmarks: Vec<Landmark>,
    /// The sketch (and survey) laid out in the plane.
    pub ground: Ground,
    /// Aim points.
    pub aims: Vec<Aim>,
    /// What must not be found.
    pub dangers: Vec<Danger>,
    /// Lay-ups.
    pub layups: Vec<Layup>,
    /// Notes.
    pub notes: Vec<Note>,
    /// The way in to the green, in words.
    pub walk_in: Option<String>,
    /// The way out, in words.
    pub walk_out: Option<String>,
    /// A warning of its own line above everything else.
    pub caution: Option<String>,
    /// Where the hole stands in the text.
    pub span: Span,
}

/// Ground by numbers along the line.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Sketch {
    /// Pieces of ground in the order of the file.
    pub pieces: Vec<Piece>,
    /// The green.
    pub green: Option<SketchGreen>,
}

/// One piece of sketched ground.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// What it is.
    pub surface: Surface,
    /// Its name, when it has one.
    pub name: Option<String>,
    /// How steep, for a bunker.
    pub face: Face,
    /// How it was drawn.
    pub form: Form,
    /// Its identity, when it has one of its own.
    pub id: Option<String>,
    /// How well its numbers are known.
    pub sure: Option<Sure>,
    /// When it was seen, ISO date.
    pub seen: Option<String>,
    /// Where it is written.
    pub span: Span,
}

/// The forms a piece of ground can take.
#[derive(Clone, Debug, PartialEq)]
pub enum Form {
    /// Stations along the line, linear between them, square ends: a fairway.
    Stations(Vec<(Along, Band)>),
    /// From here to there along the line, a band across; corners rounded by a quarter of the shorter side, at most 5 yards.
    Band {
        /// Start along the line.
        from: Along,
        /// End along the line.
        to: Along,
        /// Across it.
        across: Band,
    },
    /// A path of a width with round ends.
    Path {
        /// Its points.
        points: Vec<(Along, Across)>,
        /// Its width, yards.
        width: f64,
    },
    /// An exact outline.
    Outline(Vec<(Along, Across)>),
    /// Not drawn here: the surveyed ground has a piece of this name or id.
    Surveyed {
        /// The colour of the penalty area is given here and stands over the survey's.
        coloured: bool,
    },
}

/// A green by numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct SketchGreen {
    /// Where its front is.
    pub front: Along,
    /// Front to back along its own axis, yards.
    pub depth: f64,
    /// Across its own axis, yards.
    pub width: f64,
    /// Its middle beside the line.
    pub across: Across,
    /// Its axis turned against the last leg, degrees, positive to the right.
    pub turned_deg: f64,
    /// Its middle's height against the start, yards.
    pub up: Option<f64>,
    /// The fall of the whole: per cent, and clock face (12 = straight on along the last leg).
    pub falls: Option<(f64, f64)>,
    /// Falls at spots: place, per cent, clock face.
    pub slopes: Vec<(Along, Across, f64, f64)>,
    /// Heights of its surface on a grid.
    pub height_grid: Option<HeightGrid>,
    /// How well its numbers are known.
    pub sure: Option<Sure>,
    /// When it was seen, ISO date.
    pub seen: Option<String>,
    /// Where it is written.
    pub span: Span,
}

/// Heights of a green on a square grid along its own axes, centred on its middle.
#[derive(Clone, Debug, PartialEq)]
pub struct HeightGrid {
    /// From one height to the next, yards.
    pub every: f64,
    /// Rows from front to back, each from left to right; yards against any one level, for only differences count.
    pub rows: Vec<Vec<f64>>,
}
