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

    /// The wind at a height.
    #[inline]
    fn wind_at(&self, height_m: f64) -> V3 {
        self.wind * (quick_log(height_m.max(self.low_m) * self.z0_inv) * self.log_inv)
    }

    /// Acceleration and change of spin of a ball of this velocity and spin in this wind.
    ///
    /// # References
    /// Penner 2001, eqs 12 to 15: drag along the air-relative velocity, lift along `n x u` from the spin across the
    /// path, gravity; spin decay as at [`SPIN_DECAY`], its torque proportional to density (Nathan's note on spin decay).
    #[inline]
    fn rate(&self, velocity: V3, spin_rad_s: f64, wind: V3) -> (V3, f64) {
        let u = velocity - wind;
        let across = self.axis.cross(u);
        let (speed2, across2) = (u.dot(u), across.dot(across));
        let (speed, c) = (speed2.sqrt(), across2.sqrt());
        // The floors are for a ball that hangs still, which has neither drag nor lift.
        let ratio = (spin_rad_s * BALL_RADIUS_M) * (1.0 / speed2.max(1e-12)) * c;
        let push = self.k * speed2 * (1.0 / c.max(1e-9));
        let mut a = across * (push * lift(ratio)) - u * (self.k * speed * drag(ratio));
        a.z -= GRAVITY_M_S2;
        (a, -self.decay * speed * spin_rad_s)
    }

    fn acceleration(&self, s: &State) -> V3 {
        let wind = if self.still { V3::ZERO } else { self.wind_at(s.position.z) };
        self.rate(s.velocity, s.spin_rad_s, wind).0
    }

    /// One step of Runge and Kutta's fourth order. The wind comes in for the start and leaves for the end; both middle
    /// stages share one height, the mean of theirs.
    #[inline]
    fn step(&self, s: &State, wind: V3, h: f64) -> (State, V3) {
        let (v, w) = (s.velocity, s.spin_rad_s);
        let half = 0.5 * h;
        let (a1, w1) = self.rate(v, w, wind);
        let at = |a: V3, k: f64, fall: f64| {
            if self.still { V3::ZERO } else { self.wind_at(s.position.z + k * v.z + fall * a.z) }
        };
        let middle = at(a1, half, 0.5 * half * half);
        let (a2, w2) = self.rate(v + a1 * half, w + w1 * half, middle);
        let end = at(a2, h, h * half);
        let (a3, w3) = self.rate(v + a2 * half, w + w2 * half, middle);
        let (a4, w4) = self.rate(v + a3 * h, w + w3 * h, end);
        let next = State {
            position: s.position + v * h + (a1 + a2 + a3) * (h * h / 6.0),
            velocity: v + (a1 + (a2 + a3) * 2.0 + a4) * (h / 6.0),
            spin_rad_s: w + (w1 + (w2 + w3) * 2.0 + w4) * (h / 6.0),
        };
        (next, end)
    }
}

/// One over, and the logarithm of, the middle of each of the 32 parts between 1 and 2.
const MIDDLES: [(f64, f64); 32] = [
    (0.9846153846153847, 0.015504186535965254),
    (0.9552238805970149, 0.0458095360312942),
    (0.927536231884058, 0.07522342123758753),
    (0.9014084507042254, 0.10379679368164356),
    (0.8767123287671232, 0.13157635778871926),
    (0.8533333333333334, 0.15860503017663857),
    (0.8311688311688312, 0.184922338494012),
    (0.810126582278481, 0.21056476910734964),
    (0.7901234567901234, 0.2355660713127669),
    (0.7710843373493976, 0.25995752443692605),
    (0.7529411764705882, 0.2837681731306446),
    (0.735632183908046, 0.3070250352949119),
    (0.7191011235955056, 0.329753286372468),
    (0.7032967032967034, 0.3519764231571782),
    (0.6881720430107527, 0.37371640979358406),
    (0.6736842105263158, 0.394993808240869),
    (0.6597938144329897, 0.415827895143711),
    (0.6464646464646465, 0.43623676677491807),
    (0.6336633663366337, 0.4562374334815876),
    (0.6213592233009708, 0.4758459048699639),
    (0.6095238095238096, 0.4950772667978515),
    (0.5981308411214953, 0.5139457511022343),
    (0.5871559633027523, 0.5324647988694718),
    (0.5765765765765766, 0.5506471179526623),
    (0.5663716814159292, 0.5685047353526688),
    (0.5565217391304348, 0.5860490450035782),
    (0.5470085470085471, 0.6032908514380843),
    (0.5378151260504201, 0.6202404097518576),
    (0.5289256198347108, 0.6369074622370692),
    (0.5203252032520326, 0.6533012720127457),
    (0.512, 0.6694306539426292),
    (0.5039370078740157, 0.6853040030989194),
];

