//! What the next round would have to be to move the index.

use super::record::{Record, Returned, Revision, Score};
use crate::units::tenths::{HandicapIndex, Tenths};
use chrono::NaiveDate;

/// Differentials looked through, in tenths: far beyond any score at either end.
const BEST: i32 = -200;
const WORST: i32 = 1500;

/// Which differentials have an effect.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// None does.
    Never,
    /// The last differential on the near side of which the effect holds.
    At(Tenths),
    /// Any does.
    Always,
}

/// What a next 18-hole differential does to an index.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NextRound {
    /// The index now.
    pub now: HandicapIndex,
    /// The highest differential that lowers the index.
    pub lowers: Edge,
    /// The lowest differential that raises it.
    pub raises: Edge,
    /// The index after a differential so bad that it counts for nothing.
    pub at_worst: Option<HandicapIndex>,
}

/// The record with one more 18-hole differential played on `date`; the record itself stays as it is.
pub fn what_if(record: &Record, date: NaiveDate, differential: Tenths) -> Revision {
    record.clone().add(&Score { date, returned: Returned::OfficialOnly, official: Some(differential) })
}

/// What the next differential, played on `date`, would have to be to move the index; `None` where there is no index yet.
pub fn next_round(record: &Record, date: NaiveDate) -> Option<NextRound> {
    let now = record.index()?;
    Some(NextRound {
        now,
        lowers: up_to(record, date, |index| index < now),
        raises: match up_to(record, date, |index| index <= now) {
            Edge::Never => Edge::Always,
            Edge::Always => Edge::Never,
            Edge::At(stays) => Edge::At(stays + Tenths::new(1)),
        },
        at_worst: what_if(record, date, Tenths::new(WORST)).index(),
    })
}

/// The highest differential on `date` after which the index is at most `target`.
pub fn differential_for(record: &Record, date: NaiveDate, target: HandicapIndex) -> Edge {
    up_to(record, date, |index| index <= target)
}

// The index never falls when the next differential rises, so halving the range finds the edge.
fn up_to(record: &Record, date: NaiveDate, holds: impl Fn(HandicapIndex) -> bool) -> Edge {
    let at = |tenths| what_if(record, date, Tenths::new(tenths)).index().is_some_and(&holds);
    if !at(BEST) {
        return Edge::Never;
    }
    if at(WORST) {
        return Edge::Always;
    }
    let (mut holding, mut beyond) = (BEST, WORST);
    while beyond - holding > 1 {
        let middle = holding.midpoint(beyond);
        if at(middle) {
            holding = middle;
        } else {
            beyond = middle;
        }
    }
    Edge::At(Tenths::new(holding))
}
