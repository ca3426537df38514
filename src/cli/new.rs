//! `marram new …`: commented starter files, and the opening record of a round.

use super::World;
use super::play::PlayArgs;
use crate::round::{Kind, slug};
use crate::session::{Home, RoundWish};
use crate::shelf::{self, NotBegun, Wanted};
use crate::store::{Expect, Sort, StoreError};
use clap::{Args, ValueEnum};
use std::path::PathBuf;

/// What to make.
#[derive(Debug, Args)]
pub struct NewArgs {
    /// The kind of file.
    #[arg(value_enum)]
    pub kind: NewKind,
    /// Its name.
    pub name: Option<String>,
    /// The course a layer, day sheet or round is for.
    #[arg(long)]
    pub course: Option<String>,
    /// The players of a round, one to four.
    #[arg(long, num_args = 1..=4)]
    pub player: Vec<String>,
    /// The tee the round is played from, one for all or one for each player.
    #[arg(long, num_args = 1..=4)]
    pub tee: Vec<String>,
    /// The day sheet of a round, or the date of a new one.
    #[arg(long)]
    pub day: Option<String>,
    /// What the round is played for; without it the day sheet's, else practice.
    #[arg(long = "kind", value_enum, id = "round_kind")]
    pub round_kind: Option<RoundKind>,
    /// The format of a round.
    #[command(flatten)]
    pub play: PlayArgs,
    /// The circuit to play, as the notebook names it; or front, back.
    #[arg(long)]
    pub holes: Option<String>,
    /// Where to write, instead of the shelf.
    #[arg(long)]
    pub out: Option<PathBuf>,
    /// Write over a file that is there.
    #[arg(long)]
    pub replace: bool,
}

/// The kinds of starter files.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum NewKind {
    /// A course notebook.
    Course,
    /// A layer of your own over a notebook.
    Layer,
    /// A player with a bag.
    Player,
    /// A day sheet.
    Day,
    /// A round's opening record.
    Round,
    /// A competition: its folder with set-up and field.
    Competition,
}

/// What a round is played for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum RoundKind {
    /// Nothing depends on it.
    Practice,
    /// The score counts for a Handicap Index.
    ForHandicap,
    /// Played in a competition.
    Competition,
}

impl From<RoundKind> for Kind {
    fn from(kind: RoundKind) -> Self {
        match kind {
            RoundKind::Practice => Self::Practice,
            RoundKind::ForHandicap => Self::ForHandicap,
            RoundKind::Competition => Self::Competition,
        }
    }
}

const COURSE: &str = include_str!("starters/course.yaml");
const LAYER: &str = include_str!("starters/layer.yaml");
const PLAYER: &str = include_str!("starters/player.yaml");
const DAY: &str = include_str!("starters/day.yaml");

/// Runs the command.
pub fn run(args: &NewArgs, world: &mut World<'_>) -> u8 {
    let done: Result<_, Refused> = match args.kind {
        NewKind::Round => return round(args, world),
        NewKind::Competition => return competition(args, world),
        NewKind::Course => {
            named(args, "course").map(|name| (Sort::Notebook, slug(name), fill(COURSE, name, name, name, world)))
        }
        NewKind::Player => {
            named(args, "player").map(|name| (Sort::Player, slug(name), fill(PLAYER, name, name, name, world)))
        }
        NewKind::Layer => layer(args, world),
        NewKind::Day => day(args, world),
    };
    match done {
        Err(refused) => refused.tell(world),
        Ok((sort, name, text)) => write(args, sort, &name, &text, world),
    }
}

fn named<'a>(args: &'a NewArgs, what: &str) -> Result<&'a str, Refused> {
    args.name
        .as_deref()
        .filter(|n| !n.trim().is_empty())
        .ok_or_else(|| Refused::Command(format!("a new {what} needs a name: marram new {what} NAME")))
}

/// The starter with its places filled; a name is written so that YAML reads it back as it is.
fn fill(starter: &str, name: &str, course: &str, person: &str, world: &World<'_>) -> String {
    let quoted =
        |s: &str| s.replace('\\', "\\\\").replace('"', "\\\"").chars().filter(|c| !c.is_control()).collect::<String>();
    starter
        .replace("{{NAME}}", &quoted(name))
        .replace("{{COURSE}}", &quoted(course))
        .replace("{{PERSON}}", &quoted(person))
        .replace("{{DATE}}", &world.today)
}

