//! Stableford points and net double bogey: sections 3.1 and 1.4.

use marram::scoring::{CardHole, HoleScore, net_double_bogey, running, stableford_points};
use proptest::prelude::*;

#[test]
fn stableford_table() {
    // S Rules of Golf 21.1b (R&A/USGA 2023).
    let on_par_four = [None, Some(6), Some(5), Some(4), Some(3), Some(2), Some(1)];
    let points: Vec<i32> = on_par_four.into_iter().map(|g| stableford_points(4, 0, g)).collect();
    assert_eq!(points, [0, 0, 1, 2, 3, 4, 5]);
    assert_eq!(stableford_points(5, 0, Some(1)), 6);
    // C
    assert_eq!(stableford_points(4, 2, Some(7)), 1);
    assert_eq!(stableford_points(3, -1, Some(3)), 1);
}

fn hole(par: u8, strokes: i32, score: HoleScore) -> CardHole {
    CardHole { number: 1, par, strokes, score }
}

#[test]
fn running_totals() {
    // C: par, strokes, score; then gross, net, points, to par, to handicap.
    let totals = running(&[
        hole(4, 1, HoleScore::Gross(5)),
        hole(3, 0, HoleScore::PickedUp),
        hole(5, 0, HoleScore::Gross(4)),
        hole(4, 0, HoleScore::Empty),
    ]);
    let last = totals[3];
    assert_eq!((last.gross, last.net, last.points), (9, 8, 5));
    assert_eq!((last.to_par, last.to_handicap, last.points_to_handicap), (0, -1, -1));
    assert_eq!((last.entered, last.without_score, last.has_total()), (3, 1, false));
    assert_eq!(totals[2], totals[3]);
}

proptest! {
    /// S Rules of Handicapping 3.1b: net double bogey is the lowest score worth no point.
    #[test]
    fn net_double_bogey_is_the_least_score_worth_nothing(par in 3_i32..=6, strokes in -2_i32..=5) {
        let cap = net_double_bogey(par, strokes);
        prop_assert_eq!(stableford_points(par, strokes, Some(cap)), 0);
        prop_assert!(stableford_points(par, strokes, Some(cap - 1)) > 0);
    }

    /// A stroke received never loses a point.
    #[test]
    fn a_stroke_more_never_loses_a_point(par in 3_i32..=6, strokes in -2_i32..=5, gross in 1_i32..=20) {
        prop_assert!(stableford_points(par, strokes + 1, Some(gross)) >= stableford_points(par, strokes, Some(gross)));
    }
}
