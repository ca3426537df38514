//! The commands of a writer of notebooks, run as programs: survey and survey again, note, merge, changes, scout, restore.

use crate::synthetic::{Board, eighteen};
use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

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

fn object(said: &Said) -> Value {
    assert_eq!(said.code, 0, "{}{}", said.out, said.err);
    serde_json::from_str(&said.out).unwrap_or_else(|e| panic!("{e}: {}", said.out))
}

/// A shelf with the sample links and its people.
fn shelf() -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    let samples = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-courses");
    for sub in ["players", "pupils"] {
        fs::create_dir(home.path().join(sub)).unwrap();
        for entry in fs::read_dir(samples.join(sub)).unwrap() {
            let path: PathBuf = entry.unwrap().path();
            fs::copy(&path, home.path().join(sub).join(path.file_name().unwrap())).unwrap();
        }
    }
    for file in ["corvane.yaml", "corvane.wren-hallam.yaml"] {
        fs::copy(samples.join(file), home.path().join(file)).unwrap();
    }
    home
}

/// A folder with a surveyed course of eighteen holes.
fn surveyed(board: &Board) -> tempfile::TempDir {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("links.json"), board.text()).unwrap();
    let said = marram(home.path(), &["survey", "links.json", "--out", "."]);
    assert_eq!(said.code, 0, "{}", said.err);
    home
}

#[test]
fn a_survey_writes_a_draft_that_passes_check_and_carries_its_credit() {
    for name in ["malta-polygons.osm", "porto-alegre-holes.osm", "isle-of-man-courses.osm", "reisterstown-water.osm"] {
        let Some(text) = crate::sample(name) else { return };
        let home = tempfile::tempdir().unwrap();
        fs::write(home.path().join(name), text).unwrap();
        let answer = object(&marram(home.path(), &["survey", name, "--out", "drafts", "--json"]));
        assert_eq!(answer["schema"], "marram/survey/1");
        assert_eq!(answer["attribution"], "© OpenStreetMap contributors");
        let written: Vec<PathBuf> =
            answer["written"].as_array().unwrap().iter().map(|p| PathBuf::from(p.as_str().unwrap())).collect();
        assert_eq!(written.len(), 2);
        for path in &written {
            let text = fs::read_to_string(path).unwrap();
            assert!(text.contains("© OpenStreetMap contributors") && text.contains("ODbL-1.0"), "{path:?}");
            let said = marram(home.path(), &["check", path.to_str().unwrap()]);
            assert!(said.code == 0 && !said.out.contains("error"), "{name}: {}", said.out);
        }
        let plain = marram(home.path(), &["survey", name]);
        assert!(plain.out.contains("openstreetmap.org/copyright"), "the credit is shown: {}", plain.out);
        // Every element that is not used is named.
        let ids = answer["unattached"].as_array().unwrap().len();
        assert_eq!(plain.out.matches("way/").count().min(ids), ids.min(plain.out.matches("way/").count()));
    }
}

#[test]
fn a_file_beyond_the_limit_is_refused_before_it_is_read() {
    let home = tempfile::tempdir().unwrap();
    let file = fs::File::create(home.path().join("huge.osm")).unwrap();
    file.set_len(200 * 1024 * 1024).unwrap();
    let started = std::time::Instant::now();
    let said = marram(home.path(), &["survey", "huge.osm"]);
    assert_eq!(said.code, 1);
    assert!(said.err.contains("huge.osm") && said.err.contains("64 MiB"), "{}", said.err);
    assert!(started.elapsed().as_secs() < 10, "nothing of it was read");
}

