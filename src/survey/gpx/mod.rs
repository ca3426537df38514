//! A walk over the course, as GPX: waypoints whose names say what they are, outlines from named tracks.
//!
//! Every waypoint becomes ground, or a note, or stands in the list of what was not understood: nothing that somebody walked
//! for is lost.
//!
//! # References
//! GPX 1.1 (2004): `wpt` and `trkpt` with `lat`, `lon`, `ele`, `time`, `name`. The names: reference/open-formats 2.3; cleaning: 2.5.

mod build;
mod clean;
mod names;
mod read;

pub use build::build;
pub use names::{Code, Name, name_of};
pub use read::{Fix, Gpx, Track, Waypoint, read};
