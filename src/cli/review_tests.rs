//! Reviews from the command line: shots entered from lists, the review as text, JSON and CSV, what goes wrong.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use super::World;
use super::arguments::Arguments;
use crate::store::{Shelf, Store};
use clap::Parser;
use serde_json::Value;
use std::path::Path;

fn shelf() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-courses");
    for name in ["corvane.yaml", "players/wren-hallam.yaml"] {
        let to = folder.path().join(name);
        std::fs::create_dir_all(to.parent().unwrap()).unwrap();
        std::fs::copy(samples.join(name), to).unwrap();
    }
    folder
}

fn run(folder: &Path, words: &[&str]) -> (u8, String, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let mut world = World {
        store: Store::new(Shelf::locate(Some(folder)).unwrap()),
        current: folder.to_owned(),
        today: "2026-05-16".to_owned(),
        out: &mut out,
        err: &mut err,
        terminal: false,
    };
    let arguments = Arguments::try_parse_from(std::iter::once("marram").chain(words.iter().copied())).unwrap();
    let code = super::perform(arguments, &mut world);
    (code, String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap())
}

fn round(folder: &Path, more: &[&str]) -> String {
    let words = [&["new", "round", "--course", "corvane", "--player", "wren-hallam", "--tee", "Club"], more].concat();
    let (code, out, err) = run(folder, &words);
    assert_eq!(code, 0, "{err}");
    out.trim().to_owned()
}

/// The one log on the shelf.
fn log_of(folder: &Path) -> std::path::PathBuf {
    let mut all = std::fs::read_dir(folder.join("rounds")).unwrap().map(|e| e.unwrap().path());
    all.find(|p| p.extension().is_some_and(|e| e == "log")).unwrap()
}

#[test]
fn a_list_of_shots_becomes_a_review() {
    let folder = shelf();
    let folder = folder.path();
    let id = round(folder, &["--kind", "practice"]);
    std::fs::write(folder.join("shots.csv"), "hole,shots\n1,\"d 150 8R r, 7i sl, sw g, 2p 18\"\n2,\"7i g, 2p 25\"\n")
        .unwrap();
    let (code, out, err) = run(folder, &["review", &id, "--shots", "shots.csv"]);
    assert_eq!(code, 0, "{err}");
    assert!(err.contains("shots of 2 holes entered"), "{err}");
    assert!(out.contains("strokes are logged") && out.contains("(about)"), "{out}");
    let (code, out, _) = run(folder, &["review", &id, "--json"]);
    let json: Value = serde_json::from_str(&out).unwrap();
    assert_eq!((code, &json["schema"], &json["gross"]), (0, &Value::from("marram/review/1"), &Value::from(8)));
    assert_eq!(json["holes"][0]["gross"], 5, "a wholly told hole has its score");
    // Decisions, executions and penalties sum to what the hole gained.
    let hole = &json["holes"][1];
    let sum = hole["shots"][0]["gained"].as_f64().unwrap() + hole["putts"]["gained"].as_f64().unwrap();
    assert!((sum - hole["gained"].as_f64().unwrap()).abs() < 0.003, "{hole}");
    let (code, out, _) = run(folder, &["review", &id, "--csv"]);
    assert!(code == 0 && out.starts_with("round,date,course") && out.lines().count() == 1 + 3 + 1 + 1 + 1, "{out}");
}

#[test]
fn a_bad_list_enters_nothing_and_names_every_line() {
    let folder = shelf();
    let folder = folder.path();
    let id = round(folder, &[]);
    std::fs::write(folder.join("shots.csv"), "hole,shots\n1,d f\n44,d f\n2,zz q\n").unwrap();
    let before = std::fs::read(log_of(folder)).unwrap();
    let (code, _, err) = run(folder, &["review", &id, "--shots", "shots.csv"]);
    assert_eq!(code, 1);
    assert!(
        err.contains("line 3: hole `44`") && err.contains("from line 4") && err.contains("nothing was entered"),
        "{err}"
    );
    assert_eq!(std::fs::read(log_of(folder)).unwrap(), before);
    let (code, _, err) = run(folder, &["review", "no-such-round"]);
    assert!(code == 1 && err.contains("no-such-round"), "{err}");
    assert_eq!(run(folder, &["review"]).0, 2);
    assert_eq!(run(folder, &["review", &id, "--target", "many"]).0, 2);
    assert_eq!(run(folder, &["review", "--season", "--player", "nobody"]).0, 1);
    let (code, _, err) = run(folder, &["review", "--learn", "--player", "wren-hallam", "--agree", "7"]);
    assert!(code == 2 && err.contains("no proposal"), "{err}");
}

#[test]
fn a_target_is_told_in_practice_and_not_under_the_rules() {
    let folder = shelf();
    let folder = folder.path();
    let id = round(folder, &["--kind", "practice"]);
    run(folder, &["card", &id, "--scores", "5 4 6 5 4 3 5 5 4 5 4 5 5 5 4"]);
    let (code, out, err) = run(folder, &["review", &id, "--target", "36 points", "--json"]);
    assert_eq!(code, 0, "{err}");
    let json: Value = serde_json::from_str(&out).unwrap();
    let (best, plan) = (json["chance"].as_f64().unwrap(), json["chance_by_plan"].as_f64().unwrap());
    assert!(best >= plan - 1e-9 && (0.0..=1.0).contains(&best), "{out}");
    let id = round(folder, &["--kind", "competition"]);
    run(folder, &["card", &id, "--scores", "5"]);
    let (code, _, err) = run(folder, &["review", &id, "--target", "net 72"]);
    assert!(code == 1 && err.contains("Rule 4.3a"), "{err}");
}