#[test]
fn surveyed_again_every_note_stays_and_only_ground_moves() {
    let home = surveyed(&eighteen());
    let book = home.path().join("links.yaml");
    let note = ["note", "links.yaml", "--hole", "3", "--at", "tee", "--text", "Left half, always."];
    assert_eq!(marram(home.path(), &note).code, 0);
    // The writer changes a length by the card, names a bunker and gives it a face, and writes a comment.
    let text = fs::read_to_string(&book).unwrap();
    let text = text.replacen("White: { length: 335 }", "White: { length: 341 }   # by the card", 1);
    let text = text.replacen("- { id: way/501 }", "- { id: way/501, name: The Pot, face: steep }", 1);
    fs::write(&book, &text).unwrap();

    // The map has moved the bunker of hole 2, has a new one on hole 4 and has lost that of hole 6.
    let mut board = eighteen();
    board.features.retain(|f| f["id"] != "way/502" && f["id"] != "way/506");
    board.area(
        "way/502",
        json!({ "golf": "bunker", "name": "Pit 2" }),
        (2.0 * 130.0 - 26.0, 400.0 - 252.0),
        (10.0, 16.0),
    );
    board.area("way/900", json!({ "golf": "bunker", "name": "New Pit" }), (4.0 * 130.0 + 30.0, 200.0), (10.0, 10.0));
    fs::write(home.path().join("links.json"), board.text()).unwrap();

    let waits = marram(home.path(), &["survey", "links.json", "--out", "."]);
    assert_eq!(waits.code, 1, "without --replace it only says what would move");
    assert!(waits.out.contains("New Pit") && waits.err.contains("--replace"), "{}{}", waits.out, waits.err);
    assert_eq!(fs::read_to_string(&book).unwrap(), text);

    let ground_before = fs::read_to_string(home.path().join("links.geojson")).unwrap();
    let answer = object(&marram(home.path(), &["survey", "links.json", "--out", ".", "--replace", "--json"]));
    let moved: Vec<String> = answer["moved"]
        .as_array()
        .unwrap()
        .iter()
        .map(|m| format!("{} {}", m["hole"], m["words"].as_str().unwrap()))
        .collect();
    assert!(moved.iter().any(|m| m.starts_with("2 Pit 2: 12 farther")), "{moved:#?}");
    assert!(moved.iter().any(|m| m.starts_with("4 new: New Pit")), "{moved:#?}");
    assert!(moved.iter().any(|m| m.starts_with("6 gone: Pit 6")), "{moved:#?}");
    assert!(!moved.iter().any(|m| m.starts_with("1 ")), "nothing moved on hole 1: {moved:#?}");
    assert!(answer["gone"].as_array().unwrap().iter().any(|g| g.as_str().unwrap().contains("way/506")));

    let after = fs::read_to_string(&book).unwrap();
    for kept in ["Left half, always.", "White: { length: 341 }   # by the card", "name: The Pot, face: steep"] {
        assert!(after.contains(kept), "{kept} is kept");
    }
    assert!(after.contains("way/900"), "the new bunker is there to be named");
    assert!(!after.contains("way/506"), "the lost one, of which nothing was written, is not");
    let said = marram(home.path(), &["check", "links.yaml"]);
    assert!(said.code == 0 && !said.out.contains("error"), "{}", said.out);

    // Surveyed once more nothing moves and nothing is touched.
    let again = object(&marram(home.path(), &["survey", "links.json", "--out", ".", "--replace", "--json"]));
    assert_eq!(again["moved"], json!([]));
    assert_eq!(fs::read_to_string(&book).unwrap(), after);

    // And everything can be put back.
    let back = marram(home.path(), &["restore", "links.yaml", "links.geojson"]);
    assert_eq!(back.code, 0, "{}", back.err);
    assert_eq!(fs::read_to_string(&book).unwrap(), text);
    assert_eq!(fs::read_to_string(home.path().join("links.geojson")).unwrap(), ground_before);
}

#[test]
fn what_the_writer_says_of_ground_by_hand_is_kept() {
    let home = surveyed(&eighteen());
    let path = home.path().join("links.geojson");
    let text = fs::read_to_string(&path).unwrap();
    // A bunker put on two holes, and one drawn by hand.
    let line = text.lines().find(|l| l.contains("\"way/503\"")).unwrap();
    let shared = line.replace("\"holes\":[3,4]", "\"holes\":[3]").replace("\"holes\":[3,2]", "\"holes\":[3]");
    let by_hand = line.replace("way/503", "my-own").replace("Pit 3", "Own Pit");
    let text =
        text.replace(line, &format!("{shared}\n{}", if line.ends_with(',') { by_hand } else { format!(",{by_hand}") }));
    fs::write(&path, text).unwrap();
    let said = marram(home.path(), &["survey", "links.json", "--out", ".", "--replace"]);
    assert_eq!(said.code, 0, "{}", said.err);
    let after = fs::read_to_string(&path).unwrap();
    assert!(after.contains("\"my-own\"") && after.contains("Own Pit"), "what was drawn by hand stays");
    let line = after.lines().find(|l| l.contains("\"way/503\"")).unwrap();
    assert!(line.contains("\"holes\":[3]"), "{line}");
}

