//! Files to what is open and back: reading a notebook with its layers, taking a round up, making one's own copy.

mod begin;
mod competition;
mod copy;
mod edit;
mod example;
mod freeze;
mod ground;
mod list;
mod load;
mod open;
mod past;
mod refused;
mod results;
mod round;
mod walk;

pub use begin::{Begun, NotBegun, begin, keep_texts, write_card};
pub use competition::{FileProblems, Opened, open_competition, problems_of_part};
pub use copy::{OwnCopy, own_copy};
pub use edit::{NotEdited, PlayerEdited, edit_player, edited};
pub use example::{EXAMPLE_FILES, example, example_text};
pub use freeze::{freeze, frozen, plans};
pub use ground::{LaidGround, lay, lay_beside};
pub use list::{ShelfItem, ShelfKind, list};
pub use load::{Load, Wanted, files_of, open_course, reread};
pub use open::{format_of, open, player_for};
pub use past::{Past, as_it_was, rounds_of};
pub use refused::{Refusals, refusals, refuse};
pub use results::{Closed, Manifest, NamedDigest, Proof, close, latest, prove};
pub use round::{Taken, take_up};
pub use walk::shots_of_walk;
