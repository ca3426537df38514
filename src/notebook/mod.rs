//! The text of human files: guard, nodes with spans, diagnostics, lossless edits. Knows no golf.
//!
//! A human file is kept as its text. [`read`] passes it through a guard (size, depth, aliases), turns parser
//! events into [`Node`]s that keep every scalar as **raw text** and remember where it stood, and never fails
//! outright: what could be understood is returned beside the [`Diagnostic`]s. The room that knows the
//! meaning of the keys walks the nodes, pushes its own diagnostics and goes on.

mod build;
pub mod diagnostic;
pub mod document;
pub mod edit;
pub mod endings;
mod guard;
pub mod nearest;
pub mod node;
pub mod place;
mod read;
mod recover;
pub mod report;
mod syntax;
pub mod table;

pub use diagnostic::{Diagnostic, Severity};
pub use document::Document;
pub use guard::{MAX_BYTES, MAX_DEPTH, MAX_TEXT, MAX_VALUES, decode, showable};
pub use nearest::{did_you_mean, nearest, quoted};
pub use node::{Entry, Kind, Node, Span};
pub use place::{Lines, Place};
pub use read::read;
