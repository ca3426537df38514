//! The decided plan of a hole: plays, prices, reasons in words.
//!
//! The plan asks `strategy` with the value that suits the format ([`Aimed`]), speaks its lines by landmarks ([`words`]) and builds
//! its reasons from computed numbers and the notebook's names only. [`plan`] comes first, [`price`] adds what takes longer.

pub mod aimed;
pub mod answer;
pub mod frozen;
pub mod green;
pub mod ground;
pub mod model;
pub mod question;
pub mod reasons;
pub mod today;
pub mod words;

pub use aimed::Aimed;
pub use answer::{NoPlan, plan, price};
pub use frozen::{FROZEN_FORMAT, Frozen, FrozenHole};
pub use green::GreenPicture;
pub use model::{HolePlan, Play, PlayName, Price, Shot, SideCost, Switch};
pub use question::{Pin, Question};
pub use today::{Blown, Breeze, HoleToday, hole_today};
