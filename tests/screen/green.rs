//! The Green page: to scale, the safe side, a read in words or cups, the Rules, and every look at every size.

use marram::ground::Point;
use marram::session::Home;
use marram::shelf::Load;
use marram::tui::looks::{Depth, Looks};
use marram::tui::story::Story;

const COURSE: &str = include_str!("../../sample-courses/corvane.yaml");
const WREN: &str = include_str!("../../sample-courses/players/wren-hallam.yaml");
const SHEET: &str = include_str!("../../sample-courses/days/2026-05-16-corvane.yaml");

fn story_on(course: &str, sheet: &str, width: u16, height: u16) -> Story {
    let mut load = Load::new("2026-05-16");
    load.course("corvane.yaml", course.to_owned());
    load.player("players/wren-hallam.yaml", WREN.to_owned(), Some("Club"));
    load.day("days/2026-05-16-corvane.yaml", sheet.to_owned());
    Story::of(load.finish(Home::Files), width, height)
}

fn practice() -> String {
    SHEET.replace("kind: competition", "kind: practice")
}

fn green(width: u16, height: u16) -> Story {
    let mut story = story_on(COURSE, &practice(), width, height);
    story.keys("g").settle();
    story
}

#[test]
fn the_side_below_the_hole_is_the_safe_one_and_the_ideal_leave_lies_there() {
    let story = green(120, 36);
    let picture = story.state.derived.green.picture.clone().unwrap();
    // Hole 1 falls 1.5 % towards the player: below the hole is short of it (trade fact 5).
    let safe = &picture.sides[picture.safe.unwrap()];
    assert!(safe.name.contains("short"), "{safe:?}");
    let leave = picture.leave.unwrap();
    assert!((leave - picture.pin).dot(Point::towards(picture.heading_deg)) < 0.0);
    let said = story.said();
    for part in
        ["hole cut 19 on, 8 from left", "Safe side: short", "one fall sketched", "Grain is not modelled", "Missed by 5"]
    {
        assert!(said.contains(part), "{part}\n{said}");
    }
    assert!(!said.contains("cups"), "one sketched fall gives words, not cups\n{said}");
}

/// Trade facts 4 and 5: uphill plays longer and is softer on the read than downhill; the chances are in that order.
#[test]
fn the_ball_walks_and_its_read_follows() {
    let mut story = green(120, 36);
    let below = story.state.derived.green.putt.clone().unwrap();
    assert!(below.1.rise_m > 0.0 && below.1.plays_longer_m > 0.0);
    story.keys("Up Up Up Up");
    let above = story.state.derived.green.putt.clone().unwrap();
    assert!(above.1.rise_m < 0.0 && above.1.plays_longer_m < 0.0, "{above:?}");
    assert!(above.1.chances.1 >= below.1.chances.1 - 0.01, "{:?} {:?}", above.1.chances, below.1.chances);
    story.keys("Left Left Left");
    let beside = story.state.derived.green.putt.clone().unwrap();
    // A ball left of the hole on ground that falls towards the player turns right as it goes: it starts left.
    assert!(beside.1.cups.unwrap().0 < -0.5, "{:?}", beside.1);
    assert!(beside.1.path.len() > 3);
    story.keys("t");
    assert_eq!(story.state.derived.green.putt.as_ref().unwrap().0, below.0);
}

#[test]
fn noted_slopes_give_cups_with_a_band() {
    let line = COURSE.lines().find(|l| l.contains("green: { front:")).unwrap();
    let from = line.find("falls:").unwrap();
    let noted = format!("{}slopes: [ {{ at: 340, across: 0, percent: 2, towards: 3 }} ] }}", &line[..from]);
    let course = COURSE.replacen(line, &noted, 1);
    let mut story = story_on(&course, &practice(), 120, 36);
    let (_, problems) = marram::course::read(&course);
    if problems.iter().any(|p| p.severity == marram::notebook::Severity::Error) {
        panic!("{problems:?}\n{noted}");
    }
    story.keys("g").settle();
    let said = story.said();
    assert!(said.contains("slopes noted at spots"), "{said}");
    story.keys("Down Down");
    assert!(story.said().contains("cups"), "{}", story.said());
}

/// Rule 4.3a: contours and reads are off in play, in one line with the Rule.
#[test]
fn off_in_play_under_the_rules_with_the_reason() {
    let mut story = story_on(COURSE, SHEET, 120, 36);
    story.keys("4 , g").settle();
    let said = story.said();
    assert!(said.contains("Rule 4.3a"), "{said}");
    assert!(story.state.derived.green.picture.is_none());
}

#[test]
fn every_look_at_every_size() {
    let mut story = green(120, 36);
    for (width, height, depth, ascii) in [
        (120, 36, Depth::True, false),
        (80, 24, Depth::True, false),
        (60, 20, Depth::True, false),
        (80, 24, Depth::None, false),
        (60, 20, Depth::None, true),
    ] {
        story.state.size = (width, height);
        story.state.looks = Looks { depth, ascii, light: false };
        let screen = story.screen();
        assert!(screen.contains("Green 1") && screen.contains("Edges"), "{width}x{height}\n{screen}");
        assert!(!ascii || screen.is_ascii(), "{screen}");
        story.keys("f");
        let falls = story.screen();
        assert!(falls.contains("1.5"), "{falls}");
        story.keys("f");
    }
}
