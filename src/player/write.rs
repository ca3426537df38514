//! Changes to a player's file: a number typed, a club added or taken out, each as edits of the lines it needs.
//!
//! A change is made on the text and judged by the reader before anything is written: what the reader would refuse is
//! refused here in the reader's own words.

use super::read;
use crate::notebook::edit::{self, Edit, Op, Path, Value};
use crate::notebook::{self, Diagnostic, Lines, Node, Severity};

/// A number of a club.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Number {
    /// Where the ball lands.
    Carry,
    /// What it does after that.
    Run,
    /// How far to the side it finishes.
    Curve,
    /// The box of two in three, wide and deep.
    Box,
    /// How many go badly wrong.
    Mishits,
}

impl Number {
    /// All of them, in the order of a file.
    pub const ALL: [Self; 5] = [Self::Carry, Self::Run, Self::Curve, Self::Box, Self::Mishits];

    /// Its key in the file.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Carry => "carry",
            Self::Run => "run",
            Self::Curve => "curve",
            Self::Box => "two_in_three",
            Self::Mishits => "mishits",
        }
    }

    /// Its name for people.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Carry => "carry",
            Self::Run => "run",
            Self::Curve => "curve",
            Self::Box => "box of two in three",
            Self::Mishits => "mishits",
        }
    }

    /// How it is written.
    pub const fn form(self) -> &'static str {
        match self {
            Self::Carry => "as 146",
            Self::Run => "as 8",
            Self::Curve => "a side, as 7R or 4L",
            Self::Box => "wide x deep, as 34 x 26",
            Self::Mishits => "a chance, as 1 in 12",
        }
    }
}

/// What a person changes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// A number of a club becomes what was typed; nothing typed leaves it to be assumed.
    Number {
        /// The club as the file names it.
        club: String,
        /// Which number.
        number: Number,
        /// As typed.
        text: String,
    },
    /// A club comes into the bag, before another or last.
    Add {
        /// Its name.
        club: String,
        /// The club of the file before which it stands.
        before: Option<String>,
    },
    /// A club goes out of the bag.
    Remove {
        /// The club as the file names it.
        club: String,
    },
}

/// A text with edits made and judged.
#[derive(Clone, Debug, PartialEq)]
pub struct Made {
    /// The new text.
    pub text: String,
    /// The edits that take it back, in the order in which they are made.
    pub inverse: Vec<Edit>,
    /// First and last line of the new text that changed, from 1; `None` when lines only went.
    pub lines: Option<(usize, usize)>,
    /// What the reader warns of now and did not before.
    pub warnings: Vec<String>,
}

/// The edits that make `change` on `text`; none when it is so already. `assumed` names the clubs of a bag that stands in no
/// file: they are written by name first, so that the change does not make a bag of one club.
///
/// # Errors
/// Why it cannot be, in a sentence.
pub fn edits(text: &str, change: &Change, assumed: &[&str]) -> Result<Vec<Edit>, String> {
    let (root, _) = notebook::read(text);
    let root = root.ok_or("the file has no keys to change")?;
    let clubs = Path::new().key("clubs");
    let named = |name: &str| Value::map([("club", name)]);
    let club_path = |name: &str| clubs.clone().of("club", name);
    let mut out: Vec<Edit> = Vec::new();
    let write_out = |out: &mut Vec<Edit>, but: Option<&str>| {
        let names = assumed.iter().filter(|n| but != Some(**n));
        out.extend(names.map(|n| Edit::push(clubs.clone(), named(n))));
    };
    match change {
        Change::Number { club, number, text } => {
            let path = club_path(club);
            let node = path.find(&root);
            let made = number_edits(node, &path, *number, text.trim())?;
            if made.is_empty() {
                return Ok(out);
            }
            if node.is_none() {
                if !assumed.contains(&club.as_str()) {
                    return Err(format!("the file has no club {club}"));
                }
                write_out(&mut out, None);
            }
            out.extend(made);
        }
        Change::Add { club, before } => {
            let name = club.trim();
            if name.is_empty() {
                return Err("a club needs a name, as 7 iron or 56 wedge".to_owned());
            }
            let same = |n: &&str| n.eq_ignore_ascii_case(name);
            let there = clubs.find(&root).map_or(&[][..], Node::items);
            let in_file = there.iter().filter_map(|c| c.get("club").and_then(Node::text));
            if let Some(found) = in_file.chain(assumed.iter().copied()).find(same) {
                return Err(format!("the bag has a club {found} already"));
            }
            write_out(&mut out, None);
            let at = before.as_ref().and_then(|b| {
                let in_file = there.iter().position(|c| c.get("club").and_then(Node::text) == Some(b.as_str()));
                in_file.or_else(|| assumed.iter().position(|n| n == b).map(|i| i + there.len()))
            });
            out.push(Edit { path: clubs.clone(), op: Op::Push { value: named(name), at, back: None } });
        }
        Change::Remove { club } => {
            let path = club_path(club);
            match path.find(&root) {
                Some(node) => out.push(Edit::remove(path).over(Value::from(node))),
                None if assumed.contains(&club.as_str()) => write_out(&mut out, Some(club)),
                None => return Err(format!("the file has no club {club}")),
            }
        }
    }
    Ok(out)
}

