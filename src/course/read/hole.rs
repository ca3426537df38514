//! One hole: its card, line and tees; the rest is read by its own nouns.

use super::tees::{HOLE, known_tee};
use super::{ground, head, sketch, written};
use crate::course::codes::{
    BEND_OUTSIDE, GREEN_BEFORE_TEE, HOLE_TWICE, INDEX_RANGE, INDEX_WITHOUT_PAR, LENGTH_DISAGREES, NOT_IN_ORDER,
    NOT_KNOWN_YET, PAR_RANGE, PAR_WITHOUT_INDEX, TEE_MISSING, UNKNOWN_TEE,
};
use crate::course::decode::{Bounds, Fields, MISSING_KEY, OUT_OF_RANGE, Reader, listed, quoted};
use crate::course::model::{ByCard, Card, Hole, HoleTee, Landmark, Sketch, TeeSet};
use crate::ground::Bend;
use crate::ground::line::SHARPEST;
use crate::notebook::{Kind, Node, Span, did_you_mean};
use crate::units::{Across, Along};

/// Keys of a hole.
pub const KEYS: &[&str] = &[
    "hole",
    "id",
    "name",
    "par",
    "stroke_index",
    "line_from",
    "bearing",
    "tees",
    "bends",
    "heights",
    "landmarks",
    "sketch",
    "aims",
    "dangers",
    "layups",
    "notes",
    "walk",
    "caution",
];
/// Keys of a tee of a hole.
pub const TEE_KEYS: &[&str] = &["length", "across", "starts_at"];
/// Keys of a place.
pub const PLACE_KEYS: &[&str] = &["at", "across"];
/// Keys of a bend.
pub const BEND_KEYS: &[&str] = &["at", "turn"];
/// Keys of a height.
pub const HEIGHT_KEYS: &[&str] = &["at", "up"];
/// Keys of the walk.
pub const WALK_KEYS: &[&str] = &["in", "out"];

const SMALL: Bounds = Bounds::new("such a number", 0.0, 99.0);
/// Yards; longer than any hole ever laid out.
const LENGTH: Bounds = Bounds::new("the length of a hole", 20.0, 1500.0);
/// Yards; no ground of a hole rises or falls further.
pub const UP: Bounds = Bounds::new("a height against the start", -500.0, 500.0);
/// What may lie between a tee's length and the line, in the file's unit (notebook.md).
const ALLOWED: f64 = 3.0;

/// What a hole may refer to.
pub struct Frame<'a> {
    /// The course's tee sets.
    pub tees: &'a [TeeSet],
    /// The course's landmarks.
    pub landmarks: &'a [Landmark],
    /// Surveyed ground may bring names that the notebook does not show.
    pub survey: bool,
}

/// A hole with the places that checks across holes point at.
pub struct ReadHole {
    pub hole: Hole,
    pub number_span: Span,
    pub index_span: Option<Span>,
    /// Nothing was wrong with its stroke indexes alone.
    pub index_sound: bool,
}

/// The holes of a notebook in the order of their numbers.
#[derive(Default)]
pub struct Holes {
    pub read: Vec<ReadHole>,
    /// Numbers of holes that could not be read.
    pub unread: Vec<u8>,
    /// How many have no number that can be read.
    pub unnumbered: usize,
    /// How many of the unread say that their tees are not known yet.
    pub not_known: usize,
}

impl Holes {
    /// How many are written.
    pub fn count(&self) -> usize {
        self.read.len() + self.unread.len() + self.unnumbered
    }

    /// Whether a hole of this number is written.
    pub fn is_written(&self, number: u8) -> bool {
        self.read.iter().any(|h| h.hole.number == number) || self.unread.contains(&number)
    }

    /// Advice that says which holes there are.
    pub fn known_words(&self) -> String {
        match self.read.iter().map(|h| h.hole.number).max() {
            Some(last) => format!("its holes go up to {last}"),
            None => String::new(),
        }
    }
}

