//! The Handicap page: the sample players' records, the working, the plot, a score to come.

use super::rounds::{CALLUM, INES, WREN, session};
use marram::shelf::{ShelfItem, ShelfKind};
use marram::tui::commands::Page;
use marram::tui::looks::{Depth, Looks};
use marram::tui::state::ShelfFile;
use marram::tui::story::Story;
use marram::tui::update::{Effect, Msg, update};
use std::path::PathBuf;

const SIZES: [(u16, u16); 3] = [(120, 36), (80, 24), (60, 20)];
const NOT_OFFICIAL: &str = "Not official: only an authorised association issues a";

fn page(player: &str, width: u16, height: u16) -> Story {
    let mut story = Story::of(session(&[(player, "Club")]), width, height);
    story.keys("i");
    assert_eq!(story.state.page(), Page::Handicap);
    story
}

#[test]
fn the_records_of_the_sample_players_give_the_index_of_their_files() {
    for (player, index) in [(WREN, "17.6"), (CALLUM, "+1.3"), (INES, "28.4")] {
        for (width, height) in SIZES {
            for looks in [(Depth::True, false), (Depth::None, false), (Depth::None, true)] {
                let mut story = page(player, width, height);
                story.state.looks = Looks { depth: looks.0, ascii: looks.1, light: false };
                let screen = story.screen();
                assert!(screen.contains(&format!("index {index} by this record, as the file says")), "{screen}");
                assert!(screen.contains(NOT_OFFICIAL), "{screen}");
                let (counts, passes) = if looks.1 { ('*', 'o') } else { ('●', '○') };
                assert!(screen.contains(counts) && screen.contains(passes), "{screen}");
                assert!(!looks.1 || screen.is_ascii(), "{screen}");
            }
        }
    }
}

#[test]
fn the_working_stands_line_by_line_with_every_score() {
    // Wren's lowest eight of twenty: 16.6 17.0 17.0 17.3 17.5 18.4 18.4 18.4, mean 17.575 (Rules of Handicapping 5.2a).
    let story = page(WREN, 80, 24);
    let said = story.said();
    for words in ["lowest 8 of 20 differentials", "16.6 17.0 17.0 17.3 17.5 18.4 18.4 18.4", "17.5750", "before caps"] {
        assert!(said.contains(words), "{words}\n{said}");
    }
    let rows = said.lines().filter(|l| l.starts_with("2025-") || l.starts_with("2026-")).count();
    assert_eq!(rows, 20, "{said}");
    let counted = said.lines().filter(|l| l.starts_with("202") && l.contains('●')).count();
    assert_eq!(counted, 8, "{said}");
    assert!(said.contains("17.6 falls with a differential of 18.1 (91 from the Club tees) or better."), "{said}");
}

#[test]
fn a_score_to_come_is_typed_and_answered_at_every_letter() {
    let mut story = page(WREN, 120, 36);
    story.keys("w 8 5");
    // 113 / 129 × (85 − 71.0) = 12.26: 12.3 for 18.4 among the eight: 134.5 / 8 = 16.81.
    let screen = story.screen();
    assert!(screen.contains("85 from the Club tees of Corvane Links is a differential of 12.3"), "{screen}");
    assert!(screen.contains("the index would be 16.8, 0.8 lower"), "{screen}");
    assert!(
        screen.contains("it would count; the score of 2025-08-15 (21.7) would leave the latest twenty"),
        "{screen}"
    );
    assert!(story.state.session.round.is_none(), "a digit in the field is no score");
    // A differential, and a score with its own rating and slope.
    story.keys("Backspace Backspace 3 0 . 1 Enter");
    assert!(story.screen().contains("a differential of 30.1; the index would be 17.6, as now"), "{}", story.screen());
    story.keys("w Backspace Backspace Backspace Backspace 8 0 Space 7 1 . 2 / 1 3 1");
    assert!(story.screen().contains("80 at 71.2/131 is a differential of 7.6"), "{}", story.screen());
    assert!(story.screen().contains("an exceptional score: 2 off every differential"), "{}", story.screen());
    // What cannot be read says what can; Esc takes it away, a second one leaves the page.
    story.keys("Esc w x");
    assert!(story.screen().contains("type a gross score as 88"), "{}", story.screen());
    story.keys("Esc");
    assert!(!story.screen().contains("type a gross score"), "{}", story.screen());
    assert_eq!(story.state.page(), Page::Handicap);
    story.keys("Esc");
    assert_eq!(story.state.page(), Page::Hole);
    // Pasted text goes into the field, and only there.
    story.keys("i w");
    update(&mut story.state, Msg::Paste("14.2\n".to_owned()));
    assert!(story.screen().contains("a differential of 14.2"), "{}", story.screen());
}

