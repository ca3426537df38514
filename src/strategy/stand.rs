//! The plays from one place, looked at closely.

use super::aims::{Choose, turn};
use super::choice::{Choice, Depth};
use super::eval::{Course, Next};
use super::lattice::Place;
use super::ledger::Ledger;
use super::terrain::Spot;
use crate::pattern::{Cloud, Lie, Points};

/// Plays looked at with more points and closer aims.
const CLOSER: usize = 10;
/// Plays worth the same within this are told apart by their aim and club (cli.md).
const SAME: f32 = 0.002;
/// Plays that cost this much more than the best are not looked at on the most points.
const CLOSE: f32 = 0.035;
/// As many are.
const MOST_SHOWN: usize = 24;
/// Half a degree, the step between aims that are shown.
const AIM_STEP: f32 = 0.5 * std::f32::consts::PI / 180.0;

/// A play with its cost.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ranked {
    /// What is done.
    pub choice: Choice,
    /// Strokes to come, or value with its sign changed.
    pub cost: f32,
}

/// A place with what comes after it.
pub struct View<'v> {
    /// The hole.
    pub course: &'v Course<'v>,
    /// The place.
    pub place: Place,
    /// The values after a stroke from it.
    pub next: Next<'v>,
    /// How a tally is accounted.
    pub ledger: Ledger,
}

impl View<'_> {
    /// The plays worth showing, the best first; ties in the order of cli.md.
    pub fn plays(&self) -> Vec<Ranked> {
        let first = self.weigh(&self.every(), Depth::Weigh);
        let second = self.weigh(&self.closer(&first), Depth::Value);
        let least = second.first().map_or(f32::INFINITY, |r| r.cost);
        let mut shown: Vec<Ranked> = second
            .iter()
            .take_while(|r| r.cost <= least + CLOSE)
            .take(MOST_SHOWN)
            .map(|r| Ranked { choice: r.choice, cost: self.shown(r.choice) })
            .collect();
        self.rank(&mut shown);
        shown
    }

    /// The best play of every full swing, the longest club first.
    pub fn clubs(&self) -> Vec<Ranked> {
        let swings = self.course.hole.kit.swings(self.place.lie);
        let pin = Course::to_pin(self.place.spot);
        let mut found = Vec::new();
        for (number, prepared) in swings.iter().enumerate() {
            if !prepared.swing.full {
                continue;
            }
            let line = self.course.line_at(self.place.spot, prepared.swing.total as f32);
            let mut aims: Vec<f32> = (-6_i8..=6).map(|k| pin + 4.0 * AIM_STEP * f32::from(k)).collect();
            if let Some(line) = line {
                aims.extend((-4_i8..=4).map(|k| pin + turn(line - pin) + 4.0 * AIM_STEP * f32::from(k)));
            }
            let choices: Vec<Choice> =
                aims.iter().map(|aim| Choice::Swing { swing: number as u16, aim: *aim }).collect();
            let first = self.weigh(&choices, Depth::Weigh);
            let second = self.weigh(&self.closer(first.get(..2).unwrap_or(&first)), Depth::Value);
            let mut best: Vec<Ranked> = second.into_iter().take(12).collect();
            self.rank(&mut best);
            found.extend(best.first().map(|r| Ranked { choice: r.choice, cost: self.shown(r.choice) }));
        }
        found
    }

    /// Every play that is weighed from a stand.
    fn every(&self) -> Vec<Choice> {
        let (course, place) = (self.course, self.place);
        let mut plays = Vec::new();
        if course.recovers(place) {
            plays.push(Choice::Recover);
        } else if place.lie == Lie::Trees {
            course.ways_out(place, &mut plays);
        } else {
            let mut bearings = Vec::new();
            course.bearings(place, Choose::Stand, &mut bearings);
            for bearing in bearings {
                plays.extend([0.0, -1.0, 1.0, -2.0, 2.0, -3.0, 3.0].map(|steps| bearing.play(steps)));
            }
            if let Some(low) = course.low_trees(place) {
                let mut round = Vec::new();
                course.round_trees(place, &low, &mut round);
                plays.extend(round);
            }
        }
        plays
    }

    /// The aims about the best of these, half a degree apart.
    fn closer(&self, first: &[Ranked]) -> Vec<Choice> {
        let mut closer = Vec::new();
        for ranked in first.iter().take(CLOSER) {
            match ranked.choice {
                Choice::Swing { swing, aim } if self.place.lie != Lie::Trees => {
                    closer.extend((-4_i8..=4).map(|k| Choice::Swing { swing, aim: aim + AIM_STEP * f32::from(k) }));
                }
                other => closer.push(other),
            }
        }
        closer
    }

    fn weigh(&self, choices: &[Choice], depth: Depth) -> Vec<Ranked> {
        let fan = self.course.fan(self.place, choices.iter());
        let cost =
            |choice: &Choice| self.ledger.cost(self.course.weigh(&self.next, self.place, *choice, depth, fan.as_ref()));
        let mut ranked: Vec<Ranked> = choices.iter().map(|c| Ranked { choice: *c, cost: cost(c) }).collect();
        ranked.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        ranked
    }

    /// Sorts by cost, and those of one cost by their aim and club.
    fn rank(&self, plays: &mut [Ranked]) {
        plays.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        let least = plays.first().map_or(f32::INFINITY, |r| r.cost);
        let equals = plays.partition_point(|r| r.cost <= least + SAME);
        if let Some(equal) = plays.get_mut(..equals) {
            equal.sort_by(|a, b| self.course.before(self.place, a, b));
        }
    }

    /// The points of a swing as it is shown.
    pub fn cloud(&self, choice: Choice) -> Option<Cloud> {
        let Choice::Swing { swing, aim } = choice else { return None };
        let prepared = self.course.swing(self.place.lie, swing)?;
        let n = self.course.hole.fineness.shown;
        let cloud = Cloud::new(&prepared.swing, &Points::new(n), &Points::new(n / 4));
        Some(self.course.changed(&prepared.swing, self.place.spot, aim, &cloud).unwrap_or(cloud))
    }

    /// A play's cost on the most points.
    pub fn shown(&self, choice: Choice) -> f32 {
        let (course, place) = (self.course, self.place);
        let Choice::Swing { swing, aim } = choice else {
            return self.ledger.cost(course.weigh(&self.next, place, choice, Depth::Value, None));
        };
        if place.lie == Lie::Trees && course.real() {
            return self.ledger.cost(course.weigh(&self.next, place, choice, Depth::Value, None));
        }
        let (Some(prepared), Some(cloud)) = (course.swing(place.lie, swing), self.cloud(choice)) else {
            return f32::INFINITY;
        };
        let fan = course.fan_about(place, aim, prepared);
        self.ledger.cost(course.tally(&self.next, place.spot, aim, &cloud, prepared.flight, fan.as_ref()))
    }
}

