//! Reading whole files: every diagnostic has its small broken file and that file yields it alone; the raw-text rules; the
//! samples read without a word.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use marram::course::decode::{self, Code, FileKind};
use marram::course::{self, Course};
use marram::notebook::{self, Diagnostic, Severity};
use marram::player;

fn tests_dir() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/notebooks")
}

fn small_course() -> Course {
    let text = std::fs::read_to_string(tests_dir().join("course.yaml")).unwrap();
    let (course, problems) = course::read(&text);
    assert_eq!(problems, []);
    course.unwrap()
}

/// Every diagnostic of this room's readers, with the ending of its file.
fn all_codes() -> Vec<(Code, &'static str)> {
    let yaml = [decode::CODES, course::codes::CODES, player::codes::CODES].concat();
    let lists = player::codes::lists::CODES;
    yaml.into_iter().map(|c| (c, "yaml")).chain(lists.iter().map(|c| (*c, "csv"))).collect()
}

/// What a file says of itself decides how it is read; anything else is read as a notebook.
fn read_any(text: &str, code: &str, csv: bool) -> Vec<Diagnostic> {
    if csv {
        return player::read_pupils(text).1;
    }
    let format = text.lines().find_map(|line| line.strip_prefix("format: "));
    match format.and_then(FileKind::of_format) {
        Some(FileKind::Player) if code != "wrong-kind" => player::read(text).1,
        Some(FileKind::NotebookLayer) => course::read_layer(text, Some(&small_course())).1,
        Some(FileKind::DaySheet) => course::read_day(text, Some(&small_course())).1,
        _ => course::read(text).1,
    }
}

#[test]
fn every_diagnostic_has_a_file_that_yields_it_alone() {
    let mut faults = Vec::new();
    for (code, ending) in all_codes() {
        let path = tests_dir().join("broken").join(format!("{}.{ending}", code.text()));
        let Ok(text) = std::fs::read_to_string(&path) else {
            faults.push(format!("{} has no broken file", code.text()));
            continue;
        };
        let problems = read_any(&text, code.text(), ending == "csv");
        let found: BTreeSet<&str> = problems.iter().map(|d| d.code).collect();
        if found != BTreeSet::from([code.text()]) {
            faults.push(format!("{} gives {problems:#?}", path.display()));
        }
        for d in &problems {
            println!("[{}] {} -- {}", d.code, d.message, d.advice);
            let whole =
                !d.message.ends_with('.') && !d.message.is_empty() && !d.advice.is_empty() && !d.advice.ends_with('.');
            if !whole || d.span.end > text.len() {
                faults.push(format!("{}: message, advice or place of {d:?}", code.text()));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn no_broken_file_is_a_stray() {
    let ours: BTreeSet<String> = all_codes().iter().map(|(code, ending)| format!("{}.{ending}", code.text())).collect();
    let texts: BTreeSet<String> = notebook::diagnostic::CODES.iter().map(|code| format!("{code}.yaml")).collect();
    for entry in std::fs::read_dir(tests_dir().join("broken")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(ours.contains(&name) || texts.contains(&name), "{name} is the file of no diagnostic");
    }
    let names: BTreeSet<&str> = all_codes().iter().map(|(code, _)| code.text()).collect();
    assert_eq!(names.len(), all_codes().len(), "two diagnostics share a name");
}
