//! Where a rolling ball goes.

use std::ops::ControlFlow;

use super::speed::GreenSpeed;
use super::surface::{Slopes, Spot};
use crate::flight::GRAVITY_M_S2;

/// Step of the integration for what is shown, s.
pub const STEP_S: f64 = 0.02;

/// A ball that still rolls after this time is on a slope that does not stop it.
const LONGEST_S: f64 = 60.0;

/// Below this speed the little that is left is a straight line, m/s.
const NEARLY_STILL_M_S: f64 = 0.03;

/// Place and velocity of a rolling ball.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Motion {
    pub x: f64,
    pub y: f64,
    pub vx: f64,
    pub vy: f64,
}

impl Motion {
    #[inline]
    pub fn spot(&self) -> Spot {
        Spot::new(self.x, self.y)
    }

    #[inline]
    pub fn speed2(&self) -> f64 {
        self.vx * self.vx + self.vy * self.vy
    }
}

/// Where the ball came to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rest {
    /// The spot.
    pub spot: Spot,
    /// False when no slope stopped it within a minute: the spot is then where it was last seen.
    pub stops: bool,
    /// Time, s.
    pub time_s: f64,
}

/// What the ground does to a rolling ball at one spot: it pulls down the slope and rubs against the motion.
///
/// # References
/// Penner 2002, eqs 5 and 36; slope form as Cross 2024, Eur. J. Phys. 45 035002: 5/7 of gravity along the slope and a
/// constant rolling resistance; terms of curvature are left out.
#[derive(Clone, Copy)]
struct Pull {
    x: f64,
    y: f64,
    rub: f64,
}

impl Pull {
    #[inline]
    fn at<S: Slopes + ?Sized>(slopes: &S, friction: f64, x: f64, y: f64) -> Pull {
        let grade = slopes.grade(Spot::new(x, y));
        let inverse = 1.0 / (1.0 + grade.x * grade.x + grade.y * grade.y);
        let down = -5.0 / 7.0 * GRAVITY_M_S2 * inverse;
        Pull { x: down * grade.x, y: down * grade.y, rub: friction * inverse.sqrt() }
    }

    fn size(&self) -> f64 {
        (self.x * self.x + self.y * self.y).sqrt()
    }

    /// Acceleration of a ball of this velocity.
    #[inline]
    fn on(&self, (vx, vy): (f64, f64)) -> (f64, f64) {
        let rub = self.rub / (vx * vx + vy * vy).sqrt().max(1e-12);
        (self.x - rub * vx, self.y - rub * vy)
    }
}

/// Rolls until the ball rests or `each` says stop; `each` sees the motion before and after a step,
/// with the accelerations at both ends.
pub(super) fn roll_with<S: Slopes + ?Sized>(
    slopes: &S,
    speed: GreenSpeed,
    start: Motion,
    step_s: f64,
    mut each: impl FnMut(&Step) -> ControlFlow<()>,
) -> Rest {
    let friction = speed.deceleration_m_s2();
    let step_s = step_s.clamp(0.001, 0.25);
    let mut now = start;
    let mut time = 0.0;
    let mut here = Pull::at(slopes, friction, now.x, now.y);
    let mut a = here.on((now.vx, now.vy));
    while time < LONGEST_S {
        let mut v = now.speed2().sqrt();
        if v < NEARLY_STILL_M_S {
            let brake = if v > 1e-9 { -(a.0 * now.vx + a.1 * now.vy) / v } else { here.rub };
            if here.size() < here.rub && brake > 0.0 {
                let (share, dt) = if v > 1e-9 { (v / (2.0 * brake), v / brake) } else { (0.0, 0.0) };
                let end = Motion { x: now.x + now.vx * share, y: now.y + now.vy * share, vx: 0.0, vy: 0.0 };
                let _ = each(&Step { from: now, to: end, a, b: a, dt });
                return Rest { spot: end.spot(), stops: true, time_s: time + dt };
            }
            if v < 1e-3 {
                // Too steep to rest on: it sets off down the fall line again.
                let down = here.size().max(1e-12);
                v = 2e-3;
                now.vx = here.x / down * v;
                now.vy = here.y / down * v;
                a = here.on((now.vx, now.vy));
            }
        }
        // Resistance always points against the motion, so a step must not take much of what is left of it.
        let h = step_s.min(0.4 * v / friction).max(5e-4);
        let half = 0.5 * h;
        let at = |k: f64, fall: f64, a: (f64, f64)| {
            Pull::at(slopes, friction, now.x + k * now.vx + fall * a.0, now.y + k * now.vy + fall * a.1)
        };
        // Both middle stages share one spot, the mean of theirs; slopes differ over yards, a step is inches.
        let middle = at(half, 0.5 * half * half, a);
        let b = middle.on((now.vx + half * a.0, now.vy + half * a.1));
        let end = at(h, h * half, b);
        let c = middle.on((now.vx + half * b.0, now.vy + half * b.1));
        let d = end.on((now.vx + h * c.0, now.vy + h * c.1));
        let (w, u) = (h / 6.0, h * h / 6.0);
        let next = Motion {
            x: now.x + h * now.vx + u * (a.0 + b.0 + c.0),
            y: now.y + h * now.vy + u * (a.1 + b.1 + c.1),
            vx: now.vx + w * (a.0 + 2.0 * (b.0 + c.0) + d.0),
            vy: now.vy + w * (a.1 + 2.0 * (b.1 + c.1) + d.1),
        };
        let after = end.on((next.vx, next.vy));
        let go = each(&Step { from: now, to: next, a, b: after, dt: h });
        time += h;
        now = next;
        here = end;
        a = after;
        if go.is_break() {
            break;
        }
    }
    Rest { spot: now.spot(), stops: false, time_s: time }
}

