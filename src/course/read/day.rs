//! A day sheet from its text.

use super::head::{COMPASS, FIRMNESS, GREEN_SPEED, file_beside};
use super::tees::known_tee;
use super::when::AREAS;
use crate::course::codes::{HOLE_TWICE, NOT_A_HOLE_LOCATION, NOT_A_SPEED, NOT_MARKERS, OFF_THE_GREEN, UNKNOWN_HOLE};
use crate::course::condition::HoleLocationArea;
use crate::course::day::{DaySheet, GreenSide, HoleLocation, Kind, Wind};
use crate::course::decode::{Bounds, FileKind, Reader, UNKNOWN_WORD, quoted};
use crate::course::model::Course;
use crate::notebook::{self, Diagnostic, Node, Span, did_you_mean};
use crate::units::{Length, place::read_decimal};

/// Keys of a day sheet.
pub const KEYS: &[&str] = &[
    "format",
    "date",
    "course",
    "play",
    "kind",
    "wind",
    "temperature",
    "pressure",
    "green_speed",
    "firmness",
    "markers",
    "hole_locations",
];
/// Keys of the wind.
pub const WIND_KEYS: &[&str] = &["speed", "from", "at_height"];

/// How sides are made in a golf format, as `play` names it.
const SIDES: &[&str] = &[
    "four-ball",
    "foursomes",
    "greensomes",
    "chapman",
    "scramble",
    "scramble 2",
    "scramble 3",
    "scramble 4",
    "best 1 of 4",
    "best 2 of 4",
    "best 3 of 4",
    "best 4 of 4",
    "total of 2",
];
/// What is counted in a golf format.
const SCORINGS: &[&str] = &["stroke", "stableford", "par-bogey", "maximum", "match"];

/// The usual golf formats, as `play` names them; a side takes any of the five.
pub const PLAYS: &[&str] = &[
    "stroke",
    "stableford",
    "par-bogey",
    "maximum",
    "match",
    "four-ball",
    "four-ball stableford",
    "four-ball match",
    "foursomes",
    "foursomes stableford",
    "foursomes match",
    "greensomes",
    "greensomes stableford",
    "scramble",
];
const KINDS: &[(&str, Kind)] =
    &[("practice", Kind::Practice), ("for handicap", Kind::ForHandicap), ("competition", Kind::Competition)];
/// Units of a wind speed, in metres a second: SI, the international mile (1609.344 m), the nautical mile (1852 m).
const SPEEDS: &[(&str, f64)] = &[
    ("m/s", 1.0),
    ("km/h", 1.0 / 3.6),
    ("kmh", 1.0 / 3.6),
    ("mph", 0.447_04),
    ("knots", 1852.0 / 3600.0),
    ("kn", 1852.0 / 3600.0),
];
/// Metres a second; play stops long before.
const FASTEST: f64 = 40.0;
const HEIGHT: Bounds = Bounds::new("the height of a wind in metres", 0.5, 500.0);
const TEMPERATURE: Bounds = Bounds::new("a temperature in degrees Celsius", -40.0, 55.0);
/// The least and greatest pressure ever measured at sea level are 870 and 1084 hPa (WMO archive of extremes).
const PRESSURE: Bounds = Bounds::new("a pressure at sea level in hectopascals", 850.0, 1100.0);
const MOST_MOVED: f64 = 200.0;

/// Reads a day sheet; with its course, holes and tees are checked against it.
///
/// Without a course only the sheet itself is checked; [`DaySheet::course`] says which file to read first.
pub fn read_day(text: &str, course: Option<&Course>) -> (Option<DaySheet>, Vec<Diagnostic>) {
    let (root, problems) = notebook::read(text);
    let mut reader = Reader::new(problems);
    let day = root.and_then(|root| day(&mut reader, &root, course));
    (day, reader.finish())
}

