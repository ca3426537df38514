//! The falls of a green, and what a ball on it is worth to a player.

use super::memo::Memo;
use crate::course::{Card, Hole};
use crate::ground::{Point, Putting};
use crate::pattern::Putts;
use crate::pattern::putts::{MOST_PUTTS, average_of};
use crate::putting::{
    Doubt, Grade, GreenSpeed, HeightGrid, LeaveMap, LeaveSetting, Plane, PuttingSkill, Slopes, Spot, Spots,
};
use crate::strategy::GreenValue;
use std::sync::Arc;

const YARD_M: f64 = 0.9144;
/// What a chip from beyond the edge costs over a putt of its length, strokes (our judgement: Broadie's fringe and rough near a green
/// are 0.3 to 0.5 over the putt).
const OFF_THE_GREEN: f64 = 0.4;
/// A ball this near the edge is putted, metres.
const FRINGE_M: f64 = 1.0;
/// The most that slopes may lengthen a putt, as a share of putts: what the map cannot answer stays a floor.
const MOST_PUTTS_MEAN: f64 = 3.6;

/// A point of the plane as a spot of the putting room: metres, x to the right, y ahead.
pub fn spot_of(point: Point) -> Spot {
    Spot::new(point.right * YARD_M, point.ahead * YARD_M)
}

fn point_of(spot: Spot) -> Point {
    Point::new(spot.x_m / YARD_M, spot.y_m / YARD_M)
}

/// A direction of the plane (degrees clockwise from ahead) as the putting room turns (degrees left from x).
fn turned(plane_deg: f64) -> f64 {
    90.0 - plane_deg
}

/// The errors of a player of a Handicap Index.
pub fn putting_skill(index: f64, card: Card) -> PuttingSkill {
    match card {
        Card::Men => PuttingSkill::men(index),
        Card::Women => PuttingSkill::women(index),
    }
}

/// How well the falls of a green are known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Known {
    /// Nothing is noted: taken as level.
    Nothing,
    /// One fall for the whole green.
    Sketched,
    /// Slopes noted at spots.
    Noted,
    /// Heights on a grid.
    Surveyed,
}

impl Known {
    /// How wrong they may be.
    pub const fn doubt(self) -> Doubt {
        match self {
            Self::Nothing | Self::Sketched => Doubt::SKETCHED,
            Self::Noted => Doubt::NOTED,
            Self::Surveyed => Doubt::SURVEYED,
        }
    }

    /// In words, for the page.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Nothing => "no falls noted: taken as level",
            Self::Sketched => "one fall sketched for the whole green",
            Self::Noted => "slopes noted at spots",
            Self::Surveyed => "heights on a grid",
        }
    }
}

#[derive(Clone, Debug, PartialEq)]
enum Falls {
    Plane(Plane),
    Spots(Spots),
    Grid { grid: HeightGrid, middle: Spot, turn: (f64, f64) },
}

/// The slopes of one green, in the frame of [`spot_of`].
#[derive(Clone, Debug, PartialEq)]
pub struct GreenFalls {
    falls: Falls,
    /// How well they are known.
    pub known: Known,
}

impl GreenFalls {
    /// The falls of the green of a hole: its grid of heights, else the slopes at spots, else the fall of the whole, else level.
    pub fn of(hole: &Hole) -> Self {
        let level = Self { falls: Falls::Plane(Plane(Grade::default())), known: Known::Nothing };
        let Some(green) = &hole.ground.green else { return level };
        let whole = green.falls.map(|(pct, towards)| Grade::falling(pct, turned(towards)));
        if let Some(sketch) = &hole.sketch.green {
            if let Some(grid) = sketch.height_grid.as_ref().and_then(|g| grid_of(g, green)) {
                return Self { falls: grid, known: Known::Surveyed };
            }
            let line = hole.ground.line();
            let last = line.last_heading_deg();
            let noted: Vec<(Spot, Grade)> = sketch
                .slopes
                .iter()
                .map(|(at, across, pct, clock)| {
                    let grade = Grade::falling(*pct, turned(last + 30.0 * (clock % 12.0)));
                    (spot_of(line.place(*at, *across)), grade)
                })
                .collect();
            if !noted.is_empty() {
                return Self { falls: Falls::Spots(Spots::new(noted)), known: Known::Noted };
            }
        }
        match whole {
            Some(grade) => Self { falls: Falls::Plane(Plane(grade)), known: Known::Sketched },
            None => level,
        }
    }

