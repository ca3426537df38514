//! The ball: its size, and how much lift and drag it has at a spin ratio.

/// Mass of the ball, kg.
///
/// # References
/// The R&A and USGA, Equipment Rules, Part 4 s.2: not more than 1.620 oz avoirdupois (45.93 g).
pub const BALL_MASS_KG: f64 = 0.04593;

/// Radius of the ball, m.
///
/// # References
/// The R&A and USGA, Equipment Rules, Part 4 s.3: diameter not less than 1.680 in (42.67 mm).
pub const BALL_RADIUS_M: f64 = 0.04267 / 2.0;

/// Cross-section of the ball, m².
pub const BALL_AREA_M2: f64 = std::f64::consts::PI * BALL_RADIUS_M * BALL_RADIUS_M;

/// Spin ratios the laws were measured over.
const SPIN_RATIO: (f64, f64) = (0.03, 1.13);

/// Drag coefficient at a spin ratio `S = omega r / U`.
///
/// # References
/// Naruo, Mizota and Shimozono 2004, Trans. JSME B 70(697), eq. 12: one full-size ball, S 0.03 to 1.13, Re 0.71e5 to
/// 1.25e5. The ratio is held inside the measured range.
#[inline]
pub fn drag(spin_ratio: f64) -> f64 {
    let s = spin_ratio.clamp(SPIN_RATIO.0, SPIN_RATIO.1);
    let s2 = s * s;
    (0.2049 + 0.2148 * s) + s2 * ((1.098 - 1.760 * s) + 0.7510 * s2)
}

/// Lift coefficient at a spin ratio `S = omega r / U`; fades to none below the measured range, so no spin is no lift.
///
/// # References
/// Naruo, Mizota and Shimozono 2004, Trans. JSME B 70(697), eq. 13.
#[inline]
pub fn lift(spin_ratio: f64) -> f64 {
    let s = spin_ratio.clamp(SPIN_RATIO.0, SPIN_RATIO.1);
    let s2 = s * s;
    let c = (0.0616 + 1.250 * s) + s2 * ((1.006 * s - 1.644) - 0.2158 * s2);
    c * (spin_ratio * (1.0 / SPIN_RATIO.0)).clamp(0.0, 1.0)
}
