//! Half-logged rounds, impossible shots, notebooks that changed: used as far as they go, and said.

use crate::seasons::{ORLA, make};
use marram::review::{RoundCase, review_round};
use marram::round::{Detail, Event, HoleShots, Place, read_shots, replay};
use marram::shelf;
use marram::store::{RoundFile, Shelf, Store};
use marram::units::LengthUnit;
use std::path::PathBuf;
use std::sync::atomic::AtomicBool;

fn made() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    make(folder.path(), &ORLA, 1);
    let log = std::fs::read_dir(folder.path().join("rounds"))
        .unwrap()
        .map(|e| e.unwrap().path())
        .find(|p| p.extension().is_some_and(|e| e == "log"))
        .unwrap();
    (folder, log)
}

fn change(store: &Store, log: &std::path::Path, position: usize, shots: HoleShots) {
    let RoundFile::ToWrite(mut round) = store.open_round(log, Box::new(|_| {})).unwrap() else { panic!() };
    round.happen(&Event::Reopened { why: String::new() }).unwrap();
    round.happen(&Event::Detail { place: Place { player: 0, position }, set: Detail::Shots(shots) }).unwrap();
    round.happen(&Event::Closed).unwrap();
    round.log.finish().unwrap();
}

fn reviewed(log: &std::path::Path) -> marram::review::RoundReview {
    let past = shelf::as_it_was(log, "2026-12-01").unwrap();
    review_round(&RoundCase { session: past.session, player: 0 }, &AtomicBool::new(false)).unwrap()
}

#[test]
fn half_a_log_goes_as_far_as_it_goes() {
    let (folder, log) = made();
    let store = Store::new(Shelf::at(folder.path()));
    for position in 0..17 {
        change(&store, &log, position, HoleShots::default());
    }
    change(&store, &log, 17, read_shots("d r", &["driver"], LengthUnit::Yards).unwrap());
    let review = reviewed(&log);
    assert_eq!(review.holes.len(), 18, "scores are still judged");
    assert!(review.remarks.iter().any(|r| r.contains("1 of 18 holes")), "{:?}", review.remarks);
    let last = review.holes.last().unwrap();
    assert!(last.shots[0].about && last.remarks.iter().any(|r| r.contains("not logged")), "{last:?}");
    assert!(last.shots[0].flown.is_none(), "a guessed place teaches nothing");
    let parts = review.parts();
    assert!(parts.iter().all(|p| p.each.half.is_none()), "one stroke has no interval");
}

#[test]
fn impossible_shots_are_refused_and_the_log_stays() {
    let (folder, log) = made();
    let store = Store::new(Shelf::at(folder.path()));
    let before = std::fs::read(&log).unwrap();
    let RoundFile::ToWrite(mut round) = store.open_round(&log, Box::new(|_| {})).unwrap() else { panic!() };
    round.happen(&Event::Reopened { why: String::new() }).unwrap();
    let mut shots = HoleShots::default();
    shots.shots.push(marram::round::PlayedShot { left: Some(20_000), ..Default::default() });
    let refused = round.happen(&Event::Detail { place: Place::default(), set: Detail::Shots(shots) });
    assert!(refused.unwrap_err().to_string().contains("900 yards"));
    round.log.finish().unwrap();
    let after = std::fs::read(&log).unwrap();
    assert!(after.starts_with(&before));
    assert!(replay(&after).problems.is_empty());
}

#[test]
fn shots_are_undone_and_done_again_to_the_letter() {
    let (folder, log) = made();
    let store = Store::new(Shelf::at(folder.path()));
    let RoundFile::ToWrite(mut round) = store.open_round(&log, Box::new(|_| {})).unwrap() else { panic!() };
    let place = Place { player: 0, position: 4 };
    let before = round.state.card_box(place).unwrap().clone();
    round.happen(&Event::Reopened { why: String::new() }).unwrap();
    let shots = read_shots("d 150 8R r, 7i g, 3p 40", &["driver", "7 iron"], LengthUnit::Yards).unwrap();
    round.happen(&Event::Detail { place, set: Detail::Shots(shots.clone()) }).unwrap();
    let undo = round.state.undo().unwrap();
    round.happen(&undo).unwrap();
    assert_eq!(round.state.card_box(place), Some(&before));
    let redo = round.state.redo().unwrap();
    round.happen(&redo).unwrap();
    assert_eq!(round.state.card_box(place).unwrap().shots, shots);
    let now = round.state.clone();
    round.log.finish().unwrap();
    let read = replay(&std::fs::read(&log).unwrap());
    assert_eq!(read.state.unwrap().card_box(place), now.card_box(place));
}

#[test]
fn a_changed_notebook_changes_no_judgement() {
    let (folder, log) = made();
    let before = reviewed(&log);
    let course = folder.path().join("corvane.yaml");
    let text = std::fs::read_to_string(&course).unwrap();
    std::fs::write(&course, text.replace("bunkers:", "waste:")).unwrap();
    assert_eq!(reviewed(&log), before, "judged by the text of that day");
    std::fs::remove_dir_all(folder.path().join("rounds/texts")).unwrap();
    let past = shelf::as_it_was(&log, "2026-12-01").unwrap();
    assert!(past.words.iter().any(|w| w.contains("not kept")), "{:?}", past.words);
    std::fs::remove_file(&course).unwrap();
    let past = shelf::as_it_was(&log, "2026-12-01").unwrap();
    assert!(review_round(&RoundCase { session: past.session, player: 0 }, &AtomicBool::new(false)).is_err());
    assert!(shelf::as_it_was(&folder.path().join("players/orla-fenwick.yaml"), "2026-12-01").is_err());
}
