//! A record worked through: Low Handicap Index window, exceptional scores, nine holes, the next round.

use super::index;
use chrono::NaiveDate;
use marram::handicap::{
    Edge, Edition, Holes, Pcc, Returned, Rules, Score, differential_for, exceptional_reduction, index_from_record,
    next_round, what_if,
};
use marram::units::tenths::{SlopeRating, Tenths};
use proptest::prelude::*;

fn day(text: &str) -> NaiveDate {
    NaiveDate::parse_from_str(text, "%Y-%m-%d").unwrap()
}

fn tenths(text: &str) -> Tenths {
    Tenths::parse(text).unwrap()
}

/// A score of which only the differential is known.
fn official(date: NaiveDate, differential: Tenths) -> Score {
    Score { date, returned: Returned::OfficialOnly, official: Some(differential) }
}

fn played(date: NaiveDate, holes: Holes, gross: i32, rating: &str, slope: u32) -> Score {
    Score {
        date,
        returned: Returned::Full {
            holes,
            adjusted_gross: gross,
            rating: tenths(rating),
            slope: SlopeRating::new(slope).unwrap(),
            pcc: Pcc::default(),
        },
        official: None,
    }
}

fn days_after(start: &str, differentials: &[&str]) -> Vec<Score> {
    let mut date = day(start);
    differentials
        .iter()
        .map(|d| {
            let score = official(date, tenths(d));
            date = date.succ_opt().unwrap();
            score
        })
        .collect()
}

#[test]
fn exceptional_thresholds() {
    // (index, unrounded differential, reduction, grade)
    let rows = [
        ("14.8", "6.8", -1, "S Danish Golf Union guidance to 5.9"),
        ("14.8", "7.8", -1, "C, exactly 7.0"),
        ("14.8", "7.84", 0, "C, 6.96 though 7.8 rounded would trigger"),
        ("14.8", "4.84", -1, "C, 9.96"),
        ("14.8", "4.8", -2, "C"),
        ("-1.0", "-8.0", -1, "C"),
    ];
    for (hi, differential, reduction, source) in rows {
        let found = exceptional_reduction(index(hi), super::decimal(differential), &Rules::default());
        assert_eq!(found, reduction, "{source}");
    }
    // D1 as a switch.
    let rounded = Rules { exceptional_on_rounded: true, ..Rules::default() };
    assert_eq!(exceptional_reduction(index("14.8"), super::decimal("7.84"), &rounded), -1);
}

#[test]
fn exceptional_sequences() {
    // C from S 5.9: 20 × 15.0, then 8.0, then 15.0.
    let mut list = vec!["15.0"; 20];
    list.extend(["8.0", "15.0"]);
    let worked = index_from_record(&days_after("2024-03-01", &list), &Rules::default());
    let after: Vec<String> = worked.revisions[20..].iter().map(|r| r.index().unwrap().to_string()).collect();
    assert_eq!(after, ["13.1", "13.1"]);
    assert_eq!(worked.revisions[20].exceptional, -1);
    // C: fewer than twenty, every differential is reduced, the exceptional one too.
    let worked = index_from_record(
        &days_after("2024-03-01", &["20.0", "22.0", "21.0", "25.0", "24.0", "9.0"]),
        &Rules::default(),
    );
    assert_eq!(worked.revisions[4].index().unwrap().to_string(), "20.0");
    assert_eq!(worked.revisions[5].exceptional, -2);
    assert_eq!(worked.revisions[5].index().unwrap().to_string(), "11.5");
}

#[test]
fn the_unrounded_differential_decides() {
    // C: index 15.0; 113/128 × (80 − 70.9) = 8.0335, a gain of 6.97 though 8.0 shows 7.0.
    let mut scores = days_after("2024-03-01", &["15.0"; 20]);
    scores.push(played(day("2024-06-01"), Holes::Eighteen, 80, "70.9", 128));
    let worked = index_from_record(&scores, &Rules::default());
    assert_eq!(worked.revisions[20].differential, Some(tenths("8.0")));
    assert_eq!(worked.revisions[20].exceptional, 0);
}

