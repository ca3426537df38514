//! Rounds from the command line: `new round` in a format, `card` with scores for any player, plain and JSON.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use super::World;
use super::arguments::Arguments;
use crate::store::{Shelf, Store};
use clap::Parser;
use serde_json::Value;
use std::path::Path;

/// A shelf with the sample course and players in a folder of its own.
fn shelf() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-courses");
    for name in ["corvane.yaml", "players/wren-hallam.yaml", "players/callum-reive.yaml", "players/ines-calder.yaml"] {
        let to = folder.path().join(name);
        std::fs::create_dir_all(to.parent().unwrap()).unwrap();
        std::fs::copy(samples.join(name), to).unwrap();
    }
    folder
}

/// Runs a command; its exit code, output and errors.
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

/// A new round; its log.
fn new_round(folder: &Path, more: &[&str]) -> String {
    let words = [&["new", "round", "--course", "corvane"], more].concat();
    let (code, out, err) = run(folder, &words);
    assert_eq!(code, 0, "{err}");
    out.trim().to_owned()
}

fn json(folder: &Path, round: &str) -> Value {
    let (code, out, err) = run(folder, &["card", round, "--json"]);
    assert_eq!(code, 0, "{err}");
    serde_json::from_str(&out).unwrap()
}

#[test]
fn a_match_from_the_command_line() {
    let folder = shelf();
    let folder = folder.path();
    let players = ["--player", "wren-hallam", "callum-reive", "--tee", "Club", "Back", "--play", "match"];
    let round = new_round(folder, &players);
    let (code, _, err) = run(folder, &["card", &round, "--scores", "5 4 6 y", "--player", "wren"]);
    assert_eq!(code, 0, "{err}");
    let (code, out, err) = run(folder, &["card", &round, "--scores", "4 4 5 _", "--player", "2"]);
    assert_eq!(code, 0, "{err}");
    assert!(out.contains("compares net scores hole by hole") && out.contains("hole 4: the hole conceded"), "{out}");
    let card = json(folder, &round);
    // The fixed form of cli.md stands, more beside it.
    assert_eq!((card["schema"].as_str(), card["play"].as_str()), (Some("marram/card/1"), Some("match")));
    assert_eq!(card["cards"].as_array().unwrap().len(), 2);
    let wren = &card["cards"][0];
    assert_eq!((wren["course"].as_str(), wren["player"].as_str()), (Some("Corvane Links"), Some("Wren Hallam")));
    assert_eq!((wren["playing_handicap"].as_i64(), wren["holes"][3]["strokes_received"].as_i64()), (Some(19), Some(2)));
    assert_eq!(wren["holes"][3]["conceded"], true);
    assert_eq!((wren["holes"][0]["gross"].as_i64(), wren["holes"][0]["net"].as_i64()), (Some(5), Some(4)));
    assert_eq!(wren["standing"].as_str(), Some("tied with 14 to play"));
    assert_eq!(card["sides"][1]["by_hole"].as_array().unwrap().len(), 18);
    assert_eq!((card["over"].as_bool(), card["sides"][0]["left"].as_i64()), (Some(false), Some(14)));
}

#[test]
fn partners_with_one_ball_have_one_card_whoever_is_named() {
    let folder = shelf();
    let folder = folder.path();
    let round = new_round(
        folder,
        &["--player", "wren-hallam", "ines-calder", "--tee", "Club", "Forward", "--play", "greensomes stableford"],
    );
    let (code, _, err) = run(folder, &["card", &round, "--scores", "5 4 6", "--player", "ines-calder"]);
    assert_eq!(code, 0, "{err}");
    let card = json(folder, &round);
    assert_eq!(card["player"].as_str(), Some("Wren Hallam & Ines Calder"));
    assert_eq!(card["holes"][0]["gross"].as_i64(), Some(5));
    assert_eq!(card["sides"][0]["players"].as_array().unwrap().len(), 2);
    // 60 % of the low and 40 % of the high Course Handicap; the tee of the higher par adds nothing in Stableford.
    assert_eq!(card["playing_handicap"].as_i64(), Some(24));
    let (code, _, err) = run(folder, &["card", &round, "--close"]);
    assert_eq!(code, 0, "{err}");
    let yaml = std::fs::read_to_string(round.replace(".log", ".yaml")).unwrap();
    assert!(yaml.contains("name: Wren Hallam & Ines Calder") && yaml.contains("play: greensomes stableford"), "{yaml}");
    assert!(yaml.contains("terms: handicap 60-40 % low to high") && yaml.contains("standing:"), "{yaml}");
}

