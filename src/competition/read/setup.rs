//! `competition.yaml`: the competition itself; its events in `events`.

use super::super::codes::{NO_EVENTS, NOT_ROUND_HOLES, UNKNOWN_RULES};
use super::super::setup::{Award, RoundSetup, Setup, Tees};
use super::{events, file, id};
use crate::course::decode::{Bounds, FileKind, Reader, quoted};
use crate::handicap::{GiveBack, Rules};
use crate::notebook::{Diagnostic, Kind, Node};

const KEYS: &[&str] = &[
    "format",
    "name",
    "course",
    "rounds",
    "handicaps",
    "tees",
    "keyings",
    "publish_index",
    "events",
    "awards",
    "draws",
];
const ROUND_KEYS: &[&str] = &["date", "holes"];
const HANDICAP_KEYS: &[&str] = &["as_of", "rules", "give_back"];
const AWARD_KEYS: &[&str] = &["name", "hole", "id", "measure"];
const KEYINGS: Bounds = Bounds::new("how many keyings a card needs", 1.0, 2.0);
pub(super) const HOLE: Bounds = Bounds::new("a hole number", 1.0, 36.0);
const YES_NO: [(&str, bool); 4] = [("yes", true), ("no", false), ("true", true), ("false", false)];

/// Reads `competition.yaml`.
pub fn read_setup(text: &str) -> (Option<Setup>, Vec<Diagnostic>) {
    file(text, FileKind::Competition, setup)
}

fn setup(r: &mut Reader, root: &Node) -> Option<Setup> {
    let fields = r.fields(root, "the competition", KEYS)?;
    let name = fields.need(r, "name", "name: Spring Medal", Reader::text);
    let course = fields.need(r, "course", "course: corvane.yaml", Reader::text);
    let rounds = fields.need(r, "rounds", "rounds: [ { date: 2026-05-16, holes: 1..18 } ]", |r, n, k| {
        let items = r.items(n, k);
        let rounds: Vec<RoundSetup> = items.iter().filter_map(|item| round(r, item)).collect();
        (rounds.len() == items.len() && !rounds.is_empty()).then_some(rounds)
    });
    let (as_of, rules, give_back) = fields
        .read(r, "handicaps", |r, n, _| {
            let fields = r.fields(n, "`handicaps`", HANDICAP_KEYS)?;
            let as_of = fields.read(r, "as_of", Reader::date);
            let rules = fields.read(r, "rules", rules);
            let order = [
                ("highest index first", GiveBack::HighestIndexFirst),
                ("lowest index first", GiveBack::LowestIndexFirst),
            ];
            let give_back = fields.read(r, "give_back", |r, n, k| r.word(n, k, &order));
            Some((as_of, rules.unwrap_or_default(), give_back.unwrap_or_default()))
        })
        .unwrap_or_default();
    let tees = fields.read(r, "tees", tees).unwrap_or_default();
    let keyings = fields.read(r, "keyings", |r, n, k| r.small(n, k, KEYINGS)).map_or(1, usize::from);
    let publish_index = fields.read(r, "publish_index", yes_no).unwrap_or(false);
    let count = rounds.as_deref().map_or(&[][..], |rounds| rounds);
    let events =
        fields.need(r, "events", "events: [ { name: medal, play: stroke, ties: [ last 9, share ] } ]", |r, n, k| {
            let items = r.items(n, k);
            if items.is_empty() && r.errors() == 0 {
                r.error(NO_EVENTS, n.span, "there is no event", "add one, as `- { name: medal, play: stroke }`");
            }
            Some(events::events(r, items, count))
        });
    let awards = fields.read(r, "awards", |r, n, k| Some(r.items(n, k).iter().filter_map(|i| award(r, i)).collect()));
    let draws = fields
        .read(r, "draws", |r, n, k| Some(r.items(n, k).iter().filter_map(|i| events::draw(r, i, count)).collect()));
    if r.errors() > 0 {
        return None;
    }
    Some(Setup {
        name: name?,
        course: course?,
        rounds: rounds?,
        as_of,
        rules,
        give_back,
        tees,
        tees_at: fields.get("tees").map_or_else(|| fields.place("tees"), |node| node.span),
        keyings,
        publish_index,
        events: events?,
        awards: awards.unwrap_or_default(),
        draws: draws.unwrap_or_default(),
    })
}

