//! Watching files that someone may change in another editor.
//!
//! The folder is watched rather than the file, because editors replace files by renaming. The system's report only wakes the
//! watcher; what counts is whether the digest of a file differs from the one last known, so our own saves and rewrites of the same
//! text are no change. Every two seconds the files are looked at without a report, for drives that send none.

use super::Store;
use super::read::{Limit, parent_of, read};
use crate::units::digest::Digest;
use notify::{RecommendedWatcher, RecursiveMode, Watcher};
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, SyncSender, TrySendError, sync_channel};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::thread::JoinHandle;
use std::time::{Duration, Instant, SystemTime};

/// A file is looked at when its folder has been quiet for so long: editors write in several steps.
const QUIET: Duration = Duration::from_millis(150);

/// A folder that is never quiet is looked at after so long all the same.
const LONGEST: Duration = Duration::from_secs(1);

/// How often files are looked at without a report.
const POLL: Duration = Duration::from_secs(2);

/// A watched file that changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileChange {
    /// Which file, as it was given to watch.
    pub path: PathBuf,
    /// The digest of what is there now; `None` when it is gone or cannot be read.
    pub digest: Option<Digest>,
}

/// What this program wrote to each file and no watch has seen yet, by which its own saves are told from changes.
#[derive(Clone, Debug, Default)]
pub(super) struct OwnWrites(Arc<Mutex<BTreeMap<PathBuf, Vec<Digest>>>>);

/// How many unseen saves of a file are remembered; without a watch nobody forgets them.
const MOST_UNSEEN: usize = 8;

impl OwnWrites {
    fn lock(&self) -> MutexGuard<'_, BTreeMap<PathBuf, Vec<Digest>>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    pub(super) fn note(&self, path: &Path, digest: Digest) {
        let path = whole(path);
        let mut writes = self.lock();
        let unseen = writes.entry(path).or_default();
        unseen.push(digest);
        let surplus = unseen.len().saturating_sub(MOST_UNSEEN);
        unseen.drain(..surplus);
    }

    /// Takes the last save back, because it did not happen.
    pub(super) fn forget(&self, path: &Path) {
        if let Some(unseen) = self.lock().get_mut(&whole(path)) {
            unseen.pop();
        }
    }

    /// Whether a text that was seen is one of ours. Each save is recognised once, so that someone who puts the same text back
    /// later is noticed.
    fn take(&self, path: &Path, seen: Option<Digest>) -> bool {
        let path = whole(path);
        let mut writes = self.lock();
        let Some(unseen) = writes.get_mut(&path) else {
            return false;
        };
        match unseen.iter().position(|own| Some(*own) == seen) {
            Some(index) => {
                unseen.drain(..=index);
                true
            }
            None => {
                unseen.clear();
                false
            }
        }
    }
}

/// One spelling for each file, links resolved as far as it is there.
fn whole(path: &Path) -> PathBuf {
    std::fs::canonicalize(path)
        .or_else(|_| {
            let folder = std::fs::canonicalize(parent_of(path))?;
            Ok::<_, std::io::Error>(folder.join(path.file_name().unwrap_or_default()))
        })
        .unwrap_or_else(|_| path.to_owned())
}

enum Wake {
    Files(Vec<(PathBuf, Option<Digest>)>),
    Report,
    Stop,
}

/// A running watch; dropping it ends it.
pub struct Watch {
    wake: SyncSender<Wake>,
    thread: Option<JoinHandle<()>>,
}

impl Watch {
    /// Watches these files from now on instead of those before, each with the digest of the text that the caller has of it (`None`
    /// when it was not there): what changed since that was read is told at once.
    pub fn files(&self, files: Vec<(PathBuf, Option<Digest>)>) {
        // The watcher drains its channel at once, so this waits for no disk.
        let _ = self.wake.send(Wake::Files(files));
    }
}

impl Drop for Watch {
    fn drop(&mut self) {
        let _ = self.wake.send(Wake::Stop);
        if let Some(thread) = self.thread.take() {
            let _ = thread.join();
        }
    }
}

impl Store {
    /// Starts to watch; changes go to `changes`, which the caller bounds. Which files is said by [`Watch::files`].
    ///
    /// # Errors
    /// When the system starts no thread.
    pub fn watch(&self, changes: SyncSender<FileChange>) -> std::io::Result<Watch> {
        let (wake, woken) = sync_channel(64);
        let watcher = notify::recommended_watcher({
            let wake = wake.clone();
            // A full channel wakes the watcher anyway.
            move |_| drop(wake.try_send(Wake::Report))
        });
        let watching = Watching {
            woken,
            // Without the system's help the regular look still finds every change.
            watcher: watcher.ok(),
            own_writes: self.own_writes.clone(),
            files: BTreeMap::new(),
            folders: BTreeSet::new(),
            changes,
            unsent: Vec::new(),
        };
        let thread = std::thread::Builder::new().name("watch".to_owned()).spawn(move || watching.run())?;
        Ok(Watch { wake, thread: Some(thread) })
    }
}

