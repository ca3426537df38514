//! Aim points, dangers, lay-ups and notes, of a notebook and of a layer.

use super::hole::Frame;
use super::sketch::SURE;
use super::when::{self, SHAPES};
use crate::course::codes::{
    AIM_WITHOUT_PLACE, DANGER_SAYS_NOTHING, ID_TWICE, LAYUP_WITHOUT_PLACE, NOT_A_PLACE, UNKNOWN_LANDMARK, UNKNOWN_PIECE,
};
use crate::course::decode::places::ALONG;
use crate::course::decode::values::signed;
use crate::course::decode::{Bounds, Fields, Reader, quoted};
use crate::course::model::{Hole, Landmark, Sketch, TeeSet};
use crate::course::written::{Aim, Danger, From, Layup, Note, NoteAt, Side, Written};
use crate::ground::Ground;
use crate::notebook::{Node, Span, did_you_mean};
use crate::units::Along;

/// Keys of an aim point; `replaces` and `hides` in a layer only.
pub const AIM_KEYS: &[&str] = &[
    "name", "id", "when", "from", "at", "across", "landmark", "shape", "text", "sure", "seen", "until", "replaces",
    "hides",
];
/// Keys of a danger.
pub const DANGER_KEYS: &[&str] = &["of", "id", "side", "when", "text", "sure", "seen", "until", "replaces", "hides"];
/// Keys of a lay-up.
pub const LAYUP_KEYS: &[&str] =
    &["to_middle", "at", "across", "id", "name", "when", "text", "sure", "seen", "until", "replaces", "hides"];
/// Keys of a note.
pub const NOTE_KEYS: &[&str] = &["at", "id", "when", "text", "sure", "seen", "until", "replaces", "hides"];

const SIDES: &[(&str, Side)] =
    &[("left", Side::Left), ("right", Side::Right), ("short", Side::Short), ("long", Side::Long)];
const NOTE_PLACES: &[(&str, NoteAt)] =
    &[("tee", NoteAt::Tee), ("approach", NoteAt::Approach), ("green", NoteAt::Green)];
const TO_MIDDLE: Bounds = Bounds::new("what is left to the middle of the green", 0.0, 1500.0);

/// What the words of a hole may refer to.
#[derive(Default)]
pub struct Known<'a> {
    /// The course's tee sets; `None` when no course is at hand.
    pub tees: Option<&'a [TeeSet]>,
    /// Names of landmarks; `None` when they cannot be checked.
    pub landmarks: Option<Vec<&'a str>>,
    /// Names of ground; `None` when they cannot be checked.
    pub pieces: Option<Vec<&'a str>>,
    /// Whose layer this is; `None` in the notebook itself.
    pub layer: Option<&'a str>,
}

impl<'a> Known<'a> {
    /// What is known on a hole of the notebook that is being read.
    pub fn of_hole(frame: &Frame<'a>, landmarks: &'a [Landmark], sketch: &'a Sketch, ground: &'a Ground) -> Self {
        let here = landmarks.iter().chain(frame.landmarks).map(|l| l.name.as_str());
        Known {
            tees: Some(frame.tees),
            landmarks: Some(here.collect()),
            pieces: (!frame.survey).then(|| piece_names(sketch, ground)),
            layer: None,
        }
    }

    /// What is known on a hole for the layer of `whose`.
    pub fn of_layer(course: &'a crate::course::Course, hole: &'a Hole, whose: &'a str) -> Self {
        let frame = Frame { tees: &course.tees, landmarks: &course.landmarks, survey: course.ground.is_some() };
        Known { layer: Some(whose), ..Self::of_hole(&frame, &hole.landmarks, &hole.sketch, &hole.ground) }
    }
}

fn piece_names<'a>(sketch: &'a Sketch, ground: &'a Ground) -> Vec<&'a str> {
    let named = sketch.pieces.iter().flat_map(|p| [p.name.as_deref(), p.id.as_deref()]).flatten();
    let made = ground.features.iter().map(|f| f.name.as_str());
    let mut names: Vec<&str> = named.chain(made).chain(["green"]).collect();
    names.dedup();
    names
}

