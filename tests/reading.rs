//! Reading whole files: every diagnostic has its small broken file and that file yields it alone; the raw-text rules; the
//! samples read without a word.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use marram::course::decode::{self, Code, FileKind};
use marram::course::{self, Course};
use marram::notebook::{self, Diagnostic, Severity};
use marram::player;
use proptest::prelude::*;

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
            let whole =
                !d.message.ends_with('.') && !d.message.is_empty() && !d.advice.is_empty() && !d.advice.ends_with('.');
            if !whole || d.span.end > text.len() {
                faults.push(format!("{}: message, advice or place of {d:?}", code.text()));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// What a person is told of each broken file, with the words it points at; `INSTA_UPDATE=always` writes it anew.
#[test]
fn problems_point_at_the_words_that_are_wrong() {
    let mut page = String::new();
    for (code, ending) in all_codes() {
        let path = tests_dir().join("broken").join(format!("{}.{ending}", code.text()));
        let text = std::fs::read_to_string(&path).unwrap();
        let lines = notebook::Lines::new(&text);
        for d in read_any(&text, code.text(), ending == "csv") {
            let place = lines.place(d.span.start);
            let words = d.span.of(&text).lines().next().unwrap_or_default();
            let Diagnostic { code, message, advice, .. } = &d;
            let word = d.severity.word();
            page += &format!(
                "{code}.{ending}:{}:{}: {word}: {message}\n    at: {words}\n    {advice}\n",
                place.line, place.column
            );
        }
    }
    insta::assert_snapshot!("problems", page);
}

#[test]
fn no_broken_file_is_a_stray() {
    let ours: BTreeSet<String> = all_codes().iter().map(|(code, ending)| format!("{}.{ending}", code.text())).collect();
    let texts = notebook::diagnostic::CODES.iter().map(|code| format!("{code}.yaml"));
    let tables = notebook::table::TABLE_CODES.iter().map(|code| format!("{code}.csv"));
    let texts: BTreeSet<String> = texts.chain(tables).collect();
    for entry in std::fs::read_dir(tests_dir().join("broken")).unwrap() {
        let name = entry.unwrap().file_name().into_string().unwrap();
        assert!(ours.contains(&name) || texts.contains(&name), "{name} is the file of no diagnostic");
    }
    let shared = all_codes().into_iter().find(|(code, _)| notebook::diagnostic::CODES.contains(&code.text()));
    assert!(shared.is_none(), "a name of the text room is used again: {shared:?}");
    let names: BTreeSet<&str> = all_codes().iter().map(|(code, _)| code.text()).collect();
    assert_eq!(names.len(), all_codes().len(), "two diagnostics share a name");
}

/// The whole notebook of the sample links.
fn corvane() -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-courses/corvane.yaml")).unwrap()
}

fn errors(problems: &[Diagnostic]) -> Vec<&str> {
    problems.iter().filter(|d| d.severity == Severity::Error).map(|d| d.code).collect()
}

#[test]
fn the_samples_read_without_a_word() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-courses");
    let text = |name: &str| std::fs::read_to_string(folder.join(name)).unwrap();
    let mut read = 0;
    for place in ["", "players", "days", "pupils"] {
        for entry in std::fs::read_dir(folder.join(place)).unwrap() {
            let path = entry.unwrap().path();
            if !path.is_file() {
                continue;
            }
            let content = std::fs::read_to_string(&path).unwrap();
            let kind = content.lines().find_map(|l| l.strip_prefix("format: ")).and_then(FileKind::of_format);
            let course_of = |name: &str| course::read(&text(name)).0.unwrap();
            let problems = match kind {
                Some(FileKind::CourseNotebook) => course::read(&content).1,
                Some(FileKind::Player) => player::read(&content).1,
                Some(FileKind::NotebookLayer) => {
                    let name = course::read_layer(&content, None).0.unwrap().course;
                    course::read_layer(&content, Some(&course_of(&name))).1
                }
                Some(FileKind::DaySheet) => {
                    let name = course::read_day(&content, None).0.unwrap().course;
                    course::read_day(&content, Some(&course_of(&name))).1
                }
                _ if path.extension().is_some_and(|e| e == "csv") => player::read_pupils(&content).1,
                _ => continue,
            };
            assert_eq!(problems, [], "{}", path.display());
            read += 1;
        }
    }
    assert!(read >= 8, "{read} samples");
}

