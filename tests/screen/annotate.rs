//! Writing about a hole in the screen alone: everything comes, changes and goes, in its own lines, and is taken back to the byte.

use marram::course::{self, NoteAt};
use marram::session::{Home, Session};
use marram::shelf::{Load, with_course_text};
use marram::tui::keymap::Key;
use marram::tui::looks::{Depth, Looks};
use marram::tui::story::{STORY_DAY, Story};
use marram::tui::update::{CourseAsk, CourseTold, Effect, Msg, update};

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

fn on_hole(story: &mut Story, number: u8) {
    let at = story.state.session.order.iter().position(|n| *n == number).unwrap();
    for _ in 0..at {
        story.keys(",");
    }
}

fn notice(story: &Story) -> String {
    story.state.notice.as_ref().map(|n| n.words.clone()).unwrap_or_default()
}

/// Lines of `after` that are not in `before`, found by their place.
fn changed(before: &str, after: &str) -> (Vec<String>, usize) {
    let (a, b): (Vec<&str>, Vec<&str>) = (before.lines().collect(), after.lines().collect());
    let head = a.iter().zip(&b).take_while(|(x, y)| x == y).count();
    let room = a.len().min(b.len()) - head;
    let tail = a.iter().rev().zip(b.iter().rev()).take_while(|(x, y)| x == y).count().min(room);
    (b[head..b.len() - tail].iter().map(|l| (*l).to_owned()).collect(), a.len() - tail - head)
}

fn undo_all(story: &mut Story) {
    while !story.state.course_edits.undo.is_empty() {
        let left = story.state.course_edits.undo.len();
        story.keys("u");
        assert!(story.state.course_edits.undo.len() < left, "{}", notice(story));
    }
}

#[test]
fn a_note_is_typed_where_one_stands_and_changes_its_own_lines_alone() {
    let mut story = own(120, 36);
    on_hole(&mut story, 4);
    story.keys("n n");
    assert!(story.screen().contains("New note on hole 4, into corvane.yaml"), "{}", story.screen());
    story.types("Left half: the right is blind. Ünïcode, \"quotes\" and a # too.").press(Key::Enter);
    let (new, gone) = changed(CORVANE, story.notebook());
    assert_eq!(gone, 0);
    assert_eq!(new.len(), 2, "{new:?}");
    assert!(new[0].trim() == "- at: tee" && new[1].contains("Ünïcode"), "{new:?}");
    assert!(notice(&story).contains("note added, lines "), "{}", notice(&story));
    assert!(story.said().contains("Left half: the right is blind."));
    story.keys("u");
    assert_eq!(story.notebook(), CORVANE);
    assert!(notice(&story).starts_with("Taken back"));
    story.keys("U");
    assert_eq!(changed(CORVANE, story.notebook()).0, new);
    story.keys("u");
    assert_eq!(story.notebook(), CORVANE);
}

#[test]
fn an_aim_point_stands_where_the_stand_is_and_is_counted_from_both() {
    let mut story = own(120, 36);
    on_hole(&mut story, 4);
    // The Club tee stands 27 along the line of this hole.
    let origin = story.state.derived.hole.as_ref().unwrap().origin.unwrap().0.0;
    assert!(origin > 0.0);
    story.keys("Right Right Right Right Up Up n a");
    let form = story.state.form().unwrap().clone();
    assert_eq!(form.typed("at"), "20");
    story.types("The gable").keys("Tab").types("gable").keys("Tab Tab");
    // The field says both counts.
    let words = story.said();
    assert!(
        words.contains("20 from the Club tee")
            && words.contains(&format!("{} yards along the line", (20.0 + origin).round())),
        "{words}"
    );
    story.press(Key::Ctrl('u'));
    story.types("240 line").press(Key::Enter);
    let course = story.state.session.course.as_ref().unwrap();
    let aim = course.hole(4).unwrap().aims.iter().find(|a| a.name.as_deref() == Some("gable")).unwrap();
    assert_eq!(aim.at.unwrap().0, 240.0);
    // In the list it moves to the stand; a figure alone is from the tee.
    story.keys("n e");
    let all = story.state.derived.written.things.clone();
    let at = all.iter().position(|(_, t)| t.field("name") == Some("gable")).unwrap();
    for _ in 0..at {
        story.keys("Down");
    }
    story.keys("m");
    let course = story.state.session.course.as_ref().unwrap();
    let aim = course.hole(4).unwrap().aims.iter().find(|a| a.name.as_deref() == Some("gable")).unwrap();
    assert_eq!(aim.at.unwrap().0, (20.0 + origin).round());
    undo_all(&mut story);
    assert_eq!(story.notebook(), CORVANE);
}