#[test]
fn the_cursor_stands_in_the_field_while_a_score_is_typed() {
    let mut story = page(WREN, 80, 24);
    story.keys("w 8 5");
    let mut buffer = story.buffer();
    let place = marram::tui::view::view(&story.state, &mut buffer);
    let row: String = (0..80).map(|x| buffer.cell((x, place.unwrap().1)).unwrap().symbol().to_owned()).collect();
    assert!(row.starts_with("What if 85"), "{row}");
    assert_eq!(place.unwrap().0, 10);
}

#[test]
fn a_player_on_the_shelf_is_opened_there_and_the_next_player_of_the_round_follows() {
    let mut story = Story::of(session(&[(WREN, "Club"), (INES, "Forward")]), 100, 30);
    story.keys("s");
    let item = ShelfItem {
        kind: ShelfKind::Player,
        title: "callum-reive".to_owned(),
        detail: String::new(),
        path: Some(PathBuf::from("players/callum-reive.yaml")),
    };
    update(&mut story.state, Msg::Shelf(vec![item]));
    story.keys("i");
    assert!(story.effects.contains(&Effect::ReadPlayer(PathBuf::from("players/callum-reive.yaml"))));
    let file = ShelfFile { name: "players/callum-reive.yaml".to_owned(), text: CALLUM.to_owned() };
    update(&mut story.state, Msg::PlayerRead(file));
    assert!(story.said().contains("Handicap · Callum Reive"), "{}", story.said());
    story.keys("p");
    assert!(story.said().contains("Handicap · Ines Calder"), "{}", story.said());
    story.keys("Esc");
    assert_eq!(story.state.page(), Page::Shelf);
}

#[test]
fn without_a_record_the_page_says_how_to_write_one() {
    let text = "format: player/1\nname: New Here\nhandicap: { index: 20.0, ratings: men }\n";
    let mut story = page(text, 80, 24);
    assert!(story.said().contains("New Here has no record yet: add `record:`"), "{}", story.said());
    story.keys("w");
    assert!(story.screen().contains("There is no record to add a score to."), "{}", story.screen());
    let mut story = Story::of(session(&[]), 80, 24);
    story.keys("i");
    assert!(story.said().contains("has no file, so there is no record"), "{}", story.said());
}

#[test]
fn scores_that_cannot_be_used_are_left_out_with_the_reason() {
    let text = "format: player/1
name: New Here
handicap: { index: 20.0, ratings: men }
record:
  - { date: 2026-04-01, adjusted_gross: 90, rating: 71.0, slope: 129 }
  - { date: 2026-04-08, adjusted_gross: 70, rating: 71.0, slope: 129, holes: 14 }
  - { date: 2026-04-09, adjusted_gross: 70, rating: 71.0, slope: 129, holes: 14, differential: 18.2 }
  - { date: 2031-01-01, adjusted_gross: 90, rating: 71.0, slope: 129 }
";
    let story = page(text, 80, 40);
    let said = story.said().split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains("2026-04-08: 14 holes: only the association can make its differential"), "{said}");
    assert!(said.contains("2031-01-01: in the future"), "{said}");
    assert!(said.contains("2 scores are on record, an index needs three"), "{said}");
}
