//! The day sheet as its page shows it: every thing with what is written, what it means here, and advice.

use super::Session;
use crate::course::HoleLocationArea;
use crate::course::day::Wind;
use crate::course::day_write::{Field, wind_name, written};
use crate::putting::GreenSpeed;
use crate::today::{Day, GreenFalls, Known, advice, place_of, wind_sentence};
use crate::units::Length;

/// One thing of the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct DayRow {
    /// Which.
    pub field: Field,
    /// What is written, as a person would type it; empty when nothing is.
    pub written: String,
    /// What it means here: the wind on a hole, what holds where nothing is written.
    pub means: String,
    /// Advice on a hole location; empty when it is a good one.
    pub advice: String,
}

impl Session {
    /// The rows of the Day sheet page, `text` being the sheet's text; empty without a notebook.
    pub fn day_rows(&self, text: &str) -> Vec<DayRow> {
        let (Some(course), Some(day)) = (&self.course, self.today_here()) else { return Vec::new() };
        let sheet = self.day.as_ref().map(|(day, _)| day);
        Field::all(course)
            .into_iter()
            .map(|field| {
                let (mut means, mut said) = (self.day_means(&field, &day), String::new());
                if let Field::Hole(number) = field
                    && let Some(hole) = course.hole(number)
                {
                    means = wind_sentence(day.wind, hole).unwrap_or_default();
                    if let (Some(green), Some(location)) =
                        (&hole.ground.green, sheet.and_then(|d| d.hole_location(number)))
                    {
                        let at = place_of(green, location, course.units);
                        let falls = GreenFalls::of(hole);
                        let grade = (falls.known != Known::Nothing).then(|| falls.fall_at(at).0);
                        let advice = advice(green, at, grade, GreenSpeed::held(day.green_speed));
                        said = advice.iter().map(|a| a.words(course.units)).collect::<Vec<_>>().join("; ");
                    }
                }
                DayRow { written: written(text, &field), field, means, advice: said }
            })
            .collect()
    }

    /// What a thing of the sheet means, or what holds where it is not written.
    fn day_means(&self, field: &Field, day: &Day) -> String {
        match field {
            Field::Wind => match day.wind {
                Some(wind) if wind.speed_m_s < Wind::CALM_M_S => "calm".to_owned(),
                Some(wind) => {
                    let mph = wind.speed_m_s / 0.447_04;
                    let strong = day.wind_speed_m_s() / 0.447_04;
                    let at = if (wind.at_height_m - 10.0).abs() < 0.1 {
                        String::new()
                    } else {
                        format!(", {strong:.0} mph at 10 m")
                    };
                    format!("{mph:.0} mph from the {}{at}", wind_name(wind.from_deg))
                }
                None => "not known: planned still".to_owned(),
            },
            Field::Temperature if day.temperature_c.is_none() => "not known: as where carries were measured".to_owned(),
            Field::Pressure if day.pressure_hpa.is_none() => match day.height_m {
                Some(m) => format!("standard, {m:.0} m above the sea"),
                None => "standard at sea level".to_owned(),
            },
            Field::GreenSpeed if self.day.as_ref().is_none_or(|(d, _)| d.green_speed.is_none()) => {
                let from = if day.speed_known { "the notebook's" } else { "assumed" };
                format!("{} ft, {from}", day.green_speed)
            }
            Field::Firmness if self.day.as_ref().is_none_or(|(d, _)| d.firmness.is_none()) => {
                format!("{:?}, the notebook's", day.firmness).to_lowercase()
            }
            Field::Kind if self.day.as_ref().is_none() => "practice".to_owned(),
            _ => String::new(),
        }
    }

    /// Today's hole location in words for a heading: `14 on, 5 from left`, with its area; `None` is not known.
    pub fn hole_location_words(&self, number: u8) -> Option<String> {
        let location = self.day.as_ref()?.0.hole_location(number)?;
        Some(crate::course::day_write::words(location))
    }

    /// Holes without a hole location on the sheet.
    pub fn unknown_hole_locations(&self) -> usize {
        let sheet = self.day.as_ref().map(|(day, _)| day);
        self.order.iter().filter(|n| sheet.is_none_or(|d| d.hole_location(**n).is_none())).count()
    }

