//! The forms in which ground is drawn along a hole, laid out as polygons of the plane.
//!
//! Straight edges of the drawing (in `along` and `across`) follow the line: round a bend they become curves.

use super::line::HoleLine;
use super::plane::{Point, Polygon, crosses_itself, meeting};
use crate::units::{Across, Along, Band};

/// The largest rounding of a band's corner, yards.
pub const ROUNDEST: f64 = 5.0;

/// No drawn place may be farther from the start than this along the line, or beside it, yards.
pub const FARTHEST: f64 = 2000.0;

/// Why a shape cannot be laid out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ShapeProblem {
    /// It reaches beyond the turning radius inside a bend, where there is no ground.
    BeyondTurn {
        /// A place of the shape that does.
        at: Along,
        /// See `at`.
        across: Across,
        /// Where the ground ends there.
        radius: Across,
    },
    /// It crosses itself near here.
    CrossesItself {
        /// Along the line.
        at: Along,
        /// Across it.
        across: Across,
    },
    /// It ends before or where it begins, or two stations stand at one place or out of order.
    OutOfOrder {
        /// The place that does not come after the one before it.
        at: Along,
    },
    /// Too few places, or no width: it covers nothing.
    NoArea,
    /// A number beyond [`FARTHEST`].
    TooFar {
        /// Along the line.
        at: Along,
        /// Across it.
        across: Across,
    },
}

type Place = (f64, f64);

fn within(places: impl IntoIterator<Item = Place>) -> Result<(), ShapeProblem> {
    for (at, across) in places {
        let good = |figure: f64| figure.abs() <= FARTHEST;
        if !(good(at) && good(across)) {
            return Err(ShapeProblem::TooFar { at: Along(at), across: Across(across) });
        }
    }
    Ok(())
}

/// Draws the straight edge from `from` to `to`, its end left out, into `ring`.
///
/// The steps are always taken from the nearer end, so that a shape and its mirror image get the same points.
fn trace(line: &HoleLine, from: Place, to: Place, ring: &mut Vec<Point>) -> Result<(), ShapeProblem> {
    let (low, high) = if from.0 <= to.0 { (from, to) } else { (to, from) };
    let across = |at: f64| {
        if at == low.0 {
            low.1
        } else if at == high.0 {
            high.1
        } else {
            low.1 + (high.1 - low.1) * ((at - low.0) / (high.0 - low.0))
        }
    };
    let steps = if low.0 == high.0 {
        // A place where the turn begins belongs to the straight side too.
        let (before, after) = (low.0 - 1e-6, low.0 + 1e-6);
        for end in [low, high] {
            beyond(line, (before, before), end).or_else(|_| beyond(line, (after, after), end))?;
        }
        vec![low.0]
    } else {
        line.steps(low.0, high.0)
    };
    for pair in steps.windows(2) {
        if let [a, b] = pair {
            beyond(line, (*a, *b), (*a, across(*a)))?;
            beyond(line, (*a, *b), (*b, across(*b)))?;
        }
    }
    let place = |at: &f64| line.place(Along(*at), Across(across(*at)));
    if low.0 == high.0 {
        ring.push(line.place(Along(from.0), Across(from.1)));
    } else if from.0 < to.0 {
        ring.extend(steps.iter().take(steps.len() - 1).map(place));
    } else {
        ring.extend(steps.iter().skip(1).rev().map(place));
    }
    Ok(())
}

fn beyond(line: &HoleLine, stretch: (f64, f64), place: Place) -> Result<(), ShapeProblem> {
    let curve = line.curve_between(stretch.0, stretch.1);
    if curve * place.1 >= 1.0 {
        return Err(ShapeProblem::BeyondTurn {
            at: Along(place.0),
            across: Across(place.1),
            radius: Across(1.0 / curve),
        });
    }
    Ok(())
}

fn trace_ring(line: &HoleLine, places: &[Place]) -> Result<Vec<Point>, ShapeProblem> {
    let mut ring = Vec::with_capacity(places.len() * 2);
    let next = places.iter().skip(1).chain(places.first());
    for (from, to) in places.iter().zip(next) {
        trace(line, *from, *to, &mut ring)?;
    }
    ring.dedup();
    Ok(ring)
}

/// As a polygon, unless it crosses itself in the plane or in the drawing.
fn closed(line: &HoleLine, drawn: &[Place], ring: Vec<Point>) -> Result<Polygon, ShapeProblem> {
    let sketch: Vec<Point> = drawn.iter().map(|p| Point::new(p.1, p.0)).collect();
    if let Some(place) = crosses_itself(&sketch) {
        return Err(ShapeProblem::CrossesItself { at: Along(place.ahead), across: Across(place.right) });
    }
    // On a straight line the plane shows the drawing as it is, so it need not be looked at twice.
    if let Some(point) = (!line.is_straight()).then(|| crosses_itself(&ring)).flatten() {
        let (at, across) = line.locate(point);
        return Err(ShapeProblem::CrossesItself { at, across });
    }
    Ok(Polygon::simple(ring))
}

