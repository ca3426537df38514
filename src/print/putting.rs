//! A green from above: its outline, depth, today's hole, and in practice its falls.
//!
//! # References
//! Rules of Golf 2023, Interpretation 4.3a/1: an image of a putting green is limited to a scale of 3/8 inch to 5 yards (1:480), in a
//! book or on paper of at most 4¼ by 7 inches; a hole-location sheet of nine or more holes may be larger when each green keeps
//! the scale.

use super::face::width;
use super::hatch::{Ring, ground};
use super::page::{Face, Frame, INCH, Ink, Item, Step, Stroke, circle};
use crate::course::day::{GreenSide, HoleLocation};
use crate::course::{Hole, HoleLocationArea};
use crate::ground::{Point, Polygon, Putting, Surface};
use crate::units::{Length, LengthUnit};

/// The largest scale of a green in competition, points of paper a yard of ground: 3/8 inch to 5 yards.
pub const LIMIT: f64 = 0.375 * INCH as f64 / 5.0;
/// The largest page of a book with greens in competition, points.
pub const LARGEST_PAGE: (f32, f32) = (4.25 * INCH, 7.0 * INCH);
/// Drawn a hair below the limit, so that no rounding of a writer passes it.
const HAIR: f64 = 0.998;
/// Ground shown round a green, yards.
const AROUND: f64 = 4.0;

/// One fall of a green.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fall {
    /// Where it is read.
    pub at: Point,
    /// Per cent.
    pub percent: f64,
    /// The direction it falls to, degrees clockwise from `ahead`.
    pub to_deg: f64,
}

/// A green as it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct GreenDrawing {
    /// `4 Saltpan`.
    pub name: String,
    /// Depth and width in words, today's hole.
    pub facts: Vec<String>,
    /// The outline.
    pub outline: Polygon,
    /// Its middle.
    pub middle: Point,
    /// The direction from which it is come to, of length one.
    pub up: Point,
    /// Bunkers, water and fringe round it.
    pub shapes: Vec<(Surface, Polygon)>,
    /// Today's hole.
    pub pin: Option<Point>,
    /// Its falls; none in the competition edition of a green nobody measured, and none where they are left out.
    pub falls: Vec<Fall>,
    /// Level lines from the front, one every five yards or metres: how far up they lie.
    pub depth_marks: Vec<(f64, String)>,
    /// Scale held to the limit of Interpretation 4.3a/1.
    pub limited: bool,
}

/// Where the hole is cut, in the plane; `None` where it is not known well enough to be drawn.
pub fn pin(green: &Putting, location: &HoleLocation, unit: LengthUnit) -> Point {
    let axis = (green.back_point - green.front_point).unit();
    let side = axis.to_the_right();
    let (on, from_side) = match location {
        HoleLocation::Paced { on, from_side } => (Length::new(*on, unit).as_yards(), *from_side),
        HoleLocation::Areas(areas) => {
            let has = |a: HoleLocationArea| areas.contains(&a);
            let share = if has(HoleLocationArea::Front) {
                1.0 / 6.0
            } else if has(HoleLocationArea::Back) {
                5.0 / 6.0
            } else {
                0.5
            };
            let across = match (has(HoleLocationArea::Left), has(HoleLocationArea::Right)) {
                (true, _) => -green.width / 4.0,
                (_, true) => green.width / 4.0,
                _ => 0.0,
            };
            return green.front_point + axis * (share * green.depth) + side * across;
        }
    };
    let at = green.front_point + axis * on.clamp(0.0, green.depth);
    let Some((paces, which)) = from_side else { return at };
    // In from the edge of the green level with it, whatever the green's outline does there.
    let across: Vec<f64> = row_of(&green.outline, at, axis, side);
    let (left, right) =
        (across.first().copied().unwrap_or(-green.width / 2.0), across.last().copied().unwrap_or(green.width / 2.0));
    let inside = Length::new(paces, unit).as_yards();
    let off = match which {
        GreenSide::Left => left + inside,
        GreenSide::Right => right - inside,
    };
    at + side * off.clamp(left, right)
}

