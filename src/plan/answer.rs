//! Works a plan out: plays, their chances, what they leave, prices of the dangers, the side not to miss.

use super::ground::Rastered;
use super::model::{HolePlan, Play, PlayName, Price, Shot, SideCost, Switch};
use super::question::{Pin, Question};
use super::{reasons, words};
use crate::ground::Point;
use crate::pattern::{Lie, Still};
use crate::strategy::{Chances, Choice, Fineness, Hole, Kind, Kit, LevelGreen, Lies, Ranked, Solved, solve};
use crate::units::{Across, Along};
use std::fmt;
use std::sync::atomic::AtomicBool;

/// The most shots that a play is spelled out for.
const MOST_SHOTS: usize = 6;
/// A miss that is spoken of, yards.
const MISS: f64 = 15.0;

/// Why there is no plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoPlan {
    /// The hole has no green drawn.
    NoGreen,
    /// The hole has no such tee.
    NoTee,
    /// The work was called off.
    CalledOff,
}

impl fmt::Display for NoPlan {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::NoGreen => "this hole has no green drawn, so there is nothing to plan towards",
            Self::NoTee => "this hole has no such tee",
            Self::CalledOff => "the plan was called off",
        })
    }
}

impl std::error::Error for NoPlan {}

/// A hole made ready for the solver.
struct Ready<'q> {
    question: &'q Question,
    lies: Rastered,
    kit: Kit,
    tee: Point,
    pin: Point,
    line: Vec<Point>,
}

impl<'q> Ready<'q> {
    fn new(question: &'q Question, fineness: Fineness) -> Result<Self, NoPlan> {
        let pin = question.pin_point().ok_or(NoPlan::NoGreen)?;
        let tee = question.tee_point().ok_or(NoPlan::NoTee)?;
        let ground = &question.hole.ground;
        let line = ground.line();
        let mut points: Vec<Point> = vec![tee];
        let start = question.origin().0.0;
        points.extend(ground.bends.iter().filter(|b| b.at.0 > start).map(|b| line.place(b.at, Across(0.0))));
        points.push(ground.green.as_ref().map_or(pin, |g| g.middle));
        Ok(Self {
            question,
            lies: Rastered::new(ground),
            kit: Kit::new(question.pattern(), fineness),
            tee,
            pin,
            line: points,
        })
    }

