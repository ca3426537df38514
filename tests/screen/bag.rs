//! The Bag page: what it says, typing numbers, clubs in and out, undo, and every look at every size.

use marram::session::Home;
use marram::shelf::Load;
use marram::tui::keymap::Key;
use marram::tui::looks::{Depth, Looks};
use marram::tui::story::Story;
use marram::tui::update::{Effect, Msg, update};

const WREN: &str = include_str!("../../sample-courses/players/wren-hallam.yaml");

fn bag(width: u16, height: u16) -> Story {
    let mut story = Story::example(width, height);
    story.keys("b");
    story
}

fn with_player(text: &str) -> Story {
    let mut load = Load::new("2026-05-16");
    load.course("corvane.yaml", include_str!("../../sample-courses/corvane.yaml").to_owned());
    load.player("players/p.yaml", text.to_owned(), Some("Club"));
    let mut story = Story::of(load.finish(Home::Files), 120, 36);
    story.keys("b");
    story
}

fn text(story: &Story) -> &str {
    &story.state.session.player_files[0].text
}

/// Types `words`, blanks included, then Enter.
fn type_in(story: &mut Story, words: &str) {
    for c in words.chars() {
        story.press(Key::Char(c));
    }
    story.press(Key::Enter);
}

fn changed_lines(before: &str, after: &str) -> Vec<String> {
    after.lines().filter(|l| !before.lines().any(|b| b == *l)).map(str::to_owned).collect()
}

#[test]
fn every_number_is_shown_with_its_source_at_every_usual_size() {
    for (width, height, depth, ascii) in [
        (120, 36, Depth::True, false),
        (80, 24, Depth::True, false),
        (60, 20, Depth::True, false),
        (120, 36, Depth::None, false),
        (80, 24, Depth::Sixteen, false),
        (60, 20, Depth::None, true),
    ] {
        let mut story = bag(width, height);
        story.state.looks = Looks { depth, ascii, light: false };
        let screen = story.screen();
        for part in [
            "Bag",
            "Wren Hallam",
            "assumed from",
            "driver",
            "214",
            "34 x 26",
            "1 in 12",
            "~16",
            "given in the player's file",
        ] {
            assert!(screen.contains(part), "{part} at {width}x{height}\n{screen}");
        }
        assert!(!ascii || screen.is_ascii(), "{screen}");
        // To scale: from the player at the edge to the far side of the longest box.
        assert!(screen.contains("50") && screen.contains("200"), "{width}x{height}\n{screen}");
    }
}

#[test]
fn a_gap_is_said_drawn_and_stands_in_its_row() {
    let story = bag(120, 36);
    let screen = story.screen();
    let row = screen.lines().find(|l| l.contains("pitching wedge")).unwrap();
    assert!(row.contains("gap 19") && row.contains('╌'), "{row}");
    assert!(story.said().contains("gap of 19: pitching wedge carries 117, gap wedge 98"), "{}", story.said());
}

#[test]
fn the_box_is_drawn_to_scale_both_ways() {
    // The 7 iron's box is 21 wide and 25 deep: half rows and columns are alike, so 25 to 21 on screen too.
    let mut story = bag(120, 50);
    story.keys("Down Down Down Down Down Down");
    let buffer = story.buffer();
    let amber = |l: u8| story.state.looks.scatter(l);
    let own = |c: ratatui::style::Color| c == amber(2) || c == amber(3);
    let mut columns = std::collections::BTreeSet::new();
    let mut halves = std::collections::BTreeSet::new();
    for y in 1..20 {
        for x in 0..120 {
            let cell = buffer.cell((x, y)).unwrap();
            let pair = match cell.symbol() {
                "▀" => [own(cell.fg), own(cell.bg)],
                "▄" => [false, own(cell.fg)],
                _ => continue,
            };
            for (i, here) in pair.into_iter().enumerate() {
                if here {
                    columns.insert(x);
                    halves.insert(2 * y + i as u16);
                }
            }
        }
    }
    let (wide, deep) = (halves.len() as f64, columns.len() as f64);
    assert!((deep / wide - 25.0 / 21.0).abs() < 0.25, "{deep} columns by {wide} half rows");
}

