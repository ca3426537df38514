//! Card, shelf, help, finder and problems.

use marram::session::Home;
use marram::shelf::{Load, ShelfItem, ShelfKind};
use marram::tui::commands::{self, Page};
use marram::tui::story::Story;
use marram::tui::update::{Effect, Msg, update};
use std::path::PathBuf;

#[test]
fn the_page_of_keys_is_the_one_in_the_docs() {
    let file = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/keys.md");
    let written = std::fs::read_to_string(file).unwrap();
    assert_eq!(written, commands::markdown(), "regenerate: cargo run -- keys --markdown > docs/keys.md");
}

#[test]
fn help_lists_every_command_of_the_page_with_the_reason_when_it_cannot_run() {
    let mut story = Story::example(100, 60);
    story.keys("?");
    let said = story.said();
    for command in commands::all().filter(|c| c.pages.contains(&Page::Hole)) {
        let start: String = command.sentence.chars().take(24).collect();
        assert!(said.contains(&start), "{}", command.name);
    }
    assert!(said.contains("Not now: Nothing has been entered yet."), "{said}");
    assert!(said.contains("Never play until the group ahead is out of range"));
}

#[test]
fn the_finder_runs_what_it_finds_and_says_why_not() {
    let mut story = Story::example(100, 30);
    story.keys(": t r u e Enter");
    assert!(story.state.hole.true_shape);
    story.keys(": u n d o Enter");
    assert!(story.said().contains("Undo: Nothing has been entered yet."), "{}", story.said());
    story.keys(": 5");
    assert!(story.state.session.round.is_none(), "a digit in the finder is a letter, not a score");
}

#[test]
fn the_shelf_lists_and_opens() {
    let mut story = Story::example(80, 24);
    story.keys("s");
    assert!(story.effects.contains(&Effect::ListShelf));
    let item = |kind, title: &str, path: Option<&str>| ShelfItem {
        kind,
        title: title.to_owned(),
        detail: String::new(),
        path: path.map(PathBuf::from),
    };
    update(
        &mut story.state,
        Msg::Shelf(vec![
            item(ShelfKind::Notebook, "tarnholt", Some("t.yaml")),
            item(ShelfKind::Example, "the example round", None),
        ]),
    );
    assert!(story.screen().contains("> tarnholt"));
    story.keys("Down Enter");
    assert!(story.effects.contains(&Effect::OpenExample));
    story.keys("Up Enter");
    assert!(story.effects.contains(&Effect::Open(PathBuf::from("t.yaml"))));
}

#[test]
fn a_mistake_is_named_with_its_line_and_the_other_holes_stay() {
    let good = include_str!("../../sample-courses/corvane.yaml");
    let bad = good.replacen("par: { men: 3, women: 3 }", "par: { men: three, women: 3 }", 1);
    assert_ne!(good, bad);
    let mut load = Load::new("2026-05-16");
    load.course("corvane.yaml", bad);
    let session = load.finish(Home::Files);
    assert_eq!(
        session.course.as_ref().unwrap().holes.len(),
        18 - usize::from(session.course.as_ref().unwrap().holes.len() < 18)
    );
    let mut story = Story::of(session, 100, 30);
    story.keys("e");
    let said = story.said();
    assert!(said.contains("corvane.yaml:") && said.contains("error"), "{said}");
    assert!(said.contains('^'), "the caret stands under it: {said}");
}

#[test]
fn a_hole_without_notes_says_what_could_be_written() {
    let text = "format: course-notebook/1
course: { name: Links, units: yards }
tees: [ { name: Back } ]
holes:
  - { hole: 1, par: 3, stroke_index: 1, tees: { Back: 160 } }
";
    let mut load = Load::new("2026-05-16");
    load.course("links.yaml", text.to_owned());
    let story = Story::of(load.finish(Home::Files), 100, 30);
    let said = story.said();
    assert!(said.contains("Nothing is written for this hole yet") && said.contains("aims"), "{said}");
    assert!(story.screen().contains("no green yet"), "{}", story.screen());
}

#[test]
fn a_long_notice_is_read_to_its_end() {
    let words = "corvane.yaml:12:7: a course notebook has no key `notse`; did you mean `notes`? The last good state stays on \
                 screen, and e lists everything that is wrong";
    for (width, height, whole) in [(120, 36, true), (80, 24, true), (60, 20, true), (40, 12, false), (20, 6, false)] {
        let mut story = Story::example(width, height);
        update(&mut story.state, Msg::Trouble(words.to_owned()));
        let screen: String = story.screen().split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(screen.contains("corvane.yaml:12:7"), "{}", story.screen());
        assert_eq!(screen.contains("everything that is wrong"), whole, "{width}x{height}: {}", story.screen());
        assert!(whole || screen.contains('…'));
    }
}

#[test]
fn on_a_small_screen_the_card_turns_to_every_line_and_back_to_the_focus() {
    for (width, height) in [(60, 20), (40, 14), (40, 9), (24, 8), (20, 6)] {
        let mut story = Story::example(width, height);
        story.keys("5 4 6 5 4 3 4 5 4 5 5 c");
        let page =
            |story: &Story| story.screen().lines().take(usize::from(height) - 1).map(str::to_owned).collect::<Vec<_>>();
        let first = page(&story);
        let mut seen = first.clone();
        for turn in 0.. {
            assert!(turn < 40, "{width}x{height}: it never comes back");
            story.keys("Space");
            if page(&story) == first {
                break;
            }
            seen.extend(page(&story));
        }
        for words in ["Wren Hallam", "points", "after 11"] {
            assert!(
                seen.iter().any(|l| l.contains(words)),
                "{width}x{height} never shows {words}:\n{}",
                seen.join("\n")
            );
        }
        story.keys("Space 4");
        assert!(story.state.session.scores(0)[11].gross() == Some(4), "{width}x{height}");
    }
}
