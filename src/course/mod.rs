//! Course, tee, hole, green, note and layer, and their reader over `notebook`.
//!
//! Every length in the model is in yards; the unit of the file is kept in [`Course::units`] for showing.
//! Places along a hole are [`Along`](crate::units::Along): counted from the start of the line.

pub mod condition;
pub mod lay_out;
pub mod model;

pub use condition::{HoleLocationArea, When, WindSide};
pub use model::*;