#[test]
fn a_number_typed_changes_its_line_and_no_other_and_can_be_taken_back() {
    let mut story = bag(120, 36);
    story.keys("Down Down Down Down Down Down Down Down");
    assert!(
        story.said().contains("9 iron, carry 126: assumed: 57 % of a drive of 232 that the given carries mean"),
        "{}",
        story.said()
    );
    type_in(&mut story, "131");
    assert_eq!(changed_lines(WREN, text(&story)), ["  - { club: 9 iron, carry: 131 }"]);
    assert!(story.said().contains("9 iron, carry 131: given in the player's file"), "{}", story.said());
    assert!(story.effects.iter().any(|e| matches!(e, Effect::EditPlayer(_))));
    story.keys("u");
    assert_eq!(text(&story), WREN, "taken back to the byte");
    assert!(story.said().contains("Taken back"), "{}", story.said());
    story.keys("U");
    assert!(text(&story).contains("9 iron, carry: 131"));
    story.keys("U");
    assert!(story.said().contains("Nothing has been undone in this bag"), "{}", story.said());
    story.keys("Backspace");
    assert_eq!(text(&story), WREN, "an emptied number is assumed again");
}

#[test]
fn what_the_reader_refuses_stays_in_its_field_with_the_reason() {
    for (width, height) in [(120, 36), (60, 20)] {
        let mut story = bag(width, height);
        type_in(&mut story, "900");
        let screen = story.screen();
        assert!(screen.contains("driver, carry, y"), "the field is open: {screen}");
        assert!(screen.contains("a carry lies between 1 and 420"), "{screen}");
        assert!(story.said().contains(": 900"), "what was typed stays: {}", story.said());
        assert_eq!(text(&story), WREN);
        story.keys("Backspace Backspace Backspace");
        type_in(&mut story, "220");
        assert_eq!(changed_lines(WREN, text(&story)), ["    carry: 220"]);
    }
    let mut story = bag(120, 36);
    story.keys("Right Right Enter Backspace Enter");
    assert!(story.said().contains("says no side"), "{}", story.said());
    story.keys("Esc q");
    assert_eq!(text(&story), WREN);
    assert!(story.effects.contains(&Effect::Quit), "Esc closed the field only");
}

#[test]
fn the_box_and_the_chance_are_typed_as_a_person_says_them() {
    let mut story = bag(120, 36);
    story.keys("Right Right Right");
    type_in(&mut story, "30x24");
    assert_eq!(changed_lines(WREN, text(&story)), ["    two_in_three: { wide: 30, deep: 24 }"]);
    story.keys("Right Enter");
    assert!(story.said().contains("1 in 12"), "the field holds what is there: {}", story.said());
    story.keys("Backspace");
    type_in(&mut story, "0");
    assert!(text(&story).contains("mishits: 1 in 10"));
    story.keys("u u");
    assert_eq!(text(&story), WREN);
}

#[test]
fn a_club_is_added_where_its_length_puts_it_and_taken_out() {
    let mut story = bag(120, 36);
    story.keys("a");
    type_in(&mut story, "7 wood");
    let lines: Vec<&str> = text(&story).lines().collect();
    let at = lines.iter().position(|l| l.contains("7 wood")).unwrap();
    assert!(lines[at - 1].contains("5 wood") && lines[at + 1].contains("4 hybrid"), "{lines:?}");
    assert!(story.screen().contains("> 7 wood"), "the cursor stands on it: {}", story.screen());
    story.keys("x");
    assert_eq!(text(&story), WREN);
    story.keys("a");
    type_in(&mut story, "DRIVER");
    assert!(story.said().contains("has a club driver already"), "{}", story.said());
    story.keys("Esc a");
    type_in(&mut story, "old faithful");
    assert!(story.said().contains("old faithful: left out"), "{}", story.said());
    assert!(story.said().contains("cannot be assumed from its name"), "the remark: {}", story.said());
    type_in(&mut story, "120");
    assert!(story.said().contains("old faithful: carry 120"), "{}", story.said());
}

#[test]
fn an_empty_bag_is_all_assumed_and_the_first_number_writes_the_clubs_by_name() {
    let mut story = with_player("format: player/1\nname: Ana\nhandicap: { index: 20.0, ratings: women }  # hers\n");
    let said = story.said();
    assert!(said.contains("all assumed (~) from Handicap Index 20.0, women's card"), "{said}");
    assert!(said.contains("no clubs given: all are assumed"), "{said}");
    type_in(&mut story, "140");
    let text = text(&story).to_owned();
    assert!(text.starts_with("format: player/1\nname: Ana\nhandicap: { index: 20.0, ratings: women }  # hers\n"));
    assert_eq!(text.matches("club: ").count(), 13, "{text}");
    assert_eq!(text.matches("carry: ").count(), 1, "{text}");
    story.keys("u");
    assert!(story.said().contains("no clubs given"));
}

