//! Adjusted gross score: section 1.4.

use marram::handicap::{
    Acceptance, BallLies, Edition, Recorded, ReturnedHole, Rules, adjusted_gross, adjusted_hole, hole_cap, most_likely,
};
use marram::scoring::stableford_points;
use proptest::prelude::*;

fn recorded(par: i32, strokes: Option<i32>, returned: ReturnedHole) -> i32 {
    adjusted_hole(par, strokes, returned, &Rules::default()).score.unwrap()
}

#[test]
fn holes_for_the_record() {
    use ReturnedHole::{Holed, NotFinished};
    // (par, strokes or no index, returned, recorded, grade)
    let rows = [
        (4, Some(0), Holed(9), 6, "C"),
        (4, Some(1), Holed(9), 7, "C"),
        (5, Some(3), Holed(12), 10, "C"),
        (3, Some(-1), Holed(6), 4, "C"),
        (5, None, Holed(12), 10, "C; rule S 3.1a"),
        (4, Some(0), NotFinished { most_likely: Some(6) }, 6, "C: lies 5 on the green, 4 ft"),
        (4, Some(0), NotFinished { most_likely: Some(8) }, 6, "C: lies 5, 30 yd off, capped"),
        (4, Some(1), NotFinished { most_likely: Some(7) }, 7, "S Clarification 3.3/1"),
        (4, Some(1), NotFinished { most_likely: Some(6) }, 6, "S Clarification 3.3/1"),
    ];
    for (par, strokes, returned, score, source) in rows {
        assert_eq!(recorded(par, strokes, returned), score, "{source}");
    }
}

#[test]
fn the_most_likely_score() {
    // S Rules of Handicapping 3.3, table.
    assert_eq!(most_likely(5, BallLies::OnGreenWithinFiveFeet), 6..=6);
    assert_eq!(most_likely(4, BallLies::WithinTwentyYards), 6..=7);
    assert_eq!(most_likely(5, BallLies::Farther), 8..=9);
}

#[test]
fn holes_not_played() {
    // S Rule 3.2 (R&A 2024): no number; S Clarification 3.2/2 and the 2020 text: net par.
    let hole = adjusted_hole(4, Some(1), ReturnedHole::NotPlayed, &Rules::default());
    assert_eq!((hole.score, hole.why), (None, Recorded::Expected));
    let hole = adjusted_hole(4, Some(1), ReturnedHole::NotPlayed, &Rules::of(Edition::Year2020));
    assert_eq!((hole.score, hole.why), (Some(5), Recorded::NetPar));
}

fn card(holes: usize, played: usize, strokes: Option<i32>) -> Vec<(i32, Option<i32>, ReturnedHole)> {
    (0..holes)
        .map(|hole| {
            let returned = if hole < played { ReturnedHole::Holed(5) } else { ReturnedHole::NotPlayed };
            (4, strokes, returned)
        })
        .collect()
}

#[test]
fn least_number_of_holes() {
    // S USGA FAQ and nine-hole page, 2024.
    let accept = |holes, played, strokes| adjusted_gross(&card(holes, played, strokes), &Rules::default()).acceptance;
    assert_eq!(accept(18, 18, Some(1)), Acceptance::Eighteen);
    assert_eq!(accept(18, 17, Some(1)), Acceptance::PartOfEighteen);
    assert_eq!(accept(18, 10, Some(1)), Acceptance::PartOfEighteen);
    assert_eq!(accept(18, 9, Some(1)), Acceptance::Nine);
    assert_eq!(accept(9, 9, Some(1)), Acceptance::Nine);
    assert_eq!(accept(9, 8, Some(1)), Acceptance::TooFew);
    assert_eq!(accept(18, 8, Some(1)), Acceptance::TooFew);
    assert_eq!(accept(18, 17, None), Acceptance::NotFullWithoutIndex);
    assert_eq!(accept(18, 18, None), Acceptance::Eighteen);
    let full = adjusted_gross(&card(18, 18, Some(1)), &Rules::default());
    assert_eq!(full.total, Some(90));
    assert_eq!(adjusted_gross(&card(18, 17, Some(1)), &Rules::default()).total, None);
}

proptest! {
    /// The record never holds more than the cap, nor more than was taken; the cap is worth no point (3.1b).
    #[test]
    fn capped_at_net_double_bogey(par in 3_i32..=6, strokes in -2_i32..=5, gross in 1_u8..=25) {
        let score = recorded(par, Some(strokes), ReturnedHole::Holed(gross));
        prop_assert!(score <= i32::from(gross) && score <= hole_cap(par, Some(strokes)));
        prop_assert_eq!(stableford_points(par, strokes, Some(score)), stableford_points(par, strokes, Some(i32::from(gross))));
    }
}
