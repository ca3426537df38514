//! Green speed: Stimpmeter, Brede's formula, the grade on which nothing stops, and where a hole may be cut.

use thiserror::Error;

use crate::flight::GRAVITY_M_S2;

/// Speed at which a Stimpmeter releases the ball, m/s: 6.00 ft/s (USGA Stimpmeter booklet; Penner 2002 from Holmes 1986).
const RELEASE_M_S: f64 = 1.8288;

const METRES_PER_FOOT: f64 = 0.3048;

/// The speed of a green as the Stimpmeter reads it on the level.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct GreenSpeed {
    stimp_ft: f64,
}

/// A green speed no green has.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[error("green speed {0} is outside 3 to 20 feet on the Stimpmeter")]
pub struct SpeedError(pub f64);

impl GreenSpeed {
    /// A green of so many Stimpmeter feet.
    ///
    /// # Errors
    /// Outside 3 to 20 feet, or not a number.
    pub fn stimp(feet: f64) -> Result<GreenSpeed, SpeedError> {
        if (3.0..=20.0).contains(&feet) { Ok(GreenSpeed { stimp_ft: feet }) } else { Err(SpeedError(feet)) }
    }

    /// A green of so many feet, held inside the accepted range.
    pub fn held(feet: f64) -> GreenSpeed {
        GreenSpeed { stimp_ft: if feet.is_finite() { feet.clamp(3.0, 20.0) } else { 9.5 } }
    }

    /// The reading, feet.
    pub fn stimp_ft(self) -> f64 {
        self.stimp_ft
    }

    /// The same green read `by_ft` faster, held inside the accepted range.
    pub fn faster(self, by_ft: f64) -> GreenSpeed {
        GreenSpeed { stimp_ft: (self.stimp_ft + by_ft).clamp(3.0, 20.0) }
    }

    /// Deceleration of a rolling ball on the level, m/s².
    ///
    /// # References
    /// Constant deceleration from the release speed over the reading (Penner 2002, eq. 5).
    #[inline]
    pub fn deceleration_m_s2(self) -> f64 {
        RELEASE_M_S * RELEASE_M_S / (2.0 * METRES_PER_FOOT * self.stimp_ft)
    }

    /// Rolling resistance `rho_g`: deceleration is 5/7 of it times gravity.
    pub fn resistance(self) -> f64 {
        1.4 * self.deceleration_m_s2() / GRAVITY_M_S2
    }

    /// The reading of a green of rolling resistance `rho_g`, feet.
    pub fn stimp_ft_of_resistance(resistance: f64) -> f64 {
        RELEASE_M_S * RELEASE_M_S / (2.0 * METRES_PER_FOOT * (5.0 / 7.0) * resistance * GRAVITY_M_S2)
    }

    /// The grade, per cent, down which a ball never slows.
    pub fn critical_grade_pct(self) -> f64 {
        100.0 * self.resistance()
    }
}

/// Green speed from readings up and down one slope, feet.
///
/// # References
/// Brede, USGA Green Section Record, November/December 1990; Course Rating manual, section 8.
pub fn brede_stimp_ft(up_ft: f64, down_ft: f64) -> f64 {
    2.0 * up_ft * down_ft / (up_ft + down_ft)
}

/// What to say of a hole cut on a grade.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HoleAdvice {
    /// Within common limits.
    Fine,
    /// Marginal: above half of the critical grade.
    Marginal,
    /// Above 0.69 of the critical grade: a ball above the hole hardly stops.
    TooSteep,
    /// No ball stops here at all.
    NothingStops,
}

/// Advice on a hole cut where the grade is `grade_pct`.
///
/// # References
/// Lemons, USGA Green Section Record: the marginal and the largest downhill grade by Stimpmeter are 0.50 and 0.69 of the
/// critical grade, within 4 % at every speed of the table.
pub fn hole_advice(speed: GreenSpeed, grade_pct: f64) -> HoleAdvice {
    let share = grade_pct.abs() / speed.critical_grade_pct();
    match share {
        s if s < 0.50 => HoleAdvice::Fine,
        s if s < 0.69 => HoleAdvice::Marginal,
        s if s < 1.0 => HoleAdvice::TooSteep,
        _ => HoleAdvice::NothingStops,
    }
}
