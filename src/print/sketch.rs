//! A hole's drawing set into a frame of the page: one scale both ways, the tee below, the green above.

use super::drawing::{Drawing, Shape};
use super::face::width;
use super::hatch::{Ring, ground, row};
use super::page::{Face, Frame, Ink, Item, Step, Stroke, circle};
use crate::ground::{Point, Polygon, Surface};

/// Yards that are shown behind the tee and past the green.
const BEHIND: f64 = 9.0;
const PAST: f64 = 10.0;
/// Ground that is shown across at least, yards.
const ACROSS: f64 = 66.0;
/// No drawing is larger than this, points a yard: a short hole does not become a poster.
const LARGEST: f64 = 2.2;
const FIGURES: f32 = 6.0;

/// A drawing in its frame.
pub struct Sketch {
    /// What is drawn.
    pub items: Vec<Item>,
    /// Points of the page a yard.
    pub scale: f64,
}

/// How the plane lies on the page.
struct Fit {
    tee: Point,
    up: Point,
    right: Point,
    scale: f64,
    x: f64,
    y: f64,
}

impl Fit {
    fn new(drawing: &Drawing, frame: &Frame) -> Self {
        let up = drawing.up();
        let right = up.to_the_right();
        let lie = |p: Point| ((p - drawing.tee).dot(right), (p - drawing.tee).dot(up));
        let green = drawing.green.iter().flat_map(|g| g.outer.iter().copied());
        let top = green.clone().map(|p| lie(p).1).fold(lie(drawing.middle).1, f64::max) + PAST;
        let mut sides: Vec<f64> = green.map(|p| lie(p).0).collect();
        sides.extend(drawing.line.iter().chain(&drawing.steady).chain(&drawing.bold).flat_map(|p| {
            let u = lie(*p).0;
            [u - 12.0, u + 12.0]
        }));
        let near = |s: &&Shape| matches!(s.surface, Surface::Fairway | Surface::Bunker);
        for point in drawing.shapes.iter().filter(near).flat_map(|s| &s.polygons).flat_map(|p| &p.outer) {
            let (u, v) = lie(*point);
            if v > 0.0 && v < top {
                sides.push(u);
            }
        }
        let low = sides.iter().copied().fold(f64::INFINITY, f64::min) - 3.0;
        let high = sides.iter().copied().fold(f64::NEG_INFINITY, f64::max) + 3.0;
        let (w, h) = (f64::from(frame.w), f64::from(frame.h));
        let scale = (h / (top + BEHIND)).min(w / (high - low).max(ACROSS)).clamp(0.01, LARGEST);
        // What room is left over goes evenly to both ends.
        let spare = (h / scale - top - BEHIND) / 2.0;
        Self {
            tee: drawing.tee,
            up,
            right,
            scale,
            x: f64::from(frame.x) + w / 2.0 - (low + high) / 2.0 * scale,
            y: f64::from(frame.bottom()) - (BEHIND + spare) * scale,
        }
    }

    fn page(&self, p: Point) -> (f32, f32) {
        let off = p - self.tee;
        ((self.x + off.dot(self.right) * self.scale) as f32, (self.y - off.dot(self.up) * self.scale) as f32)
    }

    fn rings(&self, polygon: &Polygon) -> Vec<Ring> {
        polygon.rings().map(|ring| ring.iter().map(|p| self.page(*p)).collect()).collect()
    }

    fn points(&self, yards: f64) -> f32 {
        (yards * self.scale) as f32
    }
}