/// Reads the holes; one that is broken costs no other.
pub fn holes(r: &mut Reader, nodes: &[Node], frame: &Frame<'_>) -> Holes {
    let mut holes = Holes::default();
    for node in nodes {
        let noun = match node.get("hole").and_then(Node::text) {
            Some(text) if text.trim().parse::<u8>().is_ok() => format!("hole {}", text.trim().trim_start_matches('0')),
            _ => "a hole".to_owned(),
        };
        let fields = r.fields(node, &noun, KEYS);
        let number = fields.as_ref().and_then(|f| f.need(r, "hole", "hole: 4", |r, n, k| r.small(n, k, HOLE)));
        let (Some(fields), Some(number)) = (fields, number) else {
            holes.unnumbered += 1;
            continue;
        };
        let number_span = fields.get("hole").map_or(fields.span, |n| n.span);
        if holes.is_written(number) {
            let message = format!("there are two holes with the number {number}");
            r.error(HOLE_TWICE, number_span, message, "give this one its own number; the first one is read");
            continue;
        }
        let index_errors = r.errors();
        let card = card(r, &fields, number);
        let index_sound = r.errors() == index_errors && !fields.get("stroke_index").is_some_and(has_unknown);
        let index_span = fields.get("stroke_index").map(|n| n.span);
        if fields.get("tees").is_some_and(is_unknown) {
            not_known(r, fields.place("tees"), number, "tees are", "it is kept as a gap and cannot be shown or played");
            holes.not_known += 1;
            holes.unread.push(number);
            continue;
        }
        match hole(r, node, &fields, number, card, frame) {
            Some(hole) => holes.read.push(ReadHole { hole, number_span, index_span, index_sound }),
            None => holes.unread.push(number),
        }
    }
    holes.read.sort_by_key(|h| h.hole.number);
    holes.unread.sort_unstable();
    holes
}

/// What a draft writes where a map or a memory does not say: a gap that is told and stops nothing.
const UNKNOWN: &str = "unknown";

fn is_unknown(node: &Node) -> bool {
    node.text().is_some_and(|text| text.trim().eq_ignore_ascii_case(UNKNOWN))
}

fn has_unknown(node: &Node) -> bool {
    is_unknown(node) || node.entries().iter().any(|entry| is_unknown(&entry.value))
}

fn not_known(r: &mut Reader, span: Span, number: u8, what: &str, advice: &str) {
    r.warning(NOT_KNOWN_YET, span, format!("hole {number}: the {what} not known yet"), advice);
}

/// Par and stroke index of both cards.
fn card(r: &mut Reader, fields: &Fields<'_>, number: u8) -> (ByCard<u8>, ByCard<u8>) {
    let par = fields.need(r, "par", "par: 4", |r, n, k| r.by_card(n, k, |r, n, _| par(r, n, number)));
    let index = fields.read(r, "stroke_index", |r, n, k| r.by_card(n, k, |r, n, _| index(r, n, number)));
    let has = |key: &'static str, card: Card| {
        fields.get(key).is_some_and(|node| match &node.kind {
            Kind::Map(_) => node.get(if card == Card::Men { "men" } else { "women" }).is_some(),
            _ => true,
        })
    };
    if fields.get("par").is_some() {
        let lacking: Vec<Card> =
            Card::BOTH.into_iter().filter(|c| has("par", *c) && !has("stroke_index", *c)).collect();
        if !lacking.is_empty() {
            let message = format!("hole {number} has a par {} and no stroke index", on_cards(&lacking));
            let advice = "give each card that has a par its stroke index, `stroke_index: { men: 3, women: 9 }`";
            r.error(PAR_WITHOUT_INDEX, fields.place("par"), message, advice);
        }
        let lacking: Vec<Card> =
            Card::BOTH.into_iter().filter(|c| !has("par", *c) && has("stroke_index", *c)).collect();
        if !lacking.is_empty() {
            let message = format!("hole {number} has a stroke index {} and no par", on_cards(&lacking));
            let advice = "give each card that has a stroke index its par, `par: { men: 4, women: 5 }`";
            r.error(INDEX_WITHOUT_PAR, fields.place("stroke_index"), message, advice);
        }
    }
    (par.unwrap_or(ByCard::NEITHER), index.unwrap_or(ByCard::NEITHER))
}

