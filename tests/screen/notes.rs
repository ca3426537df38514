//! Which notes are shown, and how the rest is.

use marram::sheet::Standing;
use marram::tui::story::Story;

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
