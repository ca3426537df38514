//! The day on a hole: what wind, air, height, firmness, hole location and the falls of a green make of it, as the solver takes it.
//!
//! [`Day`] is what is known of the day on a course; [`HoleAir`] answers [`crate::pattern::Conditions`] for one hole;
//! [`GreenFalls`] are the slopes of a green; [`GreenWorth`] is what a ball on it is worth; [`place_of`] finds where the hole is cut.

mod air;
mod day;
mod green;
mod heights;
mod memo;
mod pin;
mod plays;
mod putt;

pub use air::{HoleAir, JUDGED};
pub use day::{Day, Reference, wind_sentence};
pub use green::{GreenFalls, GreenWorth, Known, putting_skill, spot_of};
pub use heights::Heights;
pub use pin::{Edges, PinAdvice, advice, edges, place_of};
pub use plays::{Player, PlaysLike};
pub use putt::PuttRead;
