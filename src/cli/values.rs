//! Values typed on the command line: lengths, wind, temperature, plain numbers, a putter's skill.
//!
//! Each keeps what was typed, so that a message can quote it. A value that cannot be read is refused while the arguments
//! are read; a value out of its bounds is refused by [`within`] with the bounds.

use std::fmt;

use crate::units::LengthUnit;

/// Exit code of a wrong command.
pub const WRONG_COMMAND: i32 = 2;
/// Exit code of wrong data.
pub const WRONG_DATA: i32 = 1;

/// A value and the text it was read from.
#[derive(Clone, Debug, PartialEq)]
pub struct Typed<T> {
    /// As typed.
    pub text: String,
    /// As read.
    pub value: T,
}

impl<T> fmt::Display for Typed<T> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.text)
    }
}

/// The unit after a length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TypedUnit {
    /// `y` or `yd`.
    Yards,
    /// `m`.
    Metres,
    /// `ft`.
    Feet,
}

impl TypedUnit {
    /// How many metres one of this unit is.
    pub const fn in_metres(self) -> f64 {
        match self {
            Self::Yards => 0.9144,
            Self::Metres => 1.0,
            Self::Feet => 0.3048,
        }
    }

    /// As it is written after a figure.
    pub const fn short(self) -> &'static str {
        match self {
            Self::Yards => "y",
            Self::Metres => "m",
            Self::Feet => "ft",
        }
    }

    /// A figure of metres written in this unit, with so many decimals.
    pub fn show(self, metres: f64, decimals: usize) -> String {
        let text = format!("{:.decimals$}", metres / self.in_metres());
        // What rounds to zero has no sign.
        let signless = text.trim_start_matches('-');
        let zero = signless.bytes().all(|b| b == b'0' || b == b'.');
        format!("{} {}", if zero { signless } else { &text }, self.short())
    }
}

impl From<LengthUnit> for TypedUnit {
    fn from(unit: LengthUnit) -> Self {
        match unit {
            LengthUnit::Yards => Self::Yards,
            LengthUnit::Metres => Self::Metres,
        }
    }
}

/// A length as typed; its unit may be left to the course or the player.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TypedLength {
    /// The figure.
    pub figure: f64,
    /// The unit, when one was typed.
    pub unit: Option<TypedUnit>,
}

/// How lengths are written.
pub const LENGTH_SPELLINGS: &str = "150y or 150yd, 137m, 20ft";
/// How a wind is written.
pub const WIND_SPELLINGS: &str = "5m/s@90 or 12mph@90 (the angle it blows from, clockwise from the line of play: \
     0 in the face, 90 from the right, 180 from behind)";
/// How a putter's skill is written.
pub const SKILL_SPELLINGS: &str = "tour, men:10, women:24, men:+1.3 (better than scratch)";

impl Typed<TypedLength> {
    /// The length in metres; without a unit the usual one serves.
    ///
    /// # Errors
    /// There is neither: the message names the spellings.
    pub fn metres(&self, option: &str, usual: Option<LengthUnit>) -> Result<f64, String> {
        match self.value.unit.or(usual.map(TypedUnit::from)) {
            Some(unit) => Ok(self.value.figure * unit.in_metres()),
            None => Err(format!("{option} {}: a length needs its unit, as in {LENGTH_SPELLINGS}", self.text)),
        }
    }

    /// The length in metres, a bare figure being metres.
    pub fn metres_bare(&self) -> f64 {
        self.value.figure * self.value.unit.unwrap_or(TypedUnit::Metres).in_metres()
    }

    /// The unit to answer in.
    pub fn unit(&self, usual: Option<LengthUnit>) -> TypedUnit {
        self.value.unit.or(usual.map(TypedUnit::from)).unwrap_or(TypedUnit::Metres)
    }
}

/// Splits a figure from what follows it. A figure is digits with at most one point and a sign: no exponent, no
/// infinity, no digit of another script.
fn figure(text: &str) -> Option<(f64, &str)> {
    let text = text.trim();
    let minus = text.strip_prefix('\u{2212}').or_else(|| text.strip_prefix('-'));
    let (sign, rest) = match minus {
        Some(rest) => (-1.0, rest),
        None => (1.0, text.strip_prefix('+').unwrap_or(text)),
    };
    let end = rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(rest.len());
    let (digits, after) = rest.split_at(end);
    let good = digits.len() <= 12
        && digits.bytes().any(|b| b.is_ascii_digit())
        && digits.bytes().filter(|b| *b == b'.').count() <= 1;
    if !good {
        return None;
    }
    // -0 would print as such.
    let value = digits.parse::<f64>().ok()?;
    Some((if value == 0.0 { 0.0 } else { sign * value }, after.trim()))
}

