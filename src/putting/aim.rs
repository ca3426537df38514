//! Where to start a putt, and how hard.

use std::ops::ControlFlow;

use thiserror::Error;

use super::roll::{Motion, STEP_S, roll_with};
use super::speed::GreenSpeed;
use super::surface::{Grade, Plane, Slopes, Spot};
use crate::flight::GRAVITY_M_S2;

/// How far past the hole a putt of this length is played, m.
///
/// # References
/// Our judgement from the chances at several paces (`docs/physics.md`): agrees with 1 to 2 feet for 12 feet (Broadie and
/// Shin 2014); from far away the second putt matters more than the flat best.
pub fn usual_past_m(length_m: f64) -> f64 {
    if (2.5..=8.0).contains(&length_m) { 0.45 } else { 0.3 }
}

/// The usual pace as a speed at the hole, m/s: that of the level putt. Downhill it then rolls further past and uphill
/// less, as the best pace does (Broadie and Shin 2014: further past downhill), and the hole stays as wide.
pub fn usual_at_hole_m_s(speed: GreenSpeed, length_m: f64) -> f64 {
    (2.0 * speed.deceleration_m_s2() * usual_past_m(length_m)).sqrt()
}

/// The line from ball to hole.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// The ball.
    pub ball: Spot,
    /// The hole.
    pub hole: Spot,
}

impl Line {
    /// A line of this length along x, the ball at the origin.
    pub const fn along_x(length_m: f64) -> Line {
        Line { ball: Spot::new(0.0, 0.0), hole: Spot::new(length_m, 0.0) }
    }

    /// Its length, m.
    pub fn length_m(&self) -> f64 {
        self.ball.distance_m(self.hole)
    }

    /// Unit vector towards the hole.
    #[inline]
    pub(super) fn way(&self) -> (f64, f64) {
        let l = self.length_m().max(1e-9);
        ((self.hole.x_m - self.ball.x_m) / l, (self.hole.y_m - self.ball.y_m) / l)
    }

    /// Falls along this line: (to the left, towards the hole), as ratios.
    #[inline]
    pub(super) fn falls(&self, g: Grade) -> (f64, f64) {
        let (x, y) = self.way();
        (g.x * y - g.y * x, -(g.x * x + g.y * y))
    }

    /// Velocity of a start `right_rad` right of the line.
    #[inline]
    pub(super) fn velocity(&self, right_rad: f64, speed_m_s: f64) -> (f64, f64) {
        let (x, y) = self.way();
        let (s, c) = libm::sincos(-right_rad);
        ((x * c - y * s) * speed_m_s, (x * s + y * c) * speed_m_s)
    }
}

/// How to start a putt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aim {
    /// Start direction right of the line, radians.
    pub right_rad: f64,
    /// Length of the line times the tangent of the direction: how far right of the hole to aim, m.
    pub aim_m: f64,
    /// Speed of the roll at the start, m/s.
    pub start_m_s: f64,
    /// Length of the level putt of that speed, m.
    pub flat_length_m: f64,
    /// Speed at the hole, m/s.
    pub at_hole_m_s: f64,
}

/// Why a putt has no answer.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum NoAim {
    /// The fall at the hole along the line stops no ball.
    #[error(
        "a ball cannot stop at the hole: the ground falls {fall_pct:.1} % along the line, and at this green speed a ball stops only below {works_pct:.1} %"
    )]
    NeverStops {
        /// Fall towards the hole, per cent.
        fall_pct: f64,
        /// The grade that still works, per cent.
        works_pct: f64,
    },
    /// The start would be more than 45 degrees off the line.
    #[error(
        "the putt would have to start more than 45 degrees off the line; it can be played where the fall across is below {works_pct:.1} %"
    )]
    TooMuchBreak {
        /// The mean fall across the line that still works, per cent.
        works_pct: f64,
    },
    /// Ball and hole are the same spot, or a value is not a number.
    #[error("a putt needs a length")]
    NoLength,
}

