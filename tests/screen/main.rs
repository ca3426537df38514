//! Stories of the screen: what is open, keys, and what a person then sees.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod annotate;
mod bag;
mod colours;
mod day;
mod desk;
mod draw;
mod formats;
mod green;
mod handicap;
mod looks;
mod matches;
mod measure;
mod notes;
mod pages;
mod plan;
mod plan_odd;
mod plan_tools;
mod pupils;
mod review;
mod rounds;
mod scene;
mod scout;
mod sizes;
