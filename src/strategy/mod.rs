//! The value of a place, candidate plays and the solver, for any value of a hole score.
