//! A competition's folder to values: every file read, every problem by file, nothing used in part.

use crate::competition::read::{
    check_tees, read_change, read_field, read_keying, read_ruling, read_setup, read_sides, sides_of_field,
};
use crate::competition::setup::Setup;
use crate::competition::values::{Entrant, Keying, SideEntry};
use crate::competition::{Competition, issue::Issue};
use crate::course;
use crate::notebook::{Diagnostic, Document, Severity};
use crate::round::slug;
use crate::scoring::Count;
use crate::store::{Limit, Shelf, Sort, StoreError, beside, read};
use crate::units::digest::Digest;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// A file of a competition with what is wrong with it.
#[derive(Clone, Debug)]
pub struct FileProblems {
    /// Where it lies.
    pub path: PathBuf,
    /// Its text.
    pub text: String,
    /// Its problems.
    pub problems: Vec<Diagnostic>,
}

/// A competition's folder as it was read.
#[derive(Clone, Debug)]
pub struct Opened {
    /// The folder.
    pub folder: PathBuf,
    /// The competition; `None` where a file has an error.
    pub competition: Option<Competition>,
    /// Files with problems; warnings alone hinder nothing.
    pub files: Vec<FileProblems>,
    /// Files that could not be read at all.
    pub unread: Vec<StoreError>,
    /// What the folder itself tells, as conflict copies.
    pub issues: Vec<Issue>,
    /// What everything was made from: name in the folder and digest, in the order of names.
    pub digests: Vec<(String, Digest)>,
}

impl Opened {
    /// Whether every file could be read and used.
    pub fn is_sound(&self) -> bool {
        self.competition.is_some() && self.unread.is_empty()
    }
}

/// Opens the competition in `folder`. `current` is where names are looked up first.
///
/// # Errors
/// [`StoreError`] when there is no such folder or no `competition.yaml` in it.
pub fn open_competition(folder: &Path, shelf: &Shelf, current: &Path) -> Result<Opened, StoreError> {
    let folder = if folder.is_file() { folder.parent().unwrap_or(folder).to_owned() } else { folder.to_owned() };
    let mut reader = FolderReader {
        folder: folder.clone(),
        files: Vec::new(),
        unread: Vec::new(),
        issues: Vec::new(),
        digests: Vec::new(),
    };
    let set_up = folder.join("competition.yaml");
    let text = reader.must("competition.yaml")?;
    let (setup, problems) = read_setup(&text);
    reader.note(&set_up, &text, problems);
    let competition = match setup {
        Some(setup) => reader.rest(setup, shelf, current),
        None => None,
    };
    reader.copies_in(Path::new(""));
    reader.digests.sort();
    let FolderReader { files, unread, issues, digests, .. } = reader;
    let broken = files.iter().any(|file| file.problems.iter().any(|d| d.severity == Severity::Error));
    let competition = competition.filter(|_| !broken && unread.is_empty());
    Ok(Opened { folder, competition, files, unread, issues, digests })
}

struct FolderReader {
    folder: PathBuf,
    files: Vec<FileProblems>,
    unread: Vec<StoreError>,
    issues: Vec<Issue>,
    digests: Vec<(String, Digest)>,
}

impl FolderReader {
    fn note(&mut self, path: &Path, text: &str, problems: Vec<Diagnostic>) {
        if !problems.is_empty() {
            self.files.push(FileProblems { path: path.to_owned(), text: text.to_owned(), problems });
        }
    }

    /// More problems of a file that was read before.
    fn add(&mut self, name: &str, problems: Vec<Diagnostic>) {
        let path = self.folder.join(name);
        match self.files.iter_mut().find(|file| file.path == path) {
            Some(file) => file.problems.extend(problems),
            None if problems.is_empty() => {}
            None => {
                if let Ok(text) = crate::store::read_text(&path, Limit::YAML) {
                    self.files.push(FileProblems { path, text: text.text, problems });
                }
            }
        }
    }

    /// The text of a file in the folder, its digest kept under its name.
    fn must(&mut self, name: &str) -> Result<String, StoreError> {
        let path = self.folder.join(name);
        self.text_of(&path, name)
    }

