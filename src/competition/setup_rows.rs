//! The set-up as rows of one screen: every key of `competition.yaml` with its value on one line, and a value typed put back.

use super::read::read_setup;
use crate::notebook::edit::{Edit, Path, Value, apply};
use crate::notebook::{self, Diagnostic, Kind, Node, Severity};

/// One row of the set-up.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetupRow {
    /// What it belongs to, `medal` for an event; empty for the competition itself.
    pub of: String,
    /// The key.
    pub key: String,
    /// The value as it is written, on one line; empty when the key is not there.
    pub value: String,
    /// What holds when the key is not there, or how it is written.
    pub hint: &'static str,
    /// The number of the event, from 0.
    pub event: Option<usize>,
}

/// Keys of the competition with what they take.
const TOP: [(&str, &str); 8] = [
    ("name", "a name"),
    ("course", "the notebook, as corvane.yaml"),
    ("rounds", "[ { date: 2026-05-16, holes: 1..18 } ]"),
    ("handicaps", "{ as_of: 2026-05-15, rules: 2024 }: the day whose indexes hold"),
    ("tees", "{ men: Back, women: Club }, or by category"),
    ("keyings", "1, or 2 where every card is keyed twice"),
    ("publish_index", "no, or yes to print the index in lists"),
    ("awards", "[ { name: nearest the hole, hole: 6, id: M007, measure: 1.42 m } ]"),
];

/// Keys of an event with what they take.
const OF_EVENT: [(&str, &str); 16] = [
    ("name", "a name"),
    ("play", "stroke, stableford, par-bogey, maximum, four-ball stableford, foursomes …"),
    ("count", "net, or gross"),
    ("allowance", "the recommended one (Rules of Handicapping, Appendix C), or per cent, as 95"),
    ("divisions", "[ { name: A, index: ..9.4 }, { name: B, index: 9.5.. } ], also by category or ratings"),
    ("ties", "[ last 9, last 6, last 3, last hole, lot ], ending in share or lot"),
    ("tie_strokes", "fractions of the handicap, or allotted"),
    ("holes", "all, or a part as 1..9"),
    ("strokes", "as on the eighteen, or as a nine"),
    ("sides", "the column team of the field, or a file as sides.csv"),
    ("maximum", "for maximum score: 8, par + 5, net double bogey"),
    ("target_over_par", "0; the fixed target of Stableford and Par/Bogey"),
    ("rounds", "all, or [ 1, 2 ]"),
    ("eclectic", "no, or yes: the best score of each hole over the rounds"),
    ("merit", "{ of: [ one, two ], points: [ 25, 18, 15 ], best: 2 }"),
    ("par_difference", "yes, or no: tees of a higher par receive the difference (6.2b)"),
];

/// Every row, the competition first, then each event.
pub fn setup_rows(text: &str) -> Vec<SetupRow> {
    let (root, _) = notebook::read(text);
    let Some(root) = root else { return Vec::new() };
    let mut rows: Vec<SetupRow> = TOP.iter().map(|(key, hint)| row(&root, "", key, hint, None)).collect();
    let events = root.get("events").map_or(&[][..], |node| match &node.kind {
        Kind::List(items) => items.as_slice(),
        _ => &[],
    });
    for (at, event) in events.iter().enumerate() {
        let name = event.get("name").and_then(Node::text).unwrap_or("event").to_owned();
        rows.extend(OF_EVENT.iter().map(|(key, hint)| row(event, &name, key, hint, Some(at))));
    }
    rows
}

fn row(map: &Node, of: &str, key: &str, hint: &'static str, event: Option<usize>) -> SetupRow {
    let value = map.get(key).map(|node| flow(&Value::from(node))).unwrap_or_default();
    SetupRow { of: of.to_owned(), key: key.to_owned(), value, hint, event }
}

/// A value on one line.
fn flow(value: &Value) -> String {
    match value {
        Value::Nothing | Value::Broken => String::new(),
        Value::Text(text) => {
            let plain = !text.is_empty()
                && !text.starts_with([' ', '"', '\'', '[', '{', '&', '*', '!', '|', '>', '%', '@', '`', '#', '-', '?'])
                && !text.ends_with(' ')
                && !text.contains([',', '[', ']', '{', '}', '\n'])
                && !text.contains(": ")
                && !text.contains(" #")
                && !text.ends_with(':');
            if plain { text.clone() } else { super::write::quoted(text) }
        }
        Value::List(items) => format!("[ {} ]", items.iter().map(flow).collect::<Vec<_>>().join(", ")),
        Value::Map(entries) => {
            let entries: Vec<String> = entries.iter().map(|(key, value)| format!("{key}: {}", flow(value))).collect();
            format!("{{ {} }}", entries.join(", "))
        }
    }
}

