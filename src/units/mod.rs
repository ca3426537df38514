//! Quantities as types: lengths, places along a hole, angles; how they are read and printed.
//!
//! Inside the program a length is held in **yards** as `f64`, because the ground, the raster and the
//! solver work in one-yard cells. A file's or a person's unit is applied at the edge, by [`LengthUnit`].
//!
//! A distance along a hole has one of two origins, and mixing them is the easiest mistake of all, so they
//! are two types: [`Along`] counts from the start of the hole line, [`FromTee`] from the tee that a person
//! plays. Only [`TeeOrigin`] turns one into the other.

pub mod digest;
pub mod length;
pub mod place;
pub mod plain_text;
pub mod tenths;

pub use length::{Length, LengthUnit};
pub use place::{Across, Along, Band, FromTee, TeeOrigin};
