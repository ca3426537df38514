//! Every problem of the open files, each with its line and what to do.

use super::paint;
use crate::notebook::Severity;
use crate::notebook::report::{Excerpt, excerpt};
use crate::tui::state::State;
use ratatui::text::Line;

/// The problems as lines of at most `width` columns.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let mut out = vec![Line::styled("Problems", looks.heading())];
    if state.session.problems.is_empty() {
        out.push(Line::styled("The files that are open have no problems.", looks.quiet()));
    }
    for file in &state.session.problems {
        for diagnostic in &file.diagnostics {
            let Excerpt { line, column, text, caret } = excerpt(&file.text, diagnostic.span, width.min(120));
            let (word, style) = match diagnostic.severity {
                Severity::Error => ("error", looks.danger()),
                Severity::Warning => ("warning", looks.caution()),
            };
            out.push(Line::default());
            for part in paint::wrap(&format!("{}:{line}:{column}: {word}: {}", file.name, diagnostic.message), width) {
                out.push(Line::styled(part, style));
            }
            out.push(Line::styled(text, looks.text()));
            out.push(Line::styled(caret, style));
            for part in paint::wrap(&diagnostic.advice, width) {
                out.push(Line::styled(part, looks.quiet()));
            }
        }
    }
    out
}
