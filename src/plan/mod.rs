//! The decided plan of a hole: plays, prices, reasons in words.
//!
//! The plan asks `strategy` with the value that suits the format ([`Aimed`]), speaks its lines by landmarks ([`words`]) and builds
//! its reasons from computed numbers and the notebook's names only.

pub mod aimed;
pub mod model;
pub mod words;

pub use aimed::Aimed;
pub use model::{HolePlan, Play, PlayName, Price, Shot, SideCost, Switch};
