//! What applies to one player from one tee, as values: a hole's notes and dangers, the stand's distances, the card.
//!
//! The screen, the plain text of the commands and the papers show these values and decide nothing of their own.

pub mod bag;
pub mod card;
pub mod golfer;
pub mod hole;
pub mod live;
pub mod stand;

pub use bag::{BagRow, BagSheet, Step, StepSort};
pub use card::{CardLine, CardSheet};
pub use golfer::Golfer;
pub use hole::{HoleSheet, NoteKind, NoteLine, Standing};
pub use live::{LiveCard, LiveSide};
pub use stand::{DangerLine, StandSheet};