#[test]
fn the_low_index_may_be_older_than_a_year() {
    // S R&A Interpretation 5.7/1: low 10.6 of 2020-03-01; the score of 2021-04-01 is still computed against it, only then
    // the window becomes 2020-04-01 to 2021-04-01.
    let mut scores = vec![official(day("2020-01-01"), tenths("10.6")); 19];
    scores.push(official(day("2020-03-01"), tenths("10.6")));
    // A fortnight later only 30s: the index grows to the hard cap and stays there.
    scores.extend(vec![official(day("2020-03-15"), tenths("30.0")); 20]);
    for date in ["2021-01-01", "2021-04-01", "2021-04-02"] {
        scores.push(official(day(date), tenths("30.0")));
    }
    let worked = index_from_record(&scores, &Rules::default());
    let of = |date: &str| worked.revisions.iter().find(|r| r.date == day(date)).unwrap();
    let january = of("2021-01-01");
    assert_eq!(january.low_index, Some(index("10.6")));
    assert_eq!(january.index().unwrap().to_string(), "15.6");
    let april = of("2021-04-01");
    assert_eq!(april.working.low, Some(index("10.6")), "still against the old low");
    assert_eq!(april.index().unwrap().to_string(), "15.6");
    assert_eq!(april.low_index, Some(index("15.6")), "the window has moved");
    assert_eq!(of("2021-04-02").index().unwrap().to_string(), "20.6");
}

#[test]
fn the_low_index_waits_for_twenty_and_its_year_is_365_days() {
    // S 5.7: no low below twenty scores.
    let worked = index_from_record(&days_after("2023-01-01", &["10.0"; 21]), &Rules::default());
    assert!(worked.revisions[..19].iter().all(|r| r.low_index.is_none()));
    // D3: indexes before the twentieth count: three scores of 10.0 gave 8.0.
    assert_eq!(worked.revisions[19].low_index, Some(index("8.0")));
    assert_eq!(worked.revisions[19].working.low, None);
    assert_eq!(worked.revisions[20].working.low, Some(index("8.0")));
    let later = Rules { low_from_twentieth: true, ..Rules::default() };
    let worked = index_from_record(&days_after("2023-01-01", &["10.0"; 21]), &later);
    assert_eq!(worked.revisions[19].low_index, Some(index("10.0")));
    // 2020-04-01 to 2021-04-01 is inside (R&A Interpretation 5.7/1), a day more is not.
    let mut scores = vec![official(day("2023-01-01"), tenths("5.0")); 8];
    scores.extend(vec![official(day("2023-01-01"), tenths("20.0")); 12]);
    scores.push(official(day("2024-01-01"), tenths("30.0")));
    assert_eq!(index_from_record(&scores, &Rules::default()).record.low_index(), Some(index("5.0")));
    scores[20].date = day("2024-01-02");
    // The oldest 5.0 has left the record: (7 × 5 + 20) / 8 = 6.875.
    assert_eq!(index_from_record(&scores, &Rules::default()).record.low_index(), Some(index("6.9")));
}

#[test]
fn scores_of_one_day_share_the_index_before_it() {
    let mut list = days_after("2024-01-01", &["15.0"; 20]);
    list.push(official(day("2024-06-01"), tenths("8.0")));
    list.push(official(day("2024-06-01"), tenths("7.0")));
    let worked = index_from_record(&list, &Rules::default());
    // C: after the first, the index is 13.1, against which 7.0 would be no exception; both are measured from 15.0.
    assert_eq!(worked.revisions[20].exceptional, -1);
    assert_eq!(worked.revisions[21].exceptional, -1);
    assert_eq!(worked.revisions[21].in_effect, Some(index("15.0")));
}

#[test]
fn out_of_order_is_sorted_and_said() {
    let scores = days_after("2024-01-01", &["10.0", "11.0", "12.0", "9.0", "20.0"]);
    let straight = index_from_record(&scores, &Rules::default());
    let mut turned = scores.clone();
    turned.swap(0, 3);
    let sorted = index_from_record(&turned, &Rules::default());
    assert!(sorted.sorted && !straight.sorted);
    let indexes =
        |worked: &marram::handicap::WorkedRecord| worked.revisions.iter().map(|r| r.index()).collect::<Vec<_>>();
    assert_eq!(indexes(&straight), indexes(&sorted));
    assert_eq!(sorted.revisions[0].place, 3);
}

