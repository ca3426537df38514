//! The text of human files: reading, recovery, problems, edits.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

#[path = "notebook_text/edits.rs"]
mod edits;
#[path = "notebook_text/random.rs"]
mod random;

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
