//! `marram check FILE…`: every problem in every file.

use super::World;
use crate::notebook::report::Report;
use crate::notebook::{Diagnostic, Document};
use crate::round::{RoundCard, replay};
use crate::session::ReadFile;
use crate::shelf::{format_of, lay_beside, open_competition, problems_of_part};
use crate::store::{Limit, Sort, beside, read, read_text};
use crate::survey::advice::advice;
use crate::survey::read_ground;
use crate::tui::keymap::Keymap;
use crate::{course, player};
use clap::Args;
use std::path::{Path, PathBuf};

/// What to check.
#[derive(Debug, Args)]
pub struct CheckArgs {
    /// The files.
    #[arg(required = true, value_name = "FILE")]
    pub files: Vec<String>,
    /// Also what a writer should look at: aims, sides, length of notes, par and stroke indexes against the published guidance.
    #[arg(long)]
    pub advice: bool,
    /// One JSON object a problem and line.
    #[arg(long)]
    pub json: bool,
}

/// Runs the command: 0 when no file has an error, warnings allowed.
pub fn run(args: &CheckArgs, world: &mut World<'_>) -> u8 {
    let mut worst = 0;
    for name in &args.files {
        let path = PathBuf::from(name);
        let path = if path.exists() {
            path
        } else {
            world.find(Sort::Notebook, name).or_else(|_| world.find(Sort::Competition, name)).unwrap_or(path)
        };
        let code = if path.is_dir() && path.join("competition.yaml").is_file() {
            competition(&path, args.json, world)
        } else if path.extension().is_some_and(|e| e == "geojson") {
            map(&path, args.json, world)
        } else if path.extension().is_some_and(|e| e == "log") {
            log(&path, args.json, world)
        } else {
            human(&path, args, world)
        };
        worst = worst.max(code);
    }
    worst
}

/// Every file of a competition's folder.
fn competition(folder: &Path, json: bool, world: &mut World<'_>) -> u8 {
    let opened = match open_competition(folder, world.store.shelf(), &world.current) {
        Ok(opened) => opened,
        Err(error) => return unreadable(folder, &error.what, &error.cure, json, world),
    };
    let mut worst = 0;
    for file in &opened.files {
        worst = worst.max(report(&file.path.display().to_string(), &file.text, &file.problems, json, world));
    }
    for error in &opened.unread {
        worst = worst.max(unreadable(&error.place, &error.what, &error.cure, json, world));
    }
    worst
}

fn human(path: &Path, args: &CheckArgs, world: &mut World<'_>) -> u8 {
    let json = args.json;
    let bytes = match read(path, Limit::YAML) {
        Ok(file) => file.bytes,
        Err(error) => return unreadable(path, &error.what, &error.cure, json, world),
    };
    let name = path.display().to_string();
    let text = match String::from_utf8(bytes) {
        Ok(text) => text,
        Err(error) => {
            let file = Document::open(error.into_bytes());
            return report(&name, file.text(), file.problems(), json, world);
        }
    };
    if let Some(problems) = problems_of_part(path, &text) {
        return report(&name, &text, &problems, json, world);
    }
    if path.extension().is_some_and(|e| e == "csv") {
        let (_, problems) = player::read_pupils(&text);
        return report(&name, &text, &problems, json, world);
    }
    if format_of(&text) == "round-card" {
        return match serde_yaml::from_str::<RoundCard>(&text) {
            Ok(_) => 0,
            Err(error) => unreadable(
                path,
                &error.to_string(),
                "marram writes this file; its round's log has everything",
                json,
                world,
            ),
        };
    }
    let (mut problems, ground) = problems_of(path, &text);
    if args.advice && format_of(&text) == "course-notebook" {
        problems.extend(advice_of(path, &text));
        problems.sort_by_key(|d| (d.span.start, d.span.end));
    }
    let code = report(&name, &text, &problems, json, world);
    let beside = ground.map_or(0, |file| report(&file.name, &file.text, &file.diagnostics, json, world));
    code.max(beside)
}

