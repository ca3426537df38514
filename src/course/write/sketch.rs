//! Changes to the ground of a hole: seen at once, and as the edits that write them.

use super::hole_node;
use super::notation::{band, length, side};
use crate::course::lay_out::{Drawn, Problem, lay_out};
use crate::course::model::{Form, Hole, HoleTee, Piece, SketchGreen};
use crate::ground::{Bend, Face, Surface};
use crate::notebook::edit::{Edit, Path, Value};
use crate::notebook::{Kind, Node, Span};
use crate::units::{Across, Along, LengthUnit};

/// A piece of ground as it is to be.
#[derive(Clone, Debug, PartialEq)]
pub struct NewPiece {
    /// What it is.
    pub surface: Surface,
    /// Its name.
    pub name: Option<String>,
    /// How steep, for a bunker.
    pub face: Face,
    /// How it is drawn.
    pub form: Form,
}

impl From<&Piece> for NewPiece {
    fn from(piece: &Piece) -> Self {
        Self { surface: piece.surface, name: piece.name.clone(), face: piece.face, form: piece.form.clone() }
    }
}

/// A change of the ground of one hole.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// A piece more.
    Add(NewPiece),
    /// The piece at this place of [`Sketch::pieces`](crate::course::Sketch) becomes this.
    Set(usize, NewPiece),
    /// That piece goes.
    Remove(usize),
    /// The green is this.
    Green(Box<SketchGreen>),
    /// The line turns so.
    Bends(Vec<Bend>),
    /// The ground rises and falls so along the line.
    Heights(Vec<(Along, f64)>),
    /// A tee has this length, in yards, and stands so beside the line; the green goes with the tee of the line.
    Tee {
        /// Which.
        tee: String,
        /// Along the line to the middle of the green, yards.
        length: f64,
        /// Beside the line, when that is said.
        across: Option<Across>,
    },
}

/// The key of a kind of ground under `sketch`.
pub const fn key_of(surface: Surface) -> &'static str {
    match surface {
        Surface::Out => "out",
        Surface::PenaltyRed | Surface::PenaltyYellow => "penalty",
        Surface::Bunker => "bunkers",
        Surface::Fringe => "fringe",
        Surface::Fairway | Surface::Tee | Surface::Green => "fairway",
        Surface::Trees => "trees",
        Surface::Deep => "deep",
        Surface::Waste => "waste",
        Surface::Rough => "rough",
    }
}

/// The hole as it is after `change`, laid out, with what cannot be laid out.
pub fn seen(hole: &Hole, change: &Change) -> (Hole, Vec<Problem>) {
    let mut out = hole.clone();
    match change {
        Change::Add(new) => out.sketch.pieces.push(piece(new)),
        Change::Set(index, new) => {
            if let Some(old) = out.sketch.pieces.get_mut(*index) {
                *old = Piece { id: old.id.take(), sure: old.sure, seen: old.seen.take(), span: old.span, ..piece(new) };
            }
        }
        Change::Remove(index) if *index < out.sketch.pieces.len() => drop(out.sketch.pieces.remove(*index)),
        Change::Remove(_) => {}
        Change::Green(green) => out.sketch.green = Some((**green).clone()),
        Change::Bends(bends) => out.bends.clone_from(bends),
        Change::Heights(heights) => out.heights.clone_from(heights),
        Change::Tee { tee, length, across } => {
            let is_line = *tee == out.line_from;
            match out.tees.iter_mut().find(|t| t.name == *tee) {
                Some(found) => {
                    found.length = *length;
                    found.across = across.unwrap_or(found.across);
                }
                None => out.tees.push(HoleTee {
                    name: tee.clone(),
                    length: *length,
                    at: Along(0.0),
                    across: across.unwrap_or_default(),
                    span: Span::default(),
                }),
            }
            if is_line && let Some(green) = out.sketch.green.as_mut() {
                green.front = Along(length - green.depth / 2.0);
            }
            let whole = out.sketch.green.as_ref().map_or(hole.ground.length.0, |g| g.front.0 + g.depth / 2.0);
            for tee in out.tees.iter_mut().filter(|t| is_line || t.name == *tee) {
                tee.at = Along((whole - tee.length).max(0.0));
            }
        }
    }
    let drawn = Drawn { sketch: &out.sketch, bends: &out.bends, tees: &out.tees, heights: &out.heights };
    let (ground, problems) = lay_out(drawn);
    out.ground = ground;
    (out, problems)
}

