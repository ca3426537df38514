//! The Day sheet page: typing a morning's sheet, refusals, undo, pasting, what the day changes, and every look at every size.

use marram::course::day_write::Field;
use marram::session::Home;
use marram::shelf::Load;
use marram::tui::keymap::Key;
use marram::tui::looks::{Depth, Looks};
use marram::tui::story::Story;

const COURSE: &str = include_str!("../../sample-courses/corvane.yaml");
const WREN: &str = include_str!("../../sample-courses/players/wren-hallam.yaml");
const SHEET: &str = include_str!("../../sample-courses/days/2026-05-16-corvane.yaml");

fn story(sheet: Option<&str>, width: u16, height: u16) -> Story {
    let mut load = Load::new("2026-05-16");
    load.course("corvane.yaml", COURSE.to_owned());
    load.player("players/wren-hallam.yaml", WREN.to_owned(), Some("Club"));
    if let Some(sheet) = sheet {
        load.day("days/2026-05-16-corvane.yaml", sheet.to_owned());
    }
    Story::of(load.finish(Home::Files), width, height)
}

fn type_in(story: &mut Story, words: &str) {
    for c in words.chars() {
        story.press(Key::Char(c));
    }
    story.press(Key::Enter);
}

fn sheet_text(story: &Story) -> &str {
    &story.state.session.day.as_ref().unwrap().1.text
}

/// Under two minutes for eighteen holes: at three keys a second, fewer than 360 keys for the whole of a windy morning.
#[test]
fn a_morning_is_typed_on_one_screen_in_few_keys() {
    let mut story = story(None, 120, 36);
    story.keys("d");
    let mut keys = 1;
    for hole in 0..18 {
        let words = if hole % 5 == 4 {
            "b".to_owned()
        } else {
            format!("{} {}{}", 9 + hole, 6, if hole % 2 == 0 { 'l' } else { 'r' })
        };
        keys += words.len() + 1;
        type_in(&mut story, &words);
    }
    for _ in 0..30 {
        story.press(Key::Up);
    }
    story.keys("Down Down");
    for words in ["6 m/s wsw", "14", "1012", "10", "firm"] {
        keys += words.len() + 2;
        story.press(Key::Enter);
        type_in(&mut story, words);
    }
    assert!(keys < 360, "{keys} keys");
    let (day, problems) = marram::course::read_day(sheet_text(&story), story.state.session.course.as_ref());
    assert!(problems.is_empty(), "{problems:?}\n{}", sheet_text(&story));
    let day = day.unwrap();
    assert_eq!(day.hole_locations.len(), 18);
    assert_eq!((day.wind.unwrap().from_deg, day.temperature_c, day.green_speed), (247.5, Some(14.0), Some(10.0)));
    let screen = story.screen();
    for part in ["Day sheet", "every hole location known", "9 on, 6 from left", "in the face"] {
        assert!(screen.contains(part), "{part}\n{screen}");
    }
    assert!(story.said().contains("13 mph from the WSW"), "{}", story.said());
}

#[test]
fn what_cannot_be_is_refused_where_it_is_typed_and_nothing_is_lost() {
    let mut story = story(Some(SHEET), 120, 36);
    story.keys("d");
    type_in(&mut story, "60 5l");
    let screen = story.screen();
    assert!(screen.contains("behind the green") && screen.contains("60 5l"), "{screen}");
    assert_eq!(sheet_text(&story), SHEET);
    story.press(Key::Esc);
    assert!(story.screen().contains("19 on, 8 from left"));
    story.keys("Up Up Up Up Up Up Up Up Up Up Enter");
    for _ in 0..40 {
        story.press(Key::Backspace);
    }
    type_in(&mut story, "200 m/s 90");
    assert!(story.said().contains("nobody plays in such a wind"), "{}", story.said());
}

#[test]
fn changes_are_taken_back_and_made_again_to_the_byte() {
    let mut story = story(Some(SHEET), 80, 24);
    story.keys("d");
    type_in(&mut story, "12 7r");
    let changed = sheet_text(&story).to_owned();
    assert!(changed.contains("  1: 12 on, 7 from right\n"), "{changed}");
    story.keys("u");
    assert_eq!(sheet_text(&story), SHEET);
    story.keys("U");
    assert_eq!(sheet_text(&story), changed);
    story.keys("Up Delete");
    assert!(!sheet_text(&story).contains("  1: "), "{}", sheet_text(&story));
}