    fn text_of(&mut self, path: &Path, name: &str) -> Result<String, StoreError> {
        let file = read(path, Limit::YAML)?;
        self.digests.push((name.to_owned(), file.digest));
        match String::from_utf8(file.bytes) {
            Ok(text) => Ok(text),
            Err(error) => {
                let broken = Document::open(error.into_bytes());
                self.note(path, broken.text(), broken.problems().to_vec());
                Ok(String::new())
            }
        }
    }

    fn try_text(&mut self, name: &str) -> Option<String> {
        match self.must(name) {
            Ok(text) => Some(text),
            Err(error) => {
                self.unread.push(error);
                None
            }
        }
    }

    fn rest(&mut self, setup: Setup, shelf: &Shelf, current: &Path) -> Option<Competition> {
        let course = self.course(&setup, shelf, current);
        let field = self.field(&setup);
        let sides = self.sides(&setup, field.as_deref().unwrap_or_default());
        let keyings = self.keyings(&setup);
        let mut rulings = Vec::new();
        for name in self.names("rulings", "yaml") {
            let Some(text) = self.try_text(&name) else { continue };
            let (ruling, problems) = read_ruling(&text, &name);
            self.note(&self.folder.join(&name), &text, problems);
            rulings.extend(ruling);
        }
        let mut changes = Vec::new();
        for name in self.names("changes", "yaml") {
            let Some(text) = self.try_text(&name) else { continue };
            let (change, problems) = read_change(&text, &name);
            self.note(&self.folder.join(&name), &text, problems);
            changes.extend(change);
        }
        self.copies_in(Path::new("rulings"));
        self.copies_in(Path::new("changes"));
        let (course, field) = (course?, field?);
        let (set_up, entries) = check_tees(&setup, &field, &course);
        self.add("competition.yaml", set_up);
        self.add("field.csv", entries);
        Some(Competition { setup, course, field, sides, keyings, rulings, changes })
    }

    /// The notebook: beside the competition, above it on its shelf, in the current folder, on the shelf.
    fn course(&mut self, setup: &Setup, shelf: &Shelf, current: &Path) -> Option<course::Course> {
        let near = beside(&self.folder.join("competition.yaml"), &setup.course);
        let plain = !setup.course.contains(['/', '\\']);
        let above = [self.folder.join(".."), self.folder.join("..").join("..")];
        let above = above.iter().map(|folder| folder.join(&setup.course)).find(|path| plain && path.is_file());
        let stem = setup.course.strip_suffix(".yaml").unwrap_or(&setup.course);
        let path = near.or_else(|error| {
            if !plain {
                return Err(error);
            }
            above.map_or_else(|| shelf.find(Sort::Notebook, stem, current), Ok)
        });
        let text = match path.and_then(|path| self.text_of(&path, &setup.course).map(|text| (path, text))) {
            Ok(found) => found,
            Err(error) => {
                self.unread.push(error);
                return None;
            }
        };
        let (course, problems) = course::read(&text.1);
        // What the notebook warns of is for its writer; only errors stand in the way of a total.
        let errors: Vec<Diagnostic> = problems.into_iter().filter(|d| d.severity == Severity::Error).collect();
        self.note(&text.0, &text.1, errors);
        course
    }

    fn field(&mut self, setup: &Setup) -> Option<Vec<Entrant>> {
        let text = self.try_text("field.csv")?;
        let holes = setup.rounds.first().map_or(&[][..], |round| round.holes.as_slice());
        let handicaps = setup.events.iter().any(|event| event.count == Count::Net && event.merit.is_none());
        let (field, problems) = read_field(&text, holes, handicaps);
        let sound = problems.iter().all(|d| d.severity != Severity::Error);
        self.note(&self.folder.join("field.csv"), &text, problems);
        sound.then_some(field)
    }

    fn sides(&mut self, setup: &Setup, field: &[Entrant]) -> BTreeMap<String, Vec<SideEntry>> {
        let mut sides = BTreeMap::new();
        sides.insert(String::new(), sides_of_field(field));
        for event in &setup.events {
            let Some(name) = event.sides.clone().filter(|name| !sides.contains_key(name)) else { continue };
            let place = beside(&self.folder.join("competition.yaml"), &name);
            match place.and_then(|path| self.text_of(&path, &name).map(|text| (path, text))) {
                // A field that could not be read would make every player of a side a stranger.
                Ok(_) if field.is_empty() => {}
                Ok((path, text)) => {
                    let (list, problems) = read_sides(&text, field, event.play.players());
                    self.note(&path, &text, problems);
                    sides.insert(name, list);
                }
                Err(error) => self.unread.push(error),
            }
        }
        sides
    }

