//! Reading: what is understood of good, broken, hostile and arbitrary texts, and how problems are shown.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use marram::notebook::diagnostic::{BYTE_CODES, CODES, LARGE_CODES};
use marram::notebook::edit::{Edit, Path, Value};
use marram::notebook::report::{MAX_SHOWN, MAX_WIDTH, Report};
use marram::notebook::table::{TABLE_CODES, read_table};
use marram::notebook::{Document, Kind, Lines, Node, Severity, Span, endings, read};
use proptest::prelude::*;

fn raw(n: &Node) -> String {
    match &n.kind {
        Kind::Nothing => "-".into(),
        Kind::Broken => "BROKEN".into(),
        Kind::Text { text, .. } => text.clone(),
        Kind::List(items) => format!("[{}]", items.iter().map(raw).collect::<Vec<_>>().join(", ")),
        Kind::Map(entries) => {
            format!(
                "{{{}}}",
                entries.iter().map(|e| format!("{}: {}", e.key, raw(&e.value))).collect::<Vec<_>>().join(", ")
            )
        }
    }
}

/// Raw nodes and `LINE:COL code` of every problem.
fn seen(text: &str) -> (String, Vec<String>) {
    let (node, problems) = read(text);
    let lines = Lines::new(text);
    let list = problems.iter().map(|d| {
        let p = lines.place(d.span.start);
        format!("{}:{} {}", p.line, p.column, d.code)
    });
    (node.as_ref().map_or("NONE".into(), raw), list.collect())
}

#[test]
fn scalars_are_raw_text() {
    let text =
        "a: no\nb: 04\nc: +1.3\nd: ~\ne: null\nf:\ng: ''\nh: 1e3\ni: 0x1f\nj: <<\nk: 2026-05-16\nl: 1..9\nm: 75L..\n";
    let (node, problems) = read(text);
    assert_eq!(problems, []);
    let values: Vec<String> = node.unwrap().entries().iter().map(|e| raw(&e.value)).collect();
    assert_eq!(values, ["no", "04", "+1.3", "~", "null", "-", "", "1e3", "0x1f", "<<", "2026-05-16", "1..9", "75L.."]);
}

#[test]
fn spans_cover_what_is_written() {
    let text = "\u{feff}a: 'q '' r'   # c\n\"k\": \"dq\n  more\"\nlit: | # h\n  one\n\n  two\n\nfold: >-\n    x\n    y\ne:   # c\nli:\n- a\n-  # c\n- b: 1\n  c: { a: 1, b: }\nkeep: |+\n  x\n\n";
    let (node, problems) = read(text);
    assert_eq!(problems, []);
    let node = node.unwrap();
    let at = |path: Path| path.find(&node).unwrap().span.of(text);
    let top = |key: &str| at(Path::new().key(key));
    assert_eq!(top("a"), "'q '' r'");
    assert_eq!(top("k"), "\"dq\n  more\"");
    assert_eq!(top("lit"), "| # h\n  one\n\n  two");
    assert_eq!(top("fold"), ">-\n    x\n    y");
    assert_eq!(top("keep"), "|+\n  x");
    assert_eq!(top("li"), "- a\n-  # c\n- b: 1\n  c: { a: 1, b: }");
    assert_eq!(at(Path::new().key("li").item(2).key("c")), "{ a: 1, b: }");
    let e = node.get("e").unwrap().span;
    assert_eq!((e.start, e.end), (text.find("e:   #").unwrap() + 2, text.find("e:   #").unwrap() + 2));
    let empty = Path::new().key("li").item(1).find(&node).unwrap().span;
    assert_eq!(empty.start, text.find("-  # c").unwrap() + 1);
    let b = Path::new().key("li").item(2).key("c").key("b").find(&node).unwrap().span;
    assert_eq!(b.start, text.find("b: }").unwrap() + 2);
    assert_eq!(node.entry("k").unwrap().key_span.of(text), "\"k\"");
}

