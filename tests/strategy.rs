//! Checks of the model and the solver: from outside against what was published, from inside against itself.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod holes;

#[path = "strategy/inside.rs"]
mod inside;
#[path = "strategy/odd.rs"]
mod odd;
#[path = "strategy/outside.rs"]
mod outside;
#[path = "strategy/play.rs"]
mod play;
#[path = "strategy/trade.rs"]
mod trade;
