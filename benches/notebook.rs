//! How long it takes to read a course notebook, to report its problems, and to edit it.
//! `cargo bench --bench notebook`

use divan::Bencher;
use marram::notebook::edit::{Edit, Path, Value, apply};
use marram::notebook::report::Report;
use marram::notebook::{Kind, Node, read};

fn main() {
    divan::main();
}

/// 18 holes with 200 notes, laid out as a professional would write them.
fn course() -> String {
    let mut text = String::from(
        "format: course-notebook/1\ncourse:\n  name: Corvane Links            # invented\n  units: yards\n  elevation: 12\nholes:\n",
    );
    let mut notes = 0;
    for hole in 1..=18 {
        text.push_str(&format!(
            "  - hole: {hole}
    name: Saltpan
    par: {{ men: 4, women: 5 }}            # or one value
    stroke_index: {{ men: {hole}, women: {hole} }}
    line_from: Back
    bearing: 248                         # compass direction of the first leg
    tees:
      Back: {{ length: 428 }}
      Club: {{ length: 401, across: 3L }}  # stands 3 left of the line
      Forward: {{ length: 356, starts_at: {{ at: 70, across: 18L }} }}
    bends: [ {{ at: 262, turn: 18R }} ]
    heights: [ {{ at: 0, up: 0 }}, {{ at: 262, up: -4 }}, {{ at: 412, up: -1 }} ]
    landmarks:
      - {{ name: the mast, at: 640, across: 10L, seen_from: tee }}
    sketch:                              # ground by numbers along the line
      fairway:
        - [ {{ at: 195, across: 14L..16R }}, {{ at: 270, across: 19L..22R }}, {{ at: 390, across: 11L..12R }} ]
      bunkers:
        - {{ name: Kettle, from: 238, to: 256, across: 13L..27L, face: steep }}
        - {{ name: Pan, from: 301, to: 312, across: 9R..21R, face: steep }}
      penalty:
        - {{ name: the creek, colour: red, path: [ {{ at: 0, across: 40R }}, {{ at: 330, across: 52R }} ], width: 8 }}
      out:
        - {{ from: 0, to: 440, across: 75L.. }}
      green: {{ front: 412, depth: 31, width: 24, across: 2R, turned: 15R, up: -1,
               falls: {{ percent: 1.8, towards: 7 }} }}
    aims:
      - name: high line
        when: {{ tees: [Back, Club], carry: 200.. }}
        from: tee
        at: 262
        across: 4L
        shape: fade
        text: A fade off the mast falls to the right half; the left half hides the flag.
    dangers:
      - {{ of: Kettle, side: left, text: \"The face means a wedge out sideways.\" }}
    notes:
"
        ));
        for _ in 0..if hole <= 2 { 12 } else { 11 } {
            notes += 1;
            text.push_str(
                "      - at: approach
        when: { hole_location: back }
        text: Long runs off. The front half takes the spin and holds.
        sure: paced                      # paced, laser, map, guess
        seen: 2026-05-03
",
            );
        }
    }
    assert_eq!(notes, 200);
    text
}

/// Median wanted: under 10 ms with the decoding of the course room on top.
#[divan::bench]
fn read_eighteen_holes_with_200_notes(bencher: Bencher) {
    let text = course();
    bencher.counter(divan::counter::BytesCount::of_str(&text)).bench(|| read(divan::black_box(&text)));
}

#[divan::bench]
fn read_with_three_broken_holes(bencher: Bencher) {
    let text = course().replacen("text: Long runs off.", "text: Long: runs off.", 1).replacen(
        "par: { men: 4, women: 5 } ",
        "par: { men: 4, women: 5 ",
        3,
    );
    let (_, problems) = read(&text);
    assert_eq!(problems.len(), 4);
    bencher.bench(|| read(divan::black_box(&text)));
}

#[divan::bench]
fn add_a_note_and_prove_it(bencher: Bencher) {
    let text = course();
    let note = Value::map([("at", "tee"), ("text", "Left half, always.")]);
    let edit = Edit::push(Path::new().key("holes").of("hole", "9").key("notes"), note);
    bencher.bench(|| apply(divan::black_box(&text), &edit));
}

#[divan::bench]
fn report_200_problems(bencher: Bencher) {
    let text = course();
    let (node, _) = read(&text);
    let mut problems = Vec::new();
    note_texts(&node.unwrap_or(Node { span: Default::default(), kind: Kind::Nothing }), &mut problems);
    bencher.bench(|| Report::new("corvane.yaml", divan::black_box(&text), &problems).to_text());
}

fn note_texts(node: &Node, out: &mut Vec<marram::notebook::Diagnostic>) {
    for item in node.items().iter().chain(node.entries().iter().map(|e| &e.value)) {
        if let Some(text) = item.text() {
            out.push(marram::notebook::Diagnostic::error("a", item.span, text).advise("mend it"));
        }
        note_texts(item, out);
    }
}

/// Hostile texts, each of which must end soon: the table of crates.md 1.3, 2026.
#[divan::bench(args = ["aliases", "brackets", "deep maps", "one text", "unknown keys", "broken lines", "colons", "open quotes", "valid 2 MB"])]
fn hostile(bencher: Bencher, kind: &str) {
    let text = match kind {
        "aliases" => format!("a: &a {{ x: 1 }}\nb: [{}]\n", "*a, ".repeat(200_000)),
        "brackets" => "[".repeat(1_000_000),
        "deep maps" => (0..1000).map(|i| format!("{}a:\n", " ".repeat(i))).collect(),
        "one text" => format!("a: {}\n", "x".repeat(4 << 19)),
        "unknown keys" => (0..300_000).map(|i| format!("k{i}: 1\n")).collect(),
        "broken lines" => "a: b: c\n".repeat(500_000),
        "colons" => ":".repeat(4 << 20),
        "open quotes" => "- \"x\n".repeat(500_000),
        _ => (0..20_000).map(|i| format!("- {{ hole: {i}, par: 4, name: {} }}\n", "x".repeat(70))).collect(),
    };
    bencher.bench(|| read(divan::black_box(&text)));
}
