//! Edits by hand-made cases: which lines change, and the way back.

use marram::notebook::edit::{Edit, Path, Refusal, Value, apply};

const HOLE: &str = "\
format: course-notebook/1   # kind of file
# a comment of its own

holes:
  - hole: 4          # the long one
    name: Saltpan
    par: { men: 4, women: 5 }   # or one value
    bends: [ { at: 262, turn: 18R } ]
    tees:
      Back: { length: 428 }
      # the forward tee has moved
      Club: { length: 401, across: 3L }
    notes:
      - at: tee
        text: |   # prose
          Left half.
          # not a comment
      # between two notes
      - at: approach
        when: { hole_location: back }   # only then
        text: 'Long runs off: the front holds.'
    layups: []       # none yet
    aims:
    caution: blind over the ridge
  - hole: 5
    clubs: [
      driver,        # usually
      3 wood
    ]
    notes: [ { at: tee, text: go } ]
";

fn hole() -> Path {
    Path::new().key("holes").of("hole", "4")
}

/// Applies an edit to `HOLE` with both line ends; gives the lines that went (`-`) and came (`+`).
fn change(edit: &Edit) -> Vec<String> {
    let done = apply(HOLE, edit).unwrap_or_else(|e| panic!("{edit:?}: {e}"));
    let back =
        apply(&done.text, &done.inverse).unwrap_or_else(|e| panic!("back {:?}: {e}\n{}", done.inverse, done.text));
    assert_eq!(back.text, HOLE, "{edit:?}");
    let again = apply(&back.text, &back.inverse).unwrap_or_else(|e| panic!("again {:?}: {e}", back.inverse));
    assert_eq!(again.text, done.text);
    let crlf = apply(&HOLE.replace('\n', "\r\n"), edit).unwrap();
    assert_eq!(crlf.text, done.text.replace('\n', "\r\n"), "line ends stay");
    let (old, new): (Vec<&str>, Vec<&str>) = (HOLE.lines().collect(), done.text.lines().collect());
    let gone = old[done.old_lines.0 - 1..done.old_lines.1].iter().map(|l| format!("-{l}"));
    let come = new[done.lines.0 - 1..done.lines.1].iter().map(|l| format!("+{l}"));
    gone.chain(come).collect()
}

#[test]
fn a_text_is_set_in_its_own_style() {
    assert_eq!(change(&Edit::set(hole().key("name"), "Marram")), ["-    name: Saltpan", "+    name: Marram"]);
    assert_eq!(
        change(&Edit::set(hole().key("par").key("women"), "6")),
        ["-    par: { men: 4, women: 5 }   # or one value", "+    par: { men: 4, women: 6 }   # or one value"]
    );
    assert_eq!(
        change(&Edit::set(hole().key("hole"), "04")),
        ["-  - hole: 4          # the long one", "+  - hole: 04          # the long one"]
    );
    assert_eq!(
        change(&Edit::set(hole().key("notes").item(1).key("text"), "It's short: \"go\"")),
        ["-        text: 'Long runs off: the front holds.'", "+        text: 'It''s short: \"go\"'"]
    );
    assert_eq!(
        change(&Edit::set(hole().key("notes").item(0).key("text"), "Right half.\n\nAlways.")),
        ["-          Left half.", "-          # not a comment", "+          Right half.", "+", "+          Always."]
    );
    assert_eq!(
        change(&Edit::set(hole().key("caution"), "blind: ring the bell")),
        ["-    caution: blind over the ridge", "+    caution: \"blind: ring the bell\""]
    );
    assert_eq!(change(&Edit::set(hole().key("aims"), "x")), ["-    aims:", "+    aims: x"]);
    assert_eq!(
        change(&Edit::set(Path::new().key("holes").item(1).key("clubs").item(0), "driver, high")),
        ["-      driver,        # usually", "+      \"driver, high\",        # usually"]
    );
}

#[test]
fn a_number_becomes_a_map_and_back() {
    assert_eq!(
        change(&Edit::set(hole().key("par"), "4")),
        ["-    par: { men: 4, women: 5 }   # or one value", "+    par: 4   # or one value"]
    );
    assert_eq!(
        change(&Edit::set(hole().key("name"), Value::map([("men", "4"), ("women", "5")]))),
        ["-    name: Saltpan", "+    name: { men: 4, women: 5 }"]
    );
}

