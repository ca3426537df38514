//! Ground by numbers along the line: pieces in their three forms, fairways by stations, the green.

use super::hole::UP;
use crate::course::codes::{COLOUR_ASSUMED, NOT_IN_ORDER, PIECE_FORM, TOO_FEW_POINTS, UNEVEN_GRID};
use crate::course::decode::{Bounds, Fields, RANGE_BACKWARDS, Reader};
use crate::course::model::{Form, HeightGrid, Piece, Sketch, SketchGreen};
use crate::course::written::Sure;
use crate::ground::{Face, Surface};
use crate::notebook::{Kind, Node, Span};
use crate::units::{Across, Along};

/// Keys of a sketch: the kinds of ground, and the green.
pub const KEYS: &[&str] =
    &["fairway", "fringe", "bunkers", "penalty", "trees", "deep", "waste", "rough", "out", "green"];
/// Keys of any piece of ground.
pub const PIECE_KEYS: &[&str] = &["name", "id", "from", "to", "across", "path", "width", "outline", "sure", "seen"];
/// Keys of a bunker.
pub const BUNKER_KEYS: &[&str] =
    &["name", "id", "from", "to", "across", "path", "width", "outline", "sure", "seen", "face"];
/// Keys of a penalty area.
pub const PENALTY_KEYS: &[&str] =
    &["name", "id", "from", "to", "across", "path", "width", "outline", "sure", "seen", "colour"];
/// Keys of a point of a path, an outline or a station.
pub const POINT_KEYS: &[&str] = &["at", "across"];
/// Keys of the green.
pub const GREEN_KEYS: &[&str] =
    &["front", "depth", "width", "across", "turned", "up", "falls", "slopes", "height_grid", "sure", "seen"];
/// Keys of the fall of the whole green.
pub const FALL_KEYS: &[&str] = &["percent", "towards"];
/// Keys of a fall at a spot.
pub const SLOPE_KEYS: &[&str] = &["at", "across", "percent", "towards"];
/// Keys of a grid of heights.
pub const GRID_KEYS: &[&str] = &["every", "rows"];

/// Words of how well a number is known.
pub const SURE: &[(&str, Sure)] =
    &[("paced", Sure::Paced), ("laser", Sure::Laser), ("map", Sure::Map), ("guess", Sure::Guess)];
const FACES: &[(&str, Face)] = &[("shallow", Face::Shallow), ("usual", Face::Usual), ("steep", Face::Steep)];
const COLOURS: &[(&str, Surface)] = &[("red", Surface::PenaltyRed), ("yellow", Surface::PenaltyYellow)];

const WIDTH: Bounds = Bounds::new("a width", 0.5, 500.0);
/// Yards; the smallest and largest greens that are mown lie well inside.
const GREEN_SIZE: Bounds = Bounds::new("the size of a green", 5.0, 100.0);
const PERCENT: Bounds = Bounds::new("the fall of a green in per cent", 0.0, 20.0);
const CLOCK: Bounds = Bounds::new("an hour of the clock face", 1.0, 12.9);
const SPACING: Bounds = Bounds::new("the spacing of a grid", 0.5, 50.0);

/// Reads a sketch.
pub fn sketch(r: &mut Reader, node: &Node, number: u8, survey: bool) -> Option<Sketch> {
    let fields = r.fields(node, &format!("the sketch of hole {number}"), KEYS)?;
    let mut sketch = Sketch::default();
    let kinds = [
        ("out", Surface::Out),
        ("penalty", Surface::PenaltyYellow),
        ("bunkers", Surface::Bunker),
        ("fringe", Surface::Fringe),
        ("fairway", Surface::Fairway),
        ("trees", Surface::Trees),
        ("deep", Surface::Deep),
        ("waste", Surface::Waste),
        ("rough", Surface::Rough),
    ];
    for (key, surface) in kinds {
        let pieces = fields.read(r, key, |r, n, k| {
            Some(r.items(n, k).iter().filter_map(|item| piece(r, item, surface, survey)).collect::<Vec<_>>())
        });
        sketch.pieces.extend(pieces.unwrap_or_default());
    }
    sketch.pieces.sort_by_key(|piece| piece.span.start);
    sketch.green = fields.read(r, "green", |r, n, _| green(r, n, number));
    Some(sketch)
}