    /// Solves the hole over `lies` and lets `f` ask.
    fn with<T>(&self, lies: &dyn Lies, cancel: &AtomicBool, f: impl FnOnce(&Solved<'_>) -> T) -> Result<T, NoPlan> {
        let green = LevelGreen { putts: &self.kit.pattern.putts, hole: self.pin };
        let hole = Hole {
            lies,
            tee: self.tee,
            pin: self.pin,
            line: &self.line,
            green: &green,
            kit: &self.kit,
            conditions: &Still,
            fineness: self.kit.fineness,
        };
        let solved = solve(hole, cancel).map_err(|_| NoPlan::CalledOff)?;
        Ok(f(&solved))
    }

    /// The lie of a ball at rest at a point.
    fn lie(&self, at: Point) -> Option<Lie> {
        self.lies.kind(at).lie()
    }
}

/// The plan of a hole without its prices, which take longer.
///
/// # Errors
/// [`NoPlan`].
pub fn plan(question: &Question, cancel: &AtomicBool) -> Result<HolePlan, NoPlan> {
    let ready = Ready::new(question, Fineness::USUAL)?;
    let mut plan = ready.with(&ready.lies, cancel, |solved| ready.plan(solved))?;
    reasons::write(question, &mut plan);
    Ok(plan)
}

/// Adds the prices of the dangers, by re-planning with each turned to rough.
///
/// # Errors
/// [`NoPlan`].
pub fn price(question: &Question, plan: &mut HolePlan, cancel: &AtomicBool) -> Result<(), NoPlan> {
    let ready = Ready::new(question, Fineness::COARSE)?;
    let features = &question.hole.ground.features;
    let dangers: Vec<usize> =
        features.iter().enumerate().filter(|(_, f)| f.surface.is_danger()).map(|(i, _)| i).collect();
    let (whole, finds) = ready.with(&ready.lies, cancel, |solved| {
        let first = solved.plays(ready.tee, Lie::Tee).first().copied();
        let finds = first.map_or_else(Vec::new, |f| solved.finds(f.choice, features.len(), &|at| ready.lies.piece(at)));
        (first.map_or(0.0, |f| f64::from(f.strokes)), finds)
    })?;
    let mut prices = Vec::with_capacity(dangers.len());
    for feature in dangers {
        let lies = ready.lies.without(feature);
        let without = ready.with(&lies, cancel, |solved| solved.strokes(ready.tee, Lie::Tee))?;
        prices.push(Price {
            feature,
            strokes: (whole - without).max(0.0),
            chance: finds.get(feature).copied().unwrap_or(0.0),
        });
    }
    prices.sort_by(|a, b| b.strokes.total_cmp(&a.strokes).then(a.feature.cmp(&b.feature)));
    plan.prices = prices;
    plan.switches = switches(question, plan, cancel)?;
    reasons::write(question, plan);
    Ok(())
}

/// What the play would be with the hole at the front or the back, where that changes a club or a line. A hole location that is
/// known has no such lines.
fn switches(question: &Question, plan: &HolePlan, cancel: &AtomicBool) -> Result<Vec<Switch>, NoPlan> {
    let mut out = Vec::new();
    let Some(usual) = plan.plays.first().filter(|_| question.pin == Pin::Middle) else { return Ok(out) };
    for (pin, when) in [(Pin::Front, "hole at the front"), (Pin::Back, "hole at the back")] {
        let asked = Question { pin, ..question.clone() };
        let ready = Ready::new(&asked, Fineness::COARSE)?;
        let play = ready.with(&ready.lies, cancel, |solved| {
            // The usual first shot stays when it is still worth the same: a person changes no club for nothing.
            let ranked = solved.plays(ready.tee, Lie::Tee);
            let least = ranked.first().map_or(0.0, |r| f64::from(r.strokes));
            let same = ranked.iter().filter(|r| f64::from(r.strokes) <= least + question.aimed.same());
            let plays: Vec<Vec<Shot>> = same.map(|r| ready.shots(solved, r.choice)).collect();
            let kept = plays
                .iter()
                .position(|shots| shots.first().zip(usual.shots.first()).is_some_and(|(a, b)| a.club == b.club));
            kept.or((!plays.is_empty()).then_some(0)).and_then(|i| plays.get(i).cloned())
        })?;
        let Some(shots) = play else { continue };
        let clubs = |shots: &[Shot]| shots.iter().map(|s| s.club.clone()).collect::<Vec<_>>();
        if clubs(&shots) != clubs(&usual.shots) {
            out.push(Switch { when: when.to_owned(), play: clubs(&shots).join(", then ") });
        }
    }
    Ok(out)
}

/// The spread of a hole score.
fn spread(chances: &[f64]) -> f64 {
    let mean: f64 = chances.iter().enumerate().map(|(n, p)| n as f64 * p).sum();
    chances.iter().enumerate().map(|(n, p)| p * (n as f64 - mean).powi(2)).sum::<f64>().sqrt()
}

fn mean(chances: &[f64]) -> f64 {
    chances.iter().enumerate().map(|(n, p)| n as f64 * p).sum()
}

impl Ready<'_> {
    fn plan(&self, solved: &Solved<'_>) -> HolePlan {
        let q = self.question;
        let chances = Chances::new(solved);
        let ranked = solved.plays(self.tee, Lie::Tee);
        let least = ranked.first().map_or(0.0, |r| f64::from(r.strokes));
        let same: Vec<(&Ranked, Vec<f64>)> = ranked
            .iter()
            .filter(|r| f64::from(r.strokes) <= least + q.aimed.same())
            .map(|r| (r, solved.score_chances(&chances, self.tee, Lie::Tee, r.choice)))
            .collect();
        // Among plays worth the same the first of them wins a tie, so that the order of cli.md holds.
        let steady =
            (0..same.len()).reduce(|a, b| if spread_of(&same, b) + 1e-3 < spread_of(&same, a) { b } else { a });
        let bold = (0..same.len()).reduce(|a, b| if self.reach(&same, b) > self.reach(&same, a) + 0.5 { b } else { a });
        let mut plays = Vec::new();
        if let (Some(steady), Some(bold)) = (steady, bold) {
            let one = steady == bold || self.alike(&same, steady, bold);
            let named = if one {
                vec![(steady, PlayName::Equal)]
            } else {
                vec![(steady, PlayName::Steady), (bold, PlayName::Bold)]
            };
            let value = same.get(steady).map_or(0.0, |(r, _)| f64::from(r.strokes));
            for (i, name) in named {
                if let Some((r, c)) = same.get(i) {
                    plays.push(Play {
                        name,
                        shots: self.shots(solved, r.choice),
                        expected_strokes: mean(c),
                        worth: value - f64::from(r.strokes),
                        chances: c.clone(),
                        reasons: Vec::new(),
                    });
                }
            }
        }
        let sides =
            same.first().and_then(|_| steady).and_then(|i| same.get(i)).and_then(|(r, _)| self.sides(solved, r.choice));
        HolePlan {
            aimed: q.aimed,
            par: q.par,
            strokes_received: q.strokes_received,
            plays,
            prices: Vec::new(),
            sides,
            switches: Vec::new(),
            remarks: self.kit.pattern.remarks.iter().map(ToString::to_string).collect(),
        }
    }