fn number_edits(club: Option<&Node>, path: &Path, number: Number, text: &str) -> Result<Vec<Edit>, String> {
    let key = number.key();
    let old = club.and_then(|c| c.get(key));
    let at_key = path.clone().key(key);
    if text.is_empty() {
        return Ok(old.map(|n| Edit::remove(at_key).over(Value::from(n))).into_iter().collect());
    }
    let sides = match number {
        Number::Box => Some(sides(text)?),
        _ => None,
    };
    let value = match sides {
        Some((wide, deep)) => Value::map([("wide", wide), ("deep", deep)]),
        None => Value::from(text),
    };
    let Some(old) = old else { return Ok(vec![add(club, path, number, value)]) };
    let Some((wide, deep)) = sides.filter(|_| old.get("wide").is_some() && old.get("deep").is_some()) else {
        let same = Value::from(old) == value;
        return Ok(if same { Vec::new() } else { vec![Edit::set(at_key, value).over(Value::from(old))] });
    };
    // A box that is there keeps its lines: only the side that changed is touched.
    let side = |key: &str, text: &str| {
        let was = old.get(key).map(Value::from)?;
        (was != Value::from(text)).then(|| Edit::set(at_key.clone().key(key), text).over(was))
    };
    Ok(side("wide", wide).into_iter().chain(side("deep", deep)).collect())
}

/// A key that a club does not have yet, in the usual order of keys.
fn add(club: Option<&Node>, path: &Path, number: Number, value: Value) -> Edit {
    let rank = |key: &str| Number::ALL.iter().position(|n| n.key() == key);
    let own = rank(number.key());
    let at = club.and_then(|c| c.entries().iter().position(|e| rank(&e.key).is_some_and(|r| Some(r) > own)));
    Edit { path: path.clone(), op: Op::Add { key: number.key().to_owned(), value, at, back: None } }
}

/// `34 x 26` as its two sides.
fn sides(text: &str) -> Result<(&str, &str), String> {
    let parts: Vec<&str> = text
        .split(|c: char| matches!(c, 'x' | 'X' | '×' | '*') || c.is_whitespace())
        .filter(|p| !p.is_empty())
        .collect();
    match parts.as_slice() {
        [wide, deep] => Ok((wide, deep)),
        _ => Err(format!("a box has two sides, not `{text}`; write wide x deep, as 34 x 26")),
    }
}

