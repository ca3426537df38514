//! Shot patterns: where a club's shots finish, from bag and skill, from a lie.
//!
//! [`Skill`] is what a Handicap Index says; a [`Bag`] holds what the player knows better; [`Pattern`] joins both into every
//! [`Swing`] from every [`Lie`]. A [`Cloud`] is one swing as fixed points. Lengths are yards, angles as named.

pub mod bag;
pub mod conditions;
pub mod lie;
pub mod normal;
mod player;
mod points;
pub mod putts;
mod skill;
mod swing;

pub use bag::{Bag, BagClub, Club, KnownSwing, Remark, Source};
pub use conditions::{Change, Conditions, Still};
pub use lie::{Lie, Model};
pub use player::Pattern;
pub use points::Points;
pub use putts::Putts;
pub use skill::{Footing, HIGHEST_INDEX, Skill, TOUR_INDEX};
pub use swing::{Cloud, Swing};