    /// Whether two plays are the same club within a few yards of aim: then they are one to a person.
    fn alike(&self, same: &[(&Ranked, Vec<f64>)], a: usize, b: usize) -> bool {
        let (Some((a, _)), Some((b, _))) = (same.get(a), same.get(b)) else { return true };
        match (a.choice, b.choice) {
            (Choice::Swing { swing: p, aim: x }, Choice::Swing { swing: q, aim: y }) => {
                p == q && f64::from((x - y).abs()) * self.total(p, Lie::Tee) < 6.0
            }
            (x, y) => x == y,
        }
    }

    fn total(&self, swing: u16, lie: Lie) -> f64 {
        self.kit.swings(lie).get(usize::from(swing)).map_or(0.0, |p| p.swing.total)
    }

    fn reach(&self, same: &[(&Ranked, Vec<f64>)], i: usize) -> f64 {
        match same.get(i).map(|(r, _)| r.choice) {
            Some(Choice::Swing { swing, .. }) => self.total(swing, Lie::Tee),
            _ => 0.0,
        }
    }

    /// Where a swing is meant to finish.
    fn finish(&self, from: Point, lie: Lie, choice: Choice) -> Option<Point> {
        let Choice::Swing { swing, aim } = choice else { return None };
        let total = self.total(swing, lie);
        let aim = f64::from(aim);
        Some(Point { right: from.right + total * aim.sin(), ahead: from.ahead + total * aim.cos() })
    }

    /// The shots until the green, each finishing as meant.
    fn shots(&self, solved: &Solved<'_>, first: Choice) -> Vec<Shot> {
        let q = self.question;
        let line = q.hole.ground.line();
        let (mut from, mut lie, mut choice) = (self.tee, Lie::Tee, Some(first));
        let mut shots = Vec::new();
        while let Some(now) = choice.take() {
            let Choice::Swing { swing, .. } = now else { break };
            let (Some(prepared), Some(to)) =
                (self.kit.swings(lie).get(usize::from(swing)), self.finish(from, lie, now))
            else {
                break;
            };
            let (at, across) = line.locate(to);
            let away = Point { right: self.pin.right - to.right, ahead: self.pin.ahead - to.ahead };
            shots.push(Shot {
                club: self.kit.pattern.name(&prepared.swing),
                at: q.origin().from_tee(Along(at.0)),
                across,
                words: words::line(&q.course, &q.hole, from, to, shots.is_empty(), q.units),
                carry: prepared.swing.carry(),
                leaves: away.length(),
            });
            if self.lies.kind(to) == Kind::Green || shots.len() >= MOST_SHOTS {
                break;
            }
            let Some(next_lie) = self.lie(to) else { break };
            (from, lie) = (to, next_lie);
            choice = solved.plays(from, lie).first().map(|r| r.choice);
        }
        shots
    }

    /// What a first shot costs that finishes beside its aim.
    fn sides(&self, solved: &Solved<'_>, choice: Choice) -> Option<SideCost> {
        let to = self.finish(self.tee, Lie::Tee, choice)?;
        let away = Point { right: to.right - self.tee.right, ahead: to.ahead - self.tee.ahead };
        let unit = if away.length() > 1.0 { away.unit() } else { return None };
        let value = |by: f64| {
            let at = Point { right: to.right + by * unit.ahead, ahead: to.ahead - by * unit.right };
            match self.lies.kind(at) {
                Kind::Out => solved.strokes(self.tee, Lie::Tee) + 1.0,
                kind if kind.penalty() => 1.0 + solved.strokes(at, Lie::Rough),
                kind => solved.strokes(at, kind.lie().unwrap_or(Lie::Fairway)),
            }
        };
        let aimed = value(0.0);
        Some(SideCost { left: value(-MISS) - aimed, right: value(MISS) - aimed })
    }
}

fn spread_of(same: &[(&Ranked, Vec<f64>)], i: usize) -> f64 {
    same.get(i).map_or(f64::INFINITY, |(_, c)| spread(c))
}
