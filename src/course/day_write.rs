//! Changes to a day sheet: what a person types for one thing, as the file writes it and as edits of the lines it needs.
//!
//! What is typed may be short, as a person at seven in the morning types it: `14 5l` is 14 on, 5 from left; `12mph sw` is a wind.
//! The reader judges the result before anything is written.

use super::day::{GreenSide, HoleLocation};
use super::model::Course;
use super::read::day::{KEYS, PLAYS, read_day};
use crate::course::condition::HoleLocationArea;
use crate::notebook::edit::{self, Edit, Op, Path, Value};
use crate::notebook::{self, Diagnostic, Lines, Severity};
use crate::units::place::read_decimal;

/// One thing on a day sheet.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Field {
    /// The golf format.
    Play,
    /// Practice, for handicap or competition.
    Kind,
    /// Speed, direction and height of the wind.
    Wind,
    /// Degrees Celsius.
    Temperature,
    /// At sea level.
    Pressure,
    /// Stimpmeter feet.
    GreenSpeed,
    /// How hard the ground is.
    Firmness,
    /// How far the markers of a tee are moved.
    Markers(String),
    /// Where the hole is cut.
    Hole(u8),
}

impl Field {
    /// Every thing of a sheet for a course, in the order of the page.
    pub fn all(course: &Course) -> Vec<Self> {
        let mut out = vec![
            Self::Play,
            Self::Kind,
            Self::Wind,
            Self::Temperature,
            Self::Pressure,
            Self::GreenSpeed,
            Self::Firmness,
        ];
        out.extend(course.tees.iter().map(|t| Self::Markers(t.name.clone())));
        out.extend(course.holes.iter().map(|h| Self::Hole(h.number)));
        out
    }

    /// Its name on the page.
    pub fn title(&self) -> String {
        match self {
            Self::Play => "format".to_owned(),
            Self::Kind => "kind".to_owned(),
            Self::Wind => "wind".to_owned(),
            Self::Temperature => "temperature".to_owned(),
            Self::Pressure => "pressure".to_owned(),
            Self::GreenSpeed => "green speed".to_owned(),
            Self::Firmness => "firmness".to_owned(),
            Self::Markers(tee) => format!("{tee} tees"),
            Self::Hole(n) => format!("hole {n}"),
        }
    }

    /// How it is typed.
    pub const fn form(&self) -> &'static str {
        match self {
            Self::Play => "stroke, stableford, match, four-ball …",
            Self::Kind => "practice, for handicap or competition",
            Self::Wind => "speed and where it comes from, as 6 m/s 250 or 12 mph SW; `at 2` where measured by hand",
            Self::Temperature => "degrees Celsius, as 14",
            Self::Pressure => "hectopascals at sea level, as 1012",
            Self::GreenSpeed => "Stimpmeter feet, as 10",
            Self::Firmness => "soft, medium, firm or baked",
            Self::Markers(_) => "6 forward (6f) or 4 back (4b)",
            Self::Hole(_) => "paces on and from a side, as 14 5l; or front, middle, back (f, m, b)",
        }
    }

    const fn key(&self) -> &'static str {
        match self {
            Self::Play => "play",
            Self::Kind => "kind",
            Self::Wind => "wind",
            Self::Temperature => "temperature",
            Self::Pressure => "pressure",
            Self::GreenSpeed => "green_speed",
            Self::Firmness => "firmness",
            Self::Markers(_) => "markers",
            Self::Hole(_) => "hole_locations",
        }
    }

    /// What was typed as the file writes it; `None` takes it off the sheet.
    ///
    /// # Errors
    /// What cannot be read, with the form.
    pub fn tidied(&self, typed: &str) -> Result<Option<Value>, String> {
        let text = typed.trim();
        if text.is_empty() {
            return Ok(None);
        }
        let wrong = || Err(format!("`{text}` is not understood: write {}", self.form()));
        let lower = text.to_lowercase();
        Ok(Some(Value::from(match self {
            Self::Play => match PLAYS.iter().find(|p| **p == lower).or_else(|| {
                let mut near = PLAYS.iter().filter(|p| p.starts_with(&lower));
                near.next()
            }) {
                Some(play) => (*play).to_owned(),
                None => lower,
            },
            Self::Kind => match lower.chars().next() {
                Some('p') => "practice".to_owned(),
                Some('f' | 'h') => "for handicap".to_owned(),
                Some('c') => "competition".to_owned(),
                _ => return wrong(),
            },
            Self::Firmness => match ["soft", "medium", "firm", "baked"].iter().find(|w| w.starts_with(&lower)) {
                Some(word) => (*word).to_owned(),
                None => return wrong(),
            },
            Self::Wind => return wind(&lower).map_or_else(wrong, |value| Ok(Some(value))),
            Self::Temperature => lower.trim_end_matches(['c', '°', ' ']).to_owned(),
            Self::Pressure => lower.trim_end_matches("hpa").trim().to_owned(),
            Self::GreenSpeed => lower.trim_end_matches("ft").trim().to_owned(),
            Self::Markers(_) => match markers(&lower) {
                Some(moved) if moved == "0" => return Ok(None),
                Some(moved) => moved,
                None => return wrong(),
            },
            Self::Hole(_) => match location(&lower) {
                Some(location) => words(&location),
                None => return wrong(),
            },
        })))
    }
}

