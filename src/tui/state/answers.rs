//! What the solved hole on screen was asked and answered, and what of it is drawn.

use super::{PlanKey, Screen, State};
use crate::ground::Point;
use crate::plan::{Judged, Mark, MissSide, Pinned, Question, StandPlan};
use crate::round::Ability;
use crate::tui::ask::{Answer, AskKey};
use crate::units::{Across, Along};
use std::sync::Arc;

/// The most answers kept: a step back with the stand finds the one before.
const KEPT: usize = 16;

/// A table over the text of the Hole page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Panel {
    /// Every club from here.
    Clubs,
    /// Formats side by side.
    Compare,
    /// The plan with something changed.
    WhatIf,
}

/// Marking a play before the answer shows.
#[derive(Clone, Debug, PartialEq)]
pub struct CommitScreen {
    /// The clubs that can be marked, longest first: number in the bag, name, length.
    pub clubs: Vec<(usize, String, f64)>,
    /// Which of them is marked.
    pub club: usize,
    /// How far right of the hole line it is aimed, yards.
    pub right: f64,
    /// The side not to miss.
    pub side: MissSide,
    /// From where.
    pub from: Option<(Along, Across)>,
    /// What was committed to.
    pub committed: Option<Mark>,
}

/// Answers at hand.
#[derive(Clone, Debug, Default)]
pub struct Answers {
    made: Vec<(AskKey, Result<Arc<Answer>, String>)>,
    /// The question that is being answered.
    pub asked: Option<AskKey>,
}

impl Answers {
    /// The answer to a question.
    pub fn get(&self, key: &AskKey) -> Option<&Result<Arc<Answer>, String>> {
        self.made.iter().find(|(k, _)| k == key).map(|(_, a)| a)
    }

    /// Keeps an answer, newest last.
    pub fn keep(&mut self, key: AskKey, answer: Result<Answer, String>) {
        if self.asked.as_ref() == Some(&key) {
            self.asked = None;
        }
        self.made.retain(|(k, _)| *k != key);
        self.made.push((key, answer.map(Arc::new)));
        if self.made.len() > KEPT {
            drop(self.made.remove(0));
        }
    }
}

/// How densely a pattern lies over the drawing: half of the shots finish in cells of level 2, nine in ten in those and level 1.
#[derive(Clone, Debug, PartialEq)]
pub struct Tint {
    columns: usize,
    levels: Vec<u8>,
}

impl Tint {
    /// The level of a half-cell: 0 to 2.
    pub fn level(&self, column: usize, half_row: usize) -> u8 {
        if column >= self.columns {
            return 0;
        }
        self.levels.get(half_row * self.columns + column).copied().unwrap_or(0)
    }

    fn new(
        spots: &[(Point, f64)],
        columns: usize,
        halves: usize,
        cell: &dyn Fn(Point) -> Option<(usize, usize)>,
    ) -> Self {
        let mut weight = vec![0.0; columns * halves];
        for (at, w) in spots {
            if let Some(slot) = cell(*at).and_then(|(c, h)| weight.get_mut(h * columns + c)) {
                *slot += w;
            }
        }
        // The points of a pattern are few to the cell, so they are spread over their neighbours.
        for _ in 0..2 {
            weight = blurred(&weight, columns, halves);
        }
        let mut order: Vec<usize> = (0..weight.len()).filter(|i| weight.get(*i).is_some_and(|w| *w > 0.0)).collect();
        let of = |i: usize| weight.get(i).copied().unwrap_or(0.0);
        order.sort_by(|a, b| of(*b).total_cmp(&of(*a)));
        let all: f64 = weight.iter().sum();
        let mut levels = vec![0; weight.len()];
        let mut gone = 0.0;
        for i in order {
            let level = if gone < 0.5 * all { 2 } else { 1 };
            if gone >= 0.9 * all {
                break;
            }
            gone += of(i);
            if let Some(slot) = levels.get_mut(i) {
                *slot = level;
            }
        }
        Self { columns, levels }
    }
}

