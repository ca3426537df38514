//! The desk's folder: looked at for what another desk has changed, keyings saved to it, one file a keying.
//!
//! Nothing here relies on locks. Two keyers write two files; a file that another program of the same keyer has written is never
//! written over: the keying goes beside it under a name that tells it apart, and both are shown.

use super::competition::{Opened, open_competition};
use super::results::{Proof, latest, prove};
use crate::competition::board::Board;
use crate::competition::pad::Pad;
use crate::competition::read::read_keying;
use crate::competition::setup_rows::{SetupRow, setup_rows};
use crate::competition::write::keying_file;
use crate::competition::{Competition, total};
use crate::notebook::report::Report;
use crate::store::{Expect, Limit, Store, StoreError, Trouble, read, read_text};
use crate::units::digest::Digest;
use std::collections::HashMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A competition's folder with a desk at it.
pub struct DeskFolder {
    pub(super) store: Store,
    pub(super) folder: PathBuf,
    current: PathBuf,
    mark: Option<u64>,
    written: HashMap<String, Digest>,
    /// Where a keying goes since its own file belongs to another program.
    beside: HashMap<String, String>,
    pub(super) undo: Vec<(PathBuf, Digest, String)>,
    pub(super) competition: Option<Arc<Competition>>,
}

/// What a look at the folder found.
#[derive(Clone, Debug)]
pub enum Look {
    /// Nothing has changed since the last look.
    Same,
    /// It was read.
    Read(Box<Seen>),
    /// It cannot be read now.
    Gone(String),
}

/// What was read.
#[derive(Clone, Debug)]
pub struct Seen {
    /// The board; `None` while a file has an error.
    pub board: Option<Arc<Board>>,
    /// Problems of the files by line, as `marram check` says them.
    pub problems: Vec<String>,
    /// How many of them are errors.
    pub errors: usize,
    /// The set-up as rows.
    pub setup: Vec<SetupRow>,
    /// How the latest result stands.
    pub proof: Option<Proof>,
}

impl DeskFolder {
    /// A desk at the competition in `path`, a folder or its `competition.yaml`.
    pub fn new(store: Store, path: &Path, current: &Path) -> Self {
        let folder = if path.is_file() { path.parent().unwrap_or(path) } else { path };
        DeskFolder {
            store,
            folder: folder.to_owned(),
            current: current.to_owned(),
            mark: None,
            written: HashMap::new(),
            beside: HashMap::new(),
            undo: Vec::new(),
            competition: None,
        }
    }

    /// The folder.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// Reads the folder again when something in it has changed since the last look, or when `all_the_same`.
    pub fn look(&mut self, all_the_same: bool) -> Look {
        let mark = match self.mark() {
            Ok(mark) => mark,
            Err(error) => {
                self.mark = None;
                return Look::Gone(error.to_string());
            }
        };
        if self.mark == Some(mark) && !all_the_same {
            return Look::Same;
        }
        let opened = match self.open() {
            Ok(opened) => opened,
            Err(error) => {
                self.mark = None;
                return Look::Gone(error.to_string());
            }
        };
        self.mark = Some(mark);
        Look::Read(Box::new(self.seen(opened)))
    }

    pub(super) fn open(&self) -> Result<Opened, StoreError> {
        open_competition(&self.folder, self.store.shelf(), &self.current)
    }

    fn seen(&mut self, opened: Opened) -> Seen {
        let mut problems = Vec::new();
        let mut errors = opened.unread.len();
        for file in &opened.files {
            let name = file.path.strip_prefix(&self.folder).unwrap_or(&file.path).display().to_string();
            errors += file.problems.iter().filter(|p| p.severity == crate::notebook::Severity::Error).count();
            let report = Report::new(&name, &file.text, &file.problems).to_text();
            problems.extend(report.lines().map(str::to_owned));
        }
        problems.extend(opened.unread.iter().map(ToString::to_string));
        let setup = read_text(&self.folder.join("competition.yaml"), Limit::YAML);
        let setup = setup.map(|file| setup_rows(&file.text)).unwrap_or_default();
        let sound = opened.is_sound();
        let Some(competition) = opened.competition.clone().filter(|_| sound) else {
            return Seen { board: None, problems, errors: errors.max(1), setup, proof: None };
        };
        let competition = Arc::new(competition);
        self.competition = Some(Arc::clone(&competition));
        let proof = latest(&self.folder).ok().flatten().map(|(manifest, _)| {
            let mut totals = total(&competition);
            totals.issues.extend(opened.issues.iter().cloned());
            prove(&manifest, &opened, &competition, &totals)
        });
        let board = Arc::new(Board::new(competition, &opened.issues));
        Seen { board: Some(board), problems, errors, setup, proof }
    }