fn day(r: &mut Reader, root: &Node, course: Option<&Course>) -> Option<DaySheet> {
    if !r.preamble(root, FileKind::DaySheet) {
        return None;
    }
    let fields = r.fields(root, "a day sheet", KEYS)?;
    let date = fields.need(r, "date", "date: 2026-05-16", Reader::date);
    let file = fields.need(r, "course", "course: corvane.yaml", file_beside);
    Some(DaySheet {
        date: date.unwrap_or_default(),
        course: file.unwrap_or_default(),
        play: fields.read(r, "play", play),
        kind: fields.read(r, "kind", |r, n, k| r.word(n, k, KINDS)).unwrap_or_default(),
        wind: fields.read(r, "wind", |r, n, _| wind(r, n)),
        temperature_c: fields.read(r, "temperature", |r, n, k| r.number(n, k, TEMPERATURE)),
        pressure_hpa: fields.read(r, "pressure", |r, n, k| r.number(n, k, PRESSURE)),
        green_speed: fields.read(r, "green_speed", |r, n, k| r.number(n, k, GREEN_SPEED)),
        firmness: fields.read(r, "firmness", |r, n, k| r.word(n, k, FIRMNESS)),
        markers: fields.read(r, "markers", |r, n, _| Some(markers(r, n, course))).unwrap_or_default(),
        hole_locations: fields
            .read(r, "hole_locations", |r, n, _| Some(hole_locations(r, n, course)))
            .unwrap_or_default(),
        read_only: r.later,
    })
}

fn play(r: &mut Reader, node: &Node, key: &str) -> Option<String> {
    let text = r.raw(node, key)?.to_lowercase();
    let of_a_side = |side: &&str| text.strip_prefix(*side).and_then(|rest| rest.strip_prefix(' '));
    let is_side =
        SIDES.contains(&text.as_str()) || SIDES.iter().filter_map(of_a_side).any(|scoring| SCORINGS.contains(&scoring));
    if is_side || PLAYS.contains(&text.as_str()) {
        return Some(text);
    }
    let message = format!("`{key}` cannot be {}", quoted(&text));
    r.error(UNKNOWN_WORD, node.span, message, did_you_mean(&text, PLAYS));
    None
}

fn wind(r: &mut Reader, node: &Node) -> Option<Wind> {
    let fields = r.fields(node, "the wind", WIND_KEYS)?;
    let speed = fields.need(r, "speed", "speed: 6 m/s", speed);
    let from = fields.need(r, "from", "from: 250", |r, n, k| r.number(n, k, COMPASS));
    let height = fields.read(r, "at_height", |r, n, k| r.number(n, k, HEIGHT));
    // Forecasts are for ten metres (WMO No. 8, Guide to Instruments, surface wind).
    Some(Wind { speed_m_s: speed?, from_deg: from?, at_height_m: height.unwrap_or(10.0) })
}

/// `6 m/s`, `12 mph`, `20 km/h`, `11 knots`, in metres a second.
fn speed(r: &mut Reader, node: &Node, key: &str) -> Option<f64> {
    let text = r.raw(node, key)?;
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(text.len());
    let (figure, unit) = text.split_at_checked(end)?;
    let unit = unit.trim().to_lowercase();
    let factor = SPEEDS.iter().find(|(word, _)| *word == unit).map(|(_, factor)| *factor);
    let speed = read_decimal(figure).zip(factor).map(|(figure, factor)| figure * factor);
    let advice = if read_decimal(figure).is_some() && unit.is_empty() {
        format!("write its unit: `{figure} m/s`, `{figure} mph`, `{figure} km/h` or `{figure} knots`")
    } else {
        "write a figure and its unit, as `6 m/s`, `12 mph`, `20 km/h` or `11 knots`".to_owned()
    };
    match speed {
        Some(speed) if speed <= FASTEST => Some(speed),
        Some(_) => {
            let message = format!("`{key}` is {}, and nobody plays in such a wind", quoted(text));
            r.error(NOT_A_SPEED, node.span, message, "check the figure and its unit");
            None
        }
        None => {
            r.error(NOT_A_SPEED, node.span, format!("`{key}` needs a wind speed, not {}", quoted(text)), advice);
            None
        }
    }
}

/// `Club: 6 forward`.
fn markers(r: &mut Reader, node: &Node, course: Option<&Course>) -> Vec<(String, f64)> {
    let mut moved = Vec::new();
    for entry in r.entries(node, "`markers`").unwrap_or_default() {
        let known = course.is_none_or(|course| known_tee(r, &course.tees, &entry.key, entry.key_span));
        let Some(text) = r.raw(&entry.value, &entry.key) else { continue };
        let by = text.split_once(' ').and_then(|(figure, way)| {
            let figure = read_decimal(figure).filter(|v| *v <= MOST_MOVED)?;
            match way.trim().to_lowercase().as_str() {
                "forward" | "forwards" => Some(figure),
                "back" => Some(-figure),
                _ => None,
            }
        });
        let by = by.or_else(|| (text == "0").then_some(0.0));
        match by {
            Some(by) if known => moved.push((entry.key.clone(), by)),
            Some(_) => {}
            None => {
                let message = format!("the markers of {} cannot be moved {}", entry.key, quoted(text));
                r.error(NOT_MARKERS, entry.value.span, message, "write `6 forward` or `4 back`");
            }
        }
    }
    moved
}