/// Natural logarithm to 1e-10, several times as fast as the exact one; the same on every machine.
///
/// # References
/// Tang 1990, ACM TOMS 16: exponent, a table over the mantissa, and a short series of what is left.
#[inline]
fn quick_log(x: f64) -> f64 {
    let bits = x.to_bits();
    let exponent = ((bits >> 52) as i64 - 1023) as f64;
    let mantissa = f64::from_bits((bits & 0x000f_ffff_ffff_ffff) | 0x3ff0_0000_0000_0000);
    let (inverse, log) = MIDDLES[((bits >> 47) & 31) as usize];
    let r = mantissa * inverse - 1.0;
    let r2 = r * r;
    let series = r + r2 * ((r * (1.0 / 3.0) - 0.5) + r2 * (r * 0.2 - 0.25));
    exponent * std::f64::consts::LN_2 + log + series
}

/// Value of the cubic through two ends with their slopes, at `f` of a step of `dt`.
#[inline]
fn hermite(p0: f64, v0: f64, p1: f64, v1: f64, dt: f64, f: f64) -> f64 {
    let g = 1.0 - f;
    p0 * (1.0 + 2.0 * f) * g * g + v0 * dt * f * g * g + p1 * f * f * (3.0 - 2.0 * f) - v1 * dt * f * f * g
}

/// The share of a step at which a value that is positive before and not after passes zero: secants inside a bracket.
fn crossing(value: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, 1.0);
    let (mut above, mut below) = (value(0.0), value(1.0));
    let mut last = 0;
    for _ in 0..50 {
        let mid =
            if above - below > 1e-300 { low + (high - low) * above / (above - below) } else { 0.5 * (low + high) };
        let v = value(mid);
        if v.abs() < 1e-13 || high - low < 1e-14 {
            return mid;
        }
        // An end that stays twice is halved (Illinois rule), so that both ends close in.
        if v > 0.0 {
            low = mid;
            above = v;
            if last == 1 {
                below *= 0.5;
            }
            last = 1;
        } else {
            high = mid;
            below = v;
            if last == -1 {
                above *= 0.5;
            }
            last = -1;
        }
    }
    0.5 * (low + high)
}

/// Flies the ball until it comes down to `rise_m` above the launch, in steps of `step_s`.
///
/// `None` when it never gets there: the landing lies above the apex, or a value is not a number a ball can have.
pub fn fly(launch: &Launch, air: &Air, rise_m: f64, step_s: f64) -> Option<Landing> {
    let mut landing = None;
    integrate(launch, air, &[rise_m], step_s, |_, _| (), |_, l| landing = Some(l));
    landing
}

/// The landings of one flight on several levels, which come highest first; `None` for each above the apex.
pub(super) fn fly_to_levels<const N: usize>(
    launch: &Launch,
    air: &Air,
    rises_m: &[f64; N],
    step_s: f64,
) -> [Option<Landing>; N] {
    let mut landings = [None; N];
    integrate(
        launch,
        air,
        rises_m,
        step_s,
        |_, _| (),
        |i, l| {
            if let Some(slot) = landings.get_mut(i) {
                *slot = Some(l);
            }
        },
    );
    landings
}

