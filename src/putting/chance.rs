//! The chance to hole a putt, and where the misses lie.

use std::ops::ControlFlow;

use super::aim::{Aim, Line, closed_form, mean_grade};
use super::hole::{capture_speed_m_s, half_width_below_m};
use super::roll::{Motion, roll_with};
use super::speed::GreenSpeed;
use super::surface::{Slopes, Spot};

/// A player's errors on the green.
///
/// Both totals are those of level putts. Part of each is a misread of the slope, which costs more where the ball is slow
/// to stop: [`PuttingSkill::on`] scales that part, so that the level putt keeps the published errors and the downhill
/// one gets more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PuttingSkill {
    /// Standard deviation of the start direction of a level putt, reading included, degrees.
    pub direction_sd_deg: f64,
    /// The part of it that is the stroke alone, degrees.
    pub stroke_sd_deg: f64,
    /// Standard deviation of the rolled length of a level putt, as a share of it.
    pub length_sd: f64,
    /// The share of the variance of the length that is reading.
    pub length_read: f64,
    /// Whether the length error grows by a quarter of itself per 20 feet beyond 20 feet.
    pub grows: bool,
}

const TWENTY_FEET_M: f64 = 6.096;

/// The most a misread counts for against a level putt; beyond it no read is worth the name.
const MOST_MISREAD: f64 = 3.0;

impl PuttingSkill {
    /// A tour professional.
    ///
    /// # References
    /// Broadie 2012, Interfaces 42(2), section 3.3: 1.46 degrees and 5.7 %. The stroke alone: 1.0 degree (Bansal and
    /// Broadie 2008, better players, reading not included). Half of the length's variance as reading is our judgement.
    pub const TOUR: PuttingSkill =
        PuttingSkill { direction_sd_deg: 1.46, stroke_sd_deg: 1.0, length_sd: 0.057, length_read: 0.5, grows: true };

    /// A man of a Handicap Index (better than scratch is negative).
    ///
    /// # References
    /// Our line through Broadie's 90-golfer (half from 5 feet, 2.0 putts from 19 feet): 1.775 + 0.0525 h degrees. The stroke
    /// alone on the line through 1.0 of 1.46 and 1.5 of 2.72 degrees (Bansal and Broadie 2008, about-90 players).
    pub fn men(index: f64) -> PuttingSkill {
        let direction = (1.775 + 0.0525 * index.clamp(-6.0, 54.0)).max(1.46);
        PuttingSkill { direction_sd_deg: direction, stroke_sd_deg: 1.0 + (direction - 1.46) * 0.5 / 1.26, ..Self::TOUR }
    }

    /// A woman of a Handicap Index: as a man of 20/24 of it, the bogey golfers of the Course Rating System.
    pub fn women(index: f64) -> PuttingSkill {
        Self::men(index * 20.0 / 24.0)
    }

    /// A player who reads every slope rightly: the given errors are the stroke's.
    pub const fn stroke_only(direction_sd_deg: f64, length_sd: f64) -> PuttingSkill {
        PuttingSkill { direction_sd_deg, stroke_sd_deg: direction_sd_deg, length_sd, length_read: 0.0, grows: false }
    }

    /// Standard deviation of the length of a level putt, as a share.
    pub fn length_sd_at(&self, length_m: f64) -> f64 {
        let over = if self.grows { (length_m / TWENTY_FEET_M - 1.0).max(0.0) } else { 0.0 };
        self.length_sd * (1.0 + 0.25 * over)
    }

    /// Standard deviations of direction (radians) and length (share) of a putt along a mean grade that falls `falls_on`
    /// towards the hole: a misread across changes the aim, and a misread along the length, by as much more than on the
    /// level as the closed form of the roll says.
    pub fn on(&self, speed: GreenSpeed, length_m: f64, falls_on: f64, past_m: f64) -> (f64, f64) {
        let (across, along) = misread(speed, length_m, falls_on, past_m);
        let stroke2 = self.stroke_sd_deg * self.stroke_sd_deg;
        let read2 = (self.direction_sd_deg * self.direction_sd_deg - stroke2).max(0.0);
        let read = self.length_read.clamp(0.0, 1.0);
        (
            (stroke2 + read2 * across * across).sqrt().to_radians(),
            self.length_sd_at(length_m) * (1.0 - read + read * along * along).sqrt(),
        )
    }
}

/// How much more than on the level a misread of the slope across and along changes aim and length.
fn misread(speed: GreenSpeed, length_m: f64, falls_on: f64, past_m: f64) -> (f64, f64) {
    let brake = (1.0 - falls_on / speed.resistance()).max(1.0 / MOST_MISREAD);
    let gentle = (1.0 - brake) * speed.resistance();
    // The change of aim with the fall across, from a fall too small to matter.
    let aim = |on: f64| closed_form(speed, length_m, 1e-4, on, past_m).map_or(0.0, |c| c.0);
    let level = aim(0.0);
    let across = if level > 0.0 { (aim(gentle) / level).min(MOST_MISREAD) } else { 1.0 };
    (across, 1.0 / brake)
}