/// Sets a drawing into a frame. `plain` leaves out figures and plan, as on a page of the whole course.
pub fn sketch(drawing: &Drawing, frame: &Frame, plain: bool) -> Sketch {
    let fit = Fit::new(drawing, frame);
    let mut items = Vec::new();
    for shape in &drawing.shapes {
        for polygon in &shape.polygons {
            let rings = fit.rings(polygon);
            if seen(&rings, frame) {
                items.extend(ground(shape.surface, &rings, frame));
            }
        }
    }
    if drawing.green_left_out {
        // A sign of the place, not an image of the green.
        let (x, y) = fit.page(drawing.middle);
        items.push(Item::shape(circle(x, y, 3.2), Ink::WHITE, Stroke::solid(Ink::BLACK, 0.9)));
        items.push(Item::rule((x - 5.0, y), (x + 5.0, y), Stroke::solid(Ink::BLACK, 0.6)));
        items.push(Item::rule((x, y - 5.0), (x, y + 5.0), Stroke::solid(Ink::BLACK, 0.6)));
    }
    for tee in &drawing.tees {
        let (x, y) = fit.page(*tee);
        let own = tee.distance(drawing.tee) < 0.5;
        let half = if own { 2.4 } else { 1.6 };
        let square = Frame::new(x - half, y - half, 2.0 * half, 2.0 * half).path();
        let ink = if own { Ink::BLACK } else { Ink::WHITE };
        items.push(Item::shape(square, ink, Stroke::solid(Ink::BLACK, 0.6)));
    }
    if plain {
        line_of_play(drawing, &fit, &mut items);
        return Sketch { items: vec![Item::Clip { frame: *frame, items }], scale: fit.scale };
    }
    let mut labels =
        Labels { taken: Vec::new(), soft: soft(drawing, &fit), frame: frame.inset(0.8), items: Vec::new() };
    if drawing.steady.is_empty() {
        line_of_play(drawing, &fit, &mut items);
    }
    wind(drawing, frame, &mut labels);
    rings(drawing, &fit, frame, &mut items, &mut labels);
    leaves(drawing, &fit, &mut items, &mut labels);
    play(&drawing.bold, &fit, Some(&drawing.steady), &mut items, &mut labels);
    play(&drawing.steady, &fit, None, &mut items, &mut labels);
    flag(drawing, &fit, &mut items);
    letters(drawing, &fit, frame, &mut labels);
    items.append(&mut labels.items);
    let mut all = vec![Item::Clip { frame: *frame, items }];
    all.push(Item::line(frame.path(), Stroke::solid(Ink::RULE, 0.4)));
    Sketch { items: all, scale: fit.scale }
}

fn seen(rings: &[Ring], frame: &Frame) -> bool {
    let span = |axis: fn(&(f32, f32)) -> f32| {
        let low = rings.iter().flatten().map(axis).fold(f32::INFINITY, f32::min);
        let high = rings.iter().flatten().map(axis).fold(f32::NEG_INFINITY, f32::max);
        (low, high)
    };
    let ((left, right), (top, bottom)) = (span(|p| p.0), span(|p| p.1));
    left < frame.right() && right > frame.x && top < frame.bottom() && bottom > frame.y
}

fn polyline(points: &[(f32, f32)]) -> Vec<Step> {
    points.iter().enumerate().map(|(i, &(x, y))| if i == 0 { Step::Move(x, y) } else { Step::Line(x, y) }).collect()
}

fn line_of_play(drawing: &Drawing, fit: &Fit, items: &mut Vec<Item>) {
    let way: Vec<(f32, f32)> = drawing.line.iter().map(|p| fit.page(*p)).collect();
    items.push(Item::line(polyline(&way), Stroke::dashed(Ink::SOFT, 0.5, 2.5, 2.0)));
}

/// Labels that keep off each other.
struct Labels {
    taken: Vec<Frame>,
    /// What should be kept clear where there is another place: the green, bunkers.
    soft: Vec<Frame>,
    frame: Frame,
    items: Vec<Item>,
}

impl Labels {
    /// Sets words of (face, text) parts with their box's left top corner at the first of `places` that is free; on a white
    /// ground, so that no hatch runs through them. Whether it found one.
    fn set(&mut self, parts: &[(Face, &str)], places: &[(f32, f32)]) -> bool {
        let wide: f32 = parts.iter().map(|(face, words)| width(*face, FIGURES, words)).sum::<f32>() + 1.6;
        let high = FIGURES + 0.6;
        let boxes = places.iter().map(|&(x, y)| Frame::new(x, y, wide, high));
        let free: Vec<Frame> = boxes
            .filter(|b| self.frame.holds(b))
            .filter(|b| self.taken.iter().all(|other| other.shared(b) < 0.01))
            .collect();
        let clear = free.iter().find(|b| self.soft.iter().all(|other| other.shared(b) < 1.0));
        let Some(place) = clear.or_else(|| free.first()).copied() else {
            return false;
        };
        self.taken.push(place);
        self.items.push(Item::fill(place.path(), Ink::WHITE));
        let mut x = place.x + 0.8;
        for (face, words) in parts {
            self.items.push(Item::Text {
                x,
                y: place.bottom() - 1.5,
                size: FIGURES,
                face: *face,
                ink: Ink::BLACK,
                words: (*words).to_owned(),
            });
            x += width(*face, FIGURES, words);
        }
        true
    }

