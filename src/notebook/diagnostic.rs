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

impl Severity {
    /// The word in front of a message: `error` or `warning`.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
        }
    }
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

impl Diagnostic {
    /// An error at `span`.
    pub fn error(code: &'static str, span: Span, message: impl Into<String>) -> Self {
        Diagnostic { code, severity: Severity::Error, span, message: message.into(), advice: String::new() }
    }

    /// A warning at `span`.
    pub fn warning(code: &'static str, span: Span, message: impl Into<String>) -> Self {
        Diagnostic { severity: Severity::Warning, ..Diagnostic::error(code, span, message) }
    }

    /// The same problem with what to do about it.
    #[must_use]
    pub fn advise(mut self, advice: impl Into<String>) -> Self {
        self.advice = advice.into();
        self
    }
}

/// Every code that reading a text gives; each has a file `tests/notebooks/broken/CODE.yaml`, except those of [`BYTE_CODES`]
/// and [`LARGE_CODES`], whose files are made by the tests.
pub const CODES: &[&str] = &[
    "alias",
    "bad-indent",
    "colon-ended-text",
    "comma-ended-text",
    "control-character",
    "duplicate-key",
    "empty-file",
    "hash-ended-text",
    "key-not-text",
    "key-without-value",
    "not-utf8",
    "second-document",
    "syntax",
    "tab-indent",
    "tag",
    "text-start",
    "too-big",
    "too-deep",
    "too-long-text",
    "too-many-problems",
    "too-many-values",
    "unclosed-bracket",
    "unclosed-quote",
    "utf16",
    "wrong-bracket",
];

/// Codes of [`CODES`] that only bytes which are not text can show.
pub const BYTE_CODES: &[&str] = &["not-utf8", "utf16"];

/// Codes of [`CODES`] that need a file too large to keep beside the tests.
pub const LARGE_CODES: &[&str] = &["too-big", "too-long-text", "too-many-problems", "too-many-values"];

/// Codes of [`CODES`] after which a part of the text may be unread, so that what is missing need not be.
pub const UNREAD_CODES: &[&str] = &[
    "alias",
    "bad-indent",
    "control-character",
    "empty-file",
    "key-not-text",
    "not-utf8",
    "second-document",
    "syntax",
    "tab-indent",
    "tag",
    "text-start",
    "too-big",
    "too-deep",
    "too-long-text",
    "too-many-values",
    "unclosed-bracket",
    "unclosed-quote",
    "utf16",
    "wrong-bracket",
];
