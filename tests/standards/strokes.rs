//! Strokes by hole: section 1.3.

use marram::handicap::{GiveBack, Nine, StrokeIndexes, strokes_by_hole, strokes_by_hole_giving_back};
use proptest::prelude::*;

const CARD: [u8; 18] = [5, 13, 1, 11, 17, 3, 15, 7, 9, 6, 14, 2, 12, 18, 4, 16, 8, 10];

fn card() -> StrokeIndexes {
    StrokeIndexes::new(&CARD).unwrap()
}

#[test]
fn eighteen_holes() {
    let on = |playing| strokes_by_hole(playing, &card());
    // S Appendix C: a plus player gives back from stroke index 18 downwards.
    let mut plus_two = vec![0; 18];
    plus_two[4] = -1;
    plus_two[13] = -1;
    assert_eq!(on(-2), plus_two);
    // C
    assert_eq!(on(0), vec![0; 18]);
    // S rule text, Golf Australia advice sheet: 10 is one on index 1 to 10.
    assert_eq!(on(10), [1, 0, 1, 0, 0, 1, 0, 1, 1, 1, 0, 1, 0, 0, 1, 0, 1, 1]);
    // S same sheet: 21 is two on index 1 to 3, one on the other fifteen.
    assert_eq!(on(21), [1, 1, 2, 1, 1, 2, 1, 1, 1, 1, 1, 2, 1, 1, 1, 1, 1, 1]);
    // C
    assert_eq!(on(36), vec![2; 18]);
    // C: index 1 is also 19 and 37 (S Appendix E).
    let mut forty = vec![2; 18];
    for hole in [3, 6, 12, 15] {
        forty[hole - 1] = 3;
    }
    assert_eq!(on(40), forty);
}

#[test]
fn nine_holes() {
    let front = card().nine(Nine::Front).unwrap();
    // S Appendix E for the order of the nine's published indexes; C for the values.
    assert_eq!(strokes_by_hole(5, &front), [1, 0, 1, 0, 0, 1, 0, 1, 1]);
    assert_eq!(strokes_by_hole(11, &front), [1, 1, 2, 1, 1, 2, 1, 1, 1]);
    assert_eq!(strokes_by_hole(-1, &front), [0, 0, 0, 0, -1, 0, 0, 0, 0]);
    let back = card().nine(Nine::Back).unwrap();
    assert_eq!(strokes_by_hole(1, &back), [0, 0, 1, 0, 0, 0, 0, 0, 0]);
}

#[test]
fn the_committee_may_say_otherwise_of_plus_players() {
    // S Appendix C: from index 18 "unless the Committee says otherwise".
    let strokes = strokes_by_hole_giving_back(-2, &card(), GiveBack::LowestIndexFirst);
    assert_eq!(strokes.iter().sum::<i32>(), -2);
    assert_eq!((strokes[2], strokes[11]), (-1, -1));
}

proptest! {
    /// Strokes sum to the Playing Handicap and differ by at most one between holes.
    #[test]
    fn strokes_sum_to_the_playing_handicap(playing in -40_i32..=120, order in Just(CARD.to_vec()).prop_shuffle(), holes in 1_usize..=18) {
        let order: Vec<u8> = if holes == 18 { order } else { order[..holes].to_vec() };
        let strokes = strokes_by_hole(playing, &StrokeIndexes::new(&order).unwrap());
        prop_assert_eq!(strokes.iter().sum::<i32>(), playing);
        let (most, least) = (strokes.iter().max().unwrap(), strokes.iter().min().unwrap());
        prop_assert!(most - least <= 1);
    }

    /// One stroke more changes one hole, never another.
    #[test]
    fn one_more_stroke_is_one_hole(playing in -8_i32..72) {
        let (before, after) = (strokes_by_hole(playing, &card()), strokes_by_hole(playing + 1, &card()));
        let changed: Vec<i32> = before.iter().zip(&after).map(|(b, a)| a - b).filter(|d| *d != 0).collect();
        prop_assert_eq!(changed, vec![1]);
    }
}
