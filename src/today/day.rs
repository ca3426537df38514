//! What is known of the day on a course, as plain values.

use crate::course::day::Wind;
use crate::course::{Course, DaySheet, Firmness, Hole};
use crate::flight::{self, Air, Weather};
use crate::player::Measured;
use crate::units::Length;

/// Stimpmeter feet where neither the day sheet nor the notebook says: a usual course green (trade surveys give 7 to 12).
const USUAL_SPEED: f64 = 9.5;

/// The day on a course.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Day {
    /// The wind by compass; `None` is not known, and then none is reckoned with.
    pub wind: Option<Wind>,
    /// Degrees Celsius.
    pub temperature_c: Option<f64>,
    /// At sea level, hectopascals.
    pub pressure_hpa: Option<f64>,
    /// Height of the course above the sea, metres.
    pub height_m: Option<f64>,
    /// How hard the ground is.
    pub firmness: Firmness,
    /// Stimpmeter feet.
    pub green_speed: f64,
    /// The green speed is written down, for the day or for a usual one.
    pub speed_known: bool,
    /// A day sheet is at hand: without one nothing is corrected for air (cli.md).
    pub of_sheet: bool,
}

/// The air in which a player's carries hold.
pub type Reference = Measured;

impl Day {
    /// A usual day on a course: still, in the air in which carries were measured, ground and greens as the notebook says.
    pub fn usual(course: &Course) -> Self {
        Self {
            wind: None,
            temperature_c: None,
            pressure_hpa: None,
            height_m: course.elevation.map(|yards| Length::yards(yards).as_metres()),
            firmness: course.firmness,
            green_speed: course.green_speed.unwrap_or(USUAL_SPEED),
            speed_known: course.green_speed.is_some(),
            of_sheet: false,
        }
    }

    /// The day of a sheet; what the sheet does not say is as on a usual day.
    pub fn of(course: &Course, sheet: Option<&DaySheet>) -> Self {
        let usual = Self::usual(course);
        let Some(sheet) = sheet else { return usual };
        Self {
            wind: sheet.wind,
            temperature_c: sheet.temperature_c,
            pressure_hpa: sheet.pressure_hpa,
            firmness: sheet.firmness.unwrap_or(usual.firmness),
            green_speed: sheet.green_speed.unwrap_or(usual.green_speed),
            speed_known: usual.speed_known || sheet.green_speed.is_some(),
            of_sheet: true,
            ..usual
        }
    }

    /// The same day with another wind.
    #[must_use]
    pub const fn with_wind(self, wind: Option<Wind>) -> Self {
        Self { wind, ..self }
    }

    /// Density of the air in which carries hold and of the day's, kg/m³: the same where nothing is known of the day's.
    pub fn densities(&self, measured: &Reference) -> (f64, f64) {
        let standard = Weather::STANDARD;
        let there = Weather {
            temperature_c: measured.temperature_c.unwrap_or(standard.temperature_c),
            height_m: measured.height.map_or(0.0, Length::as_metres),
            sea_level_pa: measured.pressure_hpa.map_or(standard.sea_level_pa, |hpa| 100.0 * hpa),
            ..standard
        };
        let density = |w: &Weather| w.air().map_or(flight::ISA_DENSITY_KG_M3, |air| air.density_kg_m3);
        if !self.of_sheet {
            return (density(&there), density(&there));
        }
        let here = Weather {
            temperature_c: self.temperature_c.unwrap_or(there.temperature_c),
            height_m: self.height_m.unwrap_or(there.height_m),
            sea_level_pa: self.pressure_hpa.map_or(standard.sea_level_pa, |hpa| 100.0 * hpa),
            ..standard
        };
        (density(&there), density(&here))
    }

    /// Wind speed at 10 m, metres a second; the height for which it was given is allowed for.
    pub fn wind_speed_m_s(&self) -> f64 {
        self.wind.map_or(0.0, |w| flight::Wind::from(w.speed_m_s, 0.0).measured_at(w.at_height_m).speed_m_s())
    }

    /// The day's air for a shot towards `direction_deg` (clockwise from the first leg of `hole`); still where the hole has no bearing.
    pub fn air(&self, measured: &Reference, hole: &Hole, direction_deg: f64) -> Air {
        let (_, density) = self.densities(measured);
        let air = Air::still(density);
        match (self.wind, hole.bearing) {
            (Some(wind), Some(bearing)) => {
                air.with_wind(flight::Wind::by_compass(self.wind_speed_m_s(), wind.from_deg, bearing + direction_deg))
            }
            _ => air,
        }
    }
}

/// The wind on the first leg of a hole as a player says it: `in the face from the left`; `None` where it is not known.
///
/// Sixteen directions are heard as eight, with "half" where the wind is between them.
pub fn wind_sentence(wind: Option<Wind>, hole: &Hole) -> Option<String> {
    let wind = wind?;
    if wind.speed_m_s < Wind::CALM_M_S {
        return Some("calm".to_owned());
    }
    let Some(bearing) = hole.bearing else { return Some("no bearing given".to_owned()) };
    flight::Wind::by_compass(wind.speed_m_s, wind.from_deg, bearing).words().map(str::to_owned)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    /// cli.md: without a day sheet nothing is corrected for air; with one the carries' own air is divided out.
    #[test]
    fn air_counts_against_the_air_in_which_carries_were_measured() {
        let (course, _) = crate::course::read(include_str!("../../sample-courses/corvane.yaml"));
        let course = course.unwrap();
        let measured = Measured { temperature_c: Some(18.0), height: Some(Length::yards(44.0)), pressure_hpa: None };
        let (a, b) = Day::usual(&course).densities(&measured);
        assert_eq!(a, b);
        let cold = Day { temperature_c: Some(4.0), of_sheet: true, ..Day::usual(&course) };
        let (a, b) = cold.densities(&measured);
        assert!(b / a > 1.05, "{a} {b}");
        let same = Day { temperature_c: Some(18.0), height_m: Some(40.0), of_sheet: true, ..Day::usual(&course) };
        let (a, b) = same.densities(&measured);
        assert!((b / a - 1.0).abs() < 1e-4, "{a} {b}");
    }

    /// A hand-held meter at two metres reads 0.72 of the forecast at ten (log law, z0 0.03 m).
    #[test]
    fn a_wind_measured_by_hand_is_stronger_at_ten_metres() {
        let (course, _) = crate::course::read(include_str!("../../sample-courses/corvane.yaml"));
        let wind = Wind { speed_m_s: 3.6, from_deg: 90.0, at_height_m: 2.0 };
        let day = Day::usual(&course.unwrap()).with_wind(Some(wind));
        assert!((day.wind_speed_m_s() - 5.0).abs() < 0.05);
    }
}
