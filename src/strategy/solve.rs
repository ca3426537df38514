//! The fewest strokes from every place of a hole, by dynamic programming from the hole outward.

use super::Hole;
use super::choice::{Choice, Depth, Row};
use super::course::course;
use super::eval::{Course, Fan, Next, average_putts};
use super::field::Field;
use super::lattice::Place;
use super::ledger::Ledger;
use super::look::{KEPT, Scratch};
use crate::pattern::Lie;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};

/// No place is worth more strokes than this.
pub const MOST_STROKES: f32 = 30.0;
/// About what it costs to meet trees at once, in strokes.
const SHUT: f32 = 0.8;
/// Rounds of values with the plays kept; each carries drops that go backwards one step further.
const ROUNDS: usize = 6;
/// Values that move less than this between rounds are settled.
const SETTLED: f32 = 0.006;

/// A hole solved for fewest strokes.
pub struct Solved<'a> {
    /// The hole and its rasters.
    pub course: Course<'a>,
    /// Strokes to come from every place.
    pub values: Vec<f32>,
    /// The best plays from every place, the best first.
    pub plays: Vec<[Option<Choice>; KEPT]>,
    /// Values of finishes.
    pub field: Field,
    /// Where the best play from each place leads, once somebody has asked.
    pub rows: Vec<OnceLock<Row>>,
}

/// The work was called off.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CalledOff;

impl std::fmt::Display for CalledOff {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "called off")
    }
}

impl std::error::Error for CalledOff {}

/// Strokes to come when nothing better is known: high, because a low start leaks through drops that go backwards.
fn guess(hole: &Hole<'_>, place: Place) -> f32 {
    let skill = &hole.kit.pattern.skill;
    let lie = match place.lie {
        Lie::Tee | Lie::Fairway => 0.0,
        Lie::Rough => 0.15,
        Lie::Waste | Lie::ShallowSand | Lie::Sand => 0.3,
        Lie::SteepSand | Lie::Deep => 0.6,
        Lie::Trees => 0.9,
    };
    (2.5 + 0.02 * skill.index.max(0.0) + 1.4 * f64::from(place.spot.away()) / skill.drive.max(50.0)) as f32 + lie
}

/// Solves a hole for fewest strokes.
///
/// # Errors
/// [`CalledOff`] soon after `cancel` is set.
pub fn solve_strokes<'a>(hole: Hole<'a>, cancel: &AtomicBool) -> Result<Solved<'a>, CalledOff> {
    let course = course(hole);
    let field = Field::new(&course.terrain, &course.greens, &average_putts);
    let count = course.lattice.places.len();
    let mut fans: Vec<Option<Fan>> = (0..count).map(|_| None).collect();
    let mut solved = Solved {
        values: course.lattice.places.iter().map(|p| guess(&hole, *p)).collect(),
        plays: vec![[None; KEPT]; count],
        rows: (0..count).map(|_| OnceLock::new()).collect(),
        course,
        field,
    };
    solved.field.refresh(&solved.course.mesh, &solved.values, 0, count);
    solved.field.refresh_wet(&solved.course.terrain, 1.0, None);
    solved.round(Pass::Look, &mut fans, cancel)?;
    if solved.course.terrain.has_hazards() {
        solved.round(Pass::Weigh, &mut fans, cancel)?;
    }
    for _ in 0..ROUNDS {
        if solved.round(Pass::Value, &mut fans, cancel)? < SETTLED {
            break;
        }
    }
    Ok(solved)
}

/// What is done at every place in one round from the hole outward.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Pass {
    /// Every play is looked at, the best are weighed and kept.
    Look,
    /// The plays kept are weighed again.
    Weigh,
    /// The value of the best play is taken on the most points.
    Value,
}

