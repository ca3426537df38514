//! `marram survey FILE…`: what a map shows of a course, and a draft notebook with its ground.

use super::World;
use crate::round::slug;
use crate::store::{Expect, FileBytes, Limit, beside, read, read_text};
use crate::survey::again::{Before, again};
use crate::survey::changes::Change;
use crate::survey::draft::Draft;
use crate::survey::{Refused, Source, Survey, SurveyedHole, ground_file, survey};
use crate::units::LengthUnit;
use crate::units::plain_text::plain;
use clap::Args;
use serde_json::{Map, Value, json};
use std::path::{Path, PathBuf};

/// What to survey.
#[derive(Debug, Args)]
#[command(after_help = QUERY)]
pub struct SurveyArgs {
    /// OpenStreetMap XML, Overpass JSON, GeoJSON, GPX, heights as .asc or .hgt; told apart by what is in them.
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<PathBuf>,
    /// The course, where a map shows several; without it the one with the most golf.
    #[arg(long, value_name = "NAME")]
    pub course: Option<String>,
    /// Write NAME.yaml and NAME.geojson into this folder.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Survey again over files that are there: every note stays, only ground moves.
    #[arg(long, requires = "out")]
    pub replace: bool,
    /// The unit of the draft.
    #[arg(long, value_parser = ["yards", "metres"], default_value = "yards")]
    pub units: String,
    /// One JSON object.
    #[arg(long)]
    pub json: bool,
}

const QUERY: &str =
    "marram goes to no network. To get a map, run this query where Overpass is offered (S, W, N, E are the
