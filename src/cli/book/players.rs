//! For whom a book is printed: one player, the pupils of a list, or nobody in particular.

use super::{BookArgs, Paper};
use crate::cli::World;
use crate::notebook::report::Report;
use crate::plan::Frozen;
use crate::player::read_pupils;
use crate::round::replay;
use crate::session::{Person, Session};
use crate::shelf::{self, Wanted};
use crate::store::{Limit, Sort, read, read_text};
use std::path::{Path, PathBuf};

/// What is open for one book.
pub struct Chosen {
    /// What is open.
    pub session: Session,
    /// The same over an older edition of the notebook.
    pub old: Option<Session>,
}

/// Opens what is needed, once for each player.
pub fn open(args: &BookArgs, world: &mut World<'_>) -> Result<Vec<Chosen>, u8> {
    let course = world.find(Sort::Notebook, &args.course).map_err(|e| world.file_trouble(&e))?;
    let old = match &args.since {
        Some(name) => Some(world.find(Sort::Notebook, name).map_err(|e| world.file_trouble(&e))?),
        None => None,
    };
    let day = match &args.day {
        Some(name) => Some(world.find(Sort::Day, name).map_err(|e| world.file_trouble(&e))?),
        None => None,
    };
    if args.paper == Paper::HoleLocations && day.is_none() {
        return Err(world.misuse("a hole-location sheet is of a day; name its day sheet with --day"));
    }
    let who = people(args, world)?;
    let mut out = Vec::new();
    for (player, tee) in who {
        let players = player.into_iter().map(|p| (p, tee.clone())).collect();
        let wanted = Wanted { players, day: day.clone(), holes: None };
        let mut session = one(&course, &wanted, args, world)?;
        if let Some(round) = &args.round {
            freeze(&mut session, round, world)?;
        }
        let old = match &old {
            Some(path) => Some(one(path, &wanted, args, world)?),
            None => None,
        };
        out.push(Chosen { session, old });
    }
    Ok(out)
}

/// A player's file, where it is for one, and their tee.
type Reader = (Option<PathBuf>, Option<String>);

/// The files of those it is for, each with a tee; one without a file for nobody in particular.
fn people(args: &BookArgs, world: &mut World<'_>) -> Result<Vec<Reader>, u8> {
    if args.professional {
        return Ok(vec![(None, args.tee.clone())]);
    }
    let Some(list) = &args.pupils else {
        let player = match &args.player {
            Some(name) => Some(world.find(Sort::Player, name).map_err(|e| world.file_trouble(&e))?),
            None => {
                let (settings, _) = world.store.settings();
                shelf::player_for(&world.store, settings.last())
            }
        };
        return Ok(vec![(player, args.tee.clone())]);
    };
    let path = pupils_file(list, world);
    let file = read_text(&path, Limit::YAML).map_err(|e| world.file_trouble(&e))?;
    let (pupils, problems) = read_pupils(&file.text);
    if !problems.is_empty() {
        let report = Report::new(&path.display().to_string(), &file.text, &problems);
        let _ = world.err.write_all(report.to_text().as_bytes());
    }
    if pupils.is_empty() || problems.iter().any(|p| p.severity == crate::notebook::Severity::Error) {
        return Err(1);
    }
    let mut out = Vec::new();
    for pupil in pupils {
        let file = world.find(Sort::Player, &pupil.player).map_err(|e| world.file_trouble(&e))?;
        out.push((Some(file), args.tee.clone().or(pupil.tee)));
    }
    Ok(out)
}

/// A list by path, or by name in `pupils/` here or on the shelf.
fn pupils_file(name: &str, world: &World<'_>) -> PathBuf {
    let given = world.current.join(name);
    if given.is_file() {
        return given;
    }
    let file = if Path::new(name).extension().is_some() { name.to_owned() } else { format!("{name}.csv") };
    let places = [world.current.join("pupils"), world.store.shelf().root().join("pupils")];
    places.into_iter().map(|folder| folder.join(&file)).find(|p| p.is_file()).unwrap_or(given)
}

fn one(course: &Path, wanted: &Wanted, args: &BookArgs, world: &mut World<'_>) -> Result<Session, u8> {
    let today = world.today.clone();
    let mut session = shelf::open_course(course, wanted, &today).map_err(|e| world.file_trouble(&e))?;
    if let Some(tee) = &args.tee {
        session.people.iter_mut().filter(|p| p.assumed).for_each(|p| p.tee.clone_from(tee));
        session.refresh();
    }
    if session.people.is_empty()
        && let Some(course) = &session.course
    {
        // Nobody is needed for a notebook by tee, but somebody has to stand on it.
        let tee = args.tee.clone().or_else(|| course.tees.first().map(|t| t.name.clone())).unwrap_or_default();
        session.people.push(Person::assumed(&tee, course.units));
        session.refresh();
    }
    Ok(session)
}

/// Takes the frozen plan and the strokes of a round for the player of the session.
fn freeze(session: &mut Session, round: &str, world: &mut World<'_>) -> Result<(), u8> {
    let path = world.find(Sort::Round, round).map_err(|e| world.file_trouble(&e))?;
    let file = read(&path, Limit::MAP).map_err(|e| world.file_trouble(&e))?;
    let Some(state) = replay(&file.bytes).state else {
        let _ = writeln!(world.err, "marram: {}: the log has no opening record", path.display());
        return Err(1);
    };
    let Some(name) = session.golfers.first().map(|g| g.name.clone()) else { return Ok(()) };
    let Some(place) = state.opening().players.iter().position(|p| p.name.eq_ignore_ascii_case(&name)) else {
        let names: Vec<&str> = state.opening().players.iter().map(|p| p.name.as_str()).collect();
        return Err(world
            .misuse(&format!("{name} does not play in that round; name with --player one of {}", names.join(", "))));
    };
    let (frozen, trouble) = shelf::frozen(&state, &path);
    if let Some(words) = trouble {
        let _ = writeln!(world.err, "marram: {words}");
        return Err(1);
    }
    let Some(frozen) = frozen else {
        let _ = writeln!(world.err, "marram: no plan was frozen for this round: a practice round freezes none");
        return Err(1);
    };
    session.order.clone_from(&state.opening().holes);
    if let (Some(golfer), Some(entrant)) = (session.golfers.first_mut(), state.opening().players.get(place)) {
        golfer.strokes.clone_from(&entrant.strokes);
        golfer.playing_handicap = entrant.playing_handicap.unwrap_or(0);
        if golfer.tee != entrant.tee {
            return Err(world.misuse(&format!("the plan was frozen for the {} tee; name it with --tee", entrant.tee)));
        }
    }
    let holes = frozen.holes.iter().filter(|h| h.player == place).cloned();
    let holes = holes.map(|h| crate::plan::FrozenHole { player: 0, ..h }).collect();
    session.frozen = Some(Frozen { holes, ..frozen.clone() });
    session.round = Some(state);
    Ok(())
}
