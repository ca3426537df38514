//! Numbers of holes: as the map says, and for the rest the order in which the walk from green to tee is shortest.

use super::element::Map;
use super::hole::Number;
use super::lines::HoleTrack;
use super::placed::Placed;
use super::values::reference;

/// The number of each hole.
pub fn numbers(map: &mut Map, placed: &[Placed], tracks: &[HoleTrack]) -> Vec<Number> {
    let mut known: Vec<Option<u8>> = tracks
        .iter()
        .map(|hole| reference(map.elements.get(placed.get(hole.index)?.element)?.tags.get("ref")?).number)
        .collect();
    one_of_each(map, placed, tracks, &mut known);
    let unknown: Vec<usize> = (0..tracks.len()).filter(|i| known.get(*i) == Some(&None)).collect();
    let mut drafts: Vec<(usize, u8)> = Vec::new();
    if unknown.len() == tracks.len() {
        let order = shortest_walk(&unknown, |from, to| walk(tracks, from, to));
        drafts.extend(order.into_iter().zip(1..));
    } else {
        let mut left = unknown;
        let mut by_number: Vec<(u8, usize)> = known.iter().enumerate().filter_map(|(i, n)| Some(((*n)?, i))).collect();
        let free: Vec<u8> = (1..=99).filter(|n| !by_number.iter().any(|(k, _)| k == n)).take(left.len()).collect();
        for number in free {
            let at = |n: u8| by_number.iter().find(|(k, _)| *k == n).map(|(_, i)| *i);
            let (before, after) = (number.checked_sub(1).and_then(at), at(number + 1));
            let cost = |hole: usize| {
                before.map_or(0.0, |b| walk(tracks, b, hole)) + after.map_or(0.0, |a| walk(tracks, hole, a))
            };
            let Some(best) = left.iter().copied().min_by(|a, b| cost(*a).total_cmp(&cost(*b))) else { break };
            left.retain(|hole| *hole != best);
            by_number.push((number, best));
            drafts.push((best, number));
        }
    }
    let mut numbers: Vec<Number> = known.iter().map(|n| Number::Known(n.unwrap_or_default())).collect();
    drafts.sort_by_key(|(_, draft)| *draft);
    for (nth, (hole, draft)) in drafts.into_iter().enumerate() {
        if let Some(number) = numbers.get_mut(hole) {
            *number = Number::Unknown { nth: nth + 1, draft };
        }
    }
    numbers
}

/// From the green of one hole to the tee of another, yards.
fn walk(tracks: &[HoleTrack], from: usize, to: usize) -> f64 {
    match (tracks.get(from), tracks.get(to)) {
        (Some(from), Some(to)) => from.track.end().distance(to.track.start()),
        _ => f64::INFINITY,
    }
}

/// Of holes with one number only one keeps it: the one to which the walk from the hole before is shortest.
fn one_of_each(map: &mut Map, placed: &[Placed], tracks: &[HoleTrack], known: &mut [Option<u8>]) {
    for number in 1..=36u8 {
        let same: Vec<usize> = (0..known.len()).filter(|i| known.get(*i) == Some(&Some(number))).collect();
        if same.len() < 2 {
            continue;
        }
        let before = known.iter().position(|n| number > 1 && *n == Some(number - 1));
        let cost = |hole: &usize| before.map_or(0.0, |b| walk(tracks, b, *hole));
        let Some(keep) = same.iter().copied().min_by(|a, b| cost(a).total_cmp(&cost(b))) else { continue };
        let id = |hole: usize| {
            let element = tracks.get(hole).and_then(|t| placed.get(t.index)).and_then(|p| map.elements.get(p.element));
            element.map_or_else(String::new, |e| e.id.clone())
        };
        let others: Vec<String> = same.iter().copied().filter(|i| *i != keep).map(id).collect();
        let words = format!(
            "hole {number} is drawn {} times; {} keeps the number, {} has none now",
            same.len(),
            id(keep),
            others.join(" and ")
        );
        map.warn(words);
        for hole in same {
            if hole != keep
                && let Some(n) = known.get_mut(hole)
            {
                *n = None;
            }
        }
    }
}

/// Orders holes so that the walk between them is short: the nearest next from each possible first hole, then stretches of
/// one to three holes moved where that shortens it.
fn shortest_walk(holes: &[usize], walk: impl Fn(usize, usize) -> f64) -> Vec<usize> {
    let length =
        |order: &[usize]| -> f64 { order.windows(2).map(|p| if let [a, b] = p { walk(*a, *b) } else { 0.0 }).sum() };
    let mut best: Vec<usize> = Vec::new();
    for &first in holes {
        let mut order = vec![first];
        let mut left: Vec<usize> = holes.iter().copied().filter(|h| *h != first).collect();
        while let Some(&last) = order.last() {
            let Some(next) = left.iter().copied().min_by(|a, b| walk(last, *a).total_cmp(&walk(last, *b))) else {
                break;
            };
            left.retain(|h| *h != next);
            order.push(next);
        }
        if best.is_empty() || length(&order) < length(&best) {
            best = order;
        }
    }
    loop {
        let mut better: Option<Vec<usize>> = None;
        let now = length(&best);
        for size in 1..=3usize.min(best.len()) {
            for from in 0..=best.len() - size {
                let mut rest = best.clone();
                let moved: Vec<usize> = rest.splice(from..from + size, []).collect();
                for to in 0..=rest.len() {
                    let mut order = rest.clone();
                    order.splice(to..to, moved.iter().copied());
                    if length(&order) < better.as_ref().map_or(now - 1e-6, |b| length(b)) {
                        better = Some(order);
                    }
                }
            }
        }
        match better {
            Some(order) => best = order,
            None => return best,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_walk_is_the_shortest_of_all_on_a_small_course() {
        // Seven holes on a line, drawn in another order; each ends where the next begins.
        let places = [3, 0, 6, 1, 5, 2, 4];
        let walk = |from: usize, to: usize| {
            let end = f64::from(places[from]) + 1.0;
            (f64::from(places[to]) - end).abs()
        };
        let order = shortest_walk(&[0, 1, 2, 3, 4, 5, 6], walk);
        assert_eq!(order.iter().map(|i| places[*i]).collect::<Vec<_>>(), [0, 1, 2, 3, 4, 5, 6]);
    }
}
