//! Holes and bags that nobody wants, as the plan answers them.

use marram::course::{self, Card};
use marram::pattern::{Bag, BagClub};
use marram::plan::{HolePlan, NoPlan, Question, SolvedHole};
use marram::strategy::Fineness;
use std::sync::atomic::AtomicBool;

static GO: AtomicBool = AtomicBool::new(false);

/// The plan of a hole of `length` with this sketch, for a player of `index` with `bag`.
fn asked(length: f64, sketch: &str, index: f64, bag: Bag) -> Result<HolePlan, NoPlan> {
    let text = format!(
        "format: course-notebook/1\ncourse: {{ name: Nowhere, units: yards }}\ntees: [ {{ name: Club }} ]\nholes:\n  - hole: 1\n    par: {{ men: 4, women: 4 }}\n    line_from: Club\n    tees: {{ Club: {{ length: {length} }} }}\n    sketch:\n{sketch}"
    );
    let (course, problems) = course::read(&text);
    let course = course.unwrap_or_else(|| panic!("{problems:?}"));
    let hole = course.hole(1).unwrap_or_else(|| panic!("{problems:?}"));
    let question = Question::new(&course, hole, "Club", Card::Men, index, bag);
    SolvedHole::new(&question, Fineness::COARSE, &GO).map(|solved| solved.plan())
}

fn planned(length: f64, sketch: &str, index: f64, bag: Bag) -> HolePlan {
    let plan = asked(length, sketch, index, bag).unwrap();
    assert!(!plan.plays.is_empty());
    let sum: f64 = plan.chances().iter().sum();
    assert!((sum - 1.0).abs() < 1e-6 && plan.plays[0].expected_strokes.is_finite(), "{sum}");
    plan
}

fn green(front: u32) -> String {
    format!("      green: {{ front: {front}, depth: 28, width: 24 }}\n")
}

#[test]
fn a_carry_that_no_club_reaches_is_laid_up_to_and_the_plan_says_so() {
    let water = "      penalty: [ { name: the mere, colour: yellow, from: 120, to: 290, across: 90L..90R } ]\n";
    let plan = planned(400.0, &format!("{}{water}", green(386)), 36.0, Bag::default());
    let said = plan.remarks.join(" ");
    assert!(said.contains("no club of yours carries the mere") && said.contains("lays up"), "{said}");
    assert!(plan.plays[0].shots[0].at.0 < 122.0, "short of it: {:?}", plan.plays[0].shots[0]);
    // A player who carries it is told nothing of the kind.
    let narrow = water.replace("290", "150");
    let plan = planned(400.0, &format!("{}{narrow}", green(386)), 5.0, Bag::default());
    assert!(!plan.remarks.join(" ").contains("lays up"), "{:?}", plan.remarks);
}

#[test]
fn an_island_green_a_hole_without_fairway_and_very_short_and_long_ones_are_planned() {
    let island = "      penalty: [ { name: the moat, colour: yellow, from: 90, to: 128, across: 60L..60R }, { colour: yellow, from: 162, to: 200, across: 60L..60R } ]\n";
    planned(145.0, &format!("{}{island}", green(131)), 18.0, Bag::default());
    planned(380.0, &green(366), 18.0, Bag::default());
    let short = planned(30.0, &green(16), 18.0, Bag::default());
    assert!(short.plays[0].expected_strokes < 3.6, "{}", short.plays[0].expected_strokes);
    let long = planned(900.0, &green(886), 18.0, Bag::default());
    assert!(long.plays[0].expected_strokes > 7.0 && long.plays[0].shots.len() >= 4);
}

#[test]
fn a_tee_in_a_penalty_area_and_a_hole_without_green_are_refused_with_the_cure() {
    let water = "      penalty: [ { name: the mere, colour: red, from: -20, to: 60, across: 40L..40R } ]\n";
    let why = asked(380.0, &format!("{}{water}", green(366)), 18.0, Bag::default()).unwrap_err().to_string();
    assert!(why.contains("the tee stands in a penalty area") && why.contains("move the tee"), "{why}");
    let bunker = "      bunkers: [ { name: Pit, from: 200, to: 210, across: 3L..3R } ]\n";
    let why = asked(380.0, bunker, 18.0, Bag::default()).unwrap_err();
    assert_eq!(why, NoPlan::NoGreen);
}

#[test]
fn an_empty_bag_and_absurd_spreads_are_planned_and_said() {
    let fairway = "      fairway: [ [ { at: 150, across: 16L..16R }, { at: 370, across: 16L..16R } ] ]\n";
    let sketch = format!("{}{fairway}", green(366));
    let empty = planned(380.0, &sketch, 18.0, Bag::default());
    assert!(empty.remarks.join(" ").contains("assumed from the Handicap Index"), "{:?}", empty.remarks);
    for wide in [0.0, 900.0] {
        let club = BagClub { name: "driver".to_owned(), carry: Some(210.0), wide: Some(wide), ..BagClub::default() };
        let plan = planned(380.0, &sketch, 18.0, Bag { clubs: vec![club], swings: Vec::new() });
        assert!(plan.remarks.iter().any(|r| r.starts_with("driver:")), "{wide}: {:?}", plan.remarks);
    }
}

#[test]
fn the_written_aim_is_held_against_the_plan() {
    let session = marram::shelf::example("2026-05-16");
    let units = session.golfers[0].units;
    let question = session.question(3, 0, None, session.aimed(), units).unwrap();
    assert!(!question.aims.is_empty(), "the fourth has an aim for this player");
    let plan = SolvedHole::new(&question, Fineness::COARSE, &GO).unwrap().plan();
    let written = plan.professional.unwrap();
    assert!(written.costs > 0.05 && written.aim == "high line", "{written:?}");
    let without = Question { aims: Vec::new(), ..question };
    assert_eq!(SolvedHole::new(&without, Fineness::COARSE, &GO).unwrap().plan().professional, None);
}

#[test]
fn switch_lines_say_each_condition_once_and_never_the_usual_play() {
    let session = marram::shelf::example("2026-05-16");
    let units = session.golfers[0].units;
    let mut said = Vec::new();
    for position in [3, 8] {
        let question = session.question(position, 0, None, session.aimed(), units).unwrap();
        let mut plan = SolvedHole::new(&question, Fineness::COARSE, &GO).unwrap().plan();
        marram::plan::price(&question, &mut plan, &GO).unwrap();
        let usual: Vec<&str> = plan.plays[0].shots.iter().map(|s| s.club.as_str()).collect();
        for (i, switch) in plan.switches.iter().enumerate() {
            assert!(plan.switches.iter().skip(i + 1).all(|other| other.when != switch.when), "{:?}", plan.switches);
            assert_ne!(switch.play, usual.join(", then "), "{switch:?}");
            assert!(!switch.play.is_empty());
        }
        said.extend(plan.switches.iter().map(|s| format!("{}: {}", s.when, s.play)));
    }
    println!("{said:#?}");
    assert!(!said.is_empty(), "two holes on which nothing changes anything");
}
