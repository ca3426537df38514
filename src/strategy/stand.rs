//! The plays from one place, looked at closely.

use super::aims::{Choose, turn};
use super::choice::{Choice, Depth};
use super::eval::Course;
use super::lattice::Place;
use super::solve::{MOST_STROKES, Solved, account};
use super::terrain::Spot;
use crate::ground::Point;
use crate::pattern::{Cloud, Lie, Points};

/// Plays looked at with more points and closer aims.
const CLOSER: usize = 10;
/// Plays worth the same within this are told apart by their aim and club (cli.md).
pub const SAME: f32 = 0.002;

/// A play from a stand, with what it is worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ranked {
    /// What is done.
    pub choice: Choice,
    /// Strokes to come.
    pub strokes: f32,
}

impl Solved<'_> {
    /// Strokes to come from a place with the ball lying so, by the best play. On the green by putting alone.
    pub fn strokes(&self, at: Point, lie: Lie) -> f64 {
        self.plays(at, lie).first().map_or(f64::from(MOST_STROKES), |play| f64::from(play.strokes))
    }

    /// The plays from a place, the best first; ties in the order of cli.md.
    pub fn plays(&self, at: Point, lie: Lie) -> Vec<Ranked> {
        let place = Place { spot: self.course.terrain.spot(at), lie, far: false };
        self.ranked(place)
    }

    pub(super) fn ranked(&self, place: Place) -> Vec<Ranked> {
        let course = &self.course;
        let next = self.next(MOST_STROKES);
        let plays = course.plays_to_show(place);
        let fan = course.fan(place, plays.iter());
        let weigh = |choices: &[Choice], depth: Depth| {
            let mut ranked: Vec<Ranked> = choices
                .iter()
                .map(|choice| Ranked {
                    choice: *choice,
                    strokes: account(course.weigh(&next, place, *choice, depth, fan.as_ref())),
                })
                .collect();
            ranked.sort_by(|a, b| a.strokes.total_cmp(&b.strokes));
            ranked
        };
        let first = weigh(&plays, Depth::Weigh);
        let mut closer = Vec::new();
        for ranked in first.iter().take(CLOSER) {
            match ranked.choice {
                Choice::Swing { swing, aim } if place.lie != Lie::Trees => {
                    for k in -4_i8..=4 {
                        closer.push(Choice::Swing { swing, aim: aim + (0.5 * f32::from(k)).to_radians() });
                    }
                }
                other => closer.push(other),
            }
        }
        let second = weigh(&closer, Depth::Value);
        let least = second.first().map_or(f32::INFINITY, |r| r.strokes);
        let close: Vec<Choice> =
            second.iter().take_while(|r| r.strokes <= least + 0.03).take(24).map(|r| r.choice).collect();
        let mut shown: Vec<Ranked> =
            close.iter().map(|choice| Ranked { choice: *choice, strokes: self.shown(place, *choice) }).collect();
        shown.sort_by(|a, b| a.strokes.total_cmp(&b.strokes));
        let least = shown.first().map_or(f32::INFINITY, |r| r.strokes);
        let equals = shown.partition_point(|r| r.strokes <= least + SAME);
        if let Some(equal) = shown.get_mut(..equals) {
            equal.sort_by(|a, b| course.before(place, a, b));
        }
        shown
    }

    /// A play's worth on the most points.
    fn shown(&self, place: Place, choice: Choice) -> f32 {
        let course = &self.course;
        let next = self.next(MOST_STROKES);
        let Choice::Swing { swing, aim } = choice else {
            return account(course.weigh(&next, place, choice, Depth::Value, None));
        };
        let Some(prepared) = course.swing(place.lie, swing) else {
            return f32::INFINITY;
        };
        if place.lie == Lie::Trees && course.real() {
            return account(course.weigh(&next, place, choice, Depth::Value, None));
        }
        let n = course.hole.fineness.shown;
        let cloud = Cloud::new(&prepared.swing, &Points::new(n), &Points::new(n / 4));
        let changed = course.changed(&prepared.swing, place.spot, aim, &cloud);
        let cloud = changed.as_ref().unwrap_or(&cloud);
        let fan = course.fan_about(place, aim, prepared);
        account(course.tally(&next, place.spot, aim, cloud, prepared.flight, fan.as_ref()))
    }
}

impl Course<'_> {
    /// Every play that is weighed from a stand.
    fn plays_to_show(&self, place: Place) -> Vec<Choice> {
        let mut plays = Vec::new();
        if self.recovers(place) {
            plays.push(Choice::Recover);
        } else if place.lie == Lie::Trees {
            self.ways_out(place, &mut plays);
        } else {
            let mut bearings = Vec::new();
            self.bearings(place, Choose::Stand, &mut bearings);
            for bearing in bearings {
                plays.extend([0.0, -1.0, 1.0, -2.0, 2.0, -3.0, 3.0].map(|steps| bearing.play(steps)));
            }
            if let Some(low) = self.low_trees(place) {
                let mut round = Vec::new();
                self.round_trees(place, &low, &mut round);
                plays.extend(round);
            }
        }
        plays
    }

    /// Which of two plays of one worth comes first: the aim nearest the hole line, then the longer club (cli.md).
    fn before(&self, place: Place, a: &Ranked, b: &Ranked) -> std::cmp::Ordering {
        let off = |r: &Ranked| match r.choice {
            Choice::Swing { swing, aim } => {
                let total = self.swing(place.lie, swing).map_or(0.0, |p| p.swing.total as f32);
                let (s, c) = libm::sincosf(aim);
                let target = Spot { x: place.spot.x + total * s, y: place.spot.y + total * c };
                (self.beside_line(target), -total)
            }
            _ => (0.0, 0.0),
        };
        let (x, y) = (off(a), off(b));
        // To the tenth of a yard, so that a rounded last digit does not decide.
        let tenth = |v: f32| (v * 10.0).round();
        tenth(x.0).total_cmp(&tenth(y.0)).then(x.1.total_cmp(&y.1)).then_with(|| match (a.choice, b.choice) {
            (Choice::Swing { aim: p, .. }, Choice::Swing { aim: q, .. }) => {
                let pin = Self::to_pin(place.spot);
                turn(p - pin).total_cmp(&turn(q - pin))
            }
            _ => std::cmp::Ordering::Equal,
        })
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
