//! Ties by matching scorecards.
//!
//! # References
//! /reference `handicap-and-rules.md` section 4: the table of cases, graded there.

use crate::scene::{competition, event, field, keying, line, places, set_up};
use marram::competition::read::read_change;
use marram::competition::total;

const FRONT: &str = "4 4 4 4 4 4 4 4 4";

fn spans(totals: &marram::competition::Totals<'_>, name: &str, id: &str) -> Vec<String> {
    line(totals, name, id).spans.iter().map(|span| span.figure.clone()).collect()
}

/// A field whose Playing Handicaps are given.
fn given(lines: &[(&str, i32, &str)]) -> String {
    let holes: Vec<String> = (1..=18).map(|hole| format!("h{hole}")).collect();
    let mut text = format!("id,name,playing_handicap,{}\n", holes.join(","));
    for (id, playing, scores) in lines {
        let playing = if *playing < 0 { format!("+{}", -playing) } else { playing.to_string() };
        text += &format!("{id},Player {id},{playing},{}\n", scores.split_whitespace().collect::<Vec<_>>().join(","));
    }
    text
}

#[test]
fn net_with_fractions_of_the_handicap() {
    // 4 4 5 4 5 4 5 4 5 with 8 strokes and nine 5s with 18: 36 each; the second wins on the last six.
    let eight = "4 4 5 4 5 4 5 4 5 4 4 5 4 5 4 5 4 5";
    let eighteen = "5 5 5 5 5 5 5 5 5 5 5 5 5 5 5 5 5 5";
    let set_up = set_up(1, "  - { name: medal, play: stroke, ties: [ last 9, last 6, last 3, last hole, share ] }");
    let competition = competition(&set_up, &given(&[("A", 8, eight), ("B", 18, eighteen)]), None);
    let totals = total(&competition);
    assert_eq!(spans(&totals, "medal", "A"), ["36", "24 1/3", "12 2/3", "4 5/9"]);
    assert_eq!(spans(&totals, "medal", "B"), ["36", "24", "12", "4"]);
    assert_eq!(places(&totals, "medal")[0], ("B".to_owned(), Some(1), false, Some("last 6".to_owned())));
    assert_eq!(places(&totals, "medal")[1], ("A".to_owned(), Some(2), false, None));
}

#[test]
fn a_plus_handicap_adds_its_fraction() {
    let card = "4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4";
    let set_up = set_up(1, "  - { name: medal, play: stroke, ties: [ last 9, share ] }");
    let competition = competition(&set_up, &given(&[("A", -2, card), ("B", -2, card)]), None);
    let totals = total(&competition);
    assert_eq!(spans(&totals, "medal", "A"), ["37"]);
    let shared = Some("share".to_owned());
    let both = vec![("A".to_owned(), Some(1), true, shared.clone()), ("B".to_owned(), Some(1), true, shared)];
    assert_eq!(places(&totals, "medal"), both);
}

#[test]
fn points_of_the_same_holes() {
    // Two points a hole against 3 3 3 2 2 2 1 1 1 on the back: the even card wins on the last six, 12 against 9.
    let par = "4 3 5 4 4 3 4 5 4 4 4 3 5 4 4 3 4 5";
    let uneven = "4 3 5 4 4 3 4 5 4 3 3 2 5 4 4 4 5 6";
    let set_up =
        set_up(1, "  - { name: points, play: stableford, ties: [ last 9, last 6, last 3, last hole, share ] }");
    let competition = competition(&set_up, &given(&[("U", 0, uneven), ("E", 0, par)]), None);
    let totals = total(&competition);
    assert_eq!(spans(&totals, "points", "E"), ["18", "12", "6", "2"]);
    assert_eq!(spans(&totals, "points", "U"), ["18", "9", "3", "1"]);
    assert_eq!(places(&totals, "points")[0].0, "E");
    assert_eq!(places(&totals, "points")[0].3.as_deref(), Some("last 6"));
}

#[test]
fn a_nine_has_fractions_of_nine() {
    let set_up = set_up(
        1,
        "  - { name: nine, play: stroke, holes: 1..9, strokes: as on the eighteen, ties: [ last 6, last 3, last hole, share ] }",
    );
    // Eighteen strokes give nine on the front: 18, 9 and 3 by the card of fours.
    let card = format!("{FRONT} {FRONT}");
    let competition = competition(&set_up, &given(&[("A", 18, &card), ("B", 18, &card)]), None);
    let totals = total(&competition);
    assert_eq!(spans(&totals, "nine", "A"), ["18", "9", "3"]);
    assert_eq!(line(&totals, "nine", "A").net, Some(27));
}

