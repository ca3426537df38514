//! Surveyed ground under a notebook: the ribbon, the stand, the solver and its prices use it hole by hole, mixed with sketches;
//! distances against a geodesic library; the written GeoJSON against RFC 7946.

use crate::survey;
use crate::synthetic::eighteen;
use geographiclib_rs::{Geodesic, InverseGeodesic};
use marram::course::{self, Card, Course};
use marram::ground::{Flat, LonLat, Point, Surface};
use marram::pattern::Bag;
use marram::plan::{Question, plan, price};
use marram::survey::draft::Draft;
use marram::survey::{Survey, ground_file, lay_over, read_ground};
use marram::units::{Across, Along, LengthUnit};
use std::sync::atomic::AtomicBool;

/// The draft and the ground of a survey.
fn written(survey: &Survey) -> (String, String) {
    let draft = Draft { survey, unit: LengthUnit::Yards, ground: "c.geojson", today: "2026-05-03" };
    (draft.write(), ground_file::write(survey, "2026-05-03"))
}

/// A notebook with its ground laid.
fn laid(notebook: &str, ground: &str) -> Course {
    let (course, problems) = course::read(notebook);
    let mut course = course.unwrap_or_else(|| panic!("{problems:#?}"));
    let (file, problems) = read_ground("c.geojson", ground);
    assert!(problems.is_empty(), "{problems:#?}");
    let said = lay_over(&mut course, &file);
    assert!(said.in_notebook.is_empty() && said.in_ground.is_empty(), "{:#?} {:#?}", said.in_notebook, said.in_ground);
    course
}

#[test]
fn exported_and_read_again_it_is_the_same_course() {
    let first = survey("invented.geojson", &eighteen().text());
    let (notebook, ground) = written(&first);
    let again = survey("c.geojson", &ground);
    assert_eq!(again.found, first.found);
    let holes = |s: &Survey| -> Vec<String> {
        let one = |h: &marram::survey::SurveyedHole| {
            let tees: Vec<String> =
                h.tees.iter().map(|t| format!("{:?} {} {:.1} {:.1}", t.name, t.id, t.length, t.across)).collect();
            let along: Vec<String> = h
                .along
                .iter()
                .map(|a| {
                    format!("{} {:.1} {:.1} {}", s.map.elements[s.placed[a.index].element].id, a.from, a.to, a.owner)
                })
                .collect();
            let green = h.green.as_ref().map(|g| format!("{} {:.1} {:.1}", g.id, g.depth(), g.width));
            format!(
                "{} {} {:.1} {:?} {:?} {tees:?} {green:?} {along:?}",
                h.number.shown(),
                h.id,
                h.line_yards(),
                h.par,
                h.stroke_index
            )
        };
        s.holes.iter().map(one).collect()
    };
    assert_eq!(holes(&again), holes(&first));
    assert_eq!(written(&again).0, notebook, "and the same draft");
    let sample = crate::sample("malta-polygons.osm");
    for text in sample.into_iter() {
        let first = survey("malta.osm", &text);
        let again = survey("c.geojson", &written(&first).1);
        assert_eq!(holes(&again), holes(&first));
        assert_eq!(again.credits, first.credits);
        assert_eq!(again.found, first.found);
    }
}

#[test]
fn the_written_ground_holds_to_rfc_7946() {
    let mut texts = vec![("invented", eighteen().text())];
    texts.extend(
        ["malta-polygons.osm", "isle-of-man-courses.osm"].into_iter().filter_map(|n| Some((n, crate::sample(n)?))),
    );
    for (name, text) in texts {
        let (_, ground) = written(&survey(name, &text));
        // Another reader of the standard takes it.
        let parsed: geojson::GeoJson = ground.parse().unwrap();
        let geojson::GeoJson::FeatureCollection(collection) = parsed else { panic!("{name}: no collection") };
        assert!(collection.features.len() > 10, "{name}");
        assert!(!ground.contains("\"crs\""), "section 4: no crs member");
        let value: serde_json::Value = serde_json::from_str(&ground).unwrap();
        for feature in value["features"].as_array().unwrap() {
            let geometry = &feature["geometry"];
            let polygons: Vec<&serde_json::Value> = match geometry["type"].as_str().unwrap() {
                "Polygon" => vec![&geometry["coordinates"]],
                "MultiPolygon" => geometry["coordinates"].as_array().unwrap().iter().collect(),
                _ => Vec::new(),
            };
            for rings in polygons {
                for (nth, ring) in rings.as_array().unwrap().iter().enumerate() {
                    let ring: Vec<(f64, f64)> = ring
                        .as_array()
                        .unwrap()
                        .iter()
                        .map(|p| (p[0].as_f64().unwrap(), p[1].as_f64().unwrap()))
                        .collect();
                    assert!(ring.len() >= 4 && ring.first() == ring.last(), "3.1.6: closed, four or more");
                    let doubled: f64 = ring.windows(2).map(|w| w[0].0 * w[1].1 - w[1].0 * w[0].1).sum();
                    // Twice the area about the first place, so that small rings far from the origin keep their sign.
                    let (x, y) = ring[0];
                    let near: f64 =
                        ring.windows(2).map(|w| (w[0].0 - x) * (w[1].1 - y) - (w[1].0 - x) * (w[0].1 - y)).sum();
                    assert!(doubled.is_finite());
                    assert_eq!(near > 0.0, nth == 0, "3.1.6: exterior counterclockwise, holes clockwise: {feature}");
                }
            }
        }
    }
}

