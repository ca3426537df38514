//! Fields of a form between file and screen: files count from the start of the line in their own unit, a screen from the tee of the
//! person who plays, in theirs; words may be typed by their first letters.

use super::State;
use crate::course::write::Sort;
use crate::course::write::notation;
use crate::units::place::read_decimal;
use crate::units::{Across, Along, Length, LengthUnit};

/// The word beside a figure that is counted from the start of the line.
pub const LINE: &str = "line";

fn file_unit(state: &State) -> LengthUnit {
    state.session.course.as_ref().map(|c| c.units).unwrap_or_default()
}

fn origin(state: &State) -> Along {
    state.derived.hole.as_ref().and_then(|h| h.origin).map_or(Along(0.0), |o| o.0)
}

/// A length as it is shown in a field of this key: places along the hole from the player's tee.
pub fn shown_length(state: &State, key: &str, yards: f64) -> String {
    let yards = if key == "at" { yards - origin(state).0 } else { yards };
    notation::length(yards.round(), state.shown_units())
}

/// A place across the line as it is shown.
pub fn shown_side(state: &State, yards: f64) -> String {
    notation::side(yards.round(), state.shown_units())
}

fn is_place(sort: Sort, key: &str) -> bool {
    matches!((sort, key), (Sort::Aim | Sort::Layup, "at"))
}

/// A text of the file as it is shown in its field.
pub fn to_screen(state: &State, sort: Sort, key: &str, text: &str) -> String {
    let (file, shown) = (file_unit(state), state.shown_units());
    let figure = |text: &str| text.trim().parse::<f64>().ok().map(|v| v * file.in_yards());
    if is_place(sort, key) || (key == "from" && figure(text).is_some()) {
        return figure(text).map_or_else(|| text.to_owned(), |yards| notation::length(yards - origin(state).0, shown));
    }
    match key {
        "to_middle" => figure(text).map_or_else(|| text.to_owned(), |yards| notation::length(yards, shown)),
        "across" => Across::read(text, file).map_or_else(|| text.to_owned(), |a| notation::side(a.0, shown)),
        "when.carry" if file != shown => each_figure(text, |v| Length::new(v, file).in_unit(shown)),
        _ => text.to_owned(),
    }
}

/// Every figure of a text put through `change`, to the whole.
fn each_figure(text: &str, change: impl Fn(f64) -> f64) -> String {
    let parts: Vec<String> = text
        .split("..")
        .map(|part| match read_decimal(part.trim()) {
            Some(value) => format!("{}", change(value).round()),
            None => part.to_owned(),
        })
        .collect();
    parts.join("..")
}

/// A place along the hole as typed: from the player's tee, or with `line` behind it from the start of the line. Yards from the start.
fn place(state: &State, typed: &str) -> Option<Along> {
    let shown = state.shown_units();
    let (text, from_line) = match typed.trim().strip_suffix(LINE) {
        Some(text) => (text.trim(), true),
        None => (typed.trim(), false),
    };
    let (text, sign) = text.strip_prefix('-').map_or((text, 1.0), |t| (t, -1.0));
    let yards = Length::new(sign * read_decimal(text)?, shown).as_yards();
    Some(Along(if from_line { yards } else { yards + origin(state).0 }))
}

/// What was typed as it is written in the file.
///
/// # Errors
/// What it should look like.
pub fn to_file(state: &State, sort: Sort, key: &str, typed: &str) -> Result<String, String> {
    let (file, shown) = (file_unit(state), state.shown_units());
    let typed = typed.trim();
    if is_place(sort, key) {
        let at = place(state, typed).ok_or_else(|| {
            format!(
                "`at` is a place along the hole: 211 from the {} tee, or `238 {LINE}` from the start of the line",
                tee(state)
            )
        })?;
        return Ok(notation::length(at.0, file));
    }
    match key {
        "from" => {
            if let Some(at) = place(state, typed) {
                return Ok(notation::length(at.0, file));
            }
            if let Some(figure) = typed.split_whitespace().next().and_then(read_decimal)
                && typed.contains("middle")
            {
                let yards = Length::new(figure, shown).as_yards();
                return Ok(format!("{} to the middle", notation::length(yards, file)));
            }
            Ok(complete(state, sort, key, typed))
        }
        "to_middle" => {
            let value = read_decimal(typed).ok_or("what is left to the middle of the green is a number: 90")?;
            Ok(notation::length(Length::new(value, shown).as_yards(), file))
        }
        "across" => {
            let across = Across::read(typed, shown).ok_or("across needs its side: 4L, 6R, or 0 on the line")?;
            Ok(notation::side(across.0, file))
        }
        "when.carry" if file != shown => Ok(each_figure(typed, |v| Length::new(v, shown).in_unit(file))),
        _ => Ok(complete(state, sort, key, typed)),
    }
}

