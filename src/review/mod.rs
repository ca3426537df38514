//! Plan against play: strokes gained and lost, what may be learnt from them, the season, what a target needs.
//!
//! Values only: what is reviewed comes as a [`Session`](crate::session::Session) of that day, and what is found goes out as
//! figures with their intervals. Nothing of a person's files is changed here; [`learn`] proposes, the person agrees.

pub mod chance;
pub mod import;
pub mod judge;
pub mod learn;
pub mod ledger;
pub mod level;
pub mod mean;
mod open;
mod outcome;
pub mod propose;
pub mod resolve;
pub mod round;
pub mod season;
pub mod show;
pub mod simulate;
pub mod stage;
pub mod target;

pub use judge::{HoleReview, Look, Part, ShotReview};
pub use level::Level;
pub use mean::{Mean, Verdict};
pub use open::{Saving, need, practise_course};
pub use round::{PartReview, RoundCase, RoundReview, review_round, review_rounds};
pub use stage::Stage;
