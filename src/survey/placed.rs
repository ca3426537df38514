//! Elements laid into one plane, each with its kind; doubles left out.

use super::element::{Discarded, Element, Map, Shape};
use super::kind::{Kind, kind_of};
use crate::ground::plane::Bounds;
use crate::ground::{Flat, LonLat, Point, Polygon};
use std::collections::HashMap;
use std::collections::hash_map::Entry;

/// Where an element lies in the plane.
#[derive(Clone, Debug, PartialEq)]
pub enum Lies {
    /// At a place.
    Point(Point),
    /// Along a line.
    Line(Vec<Point>),
    /// On surfaces.
    Area(Vec<Polygon>),
}

/// An element in the plane.
#[derive(Clone, Debug)]
pub struct Placed {
    /// Which element of the map, by index.
    pub element: usize,
    /// What it is.
    pub kind: Kind,
    /// Where it lies.
    pub lies: Lies,
    /// The rectangle round it.
    pub bounds: Bounds,
    /// Its middle.
    pub middle: Point,
}

impl Placed {
    /// Lays an element into a plane.
    pub fn new(index: usize, element: &Element, flat: &Flat) -> Self {
        let line = |positions: &[LonLat]| positions.iter().map(|p| flat.point(*p)).collect::<Vec<_>>();
        let (lies, middle) = match &element.shape {
            Shape::Point(position) => {
                let point = flat.point(*position);
                (Lies::Point(point), point)
            }
            Shape::Line(positions) => {
                let points = line(positions);
                let middle = halfway(&points);
                (Lies::Line(points), middle)
            }
            Shape::Area(patches) => {
                let shapes: Vec<Polygon> = patches
                    .iter()
                    .map(|p| Polygon { outer: line(&p.outer), inner: p.inner.iter().map(|r| line(r)).collect() })
                    .collect();
                let middle = middle(&shapes);
                (Lies::Area(shapes), middle)
            }
        };
        let bounds = Bounds::around(element.shape.positions().map(|p| flat.point(p)));
        Self { element: index, kind: kind_of(&element.tags), lies, bounds, middle }
    }

    /// Its surfaces; none for a place or a line.
    pub fn shapes(&self) -> &[Polygon] {
        match &self.lies {
            Lies::Area(shapes) => shapes,
            _ => &[],
        }
    }

    /// Whether a point lies on it.
    pub fn holds(&self, point: Point) -> bool {
        self.bounds.holds(point) && self.shapes().iter().any(|s| s.contains(point))
    }

    /// The distance from a point, yards: 0 on it.
    pub fn distance(&self, point: Point) -> f64 {
        match &self.lies {
            Lies::Point(place) => place.distance(point),
            Lies::Line(line) => super::track::Track(line.clone()).beside(point).distance,
            Lies::Area(shapes) => shapes.iter().map(|s| s.distance(point).max(0.0)).fold(f64::INFINITY, f64::min),
        }
    }

    /// Its surface in square yards.
    pub fn area(&self) -> f64 {
        self.shapes().iter().map(Polygon::area).sum()
    }
}

fn halfway(points: &[Point]) -> Point {
    let length: f64 = points.windows(2).map(|p| if let [a, b] = p { a.distance(*b) } else { 0.0 }).sum();
    let mut left = length / 2.0;
    for pair in points.windows(2) {
        let [a, b] = pair else { continue };
        let step = a.distance(*b);
        if step >= left && step > 0.0 {
            return *a + (*b - *a) * (left / step);
        }
        left -= step;
    }
    points.first().copied().unwrap_or_default()
}

/// The middle of several surfaces, by their areas.
fn middle(shapes: &[Polygon]) -> Point {
    let whole: f64 = shapes.iter().map(Polygon::area).sum();
    match shapes {
        [one] => one.middle(),
        _ if whole > 0.0 => shapes.iter().fold(Point::default(), |sum, s| sum + s.middle() * (s.area() / whole)),
        _ => shapes.first().map_or(Point::default(), Polygon::middle),
    }
}

/// Leaves out elements that stand twice: by their id, or by what they are and where they lie.
///
/// One common exporter writes every closed way as a line and as a surface, and most give no ids (open-formats 1.8).
pub fn without_doubles(map: &mut Map) {
    let mut ids: HashMap<String, usize> = HashMap::new();
    let mut places: HashMap<(Kind, Vec<(i64, i64)>), String> = HashMap::new();
    let mut kept: Vec<Element> = Vec::with_capacity(map.elements.len());
    for element in std::mem::take(&mut map.elements) {
        match ids.entry(element.id.clone()) {
            Entry::Occupied(first) => {
                // The form that says more stays: a surface before a line before a place.
                if let Some(other) = kept.get_mut(*first.get())
                    && rank(&element.shape) > rank(&other.shape)
                {
                    *other = element;
                    continue;
                }
                if !element.id.starts_with("feature ") {
                    map.discarded.push(Discarded { id: element.id, why: "it stands twice".to_owned() });
                    continue;
                }
            }
            Entry::Vacant(free) => {
                free.insert(kept.len());
            }
        }
        let mut where_it_lies: Vec<(i64, i64)> = element.shape.positions().map(LonLat::key).collect();
        where_it_lies.sort_unstable();
        where_it_lies.dedup();
        match places.entry((kind_of(&element.tags), where_it_lies)) {
            Entry::Occupied(first) => {
                let why = format!("it is the same as {}", first.get());
                map.discarded.push(Discarded { id: element.id, why });
            }
            Entry::Vacant(free) => {
                free.insert(element.id.clone());
                kept.push(element);
            }
        }
    }
    map.elements = kept;
}

const fn rank(shape: &Shape) -> u8 {
    match shape {
        Shape::Point(_) => 0,
        Shape::Line(_) => 1,
        Shape::Area(_) => 2,
    }
}
