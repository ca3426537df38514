//! Hostile and broken map files: each fault is named with its element, and what is good stays usable.

use crate::survey;
use crate::synthetic::{Board, at, eighteen};
use marram::survey::{Source, Survey};
use serde_json::json;

/// The words of everything that a survey says.
fn said(survey: &Survey) -> String {
    let left = survey.discarded.iter().map(|d| format!("{}: {}", d.id, d.why));
    survey.warnings.iter().cloned().chain(left).collect::<Vec<_>>().join("\n")
}

fn refused(name: &str, text: &str) -> String {
    let source = Source { name, bytes: text.as_bytes() };
    marram::survey::survey(&[source], None).unwrap_err().to_string()
}

/// A hole with a green, so that there is always a usable rest.
fn good() -> Board {
    let mut board = Board::new();
    board.line("way/1", json!({ "golf": "hole", "ref": "1", "par": "4" }), &[(0.0, 0.0), (0.0, 380.0)]);
    board.area("way/2", json!({ "golf": "green" }), (0.0, 380.0), (24.0, 30.0));
    board.point("node/3", json!({ "golf": "tee", "tee": "white" }), 0.0, 0.0);
    board
}

fn usable(survey: &Survey) {
    assert_eq!(survey.holes.len(), 1);
    assert!((survey.holes[0].line_yards() - 380.0).abs() < 0.1 && survey.holes[0].green.is_some());
}

const OSM: &str = r#"<?xml version="1.0"?>
<osm version="0.6">
<node id="1" lat="56.1" lon="-3.2"/><node id="2" lat="56.103" lon="-3.2"/>
<node id="11" lat="56.1031" lon="-3.2001"/><node id="12" lat="56.1031" lon="-3.1999"/><node id="13" lat="56.1029" lon="-3.1999"/>
<node id="14" lat="56.1029" lon="-3.2001"/>
<way id="5"><nd ref="1"/><nd ref="2"/><tag k="golf" v="hole"/><tag k="ref" v="1"/></way>
<way id="6"><nd ref="11"/><nd ref="12"/><nd ref="13"/><nd ref="14"/><nd ref="11"/><tag k="golf" v="green"/></way>
REST
</osm>"#;

fn osm(rest: &str) -> Survey {
    let survey = survey("course.osm", &OSM.replace("REST", rest));
    assert_eq!(survey.holes.len(), 1);
    assert!(survey.holes[0].green.is_some(), "{}", said(&survey));
    survey
}

#[test]
fn an_unclosed_ring_is_closed_when_its_gap_is_small_and_named_when_not() {
    // 3 m of longitude here are 0.0000482 degrees.
    let small = osm(
        r#"<node id="21" lat="56.1010" lon="-3.2010"/><node id="22" lat="56.1012" lon="-3.2010"/><node id="23" lat="56.1012" lon="-3.2004"/><node id="24" lat="56.1010" lon="-3.200952"/>
<way id="7"><nd ref="21"/><nd ref="22"/><nd ref="23"/><nd ref="24"/><tag k="golf" v="bunker"/></way>"#,
    );
    assert!(said(&small).contains("way/7") && said(&small).contains("closed"), "{}", said(&small));
    assert_eq!(small.found.get("bunker"), Some(&1));
    let open = osm(
        r#"<node id="21" lat="56.1010" lon="-3.2010"/><node id="22" lat="56.1012" lon="-3.2010"/><node id="23" lat="56.1012" lon="-3.2004"/>
<way id="7"><nd ref="21"/><nd ref="22"/><nd ref="23"/></way>
<relation id="8"><member type="way" ref="7" role="outer"/><tag k="type" v="multipolygon"/><tag k="golf" v="fairway"/></relation>"#,
    );
    assert!(said(&open).contains("relation/8") && said(&open).contains("closed"), "{}", said(&open));
    assert_eq!(open.found.get("fairway"), None);
}