#[test]
fn a_broken_hole_leaves_the_other_seventeen() {
    let text = corvane();
    // A slip of the syntax, a number that is none, a hole that is no map, a tee list that says nothing.
    let slips = [
        ("  - hole: 7\n", "  - hole: 7\n    aims: [ { name: open\n", 17),
        ("  - hole: 7\n", "  - hole: seven\n", 17),
        ("  - hole: 7\n", "  - hole: 7\n    tees: {}\n    was:\n", 17),
    ];
    for (from, to, left) in slips {
        let broken = text.replacen(from, to, 1);
        assert_ne!(broken, text);
        let (course, problems) = course::read(&broken);
        let course = course.unwrap();
        let numbers: Vec<u8> = course.holes.iter().map(|h| h.number).collect();
        assert!(!errors(&problems).is_empty(), "{to}");
        assert!(course.holes.len() >= left, "{to}: {numbers:?} {problems:#?}");
        for (hole, whole) in course.holes.iter().zip(course::read(&text).0.unwrap().holes.iter()) {
            if hole.number == whole.number && hole.number < 7 {
                assert_eq!(hole, whole, "holes before the slip are as they were");
            }
        }
        assert!(
            !problems.iter().any(|d| d.code.starts_with("stroke-index") || d.code == "hole-missing"),
            "no echo: {problems:#?}"
        );
    }
}

#[test]
fn every_problem_of_a_file_is_told_at_once_in_its_order() {
    let text = "format: course-notebook/1
course: { name: L, units: feet, firmness: hard }
tees: [ { name: Back, men: { rating: 72.94, slope: 12 } } ]
holes:
  - { hole: 1, par: 9, stroke_index: 1, tees: { Bck: 400 } }
  - { hole: 2, par: 4, stroke_index: 2, tees: { Back: 400 }, notes: [ { at: fairway, text: no, seen: 2026-02-30 } ] }
";
    let (course, problems) = course::read(text);
    let codes: Vec<&str> = problems.iter().map(|d| d.code).collect();
    let expected = [
        "unknown-units",
        "unknown-word",
        "not-a-number",
        "slope-range",
        "par-range",
        "unknown-tee",
        "hole-count",
        "unknown-word",
        "not-a-date",
    ];
    assert_eq!(codes, expected);
    let course = course.unwrap();
    assert_eq!(course.holes.len(), 1);
    assert_eq!(course.unread, [1]);
    assert_eq!(course.holes[0].notes[0].written.text.as_deref(), Some("no"), "a note may say no");
}

#[test]
fn scalars_mean_what_their_key_makes_of_them() {
    let text = "format: course-notebook/1
course: { name: 1984, units: yards, edition: 2026-05, by: null }
tees:
  - { name: 58, men: { rating: 71.0, slope: 129 } }
  - { name: no }
holes:
  - hole: 04
    name: on
    par: 04
    stroke_index: 07
    tees: { 58: 0401, no: { length: 380, across: 3l } }
    notes: [ { at: tee, text: no }, { at: tee, text: 0x10, when: { tees: 58, pupil: ~ } } ]
";
    let (course, problems) = course::read(text);
    assert_eq!(errors(&problems), ["hole-missing"], "{problems:#?}");
    let course = course.unwrap();
    let hole = &course.holes[0];
    assert_eq!(
        (course.name.as_str(), course.edition.as_deref(), course.by.as_deref()),
        ("1984", Some("2026-05"), Some("null"))
    );
    assert_eq!((hole.number, hole.name.as_deref(), hole.par.men), (4, Some("on"), Some(4)));
    assert_eq!(
        hole.tees.iter().map(|t| (t.name.as_str(), t.length)).collect::<Vec<_>>(),
        [("58", 401.0), ("no", 380.0)]
    );
    assert_eq!(hole.notes[0].written.text.as_deref(), Some("no"));
    assert_eq!(hole.notes[1].written.when.tees.as_deref(), Some(&["58".to_owned()][..]));
    assert_eq!(hole.notes[1].written.when.pupil.as_deref(), Some(&["~".to_owned()][..]));

    let (player, problems) = player::read("format: player/1\nname: no\nhandicap: { index: +1.3, ratings: men }\n");
    assert_eq!(problems, []);
    let player = player.unwrap();
    assert_eq!((player.name.as_str(), player.index.unwrap().tenths()), ("no", -13));
    assert_eq!(player.index_text().as_deref(), Some("+1.3"));
}

