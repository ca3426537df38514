//! One map in every shape gives one course; shuffled, reversed and moved maps give the same course.

use crate::map::{Exporter, OsmMap};
use crate::{sample, survey};
use marram::survey::Survey;
use std::collections::BTreeMap;

/// What a survey says, without the names that its elements go by.
fn said(survey: &Survey) -> (BTreeMap<String, usize>, Vec<String>) {
    let holes = survey
        .holes
        .iter()
        .map(|h| {
            let green = h.green.as_ref().map(|g| format!("{:.2} {:.2}", g.depth(), g.width));
            let tees: Vec<String> = h.tees.iter().map(|t| format!("{:.2} {:.2}", t.length, t.across)).collect();
            let along: Vec<String> = h
                .along
                .iter()
                .map(|a| {
                    format!(
                        "{} {:.2}..{:.2} {:.2}..{:.2}",
                        survey.placed[a.index].kind.word(),
                        a.from,
                        a.to,
                        a.left,
                        a.right
                    )
                })
                .collect();
            format!("{:.2} {green:?} {tees:?} {} {along:?} {:?}", h.line_yards(), h.pins.len(), h.gaps())
        })
        .collect();
    (survey.found.clone(), holes)
}

#[test]
fn every_shape_of_a_map_gives_the_same_course() {
    for name in ["malta-polygons.osm", "porto-alegre-holes.osm", "isle-of-man-courses.osm", "reisterstown-water.osm"] {
        let Some(text) = sample(name) else { return };
        let map = OsmMap::read(&text);
        let truth = said(&survey(name, &text));
        let shapes = [
            ("xml again", map.xml()),
            ("overpass, out geom", map.overpass(true)),
            ("overpass, elements", map.overpass(false)),
            ("flat", map.geojson(Exporter::Flat)),
            ("nested", map.geojson(Exporter::Nested)),
            ("twice", map.geojson(Exporter::Twice)),
            ("lines only", map.geojson(Exporter::LinesOnly)),
        ];
        for (shape, text) in shapes {
            assert_eq!(said(&survey("map", &text)), truth, "{name} as {shape}");
        }
    }
}

#[test]
fn greens_that_an_exporter_lost_are_offered() {
    let Some(text) = sample("malta-polygons.osm") else { return };
    let survey = survey("map", &OsmMap::read(&text).geojson(Exporter::DropsInner));
    assert_eq!(survey.found["green"], 5, "13 of 18 greens are inner members of fairways");
    let offered = survey.warnings.iter().filter(|w| w.contains("may be a green")).count();
    assert_eq!(offered, 13, "{:#?}", survey.warnings);
}

#[test]
fn order_and_direction_in_the_file_change_nothing() {
    for name in ["malta-polygons.osm", "porto-alegre-holes.osm"] {
        let Some(text) = sample(name) else { return };
        let map = OsmMap::read(&text);
        let truth = survey(name, &text);
        let mut shuffled = map.clone();
        shuffled.ways.reverse();
        shuffled.relations.reverse();
        let (half, rest) = shuffled.ways.split_at(shuffled.ways.len() / 2);
        shuffled.ways = [rest, half].concat();
        for (_, members, _) in &mut shuffled.relations {
            members.reverse();
        }
        let numbers = |s: &Survey| s.holes.iter().map(|h| (h.id.clone(), h.number.shown())).collect::<Vec<_>>();
        let again = survey("map", &shuffled.xml());
        assert_eq!(numbers(&again), numbers(&truth), "{name}: the order of the walk is found again");
        assert_eq!(said(&again).0, said(&truth).0);
        // Rings and hole lines drawn the other way round.
        let mut turned = map.clone();
        for (_, nodes, _) in &mut turned.ways {
            nodes.reverse();
        }
        let again = survey("map", &turned.xml());
        let without = |s: &Survey, id: &str| {
            let lines = s.holes.iter().zip(said(s).1).filter(|(h, _)| h.id != id).map(|(h, line)| (h.id.clone(), line));
            lines.collect::<BTreeMap<_, _>>()
        };
        // One line has no pin: only its tee speaks for turning it, and one end alone turns nothing, but is told.
        let doubtful = "way/243701969";
        assert_eq!(without(&again, doubtful), without(&truth, doubtful), "{name} turned round");
        for hole in &again.holes {
            let words = if hole.id == doubtful { "may run from green to tee" } else { "turned round" };
            let told = again.warnings.iter().any(|w| w.starts_with(&format!("{}:", hole.id)) && w.contains(words));
            assert!(told, "{} is named: {:?}", hole.id, again.warnings);
        }
    }
}

#[test]
fn a_map_moved_across_the_earth_is_the_same_map() {
    let Some(text) = sample("malta-polygons.osm") else { return };
    let map = OsmMap::read(&text);
    let truth = survey("map", &text);
    // Moved in longitude nothing changes at all, the date line included.
    for by in [100.0, 165.515, -180.0] {
        let mut moved = map.clone();
        for (lon, _) in moved.nodes.values_mut() {
            *lon += by;
            if *lon > 180.0 {
                *lon -= 360.0;
            }
        }
        assert_eq!(said(&survey("map", &moved.xml())), said(&truth), "by {by}");
    }
    // Mirrored at the equator the lengths stay.
    let mut mirrored = map.clone();
    mirrored.nodes.values_mut().for_each(|(_, lat)| *lat = -*lat);
    let again = survey("map", &mirrored.xml());
    assert!((again.holes[0].line_yards() - truth.holes[0].line_yards()).abs() < 0.01);
    assert_eq!(again.found, truth.found);
}