#[test]
fn entries_are_added() {
    assert_eq!(change(&Edit::add(hole(), "bearing", "248")), ["+    bearing: 248"]);
    assert_eq!(change(&Edit::add(hole().key("notes").item(1), "sure", "paced")), ["+        sure: paced"]);
    assert_eq!(
        change(&Edit::add(hole().key("tees").key("Back"), "across", "3L")),
        ["-      Back: { length: 428 }", "+      Back: { length: 428, across: 3L }"]
    );
    assert_eq!(change(&Edit::add(Path::new(), "by", "W. Hallam")), ["+by: W. Hallam"]);
    assert_eq!(
        change(&Edit::add(
            hole(),
            "walk",
            Value::map([("in", "along the left edge, below the front"), ("out", "past the back")])
        )),
        ["+    walk:", "+      in: along the left edge, below the front", "+      out: past the back"]
    );
    let sketch = Value::map([("green", Value::map([("front", "412"), ("depth", "31")]))]);
    assert_eq!(change(&Edit::add(hole(), "sketch", sketch)), ["+    sketch: { green: { front: 412, depth: 31 } }"]);
    assert_eq!(apply(HOLE, &Edit::add(hole(), "name", "x")), Err(Refusal::There("holes[hole 4].name".into())));
}

#[test]
fn items_are_pushed() {
    let note = Value::map([("at", "green"), ("text", "Slow up the slope, quick down it.")]);
    assert_eq!(
        change(&Edit::push(hole().key("notes"), note.clone())),
        ["+      - at: green", "+        text: Slow up the slope, quick down it."]
    );
    let bend = Value::map([("at", "300"), ("turn", "4L")]);
    assert_eq!(
        change(&Edit::push(hole().key("bends"), bend.clone())),
        ["-    bends: [ { at: 262, turn: 18R } ]", "+    bends: [ { at: 262, turn: 18R }, { at: 300, turn: 4L } ]"]
    );
    assert_eq!(
        change(&Edit::push(hole().key("layups"), note.clone())),
        [
            "-    layups: []       # none yet",
            "+    layups: # none yet",
            "+      - at: green",
            "+        text: Slow up the slope, quick down it."
        ]
    );
    assert_eq!(
        change(&Edit::push(hole().key("layups"), "x")),
        ["-    layups: []       # none yet", "+    layups: [x]       # none yet"]
    );
    assert_eq!(
        change(&Edit::push(hole().key("aims"), note.clone())),
        ["+      - at: green", "+        text: Slow up the slope, quick down it."]
    );
    assert_eq!(
        change(&Edit::push(hole().key("dangers"), note.clone())),
        ["+    dangers:", "+      - at: green", "+        text: Slow up the slope, quick down it."]
    );
    assert_eq!(
        change(&Edit::push(Path::new().key("holes").of("hole", "5").key("clubs"), "5 wood")),
        ["-      3 wood", "+      3 wood,", "+      5 wood"]
    );
    let prose = Value::map([("at", "tee"), ("text", "One line.\nAnd another.")]);
    assert_eq!(
        change(&Edit::push(hole().key("notes"), prose)),
        ["+      - at: tee", "+        text: |-", "+          One line.", "+          And another."]
    );
}

#[test]
fn things_are_removed() {
    assert_eq!(change(&Edit::remove(hole().key("name"))), ["-    name: Saltpan"]);
    assert_eq!(
        change(&Edit::remove(hole().key("hole"))),
        ["-  - hole: 4          # the long one", "-    name: Saltpan", "+  - name: Saltpan"]
    );
    assert_eq!(
        change(&Edit::remove(hole().key("notes").item(0))),
        ["-      - at: tee", "-        text: |   # prose", "-          Left half.", "-          # not a comment"]
    );
    assert_eq!(
        change(&Edit::remove(hole().key("notes").item(1))),
        [
            "-      - at: approach",
            "-        when: { hole_location: back }   # only then",
            "-        text: 'Long runs off: the front holds.'"
        ]
    );
    assert_eq!(
        change(&Edit::remove(hole().key("par").key("men"))),
        ["-    par: { men: 4, women: 5 }   # or one value", "+    par: { women: 5 }   # or one value"]
    );
    assert_eq!(
        change(&Edit::remove(hole().key("bends").item(0))),
        ["-    bends: [ { at: 262, turn: 18R } ]", "+    bends: []"]
    );
    assert_eq!(
        change(&Edit::remove(hole().key("notes").item(1).key("when").key("hole_location"))),
        ["-        when: { hole_location: back }   # only then", "+        when: {}   # only then"]
    );
    assert_eq!(change(&Edit::remove(hole().key("tees").key("Club"))), ["-      Club: { length: 401, across: 3L }"]);
    assert_eq!(change(&Edit::remove(Path::new().key("format"))), ["-format: course-notebook/1   # kind of file"]);
    assert_eq!(
        change(&Edit::remove(Path::new().key("holes").item(1).key("clubs").item(1))),
        ["-      driver,        # usually", "-      3 wood", "+      driver        # usually"]
    );
    assert_eq!(
        apply(HOLE, &Edit::remove(Path::new().key("holes").item(1).key("clubs").item(0))),
        Err(Refusal::Comment("holes[2].clubs".into()))
    );
}

