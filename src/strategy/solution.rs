//! A solved hole and what may be asked of it.

use super::chances::{deviation, spread};
use super::check::{BadHole, check};
use super::choice::{Choice, Gather};
use super::eval::Course;
use super::finish::{Finish, finish};
use super::lattice::Place;
use super::layers::Layers;
use super::ledger::Ledger;
use super::solve::{CalledOff, Solved, solve_strokes};
use super::stand::{Ranked, View};
use super::terrain::Spot;
use super::{Hole, Kind, Worth};
use crate::ground::Point;
use crate::pattern::{Change, Lie, Swing};
use std::sync::atomic::AtomicBool;

/// Where a ball lies, and how many strokes were played on the hole before it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// Where, in the plane.
    pub at: Point,
    /// How it lies.
    pub lie: Lie,
    /// Strokes taken before, penalties included.
    pub taken: usize,
}

/// Something to do from a stand and what it is worth.
#[derive(Clone, Debug, PartialEq)]
pub struct Play {
    /// What is done, for asking more about it.
    pub choice: Choice,
    /// The swing; `None` for a drop and for the printed model's recovery.
    pub swing: Option<Swing>,
    /// Where the middle of the pattern finishes on usual fairway.
    pub target: Point,
    /// Direction of the target, degrees clockwise from `ahead`.
    pub aim_deg: f64,
    /// Direction in which a usual shot starts, its curve and the wind allowed for.
    pub start_deg: f64,
    /// What the conditions of the day make of the swing.
    pub change: Change,
    /// From the target to the hole.
    pub leaves_yd: f64,
    /// For strokes: strokes to come, this one included (fewer is better). For a table: the mean value (more is better).
    pub value: f64,
    /// The same so that lower is always better.
    pub cost: f64,
}

/// Two plays worth the same, and how far they are from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Pair {
    /// The least spread of the hole score: the recommendation.
    pub steady: Play,
    /// The most reach of the first shot.
    pub bold: Play,
    /// Whether they are one play.
    pub equal: bool,
    /// Standard deviation of the hole score, steady and bold.
    pub spreads: (f64, f64),
}

/// Water or worse that lies across the line from a stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Carry {
    /// Where it begins, straight from the stand.
    pub from_yd: f64,
    /// Where it ends: what must be carried.
    pub to_yd: f64,
    /// What lies there.
    pub kind: Kind,
    /// Whether some club from this lie usually carries it.
    pub reached: bool,
}

/// Why there is no solution.
#[derive(Clone, Debug, PartialEq)]
pub enum Unsolved {
    /// The hole cannot be solved as it is.
    Bad(BadHole),
    /// The work was called off.
    CalledOff,
}

impl std::fmt::Display for Unsolved {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Bad(bad) => bad.fmt(f),
            Self::CalledOff => CalledOff.fmt(f),
        }
    }
}

impl std::error::Error for Unsolved {}

impl From<CalledOff> for Unsolved {
    fn from(_: CalledOff) -> Self {
        Self::CalledOff
    }
}

/// A hole solved for one value of its score.
pub struct Solution<'a> {
    pub(super) solved: Solved<'a>,
    pub(super) layers: Option<Layers>,
}

/// Solves a hole for a value of its score.
///
/// # Errors
/// [`Unsolved::Bad`] when the hole has no green or no place to tee off from, [`Unsolved::CalledOff`] soon after `cancel` is set.
pub fn solve<'a>(hole: Hole<'a>, worth: &Worth, cancel: &AtomicBool) -> Result<Solution<'a>, Unsolved> {
    check(&hole).map_err(Unsolved::Bad)?;
    let solved = solve_strokes(hole, cancel)?;
    let layers = match worth {
        Worth::Strokes => None,
        Worth::Table(table) => Some(Layers::solve(&solved.course, table.clone(), cancel)?),
    };
    Ok(Solution { solved, layers })
}

impl<'a> Solution<'a> {
    /// The same hole for another value of its score, without solving it for strokes again.
    ///
    /// # Errors
    /// [`CalledOff`] soon after `cancel` is set.
    pub fn revalued(self, worth: &Worth, cancel: &AtomicBool) -> Result<Self, CalledOff> {
        let layers = match worth {
            Worth::Strokes => None,
            Worth::Table(table) => Some(Layers::solve(&self.solved.course, table.clone(), cancel)?),
        };
        Ok(Self { layers, ..self })
    }