    /// The sheet as plain text, a line a thing, which reads back when it is pasted or imported.
    pub fn day_plain(&self, text: &str) -> String {
        let date = self.day.as_ref().map_or(self.today.as_str(), |(d, _)| d.date.as_str());
        let course = self.course.as_ref().map(|c| c.name.as_str()).unwrap_or_default();
        let mut out = format!("{course}, {date}\n");
        for row in self.day_rows(text).into_iter().filter(|r| !r.written.is_empty()) {
            match &row.field {
                Field::Hole(n) => out.push_str(&format!("{n}: {}\n", row.written)),
                field => out.push_str(&format!("{}: {}\n", field.title(), row.written)),
            }
        }
        out
    }

    /// The sheet as CSV (RFC 4180): `what,value`, a hole by its number.
    pub fn day_csv(&self, text: &str) -> String {
        let quoted =
            |s: &str| if s.contains([',', '"']) { format!("\"{}\"", s.replace('"', "\"\"")) } else { s.to_owned() };
        let mut out = "what,value\r\n".to_owned();
        for row in self.day_rows(text).into_iter().filter(|r| !r.written.is_empty()) {
            let what = match &row.field {
                Field::Hole(n) => n.to_string(),
                field => field.title(),
            };
            out.push_str(&format!("{},{}\r\n", quoted(&what), quoted(&row.written)));
        }
        out
    }

    /// What a plain text or CSV says of the day: things with what is written for them, and the lines that say nothing known.
    pub fn day_import(&self, text: &str) -> (Vec<(Field, String)>, Vec<String>) {
        let fields = self.course.as_ref().map(Field::all).unwrap_or_default();
        let (mut found, mut odd): (Vec<(Field, String)>, Vec<String>) = (Vec::new(), Vec::new());
        for line in text.lines().map(str::trim).filter(|l| !l.is_empty() && !l.starts_with('#')).take(200) {
            match read_line(line, &fields) {
                Some((field, value)) => {
                    found.retain(|(f, _)| *f != field);
                    found.push((field, value));
                }
                None => odd.push(line.to_owned()),
            }
        }
        (found, odd)
    }
}

/// `4: 14 on, 5 from left`, `4,"14 on, 5 from left"`, `4 14 5l`, `hole 4  back`, `wind: 6 m/s 250`.
fn read_line(line: &str, fields: &[Field]) -> Option<(Field, String)> {
    let lower = line.to_lowercase();
    let body = lower.strip_prefix("hole ").unwrap_or(&lower);
    let digits = body.find(|c: char| !c.is_ascii_digit()).unwrap_or(body.len());
    if digits > 0 {
        let number: u8 = body.get(..digits)?.parse().ok()?;
        let field = Field::Hole(number);
        if !fields.contains(&field) {
            return None;
        }
        let value = unquoted(body.get(digits..)?.trim_start_matches([':', ',', ';', '.', ')', '\t', ' ']));
        // A line of a hole that says nothing takes nothing away.
        crate::course::day_write::location(&value)?;
        return Some((field, value));
    }
    let field = fields
        .iter()
        .filter(|f| !matches!(f, Field::Hole(_)))
        .find(|f| lower.starts_with(&f.title().to_lowercase()))?;
    let rest = line.get(field.title().len()..)?.trim_start_matches([':', ',', ';', '\t', ' ']);
    let value = unquoted(rest);
    field.tidied(&value).ok()??;
    Some((field.clone(), value))
}

fn unquoted(text: &str) -> String {
    let text = text.trim();
    text.strip_prefix('"')
        .and_then(|t| t.strip_suffix('"'))
        .map_or_else(|| text.to_owned(), |t| t.replace("\"\"", "\""))
}

/// An area in one word, for a heading.
pub fn area_words(areas: &[HoleLocationArea]) -> String {
    let word = |a: &HoleLocationArea| format!("{a:?}").to_lowercase();
    areas.iter().map(word).collect::<Vec<_>>().join(" ")
}

/// A length with its unit, for a page.
pub fn shown(yards: f64, units: crate::units::LengthUnit) -> String {
    format!("{} {}", Length::yards(yards).show(units), units.short())
}
