//! The air of a day: its density, and the wind at each height.

use thiserror::Error;

/// Acceleration of gravity, m/s².
///
/// # References
/// US Standard Atmosphere 1976, p. 3.
pub const GRAVITY_M_S2: f64 = 9.80665;

/// Pressure of the standard atmosphere at sea level, Pa (US Standard Atmosphere 1976, pp. 3-12).
pub const ISA_PRESSURE_PA: f64 = 101_325.0;

/// Density of the standard atmosphere at sea level and 15 °C, kg/m³ (US Standard Atmosphere 1976, pp. 3-12).
pub const ISA_DENSITY_KG_M3: f64 = 1.225;

/// Roughness length of short grass between a mown lawn (0.02 m) and dense grass (0.09 m), m; from memory.
pub const DEFAULT_ROUGHNESS_M: f64 = 0.03;

/// Height at which forecasts give the wind, m.
const FORECAST_HEIGHT_M: f64 = 10.0;

/// Pressure at a height above the sea, Pa, from the pressure at sea level (the day's QNH).
///
/// # References
/// US Standard Atmosphere 1976; the geometric height in place of the geopotential costs less than 2e-4 to 3 km.
pub fn station_pressure_pa(sea_level_pa: f64, height_m: f64) -> f64 {
    sea_level_pa * libm::pow((1.0 - 2.25577e-5 * height_m).max(0.0), 5.25588)
}

/// Density of moist air, kg/m³: °C, Pa at the place, relative humidity 0 to 1.
///
/// # References
/// Ideal gas with the Magnus formula for saturation, from memory; within 0.07 % of CIPM-2007 (Picard et al. 2008) from
/// -5 to 40 °C and 70 to 102 kPa, which `tests/physics.rs` checks.
pub fn density_kg_m3(temperature_c: f64, pressure_pa: f64, humidity: f64) -> f64 {
    let t = temperature_c + 273.15;
    let vapour = 611.2 * humidity * libm::exp(17.62 * temperature_c / (243.12 + temperature_c));
    (pressure_pa - vapour) / (287.05 * t) + vapour / (461.5 * t)
}

/// Why a day's weather was refused.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[error("{what} {value} {unit} is outside {low} to {high} {unit}, which golf is played in")]
pub struct AirError {
    /// What was given, in words.
    pub what: &'static str,
    /// What was given, as a number.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
    /// The lowest value accepted.
    pub low: f64,
    /// The highest value accepted.
    pub high: f64,
}

fn within(what: &'static str, value: f64, unit: &'static str, (low, high): (f64, f64)) -> Result<f64, AirError> {
    if (low..=high).contains(&value) { Ok(value) } else { Err(AirError { what, value, unit, low, high }) }
}

/// What a day sheet says of the air; what is not known stays at the standard atmosphere.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weather {
    /// Air temperature at the place, °C.
    pub temperature_c: f64,
    /// Relative humidity, 0 to 1.
    pub humidity: f64,
    /// Height of the place above the sea, m.
    pub height_m: f64,
    /// Pressure reduced to sea level, Pa.
    pub sea_level_pa: f64,
    /// The wind, relative to the line of play.
    pub wind: Wind,
}

impl Weather {
    /// 15 °C, dry, at sea level, still: what a carry without other words means.
    pub const STANDARD: Weather =
        Weather { temperature_c: 15.0, humidity: 0.0, height_m: 0.0, sea_level_pa: ISA_PRESSURE_PA, wind: Wind::STILL };

    /// Temperatures accepted, °C.
    pub const TEMPERATURE_C: (f64, f64) = (-20.0, 50.0);
    /// Heights accepted, m.
    pub const HEIGHT_M: (f64, f64) = (-430.0, 5000.0);
    /// Pressures at sea level accepted, hPa (the records are 870 and 1084).
    pub const SEA_LEVEL_HPA: (f64, f64) = (870.0, 1090.0);
    /// Wind speeds accepted at 10 m, m/s.
    pub const WIND_M_S: (f64, f64) = (0.0, 30.0);