/// Sixteen winds and their compass directions.
const WINDS: [&str; 16] =
    ["n", "nne", "ne", "ene", "e", "ese", "se", "sse", "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw"];

/// A compass direction as sixteen winds name it: 250 is WSW.
pub fn wind_name(from_deg: f64) -> String {
    let at = (from_deg.rem_euclid(360.0) / 22.5).round() as usize % WINDS.len();
    WINDS.get(at).map(|w| w.to_uppercase()).unwrap_or_default()
}

/// `6 m/s 250`, `12mph from sw`, `6 m/s from 250 at 2`.
fn wind(text: &str) -> Option<Value> {
    let spaced: String = text.replace(['°', ',', '@'], " ").replace(" from ", " ");
    let end = spaced.find(|c: char| !(c.is_ascii_digit() || c == '.'))?;
    let (figure, rest) = spaced.split_at_checked(end)?;
    read_decimal(figure)?;
    let mut rest: Vec<&str> = rest.split_whitespace().collect();
    let height = match rest.iter().position(|w| *w == "at") {
        Some(at) => {
            let figure = rest.get(at + 1)?.trim_end_matches('m');
            read_decimal(figure)?;
            rest.truncate(at);
            Some(figure)
        }
        None => None,
    };
    let [unit, from] = rest.as_slice() else { return None };
    let direction = match WINDS.iter().position(|w| w == from) {
        Some(at) => {
            let deg = 22.5 * at as f64;
            format!("{deg}")
        }
        None => {
            read_decimal(from)?;
            (*from).to_owned()
        }
    };
    let mut entries = vec![("speed", format!("{figure} {unit}")), ("from", direction)];
    entries.extend(height.map(|h| ("at_height", h.to_owned())));
    Some(Value::map(entries))
}

/// `6f`, `6 forward`, `4 b`, `-4`.
fn markers(text: &str) -> Option<String> {
    let (sign, text) = match text.strip_prefix('-') {
        Some(rest) => (true, rest),
        None => (false, text.trim_start_matches('+')),
    };
    let end = text.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(text.len());
    let (figure, way) = text.split_at_checked(end)?;
    let value = read_decimal(figure)?;
    if value == 0.0 {
        return Some("0".to_owned());
    }
    let back = match way.trim().chars().next() {
        Some('b') => true,
        Some('f') | None => sign,
        _ => return None,
    };
    Some(format!("{figure} {}", if back { "back" } else { "forward" }))
}

/// A hole location as people type it: `14 5l`, `14 on, 5 from the left`, `14`, `f`, `back left`, `bl`.
pub fn location(typed: &str) -> Option<HoleLocation> {
    let text = typed.to_lowercase().replace([',', ';', '/'], " ").replace("from", " ").replace("the", " ");
    let text = text.replace("paces", " ");
    if text.trim_start().starts_with(|c: char| c.is_ascii_digit()) {
        return paced(&text);
    }
    let mut areas = Vec::new();
    let mut add = |word: &str| -> Option<()> {
        let area = match word {
            "f" | "front" => HoleLocationArea::Front,
            "m" | "c" | "middle" | "centre" | "center" => HoleLocationArea::Middle,
            "b" | "back" => HoleLocationArea::Back,
            "l" | "left" => HoleLocationArea::Left,
            "r" | "right" => HoleLocationArea::Right,
            _ => return None,
        };
        if !areas.contains(&area) {
            areas.push(area);
        }
        Some(())
    };
    for word in text.split_whitespace() {
        if add(word).is_none() {
            // Two letters together, as `bl`.
            for letter in word.chars() {
                add(&letter.to_string())?;
            }
        }
    }
    let deep = |a: &&HoleLocationArea| !matches!(a, HoleLocationArea::Left | HoleLocationArea::Right);
    let (depths, sides) = (areas.iter().filter(deep).count(), areas.iter().filter(|a| !deep(a)).count());
    (depths <= 1 && sides <= 1 && depths + sides > 0).then_some(HoleLocation::Areas(areas))
}

