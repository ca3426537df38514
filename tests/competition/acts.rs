//! Keyings that disagree, rulings, late acts, statuses, formats and what they make of a result.

use crate::scene::{competition, event, field, keying, line, places, set_up};
use marram::competition::cards::CardStatus;
use marram::competition::read::{read_change, read_ruling};
use marram::competition::{Competition, total};

const PAR: &str = "4 3 5 4 4 3 4 5 4 4 4 3 5 4 4 3 4 5";
const OVER: &str = "5 4 6 5 5 4 5 6 5 5 5 4 6 5 5 4 5 6";

fn medal(lines: &[(&str, &str, &str)]) -> Competition {
    let events = "  - { name: medal, play: stroke, ties: [ last 9, share ] }\n  - { name: points, play: stableford }";
    competition(&set_up(1, events), &field(lines), None)
}

fn ruled(competition: &mut Competition, text: &str) {
    let (ruling, problems) = read_ruling(text, "rulings/A-1.yaml");
    assert_eq!(problems, []);
    competition.rulings.push(ruling.unwrap());
}

fn changed(competition: &mut Competition, text: &str) {
    let (change, problems) = read_change(text, "changes/A-1.yaml");
    assert_eq!(problems, []);
    competition.changes.push(change.unwrap());
}

#[test]
fn two_keyings_that_disagree_leave_the_card_without_a_place() {
    let mut medal = medal(&[("A", "5.0", ""), ("B", "5.0", OVER)]);
    medal.keyings = vec![keying("A", "wren", 0, PAR), keying("A", "isla", 0, &PAR.replacen("5 4 4 3", "5 4 5 3", 1))];
    let totals = total(&medal);
    assert_eq!(totals.cards.get("A", 0).unwrap().status, CardStatus::Mismatch);
    assert_eq!(line(&totals, "medal", "A").place, None);
    assert_eq!(line(&totals, "medal", "B").place, Some(1));
    let issue = totals.issues.iter().find(|issue| issue.what == "mismatch").unwrap();
    assert_eq!(issue.message, "hole 5: isla keyed 5, wren keyed 4");
    assert_eq!((issue.id.as_deref(), issue.hole), (Some("A"), Some(5)));
    // The keyer who slipped mends the keying, and the card is confirmed.
    medal.keyings[1] = keying("A", "isla", 0, PAR);
    let totals = total(&medal);
    assert_eq!(totals.cards.get("A", 0).unwrap().status, CardStatus::Confirmed);
    assert!(totals.is_final() && line(&totals, "medal", "A").place == Some(1), "{:?}", totals.issues);
}

#[test]
fn a_card_file_wins_over_the_field_and_the_difference_is_named() {
    let mut medal = medal(&[("A", "5.0", OVER)]);
    medal.keyings = vec![keying("A", "wren", 0, PAR)];
    let totals = total(&medal);
    assert_eq!(line(&totals, "medal", "A").gross, Some(72));
    assert_eq!(totals.issues.iter().filter(|issue| issue.what == "mismatch").count(), 18);
}

#[test]
fn the_three_lawful_outcomes_of_a_wrong_score() {
    let ruling = |stands: &str| {
        format!(
            "format: ruling/1\nid: A\nhole: 4\nreturned: 4\nstands: {stands}\nrule: 3.3b(3)\nwhy: a wrong score\nby: Committee\nat: 2026-05-16T15:20\n"
        )
    };
    let mut outcomes = Vec::new();
    for stands in ["as returned", "6", "disqualified"] {
        let mut medal = medal(&[("A", "5.0", PAR), ("B", "5.0", PAR)]);
        ruled(&mut medal, &ruling(stands));
        let totals = total(&medal);
        let a = line(&totals, "medal", "A");
        outcomes.push((a.gross, a.place, a.status.map(|s| s.code())));
        // What was returned is never altered.
        assert_eq!(totals.cards.get("A", 0).unwrap().returned[3].gross(), Some(4));
    }
    assert_eq!(outcomes, [(Some(72), Some(1), None), (Some(74), Some(2), None), (Some(72), None, Some("DQ"))]);
    let (refused, problems) = read_ruling(&ruling("3"), "r");
    assert!(refused.is_none() && problems[0].code == "ruling-lowers", "{problems:?}");
}