#[test]
fn a_file_without_a_last_line_break_keeps_it_so() {
    let text = "a: 1\nb:\n  - x";
    let done = apply(text, &Edit::push(Path::new().key("b"), "y")).unwrap();
    assert_eq!(done.text, "a: 1\nb:\n  - x\n  - y");
    assert_eq!(apply(&done.text, &done.inverse).unwrap().text, text);
    let done = apply(&done.text, &Edit::remove(Path::new().key("b").item(1))).unwrap();
    assert_eq!(done.text, text);
    assert_eq!(apply(&done.text, &done.inverse).unwrap().text, "a: 1\nb:\n  - x\n  - y");
}

#[test]
fn the_files_own_indentation_is_followed() {
    let text = "a:\n- x: 1\nm:\n    n: 1\n";
    let items = Value::list(["several words in an item of a list", "which does not fit between brackets at all"]);
    let done = apply(text, &Edit::add(Path::new().key("m"), "p", items.clone())).unwrap();
    assert_eq!(
        done.text,
        "a:\n- x: 1\nm:\n    n: 1\n    p:\n    - several words in an item of a list\n    - which does not fit between brackets at all\n"
    );
    let done = apply("a:\n  -   x\n", &Edit::push(Path::new().key("a"), "y")).unwrap();
    assert_eq!(done.text, "a:\n  -   x\n  -   y\n");
}

#[test]
fn an_edit_is_taken_back_against_the_text_as_it_is_then() {
    let done = apply(HOLE, &Edit::push(hole().key("notes"), Value::map([("at", "green"), ("text", "Slow.")]))).unwrap();
    // Someone puts another note and another hole in front: the note is found where it has moved to.
    let moved =
        done.text.replacen("      - at: tee\n", "      - at: walk\n        text: go round\n      - at: tee\n", 1);
    let moved = moved.replacen("holes:\n", "holes:\n  - hole: 3\n", 1);
    let back = apply(&moved, &done.inverse).unwrap();
    assert_eq!(back.text, moved.replace("      - at: green\n        text: Slow.\n", ""));
    // Someone changes the note itself: it is theirs now.
    let theirs = done.text.replace("text: Slow.", "text: Slow!");
    assert_eq!(apply(&theirs, &done.inverse), Err(Refusal::Changed("holes[hole 4].notes[3]".into())));
    let set = apply(HOLE, &Edit::set(hole().key("name"), "Marram")).unwrap();
    let theirs = set.text.replace("Marram", "Couch");
    assert_eq!(apply(&theirs, &set.inverse), Err(Refusal::Changed("holes[hole 4].name".into())));
    // They only add a comment: the text is put back, the comment stays.
    let commented = set.text.replace("Marram", "Marram # was Saltpan");
    assert_eq!(apply(&commented, &set.inverse).unwrap().text, HOLE.replace("Saltpan", "Saltpan # was Saltpan"));
}

#[test]
fn an_edit_that_cannot_be_made_says_why() {
    let why = |text: &str, edit: Edit| apply(text, &edit).unwrap_err().to_string();
    assert_eq!(why(HOLE, Edit::set(hole().key("nme"), "x")), "there is nothing at holes[hole 4].nme");
    assert_eq!(why(HOLE, Edit::push(hole().key("name"), "x")), "holes[hole 4].name is a text, not a list");
    assert_eq!(why(HOLE, Edit::add(hole().key("notes"), "k", "x")), "holes[hole 4].notes is a list, not a map");
    assert_eq!(
        why("a: 1\nb: {\n", Edit::set(Path::new().key("a"), "2")),
        "line 2 has an error, so nothing is changed: this `{` is never closed"
    );
    assert_eq!(
        why(HOLE, Edit::set(hole().key("tees"), "x")),
        "a comment stands inside holes[hole 4].tees and would be lost; change it by hand"
    );
    assert_eq!(
        why("", Edit::add(Path::new(), "a", "1")),
        "line 1 has an error, so nothing is changed: nothing is written in this file"
    );
}

#[test]
fn every_hole_of_the_samples_takes_a_note_and_gives_it_back() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-courses");
    let note = Value::map([("at", "approach"), ("text", "Short is best: the back falls away, and the sand with it.")]);
    let mut holes = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|e| e != "yaml") {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        let (node, _) = marram::notebook::read(&text);
        let node = node.unwrap();
        for hole in node.get("holes").unwrap().items() {
            let number = hole.get("hole").and_then(|n| n.text()).unwrap();
            let path = Path::new().key("holes").of("hole", number).key("notes");
            let done = apply(&text, &Edit::push(path, note.clone())).unwrap();
            assert_eq!(done.old_lines.0, done.old_lines.1 + 1, "no line of the old text changes");
            assert!(done.changed().len() <= 3, "{:?}", done.changed());
            assert_eq!(apply(&done.text, &done.inverse).unwrap().text, text);
            holes += 1;
        }
    }
    assert!(holes >= 27, "{holes}");
}
