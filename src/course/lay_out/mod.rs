//! Sketch to ground: what a person drew as numbers along the hole line, laid out in the plane.
//!
//! The order of the notebook is kept. Pieces that share a name, a kind and a face are one feature; a piece that cannot
//! be laid out is left out and reported, and the rest of the hole stands.

pub mod name;
mod problem;
#[cfg(test)]
mod tests;

pub use problem::{Problem, What};

use super::model::{Form, HoleTee, Piece, Sketch, SketchGreen};
use crate::ground::{Bend, Feature, Ground, HoleLine, Point, Polygon, Putting, ShapeProblem, Surface, TeeSpot, shapes};
use crate::units::Along;

/// What a hole's ground is laid out from.
#[derive(Clone, Copy, Debug)]
pub struct Drawn<'a> {
    /// The pieces and the green.
    pub sketch: &'a Sketch,
    /// Turns of the line.
    pub bends: &'a [Bend],
    /// The tees with their places.
    pub tees: &'a [HoleTee],
    /// Heights along the line, yards against its start.
    pub heights: &'a [(Along, f64)],
}

/// The length of the line: to the depth of the middle of the green, or, on a hole without one, the greatest length
/// that a tee gives it. `None` when neither is there.
pub fn line_length(sketch: &Sketch, tees: &[HoleTee]) -> Option<Along> {
    let from_tees = || tees.iter().map(|tee| tee.at.0 + tee.length).max_by(f64::total_cmp);
    sketch.green.as_ref().map(|green| green.front.0 + green.depth / 2.0).or_else(from_tees).map(Along)
}

/// Lays the sketch of one hole out in the plane, with everything that could not be.
pub fn lay_out(drawn: Drawn<'_>) -> (Ground, Vec<Problem>) {
    let mut problems = Vec::new();
    let length = line_length(drawn.sketch, drawn.tees).unwrap_or_default();
    let longest = Along(shapes::FARTHEST);
    let length = if length.0.is_finite() && length.0 <= longest.0 {
        length
    } else {
        problems.push(Problem::of_hole(drawn, What::LineTooLong { length }));
        longest
    };
    for problem in HoleLine::problems(drawn.bends, length) {
        problems.push(Problem::of_hole(drawn, What::bend(problem, drawn.bends, length)));
    }
    let line = HoleLine::new(drawn.bends, length);
    let tees = lay_tees(drawn.tees, &line, &mut problems);
    let green = drawn.sketch.green.as_ref().and_then(|green| lay_green(green, &line, &mut problems));
    let features = lay_pieces(drawn.sketch, &line, green.as_ref(), &mut problems);
    let mut heights = drawn.heights.to_vec();
    heights.sort_by(|a, b| a.0.0.total_cmp(&b.0.0));
    let ground = Ground { bends: drawn.bends.to_vec(), length, tees, features, green, heights };
    (ground, problems)
}

fn lay_tees(tees: &[HoleTee], line: &HoleLine, problems: &mut Vec<Problem>) -> Vec<TeeSpot> {
    let mut spots = Vec::with_capacity(tees.len());
    for tee in tees {
        let far = shapes::FARTHEST;
        if !(tee.at.0.abs() <= far && tee.across.0.abs() <= far) {
            problems.push(Problem::at(tee.span, What::TeeTooFar { tee: tee.name.clone() }));
            continue;
        }
        if tee.at.0 >= line.length().0 {
            problems.push(Problem::at(tee.span, What::GreenBehindTee { tee: tee.name.clone() }));
        }
        spots.push(TeeSpot {
            name: tee.name.clone(),
            at: tee.at,
            across: tee.across,
            point: line.place(tee.at, tee.across),
        });
    }
    spots
}

