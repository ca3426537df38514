//! Which plays from a place deserve to be weighed.

use super::Kind;
use super::aims::{Bearing, Choose};
use super::choice::{Choice, Depth};
use super::eval::{Course, Fan, Next, Tally};
use super::finish::{Flight, stopped};
use super::lattice::Place;
use super::ledger::Ledger;
use super::shot::Shot;
use super::solve::MOST_STROKES;
use crate::pattern::Lie;

/// Plays that are kept after the first look.
pub const KEPT: usize = 5;
/// Degrees by which the best aim is moved at last.
const HALVES: [f32; 2] = [2.0, 1.0];
/// Swings whose aims are looked at more closely.
const NARROWED: usize = 5;
impl Course<'_> {
    /// Looks at every play from a place and leaves the most promising, the best first, in `scratch`.
    pub fn look(&self, next: &Next<'_>, place: Place, ledger: Ledger, scratch: &mut Scratch) {
        scratch.ranked.clear();
        if self.recovers(place) {
            scratch.ranked.push((0.0, Choice::Recover));
            return;
        }
        if place.lie == Lie::Trees && self.real() {
            for way in self.ways(place) {
                self.swings_out(place, &way, |number, prepared| {
                    let shot = self.shot(prepared, place.spot, way.aim, &prepared.screen);
                    let choice = Choice::Swing { swing: number, aim: way.aim };
                    scratch.ranked.push((ledger.cost(self.punch(next, &shot, &way, true)), choice));
                });
            }
            for choice in self.unplayable(place.spot) {
                scratch.ranked.push((ledger.cost(self.weigh(next, place, choice, Depth::Screen, None)), choice));
            }
            scratch.rank();
            return;
        }
        self.bearings(place, Choose::Places, &mut scratch.bearings);
        let low = self.low_trees(place);
        let cost = |shot: &Shot<'_>| {
            let sum = self.glance(next, shot);
            // A ball that meets trees at once is as good as in them.
            let blocked = low.as_ref().is_some_and(|fan| stopped_low(fan.along(shot.aim), shot.flight));
            ledger.cost(Tally::of(if blocked { sum + next.shut } else { sum }))
        };
        // The conditions are asked once a bearing: its aims lie close together.
        let start = |bearing: &Bearing| {
            let prepared = self.swing(place.lie, bearing.swing)?;
            Some(self.shot(prepared, place.spot, bearing.aim, &prepared.screen))
        };
        scratch.best_of.clear();
        for bearing in &scratch.bearings {
            let Some(shot) = start(bearing) else { continue };
            let mut best = (f32::INFINITY, 0.0);
            for steps in [0.0, -2.0, 2.0] {
                let value = cost(&shot.aimed(bearing.aimed(steps)));
                scratch.ranked.push((value, bearing.play(steps)));
                if value < best.0 {
                    best = (value, steps);
                }
            }
            scratch.best_of.push((best.0, best.1, *bearing));
        }
        scratch.best_of.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (_, steps, bearing) in scratch.best_of.iter().take(NARROWED) {
            let Some(shot) = start(bearing) else { continue };
            for more in [-1.0, 1.0] {
                let value = cost(&shot.aimed(bearing.aimed(steps + more)));
                scratch.ranked.push((value, bearing.play(steps + more)));
            }
        }
        if let Some(fan) = &low {
            self.round_trees(place, fan, &mut scratch.plays);
            for play in &scratch.plays {
                let Choice::Swing { swing, aim } = *play else { continue };
                let Some(prepared) = self.swing(place.lie, swing) else { continue };
                let shot = self.shot(prepared, place.spot, aim, &prepared.screen);
                scratch.ranked.push((cost(&shot), *play));
            }
        }
        scratch.rank();
    }

    /// Trees close by, for the start of the flight.
    pub fn low_trees(&self, place: Place) -> Option<Fan> {
        const LOW: f32 = 45.0;
        const ALL_ROUND: f32 = 2.2;
        if !self.real() || self.terrain.to_trees(place.spot) > LOW {
            return None;
        }
        let pin = Self::to_pin(place.spot);
        Fan::new(&self.terrain, place.spot, (pin - ALL_ROUND, pin + ALL_ROUND), LOW)
    }

    /// Where the line to the hole is shut by trees close by: short swings to either side of them.
    pub fn round_trees(&self, place: Place, low: &Fan, out: &mut Vec<Choice>) {
        const ASIDE: [f32; 8] = [-0.45, 0.45, -0.8, 0.8, -1.2, 1.2, -1.7, 1.7];
        out.clear();
        let pin = Self::to_pin(place.spot);
        let swings = self.hole.kit.swings(place.lie);
        let shut = |p: &super::Prepared| stopped_low(low.along(pin), p.flight);
        if !swings.first().is_some_and(shut) {
            return;
        }
        let mut last = f32::INFINITY;
        for (number, prepared) in swings.iter().enumerate() {
            let total = prepared.swing.total as f32;
            if total >= 10.0 && total <= 0.72 * last {
                last = total;
                out.extend(ASIDE.map(|aside| Choice::Swing { swing: number as u16, aim: pin + aside }));
            }
        }
    }

    /// Weighs the plays ranked first, sorts them and returns the best value.
    pub fn weigh_kept(
        &self,
        next: &Next<'_>,
        place: Place,
        fan: Option<&Fan>,
        ledger: Ledger,
        scratch: &mut Scratch,
    ) -> f32 {
        scratch.ranked.truncate(KEPT);
        for (value, choice) in &mut scratch.ranked {
            *value = ledger.cost(self.weigh(next, place, *choice, Depth::Weigh, fan));
        }
        scratch.rank();
        if !place.far && place.lie != Lie::Trees {
            self.narrow(next, place, fan, ledger, scratch);
        }
        scratch.ranked.first().map_or(MOST_STROKES, |(value, _)| *value)
    }

    /// Moves the aim of the best play by halves of the step between aims as long as that is better.
    fn narrow(&self, next: &Next<'_>, place: Place, fan: Option<&Fan>, ledger: Ledger, scratch: &mut Scratch) {
        for degrees in HALVES {
            let Some((least, Choice::Swing { swing, aim })) = scratch.ranked.first().copied() else { return };
            let mut best = (least, aim);
            for side in [-1.0, 1.0] {
                let tried = aim + side * degrees.to_radians();
                let choice = Choice::Swing { swing, aim: tried };
                let cost = ledger.cost(self.weigh(next, place, choice, Depth::Weigh, fan));
                if cost < best.0 {
                    best = (cost, tried);
                }
            }
            if let Some(first) = scratch.ranked.first_mut() {
                *first = (best.0, Choice::Swing { swing, aim: best.1 });
            }
        }
    }

    /// The fan of trees for a set of plays from a place.
    pub fn fan<'p>(&self, place: Place, plays: impl Iterator<Item = &'p Choice>) -> Option<Fan> {
        if place.lie == Lie::Trees || !self.real() || !self.terrain.has(Kind::Trees) {
            return None;
        }
        let (span, reach) = self.span(place.lie, plays)?;
        Fan::new(&self.terrain, place.spot, span, reach)
    }
}

