//! Course, tee, hole, green, note and layer, and their reader over `notebook`.
//!
//! Every length in the model is in yards; the unit of the file is kept in [`Course::units`] for showing.
//! Places along a hole are [`Along`](crate::units::Along): counted from the start of the line.

pub mod applies;
pub mod codes;
pub mod condition;
pub mod day;
pub mod day_write;
pub mod decode;
mod derived;
pub mod lay_out;
pub mod layer;
pub mod merge;
pub mod model;
pub mod read;
pub mod write;
pub mod written;

pub use applies::{Applies, Facts, applies, condition_words};
pub use condition::{Hand, HoleLocationArea, ShotShape, When, WindSide};
pub use day::{DaySheet, read_day};
pub use layer::{Layer, LayerHole};
pub use merge::HoleNotes;
pub use model::*;
pub use read::{read, read_layer};
pub use written::*;