fn paced(text: &str) -> Option<HoleLocation> {
    let mut figures: Vec<f64> = Vec::new();
    let (mut side, mut said_on) = (None, false);
    let mut rest = text.trim();
    while !rest.is_empty() {
        let end = rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(rest.len());
        if end > 0 {
            figures.push(read_decimal(rest.get(..end)?)?);
            rest = rest.get(end..)?.trim_start();
            continue;
        }
        let end = rest.find(|c: char| c.is_whitespace() || c.is_ascii_digit()).unwrap_or(rest.len());
        match rest.get(..end)? {
            "on" if figures.len() == 1 && side.is_none() && !said_on => said_on = true,
            "l" | "left" if figures.len() == 2 && side.is_none() => side = Some(GreenSide::Left),
            "r" | "right" if figures.len() == 2 && side.is_none() => side = Some(GreenSide::Right),
            _ => return None,
        }
        rest = rest.get(end..)?.trim_start();
    }
    match (figures.as_slice(), side) {
        ([on], None) => Some(HoleLocation::Paced { on: *on, from_side: None }),
        ([on, paces], Some(side)) => Some(HoleLocation::Paced { on: *on, from_side: Some((*paces, side)) }),
        _ => None,
    }
}

/// A hole location as the trade writes it: `14 on, 5 from left`, `back left`.
pub fn words(location: &HoleLocation) -> String {
    match location {
        HoleLocation::Paced { on, from_side: None } => format!("{on} on"),
        HoleLocation::Paced { on, from_side: Some((paces, side)) } => {
            format!("{on} on, {paces} from {}", if *side == GreenSide::Left { "left" } else { "right" })
        }
        HoleLocation::Areas(areas) => {
            let word = |a: &HoleLocationArea| match a {
                HoleLocationArea::Front => "front",
                HoleLocationArea::Middle => "middle",
                HoleLocationArea::Back => "back",
                HoleLocationArea::Left => "left",
                HoleLocationArea::Right => "right",
            };
            areas.iter().map(word).collect::<Vec<_>>().join(" ")
        }
    }
}

/// The text of a new day sheet, with only what must be on it.
pub fn starter(date: &str, course_file: &str) -> String {
    let name = if course_file.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '.' | '-' | '_')) {
        course_file.to_owned()
    } else {
        format!("\"{}\"", course_file.replace('\\', "\\\\").replace('"', "\\\""))
    };
    format!(
        "format: day-sheet/1\n\n# What is known of the day. The Committee's Local Rules come before anything here.\n\ndate: {date}\ncourse: {name}\nkind: practice\n"
    )
}

/// The edits that put what was typed for `field` on the sheet; none when it stands there already.
///
/// # Errors
/// Why it cannot be, in a sentence.
pub fn edits(text: &str, field: &Field, typed: &str) -> Result<Vec<Edit>, String> {
    let (root, _) = notebook::read(text);
    let root = root.ok_or("the day sheet has no keys to change")?;
    let value = field.tidied(typed)?;
    let top = Path::new().key(field.key());
    let (map, key) = match field {
        Field::Markers(tee) => (Some(&top), tee.clone()),
        Field::Hole(n) => (Some(&top), n.to_string()),
        _ => (None, String::new()),
    };
    let Some(map) = map else {
        let old = root.get(field.key()).map(Value::from);
        return Ok(match (old, value) {
            (Some(old), Some(new)) if old == new => Vec::new(),
            (Some(old), Some(new)) => vec![Edit::set(top, new).over(old)],
            (Some(old), None) => vec![Edit::remove(top).over(old)],
            (None, Some(new)) => vec![add_top(&root, field.key(), new)],
            (None, None) => Vec::new(),
        });
    };
    let entries = map.find(&root).map_or(&[][..], |node| node.entries());
    let same = |k: &str| match field {
        Field::Hole(n) => k.trim().parse::<u8>() == Ok(*n),
        _ => k == key,
    };
    let found = entries.iter().find(|e| same(&e.key));
    Ok(match (found, value) {
        (Some(entry), Some(new)) => {
            let old = Value::from(&entry.value);
            if old == new { Vec::new() } else { vec![Edit::set(map.clone().key(&entry.key), new).over(old)] }
        }
        (Some(_), None) if entries.len() == 1 => vec![Edit::remove(top.clone())],
        (Some(entry), None) => vec![Edit::remove(map.clone().key(&entry.key)).over(Value::from(&entry.value))],
        (None, None) => Vec::new(),
        (None, Some(new)) if entries.is_empty() => {
            let value = Value::Map(vec![(key, new)]);
            match root.get(field.key()) {
                Some(_) => vec![Edit::set(top.clone(), value)],
                None => vec![add_top(&root, field.key(), value)],
            }
        }
        (None, Some(new)) => {
            let at = match field {
                Field::Hole(n) => entries.iter().position(|e| e.key.trim().parse::<u8>().is_ok_and(|k| k > *n)),
                _ => None,
            };
            vec![Edit { path: map.clone(), op: Op::Add { key, value: new, at, back: None } }]
        }
    })
}