fn piece(new: &NewPiece) -> Piece {
    Piece {
        surface: new.surface,
        name: new.name.clone(),
        face: new.face,
        form: new.form.clone(),
        id: None,
        sure: None,
        seen: None,
        span: Span::default(),
    }
}

/// The edits that write `change` of `hole`, whose nodes are in `root`; `unit` is the file's.
///
/// # Errors
/// Why it cannot be written, in words.
pub fn edits(root: &Node, hole: &Hole, change: &Change, unit: LengthUnit) -> Result<Vec<Edit>, String> {
    let (path, node) = hole_node(root, hole.number).ok_or("this hole is not in the notebook")?;
    let sketch = node.get("sketch").filter(|s| !s.entries().is_empty());
    let mut edits = Vec::new();
    match change {
        Change::Add(new) => edits.push(add_to_sketch(sketch, &path, key_of(new.surface), value(new, unit), true)),
        Change::Remove(index) => {
            let (place, key, item, of) = place(sketch, &path, hole, *index)?;
            let sketch_path = path.key("sketch");
            let was = Value::from(item);
            edits.push(match (of, sketch.map_or(0, |s| s.entries().len())) {
                (1, 1) => Edit::remove(sketch_path),
                (1, _) => Edit::remove(sketch_path.key(key)).over(Value::List(vec![was])),
                _ => Edit::remove(place).over(was),
            });
        }
        Change::Set(index, new) => {
            let (place, key, item, _) = place(sketch, &path, hole, *index)?;
            let old = hole.sketch.pieces.get(*index).map(NewPiece::from).ok_or("this piece is not there")?;
            if key_of(new.surface) != key {
                return Err("a piece of another kind is a new piece".to_owned());
            }
            set_piece(&mut edits, &place, item, (&old, new), unit);
        }
        Change::Green(new) => match sketch.and_then(|s| s.get("green")).filter(|g| !g.entries().is_empty()) {
            None => edits.push(add_to_sketch(sketch, &path, "green", green_value(new, unit), false)),
            Some(node) => {
                let old = hole.sketch.green.as_ref().ok_or("the green cannot be read")?;
                set_green(&mut edits, &path.key("sketch").key("green"), node, (old, new), unit);
            }
        },
        Change::Bends(bends) => {
            let values: Vec<Value> = bends
                .iter()
                .map(|b| Value::map([("at", length(b.at.0, unit)), ("turn", side(b.turn_deg, LengthUnit::Yards))]))
                .collect();
            edits.extend(put_list(node, &path, "bends", values));
        }
        Change::Heights(heights) => {
            let values: Vec<Value> = heights
                .iter()
                .map(|(at, up)| Value::map([("at", length(at.0, unit)), ("up", length(*up, unit))]))
                .collect();
            edits.extend(put_list(node, &path, "heights", values));
        }
        Change::Tee { tee, length: yards, across } => {
            set_tee(&mut edits, node, &path, tee, (*yards, *across), unit);
            if *tee == hole.line_from
                && let (Some(green), Some(node)) = (&hole.sketch.green, sketch.and_then(|s| s.get("green")))
            {
                let front = length(yards - green.depth / 2.0, unit);
                put(&mut edits, node, &path.key("sketch").key("green"), "front", &length(green.front.0, unit), front);
            }
        }
    }
    Ok(edits)
}

