//! What lies at a point: the exact answer, from the shapes themselves.

use super::hole::{Feature, Ground};
use super::line::HoleLine;
use super::plane::{Bounds, Point, Polygon};
use super::surface::Surface;
use crate::units::Along;

/// A tee spot is mown this far round the markers, yards.
pub const TEE_ROUND: f64 = 4.0;

impl Ground {
    /// The hole line of this ground.
    pub fn line(&self) -> HoleLine {
        HoleLine::new(&self.bends, self.length)
    }

    /// The kind of ground at `point`: of all shapes there, the first in the order of [`Surface`]; rough where there
    /// is none. Ground within [`TEE_ROUND`] yards of a tee's spot is teeing area.
    pub fn surface_at(&self, point: Point) -> Surface {
        self.found_at(point).0
    }

    /// The feature one stands in, by index: the one whose surface [`Self::surface_at`] gives. `None` on rough that
    /// nobody drew, on the green and on a tee.
    pub fn feature_at(&self, point: Point) -> Option<usize> {
        self.found_at(point).1
    }

    /// The same as [`Self::surface_at`] with one feature turned to rough, whatever lies below it.
    pub fn surface_without(&self, feature: usize, point: Point) -> Surface {
        match self.found_at(point) {
            (_, Some(found)) if found == feature => Surface::Rough,
            (surface, _) => surface,
        }
    }

    fn found_at(&self, point: Point) -> (Surface, Option<usize>) {
        let mut best = (Surface::Rough, None);
        for (index, feature) in self.features.iter().enumerate() {
            // Of two features of one kind the first of the notebook is the one stood in.
            let wins = feature.surface < best.0 || (feature.surface == best.0 && best.1.is_none());
            if wins && feature.contains(point) {
                best = (feature.surface, Some(index));
            }
        }
        if Surface::Green < best.0 && self.green.as_ref().is_some_and(|green| green.outline.contains(point)) {
            best = (Surface::Green, None);
        }
        if Surface::Tee < best.0 && self.tees.iter().any(|tee| tee.point.distance(point) <= TEE_ROUND) {
            best = (Surface::Tee, None);
        }
        best
    }

    /// The height of the line at a place, yards against its start: linear between the heights of the notebook and
    /// level beyond them.
    pub fn height_at(&self, at: Along) -> f64 {
        let after = self.heights.partition_point(|(along, _)| along.0 < at.0);
        let before = after.checked_sub(1).and_then(|index| self.heights.get(index));
        match (before, self.heights.get(after)) {
            (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (at.0 - a.0.0) / (b.0.0 - a.0.0),
            (Some(only), None) | (None, Some(only)) => only.1,
            (None, None) => 0.0,
        }
    }

    /// The hole as seen in a mirror: left and right exchanged everywhere.
    pub fn mirrored(&self) -> Self {
        let mut mirror = self.clone();
        for bend in &mut mirror.bends {
            bend.turn_deg = -bend.turn_deg;
        }
        for tee in &mut mirror.tees {
            tee.across.0 = -tee.across.0;
            tee.point = tee.point.mirrored();
        }
        for feature in &mut mirror.features {
            feature.shapes = feature.shapes.iter().map(Polygon::mirrored).collect();
        }
        if let Some(green) = &mut mirror.green {
            green.middle = green.middle.mirrored();
            green.front_point = green.front_point.mirrored();
            green.back_point = green.back_point.mirrored();
            green.axis_deg = -green.axis_deg;
            green.outline = green.outline.mirrored();
            green.falls = green.falls.map(|(percent, towards)| (percent, -towards));
        }
        mirror
    }

    /// Every shape that is painted, the one that wins first.
    pub(crate) fn painted(&self) -> Vec<Painted<'_>> {
        let features = self.features.iter().enumerate().flat_map(|(index, feature)| {
            feature.shapes.iter().map(move |shape| Painted {
                surface: feature.surface,
                feature: Some(index),
                bounds: shape.bounds(),
                shape,
            })
        });
        let green = self.green.iter().map(|green| Painted {
            surface: Surface::Green,
            feature: None,
            bounds: green.outline.bounds(),
            shape: &green.outline,
        });
        let mut all: Vec<Painted<'_>> = features.chain(green).collect();
        all.sort_by_key(|painted| (painted.surface, painted.feature.is_none(), painted.feature));
        all
    }
}

/// One polygon of the ground with what it is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Painted<'a> {
    pub surface: Surface,
    pub feature: Option<usize>,
    pub bounds: Bounds,
    pub shape: &'a Polygon,
}

impl Feature {
    /// Whether `point` lies in one of its shapes, whatever lies over it.
    pub fn contains(&self, point: Point) -> bool {
        self.shapes.iter().any(|shape| shape.contains(point))
    }

    /// The rectangle round all its shapes.
    pub fn bounds(&self) -> Bounds {
        Bounds::around(self.shapes.iter().flat_map(|shape| shape.outer.iter().copied()))
    }

    /// The distance from `point` to its edge, yards; negative inside, infinite when it has no shape.
    pub fn distance(&self, point: Point) -> f64 {
        let least = |found: f64, next: f64| found.min(next);
        self.shapes.iter().map(|shape| shape.distance(point)).fold(f64::INFINITY, least)
    }

    /// The point of its edge nearest to `point`; `None` when it has no shape.
    pub fn nearest_edge(&self, point: Point) -> Option<Point> {
        self.shapes
            .iter()
            .filter_map(|shape| shape.nearest_edge(point))
            .min_by(|a, b| a.distance(point).total_cmp(&b.distance(point)))
    }

    /// Its area, square yards; shapes that overlap are counted twice.
    pub fn area(&self) -> f64 {
        self.shapes.iter().map(Polygon::area).sum()
    }
}
