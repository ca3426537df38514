//! What places on and around a green are worth to a player, the safe side of the hole, and where to leave the approach.

use super::NoPlan;
use super::ground::Rastered;
use super::question::Question;
use crate::ground::Point;
use crate::strategy::{Fineness, Hole, Kind, Kit, Lies, Stand, Worth, solve};
use crate::today::{Edges, GreenFalls, GreenWorth, edges};
use crate::units::{Across, Along};
use std::sync::atomic::AtomicBool;

/// From one place of the map to the next, yards.
pub const CELL: f64 = 1.0;
/// Ground around the green that is valued, yards.
const AROUND: f64 = 9.0;
/// A leave that is spoken of: this far from the hole, yards.
const LEAVE: f64 = 4.0;
/// How far beyond the edge a miss is spoken of, yards.
const BEYOND: f64 = 5.0;
/// From where the approach is that the target is found for, yards.
const APPROACH: f64 = 140.0;

/// A side of the hole as the player looks along the last leg.
#[derive(Clone, Debug, PartialEq)]
pub struct SideOfHole {
    /// Its name: `short`, `short left` ….
    pub name: &'static str,
    /// Its direction from the hole, degrees clockwise from the last leg.
    pub turn_deg: f64,
    /// Expected putts from four yards on that side; `None` off the green.
    pub putts: Option<f64>,
    /// Expected strokes from five yards beyond the edge on that side, and the ground there.
    pub beyond: Option<(f64, &'static str)>,
}

/// The green of a hole for a player.
#[derive(Debug)]
pub struct GreenPicture {
    /// Where the hole is cut.
    pub pin: Point,
    /// The direction in which it is looked at, degrees clockwise from ahead.
    pub heading_deg: f64,
    /// Distances from the hole to the edges.
    pub edges: Edges,
    /// The falls.
    pub falls: GreenFalls,
    /// What a ball on it is worth.
    pub worth: GreenWorth,
    /// Expected strokes by place: rows from the nearest, each from the left, about `corner` in the plane.
    pub strokes: Vec<Option<f32>>,
    /// The place of the first.
    pub corner: Point,
    /// How many stand in a row.
    pub columns: usize,
    /// The sides of the hole, clockwise from beyond it.
    pub sides: Vec<SideOfHole>,
    /// The best of them.
    pub safe: Option<usize>,
    /// The ideal leave: on the best side.
    pub leave: Option<Point>,
    /// Where an approach from 140 yards is aimed, and with what.
    pub target: Option<(Point, String)>,
}

/// Eight sides by their turn from the line of play.
const SIDES: [&str; 8] = ["long", "long right", "right", "short right", "short", "short left", "left", "long left"];

impl GreenPicture {
    /// Works the green of a question out.
    ///
    /// # Errors
    /// [`NoPlan`].
    pub fn new(question: &Question, cancel: &AtomicBool) -> Result<Self, NoPlan> {
        let pin = question.pin_point().ok_or(NoPlan::NoGreen)?;
        let tee = question.tee_point().ok_or(NoPlan::NoTee)?;
        let ground = &question.hole.ground;
        let green = ground.green.as_ref().ok_or(NoPlan::NoGreen)?;
        let line = ground.line();
        let mut points = vec![tee];
        let start = question.origin().0.0;
        points.extend(ground.bends.iter().filter(|b| b.at.0 > start).map(|b| line.place(b.at, Across(0.0))));
        points.push(green.middle);
        let kit = Kit::new(question.pattern(), Fineness::COARSE);
        let (air, worth) = (question.air(&kit.pattern), question.green(pin, &kit.pattern));
        let lies = Rastered::new(ground);
        let hole = Hole {
            lies: &lies,
            tee,
            pin,
            line: &points,
            green: &worth,
            kit: &kit,
            conditions: &air,
            fineness: Fineness::COARSE,
        };
        let solution = solve(hole, &Worth::Strokes, cancel)?;
        let value = |at: Point| match lies.kind(at) {
            Kind::Green => Some(worth.putts_from(at)),
            _ => solution.value_at(at),
        };
        let b = green.outline.bounds();
        let corner = Point::new((b.left - AROUND).floor(), (b.near - AROUND).floor());
        let count = |from: f64, to: f64| ((to + AROUND - from) / CELL).ceil().max(1.0) as usize + 1;
        let (columns, rows) = (count(corner.right, b.right), count(corner.ahead, b.far));
        let strokes = (0..rows)
            .flat_map(|j| (0..columns).map(move |i| (i, j)))
            .map(|(i, j)| {
                value(Point::new(corner.right + CELL * i as f64, corner.ahead + CELL * j as f64)).map(|v| v as f32)
            })
            .collect();
        let heading_deg = line.last_heading_deg();
        let sides: Vec<SideOfHole> = SIDES
            .iter()
            .enumerate()
            .map(|(k, name)| {
                let turn_deg = 45.0 * k as f64;
                let way = Point::towards(heading_deg + turn_deg);
                let at = pin + way * LEAVE;
                let putts = (lies.kind(at) == Kind::Green).then(|| worth.putts_from(at));
                let mut out = 0.0;
                while out < 60.0 && lies.kind(pin + way * out) == Kind::Green {
                    out += 0.5;
                }
                let off = pin + way * (out + BEYOND);
                let beyond = solution.value_at(off).map(|v| (v, ground_word(lies.kind(off))));
                SideOfHole { name, turn_deg, putts, beyond }
            })
            .collect();
        let best = |a: &&(usize, f64), b: &&(usize, f64)| a.1.total_cmp(&b.1);
        let known: Vec<(usize, f64)> = sides.iter().enumerate().filter_map(|(i, s)| Some((i, s.putts?))).collect();
        let spread = known.iter().map(|s| s.1).fold(f64::NEG_INFINITY, f64::max)
            - known.iter().map(|s| s.1).fold(f64::INFINITY, f64::min);
        // On a level green no side is better than another.
        let safe = known.iter().min_by(best).filter(|_| spread > 0.01).map(|s| s.0);
        let leave = safe.and_then(|i| sides.get(i)).map(|s| pin + Point::towards(heading_deg + s.turn_deg) * LEAVE);
        let from = line.place(Along((ground.length.0 - APPROACH).max(1.0)), Across(0.0));
        let stand = Stand { at: from, lie: crate::pattern::Lie::Fairway, taken: 1 };
        let target = solution.at_once(stand).and_then(|play| {
            let club = play.swing.as_ref().map(|s| kit.pattern.name(s))?;
            Some((play.target, club))
        });
        let falls = GreenFalls::of(&question.hole);
        let edges = edges(green, pin);
        drop(solution);
        Ok(Self { pin, heading_deg, edges, falls, worth, strokes, corner, columns, sides, safe, leave, target })
    }

    /// Expected strokes from the place of the map nearest to a point.
    pub fn strokes_at(&self, at: Point) -> Option<f32> {
        let u = ((at.right - self.corner.right) / CELL).round();
        let v = ((at.ahead - self.corner.ahead) / CELL).round();
        if u < 0.0 || v < 0.0 || u as usize >= self.columns {
            return None;
        }
        self.strokes.get(v as usize * self.columns + u as usize).copied().flatten()
    }
}

fn ground_word(kind: Kind) -> &'static str {
    match kind {
        Kind::Green => "green",
        Kind::Fairway => "fringe or fairway",
        Kind::PenaltyRed | Kind::PenaltyYellow => "penalty area",
        Kind::Out => "out of bounds",
        Kind::Trees => "trees",
        Kind::Rough => "rough",
        Kind::Deep => "long grass",
        Kind::Waste => "waste",
        _ => "sand",
    }
}
