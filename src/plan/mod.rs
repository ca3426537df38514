//! The decided plan of a hole: plays, prices, reasons in words.
//!
//! The plan asks `strategy` with the value that suits the format ([`Aimed`]), speaks its lines by landmarks ([`words`]) and builds
//! its reasons from computed numbers and the notebook's names only. [`plan`] comes first, [`price`] adds what takes longer;
//! a [`SolvedHole`] is kept and answers for any stand.

pub mod aimed;
pub mod answer;
pub mod commit;
pub mod frozen;
pub mod green;
pub mod ground;
pub mod model;
pub mod pinned;
mod professional;
pub mod question;
mod ready;
pub mod reasons;
pub mod solved;
pub mod stand;
pub mod switches;
pub mod today;
pub mod what_if;
pub mod words;

pub use aimed::Aimed;
pub use answer::{NoPlan, plan, price};
pub use commit::{COMMIT_FORMAT, Commitment, Judged, Mark, MissSide};
pub use frozen::{FROZEN_FORMAT, Frozen, FrozenHole};
pub use green::GreenPicture;
pub use model::{AlongHere, HolePlan, Play, PlayName, Price, Professional, Shot, SideCost, Switch};
pub use pinned::{Pinned, Pins};
pub use question::{Pin, Question};
pub use solved::SolvedHole;
pub use stand::{ClubHere, NothingToChoose, StandPlan};
pub use switches::When;
pub use today::{Blown, Breeze, HoleToday, hole_today};
pub use what_if::{Change, ForFormat, WhatIf, compare, what_if};