/// Where the level line through `at` crosses an outline, yards to the right, in order.
fn row_of(outline: &Polygon, at: Point, axis: Point, side: Point) -> Vec<f64> {
    let mut out: Vec<f64> = crate::ground::plane::edges(&outline.outer)
        .filter_map(|(a, b)| {
            let (ya, yb) = ((a - at).dot(axis), (b - at).dot(axis));
            ((ya <= 0.0) != (yb <= 0.0)).then(|| {
                let share = ya / (ya - yb);
                let (xa, xb) = ((a - at).dot(side), (b - at).dot(side));
                xa + (xb - xa) * share
            })
        })
        .collect();
    out.sort_by(f64::total_cmp);
    out
}

impl GreenDrawing {
    /// The green of a hole; `None` where none is drawn.
    pub fn new(
        hole: &Hole,
        location: Option<&HoleLocation>,
        course: LengthUnit,
        units: LengthUnit,
        limited: bool,
    ) -> Option<Self> {
        let green = hole.ground.green.as_ref()?;
        let show = |yards: f64| Length::yards(yards).show(units);
        let up = Point::towards(hole.ground.line().last_heading_deg());
        let pin = location.map(|l| pin(green, l, course));
        let mut facts = vec![format!("{} deep, {} wide", show(green.depth), show(green.width))];
        if let (Some(place), Some(_)) = (pin, location) {
            let axis = (green.back_point - green.front_point).unit();
            let on = (place - green.front_point).dot(axis);
            facts.push(format!("hole {} on, {} from the back", show(on), show(green.depth - on)));
        }
        let near = green.outline.bounds();
        let shapes = hole
            .ground
            .features
            .iter()
            .filter(|f| !matches!(f.surface, Surface::Fairway | Surface::Rough | Surface::Tee))
            .flat_map(|f| f.shapes.iter().map(move |s| (f.surface, s.clone())))
            .filter(|(_, shape)| {
                let b = shape.bounds();
                b.left < near.right + AROUND
                    && b.right > near.left - AROUND
                    && b.near < near.far + AROUND
                    && b.far > near.near - AROUND
            })
            .collect();
        let last = hole.ground.line().last_heading_deg();
        let mut falls: Vec<Fall> = Vec::new();
        if let Some(sketch) = &hole.sketch.green {
            let line = hole.ground.line();
            // A clock face: 12 is straight on along the last leg.
            falls.extend(sketch.slopes.iter().map(|(at, across, percent, clock)| Fall {
                at: line.place(*at, *across),
                percent: *percent,
                to_deg: last + clock * 30.0,
            }));
        }
        if let (true, Some((percent, to_deg))) = (falls.is_empty(), green.falls) {
            falls.push(Fall { at: green.middle, percent, to_deg });
        }
        let step = Length::new(5.0, units).as_yards();
        let depth_marks = (1..)
            .map(|n| (f64::from(n) * step, (n * 5).to_string()))
            .take_while(|(yards, _)| *yards < green.depth - 1.0)
            .collect();
        Some(Self {
            name: format!("{} {}", hole.number, hole.name.clone().unwrap_or_default()).trim_end().to_owned(),
            facts,
            outline: green.outline.clone(),
            middle: green.middle,
            up,
            shapes,
            pin,
            falls,
            depth_marks,
            limited,
        })
    }

