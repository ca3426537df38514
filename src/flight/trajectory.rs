//! From launch to landing: the equations of motion, integrated.

use super::air::{Air, GRAVITY_M_S2, ISA_DENSITY_KG_M3};
use super::ball::{BALL_AREA_M2, BALL_MASS_KG, BALL_RADIUS_M, drag, lift};
use super::vector::V3;

/// Step of the integration for what is shown, s.
pub const SHOWN_STEP_S: f64 = 0.05;

/// Spin decay constant.
///
/// # References
/// Smits and Smith 1994, quoted as eq. 16 of Penner 2001; R&A/USGA Second Report on Spin Generation 2006, App. C eq. 5.
const SPIN_DECAY: f64 = 2.0e-5;

/// A flight longer than this is not one of a golf ball.
const LONGEST_FLIGHT_S: f64 = 40.0;

/// How the ball leaves the club.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Launch {
    /// Speed, m/s.
    pub speed_m_s: f64,
    /// Angle above the level, degrees.
    pub launch_deg: f64,
    /// Back spin, revolutions a minute.
    pub spin_rpm: f64,
    /// Tilt of the spin axis, degrees, positive curves to the right.
    pub axis_deg: f64,
    /// Start direction, degrees, positive to the right of the line of play.
    pub start_deg: f64,
}

impl Launch {
    /// A straight launch along the line of play.
    pub const fn straight(speed_m_s: f64, launch_deg: f64, spin_rpm: f64) -> Launch {
        Launch { speed_m_s, launch_deg, spin_rpm, axis_deg: 0.0, start_deg: 0.0 }
    }

    pub(super) fn spin_rad_s(&self) -> f64 {
        self.spin_rpm * std::f64::consts::PI / 30.0
    }

    pub(super) fn velocity(&self) -> V3 {
        let (s, c) = libm::sincos(self.launch_deg.to_radians());
        let (sd, cd) = libm::sincos(self.start_deg.to_radians());
        V3::new(c * cd, -c * sd, s) * self.speed_m_s
    }

    /// Unit spin axis: level and square to the start for pure back spin, tilted about the launch velocity.
    pub(super) fn axis(&self) -> V3 {
        let (sd, cd) = libm::sincos(self.start_deg.to_radians());
        V3::new(-sd, -cd, 0.0).rotated(self.velocity().unit(), self.axis_deg.to_radians())
    }

    /// The launch with this velocity and this spin axis, which is square to it.
    pub(super) fn from_vectors(velocity: V3, axis: V3, spin_rpm: f64) -> Launch {
        let level = libm::hypot(velocity.x, velocity.y);
        let start = libm::atan2(velocity.y, velocity.x);
        let (s, c) = libm::sincos(start);
        let pure = V3::new(s, -c, 0.0);
        let tilt = libm::atan2(pure.cross(axis).dot(velocity.unit()), pure.dot(axis));
        Launch {
            speed_m_s: velocity.length(),
            launch_deg: libm::atan2(velocity.z, level).to_degrees(),
            spin_rpm,
            axis_deg: tilt.to_degrees(),
            start_deg: -start.to_degrees(),
        }
    }
}

/// How the ball lands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Landing {
    /// Distance along the line of play, m.
    pub carry_m: f64,
    /// Distance to the right of the line of play, m.
    pub side_m: f64,
    /// Greatest height above the launch, m.
    pub apex_m: f64,
    /// Time in the air, s.
    pub time_s: f64,
    /// Angle of the path below the level at landing, degrees.
    pub descent_deg: f64,
    /// Speed at landing, m/s.
    pub speed_m_s: f64,
    /// Spin at landing, revolutions a minute.
    pub spin_rpm: f64,
    /// Direction of travel at landing, degrees right of the line of play.
    pub heading_deg: f64,
    pub(super) velocity: V3,
    pub(super) axis: V3,
}

impl Landing {
    /// Spin at landing, rad/s.
    pub(super) fn spin_rad_s(&self) -> f64 {
        self.spin_rpm * std::f64::consts::PI / 30.0
    }

    /// Spin ratio `omega r / U` at landing.
    pub fn spin_ratio(&self) -> f64 {
        if self.speed_m_s > 0.0 { self.spin_rad_s() * BALL_RADIUS_M / self.speed_m_s } else { 0.0 }
    }
}

