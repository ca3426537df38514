//! A putt as a person gives it: length, rise, break in cups with a band, pace.

use super::aim::{Aim, Line, NoAim, aim};
use super::hole::HOLE_RADIUS_M;
use super::speed::GreenSpeed;
use super::surface::{Grade, Slopes, Spot};

/// How far the slopes and the green speed may be wrong; makes the band of a read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doubt {
    /// Of the slope across the line, as a ratio.
    pub grade: f64,
    /// Of the green speed, feet.
    pub stimp_ft: f64,
}

impl Doubt {
    /// Heights from a survey.
    pub const SURVEYED: Doubt = Doubt { grade: 0.002, stimp_ft: 0.5 };
    /// Slopes noted at spots with a level.
    pub const NOTED: Doubt = Doubt { grade: 0.005, stimp_ft: 0.5 };
    /// One fall sketched for the whole green: give words, not cups.
    pub const SKETCHED: Doubt = Doubt { grade: 0.010, stimp_ft: 1.0 };
}

/// A read.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Read {
    /// How to start it.
    pub aim: Aim,
    /// Length of the line, m.
    pub length_m: f64,
    /// Rise from ball to hole, m.
    pub rise_m: f64,
    /// Aim right of the middle of the hole, in widths of the hole.
    pub cups: f64,
    /// The same with slope and speed at the ends of their doubt, lower first; `None` where that end has no answer.
    pub cups_band: (Option<f64>, Option<f64>),
    /// Length of the level putt of the same pace less the length of the line, m: "plays 1.2 m longer".
    pub plays_longer_m: f64,
}

/// Slopes with the same grade added everywhere.
struct Tilted<'a, S: ?Sized>(&'a S, Grade);

impl<S: Slopes + ?Sized> Slopes for Tilted<'_, S> {
    fn grade(&self, spot: Spot) -> Grade {
        let g = self.0.grade(spot);
        Grade::new(g.x + self.1.x, g.y + self.1.y)
    }
}

/// Reads a putt.
///
/// # Errors
/// As [`aim`].
pub fn read<S: Slopes + ?Sized>(
    slopes: &S,
    speed: GreenSpeed,
    line: &Line,
    past_m: f64,
    doubt: &Doubt,
) -> Result<Read, NoAim> {
    let best = aim(slopes, speed, line, past_m)?;
    let cups = |a: f64| a / (2.0 * HOLE_RADIUS_M);
    let (x, y) = line.way();
    // A grade that falls to the left of the line makes the aim go right.
    let tilt = |by: f64| Grade::new(y * by, -x * by);
    let end = |by: f64, feet: f64| {
        aim(&Tilted(slopes, tilt(by)), speed.faster(feet), line, past_m).ok().map(|a| cups(a.aim_m))
    };
    let (low, high) = if best.aim_m >= 0.0 {
        (end(-doubt.grade, -doubt.stimp_ft), end(doubt.grade, doubt.stimp_ft))
    } else {
        (end(-doubt.grade, doubt.stimp_ft), end(doubt.grade, -doubt.stimp_ft))
    };
    let length = line.length_m();
    Ok(Read {
        aim: best,
        length_m: length,
        rise_m: rise_m(slopes, line),
        cups: cups(best.aim_m),
        cups_band: (low, high),
        plays_longer_m: best.flat_length_m - length - past_m,
    })
}

/// Heights along the line from the ball, m: (distance, height above the ball), `pieces` + 1 of them.
pub fn profile<S: Slopes + ?Sized>(slopes: &S, line: &Line, pieces: usize) -> Vec<(f64, f64)> {
    let (length, (x, y)) = (line.length_m(), line.way());
    let pieces = pieces.max(1);
    let step = length / pieces as f64;
    let mut height = 0.0;
    let mut out = vec![(0.0, 0.0)];
    for i in 0..pieces {
        // Simpson's rule, so that few pieces still end at the right height.
        let up = |d: f64| {
            let g = slopes.grade(Spot::new(line.ball.x_m + x * d, line.ball.y_m + y * d));
            g.x * x + g.y * y
        };
        let d = i as f64 * step;
        height += step / 6.0 * (up(d) + 4.0 * up(d + 0.5 * step) + up(d + step));
        out.push((d + step, height));
    }
    out
}

/// Rise from ball to hole, m.
pub fn rise_m<S: Slopes + ?Sized>(slopes: &S, line: &Line) -> f64 {
    profile(slopes, line, 16).last().map_or(0.0, |p| p.1)
}

/// The aim in words: inside the hole, its edge, or cups outside it.
pub fn break_words(cups: f64) -> String {
    let side = if cups < 0.0 { "left" } else { "right" };
    // From the middle of the hole to its edge is half a cup.
    match cups.abs() {
        c if c < 0.12 => "straight".to_owned(),
        c if c < 0.42 => format!("inside the {side} edge"),
        c if c < 0.75 => format!("{side} edge"),
        c => {
            let outside = (2.0 * (c - 0.5)).round() / 2.0;
            match outside {
                o if o <= 0.5 => format!("half a cup outside {side}"),
                1.0 => format!("one cup outside {side}"),
                o => format!("{o} cups outside {side}"),
            }
        }
    }
}