/// The stem of the notebook that `--course` names; it must be there.
fn notebook_stem(args: &NewArgs, what: &str, world: &World<'_>) -> Result<(PathBuf, String), Refused> {
    let course = args
        .course
        .as_deref()
        .ok_or_else(|| Refused::Command(format!("a new {what} needs its notebook: --course NAME")))?;
    let path = world.find(Sort::Notebook, course)?;
    let stem = path.file_stem().and_then(|s| s.to_str()).unwrap_or(course).to_owned();
    Ok((path, stem))
}

fn layer(args: &NewArgs, world: &World<'_>) -> Result<(Sort, String, String), Refused> {
    let person = named(args, "layer")?;
    let (_, stem) = notebook_stem(args, "layer", world)?;
    Ok((Sort::Notebook, format!("{stem}.{}", slug(person)), fill(LAYER, person, &stem, person, world)))
}

fn day(args: &NewArgs, world: &World<'_>) -> Result<(Sort, String, String), Refused> {
    let (_, stem) = notebook_stem(args, "day", world)?;
    let date = args.day.clone().or_else(|| args.name.clone()).unwrap_or_else(|| world.today.clone());
    chrono::NaiveDate::parse_from_str(&date, "%Y-%m-%d")
        .map_err(|_| Refused::Command(format!("`{date}` is no date; write it as {}", world.today)))?;
    let text = DAY.replace("{{DATE}}", &date);
    Ok((Sort::Day, format!("{date}-{stem}"), fill(&text, &date, &stem, "", world)))
}

fn write(args: &NewArgs, sort: Sort, name: &str, text: &str, world: &mut World<'_>) -> u8 {
    let path = match &args.out {
        Some(out) if out.is_dir() => out.join(format!("{name}.yaml")),
        Some(out) => out.clone(),
        None => world.store.shelf().folder_of(sort).join(format!("{name}.yaml")),
    };
    let saved = path
        .parent()
        .filter(|p| args.out.is_none() && !p.as_os_str().is_empty())
        .map_or(Ok(()), |folder| world.store.make_folder(folder))
        .and_then(|()| {
            world.store.save(&path, text.as_bytes(), if args.replace { Expect::Anything } else { Expect::New })
        });
    match saved {
        Ok(saved) => {
            let shown = saved.path.display();
            let _ = writeln!(world.out, "{shown}");
            let next = match args.kind {
                NewKind::Course => format!("edit it, and see it with: marram open {name}"),
                _ => "edit it in any editor; marram check names every mistake in it".to_owned(),
            };
            let _ = writeln!(world.err, "{next}");
            0
        }
        Err(error) => world.file_trouble(&error),
    }
}

/// A competition is a folder; its notebook is the one named, else the only one there is.
fn competition(args: &NewArgs, world: &mut World<'_>) -> u8 {
    let name = match named(args, "competition") {
        Ok(name) => name,
        Err(refused) => return refused.tell(world),
    };
    let notebook = match &args.course {
        Some(_) => match notebook_stem(args, "competition", world) {
            Ok((path, stem)) => Some((path, stem)),
            Err(refused) => return refused.tell(world),
        },
        None => match world.store.shelf().list(Sort::Notebook).unwrap_or_default().as_slice() {
            [only] => Some((only.path.clone(), only.name.clone())),
            _ => None,
        },
    };
    let text = shelf::competition_starter(name, notebook.as_ref(), &world.today);
    let folder = match &args.out {
        Some(out) if out.is_dir() => out.join(slug(name)),
        Some(out) => out.clone(),
        None => world.store.shelf().place_of(Sort::Competition, name),
    };
    let expect = if args.replace { Expect::Anything } else { Expect::New };
    let written = world.store.make_folder(&folder).and_then(|()| {
        let set_up = world.store.save(&folder.join("competition.yaml"), text.as_bytes(), expect)?;
        // A field that is there has entries in it: only the set-up is made anew.
        if !folder.join("field.csv").exists() {
            world.store.save(&folder.join("field.csv"), shelf::FIELD_STARTER.as_bytes(), Expect::New)?;
        }
        Ok(set_up)
    });
    match written {
        Ok(saved) => {
            let _ = writeln!(world.out, "{}", saved.path.display());
            if notebook.is_none() {
                let _ = writeln!(
                    world.err,
                    "note: no notebook was named with --course: write its file and tees into the set-up"
                );
            }
            let _ = writeln!(
                world.err,
                "enter the field in field.csv beside it; marram check {} names every mistake",
                folder.display()
            );
            0
        }
        Err(error) => world.file_trouble(&error),
    }
}

