//! Random notebooks and random edits: comments stay, the nodes are the intended ones, the way back is exact.

use std::cell::Cell;

use marram::notebook::edit::{Edit, Op, Path, Refusal, Value, apply};
use marram::notebook::{Kind, Node, Severity, read};
use proptest::prelude::*;

/// Choices drawn from a list of bytes; 0 when they run out, which makes everything small and plain.
struct Choices<'c> {
    bytes: &'c [u8],
    at: Cell<usize>,
}

impl Choices<'_> {
    fn of(&self, n: usize) -> usize {
        let at = self.at.replace(self.at.get() + 1);
        usize::from(*self.bytes.get(at).unwrap_or(&0)) % n.max(1)
    }
}

const WORDS: &[&str] = &[
    "low",
    "Saltpan",
    "04",
    "no",
    "+1.3",
    "the flag",
    "75L..",
    "1..9",
    "é",
    "七番",
    "left half, always",
    "it's",
    "a: b",
    "x #y",
    "# z",
    "",
    "say \"go\"",
    "- d",
    "[q",
    "{w",
    "*r",
    "a\\b",
    "the left half hides the flag and the right half shows it, so play to the mast and wait",
];
const KEYS: &[&str] = &["hole", "name", "at", "text", "notes", "men", "é", "two words", "58"];

/// Writes a random notebook: every way of writing a value, comments `#c1;`, `#c2;` … at odd places.
struct Writer<'c> {
    choices: &'c Choices<'c>,
    out: String,
    comments: usize,
}

impl Writer<'_> {
    fn pick(&self, n: usize) -> usize {
        self.choices.of(n)
    }

    fn comment(&mut self) -> String {
        self.comments += 1;
        format!("#c{};", self.comments)
    }

    /// The end of a line, with a comment or not, and perhaps idle lines after it.
    fn end(&mut self) {
        self.trailing();
        self.idle();
    }

    fn trailing(&mut self) {
        if self.pick(3) == 1 {
            let blanks = " ".repeat(1 + self.pick(4));
            let c = self.comment();
            self.out.push_str(&format!("{blanks}{c}"));
        }
        self.out.push('\n');
    }

    fn idle(&mut self) {
        for _ in 0..[0, 0, 0, 1, 2][self.pick(5)] {
            if self.pick(2) == 0 {
                self.out.push('\n');
            } else {
                let blanks = " ".repeat(self.pick(9));
                let c = self.comment();
                self.out.push_str(&format!("{blanks}{c}\n"));
            }
        }
    }

    fn map(&mut self, column: usize, depth: usize, first_inline: bool) {
        let mut keys = KEYS.to_vec();
        for n in 0..1 + self.pick(4) {
            let key = keys.remove(self.pick(keys.len()));
            if n > 0 || !first_inline {
                self.out.push_str(&" ".repeat(column));
            }
            let key = if self.pick(5) == 4 { format!("\"{key}\"") } else { key.to_owned() };
            self.out.push_str(&format!("{key}:"));
            self.value(column, depth, true);
        }
    }

    fn list(&mut self, column: usize, depth: usize, first_inline: bool) {
        for n in 0..1 + self.pick(3) {
            if n > 0 || !first_inline {
                self.out.push_str(&" ".repeat(column));
            }
            self.out.push('-');
            self.value(column, depth, false);
        }
    }

    fn value(&mut self, column: usize, depth: usize, under_key: bool) {
        let room = if depth < 3 { 12 } else { 9 };
        match self.pick(room) {
            0 | 1 => {
                self.out.push_str(" plain");
                self.end();
            }
            2 => {
                let w = WORDS[self.pick(WORDS.len())].replace('\'', "''");
                self.out.push_str(&format!("  '{w}'"));
                self.end();
            }
            3 => {
                let w = WORDS[self.pick(WORDS.len())].replace('\\', "\\\\").replace('"', "\\\"");
                self.out.push_str(&format!(" \"{w}\""));
                self.end();
            }
            4 => {
                let blanks = " ".repeat(column + 1 + self.pick(3));
                let mark = ["|", ">", "|-", ">-", "|+"][self.pick(5)];
                self.out.push_str(&format!(" {mark}"));
                self.trailing();
                for n in 0..1 + self.pick(3) {
                    if n > 0 && self.pick(3) == 2 {
                        self.out.push('\n');
                    }
                    let w = ["one two", "# not a comment", "- x", "a: b", "\"q"][self.pick(5)];
                    self.out.push_str(&format!("{blanks}{w}\n"));
                }
                if self.pick(3) == 2 {
                    self.out.push('\n');
                }
            }
            5 => {
                let blanks = " ".repeat(column + 1 + self.pick(3));
                let (open, close) = [("", ""), ("\"", "\""), ("'", "'")][self.pick(3)];
                self.out.push_str(&format!(" {open}goes\n{blanks}on{close}"));
                self.end();
            }
            6 => self.end(),
            7 | 8 => {
                self.out.push(' ');
                let wide = self.pick(3) == 2;
                self.flow(column + 2, depth + 1, wide);
                self.end();
            }
            9 if under_key => {
                self.end();
                let column = column + [0, 2, 4][self.pick(3)];
                self.list(column, depth + 1, false);
            }
            9 | 10 if !under_key => {
                let gap = 1 + self.pick(3);
                self.out.push_str(&" ".repeat(gap));
                if self.pick(4) == 3 {
                    self.list(column + 1 + gap, depth + 1, true);
                } else {
                    self.map(column + 1 + gap, depth + 1, true);
                }
            }
            _ => {
                self.end();
                self.map(column + 2, depth + 1, false);
            }
        }
    }

    fn flow(&mut self, column: usize, depth: usize, wide: bool) {
        let is_map = self.pick(2) == 0;
        self.out.push_str(if is_map { "{" } else { "[" });
        let mut keys = KEYS.to_vec();
        let n = self.pick(4);
        for i in 0..n {
            if wide {
                self.end();
                self.out.push_str(&" ".repeat(column));
            } else {
                self.out.push_str(&" ".repeat(self.pick(3)));
            }
            if is_map {
                let key = keys.remove(self.pick(keys.len()));
                self.out.push_str(&format!("{key}: "));
            }
            match self.pick(5) {
                0 | 1 => self.out.push_str("plain"),
                2 => self.out.push_str("'a, b'"),
                3 if depth < 4 => self.flow(column + 2, depth + 1, false),
                _ => self.out.push_str("two words"),
            }
            if i + 1 < n || self.pick(4) == 3 {
                self.out.push(',');
            }
        }
        if wide && n > 0 {
            self.end();
            self.out.push_str(&" ".repeat(column));
        } else {
            self.out.push_str(&" ".repeat(self.pick(2)));
        }
        self.out.push_str(if is_map { "}" } else { "]" });
    }
}

