//! The text of human files: reading, recovery, problems, edits.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

#[path = "notebook_text/edits.rs"]
mod edits;
#[path = "notebook_text/random.rs"]
mod random;
#[path = "notebook_text/reading.rs"]
mod reading;
