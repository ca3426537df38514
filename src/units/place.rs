//! Places along and across a hole, and the two origins that must never be mixed.

use super::{Length, LengthUnit};
use serde::{Deserialize, Serialize};

/// A distance along the hole line, counted from the **start of the line** (the tee named in `line_from`).
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
pub struct Along(pub f64);

/// A distance along the hole counted from **the tee that a person plays**. The only one shown to people.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
pub struct FromTee(pub f64);

/// Where a tee stands along the line; the only bridge between [`Along`] and [`FromTee`].
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct TeeOrigin(pub Along);

impl TeeOrigin {
    /// A place on the line as the player of this tee counts it, in yards.
    pub fn from_tee(self, at: Along) -> FromTee {
        FromTee(at.0 - self.0.0)
    }

    /// A distance from this tee as a place on the line, in yards.
    pub fn along(self, from: FromTee) -> Along {
        Along(from.0 + self.0.0)
    }
}

impl FromTee {
    /// The whole yards or metres, without the unit.
    pub fn show(self, unit: LengthUnit) -> String {
        Length::yards(self.0).show(unit)
    }
}

/// How far left (negative) or right (positive) of the hole line, in yards, as the player looks along it.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default, Serialize, Deserialize)]
pub struct Across(pub f64);

impl Across {
    /// `4L`, `6R` or `0`, in whole units.
    pub fn show(self, unit: LengthUnit) -> String {
        let figure = Length::yards(self.0).in_unit(unit).round();
        if figure == 0.0 {
            "0".to_owned()
        } else if figure < 0.0 {
            format!("{}L", -figure)
        } else {
            format!("{figure}R")
        }
    }

    /// Reads `4L`, `6r`, `12.5L` or `0` in `unit`. `None` when it is not one of these; the caller says what would be.
    pub fn read(text: &str, unit: LengthUnit) -> Option<Self> {
        let text = text.trim();
        let last = text.chars().last()?;
        let sign = match last {
            'L' | 'l' => -1.0,
            'R' | 'r' => 1.0,
            _ => return (read_decimal(text)? == 0.0).then_some(Self(0.0)),
        };
        let figure = read_decimal(text.get(..text.len() - 1)?)?;
        Some(Self(Length::new(sign * figure, unit).as_yards() + 0.0))
    }
}

/// An unsigned decimal of plain digits with at most one point: no exponent, sign, blank, `inf` or `nan`.
pub fn read_decimal(text: &str) -> Option<f64> {
    let plain = !text.is_empty()
        && text.len() <= 12
        && text.bytes().all(|b| b.is_ascii_digit() || b == b'.')
        && text.bytes().filter(|b| *b == b'.').count() <= 1
        && text.bytes().any(|b| b.is_ascii_digit());
    if plain { text.parse().ok() } else { None }
}

/// A band across the hole, from its left edge to its right edge in yards; an open side is infinite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// The left edge; `-inf` when the band reaches outwards to the left without end.
    pub left: f64,
    /// The right edge; `+inf` when the band reaches outwards to the right without end.
    pub right: f64,
}

impl Band {
    /// Reads `13L..27L`, `14L..16R` (either order), `75L..` (outwards without end); `None` when it is none of them.
    pub fn read(text: &str, unit: LengthUnit) -> Option<Self> {
        let (first, second) = text.split_once("..")?;
        let first = Across::read(first, unit)?.0;
        if second.trim().is_empty() {
            return if first < 0.0 {
                Some(Self { left: f64::NEG_INFINITY, right: first })
            } else if first > 0.0 {
                Some(Self { left: first, right: f64::INFINITY })
            } else {
                None
            };
        }
        let second = Across::read(second, unit)?.0;
        Some(Self { left: first.min(second), right: first.max(second) })
    }

    /// The width in yards.
    pub fn width(self) -> f64 {
        self.right - self.left
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn sides_are_read_as_the_trade_writes_them() {
        let y = LengthUnit::Yards;
        assert_eq!(Across::read("4L", y), Some(Across(-4.0)));
        assert_eq!(Across::read("12.5r", y), Some(Across(12.5)));
        assert_eq!(Across::read("0", y), Some(Across(0.0)));
        assert_eq!(Across::read("12", y), None, "a bare number says no side");
        assert_eq!(Across::read("-4L", y), None);
        assert_eq!(Across::read("nanL", y), None);
        assert!((Across::read("10L", LengthUnit::Metres).unwrap().0 + 10.936).abs() < 1e-3);
    }

    #[test]
    fn bands_take_either_order_and_open_sides() {
        let y = LengthUnit::Yards;
        assert_eq!(Band::read("27L..13L", y), Band::read("13L..27L", y));
        assert_eq!(Band::read("14L..16R", y), Some(Band { left: -14.0, right: 16.0 }));
        assert_eq!(Band::read("75L..", y).unwrap().left, f64::NEG_INFINITY);
        assert_eq!(Band::read("0..", y), None, "outwards has no side from the line itself");
        assert_eq!(Band::read("13..27", y), None);
    }

    #[test]
    fn the_two_origins_meet_only_through_a_tee() {
        let club = TeeOrigin(Along(27.0));
        assert_eq!(club.from_tee(Along(238.0)), FromTee(211.0));
        assert_eq!(club.along(FromTee(211.0)), Along(238.0));
    }
}
