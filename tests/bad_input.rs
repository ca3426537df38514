//! Bad input at the command line and on the screen: each kind gets a message with place, cause and cure, nothing panics,
//! and no file is touched. What marram itself ships and writes has no problem at all.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;

use clap::Parser;
use marram::cli::{World, card, new};
use marram::round::{Chain, Event, Place, replay};
use marram::scoring::HoleScore;
use marram::shelf::{self, Wanted};
use marram::store::{Disk, Fault, Faults, Shelf, Step, Store};
use marram::tui::story::Story;

struct Said {
    code: i32,
    out: String,
    err: String,
}

fn marram(folder: &Path, args: &[&str]) -> Said {
    let made = Command::new(env!("CARGO_BIN_EXE_marram"))
        .args(args)
        .env("MARRAM_FOLDER", folder)
        .current_dir(folder)
        .output()
        .unwrap();
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
    Said { code: made.status.code().expect("it ended by itself"), out: text(made.stdout), err: text(made.stderr) }
}

fn project(place: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(place)
}

/// A shelf with the sample links, two of its players and its day sheet.
fn shelf_of_samples() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    for sub in ["players", "days"] {
        fs::create_dir(home.path().join(sub)).unwrap();
    }
    for file in [
        "corvane.yaml",
        "players/wren-hallam.yaml",
        "players/callum-reive.yaml",
        "players/ines-calder.yaml",
        "days/2026-05-16-corvane.yaml",
    ] {
        fs::copy(project("sample-courses").join(file), home.path().join(file)).unwrap();
    }
    home
}

/// What the issue lists, the small broken file that shows it, and words of what is said. Errors; a warning is marked.
const FILES: &[(&str, &str, &str)] = &[
    ("tabs", "tab-indent.yaml", "tab"),
    ("wrong units", "unknown-units.yaml", "yards"),
    ("unknown tee", "unknown-tee.yaml", "tee"),
    ("two holes with one number", "hole-twice.yaml", "two holes with the number"),
    ("stroke index used twice", "stroke-index-twice.yaml", "stroke index"),
    ("stroke index missing", "stroke-index-missing.yaml", "stroke index"),
    ("par without index", "par-without-index.yaml", "stroke index"),
    ("a green in front of its tee", "green-before-tee.yaml", "green"),
    ("a bunker longer than the hole", "longer-than-hole.yaml", "long"),
    ("a shape that crosses itself", "crosses-itself.yaml", "crosses itself"),
    ("a shape beyond the turn of a bend", "beyond-turn.yaml", "turn"),
    ("a bare number for across", "bare-across.yaml", "says no side"),
    ("length that disagrees with the line", "length-disagrees.yaml", "length"),
    ("a comma that ended a text", "comma-ended-text.yaml", "comma"),
    ("-1.3 for a handicap", "minus-handicap.yaml", "+1.3"),
    ("an empty file", "empty-file.yaml", "empty"),
    ("deeply nested YAML", "too-deep.yaml", "deep"),
    ("aliased YAML", "alias.yaml", "alias"),
    ("not UTF-8", "not-utf8.yaml", "UTF-8"),
];

