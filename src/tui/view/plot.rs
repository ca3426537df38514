//! A record over time in characters: differentials as marks, the index after each score as a line.

use crate::sheet::ScoreLine;
use crate::tui::looks::Looks;
use crate::units::tenths::Tenths;
use ratatui::style::Style;
use ratatui::text::{Line, Span};

/// Columns of the scale at the left.
const SCALE: usize = 6;

/// One cell of the drawing.
#[derive(Clone, Copy)]
struct Cell {
    mark: char,
    style: Style,
}

/// The plot of `scores` (in order of date) in `width` columns and `rows` rows, with its scale, its dates and what the marks
/// mean; empty where there is nothing to draw or no room.
pub fn plot(scores: &[ScoreLine], width: usize, rows: usize, looks: Looks) -> Vec<Line<'static>> {
    let columns = width.saturating_sub(SCALE + 1);
    let (Some(first), Some(last)) = (scores.first(), scores.last()) else { return Vec::new() };
    let values = || scores.iter().flat_map(|s| [s.differential, s.index.map(|i| i.value())]).flatten();
    let (Some(least), Some(most)) = (values().min(), values().max()) else { return Vec::new() };
    if columns < 12 || rows < 3 {
        return Vec::new();
    }
    // Whole strokes at the edges, so that the scale can be read.
    let bottom = least.tenths().div_euclid(10);
    let top = (most.tenths() + 9).div_euclid(10).max(bottom + 1);
    let span = f64::from(top - bottom);
    // Thirds of a row for the line: an index moves by tenths where a row is a stroke or more.
    let third = |value: Tenths| {
        let share = (f64::from(value.tenths()) / 10.0 - f64::from(bottom)) / span;
        ((1.0 - share) * (rows * 3 - 1) as f64).round().max(0.0) as usize
    };
    let days = (last.date - first.date).num_days().max(1) as f64;
    let column = |score: &ScoreLine| {
        let share = (score.date - first.date).num_days() as f64 / days;
        (share * (columns - 1) as f64).round() as usize
    };
    let mut cells = vec![vec![Cell { mark: ' ', style: Style::new() }; columns]; rows];
    let mut put = |x: usize, y: usize, cell: Cell| {
        if let Some(slot) = cells.get_mut(y).and_then(|row| row.get_mut(x)) {
            *slot = cell;
        }
    };
    for x in 0..columns {
        // The index in effect in this column: that after the last score up to it.
        let index = scores.iter().take_while(|s| column(s) <= x).filter_map(|s| s.index).last();
        if let Some(index) = index {
            let at = third(index.value());
            let mark = match (at % 3, looks.ascii) {
                (0, false) => '▔',
                (1, false) => '─',
                (_, false) => '▁',
                (0 | 1, true) => '-',
                (_, true) => '_',
            };
            put(x, at / 3, Cell { mark, style: looks.figure() });
        }
    }
    let (counts, passes) = marks(looks);
    for score in scores {
        let Some(value) = score.differential else { continue };
        let (mark, style) = if score.counts { (counts, looks.stroke()) } else { (passes, looks.quiet()) };
        put(column(score), third(value) / 3, Cell { mark, style });
    }
    let mut out = Vec::with_capacity(rows + 2);
    for (y, row) in cells.iter().enumerate() {
        // A label at the edges and in the middle.
        let label = if y == 0 {
            top.to_string()
        } else if y + 1 == rows {
            bottom.to_string()
        } else if y == rows / 2 {
            let value = f64::from(top) - span * y as f64 / (rows - 1) as f64;
            format!("{value:.1}")
        } else {
            String::new()
        };
        let edge = if looks.ascii { '|' } else { '│' };
        let mut spans = vec![Span::styled(format!("{label:>SCALE$}{edge}"), looks.quiet())];
        spans.extend(row.iter().map(|cell| Span::styled(cell.mark.to_string(), cell.style)));
        out.push(Line::from(spans));
    }
    let (from, to) = (first.date.to_string(), last.date.to_string());
    let gap = columns.saturating_sub(from.len() + to.len());
    let dates = if scores.len() > 1 && gap > 0 { format!("{from}{}{to}", " ".repeat(gap)) } else { from };
    out.push(Line::styled(format!("{}{dates}", " ".repeat(SCALE + 1)), looks.quiet()));
    let line = if looks.ascii { '-' } else { '─' };
    out.push(Line::styled(
        format!("{}{counts} differential that counts  {passes} that does not  {line} index", " ".repeat(SCALE + 1)),
        looks.quiet(),
    ));
    out
}

/// The marks of a differential that counts for the index and of one that does not.
pub fn marks(looks: Looks) -> (char, char) {
    if looks.ascii { ('*', 'o') } else { ('●', '○') }
}
