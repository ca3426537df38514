//! Competitions: 10,000 cards totalled with ties in memory, read from a folder, a page of 300 players.

#![allow(clippy::unwrap_used, clippy::expect_used)]

use marram::competition::board::Board;
use marram::competition::read::{read_field, read_setup};
use marram::competition::{Competition, show, total};
use marram::course;
use marram::shelf::open_competition;
use marram::store::Shelf;
use marram::tui::keymap::Key;
use marram::tui::story::Story;
use marram::tui::update::{DeskNews, Msg, update};
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::Path;
use std::sync::{Arc, LazyLock};

fn main() {
    divan::main();
}

const SET_UP: &str = "format: competition/1\nname: Bench\ncourse: saltgate.yaml\nrounds: [ { date: 2026-05-16 } ]\n\
    tees: { men: Gull, women: Tern }\nevents:\n  - name: medal\n    play: stroke\n    ties: [ last 9, last 6, last 3, last hole, share ]\n";
const COURSE: &str = include_str!("../tests/competition/medal/saltgate.yaml");

/// Scores by a small fixed generator, near par, so that most totals are shared by hundreds.
fn scores(seed: u32) -> Vec<u32> {
    let mut state = u64::from(seed).wrapping_mul(2_654_435_761).wrapping_add(12_345);
    (0..18)
        .map(|_| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            3 + u32::try_from((state >> 33) % 4).unwrap()
        })
        .collect()
}

fn field(cards: u32, results: bool) -> String {
    let holes: Vec<String> = (1..=18).map(|hole| format!("h{hole}")).collect();
    let mut text = format!("id,name,ratings,handicap_index,{}\n", holes.join(","));
    for n in 0..cards {
        let ratings = if n % 3 == 0 { "women" } else { "men" };
        let scores: Vec<String> = scores(n).iter().map(u32::to_string).collect();
        let scores = if results { scores.join(",") } else { String::new() };
        writeln!(text, "P{n},Player {n},{ratings},{}.{},{scores}", n % 30, n % 10).unwrap();
    }
    text
}

fn competition(cards: u32) -> Competition {
    let setup = read_setup(SET_UP).0.unwrap();
    let (field, _) = read_field(&field(cards, true), &setup.rounds[0].holes, true);
    assert_eq!(field.len(), cards as usize);
    let course = course::read(COURSE).0.unwrap();
    Competition { setup, course, field, sides: BTreeMap::new(), keyings: vec![], rulings: vec![], changes: vec![] }
}

static TEN_THOUSAND: LazyLock<Competition> = LazyLock::new(|| competition(10_000));

#[divan::bench]
fn ten_thousand_cards_in_memory() -> usize {
    total(&TEN_THOUSAND).events.len()
}

static FOLDER: LazyLock<tempfile::TempDir> = LazyLock::new(|| {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("competition.yaml"), SET_UP).unwrap();
    std::fs::write(folder.path().join("saltgate.yaml"), COURSE).unwrap();
    std::fs::write(folder.path().join("field.csv"), field(10_000, false)).unwrap();
    for n in 0..10_000 {
        let card = folder.path().join(format!("cards/P{n}"));
        std::fs::create_dir_all(&card).unwrap();
        let scores: Vec<String> = scores(n).iter().map(u32::to_string).collect();
        let text = format!(
            "format: keying/1\nid: P{n}\nkeyer: wren\nat: 2026-05-16T15:20\nscores: \"{}\"\n",
            scores.join(" ")
        );
        std::fs::write(card.join("wren.yaml"), text).unwrap();
    }
    folder
});

fn read_and_total(folder: &Path) -> usize {
    let opened = open_competition(folder, &Shelf::at(folder), folder).unwrap();
    let competition = opened.competition.unwrap();
    total(&competition).events.iter().flat_map(|event| &event.lines).filter(|line| line.place.is_some()).count()
}

#[divan::bench(sample_count = 10)]
fn ten_thousand_card_files_from_disk(bencher: divan::Bencher) {
    assert_eq!(read_and_total(FOLDER.path()), 10_000);
    bencher.bench(|| read_and_total(FOLDER.path()));
}

#[divan::bench]
fn page_of_300(bencher: divan::Bencher) {
    let competition = competition(300);
    let totals = total(&competition);
    bencher.bench(|| show::html(&competition, &totals).len());
}

/// A desk with 10,000 cards, one of them being keyed.
fn desk() -> Story {
    let competition = Arc::new(competition(10_000));
    let board = Arc::new(Board::new(competition, &[]));
    let mut story = Story::example(120, 36);
    let seen = marram::shelf::Seen { board: Some(board), problems: vec![], errors: 0, setup: vec![], proof: None };
    for news in [DeskNews::Opened("bench".to_owned()), DeskNews::Seen(Box::new(seen))] {
        update(&mut story.state, Msg::Desk(Box::new(news)));
    }
    story.keys("n w Enter");
    story
}

/// A key of a card and the screen after it.
#[divan::bench]
fn key_and_screen_with_ten_thousand_cards(bencher: divan::Bencher) {
    let mut story = desk();
    story.keys("/ P 4 2 Enter Esc 5");
    bencher.bench_local(move || {
        story.press(Key::Char('5'));
        story.effects.clear();
        let seen = story.buffer().area.width;
        story.press(Key::Backspace);
        story.effects.clear();
        seen
    });
}

/// Moving on the list of 10,000 cards and the screen after it.
#[divan::bench]
fn move_and_screen_with_ten_thousand_cards(bencher: divan::Bencher) {
    let mut story = desk();
    bencher.bench_local(move || {
        story.press(Key::Down);
        story.buffer().area.width
    });
}

/// Everything the desk shows, made anew after a change of the folder; on its own thread.
#[divan::bench(sample_count = 10)]
fn board_of_ten_thousand_cards(bencher: divan::Bencher) {
    let competition = Arc::new(competition(10_000));
    bencher.bench(|| Board::new(Arc::clone(&competition), &[]).cards.len());
}