/// Share of a normal distribution below a value.
fn below(x: f64) -> f64 {
    0.5 * libm::erfc(-x * std::f64::consts::FRAC_1_SQRT_2)
}

/// What a putt comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Chances {
    /// Chance to hole it.
    pub holed: f64,
    /// Chance that it does not get to the hole.
    pub short: f64,
    /// Where the misses lie, each with its chance; together they make up the rest.
    pub leaves: Vec<(Spot, f64)>,
}

/// Pace errors, in standard deviations, at which balls are rolled.
const PACES: usize = 9;
const PACE_STEP: f64 = 0.6;
/// Directions, in standard deviations, at which balls are rolled.
const OFF: f64 = 1.5;
/// Cells of direction over which a leave is told apart.
const CELLS: usize = 12;
/// Finer steps of pace over which capture is summed.
const FINE: usize = 6;

/// A ball as it passes the hole, or as it stops short of it.
#[derive(Clone, Copy, Debug, Default)]
struct Pass {
    /// How far left of the middle, m.
    left: f64,
    /// Speed squared, m²/s²; below zero what it lacks to get there.
    speed2: f64,
    rest: Spot,
    arriving: (f64, f64),
}

fn pass<S: Slopes + ?Sized>(slopes: &S, speed: GreenSpeed, line: &Line, velocity: (f64, f64), step_s: f64) -> Pass {
    let hole = line.hole;
    let start = Motion { x: line.ball.x_m, y: line.ball.y_m, vx: velocity.0, vy: velocity.1 };
    let toward = |m: &Motion| (m.x - hole.x_m) * m.vx + (m.y - hole.y_m) * m.vy;
    let left = |m: &Motion, v: f64| (m.vx * (m.y - hole.y_m) - m.vy * (m.x - hole.x_m)) / v.max(1e-9);
    let far = 3.0 * line.length_m() + 30.0;
    let mut found: Option<Pass> = None;
    let mut last = velocity;
    let rest = roll_with(slopes, speed, start, step_s, |s| {
        if found.is_none() {
            if toward(&s.from) < 0.0 && toward(&s.to) >= 0.0 && s.to.speed2() > 0.0 {
                let m = s.at(s.root(toward));
                let v2 = m.speed2();
                found = Some(Pass { left: left(&m, v2.sqrt()), speed2: v2, rest: hole, arriving: (m.vx, m.vy) });
            } else {
                last = (s.from.vx, s.from.vy);
            }
        }
        if s.to.spot().distance_m(hole) > far { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    });
    match found {
        Some(p) => Pass { rest: rest.spot, ..p },
        None => {
            // Measured along its last direction, so that balls of one pace are equally short wherever they point.
            let end = Motion { x: rest.spot.x_m, y: rest.spot.y_m, vx: last.0, vy: last.1 };
            let v = end.speed2().sqrt().max(1e-9);
            Pass {
                left: left(&end, v),
                speed2: 2.0 * speed.deceleration_m_s2() * toward(&end) / v,
                rest: rest.spot,
                arriving: last,
            }
        }
    }
}

/// Value at `t` of the parabola through values at -OFF, 0 and OFF.
fn parabola([a, b, c]: [f64; 3], t: f64) -> f64 {
    let u = t / OFF;
    b + 0.5 * (c - a) * u + 0.5 * (a - 2.0 * b + c) * u * u
}

/// The directions, in standard deviations, between which a ball of one pace is holed.
fn taken(left: [f64; 3], speed2: [f64; 3], limit_m_s: f64) -> Option<(f64, f64)> {
    // Aiming further right passes further right, so `left` falls with t.
    let solve = |want: f64, from: f64| {
        let mut t = from;
        for _ in 0..4 {
            let u = t / OFF;
            let slope = (0.5 * (left[2] - left[0]) + (left[0] - 2.0 * left[1] + left[2]) * u) / OFF;
            if slope >= -1e-9 {
                return None;
            }
            t = (t - (parabola(left, t) - want) / slope).clamp(-8.0, 8.0);
        }
        Some(t)
    };
    let middle = solve(0.0, 0.0)?;
    let half = |t: f64| {
        let v2 = parabola(speed2, t);
        if v2 <= 0.0 { 0.0 } else { half_width_below_m(v2.sqrt(), limit_m_s) }
    };
    let w = half(middle);
    if w <= 0.0 {
        return None;
    }
    let first = solve(w, middle)?;
    let last = solve(-w, middle)?;
    let first = solve(half(first), first)?;
    let last = solve(-half(last), last)?;
    (last > first).then_some((first, last))
}

/// The chances of a putt started as `aim` says, with this player's errors.
///
/// A ball is holed when it passes the middle of the hole inside the width that takes its speed; it must get to the
/// middle, the convention under which the published errors were measured. A ball that crosses the hole too fast goes
/// on undisturbed: what a lip takes from it is not modelled.
pub fn chances<S: Slopes + ?Sized>(
    slopes: &S,
    speed: GreenSpeed,
    line: &Line,
    aim: &Aim,
    skill: &PuttingSkill,
    step_s: f64,
) -> Chances {
    let (_, falls_on) = line.falls(mean_grade(slopes, line));
    let past = aim.at_hole_m_s * aim.at_hole_m_s / (2.0 * speed.deceleration_m_s2());
    let (sd, length_sd) = skill.on(speed, line.length_m(), falls_on, past);
    let flat = |z: f64| aim.flat_length_m * (1.0 + length_sd * z).max(0.02);
    let a0 = speed.deceleration_m_s2();
    let middle = (PACES / 2) as f64;
    let mut rows = [[Pass::default(); 3]; PACES];
    for (i, row) in rows.iter_mut().enumerate() {
        let v0 = (2.0 * a0 * flat((i as f64 - middle) * PACE_STEP)).sqrt();
        for (cell, t) in row.iter_mut().zip([-OFF, 0.0, OFF]) {
            *cell = pass(slopes, speed, line, line.velocity(aim.right_rad + sd * t, v0), step_s);
        }
    }
    let arriving = rows.get(PACES / 2).map_or((1.0, 0.0), |r| r[1].arriving);
    let limit = capture_speed_m_s(0.0, slopes.grade(line.hole), arriving);
    let (holed, short) = sum_capture(&rows, limit);
    let leaves = leaves(&rows, limit, 1.0 - holed);
    Chances { holed, short, leaves }
}

type Rows = [[Pass; 3]; PACES];

/// Sums capture over fine steps of pace between the rolled ones.
fn sum_capture(rows: &Rows, limit_m_s: f64) -> (f64, f64) {
    let middle = (PACES / 2) as f64;
    let (mut holed, mut short, mut all) = (0.0, 0.0, 0.0);
    for i in 0..(PACES - 1) * FINE {
        let at = (i as f64 + 0.5) / FINE as f64;
        let z = (at - middle) * PACE_STEP;
        let half = 0.5 * PACE_STEP / FINE as f64;
        let weight = below(z + half) - below(z - half);
        all += weight;
        let k = at.floor() as usize;
        let f = at - k as f64;
        let (Some(a), Some(b)) = (rows.get(k), rows.get(k + 1)) else { continue };
        let mix = |g: fn(&Pass) -> f64| [0, 1, 2].map(|j| g(&a[j]) * (1.0 - f) + g(&b[j]) * f);
        let speed2 = mix(|p| p.speed2);
        if parabola(speed2, 0.0) <= 0.0 {
            short += weight;
        }
        if let Some((first, last)) = taken(mix(|p| p.left), speed2, limit_m_s) {
            holed += weight * (below(last) - below(first));
        }
    }
    (holed / all, short / all)
}

/// The misses, one for each pace and each cell of direction, scaled to the chance of missing.
fn leaves(rows: &Rows, limit_m_s: f64, missed: f64) -> Vec<(Spot, f64)> {
    let middle = (PACES / 2) as f64;
    let mut out = Vec::with_capacity(PACES * CELLS);
    let mut all = 0.0;
    let edge = |c: usize| c as f64 * 6.0 / CELLS as f64 - 3.0;
    let cell_mass: [f64; CELLS] = std::array::from_fn(|c| below(edge(c + 1)) - below(edge(c)));
    for (i, row) in rows.iter().enumerate() {
        let z = (i as f64 - middle) * PACE_STEP;
        let low = if i == 0 { 0.0 } else { below(z - 0.5 * PACE_STEP) };
        let high = if i + 1 == PACES { 1.0 } else { below(z + 0.5 * PACE_STEP) };
        let hit = taken(row.map(|p| p.left), row.map(|p| p.speed2), limit_m_s);
        for (c, mass) in cell_mass.iter().enumerate() {
            let (from, to) = (edge(c), edge(c + 1));
            let in_hole = hit.map_or(0.0, |(first, last)| {
                let (a, b) = (first.max(from), last.min(to));
                if b <= a {
                    0.0
                } else if a == from && b == to {
                    *mass
                } else {
                    below(b) - below(a)
                }
            });
            let weight = (high - low) * (mass - in_hole);
            if weight > 1e-9 {
                let t = 0.5 * (from + to);
                let x = parabola(row.map(|p| p.rest.x_m), t);
                let y = parabola(row.map(|p| p.rest.y_m), t);
                out.push((Spot::new(x, y), weight));
                all += weight;
            }
        }
    }
    if all > 0.0 {
        for (_, w) in &mut out {
            *w *= missed / all;
        }
    }
    out
}
