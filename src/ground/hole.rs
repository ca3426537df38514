//! The ground of one hole: the line, the tees, the features and the green, with the questions asked of them.

use super::{Point, Polygon, Surface};
use crate::units::{Across, Along};

/// A turn of the hole line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// Where the line turns.
    pub at: Along,
    /// By how many degrees; positive turns right.
    pub turn_deg: f64,
}

/// How hard a bunker is to leave.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Face {
    /// A low face: a long club can be played.
    Shallow,
    /// An ordinary face.
    #[default]
    Usual,
    /// A high face: out sideways or with the most lofted club.
    Steep,
}

/// One piece of ground: a bunker, a creek, a stand of trees, a fairway.
#[derive(Clone, Debug, PartialEq)]
pub struct Feature {
    /// The name a person gave it, or one made of its kind and place (`left bunker`).
    pub name: String,
    /// Whether a person named it.
    pub named: bool,
    /// What it is.
    pub surface: Surface,
    /// How steep a bunker's face is.
    pub face: Face,
    /// Its shapes in the plane.
    pub shapes: Vec<Polygon>,
}

/// A set of tees on this hole.
#[derive(Clone, Debug, PartialEq)]
pub struct TeeSpot {
    /// The tee set's name.
    pub name: String,
    /// Where it stands along the line (its own start), for [`crate::units::TeeOrigin`].
    pub at: Along,
    /// How far beside the line it stands.
    pub across: Across,
    /// The same place in the plane.
    pub point: Point,
}

/// The putting green.
#[derive(Clone, Debug, PartialEq)]
pub struct Putting {
    /// The front edge on the line of play: `front` of the notebook.
    pub front: Along,
    /// Front to back along its own axis, yards.
    pub depth: f64,
    /// Across its own axis, yards.
    pub width: f64,
    /// The middle, in the plane.
    pub middle: Point,
    /// The middle of the front edge and of the back edge.
    pub front_point: Point,
    /// See `front_point`.
    pub back_point: Point,
    /// The direction of its own long axis, degrees clockwise from `ahead`.
    pub axis_deg: f64,
    /// Its outline in the plane.
    pub outline: Polygon,
    /// Fall of the whole green: per cent, and the plane direction it falls towards in degrees clockwise from `ahead`.
    pub falls: Option<(f64, f64)>,
}

/// The ground of one hole, in the plane.
#[derive(Clone, Debug, PartialEq)]
pub struct Ground {
    /// The bends, in order along the line.
    pub bends: Vec<Bend>,
    /// Length of the line: from its start to the depth of the middle of the green.
    pub length: Along,
    /// Tees in the order of the notebook.
    pub tees: Vec<TeeSpot>,
    /// Every piece of ground in the order of the notebook.
    pub features: Vec<Feature>,
    /// The green; a hole without one cannot be planned but can be drawn.
    pub green: Option<Putting>,
    /// Heights along the line in yards against the start, in order; empty means level.
    pub heights: Vec<(Along, f64)>,
}
