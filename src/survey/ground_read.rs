//! A notebook's surveyed ground read back from its GeoJSON, and the surfaces of one hole in its own plane.

use super::clip;
use super::codes::{FEATURE_UNUSED, GROUND_BROKEN, feature_spans};
use super::element::{Element, Map, Shape};
use super::kind::{Kind, kind_of};
use super::read::{Format, Source, read_map};
use super::tie::Tie;
use super::track::metres;
use crate::course::{Credit, Hole};
use crate::ground::plane::Bounds;
use crate::ground::{LonLat, Polygon};
use crate::notebook::{Diagnostic, Span};

/// The width of a stream whose width is not known (open-formats 1.7).
const STREAM: f64 = metres(2.0);
/// The width of a row of trees, and the radius of a lone one.
const TREES: f64 = metres(8.0);
/// See [`TREES`].
const TREE: f64 = metres(4.0);
/// A bunker of which only the place is known.
const BUNKER: f64 = metres(5.0);

/// Surveyed ground as it was read.
#[derive(Clone, Debug, Default)]
pub struct GroundFile {
    /// Its features.
    pub map: Map,
    text: String,
    spans: Vec<Span>,
}

/// Reads surveyed ground. Gives what could be understood and every problem in the order of the file.
pub fn read_ground(name: &str, text: &str) -> (GroundFile, Vec<Diagnostic>) {
    let source = Source { name, bytes: text.as_bytes() };
    let map = match read_map(source, Format::GeoJson) {
        Ok(map) => map,
        Err(error) => {
            // The place of a reader is `NAME:LINE:COLUMN`; a diagnostic holds it as bytes.
            let mut parts = error.place.rsplit(':').map(str::parse::<usize>);
            let (column, line) = (parts.next(), parts.next());
            let at = match (line, column) {
                (Some(Ok(line)), Some(Ok(column))) => offset(text, line, column),
                _ => 0,
            };
            let problem = Diagnostic::error(GROUND_BROKEN, Span::at(at), error.what).advise(error.cure);
            return (GroundFile::default(), vec![problem]);
        }
    };
    let file = GroundFile { spans: feature_spans(text), text: text.to_owned(), map };
    let mut problems = Vec::new();
    for left in &file.map.discarded {
        let words = format!("{} is not used: {}", left.id, left.why);
        let advice = "mend its geometry in a map program, or take the feature out";
        problems.push(Diagnostic::warning(FEATURE_UNUSED, file.span(&left.id), words).advise(advice));
    }
    for element in &file.map.elements {
        let kind = kind_of(&element.tags);
        if element.tags.get("holes").is_none() && kind.surface().is_some() {
            let words = format!("{} ({}) does not say its holes and is on none", element.id, kind.word());
            let advice = "give its properties `\"holes\": [4]`, or `[]` to leave it off on purpose";
            problems.push(Diagnostic::warning(FEATURE_UNUSED, file.span(&element.id), words).advise(advice));
        }
    }
    problems.sort_by_key(|d| (d.span.start, d.span.end));
    (file, problems)
}

fn offset(text: &str, line: usize, column: usize) -> usize {
    let start = text.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum::<usize>();
    let rest = text.get(start..).unwrap_or_default();
    start + rest.char_indices().nth(column.saturating_sub(1)).map_or(rest.len(), |(at, _)| at)
}

impl GroundFile {
    /// Whose map it is.
    pub fn credit(&self) -> Option<&Credit> {
        self.map.credits.first()
    }

    /// Where a feature stands in the text; the start of the text when it is not found.
    pub fn span(&self, id: &str) -> Span {
        let nth = id.strip_prefix("feature ").and_then(|n| n.parse::<usize>().ok());
        if let Some(span) = nth.and_then(|n| self.spans.get(n.wrapping_sub(1))) {
            return self.first_line(*span);
        }
        let quoted = serde_json::Value::from(id).to_string();
        let found = self.spans.iter().find(|span| span.of(&self.text).contains(&quoted));
        found.map_or(Span::default(), |span| self.first_line(*span))
    }

    /// The first line of a feature, which is what a report shows.
    fn first_line(&self, span: Span) -> Span {
        let end = span.of(&self.text).find('\n').map_or(span.end, |at| span.start + at);
        Span::new(span.start, end)
    }

    /// The features that name a hole, by its number or its id.
    pub fn of_hole<'a>(&'a self, hole: &Hole) -> Vec<&'a Element> {
        self.map.elements.iter().filter(|element| names(element).any(|name| is(hole, name))).collect()
    }
}

