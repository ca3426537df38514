//! marram: a keyboard-driven course-management coach for golf.
//!
//! The rooms, in the order in which one may use another (see `DEVELOPERS.md`):

pub mod units;
pub mod ground;
pub mod notebook;
pub mod course;
pub mod player;
pub mod handicap;
pub mod scoring;
pub mod competition;
pub mod flight;
pub mod putting;
pub mod pattern;
pub mod strategy;
pub mod plan;
pub mod round;
pub mod review;
pub mod print;
pub mod survey;
pub mod store;
pub mod jobs;
pub mod tui;
pub mod cli;
