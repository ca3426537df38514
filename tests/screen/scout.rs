//! The scout's list as it grows, and a layer taken into the notebook hole by hole.

use marram::jobs::Cancel;
use marram::session::Home;
use marram::shelf::Load;
use marram::tui::story::{STORY_DAY, Story};
use marram::tui::update::{CourseAsk, Effect, Msg, PupilsAsk, PupilsTold, scout, update};

const CORVANE: &str = include_str!("../../sample-courses/corvane.yaml");
const WREN: &str = include_str!("../../sample-courses/players/wren-hallam.yaml");
const LAYER: &str = include_str!("../../sample-courses/corvane.wren-hallam.yaml");

fn own(width: u16, height: u16) -> Story {
    let mut load = Load::new(STORY_DAY);
    load.course("corvane.yaml", CORVANE.to_owned());
    load.layer("corvane.wren-hallam.yaml", LAYER.to_owned());
    load.player("players/wren-hallam.yaml", WREN.to_owned(), Some("Club"));
    Story::of(load.finish(Home::Files), width, height)
}

#[test]
fn the_list_begins_with_the_hole_on_screen_and_grows_hole_by_hole() {
    let mut story = own(100, 30);
    story.keys(", n s");
    assert!(story.screen().contains("0 of 18 holes looked at"), "{}", story.screen());
    let mut job = story
        .effects
        .iter()
        .find_map(|e| if let Effect::Pupils(PupilsAsk::Scout(job)) = e { Some((**job).clone()) } else { None })
        .unwrap();
    assert_eq!(job.holes[0].0, 2, "the hole on screen first");
    job.holes.truncate(1);
    let mut seen = Vec::new();
    scout::work(&job, &Cancel::default(), &mut |number, found| seen.push((number, found)));
    assert_eq!(seen.len(), 1);
    let many = seen[0].1.as_ref().map_or(0, Vec::len);
    for (number, found) in seen {
        update(&mut story.state, Msg::Pupils(PupilsTold::Scouted(job.notebook, number, found)));
    }
    assert_eq!(story.state.scout().unwrap().lines.len(), many);
    assert!(story.screen().contains("1 of 18 holes looked at"), "{}", story.screen());
    update(&mut story.state, Msg::Pupils(PupilsTold::Scouted(None, 3, Err("of another notebook".to_owned()))));
    assert!(!story.screen().contains("another notebook"));
    if many > 0 {
        story.keys("Enter");
        assert_eq!(story.state.current_hole().unwrap().number, 2);
        assert!(story.state.hole.stand.is_some());
    }
}

#[test]
fn a_layer_is_shown_hole_by_hole_before_it_is_taken_in() {
    for (width, height) in [(120, 36), (80, 24), (60, 20)] {
        let mut story = own(width, height);
        story.keys("n i");
        let screen = story.screen();
        assert!(screen.contains("Into the notebook") && screen.contains("hole 1 of "), "{screen}");
        let holes = story.state.session.layers[0].0.holes.len();
        for _ in 0..holes {
            assert!(story.state.merge().unwrap().shown.as_ref().unwrap().is_ok(), "{}", story.said());
            story.keys("Tab");
        }
    }
    let mut story = own(120, 36);
    story.keys("n i Enter");
    let texts = story
        .effects
        .iter()
        .find_map(|e| if let Effect::Course(CourseAsk::Take(_, texts)) = e { Some(texts.clone()) } else { None })
        .unwrap();
    assert_eq!(texts.len(), 2, "the notebook, then the layer without that hole");
    assert!(texts.iter().all(|t| t.back_up && t.base.is_some()));
    assert_ne!(texts[0].text, CORVANE);
    assert_eq!(story.notebook(), CORVANE, "nothing before the disk has it");
    // The example is taken in nowhere.
    let mut story = Story::example(120, 36);
    story.keys("n i Enter");
    assert!(story.state.notice.is_some());
    assert!(!story.effects.iter().any(|e| matches!(e, Effect::Course(CourseAsk::Take(..)))));
}