#[test]
fn missing_nodes_are_counted_and_the_rest_is_drawn() {
    let clipped = osm(
        r#"<node id="21" lat="56.1010" lon="-3.2010"/><node id="22" lat="56.1012" lon="-3.2010"/><node id="23" lat="56.1012" lon="-3.2004"/>
<way id="7"><nd ref="21"/><nd ref="22"/><nd ref="99"/><nd ref="23"/><nd ref="21"/><tag k="golf" v="bunker"/></way>"#,
    );
    assert!(said(&clipped).contains("way/7: 1 of its 5 nodes"), "{}", said(&clipped));
    assert_eq!(clipped.found.get("bunker"), Some(&1));
    let none = osm(r#"<way id="7"><nd ref="97"/><nd ref="98"/><tag k="golf" v="bunker"/></way>"#);
    assert!(said(&none).contains("way/7"), "{}", said(&none));
}

#[test]
fn swapped_coordinates_are_named_with_their_element() {
    let mut board = good();
    board.features.push(json!({ "type": "Feature", "id": "way/9", "properties": { "golf": "bunker" },
        "geometry": { "type": "Point", "coordinates": [56.1, -113.2] } }));
    let survey = survey("swapped.geojson", &board.text());
    usable(&survey);
    assert!(said(&survey).contains("way/9") && said(&survey).contains("swapped"), "{}", said(&survey));
    let xml = osm(r#"<node id="31" lat="-103.2" lon="56.1"><tag k="golf" v="pin"/></node>"#);
    assert!(said(&xml).contains("node/31") && said(&xml).contains("swapped"), "{}", said(&xml));
}

#[test]
fn another_crs_is_refused_with_its_name_and_the_cure() {
    let text = r#"{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:EPSG::27700"}},"features":[]}"#;
    let words = refused("grid.geojson", text);
    assert!(words.contains("grid.geojson") && words.contains("27700"), "{words}");
    let wgs = r#"{"type":"FeatureCollection","crs":{"type":"name","properties":{"name":"urn:ogc:def:crs:OGC:1.3:CRS84"}},"features":[]}"#;
    assert!(survey("old.geojson", wgs).holes.is_empty(), "longitude and latitude on WGS 84 by its old name");
}

#[test]
fn a_doctype_is_refused_before_anything_is_expanded() {
    let bomb = format!(
        "<?xml version=\"1.0\"?>\n<!DOCTYPE osm [{}]>\n<osm version=\"0.6\">&z;</osm>",
        "<!ENTITY a \"aaaaaaaaaa\"><!ENTITY z \"&a;&a;&a;&a;\">"
    );
    let words = refused("bomb.osm", &bomb);
    assert!(words.contains("bomb.osm:2") && words.to_lowercase().contains("doctype"), "{words}");
    let gpx = bomb.replace("osm", "gpx");
    assert!(refused("bomb.gpx", &gpx).to_lowercase().contains("doctype"));
}

#[test]
fn not_a_number_is_named_and_the_rest_stays() {
    let mut board = good();
    board.features.push(json!({ "type": "Feature", "id": "way/9", "properties": { "golf": "bunker" },
        "geometry": { "type": "Point", "coordinates": ["HERE", 56.1] } }));
    let survey = survey("nan.geojson", &board.text().replace("\"HERE\"", "NaN"));
    usable(&survey);
    assert!(said(&survey).contains("way/9"), "{}", said(&survey));
    let xml = osm(r#"<node id="31" lat="NaN" lon="-3.2"><tag k="golf" v="pin"/></node>"#);
    assert!(said(&xml).contains("node/31"), "{}", said(&xml));
}

#[test]
fn a_line_from_green_to_tee_is_turned_round_and_said() {
    let mut board = Board::new();
    board.line("way/1", json!({ "golf": "hole", "ref": "1" }), &[(0.0, 380.0), (0.0, 0.0)]);
    board.area("way/2", json!({ "golf": "green" }), (0.0, 380.0), (24.0, 30.0));
    board.area("way/3", json!({ "golf": "tee" }), (0.0, 0.0), (8.0, 8.0));
    let survey = survey("turned.geojson", &board.text());
    assert!(survey.warnings.iter().any(|w| w.starts_with("way/1:") && w.contains("turned round")), "{}", said(&survey));
    assert!(survey.holes[0].green.is_some() && survey.holes[0].tees.len() == 1);
}

#[test]
fn a_number_that_stands_twice_is_named_and_one_hole_keeps_it() {
    let mut board = eighteen();
    let extra = json!({ "golf": "hole", "ref": "5" });
    board.line("way/99", extra, &[(-400.0, 0.0), (-400.0, 350.0)]);
    let survey = survey("double.geojson", &board.text());
    assert_eq!(survey.holes.len(), 19);
    let fifth: Vec<&str> = survey.holes.iter().filter(|h| h.number.shown() == "5").map(|h| h.id.as_str()).collect();
    assert_eq!(fifth, ["way/5"], "the one that follows the fourth");
    assert!(survey.warnings.iter().any(|w| w.contains("hole 5 is drawn 2 times") && w.contains("way/99")));
}

#[test]
fn seventeen_holes_say_which_one_is_missing() {
    let mut board = eighteen();
    board.features.retain(|f| f["id"] != "way/7");
    let survey = survey("seventeen.geojson", &board.text());
    assert_eq!(survey.holes.len(), 17);
    assert!(
        survey.warnings.iter().any(|w| w.contains("17 hole lines") && w.contains("no line for 7")),
        "{}",
        said(&survey)
    );
}

#[test]
fn a_map_without_holes_lists_what_it_has() {
    let mut board = Board::new();
    board.area("way/2", json!({ "golf": "green" }), (0.0, 380.0), (24.0, 30.0));
    let survey = survey("greens.geojson", &board.text());
    assert!(survey.holes.is_empty());
    assert!(said(&survey).contains("no hole lines"), "{}", said(&survey));
    assert_eq!(survey.unattached.iter().map(|u| u.id.as_str()).collect::<Vec<_>>(), ["way/2"]);
    assert!(crate::survey("empty.geojson", r#"{"type":"FeatureCollection","features":[]}"#).holes.is_empty());
}

#[test]
fn of_two_pins_the_last_is_taken_and_both_are_named() {
    let mut board = good();
    board.point("node/7", json!({ "golf": "pin" }), 3.0, 378.0);
    board.point("node/8", json!({ "golf": "pin" }), -3.0, 384.0);
    let survey = survey("pins.geojson", &board.text());
    usable(&survey);
    assert!(said(&survey).contains("node/7, node/8"), "{}", said(&survey));
    assert_eq!(survey.holes[0].pins.len(), 2);
}

#[test]
fn a_track_that_never_stands_still_leaves_the_points_where_they_were_taken() {
    // A walk past the points at two metres a second: no fix of it may move a waypoint.
    let place = |north: f64| {
        let position = at(0.0, north);
        (position[1].as_f64().unwrap(), position[0].as_f64().unwrap())
    };
    let point = |name: &str, north: f64, time: &str| {
        let (lat, lon) = place(north);
        format!("<wpt lat=\"{lat:.7}\" lon=\"{lon:.7}\"><time>{time}</time><name>{name}</name></wpt>")
    };
    let mut text = String::from("<?xml version=\"1.0\"?><gpx version=\"1.1\" creator=\"a test\">");
    text += &point("1T white", 0.0, "2026-05-03T08:00:00Z");
    text += &point("1C", 300.0, "2026-05-03T08:02:17Z");
    text += "<trk><trkseg>";
    for second in 0..150 {
        let (lat, lon) = place(f64::from(second) * 2.187);
        text += &format!(
            "<trkpt lat=\"{lat:.7}\" lon=\"{lon:.7}\"><time>2026-05-03T08:{:02}:{:02}Z</time></trkpt>",
            second / 60,
            second % 60
        );
    }
    text += "</trkseg></trk></gpx>";
    let survey = survey("walk.gpx", &text);
    assert_eq!(survey.holes.len(), 1, "{}", said(&survey));
    assert!((survey.holes[0].line_yards() - 300.0).abs() < 0.1, "{}", survey.holes[0].line_yards());
}

#[test]
fn files_of_other_kinds_say_what_they_are() {
    for (name, bytes) in
        [("a.zip", &b"PK\x03\x04"[..]), ("empty.osm", b""), ("text.osm", b"hello"), ("cut.osm", b"<osm><node id=\"1\"")]
    {
        let answer = marram::survey::survey(&[Source { name, bytes }], None);
        let words = answer.map(|s| said(&s)).unwrap_or_else(|e| e.to_string());
        assert!(words.contains(name) || !words.is_empty(), "{name} says nothing");
    }
}

#[test]
fn any_bytes_are_answered_without_a_panic() {
    // Every prefix of a good file, and every good file with one byte changed at many places.
    let good = good().text();
    for end in (0..good.len()).step_by(37) {
        if good.is_char_boundary(end) {
            let _ = marram::survey::survey(&[Source { name: "cut.geojson", bytes: &good.as_bytes()[..end] }], None);
        }
    }
    let xml = OSM.replace("REST", "").into_bytes();
    for place in (0..xml.len()).step_by(7) {
        let mut broken = xml.clone();
        broken[place] = b'<';
        let _ = marram::survey::survey(&[Source { name: "broken.osm", bytes: &broken }], None);
    }
}