fn blurred(weight: &[f64], columns: usize, halves: usize) -> Vec<f64> {
    let at = |c: isize, h: isize| -> f64 {
        if c < 0 || h < 0 || c as usize >= columns || h as usize >= halves {
            return 0.0;
        }
        weight.get(h as usize * columns + c as usize).copied().unwrap_or(0.0)
    };
    let cells = (0..halves as isize).flat_map(|h| (0..columns as isize).map(move |c| (c, h)));
    cells
        .map(|(c, h)| {
            (-1..=1).flat_map(|i| (-1..=1).map(move |k| (i, k))).map(|(i, k)| at(c + i, h + k)).sum::<f64>() / 9.0
        })
        .collect()
}

/// The value of places as it is drawn: what each half-cell costs against the best one level with it.
#[derive(Clone, Debug, PartialEq)]
pub struct ValueMap {
    columns: usize,
    losses: Vec<Option<f64>>,
}

impl ValueMap {
    /// Strokes that a place costs against the best level with it; `None` out of bounds.
    pub fn loss(&self, column: usize, half_row: usize) -> Option<f64> {
        if column >= self.columns {
            return None;
        }
        self.losses.get(half_row * self.columns + column).copied().flatten()
    }

    fn new(values: &[Option<f64>], columns: usize) -> Self {
        let mut best = vec![f64::INFINITY; columns];
        for (i, value) in values.iter().enumerate() {
            if let (Some(value), Some(slot)) = (value, best.get_mut(i % columns.max(1))) {
                *slot = slot.min(*value);
            }
        }
        let loss = |(i, value): (usize, &Option<f64>)| Some(((*value)? - best.get(i % columns.max(1))?).max(0.0));
        Self { columns, losses: values.iter().enumerate().map(loss).collect() }
    }
}

/// What of the answers is on screen.
#[derive(Clone, Debug, Default)]
pub struct Answered {
    /// The plan from the stand.
    pub stand: Option<Arc<Answer>>,
    /// Which of its clubs is looked at.
    pub chosen: Option<usize>,
    /// Where that club would finish.
    pub tint: Option<Arc<Tint>>,
    /// The value of places, while it is shown.
    pub map: Option<Arc<ValueMap>>,
    /// Strokes to come, by column of the drawing.
    pub strokes: Vec<(usize, f64)>,
    /// The play pinned at the stand and what it costs today.
    pub pinned: Option<(Pinned, Option<f64>)>,
    /// The marked line in words, while a play is marked.
    pub marked_words: String,
    /// Where the marked play would finish on the drawing.
    pub marked_cell: Option<(usize, usize)>,
    tint_of: Option<(AskKey, usize, (usize, usize), bool)>,
    map_of: Option<AskKey>,
}

impl Answered {
    /// The plan from the stand.
    pub fn stand_plan(&self) -> Option<&StandPlan> {
        match self.stand.as_deref() {
            Some(Answer::Stand(plan)) => Some(plan),
            _ => None,
        }
    }

    /// The club that is looked at.
    pub fn club(&self) -> Option<&crate::plan::ClubHere> {
        self.stand_plan()?.clubs.get(self.chosen?)
    }
}

impl State {
    /// The screen on which a play is marked, when it is on top.
    pub fn commit(&self) -> Option<&CommitScreen> {
        self.screens.iter().rev().find_map(|s| if let Screen::Commit(commit) = s { Some(&**commit) } else { None })
    }

    /// What was committed to, judged.
    pub fn judged(&self) -> Option<&Judged> {
        let commit = self.commit()?;
        let key = AskKey::Judge(self.derived.plan_key.clone()?, commit.from, commit.committed?);
        match self.answers.get(&key)?.as_deref() {
            Ok(Answer::Judged(judged)) => judged.as_ref(),
            _ => None,
        }
    }