/// How far a rounded corner of radius 1 cuts into its two sides, from one side to the other.
fn corner() -> [(f64, f64); 7] {
    std::array::from_fn(|i| {
        let (sin, cos) = libm::sincos(std::f64::consts::FRAC_PI_2 * i as f64 / 6.0);
        // The ends lie on the sides exactly.
        match i {
            0 => (0.0, 1.0),
            6 => (1.0, 0.0),
            _ => (1.0 - cos, 1.0 - sin),
        }
    })
}

/// A band: from here to there along the line and across it; corners rounded by a quarter of the shorter side, at most
/// [`ROUNDEST`]. The corners of an open side are square.
///
/// # Errors
/// Beyond the turning radius, covering nothing, or absurdly far.
///
/// # References
/// notebook.md, "Every kind of ground".
pub fn band(line: &HoleLine, from: Along, to: Along, across: Band) -> Result<Polygon, ShapeProblem> {
    let (near, far) = (from.0, to.0);
    let finite = |edge: f64| if edge.is_infinite() { 0.0 } else { edge };
    within([(near, finite(across.left)), (far, finite(across.right))])?;
    if far <= near {
        return Err(ShapeProblem::OutOfOrder { at: to });
    }
    if across.width() <= 0.0 || across.width().is_nan() {
        return Err(ShapeProblem::NoArea);
    }
    let round = ((far - near).min(across.width()) / 4.0).min(ROUNDEST);
    let corner = corner();
    // Once round: up the left side from near to far, back down the right side.
    let mut drawn: Vec<Place> = Vec::with_capacity(28);
    let mut ring = Vec::new();
    let side = |edge: f64, inwards: f64, drawn: &mut Vec<Place>, upwards: bool| {
        let near_corner = corner
            .iter()
            .rev()
            .map(|(in_across, in_along)| (near + in_along * round, edge + inwards * in_across * round));
        let far_corner =
            corner.iter().map(|(in_across, in_along)| (far - in_along * round, edge + inwards * in_across * round));
        let mut places: Vec<Place> = near_corner.chain(far_corner).collect();
        if !upwards {
            places.reverse();
        }
        drawn.extend(places);
    };
    if across.left.is_finite() && across.right.is_finite() {
        side(across.left, 1.0, &mut drawn, true);
        side(across.right, -1.0, &mut drawn, false);
        ring = trace_ring(line, &drawn)?;
        return closed(line, &drawn, ring);
    }
    // An open side follows the limit of the ground; the other side is drawn as it is.
    for (edge, inwards) in [(across.left, 1.0), (across.right, -1.0)] {
        let upwards = inwards > 0.0;
        if edge.is_finite() {
            drawn.clear();
            side(edge, inwards, &mut drawn, upwards);
            for pair in drawn.windows(2) {
                if let [a, b] = pair {
                    trace(line, *a, *b, &mut ring)?;
                }
            }
            if let Some((at, x)) = drawn.last() {
                ring.push(line.place(Along(*at), Across(*x)));
            }
        } else {
            let mut limit = open_side(line, near, far, -inwards);
            if !upwards {
                limit.reverse();
            }
            ring.extend(limit);
        }
    }
    ring.dedup();
    Ok(Polygon::simple(ring))
}

/// The outer edge of an open side, from near to far.
///
/// Inside a bend the limits of two legs lie on each other; the way in and out again is left out.
fn open_side(line: &HoleLine, near: f64, far: f64, side: f64) -> Vec<Point> {
    let mut steps = line.steps(near, far);
    if !line.is_straight() {
        let pieces = ((far - near) / 4.0).ceil().max(1.0);
        steps.extend((1..pieces as usize).map(|i| near + (far - near) * i as f64 / pieces));
        steps.sort_by(f64::total_cmp);
        steps.dedup();
    }
    let limits: Vec<(f64, f64)> = steps.iter().map(|s| (*s, line.reach(Along(*s), side))).collect();
    let full = |reach: f64| reach.abs() >= super::line::OPEN_REACH;
    let mut kept: Vec<(f64, f64)> = Vec::with_capacity(limits.len());
    let mut rest = limits.as_slice();
    while let Some(&first) = rest.first() {
        if full(first.1) {
            kept.push(first);
            rest = rest.get(1..).unwrap_or_default();
            continue;
        }
        let run = rest.iter().take_while(|l| !full(l.1)).count();
        let (limited, after) = rest.split_at(run);
        rest = after;
        let reach_before = if kept.is_empty() { first.1.abs() } else { f64::INFINITY };
        let reach_after = match (after.is_empty(), limited.last()) {
            (true, Some(last)) => last.1.abs(),
            _ => f64::INFINITY,
        };
        let most = reach_before.min(reach_after);
        kept.extend(limited.iter().filter(|l| l.1.abs() >= most));
    }
    kept.iter().map(|(at, x)| line.place(Along(*at), Across(*x))).collect()
}

