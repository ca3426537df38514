//! The writer of a round's log: each entry is written before the next key is handled, and synced behind by a thread whose
//! acknowledgement the screen shows as *kept*.
//!
//! *Written* means that the system has the bytes: a killed program loses nothing. *Kept* means that the disk has them: a power
//! cut loses nothing. An entry that cannot be written (full disk) waits in memory in its order and is tried again, by the next
//! entry and by the thread. A log that someone removes or replaces while it is open is written anew from the open file.

use super::disk::Disk;
use super::error::{StoreError, Trouble};
use super::lock::Lock;
use super::log_sync::Syncer;
use crate::round::{Chain, Event};
use std::collections::VecDeque;
use std::fs::{File, Metadata};
use std::io::{self, Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread::JoinHandle;

/// What became of an appended entry at once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Appended {
    /// The number of its line, the same that the state gave it.
    pub seq: u64,
    /// Why it is not written yet; it stays in memory and is tried again.
    pub waits: Option<StoreError>,
}

/// How far the log is kept.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Kept {
    /// Every line up to this number is on the disk.
    pub up_to: u64,
    /// How many entries wait in memory because they could not be written.
    pub waiting: usize,
    /// What is wrong now; `None` when all is well.
    pub trouble: Option<StoreError>,
    /// Where the log is now, when it was removed or replaced while it was open.
    pub moved_to: Option<PathBuf>,
}

/// A text to be stored by its digest, for the round to be judged by.
pub(super) struct TextToKeep {
    pub place: PathBuf,
    pub bytes: Vec<u8>,
}

/// Stores a text at its place; a place that is taken has it already.
pub(super) type KeepText = dyn Fn(&TextToKeep) -> Result<(), StoreError> + Send;

/// Told of every change of [`Kept`], on the writer's thread; it must not block.
pub type Notify = dyn Fn(Kept) + Send;

/// A line of the log with its bytes, until they are known to be on the disk.
pub(super) struct Line {
    pub seq: u64,
    pub offset: u64,
    pub bytes: Vec<u8>,
}

/// What the writer and its thread share.
pub(super) struct Inner {
    pub file: Arc<File>,
    /// The same file, opened to write over what stands in it; its name may have gone to another file meanwhile.
    over: File,
    pub path: PathBuf,
    pub disk: Disk,
    pub chain: Chain,
    /// The bytes of the file that are whole lines.
    pub length: u64,
    /// Entries not written yet, in order.
    pub pending: VecDeque<Line>,
    /// Lines written and not yet known to be on the disk.
    pub unsynced: VecDeque<Line>,
    /// A sync failed, so that `unsynced` must be written anew before the next.
    pub doubtful: bool,
    /// The name of the file in its folder is not known to be on the disk.
    pub new_name: bool,
    /// A line end is owed before the next line, because the remains of a failed write could not be taken away.
    owes_line_end: bool,
    pub texts: VecDeque<TextToKeep>,
    pub kept: Kept,
    pub stop: bool,
}

pub(super) struct Shared {
    inner: Mutex<Inner>,
    pub changed: Condvar,
}

