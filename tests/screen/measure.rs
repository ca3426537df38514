//! Measuring between two places of a hole.

use marram::session::Home;
use marram::shelf::Load;
use marram::tui::keymap::Key;
use marram::tui::story::{STORY_DAY, Story};

/// A straight hole of 400 with one bunker across the line, 190 to 210, and a second beside it.
const PLAIN: &str = "format: course-notebook/1\ncourse: { name: Plain, units: yards }\ntees: [ { name: Back } ]\nholes:\n  - hole: 1\n    par: 4\n    stroke_index: 1\n    tees: { Back: 400 }\n    sketch:\n      fairway:\n        - [ { at: 100, across: 15L..15R }, { at: 380, across: 15L..15R } ]\n      bunkers:\n        - { name: Cross, outline: [ { at: 190, across: 10L }, { at: 190, across: 10R }, { at: 210, across: 10R }, { at: 210, across: 10L } ] }\n        - { name: Side, outline: [ { at: 190, across: 25R }, { at: 190, across: 35R }, { at: 210, across: 35R }, { at: 210, across: 25R } ] }\n      green: { front: 385, depth: 30, width: 24 }\n";

fn open() -> Story {
    let mut load = Load::new(STORY_DAY);
    load.course("plain.yaml", PLAIN.to_owned());
    let mut story = Story::of(load.finish(Home::Files), 120, 36);
    story.keys("n m");
    story
}

#[test]
fn distance_carry_gap_and_green_between_two_places() {
    let mut story = open();
    let said = story.said();
    assert!(said.contains("distance   400 straight"), "{said}");
    assert!(said.contains("carry      210 over Cross (bunker), which begins at 190"), "{said}");
    let measured = story.state.derived.measured.clone().unwrap();
    assert!((measured.straight - 400.0).abs() < 1e-9);
    assert!((measured.gap.unwrap().2 - 15.0).abs() < 1e-6, "10R to 25R");
    assert_eq!(measured.green.unwrap().map(f64::round), [385.0, 400.0, 415.0]);
    assert!(measured.front_edge.unwrap().abs() < 1.0);
    assert!(measured.warnings.is_empty());
    // The other place beside the line: nothing is in the way any more.
    story.keys("Space Left Left");
    assert!((story.state.derived.measured.as_ref().unwrap().straight - 390.0).abs() < 1e-9);
    story.keys("Space").keys("Down Down Down Down Down Down Down Down Down Down");
    story.keys("Space Down Down Down Down Down Down Down Down Down Down");
    assert!(story.said().contains("nothing in the way"), "{}", story.said());
    story.keys("Enter Right");
    assert!(story.said().contains("distance   5 straight"), "{}", story.said());
}

#[test]
fn a_marker_that_reads_to_the_other_edge_is_found_out() {
    let mut story = open();
    // 250 from the tee: 150 to the middle, 135 to the front.
    for _ in 0..50 {
        story.keys("Right");
    }
    story.keys("m").types("150").press(Key::Enter);
    assert!(story.said().contains("they agree"), "{}", story.said());
    story.keys("m").types("135").press(Key::Enter);
    let said = story.said();
    assert!(
        said.contains("the marker reads 135 and the middle of the green is 150 away; it fits the front edge"),
        "{said}"
    );
    story.keys("m").types("135 front").press(Key::Enter);
    assert!(story.said().contains("they agree"));
    story.keys("m").types("far").press(Key::Enter);
    assert!(story.state.notice.as_ref().unwrap().words.contains("150 front"));
}

#[test]
fn units_ends_and_sizes() {
    let mut story = Story::example(60, 20);
    for _ in 0..18 {
        story.keys("n m w w Space g g t Space");
        let screen = story.screen();
        assert!(screen.contains("Measure") && screen.contains("distance"), "{screen}");
        story.keys("Esc ,");
    }
    let mut story = open();
    story.keys("o u");
    assert!(story.said().contains("distance   366 straight"), "400 yards are 366 metres: {}", story.said());
}