    fn wide(parts: &[(Face, &str)]) -> f32 {
        parts.iter().map(|(face, words)| width(*face, FIGURES, words)).sum::<f32>() + 1.6
    }
}

/// The green and the small dangers as boxes that labels should not cover.
fn soft(drawing: &Drawing, fit: &Fit) -> Vec<Frame> {
    let kept = |s: &&Shape| matches!(s.surface, Surface::Green | Surface::Bunker);
    let shapes = drawing.shapes.iter().filter(kept).flat_map(|s| &s.polygons);
    shapes
        .map(|polygon| {
            let points = polygon.outer.iter().map(|p| fit.page(*p));
            let (mut left, mut right, mut top, mut bottom) =
                (f32::INFINITY, f32::NEG_INFINITY, f32::INFINITY, f32::NEG_INFINITY);
            for (x, y) in points {
                (left, right) = (left.min(x), right.max(x));
                (top, bottom) = (top.min(y), bottom.max(y));
            }
            Frame::new(left, top, right - left, bottom - top).inset(0.8)
        })
        .collect()
}

/// The arc of a radius about a place, as far as it may be seen.
fn arc(middle: (f32, f32), radius: f32, towards: f32, from_deg: f32, to_deg: f32) -> Vec<Step> {
    let steps = 24;
    let points: Vec<(f32, f32)> = (0..=steps)
        .map(|i| {
            let turn = (from_deg + (to_deg - from_deg) * i as f32 / steps as f32).to_radians();
            (middle.0 + radius * turn.sin(), middle.1 + towards * radius * turn.cos())
        })
        .collect();
    polyline(&points)
}

fn rings(drawing: &Drawing, fit: &Fit, frame: &Frame, items: &mut Vec<Item>, labels: &mut Labels) {
    let middle = fit.page(drawing.middle);
    for ring in &drawing.rings {
        let radius = fit.points(ring.radius);
        items.push(Item::line(
            arc(middle, radius, 1.0, -80.0, 80.0),
            Stroke::dashed(Ink(110, 110, 110), 0.45, 0.9, 1.5),
        ));
        let (front, back) = (format!("{} ", ring.front), format!(" {}", ring.back));
        let parts =
            [(Face::Regular, front.as_str()), (Face::Bold, ring.middle.as_str()), (Face::Regular, back.as_str())];
        let x = frame.right() - Labels::wide(&parts) - 1.0;
        let off = x + Labels::wide(&parts) / 2.0 - middle.0;
        let y = if radius > off.abs() { middle.1 + (radius * radius - off * off).sqrt() } else { middle.1 + radius };
        labels.set(&parts, &[(x, y - 3.3), (x, y - 10.0), (x, y + 3.4)]);
    }
    let tee = fit.page(drawing.tee);
    for (yards, words) in &drawing.from_tee {
        let radius = fit.points(*yards);
        let reach = frame.x + frame.w * 0.2 - tee.0;
        let turn = |off: f32| (off / radius).clamp(-0.99, 0.99).asin().to_degrees();
        let steps = arc(tee, radius, -1.0, turn(frame.x - tee.0), turn(reach));
        items.push(Item::line(steps, Stroke::solid(Ink::BLACK, 0.5)));
        let parts = [(Face::Regular, words.as_str())];
        let off = frame.x + 8.0 - tee.0;
        let y = if radius > off.abs() { tee.1 - (radius * radius - off * off).sqrt() } else { tee.1 - radius };
        labels.set(&parts, &[(frame.x + 1.0, y - 3.3), (frame.x + 1.0, y - 10.0)]);
    }
}