impl Solved<'_> {
    /// One round; returns by how much the value moved most, far-off ground aside.
    fn round(&mut self, pass: Pass, fans: &mut [Option<Fan>], cancel: &AtomicBool) -> Result<f32, CalledOff> {
        let mut scratch = Scratch::default();
        let count = self.course.lattice.places.len();
        let (mut begin, mut moved) = (1, 0.0_f32);
        while begin < count {
            if cancel.load(Ordering::Relaxed) {
                return Err(CalledOff);
            }
            let places = &self.course.lattice.places;
            let inner = places.get(begin).map_or(0.0, |p| p.spot.away());
            let width = if inner < 24.0 {
                3.0
            } else if inner < 48.0 {
                6.0
            } else {
                12.0
            };
            let ring = places.get(begin..).unwrap_or_default();
            let end = begin + ring.partition_point(|p| p.spot.away() < inner + width);
            let mut shift = 0.0;
            for id in begin..end {
                let change = self.place(id, pass, fans, &mut scratch);
                shift += change;
                if self.course.lattice.places.get(id).is_some_and(|p| !p.far && p.lie != Lie::Trees) {
                    moved = moved.max(change.abs());
                }
            }
            self.field.refresh(&self.course.mesh, &self.values, begin, end);
            if pass == Pass::Look {
                let until = self.foresee(end, inner + width + 40.0, shift / (end - begin).max(1) as f32);
                self.field.refresh(&self.course.mesh, &self.values, end, until);
                self.field.refresh_wet(&self.course.terrain, 1.0, None);
            }
            begin = end;
        }
        self.place(0, pass, fans, &mut scratch);
        Ok(moved)
    }

    /// Works on one place and returns by how much its value moved.
    fn place(&mut self, id: usize, pass: Pass, fans: &mut [Option<Fan>], scratch: &mut Scratch) -> f32 {
        let (Some(place), Some(fan)) = (self.course.lattice.places.get(id).copied(), fans.get_mut(id)) else {
            return 0.0;
        };
        let here = self.values.get(id).copied().unwrap_or(MOST_STROKES);
        let kept = self.plays.get(id).copied().unwrap_or([None; KEPT]);
        let next = self.next(here);
        let value = match pass {
            Pass::Look => {
                self.course.look(&next, place, Ledger::Strokes, scratch);
                // The trees about a place are looked up once, for the plays that were kept.
                *fan = self.course.fan(place, scratch.promising());
                self.course.weigh_kept(&next, place, fan.as_ref(), Ledger::Strokes, scratch)
            }
            Pass::Weigh => {
                scratch.ranked.clear();
                scratch.ranked.extend(kept.iter().flatten().map(|c| (0.0, *c)));
                self.course.weigh_kept(&next, place, fan.as_ref(), Ledger::Strokes, scratch)
            }
            Pass::Value => match kept {
                [Some(choice), ..] => {
                    Ledger::Strokes.cost(self.course.weigh(&next, place, choice, Depth::Value, fan.as_ref()))
                }
                _ => MOST_STROKES,
            },
        }
        .min(MOST_STROKES);
        if pass != Pass::Value
            && let Some(slot) = self.plays.get_mut(id)
        {
            *slot = scratch.kept();
        }
        if let Some(slot) = self.values.get_mut(id) {
            *slot = value;
        }
        value - here
    }

    /// Moves the first guess of places farther out by what the last ring was off; returns the first place not moved.
    fn foresee(&mut self, from: usize, until: f32, shift: f32) -> usize {
        let places = self.course.lattice.places.get(from..).unwrap_or_default();
        let end = from + places.partition_point(|p| p.spot.away() < until);
        for (value, place) in self.values.iter_mut().zip(&self.course.lattice.places).take(end).skip(from) {
            *value = guess(&self.course.hole, *place) + shift;
        }
        end
    }

    /// The values after a stroke from a place that is worth `here`.
    pub fn next(&self, here: f32) -> Next<'_> {
        Next {
            field: &self.field,
            values: &self.values,
            penalised_field: &self.field,
            penalised: &self.values,
            penalty: 1.0,
            again: 1.0 + here,
            shut: SHUT,
        }
    }
}
