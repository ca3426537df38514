//! Rounds on the shelf: opening a new one, taking one up again, its stored texts, its readable card.

use super::error::{StoreError, Trouble};
use super::lock::{Holder, Lock, Locking, this_process};
use super::log_writer::{Appended, Kept, LogFile, LogWriter, Notify, TextToKeep};
use super::read::{Limit, read};
use super::save::{Expect, Saved};
use super::{Store, now};
use crate::round::{
    Chain, Event, LogProblem, NotPossible, Opening, Problem, Replay, RoundCard, RoundId, RoundState, StoredText,
    TextRole, replay,
};
use crate::units::digest::Digest;
use std::path::{Path, PathBuf};

/// A round that this program writes.
pub struct OpenRound {
    /// The round as it stands.
    pub state: RoundState,
    /// What was wrong with its log when it was opened.
    pub problems: Vec<LogProblem>,
    /// Where a torn end was put.
    pub set_aside: Option<PathBuf>,
    /// Whether the drive can keep a second program out.
    pub locked: bool,
    /// Its log, to which each event goes after the state took it.
    pub log: RoundLog,
}

/// The log of a round and the place of its texts.
pub struct RoundLog {
    writer: LogWriter,
    texts_folder: PathBuf,
}

/// A round that this program only shows.
#[derive(Debug)]
pub struct ReadRound {
    /// The round as it stood when it was read.
    pub state: RoundState,
    /// What is wrong with its log.
    pub problems: Vec<LogProblem>,
    /// Why it is not written.
    pub why: ReadOnly,
}

/// Why a round is only shown.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReadOnly {
    /// Another program writes it.
    HeldBy(Holder),
    /// A later marram wrote in it.
    Later,
    /// Its folder or its log cannot be written.
    NotWritable(StoreError),
}

impl std::fmt::Display for ReadOnly {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::HeldBy(holder) => write!(f, "{holder} writes this round; here it is only shown"),
            Self::Later => f.write_str("a later marram wrote this round; here it is only shown"),
            Self::NotWritable(error) => write!(f, "{error}; here the round is only shown"),
        }
    }
}

/// A round as it could be opened.
pub enum RoundFile {
    /// To be played on.
    ToWrite(Box<OpenRound>),
    /// To be looked at.
    ToRead(Box<ReadRound>),
}

/// A text that the round is to be judged by, as it is at the first score.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TextOf {
    /// What it is of.
    pub role: TextRole,
    /// The file it was read from.
    pub file: String,
    /// All of it.
    pub bytes: Vec<u8>,
}

impl TextOf {
    /// The text as the log names it, for [`Event::Texts`].
    pub fn stored(&self) -> StoredText {
        StoredText { role: self.role, file: self.file.clone(), digest: Digest::of(&self.bytes) }
    }
}

impl OpenRound {
    /// Lets `event` happen to the state and appends it to the log, for those who hold both together.
    ///
    /// # Errors
    /// [`NotPossible`] when the round does not take it; nothing was written then.
    pub fn happen(&mut self, event: &Event) -> Result<Appended, NotPossible> {
        self.state.apply(event)?;
        Ok(self.log.append(event))
    }
}

impl RoundLog {
    /// Appends an event that the state has taken; when this returns without `waits`, a kill loses nothing.
    pub fn append(&self, event: &Event) -> Appended {
        self.writer.append(&now(), event)
    }

    /// Stores the texts that an [`Event::Texts`] names, at the first score. They follow behind the entries and block nobody.
    pub fn keep_texts(&self, texts: Vec<TextOf>) {
        for text in texts {
            let place = self.texts_folder.join(Digest::of(&text.bytes).to_string());
            self.writer.keep_text(TextToKeep { place, bytes: text.bytes });
        }
    }

    /// The texts that the round names and that are not stored, as after a kill at the first score; to be given to
    /// [`Self::keep_texts`] where the files still have the same digest.
    pub fn texts_missing(&self, state: &RoundState) -> Vec<StoredText> {
        let missing = |text: &&StoredText| !self.texts_folder.join(text.digest.to_string()).exists();
        state.texts().iter().filter(missing).cloned().collect()
    }