#[test]
fn one_slip_costs_one_entry() {
    for (text, nodes, problems) in [
        ("a: 1\n\tb: 2\n", "{a: BROKEN}", &["2:1 tab-indent"][..]),
        ("a: {x: 1\nb: 2\n", "{a: BROKEN, b: 2}", &["1:4 unclosed-bracket"]),
        ("a: b: c\nd: 1\n", "{a: BROKEN, d: 1}", &["1:5 colon-ended-text"]),
        ("a: \"x\nb: 2\n", "{a: BROKEN, b: 2}", &["1:4 unclosed-quote"]),
        ("a:\n  - 1\n bad\nb: 2\n", "{a: [1], b: 2}", &["3:2 bad-indent"]),
        ("a: @x\n", "{a: BROKEN}", &["1:4 text-start"]),
        ("a: 1\n---\nb: 2\n", "{a: 1}", &["2:1 second-document"]),
        ("a: *x\nb: &y 2\nc: !t 1\n", "{a: BROKEN, b: BROKEN, c: BROKEN}", &["1:4 alias", "2:7 alias", "3:7 tag"]),
        ("a: x\u{1}y\n", "{a: x y}", &["1:5 control-character"]),
        ("a: {t: one: two}\n", "{a: BROKEN}", &["1:11 colon-ended-text"]),
        ("a: {t: one, two, n: 1}\n", "{a: {t: one, n: 1}}", &["1:11 comma-ended-text"]),
        ("a: 1\na: 2\n", "{a: 1}", &["2:1 duplicate-key"]),
        ("a: 1\nwords\nb: 2\n", "{a: BROKEN, b: 2}", &["2:1 key-without-value"]),
        ("a: [1, 2}\nb: ]\n", "{a: BROKEN, b: BROKEN}", &["1:4 wrong-bracket", "2:4 wrong-bracket"]),
        ("text: play the #3 side\nb: x #y\n", "{text: play the, b: x}", &["1:16 hash-ended-text"]),
        (
            "holes:\n- hole: 1\n  par: 4\n- hole: 2\n  text: a: b\n  notes:\n    - at: tee\n    - {text: x #y}\n    - at: green\n- hole: 3\n  par: {men: 4\n- hole: 4\nx: 1\n",
            "{holes: [{hole: 1, par: 4}, {hole: 2, text: BROKEN, notes: [{at: tee}, BROKEN, {at: green}]}, {hole: 3, par: BROKEN}, {hole: 4}], x: 1}",
            &["5:10 colon-ended-text", "8:16 hash-ended-text", "11:8 unclosed-bracket"],
        ),
    ] {
        let (n, p) = seen(text);
        assert_eq!((n.as_str(), p), (nodes, problems.iter().map(|s| s.to_string()).collect()), "{text:?}");
        // Windows line ends change nothing but the bytes.
        assert_eq!(seen(&text.replace('\n', "\r\n")), seen(text), "{text:?}");
    }
}

#[test]
fn a_comma_that_ended_a_text_is_told_from_an_unknown_key() {
    let known = ["text", "side", "of"];
    let text = "{ of: Kettle, text: The face is steep, rather steep: so wedge out, sid: left }";
    let (node, _) = read(text);
    let node = node.unwrap();
    let d = endings::comma_ended(&node, 2, &known).unwrap();
    assert_eq!((d.code, d.span.of(text)), ("comma-ended-text", ","));
    assert!(d.message.contains("`text`"));
    assert_eq!(endings::comma_ended(&node, 3, &known), None, "`sid` is a slip for `side`");
    assert_eq!(endings::comma_ended(&node, 0, &known), None);
    assert_eq!(endings::comma_ended(&node, 9, &known), None);
    let (block, _) = read("of: Kettle pit\nrather steep: so wedge out\n");
    assert_eq!(endings::comma_ended(&block.unwrap(), 1, &known), None);
}

/// The files under tests/notebooks/broken/ that show codes of this room.
fn broken() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/notebooks/broken")
}

#[test]
fn every_code_has_a_broken_file_that_shows_it() {
    for code in CODES.iter().filter(|c| !LARGE_CODES.contains(c)) {
        let path = broken().join(format!("{code}.yaml"));
        let bytes = std::fs::read(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        let file = Document::open(bytes);
        let codes: Vec<_> = file.problems().iter().map(|d| d.code).collect();
        assert!(codes.contains(code), "{code}.yaml shows {codes:?}");
        assert!(codes.iter().all(|c| c == code), "{code}.yaml shows {codes:?}");
        assert_eq!(std::str::from_utf8(file.bytes()).is_err(), BYTE_CODES.contains(code));
    }
}

#[test]
fn every_code_of_a_table_has_a_broken_file_that_shows_it() {
    for code in TABLE_CODES {
        let path = broken().join(format!("{code}.csv"));
        let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
        let codes: Vec<_> = read_table(&text).1.iter().map(|d| d.code).collect();
        assert_eq!(codes, [*code], "{}", path.display());
    }
}

#[test]
fn codes_are_sorted_and_used() {
    assert!(CODES.windows(2).all(|w| w[0] < w[1]));
    let src = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("src/notebook");
    let mut given = std::collections::BTreeSet::new();
    for entry in std::fs::read_dir(src).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|e| e != "rs") {
            continue;
        }
        let text = std::fs::read_to_string(path).unwrap();
        for call in ["Diagnostic::error(", "Diagnostic::warning("] {
            for (i, _) in text.match_indices(call) {
                if let Some(code) = text[i + call.len()..].trim_start().strip_prefix('"') {
                    given.insert(code.split('"').next().unwrap().to_owned());
                }
            }
        }
    }
    let listed: std::collections::BTreeSet<String> = CODES.iter().chain(TABLE_CODES).map(|c| c.to_string()).collect();
    assert_eq!(given, listed);
}