#[test]
fn nine_holes_in_both_editions() {
    // M: the estimate, marked as such. C: 113/113 × (45 − 35.0) = 10 + (0.52 × 13 + 1.197) = 17.957.
    let mut scores = days_after("2024-01-01", &["15.0", "15.0", "15.0"]);
    scores.push(played(day("2024-02-01"), Holes::Nine, 45, "35.0", 113));
    let worked = index_from_record(&scores, &Rules::default());
    assert!(worked.revisions[3].estimated);
    assert_eq!(worked.revisions[3].differential, Some(tenths("18.0")));
    // The official figure wins and is no estimate.
    scores[3].official = Some(tenths("17.6"));
    let worked = index_from_record(&scores, &Rules::default());
    assert!(!worked.revisions[3].estimated);
    assert_eq!(worked.revisions[3].differential, Some(tenths("17.6")));
    // S 5.1b (2020): two nines in the order received; S USGA FAQ: 54 holes in any mix make the first index.
    let nines: Vec<Score> =
        (1..=6).map(|n| played(day(&format!("2022-01-0{n}")), Holes::Nine, 45, "35.0", 113)).collect();
    for (rules, estimated) in [(Rules::of(Edition::Year2020), false), (Rules::default(), true)] {
        let worked = index_from_record(&nines, &rules);
        let differentials: Vec<bool> = worked.revisions.iter().map(|r| r.differential.is_some()).collect();
        assert_eq!(differentials, [false, true, false, true, false, true]);
        assert_eq!(worked.record.index(), Some(index("18.0")));
        assert_eq!(worked.revisions[5].estimated, estimated);
    }
}

#[test]
fn an_uncombined_nine_lapses() {
    // S Rules of Handicapping 5.1b (2020): it lapses when older than the twentieth differential.
    let nine = |date: &str| played(day(date), Holes::Nine, 45, "35.0", 113);
    for (between, combined) in [(19, true), (20, false)] {
        let mut scores = vec![nine("2021-01-01")];
        scores.extend(days_after("2021-02-01", &vec!["15.0"; between]));
        scores.push(nine("2021-06-01"));
        let worked = index_from_record(&scores, &Rules::of(Edition::Year2020));
        assert_eq!(worked.revisions.last().unwrap().differential.is_some(), combined, "{between}");
    }
}

#[test]
fn what_the_next_round_would_have_to_be() {
    // C: twenty of 15.0 to 24.5 in halves on one day (so that no early index is the low); the oldest, 15.0, falls out next.
    let scores: Vec<Score> = (0..20).map(|n| official(day("2024-01-01"), Tenths::new(150 + 5 * n))).collect();
    let worked = index_from_record(&scores, &Rules::default());
    let date = day("2024-02-01");
    let next = next_round(&worked.record, date).unwrap();
    // Mean 16.75, so 16.8; with d for 15.0: (119 + d) / 8 below 16.75 up to 14.9, from 16.85 on from 15.8.
    assert_eq!(next.now, index("16.8"));
    assert_eq!(next.lowers, Edge::At(tenths("14.9")));
    assert_eq!(next.raises, Edge::At(tenths("15.8")));
    // At worst 19.0 counts: 138 / 8 = 17.25.
    assert_eq!(next.at_worst, Some(index("17.3")));
    let at = |d: Tenths| what_if(&worked.record, date, d).index().unwrap();
    let target = index("16.0");
    let Edge::At(wanted) = differential_for(&worked.record, date, target) else { panic!("an edge") };
    assert!(at(wanted) <= target && at(wanted + Tenths::new(1)) > target);
    assert_eq!(differential_for(&worked.record, date, index("-29.0")), Edge::Never);
    assert_eq!(differential_for(&worked.record, date, index("17.3")), Edge::Always);
    assert_eq!(worked.record.index(), Some(index("16.8")), "asking changes nothing");
}

proptest! {
    /// The next index never falls when the next differential rises: the search for the edge relies on it.
    #[test]
    fn the_next_index_rises_with_the_differential(values in prop::collection::vec(0_i32..400, 3..30), a in -50_i32..400, b in -50_i32..400) {
        let date = day("2024-01-01");
        let scores: Vec<Score> = values.iter().enumerate().map(|(n, v)| official(date + chrono::Days::new(n as u64 * 11), Tenths::new(*v))).collect();
        let worked = index_from_record(&scores, &Rules::default());
        let next = date + chrono::Days::new(400);
        let at = |d: i32| what_if(&worked.record, next, Tenths::new(d)).index().unwrap();
        prop_assert!(at(a.min(b)) <= at(a.max(b)));
    }

    /// Caps: no index stands more than 5.0 above the low it was measured from.
    #[test]
    fn never_more_than_five_above_the_low(values in prop::collection::vec(-20_i32..540, 1..60)) {
        let date = day("2023-01-01");
        let scores: Vec<Score> = values.iter().enumerate().map(|(n, v)| official(date + chrono::Days::new(n as u64 * 9), Tenths::new(*v))).collect();
        for revision in index_from_record(&scores, &Rules::default()).revisions {
            if let (Some(index), Some(low)) = (revision.index(), revision.working.low) {
                prop_assert!(index.value() <= low.value() + Tenths::whole(5));
            }
            prop_assert_eq!(revision.low_index.is_some(), revision.place >= 19);
        }
    }
}
