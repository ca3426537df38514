//! Ground in one line of typing: numbers along the line, sides across it.
//!
//! | typed | means |
//! | --- | --- |
//! | `238 256 13L27L` | a band from 238 to 256 |
//! | `0 440 75L` | a band that reaches outwards without end |
//! | `0 40R 330 52R 8` | a path 8 wide |
//! | `300 11L 306 9L 311 13L` | an outline |
//! | `140 16L16R 220 20L18R` | stations of a fairway |
//!
//! A blank after a side may be left out, `..` between two sides too. Words that are left over are a name, `steep` or `red` among them
//! what they say.

use crate::course::model::Form;
use crate::units::place::read_decimal;
use crate::units::{Across, Along, Band, LengthUnit};

/// How numbers along the line are counted and in which unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Count {
    /// The unit of the figures.
    pub unit: LengthUnit,
    /// What lies between the start of the line and where figures are counted from, yards.
    pub origin: f64,
}

impl Count {
    /// Along the line, in yards from its start.
    pub fn along(self, figure: f64) -> Along {
        Along(figure * self.unit.in_yards() + self.origin)
    }

    /// The figure of a place along the line.
    pub fn figure(self, at: Along) -> String {
        length(at.0 - self.origin, self.unit)
    }
}

/// A length in a unit, to a tenth where it is not whole.
pub fn length(yards: f64, unit: LengthUnit) -> String {
    let tenths = (yards / unit.in_yards() * 10.0).round() / 10.0;
    format!("{}", if tenths == 0.0 { 0.0 } else { tenths })
}

/// A place across the line: `13L`, `0`, to a tenth where it is not whole.
pub fn side(yards: f64, unit: LengthUnit) -> String {
    let figure = length(yards.abs(), unit);
    match figure.as_str() {
        "0" => figure,
        _ if yards < 0.0 => format!("{figure}L"),
        _ => format!("{figure}R"),
    }
}

/// A band across the line as a file writes it: `13L..27L`, `14L..16R`, `75L..`.
pub fn band(band: Band, unit: LengthUnit) -> String {
    if band.left == f64::NEG_INFINITY {
        return format!("{}..", side(band.right, unit));
    }
    if band.right == f64::INFINITY {
        return format!("{}..", side(band.left, unit));
    }
    // A band on one side is written from the line outwards.
    let (near, far) = if band.right <= 0.0 { (band.right, band.left) } else { (band.left, band.right) };
    format!("{}..{}", side(near, unit), side(far, unit))
}

/// What one part of the line is.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// A number without a side.
    Number(f64),
    /// A place across the line, yards.
    Side(f64),
    /// Anything else.
    Word(String),
}

/// Cuts a line into its parts.
pub fn parts(text: &str, unit: LengthUnit) -> Vec<Part> {
    let mut out = Vec::new();
    for word in text.replace("..", " ").split_whitespace() {
        // `13L27L` is two sides.
        let mut rest = word;
        let mut found = Vec::new();
        while !rest.is_empty() {
            let end = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
            let (figure, after) = rest.split_at(end);
            let Some(value) = read_decimal(figure) else { break };
            let letter = after.chars().next();
            match letter {
                Some('L' | 'l' | 'R' | 'r') => {
                    let sign = if matches!(letter, Some('L' | 'l')) { -1.0 } else { 1.0 };
                    found.push(Part::Side(sign * value * unit.in_yards() + 0.0));
                    rest = after.get(1..).unwrap_or_default();
                }
                None => {
                    found.push(Part::Number(value));
                    rest = "";
                }
                Some(_) => break,
            }
        }
        if rest.is_empty() {
            out.extend(found);
        } else if let Some(value) = word.strip_prefix('-').and_then(read_decimal) {
            out.push(Part::Number(-value));
        } else {
            out.push(Part::Word(word.to_owned()));
        }
    }
    out
}

/// A shape as it was typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// Its form.
    pub form: Form,
    /// The words beside it.
    pub words: Vec<String>,
}

/// Reads a shape.
///
/// # Errors
/// What is still missing, as a hint for the one who types.
pub fn shape(text: &str, count: Count, stations: bool) -> Result<Shape, String> {
    let parts = parts(text, count.unit);
    let words = parts.iter().filter_map(|p| if let Part::Word(w) = p { Some(w.clone()) } else { None }).collect();
    let figures: Vec<&Part> = parts.iter().filter(|p| !matches!(p, Part::Word(_))).collect();
    let form = if stations { read_stations(&figures, count) } else { read_form(&figures, count) };
    form.map(|form| Shape { form, words })
}