/// What every written thing carries; `fallback` is its identity when it has neither `id` nor text.
fn written(r: &mut Reader, fields: &Fields<'_>, known: &Known<'_>, name: Option<&str>) -> Written {
    let text = fields.read(r, "text", Reader::text);
    let id = fields.id();
    let replaces = match known.layer {
        Some(_) => fields.read(r, "replaces", |r, n, k| Some((r.text(n, k)?, n.span))),
        None => None,
    };
    Written {
        id: id.or_else(|| name.map(str::to_owned)).or_else(|| text.clone()).unwrap_or_default(),
        when: fields.read(r, "when", |r, n, _| when::when(r, n, known.tees)).unwrap_or_default(),
        text,
        sure: fields.read(r, "sure", |r, n, k| r.word(n, k, SURE)),
        seen: fields.read(r, "seen", Reader::date),
        until: fields.read(r, "until", Reader::date),
        from_layer: known.layer.map(str::to_owned),
        replaces,
        span: fields.span,
    }
}

/// Opens an item; in the notebook itself nothing may be replaced or hidden, for it may simply be changed.
fn open<'n>(
    r: &mut Reader,
    node: &'n Node,
    noun: &str,
    keys: &'static [&'static str],
    known: &Known<'_>,
) -> Option<Fields<'n>> {
    let keys = if known.layer.is_some() { keys } else { keys.get(..keys.len() - 2).unwrap_or(keys) };
    r.fields(node, noun, keys)
}

/// Whether an item of a layer only hides something.
fn only_hides(fields: &Fields<'_>, known: &Known<'_>) -> bool {
    known.layer.is_some() && fields.get("hides").is_some() && fields.count() == 1
}

/// Aim points.
pub fn aims(r: &mut Reader, node: &Node, key: &str, known: &Known<'_>) -> Vec<Aim> {
    let mut aims = Vec::new();
    for item in r.items(node, key) {
        let Some(fields) = open(r, item, "an aim point", AIM_KEYS, known) else { continue };
        if only_hides(&fields, known) {
            continue;
        }
        let name = fields.read(r, "name", Reader::text);
        let at = fields.read(r, "at", Reader::along);
        let across = fields.read(r, "across", Reader::across);
        let landmark = fields.read(r, "landmark", |r, n, k| {
            let name = r.text(n, k)?;
            if let Some(names) = known.landmarks.as_ref().filter(|names| !names.contains(&name.as_str())) {
                let message = format!("neither this hole nor the course has a landmark {}", quoted(&name));
                r.error(UNKNOWN_LANDMARK, n.span, message, advice_or(&name, names, "name it under `landmarks`"));
            }
            Some(name)
        });
        if fields.get("at").is_none() && fields.get("landmark").is_none() {
            let message = "this aim point is nowhere";
            r.error(
                AIM_WITHOUT_PLACE,
                fields.span,
                message,
                "say where the ball should finish, `at: 262`, or name a `landmark`",
            );
        }
        let from = fields.read(r, "from", from).unwrap_or_default();
        let shape = fields.read(r, "shape", |r, n, k| r.word(n, k, SHAPES));
        let written = written(r, &fields, known, name.as_deref());
        aims.push(Aim { written, name, from, at, across, landmark, shape });
    }
    aims
}

/// `tee`, `165 to the middle`, or a place along the line.
fn from(r: &mut Reader, node: &Node, key: &str) -> Option<From> {
    let text = r.raw(node, key)?.to_lowercase();
    let to_middle = ["to the middle", "to middle"].into_iter().find_map(|words| text.strip_suffix(words));
    let yard = r.unit.in_yards();
    let in_bounds = |v: &f64| (ALONG.least..=ALONG.most).contains(&(v * yard));
    let place = match to_middle {
        Some(figure) => signed(figure).filter(in_bounds).filter(|v| *v > 0.0).map(|v| From::ToMiddle(v * yard)),
        None if text == "tee" => Some(From::Tee),
        None => signed(&text).filter(in_bounds).map(|v| From::At(Along(v * yard))),
    };
    if place.is_none() {
        let message = format!("`{key}` cannot be {}", quoted(&text));
        r.error(
            NOT_A_PLACE,
            node.span,
            message,
            "write `tee`, `165 to the middle`, or a place along the line such as `240`",
        );
    }
    place
}

