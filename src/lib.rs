//! marram: a keyboard-driven course-management coach for golf.
//!
//! The rooms, in the order in which one may use another (see `DEVELOPERS.md`):

pub mod cli;
pub mod competition;
pub mod course;
pub mod flight;
pub mod ground;
pub mod handicap;
pub mod jobs;
pub mod notebook;
pub mod pattern;
pub mod plan;
pub mod player;
pub mod print;
pub mod putting;
pub mod review;
pub mod round;
pub mod scoring;
pub mod session;
pub mod sheet;
pub mod shelf;
pub mod store;
pub mod strategy;
pub mod survey;
pub mod today;
pub mod tui;
pub mod units;
