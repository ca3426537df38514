//! The layout as a pure function of the size: wide, tall or pocket, and too small.

use ratatui::layout::Rect;

/// The three shapes of a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// Two columns of text under the drawing.
    Wide,
    /// One column under the drawing, with rows to spare.
    Tall,
    /// One column and no row to spare.
    Pocket,
}

/// Below this a page is one line that says so.
pub const LEAST: (u16, u16) = (20, 6);

/// The shape for `area`, or `None` when it is too small to draw a page in.
pub fn shape(area: Rect) -> Option<Shape> {
    if area.width < LEAST.0 || area.height < LEAST.1 {
        None
    } else if area.width >= 72 && area.height >= 20 {
        Some(Shape::Wide)
    } else if area.height >= 30 {
        Some(Shape::Tall)
    } else {
        Some(Shape::Pocket)
    }
}

/// The rows of the Hole page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HoleLayout {
    /// The first line.
    pub head: Rect,
    /// The caution's own line, empty when there is none.
    pub caution: Rect,
    /// The drawing.
    pub ribbon: Rect,
    /// The strips under it, on its scale.
    pub strips: Rect,
    /// Left column of text, or all of it.
    pub left: Rect,
    /// Right column of text; empty in one-column shapes.
    pub right: Rect,
    /// The card strip.
    pub card: Rect,
    /// The hint line.
    pub hints: Rect,
}

/// Cuts `area` into the rows of the Hole page. Every rectangle lies inside `area` at any size.
pub fn hole(area: Rect, shape: Shape, caution: bool) -> HoleLayout {
    let mut top = area.top();
    let mut left_rows = area.height;
    let mut take = |rows: u16| {
        let rows = rows.min(left_rows);
        let rect = Rect { x: area.x, y: top, width: area.width, height: rows };
        top += rows;
        left_rows -= rows;
        rect
    };
    let h = area.height;
    let (card_rows, strip_rows, ribbon_rows) = match shape {
        Shape::Wide if h >= 34 => (5, 4, (h / 3).min(area.width / 8).max(9)),
        Shape::Wide if h >= 30 => (5, 4, 9),
        Shape::Wide if h >= 28 => (5, 3, 9),
        Shape::Wide => (3, if h >= 23 { 2 } else { 1 }, (h.saturating_sub(14)).clamp(4, 8)),
        Shape::Tall => (4, 2, (h / 4).min(area.width / 5).max(5)),
        Shape::Pocket if h >= 18 => (3, 1, 5),
        Shape::Pocket if h >= 12 => (2, 0, 4),
        Shape::Pocket => (1, 0, 2),
    };
    // Words stand one column in from the edge where there is room; the drawing uses the whole width.
    let margin = u16::from(shape == Shape::Wide);
    let inset = |r: Rect| Rect { x: r.x + margin, width: r.width - 2 * margin, ..r };
    let head = inset(take(1));
    let caution = inset(take(u16::from(caution && h >= 8)));
    let ribbon = take(ribbon_rows);
    let strips = take(strip_rows);
    let rest = left_rows.saturating_sub(card_rows + 1);
    let body = inset(Rect { x: area.x, y: top, width: area.width, height: rest });
    let card = inset(Rect { x: area.x, y: top + rest, width: area.width, height: card_rows.min(left_rows - rest) });
    let hints_y = card.bottom();
    let hints =
        inset(Rect { x: area.x, y: hints_y, width: area.width, height: area.bottom().saturating_sub(hints_y).min(1) });
    let (left, right) = if shape == Shape::Wide {
        // The table of dangers needs 52 columns; what is more goes to the words.
        let width = (body.width / 2 - 1).min(52);
        (Rect { width, ..body }, Rect { x: body.x + width + 2, width: body.width - width - 2, ..body })
    } else {
        (body, Rect { x: body.right(), width: 0, ..body })
    };
    HoleLayout { head, caution, ribbon, strips, left, right, card, hints }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rectangles_stay_inside_at_every_size() {
        for width in 1..140 {
            for height in 1..50 {
                let area = Rect::new(0, 0, width, height);
                let Some(shape) = shape(area) else { continue };
                for caution in [false, true] {
                    let l = hole(area, shape, caution);
                    for r in [l.head, l.caution, l.ribbon, l.strips, l.left, l.right, l.card, l.hints] {
                        assert!(r.right() <= area.right() && r.bottom() <= area.bottom(), "{width}x{height} {r:?}");
                    }
                    assert_eq!(l.hints.height, 1, "{width}x{height}");
                    assert!(l.ribbon.height >= 2);
                }
            }
        }
    }
}
