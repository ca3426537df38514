//! The index from differentials, caps and maximum: section 1.6.

use super::index;
use marram::handicap::{Cap, Edition, IndexWorking, Rules, index_from_differentials};
use marram::units::tenths::Tenths;
use proptest::prelude::*;

fn tenths(values: &str) -> Vec<Tenths> {
    values.split_whitespace().map(|v| Tenths::parse(v).unwrap()).collect()
}

fn work(values: &str, low: Option<&str>) -> IndexWorking {
    index_from_differentials(&tenths(values), low.map(index), &Rules::default())
}

fn value(working: &IndexWorking) -> String {
    working.index.unwrap().value().to_string()
}

#[test]
fn three_to_twenty_differentials() {
    let rows = [
        ("15.3 15.2 16.6", "13.2", "S R&A Interpretation 5.2a"),
        ("40.7 42.4 36.1", "34.1", "S same"),
        ("40.7 42.4 36.1 45.9 43.6 45.0", "37.4", "S same"),
        ("25.3 26.4 23.2 20.9 27.8 30.5", "21.1", "S Danish Golf Union example 1"),
        ("25.3 26.4 23.2 20.9 27.8 30.5 25.3 20.4 22.3 19.8 20.1 26.3", "20.3", "S same, example 2"),
        ("-1.2 -1.3 3 3 3 3 3", "-1.2", "C"),
        (
            "1.4 8.5 15.7 17.4 20.6 23.7 25.9 27.2 30 30 30 30 30 30 30 30 30 30 30 30",
            "17.6",
            "C, 17.55 exactly; doubles give 17.5",
        ),
    ];
    for (differentials, expected, source) in rows {
        assert_eq!(value(&work(differentials, None)), expected, "{source}");
    }
}

#[test]
fn how_many_count() {
    // S Rules of Handicapping 5.2a (R&A), table: (on record, lowest used, adjustment).
    let rows = [
        (3, 1, -20),
        (4, 1, -10),
        (5, 1, 0),
        (6, 2, -10),
        (7, 2, 0),
        (8, 2, 0),
        (9, 3, 0),
        (10, 3, 0),
        (11, 3, 0),
        (12, 4, 0),
        (13, 4, 0),
        (14, 4, 0),
        (15, 5, 0),
        (16, 5, 0),
        (17, 6, 0),
        (18, 6, 0),
        (19, 7, 0),
        (20, 8, 0),
        (21, 8, 0),
        (50, 8, 0),
    ];
    for (on_record, used, adjustment) in rows {
        let working = index_from_differentials(&vec![Tenths::new(200); on_record], None, &Rules::default());
        assert_eq!(working.counted.len(), used, "{on_record}");
        assert_eq!(working.adjustment, Tenths::new(adjustment), "{on_record}");
    }
    assert_eq!(work("10.0 11.0", None).index, None);
    assert_eq!(work("", None).index, None);
    // Older than the twentieth does not count.
    let mut many = vec![Tenths::new(10)];
    many.extend(vec![Tenths::new(200); 20]);
    assert_eq!(value(&index_from_differentials(&many, None, &Rules::default())), "20.0");
}

#[test]
fn denmark_from_the_first_result() {
    // S Danish Golf Union: lowest less 2.0 from one or two results.
    let danish = Rules::of(Edition::Year2024Denmark);
    let found = |values: &str| index_from_differentials(&tenths(values), None, &danish).index.map(|i| i.to_string());
    assert_eq!(found("30.0"), Some("28.0".to_owned()));
    assert_eq!(found("30.0 28.4"), Some("26.4".to_owned()));
}

#[test]
fn caps() {
    // (eight equal means as tenths, low, index, cap, grade)
    let of = |mean: &str, low: &str, rules: &Rules| {
        // Twenty differentials whose lowest eight have exactly this mean, given in hundredths of eight.
        let hundredths: i32 = mean.replace('.', "").parse().unwrap();
        let sum = hundredths * 8 / 10;
        let mut values = vec![Tenths::new(sum / 8); 8];
        for value in values.iter_mut().take((sum % 8) as usize) {
            *value = *value + Tenths::new(1);
        }
        values.extend(vec![Tenths::new(900); 12]);
        let working = index_from_differentials(&values, Some(index(low)), rules);
        (value(&working), working.cap)
    };
    let rows = [
        ("13.40", "10.0", "13.2", Cap::Soft, "S USGA FAQ"),
        ("13.00", "10.0", "13.0", Cap::None, "C"),
        ("17.00", "10.0", "15.0", Cap::Soft, "C: exactly at the hard cap"),
        ("21.30", "10.0", "15.0", Cap::Hard, "C"),
        ("02.60", "-1.0", "2.3", Cap::Soft, "C"),
        ("13.45", "10.0", "13.3", Cap::Soft, "C, D2: rounded to 13.5 first"),
        ("13.10", "10.0", "13.1", Cap::Soft, "C: bites though rounding hides it"),
    ];
    for (mean, low, expected, cap, source) in rows {
        assert_eq!(of(mean, low, &Rules::default()), (expected.to_owned(), cap), "{mean} {source}");
    }
    let kept = Rules { round_before_caps: false, ..Rules::default() };
    assert_eq!(of("13.45", "10.0", &kept).0, "13.2", "C, D2: kept exact");
}

#[test]
fn the_english_example_comes_out_either_way() {
    // S England Golf: mean 19.71 and low 14.8 give 18.8. No eight tenths have the mean 19.71; 157.7 and 157.6 frame it.
    let mut values = vec![Tenths::new(197); 8];
    values[0] = Tenths::new(198);
    values.extend(vec![Tenths::new(900); 12]);
    for round_before_caps in [true, false] {
        let rules = Rules { round_before_caps, ..Rules::default() };
        let working = index_from_differentials(&values, Some(index("14.8")), &rules);
        assert_eq!((value(&working), working.cap), ("18.8".to_owned(), Cap::Soft));
    }
}

#[test]
fn the_maximum() {
    // C from S 5.3: 57.3 is held at 54.0.
    let working = work("57.3 57.3 57.3 57.3 57.3", None);
    assert_eq!((value(&working), working.maximum), ("54.0".to_owned(), true));
    assert!(!work("54.0 54.0 54.0 54.0 54.0", None).maximum);
}

#[test]
fn the_low_applies_whatever_the_number() {
    // The command's fixed form: `--low 10.0` with three differentials gives 13.1, soft.
    let working = work("15.3 15.2 16.6", Some("10.0"));
    assert_eq!((value(&working), working.cap), ("13.1".to_owned(), Cap::Soft));
}

proptest! {
    /// A lower differential never gives a higher index; the order of the same twenty never matters.
    #[test]
    fn monotone_and_without_order(values in prop::collection::vec(-50_i32..600, 3..=20), at in 0_usize..20, less in 0_i32..100) {
        let rules = Rules::default();
        let low = Some(index("10.0"));
        let list: Vec<Tenths> = values.iter().copied().map(Tenths::new).collect();
        let before = index_from_differentials(&list, low, &rules).index.unwrap();
        let mut better = list.clone();
        let at = at % better.len();
        better[at] = better[at] - Tenths::new(less);
        prop_assert!(index_from_differentials(&better, low, &rules).index.unwrap() <= before);
        let mut turned = list.clone();
        turned.reverse();
        prop_assert_eq!(index_from_differentials(&turned, low, &rules).index.unwrap(), before);
        prop_assert!(before.value() <= Tenths::new(150));
    }
}