/// First-order answer on one plane: (aim offset to the right, start speed, speed at the hole); `None` when the ball
/// cannot stop.
///
/// # References
/// First-order solution of the equation of the roll, `docs/physics.md`; its case of equal resistance is in a review of
/// Penner 2002. Good to a tenth of the break for gentle slopes: a start and an independent check, not the answer.
pub fn closed_form(
    speed: GreenSpeed,
    length_m: f64,
    falls_left: f64,
    falls_on: f64,
    past_m: f64,
) -> Option<(f64, f64, f64)> {
    let c = 1.0 / (1.0 + falls_left * falls_left + falls_on * falls_on).sqrt();
    let pull = 5.0 / 7.0 * GRAVITY_M_S2 * c * c;
    let af = speed.deceleration_m_s2() * c;
    let a = af - pull * falls_on;
    if a <= 0.0 || past_m < 0.0 || length_m <= 0.0 {
        return None;
    }
    let s = pull * falls_left;
    let m = af / a;
    let vh2 = 2.0 * a * past_m;
    let v02 = vh2 + 2.0 * a * length_m;
    let (vh, v0) = (vh2.sqrt(), v02.sqrt());
    let y = if (m - 1.0).abs() < 1e-6 {
        let tail = if vh > 0.0 { vh2 / 2.0 * libm::log(v0 / vh) } else { 0.0 };
        s / (a * a) * ((v02 - vh2) / 4.0 - tail)
    } else {
        let lead = libm::pow(v0, 1.0 - m) * (libm::pow(v0, 1.0 + m) - libm::pow(vh, 1.0 + m));
        s / (a * a * (1.0 - m)) * (lead / (1.0 + m) - (v02 - vh2) / 2.0)
    };
    Some((y, v0, vh))
}

/// Deceleration along a line at a spot, m/s², positive when the ball slows.
pub(super) fn braking<S: Slopes + ?Sized>(slopes: &S, speed: GreenSpeed, line: &Line, at: Spot) -> f64 {
    let g = slopes.grade(at);
    let q = 1.0 + g.x * g.x + g.y * g.y;
    let (_, on) = line.falls(g);
    speed.deceleration_m_s2() / q.sqrt() - 5.0 / 7.0 * GRAVITY_M_S2 * on / q
}

/// Mean grade along a line.
pub(super) fn mean_grade<S: Slopes + ?Sized>(slopes: &S, line: &Line) -> Grade {
    let (mut x, mut y) = (0.0, 0.0);
    for i in 0..6 {
        let f = (f64::from(i) + 0.5) / 6.0;
        let g = slopes.grade(Spot::new(
            line.ball.x_m + f * (line.hole.x_m - line.ball.x_m),
            line.ball.y_m + f * (line.hole.y_m - line.ball.y_m),
        ));
        x += g.x / 6.0;
        y += g.y / 6.0;
    }
    Grade::new(x, y)
}

/// The start that brings the ball over the hole with a roll of `past_m` left, straight on.
///
/// # Errors
/// The ball cannot stop at the hole, the start would be more than 45 degrees off the line, or there is no length.
pub fn aim<S: Slopes + ?Sized>(slopes: &S, speed: GreenSpeed, line: &Line, past_m: f64) -> Result<Aim, NoAim> {
    let brake = braking(slopes, speed, line, line.hole);
    if brake <= 0.0 {
        let (_, on) = line.falls(slopes.grade(line.hole));
        return Err(NoAim::NeverStops { fall_pct: on * 100.0, works_pct: speed.critical_grade_pct() });
    }
    aim_at_speed(slopes, speed, line, (2.0 * brake * past_m.max(0.0)).sqrt(), STEP_S)
}

/// The start that brings the ball over the hole at a speed, in steps of `step_s`.
///
/// # Errors
/// As [`aim`], except that a ball need not be able to stop.
pub fn aim_at_speed<S: Slopes + ?Sized>(
    slopes: &S,
    speed: GreenSpeed,
    line: &Line,
    at_hole_m_s: f64,
    step_s: f64,
) -> Result<Aim, NoAim> {
    let solver = Solver::new(slopes, speed, line, at_hole_m_s, step_s).ok_or(NoAim::NoLength)?;
    solver
        .solve()
        .or_else(|| solver.search())
        .ok_or_else(|| NoAim::TooMuchBreak { works_pct: solver.cross_that_works() })
}

/// The same for a map of many putts: `None` where the quick solution fails, without a search for why.
pub(super) fn quick_aim<S: Slopes + ?Sized>(
    slopes: &S,
    speed: GreenSpeed,
    line: &Line,
    at_hole_m_s: f64,
    step_s: f64,
) -> Option<Aim> {
    Solver::new(slopes, speed, line, at_hole_m_s, step_s)?.solve()
}

/// The furthest off the line a putt is started, radians.
const MOST_RIGHT_RAD: f64 = std::f64::consts::FRAC_PI_4;

struct Solver<'a, S: ?Sized> {
    slopes: &'a S,
    speed: GreenSpeed,
    line: &'a Line,
    length: f64,
    want: f64,
    step_s: f64,
}

/// How a try missed: metres left of the hole at its line, and metres of level roll too many.
type Miss = (f64, f64);