fn piece(r: &mut Reader, node: &Node, surface: Surface, survey: bool) -> Option<Piece> {
    let (noun, keys) = match surface {
        Surface::Bunker => ("a bunker", BUNKER_KEYS),
        Surface::PenaltyRed | Surface::PenaltyYellow => ("a penalty area", PENALTY_KEYS),
        Surface::Fairway => ("a fairway", PIECE_KEYS),
        _ => ("a piece of ground", PIECE_KEYS),
    };
    let bare = |form| Piece {
        surface,
        name: None,
        face: Face::default(),
        form,
        id: None,
        sure: None,
        seen: None,
        span: node.span,
    };
    if let (Surface::Fairway, Kind::List(stations)) = (surface, &node.kind) {
        return stations_form(r, stations, node.span).map(bare);
    }
    if let (Surface::Fairway, Kind::Map(entries)) = (surface, &node.kind)
        && entries.iter().all(|e| e.key == "at" || e.key == "across")
    {
        let message = "a fairway is a list of stations, and this is a station alone";
        r.error(
            PIECE_FORM,
            node.span,
            message,
            "put the stations of one fairway into brackets: `- [ { at: …, across: … }, … ]`",
        );
        return None;
    }
    let fields = r.fields(node, noun, keys)?;
    // With surveyed ground a piece may be named alone, to give it a face or a name of its own.
    let named = survey && (fields.get("name").is_some() || fields.get("id").is_some()) && formless(&fields);
    let form = if named { Some(Form::Surveyed { coloured: colour_given(&fields) }) } else { form(r, &fields) };
    let face = if surface == Surface::Bunker { fields.read(r, "face", |r, n, k| r.word(n, k, FACES)) } else { None };
    let surface = if surface == Surface::PenaltyYellow { penalty_colour(r, &fields, named) } else { surface };
    Some(Piece {
        surface,
        name: fields.read(r, "name", Reader::text),
        face: face.unwrap_or_default(),
        id: fields.id(),
        sure: fields.read(r, "sure", |r, n, k| r.word(n, k, SURE)),
        seen: fields.read(r, "seen", Reader::date),
        ..bare(form?)
    })
}

/// The colour of a penalty area; without one it is yellow (Rules of Golf 2023, 17.1a).
fn penalty_colour(r: &mut Reader, fields: &Fields<'_>, surveyed: bool) -> Surface {
    if !colour_given(fields) && !surveyed {
        let message = "this penalty area has no colour and is taken as yellow (Rule 17.1a)";
        r.warning(COLOUR_ASSUMED, fields.span, message, "add `colour: red` or `colour: yellow`");
    }
    fields.read(r, "colour", |r, n, k| r.word(n, k, COLOURS)).unwrap_or(Surface::PenaltyYellow)
}

/// A key that only penalty areas have, asked of any piece.
fn colour_given(fields: &Fields<'_>) -> bool {
    fields.has("colour")
}

fn formless(fields: &Fields<'_>) -> bool {
    ["from", "to", "across", "path", "width", "outline"].into_iter().all(|key| fields.get(key).is_none())
}

fn form(r: &mut Reader, fields: &Fields<'_>) -> Option<Form> {
    let has = |key| fields.get(key).is_some();
    let band = has("from") || has("to") || has("across");
    let path = has("path") || has("width");
    let advice = "give `from`, `to` and `across`, or a `path` with its `width`, or an `outline`";
    match (band, path, has("outline")) {
        (true, false, false) => {
            let from = fields.need(r, "from", "from: 238", Reader::along);
            let to = fields.need(r, "to", "to: 256", Reader::along);
            let across = fields.need(r, "across", "across: 13L..27L", Reader::band);
            let (from, to) = (from?, to?);
            if from.0 >= to.0 {
                r.error(
                    RANGE_BACKWARDS,
                    fields.place("to"),
                    format!("{} ends before it begins", fields.noun),
                    "write the nearer end as `from`",
                );
                return None;
            }
            Some(Form::Band { from, to, across: across? })
        }
        (false, true, false) => {
            let points =
                fields.need(r, "path", "path: [ { at: 0, across: 40R }, { at: 330, across: 52R } ]", |r, n, k| {
                    points(r, n, k, 2)
                });
            let width = fields.need(r, "width", "width: 8", |r, n, k| r.length(n, k, WIDTH));
            Some(Form::Path { points: points?, width: width? })
        }
        (false, false, true) => fields.read(r, "outline", |r, n, k| points(r, n, k, 3)).map(Form::Outline),
        (false, false, false) => {
            r.error(PIECE_FORM, fields.span, format!("{} has no form", fields.noun), advice);
            None
        }
        _ => {
            r.error(PIECE_FORM, fields.span, format!("{} has more than one form", fields.noun), advice);
            None
        }
    }
}

fn points(r: &mut Reader, node: &Node, key: &str, least: usize) -> Option<Vec<(Along, Across)>> {
    let items = r.items(node, key);
    let mut points = Vec::new();
    for item in items {
        let Some(fields) = r.fields(item, "a point", POINT_KEYS) else { continue };
        let at = fields.need(r, "at", "at: 195", Reader::along);
        let across = fields.need(r, "across", "across: 40R", Reader::across);
        points.extend(at.zip(across));
    }
    enough(r, items.len(), least, node.span, key)?;
    (points.len() == items.len()).then_some(points)
}

