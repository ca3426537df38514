//! The text of human files: guard, nodes with spans, diagnostics, lossless edits. Knows no golf.
//!
//! A human file is kept as its text. [`read`] passes it through a guard (size, depth, aliases), turns parser
//! events into [`Node`]s that keep every scalar as **raw text** and remember where it stood, and never fails
//! outright: what could be understood is returned beside the [`Diagnostic`]s. The room that knows the
//! meaning of the keys walks the nodes, pushes its own diagnostics and goes on.

pub mod diagnostic;
pub mod node;

pub use diagnostic::{Diagnostic, Severity};
pub use node::{Entry, Kind, Node, Span};
