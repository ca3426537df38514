//! What was written about a hole as fields of text, and the edits that add, change and take it away.

use super::hole_node;
use crate::notebook::edit::{Edit, Path, Value};
use crate::notebook::{Kind, Node, Span};

/// The kinds of things that are written about a hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Sort {
    /// An aim point.
    Aim,
    /// A danger side.
    Danger,
    /// A lay-up.
    Layup,
    /// A note.
    Note,
    /// The way in and out.
    Walk,
    /// The line of warning.
    Caution,
}

impl Sort {
    /// All of them, in the order of a hole.
    pub const ALL: [Self; 6] = [Self::Aim, Self::Danger, Self::Layup, Self::Note, Self::Walk, Self::Caution];

    /// Its key under a hole.
    pub const fn key(self) -> &'static str {
        match self {
            Self::Aim => "aims",
            Self::Danger => "dangers",
            Self::Layup => "layups",
            Self::Note => "notes",
            Self::Walk => "walk",
            Self::Caution => "caution",
        }
    }

    /// What one of them is called.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Aim => "aim point",
            Self::Danger => "danger",
            Self::Layup => "lay-up",
            Self::Note => "note",
            Self::Walk => "walk",
            Self::Caution => "caution",
        }
    }

    /// The fields that a person fills in, in the order in which they are asked; `when.` marks those of the condition.
    pub const fn fields(self) -> &'static [&'static str] {
        match self {
            Self::Aim => &[
                "text",
                "name",
                "from",
                "at",
                "across",
                "landmark",
                "shape",
                "when.tees",
                "when.carry",
                "when.playing_handicap",
                "when.strokes",
                "when.wind",
                "when.hole_location",
                "when.pupil",
                "sure",
                "seen",
                "until",
            ],
            Self::Danger => &[
                "text",
                "of",
                "side",
                "when.tees",
                "when.carry",
                "when.playing_handicap",
                "when.strokes",
                "when.wind",
                "when.hole_location",
                "when.pupil",
                "sure",
                "seen",
                "until",
            ],
            Self::Layup => &[
                "text",
                "to_middle",
                "at",
                "across",
                "name",
                "when.tees",
                "when.carry",
                "when.playing_handicap",
                "when.strokes",
                "when.wind",
                "when.hole_location",
                "when.pupil",
                "sure",
                "seen",
                "until",
            ],
            Self::Note => &[
                "text",
                "at",
                "when.tees",
                "when.carry",
                "when.playing_handicap",
                "when.strokes",
                "when.wind",
                "when.hole_location",
                "when.pupil",
                "sure",
                "seen",
                "until",
            ],
            Self::Walk => &["in", "out"],
            Self::Caution => &["text"],
        }
    }

    const fn is_list(self) -> bool {
        matches!(self, Self::Aim | Self::Danger | Self::Layup | Self::Note)
    }
}

/// Fields with their texts; one that is not written is absent.
pub type Fields = Vec<(String, String)>;

/// Something written about a hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Thing {
    /// What it is.
    pub sort: Sort,
    /// The way to it in its file.
    pub path: Path,
    /// Its place among its like.
    pub index: usize,
    /// How many of its like stand there.
    pub of: usize,
    /// The whole of it, as raw text.
    pub value: Value,
    /// Its fields.
    pub fields: Fields,
    /// Where it stands.
    pub span: Span,
}

impl Thing {
    /// A field's text.
    pub fn field(&self, key: &str) -> Option<&str> {
        self.fields.iter().find(|(k, _)| k == key).map(|(_, text)| text.as_str())
    }
}

/// Everything written about hole `number` in a file's nodes, in the order of [`Sort`]. What only hides something is not a thing.
pub fn things(root: &Node, number: u8) -> Vec<Thing> {
    let Some((path, hole)) = hole_node(root, number) else { return Vec::new() };
    let mut out = Vec::new();
    for sort in Sort::ALL {
        let Some(node) = hole.get(sort.key()) else { continue };
        let here = path.clone().key(sort.key());
        let thing = |path: Path, index: usize, of: usize, node: &Node, fields: Fields| Thing {
            sort,
            path,
            index,
            of,
            value: Value::from(node),
            fields,
            span: node.span,
        };
        if sort == Sort::Caution {
            let text = node.text().unwrap_or_default().to_owned();
            out.push(thing(here, 0, 1, node, vec![("text".to_owned(), text)]));
        } else if sort == Sort::Walk {
            out.push(thing(here, 0, 1, node, fields_of(node)));
        } else {
            let items = node.items();
            for (index, item) in items.iter().enumerate() {
                let only_hides = item.entries().len() == 1 && item.get("hides").is_some();
                if !only_hides {
                    out.push(thing(here.clone().item(index), index, items.len(), item, fields_of(item)));
                }
            }
        }
    }
    out
}

