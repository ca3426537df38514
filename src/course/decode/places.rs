//! Places along and across a hole, read in the file's unit.

use super::{BARE_ACROSS, Bounds, NOT_A_BAND, NOT_ACROSS, OUT_OF_RANGE, Reader, quoted};
use crate::notebook::{Node, Span};
use crate::units::place::read_decimal;
use crate::units::{Across, Along, Band, LengthUnit};

/// Where along a hole something can lie, yards: trees may stand well behind the tee and well behind the green.
pub const ALONG: Bounds = Bounds::new("a place along the hole", -500.0, 2000.0);

impl Reader {
    /// A place along the line, yards from its start.
    pub fn along(&mut self, node: &Node, key: &str) -> Option<Along> {
        self.length(node, key, ALONG).map(Along)
    }

    /// A place across the line: `4L`, `6R` or `0`.
    pub fn across(&mut self, node: &Node, key: &str) -> Option<Across> {
        let unit = self.unit;
        self.sided(node, key, unit).map(Across)
    }

    /// A place across, or a curve, of at most so many yards.
    pub fn across_within(&mut self, node: &Node, key: &str, most: f64) -> Option<Across> {
        let across = self.across(node, key)?;
        if across.0.abs() <= most {
            return Some(across);
        }
        let message = format!("`{key}` is {}, and no shot curves so far", across.show(self.unit));
        self.error(OUT_OF_RANGE, node.span, message, "check the figure and its unit");
        None
    }

    /// An angle to a side, `18R`, in degrees, positive to the right.
    pub fn turn(&mut self, node: &Node, key: &str) -> Option<f64> {
        self.sided(node, key, LengthUnit::Yards)
    }

    fn sided(&mut self, node: &Node, key: &str, unit: LengthUnit) -> Option<f64> {
        let text = self.raw(node, key)?;
        if let Some(across) = Across::read(text, unit) {
            return Some(across.0);
        }
        if read_decimal(text).is_some() {
            self.bare_across(node.span, key, text);
        } else {
            let message = format!("`{key}` needs a side, not {}", quoted(text));
            self.error(NOT_ACROSS, node.span, message, "write `4L` for 4 left, `6R` for 6 right, `0` on the line");
        }
        None
    }

    /// A band across the line: `13L..27L`, `14L..16R`, `75L..`.
    pub fn band(&mut self, node: &Node, key: &str) -> Option<Band> {
        let text = self.raw(node, key)?;
        if let Some(band) = Band::read(text, self.unit).filter(|band| band.width() > 0.0) {
            return Some(band);
        }
        let bare = text.split("..").find(|part| read_decimal(part.trim()).is_some_and(|v| v != 0.0));
        if let Some(bare) = bare {
            self.bare_across(node.span, key, bare.trim());
        } else {
            let message = format!("`{key}` needs a band across the line, not {}", quoted(text));
            let advice = "write both edges, `13L..27L` or `14L..16R`, or `75L..` for outwards without end";
            self.error(NOT_A_BAND, node.span, message, advice);
        }
        None
    }

    fn bare_across(&mut self, span: Span, key: &str, text: &str) {
        let message = format!("`{key}` is {}, which says no side", quoted(text));
        self.error(BARE_ACROSS, span, message, format!("write `{text}L` for left or `{text}R` for right of the line"));
    }
}
