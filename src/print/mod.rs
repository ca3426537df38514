//! Paper: the pocket book and the other papers, as PDF, SVG and plain text.
//!
//! Values become leaves (`leaf`: what stands on a page, in reading order), leaves are laid out on pages (`layout`, `flow`:
//! the page model of `page`), pages are written as PDF or SVG; plain text is written from the leaves themselves. Nothing is
//! decided here that the screen does not show: figures come from the sheets and the plan.

pub mod book;
pub mod cover;
pub mod drawing;
pub mod face;
pub mod flow;
pub mod hatch;
pub mod hole;
pub mod impose;
pub mod layout;
pub mod leaf;
pub mod page;
pub mod papers;
pub mod pdf;
pub mod putting;
pub mod size;
pub mod sketch;
pub mod svg;
pub mod table;
pub mod text;

pub use book::{Book, Edition, Wish, advice};
pub use layout::{Laid, Shortened, lay};
pub use leaf::Leaf;
pub use page::Page;
pub use pdf::{About, pdf};
pub use size::Size;
pub use svg::svg;
pub use text::text;