#[test]
fn words_are_completed_and_conditions_kept_apart() {
    let mut story = own(120, 40);
    on_hole(&mut story, 4);
    story.keys("n g").types("Never short-sided.").keys("Tab").press(Key::Ctrl('u'));
    story.types("ket").keys("Tab").press(Key::Ctrl('u'));
    story.types("le").keys("Tab").types("b,cl").keys("Tab").types("200..").press(Key::Enter);
    let course = story.state.session.course.as_ref().unwrap();
    let danger = course.hole(4).unwrap().dangers.last().unwrap().clone();
    assert_eq!(danger.of.as_deref(), Some("Kettle"), "{}", story.said());
    assert_eq!(danger.written.when.tees, Some(vec!["Back".to_owned(), "Club".to_owned()]));
    assert_eq!(danger.written.when.carry.unwrap().from, Some(200.0));
    story.keys("u");
    assert_eq!(story.notebook(), CORVANE);
    // What the reader refuses stays in the form with the reader's words.
    story.keys("n g").types("x").keys("Tab").press(Key::Ctrl('u'));
    story.types("the moat").press(Key::Enter);
    assert!(story.said().contains("the moat") && story.said().contains("nothing named"), "{}", story.said());
    assert_eq!(story.notebook(), CORVANE);
    story.keys("Esc");
    assert!(story.state.form().is_none());
}

#[test]
fn pasted_text_goes_into_the_field_in_one_line() {
    let mut story = own(80, 24);
    story.keys("n n");
    story.paste("Two lines,\r\nwith a\ttab\u{7}.\n");
    assert_eq!(story.state.form().unwrap().typed("text"), "Two lines, with a tab.");
    story.keys("Home Right Delete").types("'").press(Key::Enter);
    assert!(story.notebook().contains("T'o lines, with a tab."));
}

#[test]
fn everything_on_a_hole_can_be_changed_and_taken_out_and_all_of_it_taken_back() {
    let mut story = own(120, 36);
    on_hole(&mut story, 1);
    story.keys("n e");
    let many = story.state.derived.written.things.iter().filter(|(place, _)| *place == Default::default()).count();
    assert!(many >= 7);
    let mut texts = vec![story.notebook().to_owned()];
    for _ in 0..many {
        let all = &story.state.derived.written.things;
        let at = all.iter().position(|(place, _)| *place == Default::default()).unwrap();
        story.keys("Up Up Up Up Up Up Up Up Up Up Up Up");
        for _ in 0..at {
            story.keys("Down");
        }
        story.keys("Enter").types("New words: ").press(Key::Enter);
        texts.push(story.notebook().to_owned());
        story.keys("x");
        texts.push(story.notebook().to_owned());
    }
    let course = story.state.session.course.as_ref().unwrap().hole(1).unwrap().clone();
    assert!(course.aims.is_empty() && course.dangers.is_empty() && course.notes.is_empty() && course.walk_in.is_none());
    assert_eq!(course::read(story.notebook()).1, course::read(CORVANE).1, "no new problem");
    for text in texts.iter().rev().skip(1) {
        story.keys("u");
        assert_eq!(story.notebook(), text, "{}", notice(&story));
    }
    assert_eq!(story.notebook(), CORVANE);
    for text in texts.iter().skip(1) {
        story.keys("U");
        assert_eq!(story.notebook(), text);
    }
}

#[test]
fn in_ones_own_layer_the_notebook_is_not_touched() {
    let mut story = own(120, 36);
    on_hole(&mut story, 4);
    story.keys("n o");
    assert!(notice(&story).contains("corvane.wren-hallam.yaml"), "{}", notice(&story));
    story.keys("n n").types("Mine alone.").press(Key::Enter);
    assert_eq!(story.notebook(), CORVANE);
    let layer = |story: &Story| story.state.session.layers[0].1.text.clone();
    assert!(layer(&story).contains("Mine alone."));
    // What the notebook says is replaced in the layer, or hidden.
    story.keys("n e");
    let at = story.state.derived.written.things.iter().position(|(_, t)| t.field("of") == Some("Kettle")).unwrap();
    for _ in 0..at {
        story.keys("Down");
    }
    story.keys("Enter").press(Key::Ctrl('u'));
    story.types("I have never been in it.").press(Key::Enter);
    assert!(layer(&story).contains("replaces: Kettle"), "{}\n{}", layer(&story), notice(&story));
    assert_eq!(story.notebook(), CORVANE);
    story.keys("Esc");
    assert!(story.said().contains("I have never been in it."));
    undo_all(&mut story);
    assert_eq!(layer(&story), LAYER);
    // A layer has no walk.
    story.keys("n w");
    assert!(notice(&story).contains("a layer has no"), "{}", notice(&story));
}