/// A text with comments, and how many.
fn notebook(choices: &Choices) -> (String, usize) {
    let mut w = Writer { choices, out: String::new(), comments: 0 };
    if w.pick(8) == 7 {
        w.out.push('\u{feff}');
    }
    w.idle();
    w.map(0, 0, false);
    let (mut text, comments) = (w.out, w.comments);
    if choices.of(4) == 3 && !text.ends_with("\n\n") {
        text.pop();
    }
    if choices.of(3) == 2 {
        text = text.replace('\n', "\r\n");
    }
    (text, comments)
}

fn places(node: &Node, path: &Path, out: &mut Vec<(Path, Node)>) {
    out.push((path.clone(), node.clone()));
    for (i, item) in node.items().iter().enumerate() {
        places(item, &path.clone().item(i), out);
    }
    for e in node.entries() {
        places(&e.value, &path.clone().key(&e.key), out);
    }
}

fn value(choices: &Choices, depth: usize) -> Value {
    let text = |c: &Choices| Value::from(WORDS[c.of(WORDS.len())]);
    match choices.of(if depth < 2 { 8 } else { 4 }) {
        3 => Value::from(["one\ntwo", "one\n\ntwo\n", "\n", " x\n", "a\tb"][choices.of(5)]),
        4 | 5 => Value::map((0..choices.of(4)).map(|i| (KEYS[i], value(choices, depth + 1)))),
        6 => Value::list((0..choices.of(4)).map(|_| value(choices, depth + 1)).collect::<Vec<_>>()),
        7 => Value::Nothing,
        _ => text(choices),
    }
}

fn edit(choices: &Choices, root: &Node) -> Edit {
    let mut all = Vec::new();
    places(root, &Path::new(), &mut all);
    let (path, node) = all.swap_remove(choices.of(all.len()));
    let at = if choices.of(2) == 0 { None } else { Some(choices.of(4)) };
    match (&node.kind, choices.of(4)) {
        (_, 0) => Edit::remove(path),
        (Kind::List(_), 1 | 2) => Edit { path, op: Op::Push { value: value(choices, 0), at, back: None } },
        (Kind::Map(_), 1 | 2) => {
            Edit { path, op: Op::Add { key: "new key".into(), value: value(choices, 0), at, back: None } }
        }
        (Kind::Nothing, 1) => Edit::push(path, value(choices, 0)),
        (Kind::Map(_), _) => Edit::push(path.key("new list"), value(choices, 0)),
        _ => Edit { path, op: Op::Set { value: value(choices, 0), was: None, back: None } },
    }
}

