//! A player, the bag and the record: their reader and their changes over `notebook`.
//!
//! What a person does not give stays `None`: a whole bag may be assumed from the Handicap Index, and is then shown as
//! assumed. Lengths are [`Length`](crate::units::Length)s; the unit of the file is kept for showing.

pub mod codes;
pub mod model;
pub mod pupils;
mod read;
pub mod write;

pub use model::{Club, Measured, Player, Score, Shot, Spread, Swing};
pub use pupils::{Pupil, read_pupils};
pub use read::read;
pub use write::{Change, Made, Number};