    /// How far the log is kept.
    pub fn kept(&self) -> Kept {
        self.writer.kept()
    }

    /// Where the log is.
    pub fn path(&self) -> PathBuf {
        self.writer.path()
    }

    /// Writes and syncs what is left and lets the round go.
    ///
    /// # Errors
    /// What is wrong, when something could not be kept.
    pub fn finish(self) -> Result<Kept, StoreError> {
        self.writer.finish()
    }
}

impl Store {
    /// The log of a round.
    pub fn round_log(&self, id: &RoundId) -> PathBuf {
        self.shelf.rounds().join(format!("{id}.log"))
    }

    /// The first free name for a round of that day on that course.
    pub fn next_round_id(&self, date: &str, course_name: &str) -> RoundId {
        let folder = self.shelf.rounds();
        let taken = |id: &RoundId| ["log", "yaml"].iter().any(|ending| folder.join(format!("{id}.{ending}")).exists());
        RoundId::next(date, course_name, taken)
    }

    /// Opens a new round by writing its opening record; the folder is made when it is missing.
    ///
    /// # Errors
    /// [`StoreError`]; [`Trouble::Exists`] when a round of that name is there.
    pub fn new_round(&self, opening: Opening, notify: Box<Notify>) -> Result<OpenRound, StoreError> {
        let path = self.round_log(&opening.id);
        let state = RoundState::open(opening.clone()).map_err(|why| {
            StoreError::new(&path, Trouble::Unreadable, why.to_string(), "open the round with other figures")
        })?;
        let folder = self.shelf.rounds();
        self.disk.make_folders(&folder).map_err(|e| StoreError::writing(&folder, &e))?;
        let lock = match Lock::take(&self.disk, &path, &this_process())? {
            Locking::Ours(lock) => lock,
            Locking::HeldBy(holder) => return Err(held(&path, &holder)),
        };
        let file = self.disk.create_new(&path).map_err(|e| StoreError::writing(&path, &e))?;
        let log = LogFile { file, path: path.clone(), chain: Chain::default(), length: 0, lock };
        let round = self.open(log, state, Vec::new(), None, notify)?;
        let appended = round.log.append(&Event::Opened(Box::new(opening)));
        match appended.waits {
            None => Ok(round),
            Some(error) => {
                drop(round);
                // A log without its opening record would only stand in the way of the next attempt.
                let _ = self.disk.remove(&path);
                Err(error)
            }
        }
    }

    /// Takes up a round: to be written when nobody else writes it, else to be read.
    ///
    /// # Errors
    /// [`StoreError`] when its log cannot be read or has no opening record.
    pub fn open_round(&self, path: &Path, notify: Box<Notify>) -> Result<RoundFile, StoreError> {
        // Refused before a lock's file is made for it.
        drop(read(path, Limit::MAP)?);
        let lock = match Lock::take(&self.disk, path, &this_process()) {
            Ok(Locking::Ours(lock)) => lock,
            Ok(Locking::HeldBy(holder)) => return self.read_round(path, ReadOnly::HeldBy(holder)),
            Err(error) => return self.read_round(path, ReadOnly::NotWritable(error)),
        };
        let bytes = read(path, Limit::MAP)?.bytes;
        let said = replay(&bytes);
        if said.read_only {
            return self.read_round(path, ReadOnly::Later);
        }
        let Replay { state: Some(state), problems, .. } = said.clone() else {
            return Err(no_log(path, &said));
        };
        let (file, set_aside) = match self.mend_end(path, &bytes, &said) {
            Ok(mended) => mended,
            Err(error) => return self.read_round(path, ReadOnly::NotWritable(error)),
        };
        let length = said.kept_bytes as u64 + u64::from(said.wants_line_end);
        let log = LogFile { file, path: path.to_owned(), chain: said.chain, length, lock };
        let round = self.open(log, state, problems, set_aside, notify)?;
        Ok(RoundFile::ToWrite(Box::new(round)))
    }

