//! Which notes are shown, and how the rest is.

use super::rounds::{CALLUM, WREN};
use marram::session::Home;
use marram::sheet::Standing;
use marram::shelf::Load;
use marram::tui::story::{STORY_DAY, Story};

/// The page as one line: sentences are broken over several on the page.
fn flat(story: &Story) -> String {
    story.said().split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn what_does_not_apply_is_hidden_until_asked_for_and_then_says_why() {
    let mut story = Story::example(120, 60);
    let mut found = false;
    for _ in 0..18 {
        let sheet = story.state.derived.hole.clone().unwrap();
        for line in &sheet.lines {
            if let Standing::Not(why) = &line.standing {
                found = true;
                let start: String = line.words.chars().take(30).collect();
                assert!(!flat(&story).contains(&start), "hole {}: {start}", sheet.number);
                story.keys("a");
                assert!(flat(&story).contains(&start));
                assert!(flat(&story).contains(why.as_str()), "{why}");
                story.keys("a");
            }
        }
        story.keys(",");
    }
    assert!(found, "the example has notes for others");
}

#[test]
fn a_condition_on_something_unknown_today_is_shown_with_it() {
    let mut story = Story::example(120, 60);
    let mut depends = 0;
    for _ in 0..18 {
        let sheet = story.state.derived.hole.clone().unwrap();
        for line in &sheet.lines {
            if let Standing::Depends(condition) = &line.standing {
                depends += 1;
                assert!(
                    flat(&story).contains(&format!("[{condition}")),
                    "hole {}: {condition}\n{}",
                    sheet.number,
                    story.said()
                );
            }
        }
        story.keys(",");
    }
    assert!(depends > 0);
}

#[test]
fn every_hole_of_the_example_has_a_note_of_use_from_every_tee() {
    let mut story = Story::example(100, 40);
    for _ in 0..18 {
        for _ in 0..5 {
            let sheet = story.state.derived.hole.clone().unwrap();
            assert!(sheet.shown(false).count() >= 2, "hole {} from {}", sheet.number, sheet.tee);
            story.keys("o t");
        }
        story.keys(",");
    }
}

#[test]
fn marks_on_the_drawing_and_lines_in_the_text_share_letters() {
    let mut story = Story::example(120, 36);
    for _ in 0..18 {
        let sheet = story.state.derived.hole.clone().unwrap();
        let stand = story.state.derived.stand.clone().unwrap();
        for danger in &stand.dangers {
            let hole = story.state.current_hole().unwrap();
            let feature = hole.ground.features.iter().position(|f| f.name == danger.name).unwrap();
            let mark = sheet.marks.iter().find(|(i, _)| *i == feature).map(|(_, c)| *c);
            assert_eq!(mark, danger.letter, "hole {}: {}", sheet.number, danger.name);
        }
        story.keys(",");
    }
}

/// The sample links with Wren's own layer, played by Wren and another.
fn two_with_wrens_layer() -> Story {
    let mut load = Load::new(STORY_DAY);
    load.course("corvane.yaml", include_str!("../../sample-courses/corvane.yaml").to_owned());
    let layer = include_str!("../../sample-courses/corvane.wren-hallam.yaml").to_owned();
    load.layer("corvane.wren-hallam.yaml", layer.replace("replaces: the creek", "replaces: the brook"));
    for (i, text) in [WREN, CALLUM].into_iter().enumerate() {
        load.player(&format!("players/{i}.yaml"), text.to_owned(), Some("Club"));
    }
    Story::of(load.finish(Home::Files), 120, 60)
}

#[test]
fn a_layer_for_one_player_is_shown_to_that_player_alone() {
    let mut story = two_with_wrens_layer();
    let own = "First swing of the day";
    assert!(flat(&story).contains(own) && flat(&story).contains("(Wren Hallam)"), "{}", story.said());
    story.state.player = 1;
    story.keys("a");
    assert!(flat(&story).contains("Callum Reive") && !flat(&story).contains(own), "{}", story.said());
    story.state.player = 0;
    story.keys("a");
    assert!(flat(&story).contains(own));
}

#[test]
fn what_a_layer_replaces_and_no_longer_finds_is_among_the_problems() {
    let mut story = two_with_wrens_layer();
    story.keys("e");
    assert!(flat(&story).contains("hole 4 has nothing named `the brook`"), "{}", story.said());
    story.keys("Esc , , ,");
    assert!(flat(&story).contains("Three times in four rounds"), "it is shown beside the rest: {}", story.said());
}

#[test]
fn a_hole_without_the_players_tee_is_counted_from_one_that_is_there_and_says_so() {
    let mut load = Load::new(STORY_DAY);
    load.course("corvane.yaml", include_str!("../../sample-courses/corvane.yaml").to_owned());
    let (gone, other) = ("Club", "Forward");
    let player = "format: player/1\nname: Ana\nhandicap: { index: 9.4, ratings: men }\nunits: yards\n".to_owned();
    load.player("players/ana.yaml", player, Some(gone));
    let mut session = load.finish(Home::Files);
    let hole = &mut session.course.as_mut().unwrap().holes[0];
    hole.tees.retain(|t| t.name != gone);
    session.refresh();
    let mut story = Story::of(session, 120, 36);
    let sheet = story.state.derived.hole.clone().unwrap();
    assert_eq!((sheet.tee.as_str(), sheet.instead_of.as_deref()), (other, Some(gone)));
    assert!(sheet.origin.is_some() && sheet.length.is_some());
    assert!(story.screen().contains(&format!("no {gone} tee, from {other}")), "{}", story.screen());
    story.keys("Right");
    assert!(story.said().contains(&format!("there is no {gone} tee")), "{}", story.said());
}
