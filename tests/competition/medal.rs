//! The worked medal against the total of `oracle.py`, which shares nothing with the program.

use crate::scene::{copy_of_medal, here, marram};
use serde_json::Value;

fn expected() -> Value {
    serde_json::from_str(&std::fs::read_to_string(here("expected.json")).unwrap()).unwrap()
}

#[test]
fn the_total_is_that_of_the_oracle() {
    let folder = copy_of_medal();
    let said = marram(&["total", ".", "--json", "--final"], folder.path());
    assert_eq!(said.code, 0, "{}", said.err);
    let ours: Value = serde_json::from_str(&said.out).unwrap();
    let expected = expected();
    let (ours, theirs) = (ours["events"].as_array().unwrap(), expected["events"].as_array().unwrap());
    assert_eq!(ours.len(), theirs.len());
    let mut compared = 0;
    for (own, other) in ours.iter().zip(theirs) {
        assert_eq!((&own["name"], &own["division"]), (&other["name"], &other["division"]));
        let (own, other) = (own["order"].as_array().unwrap(), other["order"].as_array().unwrap());
        assert_eq!(own.len(), other.len());
        for (own, other) in own.iter().zip(other) {
            compared += 1;
            for key in ["id", "place"] {
                assert_eq!(own[key], other[key], "{own} against {other}");
            }
            if other["place"].is_null() {
                assert_eq!(own["status"], other["status"], "{own} against {other}");
                continue;
            }
            assert_eq!(own["tied"], other["tied"], "{own} against {other}");
            assert_eq!(own["decided_by"], other["decided_by"], "{own} against {other}");
            assert_eq!(own["result"].as_i64().unwrap().abs(), other["figure"].as_i64().unwrap().abs(), "{own}");
        }
    }
    assert!(compared > 250, "{compared} lines");
}

#[test]
fn the_figures_of_the_ties_are_those_of_the_oracle() {
    let folder = copy_of_medal();
    let ours: Value = serde_json::from_str(&marram(&["total", ".", "--json"], folder.path()).out).unwrap();
    let expected = expected();
    let mut compared = 0;
    for (own, other) in ours["events"].as_array().unwrap().iter().zip(expected["events"].as_array().unwrap()) {
        for (own, other) in own["order"].as_array().unwrap().iter().zip(other["order"].as_array().unwrap()) {
            let Some(keys) = other["key"].as_array() else { continue };
            for (span, key) in own["spans"].as_array().unwrap().iter().zip(keys) {
                let (span, key) = (span["figure"].as_str().unwrap(), key.as_str().unwrap());
                // The oracle writes 61/2 where we write 30 1/2, and counts points below zero.
                assert_eq!(value(span), value(key.trim_start_matches('-')), "{own} against {other}");
                compared += 1;
            }
        }
    }
    assert!(compared > 100, "{compared} figures");
}

/// A mixed number as numerator and denominator in lowest terms.
fn value(text: &str) -> (i64, i64) {
    let (whole, part) = text.split_once(' ').unwrap_or(if text.contains('/') { ("0", text) } else { (text, "0/1") });
    let (top, bottom) = part.split_once('/').unwrap();
    let (whole, top, bottom): (i64, i64, i64) = (whole.parse().unwrap(), top.parse().unwrap(), bottom.parse().unwrap());
    (whole * bottom + top, bottom)
}

#[test]
fn the_order_of_the_field_is_of_no_matter() {
    let folder = copy_of_medal();
    let before = marram(&["total", ".", "--json"], folder.path()).out;
    let path = folder.path().join("field.csv");
    let text = std::fs::read_to_string(&path).unwrap();
    let (head, rows) = text.split_once("\r\n").unwrap();
    let mut rows: Vec<&str> = rows.lines().collect();
    rows.reverse();
    std::fs::write(&path, format!("{head}\r\n{}\r\n", rows.join("\r\n"))).unwrap();
    assert_eq!(before, marram(&["total", ".", "--json"], folder.path()).out);
}