#[test]
fn a_sketched_notebook_gets_ground_and_loses_nothing() {
    let home = tempfile::tempdir().unwrap();
    fs::write(home.path().join("links.json"), eighteen().text()).unwrap();
    let holes: String = (1..=18)
        .map(|n| format!("  - hole: {n}\n    par: 4\n    stroke_index: {n}\n    line_from: White\n    tees:\n      White: {{ length: {} }}   # mine {n}\n    sketch:\n      green: {{ front: {}, depth: 30, width: 24 }}\n", 330 + n * 5, 315 + n * 5))
        .collect();
    let text = format!(
        "format: course-notebook/1\ncourse:\n  name: Links\n  units: yards\ntees:\n  - name: White\n    men: {{ rating: 71.0, slope: 120 }}\nholes:\n{holes}"
    );
    fs::write(home.path().join("links.yaml"), &text).unwrap();
    let said = marram(home.path(), &["survey", "links.json", "--out", ".", "--replace"]);
    assert_eq!(said.code, 0, "{}", said.err);
    let after = fs::read_to_string(home.path().join("links.yaml")).unwrap();
    for line in text.lines() {
        assert!(after.lines().any(|l| l == line), "{line}");
    }
    assert!(after.contains("ground: links.geojson") && after.contains("bearing:"), "{after}");
    let check = marram(home.path(), &["check", "links.yaml"]);
    assert!(check.code == 0 && !check.out.contains("error"), "{}", check.out);
}

#[test]
fn a_layer_is_previewed_merged_and_put_back() {
    let home = shelf();
    let book = home.path().join("corvane.yaml");
    let (before, layer) = (fs::read(&book).unwrap(), fs::read(home.path().join("corvane.wren-hallam.yaml")).unwrap());
    let preview = object(&marram(home.path(), &["merge", "corvane", "Wren Hallam", "--json"]));
    assert_eq!(preview["written"], false);
    assert!(preview["holes"].as_array().unwrap().len() > 1);
    assert_eq!(fs::read(&book).unwrap(), before, "a preview touches nothing");
    let first = preview["holes"][0]["hole"].to_string();
    let said = marram(home.path(), &["merge", "corvane", "Wren Hallam", "--hole", &first, "--write"]);
    assert_eq!(said.code, 0, "{}", said.err);
    let check = marram(home.path(), &["check", "corvane.yaml", "corvane.wren-hallam.yaml"]);
    assert!(check.code == 0 && !check.out.contains("error"), "{}", check.out);
    assert_ne!(fs::read(&book).unwrap(), before);
    assert_eq!(marram(home.path(), &["merge", "corvane", "Wren Hallam", "--hole", &first]).code, 2, "it is taken");
    let back = marram(home.path(), &["restore", "corvane.yaml", "corvane.wren-hallam.yaml"]);
    assert_eq!(back.code, 0, "{}", back.err);
    assert_eq!(fs::read(&book).unwrap(), before);
    assert_eq!(fs::read(home.path().join("corvane.wren-hallam.yaml")).unwrap(), layer);
    let list = marram(home.path(), &["restore", "corvane.yaml", "--list"]);
    assert_eq!(list.out.lines().count(), 2, "what the restore replaced is kept too: {}", list.out);
    assert_eq!(marram(home.path(), &["restore", "corvane.yaml", "--to", "99"]).code, 1);
}