pub(super) fn yes_no(r: &mut Reader, node: &Node, key: &str) -> Option<bool> {
    r.word(node, key, &YES_NO)
}

fn round(r: &mut Reader, node: &Node) -> Option<RoundSetup> {
    let fields = r.fields(node, "a round", ROUND_KEYS)?;
    let date = fields.need(r, "date", "date: 2026-05-16", Reader::date);
    let holes = match fields.get("holes") {
        Some(node) => holes(r, node, "holes"),
        None => Some((1..=18).collect()),
    };
    Some(RoundSetup { date: date?, holes: holes? })
}

/// Hole numbers: `1..18`, `[10..18]`, `[1, 2, 3]`; each once.
pub(super) fn holes(r: &mut Reader, node: &Node, key: &str) -> Option<Vec<u8>> {
    let items = match &node.kind {
        Kind::List(items) => items.as_slice(),
        _ => std::slice::from_ref(node),
    };
    let mut holes: Vec<u8> = Vec::new();
    for item in items {
        let text = r.raw(item, key)?;
        let found = match text.split_once("..") {
            Some((from, to)) => number(from).zip(number(to)).filter(|(a, b)| a <= b).map(|(a, b)| (a..=b).collect()),
            None => number(text).map(|one| vec![one]),
        };
        let Some(found): Option<Vec<u8>> = found else {
            let message = format!("`{key}` needs holes, not {}", quoted(text));
            r.error(NOT_ROUND_HOLES, item.span, message, "write `1..18`, `1..9`, or a list as `[10, 11, 12]`");
            return None;
        };
        if let Some(twice) = found.iter().find(|hole| holes.contains(hole)) {
            let message = format!("hole {twice} stands twice");
            r.error(NOT_ROUND_HOLES, item.span, message, "name each hole of the card once");
            return None;
        }
        holes.extend(found);
    }
    if holes.is_empty() {
        r.error(NOT_ROUND_HOLES, node.span, format!("`{key}` names no hole"), "write `1..18`");
        return None;
    }
    Some(holes)
}

fn number(text: &str) -> Option<u8> {
    text.trim().parse().ok().filter(|hole| (1..=36).contains(hole))
}

fn rules(r: &mut Reader, node: &Node, key: &str) -> Option<Rules> {
    let text = r.raw(node, key)?;
    match Rules::parse(text) {
        Ok(rules) => Some(rules),
        Err(unknown) => {
            let message = format!("`{key}` cannot be {}", quoted(text));
            let (_, advice) = unknown
                .to_string()
                .split_once("; ")
                .map_or((String::new(), String::new()), |(a, b)| (a.to_owned(), b.to_owned()));
            r.error(UNKNOWN_RULES, node.span, message, advice);
            None
        }
    }
}

fn tees(r: &mut Reader, node: &Node, key: &str) -> Option<Tees> {
    if !matches!(node.kind, Kind::Map(_)) {
        let tee = r.text(node, key)?;
        return Some(Tees { men: Some(tee.clone()), women: Some(tee), by_category: Vec::new() });
    }
    let mut tees = Tees::default();
    for entry in r.entries(node, "`tees`")? {
        let Some(tee) = r.text(&entry.value, &entry.key) else { continue };
        match entry.key.as_str() {
            "men" => tees.men = Some(tee),
            "women" => tees.women = Some(tee),
            category => tees.by_category.push((category.to_owned(), tee)),
        }
    }
    Some(tees)
}

fn award(r: &mut Reader, node: &Node) -> Option<Award> {
    let fields = r.fields(node, "an award", AWARD_KEYS)?;
    let name = fields.need(r, "name", "name: nearest the hole", Reader::text);
    let hole = fields.read(r, "hole", |r, n, k| r.small(n, k, HOLE));
    let winner = fields.read(r, "id", id);
    let measure = fields.read(r, "measure", Reader::text);
    Some(Award { name: name?, hole, id: winner, measure, span: fields.span })
}
