//! `marram total`, `close`, `new competition`, `check` from outside.

use crate::scene::{copy_of_medal, marram};
use serde_json::Value;

#[test]
fn the_fixed_form_has_every_key() {
    let folder = copy_of_medal();
    let said = marram(&["total", ".", "--json"], folder.path());
    let total: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(total["schema"], "marram/total/1");
    assert!(said.out.starts_with("{\"schema\":"));
    for key in ["competition", "events", "problems"] {
        assert!(total.get(key).is_some(), "{key}");
    }
    for event in total["events"].as_array().unwrap() {
        for key in ["name", "play", "count", "division", "order"] {
            assert!(event.get(key).is_some(), "{key}");
        }
        for line in event["order"].as_array().unwrap() {
            for key in
                ["id", "place", "tied", "name", "gross", "net", "points", "playing_handicap", "decided_by", "status"]
            {
                assert!(line.get(key).is_some(), "{key}");
            }
        }
    }
    // An event with divisions has no overall object.
    let medals: Vec<&Value> =
        total["events"].as_array().unwrap().iter().filter(|e| e["name"] == "medal").map(|e| &e["division"]).collect();
    assert_eq!(medals, ["A", "B", "C"]);
}

#[test]
fn closing_writes_results_and_a_change_needs_a_reason() {
    let folder = copy_of_medal();
    let run = |args: &[&str]| marram(args, folder.path());
    assert_eq!(run(&["close", "."]).code, 0);
    let names = ["result-1.json", "result-1.txt", "result-1.csv", "result-1.md", "result-1.html", "record-1.csv"];
    for name in names {
        assert!(folder.path().join("results").join(name).is_file(), "{name}");
    }
    let again = run(&["close", "."]);
    assert!(again.code == 0 && again.out.contains("proved"), "{}", again.out);
    let total: Value = serde_json::from_str(&run(&["total", ".", "--json"]).out).unwrap();
    assert_eq!((&total["closed"]["result"], &total["closed"]["proved"]), (&Value::from(1), &Value::from(true)));
    // A late ruling.
    let ruling = "format: ruling/1\nid: M011\nhole: 1\nreturned: 5\nstands: disqualified\nrule: 3.3b(3)\nwhy: a stroke too few\nby: Committee\nat: 2026-05-17T09:00\n";
    let scores = std::fs::read_to_string(folder.path().join("cards/M011/wren.yaml")).unwrap();
    let first = scores.split("scores: \"").nth(1).unwrap().split(' ').next().unwrap();
    std::fs::write(
        folder.path().join("rulings/M011-1.yaml"),
        ruling.replace("returned: 5", &format!("returned: {first}")),
    )
    .unwrap();
    let total: Value = serde_json::from_str(&run(&["total", ".", "--json"]).out).unwrap();
    assert_eq!(total["closed"]["proved"], false);
    assert_eq!(total["closed"]["changed"][0], "rulings/M011-1.yaml (new)");
    assert_eq!(total["closed"]["same_total"], false);
    let refused = run(&["close", "."]);
    assert!(refused.code == 2 && refused.err.contains("--reason"), "{}", refused.err);
    assert_eq!(run(&["close", ".", "--reason", "a wrong score came to light"]).code, 0);
    let manifest: Value =
        serde_json::from_str(&std::fs::read_to_string(folder.path().join("results/result-2.json")).unwrap()).unwrap();
    assert_eq!(manifest["reason"], "a wrong score came to light");
    assert!(folder.path().join("results/result-1.json").is_file(), "the first result stays");
    // A written result that somebody edits is no longer proved.
    std::fs::write(folder.path().join("results/result-2.txt"), "I won").unwrap();
    let said = run(&["total", "."]);
    assert!(said.err.contains("no longer as it was written: results/result-2.txt"), "{}", said.err);
}

#[test]
fn nothing_missing_is_closed_over() {
    let folder = copy_of_medal();
    std::fs::remove_dir_all(folder.path().join("cards/M003")).unwrap();
    let said = marram(&["close", "."], folder.path());
    assert!(said.code == 1 && said.err.contains("no card has come in"), "{}", said.err);
    assert!(!folder.path().join("results").exists());
    assert_eq!(marram(&["total", "."], folder.path()).code, 0);
    assert_eq!(marram(&["total", ".", "--final"], folder.path()).code, 1);
}