/// Stations along the line, linear between them, square at the ends: a fairway.
///
/// # Errors
/// Fewer than two stations, stations out of order, beyond the turning radius, or crossing itself.
pub fn stations(line: &HoleLine, stations: &[(Along, Band)]) -> Result<Polygon, ShapeProblem> {
    let edge = |at: Along, x: f64| if x.is_infinite() { line.reach(at, x) } else { x };
    let left: Vec<Place> = stations.iter().map(|(at, b)| (at.0, edge(*at, b.left))).collect();
    let right: Vec<Place> = stations.iter().map(|(at, b)| (at.0, edge(*at, b.right))).collect();
    within(left.iter().chain(&right).copied())?;
    for pair in stations.windows(2) {
        if let [a, b] = pair
            && b.0.0 <= a.0.0
        {
            return Err(ShapeProblem::OutOfOrder { at: b.0 });
        }
    }
    let covers = stations.iter().any(|(_, b)| b.width() > 0.0);
    if stations.len() < 2 || !covers {
        return Err(ShapeProblem::NoArea);
    }
    let drawn: Vec<Place> = left.into_iter().chain(right.into_iter().rev()).collect();
    let mut unique = drawn.clone();
    unique.dedup();
    if unique.len() > 1 && unique.first() == unique.last() {
        unique.pop();
    }
    let ring = trace_ring(line, &unique)?;
    // Stations that narrow to nothing touch there; they do not cross.
    if drawn.len() != unique.len() || stations.iter().any(|(_, b)| b.width() <= 0.0) {
        return Ok(Polygon::simple(ring));
    }
    closed(line, &unique, ring)
}

/// An exact outline.
///
/// # Errors
/// Fewer than three places, covering nothing, beyond the turning radius, or crossing itself.
pub fn outline(line: &HoleLine, places: &[(Along, Across)]) -> Result<Polygon, ShapeProblem> {
    let mut drawn: Vec<Place> = places.iter().map(|(at, x)| (at.0, x.0)).collect();
    within(drawn.iter().copied())?;
    drawn.dedup();
    if drawn.len() > 1 && drawn.first() == drawn.last() {
        drawn.pop();
    }
    if drawn.len() < 3 {
        return Err(ShapeProblem::NoArea);
    }
    let ring = trace_ring(line, &drawn)?;
    let shape = closed(line, &drawn, ring)?;
    if shape.area() < 1e-6 {
        return Err(ShapeProblem::NoArea);
    }
    Ok(shape)
}

/// A path of a width with round ends and joints.
///
/// Usually one polygon; a path so winding that its sides meet is given as one polygon for each of its stretches.
///
/// # Errors
/// Fewer than two places, no width, or its middle beyond the turning radius.
pub fn path(line: &HoleLine, places: &[(Along, Across)], width: f64) -> Result<Vec<Polygon>, ShapeProblem> {
    let drawn: Vec<Place> = places.iter().map(|(at, x)| (at.0, x.0)).collect();
    within(drawn.iter().copied().chain([(0.0, width)]))?;
    if width <= 0.0 || width.is_nan() {
        return Err(ShapeProblem::NoArea);
    }
    let mut middle = Vec::new();
    for pair in drawn.windows(2) {
        if let [a, b] = pair {
            trace(line, *a, *b, &mut middle)?;
        }
    }
    if let Some((at, x)) = drawn.last() {
        middle.push(line.place(Along(*at), Across(*x)));
    }
    middle.dedup();
    if middle.len() < 2 {
        return Err(ShapeProblem::NoArea);
    }
    let whole = along_path(&middle, width / 2.0);
    if crosses_itself(&whole).is_none() {
        return Ok(vec![Polygon::simple(whole)]);
    }
    Ok(middle.windows(2).map(|stretch| Polygon::simple(along_path(stretch, width / 2.0))).collect())
}