    fn open(
        &self,
        log: LogFile,
        state: RoundState,
        problems: Vec<LogProblem>,
        set_aside: Option<PathBuf>,
        notify: Box<Notify>,
    ) -> Result<OpenRound, StoreError> {
        let texts_folder = self.shelf.rounds().join("texts");
        let store = self.clone();
        let keep_text = move |text: &TextToKeep| store.keep_text(text);
        Ok(OpenRound {
            state,
            problems,
            set_aside,
            locked: log.lock.effective,
            log: RoundLog { writer: LogWriter::start(log, &self.disk, Box::new(keep_text), notify)?, texts_folder },
        })
    }

    fn keep_text(&self, text: &TextToKeep) -> Result<(), StoreError> {
        if text.place.exists() {
            return Ok(());
        }
        let folder = super::read::parent_of(&text.place);
        self.disk.make_folders(&folder).map_err(|e| StoreError::writing(&folder, &e))?;
        match self.save(&text.place, &text.bytes, Expect::New) {
            Err(error) if error.trouble == Trouble::Exists => Ok(()),
            other => other.map(drop),
        }
    }

    /// The round as its log tells it, without a lock.
    fn read_round(&self, path: &Path, why: ReadOnly) -> Result<RoundFile, StoreError> {
        let bytes = read(path, Limit::MAP)?.bytes;
        let mut said = replay(&bytes);
        if matches!(why, ReadOnly::HeldBy(_)) {
            // The other program may be in the middle of a line.
            said.problems.retain(|p| !matches!(p.what, Problem::Torn { .. }));
        }
        match said.state.clone() {
            None => Err(no_log(path, &said)),
            Some(state) => Ok(RoundFile::ToRead(Box::new(ReadRound { state, problems: said.problems, why }))),
        }
    }

    /// Puts a torn end into a file of its own and leaves the log with whole lines.
    fn mend_end(
        &self,
        path: &Path,
        bytes: &[u8],
        said: &Replay,
    ) -> Result<(std::fs::File, Option<PathBuf>), StoreError> {
        let failed = |error| StoreError::writing(path, &error);
        let file = self.disk.open_append(path).map_err(failed)?;
        let torn = bytes.get(said.kept_bytes..).unwrap_or_default();
        let mut set_aside = None;
        if !torn.is_empty() {
            let place = free_name(path, "torn");
            self.save(&place, torn, Expect::New)?;
            self.disk.set_length(&file, path, said.kept_bytes as u64).map_err(failed)?;
            set_aside = Some(place);
        }
        if said.wants_line_end {
            self.disk.write(&file, path, b"\n").map_err(failed)?;
        }
        Ok((file, set_aside))
    }

    /// Writes the readable card of a round beside its log; a card that someone changed is backed up first.
    ///
    /// # Errors
    /// [`StoreError`]; the log is untouched.
    pub fn save_card(&self, log: &Path, card: &RoundCard) -> Result<Saved, StoreError> {
        let path = log.with_extension("yaml");
        let text = card
            .to_yaml()
            .map_err(|e| StoreError::new(&path, Trouble::Other, format!("the card could not be written: {e}"), ""))?;
        self.back_up(&path)?;
        self.save(&path, text.as_bytes(), Expect::Anything)
    }
}

/// `ID.torn-1`, `ID.torn-2` …, the first that is free.
fn free_name(log: &Path, word: &str) -> PathBuf {
    let mut number = 1_u32;
    loop {
        let place = log.with_extension(format!("{word}-{number}"));
        if !place.exists() {
            return place;
        }
        number += 1;
    }
}

fn held(path: &Path, holder: &Holder) -> StoreError {
    StoreError::new(path, Trouble::Held, format!("{holder} holds this round"), "close it there first")
}

fn no_log(path: &Path, said: &Replay) -> StoreError {
    let (what, cure) =
        said.problems.first().map_or_else(|| (String::new(), ""), |problem| (problem.to_string(), problem.advice()));
    StoreError::new(path, Trouble::Unreadable, what, cure)
}
