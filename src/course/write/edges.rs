//! The edges of a shape that a person moves one at a time, and the shape on the other side of the line.

use crate::course::model::{Form, SketchGreen};
use crate::units::{Across, Along, Band};

/// An edge of a shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edge {
    /// All of it.
    Whole,
    /// Where it begins along the line.
    From,
    /// Where it ends.
    To,
    /// Its left edge; of a station by its number.
    Left(usize),
    /// Its right edge.
    Right(usize),
    /// A point of a path or an outline; the place of a station along the line.
    Point(usize),
    /// Its width.
    Width,
}

impl Edge {
    /// What it is called.
    pub fn word(self) -> String {
        match self {
            Self::Whole => "all of it".to_owned(),
            Self::From => "near edge".to_owned(),
            Self::To => "far edge".to_owned(),
            Self::Left(_) => "left edge".to_owned(),
            Self::Right(_) => "right edge".to_owned(),
            Self::Point(i) => format!("place {}", i + 1),
            Self::Width => "width".to_owned(),
        }
    }
}

/// The edges of a form in the order in which they are gone through.
pub fn edges(form: &Form) -> Vec<Edge> {
    let mut out = vec![Edge::Whole];
    match form {
        Form::Band { across, .. } => {
            out.extend([Edge::From, Edge::To]);
            out.extend(across.left.is_finite().then_some(Edge::Left(0)));
            out.extend(across.right.is_finite().then_some(Edge::Right(0)));
        }
        Form::Path { points, .. } => {
            out.extend((0..points.len()).map(Edge::Point));
            out.push(Edge::Width);
        }
        Form::Outline(points) => out.extend((0..points.len()).map(Edge::Point)),
        Form::Stations(stations) => {
            out.extend((0..stations.len()).flat_map(|i| [Edge::Point(i), Edge::Left(i), Edge::Right(i)]));
        }
        Form::Surveyed { .. } => out.clear(),
    }
    out
}

/// Where an edge of a form is: a place of the hole for the mark on the drawing.
pub fn place(form: &Form, edge: Edge) -> Option<(Along, Across)> {
    let middle = |b: Band| match (b.left.is_finite(), b.right.is_finite()) {
        (true, true) => (b.left + b.right) / 2.0,
        (true, false) => b.left,
        _ => b.right,
    };
    Some(match form {
        Form::Band { from, to, across } => {
            let half = Along((from.0 + to.0) / 2.0);
            match edge {
                Edge::From => (*from, Across(middle(*across))),
                Edge::To => (*to, Across(middle(*across))),
                Edge::Left(_) => (half, Across(across.left)),
                Edge::Right(_) => (half, Across(across.right)),
                _ => (half, Across(middle(*across))),
            }
        }
        Form::Path { points, .. } | Form::Outline(points) => match edge {
            Edge::Point(i) => *points.get(i)?,
            _ => *points.get(points.len() / 2)?,
        },
        Form::Stations(stations) => {
            let (Edge::Point(i) | Edge::Left(i) | Edge::Right(i)) = edge else {
                let (at, band) = stations.get(stations.len() / 2)?;
                return Some((*at, Across(middle(*band))));
            };
            let (at, band) = stations.get(i)?;
            let across = match edge {
                Edge::Left(_) => band.left,
                Edge::Right(_) => band.right,
                _ => middle(*band),
            };
            (*at, Across(across))
        }
        Form::Surveyed { .. } => return None,
    })
}