impl Shared {
    /// The queues are whole after every statement, so a poisoned lock is still good.
    pub(super) fn lock(&self) -> MutexGuard<'_, Inner> {
        self.inner.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The log of an open round, held by this program alone.
pub struct LogWriter {
    shared: Arc<Shared>,
    thread: Option<JoinHandle<()>>,
    /// Held as long as the writer lives.
    _lock: Lock,
}

/// A log ready to be appended to.
pub(super) struct LogFile {
    pub file: File,
    pub path: PathBuf,
    pub chain: Chain,
    /// Its length in bytes, all of it whole lines.
    pub length: u64,
    pub lock: Lock,
}

impl LogWriter {
    pub(super) fn start(
        log: LogFile,
        disk: &Disk,
        keep_text: Box<KeepText>,
        notify: Box<Notify>,
    ) -> Result<Self, StoreError> {
        let path = log.path.clone();
        let over = disk.open_over(&path).map_err(|error| StoreError::writing(&path, &error))?;
        let shared = Arc::new(Shared {
            inner: Mutex::new(Inner {
                file: Arc::new(log.file),
                over,
                path: log.path,
                disk: disk.clone(),
                length: log.length,
                chain: log.chain,
                pending: VecDeque::new(),
                unsynced: VecDeque::new(),
                doubtful: false,
                // Also covers what an earlier program wrote and could not sync.
                new_name: true,
                owes_line_end: false,
                texts: VecDeque::new(),
                kept: Kept::default(),
                stop: false,
            }),
            changed: Condvar::new(),
        });
        let syncer = Syncer::new(Arc::clone(&shared), disk.clone(), keep_text, notify);
        let thread = std::thread::Builder::new()
            .name("round log".to_owned())
            .spawn(move || syncer.run())
            .map_err(|error| StoreError::writing(&path, &error))?;
        Ok(Self { shared, thread: Some(thread), _lock: log.lock })
    }

    /// Appends what happened `at` a time (see [`super::now`]); when this returns without `waits`, a kill loses nothing.
    pub fn append(&self, at: &str, event: &Event) -> Appended {
        let mut inner = self.shared.lock();
        let (seq, line) = match inner.chain.write(at, event) {
            Ok(written) => written,
            Err(error) => {
                let what = format!("the entry could not be put into words: {error}");
                let waits = StoreError::new(&inner.path, Trouble::Other, what, "");
                return Appended { seq: inner.chain.next_seq(), waits: Some(waits) };
            }
        };
        inner.pending.push_back(Line { seq, offset: 0, bytes: line.into_bytes() });
        let waits = inner.write_pending().err();
        drop(inner);
        self.shared.changed.notify_all();
        Appended { seq, waits }
    }

    /// Stores a text behind the entries, on the writer's thread.
    pub(super) fn keep_text(&self, text: TextToKeep) {
        self.shared.lock().texts.push_back(text);
        self.shared.changed.notify_all();
    }

    /// How far the log is kept now.
    pub fn kept(&self) -> Kept {
        self.shared.lock().kept_now()
    }

    /// Where the log is.
    pub fn path(&self) -> PathBuf {
        self.shared.lock().path.clone()
    }

    /// Writes and syncs what is left and ends the writer; at the end of a round or of the program.
    ///
    /// # Errors
    /// What is wrong, when something could not be kept; the entries in memory are then lost with the program.
    pub fn finish(mut self) -> Result<Kept, StoreError> {
        self.end();
        let kept = self.kept();
        match &kept.trouble {
            Some(trouble) => Err(trouble.clone()),
            None => Ok(kept),
        }
    }

    fn end(&mut self) {
        self.shared.lock().stop = true;
        self.shared.changed.notify_all();
        if let Some(thread) = self.thread.take() {
            // A writer's thread that panicked has nothing left to give back.
            let _ = thread.join();
        }
    }
}

impl Drop for LogWriter {
    fn drop(&mut self) {
        self.end();
    }
}

impl Inner {
    pub(super) fn kept_now(&self) -> Kept {
        Kept { waiting: self.pending.len(), ..self.kept.clone() }
    }

    /// The number of the last line that is written.
    pub(super) fn written_up_to(&self) -> u64 {
        self.chain.next_seq() - 1 - self.pending.len() as u64
    }

    /// Writes what waits, in order, until something fails.
    pub(super) fn write_pending(&mut self) -> Result<(), StoreError> {
        while let Some(mut line) = self.pending.pop_front() {
            match self.write_line(&line.bytes) {
                Ok(offset) => {
                    line.offset = offset;
                    self.unsynced.push_back(line);
                }
                Err(error) => {
                    let error = StoreError::writing(&self.path, &error);
                    self.pending.push_front(line);
                    self.kept.trouble = Some(error.clone());
                    return Err(error);
                }
            }
        }
        Ok(())
    }