/// A point of a flight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TracePoint {
    /// Time, s.
    pub time_s: f64,
    /// Along the line of play, m.
    pub along_m: f64,
    /// Right of the line of play, m.
    pub side_m: f64,
    /// Above the launch, m.
    pub height_m: f64,
    /// Speed over the ground, m/s.
    pub speed_m_s: f64,
    /// Spin, revolutions a minute.
    pub spin_rpm: f64,
}

#[derive(Clone, Copy)]
struct State {
    position: V3,
    velocity: V3,
    spin_rad_s: f64,
}

impl State {
    fn moved(&self, d: &State, dt: f64) -> State {
        State {
            position: self.position + d.position * dt,
            velocity: self.velocity + d.velocity * dt,
            spin_rad_s: self.spin_rad_s + d.spin_rad_s * dt,
        }
    }
}

/// What stays the same along one flight.
struct Forces {
    axis: V3,
    /// `rho A / 2m`
    k: f64,
    /// `SPIN_DECAY rho / (rho0 r)`
    decay: f64,
    wind: V3,
    still: bool,
    low_m: f64,
    z0_inv: f64,
    log_inv: f64,
}

impl Forces {
    fn new(axis: V3, air: &Air) -> Forces {
        let z0 = air.wind.roughness_m.clamp(1e-4, 1.0);
        Forces {
            axis,
            k: air.density_kg_m3 * BALL_AREA_M2 / (2.0 * BALL_MASS_KG),
            decay: SPIN_DECAY * air.density_kg_m3 / ISA_DENSITY_KG_M3 / BALL_RADIUS_M,
            wind: V3::new(air.wind.tail_m_s, -air.wind.to_right_m_s, 0.0),
            still: air.wind.is_still(),
            low_m: 2.0 * z0,
            z0_inv: 1.0 / z0,
            log_inv: 1.0 / libm::log(10.0 / z0),
        }
    }

    /// # References
    /// Penner 2001, eqs 12 to 15: drag along the air-relative velocity, lift along `n x u` from the spin across the
    /// path, gravity; spin decay as at [`SPIN_DECAY`], its torque proportional to density (Nathan's note on spin decay).
    fn rate(&self, s: &State) -> State {
        let u = if self.still {
            s.velocity
        } else {
            let share = libm::log(s.position.z.max(self.low_m) * self.z0_inv) * self.log_inv;
            s.velocity - self.wind * share
        };
        let speed = u.length();
        let across = self.axis.cross(u);
        let c = across.length();
        let ratio = if speed > 0.0 { s.spin_rad_s * BALL_RADIUS_M * c / (speed * speed) } else { 0.0 };
        let up = if c > 1e-9 { across * (self.k * lift(ratio) * speed * speed / c) } else { V3::ZERO };
        let mut a = up - u * (self.k * drag(ratio) * speed);
        a.z -= GRAVITY_M_S2;
        State { position: s.velocity, velocity: a, spin_rad_s: -self.decay * speed * s.spin_rad_s }
    }

    fn step(&self, s: &State, dt: f64) -> State {
        let a = self.rate(s);
        let b = self.rate(&s.moved(&a, dt / 2.0));
        let c = self.rate(&s.moved(&b, dt / 2.0));
        let d = self.rate(&s.moved(&c, dt));
        let w = dt / 6.0;
        State {
            position: s.position + (a.position + (b.position + c.position) * 2.0 + d.position) * w,
            velocity: s.velocity + (a.velocity + (b.velocity + c.velocity) * 2.0 + d.velocity) * w,
            spin_rad_s: s.spin_rad_s + (a.spin_rad_s + (b.spin_rad_s + c.spin_rad_s) * 2.0 + d.spin_rad_s) * w,
        }
    }
}

/// Value of the cubic through two ends with their slopes, at `f` of a step of `dt`.
fn hermite(p0: f64, v0: f64, p1: f64, v1: f64, dt: f64, f: f64) -> f64 {
    let g = 1.0 - f;
    p0 * (1.0 + 2.0 * f) * g * g + v0 * dt * f * g * g + p1 * f * f * (3.0 - 2.0 * f) - v1 * dt * f * f * g
}

