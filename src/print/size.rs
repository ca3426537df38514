//! Sizes of pages and of the sheets they are cut from.

use super::page::{INCH, MM};
use std::fmt;

/// A page, points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// Its width.
    pub width: f32,
    /// Its height.
    pub height: f32,
}

/// Why a size cannot be used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoSize {
    /// It cannot be read.
    #[error("a page is 4.25x7in, 90x140mm, a6, a5, a4 or letter")]
    Unread,
    /// It is out of bounds.
    #[error(
        "a page is from 2.9 x 4.5 inches (74 x 114 mm) to 17 x 17 inches, and no wider than high by more than half"
    )]
    Bounds,
}

impl Size {
    /// 4¼ by 7 inches: the largest that the Interpretation of Rule 4.3a allows a book with greens.
    pub const POCKET: Self = Self { width: 4.25 * INCH, height: 7.0 * INCH };
    /// A6.
    pub const A6: Self = Self { width: 105.0 * MM, height: 148.0 * MM };
    /// A5.
    pub const A5: Self = Self { width: 148.0 * MM, height: 210.0 * MM };
    /// A4.
    pub const A4: Self = Self { width: 210.0 * MM, height: 297.0 * MM };
    /// Letter.
    pub const LETTER: Self = Self { width: 8.5 * INCH, height: 11.0 * INCH };

    /// Reads `4.25x7in`, `90x140mm`, `a6`, `letter`.
    ///
    /// ```
    /// use marram::print::Size;
    /// assert_eq!(Size::read("4.25x7in").unwrap(), Size::POCKET);
    /// assert!(Size::read("1x1in").is_err());
    /// ```
    ///
    /// # Errors
    /// [`NoSize`].
    pub fn read(text: &str) -> Result<Self, NoSize> {
        let text = text.trim().to_lowercase();
        let named = match text.as_str() {
            "a6" => Some(Self::A6),
            "a5" => Some(Self::A5),
            "a4" => Some(Self::A4),
            "letter" => Some(Self::LETTER),
            _ => None,
        };
        let size = named.or_else(|| measured(&text)).ok_or(NoSize::Unread)?;
        let fits = size.width >= 2.9 * INCH
            && size.height >= 4.5 * INCH
            && size.width <= 17.0 * INCH
            && size.height <= 17.0 * INCH;
        if fits && size.width <= size.height * 1.5 { Ok(size) } else { Err(NoSize::Bounds) }
    }

    /// Whether it is no larger than `other` either way.
    pub fn within(self, other: (f32, f32)) -> bool {
        self.width <= other.0 + 0.01 && self.height <= other.1 + 0.01
    }

    /// Lying on its side.
    #[must_use]
    pub const fn lying(self) -> Self {
        Self { width: self.height, height: self.width }
    }
}

fn measured(text: &str) -> Option<Size> {
    let (figures, unit) = if let Some(figures) = text.strip_suffix("in") {
        (figures, INCH)
    } else if let Some(figures) = text.strip_suffix("mm") {
        (figures, MM)
    } else {
        (text.strip_suffix("cm")?, 10.0 * MM)
    };
    let (w, h) = figures.split_once(['x', '×'])?;
    let read = |t: &str| crate::units::place::read_decimal(t.trim()).map(|v| v as f32 * unit);
    Some(Size { width: read(w)?, height: read(h)? })
}

impl fmt::Display for Size {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:.0} x {:.0} mm", self.width / MM, self.height / MM)
    }
}