impl<'a, S: Slopes + ?Sized> Solver<'a, S> {
    fn new(slopes: &'a S, speed: GreenSpeed, line: &'a Line, want: f64, step_s: f64) -> Option<Self> {
        let length = line.length_m();
        (length > 1e-6 && length.is_finite() && want.is_finite()).then_some(Solver {
            slopes,
            speed,
            line,
            length,
            want,
            step_s,
        })
    }

    fn start(&self) -> (f64, f64) {
        let mean = mean_grade(self.slopes, self.line);
        let (left, on) = self.line.falls(mean);
        let a0 = self.speed.deceleration_m_s2();
        let steepest = 0.9 * self.speed.resistance();
        let brake = (a0 - 5.0 / 7.0 * GRAVITY_M_S2 * on.min(steepest)).max(0.05 * a0);
        let past = self.want * self.want / (2.0 * brake);
        let (y, v0, _) = closed_form(self.speed, self.length, left, on.min(steepest), past).unwrap_or((
            0.0,
            (self.want * self.want + 2.0 * a0 * self.length).sqrt(),
            0.0,
        ));
        (libm::atan(y / self.length).clamp(-0.7, 0.7), v0 * v0 / (2.0 * a0))
    }

    /// Rolls a start (direction, level length) to the line through the hole.
    fn miss(&self, (right, flat): (f64, f64)) -> Miss {
        let a0 = self.speed.deceleration_m_s2();
        let v0 = (2.0 * a0 * flat.max(0.0)).sqrt();
        let (vx, vy) = self.line.velocity(right, v0);
        let start = Motion { x: self.line.ball.x_m, y: self.line.ball.y_m, vx, vy };
        let (wx, wy) = self.line.way();
        let hole = self.line.hole;
        let on = |m: &Motion| (m.x - hole.x_m) * wx + (m.y - hole.y_m) * wy;
        let left = |m: &Motion| (m.y - hole.y_m) * wx - (m.x - hole.x_m) * wy;
        let mut found = None;
        let mut nearest = (-self.length, 0.0);
        roll_with(self.slopes, self.speed, start, self.step_s, |s| {
            let here = on(&s.to);
            if here >= 0.0 {
                let m = s.at(s.root(on));
                found = Some((left(&m), m.speed2()));
                return ControlFlow::Break(());
            }
            if here > nearest.0 {
                nearest = (here, left(&s.to));
                ControlFlow::Continue(())
            } else {
                // It has turned back: what it still rolls does not bring it nearer.
                ControlFlow::Break(())
            }
        });
        match found {
            Some((left, v2)) => (left, (v2 - self.want * self.want) / (2.0 * a0)),
            None => (nearest.1, nearest.0 - self.want * self.want / (2.0 * a0)),
        }
    }

    /// Newton's method with Broyden's updates from the closed form: quick, and enough for most putts.
    fn solve(&self) -> Option<Aim> {
        let mut at = self.start();
        let mut miss = self.miss(at);
        let mut slope = None;
        let mut stale = 0;
        // A coarse roll is asked for a chance, not for a figure to show.
        let close = if self.step_s > STEP_S { 1e-4 } else { 1e-7 };
        for _ in 0..40 {
            if miss.0.abs() < close && miss.1.abs() < close {
                return self.answer(at);
            }
            let ((a, b), (c, d)) = match slope {
                Some(s) => s,
                None => {
                    let (dr, df) = (1e-4, 1e-4 * at.1.max(0.1));
                    let r = self.miss((at.0 + dr, at.1));
                    let f = self.miss((at.0, at.1 + df));
                    stale = 0;
                    (((r.0 - miss.0) / dr, (f.0 - miss.0) / df), ((r.1 - miss.1) / dr, (f.1 - miss.1) / df))
                }
            };
            let det = a * d - b * c;
            if det.abs() < 1e-12 {
                break;
            }
            let mut step = (-(d * miss.0 - b * miss.1) / det, -(a * miss.1 - c * miss.0) / det);
            // Bounded steps, as far from the answer the two are not linear.
            let most = (step.0.abs() / 0.15).max(step.1.abs() / (0.35 * at.1 + 0.2)).max(1.0);
            step = (step.0 / most, step.1 / most);
            let mut next = (at.0 + step.0, (at.1 + step.1).max(1e-6));
            let mut then = self.miss(next);
            let size = |m: Miss| m.0 * m.0 + m.1 * m.1;
            let mut halvings = 0;
            while size(then) > 4.0 * size(miss) && halvings < 3 {
                step = (0.5 * step.0, 0.5 * step.1);
                next = (at.0 + step.0, (at.1 + step.1).max(1e-6));
                then = self.miss(next);
                halvings += 1;
            }
            if next.0.abs() > 1.4 {
                break;
            }
            // Broyden's update keeps the derivative without new rolls while it serves.
            let n2 = step.0 * step.0 + step.1 * step.1;
            let good = most == 1.0 && size(then) < 0.04 * size(miss);
            stale += 1;
            slope = if good && stale < 6 && n2 > 0.0 {
                let e0 = then.0 - miss.0 - (a * step.0 + b * step.1);
                let e1 = then.1 - miss.1 - (c * step.0 + d * step.1);
                Some(((a + e0 * step.0 / n2, b + e0 * step.1 / n2), (c + e1 * step.0 / n2, d + e1 * step.1 / n2)))
            } else {
                None
            };
            at = next;
            miss = then;
        }
        None
    }

