//! The page model: positioned text, strokes and fills in points (1/72 inch), from which PDF and SVG are written.
//!
//! The origin is the top left corner, y grows downwards. Hatches are strokes already cut to their shapes, so that every
//! writer draws the same lines.

use std::fmt::Write as _;

/// Points in an inch.
pub const INCH: f32 = 72.0;
/// Points in a millimetre.
pub const MM: f32 = 72.0 / 25.4;
/// Nothing is printed smaller than this, points.
pub const SMALLEST: f32 = 6.0;

/// A colour, chosen so that its grey tells as much as its hue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ink(pub u8, pub u8, pub u8);

impl Ink {
    /// Black.
    pub const BLACK: Self = Self(0, 0, 0);
    /// The paper.
    pub const WHITE: Self = Self(255, 255, 255);
    /// For what is said in a lower voice; still 7 to 1 against the paper.
    pub const SOFT: Self = Self(84, 84, 84);
    /// For rules and rings.
    pub const RULE: Self = Self(150, 150, 150);
    /// A band behind a heading.
    pub const BAND: Self = Self(234, 234, 234);

    /// Its lightness on a grey printer, 0 to 255 (Rec. 601 luma).
    pub fn grey(self) -> u8 {
        ((u32::from(self.0) * 299 + u32::from(self.1) * 587 + u32::from(self.2) * 114) / 1000) as u8
    }
}

/// A face of the font.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum Face {
    /// The upright text face.
    #[default]
    Regular,
    /// For what must be found first.
    Bold,
}

/// One step of a path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Step {
    /// Begins a part.
    Move(f32, f32),
    /// A straight line.
    Line(f32, f32),
    /// A cubic curve: two handles and the end.
    Cubic(f32, f32, f32, f32, f32, f32),
    /// Closes the part.
    Close,
}

/// How a path is stroked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Its colour.
    pub ink: Ink,
    /// Its width.
    pub width: f32,
    /// Dash and gap, when it is not solid.
    pub dash: Option<(f32, f32)>,
    /// Round ends and corners: what makes a dot of a line without length.
    pub round: bool,
}

impl Stroke {
    /// A solid line.
    pub const fn solid(ink: Ink, width: f32) -> Self {
        Self { ink, width, dash: None, round: false }
    }

    /// A dashed line.
    pub const fn dashed(ink: Ink, width: f32, on: f32, off: f32) -> Self {
        Self { ink, width, dash: Some((on, off)), round: false }
    }

    /// Dots where the path has lines without length.
    pub const fn dots(ink: Ink, across: f32) -> Self {
        Self { ink, width: across, dash: None, round: true }
    }
}

/// A rectangle.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Frame {
    /// Its left edge.
    pub x: f32,
    /// Its top edge.
    pub y: f32,
    /// Its width.
    pub w: f32,
    /// Its height.
    pub h: f32,
}

impl Frame {
    /// A rectangle by its corner and size.
    pub const fn new(x: f32, y: f32, w: f32, h: f32) -> Self {
        Self { x, y, w, h }
    }

    /// Its right edge.
    pub fn right(&self) -> f32 {
        self.x + self.w
    }

    /// Its lower edge.
    pub fn bottom(&self) -> f32 {
        self.y + self.h
    }

    /// The part of the area that two rectangles share.
    pub fn shared(&self, other: &Self) -> f32 {
        let w = self.right().min(other.right()) - self.x.max(other.x);
        let h = self.bottom().min(other.bottom()) - self.y.max(other.y);
        if w > 0.0 && h > 0.0 { w * h } else { 0.0 }
    }

    /// Whether `other` lies in it.
    pub fn holds(&self, other: &Self) -> bool {
        other.x >= self.x && other.y >= self.y && other.right() <= self.right() && other.bottom() <= self.bottom()
    }

    /// Smaller by `by` on each side.
    #[must_use]
    pub fn inset(&self, by: f32) -> Self {
        Self::new(self.x + by, self.y + by, (self.w - 2.0 * by).max(0.0), (self.h - 2.0 * by).max(0.0))
    }

    /// As a path.
    pub fn path(&self) -> Vec<Step> {
        vec![
            Step::Move(self.x, self.y),
            Step::Line(self.right(), self.y),
            Step::Line(self.right(), self.bottom()),
            Step::Line(self.x, self.bottom()),
            Step::Close,
        ]
    }
}

/// Something on a page.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// Words on a baseline.
    Text {
        /// Where the baseline begins.
        x: f32,
        /// The baseline.
        y: f32,
        /// Their size, points.
        size: f32,
        /// Their face.
        face: Face,
        /// Their colour.
        ink: Ink,
        /// The words.
        words: String,
    },
    /// A path.
    Path {
        /// Its steps.
        steps: Vec<Step>,
        /// Its fill (even-odd).
        fill: Option<Ink>,
        /// Its stroke.
        stroke: Option<Stroke>,
    },
    /// Things of which only what lies in the frame is seen.
    Clip {
        /// The frame.
        frame: Frame,
        /// The things.
        items: Vec<Item>,
    },
}