    /// Whether the green is level as far as is known.
    pub fn level(&self) -> bool {
        matches!(&self.falls, Falls::Plane(Plane(g)) if g.size() < 1e-6)
    }

    /// The fall at a point of the plane: per cent, and the direction it falls towards, degrees clockwise from ahead.
    pub fn fall_at(&self, at: Point) -> (f64, f64) {
        let g = self.grade(spot_of(at));
        (100.0 * g.size(), Point::new(-g.x, -g.y).degrees())
    }
}

fn grid_of(grid: &crate::course::HeightGrid, green: &Putting) -> Option<Falls> {
    let columns = grid.rows.first().map_or(0, Vec::len);
    let rows = grid.rows.len();
    let heights: Vec<f64> = grid.rows.iter().flatten().map(|up| up * YARD_M).collect();
    let every = grid.every * YARD_M;
    let corner = Spot::new(-0.5 * every * (columns as f64 - 1.0), -0.5 * every * (rows as f64 - 1.0));
    let grid = HeightGrid::new(corner, every, columns, heights)?;
    Some(Falls::Grid { grid, middle: spot_of(green.middle), turn: libm::sincos(green.axis_deg.to_radians()) })
}

impl Slopes for GreenFalls {
    #[inline]
    fn grade(&self, spot: Spot) -> Grade {
        match &self.falls {
            Falls::Plane(plane) => plane.grade(spot),
            Falls::Spots(spots) => spots.grade(spot),
            Falls::Grid { grid, middle, turn: (s, c) } => {
                // Into the green's own axes (y along the axis, which points `s` to the right and `c` ahead), and back.
                let (x, y) = (spot.x_m - middle.x_m, spot.y_m - middle.y_m);
                let g = grid.grade(Spot::new(x * c - y * s, x * s + y * c));
                Grade::new(g.x * c + g.y * s, g.y * c - g.x * s)
            }
        }
    }
}

/// What a green is worth to one putter, for one hole location.
#[derive(Debug)]
struct Worked {
    map: LeaveMap,
    level: LeaveMap,
}

#[derive(Clone, PartialEq)]
struct Key {
    falls: GreenFalls,
    outline: Vec<Point>,
    hole: Point,
    speed: GreenSpeed,
    skill: PuttingSkill,
}

static GREENS: Memo<Key, Worked> = Memo::new(96);
static LEVELS: Memo<(GreenSpeed, PuttingSkill), LeaveMap> = Memo::new(16);

/// What a ball on the green of a hole is worth: the player's own curve of putts by distance, lengthened or shortened by what the
/// falls of this green add to a level one of the same speed (the map of the green less the map of a level green: where the map as a
/// whole is a little too kind, the difference is not).
#[derive(Debug)]
pub struct GreenWorth {
    putts: Putts,
    hole: Point,
    worked: Option<Arc<Worked>>,
}

impl GreenWorth {
    /// The worth of a green; worked out once for a green, a hole location, a speed and a skill.
    pub fn new(hole: &Hole, pin: Point, speed: GreenSpeed, skill: PuttingSkill, putts: &Putts) -> Self {
        let falls = GreenFalls::of(hole);
        let green = hole.ground.green.as_ref().filter(|_| !falls.level());
        let worked = green.map(|green| {
            let key = Key { outline: green.outline.outer.clone(), hole: pin, speed, skill, falls };
            GREENS.get(key.clone(), || Worked {
                level: LeaveMap::clone(&level_map(speed, skill)),
                map: map_of(green, &key.falls, pin, speed, skill, putts),
            })
        });
        Self { putts: putts.clone(), hole: pin, worked }
    }

    /// The map behind it; `None` on a level green.
    pub fn map(&self) -> Option<&LeaveMap> {
        self.worked.as_ref().map(|w| &w.map)
    }

    /// Chance of three putts or more from a point, by the player's own curve: for a level green.
    pub fn three_on_level(&self, at: Point) -> f64 {
        self.putts.chances(at.distance(self.hole)).iter().skip(2).sum()
    }

