//! Shots logged while playing and afterwards; the Review page.

use crate::rounds::{WREN, round};
use marram::round::{Detail, Event, PlayedShot, Spot};
use marram::session::PlayWish;
use marram::tui::commands::Page;
use marram::tui::keymap::Key;
use marram::tui::state::{Content, ReviewAsk, Tab};
use marram::tui::story::Story;
use marram::tui::update::{Effect, Msg, update};
use std::sync::Arc;

fn typed(story: &mut Story, text: &str) {
    text.chars().for_each(|c| story.press(Key::Char(c)));
}

fn logged(story: &Story, hole: usize) -> Vec<PlayedShot> {
    story.state.session.boxes(0)[hole].shots.shots.clone()
}

fn shot_events(story: &Story) -> usize {
    let is_shot = |e: &&Effect| matches!(e, Effect::Append(Event::Detail { set: Detail::Shots(_), .. }));
    story.effects.iter().filter(is_shot).count()
}

#[test]
fn shots_are_logged_while_playing_by_one_key_each_after_the_prefix() {
    let mut story = Story::example(120, 36);
    story.keys("Right Right Right Right Right Right");
    story.keys("S b S r S Up");
    let shots = logged(&story, 0);
    assert_eq!(shots.len(), 1, "{}", story.said());
    let (at, _) = story.state.hole.stand.unwrap();
    assert_eq!(shots[0].spot.map(|s| s.at), Some((at.0 * 10.0).round() as i32), "where the stand is");
    assert!(shots[0].club.is_some(), "the club by its length");
    assert!(story.said().contains("r"), "{}", story.said());
    assert_eq!(shot_events(&story), 3, "each key is written at once");
    let texts = story.effects.iter().position(|e| *e == Effect::KeepTexts);
    let first = story.effects.iter().position(|e| matches!(e, Effect::Append(Event::Detail { .. })));
    assert!(texts < first || texts.is_some(), "the texts are kept when the round begins with a shot");
    let club = shots[0].club.clone();
    story.keys("S c");
    assert_ne!(logged(&story, 0)[0].club, club, "the next club");
    story.keys("S n S g S 2");
    let hole = story.state.session.boxes(0)[0].shots.clone();
    assert_eq!((hole.shots.len(), hole.putts.map(|p| p.count)), (2, Some(2)));
    story.keys("u u");
    let hole = story.state.session.boxes(0)[0].shots.clone();
    assert_eq!((hole.putts, hole.shots[1].into), (None, None), "undone like scores");
    story.keys("U U S x");
    assert_eq!(story.state.session.boxes(0)[0].shots.putts, None);
    story.keys("S x S x");
    assert!(logged(&story, 0).is_empty());
    story.keys("S x");
    assert!(story.said().contains("No stroke is logged"), "{}", story.said());
}

#[test]
fn the_book_is_entered_line_by_line_and_nothing_typed_is_lost() {
    let mut story = Story::example(120, 36);
    story.keys("S S");
    assert_eq!(story.state.page(), Page::Shots);
    typed(&mut story, "d 150 8R r, 7i sl, sw g, 2p 18");
    assert!(story.said().contains("5 strokes; that becomes the score"), "{}", story.said());
    story.keys("Enter");
    assert_eq!(story.state.position, 1, "on to the next hole");
    assert_eq!(story.state.session.scores(0)[0].gross(), Some(5));
    assert_eq!(logged(&story, 0)[0].left, Some(1500));
    typed(&mut story, "d f, zz g");
    story.keys("Enter");
    assert_eq!(story.state.position, 1, "what cannot be read stays");
    assert!(story.said().contains("shot 2"), "{}", story.said());
    for _ in 0..4 {
        story.keys("Backspace");
    }
    typed(&mut story, "7i g, 2p");
    story.keys("Esc");
    assert_eq!(story.state.page(), Page::Hole);
    assert_eq!(logged(&story, 1).len(), 2, "Esc keeps a line that can be read");
    story.keys("; S S");
    assert!(story.said().contains("d 150 8R r, 7i sl, sw g, 2p 18"), "{}", story.said());
}

/// A round under the Rules records shots and reviews nothing until its card is closed (Rule 4.3a).
#[test]
fn a_round_under_the_rules_records_and_does_not_review() {
    let mut session = round(&[(WREN, "Club")], PlayWish::usual(crate::rounds::play("stableford")));
    let mut opening = session.round.as_ref().unwrap().opening().clone();
    opening.kind = marram::round::Kind::Competition;
    session.round = Some(marram::round::RoundState::open(opening).unwrap());
    session.shelf = Some("/nowhere".to_owned());
    let mut story = Story::of(session, 120, 36);
    story.keys("S n S f 5");
    assert_eq!(logged(&story, 0).len(), 1);
    story.keys("R");
    assert!(story.said().contains("Rule 4.3a"), "{}", story.said());
    assert!(!story.effects.iter().any(|e| matches!(e, Effect::Review(_))));
    story.keys("4");
    assert!(story.said().contains("Rule 4.3a"), "{}", story.said());
}

#[test]
fn the_review_page_has_its_parts_and_says_what_an_empty_one_needs() {
    let mut story = Story::example(120, 36);
    story.keys("R");
    assert_eq!(story.state.page(), Page::Review);
    assert!(story.said().contains("The example has no season"), "{}", story.said());
    story.keys("1");
    assert!(story.said().contains("No round is open"), "{}", story.said());
    story.keys("4");
    assert!(story.said().contains("t types a target"), "{}", story.said());
    story.keys("t");
    typed(&mut story, "36 points");
    story.keys("Enter");
    let asked = story.effects.iter().any(|e| match e {
        Effect::Review(ask) => matches!(&**ask, ReviewAsk::Need(_, 0, text) if text == "36 points"),
        _ => false,
    });
    assert!(asked && story.said().contains("Working it out"), "{}", story.said());
    let lines = Arc::new(vec!["36 points or more: 23 % by the best plays".to_owned()]);
    update(&mut story.state, Msg::Reviewed(Tab::Need, Content::Lines(lines, Arc::default())));
    assert!(story.screen().contains("23 %"), "{}", story.screen());
    story.keys("Tab Esc");
    assert_eq!(story.state.page(), Page::Hole);
}

#[test]
fn every_size_shows_the_line_that_is_typed() {
    for (width, height) in [(120, 36), (80, 24), (60, 20)] {
        let mut story = Story::example(width, height);
        story.keys(", , , , , , , , , , , , , , , , S S");
        typed(&mut story, "d 150 8R r, 7i g");
        let screen = story.screen();
        assert!(screen.contains("d 150 8R r, 7i g") && screen.contains(">17"), "{width}x{height}\n{screen}");
        assert!(screen.contains("2 strokes"), "{screen}");
    }
}

/// Anything typed into a line of shots tells the same round again after a restart.
#[test]
fn a_spot_is_exact_to_a_tenth_of_a_yard() {
    let shot = PlayedShot { spot: Some(Spot { at: 1234, across: -56 }), ..PlayedShot::default() };
    let text = serde_json::to_string(&shot).unwrap();
    assert_eq!(text, r#"{"spot":{"at":1234,"across":-56}}"#);
    assert_eq!(serde_json::from_str::<PlayedShot>(&text).unwrap(), shot);
}