#[test]
fn every_key_of_the_design_is_kept() {
    // The hole of the design page, whole; its numbers are in docs/notebook.md too.
    let text = std::fs::read_to_string(tests_dir().join("every-key.yaml")).unwrap();
    let (course, problems) = course::read(&text);
    assert_eq!(problems.iter().map(|d| d.code).collect::<Vec<_>>(), ["hole-missing"], "{problems:#?}");
    let course = course.unwrap();
    let hole = course.hole(4).unwrap();
    assert_eq!(course.elevation, Some(12.0));
    assert_eq!(course.ground.as_deref(), Some("corvane.geojson"));
    assert_eq!(course.credit, Some(course::Credit::openstreetmap()));
    assert_eq!(course.holes[0].id.as_deref(), Some("fourth"));
    assert_eq!(course.tees[0].ratings.men.unwrap().back_nine.unwrap().slope, 137);
    assert_eq!(course.circuits[0].holes, [4, 4]);
    assert_eq!(course.landmarks[0].bearing, Some(251.0));
    assert_eq!((hole.par.women, hole.stroke_index.women, hole.bearing), (Some(5), Some(9), Some(248.0)));
    let club = hole.tee("Club").unwrap();
    assert_eq!((club.at.0, club.across.0), (26.5, -3.0), "front and half the depth less its length");
    let forward = hole.tee("Forward").unwrap();
    assert_eq!((forward.at.0, forward.across.0), (70.0, -18.0));
    assert_eq!((hole.bends[0].at.0, hole.bends[0].turn_deg), (262.0, 18.0));
    assert_eq!(hole.heights[1].1, -4.0);
    assert_eq!(hole.landmarks[0].seen_from.as_deref(), Some("tee"));
    let names: Vec<Option<&str>> = hole.sketch.pieces.iter().map(|p| p.name.as_deref()).collect();
    assert_eq!(names, [None, Some("Kettle"), Some("the creek"), None, None]);
    let green = hole.sketch.green.as_ref().unwrap();
    assert_eq!((green.turned_deg, green.falls, green.slopes.len()), (15.0, Some((1.8, 7.0)), 1));
    assert_eq!(green.height_grid.as_ref().unwrap().rows.len(), 2);
    assert_eq!(hole.ground.features.len(), 5);
    let aim = &hole.aims[0];
    assert_eq!((aim.name.as_deref(), aim.at.unwrap().0, aim.across.unwrap().0), (Some("high line"), 262.0, -4.0));
    assert_eq!(aim.written.when.carry.unwrap().from, Some(200.0));
    assert_eq!(hole.dangers[0].of.as_deref(), Some("Kettle"));
    assert_eq!(hole.layups[0].to_middle, Some(90.0));
    assert_eq!(hole.notes[0].written.until.as_deref(), Some("2026-10-01"));
    assert_eq!(hole.walk_in.as_deref(), Some("along the left edge, below the front"));
    assert_eq!(hole.caution.as_deref(), Some("blind over the ridge; ring the bell when clear"));
}

#[test]
fn metres_are_held_as_yards_and_one_hole_answers_alike_in_both() {
    let yards = std::fs::read_to_string(tests_dir().join("course.yaml")).unwrap();
    let metres = yards.replace("units: yards", "units: metres");
    let (in_yards, in_metres) = (course::read(&yards).0.unwrap(), course::read(&metres).0.unwrap());
    let factor = 1.0 / 0.9144;
    let (a, b) = (in_yards.hole(1).unwrap(), in_metres.hole(1).unwrap());
    assert!((a.tees[0].length * factor - b.tees[0].length).abs() < 1e-9);
    assert!(
        (a.sketch.green.as_ref().unwrap().front.0 * factor - b.sketch.green.as_ref().unwrap().front.0).abs() < 1e-9
    );
    assert!((a.aims[0].across.unwrap().0 * factor - b.aims[0].across.unwrap().0).abs() < 1e-9);
}