#[test]
fn every_bad_file_is_named_with_place_cause_and_cure_and_left_as_it_is() {
    let home = tempfile::tempdir().unwrap();
    let mut faults = Vec::new();
    for (what, file, words) in FILES {
        let path = home.path().join(file);
        let bytes = fs::read(project("tests/notebooks/broken").join(file)).unwrap();
        fs::write(&path, &bytes).unwrap();
        let said = marram(home.path(), &["check", file]);
        let first = said.out.lines().next().unwrap_or_default().to_owned();
        let place = first.strip_prefix(file).and_then(|r| r.strip_prefix(':')).unwrap_or_default();
        let numbers = place.splitn(3, ':').take(2).filter(|n| n.parse::<u32>().is_ok_and(|n| n > 0)).count();
        let error = first.contains(": error: ");
        let shown = said.out.lines().count() >= 3 && (said.out.contains('^') || file.starts_with("empty"));
        let named = said.out.to_lowercase().contains(&words.to_lowercase());
        if numbers != 2 || !(error || first.contains(": warning: ")) || !shown || !named {
            faults.push(format!("{what}: {}", said.out));
        }
        if said.code != i32::from(said.out.contains(": error: ")) || !said.err.is_empty() {
            faults.push(format!("{what}: exit {} {}", said.code, said.err));
        }
        assert_eq!(fs::read(&path).unwrap(), bytes, "{what}: the file is as it was");
        if String::from_utf8_lossy(&bytes).contains("format: player") {
            continue;
        }
        // The screen opens on it, says so, and draws at every size.
        if let Ok(session) = shelf::open_course(&path, &Wanted::default(), "2026-05-16") {
            let problems = session.problems.iter().any(|p| !p.diagnostics.is_empty());
            for (width, height) in [(120, 36), (80, 24), (60, 20), (20, 6), (1, 1)] {
                let mut story = Story::of(session.clone(), width, height);
                story.keys("Right , ; c Esc s Esc ? Esc");
                story.screen();
            }
            let mut story = Story::of(session, 100, 30);
            if story.state.screens.is_empty() {
                story.keys("e");
            }
            if !problems || !story.said().to_lowercase().contains(&words.to_lowercase()) {
                faults.push(format!("{what}, on the screen: {}", story.said()));
            }
        } else if *file != "not-utf8.yaml" {
            faults.push(format!("{what}: the screen does not open on it"));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn hostile_files_are_refused_at_once() {
    let home = tempfile::tempdir().unwrap();
    let write = |name: &str, text: String| fs::write(home.path().join(name), text).unwrap();
    write("deep.yaml", format!("format: course-notebook/1\ncourse: {}", "[".repeat(1 << 20)));
    write(
        "deeper.yaml",
        "a:\n"
            .chars()
            .chain((1..2000).flat_map(|n| " ".repeat(n).chars().chain("a:\n".chars()).collect::<Vec<_>>()))
            .collect(),
    );
    let mut bomb = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n".to_owned();
    for n in 1..30 {
        bomb += &format!("a{n}: &a{n} [{}]\n", vec![format!("*a{}", n - 1); 9].join(", "));
    }
    write("bomb.yaml", bomb);
    fs::File::create(home.path().join("large.yaml")).unwrap().set_len(100 << 20).unwrap();
    fs::create_dir(home.path().join("folder.yaml")).unwrap();
    for (file, words) in [
        ("deep.yaml", "deep"),
        ("deeper.yaml", "deep"),
        ("bomb.yaml", "is not read"),
        ("large.yaml", "larger than 4 MiB"),
        ("folder.yaml", "folder"),
        ("nothing-here.yaml", "no such file"),
    ] {
        let said = marram(home.path(), &["check", file]);
        assert_eq!(said.code, 1, "{file}: {} {}", said.out, said.err);
        assert!(said.out.contains(words) && said.out.starts_with(file), "{file}: {}", said.out);
        let json = marram(home.path(), &["check", "--json", file]);
        for line in json.out.lines() {
            let value: serde_json::Value = serde_json::from_str(line).unwrap();
            assert_eq!(value["severity"], "error", "{line}");
            assert!(value["message"].is_string() && value["file"] == file, "{line}");
        }
    }
}

#[test]
fn a_wrong_command_is_2_and_wrong_data_is_1_each_with_its_cure() {
    let home = shelf_of_samples();
    fs::write(home.path().join("players/minus.yaml"), "format: player/1\nname: M\nhandicap: { index: -1.3 }\n")
        .unwrap();
    let course = ["handicap", "course", "--slope", "131", "--rating", "71.2", "--par", "72"];
    let with = |more: &[&'static str]| [&course[..], more].concat();
    for (args, code, words) in [
        (vec!["open", "corvane"], 2, "there is no terminal"),
        (vec![], 2, "would open"),
        (vec!["open", "corvan"], 1, "did you mean `corvane`"),
        (vec!["open", "./missing.yaml"], 1, "no such file"),
        (vec!["check"], 2, "FILE"),
        (vec!["check", "players/minus.yaml"], 1, "+1.3"),
        (with(&["--index=-1.3"]), 2, "+1.3"),
        (with(&["--index", "abc"]), 2, "abc"),
        (vec!["card", "no-such-round"], 1, "no round named"),
        (vec!["card", "--scores", "5 4"], 1, "no round is open"),
        (vec!["new", "course"], 2, "needs a name"),
        (vec!["new", "layer", "Ana"], 2, "--course"),
        (vec!["new", "layer", "Ana", "--course", "corvan"], 1, "did you mean `corvane`"),
        (vec!["new", "day", "--course", "corvane", "--day", "16.5.2026"], 2, "is no date"),
        (vec!["new", "round"], 2, "--course"),
        (vec!["new", "round", "--course", "corvane", "--tee", "Clb"], 2, "it has Back"),
        (vec!["new", "round", "--course", "corvane", "--player", "wren-halam"], 1, "did you mean `wren-hallam`"),
        (vec!["new", "round", "--course", "corvane", "--holes", "middle"], 2, "`front`, `back`"),
        (vec!["new", "player", "x", "--out", "players/minus.yaml"], 1, "there already"),
        (vec!["new", "course", "x", "--out", "corvane.yaml/x.yaml"], 1, "file"),
    ] {
        let said = marram(home.path(), &args);
        let both = format!("{}{}", said.out, said.err);
        assert_eq!(said.code, code, "{args:?}: {both}");
        assert!(both.contains(words), "{args:?} says {words:?}: {both}");
    }
    assert!(!home.path().join("rounds").exists(), "no round was begun by any of them");
}

/// Every change of the disk fails with one kind of error.
struct Failing(ErrorKind);

impl Faults for Failing {
    fn before(&self, _: Step, _: &Path) -> Option<Fault> {
        Some(Fault::Fails(self.0))
    }
}

#[derive(Parser)]
struct NewLine {
    #[command(flatten)]
    args: new::NewArgs,
}

#[derive(Parser)]
struct CardLine {
    #[command(flatten)]
    args: card::CardArgs,
}

#[test]
fn a_read_only_folder_and_a_full_disk_are_said_and_nothing_is_half_written() {
    for (kind, words) in [
        (ErrorKind::ReadOnlyFilesystem, "the disk is read-only"),
        (ErrorKind::PermissionDenied, "the system does not permit it"),
        (ErrorKind::StorageFull, "the disk is full"),
    ] {
        let home = shelf_of_samples();
        let listing = || {
            let mut all: Vec<PathBuf> = ["", "players", "days"]
                .iter()
                .flat_map(|sub| fs::read_dir(home.path().join(sub)).unwrap().map(|e| e.unwrap().path()))
                .collect();
            all.sort();
            all
        };
        let before = listing();
        let (mut out, mut err) = (Vec::new(), Vec::new());
        let store = Store::on_disk(Shelf::at(home.path()), Disk::with_faults(Arc::new(Failing(kind))));
        let mut world = World {
            store,
            current: home.path().to_owned(),
            today: "2026-05-16".to_owned(),
            out: &mut out,
            err: &mut err,
            terminal: false,
        };
        for args in [&["", "course", "My Links"][..], &["", "player", "Ana"], &["", "round", "--course", "corvane"]] {
            let line = NewLine::try_parse_from(args).unwrap();
            assert_eq!(new::run(&line.args, &mut world), 1, "{args:?}");
        }
        let line = CardLine::try_parse_from(["", "--json"]).unwrap();
        assert_eq!(card::run(&line.args, &mut world), 0, "what only reads works all the same");
        let said = String::from_utf8(err).unwrap();
        assert_eq!(said.lines().filter(|l| l.contains(words)).count(), 3, "{said}");
        assert_eq!(listing(), before);
    }
}

#[test]
fn a_clock_set_back_is_said_and_every_score_stays() {
    let home = shelf_of_samples();
    let made = marram(home.path(), &["new", "round", "--course", "corvane", "--player", "wren-hallam"]);
    assert_eq!(made.code, 0, "{}", made.err);
    let log = PathBuf::from(made.out.trim());
    let opening = replay(&fs::read(&log).unwrap()).state.unwrap().opening().clone();
    let mut chain = Chain::default();
    let score =
        |position, strokes| Event::Score { place: Place { player: 0, position }, score: HoleScore::Gross(strokes) };
    let text: String = [
        ("2026-05-16T10:00:00+01:00", Event::Opened(Box::new(opening))),
        ("2026-05-16T10:20:00+01:00", score(0, 5)),
        ("2026-05-16T08:00:00+01:00", score(1, 4)),
    ]
    .iter()
    .map(|(at, event)| chain.write(at, event).unwrap().1)
    .collect();
    fs::write(&log, text).unwrap();
    let path = log.to_str().unwrap();
    let checked = marram(home.path(), &["check", path]);
    assert_eq!(checked.code, 0, "{}", checked.out);
    assert!(checked.out.contains("warning: ") && checked.out.contains("clock was set back"), "{}", checked.out);
    let card = marram(home.path(), &["card", path, "--json"]);
    let value: serde_json::Value = serde_json::from_str(&card.out).unwrap();
    assert_eq!((&value["holes"][0]["gross"], &value["holes"][1]["gross"]), (&5.into(), &4.into()));
}

#[test]
fn all_that_marram_ships_and_writes_passes_check() {
    let mut files = Vec::new();
    for place in ["", "players", "days", "pupils", "rounds"] {
        for entry in fs::read_dir(project("sample-courses").join(place)).unwrap() {
            let path = entry.unwrap().path();
            let ending = path.extension().and_then(|e| e.to_str()).unwrap_or_default();
            if matches!(ending, "yaml" | "csv" | "log") {
                files.push(path.display().to_string());
            }
        }
    }
    assert!(files.len() >= 12, "{files:?}");
    let home = tempfile::tempdir().unwrap();
    let args: Vec<&str> = ["check"].into_iter().chain(files.iter().map(String::as_str)).collect();
    let said = marram(home.path(), &args);
    assert_eq!((said.code, said.out.as_str(), said.err.as_str()), (0, "", ""));

    // Starters under names that YAML would read as something else.
    for name in ["My Club", "no", "1.5", "Dunes: the \"old\" #2 course, {x}", "Åsa's \\ links"] {
        let home = tempfile::tempdir().unwrap();
        let made = marram(home.path(), &["new", "course", name]);
        assert_eq!(made.code, 0, "{}", made.err);
        let course = made.out.trim().to_owned();
        let stem = Path::new(&course).file_stem().unwrap().to_str().unwrap().to_owned();
        let mut written = vec![course];
        for args in [
            vec!["new", "player", name],
            vec!["new", "layer", name, "--course", &stem],
            vec!["new", "day", "--course", &stem],
            vec!["new", "round", "--course", &stem],
        ] {
            let made = marram(home.path(), &args);
            assert_eq!(made.code, 0, "{args:?}: {}", made.err);
            written.push(made.out.trim().to_owned());
        }
        let args: Vec<&str> = ["check"].into_iter().chain(written.iter().map(String::as_str)).collect();
        let said = marram(home.path(), &args);
        assert!(said.code == 0 && !said.out.contains("error"), "{name}: {}{}", said.out, said.err);
    }
}

#[test]
fn ground_that_is_named_and_cannot_be_read_is_said() {
    let home = shelf_of_samples();
    let path = home.path().join("corvane.yaml");
    let text = fs::read_to_string(&path).unwrap();
    let text = text.replacen("  units: yards", "  units: yards\n  ground: corvane.geojson", 1);
    fs::write(&path, &text).unwrap();
    let said = marram(home.path(), &["check", "corvane.yaml"]);
    assert_eq!(said.code, 0, "a sketch alone is enough: {}", said.out);
    assert!(said.out.contains("warning: the surveyed ground `corvane.geojson` cannot be read"), "{}", said.out);
    let mut story = Story::of(shelf::open_course(&path, &Wanted::default(), "2026-05-16").unwrap(), 100, 30);
    story.keys("e");
    assert!(story.said().contains("corvane.geojson"), "{}", story.said());
}

#[test]
fn a_notebook_without_a_readable_hole_opens_on_its_problems_and_is_read_again_when_mended() {
    let home = shelf_of_samples();
    let path = home.path().join("corvane.yaml");
    let good = fs::read_to_string(&path).unwrap();
    fs::write(&path, "format: course-notebook/1\ncourse: { name: X, units: furlongs }\nholes: []\n").unwrap();
    let broken = shelf::open_course(&path, &Wanted::default(), "2026-05-16").unwrap();
    let story = Story::of(broken.clone(), 100, 30);
    assert!(story.said().contains("corvane.yaml:2:"), "{}", story.said());
    fs::write(&path, good).unwrap();
    let (mended, trouble) = shelf::reread(&broken);
    assert_eq!((trouble, mended.course.map(|c| c.holes.len())), (None, Some(18)));
}

#[test]
fn an_edited_notebook_keeps_every_player_of_the_round() {
    let home = shelf_of_samples();
    let players = ["--player", "wren-hallam", "callum-reive"];
    let made = marram(home.path(), &[&["new", "round", "--course", "corvane"][..], &players].concat());
    assert_eq!(made.code, 0, "{}", made.err);
    let log = PathBuf::from(made.out.trim());
    fs::remove_file(home.path().join("players/callum-reive.yaml")).unwrap();
    let store = Store::new(Shelf::at(home.path()));
    let taken = shelf::take_up(&store, &log, "2026-05-16", Box::new(|_| {})).unwrap();
    let before = taken.session;
    let names = |session: &marram::session::Session| session.golfers.iter().map(|g| g.name.clone()).collect::<Vec<_>>();
    assert_eq!(names(&before), ["Wren Hallam", "Callum Reive"]);

    let path = home.path().join("corvane.yaml");
    let good = fs::read_to_string(&path).unwrap();
    fs::write(&path, good.replacen("name: Open Gate", "name: Shut Gate", 1)).unwrap();
    let (after, trouble) = shelf::reread(&before);
    assert_eq!(trouble, None);
    assert_eq!(names(&after), names(&before));
    assert_eq!(
        after.golfers.iter().map(|g| &g.strokes).collect::<Vec<_>>(),
        before.golfers.iter().map(|g| &g.strokes).collect::<Vec<_>>()
    );
    assert_eq!(after.course.unwrap().holes[0].name.as_deref(), Some("Shut Gate"));

    fs::write(&path, good.replacen("par:", "parr:", 1)).unwrap();
    let (kept, trouble) = shelf::reread(&before);
    assert!(trouble.is_some_and(|t| t.contains("corvane.yaml:") && t.contains("the last good state stays")));
    assert_eq!(kept.course, before.course);
}

#[test]
fn a_layer_that_cannot_be_read_is_said() {
    let home = shelf_of_samples();
    fs::write(home.path().join("corvane.ana.yaml"), b"format: notebook-layer/1\nby: \xff\n").unwrap();
    let session = shelf::open_course(&home.path().join("corvane.yaml"), &Wanted::default(), "2026-05-16").unwrap();
    let mut story = Story::of(session, 100, 30);
    story.keys("e");
    assert!(story.said().contains("corvane.ana.yaml") && story.said().contains("UTF-8"), "{}", story.said());
}