/// One step of a roll.
pub(super) struct Step {
    pub from: Motion,
    pub to: Motion,
    pub a: (f64, f64),
    pub b: (f64, f64),
    pub dt: f64,
}

impl Step {
    /// The motion at a share of the step, by cubics through both ends.
    #[inline]
    pub fn at(&self, f: f64) -> Motion {
        let g = 1.0 - f;
        let (h0, h1) = ((1.0 + 2.0 * f) * g * g, f * f * (3.0 - 2.0 * f));
        let (d0, d1) = (self.dt * f * g * g, -self.dt * f * f * g);
        Motion {
            x: h0 * self.from.x + d0 * self.from.vx + h1 * self.to.x + d1 * self.to.vx,
            y: h0 * self.from.y + d0 * self.from.vy + h1 * self.to.y + d1 * self.to.vy,
            vx: h0 * self.from.vx + d0 * self.a.0 + h1 * self.to.vx + d1 * self.b.0,
            vy: h0 * self.from.vy + d0 * self.a.1 + h1 * self.to.vy + d1 * self.b.1,
        }
    }

    /// The share of the step at which a value that is negative before and not after passes zero.
    pub fn root(&self, value: impl Fn(&Motion) -> f64) -> f64 {
        let (mut low, mut high) = (0.0, 1.0);
        let (mut at_low, mut at_high) = (value(&self.from), value(&self.to));
        for _ in 0..40 {
            let mid = if at_high > at_low {
                (low - at_low * (high - low) / (at_high - at_low)).clamp(low, high)
            } else {
                0.5 * (low + high)
            };
            let v = value(&self.at(mid));
            if v.abs() < 1e-10 {
                return mid;
            }
            if v < 0.0 {
                low = mid;
                at_low = v;
                at_high *= 0.5;
            } else {
                high = mid;
                at_high = v;
                at_low *= 0.5;
            }
            if high - low < 1e-12 {
                break;
            }
        }
        0.5 * (low + high)
    }
}

/// Rolls a ball to rest, without a hole.
pub fn roll<S: Slopes + ?Sized>(slopes: &S, speed: GreenSpeed, from: Spot, velocity_m_s: (f64, f64)) -> Rest {
    let start = Motion { x: from.x_m, y: from.y_m, vx: velocity_m_s.0, vy: velocity_m_s.1 };
    roll_with(slopes, speed, start, STEP_S, |_| ControlFlow::Continue(()))
}

/// The path of a ball as points about `every_m` apart, the rest last.
pub fn path<S: Slopes + ?Sized>(
    slopes: &S,
    speed: GreenSpeed,
    from: Spot,
    velocity_m_s: (f64, f64),
    every_m: f64,
) -> (Vec<Spot>, Rest) {
    let start = Motion { x: from.x_m, y: from.y_m, vx: velocity_m_s.0, vy: velocity_m_s.1 };
    let mut points = vec![from];
    let mut last = from;
    let rest = roll_with(slopes, speed, start, STEP_S, |s| {
        let here = s.to.spot();
        if here.distance_m(last) >= every_m.max(0.01) {
            points.push(here);
            last = here;
        }
        ControlFlow::Continue(())
    });
    points.push(rest.spot);
    (points, rest)
}
