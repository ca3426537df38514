//! The four samples against the values that stand beside them (their README: computed with other code).

use crate::{sample, survey};
use marram::survey::{Colour, Kind, Number, Survey};

/// Way, nodes, length in yards, golf nodes on the line: tees and pins.
const PORTO_ALEGRE: [(&str, usize, f64, usize, usize); 17] = [
    ("way/243666577", 5, 381.0, 1, 1),
    ("way/243666579", 7, 314.0, 2, 1),
    ("way/243700328", 2, 173.0, 1, 1),
    ("way/243700329", 3, 166.0, 1, 1),
    ("way/243700330", 4, 324.0, 1, 1),
    ("way/243700331", 9, 325.0, 1, 1),
    ("way/243700332", 4, 152.0, 1, 1),
    ("way/243700333", 6, 335.0, 1, 1),
    ("way/243700334", 7, 363.0, 1, 1),
    ("way/243700335", 8, 426.0, 1, 1),
    ("way/243700336", 7, 454.0, 1, 1),
    ("way/243700337", 7, 292.0, 2, 1),
    ("way/243700338", 9, 424.0, 2, 2),
    ("way/243700339", 7, 393.0, 1, 1),
    ("way/243700340", 11, 398.0, 5, 1),
    ("way/243700344", 5, 512.0, 1, 1),
    ("way/243701969", 9, 316.0, 2, 0),
];

fn count(survey: &Survey, kind: &str) -> usize {
    survey.found.get(kind).copied().unwrap_or(0)
}

fn square_metres(survey: &Survey, id: &str) -> f64 {
    survey.placed[survey.index_of(id).unwrap()].area() * 0.9144 * 0.9144
}

#[test]
fn porto_alegre_has_its_lengths_tees_and_pins_and_none_of_its_numbers() {
    let Some(text) = sample("porto-alegre-holes.osm") else { return };
    let survey = survey("porto-alegre-holes.osm", &text);
    assert_eq!((count(&survey, "hole"), count(&survey, "tee"), count(&survey, "pin")), (17, 25, 17));
    assert_eq!(survey.holes.len(), 17);
    for (id, nodes, yards, tees, pins) in PORTO_ALEGRE {
        let hole = survey.holes.iter().find(|h| h.id == id).unwrap();
        assert_eq!(hole.track.0.len(), nodes, "{id}");
        assert!((hole.line_yards() - yards).abs() <= 0.7, "{id}: {} for {yards}", hole.line_yards());
        assert_eq!((hole.tees.len(), hole.pins.len()), (tees, pins), "{id}");
        assert_eq!(hole.gaps(), ["number", "par", "stroke_index", "green"], "{id}");
        assert!(matches!(hole.number, Number::Unknown { .. }));
        assert!(hole.tees.windows(2).all(|t| t[0].length >= t[1].length), "{id}: the back tee first");
    }
    let sum: f64 = survey.holes.iter().map(|h| h.line_yards()).sum();
    assert!((sum - 5747.0).abs() < 2.0, "{sum}");
    let numbers: Vec<String> = survey.holes.iter().map(|h| h.number.shown()).collect();
    assert_eq!(numbers[0], "?1");
    assert_eq!(numbers[16], "?17");
    assert!(survey.unattached.is_empty() && survey.discarded.is_empty(), "{:?}", survey.unattached);
    assert!(survey.warnings.iter().any(|w| w.contains("way/243700338") && w.contains("2 hole locations")));
}

#[test]
fn porto_alegre_has_the_directions_of_its_lines() {
    let Some(text) = sample("porto-alegre-holes.osm") else { return };
    let survey = survey("porto-alegre-holes.osm", &text);
    // Bearing from the first to the last node, degrees, and the straight distance in metres (README).
    for (id, bearing, straight) in
        [("way/243666577", 209.0, 337.0), ("way/243700328", 293.0, 158.0), ("way/243701969", 292.0, 248.0)]
    {
        let hole = survey.holes.iter().find(|h| h.id == id).unwrap();
        let (a, b) = (hole.track.start(), hole.track.end());
        let away = ((b - a).degrees() + 360.0) % 360.0;
        assert!((away - bearing).abs() <= 0.5, "{id}: {away}");
        assert!((a.distance(b) * 0.9144 - straight).abs() <= 0.5, "{id}");
    }
}