fn across(part: Option<&&Part>) -> Option<f64> {
    match part {
        Some(Part::Side(yards)) => Some(*yards),
        // On the line there is no side.
        Some(Part::Number(0.0)) => Some(0.0),
        _ => None,
    }
}

fn along(part: Option<&&Part>, count: Count) -> Option<Along> {
    if let Some(Part::Number(figure)) = part { Some(count.along(*figure)) } else { None }
}

fn ordered(a: f64, b: f64) -> Band {
    Band { left: a.min(b), right: a.max(b) }
}

fn read_stations(figures: &[&Part], count: Count) -> Result<Form, String> {
    let mut stations = Vec::new();
    for three in figures.chunks(3) {
        let found = along(three.first(), count).zip(across(three.get(1)).zip(across(three.get(2))));
        let Some((at, (a, b))) = found else {
            return Err(match three.len() {
                1 => "from where to where it reaches there: 16L18R".to_owned(),
                2 => "its other edge there: 18R".to_owned(),
                _ => "each station is a place along the line and its two edges: 140 16L18R".to_owned(),
            });
        };
        stations.push((at, ordered(a, b)));
    }
    if stations.len() < 2 { Err("one station more".to_owned()) } else { Ok(Form::Stations(stations)) }
}

fn read_form(figures: &[&Part], count: Count) -> Result<Form, String> {
    let number = |i: usize| matches!(figures.get(i), Some(Part::Number(_)));
    let is_band = number(0) && number(1) && across(figures.get(1)) != Some(0.0) || figures.len() < 2;
    if is_band {
        let (from, to) = (along(figures.first(), count), along(figures.get(1), count));
        let Some(from) = from else { return Err("where it begins along the line, then where it ends".to_owned()) };
        let Some(to) = to else { return Err("where it ends, or its side there: 256, or 40R for a path".to_owned()) };
        if to.0 <= from.0 {
            return Err("it ends before it begins".to_owned());
        }
        return match (across(figures.get(2)), across(figures.get(3)), figures.len()) {
            (Some(a), Some(b), 4) if a != b => Ok(Form::Band { from, to, across: ordered(a, b) }),
            (Some(a), None, 3) if a < 0.0 => {
                Ok(Form::Band { from, to, across: Band { left: f64::NEG_INFINITY, right: a } })
            }
            (Some(a), None, 3) if a > 0.0 => {
                Ok(Form::Band { from, to, across: Band { left: a, right: f64::INFINITY } })
            }
            (None, _, 2) => Err("from where to where across: 13L27L; one side alone reaches outwards".to_owned()),
            _ => Err("a band is: from, to, one or two sides".to_owned()),
        };
    }
    let mut points = Vec::new();
    let mut width = None;
    for pair in figures.chunks(2) {
        match (along(pair.first(), count), across(pair.get(1)), pair.first()) {
            (Some(at), Some(a), _) => points.push((at, Across(a))),
            (Some(_), None, Some(Part::Number(figure))) if pair.len() == 1 => {
                width = Some(figure * count.unit.in_yards())
            }
            _ => return Err("places along the line, each with its side: 0 40R 330 52R; a width at the end".to_owned()),
        }
    }
    match (width, points.len()) {
        (Some(width), 2..) if width > 0.0 => Ok(Form::Path { points, width }),
        (None, 3..) => Ok(Form::Outline(points)),
        (None, 2) => Err("its width, or one place more for an outline".to_owned()),
        _ => Err("one place more".to_owned()),
    }
}