fn add_to_sketch(sketch: Option<&Node>, hole: &Path, key: &str, value: Value, in_list: bool) -> Edit {
    let listed = |value: Value| if in_list { Value::List(vec![value]) } else { value };
    match sketch {
        None => Edit::add(hole.clone(), "sketch", Value::map([(key, listed(value))])),
        Some(_) if in_list => Edit::push(hole.clone().key("sketch").key(key), value),
        Some(_) => Edit::add(hole.clone().key("sketch"), key, value),
    }
}

/// Where a piece of the sketch is written: path, key of its kind, node, and how many stand in that list.
fn place<'n>(
    sketch: Option<&'n Node>,
    hole_path: &Path,
    hole: &Hole,
    index: usize,
) -> Result<(Path, &'n str, &'n Node, usize), String> {
    let missing = "this piece is not in the sketch: it comes from the surveyed ground";
    let piece = hole.sketch.pieces.get(index).ok_or(missing)?;
    for entry in sketch.map(Node::entries).unwrap_or_default() {
        let items = entry.value.items();
        if let Some(at) = items.iter().position(|item| item.span == piece.span) {
            let path = hole_path.clone().key("sketch").key(&entry.key).item(at);
            let item = items.get(at).ok_or(missing)?;
            return Ok((path, entry.key.as_str(), item, items.len()));
        }
    }
    Err(missing.to_owned())
}

const fn face_word(face: Face) -> &'static str {
    match face {
        Face::Shallow => "shallow",
        Face::Usual => "usual",
        Face::Steep => "steep",
    }
}

const fn colour_word(surface: Surface) -> Option<&'static str> {
    match surface {
        Surface::PenaltyRed => Some("red"),
        Surface::PenaltyYellow => Some("yellow"),
        _ => None,
    }
}

fn point(at: Along, across: String, unit: LengthUnit) -> Value {
    Value::map([("at", length(at.0, unit)), ("across", across)])
}

/// A form as the entries of its map; stations are a list instead.
fn form_entries(form: &Form, unit: LengthUnit) -> Vec<(String, Value)> {
    let points = |points: &[(Along, Across)]| {
        Value::List(points.iter().map(|(at, a)| point(*at, side(a.0, unit), unit)).collect())
    };
    let text = |key: &str, text: String| (key.to_owned(), Value::from(text));
    match form {
        Form::Band { from, to, across } => vec![
            text("from", length(from.0, unit)),
            text("to", length(to.0, unit)),
            text("across", band(*across, unit)),
        ],
        Form::Path { points: p, width } => vec![("path".to_owned(), points(p)), text("width", length(*width, unit))],
        Form::Outline(p) => vec![("outline".to_owned(), points(p))],
        Form::Stations(_) | Form::Surveyed { .. } => Vec::new(),
    }
}

fn stations_value(stations: &[(Along, crate::units::Band)], unit: LengthUnit) -> Value {
    Value::List(stations.iter().map(|(at, across)| point(*at, station_band(*across, unit), unit)).collect())
}

/// The edges of a station are written from left to right, also where both lie on one side.
fn station_band(band: crate::units::Band, unit: LengthUnit) -> String {
    format!("{}..{}", side(band.left, unit), side(band.right, unit))
}

/// The whole of a piece as it is written.
fn value(new: &NewPiece, unit: LengthUnit) -> Value {
    if let Form::Stations(stations) = &new.form {
        return stations_value(stations, unit);
    }
    let mut out: Vec<(String, Value)> = Vec::new();
    out.extend(new.name.iter().map(|n| ("name".to_owned(), Value::from(n.as_str()))));
    out.extend(colour_word(new.surface).map(|c| ("colour".to_owned(), Value::from(c))));
    out.extend(form_entries(&new.form, unit));
    if new.surface == Surface::Bunker && new.face != Face::Usual {
        out.push(("face".to_owned(), Value::from(face_word(new.face))));
    }
    Value::Map(out)
}

