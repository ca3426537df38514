//! The `course` block and the landmarks.

use crate::course::codes::{NAME_TWICE, PATH_OUTSIDE};
use crate::course::decode::{Bounds, Fields, Reader, UNKNOWN_UNITS, quoted};
use crate::course::model::{Credit, Firmness, Landmark};
use crate::notebook::{Node, Span, did_you_mean};
use crate::units::LengthUnit;

/// Keys of the `course` block.
pub const KEYS: &[&str] = &[
    "name",
    "units",
    "elevation",
    "green_speed",
    "firmness",
    "ground",
    "attribution",
    "licence",
    "source",
    "edition",
    "by",
];
/// Keys of a landmark of the course; one of a hole may also say where it stands and from where it is seen.
pub const LANDMARK_KEYS: &[&str] = &["name", "id", "bearing"];
/// See [`LANDMARK_KEYS`].
pub const HOLE_LANDMARK_KEYS: &[&str] = &["name", "id", "bearing", "at", "across", "seen_from"];

/// Yards; the shore of the lowest lake to the highest course that people play.
const ELEVATION: Bounds = Bounds::new("a height above sea level", -500.0, 6000.0);
/// Stimpmeter feet; the slowest and fastest greens that are cut lie well inside.
pub const GREEN_SPEED: Bounds = Bounds::new("a green speed in Stimpmeter feet", 3.0, 20.0);
/// Compass degrees.
pub const COMPASS: Bounds = Bounds::new("a compass direction", 0.0, 360.0);
/// Words of firmness.
pub const FIRMNESS: &[(&str, Firmness)] =
    &[("soft", Firmness::Soft), ("medium", Firmness::Medium), ("firm", Firmness::Firm), ("baked", Firmness::Baked)];

/// What the `course` block says; the unit goes to the reader.
pub struct Head {
    pub name: String,
    pub elevation: Option<f64>,
    pub green_speed: Option<f64>,
    pub firmness: Firmness,
    pub ground: Option<String>,
    pub credit: Option<Credit>,
    pub edition: Option<String>,
    pub by: Option<String>,
}

pub fn course(r: &mut Reader, file: &Fields<'_>) -> Head {
    let fields =
        file.need(r, "course", "course: { name: …, units: yards }", |r, n, _| r.fields(n, "the course", KEYS));
    let Some(fields) = fields else {
        return Head {
            name: "a course without a name".to_owned(),
            elevation: None,
            green_speed: None,
            firmness: Firmness::default(),
            ground: None,
            credit: None,
            edition: None,
            by: None,
        };
    };
    r.unit = fields.need(r, "units", "units: yards", units).unwrap_or_default();
    let name = fields.need(r, "name", "name: the course's name", Reader::text);
    Head {
        name: name.unwrap_or_else(|| "a course without a name".to_owned()),
        elevation: fields.read(r, "elevation", |r, n, k| r.length(n, k, ELEVATION)),
        green_speed: fields.read(r, "green_speed", |r, n, k| r.number(n, k, GREEN_SPEED)),
        firmness: fields.read(r, "firmness", |r, n, k| r.word(n, k, FIRMNESS)).unwrap_or_default(),
        ground: fields.read(r, "ground", file_beside),
        credit: credit(r, &fields),
        edition: fields.read(r, "edition", Reader::text),
        by: fields.read(r, "by", Reader::text),
    }
}

/// Whose map the ground is from: the notice, with licence and database where they are given.
fn credit(r: &mut Reader, fields: &Fields<'_>) -> Option<Credit> {
    let attribution = fields.read(r, "attribution", Reader::text);
    let licence = fields.read(r, "licence", Reader::text);
    let source = fields.read(r, "source", Reader::text);
    Some(Credit { attribution: attribution?, licence, source })
}

/// `yards` or `metres`.
pub fn units(r: &mut Reader, node: &Node, key: &str) -> Option<LengthUnit> {
    let text = r.raw(node, key)?;
    match text.to_lowercase().as_str() {
        "yards" => Some(LengthUnit::Yards),
        // The two spellings of one word; neither is a slip.
        "metres" | "meters" => Some(LengthUnit::Metres),
        _ => {
            let message = format!("`{key}` cannot be {}: lengths are in yards or in metres", quoted(text));
            r.error(UNKNOWN_UNITS, node.span, message, did_you_mean(text, &["yards", "metres"]));
            None
        }
    }
}

/// The name of a file in the same folder: nothing that could lead out of it.
pub fn file_beside(r: &mut Reader, node: &Node, key: &str) -> Option<String> {
    let text = r.text(node, key)?;
    let outside = text.contains(['/', '\\', ':']) || text == ".." || text == "." || text.chars().any(char::is_control);
    if outside {
        let message = format!("`{key}` is {}, which is not a file beside this one", quoted(&text));
        r.error(PATH_OUTSIDE, node.span, message, "give the bare name of a file in the same folder");
        return None;
    }
    Some(text)
}

/// Landmarks of the course, or of a hole.
pub fn landmarks(r: &mut Reader, node: &Node, key: &str, of_hole: bool) -> Vec<Landmark> {
    let keys = if of_hole { HOLE_LANDMARK_KEYS } else { LANDMARK_KEYS };
    let mut found: Vec<Landmark> = Vec::new();
    for item in r.items(node, key) {
        let Some(fields) = r.fields(item, "a landmark", keys) else { continue };
        let Some(name) = fields.need(r, "name", "name: the mast", Reader::text) else { continue };
        if found.iter().any(|l| l.name == name) {
            twice(r, fields.place("name"), "landmark", &name);
            continue;
        }
        found.push(Landmark {
            name,
            bearing: fields.read(r, "bearing", |r, n, k| r.number(n, k, COMPASS)),
            at: if of_hole { fields.read(r, "at", Reader::along) } else { None },
            across: if of_hole { fields.read(r, "across", Reader::across) } else { None },
            seen_from: if of_hole { fields.read(r, "seen_from", Reader::text) } else { None },
        });
    }
    found
}

/// Reports a name that stands twice.
pub fn twice(r: &mut Reader, span: Span, noun: &str, name: &str) {
    let message = format!("there are two {noun}s named {}", quoted(name));
    r.error(NAME_TWICE, span, message, "give one of them another name; the first one is read");
}