/// The text of `competition.yaml` with one value changed to what was typed; an empty one takes the key out.
///
/// # Errors
/// Why not, in one sentence: what was typed cannot be read, or the reader refuses the set-up with it.
pub fn set(text: &str, row: &SetupRow, typed: &str) -> Result<String, String> {
    let (root, _) = notebook::read(text);
    let root = root.ok_or("competition.yaml cannot be read: mend it in an editor first")?;
    let map = match row.event {
        Some(at) => Path::new().key("events").item(at),
        None => Path::new(),
    };
    let there = match row.event {
        Some(at) => root.get("events").and_then(|events| match &events.kind {
            Kind::List(items) => items.get(at)?.get(&row.key),
            _ => None,
        }),
        None => root.get(&row.key),
    };
    let typed = typed.trim();
    let edit = if typed.is_empty() {
        if there.is_none() {
            return Ok(text.to_owned());
        }
        Edit::remove(map.key(&row.key))
    } else {
        let value = value_of(typed)?;
        match there {
            Some(_) => Edit::set(map.key(&row.key), value),
            None => Edit::add(map, &row.key, value),
        }
    };
    judged(apply(text, &edit).map_err(|refusal| refusal.to_string())?.text)
}

/// The text with an event more.
///
/// # Errors
/// As [`set`].
pub fn add_event(text: &str, typed: &str) -> Result<String, String> {
    let typed = typed.trim();
    let value = if typed.starts_with('{') {
        value_of(typed)?
    } else {
        let (name, play) = typed.split_once(',').unwrap_or((typed, "stroke"));
        Value::map([("name", name.trim()), ("play", play.trim())])
    };
    judged(apply(text, &Edit::push(Path::new().key("events"), value)).map_err(|refusal| refusal.to_string())?.text)
}

fn value_of(typed: &str) -> Result<Value, String> {
    let (node, problems) = notebook::read(&format!("v: {typed}\n"));
    if let Some(problem) = first_error(&problems) {
        return Err(problem);
    }
    node.as_ref().and_then(|node| node.get("v")).map(Value::from).ok_or_else(|| "nothing can be read there".to_owned())
}

fn first_error(problems: &[Diagnostic]) -> Option<String> {
    let problem = problems.iter().find(|problem| problem.severity == Severity::Error)?;
    let advice = if problem.advice.is_empty() { String::new() } else { format!("; {}", problem.advice) };
    Some(format!("{}{advice}", problem.message))
}

fn judged(text: String) -> Result<String, String> {
    match first_error(&read_setup(&text).1) {
        Some(problem) => Err(problem),
        None => Ok(text),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    const TEXT: &str = "format: competition/1\n# ours\nname: Spring Medal\ncourse: c.yaml\nrounds: [ { date: 2026-05-16 } ]\nevents:\n  - name: medal\n    play: stroke     # as ever\n    ties: [ last 9, lot ]\n";

    #[test]
    fn one_value_changes_its_line_and_no_other() {
        let rows = setup_rows(TEXT);
        let find = |of: &str, key: &str| rows.iter().find(|r| r.of == of && r.key == key).unwrap().clone();
        assert_eq!(find("", "rounds").value, "[ { date: 2026-05-16 } ]");
        assert_eq!(find("medal", "ties").value, "[ last 9, lot ]");
        let after = set(TEXT, &find("medal", "play"), "stableford").unwrap();
        let changed: Vec<&str> = after.lines().filter(|line| !TEXT.contains(line)).collect();
        assert_eq!((changed.len(), after.lines().count()), (1, TEXT.lines().count()), "{after}");
        assert!(after.contains("# ours") && after.contains("# as ever"));
        let after =
            set(TEXT, &find("medal", "divisions"), "[ { name: A, index: ..9.4 }, { name: B, index: 9.5.. } ]").unwrap();
        assert_eq!(read_setup(&after).0.unwrap().events[0].divisions.len(), 2);
        let gone = set(&after, &find("medal", "divisions"), "").unwrap();
        assert!(!gone.contains("divisions"));
        assert!(set(TEXT, &find("medal", "allowance"), "120").unwrap_err().contains("per cent"));
        assert!(set(TEXT, &find("medal", "ties"), "[ last 9, coin").is_err());
        let two = add_event(TEXT, "best gross, stroke").unwrap();
        assert_eq!(read_setup(&two).0.unwrap().events[1].name, "best gross");
    }
}
