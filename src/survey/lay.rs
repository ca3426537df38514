//! Surveyed ground laid over the sketch of a notebook, hole by hole and piece by piece.
//!
//! Shapes come from the survey; a bunker's face, names and everything written stay the notebook's. A sketched piece that the
//! survey does not have stays as it is drawn, and a hole that the survey does not have is its sketch alone.

use super::attach::chord;
use super::codes::{COLOUR_UNKNOWN, DISAGREES, FEATURE_OF_NO_HOLE, NOT_SURVEYED, NOT_TIED, UNKNOWN_DANGER};
use super::element::{Element, Shape};
use super::ground_read::{GroundFile, GroundHole, SurveyedPiece, is, names};
use super::kind::{Kind, kind_of};
use super::tie::Tie;
use super::values::tee_names;
use crate::course::lay_out::name::name_the_unnamed;
use crate::course::{Course, Form, Hole, Piece};
use crate::ground::plane::Bounds;
use crate::ground::{Feature, Ground, HoleLine, LonLat, Point, Polygon, Putting, Surface, shapes};
use crate::notebook::Diagnostic;
use crate::units::{Across, Along, Length, LengthUnit};

/// Survey and notebook may differ by this much about a place, yards (notebook.md).
const ALLOWED: f64 = 3.0;
/// How far from the line ground is kept, yards.
const ROUND: f64 = 250.0;
/// A sketched piece this near to a surveyed one of its kind is the same piece, yards from edge to edge.
const SAME: f64 = 8.0;
/// How wide the ground beyond a boundary is drawn, yards.
const BEYOND: f64 = 80.0;

/// What was said while ground was laid.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Laid {
    /// Problems at places of the GeoJSON.
    pub in_ground: Vec<Diagnostic>,
    /// Problems at places of the notebook.
    pub in_notebook: Vec<Diagnostic>,
    /// The holes that have surveyed ground now.
    pub holes: Vec<u8>,
    /// How far a distance on the longest hole can be wrong, yards.
    pub error_bound: f64,
}

/// Lays the ground of a file over the sketches of a course. The credit of the map comes to the course where the notebook
/// does not name it.
pub fn lay_over(course: &mut Course, file: &GroundFile) -> Laid {
    let mut laid = Laid::default();
    let unit = course.units;
    for element in &file.map.elements {
        for name in names(element) {
            let number = name.parse::<u8>().ok();
            let known = course.holes.iter().any(|h| is(h, name));
            if !known && !number.is_some_and(|n| course.unread.contains(&n)) {
                let words = format!("{} is on hole {name}, which the notebook does not have", element.id);
                let advice = "change `holes` to the numbers of the notebook, or to the `id` of a hole";
                laid.in_ground
                    .push(Diagnostic::warning(FEATURE_OF_NO_HOLE, file.span(&element.id), words).advise(advice));
            }
        }
    }
    for hole in &mut course.holes {
        let features: Vec<&Element> = file.of_hole(hole);
        if features.iter().all(|f| kind_of(&f.tags).surface().is_none()) {
            continue;
        }
        let Some(tie) = tie_of(hole, &features) else {
            let words = format!("hole {} has surveyed ground that cannot be tied to its line", hole.number);
            let advice = "give the map a line from its tee to the middle of its green, or a tee and a green, with this hole in `holes`";
            laid.in_notebook.push(Diagnostic::warning(NOT_TIED, hole.span, words).advise(advice));
            continue;
        };
        one_hole(hole, tie, &features, file, unit, &mut laid);
    }
    if course.credit.is_none() {
        course.credit = file.credit().cloned();
    }
    laid
}

/// The tie of every hole of a course that the file can be tied to, by the hole's number.
pub fn ties(course: &Course, file: &GroundFile) -> Vec<(u8, Tie)> {
    course.holes.iter().filter_map(|hole| Some((hole.number, tie_of(hole, &file.of_hole(hole))?))).collect()
}