// ---- hostile input: the table of crates.md 1.3, 2026 ----

#[test]
fn hostile_texts_end_soon_and_say_why() {
    let deep_maps = (0..3000).map(|i| format!("{}a:\n", " ".repeat(i))).collect::<String>();
    let bomb =
        (1..10).map(|i| format!("l{i}: &l{i} [{}]\n", vec![format!("*l{}", i - 1); 9].join(", "))).collect::<String>();
    let table: Vec<(&str, String, &[&str])> = vec![
        (
            "20,000 holes",
            (0..20_000).map(|i| format!("- {{ hole: {i}, par: 4, name: {} }}\n", "x".repeat(70))).collect(),
            &[],
        ),
        ("alias bomb", format!("l0: &l0 x\n{bomb}"), &["alias"]),
        (
            "one map aliased often",
            format!("a: &a {{ x: 1 }}\nb: [{}]\n", "*a, ".repeat(200_000)),
            &["alias", "too-many-problems"],
        ),
        ("brackets closed", format!("a: {}{}\n", "[".repeat(100_000), "]".repeat(100_000)), &["too-deep"]),
        ("brackets open", "[".repeat(1_000_000), &["too-deep"]),
        ("dashes", "- ".repeat(100_000), &["too-deep"]),
        ("deep maps", deep_maps, &["too-big"]),
        ("deep maps that fit", (0..1000).map(|i| format!("{}a:\n", " ".repeat(i))).collect(), &["too-deep"]),
        ("one long text", format!("a: {}\n", "x".repeat(100 << 20)), &["too-big"]),
        ("a long text that fits", format!("a: {}\nb: 1\n", "x".repeat(4 << 19)), &["too-long-text"]),
        ("a long block", format!("a: |\n{}", "  x y z\n".repeat(500_000)), &["too-long-text"]),
        ("unknown keys", (0..300_000).map(|i| format!("k{i}: 1\n")).collect(), &["too-many-values"]),
        ("anchors", (0..200_000).map(|i| format!("- &a{i} x\n")).collect(), &["alias", "too-many-problems"]),
        ("question marks", "? ".repeat(200_000), &["too-deep"]),
        ("keys in keys", "a: ".repeat(100_000), &["colon-ended-text"]),
        ("an anchor at itself", "a: &a [*a]\n".into(), &["alias"]),
        ("broken lines", "a: b: c\n".repeat(500_000), &["colon-ended-text", "too-many-problems"]),
        ("open quotes", "- \"x\n".repeat(500_000), &["unclosed-quote", "too-many-problems"]),
        ("open brackets", "- {\n".repeat(500_000), &["unclosed-bracket", "too-many-problems"]),
        (
            "broken in a broken list in …",
            (0..24).map(|i| format!("{}- a:\n", " ".repeat(2 * i))).collect::<String>() + &" \"\n".repeat(1_000_000),
            &[],
        ),
        ("tabs", "\t\n\ta\n".repeat(700_000), &[]),
        ("control characters", "\u{1b}".repeat(4 << 20), &["control-character", "too-many-problems"]),
        ("hashes", "#".repeat(4 << 20), &["empty-file"]),
        ("blanks", " ".repeat(4 << 20), &["empty-file"]),
        ("colons", ":".repeat(4 << 20), &[]),
        ("repeated key", "a: 1\n".repeat(140_000), &["duplicate-key", "too-many-problems"]),
    ];
    for (name, text, codes) in table {
        let start = Instant::now();
        let (_, problems) = read(&text);
        let took = start.elapsed();
        println!("{name}: {} bytes, {took:?}, {} problems", text.len(), problems.len());
        for code in codes {
            assert!(problems.iter().any(|d| d.code == *code), "{name}: {:?}", problems.first());
        }
        assert!(problems.len() <= 1001);
        assert!(took < Duration::from_secs(20), "{name} took {took:?}");
        let start = Instant::now();
        let shown = Report::new("x.yaml", &text, &problems).to_text();
        let took = start.elapsed();
        assert!(
            shown.len() < 200_000 && took < Duration::from_secs(20),
            "{name}: report of {} bytes in {took:?}",
            shown.len()
        );
    }
}