#[test]
fn malta_is_ninety_one_surfaces_and_a_line() {
    let Some(text) = sample("malta-polygons.osm") else { return };
    let survey = survey("malta-polygons.osm", &text);
    for (kind, number) in
        [("bunker", 41), ("green", 18), ("fairway", 15), ("tee", 14), ("rough", 2), ("course", 1), ("hole", 1)]
    {
        assert_eq!(count(&survey, kind), number, "{kind}");
    }
    assert_eq!(survey.courses.len(), 1);
    assert_eq!((survey.courses[0].name.as_deref(), survey.courses[0].greens), (Some("Royal Malta Golf Club"), 18));
    let of = |kind: Kind| {
        let items = survey.placed.iter().filter(move |p| p.kind == kind);
        items.map(|p| p.area() * 0.9144 * 0.9144).collect::<Vec<f64>>()
    };
    let greens = of(Kind::Green);
    let sum: f64 = greens.iter().sum();
    assert!((sum - 4900.0).abs() < 5.0, "{sum}");
    assert!(greens.iter().all(|a| (195.5..=364.5).contains(a)), "{greens:?}");
    assert!(of(Kind::Tee).iter().all(|a| (36.5..=293.5).contains(a)));
    assert!((square_metres(&survey, "relation/2601931") - 2410.0).abs() < 1.5, "the green is cut out");
    assert!((square_metres(&survey, "relation/2632850") - 6402.0).abs() < 1.5, "a bunker and the green are cut out");
    let hole = &survey.holes[0];
    assert_eq!(hole.number, Number::Known(1));
    assert!((hole.line_yards() * 0.9144 - 245.0).abs() < 0.5);
    assert!(hole.green.is_some() && hole.tees.len() == 1);
    assert_eq!(hole.gaps(), ["par", "stroke_index"]);
    // What is used and what is not are together everything.
    let greens_left = survey.unattached.iter().filter(|u| u.kind == "green").count();
    assert_eq!(greens_left, 17);
}

#[test]
fn the_isle_of_man_has_ten_courses_and_one_of_them_twice_named() {
    let Some(text) = sample("isle-of-man-courses.osm") else { return };
    let survey = survey("isle-of-man-courses.osm", &text);
    let greens = |name: &str| survey.courses.iter().find(|c| c.name.as_deref() == Some(name)).unwrap().greens;
    assert_eq!(survey.courses.len(), 10);
    assert_eq!(greens("Castletown Golf Links"), 17);
    assert_eq!(greens("Rowany Golf Course"), 14);
    assert_eq!(greens("King Edward Bay Golf and Country Club"), 5);
    assert_eq!(greens("Ramsey Golf Course"), 2);
    assert_eq!(survey.name, "Castletown Golf Links", "the one with the most golf");
    let ramsey = survey.courses.iter().find(|c| c.name.as_deref() == Some("Ramsey Golf Course")).unwrap();
    assert_eq!(ramsey.aliases, ["Ramsey Golf Club"]);
    assert_eq!(survey.courses.iter().filter(|c| c.name.is_none()).count(), 1);
    for (kind, number) in [("green", 38), ("tee", 6), ("fairway", 3), ("driving_range", 1), ("course", 10)] {
        assert_eq!(count(&survey, kind), number, "{kind}");
    }
    let source = marram::survey::Source { name: "isle.osm", bytes: text.as_bytes() };
    let rowany = marram::survey::survey(&[source], Some("rowany")).unwrap();
    assert_eq!(rowany.name, "Rowany Golf Course");
    assert_eq!(rowany.unattached.iter().filter(|u| u.kind == "green").count(), 14);
    let error = marram::survey::survey(&[source], Some("Atlantis")).unwrap_err();
    assert!(error.to_string().contains("Peel Golf Course"), "{error}");
}

#[test]
fn reisterstown_has_penalty_areas_of_both_colours_and_no_holes() {
    let Some(text) = sample("reisterstown-water.osm") else { return };
    let survey = survey("reisterstown-water.osm", &text);
    assert_eq!((count(&survey, "course"), count(&survey, "penalty"), count(&survey, "driving_range")), (3, 8, 1));
    let coloured = |colour| survey.placed.iter().filter(|p| p.kind == Kind::Penalty(Some(colour))).count();
    assert_eq!((coloured(Colour::Yellow), coloured(Colour::Red)), (6, 2));
    assert!(survey.holes.is_empty());
    assert!(survey.warnings.iter().any(|w| w.contains("no hole lines")), "{:?}", survey.warnings);
}

#[test]
fn every_sample_carries_its_credit() {
    for name in ["porto-alegre-holes.osm", "malta-polygons.osm", "isle-of-man-courses.osm", "reisterstown-water.osm"] {
        let Some(text) = sample(name) else { return };
        let survey = survey(name, &text);
        assert_eq!(survey.credits, [marram::course::Credit::openstreetmap()], "{name}");
    }
}