#[test]
fn a_breach_that_costs_the_hole_costs_only_the_hole_in_points() {
    let mut medal = medal(&[("A", "5.0", PAR)]);
    let before = line(&total(&medal), "points", "A").points.unwrap();
    ruled(
        &mut medal,
        "format: ruling/1\nid: A\nhole: 4\nreturned: 4\nstands: no score\nrule: 21.1c\nwhy: wrong place\nby: C\nat: 2026-05-16T15:20\n",
    );
    let totals = total(&medal);
    assert_eq!(line(&totals, "points", "A").points, Some(before - 3), "hole 4 has index 1: a stroke, three points");
    assert_eq!(line(&totals, "medal", "A").place, None);
}

#[test]
fn a_ruling_on_something_else_than_was_returned_is_named() {
    let mut medal = medal(&[("A", "5.0", OVER)]);
    ruled(
        &mut medal,
        "format: ruling/1\nid: A\nhole: 4\nreturned: 4\nstands: 6\nrule: 3.3b(3)\nwhy: x\nby: C\nat: 2026-05-16T15:20\n",
    );
    let totals = total(&medal);
    assert_eq!(line(&totals, "medal", "A").gross, Some(90));
    assert!(
        totals.issues.iter().any(|i| i.what == "ruling" && i.message.contains("the card has 5")),
        "{:?}",
        totals.issues
    );
}

#[test]
fn late_acts_are_dated_records() {
    let mut medal = medal(&[("A", "5.0", PAR), ("B", "5.0", ""), ("C", "5.0", OVER)]);
    changed(
        &mut medal,
        "format: change/1\nid: A\nwhat: index\nfrom: 5.0\nto: 15.0\nwhy: yesterday's\nby: C\nat: 2026-05-16T15:20\n",
    );
    changed(&mut medal, "format: change/1\nid: B\nwhat: withdrawn\nwhy: unwell\nby: C\nat: 2026-05-16T11:00\n");
    changed(
        &mut medal,
        "format: change/1\nid: C\nwhat: tee\nto: Tern\nwhy: played the wrong markers by leave\nby: C\nat: 2026-05-16T12:00\n",
    );
    let totals = total(&medal);
    assert_eq!(line(&totals, "medal", "A").playing_handicap, Some(17));
    assert_eq!(line(&totals, "medal", "B").status.map(|s| s.code()), Some("WD"));
    assert_eq!(line(&totals, "medal", "C").playing_handicap, Some(3));
    assert!(totals.is_final(), "{:?}", totals.issues);
    changed(
        &mut medal,
        "format: change/1\nid: A\nwhat: index\nfrom: 9.9\nto: 14.0\nwhy: x\nby: C\nat: 2026-05-16T16:20\n",
    );
    assert!(total(&medal).issues.iter().any(|i| i.message.contains("was 9.9, and it was 15.0")));
}

#[test]
fn those_with_a_status_stand_last_in_their_order() {
    let text = "id,name,playing_handicap,status\nA,Ann,5,NS\nB,Bo,5,DQ\nC,Cy,5,WD\nD,Di,5,NR\nE,Ed,5,wd\nF,Fi,5,\n";
    let medal = competition(&set_up(1, "  - { name: medal, play: stroke }"), text, None);
    let totals = total(&medal);
    let told: Vec<&str> = event(&totals, "medal").lines.iter().map(|l| l.id.as_str()).collect();
    assert_eq!(told, ["F", "D", "C", "E", "B", "A"]);
    assert_eq!(totals.issues.len(), 1, "only the card that is out is missing: {:?}", totals.issues);
}

#[test]
fn a_card_for_nobody_and_an_unfinished_one_are_named() {
    let mut medal = medal(&[("A", "5.0", "")]);
    medal.keyings = vec![keying("A", "wren", 0, "4 3 5 4"), keying("Z", "wren", 0, PAR)];
    let totals = total(&medal);
    assert_eq!(line(&totals, "medal", "A").unfinished.as_deref(), Some("no score on holes 5 to 18"));
    assert!(totals.issues.iter().any(|i| i.message.contains("a card for nobody: the field has no Z")));
    assert!(!totals.is_final());
}

#[test]
fn maximum_score_is_adjusted_before_it_is_compared() {
    let events = "  - { name: max, play: maximum, maximum: 6, ties: [ last 9, share ] }";
    let text = field(&[("A", "0.0", "9 3 5 4 4 3 4 5 4 4 4 3 5 4 4 3 4 x")]);
    let totals_of = competition(&set_up(1, events), &text, None);
    let totals = total(&totals_of);
    // Rule 21.2: a 9 and a hole not holed out count 6 each.
    assert_eq!(line(&totals, "max", "A").gross, Some(72 + 2 + 1));
}

