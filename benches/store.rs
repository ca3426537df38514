//! How long a key waits for the round's log, and how long a log takes to read: `cargo bench --bench store`.
#![allow(clippy::expect_used)]

use divan::{Bencher, black_box};
use marram::course::model::Card;
use marram::round::{
    Chain, Entrant, Event, FileRef, Kind, LOG_FORMAT, Opening, Place, RoundId, RoundState, ScoreKey, replay,
};
use marram::store::{Expect, OpenRound, Shelf, Store};
use marram::units::digest::Digest;

fn main() {
    divan::main();
}

fn opening() -> Opening {
    let player = |n: usize| Entrant {
        name: format!("Player {n}"),
        file: None,
        tee: "Club".to_owned(),
        card: Card::Men,
        handicap_index: Some("14.6".to_owned()),
        course_handicap: Some(15),
        playing_handicap: Some(14),
        strokes: vec![1; 18],
    };
    Opening {
        format: LOG_FORMAT.to_owned(),
        id: RoundId::next("2026-05-16", "Corvane Links", |_| false),
        date: "2026-05-16".to_owned(),
        course_name: "Corvane Links".to_owned(),
        course: FileRef { file: "corvane.yaml".to_owned(), digest: Digest::of(b"") },
        layers: vec![],
        day: None,
        kind: Kind::Practice,
        play: None,
        allowance: None,
        holes: (1..=18).collect(),
        players: (0..4).map(player).collect(),
        terms: Default::default(),
        no_distance_devices: false,
    }
}

/// A log of so many scores over and over the card, each tenth undone.
fn log(lines: usize) -> Vec<u8> {
    let mut chain = Chain::default();
    let mut state = RoundState::open(opening()).expect("it can be played");
    let mut bytes = Vec::new();
    let mut write = |event: &Event| {
        bytes.extend_from_slice(
            chain.write("2026-05-16T09:12:03+01:00", event).expect("it can be written").1.as_bytes(),
        );
    };
    write(&Event::Opened(Box::new(opening())));
    for n in 0..lines {
        let place = Place { player: n % 4, position: n / 4 % 18 };
        let event = if n % 10 == 9 { state.undo() } else { state.enter(ScoreKey::Digit(5), place) };
        let event = event.expect("it can happen");
        state.apply(&event).expect("it can happen");
        write(&event);
    }
    bytes
}

/// A round on the disk where the project lies, which is a real one more often than the folder for temporary files.
fn round() -> (tempfile::TempDir, Store, OpenRound) {
    let dir = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a folder");
    let store = Store::new(Shelf::at(dir.path()));
    let round = store.new_round(opening(), Box::new(|_| {})).expect("a round");
    (dir, store, round)
}

/// One score from the key to the system having it; the thread syncs behind.
#[divan::bench(sample_count = 1000, sample_size = 1)]
fn a_score_written(bencher: Bencher<'_, '_>) {
    let (_dir, _store, mut round) = round();
    let mut n = 0_usize;
    bencher.bench_local(|| {
        let place = Place { player: n % 4, position: n / 4 % 18 };
        n += 1;
        let event = round.state.enter(ScoreKey::Digit(5), place).expect("it can happen");
        assert!(round.happen(&event).expect("it happens").waits.is_none());
    });
}

/// From the key to the acknowledgement that the disk has it.
#[divan::bench(sample_count = 100, sample_size = 1)]
fn a_score_kept(bencher: Bencher<'_, '_>) {
    let (_dir, _store, mut round) = round();
    bencher.bench_local(|| {
        let event = round.state.enter(ScoreKey::Digit(5), Place::default()).expect("it can happen");
        let seq = round.happen(&event).expect("it happens").seq;
        while round.log.kept().up_to < seq {
            std::thread::yield_now();
        }
    });
}

/// A log as it is read at the start: 80 lines are a round of four, 100,000 a log that nobody has.
#[divan::bench(args = [80, 1_000, 100_000])]
fn a_log_read(bencher: Bencher<'_, '_>, lines: usize) {
    let bytes = log(lines);
    bencher.bench_local(|| replay(black_box(&bytes)));
}

/// A notebook of 200 KB saved whole and durably.
#[divan::bench(sample_count = 50, sample_size = 1)]
fn a_notebook_saved(bencher: Bencher<'_, '_>) {
    let (dir, store, _round) = round();
    let path = dir.path().join("corvane.yaml");
    let text = vec![b'a'; 200 << 10];
    bencher.bench_local(|| store.save(&path, &text, Expect::Anything).expect("it is saved"));
}
