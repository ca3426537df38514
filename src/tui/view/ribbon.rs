//! Paints the drawing of a hole: half-cells of colour, or a character a cell where colour is lacking.

use super::paint;
use crate::ground::Surface;
use crate::tui::looks::{Depth, Looks};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Color, Modifier, Style};

/// A letter or sign standing on a cell of the drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sign {
    /// Column from the left of the drawing.
    pub column: u16,
    /// Row of cells from its top.
    pub row: u16,
    /// What stands there.
    pub glyph: char,
    /// How strongly it is shown.
    pub weight: SignWeight,
}

/// How a sign is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SignWeight {
    /// A letter that the text shares.
    Letter,
    /// The ball on the stand.
    Ball,
    /// The hole line and other faint things.
    Faint,
}

/// What lies over the ground on a half-cell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Over {
    /// Nothing.
    Nothing,
    /// A club's pattern: 2 where half of the shots finish, 1 where nine in ten do.
    Pattern(u8),
    /// Strokes that the place costs.
    Loss(f64),
}

/// Paints surfaces given by half-cell, then the signs over them.
pub fn paint(
    buf: &mut Buffer,
    area: Rect,
    surface: &dyn Fn(usize, usize) -> Option<Surface>,
    over: &dyn Fn(usize, usize) -> Over,
    signs: &[Sign],
    looks: Looks,
) {
    for row in 0..area.height {
        for column in 0..area.width {
            let (c, top) = (usize::from(column), usize::from(row) * 2);
            let (upper, lower) = (surface(c, top), surface(c, top + 1));
            let Some(cell) = buf.cell_mut((area.x + column, area.y + row)) else { continue };
            if looks.paints() {
                let shade = |s: Option<Surface>, half: usize| {
                    let Some(s) = s else { return Color::Reset };
                    let shaded = Looks::pattern(s, c, half);
                    match over(c, half) {
                        Over::Nothing | Over::Pattern(0) => looks.shade(s, shaded),
                        // A texture too: the outer part is every other half-cell.
                        Over::Pattern(1) if (c + half) % 2 == 1 => looks.shade(s, shaded),
                        Over::Pattern(level) => looks.under_pattern(s, shaded, level),
                        Over::Loss(loss) => looks.under_loss(s, shaded, loss),
                    }
                };
                cell.set_char('▀').set_fg(shade(upper, top)).set_bg(shade(lower, top + 1));
            } else {
                match more_telling(upper, lower) {
                    Some(surface) => match (over(c, top), over(c, top + 1)) {
                        (Over::Pattern(2), _) | (_, Over::Pattern(2)) => {
                            let (glyph, style) = looks.scatter_texture(2);
                            cell.set_char(glyph).set_style(style)
                        }
                        (Over::Pattern(1), _) | (_, Over::Pattern(1)) if (column + row) % 2 == 0 => {
                            let (glyph, style) = looks.scatter_texture(2);
                            cell.set_char(glyph).set_style(style.add_modifier(Modifier::DIM))
                        }
                        _ => cell.set_char(looks.texture(surface)).set_style(looks.texture_style(surface)),
                    },
                    None => cell.set_char(' '),
                };
            }
        }
    }
    for sign in signs {
        let (x, y) = (area.x + sign.column, area.y + sign.row);
        if sign.column >= area.width || sign.row >= area.height {
            continue;
        }
        let (c, top) = (usize::from(sign.column), usize::from(sign.row) * 2);
        let under = more_telling(surface(c, top), surface(c, top + 1));
        let glyph = looks.plain(&sign.glyph.to_string());
        let style = if looks.paints() {
            // The sign stands on the ground as it was painted, pattern included.
            let painted = buf.cell((x, y)).map_or(Color::Reset, |cell| cell.bg);
            let base = under.map_or_else(Style::new, |s| Style::new().fg(looks.ink_on(s)).bg(painted));
            match sign.weight {
                SignWeight::Faint => base,
                SignWeight::Letter | SignWeight::Ball => base.add_modifier(Modifier::BOLD),
            }
        } else {
            match sign.weight {
                SignWeight::Faint => Style::new().add_modifier(Modifier::DIM),
                SignWeight::Letter => Style::new().add_modifier(Modifier::BOLD | Modifier::REVERSED),
                SignWeight::Ball if looks.depth == Depth::None => {
                    Style::new().add_modifier(Modifier::BOLD | Modifier::REVERSED)
                }
                SignWeight::Ball => looks.stroke().add_modifier(Modifier::BOLD | Modifier::REVERSED),
            }
        };
        let shown = paint::text(buf, area, x, y, &glyph, Style::new(), looks);
        if let Some(cell) = buf.cell_mut((x, y)).filter(|_| shown > x) {
            cell.set_style(style);
        }
    }
}

/// Of two half-cells of one character cell, the one a player must not miss: the first in the order of surfaces.
fn more_telling(a: Option<Surface>, b: Option<Surface>) -> Option<Surface> {
    a.into_iter().chain(b).min()
}

/// A bar of eighths, `full` of 8 high, for the strips; plain characters where needed.
pub fn bar(eighths: usize, looks: Looks) -> char {
    const BARS: [char; 9] = [' ', '▁', '▂', '▃', '▄', '▅', '▆', '▇', '█'];
    const PLAIN: [char; 9] = [' ', '.', '.', '-', '-', '=', '=', '#', '#'];
    let table = if looks.ascii { PLAIN } else { BARS };
    table.get(eighths.min(8)).copied().unwrap_or(' ')
}