    fn keyings(&mut self, setup: &Setup) -> Vec<Keying> {
        let mut keyings = Vec::new();
        for card in self.folders("cards") {
            let mut own: Vec<Keying> = Vec::new();
            for name in self.names(&card, "yaml") {
                let Some(text) = self.try_text(&name) else { continue };
                let holes = |round: usize| setup.rounds.get(round).map(|round| round.holes.len());
                let (keying, problems) = read_keying(&text, &name, holes);
                if !problems.is_empty() {
                    self.note(&self.folder.join(&name), &text, problems);
                }
                let Some(mut keying) = keying else { continue };
                let in_folder = card.rsplit('/').next().unwrap_or_default();
                if in_folder != keying.id {
                    let message =
                        format!("{name} says it is the card of {}, and lies in the folder of {in_folder}", keying.id);
                    self.issues
                        .push(Issue::open("nobody", message, "move it, or mend its `id`").of(&keying.id, &keying.id));
                }
                keying.copy = is_copy(&name, &keying.keyer);
                own.push(keying);
            }
            self.tell_copies(&own);
            keyings.extend(own);
        }
        keyings
    }

    fn tell_copies(&mut self, own: &[Keying]) {
        for keying in own.iter().filter(|keying| keying.copy) {
            let first = own.iter().find(|other| {
                !other.copy && other.round == keying.round && other.keyer.eq_ignore_ascii_case(&keying.keyer)
            });
            let same = first.is_some_and(|first| first.scores == keying.scores);
            let (message, advice) = if same {
                (
                    format!("{} is a copy of {}'s keying with the same scores", keying.file, keying.keyer),
                    "take the copy away",
                )
            } else {
                (
                    format!("{} is a conflict copy of {}'s keying", keying.file, keying.keyer),
                    "look at the card, mend the keying, and take the copy away",
                )
            };
            let issue = if same {
                Issue::question("conflict copy", message, advice)
            } else {
                Issue::open("conflict copy", message, advice)
            };
            self.issues.push(issue.of(&keying.id, &keying.id));
        }
    }

    /// Files of one ending in a folder below, as `rulings/M07-1.yaml`, in the order of their names.
    fn names(&mut self, folder: &str, ending: &str) -> Vec<String> {
        self.entries(folder)
            .into_iter()
            .filter(|(name, is_folder)| !is_folder && !name.starts_with('.') && name.ends_with(&format!(".{ending}")))
            .map(|(name, _)| format!("{folder}/{name}"))
            .collect()
    }

    fn folders(&mut self, folder: &str) -> Vec<String> {
        let entries = self.entries(folder).into_iter();
        entries
            .filter(|(name, is_folder)| *is_folder && !name.starts_with('.'))
            .map(|(name, _)| format!("{folder}/{name}"))
            .collect()
    }

    fn entries(&mut self, folder: &str) -> Vec<(String, bool)> {
        let path = self.folder.join(folder);
        let entries = match std::fs::read_dir(&path) {
            Ok(entries) => entries,
            // A folder that nobody needed yet is empty.
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Vec::new(),
            Err(error) => {
                self.unread.push(StoreError::reading(&path, &error));
                return Vec::new();
            }
        };
        let mut found = Vec::new();
        for entry in entries {
            match entry {
                Ok(entry) => {
                    let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
                    found.push((entry.file_name().to_string_lossy().into_owned(), is_folder));
                }
                // A folder that goes away while it is read would leave cards out unsaid.
                Err(error) => self.unread.push(StoreError::reading(&path, &error)),
            }
        }
        found.sort();
        found
    }

    /// Copies that a synchronisation made of the competition's own files.
    fn copies_in(&mut self, below: &Path) {
        let folder = below.to_string_lossy().into_owned();
        let known: BTreeSet<&str> = BTreeSet::from(["competition.yaml", "field.csv", "sides.csv"]);
        for (name, is_folder) in self.entries(&folder) {
            if !is_folder && !known.contains(name.as_str()) && looks_copied(&name) {
                let message = format!("{} looks like a conflict copy", below.join(&name).display());
                self.issues.push(Issue::open(
                    "conflict copy",
                    message,
                    "see which of the two is right, and take the other away",
                ));
            }
        }
    }
}