fn on_cards(cards: &[Card]) -> String {
    match cards {
        [one] => format!("on the {} card", one.whose()),
        _ => "on both cards".to_owned(),
    }
}

fn par(r: &mut Reader, node: &Node, number: u8) -> Option<u8> {
    if is_unknown(node) {
        not_known(r, node.span, number, "par is", "write it when you know it; until then there is no card for it");
        return None;
    }
    let par = r.small(node, "par", SMALL)?;
    if (3..=6).contains(&par) {
        return Some(par);
    }
    let message = format!("hole {number} cannot have par {par}");
    r.error(PAR_RANGE, node.span, message, "a par is 3, 4, 5 or 6");
    None
}

fn index(r: &mut Reader, node: &Node, number: u8) -> Option<u8> {
    if is_unknown(node) {
        let advice = "copy it from the club's card; until then no strokes are worked out";
        not_known(r, node.span, number, "stroke index is", advice);
        return None;
    }
    let index = r.small(node, "stroke_index", SMALL)?;
    if index > 0 {
        return Some(index);
    }
    r.error(INDEX_RANGE, node.span, format!("hole {number} cannot have stroke index 0"), "stroke indexes begin at 1");
    None
}

fn hole(
    r: &mut Reader,
    node: &Node,
    fields: &Fields<'_>,
    number: u8,
    (par, stroke_index): (ByCard<u8>, ByCard<u8>),
    frame: &Frame<'_>,
) -> Option<Hole> {
    let mut sketch = fields.read(r, "sketch", |r, n, _| sketch::sketch(r, n, number, frame.survey)).unwrap_or_default();
    let tees = fields.need(r, "tees", "tees: { Back: { length: 428 } }", |r, n, _| Some(tees(r, n, number, frame)));
    let mut tees = tees?;
    let line_from = line_from(r, fields, &tees)?;
    let line = settle(r, &mut tees, &line_from, &mut sketch, number, fields);
    let bends = fields.read(r, "bends", |r, n, k| Some(bends(r, n, k, line))).unwrap_or_default();
    let heights = fields.read(r, "heights", |r, n, k| Some(heights(r, n, k))).unwrap_or_default();
    let landmarks = fields.read(r, "landmarks", |r, n, k| Some(head::landmarks(r, n, k, true))).unwrap_or_default();
    let ground = ground::lay(r, &sketch, &bends, &tees, &heights);
    let known = written::Known::of_hole(frame, &landmarks, &sketch, &ground);
    let aims = fields.read(r, "aims", |r, n, k| Some(written::aims(r, n, k, &known))).unwrap_or_default();
    let dangers = fields.read(r, "dangers", |r, n, k| Some(written::dangers(r, n, k, &known))).unwrap_or_default();
    let layups = fields.read(r, "layups", |r, n, k| Some(written::layups(r, n, k, &known))).unwrap_or_default();
    let notes = fields.read(r, "notes", |r, n, k| Some(written::notes(r, n, k, &known))).unwrap_or_default();
    written::ids_once(r, node, number);
    let walk = fields.read(r, "walk", |r, n, _| r.fields(n, "the walk", WALK_KEYS));
    let walked = |r: &mut Reader, key| walk.as_ref().and_then(|walk| walk.read(r, key, Reader::text));
    Some(Hole {
        number,
        id: fields.id(),
        name: fields.read(r, "name", Reader::text),
        par,
        stroke_index,
        line_from,
        bearing: fields.read(r, "bearing", |r, n, k| r.number(n, k, head::COMPASS)),
        tees: tees.into_iter().map(|t| t.tee).collect(),
        sketch,
        bends,
        heights,
        landmarks,
        ground,
        aims,
        dangers,
        layups,
        notes,
        walk_in: walked(r, "in"),
        walk_out: walked(r, "out"),
        caution: fields.read(r, "caution", Reader::text),
        span: node.span,
    })
}

/// A tee before the line is known.
pub struct TeeNode {
    pub tee: HoleTee,
    starts_at: bool,
}