#[test]
fn more_than_fourteen_clubs_and_numbers_nobody_has_are_remarked() {
    let mut clubs: String = (0..14).map(|i| format!("  - {{ club: {i} made, carry: {} }}\n", 60 + 10 * i)).collect();
    clubs.push_str("  - { club: driver, carry: 410, two_in_three: { wide: 3, deep: 3 } }\n");
    let story =
        with_player(&format!("format: player/1\nname: B\nhandicap: {{ index: 5.0, ratings: men }}\nclubs:\n{clubs}"));
    let said = story.said();
    for words in ["15 clubs are listed; at most 14", "carry 410 is not possible", "is not believed"] {
        assert!(said.contains(words), "{words}\n{said}");
    }
}

#[test]
fn a_metric_file_is_typed_in_metres_whatever_is_shown() {
    let metric = WREN.replace("units: yards", "units: metres").replace("carry: 214", "carry: 196");
    let mut story = with_player(&metric);
    assert!(story.screen().contains("metres"));
    story.keys("o u Enter");
    assert!(story.said().contains("driver, carry, metres, as 146: 196"), "{}", story.said());
}

#[test]
fn a_player_without_a_file_has_a_page_that_cannot_be_changed() {
    let mut load = Load::new("2026-05-16");
    load.course("corvane.yaml", include_str!("../../sample-courses/corvane.yaml").to_owned());
    let mut story = Story::of(load.finish(Home::Files), 80, 24);
    story.keys("b");
    assert!(story.said().contains("all assumed"), "{}", story.said());
    story.keys("9");
    assert!(story.said().contains("This player has no file"), "{}", story.said());
    assert!(!story.effects.iter().any(|e| matches!(e, Effect::EditPlayer(_))));
}

#[test]
fn a_write_that_fails_leaves_what_was_typed_in_its_field() {
    let mut story = bag(80, 24);
    story.keys("2 2 1");
    let effects = update(&mut story.state, Msg::Key(Key::Enter));
    assert!(matches!(effects.first(), Some(Effect::EditPlayer(_))));
    update(&mut story.state, Msg::Trouble("the disk is full".to_owned()));
    assert!(story.said().contains(": 221") && story.said().contains("the disk is full"), "{}", story.said());
    assert!(text(&story).contains("carry: 214"), "nothing is shown as kept that is not");
}

#[test]
fn pasted_text_goes_into_the_field_only_when_one_is_open() {
    let mut story = bag(80, 24);
    update(&mut story.state, Msg::Paste("250".to_owned()));
    assert!(story.said().contains("no text field is open"));
    story.keys("Enter Backspace Backspace Backspace");
    update(&mut story.state, Msg::Paste("2\u{1b}30\n".to_owned()));
    story.keys("Enter");
    assert!(text(&story).contains("carry: 230"));
}

#[test]
fn a_carry_that_is_assumed_is_said_to_be_so_in_the_notes() {
    // Index 18.0: a drive of 205 of which nine tenths are carried.
    let text = WREN.replace("    carry: 214\n    run: 18\n", "").replace("{ index: 17.6", "{ index: 18.0");
    let player = text.split("  - club: 3 wood").next().unwrap().to_owned();
    let with = |range: &str| {
        let note = format!("    notes:\n      - {{ at: tee, when: {{ carry: {range} }}, text: Over the corner. }}\n");
        let hole = "format: course-notebook/1\ncourse: { name: L, units: yards }\ntees: [ { name: Club } ]\nholes:\n  - hole: 1\n    par: 4\n    stroke_index: 1\n    tees: { Club: 380 }\n";
        let mut load = Load::new("2026-05-16");
        load.course("l.yaml", format!("{hole}{note}"));
        load.player("p.yaml", player.clone(), Some("Club"));
        let mut story = Story::of(load.finish(Home::Files), 120, 36);
        story.keys("a");
        story.said()
    };
    assert!(
        with("200..").contains("[not here: for carries of 200 and more; yours is assumed 185]"),
        "{}",
        with("200..")
    );
    assert!(with("..200").contains("[your carry is assumed 185]"), "{}", with("..200"));
}

#[test]
fn the_bag_is_reached_from_hole_card_and_shelf() {
    for keys in ["b", "c b", "s b"] {
        let mut story = Story::example(80, 24);
        story.keys(keys);
        assert!(story.screen().contains("Wren Hallam") && story.screen().contains("2 in 3"), "{keys}");
        story.keys("Esc");
        assert!(!story.screen().contains("2 in 3"));
    }
}