    /// Appends one line and gives the place where it stands.
    fn write_line(&mut self, bytes: &[u8]) -> io::Result<u64> {
        let metadata = self.file.metadata()?;
        if is_removed(&metadata) {
            self.write_anew()?;
        } else {
            // Another program on a drive without locks may have appended; its lines stay and ours follow.
            self.length = metadata.len();
        }
        if self.owes_line_end {
            self.disk.write(&self.file, &self.path, b"\n")?;
            self.length += 1;
            self.owes_line_end = false;
        }
        let offset = self.length;
        match self.disk.write(&self.file, &self.path, bytes) {
            Ok(()) => {
                self.length += bytes.len() as u64;
                Ok(offset)
            }
            Err(error) => {
                self.take_remains_away(bytes.len() as u64);
                Err(error)
            }
        }
    }

    /// After a failed write part of the line may stand at the end of the file.
    fn take_remains_away(&mut self, most: u64) {
        let now = self.file.metadata().map_or(self.length, |m| m.len());
        let remains = now.saturating_sub(self.length);
        if remains == 0 {
            return;
        }
        let ours = remains <= most;
        let cut = ours && self.disk.set_length(&self.file, &self.path, self.length).is_ok();
        self.owes_line_end = !cut;
    }

    /// Makes `unsynced` hold the whole file, when a sync failed that was to cover lines of earlier programs too.
    pub(super) fn doubt_everything(&mut self) -> io::Result<()> {
        let bytes = self.whole_file()?;
        let seq = self.written_up_to();
        self.unsynced = VecDeque::from([Line { seq, offset: 0, bytes }]);
        Ok(())
    }

    /// Writes the same bytes once more at the same places: after a failed sync the system may have forgotten them.
    pub(super) fn write_doubtful(&mut self) -> io::Result<()> {
        if is_removed(&self.file.metadata()?) {
            return self.write_anew();
        }
        for line in &self.unsynced {
            self.disk.write_over(&self.over, &self.path, line.offset, &line.bytes)?;
        }
        self.doubtful = false;
        Ok(())
    }

    fn whole_file(&self) -> io::Result<Vec<u8>> {
        let mut file = &*self.file;
        let mut bytes = Vec::new();
        file.seek(SeekFrom::Start(0))?;
        file.take(self.length).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    /// The file was removed or replaced under us: its bytes are still in the open file, and go to its old place when that is free,
    /// else beside what stands there now.
    fn write_anew(&mut self) -> io::Result<()> {
        let bytes = self.whole_file()?;
        let home = self.kept.moved_to.as_ref().unwrap_or(&self.path);
        let place = if home.exists() { beside(home) } else { home.clone() };
        if let Some(folder) = place.parent() {
            self.disk.make_folders(folder)?;
        }
        let file = self.disk.create_new(&place)?;
        if let Err(error) = self.disk.write(&file, &place, &bytes) {
            // Half a copy would be taken for the log at the next attempt.
            let _ = self.disk.remove(&place);
            return Err(error);
        }
        self.over = self.disk.open_over(&place)?;
        self.file = Arc::new(file);
        self.length = bytes.len() as u64;
        let seq = self.written_up_to();
        self.unsynced = VecDeque::from([Line { seq, offset: 0, bytes }]);
        self.doubtful = false;
        self.new_name = true;
        self.path.clone_from(&place);
        self.kept.moved_to = Some(place);
        Ok(())
    }
}

/// Whether an open file has no name any more.
#[cfg(unix)]
fn is_removed(metadata: &Metadata) -> bool {
    std::os::unix::fs::MetadataExt::nlink(metadata) == 0
}

/// Elsewhere the system does not let an open file be removed.
#[cfg(not(unix))]
fn is_removed(_: &Metadata) -> bool {
    false
}

/// A free name beside a log: `…-a-rescued-1.log`.
fn beside(path: &Path) -> PathBuf {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
    let mut number = 1_u32;
    loop {
        let place = path.with_file_name(format!("{stem}-rescued-{number}.log"));
        if !place.exists() {
            return place;
        }
        number += 1;
    }
}
