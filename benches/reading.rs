//! How long it takes to read the files a person owns: `cargo bench --bench reading`.

use std::path::Path;

use divan::{Bencher, black_box};
use marram::{course, notebook, player};

fn main() {
    divan::main();
}

fn sample(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-courses").join(name);
    std::fs::read_to_string(path).unwrap_or_default()
}

/// The eighteen holes of the sample links with notes added until there are two hundred.
fn two_hundred_notes() -> String {
    let text = sample("corvane.yaml");
    let own = course::read(&text).0.map_or(0, |c| c.holes.iter().map(|h| h.notes.len()).sum::<usize>());
    let lists = text.matches("\n    notes:\n").count().max(1);
    let mut left = 200_usize.saturating_sub(own);
    let mut long = String::new();
    for (place, part) in text.split("\n    notes:\n").enumerate() {
        if place > 0 {
            long.push_str("\n    notes:\n");
            let share = left / (lists - (place - 1)).max(1);
            left -= share;
            for n in 0..share {
                long.push_str("      - at: approach\n        when: { carry: 180.., hole_location: [back, left] }\n        text: >-\n");
                long.push_str(&format!(
                    "          Note {n}: long runs off. The front half takes the spin and holds.\n"
                ));
                long.push_str("        sure: paced\n        seen: 2026-05-03\n");
            }
        }
        long.push_str(part);
    }
    long
}

/// The number of issue 1 of 9: under 10 ms.
#[divan::bench]
fn notebook_of_18_holes_and_200_notes(bencher: Bencher) {
    let text = two_hundred_notes();
    let (read, problems) = course::read(&text);
    let notes = read.map_or(0, |c| c.holes.iter().map(|h| h.notes.len()).sum::<usize>());
    assert!(notes == 200 && problems.is_empty(), "{notes} notes, {problems:?}");
    bencher.bench_local(|| course::read(black_box(&text)));
}

/// The part of it that is nodes and not yet golf.
#[divan::bench]
fn its_nodes_alone(bencher: Bencher) {
    let text = two_hundred_notes();
    bencher.bench_local(|| notebook::read(black_box(&text)));
}

#[divan::bench]
fn player_with_twenty_rounds(bencher: Bencher) {
    let text = sample("players/wren-hallam.yaml");
    bencher.bench_local(|| player::read(black_box(&text)));
}

#[divan::bench]
fn layer_over_eighteen_holes(bencher: Bencher) {
    let course = course::read(&sample("corvane.yaml")).0;
    let text = sample("corvane.wren-hallam.yaml");
    bencher.bench_local(|| course::read_layer(black_box(&text), course.as_ref()));
}