/// The numbers of the comments in a text.
fn comments(text: &str) -> Vec<usize> {
    text.match_indices("#c").filter_map(|(i, _)| text[i + 2..].split(';').next()?.parse().ok()).collect()
}

fn values_hold_comments(v: &Value) -> bool {
    match v {
        Value::Text(t) => !comments(t).is_empty(),
        Value::List(items) => items.iter().any(values_hold_comments),
        Value::Map(entries) => entries.iter().any(|(_, v)| values_hold_comments(v)),
        Value::Nothing | Value::Broken => false,
    }
}

/// Whether `part` is `whole` with lines left out.
fn is_part(part: &[&str], whole: &[&str]) -> bool {
    let mut rest = whole.iter();
    part.iter().all(|p| rest.any(|w| w == p))
}

fn check(bytes: &[u8]) -> Result<bool, TestCaseError> {
    let choices = Choices { bytes, at: Cell::new(0) };
    let (text, count) = notebook(&choices);
    let (node, problems) = read(&text);
    let errors: Vec<_> = problems.iter().filter(|d| d.severity == Severity::Error).collect();
    prop_assert!(errors.is_empty(), "{text}\n{errors:?}");
    let node = node.ok_or_else(|| TestCaseError::fail(format!("nothing in {text:?}")))?;
    prop_assert!(!values_hold_comments(&Value::from(&node)), "{text}");
    prop_assert_eq!(comments(&text).len(), count);
    let edit = edit(&choices, &node);
    let done = match apply(&text, &edit) {
        Ok(done) => done,
        Err(why) => {
            let fair = matches!(why, Refusal::Comment(_) | Refusal::Unproved(_));
            prop_assert!(fair, "{text}\n{edit:?}\n{why}");
            return Ok(false);
        }
    };
    // `apply` has proved the nodes; the comments are seen here.
    let gone: Vec<usize> = comments(&text).into_iter().filter(|c| !comments(&done.text).contains(c)).collect();
    let old: Vec<&str> = text.split_inclusive('\n').collect();
    let new: Vec<&str> = done.text.split_inclusive('\n').collect();
    if matches!(edit.op, Op::Remove { .. }) {
        let lines = old[done.old_lines.0 - 1..done.old_lines.1].concat();
        prop_assert!(gone.iter().all(|c| lines.contains(&format!("#c{c};"))), "{text}\n{edit:?}\n{}", done.text);
        let kept: Vec<&str> = new[done.lines.0 - 1..done.lines.1].to_vec();
        prop_assert!(kept.len() <= 2 || is_part(&kept[1..], &old), "{text}\n{edit:?}\n{}", done.text);
    } else {
        prop_assert!(gone.is_empty(), "lost {gone:?}\n{text}\n{edit:?}\n{}", done.text);
    }
    let (node, _) = read(&done.text);
    prop_assert!(node.is_some_and(|n| !values_hold_comments(&Value::from(&n))), "{}", done.text);
    if text.contains("\r\n") {
        prop_assert_eq!(done.text.matches('\n').count(), done.text.matches("\r\n").count());
    }
    if matches!(edit.op, Op::Add { .. } | Op::Push { .. }) {
        prop_assert!(done.old_lines.1 + 1 - done.old_lines.0 <= 2, "{text}\n{edit:?}\n{}", done.text);
    }
    // There and back, and there again.
    let back = apply(&done.text, &done.inverse);
    let back =
        back.map_err(|e| TestCaseError::fail(format!("{e}\n{text}\n{edit:?}\n{}\n{:?}", done.text, done.inverse)))?;
    prop_assert_eq!(&back.text, &text, "{:?}\n{}\n{:?}", edit, &done.text, &done.inverse);
    let again = apply(&back.text, &back.inverse);
    let again = again
        .map_err(|e| TestCaseError::fail(format!("again {e}\n{text}\n{edit:?}\n{}\n{:?}", done.text, back.inverse)))?;
    prop_assert_eq!(&again.text, &done.text, "{}\n{:?}\n{:?}", &text, edit, &back.inverse);
    Ok(true)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 3000, max_shrink_iters: 20_000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn an_edit_changes_its_place_and_nothing_else(bytes in prop::collection::vec(any::<u8>(), 0..160)) {
        check(&bytes)?;
    }
}

/// Most random edits are made and not refused, else the property above would say little.
#[test]
fn few_edits_are_refused() {
    let mut state: u64 = 4;
    let (mut made, mut all) = (0, 0);
    for _ in 0..1500 {
        let bytes: Vec<u8> = (0..120)
            .map(|_| {
                state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                (state >> 56) as u8
            })
            .collect();
        all += 1;
        made += usize::from(check(&bytes).unwrap());
    }
    println!("{made} of {all} edits were made");
    assert!(made * 10 > all * 7, "{made} of {all}");
}
