//! The text of human files: reading, recovery, problems, edits.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

use marram::notebook::{Kind, Lines, Node, read};

fn raw(n: &Node) -> String {
    match &n.kind {
        Kind::Nothing => "-".into(),
        Kind::Broken => "BROKEN".into(),
        Kind::Text { text, .. } => format!("{text:?}"),
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
fn show() {
    for t in [
        "a: 1\n\tb: 2\n",
        "a: {x: 1\nb: 2\n",
        "a: b: c\nd: 1\n",
        "a: \"x\nb: 2\n",
        "a:\n  - 1\n bad\nb: 2\n",
        "a: @x\n",
        "a: 1\n---\nb: 2\n",
        "a: *x\nb: &y 2\nc: !t 1\n",
        "a: x\u{1}y\n",
        "- a\nb: 1\n",
        "holes:\n  - hole: 1\n    par: 4\n  - hole: 2\n    text: a: b\n    notes:\n      - at: tee\n      - {text: x #y}\n      - at: green\n  - hole: 3\n    par: {men: 4\n  - hole: 4\n",
        "a: {t: one: two}\n",
        "a: {t: one, two}\n",
        "a: {t: one two, three: four}\n",
        "? [1]\n: 2\n",
        "just words\nand more\n",
        "just words",
        "",
        "# c\n",
        "a: 1\na: 2\n",
        "a: 1\nwords\nb: 2\n",
        "a: 'x' y\n",
        "a: [1, 2}\nb: ]\n",
        "text: play the #3 side\nb: x #y\n",
    ] {
        println!("{t:?}\n   {:?}", seen(t));
    }
}
