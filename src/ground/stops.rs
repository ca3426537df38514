//! The things that matter along a hole, for stepping a stand from one to the next.

use super::corridor::{Corridor, edge_between, nearest_fairway};
use crate::units::{Across, Along};

/// A fairway that narrows by so much and widens again is worth a stop, yards.
const PINCH: f64 = 4.0;

/// A thing that matters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Matter {
    /// A tee, by index.
    Tee(usize),
    /// The fairway begins.
    FairwayBegins,
    /// The fairway ends.
    FairwayEnds,
    /// The fairway is narrower here than before and after.
    Pinch,
    /// The line turns; the bend by index.
    Bend(usize),
    /// A danger begins; the feature by index.
    DangerBegins(usize),
    /// A danger ends.
    DangerEnds(usize),
    /// The front of the green.
    Front,
    /// The middle of the green.
    Middle,
    /// The back of the green.
    Back,
}

/// A place along the line and what is there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stop {
    /// Where along the line.
    pub at: Along,
    /// What is there.
    pub what: Matter,
}

impl Corridor {
    /// Everything that matters along the hole, in order; from the first tee to the back of the green.
    pub fn stops(&self) -> Vec<Stop> {
        let ground = self.ground();
        let mut stops: Vec<Stop> = Vec::new();
        let mut add = |at: Along, what: Matter| stops.push(Stop { at, what });
        for (index, tee) in ground.tees.iter().enumerate() {
            add(tee.at, Matter::Tee(index));
        }
        for turn in self.line().turns() {
            add(turn.at, Matter::Bend(turn.bend));
        }
        for part in self.parts() {
            add(part.from, Matter::DangerBegins(part.feature));
            add(part.to, Matter::DangerEnds(part.feature));
        }
        let mown = |at: f64| self.fairway_at(Along(at), Across(0.0)).is_some();
        let mut before: Option<f64> = None;
        for section in self.sections() {
            let here = nearest_fairway(section, 0.0).is_some();
            let at = section.at.0;
            match before {
                None if here => add(Along(edge_between(at, at - 1.0, mown)), Matter::FairwayBegins),
                Some(last) if !here => add(Along(edge_between(last, at, mown)), Matter::FairwayEnds),
                _ => {}
            }
            before = here.then_some(at);
        }
        for pinch in self.pinches(PINCH) {
            add(pinch.at, Matter::Pinch);
        }
        let mut end = ground.length;
        if let Some(green) = &ground.green {
            add(green.front, Matter::Front);
            add(Along(green.front.0 + green.depth / 2.0), Matter::Middle);
            end = Along(green.front.0 + green.depth);
            add(end, Matter::Back);
        }
        let start = ground.tees.iter().map(|tee| tee.at.0).fold(0.0, f64::min);
        stops.retain(|stop| stop.at.0 >= start && stop.at.0 <= end.0);
        stops.sort_by(|a, b| a.at.0.total_cmp(&b.at.0));
        stops
    }
}

/// The next of these stops ahead of a place by more than half a yard.
pub fn next(stops: &[Stop], at: Along) -> Option<Stop> {
    stops.iter().find(|stop| stop.at.0 > at.0 + 0.5).copied()
}

/// The last of these stops before a place by more than half a yard.
pub fn previous(stops: &[Stop], at: Along) -> Option<Stop> {
    stops.iter().rev().find(|stop| stop.at.0 < at.0 - 0.5).copied()
}