#[test]
fn pairs_and_one_ball_sides() {
    let events = "  - { name: four-ball, play: four-ball stableford, sides: sides.csv }\n  - { name: foursomes, play: foursomes, sides: sides.csv }";
    let text = field(&[("A", "5.0", PAR), ("B", "20.0", OVER), ("C", "10.0", OVER), ("D", "12.0", "")]);
    let mut pairs = competition(&set_up(1, events), &text, Some("id,player_1,player_2\nS1,A,B\nS2,C,D\n"));
    pairs.keyings = vec![keying("S1", "wren", 0, OVER), keying("S2", "wren", 0, PAR)];
    let totals = total(&pairs);
    let side = line(&totals, "foursomes", "S1");
    // 50 % of the sum (Appendix C): (5.8 + 0.1 + 23.2 + 0.1) / 2 = 14.6.
    assert_eq!((side.playing_handicap, side.gross, side.net), (Some(15), Some(90), Some(75)));
    assert_eq!(side.name, "Player A & Player B");
    // One partner of four-ball is enough.
    assert!(line(&totals, "four-ball", "S2").place.is_some());
    assert_eq!(places(&totals, "foursomes")[0].0, "S2");
    // Without one ball's card the side of foursomes is out.
    pairs.keyings.pop();
    assert_eq!(line(&total(&pairs), "foursomes", "S2").unfinished.as_deref(), Some("no card has come in"));
}

#[test]
fn eclectic_and_order_of_merit() {
    let events = "  - { name: one, play: stroke, count: gross, rounds: 1 }\n  - { name: two, play: stroke, count: gross, rounds: 2 }\n  - { name: best of both, play: stroke, count: gross, eclectic: yes }\n  - { name: merit, merit: { of: [ one, two ], points: [ 10, 6, 3 ] }, ties: [ share ] }";
    let worse = PAR.replacen("4 3 5", "9 3 5", 1);
    let text = field(&[("A", "5.0", PAR), ("B", "5.0", &worse), ("C", "5.0", PAR)]);
    let mut rounds = competition(&set_up(2, events), &text, None);
    rounds.keyings = vec![keying("A", "w", 1, &worse), keying("B", "w", 1, PAR), keying("C", "w", 1, OVER)];
    let totals = total(&rounds);
    assert_eq!(line(&totals, "best of both", "B").gross, Some(72));
    let points = |id: &str| line(&totals, "merit", id).merit.unwrap().truncated(2);
    // Round one: A and C share 10 and 6, B has 3; round two: B 10, A 6, C 3.
    assert_eq!((points("A"), points("B"), points("C")), ("14.00".into(), "13.00".into(), "11.00".into()));
}

#[test]
fn par_difference_for_tees_of_another_par() {
    let text = "id,name,ratings,handicap_index\nM,Man,men,10.0\nW,Woman,women,10.0\n";
    let medal = competition(
        &set_up(1, "  - { name: medal, play: stroke }\n  - { name: points, play: stableford }"),
        text,
        None,
    );
    let totals = total(&medal);
    // 10 × 134/113 + 74.6 − 74 = 12.458…; 95 % = 11.83… → 12, and two more where strokes decide (6.2b).
    assert_eq!(line(&totals, "medal", "W").playing_handicap, Some(14));
    assert_eq!(line(&totals, "points", "W").playing_handicap, Some(12));
}

#[test]
fn each_lawful_outcome_shows_its_effect_before_it_is_made() {
    use marram::competition::effect::outcomes;
    let better = PAR.replacen("4 3 5", "3 3 5", 1);
    let medal = medal(&[("A", "5.0", &better), ("B", "5.0", PAR)]);
    let told = outcomes(&medal, "A", 0, 1, 2).unwrap();
    assert_eq!(told.len(), 4);
    assert_eq!(told[0].changes, Vec::<String>::new());
    // 5.0 × 131/113 + 72.1 − 72 = 5.896…; 95 % of it is 5.601… → 6 strokes: 72 − 6 and 71 − 6.
    assert_eq!(told[1].changes[0], "medal: Player B 2 with 66 → 1 with 66");
    assert_eq!(told[1].changes[1], "medal: Player A 1 with 65 → 2 with 67");
    assert!(told[2].changes.iter().any(|c| c == "medal: Player A 1 with 65 → DQ"), "{told:?}");
    assert!(outcomes(&medal, "A", 0, 19, 2).is_none() && outcomes(&medal, "Z", 0, 1, 2).is_none());
    assert!(medal.rulings.is_empty());
}