#[test]
fn a_layer_that_is_not_there_yet_begins_with_the_first_words() {
    let mut load = Load::new(STORY_DAY);
    load.course("corvane.yaml", CORVANE.to_owned());
    load.player("players/wren-hallam.yaml", WREN.to_owned(), Some("Club"));
    let mut story = Story::of(load.finish(Home::Files), 100, 30);
    story.keys("n o n n").types("Mine.").press(Key::Enter);
    let (layer, file) = &story.state.session.layers[0];
    assert_eq!(file.name, "corvane.wren-hallam.yaml");
    assert_eq!(layer.for_whom.as_deref(), Some("Wren Hallam"));
    assert_eq!(file.diagnostics, []);
    let new =
        story.effects.iter().any(|e| matches!(e, Effect::Course(CourseAsk::Save(t)) if t.base.is_none() && !t.back_up));
    assert!(new, "asked to be written as a new file");
}

#[test]
fn the_example_becomes_ones_own_with_the_first_words() {
    let mut story = Story::example(100, 30);
    story.keys("n n").types("First.").press(Key::Enter);
    assert_eq!(story.state.session.home, Home::Files);
    assert!(
        notice(&story).contains("your own copy now") && notice(&story).contains("note added"),
        "{}",
        notice(&story)
    );
    assert!(story.notebook().contains("First."));
}

fn reread(story: &mut Story, text: String) {
    let session: Session = with_course_text(&story.state.session, "corvane.yaml", text);
    update(&mut story.state, Msg::Reread(Box::new(session), None));
}

#[test]
fn what_somebody_wrote_meanwhile_is_shown_beside_ones_own_and_never_written_over_unseen() {
    let theirs = CORVANE.replacen("Deep, and the only real trouble at the green.", "Filled in last winter.", 1);
    let mut story = own(120, 36);
    story.keys("n e");
    let at = story.state.derived.written.things.iter().position(|(_, t)| t.field("of") == Some("Keeper")).unwrap();
    for _ in 0..at {
        story.keys("Down");
    }
    story.keys("Enter").press(Key::Ctrl('u'));
    story.types("Mine.");
    reread(&mut story, theirs.clone());
    let screen = story.screen();
    assert!(screen.contains("Mine.") && screen.contains("Filled in last winter."), "{screen}");
    assert!(story.said().contains("changed meanwhile") && story.said().contains("on the disk now"), "{}", story.said());
    assert_eq!(story.notebook(), theirs, "nothing is written yet");
    story.keys("Enter");
    let (new, _) = changed(&theirs, story.notebook());
    assert!(new.iter().any(|l| l.contains("Mine.")) && story.notebook() != theirs);
    story.keys("u");
    assert_eq!(story.notebook(), theirs, "taken back to what they wrote");
}

#[test]
fn a_change_that_the_disk_does_not_have_yet_is_made_again_on_the_new_text() {
    let mut story = own(120, 36);
    story.keys("n n").types("Mine.").press(Key::Enter);
    assert_eq!(story.state.course_edits.unsaved.len(), 1);
    let theirs = CORVANE.replacen("name: Open Gate", "name: Opened Gate", 1);
    let session = with_course_text(&story.state.session, "corvane.yaml", theirs.clone());
    let effects = update(&mut story.state, Msg::Course(CourseTold::Conflict(Box::new(session))));
    assert!(story.notebook().contains("Opened Gate") && story.notebook().contains("Mine."));
    let saves: Vec<_> = effects
        .iter()
        .filter_map(|e| if let Effect::Course(CourseAsk::Save(t)) = e { Some(t.base) } else { None })
        .collect();
    assert_eq!(saves, [Some(marram::units::digest::Digest::of(theirs.as_bytes()))], "upon what they wrote");
    story.keys("u");
    assert_eq!(story.notebook(), theirs);
    // A text that has arrived needs nothing more, and what came after it stays.
    let text = story.notebook().to_owned();
    let session = with_course_text(&story.state.session, "corvane.yaml", text);
    update(&mut story.state, Msg::Reread(Box::new(session), None));
    assert!(story.state.course_edits.unsaved.is_empty());
    assert_eq!(story.notebook(), theirs);
}

