//! Results as plain values: events, lines, what separated one place from the next.

use super::setup::{Division, TieStep};
use super::values::{Entrant, Status};
use crate::handicap::Play;
use crate::scoring::Count;
use crate::units::tenths::{Exact, HandicapIndex};
use std::fmt;

/// An event, or one of its divisions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EventResult {
    /// Its place in the set-up.
    pub event: usize,
    /// Its name.
    pub name: String,
    /// The format; `None` for points for places.
    pub play: Option<Play>,
    /// Net or gross.
    pub count: Count,
    /// The division.
    pub division: Option<String>,
    /// Lines in the order of the result.
    pub lines: Vec<Line>,
}

impl EventResult {
    /// `medal, division A`.
    pub fn title(&self) -> String {
        match &self.division {
            Some(division) => format!("{}, division {division}", self.name),
            None => self.name.clone(),
        }
    }
}

/// One line of a result.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Line {
    /// The entrant's or side's.
    pub id: String,
    /// Its name.
    pub name: String,
    /// The players of it.
    pub players: Vec<PlayerRef>,
    /// The place; `None` without one.
    pub place: Option<usize>,
    /// The place stays shared.
    pub tied: bool,
    /// Gross, `None` where a hole has no score.
    pub gross: Option<i32>,
    /// Net.
    pub net: Option<i32>,
    /// Stableford points, net of strokes received unless the event counts gross points.
    pub points: Option<i32>,
    /// The figure that decides, in the unit of the format.
    pub result: Option<i32>,
    /// Points for places, in an order of merit.
    pub merit: Option<Exact>,
    /// The Playing Handicap, where the line has one.
    pub playing_handicap: Option<i32>,
    /// Strokes received on the event's holes in a round.
    pub strokes_received: Option<i32>,
    /// What separated it from the next equal total.
    pub decided_by: Option<Decided>,
    /// Why it has no place.
    pub status: Option<Status>,
    /// Why it has no place yet.
    pub unfinished: Option<String>,
    /// The figures a tie was compared by, in their order.
    pub spans: Vec<SpanFigure>,
}

/// A player of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlayerRef {
    /// The id.
    pub id: String,
    /// The name.
    pub name: String,
    /// The index in effect.
    pub index: Option<HandicapIndex>,
    /// The Playing Handicap of their own ball.
    pub playing_handicap: Option<i32>,
}

/// One figure of a comparison.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SpanFigure {
    /// `last 9`.
    pub span: Decided,
    /// `36 1/3`.
    pub figure: String,
}

/// What separated two equal totals.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Decided {
    /// A step of the ties.
    Step(TieStep),
    /// A hole, compared one by one from the end.
    Hole(u8),
}

impl fmt::Display for Decided {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Decided::Step(step) => step.fmt(f),
            Decided::Hole(hole) => f.pad(&format!("hole {hole}")),
        }
    }
}

impl Division {
    /// Whether an entrant belongs to it.
    pub fn has(&self, entrant: &Entrant) -> bool {
        let index = self.index.is_none_or(|(from, to)| {
            entrant.index.is_some_and(|index| {
                from.is_none_or(|from| index.value() >= from) && to.is_none_or(|to| index.value() <= to)
            })
        });
        let category = self
            .category
            .as_deref()
            .is_none_or(|wanted| entrant.category.as_deref().is_some_and(|own| own.eq_ignore_ascii_case(wanted)));
        index && category && self.ratings.is_none_or(|card| card == entrant.card)
    }
}