fn lay_green(green: &SketchGreen, line: &HoleLine, problems: &mut Vec<Problem>) -> Option<Putting> {
    let far = shapes::FARTHEST;
    let good = green.depth > 0.0 && green.width > 0.0 && green.depth <= far && green.width <= far;
    if !(good && green.front.0.abs() <= far && green.across.0.abs() <= far) {
        problems.push(Problem::at(green.span, What::GreenWithoutArea));
        return None;
    }
    let at = Along(green.front.0 + green.depth / 2.0);
    let middle = line.place(at, green.across);
    let axis_deg = line.last_heading_deg() + green.turned_deg;
    let half = Point::towards(axis_deg) * (green.depth / 2.0);
    // A clock face seen along the last leg: 12 is straight on, each hour 30 degrees clockwise.
    let falls = green.falls.map(|(percent, clock)| (percent, line.last_heading_deg() + 30.0 * (clock % 12.0)));
    Some(Putting {
        front: green.front,
        depth: green.depth,
        width: green.width,
        middle,
        front_point: middle - half,
        back_point: middle + half,
        axis_deg,
        outline: shapes::green(middle, axis_deg, green.depth, green.width),
        falls,
    })
}

fn lay_pieces(sketch: &Sketch, line: &HoleLine, green: Option<&Putting>, problems: &mut Vec<Problem>) -> Vec<Feature> {
    let mut features: Vec<Feature> = Vec::with_capacity(sketch.pieces.len());
    for (index, piece) in sketch.pieces.iter().enumerate() {
        // What the survey draws is laid over the sketch by the room that reads it.
        if matches!(piece.form, Form::Surveyed { .. }) {
            continue;
        }
        let name = || piece.name.clone().unwrap_or_else(|| piece.surface.word().to_owned());
        if let Some(what) = off_the_hole(piece, line, name()) {
            problems.push(Problem::of_piece(index, piece.span, what));
            continue;
        }
        let shapes = match lay_form(&piece.form, line) {
            Ok(shapes) => shapes,
            Err(problem) => {
                let name = name();
                problems.push(Problem::of_piece(index, piece.span, What::Shape { name, problem }));
                continue;
            }
        };
        let same = piece.name.as_ref().and_then(|name| {
            features
                .iter_mut()
                .find(|f| f.named && f.name == *name && f.surface == piece.surface && f.face == piece.face)
        });
        match same {
            Some(feature) => feature.shapes.extend(shapes),
            None => features.push(Feature {
                name: piece.name.clone().unwrap_or_default(),
                named: piece.name.is_some(),
                surface: piece.surface,
                face: piece.face,
                shapes,
            }),
        }
    }
    name::name_the_unnamed(&mut features, line, green);
    features
}

/// How far ground may begin before the tees or end past the green, yards.
const ROUND_ABOUT: f64 = 200.0;

/// A bunker longer than the hole, or ground that lies nowhere near it, is a slip of the pencil.
fn off_the_hole(piece: &Piece, line: &HoleLine, name: String) -> Option<What> {
    let places: Vec<f64> = match &piece.form {
        Form::Stations(stations) => stations.iter().map(|(at, _)| at.0).collect(),
        Form::Band { from, to, .. } => vec![from.0, to.0],
        Form::Path { points, .. } | Form::Outline(points) => points.iter().map(|(at, _)| at.0).collect(),
        Form::Surveyed { .. } => Vec::new(),
    };
    let from = places.iter().copied().reduce(f64::min)?;
    let to = places.iter().copied().reduce(f64::max)?;
    let length = line.length().0;
    let too_long = piece.surface == Surface::Bunker && to - from > length;
    let elsewhere = from < -ROUND_ABOUT || to > length + ROUND_ABOUT;
    (too_long || elsewhere).then_some(What::OffTheHole {
        name,
        from: Along(from),
        to: Along(to),
        length: line.length(),
    })
}

/// One form as polygons of the plane.
///
/// # Errors
/// What [`shapes`] says of it.
pub fn lay_form(form: &Form, line: &HoleLine) -> Result<Vec<Polygon>, ShapeProblem> {
    match form {
        Form::Stations(stations) => shapes::stations(line, stations).map(|shape| vec![shape]),
        Form::Band { from, to, across } => shapes::band(line, *from, *to, *across).map(|shape| vec![shape]),
        Form::Path { points, width } => shapes::path(line, points, *width),
        Form::Outline(places) => shapes::outline(line, places).map(|shape| vec![shape]),
        Form::Surveyed { .. } => Ok(Vec::new()),
    }
}
