//! Stories of the screen: what is open, keys, and what a person then sees.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod bag;
mod looks;
mod notes;
mod pages;
mod plan;
mod rounds;
mod scene;
mod sizes;
mod try_it;