#[test]
fn changes_are_told_and_the_pupils_whose_plans_change() {
    let home = shelf();
    let text = fs::read_to_string(home.path().join("corvane.yaml")).unwrap();
    // The bunker Kettle goes into the middle of the fairway where drives of 214 and more finish.
    let new = text.replacen("from: 238, to: 256, across: 13L..27L", "from: 200, to: 250, across: 25L..25R", 1);
    assert_ne!(new, text);
    fs::write(home.path().join("corvane-new.yaml"), new).unwrap();
    let answer = object(&marram(
        home.path(),
        &["changes", "corvane.yaml", "corvane-new.yaml", "--pupils", "thursday-group", "--json"],
    ));
    assert_eq!(answer["schema"], "marram/changes/1");
    let changes = answer["changes"].as_array().unwrap();
    assert!(changes.iter().all(|c| c["hole"] == 4), "{changes:#?}");
    let pupils = answer["pupils"].as_array().unwrap();
    assert_eq!(pupils.len(), 3);
    let changed: Vec<&Value> = pupils.iter().flat_map(|p| p["holes"].as_array().unwrap()).collect();
    assert!(!changed.is_empty(), "{answer:#}");
    for hole in changed {
        assert_eq!(hole["hole"], 4);
        assert!(hole["more_strokes"].as_f64().unwrap() > 0.0, "{hole}");
    }
    let same = marram(home.path(), &["changes", "corvane.yaml", "corvane.yaml"]);
    assert!(same.code == 0 && same.out.contains("Nothing differs"), "{}", same.out);
    assert_eq!(marram(home.path(), &["changes", "corvane.yaml", "nowhere.yaml"]).code, 1);
}

#[test]
fn the_scout_is_told_to_measure_what_would_change_a_plan() {
    let home = tempfile::tempdir().unwrap();
    // A creek across a par 4 whose far edge decides between laying up and carrying it; the bunker behind the green does not.
    let text = |sure: &str| {
        format!(
            r#"format: course-notebook/1
course:
  name: Creek
  units: yards
tees:
  - name: Club
    men: {{ rating: 71.0, slope: 120 }}
holes:
  - hole: 1
    par: 4
    stroke_index: 1
    line_from: Club
    tees:
      Club: {{ length: 360 }}
    sketch:
      fairway:
        - [ {{ at: 120, across: 18L..18R }}, {{ at: 340, across: 16L..16R }} ]
      penalty:
        - {{ name: the creek, colour: red, from: 196, to: 208, across: 60L..60R{sure} }}
      bunkers:
        - {{ name: Back Pit, from: 400, to: 410, across: 20L..5L, sure: guess }}
      green: {{ front: 345, depth: 30, width: 26, sure: laser }}
"#
        )
    };
    fs::write(home.path().join("creek.yaml"), text(", sure: guess")).unwrap();
    let answer = object(&marram(home.path(), &["scout", "creek.yaml", "--json"]));
    let lines = answer["measure"].as_array().unwrap();
    assert!(lines.iter().any(|l| l["what"] == "the creek" && l["measure"] == "along"), "{answer:#}");
    assert!(lines.iter().all(|l| l["what"] != "Back Pit" && l["what"] != "green"), "{answer:#}");
    let first = &lines[0];
    assert!(first["share"].as_f64().unwrap() >= 0.25 && first["error_yd"] == 12.0, "{first}");
    // Measured, it is not on the list any more.
    fs::write(home.path().join("creek.yaml"), text(", sure: laser")).unwrap();
    let answer = object(&marram(home.path(), &["scout", "creek.yaml", "--json"]));
    assert_eq!(answer["measure"], json!([]));
}

#[test]
fn advice_is_given_when_it_is_asked_for() {
    let home = shelf();
    let plain = marram(home.path(), &["check", "corvane.yaml"]);
    let advised = marram(home.path(), &["check", "corvane.yaml", "--advice"]);
    assert_eq!((plain.code, advised.code), (0, 0), "advice is no error");
    assert!(plain.out.len() <= advised.out.len());
    let text = fs::read_to_string(home.path().join("corvane.yaml")).unwrap();
    fs::write(home.path().join("corvane.yaml"), text.replacen("        side: right\n", "", 1)).unwrap();
    let advised = marram(home.path(), &["check", "corvane.yaml", "--advice"]);
    assert!(advised.out.contains("does not say its side") && advised.code == 0, "{}", advised.out);
    assert!(!marram(home.path(), &["check", "corvane.yaml"]).out.contains("does not say its side"));
}
