//! Rings from ways that were drawn piece by piece.

use crate::ground::{Flat, LonLat, Polygon};
use crate::survey::element::{Patch, Ring, ring};
use crate::units::length::METRES_PER_YARD;
use std::collections::HashMap;

/// A ring open by no more than this is closed, metres (open-formats 1.6).
pub const CLOSABLE_M: f64 = 5.0;

/// A ring whose ends did not meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unclosed {
    /// It was closed.
    Closed {
        /// How far its ends stood apart.
        gap_m: f64,
    },
    /// It was left out.
    Left {
        /// How far its ends stand apart.
        gap_m: f64,
    },
}

/// How far the ends of a line stand apart, metres.
pub fn gap_m(line: &[LonLat]) -> f64 {
    let (Some(first), Some(last)) = (line.first(), line.last()) else { return f64::INFINITY };
    let flat = Flat::about(*first);
    flat.point(*first).distance(flat.point(*last)) * METRES_PER_YARD
}

/// Joins lines at equal ends into rings.
pub fn assemble(lines: Vec<Vec<LonLat>>) -> (Vec<Ring>, Vec<Unclosed>) {
    let (mut rings, mut problems) = (Vec::new(), Vec::new());
    let mut ends: HashMap<(i64, i64), Vec<usize>> = HashMap::new();
    let mut free: Vec<Option<Vec<LonLat>>> = Vec::with_capacity(lines.len());
    for line in lines {
        let (Some(first), Some(last)) = (line.first(), line.last()) else { continue };
        if first.key() == last.key() {
            rings.push(ring(line));
            continue;
        }
        for end in [first, last] {
            ends.entry(end.key()).or_default().push(free.len());
        }
        free.push(Some(line));
    }
    for start in 0..free.len() {
        let Some(mut line) = free.get_mut(start).and_then(Option::take) else { continue };
        while let (Some(first), Some(last)) = (line.first().copied(), line.last().copied()) {
            if first.key() == last.key() {
                break;
            }
            let next = ends
                .get(&last.key())
                .and_then(|list| list.iter().copied().find(|index| free.get(*index).is_some_and(Option::is_some)));
            let Some(mut piece) = next.and_then(|index| free.get_mut(index)).and_then(Option::take) else { break };
            if piece.first().map(|p| p.key()) != Some(last.key()) {
                piece.reverse();
            }
            line.extend(piece.into_iter().skip(1));
        }
        let gap = gap_m(&line);
        if gap > CLOSABLE_M {
            problems.push(Unclosed::Left { gap_m: gap });
            continue;
        }
        if line.first().map(|p| p.key()) != line.last().map(|p| p.key()) {
            problems.push(Unclosed::Closed { gap_m: gap });
        }
        rings.push(ring(line));
    }
    rings.retain(|ring| ring.len() >= 3);
    (rings, problems)
}

/// Gives every inner ring to the outer ring that holds it.
pub fn nest(outer: Vec<Ring>, inner: Vec<Ring>) -> Vec<Patch> {
    let mut patches: Vec<Patch> = outer.into_iter().map(|outer| Patch { outer, inner: Vec::new() }).collect();
    let Some(origin) = patches.first().and_then(|p| p.outer.first()).copied() else { return patches };
    let flat = Flat::about(origin);
    let plane = |ring: &Ring| Polygon::simple(ring.iter().map(|p| flat.point(*p)).collect());
    let shapes: Vec<Polygon> = patches.iter().map(|p| plane(&p.outer)).collect();
    for ring in inner {
        let middle = plane(&ring).middle();
        let home = shapes.iter().position(|shape| shape.contains(middle)).unwrap_or(0);
        if let Some(patch) = patches.get_mut(home) {
            patch.inner.push(ring);
        }
    }
    patches
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(x: f64, y: f64) -> LonLat {
        LonLat::new(x * 1e-3, y * 1e-3)
    }

    #[test]
    fn pieces_in_any_direction_make_one_ring() {
        let pieces = vec![
            vec![at(0.0, 0.0), at(1.0, 0.0)],
            vec![at(0.0, 1.0), at(1.0, 1.0), at(1.0, 0.0)],
            vec![at(0.0, 1.0), at(0.0, 0.0)],
        ];
        let (rings, problems) = assemble(pieces);
        assert_eq!(rings.iter().map(Vec::len).collect::<Vec<_>>(), [4]);
        assert!(problems.is_empty());
    }

    #[test]
    fn a_small_gap_is_closed_and_a_large_one_is_not() {
        let small = vec![at(0.0, 0.0), at(1.0, 0.0), at(1.0, 1.0), at(0.0, 0.02)];
        let (rings, problems) = assemble(vec![small]);
        assert_eq!(rings.len(), 1);
        assert!(
            matches!(problems.as_slice(), [Unclosed::Closed { gap_m }] if (gap_m - 2.2).abs() < 0.1),
            "{problems:?}"
        );
        let large = vec![at(0.0, 0.0), at(1.0, 0.0), at(1.0, 1.0), at(0.0, 0.2)];
        let (rings, problems) = assemble(vec![large]);
        assert!(rings.is_empty());
        assert!(matches!(problems.as_slice(), [Unclosed::Left { .. }]));
    }
}
