//! Tee sets with their ratings, and circuits.

use super::checks;
use super::head::twice;
use super::hole::{Frame, Holes};
use crate::course::codes::{INDEX_COUNT, INDEX_RANGE, NOT_HOLES, RATING_RANGE, UNKNOWN_HOLE, UNKNOWN_TEE};
use crate::course::decode::{Bounds, Fields, Reader, quoted};
use crate::course::model::{ByCard, Card, Circuit, Rating, TeeRating, TeeSet};
use crate::notebook::{Kind, Node, Span, did_you_mean};

/// Keys of a tee set.
pub const TEE_KEYS: &[&str] = &["name", "id", "men", "women"];
/// Keys of the ratings of a tee set on one card.
pub const RATING_KEYS: &[&str] = &["rating", "slope", "front_nine", "back_nine"];
/// Keys of the rating of a nine.
pub const NINE_KEYS: &[&str] = &["rating", "slope"];
/// Keys of a circuit.
pub const CIRCUIT_KEYS: &[&str] = &["name", "id", "holes", "stroke_index", "tees"];

/// Strokes; whether a rating fits its holes is asked apart.
const ANY_RATING: Bounds = Bounds::new("a Course Rating", 1.0, 120.0);
/// A hole number.
pub const HOLE: Bounds = Bounds::new("a hole number", 1.0, 99.0);
const ANY_INDEX: Bounds = Bounds::new("a stroke index", 0.0, 255.0);

/// Tee sets in the order of the file. `holes` is how many holes their ratings cover.
pub fn tee_sets(r: &mut Reader, file: &Fields<'_>, holes: usize) -> Vec<TeeSet> {
    let nodes = file
        .need(r, "tees", "tees: [ { name: Back, men: { rating: 71.2, slope: 125 } } ]", |r, n, k| Some(r.items(n, k)));
    let mut sets: Vec<TeeSet> = Vec::new();
    for node in nodes.unwrap_or_default() {
        let Some(fields) = r.fields(node, "a tee set", TEE_KEYS) else { continue };
        let Some(name) = fields.need(r, "name", "name: Back", Reader::text) else { continue };
        if sets.iter().any(|set| set.name == name) {
            twice(r, fields.place("name"), "tee set", &name);
            continue;
        }
        let ratings = ByCard {
            men: fields.read(r, "men", |r, n, _| tee_rating(r, n, &format!("{name}, men"), holes)),
            women: fields.read(r, "women", |r, n, _| tee_rating(r, n, &format!("{name}, women"), holes)),
        };
        sets.push(TeeSet { name, ratings });
    }
    sets
}

fn tee_rating(r: &mut Reader, node: &Node, noun: &str, holes: usize) -> Option<TeeRating> {
    let fields = r.fields(node, noun, RATING_KEYS)?;
    let whole = rating(r, &fields, holes);
    let nine = |r: &mut Reader, key: &'static str, words: &str| {
        fields.read(r, key, |r, n, _| {
            let fields = r.fields(n, &format!("{noun}, {words}"), NINE_KEYS)?;
            rating(r, &fields, 9)
        })
    };
    let front_nine = nine(r, "front_nine", "front nine");
    let back_nine = nine(r, "back_nine", "back nine");
    Some(TeeRating { whole: whole?, front_nine, back_nine })
}

/// A rating, with a word of doubt where it does not fit its holes: no course is rated below 2 or above 6 strokes a hole.
fn rating(r: &mut Reader, fields: &Fields<'_>, holes: usize) -> Option<Rating> {
    let rating = r.rating(fields, ANY_RATING)?;
    let tenths = usize::try_from(rating.rating.tenths()).unwrap_or(0);
    // While a notebook is being written, its ratings are there before its holes are.
    let whole = holes == 9 || holes == 18;
    if whole && !(holes * 20..=holes * 60).contains(&tenths) {
        let span = fields.place("rating");
        let message = format!("{}: a Course Rating of {} is hardly one of {holes} holes", fields.noun, rating.rating);
        r.warning(RATING_RANGE, span, message, "take it from the rating table; it is near the par of the holes played");
    }
    Some(rating)
}

/// Circuits of the course.
pub fn circuits(r: &mut Reader, node: &Node, key: &str, frame: &Frame<'_>, holes: &Holes) -> Vec<Circuit> {
    let mut found: Vec<Circuit> = Vec::new();
    for item in r.items(node, key) {
        let Some(fields) = r.fields(item, "a circuit", CIRCUIT_KEYS) else { continue };
        let Some(name) = fields.need(r, "name", "name: twice round", Reader::text) else { continue };
        if found.iter().any(|c| c.name == name) {
            twice(r, fields.place("name"), "circuit", &name);
            continue;
        }
        let order = fields.need(r, "holes", "holes: [1..9, 1..9]", |r, n, k| hole_list(r, n, k, holes));
        let Some(order) = order.filter(|order| !order.is_empty()) else { continue };
        let indexes = fields.read(r, "stroke_index", |r, n, _| index_lists(r, n, &name, order.len()));
        let tees = fields.read(r, "tees", |r, n, _| Some(rated_tees(r, n, &name, frame, order.len())));
        found.push(Circuit {
            name,
            holes: order,
            stroke_index: indexes.unwrap_or(ByCard::NEITHER),
            tees: tees.unwrap_or_default(),
        });
    }
    found
}

