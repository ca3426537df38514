//! How long a map takes to become a draft, and an edit of a long notebook to be on the disk: `cargo bench --bench survey`
//!
//! The numbers of issue 4 of 9: an extract of 5 MB under 1 s; an edit on a notebook with 200 notes shown within 16 ms and durable
//! within 150 ms.

use divan::{Bencher, black_box};
use marram::notebook::edit::{Edit, Path, Value, apply};
use marram::store::{Expect, Shelf, Store};
use marram::survey::draft::Draft;
use marram::survey::{Source, ground_file, lay_over, read_ground, survey};
use marram::units::LengthUnit;

fn main() {
    divan::main();
}

/// A course of eighteen holes in a town: woods, streams, paths and single trees round it, about five megabytes of XML.
fn extract() -> String {
    let mut nodes = String::new();
    let mut ways = String::new();
    let mut id = 0_i64;
    // Metres about a place at 56 degrees north.
    let mut node = |nodes: &mut String, east: f64, north: f64, tags: &str| {
        id += 1;
        let (lat, lon) = (56.1 + north / 111_354.0, -3.2 + east / 62_216.0);
        nodes.push_str(&format!("<node id=\"{id}\" lat=\"{lat:.7}\" lon=\"{lon:.7}\">{tags}</node>\n"));
        id
    };
    let mut way = 0_i64;
    let mut push = |ways: &mut String, refs: &[i64], tags: &str| {
        way += 1;
        let refs: String = refs.iter().map(|n| format!("<nd ref=\"{n}\"/>")).collect();
        ways.push_str(&format!("<way id=\"{way}\">{refs}{tags}</way>\n"));
    };
    let ring = |nodes: &mut String,
                node: &mut dyn FnMut(&mut String, f64, f64, &str) -> i64,
                e: f64,
                n: f64,
                w: f64,
                d: f64| {
        let count = 24;
        let mut refs: Vec<i64> = (0..count)
            .map(|k| {
                let angle = f64::from(k) / f64::from(count) * std::f64::consts::TAU;
                node(nodes, e + w / 2.0 * angle.cos(), n + d / 2.0 * angle.sin(), "")
            })
            .collect();
        refs.extend(refs.first().copied());
        refs
    };
    for hole in 1..=18 {
        let (east, up) = (f64::from(hole) * 110.0, hole % 2 == 1);
        let at = |along: f64| if up { along } else { 400.0 - along };
        let line = [0.0, 210.0, 360.0].map(|a| node(&mut nodes, east, at(a), ""));
        push(
            &mut ways,
            &line,
            &format!("<tag k=\"golf\" v=\"hole\"/><tag k=\"ref\" v=\"{hole}\"/><tag k=\"par\" v=\"4\"/>"),
        );
        for (kind, a, x, w, d) in [
            ("green", 360.0, 0.0, 24.0, 30.0),
            ("tee", 0.0, 0.0, 8.0, 10.0),
            ("fairway", 240.0, 0.0, 36.0, 200.0),
            ("bunker", 230.0, -22.0, 9.0, 14.0),
            ("bunker", 345.0, 18.0, 8.0, 8.0),
            ("lateral_water_hazard", 150.0, 50.0, 20.0, 160.0),
        ] {
            let refs = ring(&mut nodes, &mut node, east + x, at(a), w, d);
            push(&mut ways, &refs, &format!("<tag k=\"golf\" v=\"{kind}\"/>"));
        }
    }
    let mut place = 0_u32;
    while nodes.len() + ways.len() < 5_000_000 {
        // A fixed walk over the town, so that every run reads the same file.
        place += 1;
        let (east, north) = (f64::from(place * 73 % 4000) - 1000.0, f64::from(place * 151 % 3000) - 1300.0);
        let refs = ring(&mut nodes, &mut node, east, north, 20.0, 16.0);
        let tags =
            ["<tag k=\"building\" v=\"yes\"/>", "<tag k=\"natural\" v=\"wood\"/>", "<tag k=\"highway\" v=\"path\"/>"];
        push(&mut ways, &refs, tags.get(place as usize % 3).copied().unwrap_or_default());
        node(&mut nodes, east + 30.0, north, "<tag k=\"natural\" v=\"tree\"/>");
    }
    format!("<?xml version=\"1.0\"?>\n<osm version=\"0.6\">\n{nodes}{ways}</osm>\n")
}

