//! Plane geometry of a hole: its line with bends, shapes, surfaces, distances. Uses `units` only.
//!
//! **The plane.** Yards. The origin is the start of the hole line, `ahead` (y) runs along the first leg, `right` (x) to
//! the player's right of it. A mirrored hole has every `right` negated, and the raster's cells are centred on the line
//! so that it gives the mirrored answers.

pub mod corridor;
pub mod find;
pub mod flat;
pub mod hole;
pub mod line;
pub mod marks;
pub mod plane;
pub mod raster;
pub mod ribbon;
#[cfg(test)]
mod saltpan;
pub mod section;
pub mod shapes;
pub mod stand;
#[cfg(test)]
mod stand_tests;
pub mod stops;
pub mod surface;

pub use corridor::{Corridor, Fairway, Section};
pub use flat::{Flat, LonLat};
pub use hole::{Bend, Face, Feature, Ground, Putting, TeeSpot};
pub use line::{BendProblem, HoleLine, Turn};
pub use marks::marks;
pub use plane::{Bounds, Point, Polygon};
pub use raster::Raster;
pub use ribbon::Ribbon;
pub use shapes::ShapeProblem;
pub use stand::{DangerReading, Distance, GreenReading, Lies, Side, StandReading};
pub use surface::Surface;