/// The holes that a feature names.
pub fn names(element: &Element) -> impl Iterator<Item = &str> {
    let text = element.tags.get("holes").unwrap_or_default();
    text.split(';').map(str::trim).filter(|name| !name.is_empty())
}

/// Whether a hole is meant by a name.
pub fn is(hole: &Hole, name: &str) -> bool {
    name.parse::<u8>().is_ok_and(|n| n == hole.number) || hole.id.as_deref() == Some(name)
}

/// A piece of surveyed ground in the plane of its hole.
#[derive(Clone, Debug, PartialEq)]
pub struct SurveyedPiece {
    /// Its id.
    pub id: String,
    /// Its name, when the map gives one.
    pub name: Option<String>,
    /// What it is.
    pub kind: Kind,
    /// Its surfaces, cut to the ground round the hole.
    pub shapes: Vec<Polygon>,
}

/// The surveyed ground of one hole, in its own plane: the same plane as that of its sketch.
#[derive(Clone, Debug)]
pub struct GroundHole {
    /// How the map is tied to the hole.
    pub tie: Tie,
    /// Its pieces, greens and tees among them.
    pub pieces: Vec<SurveyedPiece>,
}

impl GroundHole {
    /// Lays the features of a hole into its plane. `round` is the ground that is kept.
    pub fn new<'a>(tie: Tie, features: impl Iterator<Item = &'a Element>, round: &Bounds) -> Self {
        let mut pieces = Vec::new();
        for element in features {
            let kind = kind_of(&element.tags);
            if kind.surface().is_none() {
                continue;
            }
            let shapes = surfaces(&tie, element, &kind, round);
            if shapes.is_empty() {
                continue;
            }
            let name = element.tags.get("name").map(str::trim).filter(|n| !n.is_empty()).map(str::to_owned);
            pieces.push(SurveyedPiece { id: element.id.clone(), name, kind, shapes });
        }
        Self { tie, pieces: copses(pieces) }
    }
}

fn surfaces(tie: &Tie, element: &Element, kind: &Kind, round: &Bounds) -> Vec<Polygon> {
    let points = |positions: &[LonLat]| positions.iter().map(|p| tie.point(*p)).collect::<Vec<_>>();
    let whole = match &element.shape {
        Shape::Area(_) => return tie.surfaces(&element.shape).iter().filter_map(|s| clip::polygon(s, round)).collect(),
        Shape::Line(positions) => {
            let width = match kind {
                Kind::Trees => TREES,
                _ => element.tags.get("width").and_then(width).unwrap_or(STREAM),
            };
            if !matches!(kind, Kind::Penalty(_) | Kind::Trees | Kind::Deep) {
                return Vec::new();
            }
            clip::line(&points(positions), round).iter().flat_map(|run| clip::with_width(run, width)).collect()
        }
        Shape::Point(position) => {
            let radius = match kind {
                Kind::Trees => TREE,
                Kind::Bunker => BUNKER,
                _ => return Vec::new(),
            };
            vec![clip::disc(tie.point(*position), radius)]
        }
    };
    whole.iter().filter_map(|s: &Polygon| clip::polygon(s, round)).collect()
}

/// A width as mappers write it, `4`, `4 m`, `12'`, in yards.
fn width(text: &str) -> Option<f64> {
    let text = text.trim();
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(text.len());
    let figure: f64 = text.get(..end)?.parse().ok()?;
    let yards = match text.get(end..)?.trim() {
        "" | "m" => metres(figure),
        "ft" | "'" => figure / 3.0,
        _ => return None,
    };
    (0.1..200.0).contains(&yards).then_some(yards)
}

/// Lone trees that stand together are one wood: each by itself would be a danger of its own.
fn copses(pieces: Vec<SurveyedPiece>) -> Vec<SurveyedPiece> {
    const TOGETHER: f64 = 15.0;
    let mut woods: Vec<SurveyedPiece> = Vec::new();
    for piece in pieces {
        let lone = |p: &SurveyedPiece| p.kind == Kind::Trees && p.name.is_none() && p.id.starts_with("node/");
        let place = piece.shapes.first().map(Polygon::middle).unwrap_or_default();
        let near = woods.iter_mut().find(|wood| {
            lone(&piece) && lone(wood) && wood.shapes.iter().any(|s| s.middle().distance(place) <= TOGETHER)
        });
        match near {
            Some(wood) => wood.shapes.extend(piece.shapes),
            None => woods.push(piece),
        }
    }
    woods
}