fn enough(r: &mut Reader, found: usize, least: usize, span: Span, key: &str) -> Option<()> {
    if found >= least {
        return Some(());
    }
    let message = format!("`{key}` has {found} point{}", if found == 1 { "" } else { "s" });
    r.error(TOO_FEW_POINTS, span, message, format!("it needs at least {least}"));
    None
}

fn stations_form(r: &mut Reader, nodes: &[Node], span: Span) -> Option<Form> {
    let mut stations = Vec::new();
    for node in nodes {
        let Some(fields) = r.fields(node, "a station of the fairway", POINT_KEYS) else { continue };
        let at = fields.need(r, "at", "at: 195", Reader::along);
        let across = fields.need(r, "across", "across: 14L..16R", Reader::band);
        let Some((at, across)) = at.zip(across) else { continue };
        if stations.last().is_some_and(|(before, _): &(Along, _)| before.0 >= at.0) {
            let message = "the stations of a fairway do not go forward here";
            r.error(NOT_IN_ORDER, fields.place("at"), message, "write them in the order in which they are walked");
            return None;
        }
        stations.push((at, across));
    }
    enough(r, nodes.len(), 2, span, "fairway")?;
    (stations.len() == nodes.len()).then_some(Form::Stations(stations))
}

fn green(r: &mut Reader, node: &Node, number: u8) -> Option<SketchGreen> {
    let fields = r.fields(node, &format!("the green of hole {number}"), GREEN_KEYS)?;
    let front = fields.need(r, "front", "front: 412", Reader::along);
    let depth = fields.need(r, "depth", "depth: 31", |r, n, k| r.length(n, k, GREEN_SIZE));
    let width = fields.need(r, "width", "width: 24", |r, n, k| r.length(n, k, GREEN_SIZE));
    let across = fields.read(r, "across", Reader::across).unwrap_or_default();
    let turned = fields.read(r, "turned", Reader::turn).unwrap_or_default();
    let up = fields.read(r, "up", |r, n, k| r.length(n, k, UP));
    let falls = fields.read(r, "falls", |r, n, _| {
        let fields = r.fields(n, "`falls`", FALL_KEYS)?;
        fall(r, &fields)
    });
    let slopes = fields.read(r, "slopes", |r, n, k| Some(slopes(r, n, k))).unwrap_or_default();
    let height_grid = fields.read(r, "height_grid", |r, n, _| height_grid(r, n));
    let sure = fields.read(r, "sure", |r, n, k| r.word(n, k, SURE));
    let seen = fields.read(r, "seen", Reader::date);
    Some(SketchGreen {
        front: front?,
        depth: depth?,
        width: width?,
        across,
        turned_deg: turned,
        up,
        falls,
        slopes,
        height_grid,
        sure,
        seen,
        span: fields.place("front"),
    })
}

fn fall(r: &mut Reader, fields: &Fields<'_>) -> Option<(f64, f64)> {
    let percent = fields.need(r, "percent", "percent: 1.8", |r, n, k| r.number(n, k, PERCENT));
    let towards = fields.need(r, "towards", "towards: 7", |r, n, k| r.number(n, k, CLOCK));
    Some((percent?, towards?))
}

fn slopes(r: &mut Reader, node: &Node, key: &str) -> Vec<(Along, Across, f64, f64)> {
    let mut slopes = Vec::new();
    for item in r.items(node, key) {
        let Some(fields) = r.fields(item, "a slope", SLOPE_KEYS) else { continue };
        let at = fields.need(r, "at", "at: 420", Reader::along);
        let across = fields.need(r, "across", "across: 3L", Reader::across);
        let fall = fall(r, &fields);
        if let (Some(at), Some(across), Some((percent, towards))) = (at, across, fall) {
            slopes.push((at, across, percent, towards));
        }
    }
    slopes
}

fn height_grid(r: &mut Reader, node: &Node) -> Option<HeightGrid> {
    let fields = r.fields(node, "`height_grid`", GRID_KEYS)?;
    let every = fields.need(r, "every", "every: 5", |r, n, k| r.length(n, k, SPACING));
    let rows = fields.need(r, "rows", "rows: [ [ 0, 0.1 ], [ 0.2, 0.3 ] ]", |r, n, k| {
        let mut rows = Vec::new();
        for row in r.items(n, k) {
            let values = r.items(row, k).iter().map(|v| r.length(v, k, UP)).collect::<Vec<_>>();
            rows.push(values.into_iter().collect::<Option<Vec<f64>>>()?);
        }
        Some(rows)
    })?;
    let columns = rows.first().map_or(0, Vec::len);
    if rows.len() < 2 || columns < 2 || rows.iter().any(|row| row.len() != columns) {
        let message = "the rows of a grid of heights are not all of one length, or too few";
        r.error(
            UNEVEN_GRID,
            fields.place("rows"),
            message,
            "give at least two rows from front to back, each from left to right",
        );
        return None;
    }
    Some(HeightGrid { every: every?, rows })
}
