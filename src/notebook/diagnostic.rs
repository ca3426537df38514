//! One problem of a file: where it stands, what is wrong, what would be right.

use super::Span;

/// Whether the file can be used as it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The part of the file it stands in cannot be used.
    Error,
    /// The file is used, with the assumption that the message names.
    Warning,
}

/// One problem of a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// A stable name such as `unknown-key`; every one has a small broken file under `tests/notebooks/broken/`.
    pub code: &'static str,
    /// Error or warning.
    pub severity: Severity,
    /// Where it stands.
    pub span: Span,
    /// What is wrong, in one sentence without a full stop.
    pub message: String,
    /// What to do, in one sentence; empty when the message says it.
    pub advice: String,
}