impl Item {
    /// A filled shape.
    pub fn fill(steps: Vec<Step>, ink: Ink) -> Self {
        Self::Path { steps, fill: Some(ink), stroke: None }
    }

    /// A line.
    pub fn line(steps: Vec<Step>, stroke: Stroke) -> Self {
        Self::Path { steps, fill: None, stroke: Some(stroke) }
    }

    /// A straight line.
    pub fn rule(from: (f32, f32), to: (f32, f32), stroke: Stroke) -> Self {
        Self::line(vec![Step::Move(from.0, from.1), Step::Line(to.0, to.1)], stroke)
    }

    /// A shape with an edge.
    pub fn shape(steps: Vec<Step>, fill: Ink, stroke: Stroke) -> Self {
        Self::Path { steps, fill: Some(fill), stroke: Some(stroke) }
    }

    /// The same thing elsewhere.
    #[must_use]
    pub fn moved(&self, dx: f32, dy: f32) -> Self {
        match self {
            Self::Text { x, y, size, face, ink, words } => {
                Self::Text { x: x + dx, y: y + dy, size: *size, face: *face, ink: *ink, words: words.clone() }
            }
            Self::Path { steps, fill, stroke } => {
                let steps = steps
                    .iter()
                    .map(|step| match *step {
                        Step::Move(x, y) => Step::Move(x + dx, y + dy),
                        Step::Line(x, y) => Step::Line(x + dx, y + dy),
                        Step::Cubic(a, b, c, d, x, y) => Step::Cubic(a + dx, b + dy, c + dx, d + dy, x + dx, y + dy),
                        Step::Close => Step::Close,
                    })
                    .collect();
                Self::Path { steps, fill: *fill, stroke: *stroke }
            }
            Self::Clip { frame, items } => Self::Clip {
                frame: Frame::new(frame.x + dx, frame.y + dy, frame.w, frame.h),
                items: items.iter().map(|i| i.moved(dx, dy)).collect(),
            },
        }
    }
}

/// A circle as four curves.
pub fn circle(x: f32, y: f32, r: f32) -> Vec<Step> {
    // The handle that brings a cubic nearest to a quarter of a circle.
    let k = 0.552_285 * r;
    vec![
        Step::Move(x + r, y),
        Step::Cubic(x + r, y + k, x + k, y + r, x, y + r),
        Step::Cubic(x - k, y + r, x - r, y + k, x - r, y),
        Step::Cubic(x - r, y - k, x - k, y - r, x, y - r),
        Step::Cubic(x + k, y - r, x + r, y - k, x + r, y),
        Step::Close,
    ]
}

/// One page.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Page {
    /// Its width, points.
    pub width: f32,
    /// Its height, points.
    pub height: f32,
    /// What it is called in the outline of a PDF and in the name of an SVG, as `hole-04`.
    pub name: String,
    /// What stands on it, from the back to the front.
    pub items: Vec<Item>,
}

impl Page {
    /// An empty page.
    pub fn new(width: f32, height: f32, name: &str) -> Self {
        Self { width, height, name: name.to_owned(), items: Vec::new() }
    }

    /// Lays all of another page on it.
    pub fn place(&mut self, page: &Page, x: f32, y: f32) {
        self.items.extend(page.items.iter().map(|item| item.moved(x, y)));
    }

    /// Every text of the page, in the order in which it was set.
    pub fn texts(&self) -> Vec<(&str, f32)> {
        fn gather<'p>(items: &'p [Item], out: &mut Vec<(&'p str, f32)>) {
            for item in items {
                match item {
                    Item::Text { words, size, .. } => out.push((words, *size)),
                    Item::Clip { items, .. } => gather(items, out),
                    Item::Path { .. } => {}
                }
            }
        }
        let mut out = Vec::new();
        gather(&self.items, &mut out);
        out
    }
}

/// A figure as files have it: at most two decimals, none that are nothing.
pub fn figure(value: f32, out: &mut String) {
    let hundredths = (f64::from(value) * 100.0).round() as i64;
    let sign = if hundredths < 0 { "-" } else { "" };
    let (whole, part) = (hundredths.abs() / 100, hundredths.abs() % 100);
    let _ = match (part, part % 10) {
        (0, _) => write!(out, "{sign}{whole}"),
        (_, 0) => write!(out, "{sign}{whole}.{}", part / 10),
        _ => write!(out, "{sign}{whole}.{part:02}"),
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_short() {
        let said = |v: f32| {
            let mut out = String::new();
            figure(v, &mut out);
            out
        };
        assert_eq!([said(1.0), said(-0.5), said(2.05), said(0.001), said(-0.001)], ["1", "-0.5", "2.05", "0", "0"]);
    }
}
