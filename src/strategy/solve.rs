//! The fewest strokes from every place of a hole, by dynamic programming from the hole outward.

use super::Hole;
use super::choice::Choice;
use super::course::course;
use super::eval::{Course, Fan, Next, average_putts};
use super::field::Field;
use super::lattice::Place;
use super::ledger::Ledger;
use super::look::{KEPT, Scratch};
use super::row::{Lead, Row};
use crate::pattern::Lie;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};

/// No place is worth more strokes than this.
pub const MOST_STROKES: f32 = 30.0;
/// About what it costs to meet trees at once, in strokes.
const SHUT: f32 = 0.8;
/// Rounds in which plays are weighed against nearly settled values, at most.
const ROUNDS: usize = 6;
/// Plays that are weighed a second time.
const WEIGHED_AGAIN: usize = 3;
/// A play whose finishes moved apart by less than this since it was chosen stays.
const MOVED: f32 = 0.025;
/// Where they moved apart by more than this, every play is looked at again.
const MOVED_FAR: f32 = 0.12;
/// Values that move less than this between sweeps are settled.
const SETTLED: f32 = 5e-4;
/// So they are for weighing plays against each other.
const NEARLY: f32 = 1e-2;
/// Sweeps over all places at most, each followed by so many over those that still move.
const SWEEPS: (usize, usize) = (12, 40);
/// The same before plays are weighed again: a poor play shows itself at once.
const FIRST_SWEEPS: (usize, usize) = (1, 3);

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
    /// Where the best play from each place leads.
    pub leads: Vec<Lead>,
    /// The same as chances of places, once somebody has asked.
    pub rows: Vec<OnceLock<Row>>,
    /// Places by rings from the hole outward: where each begins and ends.
    rings: Vec<(usize, usize)>,
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
    let mut solved = Solved {
        values: course.lattice.places.iter().map(|p| guess(&hole, *p)).collect(),
        plays: vec![[None; KEPT]; count],
        leads: vec![Lead::default(); count],
        rows: (0..count).map(|_| OnceLock::new()).collect(),
        rings: Vec::new(),
        course,
        field,
    };
    let mut work = Work {
        fans: (0..count).map(|_| None).collect(),
        seen: vec![(0.0, 0.0); count],
        ring: vec![0; count],
        scratch: Scratch::default(),
        cancel,
    };
    solved.field.refresh(&solved.course.mesh, &solved.values, 0, count);
    solved.field.refresh_wet(&solved.course.terrain, 1.0, None);
    solved.look(&mut work)?;
    let mut changed: Vec<usize> = (0..count).collect();
    for round in 0..=ROUNDS {
        for id in changed.drain(..) {
            solved.lead(id, &mut work);
        }
        if round == ROUNDS || !solved.course.terrain.has_hazards() {
            break;
        }
        solved.settle(NEARLY, FIRST_SWEEPS, cancel)?;
        changed = solved.weigh_again(&mut work)?;
        if changed.is_empty() {
            break;
        }
    }
    solved.settle(SETTLED, SWEEPS, cancel)?;
    Ok(solved)
}

/// What is needed while a hole is solved.
struct Work<'c> {
    /// Trees about each place, for the plays that were kept.
    fans: Vec<Option<Fan>>,
    /// The value of each place as plays from farther out saw it, and as those from as near or nearer did.
    seen: Vec<(f32, f32)>,
    /// The first place of the ring of each.
    ring: Vec<u32>,
    scratch: Scratch,
    cancel: &'c AtomicBool,
}

impl Work<'_> {
    fn go_on(&self) -> Result<(), CalledOff> {
        if self.cancel.load(Ordering::Relaxed) { Err(CalledOff) } else { Ok(()) }
    }
}