/// A key that the sheet does not have yet, in the usual order of keys.
fn add_top(root: &notebook::Node, key: &str, value: Value) -> Edit {
    let rank = |key: &str| KEYS.iter().position(|k| *k == key);
    let own = rank(key);
    let at = root.entries().iter().position(|e| rank(&e.key).is_some_and(|r| Some(r) > own));
    Edit { path: Path::new(), op: Op::Add { key: key.to_owned(), value, at, back: None } }
}

/// What the sheet says of `field`, as a person would type it; empty when it says nothing.
pub fn written(text: &str, field: &Field) -> String {
    let (Some(root), _) = notebook::read(text) else { return String::new() };
    let Some(node) = root.get(field.key()) else { return String::new() };
    let of = |key: &str| node.get(key).and_then(|n| n.text()).unwrap_or_default();
    match field {
        Field::Wind => {
            let height = of("at_height");
            let tail = if height.is_empty() || height == "10" { String::new() } else { format!(" at {height}") };
            format!("{} from {}{tail}", of("speed"), of("from"))
        }
        Field::Markers(tee) => of(tee).to_owned(),
        Field::Hole(n) => {
            let entry = node.entries().iter().find(|e| e.key.trim().parse::<u8>() == Ok(*n));
            entry.and_then(|e| e.value.text()).unwrap_or_default().to_owned()
        }
        _ => node.text().unwrap_or_default().to_owned(),
    }
}

/// A sheet with edits made and judged.
#[derive(Clone, Debug, PartialEq)]
pub struct Made {
    /// The new text.
    pub text: String,
    /// The edits that take it back, in the order in which they are made.
    pub inverse: Vec<Edit>,
    /// First and last line of the new text that changed, from 1.
    pub lines: Option<(usize, usize)>,
    /// What the reader warns of now and did not before.
    pub warnings: Vec<String>,
}