    /// The hole as it was solved.
    pub fn hole(&self) -> &Hole<'a> {
        &self.solved.course.hole
    }

    /// The tee, no stroke taken.
    pub fn tee(&self) -> Stand {
        Stand { at: self.hole().tee, lie: Lie::Tee, taken: 0 }
    }

    /// How a ball lies at a point, by the ground there; `None` on the green, in a penalty area or out of bounds.
    pub fn lie(&self, at: Point) -> Option<Lie> {
        self.kind(at).lie()
    }

    /// The kind of ground at a point, as the solver sees it.
    pub fn kind(&self, at: Point) -> Kind {
        self.course().terrain.kind(self.course().terrain.spot(at))
    }

    pub(super) fn course(&self) -> &Course<'a> {
        &self.solved.course
    }

    pub(super) fn place(&self, stand: Stand) -> Place {
        Place { spot: self.course().terrain.spot(stand.at), lie: stand.lie, far: false }
    }

    pub(super) fn view(&self, stand: Stand) -> View<'_> {
        let (course, place) = (self.course(), self.place(stand));
        // The tee has a value of its own.
        let at_tee = stand.lie == Lie::Tee && stand.at == self.hole().tee;
        match &self.layers {
            None => {
                let here = match self.solved.values.first() {
                    Some(tee) if at_tee => *tee,
                    _ => course.value_at(&self.solved.values, place.lie, place.spot),
                };
                View { course, place, next: self.solved.next(here), ledger: Ledger::Strokes }
            }
            Some(layers) => {
                let id = at_tee.then_some(0);
                let again = layers.cost_of(course, place, id, stand.taken + 2);
                let stay = layers.cost_of(course, place, id, stand.taken + 1);
                let ledger = Ledger::Table { again, stay };
                View { course, place, next: layers.next(stand.taken, again), ledger }
            }
        }
    }

    /// The plays from a stand worth about as much as the best, the best first. Of plays worth the same (0.002) the aim nearest the hole
    /// line comes first, then the longer club. On the green there is nothing to choose: see [`Self::value_at`].
    pub fn plays(&self, stand: Stand) -> Vec<Play> {
        let view = self.view(stand);
        view.plays().into_iter().map(|ranked| self.play(&view, ranked)).collect()
    }

    /// The best play of every club from a stand, the longest first.
    pub fn clubs(&self, stand: Stand) -> Vec<Play> {
        let view = self.view(stand);
        view.clubs().into_iter().map(|ranked| self.play(&view, ranked)).collect()
    }

    /// The play of one swing towards a point, whatever it is worth: what a learner has marked. The swing is the one of `club` (counted
    /// from the longest) whose length is nearest to `total`; `None` when that club is not played from this lie.
    pub fn marked(&self, stand: Stand, club: usize, total: f64, towards: Point) -> Option<Play> {
        let swings = self.hole().kit.swings(stand.lie).iter().enumerate();
        let off = |s: &Swing| (s.total - total).abs();
        let (number, _) = swings
            .filter(|(_, p)| p.swing.club == club)
            .min_by(|(_, a), (_, b)| off(&a.swing).total_cmp(&off(&b.swing)))?;
        let (right, ahead) = (towards.right - stand.at.right, towards.ahead - stand.at.ahead);
        let choice = Choice::Swing { swing: number as u16, aim: libm::atan2(right, ahead) as f32 };
        let view = self.view(stand);
        Some(self.play(&view, Ranked { choice, cost: view.shown(choice) }))
    }

    pub(super) fn play(&self, view: &View<'_>, ranked: Ranked) -> Play {
        let course = self.course();
        let target = course.target(view.place, ranked.choice);
        let swing = match ranked.choice {
            Choice::Swing { swing, .. } => course.swing(view.place.lie, swing).map(|p| p.swing.clone()),
            _ => None,
        };
        let (dx, dy) = (target.x - view.place.spot.x, target.y - view.place.spot.y);
        let aim_deg = f64::from(libm::atan2f(dx, dy)).to_degrees();
        let change = match ranked.choice {
            Choice::Swing { aim, .. } if !course.hole.conditions.still() => swing.as_ref().map_or(Change::NONE, |s| {
                course.hole.conditions.change(s, course.terrain.point(view.place.spot), f64::from(aim))
            }),
            _ => Change::NONE,
        };
        let bend = swing.as_ref().map_or(0.0, |s| {
            libm::atan2(s.curve + change.drift, f64::from(libm::hypotf(dx, dy)).max(1.0)).to_degrees()
        });
        let cost = f64::from(ranked.cost);
        Play {
            choice: ranked.choice,
            target: course.terrain.point(target),
            aim_deg,
            start_deg: aim_deg - bend,
            change,
            leaves_yd: f64::from(target.away()),
            value: if self.layers.is_some() { -cost } else { cost },
            cost,
            swing,
        }
    }

    /// Strokes to come by the best play from a stand, this one included; for a table its cost.
    pub fn strokes(&self, stand: Stand) -> f64 {
        self.plays(stand).first().map_or(f64::from(super::solve::MOST_STROKES), |play| play.cost)
    }

    /// Chances of the total score of the hole when this play is followed by the plan: `chances[n]` for `n` strokes, those taken before
    /// the stand included. They sum to one.
    pub fn chances(&self, stand: Stand, play: &Play) -> Vec<f64> {
        let view = self.view(stand);
        let course = self.course();
        let places = course.lattice.places.len();
        let cloud = view.cloud(play.choice);
        let first = course.row(&view.next, view.place, play.choice, cloud.as_ref(), &mut Gather::new(places));
        spread(places, &first, stand.taken, |id, taken| {
            let layered = self.layers.as_ref().and_then(|layers| layers.row_of(course, id, taken));
            layered.or_else(|| self.solved.row_of(id))
        })
    }

    /// Of the plays within `within` of the best: the one with the least spread of the hole score, and the one that goes farthest.
    pub fn steady_and_bold(&self, stand: Stand, within: f64) -> Option<Pair> {
        let plays = self.plays(stand);
        let least = plays.first()?.cost;
        let mut of_swing: Vec<Play> = Vec::new();
        for play in plays.into_iter().filter(|p| p.cost <= least + within) {
            let same = |p: &Play| {
                p.swing.as_ref().map(|s| (s.club, s.total)) == play.swing.as_ref().map(|s| (s.club, s.total))
            };
            if !of_swing.iter().any(same) {
                of_swing.push(play);
            }
        }
        let spread: Vec<f64> = of_swing.iter().map(|play| deviation(&self.chances(stand, play))).collect();
        let reach = |p: &Play| p.swing.as_ref().map_or(0.0, |s| s.total);
        // Spreads that differ in the third place are one spread; the better play is then the steadier.
        let coarse = |s: f64| (s * 200.0).round();
        let steady = (0..of_swing.len()).min_by(|a, b| match (spread.get(*a), spread.get(*b)) {
            (Some(x), Some(y)) => coarse(*x).total_cmp(&coarse(*y)).then(a.cmp(b)),
            _ => a.cmp(b),
        })?;
        let bold = (0..of_swing.len()).max_by(|a, b| match (of_swing.get(*a), of_swing.get(*b)) {
            (Some(x), Some(y)) => reach(x).total_cmp(&reach(y)).then(b.cmp(a)),
            _ => b.cmp(a),
        })?;
        Some(Pair {
            steady: of_swing.get(steady)?.clone(),
            bold: of_swing.get(bold)?.clone(),
            equal: steady == bold,
            spreads: (*spread.get(steady)?, *spread.get(bold)?),
        })
    }

    /// Strokes to come from a point by the ground it lies on, one stroke more in a penalty area (the drop nearest to it); `None` out of
    /// bounds. This is the map of the value of places.
    pub fn value_at(&self, at: Point) -> Option<f64> {
        let course = self.course();
        let spot = course.terrain.spot(at);
        let kind = course.terrain.kind(spot);
        let value = match kind {
            Kind::Out => return None,
            Kind::PenaltyRed | Kind::PenaltyYellow => {
                self.solved.field.about_cell(course.terrain.index(spot.x, spot.y))
            }
            Kind::Green => super::eval::average_putts(&course.greens.at(&course.terrain, spot)),
            kind => course.value_at(&self.solved.values, kind.lie()?, spot),
        };
        value.is_finite().then_some(f64::from(value))
    }

    /// Strokes to come along the hole line, every `step` yards from its start: the distance to the hole along it, the place and the value.
    pub fn along(&self, step: f64) -> Vec<(f64, Point, Option<f64>)> {
        let step = step.max(1.0);
        let points: Vec<Point> = self.course().line.iter().map(|s| self.course().terrain.point(*s)).collect();
        let gap = |a: &Point, b: &Point| libm::hypot(b.right - a.right, b.ahead - a.ahead);
        let pairs = || points.iter().zip(points.iter().skip(1));
        let whole: f64 = pairs().map(|(a, b)| gap(a, b)).sum();
        let (mut found, mut wanted, mut gone) = (Vec::new(), 0.0, 0.0);
        for (a, b) in pairs() {
            let length = gap(a, b);
            while wanted <= gone + length && length > 0.0 {
                let t = (wanted - gone) / length;
                let at = Point { right: a.right + t * (b.right - a.right), ahead: a.ahead + t * (b.ahead - a.ahead) };
                found.push((whole - wanted, at, self.value_at(at)));
                wanted += step;
            }
            gone += length;
        }
        found
    }

    /// What a finish `yards` to the left and to the right of a play's target costs against the target itself, in strokes: penalties and
    /// drops as the Rules give them, stroke and distance out of bounds.
    pub fn sides(&self, stand: Stand, play: &Play, yards: f64) -> Option<(f64, f64)> {
        let course = self.course();
        let from = course.terrain.spot(stand.at);
        let to = course.terrain.spot(play.target);
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let length = (dx * dx + dy * dy).sqrt();
        if length <= 0.0 {
            return None;
        }
        let here = course.value_at(&self.solved.values, stand.lie, from);
        let next = self.solved.next(here);
        let carried = play.swing.as_ref().map_or(1.0, |s| s.carried as f32);
        let value = |aside: f32| {
            let end = Spot { x: to.x + aside * dy / length, y: to.y - aside * dx / length };
            let mut tally = super::eval::Tally::of(0.0);
            course.add(&next, &mut tally, 1.0, finish(&course.terrain, from, end, carried, None));
            f64::from(tally.sum + tally.again * next.again)
        };
        let middle = value(0.0);
        Some((value(-yards as f32) - middle, value(yards as f32) - middle))
    }

    /// The penalty areas and the ground out of bounds that cross the hole line ahead of a stand, and whether any club carries each.
    pub fn carries(&self, stand: Stand) -> Vec<Carry> {
        const STEP: f64 = 2.0;
        let from = |at: &Point| libm::hypot(at.right - stand.at.right, at.ahead - stand.at.ahead);
        let points = self.along(STEP);
        let nearest = points.iter().map(|(_, at, _)| from(at)).enumerate().min_by(|a, b| a.1.total_cmp(&b.1));
        let longest = self.hole().kit.pattern.longest_carry(stand.lie);
        let (mut found, mut begun): (Vec<Carry>, Option<(f64, Kind)>) = (Vec::new(), None);
        for (_, at, _) in points.iter().skip(nearest.map_or(0, |(i, _)| i)) {
            let (here, kind) = (from(at), self.kind(*at));
            match begun {
                None if kind.penalty() || kind == Kind::Out => begun = Some((here, kind)),
                Some((from_yd, of)) if !kind.penalty() && kind != Kind::Out => {
                    found.push(Carry { from_yd, to_yd: here, kind: of, reached: longest >= here });
                    begun = None;
                }
                _ => {}
            }
        }
        found
    }

    /// Where the pattern of a play finishes: place, weight, and the kind of ground (trees and water on the way allowed for).
    pub fn pattern(&self, stand: Stand, play: &Play) -> Vec<(Point, f64, Kind)> {
        let view = self.view(stand);
        let course = self.course();
        let Choice::Swing { swing, aim } = play.choice else { return Vec::new() };
        let (Some(prepared), Some(cloud)) = (course.swing(stand.lie, swing), view.cloud(play.choice)) else {
            return Vec::new();
        };
        let mut found = Vec::with_capacity(cloud.len());
        course.each_finish(view.place, aim, prepared, &cloud, |weight, end| {
            let (spot, kind) = match end {
                Finish::Lies(spot, kind) => (spot, kind),
                Finish::Wet { at, kind, .. } => (at, kind),
                Finish::Out(at) => (at, Kind::Out),
                Finish::Stays => (view.place.spot, Kind::Trees),
            };
            found.push((course.terrain.point(spot), f64::from(weight), kind));
        });
        found
    }
}