#[test]
fn three_ties_are_sorted_once_and_each_says_what_separated_it() {
    let a = "4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 3";
    let b = "4 4 4 4 4 4 4 4 4 3 4 4 4 4 4 4 4 4";
    let c = "3 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4";
    let set_up = set_up(
        1,
        "  - { name: gross, play: stroke, count: gross, ties: [ last 9, last 6, last 3, last hole, share ] }",
    );
    let competition = competition(&set_up, &given(&[("C", 0, c), ("B", 0, b), ("A", 0, a)]), None);
    let totals = total(&competition);
    let told: Vec<_> = places(&totals, "gross").into_iter().map(|p| (p.0, p.1, p.3)).collect();
    let step = |word: &str| Some(word.to_owned());
    assert_eq!(
        told,
        [("A".into(), Some(1), step("last 6")), ("B".into(), Some(2), step("last 9")), ("C".into(), Some(3), None)]
    );
}

#[test]
fn a_shotgun_changes_nothing() {
    let a = "5 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 3";
    let b = "3 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 5";
    let set_up = set_up(1, "  - { name: gross, play: stroke, count: gross, ties: [ last 9, share ] }");
    let plain = given(&[("A", 0, a), ("B", 0, b)]);
    let shotgun = plain
        .replacen("name,", "name,start_hole,", 1)
        .replace("Player A,", "Player A,5,")
        .replace("Player B,", "Player B,10,");
    for field in [plain, shotgun] {
        let competition = competition(&set_up, &field, None);
        assert_eq!(
            places(&total(&competition), "gross")[0],
            ("A".to_owned(), Some(1), false, Some("last 9".to_owned()))
        );
    }
}

#[test]
fn hole_by_hole_from_the_last() {
    let a = "4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 3 5 4";
    let b = "4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 5 3 4";
    let set_up = set_up(1, "  - { name: gross, play: stroke, count: gross, ties: [ last 9, hole by hole, share ] }");
    let competition = competition(&set_up, &given(&[("A", 0, a), ("B", 0, b)]), None);
    assert_eq!(places(&total(&competition), "gross")[0], ("B".to_owned(), Some(1), false, Some("hole 17".to_owned())));
}

#[test]
fn a_lot_is_recorded_with_its_witness_and_missed_until_then() {
    let card = format!("{FRONT} {FRONT}");
    let set_up = set_up(1, "  - { name: medal, play: stroke, ties: [ last 9, lot ] }");
    let mut competition = competition(&set_up, &given(&[("A", 0, &card), ("B", 0, &card), ("C", 0, &card)]), None);
    let totals = total(&competition);
    assert!(!totals.is_final());
    assert!(totals.issues[0].message.contains("no lot is recorded"), "{:?}", totals.issues);
    assert!(places(&totals, "medal").iter().all(|p| p.1 == Some(1) && p.2 && p.3.as_deref() == Some("lot")));
    let text = "format: change/1\nwhat: lot\nevent: medal\nat: 2026-05-16T18:30\nby: Committee\nwitness: Isla\nto: [ C, A, B ]\n";
    let (change, problems) = read_change(text, "changes/lot.yaml");
    assert_eq!(problems, []);
    competition.changes.push(change.unwrap());
    let totals = total(&competition);
    assert!(totals.is_final(), "{:?}", totals.issues);
    let told: Vec<_> = places(&totals, "medal").into_iter().map(|p| (p.0, p.1, p.2, p.3)).collect();
    let lot = Some("lot".to_owned());
    assert_eq!(
        told,
        [
            ("C".into(), Some(1), false, lot.clone()),
            ("A".into(), Some(2), false, lot),
            ("B".into(), Some(3), false, None)
        ]
    );
    // Without a witness it is no lot.
    let (change, problems) = read_change(&text.replace("witness: Isla\n", ""), "changes/lot.yaml");
    assert!(change.is_none() && problems[0].message.contains("witness"));
}

#[test]
fn of_several_rounds_the_last_is_compared_first() {
    let good = "4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 3";
    let par = "4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4";
    let set_up = set_up(2, "  - { name: open, play: stroke, count: gross, ties: [ last 9, share ] }");
    let mut competition = competition(&set_up, &given(&[("A", 0, good), ("B", 0, par)]), None);
    competition.keyings = vec![keying("A", "wren", 1, par), keying("B", "wren", 1, good)];
    let totals = total(&competition);
    assert_eq!(line(&totals, "open", "A").gross, Some(143));
    assert_eq!(places(&totals, "open")[0], ("B".to_owned(), Some(1), false, Some("last round".to_owned())));
}

#[test]
fn shared_places_go_1_1_3() {
    let set_up = set_up(1, "  - { name: gross, play: stroke, count: gross, ties: [ share ] }");
    let four = format!("{FRONT} {FRONT}");
    let five = format!("5 4 4 4 4 4 4 4 4 {FRONT}");
    let lines = [("A", "5.0", four.as_str()), ("B", "5.0", five.as_str()), ("C", "5.0", four.as_str())];
    let competition = competition(&set_up, &field(&lines), None);
    let totals = total(&competition);
    let told: Vec<_> = event(&totals, "gross").lines.iter().map(|l| (l.id.as_str(), l.place)).collect();
    assert_eq!(told, [("A", Some(1)), ("C", Some(1)), ("B", Some(3))]);
}