    /// What the folder's files look like from outside: names, lengths, times.
    fn mark(&self) -> Result<u64, StoreError> {
        let mut sum = 0_u64;
        let mut folders = vec![(self.folder.clone(), 0)];
        while let Some((folder, depth)) = folders.pop() {
            let entries = match std::fs::read_dir(&folder) {
                Ok(entries) => entries,
                Err(error) if depth > 0 && error.kind() == std::io::ErrorKind::NotFound => continue,
                Err(error) => return Err(StoreError::reading(&folder, &error)),
            };
            for entry in entries.flatten() {
                let name = entry.file_name();
                let hidden = name.to_string_lossy().starts_with('.');
                let Ok(metadata) = entry.metadata() else { continue };
                if metadata.is_dir() && depth < 2 && !hidden {
                    folders.push((entry.path(), depth + 1));
                }
                if hidden || metadata.is_dir() {
                    continue;
                }
                let mut hasher = DefaultHasher::new();
                (entry.path(), metadata.len(), metadata.modified().ok()).hash(&mut hasher);
                // A sum, because folders list their files in no certain order.
                sum = sum.wrapping_add(hasher.finish());
            }
        }
        let course = self.competition.as_ref().map(|c| c.setup.course.clone()).unwrap_or_default();
        for above in ["..", "../.."] {
            if let Ok(metadata) = std::fs::metadata(self.folder.join(above).join(&course)) {
                let mut hasher = DefaultHasher::new();
                (above, metadata.len(), metadata.modified().ok()).hash(&mut hasher);
                sum = sum.wrapping_add(hasher.finish());
            }
        }
        Ok(sum)
    }

    /// Saves a keying, whole or not at all. The words say where it went when that was not its own file.
    ///
    /// # Errors
    /// [`StoreError`]: it was not saved, and what was there stays.
    pub fn save_keying(&mut self, pad: &Pad, at: &str) -> Result<Option<String>, StoreError> {
        let own = keying_file(&pad.id, &pad.keyer, pad.round);
        let name = self.beside.get(&own).cloned().unwrap_or_else(|| own.clone());
        let text = pad.text(at);
        // A folder that has gone away is not made again: the stick may only be out.
        if !self.folder.join("competition.yaml").is_file() {
            return Err(StoreError::reading(&self.folder, &std::io::ErrorKind::NotFound.into()));
        }
        self.store.make_folder(&self.folder.join("cards").join(&pad.id))?;
        match self.put(&name, &text, pad) {
            Err(error) if matches!(error.trouble, Trouble::Changed | Trouble::Exists) => {
                let stem = own.trim_end_matches(".yaml").to_owned();
                for number in 1..100 {
                    let other = format!("{stem} (conflict {number}).yaml");
                    if self.folder.join(&other).exists() {
                        continue;
                    }
                    let saved = self.store.save(&self.folder.join(&other), text.as_bytes(), Expect::New)?;
                    self.written.insert(other.clone(), saved.digest);
                    self.beside.insert(own, other.clone());
                    let words = format!(
                        "Another program has written {name}; yours is kept beside it as {other}. Give each keyer a name of their own"
                    );
                    return Ok(Some(words));
                }
                Err(error)
            }
            Err(error) => Err(error),
            Ok(()) => Ok(None),
        }
    }

    fn put(&mut self, name: &str, text: &str, pad: &Pad) -> Result<(), StoreError> {
        let path = self.folder.join(name);
        let expect = match self.written.get(name) {
            Some(digest) => Expect::AsRead(*digest),
            None => match read(&path, Limit::YAML) {
                Err(error) if error.trouble == Trouble::Missing => Expect::New,
                Err(error) => return Err(error),
                Ok(file) => {
                    let same = std::str::from_utf8(&file.bytes).is_ok_and(|text| self.is_what_was_read(text, pad));
                    if !same {
                        return Err(StoreError {
                            place: path,
                            trouble: Trouble::Changed,
                            what: "somebody else has written it since".to_owned(),
                            cure: String::new(),
                        });
                    }
                    Expect::AsRead(file.digest)
                }
            },
        };
        let saved = self.store.save(&path, text.as_bytes(), expect)?;
        self.written.insert(name.to_owned(), saved.digest);
        Ok(())
    }

    /// Whether the file on the disk is the keying that the pad goes on with.
    fn is_what_was_read(&self, text: &str, pad: &Pad) -> bool {
        let whole = |scores: &[crate::scoring::HoleScore]| {
            let last = scores.iter().rposition(|score| score.is_entered()).map_or(0, |at| at + 1);
            scores.get(..last).unwrap_or_default().to_vec()
        };
        read_keying(text, "", |_| None).0.is_some_and(|k| whole(&k.scores) == whole(&pad.before))
    }

    /// Keeps a keying on the shelf of this computer, where the folder cannot take it.
    ///
    /// # Errors
    /// [`StoreError`] when this fails too.
    pub fn keep_aside(&self, pad: &Pad, at: &str) -> Result<PathBuf, StoreError> {
        let folder = self.store.shelf().root().join("kept-aside");
        self.store.make_folder(&folder)?;
        let name = keying_file(&pad.id, &pad.keyer, pad.round).trim_start_matches("cards/").replace('/', "-");
        Ok(self.store.save(&folder.join(name), pad.text(at).as_bytes(), Expect::Anything)?.path)
    }
}