fn set_piece(edits: &mut Vec<Edit>, path: &Path, node: &Node, (old, new): (&NewPiece, &NewPiece), unit: LengthUnit) {
    let forms = (&old.form, &new.form);
    if let (Form::Stations(a), Form::Stations(b)) = forms {
        return set_points(edits, path, node, stations_value(a, unit), stations_value(b, unit));
    }
    if std::mem::discriminant(forms.0) != std::mem::discriminant(forms.1) || matches!(node.kind, Kind::List(_)) {
        edits.push(Edit::set(path.clone(), value(new, unit)).over(Value::from(node)));
        return;
    }
    let word = |key: &str, edits: &mut Vec<Edit>, old: Option<&str>, new: Option<&str>| {
        if old == new {
            return;
        }
        match (node.get(key), new) {
            (Some(there), Some(new)) => edits.push(Edit::set(path.clone().key(key), new).over(Value::from(there))),
            (None, Some(new)) => edits.push(Edit::add(path.clone(), key, new)),
            (Some(there), None) => edits.push(Edit::remove(path.clone().key(key)).over(Value::from(there))),
            (None, None) => {}
        }
    };
    word("name", edits, old.name.as_deref(), new.name.as_deref());
    word("colour", edits, colour_word(old.surface), colour_word(new.surface));
    let face = |piece: &NewPiece| (piece.face != Face::Usual).then(|| face_word(piece.face));
    if new.surface == Surface::Bunker {
        word("face", edits, face(old), face(new));
    }
    for ((key, was), (_, is)) in form_entries(&old.form, unit).into_iter().zip(form_entries(&new.form, unit)) {
        let Some(there) = node.get(&key) else { continue };
        match (&was, &is) {
            _ if was == is => {}
            (Value::List(_), Value::List(_)) => set_points(edits, &path.clone().key(&key), there, was, is),
            _ => edits.push(Edit::set(path.clone().key(&key), is).over(Value::from(there))),
        }
    }
}

/// Points of a path, an outline or stations: where as many stay, only the numbers that differ.
fn set_points(edits: &mut Vec<Edit>, path: &Path, node: &Node, was: Value, is: Value) {
    let (Value::List(a), Value::List(b)) = (was, is) else { return };
    if a.len() != b.len() || node.items().len() != b.len() {
        edits.push(Edit::set(path.clone(), Value::List(b)).over(Value::from(node)));
        return;
    }
    for (index, ((a, b), item)) in a.into_iter().zip(b).zip(node.items()).enumerate() {
        let (Value::Map(a), Value::Map(b)) = (a, b) else { continue };
        for ((key, old), (_, new)) in a.into_iter().zip(b) {
            if let Some(there) = item.get(&key).filter(|_| old != new) {
                edits.push(Edit::set(path.clone().item(index).key(&key), new).over(Value::from(there)));
            }
        }
    }
}

/// A text of a map becomes `new` where it differs from `old`; it is added where it is not written.
fn put(edits: &mut Vec<Edit>, node: &Node, path: &Path, key: &str, old: &str, new: String) {
    if old == new {
        return;
    }
    edits.push(match node.get(key) {
        Some(there) => Edit::set(path.clone().key(key), new).over(Value::from(there)),
        None => Edit::add(path.clone(), key, new),
    });
}

fn put_list(node: &Node, path: &Path, key: &str, values: Vec<Value>) -> Vec<Edit> {
    match node.get(key) {
        Some(there) if values.is_empty() => vec![Edit::remove(path.clone().key(key)).over(Value::from(there))],
        // One more at the end leaves the others as they are written.
        Some(there) if there.items().len() + 1 == values.len() && starts_with(&values, there) => {
            values.into_iter().next_back().map(|v| Edit::push(path.clone().key(key), v)).into_iter().collect()
        }
        Some(there) => vec![Edit::set(path.clone().key(key), Value::List(values)).over(Value::from(there))],
        None if values.is_empty() => Vec::new(),
        None => vec![Edit::add(path.clone(), key, Value::List(values))],
    }
}

