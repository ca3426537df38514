//! Every problem of the open files, each with its line and what to do.

use crate::notebook::report::Report;
use crate::tui::state::State;
use crate::tui::view::paint;
use ratatui::text::Line;

/// The problems as lines of at most `width` columns.
pub fn lines(state: &State, width: usize) -> Vec<Line<'static>> {
    let looks = state.looks;
    let mut out = vec![Line::styled("Problems", looks.heading()), Line::default()];
    if state.session.problems.is_empty() {
        out.push(Line::styled("The files that are open have no problems.", looks.quiet()));
    }
    for file in &state.session.problems {
        let shown = Report::new(&file.name, &file.text, &file.diagnostics).to_text();
        for line in shown.lines() {
            let style = if line.starts_with(' ') {
                looks.text()
            } else if line.contains(": error: ") {
                looks.danger()
            } else if line.contains(": warning: ") {
                looks.caution()
            } else {
                looks.text()
            };
            // An excerpt and its caret must keep their columns; words may be broken.
            if line.starts_with(' ') || line.chars().count() <= width {
                out.push(Line::styled(line.to_owned(), style));
            } else {
                out.extend(paint::wrap(line, width).into_iter().map(|part| Line::styled(part, style)));
            }
        }
    }
    out
}