/// What synchronisations and file managers add to the name of a second copy.
fn looks_copied(name: &str) -> bool {
    let stem = name.rsplit_once('.').map_or(name, |(stem, _)| stem).to_lowercase();
    let numbered = stem.rsplit_once(" (").is_some_and(|(_, rest)| rest.ends_with(')'));
    numbered || stem.contains("conflict") || stem.ends_with(" copy") || stem.ends_with('~')
}

/// Whether a keying's file is not the one its keyer writes: `KEYER.yaml`, `KEYER.2.yaml` for the second round.
fn is_copy(file: &str, keyer: &str) -> bool {
    let stem = file.rsplit('/').next().unwrap_or_default().trim_end_matches(".yaml");
    let stem = match stem.rsplit_once('.') {
        Some((stem, round)) if !round.is_empty() && round.bytes().all(|b| b.is_ascii_digit()) => stem,
        _ => stem,
    };
    looks_copied(stem) && slug(stem) != slug(keyer)
        || (slug(stem) != slug(keyer) && slug(stem).starts_with(&slug(keyer)))
}

/// The problems of one file of a competition, read with what lies around it; `None` for a file that is none of them.
pub fn problems_of_part(path: &Path, text: &str) -> Option<Vec<Diagnostic>> {
    let name = path.to_string_lossy().into_owned();
    let set_up = |folder: Option<&Path>| {
        let text = crate::store::read_text(&folder?.join("competition.yaml"), Limit::YAML).ok()?.text;
        read_setup(&text).0
    };
    if path.extension().is_some_and(|ending| ending == "csv") {
        return csv_problems(path, text, set_up(path.parent()).as_ref());
    }
    Some(match super::format_of(text) {
        "competition" => {
            let (setup, mut problems) = read_setup(text);
            if let Some(setup) = setup
                && let Some(course) = notebook_near(path, &setup)
            {
                problems.extend(check_tees(&setup, &[], &course).0);
            }
            problems
        }
        "keying" => {
            let setup = set_up(path.parent().and_then(Path::parent).and_then(Path::parent));
            let holes = |round: usize| setup.as_ref()?.rounds.get(round).map(|round| round.holes.len());
            read_keying(text, &name, holes).1
        }
        "ruling" => read_ruling(text, &name).1,
        "change" => read_change(text, &name).1,
        _ => return None,
    })
}

fn notebook_near(path: &Path, setup: &Setup) -> Option<course::Course> {
    let folder = path.parent()?;
    if setup.course.contains(['/', '\\']) {
        return None;
    }
    let places = [folder.to_owned(), folder.join(".."), folder.join("..").join("..")];
    let place = places.iter().map(|folder| folder.join(&setup.course)).find(|path| path.is_file())?;
    course::read(&crate::store::read_text(&place, Limit::YAML).ok()?.text).0
}

/// A table is a field or a list of sides by its columns.
fn csv_problems(path: &Path, text: &str, setup: Option<&Setup>) -> Option<Vec<Diagnostic>> {
    let (table, _) = crate::notebook::table::read_table(text);
    let has = |names: &[&str]| table.column(names).is_some();
    let handicaps = ["handicap_index", "index", "course_handicap", "playing_handicap"];
    let named = path.file_name().is_some_and(|name| name == "field.csv");
    if named || has(&handicaps) || has(&["h1", "h10"]) {
        let all: Vec<u8> = (1..=18).collect();
        let holes = setup.and_then(|setup| setup.rounds.first()).map_or(all.as_slice(), |round| round.holes.as_slice());
        let net = |setup: &Setup| setup.events.iter().any(|event| event.count == Count::Net && event.merit.is_none());
        return Some(read_field(text, holes, setup.is_none_or(net)).1);
    }
    let file = path.file_name()?.to_string_lossy().into_owned();
    let of = setup.and_then(|setup| setup.events.iter().find(|event| event.sides.as_deref() == Some(file.as_str())));
    if of.is_none() && !has(&["player_1", "player1", "partner_1"]) {
        return None;
    }
    let players = of.map_or(2, |event| event.play.players());
    let field = crate::store::read_text(&path.parent()?.join("field.csv"), Limit::YAML).ok()?;
    let holes = setup.and_then(|setup| setup.rounds.first()).map_or(&[][..], |round| round.holes.as_slice());
    Some(read_sides(text, &read_field(&field.text, holes, false).0, players).1)
}