fn check_any(bytes: &[u8]) -> Result<(), TestCaseError> {
    let file = Document::open(bytes.to_vec());
    prop_assert_eq!(file.bytes(), bytes);
    let text = file.text();
    for d in file.problems() {
        prop_assert!(d.span.start <= d.span.end, "{:?}", d);
        prop_assert!(CODES.contains(&d.code));
        prop_assert!(!d.message.is_empty() && !d.message.ends_with('.'));
    }
    let spans_of_text = std::str::from_utf8(bytes).is_ok();
    if let (Some(root), true) = (file.root(), spans_of_text) {
        spans_are_good(root, text)?;
    }
    let report = file.report("a\u{1b}b.yaml", file.problems());
    for line in report.to_text().lines() {
        prop_assert!(!line.chars().any(char::is_control), "{line:?}");
    }
    for line in report.to_json_lines().lines() {
        let object: serde_json::Value = serde_json::from_str(line).unwrap();
        prop_assert_eq!(&object["schema"], "marram/check/1");
    }
    let _ = file.edit(&Edit::add(Path::new(), "new key", Value::from("x")));
    Ok(())
}

fn spans_are_good(node: &Node, text: &str) -> Result<(), TestCaseError> {
    let inside = |s: Span| text.get(s.start..s.end).is_some();
    prop_assert!(inside(node.span), "{:?} in {text:?}", node);
    for item in node.items() {
        prop_assert!(item.span.start >= node.span.start && item.span.end <= node.span.end, "{node:?} {text:?}");
        spans_are_good(item, text)?;
    }
    for e in node.entries() {
        prop_assert!(inside(e.key_span) && e.key_span.start >= node.span.start, "{e:?} {text:?}");
        prop_assert!(e.key_span.end <= e.value.span.start, "{e:?} {text:?}");
        prop_assert!(e.value.span.end <= node.span.end, "{node:?} {text:?}");
        spans_are_good(&e.value, text)?;
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes_are_kept_and_break_nothing(bytes in prop::collection::vec(any::<u8>(), 0..200)) {
        check_any(&bytes)?;
    }

    #[test]
    fn any_text_is_kept_and_breaks_nothing(
        text in prop_oneof!["\\PC{0,80}", "[ab:#,'\"{}\\[\\]|>&*!?%@`~\\-+\t \r\n\\\\é\u{feff}\u{85}]{0,120}", any::<String>()]
    ) {
        check_any(text.as_bytes())?;
    }

    /// One broken hole leaves the others as they were, wherever the slip is and whatever it is.
    #[test]
    fn a_broken_hole_leaves_the_others(hole in 0usize..4, line in 0usize..12, column in 0usize..60, slip in "[\"'{}\\[\\]:,#&*!|>@`%\t\u{1b} -]{1,3}", cut in any::<bool>()) {
        let good = course();
        let (before, _) = read(&good);
        let before = before.unwrap();
        let mut lines: Vec<String> = good.lines().map(str::to_owned).collect();
        let first = lines.iter().position(|l| l.starts_with(&format!("  - hole: {}", hole + 1))).unwrap();
        let text = &mut lines[first + 1 + line];
        let indent = text.len() - text.trim_start().len();
        let at = text.char_indices().map(|(i, _)| i).filter(|&i| i >= indent).nth(column).unwrap_or(text.len());
        if cut { text.truncate(at) } else { text.insert_str(at, &slip) }
        let text = lines.join("\n") + "\n";
        let (after, problems) = read(&text);
        let after = after.unwrap();
        let holes = |n: &Node| n.get("holes").unwrap().items().iter().map(raw).collect::<Vec<_>>();
        let (old, new) = (holes(&before), holes(&after));
        prop_assert_eq!(old.len(), new.len(), "{}\n{:?}", text, problems);
        for (i, (o, n)) in old.iter().zip(&new).enumerate() {
            prop_assert!(i == hole || o == n, "hole {} in\n{}\n{:?}", i + 1, text, problems);
        }
        prop_assert_eq!(after.get("format").and_then(Node::text), Some("course-notebook/1"));
    }
}

/// Four holes with every way of writing a text.
fn course() -> String {
    let mut text = String::from("format: course-notebook/1\ncourse:\n  name: Corvane Links\nholes:\n");
    for hole in 1..=4 {
        text.push_str(&format!(
            "  - hole: {hole}
    par: {{ men: 4, women: 5 }}
    tees:
      Back: {{ length: 428 }}
      Club: {{ length: 401, across: 3L }}
    notes:
      - at: tee
        text: |
          Left half, it's open.
          Players' side.
      - {{ at: green, text: \"Slow up, quick down.\" }}
      - text: 'A fade: off the mast'
        seen: 2026-05-03
"
        ));
    }
    text
}

// ---- reports ----

#[test]
fn a_report_names_place_line_caret_and_cure() {
    let text = "format: course-notebook/1\nholes:\n  - hole: 4\n    notes:\n      - { text: short, of the pinch }\n";
    let (_, problems) = read(text);
    assert_eq!(
        Report::new("links.yaml", text, &problems).to_text(),
        "links.yaml:5:22: error: the comma ended the text of `text`
          - { text: short, of the pinch }
                         ^
    put the text in quotes, or write it as a block under its key
"
    );
    assert_eq!(
        Report::new("links.yaml", text, &problems).to_json_lines(),
        "{\"schema\":\"marram/check/1\",\"file\":\"links.yaml\",\"line\":5,\"column\":22,\"severity\":\"error\",\"message\":\"the comma ended the text of `text`\",\"advice\":\"put the text in quotes, or write it as a block under its key\"}\n"
    );
}

#[test]
fn columns_count_characters() {
    let text = "七番: { é: [ }\n";
    let (_, problems) = read(text);
    let shown = Report::new("f", text, &problems).to_text();
    assert!(shown.starts_with("f:1:10: error: "), "{shown}");
    assert!(shown.contains("\n               ^\n"), "the caret counts columns of the terminal:\n{shown}");
}

#[test]
fn a_report_shows_two_hundred_problems_and_counts_the_rest() {
    let text = "- b: c: d\n".repeat(350);
    let (_, problems) = read(&text);
    let shown = Report::new("f", &text, &problems).to_text();
    assert_eq!(shown.matches("error:").count(), MAX_SHOWN);
    assert!(shown.ends_with("f: 150 more problems are not shown\n"), "{shown}");
    let json = Report::new("f", &text, &problems).to_json_lines();
    assert_eq!(json.lines().count(), MAX_SHOWN + 1);
    let last: serde_json::Value = serde_json::from_str(json.lines().last().unwrap()).unwrap();
    assert_eq!(
        (&last["line"], &last["message"]),
        (&serde_json::Value::Null, &"150 more problems are not shown".into())
    );
    let text = "- b: c: d\n".repeat(5000);
    let (_, problems) = read(&text);
    let shown = Report::new("f", &text, &problems).to_text();
    assert!(shown.ends_with("f: at least 801 more problems are not shown\n"), "{}", &shown[shown.len() - 200..]);
}

#[test]
fn no_line_of_an_excerpt_is_wider_than_the_screen() {
    let text = format!("a: {} b: {}\n", "七".repeat(3000), "x".repeat(3000));
    let (_, problems) = read(&text);
    let shown = Report::new("f", &text, &problems).to_text();
    for line in shown.lines().skip(1) {
        assert!(unicode_width::UnicodeWidthStr::width(line) <= MAX_WIDTH, "{line}");
    }
}

#[test]
fn problems_are_sorted_by_place() {
    let text = "a: 1\nb: 2\n";
    let problem = |code, at| marram::notebook::Diagnostic::error(code, Span::new(at, at + 1), code);
    let list = [problem("later", 5), problem("first", 0)];
    let shown = Report::new("f", text, &list).to_text();
    assert!(shown.find("first") < shown.find("later"));
    assert!(Report::new("f", text, &list).has_errors());
    assert!(!Report::new("f", text, &[]).has_errors());
    assert_eq!(list[0].severity, Severity::Error);
}

#[test]
fn bytes_that_are_no_text_are_reported_with_their_line() {
    let file = Document::open(b"a: 1\nb: caf\xe9 \xff\n".to_vec());
    assert!(file.root().is_none());
    let shown = file.report("f", file.problems()).to_text();
    assert!(shown.starts_with("f:2:7: error: the byte 0xe9"), "{shown}");
    assert!(shown.contains("    b: caf? ?\n          ^\n"), "{shown}");
    assert!(file.edit(&Edit::set(Path::new().key("a"), "2")).is_err());
}
