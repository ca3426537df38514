//! A worker thread with one running and one waiting job, cancel and generations.
//!
//! A newer job replaces the one that waits, never queues behind it; a job runs with a [`Cancel`] flag that its loops ask;
//! each result carries the [`Generation`] of its job, so that the receiver drops what is stale. Results go over a channel
//! that the caller bounds. Dropping the worker cancels, wakes and joins it.

mod slot;

pub use slot::{Cancel, Done, Generation, Outcome, Worker};