/// The share of a step at which the rising or falling cubic passes zero, by bisection.
fn crossing(mut value: impl FnMut(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    for _ in 0..48 {
        let mid = 0.5 * (low + high);
        if value(mid) > 0.0 { low = mid } else { high = mid }
    }
    0.5 * (low + high)
}

/// Flies the ball until it comes down to `rise_m` above the launch, in steps of `step_s`.
///
/// `None` when it never gets there: the landing lies above the apex, or a value is not a number a ball can have.
pub fn fly(launch: &Launch, air: &Air, rise_m: f64, step_s: f64) -> Option<Landing> {
    integrate(launch, air, rise_m, step_s, |_, _| ())
}

/// The same flight with every step of its path, the landing last.
pub fn trace(launch: &Launch, air: &Air, rise_m: f64, step_s: f64) -> Option<(Landing, Vec<TracePoint>)> {
    let mut points = Vec::with_capacity(160);
    let landing = integrate(launch, air, rise_m, step_s, |time_s, s| {
        points.push(TracePoint {
            time_s,
            along_m: s.position.x,
            side_m: -s.position.y,
            height_m: s.position.z,
            speed_m_s: s.velocity.length(),
            spin_rpm: s.spin_rad_s * 30.0 / std::f64::consts::PI,
        });
    })?;
    points.retain(|p| p.time_s < landing.time_s);
    points.push(TracePoint {
        time_s: landing.time_s,
        along_m: landing.carry_m,
        side_m: landing.side_m,
        height_m: rise_m,
        speed_m_s: landing.speed_m_s,
        spin_rpm: landing.spin_rpm,
    });
    Some((landing, points))
}

fn integrate(
    launch: &Launch,
    air: &Air,
    rise_m: f64,
    step_s: f64,
    mut seen: impl FnMut(f64, &State),
) -> Option<Landing> {
    let finite = launch.speed_m_s.is_finite()
        && launch.launch_deg.is_finite()
        && launch.spin_rpm.is_finite()
        && launch.axis_deg.is_finite()
        && launch.start_deg.is_finite()
        && air.density_kg_m3.is_finite()
        && air.wind.speed_m_s().is_finite()
        && rise_m.is_finite();
    if !finite || launch.speed_m_s <= 0.0 || !(1e-4..=0.5).contains(&step_s) {
        return None;
    }
    let forces = Forces::new(launch.axis(), air);
    let mut now = State { position: V3::ZERO, velocity: launch.velocity(), spin_rad_s: launch.spin_rad_s() };
    let mut apex_m: f64 = 0.0;
    let mut steps = 0u32;
    let most = (LONGEST_FLIGHT_S / step_s) as u32;
    seen(0.0, &now);
    while steps < most {
        let next = forces.step(&now, step_s);
        steps += 1;
        if now.velocity.z > 0.0 && next.velocity.z <= 0.0 {
            let a = forces.rate(&now).velocity.z;
            let b = forces.rate(&next).velocity.z;
            let f = crossing(|f| hermite(now.velocity.z, a, next.velocity.z, b, step_s, f));
            apex_m = hermite(now.position.z, now.velocity.z, next.position.z, next.velocity.z, step_s, f);
            if apex_m <= rise_m {
                return None;
            }
        }
        if next.velocity.z <= 0.0 && next.position.z <= rise_m {
            let above =
                |f: f64| hermite(now.position.z, now.velocity.z, next.position.z, next.velocity.z, step_s, f) - rise_m;
            let f = crossing(above);
            return Some(landing_at(&forces, &now, &next, step_s, f, steps - 1, apex_m));
        }
        now = next;
        seen(f64::from(steps) * step_s, &now);
    }
    None
}

fn landing_at(forces: &Forces, now: &State, next: &State, dt: f64, f: f64, steps_before: u32, apex_m: f64) -> Landing {
    let a = forces.rate(now).velocity;
    let b = forces.rate(next).velocity;
    let place = |p: f64, v: f64, q: f64, w: f64| hermite(p, v, q, w, dt, f);
    let velocity = V3::new(
        place(now.velocity.x, a.x, next.velocity.x, b.x),
        place(now.velocity.y, a.y, next.velocity.y, b.y),
        place(now.velocity.z, a.z, next.velocity.z, b.z),
    );
    let level = libm::hypot(velocity.x, velocity.y);
    let spin = now.spin_rad_s + (next.spin_rad_s - now.spin_rad_s) * f;
    Landing {
        carry_m: place(now.position.x, now.velocity.x, next.position.x, next.velocity.x),
        side_m: -place(now.position.y, now.velocity.y, next.position.y, next.velocity.y),
        apex_m: apex_m.max(0.0),
        time_s: (f64::from(steps_before) + f) * dt,
        descent_deg: libm::atan2(-velocity.z, level).to_degrees(),
        speed_m_s: velocity.length(),
        spin_rpm: spin * 30.0 / std::f64::consts::PI,
        heading_deg: libm::atan2(-velocity.y, velocity.x).to_degrees(),
        velocity,
        axis: forces.axis,
    }
}