/// Makes `edits` on `text`, each proved; then reads the result against the course.
///
/// # Errors
/// The first edit that is refused, or the first error that the reader finds now and did not before, with what to do.
pub fn make(text: &str, edits: &[Edit], course: Option<&Course>) -> Result<Made, String> {
    let (before, known) = read_day(text, course);
    if before.is_some_and(|day| day.read_only) {
        return Err("the sheet was written for a later marram; it can be read here and not changed".to_owned());
    }
    let mut now = text.to_owned();
    let (mut inverse, mut lines): (Vec<Edit>, Option<(usize, usize)>) = (Vec::new(), None);
    for edit in edits {
        let done = edit::apply(&now, edit).map_err(|refusal| refusal.to_string())?;
        if done.lines.0 <= done.lines.1 {
            let (first, last) = lines.unwrap_or(done.lines);
            lines = Some((first.min(done.lines.0), last.max(done.lines.1)));
        }
        now = done.text;
        inverse.insert(0, done.inverse);
    }
    let (_, found) = read_day(&now, course);
    let is_new = |d: &&Diagnostic| !known.iter().any(|k| k.code == d.code && k.message == d.message);
    let said = |d: &Diagnostic| {
        if d.advice.is_empty() { d.message.clone() } else { format!("{}; {}", d.message, d.advice) }
    };
    if let Some(error) = found.iter().filter(is_new).find(|d| d.severity == Severity::Error) {
        return Err(said(error));
    }
    let line = |d: &Diagnostic| Lines::new(&now).place(d.span.start).line;
    let warnings = found.iter().filter(is_new).map(|d| format!("line {}: {}", line(d), said(d))).collect();
    Ok(Made { text: now, inverse, lines, warnings })
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const SHEET: &str = include_str!("../../sample-courses/days/2026-05-16-corvane.yaml");

    fn typed(text: &str, field: &Field, what: &str) -> String {
        make(text, &edits(text, field, what).unwrap(), None).unwrap().text
    }

    #[test]
    fn what_is_typed_short_is_what_the_trade_writes() {
        for (short, long) in [
            ("14 5l", "14 on, 5 from left"),
            ("14 on, 5 from left", "14 on, 5 from left"),
            ("14on 5 from the Right", "14 on, 5 from right"),
            ("9.5 6R", "9.5 on, 6 from right"),
            ("14", "14 on"),
            ("b", "back"),
            ("bl", "back left"),
            ("front right", "front right"),
            ("M", "middle"),
        ] {
            assert_eq!(location(short).map(|l| words(&l)).as_deref(), Some(long), "{short}");
        }
        for bad in ["", "14 5", "l 5", "14 5x", "front back", "five", "14 5l 3r", "14 on on on"] {
            assert_eq!(location(bad), None, "{bad}");
        }
    }

    #[test]
    fn one_thing_typed_changes_its_line_and_no_other_and_comes_back() {
        let changes = [
            (Field::Hole(4), "15 6r"),
            (Field::Hole(3), "b"),
            (Field::Hole(18), ""),
            (Field::Wind, "12 mph SW"),
            (Field::Temperature, "9"),
            (Field::Firmness, "s"),
            (Field::Markers("Back".to_owned()), "4b"),
            (Field::Markers("Club".to_owned()), "0"),
            (Field::Kind, "p"),
        ];
        for (field, what) in changes {
            let made = make(SHEET, &edits(SHEET, &field, what).unwrap(), None).unwrap();
            let off = SHEET.lines().count().abs_diff(made.text.lines().count());
            assert!(off <= 1, "{field:?}");
            assert!(made.text.contains("# A Saturday Stableford"), "comments stay");
            let mut back = made.text.clone();
            for edit in &made.inverse {
                back = edit::apply(&back, edit).unwrap().text;
            }
            assert_eq!(back, SHEET, "{field:?}");
        }
    }

    #[test]
    fn a_sheet_can_be_written_from_nothing() {
        let mut text = starter("2026-05-16", "corvane.yaml");
        for (field, what) in [
            (Field::Hole(4), "14 5l"),
            (Field::Hole(1), "f"),
            (Field::Wind, "6 m/s from 250"),
            (Field::Firmness, "firm"),
            (Field::Play, "stab"),
            (Field::Hole(10), "m"),
        ] {
            text = typed(&text, &field, what);
        }
        let (day, problems) = read_day(&text, None);
        assert!(problems.is_empty(), "{problems:?}\n{text}");
        let day = day.unwrap();
        assert_eq!(day.hole_locations.iter().map(|(n, _)| *n).collect::<Vec<_>>(), [1, 4, 10]);
        assert_eq!(day.wind.unwrap().from_deg, 250.0);
        assert_eq!(day.play.as_deref(), Some("stableford"));
        assert_eq!(written(&text, &Field::Wind), "6 m/s from 250");
        assert_eq!(written(&text, &Field::Hole(4)), "14 on, 5 from left");
    }

    /// The issue's bad input: a wind of 200, a temperature of -80, a speed of 0 or 30, each refused in the reader's words.
    #[test]
    fn what_no_day_has_is_refused_with_the_reason() {
        for (field, what) in [
            (Field::Wind, "200 m/s 90"),
            (Field::Wind, "6 90"),
            (Field::Wind, "6 m/s 400"),
            (Field::Temperature, "-80"),
            (Field::GreenSpeed, "0"),
            (Field::GreenSpeed, "30"),
            (Field::Pressure, "20"),
            (Field::Markers("Club".to_owned()), "sideways"),
            (Field::Hole(4), "fourteen"),
        ] {
            let made = edits(SHEET, &field, what).and_then(|e| make(SHEET, &e, None).map(|_| ()));
            assert!(made.is_err(), "{field:?} {what}");
        }
        let (course, _) = crate::course::read(include_str!("../../sample-courses/corvane.yaml"));
        let off = edits(SHEET, &Field::Hole(4), "60 5l").and_then(|e| make(SHEET, &e, course.as_ref()).map(|_| ()));
        assert!(off.unwrap_err().contains("behind the green"));
    }

    proptest! {
        #[test]
        fn nothing_typed_ever_breaks_the_sheet(what in "\\PC{0,24}", n in 1u8..19) {
            for field in [Field::Hole(n), Field::Wind, Field::Markers("Club".to_owned()), Field::Temperature, Field::Play] {
                if let Ok(made) = edits(SHEET, &field, &what).and_then(|e| make(SHEET, &e, None)) {
                    let (day, problems) = read_day(&made.text, None);
                    prop_assert!(day.is_some() && problems.iter().all(|d| d.severity != Severity::Error));
                }
            }
        }
    }
}
