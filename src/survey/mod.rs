//! Maps to draft ground: OpenStreetMap, GPX and GeoJSON as values, with a list of what was not understood.
//!
//! [`read`] tells the format of a file by its content and gives elements with ids, tags and shapes; nothing on the way is
//! guessed silently: what cannot be used is named with its id and the reason.

mod attach;
mod courses;
pub mod element;
pub mod hole;
pub mod kind;
mod lines;
mod one_course;
mod order;
pub mod placed;
pub mod played;
pub mod read;
pub mod track;
pub mod values;
pub(crate) mod heights {
    //! stub
    pub fn hgt_side(_: usize) -> Option<usize> { None }
}

pub use element::{Credit, Discarded, Element, Map, Patch, Shape, Tags};
pub use kind::{Colour, Kind};
pub use hole::{Number, SurveyedHole};
pub use read::{Format, Source, Unreadable};
pub use one_course::{Listed, Refused, Survey, Unattached, survey};
