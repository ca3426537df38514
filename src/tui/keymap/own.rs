//! A person's own keys: `keys.yaml` on the shelf, read over the table of commands.
//!
//! ```yaml
//! format: keys/1
//! keys:
//!   go-card: C                 # a command by its name: one key, or a list of them
//!   undo: [ Ctrl-z, u ]
//! ```
//! A command named here has these keys and no others; a key taken from another command leaves that command without it.

use super::{Key, sequence};
use crate::notebook::{self, Diagnostic, Node};
use crate::tui::commands::{self, Command};
use std::collections::BTreeMap;

/// Keys that always do what they do: Esc backs out, Ctrl-c leaves, and digits are scores.
const FIXED: [Key; 2] = [Key::Esc, Key::Ctrl('c')];

/// The keys a person gave, by the name of the command.
pub(super) type Own = BTreeMap<&'static str, Vec<String>>;

/// Reads the file; what cannot be used is named and the rest holds.
pub(super) fn read(text: &str) -> (Own, Vec<Diagnostic>) {
    let (root, mut problems) = notebook::read(text);
    let mut own = Own::new();
    let Some(root) = root else { return (own, problems) };
    let format = root.get("format").and_then(Node::text).unwrap_or_default();
    if format != "keys/1" {
        let span = root.get("format").map_or(root.span, |n| n.span);
        let words = format!("`{format}` is not the format of a file of keys");
        problems.push(Diagnostic::error("own-keys-format", span, words).advise("the first line is `format: keys/1`"));
        return (own, problems);
    }
    for entry in root.entries().iter().filter(|e| !matches!(e.key.as_str(), "format" | "keys")) {
        let words = format!("`{}` is not a key of this file", entry.key);
        problems.push(Diagnostic::error("own-keys-entry", entry.key_span, words).advise("it has `format` and `keys`"));
    }
    for entry in root.get("keys").map(Node::entries).unwrap_or_default() {
        let Some(command) = commands::all().find(|c| c.name == entry.key) else {
            let near = notebook::nearest(&entry.key, commands::all().map(|c| c.name));
            let advice = near.map_or_else(
                || "`marram keys --names` lists the commands".to_owned(),
                |name| format!("did you mean `{name}`? `marram keys --names` lists the commands"),
            );
            let words = format!("there is no command `{}`", entry.key);
            problems.push(Diagnostic::error("own-keys-command", entry.key_span, words).advise(advice));
            continue;
        };
        let mut bound = Vec::new();
        for node in bindings(&entry.value) {
            match binding(node) {
                Ok(keys) => bound.push(keys),
                Err((words, advice)) => {
                    problems.push(Diagnostic::error("own-keys-key", node.span, words).advise(advice));
                }
            }
        }
        if !bound.is_empty() {
            own.insert(command.name, bound);
        }
    }
    problems.extend(left_without(&own, &root));
    problems.sort_by_key(|p| (p.span.start, p.span.end));
    (own, problems)
}

/// One key, or each of a list.
fn bindings(value: &Node) -> Vec<&Node> {
    if value.items().is_empty() { vec![value] } else { value.items().iter().collect() }
}

fn binding(node: &Node) -> Result<String, (String, String)> {
    let spelling =
        "write a letter, Tab, Enter, Space, Ctrl-a, Shift-Left, PageDown, or two with a blank between: `o u`";
    let text = node.text().map(str::trim).unwrap_or_default();
    let words: Vec<&str> = text.split(' ').filter(|w| !w.is_empty()).collect();
    let keys: Option<Vec<Key>> = words.iter().map(|w| Key::read(w)).collect();
    match keys {
        Some(keys) if !keys.is_empty() && keys.len() <= 3 => {
            if let Some(fixed) = keys.iter().find(|k| FIXED.contains(k)) {
                return Err((
                    format!("{fixed} cannot be given away"),
                    "Esc backs out and Ctrl-c leaves, always".to_owned(),
                ));
            }
            if let Some(Key::Char(c)) = keys.first()
                && c.is_ascii_digit()
            {
                return Err((format!("{c} is a score wherever one can be entered"), "take another key".to_owned()));
            }
            Ok(words.join(" "))
        }
        _ => Err((format!("`{text}` is not a key"), spelling.to_owned())),
    }
}

/// Commands whose every key was taken by another on some page: a warning at the taker.
fn left_without(own: &Own, root: &Node) -> Vec<Diagnostic> {
    let map = super::Keymap { own: own.clone() };
    let mut out = Vec::new();
    for command in commands::all().filter(|c| !own.contains_key(c.name)) {
        for page in command.pages {
            let kept = command.keys.iter().any(|k| !map.is_taken(*page, command, &sequence(k)));
            let taker = own.iter().find(|(name, keys)| {
                let shares = commands::all().any(|c| c.name == **name && c.pages.contains(page));
                shares && keys.iter().any(|k| command.keys.iter().any(|c| hides(&sequence(k), &sequence(c))))
            });
            if let (false, Some((name, _))) = (kept, taker) {
                let span = root.get("keys").and_then(|k| k.entry(name)).map_or(root.span, |e| e.key_span);
                let words = format!("`{name}` takes the only key of `{}` on the {} page", command.name, page.title());
                let advice = format!("give `{}` a key of its own, or reach it by the finder", command.name);
                out.push(Diagnostic::warning("own-keys-taken", span, words).advise(advice));
                break;
            }
        }
    }
    out
}

/// Whether one sequence hides the other: they are the same, or one begins the other.
pub(super) fn hides(a: &[Key], b: &[Key]) -> bool {
    a.starts_with(b) || b.starts_with(a)
}

/// The keys of a command as the person has them.
pub(super) fn of(own: &Own, command: &Command) -> Vec<String> {
    match own.get(command.name) {
        Some(keys) => keys.clone(),
        None => command.keys.iter().map(|k| (*k).to_owned()).collect(),
    }
}