/// Ties the map to a hole: by the line of play, else by the mapped line, else by a tee and the green.
fn tie_of(hole: &Hole, features: &[&Element]) -> Option<Tie> {
    let line = hole.ground.line();
    let end = line.place(hole.ground.length, Across(0.0));
    let along = |kind: Kind| {
        features.iter().filter(|f| kind_of(&f.tags) == kind).find_map(|f| match &f.shape {
            Shape::Line(positions) => Some((*positions.first()?, *positions.last()?)),
            _ => None,
        })
    };
    let drawn = || {
        let middle = |f: &&Element| middle(&f.shape);
        let tees = || features.iter().filter(|f| kind_of(&f.tags) == Kind::Tee);
        let back = tees().find(|f| tee_names(&f.tags).contains(&hole.line_from)).or_else(|| tees().next());
        let green = features.iter().find(|f| kind_of(&f.tags) == Kind::Green);
        Some((back.and_then(middle)?, green.and_then(middle)?))
    };
    let (start, finish) = along(Kind::Line).or_else(|| along(Kind::Hole)).or_else(drawn)?;
    Tie::between(start, finish, Point::default(), end)
}

fn middle(shape: &Shape) -> Option<LonLat> {
    let flat = crate::ground::Flat::around(shape.positions())?;
    match shape {
        Shape::Point(position) => Some(*position),
        Shape::Line(_) => None,
        Shape::Area(patches) => {
            let ring = patches.first()?.outer.iter().map(|p| flat.point(*p)).collect();
            Some(flat.position(Polygon::simple(ring).middle()))
        }
    }
}

/// The ground that is kept round a hole.
fn round(ground: &Ground) -> Bounds {
    let line = ground.line();
    let count = 32;
    let on_line =
        (0..=count).map(|i| line.place(Along(ground.length.0 * f64::from(i) / f64::from(count)), Across(0.0)));
    let tees = ground.tees.iter().map(|t| t.point);
    let b = Bounds::around(on_line.chain(tees));
    Bounds { left: b.left - ROUND, right: b.right + ROUND, near: b.near - ROUND, far: b.far + ROUND }
}

fn one_hole(hole: &mut Hole, tie: Tie, features: &[&Element], file: &GroundFile, unit: LengthUnit, laid: &mut Laid) {
    let mut line = hole.ground.line();
    let kept = round(&hole.ground);
    let surveyed = GroundHole::new(tie, features.iter().copied(), &kept);
    let out_lines = boundaries(&tie, features, &line, &kept);
    laid.holes.push(hole.number);
    laid.error_bound = laid.error_bound.max(tie.error_bound(hole.ground.length.0 / 2.0 + ROUND));
    tees(hole, &tie, features, unit, laid);
    ends(hole, &tie, features, unit, laid);
    let greens: Vec<&SurveyedPiece> = surveyed.pieces.iter().filter(|p| p.kind == Kind::Green).collect();
    if let Some(putting) = green(hole, &line, &greens, unit, laid) {
        hole.ground.length = Along(putting.front.0 + putting.depth / 2.0);
        hole.ground.green = Some(putting);
        line = hole.ground.line();
    }
    let mut pieces: Vec<(SurveyedPiece, Surface)> = Vec::new();
    for piece in surveyed.pieces.into_iter().chain(out_lines) {
        let Some(surface) = piece.kind.surface().filter(|_| piece.kind != Kind::Green) else { continue };
        pieces.push((piece, surface));
    }
    let mut features_now: Vec<Feature> = Vec::new();
    let mut taken = vec![false; hole.ground.features.len()];
    for (piece, surface) in pieces {
        let written = hole.sketch.pieces.iter().find(|p| same_name(p, &piece));
        let old = same_ground(&hole.ground.features, &taken, &piece, surface, written);
        for index in &old {
            if let Some(flag) = taken.get_mut(*index) {
                *flag = true;
            }
        }
        let old: Vec<&Feature> = old.iter().filter_map(|i| hole.ground.features.get(*i)).collect();
        features_now.push(joined(&piece, surface, written, &old));
        let coloured = matches!(written.map(|w| &w.form), Some(Form::Surveyed { coloured: true }));
        if piece.kind == Kind::Penalty(None) && !coloured && old.iter().all(|f| !is_penalty(f.surface)) {
            let words = format!(
                "hole {}: the colour of {} is not known and it is taken as yellow (Rule 17.1a)",
                hole.number, piece.id
            );
            let advice = "give the feature `\"colour\": \"red\"` or `\"yellow\"`, or `\"surface\": \"rough\"` where it is no penalty area";
            laid.in_ground.push(Diagnostic::warning(COLOUR_UNKNOWN, file.span(&piece.id), words).advise(advice));
        }
    }
    let rest = hole.ground.features.iter().zip(&taken).filter(|(_, taken)| !**taken).map(|(f, _)| f.clone());
    features_now.extend(rest);
    hole.ground.features = features_now;
    name_the_unnamed(&mut hole.ground.features, &line, hole.ground.green.as_ref());
    unmatched(hole, features, laid);
}

