//! `marram day COURSE`: the day sheet as plain text, CSV or JSON, and reading one in.

use super::World;
use crate::course::day_write::{Field, words};
use crate::session::Session;
use crate::shelf::{self, Wanted};
use crate::store::{Limit, Sort, StoreError, read_text};
use crate::tui::update::day::import;
use clap::Args;
use serde_json::{Map, Value, json};
use std::path::PathBuf;

/// Which sheet.
#[derive(Debug, Args)]
pub struct DayArgs {
    /// The course: a name on the shelf or a file.
    pub course: String,
    /// The day sheet; today's on the shelf unless given.
    #[arg(long)]
    pub day: Option<String>,
    /// Read hole locations and the rest from a plain text or CSV file into the sheet, beginning one for today where there is none.
    #[arg(long, value_name = "FILE")]
    pub import: Option<PathBuf>,
    /// As CSV: what, value.
    #[arg(long, conflicts_with = "json")]
    pub csv: bool,
    /// One JSON object.
    #[arg(long)]
    pub json: bool,
}

/// Runs the command.
pub fn run(args: &DayArgs, world: &mut World<'_>) -> u8 {
    let mut session = match open(args, world) {
        Ok(session) => session,
        Err(error) => return world.file_trouble(&error),
    };
    if session.course.is_none() {
        let _ = writeln!(world.err, "marram: the notebook cannot be read; marram check names its problems");
        return 1;
    }
    if let Some(file) = &args.import {
        let text = match read_text(file, Limit::YAML) {
            Ok(file) => file.text,
            Err(error) => return world.file_trouble(&error),
        };
        let (edits, count, odd) = match import(&session, &text) {
            Ok(read) => read,
            Err(why) => {
                let _ = writeln!(world.err, "marram: {}: {why}; nothing was changed", file.display());
                return 1;
            }
        };
        for line in &odd {
            let _ = writeln!(world.err, "marram: {}: not understood, left out: {line}", file.display());
        }
        if count == 0 {
            let _ = writeln!(world.err, "marram: {}: no line names a hole or a thing of the sheet", file.display());
            return 1;
        }
        if !edits.is_empty() {
            match shelf::edit_day(&world.store, &session, &edits) {
                Ok(done) => {
                    let _ = writeln!(world.err, "{}", done.words);
                    session = done.session;
                }
                Err(error) => {
                    let _ = writeln!(world.err, "marram: {error}");
                    return 1;
                }
            }
        }
    }
    let Some((_, file)) = &session.day else {
        let _ = writeln!(
            world.err,
            "marram: there is no day sheet of {} for {}; marram new day makes one, --import reads one in",
            args.course, world.today
        );
        return 1;
    };
    let text = file.text.clone();
    let out = if args.json {
        as_json(&session, &text)
    } else if args.csv {
        session.day_csv(&text).trim_end().to_owned()
    } else {
        let mut out = session.day_plain(&text);
        for row in session.day_rows(&text).iter().filter(|r| !r.advice.is_empty()) {
            out.push_str(&format!("# advice, {}: {}\n", row.field.title(), row.advice));
        }
        out.trim_end().to_owned()
    };
    u8::from(writeln!(world.out, "{}", crate::units::plain_text::plain_lines(&out)).is_err())
}

fn open(args: &DayArgs, world: &World<'_>) -> Result<Session, StoreError> {
    let course = world.find(Sort::Notebook, &args.course)?;
    let todays = || shelf::day_path(&world.store, &course, &world.today).filter(|p| p.is_file());
    let day = match &args.day {
        Some(name) => Some(world.find(Sort::Day, name)?),
        None => todays(),
    };
    shelf::open_course(&course, &Wanted { players: Vec::new(), day, holes: None }, &world.today)
}

fn as_json(session: &Session, text: &str) -> String {
    let Some((day, _)) = &session.day else { return String::new() };
    let rows = session.day_rows(text);
    let row = |n: u8| rows.iter().find(|r| r.field == Field::Hole(n));
    let holes: Vec<Value> = session
        .order
        .iter()
        .map(|n| {
            let said = |f: fn(&crate::session::DayRow) -> &String| row(*n).map(f).filter(|s| !s.is_empty());
            json!({
                "hole": n,
                "hole_location": day.hole_location(*n).map(words),
                "wind": said(|r| &r.means),
                "advice": said(|r| &r.advice),
            })
        })
        .collect();
    let markers: Map<String, Value> = day.markers.iter().map(|(tee, by)| (tee.clone(), json!(by))).collect();
    json!({
        "schema": "marram/day/1",
        "date": day.date,
        "course": session.course.as_ref().map(|c| c.name.clone()),
        "play": day.play,
        "kind": day.kind.word(),
        "wind": day.wind.map(|w| json!({ "speed_m_s": w.speed_m_s, "from_deg": w.from_deg, "at_height_m": w.at_height_m })),
        "temperature_c": day.temperature_c,
        "pressure_hpa": day.pressure_hpa,
        "green_speed_ft": day.green_speed,
        "firmness": day.firmness.map(|f| format!("{f:?}").to_lowercase()),
        "markers_forward": markers,
        "holes": holes,
    })
    .to_string()
}
