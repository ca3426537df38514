//! Arguments, subcommands, plain and JSON output, exit codes.
//!
//! Exit code 0 fine, 1 the data is wrong (a file; every problem named), 2 the command is wrong (cli.md).

mod arguments;
pub mod book;
pub mod card;
pub mod carry;
pub mod changes;
pub mod check;
pub mod close;
pub mod day;
pub mod doctor;
pub mod expect;
pub mod handicap;
mod known;
pub mod man;
pub mod merge;
pub mod new;
pub mod note;
pub mod plan;
pub mod play;
pub mod putt;
mod rated;
pub mod restore;
pub mod review;
#[cfg(test)]
mod review_tests;
#[cfg(test)]
mod round_tests;
pub mod scout;
pub mod survey;
pub mod total;
pub mod values;

use crate::store::{Shelf, Sort, Store, StoreError, today};
use crate::tui::{commands, lines, run};
use arguments::{Arguments, Command};
use clap::{CommandFactory, Parser};
use std::io::{IsTerminal, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Where a command reads and writes: so that every command can be run by a test.
pub struct World<'a> {
    /// The shelf.
    pub store: Store,
    /// The current folder.
    pub current: PathBuf,
    /// Today, as `2026-05-16`.
    pub today: String,
    /// Plain output.
    pub out: &'a mut dyn Write,
    /// What goes beside it.
    pub err: &'a mut dyn Write,
    /// Both sides are a terminal, so that a screen can be drawn.
    pub terminal: bool,
}

impl World<'_> {
    /// Finds a name or path of a sort.
    ///
    /// # Errors
    /// [`StoreError`] naming what is near.
    pub fn find(&self, sort: Sort, name: &str) -> Result<PathBuf, StoreError> {
        self.store.shelf().find(sort, name, &self.current)
    }

    /// Says what is wrong with a file and gives the exit code for it.
    pub fn file_trouble(&mut self, error: &StoreError) -> u8 {
        let _ = writeln!(self.err, "marram: {error}");
        1
    }

    /// Says what is wrong with the command line and gives the exit code for it.
    pub fn misuse(&mut self, words: &str) -> u8 {
        let _ = writeln!(self.err, "marram: {words}");
        2
    }
}

/// Reads the command line and runs it.
pub fn main() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) => {
            let _ = error.print();
            return ExitCode::from(u8::try_from(error.exit_code()).unwrap_or(2));
        }
    };
    let shelf = match Shelf::locate(arguments.folder.as_deref()) {
        Ok(shelf) => shelf,
        Err(error) => {
            eprintln!("marram: {error}");
            return ExitCode::from(1);
        }
    };
    let terminal = std::io::stdout().is_terminal() && std::io::stdin().is_terminal();
    let (mut out, mut err) = (std::io::stdout().lock(), std::io::stderr());
    let mut world = World {
        store: Store::new(shelf),
        current: std::env::current_dir().unwrap_or_default(),
        today: today(),
        out: &mut out,
        err: &mut err,
        terminal,
    };
    ExitCode::from(perform(arguments, &mut world))
}

fn perform(arguments: Arguments, world: &mut World<'_>) -> u8 {
    match arguments.command {
        None if arguments.lines => in_lines(world, &run::Start::LeftOff),
        None => screen(world, &run::Start::LeftOff, "the round you left off, or the example"),
        Some(Command::Open { name, lines }) => match any(world, &name) {
            Ok(path) if lines || arguments.lines => in_lines(world, &run::Start::Path(path)),
            Ok(path) => {
                let shown = path.display().to_string();
                let competition = path.join("competition.yaml").is_file() || path.ends_with("competition.yaml");
                let start = if competition { run::Start::Desk(path) } else { run::Start::Path(path) };
                screen(world, &start, &shown)
            }
            Err(error) => world.file_trouble(&error),
        },
        Some(Command::New(args)) => new::run(&args, world),
        Some(Command::Check(args)) => check::run(&args, world),
        Some(Command::Plan(args)) => plan::run(&args, world),
        Some(Command::Book(args)) => book::run(&args, world),
        Some(Command::Card(args)) => card::run(&args, world),
        Some(Command::Note(args)) => note::run(&args, world),
        Some(Command::Survey(args)) => survey::run(&args, world),
        Some(Command::Changes(args)) => changes::run(&args, world),
        Some(Command::Merge(args)) => merge::run(&args, world),
        Some(Command::Scout(args)) => scout::run(&args, world),
        Some(Command::Restore(args)) => restore::run(&args, world),
        Some(Command::Total(args)) => total::run(&args, world),
        Some(Command::Close(args)) => close::run(&args, world),
        Some(Command::Handicap(args)) => rated::run(&args, world),
        Some(Command::Review(args)) => review::run(&args, world),
        Some(Command::Carry(args)) => {
            let known = known::known(world);
            code(carry::run_for(&args, &known, world.out, world.err))
        }
        Some(Command::Day(args)) => day::run(&args, world),
        Some(Command::Expect(args)) => code(expect::run(&args, world.out, world.err)),
        Some(Command::Putt(args)) => {
            let known = known::known(world);
            code(putt::run_for(&args, &known, world.out, world.err))
        }
        Some(Command::Doctor(args)) => doctor::run(&args, world),
        Some(Command::Man(args)) => man::run(&args, world),
        Some(Command::Keys { markdown, names }) => {
            let text = match (markdown, names) {
                (true, _) => commands::markdown(),
                (_, true) => commands::names(),
                _ => commands::plain(),
            };
            u8::from(world.out.write_all(text.as_bytes()).is_err())
        }
        Some(Command::Completions { shell }) => {
            let mut buffer = Vec::new();
            clap_complete::generate(shell, &mut Arguments::command(), "marram", &mut buffer);
            u8::from(world.out.write_all(&buffer).is_err())
        }
    }
}

fn code(code: i32) -> u8 {
    u8::try_from(code).unwrap_or(2)
}

/// Opens the screen; without a terminal it says where it would and never waits (cli.md).
fn screen(world: &mut World<'_>, start: &run::Start, would: &str) -> u8 {
    if !world.terminal {
        return world.misuse(&format!("there is no terminal to draw on; would open {would}"));
    }
    match run::run(world.store.clone(), start, &world.today) {
        Ok(()) => 0,
        Err(error) => {
            let _ = writeln!(world.err, "marram: {error:#}");
            1
        }
    }
}

/// Line mode reads a pipe as well as a person.
fn in_lines(world: &mut World<'_>, start: &run::Start) -> u8 {
    let input = Box::new(std::io::BufReader::new(std::io::stdin()));
    match lines::run(world.store.clone(), start, &world.today, input, world.out, world.terminal) {
        Ok(()) => 0,
        Err(error) => {
            let _ = writeln!(world.err, "marram: {error:#}");
            1
        }
    }
}

/// Finds a notebook, a round, a player or a day sheet by a name or path: the first sort that has it.
fn any(world: &World<'_>, name: &str) -> Result<PathBuf, StoreError> {
    // A folder with a set-up in it is a competition, wherever it lies.
    let place = world.current.join(name);
    if place.join("competition.yaml").is_file() || place.ends_with("competition.yaml") && place.is_file() {
        return Ok(place);
    }
    let first = world.find(Sort::Notebook, name);
    if first.is_ok() || name.contains('/') || Path::new(name).extension().is_some() {
        return first;
    }
    [Sort::Round, Sort::Competition, Sort::Player, Sort::Day]
        .into_iter()
        .find_map(|sort| world.find(sort, name).ok())
        .map_or(first, Ok)
}