fn leaves(drawing: &Drawing, fit: &Fit, items: &mut Vec<Item>, labels: &mut Labels) {
    for leave in &drawing.leaves {
        let (a, b) = (fit.page(leave.left), fit.page(leave.right));
        items.push(Item::rule(a, b, Stroke::solid(Ink::WHITE, 2.6)));
        items.push(Item::rule(a, b, Stroke::dashed(Ink::BLACK, 1.4, 2.2, 1.2)));
        let parts = [(Face::Regular, leave.words.as_str())];
        let wide = Labels::wide(&parts);
        labels
            .set(&parts, &[(a.0 - wide - 1.0, a.1 - 3.3), (b.0 + 1.0, b.1 - 3.3), (a.0, a.1 + 2.0), (a.0, a.1 - 9.0)]);
    }
}

/// The shots of a play; of the bold one (`beside` is the steady) no finish that the steady one covers.
fn play(finishes: &[Point], fit: &Fit, beside: Option<&[Point]>, items: &mut Vec<Item>, labels: &mut Labels) {
    let points: Vec<(f32, f32)> = finishes.iter().map(|p| fit.page(*p)).collect();
    if points.len() < 2 {
        return;
    }
    let bold = beside.is_some();
    let covered = |x: f32, y: f32| {
        beside.unwrap_or_default().iter().skip(1).any(|p| {
            let (sx, sy) = fit.page(*p);
            (sx - x).hypot(sy - y) < 7.4
        })
    };
    let stroke = if bold { Stroke::dashed(Ink::BLACK, 0.8, 3.0, 2.0) } else { Stroke::solid(Ink::BLACK, 1.0) };
    items.push(Item::line(polyline(&points), Stroke::solid(Ink::WHITE, 2.4)));
    items.push(Item::line(polyline(&points), stroke));
    for (number, &(x, y)) in points.iter().enumerate().skip(1) {
        if covered(x, y) {
            continue;
        }
        let (fill, ink) = if bold { (Ink::WHITE, Ink::BLACK) } else { (Ink::BLACK, Ink::WHITE) };
        items.push(Item::shape(circle(x, y, 3.5), fill, Stroke::solid(Ink::BLACK, 0.7)));
        let words = number.to_string();
        let wide = width(Face::Bold, FIGURES, &words);
        items.push(Item::Text { x: x - wide / 2.0, y: y + 2.0, size: FIGURES, face: Face::Bold, ink, words });
        labels.taken.push(Frame::new(x - 3.8, y - 3.8, 7.6, 7.6));
    }
}

fn flag(drawing: &Drawing, fit: &Fit, items: &mut Vec<Item>) {
    let Some(pin) = drawing.pin.filter(|_| !drawing.green_left_out) else { return };
    let (x, y) = fit.page(pin);
    items.push(Item::rule((x, y), (x, y - 8.0), Stroke::solid(Ink::BLACK, 0.6)));
    let cloth = vec![Step::Move(x, y - 8.0), Step::Line(x + 4.2, y - 6.4), Step::Line(x, y - 4.8), Step::Close];
    items.push(Item::fill(cloth, Ink::BLACK));
    items.push(Item::fill(circle(x, y, 0.9), Ink::BLACK));
}

/// The letter of each danger with its reach and carry: outside it on its own side, else in it.
fn letters(drawing: &Drawing, fit: &Fit, frame: &Frame, labels: &mut Labels) {
    for shape in &drawing.shapes {
        let Some(letter) = shape.letter else { continue };
        let words = letter.to_string();
        let figures = if shape.figures.is_empty() { String::new() } else { format!(" {}", shape.figures) };
        let parts = [(Face::Bold, words.as_str()), (Face::Regular, figures.as_str())];
        let wide = Labels::wide(&parts);
        for polygon in &shape.polygons {
            let rings = fit.rings(polygon);
            if !seen(&rings, frame) {
                continue;
            }
            let span = |axis: fn(&(f32, f32)) -> f32, least: bool| {
                let all = rings.iter().flatten().map(axis);
                if least { all.fold(f32::INFINITY, f32::min) } else { all.fold(f32::NEG_INFINITY, f32::max) }
            };
            let (left, right, top, bottom) =
                (span(|p| p.0, true), span(|p| p.0, false), span(|p| p.1, true), span(|p| p.1, false));
            let (cx, cy) = ((left + right) / 2.0, (top + bottom) / 2.0);
            if right - left < 46.0 && bottom - top < 46.0 {
                let (low, high) = (frame.x + 1.0, (frame.right() - wide - 1.0).max(frame.x + 1.0));
                let level = (cx - wide / 2.0).clamp(low, high);
                let beside = [(left - wide - 0.6, cy - 3.3), (right + 0.6, cy - 3.3)];
                let is_right = cx > line_at(drawing, fit, cy);
                let places = [
                    beside[usize::from(is_right)],
                    (level, top - 7.2),
                    (level, bottom + 0.6),
                    beside[usize::from(!is_right)],
                    (if is_right { high } else { low }, cy - 3.3),
                    (level, cy - 3.3),
                ];
                if labels.set(&parts, &places) {
                    continue;
                }
                labels.set(&parts[..1], &[(cx - 2.5, cy - 3.3), (left - 5.0, cy - 3.3), (right + 0.5, cy - 3.3)]);
            } else {
                let places = inside(&rings, frame, wide);
                if !labels.set(&parts, &places) {
                    labels.set(&parts[..1], &inside(&rings, frame, Labels::wide(&parts[..1])));
                }
            }
        }
    }
}