edges of the course in degrees), and save what it gives:

  [out:json][timeout:60][bbox:S,W,N,E];
  ( nwr[\"leisure\"=\"golf_course\"]; nwr[\"golf\"];
    nwr[\"natural\"~\"^(water|wood|scrub|tree|tree_row|sand|wetland)$\"]; nwr[\"landuse\"=\"forest\"];
    way[\"waterway\"]; way[\"barrier\"]; way[\"highway\"]; );
  out geom;

Ground made from OpenStreetMap stays under its licence, the ODbL: keep the notice that the draft carries, and if you
pass a corrected map on to others, pass it on under the same licence. Do not trace from books or pictures whose
makers have not allowed it.";

/// Runs the command.
pub fn run(args: &SurveyArgs, world: &mut World<'_>) -> u8 {
    let mut files: Vec<FileBytes> = Vec::with_capacity(args.files.len());
    for path in &args.files {
        match read(path, Limit::MAP) {
            Ok(file) => files.push(file),
            Err(error) => return world.file_trouble(&error),
        }
    }
    let names: Vec<String> = args.files.iter().map(|p| p.display().to_string()).collect();
    let sources: Vec<Source<'_>> =
        files.iter().zip(&names).map(|(file, name)| Source { name, bytes: &file.bytes }).collect();
    let survey = match survey(&sources, args.course.as_deref()) {
        Ok(survey) => survey,
        Err(error @ Refused::NoSuchCourse { .. }) => return world.misuse(&error.to_string()),
        Err(error) => {
            let _ = writeln!(world.err, "marram: {error}");
            return 1;
        }
    };
    let mut out = Written::default();
    if let Some(folder) = &args.out {
        match write(&survey, &sources, folder, args, world) {
            Ok(done) => out = done,
            Err(code) => return code,
        }
    }
    let survey = out.survey.as_ref().unwrap_or(&survey);
    let shown = if args.json { as_json(survey, &out).to_string() } else { as_text(survey) + &out.text() };
    let failed = writeln!(world.out, "{}", shown.trim_end()).is_err();
    if out.waits {
        let _ = writeln!(
            world.err,
            "marram: nothing is written: a course of this name is there; --replace surveys over it, every note stays and both files are backed up first"
        );
        return 1;
    }
    u8::from(failed)
}

/// What came of `--out`.
#[derive(Default)]
struct Written {
    /// The files.
    paths: Vec<PathBuf>,
    /// The survey again, over what was there.
    survey: Option<Survey>,
    /// What moved, what a person's hand keeps, what is gone.
    moved: Vec<Change>,
    kept: Vec<String>,
    gone: Vec<String>,
    /// There were files, and they were backed up.
    over: bool,
    /// There are files, and without `--replace` nothing is written.
    waits: bool,
}

impl Written {
    fn text(&self) -> String {
        let mut out = String::new();
        let mut line = |text: String| {
            out.push_str(text.trim_end());
            out.push('\n');
        };
        if self.over || self.waits {
            let words = |c: &Change| match c.hole {
                Some(hole) => format!("hole {hole}: {}", plain(&c.words)),
                None => plain(&c.words).into_owned(),
            };
            if self.moved.is_empty() {
                line("\nNothing moved.".to_owned());
            }
            list(&mut line, "Moved", self.moved.iter().map(words));
            list(&mut line, "Yours, kept", self.kept.iter().map(|w| plain(w).into_owned()));
            list(&mut line, "Not on the map any more", self.gone.iter().map(|w| plain(w).into_owned()));
        }
        if !self.paths.is_empty() {
            let names: Vec<String> = self.paths.iter().map(|p| p.display().to_string()).collect();
            line(format!("\nWritten: {}", names.join(", ")));
            if self.over {
                line(format!("What stood there was backed up: marram restore {}", names.join(" ")));
            }
        }
        out
    }
}

fn as_json(survey: &Survey, out: &Written) -> Value {
    let text = |word: &str| Value::from(word);
    let courses: Vec<Value> = survey
        .courses
        .iter()
        .map(|c| json!({ "name": c.name, "holes": c.holes, "greens": c.greens, "id": c.id, "aliases": c.aliases }))
        .collect();
    let found: Map<String, Value> = survey.found.iter().map(|(k, n)| (k.clone(), Value::from(*n))).collect();
    let unattached: Vec<Value> = survey.unattached.iter().map(|u| json!({ "id": u.id, "kind": u.kind })).collect();
    let discarded: Vec<Value> = survey.discarded.iter().map(|d| json!({ "id": d.id, "why": d.why })).collect();
    json!({
        "schema": "marram/survey/1",
        "courses": courses,
        "course": survey.name,
        "attribution": survey.credits.first().map(|c| text(&c.attribution)),
        "licence": survey.credits.first().and_then(|c| c.licence.as_deref()).map(text),
        "found": found,
        "holes": survey.holes.iter().map(|h| hole_json(survey, h)).collect::<Vec<_>>(),
        "unattached": unattached,
        "discarded": discarded,
        "warnings": survey.warnings,
        "moved": out.moved.iter().map(|c| json!({ "hole": c.hole, "of": c.of.word(), "words": c.words })).collect::<Vec<_>>(),
        "kept": out.kept,
        "gone": out.gone,
        "written": out.paths.iter().map(|p| p.display().to_string()).collect::<Vec<_>>(),
    })
}

fn hole_json(survey: &Survey, hole: &SurveyedHole) -> Value {
    let number = match &hole.number {
        crate::survey::Number::Known(n) => Value::from(*n),
        unknown => Value::from(unknown.shown()),
    };
    let tees: Vec<Value> = hole
        .tees
        .iter()
        .map(|t| json!({ "name": t.name, "id": t.id, "length_yd": tenth(t.length), "across_yd": tenth(t.across) }))
        .collect();
    json!({
        "hole": number,
        "id": hole.id,
        "name": hole.name,
        "line_yd": tenth(hole.line_yards()),
        "par": by_card(&hole.par),
        "stroke_index": by_card(&hole.stroke_index),
        "tees": tees,
        "green": hole.green.is_some(),
        "green_depth_yd": hole.green.as_ref().map(|g| tenth(g.depth())),
        "bunkers": survey.along(hole, "bunker"),
        "penalty": survey.along(hole, "penalty"),
        "gaps": hole.gaps(),
    })
}

/// One value for both cards, else each of them.
fn by_card(value: &crate::course::ByCard<u8>) -> Value {
    if value.men == value.women { json!(value.men) } else { json!({ "men": value.men, "women": value.women }) }
}

fn tenth(yards: f64) -> f64 {
    (yards * 10.0).round() / 10.0 + 0.0
}

fn as_text(survey: &Survey) -> String {
    let mut out = String::new();
    let mut line = |text: String| {
        out.push_str(text.trim_end());
        out.push('\n');
    };
    line(plain(&survey.name).into_owned());
    for credit in &survey.credits {
        line(plain(&credit.line()).into_owned());
    }
    if survey.courses.len() > 1 {
        line(String::new());
        line("Courses on this map; --course takes another one".to_owned());
        for course in &survey.courses {
            let name = course.name.as_deref().or(course.id.as_deref()).unwrap_or("a course without an outline");
            line(format!("  {}: {} hole lines, {} greens", plain(name), course.holes, course.greens));
        }
    }
    line(String::new());
    let found: Vec<String> = survey.found.iter().map(|(kind, n)| format!("{n} {}", plain(kind))).collect();
    line(format!("Found: {}", if found.is_empty() { "no golf at all".to_owned() } else { found.join(", ") }));
    if !survey.holes.is_empty() {
        line(String::new());
        line("hole   line  par  index  tees  green    bunkers  penalty  missing".to_owned());
        for hole in &survey.holes {
            let show = |v: &crate::course::ByCard<u8>| match (v.men, v.women) {
                (Some(a), Some(b)) if a != b => format!("{a}/{b}"),
                (Some(a), _) | (_, Some(a)) => a.to_string(),
                _ => "-".to_owned(),
            };
            let green = hole.green.as_ref().map_or("-".to_owned(), |g| format!("{:.0} deep", g.depth()));
            line(format!(
                "{:>4}  {:>5.0}  {:>3}  {:>5}  {:>4}  {:<8} {:>7}  {:>7}  {}",
                hole.number.shown(),
                hole.line_yards(),
                show(&hole.par),
                show(&hole.stroke_index),
                hole.tees.len(),
                green,
                survey.along(hole, "bunker"),
                survey.along(hole, "penalty"),
                hole.gaps().join(", ").replace('_', " "),
            ));
        }
        line(format!(
            "Lines in yards, from their first place; distances on this plane are within {} of the ellipsoid.",
            survey.error_words()
        ));
    }
    list(
        &mut line,
        "Along no hole",
        survey.unattached.iter().map(|u| format!("{} ({})", plain(&u.id), plain(&u.kind))),
    );
    list(&mut line, "Not used", survey.discarded.iter().map(|d| format!("{}: {}", plain(&d.id), plain(&d.why))));
    list(&mut line, "To look at", survey.warnings.iter().map(|w| plain(w).into_owned()));
    out
}

fn list(line: &mut impl FnMut(String), title: &str, items: impl Iterator<Item = String>) {
    let items: Vec<String> = items.collect();
    if items.is_empty() {
        return;
    }
    line(String::new());
    line(format!("{title} ({})", items.len()));
    for item in items {
        line(format!("  {item}"));
    }
}

/// Writes the draft notebook and its ground, over what is there only with `--replace`; ends with the code of the command when
/// that fails.
fn write(
    survey: &Survey,
    sources: &[Source<'_>],
    folder: &Path,
    args: &SurveyArgs,
    world: &mut World<'_>,
) -> Result<Written, u8> {
    let name = match slug(&survey.name) {
        name if name.is_empty() => "course".to_owned(),
        name => name,
    };
    let folder = world.current.join(folder);
    let notebook_path = folder.join(format!("{name}.yaml"));
    let today = world.today.clone();
    if notebook_path.exists() {
        return over(sources, &notebook_path, &name, args, world);
    }
    let ground = format!("{name}.geojson");
    let ground_path = folder.join(&ground);
    let unit = if args.units == "metres" { LengthUnit::Metres } else { LengthUnit::Yards };
    let draft = Draft { survey, unit, ground: &ground, today: &today }.write();
    let map = ground_file::write(survey, &today);
    let saved = world.store.make_folder(&folder).and_then(|()| {
        world.store.save(&ground_path, map.as_bytes(), Expect::New)?;
        world.store.save(&notebook_path, draft.as_bytes(), Expect::New)
    });
    match saved {
        Ok(_) => Ok(Written { paths: vec![notebook_path, ground_path], ..Written::default() }),
        Err(error) => Err(world.file_trouble(&error)),
    }
}

/// Surveys over a notebook that is there.
fn over(
    sources: &[Source<'_>],
    notebook: &Path,
    name: &str,
    args: &SurveyArgs,
    world: &mut World<'_>,
) -> Result<Written, u8> {
    let text = read_text(notebook, Limit::YAML).map_err(|error| world.file_trouble(&error))?;
    let root = crate::notebook::read(&text.text).0;
    let named = root.as_ref().and_then(|r| r.get("course")).and_then(|c| c.get("ground")).and_then(|g| g.text());
    let ground_name = named.map_or_else(|| format!("{name}.geojson"), |n| n.trim().to_owned());
    let ground = beside(notebook, &ground_name).map_err(|error| world.file_trouble(&error))?;
    let known = match ground.exists() {
        true => Some(read_text(&ground, Limit::MAP).map_err(|error| world.file_trouble(&error))?),
        false => None,
    };
    let before = Before {
        notebook: &text.text,
        ground: known.as_ref().map(|file| file.text.as_str()),
        ground_name: &ground_name,
    };
    let again = match again(sources, args.course.as_deref(), before, &world.today) {
        Ok(again) => again,
        Err(error) => {
            let _ = writeln!(world.err, "marram: {}: {error}", notebook.display());
            return Err(1);
        }
    };
    let mut out = Written {
        survey: Some(again.survey),
        moved: again.moved,
        kept: again.kept,
        gone: again.gone,
        waits: !args.replace,
        ..Written::default()
    };
    if out.waits {
        return Ok(out);
    }
    let expect = known.as_ref().map_or(Expect::New, |file| Expect::AsRead(file.digest));
    let saved = world.store.back_up(notebook).and_then(|_| world.store.back_up(&ground)).and_then(|_| {
        world.store.save(&ground, again.ground.as_bytes(), expect)?;
        world.store.save(notebook, again.notebook.as_bytes(), Expect::AsRead(text.digest))
    });
    match saved {
        Ok(_) => {
            out.over = true;
            out.paths = vec![notebook.to_owned(), ground];
            Ok(out)
        }
        Err(error) => Err(world.file_trouble(&error)),
    }
}
