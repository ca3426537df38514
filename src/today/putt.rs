//! A putt on a green of the course, read as a person gives it.

use super::green::{GreenFalls, GreenWorth, Known, spot_of};
use crate::flight::GRAVITY_M_S2;
use crate::ground::Point;
use crate::putting::{
    GreenSpeed, Line, PuttingSkill, STEP_S, Slopes, Spot, break_words, chances, path, profile, read, roll,
    usual_at_hole_m_s,
};

const YARD_M: f64 = 0.9144;
/// Pieces of the drawn path and of the profile.
const PIECES: usize = 24;

/// A read, or why there is none.
#[derive(Clone, Debug, PartialEq)]
pub struct PuttRead {
    /// From ball to hole, metres.
    pub length_m: f64,
    /// The hole above the ball, metres.
    pub rise_m: f64,
    /// How far the ball starts right of the middle of the hole, in cups, and its band; `None` where there is no answer.
    pub cups: Option<(f64, Option<f64>, Option<f64>)>,
    /// The break in words.
    pub words: String,
    /// Plays like a level putt this much longer, metres.
    pub plays_longer_m: f64,
    /// How far past it is rolled, metres.
    pub past_m: f64,
    /// The pace in words.
    pub pace: &'static str,
    /// Chance to hole it and to take three or more.
    pub chances: (f64, f64),
    /// Where it rolls, in the plane.
    pub path: Vec<Point>,
    /// Distance from the ball and height above it, metres.
    pub profile: Vec<(f64, f64)>,
    /// Why there is no read, and where a ball would run.
    pub why: Option<String>,
}

impl PuttRead {
    /// Reads the putt from `ball` to `hole`.
    pub fn new(
        falls: &GreenFalls,
        worth: &GreenWorth,
        speed: GreenSpeed,
        skill: &PuttingSkill,
        ball: Point,
        hole: Point,
    ) -> Self {
        let line = Line { ball: spot_of(ball), hole: spot_of(hole) };
        let length_m = line.length_m();
        let past_m = past(falls, speed, &line);
        let profile = if length_m > 0.01 { profile(falls, &line, PIECES) } else { Vec::new() };
        let rise_m = profile.last().map_or(0.0, |p| p.1);
        let mut out = Self {
            length_m,
            rise_m,
            cups: None,
            words: String::new(),
            plays_longer_m: 0.0,
            past_m,
            pace: "",
            chances: (0.0, 0.0),
            path: Vec::new(),
            profile,
            why: None,
        };
        match read(falls, speed, &line, past_m, &falls.known.doubt()) {
            Ok(read) => {
                let c = chances(falls, speed, &line, &read.aim, skill, STEP_S);
                let three = worth.map().map_or_else(|| worth.three_on_level(ball), |map| map.three_after(&c.leaves));
                out.chances = (c.holed, three);
                out.cups = Some((read.cups, read.cups_band.0, read.cups_band.1));
                out.words = break_of(read.cups, falls.known);
                out.plays_longer_m = read.plays_longer_m;
                out.pace = pace(read.plays_longer_m / length_m.max(0.3));
                let toward = libm::atan2(line.hole.y_m - line.ball.y_m, line.hole.x_m - line.ball.x_m);
                let (s, c) = libm::sincos(toward - read.aim.right_rad);
                let (points, _) = path(falls, speed, line.ball, (c * read.aim.start_m_s, s * read.aim.start_m_s), 0.1);
                out.path = until_the_hole(&points, line.hole);
            }
            Err(why) => {
                out.words = "no putt".to_owned();
                out.why = Some(format!("{why}{}", would_run(falls, speed, line.hole)));
            }
        }
        out
    }
}

/// How far past the hole it is rolled: the usual pace as a speed at the hole, as the leave map has it, so that downhill goes further past.
fn past(falls: &GreenFalls, speed: GreenSpeed, line: &Line) -> f64 {
    let length = line.length_m().max(1e-6);
    let g = falls.grade(line.hole);
    let falls_on = -(g.x * (line.hole.x_m - line.ball.x_m) + g.y * (line.hole.y_m - line.ball.y_m)) / length;
    let a0 = speed.deceleration_m_s2();
    let brake = (a0 - 5.0 / 7.0 * GRAVITY_M_S2 * falls_on).max(0.2 * a0);
    let at_hole = usual_at_hole_m_s(speed, length);
    at_hole * at_hole / (2.0 * brake)
}

/// The path as far as the hole, a few points of it.
fn until_the_hole(points: &[Spot], hole: Spot) -> Vec<Point> {
    let nearest = points
        .iter()
        .enumerate()
        .min_by(|a, b| a.1.distance_m(hole).total_cmp(&b.1.distance_m(hole)))
        .map_or(0, |(i, _)| i);
    let every = (nearest / (2 * PIECES)).max(1);
    points.iter().take(nearest + 1).step_by(every).map(|s| Point::new(s.x_m / YARD_M, s.y_m / YARD_M)).collect()
}

/// Where a ball that is set down beside the hole would run to, when it would.
fn would_run(falls: &GreenFalls, speed: GreenSpeed, hole: Spot) -> String {
    let g = falls.grade(hole);
    let size = g.size().max(1e-9);
    let rest = roll(falls, speed, hole, (-g.x / size * 0.2, -g.y / size * 0.2));
    if rest.stops && rest.spot.distance_m(hole) < 1.0 {
        return String::new();
    }
    let feet = rest.spot.distance_m(hole) / 0.3048;
    if rest.stops {
        format!("; a ball at the hole runs {feet:.0} feet down before it stops")
    } else {
        "; a ball at the hole runs down off the green and does not stop on this slope".to_owned()
    }
}

/// The break in words: cups where slopes were noted, plain words where they are only sketched.
fn break_of(cups: f64, known: Known) -> String {
    if matches!(known, Known::Noted | Known::Surveyed) {
        return break_words(cups);
    }
    let side = if cups < 0.0 { "left" } else { "right" };
    match cups.abs() {
        c if c < 0.25 => "about straight".to_owned(),
        c if c < 1.0 => format!("a little to the {side}"),
        c if c < 3.0 => format!("clearly to the {side}"),
        c if c < 6.0 => format!("well to the {side}"),
        _ => format!("a long way to the {side}"),
    }
}

/// The pace in words, by how much longer than its length the putt plays.
fn pace(longer: f64) -> &'static str {
    match longer {
        l if l > 0.35 => "well uphill, much firmer",
        l if l > 0.10 => "uphill, firmer",
        l if l > -0.10 => "its length",
        l if l > -0.35 => "downhill, softer",
        _ => "well downhill, much softer",
    }
}