fn is_penalty(surface: Surface) -> bool {
    matches!(surface, Surface::PenaltyRed | Surface::PenaltyYellow)
}

/// Whether a piece of the notebook names this piece of the survey, by its id or by its name.
fn same_name(written: &Piece, piece: &SurveyedPiece) -> bool {
    let alike = |a: &str, b: &str| a.trim().to_lowercase() == b.trim().to_lowercase();
    let by_id = written.id.as_ref().is_some_and(|id| *id == piece.id);
    let by_name = written.name.as_ref().zip(piece.name.as_ref()).is_some_and(|(a, b)| alike(a, b));
    by_id || by_name
}

/// The sketched features that a surveyed piece replaces: the one of its name, else those of its kind that it lies on.
fn same_ground(
    features: &[Feature],
    taken: &[bool],
    piece: &SurveyedPiece,
    surface: Surface,
    written: Option<&Piece>,
) -> Vec<usize> {
    let free = |index: &usize| taken.get(*index) == Some(&false);
    let kin = |f: &Feature| f.surface == surface || is_penalty(f.surface) && is_penalty(surface);
    let name = written.and_then(|w| w.name.as_ref()).or(piece.name.as_ref());
    let named =
        features.iter().position(|f| f.named && kin(f) && name.is_some_and(|n| n.eq_ignore_ascii_case(&f.name)));
    if let Some(index) = named {
        return Some(index).filter(free).into_iter().collect();
    }
    let near = |f: &Feature| apart(&f.shapes, &piece.shapes);
    let alike = features.iter().enumerate().filter(|(i, f)| free(i) && kin(f));
    // A fairway replaces every sketched one that it touches; of other pieces one is one.
    if surface == Surface::Fairway {
        return alike.filter(|(_, f)| near(f) <= 0.0).map(|(i, _)| i).collect();
    }
    let nearest = alike.map(|(i, f)| (i, near(f))).min_by(|a, b| a.1.total_cmp(&b.1));
    nearest.filter(|(_, away)| *away <= SAME).map(|(i, _)| i).into_iter().collect()
}

/// The distance between two sets of surfaces, yards; 0 where they touch.
fn apart(a: &[Polygon], b: &[Polygon]) -> f64 {
    let mut best = f64::INFINITY;
    for (one, other) in a.iter().flat_map(|s| b.iter().map(move |o| (s, o))) {
        let corners = one.outer.iter().map(|p| other.distance(*p)).chain(other.outer.iter().map(|p| one.distance(*p)));
        best = corners.fold(best, f64::min);
        let cross = crate::ground::plane::edges(&one.outer).any(|edge| {
            crate::ground::plane::edges(&other.outer).any(|e| crate::ground::plane::meeting(edge, e).is_some())
        });
        if cross {
            return 0.0;
        }
    }
    best.max(0.0)
}

/// The survey's shape with the notebook's name and face.
fn joined(piece: &SurveyedPiece, surface: Surface, written: Option<&Piece>, old: &[&Feature]) -> Feature {
    let first = old.first();
    let own = written.and_then(|w| w.name.clone());
    let kept = first.filter(|f| f.named).map(|f| f.name.clone());
    let name = own.or(kept).or_else(|| piece.name.clone());
    let face = written.map(|w| w.face).or(first.map(|f| f.face)).unwrap_or_default();
    let coloured = written.filter(|w| matches!(w.form, Form::Surveyed { coloured: true })).map(|w| w.surface);
    // A colour that only the notebook knows stays its own.
    let known = first.filter(|_| piece.kind == Kind::Penalty(None)).map(|f| f.surface);
    Feature {
        named: name.is_some(),
        name: name.unwrap_or_default(),
        surface: coloured.or(known).unwrap_or(surface),
        face,
        shapes: piece.shapes.clone(),
    }
}

