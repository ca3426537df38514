//! Stableford: points against a fixed target, par unless the Committee fixes another (Rules of Golf 21.1, 2023).

use super::sides::{BallValue, Better};
use super::tally::{Unit, after, plural};
use super::{CardHole, Count, HoleScore, HoleValue, Terms, stableford_points};

pub(super) struct Stableford;

fn strokes(hole: &CardHole, count: Count) -> i32 {
    match count {
        Count::Net => hole.strokes,
        Count::Gross => 0,
    }
}

fn target(hole: &CardHole, terms: &Terms) -> i32 {
    i32::from(hole.par) + terms.target_over_par
}

impl Unit for Stableford {
    fn better(&self) -> Better {
        Better::More
    }

    fn ball(&self, hole: &CardHole, terms: &Terms) -> BallValue {
        match hole.score {
            HoleScore::Empty => BallValue::Empty,
            _ => BallValue::Figure(stableford_points(target(hole, terms), strokes(hole, terms.count), hole.gross())),
        }
    }

    fn bounds(&self, hole: &CardHole, terms: &Terms) -> (Option<i32>, Option<i32>) {
        (Some(0), Some(stableford_points(target(hole, terms), strokes(hole, terms.count), Some(1))))
    }

    fn value(&self, figure: i32) -> HoleValue {
        HoleValue::Points(figure)
    }

    fn level(&self, _par: i32) -> i32 {
        2
    }

    fn compares(&self, count: Count) -> &'static str {
        match count {
            Count::Net => "points, strokes received taken off",
            Count::Gross => "points from gross scores",
        }
    }

    fn empty_hole(&self) -> &'static str {
        "still to play; returned empty or picked up it is 0 points"
    }

    fn words(&self, figure: i32, against: i32, decided: usize, left: usize, _terms: &Terms) -> String {
        let points = plural(figure, "point", "points");
        if left == 0 {
            return points;
        }
        let level = match against {
            0 => "two a hole".to_owned(),
            more if more > 0 => format!("{more} more than two a hole"),
            fewer => format!("{} fewer than two a hole", -fewer),
        };
        format!("{points} {}, {level}", after(decided))
    }

    fn need(&self, needed: i32) -> String {
        format!("{} from", plural(needed, "point", "points"))
    }

    fn goal(&self, target: i32, _count: Count) -> String {
        target.to_string()
    }
}