fn typed<T>(text: &str, value: T) -> Typed<T> {
    Typed { text: text.to_owned(), value }
}

/// Reads a length.
///
/// # Errors
/// A message that names the spellings.
pub fn length(text: &str) -> Result<Typed<TypedLength>, String> {
    let wrong = || format!("not a length; write it as {LENGTH_SPELLINGS}");
    let (value, unit) = figure(text).ok_or_else(wrong)?;
    let unit = match unit {
        "" => None,
        "y" | "yd" | "yds" => Some(TypedUnit::Yards),
        "m" => Some(TypedUnit::Metres),
        "ft" => Some(TypedUnit::Feet),
        _ => return Err(wrong()),
    };
    Ok(typed(text, TypedLength { figure: value, unit }))
}

/// A wind as typed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TypedWind {
    /// Speed at 10 m, m/s.
    pub speed_m_s: f64,
    /// The angle it blows from, degrees clockwise from the line of play.
    pub from_deg: f64,
}

/// Reads a wind.
///
/// # Errors
/// A message that names the spellings.
pub fn wind(text: &str) -> Result<Typed<TypedWind>, String> {
    let wrong = |what: &str| format!("{what}; write a wind as {WIND_SPELLINGS}");
    let (speed, from) = text.split_once('@').ok_or_else(|| wrong("no angle after the speed"))?;
    let (value, unit) = figure(speed).ok_or_else(|| wrong("no speed before the @"))?;
    let factor = match unit {
        "m/s" => 1.0,
        "mph" => 0.447_04,
        "km/h" | "kmh" => 1.0 / 3.6,
        "kn" | "kt" => 1852.0 / 3600.0,
        "" => return Err(wrong("a wind speed needs its unit")),
        _ => return Err(wrong("not a unit of wind speed")),
    };
    if value < 0.0 {
        return Err(wrong("a wind speed is not below zero"));
    }
    let from_deg = match figure(from) {
        Some((deg, "" | "°" | "deg")) if (0.0..=360.0).contains(&deg) => deg,
        _ => return Err(wrong("the angle is a number from 0 to 360")),
    };
    Ok(typed(text, TypedWind { speed_m_s: value * factor, from_deg }))
}

fn number(text: &str, unit: &str, spelling: &str) -> Result<Typed<f64>, String> {
    match figure(text) {
        Some((value, after)) if after.is_empty() || after == unit => Ok(typed(text, value)),
        _ => Err(format!("not a number; write it as {spelling}")),
    }
}

/// Reads per cent: `2` or `2%`.
///
/// # Errors
/// A message that names the spelling.
pub fn per_cent(text: &str) -> Result<Typed<f64>, String> {
    number(text, "%", "2 or 2%")
}

/// Reads a pressure in hectopascals: `1013` or `1013hPa`.
///
/// # Errors
/// A message that names the spelling.
pub fn pressure(text: &str) -> Result<Typed<f64>, String> {
    number(text, "hPa", "1013 or 1013hPa")
}

/// Reads Stimpmeter feet: `10` or `10ft`.
///
/// # Errors
/// A message that names the spelling.
pub fn green_speed(text: &str) -> Result<Typed<f64>, String> {
    number(text, "ft", "10 or 10ft, the feet a Stimpmeter reads")
}

/// Reads a temperature in degrees Celsius: `15`, `15C`, or `59F`.
///
/// # Errors
/// A message that names the spellings.
pub fn temperature(text: &str) -> Result<Typed<f64>, String> {
    match figure(text) {
        Some((value, "" | "C" | "°C")) => Ok(typed(text, value)),
        Some((value, "F" | "°F")) => Ok(typed(text, (value - 32.0) / 1.8)),
        _ => Err("not a temperature; write it as 15 or 15C, or 59F".to_owned()),
    }
}

/// Whose errors.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Skill {
    /// A tour professional.
    Tour,
    /// A man of a Handicap Index; better than scratch is negative.
    Men(f64),
    /// A woman of a Handicap Index; better than scratch is negative.
    Women(f64),
}