#[test]
fn a_file_for_a_later_marram_opens_to_read() {
    let text = std::fs::read_to_string(tests_dir().join("course.yaml")).unwrap();
    let later = text.replace("course-notebook/1", "course-notebook/1.1").replace("  units:", "  tide: high\n  units:");
    let (course, problems) = course::read(&later);
    assert!(course.unwrap().read_only);
    assert_eq!(
        problems.iter().map(|d| (d.code, d.severity)).collect::<Vec<_>>(),
        [("later-format", Severity::Warning), ("unknown-key", Severity::Warning),]
    );
    let player = player::read("format: player/1.2\nname: Ana\nshoes: 8\n").0.unwrap();
    assert!(player.read_only);
}

#[test]
fn a_layer_adds_replaces_and_hides_and_says_whose_it_is() {
    let course = small_course();
    let layer = "format: notebook-layer/1
course: course.yaml
by: Wren
for: Wren Hallam
holes:
  - hole: 1
    hides: [gone]
    aims:
      - { name: low line, at: 230, across: 6R, replaces: high line }
      - hides: also gone
    notes:
      - { at: tee, text: Mine. }
";
    let (layer, problems) = course::read_layer(layer, Some(&course));
    let layer = layer.unwrap();
    assert_eq!(problems.iter().map(|d| d.code).collect::<Vec<_>>(), ["replaces-nothing", "replaces-nothing"]);
    assert!(layer.is_for("wren hallam") && !layer.is_for("Callum Reive"));
    let hole = course::HoleNotes::with_layers(course.hole(1).unwrap(), [&layer]);
    assert_eq!(hole.aims.len(), 1);
    assert_eq!(hole.aims[0].name.as_deref(), Some("low line"));
    assert_eq!(hole.aims[0].written.from_layer.as_deref(), Some("Wren"));
    assert_eq!(hole.notes[0].written.from_layer.as_deref(), Some("Wren"));
    let told: Vec<&str> = problems.iter().map(|d| d.message.as_str()).collect();
    assert_eq!(told, ["hole 1 has nothing named `gone`", "hole 1 has nothing named `also gone`"]);
    assert_eq!(course.hole(1).unwrap().aims[0].written.from_layer, None);
}

#[test]
fn a_day_sheet_tells_what_is_known() {
    let course = small_course();
    let text = "format: day-sheet/1
date: 2026-05-16
course: course.yaml
play: stableford
kind: for handicap
wind: { speed: 36 km/h, from: 90 }
markers: { Back: 6 forward }
hole_locations: { 1: '24 on, 5 from left', 04: front, 9: back right }
";
    let (day, problems) = course::read_day(text, Some(&course));
    assert_eq!(problems, []);
    let day = day.unwrap();
    assert!((day.wind.unwrap().speed_m_s - 10.0).abs() < 1e-12);
    assert!(day.kind.under_the_rules());
    assert_eq!(day.markers_forward(&course, "Back"), 6.0);
    use course::HoleLocationArea::{Back, Front, Left, Right};
    assert_eq!(day.areas(&course, course.hole(1).unwrap()), Some(vec![Back, Left]));
    assert_eq!(day.areas(&course, course.hole(4).unwrap()), Some(vec![Front]));
    assert_eq!(day.areas(&course, course.hole(9).unwrap()), Some(vec![Back, Right]));
    assert_eq!(day.areas(&course, course.hole(2).unwrap()), None, "not on the sheet");

    let twice = text.replace("9: back right", "4: back");
    let (day, problems) = course::read_day(&twice, Some(&course));
    assert_eq!(errors(&problems), ["hole-twice"], "4 and 04 are one hole");
    assert_eq!(day.unwrap().hole_locations.len(), 2);
    let (_, problems) = course::read_day(&text.replace("9: back", "10: back"), Some(&course));
    assert_eq!(errors(&problems), ["unknown-hole"]);
}