    /// The answer to a question about the hole on screen.
    pub fn answer(&self, key: impl FnOnce(PlanKey) -> AskKey) -> Option<&Result<Arc<Answer>, String>> {
        self.answers.get(&key(self.derived.plan_key.clone()?))
    }

    /// The plays pinned on the hole on screen for the player and tee looked at.
    pub fn pins_here(&self) -> Vec<Pinned> {
        let (Some(course), Some(sheet)) = (&self.session.course, &self.derived.hole) else { return Vec::new() };
        let Some(golfer) = self.session.golfers.get(self.player) else { return Vec::new() };
        let here = |pin: &&Pinned| {
            pin.course == course.name && pin.hole == sheet.number && pin.player == golfer.name && pin.tee == sheet.tee
        };
        self.pins.pins.iter().filter(here).cloned().collect()
    }

    /// The points of the half-cells of the drawing, row by row.
    fn drawn_points(&self) -> Option<Arc<Vec<Point>>> {
        Some(Arc::clone(&self.derived.drawing.as_ref()?.points))
    }

    /// The questions whose answers the screen wants, the most urgent first, as far as the round allows them.
    fn wanted(&self) -> Vec<AskKey> {
        let Some(key) = self.derived.plan_key.clone() else { return Vec::new() };
        let may = |ability: Ability| self.session.why_not(ability).is_none();
        let mut wanted = Vec::new();
        if let Some((from, mark)) = self.commit().and_then(|c| Some((c.from, c.committed?)))
            && may(Ability::CommitFirst)
        {
            wanted.push(AskKey::Judge(key.clone(), from, mark));
        }
        if may(Ability::AdviceFromStand) {
            wanted.push(AskKey::Stand(key.clone(), self.hole.stand));
        }
        match self.hole.panel {
            Some(Panel::Compare) if may(Ability::CompareFormats) => wanted.push(AskKey::Compare(key.clone())),
            Some(Panel::WhatIf) if may(Ability::WhatIf) => wanted.push(AskKey::WhatIf(key.clone())),
            _ => {}
        }
        if self.hole.map
            && may(Ability::ValueMap)
            && let Some(points) = self.drawn_points()
        {
            wanted.push(AskKey::Map(key.clone(), points));
        }
        let pins = self.pins_here();
        if !pins.is_empty() && may(Ability::LivePlan) {
            wanted.push(AskKey::Pinned(key, pins));
        }
        wanted
    }

    /// The question to ask next, when it is not asked already.
    pub fn next_ask(&mut self) -> Option<(AskKey, Question)> {
        let key = self.derived.plan_key.as_ref()?;
        // A hole that cannot be planned answers nothing else; one that is not solved yet is solved first.
        let frozen = self.session.frozen.is_some() && self.session.round.is_some();
        if self.plans.why_none(key).is_some() || !frozen && self.plans.get(key).is_none() {
            return None;
        }
        let next = self.wanted().into_iter().find(|ask| self.answers.get(ask).is_none())?;
        if self.answers.asked.as_ref() == Some(&next) {
            return None;
        }
        let (_, question) = self.plan_question()?;
        self.answers.asked = Some(next.clone());
        Some((next, question))
    }

    /// Takes what was answered on to the screen.
    pub fn follow_answers(&mut self) {
        let before = std::mem::take(&mut self.derived.answered);
        self.derived.answered = self.answered(before);
    }

