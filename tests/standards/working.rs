//! The working, line by line: what a handicap secretary would write down beside the figure.

use super::{index, percent, tee};
use marram::handicap::{Edition, Holes, Rules, index_from_differentials, playing_working};
use marram::units::tenths::Tenths;

fn text(lines: &[marram::handicap::WorkingLine]) -> Vec<String> {
    lines.iter().map(ToString::to_string).collect()
}

#[test]
fn of_a_playing_handicap() {
    // C: 27.7 × 129 / 113 − 0.9 = 30.7221, 85 per cent is 26.1138 (S Miami Valley GA example 1), a stroke of par.
    let lines =
        playing_working(index("27.7"), &tee(Holes::Eighteen, 129, "71.1", 72), percent(85), 1, &Rules::default());
    assert_eq!(
        text(&lines),
        [
            "Handicap Index: 27.7",
            "27.7 × 129 / 113: 31.6221",
            "rating 71.1 less par 72: -0.9",
            "Course Handicap, unrounded and rounded: 30.7221, 31",
            "allowance 85 %: 26.1138",
            "difference in par, after rounding: +1",
            "Playing Handicap: 27",
        ]
    );
    // C: nine holes halve first (S USGA Local Guidance, 8.7 gives 4.4); the older edition rounds before the allowance.
    let old = Rules::of(Edition::Year2020Gbi);
    let lines = playing_working(index("8.7"), &tee(Holes::Nine, 121, "35.3", 36), percent(95), 0, &old);
    assert_eq!(
        text(&lines),
        [
            "Handicap Index: 8.7",
            "half of it, to a tenth, for nine holes: 4.4",
            "4.4 × 121 / 113: 4.7115",
            "Course Handicap, unrounded and rounded: 4.7115, 5",
            "rounded before the allowance: 5",
            "allowance 95 %: 4.7500",
            "Playing Handicap: 5",
        ]
    );
}

#[test]
fn of_an_index() {
    // S R&A Interpretation 5.2a for the mean and the adjustment; C for the caps against a low of 30.0.
    let values: Vec<Tenths> = [407, 424, 361, 459, 436, 450].into_iter().map(Tenths::new).collect();
    let working = index_from_differentials(&values, Some(index("30.0")), &Rules::default());
    assert_eq!(
        text(&working.lines()),
        [
            "lowest 2 of 6 differentials: 36.1 40.7",
            "mean: 38.4000",
            "for a short record: -1.0",
            "before caps: 37.40",
            "Low Handicap Index: 30.0",
            "above it: 7.40",
            "hard cap: growth stops at 5.0: 35.0",
            "Handicap Index: 35.0",
        ]
    );
    assert_eq!(working.counted.iter().map(|counted| counted.place).collect::<Vec<_>>(), [2, 0]);
    let none = index_from_differentials(&values[..2], None, &Rules::default());
    assert_eq!(text(&none.lines()), ["2 differentials on record; an index needs three: no index"]);
    let highest = index_from_differentials(&[Tenths::new(600); 5], None, &Rules::default());
    assert!(text(&highest.lines()).contains(&"held at the maximum: 54.0".to_owned()));
}
