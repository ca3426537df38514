//! Reads human files into a session. A file with an error keeps the last good state on screen.

use super::ground;
use crate::course::{self, Course};
use crate::notebook::{Diagnostic, Lines, Severity, Span};
use crate::player;
use crate::round::{Entrant, FileRef};
use crate::session::bag::bag_of;
use crate::session::{Home, Person, ReadFile, Session};
use crate::store::{Limit, StoreError, read_text};
use crate::units::digest::Digest;
use crate::units::tenths::HandicapIndex;
use std::path::{Path, PathBuf};

/// What is to be opened beside a notebook.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Wanted {
    /// Players' files, each with the tee they play when one was named.
    pub players: Vec<(PathBuf, Option<String>)>,
    /// A day sheet.
    pub day: Option<PathBuf>,
    /// A circuit or part: hole numbers in playing order.
    pub holes: Option<Vec<u8>>,
}

/// A session being put together from texts.
#[derive(Debug)]
pub struct Load {
    session: Session,
    plain: Option<Course>,
}

impl Load {
    /// Nothing yet.
    pub fn new(today: &str) -> Self {
        Self { session: Session { today: today.to_owned(), ..Session::default() }, plain: None }
    }

    fn note(&mut self, file: &ReadFile) {
        if !file.diagnostics.is_empty() {
            self.session.problems.push(file.clone());
        }
    }

    /// Takes a notebook.
    pub fn course(&mut self, name: &str, text: String) {
        let (course, diagnostics) = course::read(&text);
        let file = ReadFile { name: name.to_owned(), text, diagnostics };
        self.note(&file);
        self.plain = course;
        self.session.notebook_digest = Some(file.digest());
        self.session.course_file = Some(file);
    }

    /// Takes the surveyed ground that the notebook names; `None` reads it beside the notebook.
    pub fn ground(&mut self, given: Option<(&str, String)>) {
        let (Some(course), Some(notebook)) = (&mut self.plain, &self.session.course_file) else { return };
        let laid = match given {
            Some((name, text)) => ground::lay(course, name, text),
            None => ground::lay_beside(course, Path::new(&notebook.name), &notebook.text),
        };
        if let Some(file) = laid.file {
            self.note(&file);
            self.session.ground = Some(file);
        }
        if laid.in_notebook.is_empty() {
            return;
        }
        if let Some(file) = &mut self.session.course_file {
            file.diagnostics.extend(laid.in_notebook);
            file.diagnostics.sort_by_key(|d| (d.span.start, d.span.end));
            let file = file.clone();
            self.session.problems.retain(|p| p.name != file.name);
            self.session.problems.insert(0, file);
        }
    }

    /// Takes a layer of the notebook.
    pub fn layer(&mut self, name: &str, text: String) {
        let (layer, diagnostics) = course::read_layer(&text, self.plain.as_ref());
        let file = ReadFile { name: name.to_owned(), text, diagnostics };
        self.note(&file);
        if let Some(layer) = layer {
            self.session.layers.push((layer, file));
        }
    }

    /// Keeps in mind a file that could not be read at all.
    fn unreadable(&mut self, error: &StoreError) {
        let problem = Diagnostic::error("unreadable", Span::at(0), error.what.clone()).advise(error.cure.clone());
        self.note(&ReadFile { name: shown(&error.place), text: String::new(), diagnostics: vec![problem] });
    }

    /// Takes a day sheet.
    pub fn day(&mut self, name: &str, text: String) {
        let (day, diagnostics) = course::read_day(&text, self.plain.as_ref());
        let file = ReadFile { name: name.to_owned(), text, diagnostics };
        self.note(&file);
        if let Some(day) = day {
            self.session.day = Some((day, file));
        }
    }

    /// Takes a player, on `tee` when one is named.
    pub fn player(&mut self, name: &str, text: String, tee: Option<&str>) {
        let (player, diagnostics) = player::read(&text);
        let file = ReadFile { name: name.to_owned(), text, diagnostics };
        self.note(&file);
        if let Some(player) = player {
            let reference = FileRef { file: name.to_owned(), digest: Digest::of(file.text.as_bytes()) };
            let mut person = person(&player, reference);
            person.tee = tee.map(str::to_owned).unwrap_or_default();
            self.session.people.push(person);
            self.session.player_files.push(file);
        }
    }