    fn answer(&self, (right, flat): (f64, f64)) -> Option<Aim> {
        (right.abs() <= MOST_RIGHT_RAD).then(|| Aim {
            right_rad: right,
            aim_m: self.length * libm::tan(right),
            start_m_s: (2.0 * self.speed.deceleration_m_s2() * flat).sqrt(),
            flat_length_m: flat,
            at_hole_m_s: self.want,
        })
    }

    /// The pace at which a start in this direction comes to the hole's line at the wanted speed, and the miss of it.
    ///
    /// On a slope that keeps it moving a ball may come to the line only faster than wanted: the miss then says so.
    fn pace(&self, right: f64) -> Option<(f64, Miss)> {
        let over = |flat: f64| self.miss((right, flat)).1;
        let (mut low, mut high) = (0.0, self.start().1.max(0.1));
        let mut at_low = over(low);
        let mut at_high = over(high);
        while at_high < 0.0 {
            (low, at_low) = (high, at_high);
            high *= 2.0;
            at_high = over(high);
            if high > 2000.0 {
                return None;
            }
        }
        let flat = root(over, (low, at_low), (high, at_high), 1e-9);
        Some((flat, self.miss((right, flat))))
    }

    /// Direction by direction out to 45 degrees, the pace solved in each: slow and sure, for what Newton's method loses.
    fn search(&self) -> Option<Aim> {
        let left_at = |right: f64| self.pace(right).map(|(_, miss)| miss.0);
        let (falls_left, _) = self.line.falls(mean_grade(self.slopes, self.line));
        let side = if falls_left >= 0.0 { 1.0 } else { -1.0 };
        let mut from = (0.0, left_at(0.0)?);
        for k in 1..=30 {
            let right = side * MOST_RIGHT_RAD * f64::from(k) / 30.0;
            let to = (right, left_at(right)?);
            if (to.1 > 0.0) != (from.1 > 0.0) {
                let right = root(|r| left_at(r).unwrap_or(0.0), from, to, 1e-7);
                let (flat, miss) = self.pace(right)?;
                // Two centimetres of roll more than wanted is nothing where the ball never quite stops.
                if miss.0.abs() < 1e-3 && miss.1.abs() < 0.02 {
                    return self.answer((right, flat));
                }
            }
            from = to;
        }
        None
    }

    /// The fall across, on one plane with this line's mean fall along it, that a start of 45 degrees still holds, per cent.
    fn cross_that_works(&self) -> f64 {
        let (left, on) = self.line.falls(mean_grade(self.slopes, self.line));
        let (mut works, mut fails) = (0.0, left.abs());
        let line = Line::along_x(self.length);
        for _ in 0..10 {
            let mid = 0.5 * (works + fails);
            let plane = Plane(Grade::new(-on, -mid));
            let holds = Solver::new(&plane, self.speed, &line, self.want, self.step_s)
                .and_then(|s| s.pace(MOST_RIGHT_RAD))
                .is_some_and(|(_, miss)| miss.0 <= 0.0 && miss.1.abs() < 1e-3);
            if holds { works = mid } else { fails = mid }
        }
        works * 100.0
    }
}

/// Root of a function between two ends of opposite sign: secants inside a bracket (Illinois rule).
fn root(f: impl Fn(f64) -> f64, (mut a, mut fa): (f64, f64), (mut b, mut fb): (f64, f64), close: f64) -> f64 {
    let mut side = 0;
    for _ in 0..60 {
        let x = if (fb - fa).abs() > 1e-300 { (a * fb - b * fa) / (fb - fa) } else { 0.5 * (a + b) };
        let fx = f(x);
        if fx.abs() < close || (b - a).abs() < 1e-13 {
            return x;
        }
        if (fx > 0.0) == (fb > 0.0) {
            (b, fb) = (x, fx);
            if side == -1 {
                fa *= 0.5;
            }
            side = -1;
        } else {
            (a, fa) = (x, fx);
            if side == 1 {
                fb *= 0.5;
            }
            side = 1;
        }
    }
    0.5 * (a + b)
}
