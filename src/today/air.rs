//! What air, wind, height and ground do to every swing of a player on one hole, as a table that the solver can ask a million times.

use super::day::{Day, Reference};
use super::heights::Heights;
use super::memo::Memo;
use crate::course::{Firmness, Hole};
use crate::flight::{self, Air, DayClub, DayShot, Family, Ground, NamedGround};
use crate::ground::Point;
use crate::pattern::{Change, Conditions, Lie, Swing};
use rayon::prelude::*;
use std::sync::Arc;

/// The share of what the wind does that a player misjudges, as one standard deviation: it widens the pattern. Our judgement; laws
/// of flight alone differ by 25 to 30 per cent of the change (docs/physics.md).
pub const JUDGED: f64 = 0.2;

const YARD_M: f64 = 0.9144;
/// Carries of the family that are flown.
const FLOWN: usize = 9;
/// Directions of the wind in the table.
const TURNS: usize = 24;
/// Heights of the landing in the table: from `-HIGH` to `HIGH` metres by tens.
const RISES: usize = 9;
const HIGH_M: f64 = 40.0;
/// Added to both runs before one is divided by the other, metres: short irons hardly run, and a quotient of nothings says nothing.
const RUN_SOFTENED_M: f64 = 2.0;
/// The change of the run by a grade along the line, per unit of grade: 3 % up takes 14 % and 3 % down gives 16 % (docs/physics.md,
/// goldens of the run).
const RUN_BY_GRADE: f64 = 5.0;
/// How much of the wind a punch out of trees feels: it flies low (our judgement).
const PUNCHED: f64 = 0.5;

/// What becomes of a shot: carry and run as factors, drift to the right as a share of the carry.
#[derive(Clone, Copy, Debug, Default)]
struct Cell {
    carry: f32,
    drift: f32,
    run: f32,
}

impl Cell {
    fn add(&mut self, other: Self, weight: f32) {
        self.carry += weight * other.carry;
        self.drift += weight * other.drift;
        self.run += weight * other.run;
    }
}

/// The family of a player in the air of a day.
#[derive(Debug)]
struct Tables {
    /// Shortest carry flown and the step to the next, metres.
    low_m: f64,
    step_m: f64,
    turns: usize,
    cells: Vec<Cell>,
}

/// What tables are made from, to the digits that matter.
#[derive(Clone, Copy, PartialEq)]
struct Key {
    driver: u64,
    there: u64,
    here: u64,
    wind: u64,
    firmness: Firmness,
}

static TABLES: Memo<Key, Tables> = Memo::new(12);

fn firmness(of: Firmness) -> flight::Firmness {
    match of {
        Firmness::Soft => flight::Firmness::Soft,
        Firmness::Medium => flight::Firmness::Medium,
        Firmness::Firm => flight::Firmness::Firm,
        Firmness::Baked => flight::Firmness::Baked,
    }
}

/// The family whose driver carries so far where the carries were measured; a carry beyond the model's range is held at its end.
pub(super) fn family(driver_m: f64, there: &Air) -> Option<Family> {
    Family::measured_in(driver_m, there)
        .or_else(|e| Family::measured_in(driver_m.clamp(e.low_m + 0.01, e.high_m - 0.01), there))
        .ok()
}

impl Tables {
    fn new(driver_m: f64, there: &Air, here: &Air, ground: &Ground) -> Option<Self> {
        let family = family(driver_m, there)?;
        let range = family.club_measured_in(0.0, there).err()?;
        let (low_m, high_m) = (range.low_m, range.high_m);
        let step_m = (high_m - low_m) / (FLOWN - 1) as f64;
        let turns = if here.wind.speed_m_s() > 1e-9 { TURNS } else { 1 };
        let flown: Vec<Option<(f64, f64, DayClub)>> = (0..FLOWN)
            .into_par_iter()
            .map(|i| {
                let club = family.club_measured_in((low_m + step_m * i as f64).min(high_m), there).ok()?;
                let still = DayClub::new(&club, there, &Ground::FAIRWAY_MEDIUM).shot(0.0, 0.0)?;
                Some((still.carry_m, still.run_m, DayClub::new(&club, here, ground)))
            })
            .collect();
        let mut cells = Vec::with_capacity(FLOWN * turns * RISES);
        for entry in &flown {
            let (carry_m, run_m, club) = entry.as_ref()?;
            for turn in 0..turns {
                let from = 360.0 * turn as f64 / turns as f64;
                let mut last: Option<Cell> = None;
                for rise in 0..RISES {
                    let shot = club.shot(from, -HIGH_M + 10.0 * rise as f64);
                    let cell = match (shot, last) {
                        (Some(s), _) => cell(&s, *carry_m, *run_m),
                        // Above the flight the ball meets the hill before it: shorter than the last that lands.
                        (None, Some(below)) => Cell { carry: 0.6 * below.carry, run: 0.0, ..below },
                        (None, None) => Cell { carry: 0.4, drift: 0.0, run: 0.0 },
                    };
                    cells.push(cell);
                    last = Some(cell);
                }
            }
        }
        Some(Self { low_m, step_m, turns, cells })
    }