impl Solved<'_> {
    /// Looks at every play from every place, from the hole outward, and keeps the best.
    fn look(&mut self, work: &mut Work<'_>) -> Result<(), CalledOff> {
        let count = self.course.lattice.places.len();
        let mut begin = 1;
        while begin < count {
            work.go_on()?;
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
                shift += self.look_from(id, begin, work);
            }
            self.rings.push((begin, end));
            self.field.refresh(&self.course.mesh, &self.values, begin, end);
            let until = self.foresee(end, inner + width + 40.0, shift / (end - begin).max(1) as f32);
            self.field.refresh(&self.course.mesh, &self.values, end, until);
            self.field.refresh_wet(&self.course.terrain, 1.0, None);
            begin = end;
        }
        self.look_from(0, count, work);
        Ok(())
    }

    /// Looks at every play from one place and returns by how much its value moved.
    fn look_from(&mut self, id: usize, ring: usize, work: &mut Work<'_>) -> f32 {
        let (Some(place), Some(fan)) = (self.course.lattice.places.get(id).copied(), work.fans.get_mut(id)) else {
            return 0.0;
        };
        let here = self.values.get(id).copied().unwrap_or(MOST_STROKES);
        let next = self.next(here);
        self.course.look(&next, place, Ledger::Strokes, &mut work.scratch);
        // The trees about a place are looked up once, for the plays that were kept.
        *fan = self.course.fan(place, work.scratch.promising());
        let value = self.course.weigh_kept(&next, place, fan.as_ref(), Ledger::Strokes, &mut work.scratch);
        let value = value.min(MOST_STROKES);
        if let (Some(slot), Some(kept)) = (self.values.get_mut(id), self.plays.get_mut(id)) {
            *slot = value;
            *kept = work.scratch.kept();
        }
        if let (Some(seen), Some(first)) = (work.seen.get_mut(id), work.ring.get_mut(id)) {
            *seen = (value, here);
            *first = ring as u32;
        }
        value - here
    }

    /// Works out where the best play from a place leads.
    fn lead(&mut self, id: usize, work: &mut Work<'_>) {
        let (Some(place), Some([Some(choice), ..])) = (self.course.lattice.places.get(id), self.plays.get(id)) else {
            return;
        };
        let here = self.values.get(id).copied().unwrap_or(MOST_STROKES);
        let fan = work.fans.get(id).and_then(Option::as_ref);
        let mut lead = self.leads.get_mut(id).map(std::mem::take).unwrap_or_default();
        self.course.lead(&self.next(here), *place, *choice, None, fan, &mut lead);
        if let Some(slot) = self.leads.get_mut(id) {
            *slot = lead;
        }
    }

    /// Sweeps over the places until the values are those of the plays kept. Between sweeps over all of them those that still move are
    /// taken alone: a few places between which a ball goes back and forth settle last.
    fn settle(&mut self, settled: f32, sweeps: (usize, usize), cancel: &AtomicBool) -> Result<(), CalledOff> {
        let mut moving = vec![true; self.values.len()];
        for _ in 0..sweeps.0 {
            moving.fill(true);
            let mut left = self.sweep(&mut moving, settled);
            if left == 0 {
                break;
            }
            for _ in 0..sweeps.1 {
                if cancel.load(Ordering::Relaxed) {
                    return Err(CalledOff);
                }
                left = self.sweep(&mut moving, settled);
                if left == 0 {
                    break;
                }
            }
        }
        self.field.refresh_wet(&self.course.terrain, 1.0, None);
        Ok(())
    }

    /// One sweep over the places marked, from the hole outward; leaves those marked that moved and tells how many they are.
    fn sweep(&mut self, moving: &mut [bool], settled: f32) -> usize {
        let mut left = 0;
        for k in 0..=self.rings.len() {
            // The tee comes last.
            let (begin, end) = self.rings.get(k).copied().unwrap_or((0, 1));
            let mut any = false;
            for id in begin..end {
                if let Some(mark) = moving.get_mut(id).filter(|mark| **mark) {
                    *mark = self.value(id) >= settled;
                    left += usize::from(*mark);
                    any = true;
                }
            }
            if any && begin > 0 {
                self.field.refresh(&self.course.mesh, &self.values, begin, end);
            }
        }
        left
    }

    /// Takes the value of the best play from a place; returns by how much it moved.
    fn value(&mut self, id: usize) -> f32 {
        let (Some(lead), Some(here)) = (self.leads.get(id), self.values.get(id).copied()) else { return 0.0 };
        let value = lead.strokes(&self.values, self.field.roughly()).min(MOST_STROKES);
        if let Some(slot) = self.values.get_mut(id) {
            *slot = value;
        }
        // Far-off ground and the depth of trees settle late and matter to nobody.
        let matters = self.course.lattice.places.get(id).is_some_and(|p| !p.far && p.lie != Lie::Trees);
        if matters { (value - here).abs() } else { 0.0 }
    }

    /// Weighs the plays kept once more where what they lead to has moved unevenly since; returns those places.
    fn weigh_again(&mut self, work: &mut Work<'_>) -> Result<Vec<usize>, CalledOff> {
        let mut changed = Vec::new();
        let now = |id: usize| self.values.get(id).copied().unwrap_or_default();
        for id in 0..self.leads.len() {
            let ring = work.ring.get(id).map_or(0, |ring| *ring as usize);
            let moved = |to: usize| {
                let (nearer, farther) = work.seen.get(to).copied().unwrap_or_default();
                now(to) - if to < ring { nearer } else { farther }
            };
            let apart = self.leads.get(id).map_or(0.0, |lead| lead.unevenly(&self.course.mesh, id, moved));
            if apart >= MOVED {
                changed.push((id, apart >= MOVED_FAR));
            }
        }
        work.seen.clear();
        work.seen.extend(self.values.iter().map(|value| (*value, *value)));
        for (n, (id, afresh)) in changed.iter().copied().enumerate() {
            if n % 64 == 0 {
                work.go_on()?;
            }
            let Some(place) = self.course.lattice.places.get(id) else { continue };
            let kept = self.plays.get(id).copied().unwrap_or([None; KEPT]);
            let here = self.values.get(id).copied().unwrap_or(MOST_STROKES);
            let next = self.next(here);
            if afresh {
                self.course.look(&next, *place, Ledger::Strokes, &mut work.scratch);
                let promising = work.scratch.promising().chain(kept.iter().flatten().take(1));
                let fan = self.course.fan(*place, promising);
                if let Some(slot) = work.fans.get_mut(id) {
                    *slot = fan;
                }
                work.scratch.keep(kept.iter().flatten().take(1));
            } else {
                work.scratch.ranked.clear();
                work.scratch.ranked.extend(kept.iter().flatten().take(WEIGHED_AGAIN).map(|c| (0.0, *c)));
            }
            let fan = work.fans.get(id).and_then(Option::as_ref);
            self.course.weigh_kept(&next, *place, fan, Ledger::Strokes, &mut work.scratch);
            if let Some(slot) = self.plays.get_mut(id) {
                *slot = work.scratch.kept();
            }
        }
        // The drops that relief gives follow the values as well, so the rows are made anew even where the play stays.
        Ok(changed.into_iter().map(|(id, _)| id).collect())
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