/// A number as the file writes it, for a person to change; empty when it is not there.
pub fn written(text: &str, club: &str, number: Number) -> String {
    let (Some(root), _) = notebook::read(text) else { return String::new() };
    let path = Path::new().key("clubs").of("club", club).key(number.key());
    let Some(node) = path.find(&root) else { return String::new() };
    let side = |key: &str| node.get(key).and_then(Node::text).unwrap_or_default();
    match number {
        Number::Box if node.get("wide").is_some() => format!("{} x {}", side("wide"), side("deep")),
        _ => node.text().unwrap_or_default().to_owned(),
    }
}

/// Makes `edits` on `text`, one after the other, each proved; then reads the result.
///
/// # Errors
/// The first edit that is refused, or the first error that the reader finds now and did not before, with what to do.
pub fn make(text: &str, edits: &[Edit]) -> Result<Made, String> {
    let (before, known) = read(text);
    match before {
        Some(player) if player.read_only => {
            return Err("the file was written for a later marram; it can be read here and not changed".to_owned());
        }
        Some(_) => {}
        None => return Err("the file cannot be read as a player, so nothing in it is changed".to_owned()),
    }
    let mut now = text.to_owned();
    let mut inverse = Vec::new();
    let mut lines: Option<(usize, usize)> = None;
    for edit in edits {
        let done = edit::apply(&now, edit).map_err(|refusal| refusal.to_string())?;
        if done.lines.0 <= done.lines.1 {
            let (first, last) = lines.unwrap_or(done.lines);
            lines = Some((first.min(done.lines.0), last.max(done.lines.1)));
        }
        now = done.text;
        inverse.insert(0, done.inverse);
    }
    let (_, found) = read(&now);
    let is_new = |d: &&Diagnostic| !known.iter().any(|k| k.code == d.code && k.message == d.message);
    let words = |d: &Diagnostic| {
        if d.advice.is_empty() { d.message.clone() } else { format!("{}; {}", d.message, d.advice) }
    };
    if let Some(error) = found.iter().filter(is_new).find(|d| d.severity == Severity::Error) {
        return Err(words(error));
    }
    let line = |d: &Diagnostic| Lines::new(&now).place(d.span.start).line;
    let warnings = found.iter().filter(is_new).map(|d| format!("line {}: {}", line(d), words(d))).collect();
    Ok(Made { text: now, inverse, lines, warnings })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    const WREN: &str = include_str!("../../sample-courses/players/wren-hallam.yaml");

    fn number(club: &str, number: Number, text: &str) -> Change {
        Change::Number { club: club.to_owned(), number, text: text.to_owned() }
    }

    fn change(text: &str, change: &Change) -> Result<Made, String> {
        make(text, &edits(text, change, &[])?)
    }

    fn differing(a: &str, b: &str) -> Vec<(String, String)> {
        a.lines().zip(b.lines()).filter(|(x, y)| x != y).map(|(x, y)| (x.to_owned(), y.to_owned())).collect()
    }

    #[test]
    fn a_number_changes_its_own_line_and_no_other() {
        for (club, which, text, was, is) in [
            ("driver", Number::Carry, "221", "    carry: 214", "    carry: 221"),
            ("driver", Number::Curve, "4L", "    curve: 7R", "    curve: 4L"),
            (
                "driver",
                Number::Box,
                "30 x 26",
                "two_in_three: { wide: 34, deep: 26 }",
                "two_in_three: { wide: 30, deep: 26 }",
            ),
            ("driver", Number::Mishits, "1 in 9", "    mishits: 1 in 12", "    mishits: 1 in 9"),
            ("8 iron", Number::Run, "7", "{ club: 8 iron, carry: 135 }", "{ club: 8 iron, carry: 135, run: 7 }"),
            ("9 iron", Number::Carry, "126", "{ club: 9 iron }", "{ club: 9 iron, carry: 126 }"),
            ("5 iron", Number::Run, "9", "carry: 163, mishits", "carry: 163, run: 9, mishits"),
        ] {
            let made = change(WREN, &number(club, which, text)).unwrap();
            assert_eq!(made.text.lines().count(), WREN.lines().count());
            let lines = differing(WREN, &made.text);
            assert_eq!(lines.len(), 1, "{club} {which:?}: {lines:?}");
            let (old, new) = lines.first().unwrap();
            assert!(old.contains(was) && new.contains(is), "{club} {which:?}: {lines:?}");
            assert_eq!(make(&made.text, &made.inverse).unwrap().text, WREN, "taken back to the byte");
        }
    }

    #[test]
    fn an_emptied_number_is_left_to_be_assumed_and_the_same_again_changes_nothing() {
        let made = change(WREN, &number("7 iron", Number::Run, " ")).unwrap();
        assert_eq!(made.text.lines().count() + 1, WREN.lines().count());
        assert_eq!(make(&made.text, &made.inverse).unwrap().text, WREN);
        assert_eq!(edits(WREN, &number("7 iron", Number::Run, "8"), &[]).unwrap(), []);
        assert_eq!(edits(WREN, &number("9 iron", Number::Run, ""), &[]).unwrap(), []);
    }

    #[test]
    fn the_reader_refuses_with_its_own_words() {
        for (which, text, words) in [
            (Number::Carry, "900", "a carry lies between 1 and 420"),
            (Number::Carry, "long", "needs a number"),
            (Number::Curve, "7", "which says no side"),
            (Number::Box, "34", "two sides"),
            (Number::Box, "34 x 0", "between"),
            (Number::Mishits, "often", "needs a chance"),
        ] {
            let error = change(WREN, &number("driver", which, text)).unwrap_err();
            assert!(error.contains(words), "{error}");
        }
    }

    #[test]
    fn clubs_come_and_go() {
        let add =
            |club: &str, before: Option<&str>| Change::Add { club: club.to_owned(), before: before.map(str::to_owned) };
        let made = change(WREN, &add("7 wood", Some("4 hybrid"))).unwrap();
        assert_eq!(made.text.lines().count(), WREN.lines().count() + 1);
        let (player, _) = read(&made.text);
        let names: Vec<String> = player.unwrap().clubs.into_iter().map(|c| c.name).collect();
        assert_eq!(names.get(3).map(String::as_str), Some("7 wood"), "{names:?}");
        assert_eq!(make(&made.text, &made.inverse).unwrap().text, WREN);
        assert!(change(WREN, &add("Driver", None)).unwrap_err().contains("already"));
        assert!(change(WREN, &add("  ", None)).unwrap_err().contains("needs a name"));

        let made = change(WREN, &Change::Remove { club: "gap wedge".to_owned() }).unwrap();
        assert!(!made.text.contains("club: gap wedge, carry: 98"));
        assert!(made.warnings.iter().any(|w| w.contains("gap wedge")), "its swing is warned of: {:?}", made.warnings);
        assert_eq!(make(&made.text, &made.inverse).unwrap().text, WREN);
    }

    #[test]
    fn the_first_number_of_an_assumed_bag_writes_the_bag_by_name() {
        let text = "format: player/1\nname: Ana\nhandicap: { index: 20.0, ratings: women }   # hers\n";
        let edits = edits(text, &number("7 iron", Number::Carry, "92"), &["driver", "7 iron", "putter"]).unwrap();
        let made = make(text, &edits).unwrap();
        assert!(made.text.starts_with(text), "{}", made.text);
        let (player, problems) = read(&made.text);
        assert_eq!(problems, []);
        let clubs = player.unwrap().clubs;
        assert_eq!(clubs.len(), 3);
        assert_eq!(clubs.iter().filter(|c| c.shot.carry.is_some()).count(), 1);
        assert_eq!(make(&made.text, &made.inverse).unwrap().text, text);
    }

    #[test]
    fn a_broken_file_and_one_of_a_later_marram_are_left_alone() {
        let broken = WREN.replacen("units: yards", "units: [yards", 1);
        assert!(change(&broken, &number("driver", Number::Carry, "200")).is_err());
        let later = WREN.replacen("player/1", "player/1.2", 1);
        assert!(change(&later, &number("driver", Number::Carry, "200")).unwrap_err().contains("later marram"));
    }
}