    /// The change of a carry, wind from `from_deg` clockwise from the line of play, landing `rise_m` above the ball.
    #[inline]
    fn look(&self, carry_m: f64, from_deg: f64, rise_m: f64) -> Cell {
        let u = ((carry_m - self.low_m) / self.step_m).clamp(0.0, (FLOWN - 1) as f64);
        let w = ((rise_m + HIGH_M) / 10.0).clamp(0.0, (RISES - 1) as f64);
        let (i, k) = ((u as usize).min(FLOWN - 2), (w as usize).min(RISES - 2));
        let (f, h) = ((u - i as f64) as f32, (w - k as f64) as f32);
        let (j, next, g) = if self.turns == 1 {
            (0, 0, 0.0)
        } else {
            let v = from_deg.rem_euclid(360.0) / 360.0 * self.turns as f64;
            let j = (v as usize) % self.turns;
            (j, (j + 1) % self.turns, (v - v.floor()) as f32)
        };
        let mut out = Cell::default();
        for (i, a) in [(i, 1.0 - f), (i + 1, f)] {
            for (j, b) in [(j, 1.0 - g), (next, g)] {
                let at = (i * self.turns + j) * RISES + k;
                if let (Some(low), Some(high)) = (self.cells.get(at), self.cells.get(at + 1)) {
                    out.add(*low, a * b * (1.0 - h));
                    out.add(*high, a * b * h);
                }
            }
        }
        out
    }
}

fn cell(shot: &DayShot, carry_m: f64, run_m: f64) -> Cell {
    Cell {
        carry: (shot.carry_m / carry_m) as f32,
        drift: (shot.side_m / carry_m) as f32,
        run: ((shot.run_m + RUN_SOFTENED_M).max(0.0) / (run_m + RUN_SOFTENED_M).max(0.5)).clamp(0.0, 4.0) as f32,
    }
}

/// The conditions of a day on one hole for one player.
#[derive(Debug)]
pub struct HoleAir {
    tables: Option<Arc<Tables>>,
    /// Where the wind comes from, degrees clockwise from the first leg.
    from_deg: f64,
    heights: Heights,
}

impl HoleAir {
    /// The conditions on `hole` for a player whose longest club carries `longest_yd` in the air of `measured`.
    pub fn new(day: &Day, hole: &Hole, longest_yd: f64, measured: &Reference) -> Self {
        let heights = Heights::of(hole);
        let (there, here) = day.densities(measured);
        let known = day.wind.zip(hole.bearing);
        let speed = known.map_or(0.0, |_| day.wind_speed_m_s());
        let neutral =
            heights.level() && speed < 1e-9 && (here - there).abs() < 1e-6 && day.firmness == Firmness::Medium;
        let rounded = |v: f64, by: f64| (v / by).round() * by;
        let (driver_m, speed) = (rounded(longest_yd * YARD_M, 0.1), rounded(speed, 0.01));
        let key = Key {
            driver: driver_m.to_bits(),
            there: there.to_bits(),
            here: here.to_bits(),
            wind: speed.to_bits(),
            firmness: day.firmness,
        };
        let make = || {
            let air = Air::still(here).with_wind(flight::Wind::from(speed, 0.0));
            Tables::new(driver_m, &Air::still(there), &air, &NamedGround::Fairway(firmness(day.firmness)).ground())
        };
        let tables = (!neutral).then(|| TABLES.get(key, || make().unwrap_or_else(Tables::neutral)));
        Self { tables, from_deg: known.map_or(0.0, |(wind, bearing)| wind.from_deg - bearing), heights }
    }

