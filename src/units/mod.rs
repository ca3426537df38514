//! Quantities as types: lengths, angles, exact tenths for handicap figures; how they are read and printed.

pub mod tenths;