/// The same flight with every step of its path, the landing last.
pub fn trace(launch: &Launch, air: &Air, rise_m: f64, step_s: f64) -> Option<(Landing, Vec<TracePoint>)> {
    let mut points = Vec::with_capacity(160);
    let mut landing = None;
    let seen = |time_s: f64, s: &State| {
        points.push(TracePoint {
            time_s,
            along_m: s.position.x,
            side_m: -s.position.y,
            height_m: s.position.z,
            speed_m_s: s.velocity.length(),
            spin_rpm: s.spin_rad_s * 30.0 / std::f64::consts::PI,
        });
    };
    integrate(launch, air, &[rise_m], step_s, seen, |_, l| landing = Some(l));
    let landing: Landing = landing?;
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

/// Runge and Kutta's fourth order with a fixed step; apex and landings by secants on the cubic of their step.
fn integrate(
    launch: &Launch,
    air: &Air,
    rises_m: &[f64],
    step_s: f64,
    mut seen: impl FnMut(f64, &State),
    mut landed: impl FnMut(usize, Landing),
) {
    let figures = [
        launch.speed_m_s,
        launch.launch_deg,
        launch.spin_rpm,
        launch.axis_deg,
        launch.start_deg,
        air.density_kg_m3,
        air.wind.speed_m_s(),
    ];
    let finite = figures.iter().chain(rises_m).all(|f| f.is_finite());
    if !finite || launch.speed_m_s <= 0.0 || !(1e-4..=0.5).contains(&step_s) {
        return;
    }
    let forces = Forces::new(launch.axis(), air);
    let mut now = State { position: V3::ZERO, velocity: launch.velocity(), spin_rad_s: launch.spin_rad_s() };
    let mut apex_m: f64 = 0.0;
    let mut waiting = rises_m.iter().copied().enumerate().peekable();
    let most = (LONGEST_FLIGHT_S / step_s) as u32;
    let mut wind = if forces.still { V3::ZERO } else { forces.wind_at(0.0) };
    seen(0.0, &now);
    for step in 0..most {
        let (next, wind_next) = forces.step(&now, wind, step_s);
        wind = wind_next;
        if now.velocity.z > 0.0 && next.velocity.z <= 0.0 {
            let a = forces.acceleration(&now).z;
            let b = forces.acceleration(&next).z;
            let f = crossing(|f| hermite(now.velocity.z, a, next.velocity.z, b, step_s, f));
            apex_m = hermite(now.position.z, now.velocity.z, next.position.z, next.velocity.z, step_s, f);
            while waiting.next_if(|(_, rise)| *rise >= apex_m).is_some() {}
        }
        if next.velocity.z <= 0.0 {
            while let Some((i, rise)) = waiting.next_if(|(_, rise)| next.position.z <= *rise) {
                let above = |f: f64| {
                    hermite(now.position.z, now.velocity.z, next.position.z, next.velocity.z, step_s, f) - rise
                };
                let f = crossing(above);
                landed(i, landing_at(&forces, &now, &next, step_s, f, step, apex_m));
            }
            if waiting.peek().is_none() {
                return;
            }
        }
        now = next;
        seen(f64::from(step + 1) * step_s, &now);
    }
}

fn landing_at(forces: &Forces, now: &State, next: &State, dt: f64, f: f64, steps_before: u32, apex_m: f64) -> Landing {
    let a = forces.acceleration(now);
    let b = forces.acceleration(next);
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

#[cfg(test)]
mod tests {
    #[test]
    fn the_quick_logarithm() {
        for i in 1..4000 {
            let x = 1.9 + f64::from(i * i) * 1e-3;
            assert!((super::quick_log(x) - x.ln()).abs() < 1e-11, "{x}");
        }
    }
}
