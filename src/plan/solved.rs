//! A solved hole that owns what it was solved from, so that questions from any stand are answered without solving again.

use super::answer::NoPlan;
use super::model::{AlongHere, HolePlan};
use super::question::Question;
use super::ready::Ready;
use super::{professional, reasons};
use crate::ground::Point;
use crate::strategy::{Fineness, Kind, Solution, Stand, Worth, solve};
use crate::units::Length;
use std::sync::atomic::AtomicBool;

/// Along the hole line strokes to come are told every so many yards.
const STEP: f64 = 5.0;

self_cell::self_cell!(
    /// The hole and its solution.
    struct Pair {
        owner: Ready,
        #[covariant]
        dependent: Solution,
    }
);

/// A hole solved for a player and an aim.
pub struct SolvedHole {
    pair: Pair,
    /// What each shot of the recommended play leaves to the hole, for telling which shot a stand is about.
    leaves: Vec<f64>,
}

impl std::fmt::Debug for SolvedHole {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("SolvedHole").field("hole", &self.question().hole.number).finish_non_exhaustive()
    }
}

impl SolvedHole {
    /// Solves the hole of a question.
    ///
    /// # Errors
    /// [`NoPlan`].
    pub fn new(question: &Question, fineness: Fineness, cancel: &AtomicBool) -> Result<Self, NoPlan> {
        let ready = Ready::new(question, fineness)?;
        let aimed = question.aimed;
        let pair = Pair::try_new(ready, |ready| {
            let strokes = solve(ready.hole(), &Worth::Strokes, cancel)?;
            ready.valued(strokes, aimed, cancel)
        })?;
        let mut solved = Self { pair, leaves: Vec::new() };
        let mut leaves = Vec::new();
        let solution = solved.solution();
        if let Some(first) = solution.at_once(solution.tee()) {
            solved.ready().follow(solution, solution.tee(), &first, |_, play| leaves.push(play.leaves_yd));
        }
        solved.leaves = leaves;
        Ok(solved)
    }

    /// What was asked.
    pub fn question(&self) -> &Question {
        &self.ready().question
    }

    pub(super) fn ready(&self) -> &Ready {
        self.pair.borrow_owner()
    }

    pub(super) fn solution(&self) -> &Solution<'_> {
        self.pair.borrow_dependent()
    }

    /// The plan from the tee, without prices.
    pub fn plan(&self) -> HolePlan {
        let mut plan = self.ready().plan(self.solution());
        plan.professional = professional::against(self);
        reasons::write(self.question(), &mut plan);
        plan
    }

    /// The plan without the written aim and reasons, for comparing.
    pub(super) fn bare_plan(&self) -> HolePlan {
        self.ready().plan(self.solution())
    }

    /// The value of places: strokes to come from each point, `None` out of bounds or off the drawing.
    pub fn values(&self, points: &[Point]) -> Vec<Option<f64>> {
        points.iter().map(|at| self.solution().value_at(*at)).collect()
    }

    /// Strokes taken before a ball lies so far from the hole, as the plan goes: none on the tee.
    pub(super) fn taken(&self, at: Point) -> usize {
        let to_go = (at - self.ready().pin()).length();
        let near = |leaves: &f64| (leaves - to_go).abs();
        let shot = self.leaves.iter().enumerate().min_by(|a, b| near(a.1).total_cmp(&near(b.1))).map_or(0, |(i, _)| i);
        shot + 1
    }
}

impl Ready {
    /// Strokes to come along the hole line.
    pub(super) fn along(&self, solution: &Solution<'_>) -> Vec<AlongHere> {
        let line = self.question.hole.ground.line();
        let origin = self.question.origin();
        solution
            .along(STEP)
            .into_iter()
            .filter_map(|(_, at, strokes)| {
                Some(AlongHere { at: origin.from_tee(line.locate(at).0), strokes: strokes? })
            })
            .collect()
    }

    /// A sentence for each carry from the tee that no club reaches.
    pub(super) fn unreached(&self, solution: &Solution<'_>) -> Vec<String> {
        let stand = solution.tee();
        let show = |yards: f64| Length::yards(yards).show(self.question.units);
        solution
            .carries(stand)
            .into_iter()
            .filter(|carry| !carry.reached && matches!(carry.kind, Kind::PenaltyRed | Kind::PenaltyYellow | Kind::Out))
            .map(|carry| {
                let name = self.name_across(stand, carry.from_yd, carry.to_yd);
                let longest = self.kit.pattern.longest_carry(stand.lie);
                format!(
                    "From the tee no club of yours carries {name}, which is {} to {} away; your longest carries {}, so the plan lays up.",
                    show(carry.from_yd),
                    show(carry.to_yd),
                    show(longest)
                )
            })
            .take(1)
            .collect()
    }

    /// The piece of ground that crosses the line between two distances from a stand.
    fn name_across(&self, stand: Stand, from: f64, to: f64) -> String {
        let line = self.question.hole.ground.line();
        let tee = self.question.origin().0.0;
        let features = &self.question.hole.ground.features;
        let middle = (from + to) / 2.0;
        let at = line.place(crate::units::Along(tee + middle), crate::units::Across(0.0));
        let _ = stand;
        let piece = self.lies.piece(at).and_then(|piece| features.get(piece));
        piece.map_or_else(|| "the ground across the line".to_owned(), |f| f.name.clone())
    }
}