#[test]
fn scores_and_notes_are_taken_back_the_later_first() {
    let mut story = own(120, 36);
    story.keys("5 n n").types("Between.").press(Key::Enter);
    story.keys("4");
    let scores = |story: &Story| {
        story.state.session.scores(0).iter().filter(|s| !matches!(s, marram::scoring::HoleScore::Empty)).count()
    };
    assert_eq!(scores(&story), 2);
    story.keys("u");
    assert_eq!(scores(&story), 1);
    assert!(story.notebook().contains("Between."));
    story.keys("u");
    assert!(!story.notebook().contains("Between."));
    assert_eq!(scores(&story), 1);
    story.keys("u");
    assert_eq!(scores(&story), 0);
    story.keys("U U U");
    assert_eq!(scores(&story), 2);
    assert!(story.notebook().contains("Between."));
}

#[test]
fn a_note_in_a_round_leaves_its_frozen_plan_and_its_strokes_alone() {
    let mut story = own(120, 36);
    story.keys("5");
    let (frozen, golfers) = (story.state.session.frozen.clone(), story.state.session.golfers.clone());
    let lines = story.state.session.round.as_ref().unwrap().next_seq();
    story.keys("n n").types("The wind turns here.").press(Key::Enter);
    assert_eq!(story.state.session.frozen, frozen);
    assert_eq!(story.state.session.golfers, golfers);
    assert_eq!(story.state.session.round.as_ref().unwrap().next_seq(), lines, "nothing comes into the round's log");
}

#[test]
fn a_whole_hole_is_annotated_and_read_without_a_problem() {
    let bare = "format: course-notebook/1\ncourse: { name: Bare, units: yards }\ntees:\n  - name: Back\n  - name: Club\nholes:\n  # the only one yet\n  - hole: 1\n    par: 4\n    stroke_index: 1\n    tees: { Back: 420, Club: 390 }\n    sketch:\n      bunkers: [ { name: Kettle, from: 238, to: 256, across: 13L..27L } ]\n      green: { front: 405, depth: 30, width: 25 }\n";
    let mut load = Load::new(STORY_DAY);
    load.course("bare.yaml", bare.to_owned());
    let mut story = Story::of(load.finish(Home::Files), 100, 30);
    story
        .keys("n a")
        .types("Take the widest line.")
        .keys("Tab")
        .types("the gap")
        .keys("Tab Tab")
        .types("230")
        .keys("Tab");
    story.types("4R").press(Key::Enter);
    story.keys("n g").types("Sideways only.").keys("Tab").types("k").keys("Tab").types("left").press(Key::Enter);
    story.keys("n l").types("Full wedge.").keys("Tab").types("95").press(Key::Enter);
    story.keys("n n").types("Aim high.").press(Key::Enter);
    story.keys("n w").types("along the left").keys("Tab").types("past the back").press(Key::Enter);
    story.keys("n c").types("Blind: ring the bell.").press(Key::Enter);
    let (read, problems) = course::read(story.notebook());
    let errors: Vec<_> = problems.iter().filter(|p| p.severity == marram::notebook::Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:?}\n{}", story.notebook());
    let hole = read.unwrap().hole(1).unwrap().clone();
    assert_eq!((hole.aims.len(), hole.dangers.len(), hole.layups.len(), hole.notes.len()), (1, 1, 1, 1));
    assert_eq!(hole.notes[0].at, NoteAt::Tee);
    assert_eq!(hole.layups[0].to_middle, Some(95.0));
    assert_eq!(hole.walk_out.as_deref(), Some("past the back"));
    assert_eq!(hole.caution.as_deref(), Some("Blind: ring the bell."));
    assert!(story.notebook().contains("# the only one yet"));
    let screen = story.screen();
    assert!(screen.contains("Blind: ring the bell.") && screen.contains("the gap"), "{screen}");
    undo_all(&mut story);
    assert_eq!(story.notebook(), bare);
}

#[test]
fn the_page_and_its_form_are_usable_at_every_size_and_look() {
    for (width, height) in [(120, 36), (80, 24), (60, 20), (40, 12), (20, 6)] {
        for (depth, ascii) in [(Depth::True, false), (Depth::None, true)] {
            let mut story = own(width, height);
            story.state.looks = Looks { depth, ascii, ..story.state.looks };
            on_hole(&mut story, 4);
            story.keys("n e Down Down");
            let list = story.screen();
            assert!(!ascii || list.is_ascii(), "{list}");
            story.keys("Enter Tab Tab Tab Tab Tab");
            let form = story.screen();
            assert!(!ascii || form.is_ascii(), "{form}");
            if width >= 60 {
                assert!(list.contains("> ") && list.contains("Notes"), "{list}");
                assert!(form.contains("Enter keeps"), "{width}x{height}\n{form}");
            }
        }
    }
}
