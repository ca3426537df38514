//! Files to what is open and back: reading a notebook with its layers, taking a round up, making one's own copy.

mod begin;
mod chosen;
mod competition;
mod copy;
mod course_edit;
mod day;
mod edit;
mod example;
mod freeze;
mod ground;
mod group;
mod list;
mod load;
mod open;
mod pupils;
mod results;
mod round;

pub use begin::{Begun, NotBegun, begin, keep_texts, write_card};
pub use chosen::{commitments, commitments_file, keep_commitment, keep_pins, pins, pins_file};
pub use competition::{FileProblems, Opened, open_competition, problems_of_part};
pub use copy::{OwnCopy, own_copy};
pub use course_edit::{CourseEdited, CourseText, course_text, edit_course, layer_name, save_course, with_course_text};
pub use day::{DayEdited, day_edited, day_path, day_text, edit_day, export_day, with_day};
pub use edit::{NotEdited, PlayerEdited, edit_player, edited};
pub use example::{EXAMPLE_FILES, example, example_text};
pub use freeze::{freeze, frozen, plans};
pub use ground::{LaidGround, lay, lay_beside};
pub use group::{Group, open_group};
pub use list::{ShelfItem, ShelfKind, list};
pub use load::{Load, Wanted, files_of, open_course, reread};
pub use open::{format_of, open, player_for};
pub use pupils::{PupilList, pupil_list, pupil_lists};
pub use results::{Closed, Manifest, NamedDigest, Proof, close, latest, prove};
pub use round::{Taken, take_up};
