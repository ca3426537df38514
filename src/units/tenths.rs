//! Exact tenths for handicap figures.

/// A figure in exact tenths, as a Course Rating or a Handicap Index. A plus handicap is negative.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Tenths(pub i32);