/// Whether the first trees on a line stop a flight as it rises.
fn stopped_low(stretches: &[(f32, f32)], flight: Flight) -> bool {
    !stretches.is_empty() && stopped(stretches, flight, flight.carry).is_some()
}

/// Room for weighing the plays of one place.
#[derive(Default)]
pub struct Scratch {
    plays: Vec<Choice>,
    bearings: Vec<Bearing>,
    best_of: Vec<(f32, f32, Bearing)>,
    pub(super) ranked: Vec<(f32, Choice)>,
}

impl Scratch {
    fn rank(&mut self) {
        self.ranked.sort_by(|a, b| a.0.total_cmp(&b.0));
    }

    /// The plays that will be weighed.
    pub fn promising(&self) -> impl Iterator<Item = &Choice> {
        self.ranked.iter().take(KEPT).map(|(_, choice)| choice)
    }

    /// Makes sure that these are among the plays that will be weighed.
    pub fn keep<'p>(&mut self, plays: impl Iterator<Item = &'p Choice>) {
        self.ranked.truncate(KEPT);
        for play in plays {
            if !self.ranked.iter().any(|(_, kept)| kept == play) {
                self.ranked.truncate(KEPT - 1);
                self.ranked.push((0.0, *play));
            }
        }
    }

    /// The best plays.
    pub fn kept(&self) -> [Option<Choice>; KEPT] {
        let mut kept = [None; KEPT];
        kept.iter_mut().zip(&self.ranked).for_each(|(slot, (_, choice))| *slot = Some(*choice));
        kept
    }
}