impl Course<'_> {
    /// Where the middle of a play's pattern finishes on usual fairway.
    pub fn target(&self, place: Place, choice: Choice) -> Spot {
        match choice {
            Choice::Swing { swing, aim } => {
                let total = self.swing(place.lie, swing).map_or(0.0, |p| self.meant(&p.swing, place.spot, aim));
                let (s, c) = libm::sincosf(aim);
                Spot { x: place.spot.x + total * s, y: place.spot.y + total * c }
            }
            Choice::Drop { spot, .. } => spot,
            Choice::Recover => self.recovery(place.spot),
        }
    }

    /// Which of two plays of one worth comes first: the aim nearest the hole line, then the longer club (cli.md).
    fn before(&self, place: Place, a: &Ranked, b: &Ranked) -> std::cmp::Ordering {
        // To the tenth of a yard, so that a rounded last digit does not decide.
        let off = |r: &Ranked| (self.beside_line(self.target(place, r.choice)) * 10.0).round();
        let total = |r: &Ranked| match r.choice {
            Choice::Swing { swing, .. } => self.swing(place.lie, swing).map_or(0.0, |p| p.swing.total),
            _ => 0.0,
        };
        let aside = |r: &Ranked| match r.choice {
            Choice::Swing { aim, .. } => turn(aim - Self::to_pin(place.spot)),
            _ => 0.0,
        };
        off(a).total_cmp(&off(b)).then(total(b).total_cmp(&total(a))).then(aside(a).total_cmp(&aside(b)))
    }

    /// Yards from a spot to the hole line.
    pub fn beside_line(&self, spot: Spot) -> f32 {
        let mut best = f32::INFINITY;
        for leg in self.line.windows(2) {
            let [a, b] = leg else { continue };
            let (dx, dy) = (b.x - a.x, b.y - a.y);
            let square = (dx * dx + dy * dy).max(1e-6);
            let t = (((spot.x - a.x) * dx + (spot.y - a.y) * dy) / square).clamp(0.0, 1.0);
            let (ex, ey) = (spot.x - a.x - t * dx, spot.y - a.y - t * dy);
            best = best.min((ex * ex + ey * ey).sqrt());
        }
        best
    }
}