#[test]
fn distances_of_a_hole_are_those_of_the_ellipsoid() {
    // Against Karney's geodesic, for holes of up to 550 m in courses of 2 km at several latitudes (open-formats 4.2).
    let geodesic = Geodesic::wgs84();
    for (lat, worst_m) in [(0.0, 0.01), (30.0, 0.09), (45.0, 0.11), (56.0, 0.15), (65.0, 0.20)] {
        let flat = Flat::about(LonLat::new(-3.2, lat));
        let mut worst = 0.0_f64;
        let metres = |m: f64| m / 0.9144;
        for (east, north) in (-9..=9).flat_map(|x| (-9..=9).map(move |y| (f64::from(x) * 100.0, f64::from(y) * 100.0)))
        {
            for bearing in (0..360).step_by(30) {
                let from = Point::new(metres(east), metres(north));
                let to = from + Point::towards(f64::from(bearing)) * metres(550.0);
                if to.right.abs() > metres(1000.0) || to.ahead.abs() > metres(1000.0) {
                    continue;
                }
                let (a, b) = (flat.position(from), flat.position(to));
                let s12: f64 = geodesic.inverse(a.lat, a.lon, b.lat, b.lon);
                worst = worst.max((s12 - 550.0).abs());
                let bound = flat.error_bound(from.length().max(to.length()), metres(550.0)) * 0.9144;
                assert!((s12 - 550.0).abs() <= bound, "{lat}: {s12} and the bound is {bound}");
            }
        }
        assert!(worst <= worst_m, "latitude {lat}: {worst} m");
    }
    // And the samples' own lines, leg by leg.
    for name in ["porto-alegre-holes.osm", "malta-polygons.osm"] {
        let Some(text) = crate::sample(name) else { return };
        let survey = survey(name, &text);
        for hole in &survey.holes {
            let legs: f64 = hole
                .track
                .0
                .windows(2)
                .map(|w| {
                    let (a, b) = (survey.flat.position(w[0]), survey.flat.position(w[1]));
                    let s12: f64 = geodesic.inverse(a.lat, a.lon, b.lat, b.lon);
                    s12
                })
                .sum();
            assert!((legs - hole.line_yards() * 0.9144).abs() < 0.05, "{}: {legs}", hole.id);
        }
    }
}

#[test]
fn surveyed_ground_is_what_every_room_reads() {
    let (notebook, ground) = written(&survey("invented.geojson", &eighteen().text()));
    let course = laid(&notebook, &ground);
    let hole = course.hole(1).unwrap();
    let bunker = hole.ground.features.iter().position(|f| f.name == "Pit 1").unwrap();
    // The board has the bunker 26 left of the line, 232 to 248 along it, and the fairway 36 wide.
    let line = hole.ground.line();
    let middle = line.place(Along(240.0), Across(-26.0));
    assert_eq!(hole.ground.features[bunker].surface, Surface::Bunker);
    assert!(hole.ground.features[bunker].shapes[0].contains(middle));
    // The stand.
    let reading = marram::ground::Corridor::new(&hole.ground).stand(Along(0.0), Across(0.0), 0);
    let danger = reading.dangers.iter().find(|d| d.feature == bunker).unwrap();
    assert!((danger.reach.straight - 232.0).abs() < 4.0 && danger.carry.straight > 245.0, "{danger:?}");
    // The ribbon's raster.
    let raster = marram::ground::Raster::new(&hole.ground);
    assert_eq!(raster.surface(middle), Surface::Bunker);
    assert_eq!(raster.surface(line.place(Along(220.0), Across(0.0))), Surface::Fairway);
    assert_eq!(raster.surface(line.place(Along(335.0), Across(0.0))), Surface::Green);
    // The solver and its prices: with the bunker moved into the middle of the landing ground it costs more.
    let never = AtomicBool::new(false);
    let asked = |course: &Course| {
        let hole = course.hole(1).unwrap();
        let question = Question::new(course, hole, "White", Card::Men, 12.0, Bag::default());
        let mut made = plan(&question, &never).unwrap();
        price(&question, &mut made, &never).unwrap();
        let pit = hole.ground.features.iter().position(|f| f.name == "Pit 1").unwrap();
        (made.plays[0].expected_strokes, made.prices.iter().find(|p| p.feature == pit).unwrap().strokes)
    };
    let (strokes, cost) = asked(&course);
    let mut board = eighteen();
    for feature in board.features.iter_mut().filter(|f| f["id"] == "way/501") {
        let mut wide = crate::synthetic::Board::new();
        wide.area("way/501", serde_json::json!({ "golf": "bunker", "name": "Pit 1" }), (130.0, 215.0), (60.0, 60.0));
        *feature = wide.features.remove(0);
    }
    let (_, moved) = written(&survey("invented.geojson", &board.text()));
    let (harder, dearer) = asked(&laid(&notebook, &moved));
    assert!(harder > strokes && dearer > cost, "{strokes} {cost}, {harder} {dearer}");
}

