//! Score Differentials of eighteen and nine holes: section 1.5 and the float traps of section 0.

use super::{decimal, index};
use marram::handicap::{Holes, Pcc, adjusted_gross_for, combined_nines, estimated_expected_nine, score_differential};
use marram::units::tenths::{SlopeRating, Tenths};
use proptest::prelude::*;

fn pcc(text: &str) -> Pcc {
    Pcc::parse(text).unwrap()
}

fn eighteen(gross: i32, rating: &str, slope: u32, correction: &str) -> String {
    let slope = SlopeRating::new(slope).unwrap();
    let rating = Tenths::parse(rating).unwrap();
    score_differential(gross, rating, slope, pcc(correction), Holes::Eighteen).value.unwrap().to_string()
}

#[test]
fn differential_table() {
    let rows = [
        (95, "67.3", 111, "0", "28.2", "S USGA manual 10-1, same formula"),
        (95, "71.5", 125, "0", "21.2", "S NCGA sheet, same formula"),
        (69, "71.5", 125, "0", "-2.3", "C"),
        (77, "71.0", 120, "0", "5.7", "C, 5.65 exactly"),
        (91, "71.5", 130, "0", "17.0", "C, 16.95 exactly"),
        (65, "71.0", 120, "0", "-5.6", "C, -5.65 exactly"),
        (85, "71.3", 128, "1", "11.2", "C"),
        (85, "71.3", 128, "-1", "13.0", "C"),
        (77, "72.0", 100, "0", "5.7", "C section 0, doubles give 5.6"),
        (97, "72.0", 100, "0", "28.3", "C section 0, doubles give 28.2"),
    ];
    for (gross, rating, slope, correction, value, source) in rows {
        assert_eq!(eighteen(gross, rating, slope, correction), value, "{source}");
    }
    let unrounded =
        score_differential(95, Tenths::new(673), SlopeRating::new(111).unwrap(), Pcc::default(), Holes::Eighteen);
    assert_eq!(unrounded.unrounded.truncated(4), "28.1990");
}

#[test]
fn nine_holes_are_not_rounded() {
    // C from S 5.1b: half the correction of the day.
    let nine = score_differential(42, Tenths::new(356), SlopeRating::new(125).unwrap(), pcc("1"), Holes::Nine);
    assert_eq!(nine.unrounded, decimal("5.3336"));
    assert_eq!(nine.value, None);
}

#[test]
fn two_nines_until_2023() {
    // C from S 5.1b (2020): added unrounded, rounded once.
    let sum = |a: &str, b: &str| combined_nines(decimal(a), decimal(b)).to_tenths().to_string();
    assert_eq!(sum("5.3336", "6.12"), "11.5");
    assert_eq!(sum("2.84", "2.80"), "5.6");
    assert_eq!(sum("-1.02", "-0.53"), "-1.5");
}

#[test]
fn the_estimate_of_the_other_nine() {
    // M: a fit from memory, never official.
    for (hi, expected) in [
        ("0", "1.197"),
        ("10.0", "6.397"),
        ("14.0", "8.477"),
        ("20.0", "11.597"),
        ("36.0", "19.917"),
        ("54.0", "29.277"),
    ] {
        assert_eq!(estimated_expected_nine(index(hi)), decimal(expected), "M");
    }
    assert_eq!((decimal("7.2") + estimated_expected_nine(index("14.0"))).to_tenths().to_string(), "15.7", "M");
}

#[test]
fn correction_bounds() {
    // S Rules of Handicapping 5.1, 5.6: -1.0 to +3.0.
    for text in ["-2", "4", "3.1", "-1.1", "NaN", ""] {
        assert!(Pcc::parse(text).is_err(), "{text}");
    }
    for text in ["-1", "0", "+3", "3", "1.0"] {
        assert!(Pcc::parse(text).is_ok(), "{text}");
    }
}

proptest! {
    /// The gross score for a differential is the most strokes that reach it.
    #[test]
    fn the_gross_for_a_differential(wanted in -100_i32..600, rating in 600_i32..800, slope in 55_u32..=155, correction in -1_i32..=3) {
        let (wanted, rating) = (Tenths::new(wanted), Tenths::new(rating));
        let slope = SlopeRating::new(slope).unwrap();
        let pcc = Pcc::new(Tenths::whole(correction)).unwrap();
        let gross = adjusted_gross_for(wanted, rating, slope, pcc);
        let of = |gross| score_differential(gross, rating, slope, pcc, Holes::Eighteen).value.unwrap();
        prop_assert!(of(gross) <= wanted);
        prop_assert!(of(gross + 1) > wanted);
    }
}