fn round(args: &NewArgs, world: &mut World<'_>) -> u8 {
    match open_round(args, world) {
        Ok((path, words)) => {
            let _ = writeln!(world.out, "{}", path.display());
            if let Some(words) = words {
                let _ = writeln!(world.err, "note: {words}");
            }
            let _ = writeln!(world.err, "open it with: marram open {}", path.display());
            0
        }
        Err(refused) => refused.tell(world),
    }
}

enum Refused {
    Command(String),
    Data(String),
    File(StoreError),
}

impl Refused {
    /// Says it and gives the exit code for it.
    fn tell(&self, world: &mut World<'_>) -> u8 {
        match self {
            Self::Command(words) => world.misuse(words),
            Self::File(error) => world.file_trouble(error),
            Self::Data(words) => {
                let _ = writeln!(world.err, "marram: {words}");
                1
            }
        }
    }
}

impl From<StoreError> for Refused {
    fn from(error: StoreError) -> Self {
        Self::File(error)
    }
}

impl From<NotBegun> for Refused {
    fn from(why: NotBegun) -> Self {
        match why {
            NotBegun::File(error) => Self::File(error),
            NotBegun::Play(words) => Self::Data(words),
        }
    }
}

fn open_round(args: &NewArgs, world: &World<'_>) -> Result<(PathBuf, Option<String>), Refused> {
    let course = args
        .course
        .as_deref()
        .ok_or_else(|| Refused::Command("a new round needs its notebook: --course NAME".to_owned()))?;
    let course = world.find(Sort::Notebook, course)?;
    let mut players = Vec::new();
    for (i, name) in args.player.iter().enumerate() {
        let tee = args.tee.get(i).or_else(|| args.tee.first()).cloned();
        players.push((world.find(Sort::Player, name)?, tee));
    }
    if players.is_empty() {
        let (settings, _) = world.store.settings();
        players.extend(shelf::player_for(&world.store, settings.last()).map(|p| (p, args.tee.first().cloned())));
    }
    let day = args.day.as_deref().map(|d| world.find(Sort::Day, d)).transpose()?;
    let wanted = Wanted { players, day, holes: None };
    let mut session = shelf::open_course(&course, &wanted, &world.today)?;
    let Some(opened) = &session.course else {
        return Err(Refused::Data(format!("{} cannot be read; marram check names its problems", course.display())));
    };
    for tee in &args.tee {
        if opened.tee(tee).is_none() {
            let names: Vec<&str> = opened.tees.iter().map(|t| t.name.as_str()).collect();
            return Err(Refused::Command(format!("`{tee}` is no tee of {}; it has {}", opened.name, names.join(", "))));
        }
    }
    if let Some(holes) = &args.holes {
        session.order = order_of(opened, holes).map_err(Refused::Command)?;
        session.refresh();
    }
    if session.people.len() == 1
        && session.people.iter().any(|p| p.assumed)
        && let Some(tee) = args.tee.first()
    {
        session.people.iter_mut().for_each(|p| p.tee.clone_from(tee));
        session.refresh();
    }
    session.home = Home::Files;
    let play = args.play.asked(&session).map_err(Refused::Command)?;
    let wish = RoundWish { kind: args.round_kind.map(Kind::from), play };
    let begun = shelf::begin(&world.store, &session, &wish, Box::new(|_| {}))?;
    let path = begun.round.log.path();
    begun.round.log.finish()?;
    Ok((path, begun.of_play))
}

/// The holes of a circuit by name, or of a nine.
fn order_of(course: &crate::course::Course, name: &str) -> Result<Vec<u8>, String> {
    if let Some(circuit) = course.circuit(name) {
        return Ok(circuit.holes.clone());
    }
    let nine: Vec<u8> = match name {
        "front" => (1..=9).collect(),
        "back" => (10..=18).collect(),
        _ => Vec::new(),
    };
    if !nine.is_empty() && nine.iter().all(|n| course.hole(*n).is_some()) {
        return Ok(nine);
    }
    let mut names: Vec<String> = course.circuits.iter().map(|c| format!("`{}`", c.name)).collect();
    if course.holes.len() >= 18 {
        names.extend(["`front`".to_owned(), "`back`".to_owned()]);
    }
    Err(format!(
        "`{name}` is no circuit of {}; it has {}",
        course.name,
        if names.is_empty() { "none".to_owned() } else { names.join(", ") }
    ))
}