#[test]
fn conflict_copies_are_found_and_named() {
    let folder = copy_of_medal();
    let cards = folder.path().join("cards/M003");
    let text = std::fs::read_to_string(cards.join("wren.yaml")).unwrap();
    std::fs::write(cards.join("wren (conflicted copy 2026-05-16).yaml"), &text).unwrap();
    let said = marram(&["total", ".", "--final"], folder.path());
    assert_eq!(said.code, 0, "the same scores change nothing: {}", said.err);
    assert!(said.err.contains("is a copy of wren's keying"), "{}", said.err);
    let (head, tail) = text.split_once("scores: \"").unwrap();
    std::fs::write(cards.join("wren (conflicted copy 2026-05-16).yaml"), format!("{head}scores: \"9{}", &tail[1..]))
        .unwrap();
    let said = marram(&["total", ".", "--json"], folder.path());
    let total: Value = serde_json::from_str(&said.out).unwrap();
    let told: Vec<&str> = total["problems"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|p| p["id"] == "M003")
        .map(|p| p["what"].as_str().unwrap())
        .collect();
    assert_eq!(told, ["mismatch", "conflict copy"]);
    std::fs::write(folder.path().join("field (1).csv"), "x").unwrap();
    assert!(marram(&["total", "."], folder.path()).err.contains("field (1).csv looks like a conflict copy"));
}

#[test]
fn any_line_explains_itself() {
    let folder = copy_of_medal();
    let said = marram(&["total", ".", "--explain", "M055"], folder.path());
    for words in [
        "by isla 2026-05-16T",
        "by wren",
        "penalty strokes added",
        "Course Handicap, unrounded and rounded",
        "Playing Handicap",
        "strokes",
        "medal, division",
    ] {
        assert!(said.out.contains(words), "{words} in {}", said.out);
    }
    let moved = marram(&["total", ".", "--explain", "M060"], folder.path()).out;
    assert!(
        moved.contains("the index of the day before stood in the field") && moved.contains("touches M060"),
        "{moved}"
    );
    assert_eq!(marram(&["total", ".", "--explain", "nobody"], folder.path()).code, 2);
    let cards = marram(&["total", ".", "--as", "cards"], folder.path()).out;
    assert!(cards.contains("confirmed") && cards.contains("withdrawn") && cards.contains("group 1 08:00"), "{cards}");
}

#[test]
fn a_new_competition_passes_check_and_totals_nobody() {
    let home = tempfile::tempdir().unwrap();
    let shelf = home.path().join("shelf");
    std::fs::create_dir_all(&shelf).unwrap();
    std::fs::copy(crate::scene::here("medal/saltgate.yaml"), shelf.join("saltgate.yaml")).unwrap();
    let said = marram(&["new", "competition", "Spring Medal"], home.path());
    assert_eq!(said.code, 0, "{}", said.err);
    let folder = shelf.join("competitions/spring-medal");
    let set_up = folder.join("competition.yaml");
    assert_eq!(said.out.trim(), set_up.display().to_string());
    for file in [&set_up, &folder.join("field.csv"), &folder] {
        let checked = marram(&["check", file.to_str().unwrap()], home.path());
        assert_eq!((checked.code, checked.out.as_str()), (0, ""), "{}", file.display());
    }
    let total = marram(&["total", "Spring Medal", "--json"], home.path());
    assert_eq!(total.code, 0, "{}", total.err);
    assert_eq!(marram(&["new", "competition", "Spring Medal"], home.path()).code, 1, "never over what is there");
    // Without any notebook it still passes.
    let bare = tempfile::tempdir().unwrap();
    let made = marram(&["new", "competition", "Autumn"], bare.path());
    assert_eq!(made.code, 0, "{}", made.err);
    assert_eq!(marram(&["check", made.out.trim()], bare.path()).code, 0);
}
