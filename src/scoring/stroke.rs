//! Stroke play, gross and net: every hole is holed out, all strokes count (Rules of Golf 3.3, 2023).

use super::sides::{BallValue, Better};
use super::tally::{Unit, strokes_goal, strokes_need, strokes_words};
use super::{CardHole, Count, HoleScore, HoleValue, Terms};

pub(super) struct Stroke;

fn counted(hole: &CardHole, gross: i32, count: Count) -> i32 {
    match count {
        Count::Net => gross - hole.strokes,
        Count::Gross => gross,
    }
}

impl Unit for Stroke {
    fn better(&self) -> Better {
        Better::Less
    }

    fn ball(&self, hole: &CardHole, terms: &Terms) -> BallValue {
        match (hole.score, hole.gross()) {
            (HoleScore::Empty, _) => BallValue::Empty,
            (_, Some(gross)) => BallValue::Figure(counted(hole, gross, terms.count)),
            (_, None) => BallValue::NoScore,
        }
    }

    fn bounds(&self, hole: &CardHole, terms: &Terms) -> (Option<i32>, Option<i32>) {
        (Some(counted(hole, 1, terms.count)), None)
    }

    fn value(&self, figure: i32) -> HoleValue {
        HoleValue::Strokes(figure)
    }

    fn level(&self, par: i32) -> i32 {
        par
    }

    fn compares(&self, count: Count) -> &'static str {
        match count {
            Count::Net => "net scores",
            Count::Gross => "gross scores",
        }
    }

    fn empty_hole(&self) -> &'static str {
        "still to play; a hole not holed out leaves no total and must be mended before the card is returned (Rule 3.3c)"
    }

    fn words(&self, figure: i32, against: i32, decided: usize, left: usize, terms: &Terms) -> String {
        strokes_words(figure, against, decided, left, terms.count)
    }

    fn need(&self, needed: i32) -> String {
        strokes_need(needed)
    }

    fn goal(&self, target: i32, count: Count) -> String {
        strokes_goal(target, count)
    }
}