    /// Draws it into a frame; gives the points of paper a yard that it came to.
    pub fn draw(&self, frame: &Frame) -> (Vec<Item>, f64) {
        let right = self.up.to_the_right();
        let lie = |p: Point| ((p - self.middle).dot(right), (p - self.middle).dot(self.up));
        let spread = |axis: fn((f64, f64)) -> f64| {
            let values = self.outline.outer.iter().map(|p| axis(lie(*p)));
            let low = values.clone().fold(f64::INFINITY, f64::min);
            let high = values.fold(f64::NEG_INFINITY, f64::max);
            (low, high)
        };
        let ((left, far_right), (near, far)) = (spread(|p| p.0), spread(|p| p.1));
        let fit = (f64::from(frame.w) / (far_right - left + 2.0 * AROUND))
            .min(f64::from(frame.h) / (far - near + 2.0 * AROUND));
        let scale = if self.limited { fit.min(LIMIT * HAIR) } else { fit };
        let (cx, cy) = (f64::from(frame.x + frame.w / 2.0), f64::from(frame.y + frame.h / 2.0));
        let (mu, mv) = ((left + far_right) / 2.0, (near + far) / 2.0);
        let page = |p: Point| {
            let (u, v) = lie(p);
            ((cx + (u - mu) * scale) as f32, (cy - (v - mv) * scale) as f32)
        };
        let rings = |polygon: &Polygon| -> Vec<Ring> {
            polygon.rings().map(|r| r.iter().map(|p| page(*p)).collect()).collect()
        };
        let mut items = Vec::new();
        let mut shapes: Vec<&(Surface, Polygon)> = self.shapes.iter().collect();
        shapes.sort_by_key(|s| std::cmp::Reverse(s.0));
        for (surface, polygon) in shapes.iter().filter(|s| s.0 > Surface::Green) {
            items.extend(ground(*surface, &rings(polygon), frame));
        }
        let outline = rings(&self.outline);
        items.extend(ground(Surface::Green, &outline, frame));
        for (surface, polygon) in shapes.iter().filter(|s| s.0 < Surface::Green) {
            items.extend(ground(*surface, &rings(polygon), frame));
        }
        let mut over = Vec::new();
        for (up, words) in &self.depth_marks {
            let y = (cy - (near + up - mv) * scale) as f32;
            for (from, to) in super::hatch::row(&outline, y) {
                items.push(Item::rule((from, y), (to, y), Stroke::dashed(Ink(120, 140, 110), 0.4, 1.0, 1.6)));
                over.push(Item::Text {
                    x: to - width(Face::Regular, 6.0, words) - 2.5,
                    y: y - 1.0,
                    size: 6.0,
                    face: Face::Regular,
                    ink: Ink::SOFT,
                    words: words.clone(),
                });
            }
        }
        for fall in &self.falls {
            over.extend(arrow(page(fall.at), fall, self.up, scale));
        }
        if let Some(pin) = self.pin {
            let (x, y) = page(pin);
            over.push(Item::rule((x, y), (x, y - 11.0), Stroke::solid(Ink::BLACK, 0.7)));
            let cloth =
                vec![Step::Move(x, y - 11.0), Step::Line(x + 5.5, y - 9.0), Step::Line(x, y - 7.0), Step::Close];
            over.push(Item::fill(cloth, Ink::BLACK));
            over.push(Item::shape(circle(x, y, 1.3), Ink::BLACK, Stroke::solid(Ink::WHITE, 0.4)));
        }
        items.extend(over);
        (vec![Item::Clip { frame: *frame, items }], scale)
    }
}

/// An arrow down the fall with its per cent.
fn arrow(at: (f32, f32), fall: &Fall, up: Point, scale: f64) -> Vec<Item> {
    let turn = (fall.to_deg - up.degrees()).to_radians() as f32;
    let (dx, dy) = (turn.sin(), -turn.cos());
    let long = (4.5 * scale).clamp(12.0, 26.0) as f32;
    let (tip, tail) =
        ((at.0 + dx * long / 2.0, at.1 + dy * long / 2.0), (at.0 - dx * long / 2.0, at.1 - dy * long / 2.0));
    let head = vec![
        Step::Move(tip.0, tip.1),
        Step::Line(tip.0 - 4.5 * dx + 2.0 * dy, tip.1 - 4.5 * dy - 2.0 * dx),
        Step::Line(tip.0 - 4.5 * dx - 2.0 * dy, tip.1 - 4.5 * dy + 2.0 * dx),
        Step::Close,
    ];
    let words = format!("{:.1} %", fall.percent);
    let wide = width(Face::Regular, 6.0, &words);
    vec![
        Item::rule(tail, (tip.0 - 3.0 * dx, tip.1 - 3.0 * dy), Stroke::solid(Ink::BLACK, 0.9)),
        Item::fill(head, Ink::BLACK),
        Item::Text {
            x: tail.0 - wide / 2.0 - dx * 4.0,
            y: tail.1 + 2.0 - dy * 5.0,
            size: 6.0,
            face: Face::Regular,
            ink: Ink::BLACK,
            words,
        },
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_limit_is_three_eighths_of_an_inch_to_five_yards() {
        // Interpretation 4.3a/1: 1:480. Five yards are 180 inches.
        assert!((180.0 / 0.375 - 480.0f64).abs() < 1e-9);
        let yards_on_paper = LIMIT / f64::from(INCH) / 36.0;
        assert!((1.0 / yards_on_paper - 480.0).abs() < 1e-4);
    }
}