    /// The air of this weather.
    ///
    /// # Errors
    /// A value outside the bounds above, or not a number.
    pub fn air(&self) -> Result<Air, AirError> {
        let t = within("temperature", self.temperature_c, "°C", Self::TEMPERATURE_C)?;
        let h = within("humidity", self.humidity * 100.0, "%", (0.0, 100.0))? / 100.0;
        let z = within("height above the sea", self.height_m, "m", Self::HEIGHT_M)?;
        let hpa = within("pressure at sea level", self.sea_level_pa / 100.0, "hPa", Self::SEA_LEVEL_HPA)?;
        within("wind", self.wind.speed_m_s(), "m/s", Self::WIND_M_S)?;
        Ok(Air { density_kg_m3: density_kg_m3(t, station_pressure_pa(hpa * 100.0, z), h), wind: self.wind })
    }
}

/// A wind along and across the line of play, as forecast at 10 m.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wind {
    /// Positive from behind, m/s.
    pub tail_m_s: f64,
    /// Positive towards the right, m/s.
    pub to_right_m_s: f64,
    /// Roughness length of the ground, m.
    pub roughness_m: f64,
}

impl Wind {
    /// No wind.
    pub const STILL: Wind = Wind { tail_m_s: 0.0, to_right_m_s: 0.0, roughness_m: DEFAULT_ROUGHNESS_M };

    /// The wind from its speed at 10 m and the angle, clockwise from the line of play, that it blows **from**: 0 in the
    /// face, 90 from the right, 180 from behind.
    pub fn from(speed_m_s: f64, from_deg: f64) -> Wind {
        let (s, c) = libm::sincos(from_deg.to_radians());
        Wind { tail_m_s: -speed_m_s * c, to_right_m_s: -speed_m_s * s, roughness_m: DEFAULT_ROUGHNESS_M }
    }

    /// The wind for a line of play of compass bearing `play_deg`, from the compass direction it blows from.
    pub fn by_compass(speed_m_s: f64, from_deg: f64, play_deg: f64) -> Wind {
        Wind::from(speed_m_s, from_deg - play_deg)
    }

    /// Speed at 10 m, m/s.
    pub fn speed_m_s(&self) -> f64 {
        libm::hypot(self.tail_m_s, self.to_right_m_s)
    }

    /// The same wind where the speed was measured at another height than 10 m (a hand-held meter is at about 2 m).
    ///
    /// # References
    /// Log law as in Tennekes 1973, `u(z) = u10 ln(z/z0) / ln(10/z0)`, held constant below 2 z0.
    pub fn measured_at(self, height_m: f64) -> Wind {
        let k = 1.0 / self.share_at(height_m);
        Wind { tail_m_s: self.tail_m_s * k, to_right_m_s: self.to_right_m_s * k, ..self }
    }

    /// Share of the 10 m wind that blows at a height, by the log law.
    pub fn share_at(&self, height_m: f64) -> f64 {
        let z0 = self.roughness_m.clamp(1e-4, 1.0);
        libm::log(height_m.max(2.0 * z0) / z0) / libm::log(FORECAST_HEIGHT_M / z0)
    }

    /// The wind as a player says it for this line of play; `None` under half a metre a second.
    pub fn words(&self) -> Option<&'static str> {
        const WORDS: [&str; 8] = [
            "in the face",
            "in the face from the right",
            "from the right",
            "from behind and the right",
            "from behind",
            "from behind and the left",
            "from the left",
            "in the face from the left",
        ];
        if self.speed_m_s() < 0.5 {
            return None;
        }
        let from = libm::atan2(-self.to_right_m_s, -self.tail_m_s).to_degrees().rem_euclid(360.0);
        WORDS.get(((from / 45.0).round() as usize) % WORDS.len()).copied()
    }

    pub(super) fn is_still(&self) -> bool {
        self.tail_m_s == 0.0 && self.to_right_m_s == 0.0
    }
}

/// Air as the flight feels it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Density, kg/m³.
    pub density_kg_m3: f64,
    /// The wind.
    pub wind: Wind,
}

impl Air {
    /// The standard atmosphere at sea level, 15 °C, dry, still.
    pub const STANDARD: Air = Air { density_kg_m3: ISA_DENSITY_KG_M3, wind: Wind::STILL };

    /// Still air of a density.
    pub const fn still(density_kg_m3: f64) -> Air {
        Air { density_kg_m3, wind: Wind::STILL }
    }

    /// The same air with another wind.
    pub const fn with_wind(self, wind: Wind) -> Air {
        Air { wind, ..self }
    }
}
