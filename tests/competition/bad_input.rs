//! Bad input: each problem by its place with a cure, nothing used in part.

use crate::scene::{copy_of_medal, marram};
use marram::competition::codes::CODES;
use marram::competition::read::{read_change, read_field, read_keying, read_ruling, read_setup, read_sides};
use marram::notebook::{Diagnostic, Lines, Severity};
use std::collections::BTreeSet;

const SETUP: &str = "format: competition/1\nname: T\ncourse: c.yaml\nrounds: [ { date: 2026-05-16 } ]\n";

fn set_up(rest: &str) -> Vec<Diagnostic> {
    read_setup(&format!("{SETUP}{rest}")).1
}

fn events(event: &str) -> Vec<Diagnostic> {
    set_up(&format!("events:\n  - {{ {event} }}\n"))
}

fn field(text: &str) -> Vec<Diagnostic> {
    let holes: Vec<u8> = (1..=18).collect();
    read_field(text, &holes, true).1
}

fn sides(text: &str) -> Vec<Diagnostic> {
    let holes: Vec<u8> = (1..=18).collect();
    let (field, _) = read_field("id,name,handicap_index\nA,Ann,1.0\nB,Bo,2.0\nC,Cy,3.0\n", &holes, true);
    read_sides(text, &field, 2).1
}

fn keying(scores: &str) -> Vec<Diagnostic> {
    read_keying(&format!("format: keying/1\nid: A\nkeyer: w\nscores: \"{scores}\"\n"), "k", |_| Some(18)).1
}

fn ruling(returned: &str, stands: &str) -> Vec<Diagnostic> {
    let text = format!(
        "format: ruling/1\nid: A\nhole: 1\nreturned: {returned}\nstands: {stands}\nrule: 3.3b(3)\nwhy: w\nby: C\nat: 2026-05-16T10:00\n"
    );
    read_ruling(&text, "r").1
}

/// One text for each diagnostic, which yields it alone.
fn examples() -> Vec<Vec<Diagnostic>> {
    vec![
        events("name: a, play: skins"),
        events("name: a, play: stroke, allowance: 120"),
        events("name: a, play: stroke, ties: [ last 9, coin ]"),
        events("name: a, play: stroke, ties: [ share, last 9 ]"),
        set_up("events:\n  - { name: a, play: stroke }\n  - { name: A, play: stroke }\n"),
        set_up("events: []\n"),
        events("name: a, play: stroke, divisions: [ { name: A, category: x }, { name: A, category: y } ]"),
        events("name: a, play: stroke, divisions: [ { name: A, index: ..9.4 }, { name: B, index: 9.4.. } ]"),
        events("name: a, play: stroke, divisions: [ { name: A, index: 9.4 } ]"),
        events("name: a, play: stroke, holes: first nine"),
        events("name: a, play: stroke, holes: 10..27"),
        events("name: a, play: stroke, rounds: 2"),
        events("name: a, play: match"),
        events("name: a, play: maximum, maximum: lots"),
        set_up("handicaps: { rules: 1999 }\nevents: [ { name: a, play: stroke } ]\n"),
        events("name: a, merit: { of: [ b ], points: [ 1 ] }"),
        set_up("events: [ { name: a, play: stroke } ]\ndraws: [ { name: d, play: stroke, order: [ A, B ] } ]\n"),
        keying("4 0"),
        keying("4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4"),
        read_keying("format: keying/1\nid: A\nkeyer: w\nat: noon\nscores: \"4\"\n", "k", |_| Some(18)).1,
        ruling("5", "4"),
        ruling("none", "4"),
        read_change("format: change/1\nid: A\nwhat: index\nto: 12.45\nwhy: w\nby: C\nat: 2026-05-16T10:00\n", "c").1,
        read_keying("format: keying/1\nid: ../A\nkeyer: w\nscores: \"4\"\n", "k", |_| Some(18)).1,
        field("name,handicap_index,start_time\nAnn,1.0,9 o'clock\n"),
        field("name,handicap_index,status\nAnn,1.0,gone\n"),
        field("name,handicap_index,h1\nAnn,1.0,99\n"),
        field("name,handicap_index,h19\nAnn,1.0,4\n"),
        field("name,handicap_index,email\nAnn,1.0,a@example.org\n"),
        sides("id,player_1,player_2\nS1,A,Z\n"),
        sides("id,player_1,player_2\nS1,A,B\nS1,C,C\n").into_iter().filter(|d| d.code == "side-twice").collect(),
        sides("id,player_1,player_2\nS1,A,\n"),
        sides("team,who\nS1,A\n"),
    ]
}

#[test]
fn every_diagnostic_has_an_example_that_yields_it_alone() {
    let mut seen = BTreeSet::from(["field-tee"]); // Needs a course: below.
    for problems in examples() {
        let codes: BTreeSet<&str> = problems.iter().map(|d| d.code).collect();
        assert_eq!(codes.len(), 1, "{problems:#?}");
        for d in &problems {
            assert!(!d.advice.is_empty() && !d.advice.ends_with('.') && !d.message.ends_with('.'), "{d:?}");
        }
        seen.extend(codes);
    }
    let missing: Vec<&str> = CODES.iter().map(|code| code.text()).filter(|code| !seen.contains(code)).collect();
    assert!(missing.is_empty(), "no example of {missing:?}");
}

