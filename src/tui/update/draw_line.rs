//! The line typed on the Draw page: what change it is so far, or what is still missing.

use crate::course::write::NewHole;
use crate::course::write::notation::{Count, Part, length, parts, shape, side, typed};
use crate::course::write::sketch::{Change, NewPiece};
use crate::course::{Course, Form, Hole, SketchGreen};
use crate::ground::{Bend, Face, Surface};
use crate::notebook::Span;
use crate::tui::state::{EntryFor, Picked};
use crate::units::{Across, Along, LengthUnit};

/// Within this of each other two places along the line are the same bend, yards.
const SAME: f64 = 0.5;

/// Reads the line as a change of `hole`.
///
/// # Errors
/// What is missing or wrong, as a hint for the one who types.
pub fn change(hole: &Hole, what: EntryFor, text: &str, count: Count) -> Result<Change, String> {
    match what {
        EntryFor::Piece(surface) => piece(surface, None, text, count).map(Change::Add),
        EntryFor::Picked(Picked::Piece(index)) => {
            let old = hole.sketch.pieces.get(index).ok_or("this piece is not there any more")?;
            piece(old.surface, Some(NewPiece::from(old)), text, count).map(|new| Change::Set(index, new))
        }
        EntryFor::Green | EntryFor::Picked(Picked::Green) => green(hole, text, count),
        EntryFor::Falls => falls(hole, text),
        EntryFor::Bend => bend(hole, text, count),
        EntryFor::Height => height(hole, text, count),
        EntryFor::Tee => tee(hole, text, count),
        EntryFor::Length => {
            let (numbers, _, _) = sorted(text, count.unit);
            let figure = numbers.first().filter(|_| numbers.len() == 1).ok_or("one number: the length from its tee")?;
            let yards = figure * count.unit.in_yards();
            Ok(Change::Tee { tee: hole.line_from.clone(), length: yards, across: None })
        }
        EntryFor::NewHole => Err(String::new()),
    }
}

fn sorted(text: &str, unit: LengthUnit) -> (Vec<f64>, Vec<f64>, Vec<String>) {
    let (mut numbers, mut sides, mut words) = (Vec::new(), Vec::new(), Vec::new());
    for part in parts(text, unit) {
        match part {
            Part::Number(n) => numbers.push(n),
            Part::Side(s) => sides.push(s),
            Part::Word(w) => words.push(w),
        }
    }
    (numbers, sides, words)
}

fn piece(surface: Surface, old: Option<NewPiece>, text: &str, count: Count) -> Result<NewPiece, String> {
    let stations = surface == Surface::Fairway && old.as_ref().is_none_or(|old| matches!(old.form, Form::Stations(_)));
    let read = shape(text, count, stations)?;
    let mut out = NewPiece { surface, name: None, face: Face::Usual, form: read.form };
    let mut name: Vec<String> = Vec::new();
    for word in read.words {
        match (word.as_str(), surface) {
            ("steep", Surface::Bunker) => out.face = Face::Steep,
            ("shallow", Surface::Bunker) => out.face = Face::Shallow,
            ("usual", Surface::Bunker) => out.face = Face::Usual,
            ("red", Surface::PenaltyRed | Surface::PenaltyYellow) => out.surface = Surface::PenaltyRed,
            ("yellow", Surface::PenaltyRed | Surface::PenaltyYellow) => out.surface = Surface::PenaltyYellow,
            _ => name.push(word),
        }
    }
    if stations && !name.is_empty() {
        return Err("a fairway of stations has no name".to_owned());
    }
    out.name = (!name.is_empty()).then(|| name.join(" "));
    Ok(out)
}

fn green(hole: &Hole, text: &str, count: Count) -> Result<Change, String> {
    let (numbers, _, _) = sorted(text, count.unit);
    // The turn is in degrees, whatever the unit of the file is.
    let (_, plain, words) = sorted(text, LengthUnit::Yards);
    if !words.is_empty() {
        return Err("the green is typed in figures: 412 31 24 2R 15R".to_owned());
    }
    let yard = count.unit.in_yards();
    let (front, depth, width) = match numbers.as_slice() {
        [depth, width] => {
            let depth = depth * yard;
            (Along(whole_length(hole) - depth / 2.0), depth, width * yard)
        }
        [front, depth, width] => (count.along(*front), depth * yard, width * yard),
        _ => {
            return Err(
                "its depth and its width: 31 24; its front before them if the length does not say it".to_owned()
            );
        }
    };
    let old = hole.sketch.green.clone();
    let blank = SketchGreen {
        front,
        depth,
        width,
        across: Across(0.0),
        turned_deg: 0.0,
        up: None,
        falls: None,
        slopes: Vec::new(),
        height_grid: None,
        sure: None,
        seen: None,
        span: Span::default(),
    };
    let keep = old.as_ref().map(|g| (g.across, g.turned_deg)).unwrap_or_default();
    Ok(Change::Green(Box::new(SketchGreen {
        front,
        depth,
        width,
        across: plain.first().map_or(keep.0, |s| Across(s * yard)),
        turned_deg: plain.get(1).copied().unwrap_or(keep.1),
        ..old.unwrap_or(blank)
    })))
}

/// The length of the line as its tee has it, yards.
fn whole_length(hole: &Hole) -> f64 {
    hole.tee(&hole.line_from).map_or(hole.ground.length.0, |t| t.at.0 + t.length)
}