    /// Expected putts from a point.
    pub fn putts_from(&self, at: Point) -> f64 {
        average_of(&self.chances(at))
    }

    /// Strokes that the falls add from a point, to a putt of the same length on the level.
    pub fn added(&self, at: Point) -> f64 {
        let Some(worked) = &self.worked else { return 0.0 };
        let away = at.distance(self.hole) * YARD_M;
        worked.map.putts(spot_of(at)) - worked.level.putts(Spot::new(away, 0.0))
    }

    /// The length of the level putt that is worth as many strokes, yards.
    fn worth_a_putt_of(&self, at: Point) -> f64 {
        let away = at.distance(self.hole);
        if self.worked.is_none() || away < 0.05 {
            return away;
        }
        let mean = average_of(&self.putts.chances(away)) + self.added(at);
        let (mut low, mut high) = (0.0, 70.0);
        if mean >= self.putts.average(high) {
            return high;
        }
        for _ in 0..22 {
            let middle = 0.5 * (low + high);
            if self.putts.average(middle) < mean { low = middle } else { high = middle }
        }
        0.5 * (low + high)
    }
}

impl GreenValue for GreenWorth {
    fn chances(&self, at: Point) -> [f64; MOST_PUTTS] {
        let mut row = self.putts.chances(self.worth_a_putt_of(at));
        // Where slopes ask more than the longest putt of the curve, the rest is one putt more.
        let mean = average_of(&row);
        let want = (average_of(&self.putts.chances(at.distance(self.hole))) + self.added(at)).min(MOST_PUTTS_MEAN);
        if want > mean + 0.02 {
            let share = (want - mean).clamp(0.0, 1.0);
            for j in (1..MOST_PUTTS).rev() {
                let before = row.get(j - 1).copied().unwrap_or_default();
                if let Some(slot) = row.get_mut(j) {
                    let kept = if j == MOST_PUTTS - 1 { *slot } else { *slot * (1.0 - share) };
                    *slot = kept + before * share;
                }
            }
            if let Some(first) = row.first_mut() {
                *first *= 1.0 - share;
            }
        }
        row
    }
}

/// A level green, by distance along x.
fn level_map(speed: GreenSpeed, skill: PuttingSkill) -> Arc<LeaveMap> {
    LEVELS.get((speed, skill), || {
        let setting =
            LeaveSetting::covering(speed, Spot::new(0.0, 0.0), skill, Spot::new(0.0, -1.9), Spot::new(44.0, 1.9));
        LeaveMap::new(&Plane::default(), &setting, |_| true, |_| None)
    })
}

fn map_of(
    green: &Putting,
    falls: &GreenFalls,
    pin: Point,
    speed: GreenSpeed,
    skill: PuttingSkill,
    putts: &Putts,
) -> LeaveMap {
    let b = green.outline.bounds();
    // Whole cells about the middle, so that a mirrored green has the mirrored map.
    let cells = |from: f64, to: f64| {
        let half = 0.5 * ((to - from) * YARD_M / LeaveSetting::CELL_M).ceil() * LeaveSetting::CELL_M / YARD_M;
        (0.5 * (from + to) - half, 0.5 * (from + to) + half)
    };
    let ((left, right), (near, far)) = (cells(b.left, b.right), cells(b.near, b.far));
    let (low, high) = (spot_of(Point::new(left, near)), spot_of(Point::new(right, far - 1e-6)));
    let setting = LeaveSetting::covering(speed, spot_of(pin), skill, low, Spot::new(high.x_m - 1e-6, high.y_m));
    let hole = spot_of(pin);
    let on_green = |spot: Spot| green.outline.contains(point_of(spot));
    let beyond = |spot: Spot| {
        let at = point_of(spot);
        let off = !green.outline.contains(at) && green.outline.distance(at) * YARD_M > FRINGE_M;
        off.then(|| putts.average(spot.distance_m(hole) / YARD_M) + OFF_THE_GREEN)
    };
    match &falls.falls {
        // A plane is asked without a look at what it is, a million times.
        Falls::Plane(plane) => LeaveMap::new(plane, &setting, on_green, beyond),
        _ => LeaveMap::new(falls, &setting, on_green, beyond),
    }
}