/// A form as it would be typed.
pub fn typed(form: &Form, count: Count) -> String {
    let unit = count.unit;
    let tight = |b: Band| band(b, unit).replace("..", "");
    let places = |points: &[(Along, Across)]| {
        let all: Vec<String> =
            points.iter().map(|(at, a)| format!("{} {}", count.figure(*at), side(a.0, unit))).collect();
        all.join(" ")
    };
    match form {
        Form::Stations(stations) => {
            // A side of 0 has no letter to end it.
            let edges = |b: Band| format!("{} {}", side(b.left, unit), side(b.right, unit));
            let all: Vec<String> =
                stations.iter().map(|(at, b)| format!("{} {}", count.figure(*at), edges(*b))).collect();
            all.join(" ")
        }
        Form::Band { from, to, across } => {
            let edges = if across.left == 0.0 || across.right == 0.0 {
                band(*across, unit).replace("..", " ")
            } else {
                tight(*across)
            };
            format!("{} {} {edges}", count.figure(*from), count.figure(*to))
        }
        Form::Path { points, width } => format!("{} {}", places(points), length(*width, unit)),
        Form::Outline(points) => places(points),
        Form::Surveyed { .. } => String::new(),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::panic)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const YARDS: Count = Count { unit: LengthUnit::Yards, origin: 0.0 };

    #[test]
    fn each_form_is_told_by_its_numbers_and_sides() {
        let read = |text| shape(text, YARDS, false).unwrap().form;
        let b = |l, r| Band { left: l, right: r };
        assert_eq!(
            read("238 256 13L27L"),
            Form::Band { from: Along(238.0), to: Along(256.0), across: b(-27.0, -13.0) }
        );
        assert_eq!(read("238 256 27l..13l"), read("238 256 13L 27L"));
        assert_eq!(
            read("0 440 75L"),
            Form::Band { from: Along(0.0), to: Along(440.0), across: b(f64::NEG_INFINITY, -75.0) }
        );
        assert_eq!(
            read("0 40R 330 52R 8"),
            Form::Path { points: vec![(Along(0.0), Across(40.0)), (Along(330.0), Across(52.0))], width: 8.0 }
        );
        assert!(matches!(read("300 11L 306 9L 311 13L"), Form::Outline(points) if points.len() == 3));
        let stations = shape("140 16L16R 220 20L18R", YARDS, true).unwrap().form;
        assert!(matches!(stations, Form::Stations(s) if s.len() == 2 && s[1].1 == b(-20.0, 18.0)));
        let named = shape("238 256 13L27L Kettle steep", YARDS, false).unwrap();
        assert_eq!(named.words, ["Kettle", "steep"]);
    }

    #[test]
    fn a_path_across_the_line_may_stand_on_it() {
        let read = shape("395 60L 400 0 405 60R 4", YARDS, false).unwrap().form;
        assert!(matches!(read, Form::Path { points, .. } if points.len() == 3 && points[1].1 == Across(0.0)));
    }

    #[test]
    fn what_is_missing_is_asked_for() {
        for (text, words) in [
            ("", "where it begins"),
            ("238", "where it ends"),
            ("238 256", "13L27L"),
            ("256 238 4L9L", "before it begins"),
            ("238 256 13", "a band is"),
            ("0 40R 330 52R", "width"),
        ] {
            let error = shape(text, YARDS, false).unwrap_err();
            assert!(error.contains(words), "{text}: {error}");
        }
        assert!(shape("140 16L16R", YARDS, true).unwrap_err().contains("one station more"));
    }

    #[test]
    fn figures_are_counted_from_the_tee_that_is_asked_for_and_in_the_unit() {
        let club = Count { unit: LengthUnit::Yards, origin: 27.0 };
        let Form::Band { from, .. } = shape("211 229 13L27L", club, false).unwrap().form else { panic!() };
        assert_eq!(from, Along(238.0));
        assert_eq!(length(100.0, LengthUnit::Metres), "91.4");
        assert_eq!(side(-4.0, LengthUnit::Yards), "4L");
    }

    fn tenth(range: std::ops::Range<i32>) -> impl Strategy<Value = f64> {
        range.prop_map(|t| f64::from(t) / 10.0)
    }

    proptest! {
        /// What is typed out reads back as the same form.
        #[test]
        fn typed_and_read_again(
            from in tenth(0..4000), long in tenth(10..900), a in tenth(-900..900), b in tenth(-900..900), width in tenth(10..300),
            points in proptest::collection::vec((tenth(1..5000), tenth(-900..900)), 3..7),
        ) {
            prop_assume!(a != b && (a != 0.0 || b != 0.0));
            let forms = [
                Form::Band { from: Along(from), to: Along(from + long), across: ordered(a, b) },
                Form::Path { points: points.iter().map(|(at, x)| (Along(*at), Across(*x))).collect(), width },
                Form::Outline(points.iter().map(|(at, x)| (Along(*at), Across(*x))).collect()),
            ];
            for form in forms {
                let text = typed(&form, YARDS);
                let again = shape(&text, YARDS, false);
                prop_assert_eq!(typed(&again.unwrap().form, YARDS), text);
            }
            let stations = Form::Stations(vec![(Along(from), ordered(a, b)), (Along(from + long), ordered(a, b))]);
            let text = typed(&stations, YARDS);
            prop_assert_eq!(typed(&shape(&text, YARDS, true).unwrap().form, YARDS), text);
        }
    }
}
