//! Competitions made for a test: in memory from texts, and as folders.

use marram::competition::read::{read_field, read_setup, read_sides, sides_of_field};
use marram::competition::result::{EventResult, Line};
use marram::competition::values::Keying;
use marram::competition::{Competition, Totals};
use marram::course;
use marram::scoring::HoleScore;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

pub fn here(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/competition").join(name)
}

pub fn saltgate() -> course::Course {
    let (course, problems) = course::read(&std::fs::read_to_string(here("medal/saltgate.yaml")).unwrap());
    assert_eq!(problems, []);
    course.unwrap()
}

/// A set-up with these events, all from the Gull tees on the men's card.
pub fn set_up(rounds: usize, events: &str) -> String {
    let rounds: Vec<String> = (0..rounds).map(|n| format!("{{ date: 2026-05-{:02} }}", 16 + n)).collect();
    format!(
        "format: competition/1\nname: Test\ncourse: saltgate.yaml\nrounds: [ {} ]\ntees: {{ men: Gull, women: Tern }}\nevents:\n{events}\n",
        rounds.join(", ")
    )
}

pub fn competition(set_up: &str, field: &str, sides: Option<&str>) -> Competition {
    let (setup, problems) = read_setup(set_up);
    assert_eq!(problems, [], "{set_up}");
    let setup = setup.unwrap();
    let (field, problems) = read_field(field, &setup.rounds[0].holes, false);
    assert!(problems.iter().all(|d| d.severity != marram::notebook::Severity::Error), "{problems:?}");
    let mut all = BTreeMap::from([(String::new(), sides_of_field(&field))]);
    if let Some(text) = sides {
        let players = setup.events.iter().find(|e| e.sides.is_some()).unwrap().play.players();
        let (list, problems) = read_sides(text, &field, players);
        assert_eq!(problems, []);
        all.insert("sides.csv".to_owned(), list);
    }
    Competition { setup, course: saltgate(), field, sides: all, keyings: vec![], rulings: vec![], changes: vec![] }
}

/// A field of `id,name,handicap_index` and 18 scores in one text each.
pub fn field(lines: &[(&str, &str, &str)]) -> String {
    let holes: Vec<String> = (1..=18).map(|hole| format!("h{hole}")).collect();
    let mut text = format!("id,name,ratings,handicap_index,{}\n", holes.join(","));
    for (id, index, scores) in lines {
        let scores: Vec<&str> = scores.split_whitespace().collect();
        text += &format!("{id},Player {id},men,{index},{}\n", scores.join(","));
    }
    text
}

pub fn keying(id: &str, keyer: &str, round: usize, scores: &str) -> Keying {
    Keying {
        file: format!("cards/{id}/{keyer}.yaml"),
        id: id.to_owned(),
        keyer: keyer.to_owned(),
        at: None,
        round,
        scores: scores
            .split_whitespace()
            .map(|s| if s == "_" { HoleScore::Empty } else { HoleScore::parse(s).unwrap() })
            .collect(),
        written_total: None,
        marker: None,
        player: None,
        mended_by: None,
        copy: false,
    }
}

pub fn event<'t>(totals: &'t Totals<'_>, name: &str) -> &'t EventResult {
    totals.events.iter().find(|event| event.name == name).unwrap()
}

pub fn line<'t>(totals: &'t Totals<'_>, name: &str, id: &str) -> &'t Line {
    event(totals, name).lines.iter().find(|line| line.id == id).unwrap()
}

/// `M1 1, M2 2=` with what decided.
pub fn places(totals: &Totals<'_>, name: &str) -> Vec<(String, Option<usize>, bool, Option<String>)> {
    let lines = &event(totals, name).lines;
    lines.iter().map(|l| (l.id.clone(), l.place, l.tied, l.decided_by.map(|d| d.to_string()))).collect()
}

/// A copy of the worked medal in a folder of its own.
pub fn copy_of_medal() -> tempfile::TempDir {
    fn copy(from: &Path, to: &Path) {
        std::fs::create_dir_all(to).unwrap();
        for entry in std::fs::read_dir(from).unwrap() {
            let entry = entry.unwrap();
            let target = to.join(entry.file_name());
            if entry.path().is_dir() {
                copy(&entry.path(), &target)
            } else {
                std::fs::copy(entry.path(), target).map(drop).unwrap()
            }
        }
    }
    let folder = tempfile::tempdir().unwrap();
    copy(&here("medal"), folder.path());
    folder
}

pub struct Said {
    pub code: i32,
    pub out: String,
    pub err: String,
}

/// Runs the program with a shelf of its own.
pub fn marram(args: &[&str], current: &Path) -> Said {
    let shelf = current.join("shelf");
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_marram"))
        .args(args)
        .current_dir(current)
        .env("MARRAM_FOLDER", &shelf)
        .output()
        .unwrap();
    Said {
        code: output.status.code().unwrap(),
        out: String::from_utf8(output.stdout).unwrap(),
        err: String::from_utf8(output.stderr).unwrap(),
    }
}