/// Surveyed ground by itself.
fn map(path: &Path, json: bool, world: &mut World<'_>) -> u8 {
    match read_text(path, Limit::MAP) {
        Ok(file) => {
            let name = path.display().to_string();
            let (_, problems) = read_ground(&name, &file.text);
            report(&name, &file.text, &problems, json, world)
        }
        Err(error) => unreadable(path, &error.what, &error.cure, json, world),
    }
}

fn report(name: &str, text: &str, problems: &[Diagnostic], json: bool, world: &mut World<'_>) -> u8 {
    let report = Report::new(name, text, problems);
    let shown = if json { report.to_json_lines() } else { report.to_text() };
    let failed = world.out.write_all(shown.as_bytes()).is_err();
    u8::from(report.has_errors() || failed)
}

/// Reads a human file by the kind it says it is, and with the notebook beside it where it names one; the ground file of a
/// notebook comes with its own problems.
pub(super) fn problems_of(path: &Path, text: &str) -> (Vec<Diagnostic>, Option<ReadFile>) {
    let notebook = |named: Option<&str>| {
        let place = beside(path, named?).ok()?;
        let text = read_text(&place, Limit::YAML).ok()?.text;
        let mut course = course::read(&text).0?;
        lay_beside(&mut course, &place, &text);
        Some(course)
    };
    let alone = |problems| (problems, None);
    match format_of(text) {
        "notebook-layer" => {
            let named = course::read_layer(text, None).0.map(|l| l.course);
            alone(course::read_layer(text, notebook(named.as_deref()).as_ref()).1)
        }
        "day-sheet" => {
            let named = course::read_day(text, None).0.map(|d| d.course);
            alone(course::read_day(text, notebook(named.as_deref()).as_ref()).1)
        }
        "player" => alone(player::read(text).1),
        "keys" => alone(Keymap::read(text).1),
        _ => {
            let (course, mut problems) = course::read(text);
            let Some(mut course) = course else { return alone(problems) };
            let laid = lay_beside(&mut course, path, text);
            problems.extend(laid.in_notebook);
            problems.sort_by_key(|d| (d.span.start, d.span.end));
            (problems, laid.file.filter(|file| !file.diagnostics.is_empty()))
        }
    }
}

/// The advice for the writer of a notebook, its surveyed ground laid.
fn advice_of(path: &Path, text: &str) -> Vec<Diagnostic> {
    let Some(mut course) = course::read(text).0 else { return Vec::new() };
    lay_beside(&mut course, path, text);
    advice(&course, crate::notebook::read(text).0.as_ref())
}

fn log(path: &Path, json: bool, world: &mut World<'_>) -> u8 {
    let bytes = match read(path, Limit::MAP) {
        Ok(file) => file.bytes,
        Err(error) => return unreadable(path, &error.what, &error.cure, json, world),
    };
    let said = replay(&bytes);
    let name = path.display().to_string();
    for problem in &said.problems {
        let severity = if problem.loses_something() { "error" } else { "warning" };
        if json {
            let line = serde_json::json!({ "schema": "marram/check/1", "file": name, "line": problem.line, "column": 1, "severity": severity, "message": problem.to_string(), "advice": problem.advice() });
            let _ = writeln!(world.out, "{line}");
        } else {
            let _ = writeln!(world.out, "{name}:{}:1: {severity}: {problem}\n    {}", problem.line, problem.advice());
        }
    }
    u8::from(said.state.is_none() || said.problems.iter().any(|p| p.loses_something()))
}

fn unreadable(path: &Path, what: &str, cure: &str, json: bool, world: &mut World<'_>) -> u8 {
    let name = path.display().to_string();
    if json {
        let line = serde_json::json!({ "schema": "marram/check/1", "file": name, "line": null, "column": null, "severity": "error", "message": what, "advice": cure });
        let _ = writeln!(world.out, "{line}");
    } else {
        let _ = writeln!(world.out, "{}: error: {what}\n    {cure}", crate::units::plain_text::plain(&name));
    }
    1
}