fn falls(hole: &Hole, text: &str) -> Result<Change, String> {
    let Some(old) = &hole.sketch.green else { return Err("the green comes first: g".to_owned()) };
    let (numbers, _, _) = sorted(text, LengthUnit::Yards);
    match numbers.as_slice() {
        [percent, towards] => {
            Ok(Change::Green(Box::new(SketchGreen { falls: Some((*percent, *towards)), ..old.clone() })))
        }
        _ => Err("per cent and the hour towards which it falls: 1.8 7 (12 is straight on, 6 back to you)".to_owned()),
    }
}

fn bend(hole: &Hole, text: &str, count: Count) -> Result<Change, String> {
    let (numbers, _, _) = sorted(text, count.unit);
    let (_, turns, _) = sorted(text, LengthUnit::Yards);
    let hint = "where the line turns and by how many degrees: 262 18R";
    let at = count.along(*numbers.first().ok_or(hint)?);
    let mut bends = hole.bends.clone();
    bends.retain(|b| (b.at.0 - at.0).abs() > SAME);
    match (turns.as_slice(), numbers.get(1)) {
        ([turn], None) => bends.push(Bend { at, turn_deg: *turn }),
        ([], Some(zero)) if *zero == 0.0 => {}
        _ => return Err(hint.to_owned()),
    }
    bends.sort_by(|a, b| a.at.0.total_cmp(&b.at.0));
    Ok(Change::Bends(bends))
}

fn height(hole: &Hole, text: &str, count: Count) -> Result<Change, String> {
    let (numbers, _, _) = sorted(text, count.unit);
    let [at, up] = numbers.as_slice() else {
        return Err("a place along the line and its height against the start: 262 -4".to_owned());
    };
    let at = count.along(*at);
    let mut heights = hole.heights.clone();
    heights.retain(|(place, _)| (place.0 - at.0).abs() > SAME);
    heights.push((at, up * count.unit.in_yards()));
    if heights.iter().all(|(place, _)| place.0 > SAME) {
        heights.push((Along(0.0), 0.0));
    }
    heights.sort_by(|a, b| a.0.0.total_cmp(&b.0.0));
    Ok(Change::Heights(heights))
}

fn tee(hole: &Hole, text: &str, count: Count) -> Result<Change, String> {
    // A tee may be named by a number, so the figures are those behind its name.
    let hint = "its name, its length, and its side if it stands beside the line: Club 401 3L";
    let text = text.trim();
    let named = hole.tees.iter().map(|t| t.name.as_str()).filter(|name| text.starts_with(*name));
    let name = named.max_by_key(|name| name.len()).map(str::to_owned);
    let name = name.unwrap_or_else(|| text.split_whitespace().next().unwrap_or_default().to_owned());
    let (numbers, sides, words) = sorted(text.get(name.len()..).unwrap_or_default(), count.unit);
    match (numbers.as_slice(), name.is_empty() || !words.is_empty()) {
        ([figure], false) => {
            let across = sides.first().map(|s| Across(*s));
            Ok(Change::Tee { tee: name, length: figure * count.unit.in_yards(), across })
        }
        _ => Err(hint.to_owned()),
    }
}

/// Reads the line as a hole more: `3 4 420 7` is hole 3, par 4, 420 long, stroke index 7.
///
/// # Errors
/// What is missing.
pub fn new_hole(course: &Course, text: &str) -> Result<NewHole, String> {
    let (numbers, _, _) = sorted(text, course.units);
    let hint = "number, par, length, and the stroke index if it is known: 3 4 420 7";
    let (number, par, long, index) = match numbers.as_slice() {
        [number, par, long] => (*number, *par, *long, None),
        [number, par, long, index] => (*number, *par, *long, Some(*index)),
        _ => return Err(hint.to_owned()),
    };
    let whole = |v: f64| v.fract() == 0.0 && (1.0..=99.0).contains(&v);
    if !whole(number) || !whole(par) || index.is_some_and(|i| !whole(i)) {
        return Err(hint.to_owned());
    }
    let number = number as u8;
    if course.hole(number).is_some() || course.unread.contains(&number) {
        return Err(format!("hole {number} is in the notebook already"));
    }
    let tee = course.tees.first().map(|t| t.name.clone()).ok_or("the notebook names no tee set yet")?;
    Ok(NewHole {
        number,
        par: format!("{par}"),
        stroke_index: index.map(|i| format!("{i}")),
        tee,
        length: format!("{long}"),
    })
}

/// The line of what is picked, to be typed anew.
pub fn line_of(hole: &Hole, picked: Picked, count: Count) -> Option<String> {
    match picked {
        Picked::Piece(index) => {
            let piece = hole.sketch.pieces.get(index)?;
            let mut out = typed(&piece.form, count);
            let face = match piece.face {
                _ if piece.surface != Surface::Bunker => None,
                Face::Steep => Some("steep"),
                Face::Shallow => Some("shallow"),
                Face::Usual => None,
            };
            let colour = match piece.surface {
                Surface::PenaltyRed => Some("red"),
                Surface::PenaltyYellow => Some("yellow"),
                _ => None,
            };
            for word in [piece.name.as_deref(), face, colour].into_iter().flatten() {
                out.push(' ');
                out.push_str(word);
            }
            Some(out)
        }
        Picked::Green => {
            let green = hole.sketch.green.as_ref()?;
            let figure = |yards: f64| length(yards, count.unit);
            let mut out = format!("{} {} {}", count.figure(green.front), figure(green.depth), figure(green.width));
            // A side of 0 has no letter to tell it, and both are kept where they are not typed.
            if green.across.0 != 0.0 {
                out.push_str(&format!(" {}", side(green.across.0, count.unit)));
                if green.turned_deg != 0.0 {
                    out.push_str(&format!(" {}", side(green.turned_deg, LengthUnit::Yards)));
                }
            }
            Some(out)
        }
    }
}