fn starts_with(values: &[Value], there: &Node) -> bool {
    there.items().iter().zip(values).all(|(node, value)| Value::from(node) == *value)
}

fn falls_value((percent, towards): (f64, f64)) -> Value {
    let figure = |v: f64| length(v, LengthUnit::Yards);
    Value::map([("percent", figure(percent)), ("towards", figure(towards))])
}

fn green_value(green: &SketchGreen, unit: LengthUnit) -> Value {
    let mut out: Vec<(String, Value)> = Vec::new();
    let mut text = |key: &str, text: String| out.push((key.to_owned(), Value::from(text)));
    text("front", length(green.front.0, unit));
    text("depth", length(green.depth, unit));
    text("width", length(green.width, unit));
    if green.across.0 != 0.0 {
        text("across", side(green.across.0, unit));
    }
    if green.turned_deg != 0.0 {
        text("turned", side(green.turned_deg, LengthUnit::Yards));
    }
    if let Some(up) = green.up {
        text("up", length(up, unit));
    }
    out.extend(green.falls.map(|f| ("falls".to_owned(), falls_value(f))));
    Value::Map(out)
}

fn set_green(
    edits: &mut Vec<Edit>,
    path: &Path,
    node: &Node,
    (old, new): (&SketchGreen, &SketchGreen),
    unit: LengthUnit,
) {
    for (key, a, b) in [
        ("front", length(old.front.0, unit), length(new.front.0, unit)),
        ("depth", length(old.depth, unit), length(new.depth, unit)),
        ("width", length(old.width, unit), length(new.width, unit)),
        ("across", side(old.across.0, unit), side(new.across.0, unit)),
        ("turned", side(old.turned_deg, LengthUnit::Yards), side(new.turned_deg, LengthUnit::Yards)),
    ] {
        put(edits, node, path, key, &a, b);
    }
    if let Some(up) = new.up.filter(|_| old.up != new.up) {
        put(edits, node, path, "up", "", length(up, unit));
    }
    let falls = new.falls.filter(|_| old.falls != new.falls);
    match (falls, node.get("falls")) {
        (Some(falls), None) => edits.push(Edit::add(path.clone(), "falls", falls_value(falls))),
        (Some((percent, towards)), Some(there)) => {
            let place = path.clone().key("falls");
            let figure = |v: f64| length(v, LengthUnit::Yards);
            let was = old.falls.map(|(p, t)| (figure(p), figure(t))).unwrap_or_default();
            put(edits, there, &place, "percent", &was.0, figure(percent));
            put(edits, there, &place, "towards", &was.1, figure(towards));
        }
        (None, _) => {}
    }
}

fn set_tee(
    edits: &mut Vec<Edit>,
    hole: &Node,
    path: &Path,
    tee: &str,
    (yards, across): (f64, Option<Across>),
    unit: LengthUnit,
) {
    let place = path.clone().key("tees").key(tee);
    let figure = length(yards, unit);
    match hole.get("tees").and_then(|t| t.get(tee)) {
        None => {
            let mut out = vec![("length", figure)];
            out.extend(across.map(|a| ("across", side(a.0, unit))));
            edits.push(Edit::add(path.clone().key("tees"), tee, Value::map(out)));
        }
        Some(node) if node.text().is_some() => match across {
            None => edits.push(Edit::set(place, figure).over(Value::from(node))),
            Some(a) => {
                let whole = Value::map([("length", figure), ("across", side(a.0, unit))]);
                edits.push(Edit::set(place, whole).over(Value::from(node)));
            }
        },
        Some(node) => {
            let was = |key: &str| node.get(key).and_then(Node::text).unwrap_or_default();
            put(edits, node, &place, "length", was("length"), figure);
            if let Some(a) = across {
                put(edits, node, &place, "across", was("across"), side(a.0, unit));
            }
        }
    }
}
