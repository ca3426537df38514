//! Heights of the ground of a hole at any point, from the few that are known along its line.

use crate::course::Hole;
use crate::ground::Point;
use crate::units::Along;

/// Side of a cell, yards: heights are noted tens of yards apart.
const CELL: f64 = 8.0;
/// Ground beside the line that is covered, yards.
const BESIDE: f64 = 130.0;

/// Heights over a hole, yards against the start of its line: level across the line, straight between the places that are noted.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Heights {
    corner: Point,
    columns: usize,
    rows: usize,
    up: Vec<f32>,
}

impl Heights {
    /// Lays the heights of a hole; level where none are noted.
    pub fn of(hole: &Hole) -> Self {
        let mut noted = hole.ground.heights.clone();
        if let Some(up) = hole.sketch.green.as_ref().and_then(|g| g.up) {
            noted.retain(|(at, _)| at.0 < hole.ground.length.0 - 1.0);
            noted.push((hole.ground.length, up));
        }
        noted.sort_by(|a, b| a.0.0.total_cmp(&b.0.0));
        let Some((_, first)) = noted.first().copied() else { return Self::default() };
        if noted.iter().all(|(_, up)| (up - first).abs() < 1e-6) {
            return Self::default();
        }
        let line = hole.ground.line();
        let ends = (0..=20).map(|i| line.at(Along(hole.ground.length.0 * f64::from(i) / 20.0)).0);
        let (mut low, mut high) =
            (Point::new(f64::INFINITY, f64::INFINITY), Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY));
        for p in ends {
            low = Point::new(low.right.min(p.right), low.ahead.min(p.ahead));
            high = Point::new(high.right.max(p.right), high.ahead.max(p.ahead));
        }
        // On whole cells from the start of the line, so that a mirrored hole has the mirrored heights.
        let whole = |v: f64| ((v - BESIDE) / CELL).floor() * CELL;
        let corner = Point::new(whole(low.right), whole(low.ahead));
        let count = |from: f64, to: f64| ((to - from) / CELL).ceil().clamp(1.0, 400.0) as usize + 1;
        let (columns, rows) = (count(corner.right, high.right + BESIDE), count(corner.ahead, high.ahead + BESIDE));
        let up = (0..rows)
            .flat_map(|j| (0..columns).map(move |i| (i, j)))
            .map(|(i, j)| {
                let at = Point::new(corner.right + CELL * i as f64, corner.ahead + CELL * j as f64);
                between(&noted, line.locate(at).0.0) as f32
            })
            .collect();
        Self { corner, columns, rows, up }
    }

    /// Whether the hole is level as far as is known.
    pub fn level(&self) -> bool {
        self.up.is_empty()
    }

    /// The height at a point, yards.
    #[inline]
    pub fn at(&self, point: Point) -> f64 {
        if self.up.is_empty() {
            return 0.0;
        }
        let u = ((point.right - self.corner.right) / CELL).clamp(0.0, (self.columns - 1) as f64);
        let v = ((point.ahead - self.corner.ahead) / CELL).clamp(0.0, (self.rows - 1) as f64);
        let (i, j) = ((u as usize).min(self.columns.saturating_sub(2)), (v as usize).min(self.rows.saturating_sub(2)));
        let (f, g) = (u - i as f64, v - j as f64);
        let up = |i: usize, j: usize| f64::from(self.up.get(j * self.columns + i).copied().unwrap_or_default());
        (up(i, j) * (1.0 - f) + up(i + 1, j) * f) * (1.0 - g) + (up(i, j + 1) * (1.0 - f) + up(i + 1, j + 1) * f) * g
    }
}

/// The height at a place along the line, straight between the places that are noted.
fn between(noted: &[(Along, f64)], at: f64) -> f64 {
    let after = noted.partition_point(|(place, _)| place.0 <= at);
    match (after.checked_sub(1).and_then(|i| noted.get(i)), noted.get(after)) {
        (Some((a, low)), Some((b, high))) if b.0 > a.0 => low + (high - low) * (at - a.0) / (b.0 - a.0),
        (Some((_, up)), _) | (None, Some((_, up))) => *up,
        (None, None) => 0.0,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::units::Across;

    #[test]
    fn heights_are_those_that_are_noted_and_straight_between_them() {
        let (course, _) = crate::course::read(include_str!("../../sample-courses/corvane.yaml"));
        let course = course.unwrap();
        for hole in &course.holes {
            let heights = Heights::of(hole);
            let line = hole.ground.line();
            for (at, up) in &hole.ground.heights {
                if (at.0 - hole.ground.length.0).abs() > 20.0 {
                    let got = heights.at(line.place(*at, Across(0.0)));
                    assert!((got - up).abs() < 0.8, "hole {} at {}: {got} against {up}", hole.number, at.0);
                }
            }
        }
    }
}