/// Danger sides.
pub fn dangers(r: &mut Reader, node: &Node, key: &str, known: &Known<'_>) -> Vec<Danger> {
    let mut dangers = Vec::new();
    for item in r.items(node, key) {
        let Some(fields) = open(r, item, "a danger", DANGER_KEYS, known) else { continue };
        if only_hides(&fields, known) {
            continue;
        }
        let of = fields.read(r, "of", |r, n, k| {
            let name = r.text(n, k)?;
            if let Some(names) = known.pieces.as_ref().filter(|names| !names.contains(&name.as_str())) {
                let message = format!("the sketch of this hole has nothing named {}", quoted(&name));
                r.error(
                    UNKNOWN_PIECE,
                    n.span,
                    message,
                    advice_or(&name, names, "name the bunker or other ground in the sketch"),
                );
            }
            Some(name)
        });
        let side = fields.read(r, "side", |r, n, k| r.word(n, k, SIDES));
        if ["of", "side", "text"].into_iter().all(|key| fields.get(key).is_none()) {
            r.error(
                DANGER_SAYS_NOTHING,
                fields.span,
                "this danger names nothing",
                "say `of` what it is, on which `side`, or give it a `text`",
            );
            continue;
        }
        let written = written(r, &fields, known, of.as_deref());
        dangers.push(Danger { written, of, side });
    }
    dangers
}

/// Lay-ups.
pub fn layups(r: &mut Reader, node: &Node, key: &str, known: &Known<'_>) -> Vec<Layup> {
    let mut layups = Vec::new();
    for item in r.items(node, key) {
        let Some(fields) = open(r, item, "a lay-up", LAYUP_KEYS, known) else { continue };
        if only_hides(&fields, known) {
            continue;
        }
        if fields.get("to_middle").is_none() && fields.get("at").is_none() {
            r.error(
                LAYUP_WITHOUT_PLACE,
                fields.span,
                "this lay-up is nowhere",
                "say what it leaves, `to_middle: 90`, or where it is, `at: 262`",
            );
        }
        let to_middle = fields.read(r, "to_middle", |r, n, k| r.length(n, k, TO_MIDDLE));
        let at = fields.read(r, "at", Reader::along);
        let across = fields.read(r, "across", Reader::across);
        let name = fields.read(r, "name", Reader::text);
        let written = written(r, &fields, known, name.as_deref());
        layups.push(Layup { written, to_middle, at, across });
    }
    layups
}

/// Notes.
pub fn notes(r: &mut Reader, node: &Node, key: &str, known: &Known<'_>) -> Vec<Note> {
    let mut notes = Vec::new();
    for item in r.items(node, key) {
        let Some(fields) = open(r, item, "a note", NOTE_KEYS, known) else { continue };
        if only_hides(&fields, known) {
            continue;
        }
        let at = fields.read(r, "at", |r, n, k| r.word(n, k, NOTE_PLACES)).unwrap_or_default();
        // The text itself is read with what every written thing carries.
        fields.need(r, "text", "text: what is to be known here", |_, _, _| Some(()));
        let written = written(r, &fields, known, None);
        if written.text.is_some() {
            notes.push(Note { written, at });
        }
    }
    notes
}

fn advice_or(name: &str, names: &[&str], otherwise: &str) -> String {
    if names.is_empty() { otherwise.to_owned() } else { did_you_mean(name, names) }
}

/// An `id` names one thing of a hole.
pub fn ids_once(r: &mut Reader, hole: &Node, number: u8) {
    let mut seen: Vec<(&str, Span)> = Vec::new();
    for list in ["aims", "dangers", "layups", "notes"] {
        for item in hole.get(list).map(Node::items).unwrap_or_default() {
            let Some(id) = item.get("id") else { continue };
            let Some(text) = id.text() else { continue };
            if seen.iter().any(|(known, _)| *known == text) {
                let message = format!("the `id` {} stands twice on hole {number}", quoted(text));
                r.error(ID_TWICE, id.span, message, "give each its own, so that a layer can name it");
            }
            seen.push((text, id.span));
        }
    }
}