/// The number of the issue: under 1 s, from the bytes to the two texts.
#[divan::bench]
fn five_megabytes_of_map_to_a_draft(bencher: Bencher) {
    let text = extract();
    let source = [Source { name: "town.osm", bytes: text.as_bytes() }];
    let found = survey(&source, None).map(|s| s.holes.len()).unwrap_or(0);
    assert!(found == 18 && text.len() > 5_000_000, "{found} holes, {} bytes", text.len());
    bencher.bench_local(|| {
        let survey = survey(black_box(&source), None).ok()?;
        let draft = Draft { survey: &survey, unit: LengthUnit::Yards, ground: "town.geojson", today: "2026-05-03" };
        Some((draft.write(), ground_file::write(&survey, "2026-05-03")))
    });
}

/// What opening a notebook with surveyed ground costs beside reading it.
#[divan::bench]
fn ground_read_and_laid(bencher: Bencher) {
    let text = extract();
    let Ok(survey) = survey(&[Source { name: "town.osm", bytes: text.as_bytes() }], None) else { return };
    let ground = ground_file::write(&survey, "2026-05-03");
    let draft = Draft { survey: &survey, unit: LengthUnit::Yards, ground: "town.geojson", today: "2026-05-03" }.write();
    let Some(course) = marram::course::read(&draft).0 else { return };
    bencher.with_inputs(|| course.clone()).bench_local_values(|mut course| {
        let (file, _) = read_ground("town.geojson", &ground);
        lay_over(&mut course, &file);
        course
    });
}

/// The sample links with notes until there are two hundred.
fn two_hundred_notes() -> String {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-courses/corvane.yaml");
    let mut text = std::fs::read_to_string(path).unwrap_or_default();
    let count =
        |text: &str| marram::course::read(text).0.map_or(0, |c| c.holes.iter().map(|h| h.notes.len()).sum::<usize>());
    let mut hole = 0;
    for nth in count(&text)..200 {
        hole = hole % 18 + 1;
        let note = Value::map([
            ("at", "approach"),
            ("text", &*format!("Note {nth}: the front half takes the spin and holds.")),
        ]);
        let path = Path::new().key("holes").of("hole", &hole.to_string()).key("notes");
        if let Ok(edited) = apply(&text, &Edit::push(path, note)) {
            text = edited.text;
        }
    }
    assert_eq!(count(&text), 200);
    text
}

fn one_more() -> Edit {
    let note = Value::map([("at", "tee"), ("text", "Left half, always.")]);
    Edit::push(Path::new().key("holes").of("hole", "9").key("notes"), note)
}

/// The number of the issue: shown within 16 ms: the edit, proved, and the notebook read again.
#[divan::bench]
fn an_edit_on_two_hundred_notes_shown(bencher: Bencher) {
    let (text, edit) = (two_hundred_notes(), one_more());
    bencher.bench_local(|| {
        let edited = apply(black_box(&text), &edit).ok()?;
        marram::course::read(&edited.text).0
    });
}

/// The number of the issue: durable within 150 ms: the same and the file written, renamed and synced.
#[divan::bench]
fn an_edit_on_two_hundred_notes_durable(bencher: Bencher) {
    let (text, edit) = (two_hundred_notes(), one_more());
    let Ok(home) = tempfile::tempdir() else { return };
    let store = Store::new(Shelf::at(home.path()));
    let path = home.path().join("corvane.yaml");
    bencher.bench_local(|| {
        let edited = apply(black_box(&text), &edit).ok()?;
        let read = marram::course::read(&edited.text).0;
        let saved = store.save(&path, edited.text.as_bytes(), Expect::Anything).ok()?;
        Some((read, saved.digest))
    });
}
