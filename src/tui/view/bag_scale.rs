//! The clubs to scale: the boxes of two in three from above, the carries under them, and a lane a club.

use super::paint;
use crate::pattern::bag::Club;
use crate::sheet::{BagRow, BagSheet, StepSort};
use crate::tui::looks::Looks;
use crate::units::{Length, LengthUnit};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Color, Modifier, Style};
use ratatui::text::Span;

/// The scale of the drawing: the player stands at the left edge, half a row is as long as a column is wide.
#[derive(Clone, Copy, Debug)]
struct Scale {
    /// Yards a column.
    yards: f64,
    /// Yards across of the upper edge, left of the line negative.
    top: f64,
}

impl Scale {
    fn of<'a>(clubs: impl Iterator<Item = &'a Club> + Clone, columns: u16, rows: u16) -> Self {
        let far = clubs.clone().map(|c| c.total() + 0.5 * c.deep).fold(1.0, f64::max);
        let left = clubs.clone().map(|c| c.curve - 0.5 * c.wide).fold(0.0, f64::min);
        let right = clubs.map(|c| c.curve + 0.5 * c.wide).fold(0.0, f64::max);
        let halves = 2.0 * f64::from(rows.max(1));
        let yards = (far / f64::from(columns.max(1))).max((right - left) / halves);
        // What is left over stands on both sides alike.
        Self { yards, top: left - 0.5 * (halves * yards - (right - left)) }
    }

    fn column(self, along: f64) -> u16 {
        (along / self.yards).max(0.0) as u16
    }

    fn row(self, across: f64) -> u16 {
        (((across - self.top) / self.yards).max(0.0) / 2.0) as u16
    }

    /// Whether the middle of a half-cell lies in the box of a club.
    fn inside(self, club: &Club, column: u16, half: u16) -> bool {
        let along = (f64::from(column) + 0.5) * self.yards;
        let across = self.top + (f64::from(half) + 0.5) * self.yards;
        (along - club.total()).abs() <= 0.5 * club.deep && (across - club.curve).abs() <= 0.5 * club.wide
    }
}

/// The rows that the drawing of `columns` can use, the two under it included: more would only add ground on both sides.
pub fn rows_of_use(sheet: &BagSheet, columns: u16) -> u16 {
    let clubs = sheet.rows.iter().filter_map(|r| r.shot.as_ref());
    let scale = Scale::of(clubs.clone(), columns, u16::MAX);
    let left = clubs.clone().map(|c| c.curve - 0.5 * c.wide).fold(0.0, f64::min);
    let right = clubs.map(|c| c.curve + 0.5 * c.wide).fold(0.0, f64::max);
    ((right - left) / scale.yards / 2.0).ceil() as u16 + 2
}

/// Draws the box of the club at `row` with its flight and run, the boxes of its two neighbours, and under them every
/// carry: a gap is dashed, an overlap crossed. The last rows of `area` are the carries and the figures.
pub fn field(buf: &mut Buffer, area: Rect, sheet: &BagSheet, row: usize, units: LengthUnit, looks: Looks) {
    let clubs = || sheet.rows.iter().filter_map(|r| r.shot.as_ref());
    if area.height < 4 || clubs().next().is_none() {
        return;
    }
    let cells = Rect { height: area.height - 2, ..area };
    let scale = Scale::of(clubs(), cells.width, cells.height);
    let club_at = |i: Option<usize>| i.and_then(|i| sheet.rows.get(i)).and_then(|r| r.shot.as_ref());
    let own = club_at(Some(row));
    let beside = [club_at(row.checked_sub(1)), club_at(Some(row + 1))];
    let level = |column: u16, half: u16| -> u8 {
        let near = beside.iter().flatten().any(|c| scale.inside(c, column, half));
        let here = own.is_some_and(|c| scale.inside(c, column, half));
        u8::from(near) + 2 * u8::from(here)
    };
    for y in 0..cells.height {
        for x in 0..cells.width {
            let (upper, lower) = (level(x, 2 * y), level(x, 2 * y + 1));
            if upper == 0 && lower == 0 {
                continue;
            }
            let Some(cell) = buf.cell_mut((cells.x + x, cells.y + y)) else { continue };
            if looks.paints() {
                let shade = |l: u8| if l == 0 { Color::Reset } else { looks.scatter(l) };
                if upper == 0 {
                    cell.set_char('▄').set_fg(shade(lower)).set_bg(Color::Reset);
                } else {
                    cell.set_char('▀').set_fg(shade(upper)).set_bg(shade(lower));
                }
            } else {
                let (glyph, style) = looks.scatter_texture(upper.max(lower));
                cell.set_char(glyph).set_style(style);
            }
        }
    }
    if let Some(club) = own {
        flight(buf, cells, club, scale, looks);
    }
    carries(buf, Rect { y: cells.bottom(), height: 1, ..area }, sheet, row, scale, looks);
    figures(buf, Rect { y: cells.bottom() + 1, height: 1, ..area }, scale, units, looks);
}

