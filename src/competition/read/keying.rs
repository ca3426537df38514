//! A keying: `cards/ID/KEYER.yaml`.

use super::super::codes::{NOT_A_SCORE, TOO_MANY_SCORES};
use super::super::values::Keying;
use super::setup::yes_no;
use super::{file, id, moment};
use crate::course::decode::{Bounds, FileKind, Reader, quoted};
use crate::notebook::{Diagnostic, Node, Span};
use crate::scoring::HoleScore;

const KEYS: &[&str] = &["format", "id", "keyer", "at", "round", "scores", "written_total", "certified", "mended_by"];
const CERTIFIED_KEYS: &[&str] = &["marker", "player"];
const TOTAL: Bounds = Bounds::new("a total on a card", 1.0, 2000.0);
const ROUND: Bounds = Bounds::new("a round", 1.0, 50.0);

/// Reads a keying; `name` is its file, for messages. `holes` gives how many holes a round has, counted from 0.
pub fn read_keying(
    text: &str,
    name: &str,
    holes: impl Fn(usize) -> Option<usize>,
) -> (Option<Keying>, Vec<Diagnostic>) {
    file(text, FileKind::Keying, |r, root| keying(r, root, name, holes))
}

fn keying(r: &mut Reader, root: &Node, name: &str, holes: impl Fn(usize) -> Option<usize>) -> Option<Keying> {
    let fields = r.fields(root, "the keying", KEYS)?;
    let card = fields.need(r, "id", "id: M0142", id);
    let keyer = fields.need(r, "keyer", "keyer: Wren", Reader::text);
    let at = fields.read(r, "at", moment);
    let round = fields.read(r, "round", |r, n, k| r.small(n, k, ROUND)).map_or(0, |round| usize::from(round) - 1);
    let scores = match fields.get("scores") {
        // A card that came in and is not yet keyed has nothing here.
        Some(node) if node.text().is_some_and(|text| text.trim().is_empty()) => Some(Vec::new()),
        _ => fields.need(r, "scores", "scores: \"5 4 x . 3\"", scores),
    };
    let written_total = fields.read(r, "written_total", |r, n, k| r.whole(n, k, TOTAL));
    let certified = fields.read(r, "certified", |r, n, _| {
        let fields = r.fields(n, "`certified`", CERTIFIED_KEYS)?;
        Some((fields.read(r, "marker", yes_no), fields.read(r, "player", yes_no)))
    });
    let mended_by = fields.read(r, "mended_by", Reader::text);
    let scores = scores?;
    if let (Some(most), Some(node)) = (holes(round), fields.get("scores"))
        && scores.len() > most
    {
        let message = format!("{} scores, and the round has {most} holes", scores.len());
        r.error(TOO_MANY_SCORES, node.span, message, "write one score for each hole of the round");
        return None;
    }
    if r.errors() > 0 {
        return None;
    }
    let (marker, player) = certified.unwrap_or_default();
    Some(Keying {
        file: name.to_owned(),
        id: card?,
        keyer: keyer?,
        at,
        round,
        scores,
        written_total: written_total.and_then(|total| u16::try_from(total).ok()),
        marker,
        player,
        mended_by,
        copy: false,
    })
}

/// `5 4 x . 3`: one word a hole; `_` is a hole passed over for now.
fn scores(r: &mut Reader, node: &Node, key: &str) -> Option<Vec<HoleScore>> {
    let text = r.raw(node, key)?;
    let mut scores = Vec::new();
    let mut fine = true;
    for word in text.split_whitespace() {
        match word {
            "_" => scores.push(HoleScore::Empty),
            _ => match HoleScore::parse(word) {
                Ok(score) => scores.push(score),
                Err(_) => {
                    let message = format!("{} on hole {} of the card is no score", quoted(word), scores.len() + 1);
                    r.error(NOT_A_SCORE, place(node, word, scores.len()), message, SCORE_ADVICE);
                    scores.push(HoleScore::Empty);
                    fine = false;
                }
            },
        }
    }
    fine.then_some(scores)
}

pub(super) const SCORE_ADVICE: &str = "write strokes from 1 to 50, x for picked up, . for not played";

// Words of a quoted text lie one after the other behind the quote; the whole text serves where it is folded.
fn place(node: &Node, word: &str, _at: usize) -> Span {
    let Some(text) = node.text() else { return node.span };
    let offset = text.find(word).unwrap_or(0);
    let lead = (node.span.end - node.span.start).saturating_sub(text.len()) / 2;
    let start = node.span.start + lead + offset;
    if start + word.len() <= node.span.end { Span::new(start, start + word.len()) } else { node.span }
}