fn fields_of(node: &Node) -> Fields {
    let mut out = Vec::new();
    for entry in node.entries() {
        match (&entry.value.kind, entry.key.as_str()) {
            (Kind::Map(inner), "when") => {
                out.extend(inner.iter().filter_map(|e| Some((format!("when.{}", e.key), flat(&e.value)?))));
            }
            _ => out.extend(flat(&entry.value).map(|text| (entry.key.clone(), text))),
        }
    }
    out
}

/// A text, or the texts of a list joined by commas.
fn flat(node: &Node) -> Option<String> {
    match &node.kind {
        Kind::Text { text, .. } => Some(text.trim_end().to_owned()),
        Kind::List(items) => {
            let texts: Option<Vec<&str>> = items.iter().map(Node::text).collect();
            texts.map(|t| t.join(", "))
        }
        _ => None,
    }
}

/// The value of a field as it is written: a list where the key takes several and the person gave several.
fn value_of(key: &str, text: &str) -> Value {
    let several = matches!(key, "when.tees" | "when.pupil" | "when.hole_location" | "when.wind" | "when.shape");
    if several && (text.contains(',') || matches!(key, "when.tees")) {
        return Value::list(text.split(',').map(str::trim).filter(|t| !t.is_empty()));
    }
    Value::from(text)
}

/// The whole of a new thing from its fields.
fn whole(fields: &Fields) -> Value {
    let mut out: Vec<(String, Value)> = Vec::new();
    let when: Vec<(String, Value)> = fields
        .iter()
        .filter_map(|(key, text)| Some((key.strip_prefix("when.")?.to_owned(), value_of(key, text))))
        .collect();
    // The order in which the samples are written: what it is, for whom, the numbers, the words.
    let first = ["name", "of", "side", "to_middle"];
    let is_first = |key: &str| first.contains(&key);
    let plain = |fields: &Fields, wanted: &dyn Fn(&str) -> bool| -> Vec<(String, Value)> {
        fields
            .iter()
            .filter(|(key, _)| !key.starts_with("when.") && wanted(key))
            .map(|(key, text)| (key.clone(), value_of(key, text)))
            .collect()
    };
    out.extend(plain(fields, &|key| is_first(key)));
    if !when.is_empty() {
        out.push(("when".to_owned(), Value::Map(when)));
    }
    out.extend(plain(fields, &|key| !is_first(key) && key != "text" && !matches!(key, "sure" | "seen" | "until")));
    out.extend(plain(fields, &|key| key == "text"));
    out.extend(plain(fields, &|key| matches!(key, "sure" | "seen" | "until")));
    Value::Map(out)
}

/// The edits that add a thing to hole `number`; the hole is added to a layer that does not have it yet. `replaces` names what it
/// stands instead of, in a layer.
pub fn added(root: &Node, number: u8, sort: Sort, fields: &Fields, replaces: Option<&str>) -> Vec<Edit> {
    let mut fields = fields.clone();
    fields.extend(replaces.map(|id| ("replaces".to_owned(), id.to_owned())));
    let value = match sort {
        Sort::Caution => Value::from(fields.first().map(|(_, text)| text.as_str()).unwrap_or_default()),
        Sort::Walk => Value::map(fields.iter().map(|(k, t)| (k.clone(), t.as_str()))),
        _ => whole(&fields),
    };
    match hole_node(root, number) {
        Some((path, _)) if sort.is_list() => vec![Edit::push(path.key(sort.key()), value)],
        Some((path, _)) => vec![Edit::add(path, sort.key(), value)],
        None => {
            let value = if sort.is_list() { Value::list([value]) } else { value };
            let hole: [(&str, Value); 2] = [("hole", number.to_string().into()), (sort.key(), value)];
            vec![Edit::push(Path::new().key("holes"), Value::map(hole))]
        }
    }
}

/// The edits that hide in a layer what is known by `id`.
pub fn hidden(root: &Node, number: u8, id: &str) -> Vec<Edit> {
    match hole_node(root, number) {
        Some((path, hole)) if hole.get("hides").is_some_and(|h| h.text().is_some()) => {
            let old = hole.get("hides").and_then(Node::text).unwrap_or_default();
            vec![Edit::set(path.key("hides"), Value::list([old, id])).over(old)]
        }
        Some((path, _)) => vec![Edit::push(path.key("hides"), id)],
        None => {
            let hole: [(&str, Value); 2] = [("hole", number.to_string().into()), ("hides", Value::list([id]))];
            vec![Edit::push(Path::new().key("holes"), Value::map(hole))]
        }
    }
}

