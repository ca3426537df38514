//! Stories of the screen: what is open, keys, and what a person then sees.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod bag;
mod colours;
mod formats;
mod handicap;
mod looks;
mod matches;
mod notes;
mod pages;
mod plan;
mod review;
mod rounds;
mod scene;
mod sizes;