#[test]
fn a_round_is_asked_of_the_course_by_tee_and_card() {
    use course::Card::{Men, Women};
    let (course, _) = course::read(&corvane());
    let course = course.unwrap();
    let by_hand = |pick: fn(&course::Hole) -> u32| course.holes.iter().map(pick).sum::<u32>();
    assert_eq!(course.par(Men, None), Some(by_hand(|h| u32::from(h.par.men.unwrap()))));
    assert_eq!(course.par(Women, None), Some(by_hand(|h| u32::from(h.par.women.unwrap()))));
    assert_eq!(course.playing_order(None), (1..=18).collect::<Vec<u8>>());
    let mut indexes = course.stroke_indexes(Women, None).unwrap();
    indexes.sort_unstable();
    assert_eq!(indexes, (1..=18).collect::<Vec<u8>>());
    assert_eq!(course.ratings("Back", Men, None).unwrap().whole.slope, 134);
    assert_eq!(course.rating_of("Back", Men, None, 10, 18).unwrap().rating.tenths(), 367);
    assert_eq!(course.ratings("Short", Men, None), None, "not rated for the card");
    assert!(course.length("Back", None).unwrap() > course.length("Club", None).unwrap());
    assert_eq!(course.length("Blue", None), None);

    let text = std::fs::read_to_string(tests_dir().join("course.yaml")).unwrap();
    let circuit = "circuits: [ { name: twice round, holes: [1..9, 1..9] } ]\nholes:";
    let (twice, problems) = course::read(&text.replace("holes:", circuit));
    assert_eq!(problems, []);
    let twice = twice.unwrap();
    let circuit = twice.circuit("twice round");
    assert_eq!(twice.played(circuit).len(), 18);
    assert_eq!(twice.par(Men, circuit).unwrap(), 2 * twice.par(Men, None).unwrap());
}

#[test]
fn starter_files_have_no_error() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/cli/starters");
    let starter = |name: &str| {
        let text = std::fs::read_to_string(folder.join(name)).unwrap();
        let filled =
            [("{{NAME}}", "New Links"), ("{{COURSE}}", "new-links"), ("{{PERSON}}", "Ana"), ("{{DATE}}", "2026-05-16")];
        filled.iter().fold(text, |text, (from, to)| text.replace(from, to))
    };
    let (course, problems) = course::read(&starter("course.yaml"));
    // Two holes are a beginning; that their stroke indexes are not asked for is said.
    assert_eq!(problems.iter().map(|d| d.code).collect::<Vec<_>>(), ["hole-count"], "{problems:#?}");
    let course = course.unwrap();
    assert_eq!(player::read(&starter("player.yaml")).1, []);
    assert_eq!(course::read_layer(&starter("layer.yaml"), Some(&course)).1, []);
    assert_eq!(course::read_day(&starter("day.yaml"), Some(&course)).1, []);
}