/// The outline of all places within `half` of a path.
fn along_path(middle: &[Point], half: f64) -> Vec<Point> {
    let mut left = path_side(middle, half, -1.0);
    let mut right = path_side(middle, half, 1.0);
    let directions: Vec<Point> = middle
        .windows(2)
        .filter_map(|pair| match pair {
            [a, b] => Some((*b - *a).unit()),
            _ => None,
        })
        .collect();
    let (Some(&start), Some(&end)) = (middle.first(), middle.last()) else {
        return Vec::new();
    };
    let (Some(&first), Some(&last)) = (directions.first(), directions.last()) else {
        return Vec::new();
    };
    // The round ends, from the left side over the tip to the right side.
    let tip = |from: Point, ahead: Point| {
        let side = ahead.to_the_right();
        (1..12)
            .map(|i| {
                let (sin, cos) = libm::sincos(std::f64::consts::PI * f64::from(i.min(12 - i)) / 12.0);
                let cos = if i == 6 {
                    0.0
                } else if i > 6 {
                    -cos
                } else {
                    cos
                };
                from + (side * -cos + ahead * sin) * half
            })
            .collect::<Vec<_>>()
    };
    let far = tip(end, last);
    let mut near = tip(start, first * -1.0);
    left.extend(far);
    right.reverse();
    left.append(&mut right);
    left.append(&mut near);
    left.dedup();
    left
}

/// One side of a path, from its start to its end: round outside a joint, cut back inside it.
fn path_side(middle: &[Point], half: f64, side: f64) -> Vec<Point> {
    let mut raw: Vec<Point> = Vec::with_capacity(middle.len() * 2);
    let mut before: Option<Point> = None;
    for pair in middle.windows(2) {
        let [from, to] = pair else { continue };
        let ahead = (*to - *from).unit();
        let normal = ahead.to_the_right() * side;
        if let Some(earlier) = before {
            let angle = libm::atan2(earlier.turn_to(normal).abs(), earlier.dot(normal));
            let outside = earlier.turn_to(normal) * side < 0.0;
            let pieces = (angle / 0.27).ceil();
            if outside && pieces > 1.0 {
                for i in 1..pieces as usize {
                    let share = i as f64 / pieces;
                    let mix = earlier * libm::sin(angle * (1.0 - share)) + normal * libm::sin(angle * share);
                    raw.push(*from + mix.unit() * half);
                }
            }
        }
        raw.push(*from + normal * half);
        raw.push(*to + normal * half);
        before = Some(normal);
    }
    raw.dedup();
    cut_loops(&raw, half * 6.0)
}

/// Cuts the small loops out of a line that crosses itself inside the joints of a path.
fn cut_loops(raw: &[Point], longest: f64) -> Vec<Point> {
    let mut clean = Vec::with_capacity(raw.len());
    let Some(&start) = raw.first() else {
        return clean;
    };
    let mut at = start;
    let mut index = 0;
    clean.push(at);
    while let Some(&end) = raw.get(index + 1) {
        let mut walked = 0.0;
        let mut jump = None;
        let mut from = end;
        for (ahead, &to) in raw.iter().enumerate().skip(index + 2) {
            // The stretch that begins at this stretch's end touches it there and does not cross it.
            if ahead > index + 2
                && let Some(point) = meeting((at, end), (from, to))
            {
                jump = Some((ahead - 1, point));
            }
            walked += to.distance(from);
            from = to;
            if walked > longest {
                break;
            }
        }
        match jump {
            Some((next, point)) => {
                index = next;
                at = point;
            }
            None => {
                index += 1;
                at = end;
            }
        }
        clean.push(at);
    }
    clean.dedup();
    clean
}

/// The green: an ellipse about its middle, its own axis `axis_deg` clockwise from `ahead`.
pub fn green(middle: Point, axis_deg: f64, depth: f64, width: f64) -> Polygon {
    let ahead = Point::towards(axis_deg) * (depth / 2.0);
    let side = Point::towards(axis_deg).to_the_right() * (width / 2.0);
    // Points of one quarter, reflected into the others so that a mirrored green has mirrored points.
    const QUARTER: usize = 16;
    let quarter = |i: usize| match i {
        0 => (0.0, 1.0),
        QUARTER => (1.0, 0.0),
        _ => libm::sincos(std::f64::consts::FRAC_PI_2 * i as f64 / QUARTER as f64),
    };
    let ring = (0..4 * QUARTER)
        .map(|i| {
            let (part, step) = (i / QUARTER, i % QUARTER);
            let (sin, cos) = quarter(if part % 2 == 0 { step } else { QUARTER - step });
            let (across, along) = match part {
                0 => (sin, cos),
                1 => (sin, -cos),
                2 => (-sin, -cos),
                _ => (-sin, cos),
            };
            middle + side * across + ahead * along
        })
        .collect();
    Polygon::simple(ring)
}