/// The tees of a hole in the order of the course's tee sets.
fn tees(r: &mut Reader, node: &Node, number: u8, frame: &Frame<'_>) -> Vec<TeeNode> {
    let mut found: Vec<TeeNode> = Vec::new();
    let entries = r.entries(node, "`tees`").unwrap_or_default();
    for entry in entries {
        if !known_tee(r, frame.tees, &entry.key, entry.key_span) {
            continue;
        }
        // A tee on the line may be written as its length alone.
        let bare = matches!(entry.value.kind, Kind::Text { .. });
        let fields =
            if bare { None } else { r.fields(&entry.value, &format!("tee {} of hole {number}", entry.key), TEE_KEYS) };
        let length = match &fields {
            Some(fields) => fields.need(r, "length", "length: 401", |r, n, k| r.length(n, k, LENGTH)),
            None if bare => r.length(&entry.value, &entry.key, LENGTH),
            None => None,
        };
        let Some(length) = length else { continue };
        let start = fields.as_ref().and_then(|f| f.read(r, "starts_at", |r, n, _| place(r, n, "`starts_at`")));
        let across = fields.as_ref().and_then(|f| f.read(r, "across", Reader::across));
        found.push(TeeNode {
            tee: HoleTee {
                name: entry.key.clone(),
                length,
                at: start.map_or(Along(0.0), |(at, _)| at),
                across: across.or(start.and_then(|(_, across)| across)).unwrap_or_default(),
                span: entry.key_span,
            },
            starts_at: start.is_some(),
        });
    }
    let missing: Vec<&str> =
        frame.tees.iter().map(|t| t.name.as_str()).filter(|name| !entries.iter().any(|e| e.key == *name)).collect();
    if !missing.is_empty() && !found.is_empty() {
        let message = format!("hole {number} has no place for {}", listed(&missing));
        r.warning(TEE_MISSING, node.span, message, "a card for that tee has no length here");
    }
    let rank = |name: &str| frame.tees.iter().position(|set| set.name == name);
    found.sort_by_key(|t| rank(&t.tee.name));
    found
}

/// `{ at, across }` with `at` demanded.
fn place(r: &mut Reader, node: &Node, noun: &str) -> Option<(Along, Option<Across>)> {
    let fields = r.fields(node, noun, PLACE_KEYS)?;
    let at = fields.need(r, "at", "at: 70", Reader::along);
    let across = fields.read(r, "across", Reader::across);
    Some((at?, across))
}

/// The tee at the start of the line: the one named, else the longest.
fn line_from(r: &mut Reader, fields: &Fields<'_>, tees: &[TeeNode]) -> Option<String> {
    if let Some(name) = fields.read(r, "line_from", Reader::text) {
        if tees.iter().any(|t| t.tee.name == name) {
            return Some(name);
        }
        let names: Vec<&str> = tees.iter().map(|t| t.tee.name.as_str()).collect();
        let span = fields.get("line_from").map_or(fields.span, |n| n.span);
        if !names.is_empty() {
            let message = format!("`line_from` is {}, which is no tee of this hole", quoted(&name));
            r.error(UNKNOWN_TEE, span, message, did_you_mean(&name, &names));
        }
    }
    let longest = tees.iter().max_by(|a, b| a.tee.length.total_cmp(&b.tee.length).then(b.tee.name.cmp(&a.tee.name)));
    longest.map(|t| t.tee.name.clone())
}

