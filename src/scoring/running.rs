//! Running totals of one card, hole by hole.

use super::CardHole;

/// Totals after a hole, over the holes entered so far.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Running {
    /// Holes with anything entered.
    pub entered: usize,
    /// Holes entered that have no gross score (picked up, not played).
    pub without_score: usize,
    /// Gross strokes of the holes holed out.
    pub gross: i32,
    /// Net strokes of the holes holed out.
    pub net: i32,
    /// Stableford points.
    pub points: i32,
    /// Gross against par of the holes holed out; below zero is under par.
    pub to_par: i32,
    /// Net against par of the holes holed out: below zero is better than the handicap.
    pub to_handicap: i32,
    /// Points against two for each hole entered: above zero is better than the handicap.
    pub points_to_handicap: i32,
}

impl Running {
    /// True when gross and net are totals of the card so far: no hole entered lacks a score.
    pub const fn has_total(&self) -> bool {
        self.without_score == 0
    }

    /// The totals with one more hole.
    #[must_use]
    pub fn with(self, hole: &CardHole) -> Running {
        let mut after = self;
        let Some(points) = hole.points() else {
            return after;
        };
        after.entered += 1;
        after.points += points;
        after.points_to_handicap += points - 2;
        match (hole.gross(), hole.net()) {
            (Some(gross), Some(net)) => {
                after.gross += gross;
                after.net += net;
                after.to_par += gross - i32::from(hole.par);
                after.to_handicap += net - i32::from(hole.par);
            }
            _ => after.without_score += 1,
        }
        after
    }
}

/// Totals after each hole, in the order given; an empty hole repeats the totals before it.
pub fn running(holes: &[CardHole]) -> Vec<Running> {
    holes
        .iter()
        .scan(Running::default(), |total, hole| {
            *total = total.with(hole);
            Some(*total)
        })
        .collect()
}
