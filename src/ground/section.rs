//! A straight cut through the ground: what lies to the left and right of a place.
//!
//! Fairway widths, the readings of a stand and the drawing of a hole are all made of such cuts along the normals of
//! the line, so they agree with each other and with the shapes.

use super::find::TEE_ROUND;
use super::hole::Ground;
use super::plane::{Bounds, Point, edges};
use super::surface::Surface;

/// A stretch of a cut, yards from the place of the cut, positive to the right; its ends belong to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Its left end.
    pub left: f64,
    /// Its right end.
    pub right: f64,
    /// What lies there.
    pub surface: Surface,
    /// Which feature, by index; none for the green and the tees.
    pub feature: Option<usize>,
}

/// A shape made ready for cutting.
#[derive(Clone, Debug)]
struct Ready {
    surface: Surface,
    feature: Option<usize>,
    bounds: Bounds,
    /// Edges of the outer ring, then those of the inner ones.
    outer: Vec<(Point, Point)>,
    inner: Vec<Vec<(Point, Point)>>,
}

/// All shapes of a hole made ready for cutting, the one that wins first.
#[derive(Clone, Debug)]
pub struct Knife {
    shapes: Vec<Ready>,
    tees: Vec<Point>,
    /// How many shapes win over a tee.
    over_tees: usize,
}

impl Knife {
    /// Ready to cut this ground.
    pub fn new(ground: &Ground) -> Self {
        let shapes: Vec<Ready> = ground
            .painted()
            .iter()
            .map(|painted| Ready {
                surface: painted.surface,
                feature: painted.feature,
                bounds: painted.bounds,
                outer: edges(&painted.shape.outer).collect(),
                inner: painted.shape.inner.iter().map(|ring| edges(ring).collect()).collect(),
            })
            .collect();
        Self {
            over_tees: shapes.partition_point(|shape| shape.surface <= Surface::Tee),
            shapes,
            tees: ground.tees.iter().map(|tee| tee.point).collect(),
        }
    }

    /// Cuts through `place` along `right` (of length one) from `left_end` to `right_end` yards. What wins comes first;
    /// the spans overlap where shapes do.
    pub fn cut(&self, place: Point, right: Point, ends: (f64, f64), spans: &mut Vec<Span>) {
        spans.clear();
        let around = Bounds::around([place + right * ends.0, place + right * ends.1]);
        let mut marks = Vec::new();
        for (index, shape) in self.shapes.iter().enumerate() {
            if index == self.over_tees {
                self.cut_tees(place, right, ends, spans);
            }
            if around.meets(&shape.bounds) {
                shape.cut(place, right, ends, &mut marks, spans);
            }
        }
        if self.over_tees >= self.shapes.len() {
            self.cut_tees(place, right, ends, spans);
        }
    }

    fn cut_tees(&self, place: Point, right: Point, ends: (f64, f64), spans: &mut Vec<Span>) {
        for tee in &self.tees {
            let away = *tee - place;
            let (middle, beside) = (away.dot(right), right.turn_to(away));
            let square = TEE_ROUND * TEE_ROUND - beside * beside;
            if square >= 0.0 {
                let half = square.sqrt();
                push(spans, middle - half, middle + half, ends, Surface::Tee, None);
            }
        }
    }
}

impl Ready {
    fn cut(&self, place: Point, right: Point, ends: (f64, f64), marks: &mut Vec<(f64, i32)>, spans: &mut Vec<Span>) {
        mark(&self.outer, place, right, marks);
        if self.inner.is_empty() {
            stretches(marks, |from, to| push(spans, from, to, ends, self.surface, self.feature));
            return;
        }
        let mut pieces = Vec::new();
        stretches(marks, |from, to| pieces.push((from, to)));
        for ring in &self.inner {
            mark(ring, place, right, marks);
            stretches(marks, |from, to| cut_out(&mut pieces, from, to));
        }
        for (from, to) in pieces {
            push(spans, from, to, ends, self.surface, self.feature);
        }
    }
}

/// Takes `from`..`to` out of sorted pieces.
pub fn cut_out(pieces: &mut Vec<(f64, f64)>, from: f64, to: f64) {
    if from >= to {
        return;
    }
    let mut kept = Vec::with_capacity(pieces.len() + 1);
    for &(start, end) in pieces.iter() {
        if to <= start || from >= end {
            kept.push((start, end));
            continue;
        }
        if start < from {
            kept.push((start, from));
        }
        if to < end {
            kept.push((to, end));
        }
    }
    *pieces = kept;
}