    fn answered(&self, before: Answered) -> Answered {
        let mut out = Answered { strokes: self.strokes_by_column(), ..Answered::default() };
        let Some(key) = self.derived.plan_key.clone() else { return out };
        (out.marked_words, out.marked_cell) = self.marked();
        let may = |ability: Ability| self.session.why_not(ability).is_none();
        let ask = AskKey::Stand(key.clone(), self.hole.stand);
        if may(Ability::AdviceFromStand)
            && let Some(Ok(answer)) = self.answers.get(&ask)
        {
            out.stand = Some(Arc::clone(answer));
            out.chosen = out.stand_plan().and_then(|plan| {
                let named = |name: &String| plan.clubs.iter().position(|c| c.shot.club == *name);
                self.hole.club.as_ref().and_then(named).or((!plan.clubs.is_empty()).then_some(plan.best))
            });
        }
        if let (Some(chosen), Some(drawing)) = (out.chosen, &self.derived.drawing)
            && may(Ability::PatternFromStand)
            && self.commit().is_none_or(|c| c.committed.is_some())
        {
            let size = (drawing.ribbon.columns(), drawing.ribbon.half_rows());
            let of = (ask, chosen, size, self.hole.true_shape);
            out.tint = if before.tint_of.as_ref() == Some(&of) {
                before.tint
            } else {
                let cell = |at: Point| drawing.ribbon.cell_of_point(at);
                out.club().map(|club| Arc::new(Tint::new(&club.spots, size.0, size.1, &cell)))
            };
            out.tint_of = Some(of);
        }
        if self.hole.map
            && may(Ability::ValueMap)
            && let (Some(points), Some(drawing)) = (self.drawn_points(), &self.derived.drawing)
        {
            let ask = AskKey::Map(key.clone(), points);
            if let Some(Ok(answer)) = self.answers.get(&ask)
                && let Answer::Map(values) = &**answer
            {
                out.map = if before.map_of.as_ref() == Some(&ask) {
                    before.map
                } else {
                    Some(Arc::new(ValueMap::new(values, drawing.ribbon.columns())))
                };
                out.map_of = Some(ask);
            }
        }
        let pins = self.pins_here();
        if !pins.is_empty() {
            let costs = match self.answers.get(&AskKey::Pinned(key, pins.clone())).map(|a| a.as_deref()) {
                Some(Ok(Answer::Pinned(costs))) if may(Ability::LivePlan) => costs.clone(),
                _ => Vec::new(),
            };
            let from = self.from_here();
            let here = pins.into_iter().enumerate().find(|(_, pin)| pin.from == from);
            out.pinned = here.map(|(i, pin)| (pin, costs.get(i).copied().flatten()));
        }
        out
    }

    /// The marked line in words and its place on the drawing.
    fn marked(&self) -> (String, Option<(usize, usize)>) {
        let found = || {
            let to = crate::tui::update::marked_target(self)?;
            let (course, hole, sheet) =
                (self.session.course.as_ref()?, self.current_hole()?, self.derived.hole.as_ref()?);
            let (at, across) = crate::tui::update::spot_of(self, sheet)?;
            let from = hole.ground.line().place(at, across);
            let units = self.shown_units();
            let words = crate::plan::words::line(course, hole, from, to, self.hole.stand.is_none(), units);
            let cell = self.derived.drawing.as_ref().and_then(|d| d.ribbon.cell_of_point(to));
            Some((words.replace(&format!(" {}", units.word()), ""), cell))
        };
        found().unwrap_or_default()
    }

    /// The stand as it is kept in files: by the player's tee; `None` on it.
    pub fn from_here(&self) -> Option<(crate::units::FromTee, Across)> {
        let (at, across) = self.hole.stand?;
        let origin = self.derived.hole.as_ref()?.origin?;
        Some((origin.from_tee(at), across))
    }

    /// Strokes to come by column of the drawing, from the plan.
    fn strokes_by_column(&self) -> Vec<(usize, f64)> {
        let (Some(plan), Some(drawing), Some(sheet)) = (&self.derived.plan, &self.derived.drawing, &self.derived.hole)
        else {
            return Vec::new();
        };
        let origin = sheet.origin.unwrap_or_default();
        let column = |at: crate::units::FromTee| drawing.ribbon.cell_of(Along(at.0 + origin.0.0), Across(0.0));
        plan.along.iter().filter_map(|here| Some((column(here.at)?.0, here.strokes))).collect()
    }
}
