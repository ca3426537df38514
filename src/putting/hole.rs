//! Which balls the hole takes.

use super::surface::Grade;

/// Radius of the hole, m: 4.25 in across (Rules of Golf, definition of *hole*).
pub const HOLE_RADIUS_M: f64 = 0.053_975;

/// Highest speed at which a ball over the middle of a level hole is taken, m/s.
///
/// # References
/// Holmes 1991, Am. J. Phys. 59; Penner 2002; re-derived as 1.626 by Hogan and Antali 2025.
pub const CENTRE_CAPTURE_M_S: f64 = 1.63;

/// Factor on the speed of capture from the slope of the hole: more when arriving uphill.
///
/// # References
/// Penner 2002, eq. 30: divided by sqrt(1 - cos(beta) sin(slope)), beta from straight uphill.
fn slope_factor(grade: Grade, arriving: (f64, f64)) -> f64 {
    let size = grade.size();
    let speed = libm::hypot(arriving.0, arriving.1);
    if size < 1e-12 || speed < 1e-12 {
        return 1.0;
    }
    let cos_beta = (grade.x * arriving.0 + grade.y * arriving.1) / (size * speed);
    let sin_slope = size / (1.0 + size * size).sqrt();
    1.0 / (1.0 - cos_beta * sin_slope).sqrt()
}

/// Highest speed at which a ball passing `off_centre_m` from the middle is taken, m/s; `arriving` is its direction.
///
/// # References
/// Penner 2002, eq. 23: `1.63 (1 - (b/R)^2)`, and eq. 30 for the slope.
pub fn capture_speed_m_s(off_centre_m: f64, grade: Grade, arriving: (f64, f64)) -> f64 {
    let b = off_centre_m / HOLE_RADIUS_M;
    CENTRE_CAPTURE_M_S * (1.0 - b * b).max(0.0) * slope_factor(grade, arriving)
}

/// Half the width of hole that takes a ball of this speed, m; 0 when it is too fast.
pub fn half_width_m(speed_m_s: f64, grade: Grade, arriving: (f64, f64)) -> f64 {
    half_width_below_m(speed_m_s, CENTRE_CAPTURE_M_S * slope_factor(grade, arriving))
}

/// Half the width of hole that takes a ball, where a ball over the middle is taken below `limit_m_s`.
pub(super) fn half_width_below_m(speed_m_s: f64, limit_m_s: f64) -> f64 {
    HOLE_RADIUS_M * (1.0 - speed_m_s / limit_m_s).max(0.0).sqrt()
}
