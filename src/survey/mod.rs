//! Maps to draft ground: OpenStreetMap, GPX and GeoJSON as values, with a list of what was not understood.
//!
//! [`read`] tells the format of a file by its content and gives elements with ids, tags and shapes; nothing on the way is
//! guessed silently: what cannot be used is named with its id and the reason.

pub mod advice;
pub mod again;
mod attach;
pub mod changes;
pub mod clip;
pub mod codes;
mod courses;
pub mod draft;
pub mod element;
pub mod flip;
pub mod gpx;
pub mod ground_file;
pub mod ground_read;
pub mod heights;
pub mod hole;
pub mod kind;
pub mod lay;
mod lines;
pub mod measure;
pub mod merge;
mod one_course;
mod order;
pub mod placed;
pub mod played;
mod profile;
pub mod pupils;
pub mod read;
pub mod said;
pub mod scout;
pub mod tie;
pub mod track;
pub mod values;

pub use element::{Discarded, Element, Map, Patch, Shape, Tags};
pub use ground_read::{GroundFile, GroundHole, SurveyedPiece, read_ground};
pub use hole::{Number, SurveyedHole};
pub use kind::{Colour, Kind};
pub use lay::{Laid, lay_over, ties};
pub use one_course::{Listed, Refused, Survey, Unattached, survey, survey_over};
pub use read::{Format, Source, Unreadable};
pub use tie::Tie;