/// Puts every tee on the line and compares its length with it. Gives the length of the line, yards.
fn settle(
    r: &mut Reader,
    tees: &mut [TeeNode],
    line_from: &str,
    sketch: &mut Sketch,
    number: u8,
    fields: &Fields<'_>,
) -> f64 {
    let written = tees.iter().find(|t| t.tee.name == line_from).map_or(0.0, |t| t.tee.length);
    let unit = r.unit;
    let show = |yards: f64| format!("{}", (yards / unit.in_yards()).round());
    let allowed = ALLOWED * unit.in_yards() + 1e-6;
    if let Some(green) = sketch.green.as_ref().filter(|g| g.front.0 <= 0.0) {
        let message = format!("the green of hole {number} begins {} from the start of its line", show(green.front.0));
        r.error(GREEN_BEFORE_TEE, green.span, message, "`front` is counted from the start of the line");
        // Without it the line is as long as its tee says, and nothing else of the hole is drawn into the mistake.
        sketch.green = None;
    }
    let green = sketch.green.as_ref();
    let line = green.map_or(written, |g| g.front.0 + g.depth / 2.0);
    for t in tees {
        // A place that is written holds, even where it contradicts the length: that is then reported.
        if !t.starts_at {
            t.tee.at = Along(if t.tee.name == line_from { 0.0 } else { line - t.tee.length });
        }
        let Some(green) = green else { continue };
        if green.front.0 <= t.tee.at.0 {
            let message = format!(
                "the green of hole {number} is in front of tee {}: it begins at {}, the tee stands at {}",
                t.tee.name,
                show(green.front.0),
                show(t.tee.at.0)
            );
            r.error(GREEN_BEFORE_TEE, t.tee.span, message, "both are counted from the start of the line");
            t.tee.at = Along((line - t.tee.length).clamp(0.0, green.front.0));
            continue;
        }
        let along = line - t.tee.at.0;
        if (along - t.tee.length).abs() > allowed {
            let message = format!(
                "hole {number} is {} from tee {}, but {} along its line to the middle of the green",
                show(t.tee.length),
                t.tee.name,
                show(along)
            );
            let advice = format!(
                "`front` + half of `depth` is {}{}; change the length, the green or where the tee stands",
                show(line),
                if t.tee.at.0 == 0.0 { String::new() } else { format!(", less {} to the tee", show(t.tee.at.0)) }
            );
            r.error(LENGTH_DISAGREES, t.tee.span, message, advice);
        }
    }
    if line <= 0.0 {
        r.error(MISSING_KEY, fields.span, format!("hole {number} has no length"), "give one of its tees a `length`");
    }
    line
}

fn bends(r: &mut Reader, node: &Node, key: &str, line: f64) -> Vec<Bend> {
    let mut bends: Vec<Bend> = Vec::new();
    for item in r.items(node, key) {
        let Some(fields) = r.fields(item, "a bend", BEND_KEYS) else { continue };
        let at = fields.need(r, "at", "at: 262", Reader::along);
        let turn = fields.need(r, "turn", "turn: 18R", Reader::turn);
        let Some((at, turn_deg)) = at.zip(turn) else { continue };
        let show = |yards: f64| format!("{}", (yards).round());
        if turn_deg.abs() > SHARPEST {
            let message = format!("`turn` is {} degrees, and no hole turns by more than {SHARPEST}", turn_deg.abs());
            r.error(OUT_OF_RANGE, fields.place("turn"), message, "check the figure");
        } else if at.0 <= 0.0 || at.0 >= line {
            let message = "the bend does not lie between the start of the line and the middle of the green";
            r.error(BEND_OUTSIDE, fields.place("at"), message, "`at` is counted from the start of the line");
        } else if bends.last().is_some_and(|before| before.at.0 >= at.0) {
            let message = format!("the bend at {} comes after one further on", show(at.0 / r.unit.in_yards()));
            r.error(NOT_IN_ORDER, fields.place("at"), message, "write bends in the order in which they are walked");
        } else {
            bends.push(Bend { at, turn_deg });
        }
    }
    bends
}

fn heights(r: &mut Reader, node: &Node, key: &str) -> Vec<(Along, f64)> {
    let mut heights: Vec<(Along, f64)> = Vec::new();
    for item in r.items(node, key) {
        let Some(fields) = r.fields(item, "a height", HEIGHT_KEYS) else { continue };
        let at = fields.need(r, "at", "at: 262", Reader::along);
        let up = fields.need(r, "up", "up: -4", |r, n, k| r.length(n, k, UP));
        let Some((at, up)) = at.zip(up) else { continue };
        if heights.last().is_some_and(|(before, _)| before.0 >= at.0) {
            let message = "heights along the line do not go forward here";
            r.error(NOT_IN_ORDER, fields.place("at"), message, "write them in the order in which they are walked");
            continue;
        }
        heights.push((at, up));
    }
    heights
}