    /// The heights of the ground.
    pub const fn heights(&self) -> &Heights {
        &self.heights
    }

    /// What becomes of a carry of `carry` yards from `from` in a direction (radians clockwise from ahead).
    fn of(&self, tables: &Tables, carry: f64, punched: bool, from: Point, direction: f64) -> (Cell, f64) {
        let from_deg = self.from_deg - direction.to_degrees();
        let carry_m = carry * YARD_M;
        let flown_m = carry_m.max(tables.low_m);
        let level = tables.look(flown_m, from_deg, 0.0);
        // A part swing is in the air for less: it feels the wind in the share of its length.
        let share = (carry_m / flown_m) * if punched { PUNCHED } else { 1.0 };
        let mut out =
            Cell { carry: 1.0 + (level.carry - 1.0) * share as f32, drift: level.drift * share as f32, run: level.run };
        let mut grade = 0.0;
        if !self.heights.level() && carry > 0.0 {
            let (s, c) = libm::sincos(direction);
            let here = self.heights.at(from);
            let at = |d: f64| self.heights.at(Point::new(from.right + d * s, from.ahead + d * c));
            let mut flown = f64::from(out.carry);
            for _ in 0..2 {
                let rise_m = (at(carry * flown) - here) * YARD_M;
                let there = tables.look(flown_m, from_deg, rise_m);
                // A rise costs the same yards to a part swing as to the last full one, which comes down as steeply.
                let by = f64::from(there.carry - level.carry) * flown_m / carry_m.max(1.0);
                flown = (f64::from(out.carry) + by).clamp(0.4, 1.8);
                out.run = there.run;
            }
            out.carry = flown as f32;
            let landing = carry * flown;
            grade = (at(landing + 5.0) - at(landing - 5.0)) / 10.0;
        }
        (out, grade)
    }
}

impl Tables {
    /// No change at all, where no family can be made.
    fn neutral() -> Self {
        Self {
            low_m: 1.0,
            step_m: 50.0,
            turns: 1,
            cells: vec![Cell { carry: 1.0, drift: 0.0, run: 1.0 }; FLOWN * RISES],
        }
    }
}

impl Conditions for HoleAir {
    fn change(&self, swing: &Swing, from: Point, direction: f64) -> Change {
        let Some(tables) = &self.tables else { return Change::NONE };
        let carry = swing.carry();
        let (cell, grade) = self.of(tables, carry, swing.lie == Lie::Trees, from, direction);
        let (carried, drift) = (f64::from(cell.carry), f64::from(cell.drift) * carry);
        let wider = |by: f64, sd: f64| {
            let share = JUDGED * by / sd.max(0.1);
            (1.0 + share * share).sqrt()
        };
        Change {
            carry: carried,
            run: f64::from(cell.run) * libm::exp(-RUN_BY_GRADE * grade).clamp(0.5, 1.8),
            along: if tables.turns > 1 { wider(carry * (carried - 1.0), swing.along) } else { 1.0 },
            across: wider(drift, swing.across),
            drift,
        }
    }

    fn still(&self) -> bool {
        self.tables.is_none()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::indexing_slicing)]
mod tests {
    use super::*;
    use crate::course::day::Wind;
    use crate::course::{Card, Course};
    use crate::pattern::{Bag, Pattern, Skill};

    fn corvane() -> Course {
        crate::course::read(include_str!("../../sample-courses/corvane.yaml")).0.unwrap()
    }

    fn windy(from_deg: f64) -> Day {
        Day { of_sheet: true, ..Day::usual(&corvane()) }.with_wind(Some(Wind {
            speed_m_s: 6.0,
            from_deg,
            at_height_m: 10.0,
        }))
    }