/// The green of the survey on the last leg of the line.
fn green(
    hole: &Hole,
    line: &HoleLine,
    greens: &[&SurveyedPiece],
    unit: LengthUnit,
    laid: &mut Laid,
) -> Option<Putting> {
    let end = line.place(hole.ground.length, Across(0.0));
    let shapes = greens.iter().flat_map(|g| &g.shapes);
    let shape = shapes.min_by(|a, b| a.distance(end).total_cmp(&b.distance(end)))?;
    let old = hole.ground.green.as_ref();
    let turned = hole.sketch.green.as_ref().map_or(0.0, |g| g.turned_deg);
    let axis_deg = line.last_heading_deg() + turned;
    let axis = Point::towards(axis_deg);
    // Of a green for two holes each has its own part; the line ends on it.
    let target = if shape.contains(end) { end } else { shape.middle() };
    let (front, back) = chord(shape, target, axis)?;
    let middle = (front + back) * 0.5;
    let (left, right) = chord(shape, middle, axis.to_the_right())?;
    let depth = front.distance(back);
    let (at, across) = line.locate(middle);
    if let Some(old) = old {
        let (was, was_across) = line.locate(old.middle);
        differ(hole, "the middle of the green", unit, [(was.0, at.0), (was_across.0, across.0)], laid);
    }
    Some(Putting {
        front: Along(at.0 - depth / 2.0),
        depth,
        width: left.distance(right),
        middle,
        front_point: front,
        back_point: back,
        axis_deg,
        outline: Polygon::simple(shape.outer.clone()),
        falls: old.and_then(|g| g.falls),
    })
}

/// Says where notebook and survey put one place more than 3 yards apart.
fn differ(hole: &Hole, what: &str, unit: LengthUnit, pairs: [(f64, f64); 2], laid: &mut Laid) {
    let [along, across] = pairs;
    if (along.0 - along.1).abs() <= ALLOWED && (across.0 - across.1).abs() <= ALLOWED {
        return;
    }
    let place = |at: f64, x: f64| format!("{}, {}", Length::yards(at).show(unit), Across(x).show(unit));
    let words = format!(
        "hole {}: the notebook has {what} at {}, the survey at {}",
        hole.number,
        place(along.0, across.0),
        place(along.1, across.1)
    );
    let advice = "measure it once more and correct the one that is wrong; shapes are the survey's meanwhile";
    laid.in_notebook.push(Diagnostic::warning(DISAGREES, hole.span, words).advise(advice));
}

/// The notebook's tees against those of the survey.
fn tees(hole: &Hole, tie: &Tie, features: &[&Element], unit: LengthUnit, laid: &mut Laid) {
    let line = hole.ground.line();
    for spot in &hole.ground.tees {
        let Some(feature) = features.iter().find(|f| {
            kind_of(&f.tags) == Kind::Tee && tee_names(&f.tags).iter().any(|n| n.eq_ignore_ascii_case(&spot.name))
        }) else {
            continue;
        };
        let Some(place) = middle(&feature.shape).map(|p| line.locate(tie.point(p))) else { continue };
        let what = format!("tee {}", spot.name);
        let pairs = [(spot.at.0, place.0.0), (spot.across.0, place.1.0)];
        differ(hole, &what, unit, pairs, laid);
    }
}

/// The line of the notebook against the line of play of the survey: its length, and where it runs between bends.
fn ends(hole: &Hole, tie: &Tie, features: &[&Element], unit: LengthUnit, laid: &mut Laid) {
    let line = hole.ground.line();
    let Some(Shape::Line(positions)) = features.iter().find(|f| kind_of(&f.tags) == Kind::Line).map(|f| &f.shape)
    else {
        return;
    };
    let points: Vec<Point> = positions.iter().map(|p| tie.point(*p)).collect();
    if let Some(last) = points.last() {
        let end = line.locate(*last);
        differ(hole, "the end of the line", unit, [(hole.ground.length.0, end.0.0), (0.0, end.1.0)], laid);
    }
    // The middle of a leg lies on both lines; a corner is cut by the notebook's.
    for leg in points.windows(2) {
        let [a, b] = leg else { continue };
        if a.distance(*b) < 80.0 {
            continue;
        }
        let (at, across) = line.locate((*a + *b) * 0.5);
        differ(hole, "its line", unit, [(at.0, at.0), (0.0, across.0)], laid);
    }
}