/// The flight to the carry, the run to where a usual shot finishes.
fn flight(buf: &mut Buffer, cells: Rect, club: &Club, scale: Scale, looks: Looks) {
    let (dot, ground, lands, ends) = if looks.ascii { ('.', '-', 'o', '+') } else { ('·', '─', '○', '●') };
    let mut put = |along: f64, glyph: char| {
        // A curve grows with the square of the way (common practice for drawings).
        let across = club.curve * (along / club.total().max(1.0)).powi(2);
        let (x, y) = (scale.column(along), scale.row(across));
        if x >= cells.width || y >= cells.height {
            return;
        }
        let Some(cell) = buf.cell_mut((cells.x + x, cells.y + y)) else { return };
        let painted = looks.paints() && cell.symbol() != " ";
        let ground = cell.bg;
        cell.set_char(glyph).set_style(Style::reset().add_modifier(Modifier::BOLD));
        if painted {
            let ink = if looks.light { Color::Rgb(24, 20, 12) } else { Color::Rgb(16, 14, 10) };
            cell.set_bg(if ground == Color::Reset { looks.scatter(2) } else { ground });
            cell.set_fg(if looks.depth == crate::tui::looks::Depth::True { ink } else { Color::Black });
        }
    };
    let step = scale.yards;
    let mut along = 0.5 * step;
    while along < club.total() {
        if along >= club.carry {
            put(along, ground);
        } else if ((along / step) as u32).is_multiple_of(2) {
            put(along, dot);
        }
        along += step;
    }
    put(club.total(), ends);
    put(club.carry, lands);
}

/// A tick under each carry.
fn carries(buf: &mut Buffer, line: Rect, sheet: &BagSheet, row: usize, scale: Scale, looks: Looks) {
    let (tick, own, gap, crossed) = if looks.ascii { ("|", "^", "-", "X") } else { ("╵", "▲", "╌", "╳") };
    for pair in sheet.rows.windows(2) {
        let [BagRow { shot: Some(a), step: Some(step), .. }, BagRow { shot: Some(b), .. }] = pair else { continue };
        if step.sort == StepSort::Gap {
            for x in scale.column(b.carry) + 1..scale.column(a.carry) {
                paint::text(buf, line, line.x + x, line.y, gap, looks.caution(), looks);
            }
        }
    }
    for (i, shown) in sheet.rows.iter().enumerate() {
        let Some(club) = &shown.shot else { continue };
        let near = |step: Option<crate::sheet::Step>| step.is_some_and(|s| s.sort == StepSort::Overlap);
        let before = i.checked_sub(1).and_then(|i| sheet.rows.get(i)).and_then(|r| r.step);
        let (glyph, style) = if i == row {
            (own, looks.heading())
        } else if near(shown.step) || near(before) {
            (crossed, looks.caution())
        } else {
            (tick, looks.quiet())
        };
        paint::text(buf, line, line.x + scale.column(club.carry), line.y, glyph, style, looks);
    }
}

/// Round distances from the player.
fn figures(buf: &mut Buffer, line: Rect, scale: Scale, units: LengthUnit, looks: Looks) {
    let each = if f64::from(line.width) * scale.yards > 150.0 { 50.0 } else { 25.0 };
    let mut figure = 0.0;
    loop {
        let x = scale.column(Length::new(figure, units).as_yards());
        if x + 3 > line.width {
            return;
        }
        // The figure stands under its own column, the first at the edge.
        let words = format!("{figure}");
        let back = (words.len() as u16 / 2).min(x);
        paint::text(buf, line, line.x + x - back, line.y, &words, looks.quiet(), looks);
        figure += each;
    }
}

/// The lane of a club: its box along the line, its carry and its run, all lanes on one scale; where a gap follows, the way
/// down to the next club's carry is dashed.
pub fn lane(sheet: &BagSheet, row: usize, width: usize, looks: Looks) -> Vec<Span<'static>> {
    let clubs = || sheet.rows.iter().filter_map(|r| r.shot.as_ref());
    let Some(BagRow { shot: Some(club), step, .. }) = sheet.rows.get(row) else { return Vec::new() };
    let low = clubs().map(|c| (c.total() - 0.5 * c.deep).min(c.carry)).fold(f64::INFINITY, f64::min);
    let high = clubs().map(|c| c.total() + 0.5 * c.deep).fold(low + 1.0, f64::max);
    let column = |yards: f64| (((yards - low) / (high - low) * width as f64).max(0.0) as usize).min(width - 1);
    let (box_glyph, run, lands, gap) = if looks.ascii { (':', '=', 'o', '-') } else { ('░', '━', '●', '╌') };
    let mut cells = vec![(' ', looks.quiet()); width];
    let mut fill = |from: f64, to: f64, glyph: char, style: Style| {
        for cell in cells.iter_mut().take(column(to) + 1).skip(column(from)) {
            *cell = (glyph, style);
        }
    };
    let next = sheet.rows.get(row + 1).and_then(|r| r.shot.as_ref());
    if let (Some(next), Some(step)) = (next, step)
        && step.sort == StepSort::Gap
    {
        fill(next.carry, club.carry, gap, looks.caution());
    }
    fill(club.total() - 0.5 * club.deep, club.total() + 0.5 * club.deep, box_glyph, looks.quiet());
    fill(club.carry, club.total(), run, looks.figure());
    fill(club.carry, club.carry, lands, looks.figure());
    cells.into_iter().map(|(glyph, style)| Span::styled(glyph.to_string(), style)).collect()
}
