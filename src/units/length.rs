//! A length and the two units in which golf writes it.
//!
//! # References
//! International yard and pound agreement, 1959: one yard is exactly 0.9144 m.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// Metres in one yard (international yard, 1959), exact.
pub const METRES_PER_YARD: f64 = 0.9144;

/// The unit in which a file is written or a person reads.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub enum LengthUnit {
    /// Yards, 0.9144 m.
    #[default]
    Yards,
    /// Metres.
    Metres,
}

impl LengthUnit {
    /// How many yards one of this unit is.
    pub const fn in_yards(self) -> f64 {
        match self {
            Self::Yards => 1.0,
            Self::Metres => 1.0 / METRES_PER_YARD,
        }
    }

    /// The short form beside a figure: `y` or `m`.
    pub const fn short(self) -> &'static str {
        match self {
            Self::Yards => "y",
            Self::Metres => "m",
        }
    }

    /// The word as files and sentences write it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Yards => "yards",
            Self::Metres => "metres",
        }
    }
}

/// A length, held in yards.
///
/// ```
/// use marram::units::{Length, LengthUnit};
/// let carry = Length::new(200.0, LengthUnit::Metres);
/// assert_eq!(carry.show(LengthUnit::Yards), "219");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd, Default)]
pub struct Length(f64);

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0.0);

    /// A length of `value` in `unit`.
    pub fn new(value: f64, unit: LengthUnit) -> Self {
        Self(value * unit.in_yards())
    }

    /// A length in yards.
    pub const fn yards(value: f64) -> Self {
        Self(value)
    }

    /// A length in metres.
    pub fn metres(value: f64) -> Self {
        Self(value / METRES_PER_YARD)
    }

    /// A length in feet, which are always feet of putt.
    pub fn feet(value: f64) -> Self {
        Self(value / 3.0)
    }

    /// The figure in yards.
    pub const fn as_yards(self) -> f64 {
        self.0
    }

    /// The figure in metres.
    pub fn as_metres(self) -> f64 {
        self.0 * METRES_PER_YARD
    }

    /// The figure in `unit`.
    pub fn in_unit(self, unit: LengthUnit) -> f64 {
        self.0 / unit.in_yards()
    }

    /// Rounded to the whole yard or metre, without the unit: no reading is finer than that.
    pub fn show(self, unit: LengthUnit) -> String {
        let figure = self.in_unit(unit).round();
        format!("{}", if figure == 0.0 { 0.0 } else { figure })
    }

    /// The size without its sign.
    pub fn abs(self) -> Self {
        Self(self.0.abs())
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}

impl Mul<f64> for Length {
    type Output = Self;
    fn mul(self, factor: f64) -> Self {
        Self(self.0 * factor)
    }
}

impl Div<f64> for Length {
    type Output = Self;
    fn div(self, divisor: f64) -> Self {
        Self(self.0 / divisor)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_yard_is_the_international_yard() {
        assert!((Length::yards(100.0).as_metres() - 91.44).abs() < 1e-12);
        assert_eq!(Length::metres(91.44).show(LengthUnit::Yards), "100");
        assert_eq!(Length::yards(-0.3).show(LengthUnit::Yards), "0");
    }
}
