//! Par/Bogey: holes won and lost against a fixed target (Rules of Golf 21.3, 2023).

use super::sides::{BallValue, Better};
use super::tally::{Unit, after, up_or_down};
use super::{CardHole, Count, HoleScore, HoleValue, Terms};

pub(super) struct ParBogey;

fn result(hole: &CardHole, gross: Option<i32>, terms: &Terms) -> i32 {
    let strokes = match terms.count {
        Count::Net => hole.strokes,
        Count::Gross => 0,
    };
    let target = i32::from(hole.par) + terms.target_over_par;
    // No score loses the hole.
    gross.map_or(-1, |gross| (target - (gross - strokes)).signum())
}

impl Unit for ParBogey {
    fn better(&self) -> Better {
        Better::More
    }

    fn ball(&self, hole: &CardHole, terms: &Terms) -> BallValue {
        match hole.score {
            HoleScore::Empty => BallValue::Empty,
            _ => BallValue::Figure(result(hole, hole.gross(), terms)),
        }
    }

    fn bounds(&self, hole: &CardHole, terms: &Terms) -> (Option<i32>, Option<i32>) {
        (Some(-1), Some(result(hole, Some(1), terms)))
    }

    fn value(&self, figure: i32) -> HoleValue {
        match figure {
            -1 => HoleValue::Lost,
            0 => HoleValue::Tied,
            1 => HoleValue::Won,
            // Several balls of a side that count are added.
            sum => HoleValue::Points(sum),
        }
    }

    fn level(&self, _par: i32) -> i32 {
        0
    }

    fn compares(&self, count: Count) -> &'static str {
        match count {
            Count::Net => "holes won less holes lost against the target, by net scores",
            Count::Gross => "holes won less holes lost against the target, by gross scores",
        }
    }

    fn empty_hole(&self) -> &'static str {
        "still to play; returned empty or picked up the hole is lost"
    }

    fn words(&self, figure: i32, _against: i32, decided: usize, left: usize, _terms: &Terms) -> String {
        let state = up_or_down(figure);
        if left == 0 { format!("{state} on the card") } else { format!("{state} {}", after(decided)) }
    }

    fn need(&self, needed: i32) -> String {
        format!("{} on", up_or_down(needed))
    }

    fn goal(&self, target: i32, _count: Count) -> String {
        up_or_down(target)
    }
}