/// Where the line of the hole is level with `y` of the page.
fn line_at(drawing: &Drawing, fit: &Fit, y: f32) -> f32 {
    let way = drawing.line.iter().map(|p| fit.page(*p));
    way.min_by(|a, b| (a.1 - y).abs().total_cmp(&(b.1 - y).abs())).map_or(0.0, |p| p.0)
}

/// Places in a large shape where a label of this width has most room, the best first.
fn inside(rings: &[Ring], frame: &Frame, wide: f32) -> Vec<(f32, f32)> {
    let mut found: Vec<(f32, (f32, f32))> = Vec::new();
    let steps = 24;
    for i in 1..steps {
        let y = frame.y + frame.h * i as f32 / steps as f32;
        for (from, to) in row(rings, y) {
            let (from, to) = (from.max(frame.x + 1.0), to.min(frame.right() - 1.0));
            let room = to - from;
            if room <= 2.0 {
                continue;
            }
            let x =
                ((from + to) / 2.0 - wide / 2.0).clamp(frame.x + 1.0, (frame.right() - wide - 1.0).max(frame.x + 1.0));
            // Level with the middle of the drawing it is found soonest.
            let off = ((y - frame.y) / frame.h - 0.45).abs();
            found.push((room.min(wide + 8.0) - 14.0 * off, (x, y - 3.3)));
        }
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0));
    found.into_iter().map(|(_, place)| place).take(12).collect()
}

/// An arrow for the wind of the day in a corner, turned as the drawing is.
fn wind(drawing: &Drawing, frame: &Frame, labels: &mut Labels) {
    let Some((to_deg, words)) = &drawing.wind else { return };
    let turn = (to_deg - drawing.up().degrees()).to_radians() as f32;
    let (dx, dy) = (turn.sin(), -turn.cos());
    let place = Frame::new(frame.x + 1.0, frame.y + 1.0, 17.0, 17.0);
    let (cx, cy) = (place.x + 8.5, place.y + 8.5);
    let (tip, tail) = ((cx + 7.0 * dx, cy + 7.0 * dy), (cx - 7.0 * dx, cy - 7.0 * dy));
    labels.taken.push(place);
    labels.items.push(Item::fill(circle(cx, cy, 8.4), Ink::WHITE));
    labels.items.push(Item::line(circle(cx, cy, 8.4), Stroke::solid(Ink::RULE, 0.4)));
    labels.items.push(Item::rule(tail, tip, Stroke::solid(Ink::BLACK, 0.8)));
    let head = vec![
        Step::Move(tip.0, tip.1),
        Step::Line(tip.0 - 4.6 * dx + 2.2 * dy, tip.1 - 4.6 * dy - 2.2 * dx),
        Step::Line(tip.0 - 4.6 * dx - 2.2 * dy, tip.1 - 4.6 * dy + 2.2 * dx),
        Step::Close,
    ];
    labels.items.push(Item::fill(head, Ink::BLACK));
    labels.set(&[(Face::Regular, words)], &[(place.right() + 1.0, place.y + 5.0), (place.x, place.bottom() + 1.0)]);
}