/// Reads a skill.
///
/// # Errors
/// A message that names the spellings; a leading minus is answered with the right spelling of a plus handicap.
pub fn skill(text: &str) -> Result<Typed<Skill>, String> {
    let wrong = || format!("not a skill; write it as {SKILL_SPELLINGS}");
    if text == "tour" {
        return Ok(typed(text, Skill::Tour));
    }
    let (who, index) = text.split_once(':').ok_or_else(wrong)?;
    if let Some(rest) = index.strip_prefix(['-', '\u{2212}']) {
        return Err(format!("better than scratch is written with a plus: {who}:+{rest}"));
    }
    let (value, after) = figure(index).ok_or_else(wrong)?;
    if !after.is_empty() {
        return Err(wrong());
    }
    let value = if index.starts_with('+') { -value } else { value };
    if !(-6.0..=54.0).contains(&value) {
        return Err("a Handicap Index lies between +6 and 54".to_owned());
    }
    match who {
        "men" => Ok(typed(text, Skill::Men(value))),
        "women" => Ok(typed(text, Skill::Women(value))),
        _ => Err(wrong()),
    }
}

/// Refuses a value outside its bounds, quoting it as typed.
///
/// # Errors
/// The message of a wrong command.
pub fn within<T>(
    option: &str,
    typed: &Typed<T>,
    value: f64,
    (low, high): (f64, f64),
    unit: &str,
) -> Result<f64, String> {
    if (low..=high).contains(&value) {
        Ok(value)
    } else {
        Err(format!("{option} {typed}: outside {low} to {high} {unit}"))
    }
}

/// A figure for JSON: to four decimals, never minus zero.
pub fn json_figure(value: f64) -> serde_json::Value {
    let v = (value * 1e4).round() / 1e4;
    if v.is_finite() { serde_json::json!(if v == 0.0 { 0.0 } else { v }) } else { serde_json::Value::Null }
}

/// What is known of the person who asks, for what an option leaves out.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Known {
    /// The unit of a length without one.
    pub unit: Option<LengthUnit>,
    /// Carry of the driver, m.
    pub driver_carry_m: Option<f64>,
    /// Putting skill.
    pub skill: Option<Skill>,
    /// The name to answer with.
    pub player: Option<String>,
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
    use super::*;

    #[test]
    fn lengths_in_every_spelling() {
        for (text, metres) in [
            ("150y", 137.16),
            ("150yd", 137.16),
            ("137m", 137.0),
            ("20ft", 6.096),
            ("-8m", -8.0),
            ("\u{2212}8m", -8.0),
            ("+8 m", 8.0),
            (".5m", 0.5),
        ] {
            let got = length(text).unwrap().metres("--x", None).unwrap();
            assert!((got - metres).abs() < 1e-9, "{text}: {got}");
        }
        for bad in ["", "m", "150 furlongs", "1e9m", "inf", "NaN", "1,5m", "--5m", "1.2.3m", "٣m", "5 5m"] {
            assert!(length(bad).unwrap_err().contains("137m"), "{bad}");
        }
    }

    #[test]
    fn a_length_without_unit_needs_a_usual_one() {
        let l = length("150").unwrap();
        assert!(l.metres("--carry", None).unwrap_err().contains("150y or 150yd, 137m, 20ft"));
        assert!((l.metres("--carry", Some(LengthUnit::Yards)).unwrap() - 137.16).abs() < 1e-9);
    }

    #[test]
    fn winds() {
        let w = wind("12mph@90").unwrap().value;
        assert!((w.speed_m_s - 5.36448).abs() < 1e-9 && w.from_deg == 90.0);
        assert_eq!(wind("5m/s@0").unwrap().value, TypedWind { speed_m_s: 5.0, from_deg: 0.0 });
        for bad in ["5", "5m/s", "5@90", "m/s@90", "5m/s@", "5m/s@400", "-5m/s@90", "5mps@90", "5m/s@NaN", "5m/s@90@90"]
        {
            assert!(wind(bad).unwrap_err().contains("5m/s@90"), "{bad}");
        }
    }

    #[test]
    fn skills_and_their_plus_handicaps() {
        assert_eq!(skill("men:10").unwrap().value, Skill::Men(10.0));
        assert_eq!(skill("men:+1.3").unwrap().value, Skill::Men(-1.3));
        assert_eq!(skill("men:0").unwrap().value, Skill::Men(0.0));
        assert!(skill("women:-2").unwrap_err().contains("women:+2"));
        for bad in ["pro", "men", "men:", "men:x", "men:99", "boys:3", "men:5y"] {
            assert!(skill(bad).is_err(), "{bad}");
        }
    }
}
