//! `marram note COURSE --hole N --at tee|approach|green --text TEXT [--for PERSON]`: adds a note and prints the changed lines.
//!
//! The file changes by the lines of the note and no others. With `--for` the note goes to that person's own layer and the
//! notebook is not touched.

use super::World;
use crate::course::{self, Course};
use crate::notebook::edit::{Edit, Edited, Path as Place, Value, apply};
use crate::notebook::{self, Node, Severity};
use crate::round::slug;
use crate::store::{Expect, Limit, Sort, read_text};
use crate::survey::draft::{in_quotes, quoted};
use crate::units::plain_text::plain;
use clap::{Args, ValueEnum};
use serde_json::{Value as Json, json};
use std::path::{Path, PathBuf};

/// What to note.
#[derive(Debug, Args)]
pub struct NoteArgs {
    /// The notebook: a name on the shelf, or a file.
    #[arg(value_name = "COURSE")]
    pub course: String,
    /// The hole.
    #[arg(long, value_name = "N")]
    pub hole: u8,
    /// Where on the hole it is read.
    #[arg(long, value_enum)]
    pub at: NoteAt,
    /// The words.
    #[arg(long)]
    pub text: String,
    /// Write it to this person's own layer, not to the notebook.
    #[arg(long = "for", value_name = "PERSON")]
    pub whose: Option<String>,
    /// One JSON object.
    #[arg(long)]
    pub json: bool,
}

/// Where a note is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum NoteAt {
    /// On the tee.
    Tee,
    /// On the way to the green.
    Approach,
    /// On and around the green.
    Green,
}

impl NoteAt {
    const fn word(self) -> &'static str {
        match self {
            Self::Tee => "tee",
            Self::Approach => "approach",
            Self::Green => "green",
        }
    }
}

/// Changed lines with their numbers.
type Lines = Vec<(usize, String)>;

/// Why nothing was written, with the exit code.
struct Refused(u8, String);

/// Runs the command.
pub fn run(args: &NoteArgs, world: &mut World<'_>) -> u8 {
    match write(args, world) {
        Ok((path, lines)) => {
            let name = path.display().to_string();
            let failed = if args.json {
                let lines: Vec<Json> = lines.iter().map(|(line, text)| json!({ "line": line, "text": text })).collect();
                let object = json!({ "schema": "marram/note/1", "file": name, "hole": args.hole, "lines": lines });
                writeln!(world.out, "{object}").is_err()
            } else {
                lines
                    .iter()
                    .any(|(line, text)| writeln!(world.out, "{}:{line}: {}", plain(&name), plain(text)).is_err())
            };
            u8::from(failed)
        }
        Err(Refused(code, words)) => {
            let _ = writeln!(world.err, "marram: {words}");
            code
        }
    }
}

fn write(args: &NoteArgs, world: &mut World<'_>) -> Result<(PathBuf, Lines), Refused> {
    if args.text.trim().is_empty() {
        return Err(Refused(2, "a note without words says nothing: --text \"…\"".to_owned()));
    }
    let data = |words: String| Refused(1, words);
    let notebook = world.find(Sort::Notebook, &args.course).map_err(|e| data(e.to_string()))?;
    let file = read_text(&notebook, Limit::YAML).map_err(|e| data(e.to_string()))?;
    let (course, _) = course::read(&file.text);
    let course = course.ok_or_else(|| {
        data(format!("{} cannot be read as a notebook; marram check names its problems", notebook.display()))
    })?;
    if course.hole(args.hole).is_none() && !course.unread.contains(&args.hole) {
        let last = course.holes.last().map_or(0, |h| h.number);
        return Err(Refused(
            2,
            format!("--hole {}: {} has no such hole; its holes go up to {last}", args.hole, course.name),
        ));
    }
    match &args.whose {
        None if course.read_only => Err(data(format!(
            "{} was written for a later marram and is never rewritten; --for PERSON writes a layer",
            notebook.display()
        ))),
        None => {
            let edited = noted(&file.text, args).map_err(|words| data(format!("{}: {words}", notebook.display())))?;
            sound(&edited.text, |text| course::read(text).1).map_err(data)?;
            save(&notebook, &edited.text, changed(&edited), Expect::AsRead(file.digest), world)
        }
        Some(person) => layer(args, person, &notebook, &course, world),
    }
}

