//! Invented courses for what no open sample has: numbers, pars, several tees, shared greens, three nines, crossing holes.

use crate::survey;
use serde_json::{Value, json};

/// A drawing board in yards about a place, as GeoJSON.
pub struct Board {
    pub features: Vec<Value>,
}

const LON: f64 = -3.2;
const LAT: f64 = 56.1;

/// Degrees of a place so many yards east and north (WGS 84 radii at this latitude, from formulas of open-formats 4.1).
pub fn at(east: f64, north: f64) -> Value {
    let sin = LAT.to_radians().sin();
    let e2: f64 = 0.006_694_379_990_14;
    let under = 1.0 - e2 * sin * sin;
    let m = 6_378_137.0 * (1.0 - e2) / under.powf(1.5);
    let n = 6_378_137.0 / under.sqrt();
    let lon = LON + (east * 0.9144 / (n * LAT.to_radians().cos())).to_degrees();
    let lat = LAT + (north * 0.9144 / m).to_degrees();
    json!([lon, lat])
}

impl Board {
    pub fn new() -> Self {
        Self { features: Vec::new() }
    }

    pub fn line(&mut self, id: &str, tags: Value, points: &[(f64, f64)]) {
        let points: Vec<Value> = points.iter().map(|(e, n)| at(*e, *n)).collect();
        self.push(id, tags, json!({ "type": "LineString", "coordinates": points }));
    }

    pub fn point(&mut self, id: &str, tags: Value, east: f64, north: f64) {
        self.push(id, tags, json!({ "type": "Point", "coordinates": at(east, north) }));
    }

    /// A rectangle about a place.
    pub fn area(&mut self, id: &str, tags: Value, (east, north): (f64, f64), (wide, deep): (f64, f64)) {
        let corners = [(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5), (-0.5, -0.5)];
        let ring: Vec<Value> = corners.iter().map(|(x, y)| at(east + x * wide, north + y * deep)).collect();
        self.push(id, tags, json!({ "type": "Polygon", "coordinates": [ring] }));
    }

    fn push(&mut self, id: &str, tags: Value, geometry: Value) {
        self.features.push(json!({ "type": "Feature", "id": id, "properties": tags, "geometry": geometry }));
    }

    pub fn text(&self) -> String {
        json!({ "type": "FeatureCollection", "features": self.features }).to_string()
    }
}

/// Eighteen holes up and down beside each other, each with two tees, a green, a fairway and a bunker.
pub fn eighteen() -> Board {
    let mut board = Board::new();
    for n in 1..=18 {
        let east = f64::from(n) * 130.0;
        let length = 330.0 + f64::from(n) * 5.0;
        let up = n % 2 == 1;
        let north = |along: f64| if up { along } else { 400.0 - along };
        let par = if n % 6 == 3 { 3 } else { 4 };
        let si = (n * 5) % 19;
        let tags =
            json!({ "golf": "hole", "ref": n.to_string(), "par": par, "handicap": si, "dist": format!("{length} yd") });
        board.line(&format!("way/{n}"), tags, &[(east, north(0.0)), (east, north(length))]);
        board.area(&format!("way/{}", 100 + n), json!({ "golf": "green" }), (east, north(length)), (24.0, 30.0));
        board.area(
            &format!("way/{}", 200 + n),
            json!({ "golf": "tee", "tee": "white" }),
            (east, north(0.0)),
            (8.0, 8.0),
        );
        board.area(
            &format!("way/{}", 300 + n),
            json!({ "golf": "tee", "tee": "red" }),
            (east + 6.0, north(55.0)),
            (8.0, 8.0),
        );
        board.area(&format!("way/{}", 400 + n), json!({ "golf": "fairway" }), (east, north(220.0)), (36.0, 180.0));
        board.area(
            &format!("way/{}", 500 + n),
            json!({ "golf": "bunker", "name": format!("Pit {n}") }),
            (east - 26.0, north(240.0)),
            (10.0, 16.0),
        );
    }
    board
}

#[test]
fn eighteen_numbered_holes_have_no_gap() {
    let survey = survey("invented.geojson", &eighteen().text());
    assert_eq!(survey.holes.len(), 18);
    for (index, hole) in survey.holes.iter().enumerate() {
        let n = index + 1;
        assert_eq!(hole.number.shown(), n.to_string());
        assert_eq!(hole.gaps(), Vec::<&str>::new(), "hole {n}");
        let length = 330.0 + n as f64 * 5.0;
        assert!((hole.line_yards() - length).abs() < 0.05, "{}", hole.line_yards());
        assert!((hole.stated.unwrap() - length).abs() < 1e-9);
        let tees: Vec<(&str, i64)> =
            hole.tees.iter().map(|t| (t.name.as_deref().unwrap(), t.length.round() as i64)).collect();
        assert_eq!(tees, [("White", length as i64), ("Red", length as i64 - 55)]);
        let green = hole.green.as_ref().unwrap();
        assert!((green.depth() - 30.0).abs() < 0.05 && (green.width - 24.0).abs() < 0.05);
        let own = hole.along.iter().find(|a| a.owner && survey.placed[a.index].kind.word() == "bunker").unwrap();
        // West of a hole that runs north is left of it; of one that runs south, right.
        let (left, right) = if n % 2 == 1 { (-31.0, -21.0) } else { (21.0, 31.0) };
        assert!((own.left - left).abs() < 0.1 && (own.right - right).abs() < 0.1, "{own:?}");
        assert!((own.from - 232.0).abs() < 0.1 && (own.to - 248.0).abs() < 0.1, "{own:?}");
    }
    assert!(survey.warnings.is_empty(), "{:?}", survey.warnings);
    assert!(survey.credits.is_empty() || !survey.credits[0].attribution.is_empty());
}