/// What is known of a watched file.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Known {
    stamp: Option<Stamp>,
    digest: Option<Digest>,
}

/// What a look at the folder tells without reading the file.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Stamp {
    length: u64,
    modified: Option<SystemTime>,
    file_number: u64,
}

impl Stamp {
    fn of(path: &Path) -> Option<Self> {
        let metadata = std::fs::metadata(path).ok()?;
        #[cfg(unix)]
        let file_number = std::os::unix::fs::MetadataExt::ino(&metadata);
        #[cfg(not(unix))]
        let file_number = 0;
        Some(Self { length: metadata.len(), modified: metadata.modified().ok(), file_number })
    }
}

struct Watching {
    woken: Receiver<Wake>,
    watcher: Option<RecommendedWatcher>,
    own_writes: OwnWrites,
    files: BTreeMap<PathBuf, Known>,
    folders: BTreeSet<PathBuf>,
    changes: SyncSender<FileChange>,
    unsent: Vec<FileChange>,
}

impl Watching {
    fn run(mut self) {
        loop {
            let wait = if self.unsent.is_empty() { POLL } else { QUIET };
            match self.woken.recv_timeout(wait) {
                Ok(Wake::Stop) | Err(RecvTimeoutError::Disconnected) => return,
                // What changed since the caller read it is told at once.
                Ok(Wake::Files(files)) => {
                    self.watch(files);
                    self.look();
                }
                Err(RecvTimeoutError::Timeout) if !self.looks_changed() => {}
                Ok(Wake::Report) | Err(RecvTimeoutError::Timeout) => {
                    if !self.wait_for_quiet() {
                        return;
                    }
                    self.look();
                }
            }
            if !self.send() {
                return;
            }
        }
    }

    /// Waits until reports stop; `false` when the watch ends.
    fn wait_for_quiet(&mut self) -> bool {
        let until = Instant::now() + LONGEST;
        while Instant::now() < until {
            match self.woken.recv_timeout(QUIET) {
                Ok(Wake::Stop) | Err(RecvTimeoutError::Disconnected) => return false,
                Ok(Wake::Files(files)) => self.watch(files),
                Ok(Wake::Report) => {}
                Err(RecvTimeoutError::Timeout) => return true,
            }
        }
        true
    }

    fn watch(&mut self, files: Vec<(PathBuf, Option<Digest>)>) {
        let known = files.into_iter().map(|(path, digest)| (path, Known { stamp: None, digest }));
        self.files = known.collect();
        // The look that follows finds again what still differs.
        self.unsent.clear();
        let folders: BTreeSet<PathBuf> = self.files.keys().map(|path| parent_of(&whole(path))).collect();
        if let Some(watcher) = &mut self.watcher {
            for gone in self.folders.difference(&folders) {
                // A folder that is gone is watched no more.
                let _ = watcher.unwatch(gone);
            }
            for new in folders.difference(&self.folders) {
                // What cannot be watched is found by the regular look.
                let _ = watcher.watch(new, RecursiveMode::NonRecursive);
            }
        }
        self.folders = folders;
    }

    /// Whether a file is another than at the last look, as far as its folder tells.
    fn looks_changed(&self) -> bool {
        self.files.iter().any(|(path, known)| known.stamp != Stamp::of(path))
    }

    /// Reads every file and compares it with what is known of it.
    fn look(&mut self) {
        for (path, known) in &mut self.files {
            known.stamp = Stamp::of(path);
            let digest = digest_of(path);
            if digest == known.digest {
                continue;
            }
            known.digest = digest;
            if self.own_writes.take(path, digest) {
                continue;
            }
            let change = FileChange { path: path.clone(), digest };
            self.unsent.retain(|old| old.path != change.path);
            self.unsent.push(change);
        }
    }

    /// Sends what there is room for; the rest stays for later. `false` when nobody listens any more.
    fn send(&mut self) -> bool {
        while let Some(change) = self.unsent.first() {
            match self.changes.try_send(change.clone()) {
                Ok(()) => drop(self.unsent.remove(0)),
                Err(TrySendError::Full(_)) => return true,
                Err(TrySendError::Disconnected(_)) => return false,
            }
        }
        true
    }
}

fn digest_of(path: &Path) -> Option<Digest> {
    read(path, Limit::MAP).ok().map(|file| file.digest)
}
