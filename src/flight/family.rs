//! The launch family: a flight for each club of a player, from the player's own carries.

use thiserror::Error;

use super::air::Air;
use super::ball::{BALL_MASS_KG, BALL_RADIUS_M};
use super::trajectory::{Landing, Launch, SHOWN_STEP_S, fly};

/// Slowest and fastest driver head the family is defined for, m/s.
const HEAD_M_S: (f64, f64) = (24.0, 60.0);

/// The highest full wedge; part shots are not in the family.
const LAST_CLUB: f64 = 1.15;

/// A club and ball meeting, by rigid-body impact.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Impact {
    /// Speed of the head, m/s.
    pub head_m_s: f64,
    /// Spin loft: loft at impact less the attack angle, degrees.
    pub spin_loft_deg: f64,
    /// Attack angle, degrees, negative downwards.
    pub attack_deg: f64,
    /// Mass of the head, kg.
    pub head_kg: f64,
    /// Restitution.
    pub restitution: f64,
    /// Share of the rigid-body tangential speed.
    pub grip: f64,
}

/// The launch of an impact.
///
/// # References
/// Penner 2001, rigid-sphere impact: `vn = (1+e) V cos th / (1 + m/M)`, `vp = -q V sin th / (1 + m/M + 2.5)`.
pub fn impact_launch(impact: &Impact) -> Launch {
    let (s, c) = libm::sincos(impact.spin_loft_deg.to_radians());
    let ratio = BALL_MASS_KG / impact.head_kg;
    let vn = (1.0 + impact.restitution) * impact.head_m_s * c / (1.0 + ratio);
    let vp = -impact.grip * impact.head_m_s * s / (1.0 + ratio + 2.5);
    Launch::straight(
        libm::hypot(vn, vp),
        impact.spin_loft_deg + impact.attack_deg + libm::atan2(vp, vn).to_degrees(),
        -vp / (0.4 * BALL_RADIUS_M) * 30.0 / std::f64::consts::PI,
    )
}

/// The impact of club `k` (0 the driver, 1 the highest full wedge) for a driver head speed.
///
/// The driver is anchored on the launch of the Overall Distance Standard (120 mph, 256 ft/s, 10 degrees, 2520 rpm); the
/// schedules in `k` are assumptions that make carry fall smoothly and keep the apex nearly level through the bag.
fn schedule(driver_head_m_s: f64, k: f64) -> Impact {
    let j = (k / 0.4).min(1.0);
    Impact {
        head_m_s: driver_head_m_s * (1.0 - 0.36 * k + 0.07 * k * k),
        spin_loft_deg: 11.65 + 11.5 * k + 27.0 * k * k + 0.25 * (1.0 - 0.6 * j) * (53.6 - driver_head_m_s),
        attack_deg: -3.0 * j * ((driver_head_m_s - 25.0) / 25.0).clamp(0.0, 1.15),
        head_kg: 0.20 + 0.10 * k,
        restitution: 0.8275 - 0.07 * j,
        grip: 0.782 + 0.40 * j,
    }
}

fn carry_in(head_m_s: f64, k: f64, air: &Air) -> f64 {
    fly(&impact_launch(&schedule(head_m_s, k)), air, 0.0, SHOWN_STEP_S).map_or(0.0, |l| l.carry_m)
}

/// Root of a monotone function between two ends of opposite sign: secant steps inside a bracket (Illinois rule).
pub(super) fn root(
    mut f: impl FnMut(f64) -> f64,
    (mut a, mut fa): (f64, f64),
    (mut b, mut fb): (f64, f64),
    close: f64,
) -> f64 {
    let mut side = 0;
    for _ in 0..60 {
        let x = if (fb - fa).abs() > 1e-300 { (a * fb - b * fa) / (fb - fa) } else { 0.5 * (a + b) };
        let fx = f(x);
        if fx.abs() < close || (b - a).abs() < 1e-13 {
            return x;
        }
        if (fx > 0.0) == (fb > 0.0) {
            b = x;
            fb = fx;
            if side == -1 {
                fa *= 0.5;
            }
            side = -1;
        } else {
            a = x;
            fa = fx;
            if side == 1 {
                fb *= 0.5;
            }
            side = 1;
        }
    }
    0.5 * (a + b)
}

/// A carry outside what the family can give.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
#[error(
    "a {what} carry of {carry_m:.1} m is outside {low_m:.1} to {high_m:.1} m, which the model of full swings covers"
)]
pub struct RangeError {
    /// "driver" or "club".
    pub what: &'static str,
    /// The carry asked for, m.
    pub carry_m: f64,
    /// The shortest carry, m.
    pub low_m: f64,
    /// The longest carry, m.
    pub high_m: f64,
}

/// A player's clubs as one family of flights, found from the carry of the driver.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Family {
    head_m_s: f64,
    driver_carry_m: f64,
    shortest_m: f64,
}

/// One club of a family: the flight whose carry in standard still air is the player's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Club {
    /// Place in the family: 0 the driver, 1 the highest full wedge.
    pub k: f64,
    /// The launch.
    pub launch: Launch,
    /// The flight over level ground in standard still air.
    pub still: Landing,
}