/// The form with an edge moved by so many yards along and across. A band that would end before it begins stays as it is.
pub fn moved(form: &Form, edge: Edge, along: f64, across: f64) -> Form {
    let mut out = form.clone();
    let shift = |p: &mut (Along, Across)| {
        p.0.0 += along;
        p.1.0 += across;
    };
    match (&mut out, edge) {
        (Form::Band { from, to, across: band }, Edge::Whole) => {
            from.0 += along;
            to.0 += along;
            band.left += across;
            band.right += across;
        }
        (Form::Band { from, .. }, Edge::From) => from.0 += along,
        (Form::Band { to, .. }, Edge::To) => to.0 += along,
        (Form::Band { across: band, .. }, Edge::Left(_)) => band.left += across,
        (Form::Band { across: band, .. }, Edge::Right(_)) => band.right += across,
        (Form::Path { points, .. } | Form::Outline(points), Edge::Whole) => points.iter_mut().for_each(shift),
        (Form::Path { points, .. } | Form::Outline(points), Edge::Point(i)) => {
            if let Some(p) = points.get_mut(i) {
                shift(p);
            }
        }
        (Form::Path { width, .. }, Edge::Width) => *width = (*width - across).max(1.0),
        (Form::Stations(stations), Edge::Whole) => {
            for (at, band) in stations {
                at.0 += along;
                band.left += across;
                band.right += across;
            }
        }
        (Form::Stations(stations), Edge::Point(i)) => {
            if let Some((at, band)) = stations.get_mut(i) {
                at.0 += along;
                band.left += across;
                band.right += across;
            }
        }
        (Form::Stations(stations), Edge::Left(i)) => {
            if let Some((at, band)) = stations.get_mut(i) {
                at.0 += along;
                band.left += across;
            }
        }
        (Form::Stations(stations), Edge::Right(i)) => {
            if let Some((at, band)) = stations.get_mut(i) {
                at.0 += along;
                band.right += across;
            }
        }
        _ => {}
    }
    if is_sound(&out) { out } else { form.clone() }
}

fn is_sound(form: &Form) -> bool {
    match form {
        Form::Band { from, to, across } => from.0 < to.0 && across.left < across.right,
        Form::Stations(stations) => {
            stations.iter().all(|(_, b)| b.left < b.right)
                && stations.windows(2).all(|w| matches!(w, [(a, _), (b, _)] if a.0 < b.0))
        }
        _ => true,
    }
}

/// The form on the other side of the line.
pub fn mirrored(form: &Form) -> Form {
    let flip = |b: Band| Band { left: -b.right, right: -b.left };
    let points = |points: &[(Along, Across)]| points.iter().map(|(at, a)| (*at, Across(-a.0 + 0.0))).collect();
    match form {
        Form::Stations(stations) => Form::Stations(stations.iter().map(|(at, b)| (*at, flip(*b))).collect()),
        Form::Band { from, to, across } => Form::Band { from: *from, to: *to, across: flip(*across) },
        Form::Path { points: p, width } => Form::Path { points: points(p), width: *width },
        Form::Outline(p) => Form::Outline(points(p)),
        other => other.clone(),
    }
}

/// An edge of the green that is moved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GreenEdge {
    /// All of it beside the line.
    Whole,
    /// Its front edge.
    Front,
    /// Its back edge.
    Back,
    /// Its width.
    Width,
    /// Its axis.
    Turned,
}

impl GreenEdge {
    /// In the order in which they are gone through.
    pub const ALL: [Self; 5] = [Self::Whole, Self::Front, Self::Back, Self::Width, Self::Turned];

    /// What it is called.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Whole => "all of it",
            Self::Front => "front edge",
            Self::Back => "back edge",
            Self::Width => "width",
            Self::Turned => "its axis",
        }
    }
}

/// The green with an edge moved by so many yards; its axis by as many degrees.
pub fn green_moved(green: &SketchGreen, edge: GreenEdge, along: f64, across: f64) -> SketchGreen {
    let mut out = green.clone();
    match edge {
        GreenEdge::Whole => {
            out.front.0 += along;
            out.across.0 += across;
        }
        GreenEdge::Front => {
            out.front.0 += along;
            out.depth -= along;
        }
        GreenEdge::Back => out.depth += along,
        // Up is wider, as a wider green reaches further up the drawing.
        GreenEdge::Width => out.width -= across,
        GreenEdge::Turned => out.turned_deg += across,
    }
    if out.depth >= 5.0 && out.width >= 5.0 { out } else { green.clone() }
}