fn push(spans: &mut Vec<Span>, left: f64, right: f64, ends: (f64, f64), surface: Surface, feature: Option<usize>) {
    let (left, right) = (left.max(ends.0), right.min(ends.1));
    if left <= right {
        spans.push(Span { left, right, surface, feature });
    }
}

/// Where edges meet the cut, sorted. An edge counts at its nearer end and not at its farther one, as everywhere.
fn mark(edges: &[(Point, Point)], place: Point, right: Point, marks: &mut Vec<(f64, i32)>) {
    marks.clear();
    let ahead = Point::new(-right.ahead, right.right);
    for &(from, to) in edges {
        let (a, b) = (from - place, to - place);
        let (u, v) = (level(a.dot(ahead)), level(b.dot(ahead)));
        if (u <= 0.0) == (v <= 0.0) {
            continue;
        }
        let (low, high, near, far, way) = if u <= 0.0 { (u, v, a, b, 1) } else { (v, u, b, a, -1) };
        let (start, end) = (near.dot(right), far.dot(right));
        let share = (0.0 - low) / (high - low);
        marks.push((start + share * (end - start), way));
    }
    marks.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
}

/// An edge drawn at the very place of the cut lies on it, whatever the last digits of its points say.
fn level(ahead: f64) -> f64 {
    if ahead.abs() < 1e-9 { 0.0 } else { ahead }
}

fn stretches(marks: &[(f64, i32)], mut found: impl FnMut(f64, f64)) {
    let (mut winding, mut from) = (0, 0.0);
    for &(at, way) in marks {
        if winding == 0 {
            from = at;
        }
        winding += way;
        if winding == 0 && from < at {
            found(from, at);
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::ground::saltpan::{bare, feature};
    use crate::ground::{Polygon, Raster};
    use proptest::prelude::*;

    /// A star-shaped ring about a place.
    fn ring(about: Point, reach: &[f64]) -> Vec<Point> {
        let turn = 360.0 / reach.len() as f64;
        reach.iter().enumerate().map(|(i, r)| about + Point::towards(turn * i as f64) * *r).collect()
    }

    prop_compose! {
        /// Surveyed ground: polygons with an island in them.
        fn surveyed()(
            right in -40.0..40.0f64, ahead in 20.0..200.0f64,
            reach in prop::collection::vec(10.0..40.0f64, 3..12),
            island in prop::collection::vec(1.0..8.0f64, 3..8),
            whole in any::<bool>(),
        ) -> Polygon {
            let about = if whole { Point::new(right.round(), ahead.round()) } else { Point::new(right, ahead) };
            Polygon { outer: ring(about, &reach), inner: vec![ring(about, &island)] }
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]

        #[test]
        fn cuts_and_cells_find_islands_as_the_exact_shapes_do(
            lake in surveyed(), wood in surveyed(), ahead in 0.0..220.0f64, turned in -180.0..180.0f64,
        ) {
            let mut ground = bare(230.0, &[], 0.0, 0.0);
            ground.features = vec![
                feature("lake", Surface::PenaltyRed, vec![lake]),
                feature("wood", Surface::Trees, vec![wood]),
            ];
            let (place, right) = (Point::new(0.0, ahead), Point::towards(turned));
            let mut spans = Vec::new();
            Knife::new(&ground).cut(place, right, (-90.0, 90.0), &mut spans);
            for i in -178..179 {
                let at = f64::from(i) / 2.0;
                let point = place + right * at;
                for (index, feature) in ground.features.iter().enumerate() {
                    let found = spans.iter().any(|s| s.feature == Some(index) && s.left <= at && at <= s.right);
                    if feature.distance(point).abs() > 1e-6 {
                        prop_assert_eq!(found, feature.contains(point), "{:?}", point);
                    }
                }
            }
            for cells in [1, 2] {
                let raster = Raster::with_cells(&ground, cells);
                for index in (0..raster.bytes().len()).step_by(5) {
                    let middle = raster.middle(index);
                    prop_assert_eq!(raster.surface(middle), ground.surface_at(middle), "{:?}", middle);
                    prop_assert_eq!(raster.feature(middle), ground.feature_at(middle), "{:?}", middle);
                }
            }
        }
    }
}