#[test]
fn the_list_of_the_field_is_refused_whole() {
    let holes: Vec<u8> = (1..=18).collect();
    for (text, message) in [
        ("name,handicap_index\nAnn,1.0\nAnn,2.0\n", "stands more than once"),
        ("name,handicap_index\nAnn,-1.3\n", "written with a plus"),
        ("name,handicap_index\nAnn,12.45\n", "too many decimals"),
        ("name,handicap_index,h1\nAnn,1.0,1/2\n", "is no score"),
        ("name,handicap_index,h1\nAnn,1.0,0\n", "is no score"),
        ("name,handicap_index,h1\nAnn,1.0,99\n", "is no score"),
        ("name,handicap_index,h1\nAnn,1.0,five\n", "is no score"),
        ("name;handicap_index\nAnn;12,45\n", "too many decimals"),
        ("id,name,handicap_index\nA,Ann,1.0\nA,Bo,2.0\n", "stands twice"),
        ("id,name,handicap_index\n../../x,Ann,1.0\n", "cannot be an id"),
        ("name\nAnn\n", "no column `handicap_index`"),
        ("name,handicap_index\nAnn,\n", "has no handicap"),
    ] {
        let (entries, problems) = read_field(text, &holes, true);
        assert!(entries.is_empty(), "{text}");
        assert!(
            problems.iter().any(|d| d.severity == Severity::Error && d.message.contains(message)),
            "{text}: {problems:?}"
        );
    }
    // Decimal commas between semicolons, lost plus signs in the spellings that keep them, a mark and CR LF.
    let (entries, problems) =
        read_field("\u{feff}Name;Handicap Index\r\nAnn;12,4\r\nBo;'+1,3\r\nCy;plus 0,4\r\n", &holes, true);
    assert_eq!(problems, []);
    let read: Vec<String> = entries.iter().map(|e| e.index.unwrap().to_string()).collect();
    assert_eq!(read, ["12.4", "+1.3", "+0.4"]);
}

#[test]
fn a_date_for_a_score_is_placed_and_explained() {
    let text = "name,handicap_index,h1,h2\nAnn,1.0,4,05-Apr\n";
    let problems = field(text);
    let place = Lines::new(text).place(problems[0].span.start);
    assert_eq!((place.line, place.column), (2, 11));
    assert!(problems[0].advice.contains("spreadsheet may have made a date"));
}

#[test]
fn the_command_names_every_file_and_totals_nothing() {
    let folder = copy_of_medal();
    let at = |name: &str| folder.path().join(name);
    let text = std::fs::read_to_string(at("field.csv")).unwrap();
    std::fs::write(at("field.csv"), text.replacen(";Tern;", ";Teal;", 1).replacen(";8,0;", ";8,05;", 1)).unwrap();
    std::fs::write(at("cards/M001/wren.yaml"), "format: keying/1\nid: M001\nkeyer: wren\nscores: \"4 3 99\"\n")
        .unwrap();
    let said = marram(&["total", ".", "--json"], folder.path());
    assert_eq!((said.code, said.out.as_str()), (1, ""));
    assert!(said.err.contains("field.csv:") && said.err.contains("too many decimals"), "{}", said.err);
    assert!(said.err.contains("wren.yaml:4:") && said.err.contains("`99`"), "{}", said.err);
    let checked = marram(&["check", "."], folder.path());
    assert_eq!(checked.code, 1);
    assert!(checked.out.contains("field.csv") && checked.out.contains("wren.yaml"), "{}", checked.out);
    std::fs::write(at("field.csv"), text.replacen(";Tern;", ";Teal;", 1)).unwrap();
    std::fs::write(at("cards/M001/wren.yaml"), "format: keying/1\nid: M001\nkeyer: wren\nscores: \"4 3\"\n").unwrap();
    let said = marram(&["total", "."], folder.path());
    assert!(said.code == 1 && said.err.contains("Saltgate has no tee `Teal`"), "{}", said.err);
}

#[test]
fn a_folder_that_is_not_there_and_one_without_a_field() {
    let folder = copy_of_medal();
    assert_eq!(marram(&["total", "nowhere"], folder.path()).code, 1);
    std::fs::remove_file(folder.path().join("field.csv")).unwrap();
    let said = marram(&["total", "."], folder.path());
    assert!(said.code == 1 && said.err.contains("field.csv"), "{}", said.err);
    std::fs::remove_file(folder.path().join("saltgate.yaml")).unwrap();
    let said = marram(&["total", "."], folder.path());
    assert!(said.code == 1 && said.err.contains("saltgate"), "{}", said.err);
}

proptest::proptest! {
    #[test]
    fn nothing_panics(text in "[a-z0-9:{}\\[\\],.\n \"#|>x+-]{0,200}") {
        let holes: Vec<u8> = (1..=18).collect();
        let _ = read_setup(&format!("{SETUP}{text}"));
        let _ = read_field(&text, &holes, true);
        let _ = read_keying(&format!("format: keying/1\n{text}"), "k", |_| Some(18));
        let _ = read_ruling(&format!("format: ruling/1\n{text}"), "r");
        let _ = read_change(&format!("format: change/1\n{text}"), "c");
        let _ = read_sides(&text, &[], 2);
    }
}