    /// The order of play, when it is not all holes in order.
    pub fn holes(&mut self, holes: Vec<u8>) {
        self.session.order = holes;
    }

    /// Puts it together: players on a tee that the course has, strokes worked out.
    pub fn finish(mut self, home: Home) -> Session {
        self.session.home = home;
        if let Some(course) = self.plain.take() {
            let tee = usual_tee(&course);
            let units = course.units;
            if self.session.people.is_empty() {
                self.session.people.push(Person::assumed(&tee, units));
            }
            for person in &mut self.session.people {
                if course.tee(&person.tee).is_none() {
                    person.tee.clone_from(&tee);
                }
            }
            self.session.course = Some(course);
        }
        self.session.refresh();
        self.session
    }
}

/// The tee assumed where none is named: the middle one of the sets that most holes have, which is the club's everyday one.
fn usual_tee(course: &Course) -> String {
    let holes = |name: &str| course.holes.iter().filter(|h| h.tee(name).is_some()).count();
    let most = course.tees.iter().map(|t| holes(&t.name)).max().unwrap_or(0);
    let whole: Vec<&str> = course.tees.iter().map(|t| t.name.as_str()).filter(|name| holes(name) == most).collect();
    whole.get(whole.len() / 2).map(|name| (*name).to_owned()).unwrap_or_default()
}

pub(super) fn person(player: &player::Player, file: FileRef) -> Person {
    Person {
        name: player.name.clone(),
        file: Some(file),
        card: player.ratings,
        index: player.index.and_then(HandicapIndex::new),
        tee: String::new(),
        units: player.units,
        hand: player.hand,
        carry: player.carry().map(|c| c.as_yards()),
        shape: player.shape(),
        bag: bag_of(player),
        measured: player.carries_measured.unwrap_or_default(),
        assumed: false,
    }
}

/// What is open with the text of a player's file replaced by `text`; tee, card and strokes of a round stay.
pub fn with_player(session: &Session, player: usize, text: String) -> Session {
    let mut out = session.clone();
    let Some(name) = session.player_file(player).map(|f| f.name.clone()) else { return out };
    let (read, diagnostics) = player::read(&text);
    let file = ReadFile { name: name.clone(), text, diagnostics };
    for old in out.people.iter_mut().filter(|p| p.file.as_ref().is_some_and(|f| f.file == name)) {
        let Some(read) = &read else { continue };
        let mut new = person(read, FileRef { file: name.clone(), digest: file.digest() });
        new.tee.clone_from(&old.tee);
        if session.round.is_some() {
            (new.card, new.index) = (old.card, old.index);
        }
        *old = new;
    }
    out.problems.retain(|f| f.name != name);
    if !file.diagnostics.is_empty() {
        out.problems.push(file.clone());
    }
    for old in out.player_files.iter_mut().filter(|f| f.name == name) {
        *old = file.clone();
    }
    out.refresh();
    out
}

/// The player of a round as it was opened: the file's when it was found, else as the log says.
pub fn person_of(entrant: &Entrant, session: &Session) -> Person {
    let known = session.people.iter().find(|p| !p.assumed && p.name == entrant.name);
    let mut person = known.cloned().unwrap_or_else(|| Person {
        name: entrant.name.clone(),
        file: entrant.file.clone(),
        assumed: false,
        index: None,
        ..Person::assumed(&entrant.tee, session.course.as_ref().map(|c| c.units).unwrap_or_default())
    });
    person.tee.clone_from(&entrant.tee);
    person.card = entrant.card;
    person.index = entrant.handicap_index.as_deref().and_then(|i| HandicapIndex::parse(i).ok());
    person
}

/// The layers that lie beside a notebook: `NAME.PERSON.yaml`, by name.
fn layers_beside(notebook: &Path) -> Vec<PathBuf> {
    let Some(stem) = notebook.file_stem().and_then(|s| s.to_str()) else { return Vec::new() };
    let folder = notebook.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let Ok(entries) = std::fs::read_dir(folder) else { return Vec::new() };
    let mut out: Vec<PathBuf> = entries
        .filter_map(|e| Some(e.ok()?.path()))
        .filter(|p| {
            let name = p.file_name().and_then(|n| n.to_str()).unwrap_or_default();
            name.strip_prefix(stem)
                .and_then(|r| r.strip_prefix('.'))
                .and_then(|r| r.strip_suffix(".yaml"))
                .is_some_and(|person| !person.is_empty())
        })
        .collect();
    out.sort();
    out
}