    /// The table against the flight integrated for the same shot: inside what its steps allow.
    #[test]
    fn the_table_is_the_flight() {
        let course = corvane();
        let mut hole = course.holes[0].clone();
        hole.ground.heights.clear();
        if let Some(green) = &mut hole.sketch.green {
            green.up = None;
        }
        let pattern = Pattern::of(&Bag::default(), &Skill::of_index(10.0, Card::Men));
        let longest = pattern.longest_carry(Lie::Tee);
        let day = windy(hole.bearing.unwrap() + 40.0);
        let air = HoleAir::new(&day, &hole, longest, &Reference::default());
        let family = Family::of_driver(longest * YARD_M).unwrap();
        for swing in pattern.swings(Lie::Tee).iter().filter(|s| s.full) {
            for direction in [-0.4_f64, 0.0, 0.25] {
                let change = air.change(swing, Point::default(), direction);
                let Ok(club) = family.club(swing.carry() * YARD_M) else { continue };
                let there = day.air(&Reference::default(), &hole, direction.to_degrees());
                let exact = club.change(&there, 0.0).unwrap().landing;
                let off = (swing.carry() * change.carry - exact.carry_m / YARD_M, change.drift - exact.side_m / YARD_M);
                assert!(off.0.abs() < 1.2 && off.1.abs() < 1.0, "{:.0}: {off:?}", swing.carry());
            }
        }
    }

    #[test]
    fn in_the_face_is_shorter_and_costs_more_than_the_same_from_behind_gives() {
        let hole = corvane().holes[0].clone();
        let pattern = Pattern::of(&Bag::default(), &Skill::of_index(10.0, Card::Men));
        let swing = &pattern.swings(Lie::Tee)[0];
        let carry = |from: f64| {
            let air = HoleAir::new(&windy(from), &hole, pattern.longest_carry(Lie::Tee), &Reference::default());
            air.change(swing, Point::default(), 0.0).carry
        };
        let still =
            HoleAir::new(&Day::usual(&corvane()), &hole, pattern.longest_carry(Lie::Tee), &Reference::default());
        let usual = still.change(swing, Point::default(), 0.0).carry;
        let bearing = hole.bearing.unwrap();
        let (face, behind) = (usual - carry(bearing), carry(bearing + 180.0) - usual);
        assert!(face > behind && behind > 0.0, "{face} {behind}");
    }

    /// From the right the ball goes left, and the mirror image from the left.
    #[test]
    fn a_wind_from_the_right_takes_the_ball_left() {
        let hole = corvane().holes[0].clone();
        let pattern = Pattern::of(&Bag::default(), &Skill::of_index(10.0, Card::Men));
        let swing = &pattern.swings(Lie::Tee)[0];
        let drift = |turn: f64| {
            let air = HoleAir::new(
                &windy(hole.bearing.unwrap() + turn),
                &hole,
                pattern.longest_carry(Lie::Tee),
                &Reference::default(),
            );
            air.change(swing, Point::default(), 0.0).drift
        };
        assert!(drift(90.0) < -8.0, "{}", drift(90.0));
        assert!((drift(90.0) + drift(270.0)).abs() < 0.05);
    }

    #[test]
    fn a_level_hole_on_a_usual_day_changes_nothing() {
        let mut course = corvane();
        course.firmness = Firmness::Medium;
        let mut hole = course.holes[0].clone();
        hole.ground.heights.clear();
        if let Some(green) = &mut hole.sketch.green {
            green.up = None;
        }
        let air = HoleAir::new(&Day::usual(&course), &hole, 214.0, &Reference::default());
        assert!(air.still());
    }

    /// Uphill costs about the rise over the tangent of the descent; a part swing no fewer yards than a full wedge.
    #[test]
    fn uphill_is_shorter_by_about_the_rise() {
        let course = corvane();
        let hole = course.holes.iter().find(|h| h.number == 14).unwrap_or(&course.holes[0]).clone();
        let pattern = Pattern::of(&Bag::default(), &Skill::of_index(10.0, Card::Men));
        let air = HoleAir::new(&Day::usual(&course), &hole, pattern.longest_carry(Lie::Tee), &Reference::default());
        let heights = air.heights();
        for swing in pattern.swings(Lie::Fairway).iter().filter(|s| s.carry() > 30.0) {
            let from =
                hole.ground.line().place(crate::units::Along(hole.ground.length.0 - swing.carry()), Default::default());
            let direction = (hole.ground.line().place(hole.ground.length, Default::default()) - from).degrees();
            let change = air.change(swing, from, direction.to_radians());
            let rise = heights.at(hole.ground.line().place(hole.ground.length, Default::default())) - heights.at(from);
            let by = swing.carry() * (change.carry - 1.0);
            assert!(by * rise <= 0.5, "{:.0}: rise {rise:.1} changed {by:.1}", swing.carry());
            assert!(by.abs() <= 2.2 * rise.abs() + 1.5, "{:.0}: rise {rise:.1} changed {by:.1}", swing.carry());
        }
    }
}