#[test]
fn a_pasted_sheet_is_read_line_by_line_and_written_out_reads_back() {
    let mut story = story(None, 120, 36);
    story.keys("d");
    story.paste("Hole locations, Saturday\n1: 19 on, 8 from left\n2,\"22 on, 7 from right\"\nhole 3  back left\n4 14 5l\nwind: 6 m/s 250\n");
    let day = &story.state.session.day.as_ref().unwrap().0;
    assert_eq!(day.hole_locations.len(), 4, "{}", sheet_text(&story));
    assert_eq!(day.wind.unwrap().from_deg, 250.0);
    assert!(story.state.notice.as_ref().unwrap().words.contains("Saturday") || story.said().contains("Changed"));
    let session = &story.state.session;
    let (plain, csv) = (session.day_plain(sheet_text(&story)), session.day_csv(sheet_text(&story)));
    for text in [plain, csv] {
        let (found, odd) = session.day_import(&text);
        assert!(found.contains(&(Field::Hole(3), "back left".to_owned())), "{found:?}");
        assert_eq!(found.len(), 6, "{found:?} {odd:?} of\n{text}");
    }
}

#[test]
fn the_day_says_what_it_changes_and_the_table_what_twelve_miles_do() {
    let mut story = story(Some(&SHEET.replace("kind: competition", "kind: practice")), 120, 36);
    story.keys("d").settle();
    let said = story.said();
    assert!(said.contains("the play changes on"), "{said}");
    let holes = &story.state.derived.day.holes;
    let found: Vec<_> = holes.iter().filter_map(|(n, f)| Some((*n, f.as_ref()?.as_ref().ok()?))).collect();
    assert_eq!(found.len(), 18);
    assert!(found.iter().filter(|(_, h)| h.how.is_some()).count() >= 5, "{said}");
    for (n, hole) in &found {
        let breeze = hole.breeze.as_ref().unwrap();
        let (into, with) = (breeze.sentence.starts_with("in the face"), breeze.sentence.starts_with("from behind"));
        // Into the wind every shot is shorter and the hole costs more; from behind it is the other way about (common practice).
        // A quartering wind has at least cos 67.5° of its twelve miles in the face, 4.6: about a yard a mile.
        assert!(!into || breeze.drive.by < -3.0, "{n}: {breeze:?}");
        // A miss: on Thimble, a short hole to a firm green, the ball that stops sooner is worth more than the longer club costs.
        assert!(!into || *n == 12 || breeze.strokes > 0.0, "{n}: {breeze:?}");
        assert!(!with || breeze.drive.by > 2.0 && breeze.strokes < 0.05, "{n}: {breeze:?}");
        let side = breeze.sentence.contains("the right");
        assert!(!side || breeze.drive.drift < 0.0, "{n}: {breeze:?}");
    }
    story.keys("t");
    assert!(story.screen().contains("What 12 mph from today's direction does to each hole"), "{}", story.screen());
}

#[test]
fn in_play_under_the_rules_the_forecast_stays_and_the_rule_is_named() {
    let mut story = story(Some(SHEET), 120, 36);
    story.keys("4 d 1");
    let said = story.said();
    assert!(said.contains("Rule 4.3a"), "{said}");
    assert_eq!(sheet_text(&story), SHEET);
}

#[test]
fn every_look_at_every_size() {
    for (width, height, depth, ascii) in [
        (120, 36, Depth::True, false),
        (80, 24, Depth::True, false),
        (60, 20, Depth::True, false),
        (80, 24, Depth::None, false),
        (60, 20, Depth::None, true),
        (40, 12, Depth::None, false),
    ] {
        let mut story = story(Some(SHEET), width, height);
        story.state.looks = Looks { depth, ascii, light: false };
        story.keys("d");
        let screen = story.screen();
        assert!(screen.contains("Day sheet") && screen.contains("19 on, 8 from left"), "{width}x{height}\n{screen}");
        assert!(!ascii || screen.is_ascii(), "{screen}");
    }
}