fn rated_tees(r: &mut Reader, node: &Node, circuit: &str, frame: &Frame<'_>, holes: usize) -> Vec<TeeSet> {
    let mut sets = Vec::new();
    for entry in r.entries(node, "`tees`").unwrap_or_default() {
        if !known_tee(r, frame.tees, &entry.key, entry.key_span) {
            continue;
        }
        let noun = format!("{circuit}, {}", entry.key);
        let Some(fields) = r.fields(&entry.value, &noun, &["men", "women"]) else { continue };
        let ratings = ByCard {
            men: fields.read(r, "men", |r, n, _| tee_rating(r, n, &noun, holes)),
            women: fields.read(r, "women", |r, n, _| tee_rating(r, n, &noun, holes)),
        };
        sets.push(TeeSet { name: entry.key.clone(), ratings });
    }
    sets
}

/// Whether the course has a tee; reports it when not.
pub fn known_tee(r: &mut Reader, tees: &[TeeSet], name: &str, span: Span) -> bool {
    let known = tees.iter().any(|set| set.name == name);
    // Without any tee set that could be read, the fault lies there and not here.
    if !known && !tees.is_empty() {
        let names: Vec<&str> = tees.iter().map(|set| set.name.as_str()).collect();
        r.error(UNKNOWN_TEE, span, format!("the course has no tee {}", quoted(name)), did_you_mean(name, &names));
    }
    known
}

/// `[1..9, 1..9]` or `1..9`: hole numbers in playing order.
fn hole_list(r: &mut Reader, node: &Node, key: &str, holes: &Holes) -> Option<Vec<u8>> {
    let mut order = Vec::new();
    for (text, span) in r.texts(node, key)? {
        let (from, to) = text.split_once("..").unwrap_or((&text, &text));
        let ends = from.trim().parse::<u8>().ok().zip(to.trim().parse::<u8>().ok());
        let Some((from, to)) = ends.filter(|(from, to)| (1..=99).contains(from) && from <= to && *to <= 99) else {
            let message = format!("`{key}` needs hole numbers, not {}", quoted(&text));
            r.error(NOT_HOLES, span, message, "write `[1..9, 1..9]` or `[10, 11, 12]`");
            return None;
        };
        if let Some(absent) = (from..=to).find(|n| !holes.is_written(*n)) {
            r.error(UNKNOWN_HOLE, span, format!("the course has no hole {absent}"), holes.known_words());
            return None;
        }
        order.extend(from..=to);
    }
    Some(order)
}

/// Stroke indexes of a circuit: one list for both cards, or `men` and `women`.
fn index_lists(r: &mut Reader, node: &Node, circuit: &str, holes: usize) -> Option<ByCard<Vec<u8>>> {
    if !matches!(node.kind, Kind::Map(_)) {
        let list = index_list(r, node, circuit, holes, None)?;
        return Some(ByCard { men: Some(list.clone()), women: Some(list) });
    }
    let fields = r.fields(node, &format!("stroke_index of {circuit}"), &["men", "women"])?;
    let men = fields.read(r, "men", |r, n, _| index_list(r, n, circuit, holes, Some(Card::Men)));
    let women = fields.read(r, "women", |r, n, _| index_list(r, n, circuit, holes, Some(Card::Women)));
    Some(ByCard { men, women })
}

fn index_list(r: &mut Reader, node: &Node, circuit: &str, holes: usize, card: Option<Card>) -> Option<Vec<u8>> {
    let key = "stroke_index";
    let mut list: Vec<(u8, Span)> = Vec::new();
    for item in r.items(node, key) {
        let value = r.small(item, key, ANY_INDEX)?;
        if value == 0 || usize::from(value) > holes {
            let message = format!("{circuit}: there is no stroke index {value} on {holes} holes");
            r.error(INDEX_RANGE, item.span, message, format!("stroke indexes run from 1 to {holes}"));
            return None;
        }
        list.push((value, item.span));
    }
    if list.len() != holes {
        let message = format!("{circuit} has {holes} holes and {} stroke indexes", list.len());
        r.error(INDEX_COUNT, node.span, message, "give one stroke index for each hole, in playing order");
        return None;
    }
    if holes == 9 || holes == 18 {
        let whose = match card {
            Some(card) => format!("{circuit}, {} card", card.whose()),
            None => circuit.to_owned(),
        };
        checks::permutation(r, &list, holes, &whose);
    }
    Some(list.into_iter().map(|(value, _)| value).collect())
}
