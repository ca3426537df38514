//! Competitions: the worked medal against an independent total, ties, bad input, closing, properties.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod acts;
mod bad_input;
mod commands;
mod medal;
mod properties;
mod scene;
mod show;
mod ties;