/// Ground beyond boundaries that are drawn as lines: the side away from the hole.
fn boundaries(tie: &Tie, features: &[&Element], line: &HoleLine, kept: &Bounds) -> Vec<SurveyedPiece> {
    let mut found = Vec::new();
    for element in features.iter().filter(|f| kind_of(&f.tags) == Kind::Out) {
        let Shape::Line(positions) = &element.shape else { continue };
        let points: Vec<Point> = positions.iter().map(|p| tie.point(*p)).collect();
        let closed = positions.first().map(|p| p.key()) == positions.last().map(|p| p.key());
        let shapes: Vec<Polygon> = if closed {
            let ring = Polygon::simple(points.iter().copied().skip(1).collect());
            let box_ring =
                [(kept.left, kept.near), (kept.left, kept.far), (kept.right, kept.far), (kept.right, kept.near)];
            let outer = box_ring.map(|(r, a)| Point::new(r, a)).to_vec();
            // A line all round the course holds the green; one round a piece of ground beyond does not.
            if ring.contains(line.place(line.length(), Across(0.0))) {
                let inner = super::clip::polygon(&ring, kept).map(|r| r.outer).into_iter().collect();
                vec![Polygon { outer, inner }]
            } else {
                super::clip::polygon(&ring, kept).into_iter().collect()
            }
        } else {
            let runs = super::clip::line(&points, kept);
            runs.iter().flat_map(|run| beyond(line, run)).collect()
        };
        if !shapes.is_empty() {
            let name = element.tags.get("name").map(str::to_owned);
            found.push(SurveyedPiece { id: element.id.clone(), name, kind: Kind::Out, shapes });
        }
    }
    found
}

/// The ground on the far side of a line, stretch by stretch.
fn beyond(line: &HoleLine, run: &[Point]) -> Vec<Polygon> {
    let mut found = Vec::new();
    for pair in run.windows(2) {
        let [a, b] = pair else { continue };
        let ((at_a, x_a), (at_b, x_b)) = (line.locate(*a), line.locate(*b));
        let side = if x_a.0 + x_b.0 < 0.0 { -1.0 } else { 1.0 };
        let far = |x: Across| Across(x.0 + side * BEYOND);
        let places = [(at_a, x_a), (at_b, x_b), (at_b, far(x_b)), (at_a, far(x_a))];
        found.extend(shapes::outline(line, &places));
    }
    found
}

/// Pieces that the notebook names as surveyed and the survey does not have; dangers of nothing.
fn unmatched(hole: &Hole, features: &[&Element], laid: &mut Laid) {
    for written in hole.sketch.pieces.iter().filter(|p| matches!(p.form, Form::Surveyed { .. })) {
        let found = features.iter().any(|f| {
            let name = f.tags.get("name").map(str::to_owned);
            let piece = SurveyedPiece { id: f.id.clone(), name, kind: kind_of(&f.tags), shapes: Vec::new() };
            same_name(written, &piece)
        });
        if !found {
            let name = written.name.as_ref().or(written.id.as_ref()).cloned().unwrap_or_default();
            let words = format!("hole {}: the survey has no {} `{name}`", hole.number, written.surface.word());
            let advice = "give it the `id` or the `name` of a feature of the ground file, or draw it";
            laid.in_notebook.push(Diagnostic::warning(NOT_SURVEYED, written.span, words).advise(advice));
        }
    }
    let known = |name: &str| {
        let alike = |other: &str| other.eq_ignore_ascii_case(name);
        alike("green")
            || hole.ground.features.iter().any(|f| alike(&f.name))
            || hole
                .sketch
                .pieces
                .iter()
                .any(|p| p.name.as_deref().is_some_and(alike) || p.id.as_deref().is_some_and(alike))
    };
    for danger in &hole.dangers {
        let Some(of) = danger.of.as_ref().filter(|of| !known(of)) else { continue };
        let words = format!("hole {}: neither notebook nor survey has `{of}`", hole.number);
        let advice = "give the danger the name of a piece of ground of this hole";
        laid.in_notebook.push(Diagnostic::warning(UNKNOWN_DANGER, danger.written.span, words).advise(advice));
    }
}