impl Family {
    /// The family of a player whose driver carries so far in standard still air (15 °C, sea level, dry).
    ///
    /// # Errors
    /// A carry no driver of the model has, with the range.
    pub fn of_driver(carry_m: f64) -> Result<Family, RangeError> {
        Family::measured_in(carry_m, &Air::STANDARD)
    }

    /// The family of a player whose driver carries so far in the air where it was measured.
    ///
    /// # Errors
    /// A carry no driver of the model has in that air, with the range.
    pub fn measured_in(carry_m: f64, air: &Air) -> Result<Family, RangeError> {
        let low = carry_in(HEAD_M_S.0, 0.0, air);
        let high = carry_in(HEAD_M_S.1, 0.0, air);
        if !(low..=high).contains(&carry_m) {
            return Err(RangeError { what: "driver", carry_m, low_m: low, high_m: high });
        }
        let head_m_s =
            root(|v| carry_in(v, 0.0, air) - carry_m, (HEAD_M_S.0, low - carry_m), (HEAD_M_S.1, high - carry_m), 1e-7);
        Ok(Family {
            head_m_s,
            driver_carry_m: carry_in(head_m_s, 0.0, &Air::STANDARD),
            shortest_m: carry_in(head_m_s, LAST_CLUB, &Air::STANDARD),
        })
    }

    /// Carry of the driver in standard still air, m.
    pub fn driver_carry_m(&self) -> f64 {
        self.driver_carry_m
    }

    /// Carry of the highest full wedge in standard still air, m: no club of the family is shorter.
    pub fn shortest_carry_m(&self) -> f64 {
        self.shortest_m
    }

    /// Head speed of the driver, m/s.
    pub fn head_m_s(&self) -> f64 {
        self.head_m_s
    }

    /// The launch of the club at place `k` of the family.
    pub fn launch(&self, k: f64) -> Launch {
        impact_launch(&schedule(self.head_m_s, k.clamp(0.0, LAST_CLUB)))
    }

    pub(super) fn at(&self, k: f64) -> Option<Club> {
        let launch = self.launch(k);
        let still = fly(&launch, &Air::STANDARD, 0.0, SHOWN_STEP_S)?;
        Some(Club { k, launch, still })
    }

    pub(super) const PLACES: (f64, f64) = (0.0, LAST_CLUB);

    /// The club that carries so far in standard still air.
    ///
    /// # Errors
    /// A carry longer than the driver's or shorter than the last full wedge's, with the range.
    pub fn club(&self, carry_m: f64) -> Result<Club, RangeError> {
        self.club_measured_in(carry_m, &Air::STANDARD)
    }

    /// The club that carries so far in the air where it was measured.
    ///
    /// # Errors
    /// As [`Family::club`].
    pub fn club_measured_in(&self, carry_m: f64, air: &Air) -> Result<Club, RangeError> {
        let high = carry_in(self.head_m_s, 0.0, air);
        let low = carry_in(self.head_m_s, LAST_CLUB, air);
        let refuse = RangeError { what: "club", carry_m, low_m: low, high_m: high };
        // The driver's own carry came out of a root, so it may differ from the ask in the last digits.
        if !(low - 1e-6..=high + 1e-6).contains(&carry_m) {
            return Err(refuse);
        }
        let k = if (carry_m - high).abs() <= 1e-6 {
            0.0
        } else if (carry_m - low).abs() <= 1e-6 {
            LAST_CLUB
        } else {
            root(|k| carry_in(self.head_m_s, k, air) - carry_m, (0.0, high - carry_m), (LAST_CLUB, low - carry_m), 1e-7)
        };
        self.at(k).ok_or(refuse)
    }
}

const START_SPEED: [f64; 10] =
    [-4.62297, 49.44793, 17.01152, -74.18119, 67.75663, -23.08303, 50.98751, -39.21912, 8.4019, 9.91657];
const START_ANGLE: [f64; 10] =
    [36.29994, 49.70298, 4.36864, -147.83601, -40.21006, 1.21622, 77.38675, 34.85351, -3.06404, -0.23576];
const START_SPIN: [f64; 10] = [
    2295.67047,
    4569.93466,
    7523.2945,
    -7022.08438,
    -7059.44155,
    793.59153,
    301.44683,
    3873.1375,
    -3129.75937,
    340.47036,
];

/// Launch of a club by a cubic in its carry and the driver's: no solving, carry within 2 m of the asked one.
pub fn family_start(driver_carry_m: f64, carry_m: f64) -> Launch {
    let r = carry_m / driver_carry_m;
    let d = driver_carry_m / 200.0;
    let terms = [1.0, r, d, r * r, r * d, d * d, r * r * r, r * r * d, r * d * d, d * d * d];
    let sum = |c: &[f64; 10]| c.iter().zip(terms).map(|(c, t)| c * t).sum::<f64>();
    Launch::straight(sum(&START_SPEED), sum(&START_ANGLE), sum(&START_SPIN))
}