/// Whatever is in a file, reading it ends, and every place it names lies in the text between two characters.
fn sound(text: &str) {
    let course = small_course();
    let found = [
        course::read(text).1,
        course::read_layer(text, Some(&course)).1,
        course::read_day(text, Some(&course)).1,
        player::read(text).1,
        player::read_pupils(text).1,
    ];
    for d in found.iter().flatten() {
        assert!(text.get(d.span.start..d.span.end).is_some(), "{d:?}");
        assert!(!d.message.is_empty() && !d.message.contains('\n'), "{d:?}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn damaged_files_are_read_to_their_end(
        file in 0..5_usize,
        cuts in prop::collection::vec((any::<prop::sample::Index>(), 0..40_usize, "[-0-9a-zäL.:,#{}\\[\\] \n]{0,6}"), 1..6),
    ) {
        let name = ["every-key.yaml", "course.yaml", "broken/replaces-nothing.yaml", "broken/too-many-clubs.yaml", "broken/off-the-green.yaml"][file];
        let mut text = std::fs::read_to_string(tests_dir().join(name)).unwrap();
        for (place, len, with) in cuts {
            let whole: Vec<char> = text.chars().collect();
            let from = place.index(whole.len().max(1)).min(whole.len());
            let to = (from + len).min(whole.len());
            text = whole[..from].iter().collect::<String>() + &with + &whole[to..].iter().collect::<String>();
        }
        sound(&text);
    }

    #[test]
    fn any_value_of_any_key_is_read_or_reported(
        line in any::<prop::sample::Index>(),
        value in "(-?[0-9]{1,20}(\\.[0-9]{0,4})?[LR]?(\\.\\.)?|[a-z ]{0,12}|\\{ at: 3 \\}|\\[ 1, a \\]|~|'')",
    ) {
        let text = std::fs::read_to_string(tests_dir().join("every-key.yaml")).unwrap();
        let lines: Vec<&str> = text.lines().collect();
        let at = line.index(lines.len());
        let changed: Vec<String> = lines.iter().enumerate().map(|(i, l)| match l.split_once(": ") {
            Some((key, _)) if i == at => format!("{key}: {value}"),
            _ => (*l).to_owned(),
        }).collect();
        sound(&changed.join("\n"));
    }
}

#[test]
fn slips_in_one_place_are_named_for_what_they_are() {
    let text = std::fs::read_to_string(tests_dir().join("every-key.yaml")).unwrap();
    let slips = [
        ("front: 412", "front: -412", &["green-before-tee"][..]),
        ("length: 428", "length: 432", &["length-disagrees"]),
        ("length: 428", "length: 430", &[]),
        ("{ at: 70, across: 18L }", "{ at: 78, across: 18L }", &["length-disagrees"]),
        ("across: 2R", "across: 2", &["bare-across"]),
        ("turn: 18R", "turn: 18", &["bare-across"]),
        ("turn: 18R", "turn: 170R", &["out-of-range"]),
        ("+2..18", "-2..18", &["minus-handicap"]),
        ("+2..18", "18..+2", &["range-backwards"]),
        ("tees: [Back, Club]", "tees: [Back, Culb]", &["unknown-tee"]),
        ("line_from: Back", "line_from: Blue", &["unknown-tee"]),
        ("carry: 200..\n", "carry: 200 yards\n", &["not-a-range"]),
        ("wind: into", "wind: against", &["unknown-word"]),
        ("colour: red", "color: red", &["unknown-key", "colour-assumed"]),
        ("elevation: 12", "elevation: 12 yards", &["not-a-number"]),
        ("elevation: 12", "elevation: 1e3", &["not-a-number"]),
        ("elevation: 12", "elevation: NaN", &["not-a-number"]),
        ("seen: 2026-05-03", "seen: 2026-13-01", &["not-a-date"]),
        (
            "text: \"The face means a wedge out sideways.\"",
            "text: The face means a wedge, out sideways",
            &["comma-ended-text"],
        ),
        ("towards: 7", "towards: 13", &["out-of-range"]),
        ("slope: 121", "slope: 54", &["slope-range"]),
        ("stroke_index: { men: [1, 2], women: [2, 1] }", "stroke_index: [1]", &["stroke-index-count"]),
        ("from: 240", "from: 240 to the flag", &["not-a-place"]),
        ("- { from: 60, to: 210, across: 30L..70L }", "- { from: 60, to: 210, across: 30L..70 }", &["bare-across"]),
        ("ground: corvane.geojson", "ground: C:\\secrets", &["path-outside"]),
    ];
    for (from, to, expected) in slips {
        let slip = text.replacen(from, to, 1);
        assert_ne!(slip, text, "{from}");
        let codes: Vec<&str> = course::read(&slip).1.iter().map(|d| d.code).filter(|c| *c != "hole-missing").collect();
        let (mut codes, mut expected) = (codes, expected.to_vec());
        codes.sort_unstable();
        expected.sort_unstable();
        assert_eq!(codes, expected, "{to}");
    }
}

#[test]
fn a_mistyped_key_is_one_mistake_named_at_its_own_line() {
    let good = std::fs::read_to_string(tests_dir().join("course.yaml")).unwrap();
    let bad = good.replacen("    par: 4", "    parr: 4", 1);
    let (_, problems) = course::read(&bad);
    let told: Vec<(&str, &str)> = problems.iter().map(|d| (d.code, d.advice.as_str())).collect();
    assert_eq!(told.first(), Some(&("unknown-key", "did you mean `par`?")), "{problems:#?}");
    assert!(problems.iter().all(|d| d.code != "missing-key"), "{problems:#?}");
    let without = good.replacen("    par: 4\n", "", 1);
    assert!(course::read(&without).1.iter().any(|d| d.code == "missing-key"), "a missing key is still asked for");
}

#[test]
fn a_danger_may_name_ground_that_nobody_named() {
    let text = std::fs::read_to_string(tests_dir().join("every-key.yaml")).unwrap();
    let surveyed_later = text.replace("  ground: corvane.geojson\n", "");
    let made = |of: &str| {
        let text = surveyed_later.replace("of: Kettle", &format!("of: {of}"));
        course::read(&text).1.iter().filter(|d| d.code == "unknown-piece").count()
    };
    assert_eq!(made("trees left"), 0, "a name made of kind and place");
    assert_eq!(made("green"), 0);
    assert_eq!(made("kettle"), 0, "its id");
    assert_eq!(made("Kettel"), 1);
}