/// The edits that take a thing away; an emptied list goes with it.
pub fn removed(thing: &Thing) -> Vec<Edit> {
    let edit = match thing.path.split() {
        Some((list, _)) if thing.sort.is_list() && thing.of == 1 => {
            Edit::remove(list).over(Value::List(vec![thing.value.clone()]))
        }
        _ => Edit::remove(thing.path.clone()).over(thing.value.clone()),
    };
    vec![edit]
}

/// The edits that make the fields of `thing` those of `new`, key by key; what is not asked of a person stays. Each edit holds only
/// while what it changes is as it was.
pub fn changes(thing: &Thing, new: &Fields) -> Vec<Edit> {
    if thing.sort == Sort::Caution {
        let text = new.first().map(|(_, t)| t.as_str()).unwrap_or_default();
        return match thing.field("text") {
            Some(old) if old == text => Vec::new(),
            _ if text.is_empty() => removed(thing),
            _ => vec![Edit::set(thing.path.clone(), text).over(thing.value.clone())],
        };
    }
    let asked = thing.sort.fields();
    let text = |key: &str| new.iter().find(|(k, _)| k == key).map(|(_, t)| t.as_str()).filter(|t| !t.is_empty());
    let differs: Vec<&str> = asked.iter().copied().filter(|key| text(key) != thing.field(key)).collect();
    if differs.is_empty() {
        return Vec::new();
    }
    if thing.sort == Sort::Walk && asked.iter().all(|key| text(key).is_none()) {
        return removed(thing);
    }
    let Value::Map(entries) = &thing.value else { return Vec::new() };
    let at = |keys: &[(String, Value)], key: &str| keys.iter().find(|(k, _)| k == key).map(|(_, v)| v.clone());
    let old_when = match at(entries, "when") {
        Some(Value::Map(inner)) => inner,
        _ => Vec::new(),
    };
    let (when, plain): (Vec<&str>, Vec<&str>) = differs.into_iter().partition(|key| key.starts_with("when."));
    let mut edits = Vec::new();
    for key in plain {
        let place = thing.path.clone();
        edits.push(match (at(entries, key), text(key)) {
            (Some(old), Some(new)) => Edit::set(place.key(key), value_of(key, new)).over(old),
            (None, Some(new)) => Edit::add(place, key, value_of(key, new)),
            (Some(old), None) => Edit::remove(place.key(key)).over(old),
            (None, None) => continue,
        });
    }
    let left = asked.iter().filter(|key| key.starts_with("when.") && text(key).is_some()).count();
    let unasked = old_when.iter().any(|(key, _)| !asked.contains(&format!("when.{key}").as_str()));
    let place = thing.path.clone().key("when");
    if when.is_empty() {
    } else if old_when.is_empty() {
        let value: Vec<(String, Value)> = when
            .iter()
            .filter_map(|key| Some((key.strip_prefix("when.")?.to_owned(), value_of(key, text(key)?))))
            .collect();
        edits.push(Edit::add(thing.path.clone(), "when", Value::Map(value)));
    } else if left == 0 && !unasked {
        edits.push(Edit::remove(place).over(Value::Map(old_when)));
    } else {
        for key in when {
            let short = key.strip_prefix("when.").unwrap_or(key);
            edits.push(match (at(&old_when, short), text(key)) {
                (Some(old), Some(new)) => Edit::set(place.clone().key(short), value_of(key, new)).over(old),
                (None, Some(new)) => Edit::add(place.clone(), short, value_of(key, new)),
                (Some(old), None) => Edit::remove(place.clone().key(short)).over(old),
                (None, None) => continue,
            });
        }
    }
    edits
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::super::{Of, make};
    use super::*;
    use crate::notebook::read;

    const CORVANE: &str = include_str!("../../../sample-courses/corvane.yaml");

    fn all(text: &str) -> Vec<Thing> {
        let root = read(text).0.unwrap();
        (1..=18).flat_map(|n| things(&root, n)).collect()
    }

    fn field(fields: &mut Fields, key: &str, text: &str) {
        fields.retain(|(k, _)| k != key);
        if !text.is_empty() {
            fields.push((key.to_owned(), text.to_owned()));
        }
    }

    #[test]
    fn each_thing_of_the_sample_is_taken_away_and_put_back_to_the_byte() {
        let things = all(CORVANE);
        assert!(things.len() > 100, "{}", things.len());
        for thing in &things {
            let made = make(CORVANE, &removed(thing), Of::Notebook, &[]).unwrap();
            assert!(made.text.len() < CORVANE.len());
            assert_eq!(make(&made.text, &made.inverse, Of::Notebook, &[]).unwrap().text, CORVANE, "{thing:?}");
        }
    }

    #[test]
    fn each_text_of_the_sample_is_changed_in_its_own_lines_and_back_to_the_byte() {
        for thing in all(CORVANE) {
            let mut fields = thing.fields.clone();
            let key = if thing.sort == Sort::Walk { "in" } else { "text" };
            field(&mut fields, key, "Other words: with a colon, a # and \"quotes\"; ünïcode too.");
            let made = make(CORVANE, &changes(&thing, &fields), Of::Notebook, &[]).unwrap();
            let (a, b): (Vec<&str>, Vec<&str>) = (CORVANE.lines().collect(), made.text.lines().collect());
            let head = a.iter().zip(&b).take_while(|(x, y)| x == y).count();
            let tail = a.iter().rev().zip(b.iter().rev()).take_while(|(x, y)| x == y).count();
            assert!(b.len() - tail - head <= 5, "{thing:?}");
            assert_eq!(make(&made.text, &made.inverse, Of::Notebook, &[]).unwrap().text, CORVANE);
            assert!(changes(&thing, &thing.fields).is_empty());
        }
    }

    #[test]
    fn a_condition_comes_changes_and_goes() {
        let root = read(CORVANE).0.unwrap();
        let plain = things(&root, 1).into_iter().find(|t| t.sort == Sort::Danger).unwrap();
        let mut fields = plain.fields.clone();
        field(&mut fields, "when.tees", "Back, Club");
        field(&mut fields, "when.carry", "200..");
        let made = make(CORVANE, &changes(&plain, &fields), Of::Notebook, &[]).unwrap();
        let course = crate::course::read(&made.text).0.unwrap();
        let when = course.hole(1).unwrap().dangers.first().unwrap().written.when.clone();
        assert_eq!(when.tees, Some(vec!["Back".to_owned(), "Club".to_owned()]));
        assert_eq!(when.carry.and_then(|c| c.from), Some(200.0));
        // And only the carry goes again; then all of it.
        let root = read(&made.text).0.unwrap();
        let now = things(&root, 1).into_iter().find(|t| t.sort == Sort::Danger).unwrap();
        let mut fewer = now.fields.clone();
        field(&mut fewer, "when.carry", "");
        let less = make(&made.text, &changes(&now, &fewer), Of::Notebook, &[]).unwrap();
        assert_eq!(less.text, made.text.replacen(", carry: 200..", "", 1));
        let none = make(&made.text, &changes(&now, &plain.fields), Of::Notebook, &[]).unwrap();
        assert_eq!(none.text, CORVANE);
    }

    #[test]
    fn what_somebody_changed_meanwhile_is_not_written_over() {
        let root = read(CORVANE).0.unwrap();
        let thing = things(&root, 1).into_iter().find(|t| t.field("of") == Some("Keeper")).unwrap();
        let mut fields = thing.fields.clone();
        field(&mut fields, "text", "Mine.");
        let theirs = CORVANE.replacen("Deep, and the only real trouble", "Shallow, and no trouble", 1);
        let refused = make(&theirs, &changes(&thing, &fields), Of::Notebook, &[]).unwrap_err();
        assert!(matches!(refused, super::super::NotMade::Changed(_)), "{refused}");
    }

    #[test]
    fn a_new_layer_takes_its_first_words_and_loses_them_again() {
        let course = crate::course::read(CORVANE).0.unwrap();
        let empty = super::super::new_layer("corvane.yaml", "Ana \"A\" Vesely", Some("2026-05"));
        assert_eq!(crate::course::read_layer(&empty, Some(&course)).1, []);
        let root = read(&empty).0.unwrap();
        let fields = vec![("at".to_owned(), "tee".to_owned()), ("text".to_owned(), "Mine: all of it.".to_owned())];
        let made = make(&empty, &added(&root, 4, Sort::Note, &fields, None), Of::Layer(&course), &[]).unwrap();
        let layer = crate::course::read_layer(&made.text, Some(&course)).0.unwrap();
        assert_eq!(layer.holes.first().map(|h| (h.number, h.notes.len())), Some((4, 1)));
        let root = read(&made.text).0.unwrap();
        let hides = make(&made.text, &hidden(&root, 4, "Kettle"), Of::Layer(&course), &[]).unwrap();
        let hides = make(&hides.text, &hidden(&read(&hides.text).0.unwrap(), 4, "the creek"), Of::Layer(&course), &[]);
        let hides = hides.unwrap();
        assert_eq!(crate::course::read_layer(&hides.text, Some(&course)).0.unwrap().holes[0].hides.len(), 2);
        assert_eq!(make(&made.text, &made.inverse, Of::Layer(&course), &[]).unwrap().text, empty);
    }
}
