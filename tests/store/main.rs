//! Files: what is refused, what survives a kill, a full disk or a failed sync, who holds a round, what a watch tells.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod disks;
mod places;
mod reading;
mod rounds;
mod saving;
mod watching;