#[test]
fn values_that_cannot_be_are_quoted_with_what_can() {
    let folder = shelf();
    let folder = folder.path();
    let two = ["new", "round", "--course", "corvane", "--player", "wren-hallam", "ines-calder"];
    for (more, code, words) in [
        (&["--play", "skins"][..], 2, "`skins` is no format"),
        (&["--play", "stroke", "--allowance", "120"], 2, "`120`: a handicap allowance is a whole number"),
        (&["--play", "greensomes", "--allowance", "60"], 2, "shares from low to high, like 60-40"),
        (&["--play", "stroke", "--maximum", "8"], 2, "--maximum belongs to --play maximum"),
        (&["--play", "maximum", "--maximum", "lots"], 2, "`lots` is no maximum"),
        (&["--play", "maximum", "--maximum", "8,8,9"], 2, "a limit for 3 holes"),
        (&["--play", "stroke", "--tie-stands"], 2, "--tie-stands belongs to a match"),
        (&["--play", "stroke", "--count", "gross", "--allowance", "90"], 2, "no strokes are received"),
        (&["--play", "foursomes", "--sides", "1+1"], 2, "`1` stands on two sides"),
        (&["--play", "foursomes", "--sides", "1+9"], 2, "`9` plays not in this round"),
        (&["--play", "match", "--sides", "1"], 2, "--sides leaves out Ines Calder"),
        (&["--play", "four-ball match"], 1, "between two sides of 2 players; this round has 2 players"),
    ] {
        let (found, out, err) = run(folder, &[&two[..], more].concat());
        assert_eq!(found, code, "{more:?}: {err}");
        assert!(err.contains(words) && out.is_empty(), "{more:?}: {err}");
    }
    assert!(!folder.join("rounds").exists(), "nothing was written");
    let round = new_round(folder, &["--player", "wren-hallam", "--play", "stableford"]);
    let (code, _, err) = run(folder, &["card", &round, "--scores", "5 y"]);
    assert!(code == 2 && err.contains("score 2: only in a match is a hole or a stroke conceded"), "{err}");
    assert_eq!(json(folder, &round)["holes"][0]["gross"], Value::Null, "none of the list was entered");
}

#[test]
fn a_tie_is_played_on_from_the_command_line_too() {
    let folder = shelf();
    let folder = folder.path();
    let round = new_round(folder, &["--player", "wren-hallam", "callum-reive", "--play", "match", "--count", "gross"]);
    let level = "4 3 5 4 4 3 4 5 4 4 4 3 5 4 4 3 4 5";
    run(folder, &["card", &round, "--scores", &format!("{level} 4 3")]);
    run(folder, &["card", &round, "--scores", &format!("{level} 4 4"), "--player", "2"]);
    let card = json(folder, &round);
    assert_eq!(card["cards"][0]["standing"].as_str(), Some("won 1 up after 20 holes"));
    assert_eq!(card["cards"][0]["holes"].as_array().unwrap().len(), 20);
    assert_eq!(
        (card["cards"][0]["holes"][18]["hole"].as_i64(), &card["cards"][0]["holes"][18]["extra"]),
        (Some(1), &Value::Bool(true))
    );
    assert_eq!(card["cards"][0]["gross"].as_i64(), Some(72), "totals are those of the round");
    let (code, _, err) = run(folder, &["card", &round, "--scores", &"4 ".repeat(40)]);
    assert!(code == 2 && err.contains("this round has 36 holes"), "{err}");
}