/// The note in the layer of a person, which is made when it is not there.
fn layer(
    args: &NoteArgs,
    person: &str,
    notebook: &Path,
    course: &Course,
    world: &mut World<'_>,
) -> Result<(PathBuf, Lines), Refused> {
    let data = |words: String| Refused(1, words);
    let (stem, name) = (notebook.file_stem().and_then(|s| s.to_str()).unwrap_or("course"), slug(person));
    if name.is_empty() {
        return Err(Refused(2, format!("--for {person}: this is no name that a file could have")));
    }
    let path = notebook.with_file_name(format!("{stem}.{name}.yaml"));
    let check = |text: &str| sound(text, |text| course::read_layer(text, Some(course)).1);
    if !path.exists() {
        let edition = course.edition.as_ref().map(|e| format!("edition: {}\n", quoted(e))).unwrap_or_default();
        let person = quoted(person.trim());
        let text = format!(
            "format: notebook-layer/1\n\ncourse: {stem}.yaml\nby: {person}\nfor: {person}\n{edition}\nholes:\n  - hole: {}\n    notes:\n      - at: {}\n        text: {}\n",
            args.hole,
            args.at.word(),
            in_quotes(args.text.trim())
        );
        check(&text).map_err(data)?;
        let lines = text.lines().enumerate().map(|(i, line)| (i + 1, line.to_owned())).collect();
        return save(&path, &text, lines, Expect::New, world);
    }
    let file = read_text(&path, Limit::YAML).map_err(|e| data(e.to_string()))?;
    if course::read_layer(&file.text, None).0.is_some_and(|l| l.read_only) {
        return Err(data(format!("{} was written for a later marram and is never rewritten", path.display())));
    }
    let edited = noted(&file.text, args).map_err(|words| data(format!("{}: {words}", path.display())))?;
    check(&edited.text).map_err(data)?;
    save(&path, &edited.text, changed(&edited), Expect::AsRead(file.digest), world)
}

/// The text with the note under its hole; the hole is added where a layer does not have it yet.
fn noted(text: &str, args: &NoteArgs) -> Result<Edited, String> {
    let (root, _) = notebook::read(text);
    let holes = root.as_ref().and_then(|root| root.get("holes")).map(Node::items).unwrap_or_default();
    // The number as it is written: `04` is hole 4 too.
    let written = holes.iter().find_map(|hole| {
        let raw = hole.get("hole").and_then(Node::text)?;
        (raw.trim().parse::<u8>().ok() == Some(args.hole)).then_some(raw)
    });
    let note = Value::map([("at", args.at.word()), ("text", args.text.trim())]);
    let holes = Place::new().key("holes");
    let edit = match written {
        Some(raw) => Edit::push(holes.of("hole", raw).key("notes"), note),
        None => {
            let number = args.hole.to_string();
            let hole: [(&str, Value); 2] = [("hole", number.into()), ("notes", Value::list([note]))];
            Edit::push(holes, Value::map(hole))
        }
    };
    apply(text, &edit).map_err(|refusal| refusal.to_string())
}

/// Refuses a text that the reader would refuse.
fn sound(text: &str, read: impl Fn(&str) -> Vec<notebook::Diagnostic>) -> Result<(), String> {
    match read(text).into_iter().find(|d| d.severity == Severity::Error) {
        None => Ok(()),
        Some(problem) => {
            let line = notebook::Lines::new(text).place(problem.span.start).line;
            Err(format!("nothing is written, because line {line} has an error: {}", problem.message))
        }
    }
}

fn save(
    path: &Path,
    text: &str,
    lines: Lines,
    expect: Expect,
    world: &mut World<'_>,
) -> Result<(PathBuf, Lines), Refused> {
    let saved = world.store.save(path, text.as_bytes(), expect).map_err(|e| Refused(1, e.to_string()))?;
    if let Some(trouble) = saved.not_synced {
        let _ = writeln!(world.err, "marram: {trouble}");
    }
    Ok((path.to_owned(), lines))
}

fn changed(edited: &Edited) -> Lines {
    edited.changed().into_iter().map(|(line, text)| (line, text.to_owned())).collect()
}