fn hole_locations(r: &mut Reader, node: &Node, course: Option<&Course>) -> Vec<(u8, HoleLocation)> {
    let mut found: Vec<(u8, HoleLocation)> = Vec::new();
    let mut seen: Vec<u8> = Vec::new();
    for entry in r.entries(node, "`hole_locations`").unwrap_or_default() {
        let number = entry.key.trim().parse::<u8>().ok().filter(|n| *n > 0);
        let on_course = |n: u8| course.is_none_or(|c| c.hole(n).is_some() || c.unread.contains(&n));
        let Some(number) = number.filter(|n| on_course(*n)) else {
            let advice = course.map_or_else(|| "write the number of a hole, as `4`".to_owned(), Course::known_holes);
            r.error(UNKNOWN_HOLE, entry.key_span, format!("the course has no hole {}", quoted(&entry.key)), advice);
            continue;
        };
        if seen.contains(&number) {
            let message = format!("hole {number} stands twice under `hole_locations`");
            r.error(HOLE_TWICE, entry.key_span, message, "keep one of the two; the first one is read");
            continue;
        }
        seen.push(number);
        let Some(text) = r.raw(&entry.value, &entry.key) else { continue };
        match location(text) {
            Some(location) => {
                if on_the_green(r, &location, number, course, entry.value.span) {
                    found.push((number, location));
                }
            }
            None => {
                let message = format!("hole {number}: {} is no hole location", quoted(text));
                let advice = "write `14 on, 5 from left` in paces, or `front`, `middle`, `back`";
                r.error(NOT_A_HOLE_LOCATION, entry.value.span, message, advice);
            }
        }
    }
    found.sort_by_key(|(number, _)| *number);
    found
}

/// `14 on, 5 from left`, `14 on`, `back`, `back left`.
fn location(text: &str) -> Option<HoleLocation> {
    let text = text.to_lowercase();
    if let Some((on, side)) = text.split_once(" on") {
        let on = read_decimal(on.trim())?;
        let side = side.trim().trim_start_matches(',').trim();
        if side.is_empty() {
            return Some(HoleLocation::Paced { on, from_side: None });
        }
        let (paces, side) = side.split_once(" from ")?;
        let side = match side.trim().trim_start_matches("the ").trim() {
            "left" => GreenSide::Left,
            "right" => GreenSide::Right,
            _ => return None,
        };
        return Some(HoleLocation::Paced { on, from_side: Some((read_decimal(paces.trim())?, side)) });
    }
    let words: Vec<&str> = text.split([' ', ',']).filter(|word| !word.is_empty()).collect();
    let areas: Vec<HoleLocationArea> = words
        .iter()
        .map(|word| AREAS.iter().find(|(known, _)| known == word).map(|(_, area)| *area))
        .collect::<Option<_>>()?;
    let deep = |area: &&HoleLocationArea| !matches!(area, HoleLocationArea::Left | HoleLocationArea::Right);
    let (depths, sides) = (areas.iter().filter(deep).count(), areas.iter().filter(|a| !deep(a)).count());
    (depths <= 1 && sides <= 1 && depths + sides > 0).then_some(HoleLocation::Areas(areas))
}

fn on_the_green(r: &mut Reader, location: &HoleLocation, number: u8, course: Option<&Course>, span: Span) -> bool {
    let Some(course) = course else { return true };
    let green = course.hole(number).and_then(|hole| hole.sketch.green.as_ref());
    let (Some(green), HoleLocation::Paced { on, from_side }) = (green, location) else { return true };
    let yards = |paces: f64| Length::new(paces, course.units).as_yards();
    let show = |yards: f64| Length::yards(yards).show(course.units);
    if yards(*on) >= green.depth {
        let message = format!("hole {number}: {on} on is behind the green, which is {} deep", show(green.depth));
        r.error(OFF_THE_GREEN, span, message, "count paces from the front edge");
        return false;
    }
    if let Some((paces, _)) = from_side
        && yards(*paces) >= green.width
    {
        let message =
            format!("hole {number}: {paces} from the side is beyond the green, which is {} wide", show(green.width));
        r.error(OFF_THE_GREEN, span, message, "count paces in from the nearer side");
        return false;
    }
    true
}