fn tee(state: &State) -> String {
    state.derived.hole.as_ref().map(|h| h.tee.clone()).unwrap_or_default()
}

/// The words that a field may hold; empty where it takes any.
pub fn words(state: &State, sort: Sort, key: &str) -> Vec<String> {
    let list = |words: &[&str]| words.iter().map(|w| (*w).to_owned()).collect();
    match (sort, key) {
        (Sort::Danger, "side") => list(&["left", "right", "short", "long"]),
        (Sort::Note, "at") => list(&["tee", "approach", "green"]),
        (_, "shape" | "when.shape") => list(&["draw", "fade", "straight"]),
        (_, "when.wind") => list(&["into", "with", "across"]),
        (_, "when.hole_location") => list(&["front", "middle", "back", "left", "right"]),
        (_, "sure") => list(&["paced", "laser", "map", "guess"]),
        (_, "when.tees") => state.session.course.iter().flat_map(|c| c.tees.iter().map(|t| t.name.clone())).collect(),
        (_, "landmark") => {
            let course = state.session.course.iter().flat_map(|c| c.landmarks.iter());
            let here = state.current_hole().into_iter().flat_map(|h| h.landmarks.iter());
            here.chain(course).map(|l| l.name.clone()).collect()
        }
        (_, "of") => {
            let features = state.current_hole().into_iter().flat_map(|h| h.ground.features.iter());
            let mut names: Vec<String> = features.filter(|f| f.surface.is_danger()).map(|f| f.name.clone()).collect();
            names.push("green".to_owned());
            names
        }
        (_, "when.pupil") => state.session.people.iter().filter(|p| !p.assumed).map(|p| p.name.clone()).collect(),
        (Sort::Aim, "from") => list(&["tee"]),
        _ => Vec::new(),
    }
}

/// Each part of a list completed to the one word that begins so.
fn complete(state: &State, sort: Sort, key: &str, typed: &str) -> String {
    let words = words(state, sort, key);
    if words.is_empty() {
        return typed.to_owned();
    }
    let one = |part: &str| {
        let low = part.trim().to_lowercase();
        if let Some(same) = words.iter().find(|w| w.to_lowercase() == low) {
            return same.clone();
        }
        let mut begin = words.iter().filter(|w| !low.is_empty() && w.to_lowercase().starts_with(&low));
        match (begin.next(), begin.next()) {
            (Some(word), None) => word.clone(),
            _ => part.trim().to_owned(),
        }
    };
    if key.starts_with("when.") { typed.split(',').map(one).collect::<Vec<_>>().join(", ") } else { one(typed) }
}

/// What is to be known beside the field with the focus.
pub fn hint(state: &State, sort: Sort, key: &str, typed: &str) -> String {
    let unit = state.shown_units().word();
    if is_place(sort, key) {
        let tee = tee(state);
        return match place(state, typed) {
            None => format!("{unit} from the {tee} tee, or with `{LINE}` behind it from the start of the line"),
            Some(at) => {
                let line = notation::length(at.0, file_unit(state));
                let own = notation::length(at.0 - origin(state).0, state.shown_units());
                format!("{own} from the {tee} tee; {line} {} along the line in the file", file_unit(state).word())
            }
        };
    }
    let words = words(state, sort, key);
    let all = words.join(", ");
    let example = match key {
        "text" => "the words, as they will be read",
        "name" => "as it is called",
        "across" => "4L, 6R, or 0 on the line",
        "to_middle" => return format!("{unit} left to the middle of the green"),
        "when.carry" => {
            return format!("the driver's carry in {unit}: 200.. is 200 and more, ..200 and less; empty for all");
        }
        "when.playing_handicap" => "10..18, 18..; empty for all",
        "when.strokes" => "strokes received here: 1.., 0",
        "seen" | "until" => "a date: 2026-05-03",
        "in" => "the way in to the green",
        "out" => "the way out, to the next tee",
        "from" => "tee, a place, or 165 to the middle",
        _ => "",
    };
    match (all.is_empty(), key) {
        (true, _) => example.to_owned(),
        (false, "from") => example.to_owned(),
        (false, "when.tees") => format!("{all}; empty for all"),
        (false, _) => all,
    }
}

/// The name of a field as it is shown.
pub fn label(key: &str) -> &str {
    match key {
        "to_middle" => "to the middle",
        "when.tees" => "for tees",
        "when.carry" => "for carries",
        "when.playing_handicap" => "for handicaps",
        "when.strokes" => "for strokes",
        "when.wind" => "in wind",
        "when.hole_location" => "hole cut at",
        "when.pupil" => "for players",
        "when.shape" => "for shapes",
        "text" => "words",
        other => other,
    }
}
