//! What the holes of a notebook must be together: numbers in sequence, stroke indexes complete.

use super::hole::Holes;
use crate::course::codes::{HOLE_COUNT, HOLE_MISSING, INDEX_MISSING, INDEX_RANGE, INDEX_TWICE};
use crate::course::decode::{Reader, joined};
use crate::course::model::Card;
use crate::notebook::Span;

/// Hole numbers run from 1 without a gap; other counts than 9 and 18 are allowed and said so.
pub fn sequence(r: &mut Reader, holes: &Holes) {
    // A hole whose number cannot be read may be the one that seems to be missing.
    if holes.unnumbered > 0 {
        return;
    }
    let Some(last) = (1..=u8::MAX).rev().find(|n| holes.is_written(*n)) else { return };
    let missing: Vec<u8> = (1..=last).filter(|n| !holes.is_written(*n)).collect();
    let after = missing.last().and_then(|gap| holes.read.iter().find(|h| h.hole.number > *gap)).or(holes.read.last());
    let (span, after) = after.map_or((Span::default(), last), |h| (h.number_span, h.hole.number));
    let shown: Vec<String> = missing.iter().take(8).map(u8::to_string).collect();
    if missing.len() == 1 {
        let message = format!("hole {} is missing before hole {after}", shown.concat());
        r.error(HOLE_MISSING, span, message, "write it, even if only with par, stroke index and tees");
    } else if !missing.is_empty() {
        let list =
            if missing.len() > shown.len() { format!("{} and more", shown.join(", ")) } else { joined(&shown, "and") };
        let message = format!("holes {list} are missing before hole {after}");
        r.error(HOLE_MISSING, span, message, "write them, even if only with par, stroke index and tees");
    } else if last != 9 && last != 18 {
        let holes = if last == 1 { "1 hole".to_owned() } else { format!("{last} holes") };
        let message = format!("this notebook has {holes}");
        r.warning(HOLE_COUNT, span, message, "stroke indexes are asked to be complete for 9 and for 18 holes only");
    }
}

/// Stroke indexes of one card: of 9 or 18 holes each from 1 once.
pub fn stroke_indexes(r: &mut Reader, holes: &Holes, card: Card) {
    let count = holes.count();
    let given: Vec<(u8, Span, u8)> =
        holes.read.iter().filter_map(|h| Some((h.hole.stroke_index.on(card)?, h.index_span?, h.hole.number))).collect();
    if given.is_empty() || !(count == 9 || count == 18) {
        return;
    }
    // The same list for both cards is one mistake, reported once.
    let same = Card::Women == card && holes.read.iter().all(|h| h.hole.stroke_index.men == h.hole.stroke_index.women);
    if same {
        return;
    }
    let one_list = holes.read.iter().all(|h| h.hole.stroke_index.men == h.hole.stroke_index.women);
    let whose = if one_list { "the card".to_owned() } else { format!("the {} card", card.whose()) };
    let mut sound = holes.read.len() == count && holes.read.iter().all(|h| h.index_sound);
    let mut seen: Vec<(u8, u8)> = Vec::new();
    for (index, span, number) in &given {
        if usize::from(*index) > count {
            let message = format!("hole {number}: there is no stroke index {index} on {count} holes");
            let advice = if count == 9 {
                "nine holes have 1 to 9; the eighteen of twice round stand under `circuits`".to_owned()
            } else {
                format!("stroke indexes run from 1 to {count}")
            };
            r.error(INDEX_RANGE, *span, message, advice);
            sound = false;
        } else if let Some((_, first)) = seen.iter().find(|(known, _)| known == index) {
            let message = format!("stroke index {index} stands on hole {first} and on hole {number} of {whose}");
            let advice = unused(&given.iter().map(|(i, ..)| *i).collect::<Vec<_>>(), count);
            r.error(INDEX_TWICE, *span, message, advice);
            sound = false;
        } else {
            seen.push((*index, *number));
        }
    }
    let missing: Vec<String> = left_out(&seen.iter().map(|(i, _)| *i).collect::<Vec<_>>(), count);
    if sound && !missing.is_empty() {
        let bare = holes.read.iter().find(|h| h.hole.stroke_index.on(card).is_none());
        let (span, number) = bare.map_or((Span::default(), 0), |h| (h.number_span, h.hole.number));
        let message = format!("no hole has stroke index {} on {whose}", joined(&missing, "or"));
        r.error(INDEX_MISSING, span, message, format!("hole {number} has no stroke index on that card"));
    }
}

/// Reports what keeps a list of stroke indexes from being each of 1 to `count` once.
pub fn permutation(r: &mut Reader, list: &[(u8, Span)], count: usize, whose: &str) {
    let all: Vec<u8> = list.iter().map(|(index, _)| *index).collect();
    let mut seen: Vec<u8> = Vec::new();
    for (index, span) in list {
        if seen.contains(index) {
            let message = format!("stroke index {index} stands twice on {whose}");
            r.error(INDEX_TWICE, *span, message, unused(&all, count));
        }
        seen.push(*index);
    }
}

fn left_out(used: &[u8], count: usize) -> Vec<String> {
    (1..=count).filter(|n| !used.iter().any(|u| usize::from(*u) == *n)).map(|n| n.to_string()).collect()
}

fn unused(used: &[u8], count: usize) -> String {
    match left_out(used, count).as_slice() {
        [] => "each stroke index stands once".to_owned(),
        [one] => format!("{one} is not used yet"),
        many => format!("{} are not used yet", joined(many, "and")),
    }
}