#[test]
fn a_sketch_and_a_survey_stand_side_by_side_piece_by_piece() {
    let (_, ground) = written(&survey("invented.geojson", &eighteen().text()));
    // Hole 1 is surveyed with a sketched wood and names; hole 19 of the notebook is a sketch alone.
    let notebook = r#"format: course-notebook/1
course:
  name: Mixed
  units: yards
  ground: c.geojson
tees:
  - name: White
    men: { rating: 71.0, slope: 120 }
holes:
  - hole: 1
    par: 4
    stroke_index: 1
    line_from: White
    tees:
      White: { length: 335 }
    sketch:
      bunkers:
        - { name: Pit 1, face: steep, from: 230, to: 250, across: 20L..32L }
      trees:
        - { name: the wood, from: 100, to: 200, across: 40R..70R }
      green: { front: 320, depth: 30, width: 20 }
    notes:
      - { at: tee, text: Mine. }
  - hole: 2
    par: 3
    stroke_index: 2
    line_from: White
    tees:
      White: { length: 150 }
    sketch:
      green: { front: 135, depth: 30, width: 20 }
"#;
    let only_first: serde_json::Value = serde_json::from_str(&ground).unwrap();
    let mut only_first = only_first.clone();
    only_first["features"]
        .as_array_mut()
        .unwrap()
        .retain(|f| f["properties"]["holes"].as_array().is_some_and(|h| h.contains(&serde_json::json!(1))));
    for feature in only_first["features"].as_array_mut().unwrap() {
        feature["properties"]["holes"] = serde_json::json!([1]);
    }
    let course = laid(notebook, &only_first.to_string());
    let first = course.hole(1).unwrap();
    let pit = first.ground.features.iter().find(|f| f.name == "Pit 1").unwrap();
    assert_eq!(pit.face, marram::ground::Face::Steep, "the face is the notebook's");
    let line = first.ground.line();
    assert!(pit.shapes[0].contains(line.place(Along(240.0), Across(-26.0))), "the shape is the survey's");
    assert!(first.ground.features.iter().any(|f| f.name == "the wood" && f.surface == Surface::Trees));
    assert!(first.ground.green.as_ref().is_some_and(|g| (g.width - 24.0).abs() < 0.2));
    assert_eq!(first.notes.len(), 1);
    let second = course.hole(2).unwrap();
    assert!(
        second.ground.features.is_empty()
            && second.ground.green.as_ref().is_some_and(|g| (g.width - 20.0).abs() < 0.01)
    );
}

#[test]
fn measures_agree_with_the_length_of_the_hole() {
    use marram::survey::measure::{Reference, between, marker_here};
    use marram::units::Length;
    let (notebook, ground) = written(&survey("invented.geojson", &eighteen().text()));
    let course = laid(&notebook, &ground);
    for hole in &course.holes {
        let line = hole.ground.line();
        let green = hole.ground.green.as_ref().unwrap();
        let tee = hole.ground.tees.iter().find(|t| t.name == "White").unwrap();
        let whole = between(hole, tee.point, green.middle);
        assert!((whole.straight - hole.tee("White").unwrap().length).abs() < 1.0, "hole {}", hole.number);
        let at = line.place(Along(hole.ground.length.0 - 150.0), Across(0.0));
        let here = marker_here(hole, Length::yards(150.0), at, Reference::Middle, LengthUnit::Yards).unwrap();
        assert!(here.check.agrees && here.warnings.is_empty(), "hole {}: {:?}", hole.number, here.warnings);
        let front = marker_here(hole, Length::yards(150.0), at, Reference::Front, LengthUnit::Yards).unwrap();
        assert!(!front.check.agrees, "150 to the front is 165 to the middle");
    }
}
