//! Problems of a file on the error stream: place, message, the line, a caret, what to do.

use crate::notebook::Diagnostic;
use crate::notebook::report::Report;
use std::io::{self, Write};

/// Writes every problem of a file; true when one is an error.
pub(super) fn report(name: &str, text: &str, problems: &[Diagnostic], err: &mut dyn Write) -> io::Result<bool> {
    let report = Report::new(name, text, problems);
    err.write_all(report.to_text().as_bytes())?;
    Ok(report.has_errors())
}