#[test]
fn three_nines_with_one_set_of_numbers_are_three_courses() {
    let mut board = Board::new();
    for nine in 0..3 {
        for n in 1..=9 {
            // Each nine runs on its own strip, green to next tee close together.
            let (east, north) = (f64::from(n) * 150.0, f64::from(nine) * 700.0);
            let (a, b) = if n % 2 == 1 { (0.0, 350.0) } else { (350.0, 0.0) };
            let id = format!("way/{}", nine * 100 + n);
            board.line(&id, json!({ "golf": "hole", "ref": n.to_string() }), &[(east, north + a), (east, north + b)]);
        }
    }
    let survey = survey("three.geojson", &board.text());
    let holes: Vec<usize> = survey.courses.iter().map(|c| c.holes).collect();
    assert_eq!(holes, [9, 9, 9]);
    let names: Vec<&str> = survey.courses.iter().map(|c| c.name.as_deref().unwrap()).collect();
    assert_eq!(names, ["A", "B", "C"]);
    // Each keeps to its own strip.
    let ids: Vec<u32> =
        survey.holes.iter().map(|h| h.id.trim_start_matches("way/").parse::<u32>().unwrap() / 100).collect();
    assert!(ids.iter().all(|nine| *nine == ids[0]), "{ids:?}");
    assert!(survey.warnings.iter().any(|w| w.contains("check which is which")));
}

#[test]
fn loops_are_told_apart_by_the_course_that_a_hole_names_and_by_its_letter() {
    let mut board = Board::new();
    for (index, course) in ["Heath", "Shore"].iter().enumerate() {
        for n in 1..=9 {
            let east = f64::from(n) * 150.0;
            let north = index as f64 * 600.0;
            let id = format!("way/{}", index * 100 + n as usize);
            board.line(
                &id,
                json!({ "golf": "hole", "ref": n.to_string(), "course": course }),
                &[(east, north), (east, north + 300.0)],
            );
        }
    }
    let survey = survey("two.geojson", &board.text());
    let found: Vec<(&str, usize)> = survey.courses.iter().map(|c| (c.name.as_deref().unwrap(), c.holes)).collect();
    assert_eq!(found, [("Heath", 9), ("Shore", 9)]);
    let mut lettered = Board::new();
    for letter in ["A", "B"] {
        for n in 1..=9 {
            let (east, north) = (f64::from(n) * 150.0, if letter == "A" { 0.0 } else { 600.0 });
            lettered.line(
                &format!("way/{letter}{n}"),
                json!({ "golf": "hole", "ref": format!("{letter}{n}") }),
                &[(east, north), (east, north + 300.0)],
            );
        }
    }
    let survey = crate::survey("two.geojson", &lettered.text());
    assert_eq!(survey.courses.iter().map(|c| c.holes).collect::<Vec<_>>(), [9, 9]);
    assert_eq!(survey.holes[8].number.shown(), "9");
}

#[test]
fn a_shared_green_is_two_greens_each_on_its_own_line() {
    let mut board = Board::new();
    board.area("way/9", json!({ "golf": "green" }), (0.0, 300.0), (70.0, 30.0));
    board.line("way/1", json!({ "golf": "hole", "ref": "1" }), &[(-20.0, 0.0), (-20.0, 300.0)]);
    board.line("way/2", json!({ "golf": "hole", "ref": "2" }), &[(20.0, 640.0), (20.0, 300.0)]);
    let survey = survey("shared.geojson", &board.text());
    for (hole, east) in survey.holes.iter().zip([-20.0, 20.0]) {
        let green = hole.green.as_ref().unwrap();
        assert!(green.shared);
        let between = survey.holes[1].track.start().right - survey.holes[0].track.start().right;
        assert!((between - 40.0).abs() < 0.05);
        let other = if east < 0.0 { 1 } else { 0 };
        assert!((green.middle().right - hole.track.end().right).abs() < 0.05, "its own part");
        assert!((green.middle().right - survey.holes[other].track.end().right).abs() > 39.0);
    }
}

#[test]
fn a_bunker_between_two_holes_threatens_both_and_a_tee_belongs_to_one() {
    let mut board = Board::new();
    board.line("way/1", json!({ "golf": "hole", "ref": "1" }), &[(0.0, 0.0), (0.0, 350.0)]);
    board.line("way/2", json!({ "golf": "hole", "ref": "2" }), &[(90.0, 350.0), (90.0, 0.0)]);
    board.area("way/5", json!({ "golf": "bunker" }), (40.0, 200.0), (10.0, 10.0));
    board.point("node/6", json!({ "golf": "tee" }), 80.0, 345.0);
    let survey = survey("between.geojson", &board.text());
    assert_eq!(survey.holes.iter().map(|h| survey.along(h, "bunker")).collect::<Vec<_>>(), [1, 1]);
    assert_eq!(survey.holes.iter().map(|h| h.tees.len()).collect::<Vec<_>>(), [0, 1]);
    assert!(survey.holes[0].along[0].owner && !survey.holes[1].along[0].owner, "nearer to the first");
}