/// Opens a notebook from its file, with its layers and what else is wanted.
///
/// # Errors
/// [`StoreError`] when the notebook or a wanted file cannot be read at all; problems inside files are in the session.
pub fn open_course(path: &Path, wanted: &Wanted, today: &str) -> Result<Session, StoreError> {
    let mut load = Load::new(today);
    let file = read_text(path, Limit::YAML)?;
    load.course(&shown(path), file.text);
    load.ground(None);
    for layer in layers_beside(path) {
        match read_text(&layer, Limit::YAML) {
            Ok(file) => load.layer(&shown(&layer), file.text),
            Err(error) => load.unreadable(&error),
        }
    }
    for (player, tee) in &wanted.players {
        let file = read_text(player, Limit::YAML)?;
        load.player(&shown(player), file.text, tee.as_deref());
    }
    if let Some(day) = &wanted.day {
        let file = read_text(day, Limit::YAML)?;
        load.day(&shown(day), file.text);
    }
    if let Some(holes) = &wanted.holes {
        load.holes(holes.clone());
    }
    Ok(load.finish(Home::Files))
}

/// A path as a person names it.
pub fn shown(path: &Path) -> String {
    path.display().to_string()
}

/// The files that a session was read from with the digest of what was read, to be watched.
pub fn files_of(session: &Session) -> Vec<(PathBuf, Option<Digest>)> {
    if session.home == Home::Example {
        return Vec::new();
    }
    session
        .course_file
        .iter()
        .chain(&session.ground)
        .chain(session.layers.iter().map(|(_, f)| f))
        .chain(session.day.iter().map(|(_, f)| f))
        .chain(&session.player_files)
        .map(|f| (PathBuf::from(&f.name), Some(f.digest())))
        .collect()
}

/// Reads the files of `before` again after a change on the disk. A file that cannot be read or has errors leaves the last
/// good state of everything on screen and names its first error; the round is never touched.
pub fn reread(before: &Session) -> (Session, Option<String>) {
    let Some(course) = &before.course_file else { return (before.clone(), None) };
    let wanted = Wanted {
        // A player of a round whose file was not there then is not asked for again.
        players: before
            .people
            .iter()
            .filter_map(|p| Some((&p.file.as_ref()?.file, Some(p.tee.clone()))))
            .filter(|(file, _)| before.player_files.iter().any(|read| read.name == **file))
            .map(|(file, tee)| (PathBuf::from(file), tee))
            .collect(),
        day: before.day.as_ref().map(|(_, f)| PathBuf::from(&f.name)),
        holes: before.round.as_ref().map(|r| r.opening().holes.clone()),
    };
    let mut after = match open_course(Path::new(&course.name), &wanted, &before.today) {
        Ok(session) => session,
        Err(error) => {
            let mut kept = before.clone();
            kept.problems.clear();
            return (kept, Some(format!("{error}; the last good state stays")));
        }
    };
    after.round.clone_from(&before.round);
    after.frozen.clone_from(&before.frozen);
    after.shelf.clone_from(&before.shelf);
    after.read_only.clone_from(&before.read_only);
    if let Some(round) = &after.round {
        after.people = round.opening().players.iter().map(|entrant| person_of(entrant, &after)).collect();
    }
    let first_error = after.problems.iter().find_map(|file| {
        let error = file.diagnostics.iter().find(|d| d.severity == Severity::Error)?;
        let place = Lines::new(&file.text).place(error.span.start);
        Some(format!("{}:{}:{}: {}", file.name, place.line, place.column, error.message))
    });
    match first_error {
        None => {
            after.refresh();
            (after, None)
        }
        Some(words) => {
            let kept = Session { problems: after.problems, ..before.clone() };
            (kept, Some(format!("{words}; the last good state stays, e lists all")))
        }
    }
}
