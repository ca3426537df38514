//! bad
