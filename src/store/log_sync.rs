//! The thread behind a log's writer: it syncs what was written, tries again what failed, stores texts, and tells what is kept.

use super::disk::Disk;
use super::error::StoreError;
use super::log_writer::{KeepText, Kept, Notify, Shared};
use super::read::parent_of;
use std::sync::{Arc, PoisonError};
use std::time::Duration;

/// How long the thread waits before it tries again what failed.
const RETRY: Duration = Duration::from_millis(500);

pub(super) struct Syncer {
    shared: Arc<Shared>,
    disk: Disk,
    keep_text: Box<KeepText>,
    notify: Box<Notify>,
    told: Kept,
}

impl Syncer {
    pub(super) fn new(shared: Arc<Shared>, disk: Disk, keep_text: Box<KeepText>, notify: Box<Notify>) -> Self {
        Self { shared, disk, keep_text, notify, told: Kept::default() }
    }

    /// Works until the writer stops; then everything is tried once more.
    pub(super) fn run(mut self) {
        let mut failed = false;
        loop {
            let mut inner = self.shared.lock();
            let idle =
                inner.pending.is_empty() && inner.unsynced.is_empty() && inner.texts.is_empty() && !inner.new_name;
            if !inner.stop && idle {
                inner = self.shared.changed.wait(inner).unwrap_or_else(PoisonError::into_inner);
            } else if !inner.stop && failed {
                // A new entry wakes this wait too early, which does no harm.
                let waited = self.shared.changed.wait_timeout(inner, RETRY);
                inner = waited.unwrap_or_else(PoisonError::into_inner).0;
            }
            let last_time = inner.stop;
            drop(inner);
            let result = self.step();
            failed = result.is_err();
            self.tell(result.err());
            let texts_left = !self.shared.lock().texts.is_empty();
            if last_time && (failed || !texts_left) {
                return;
            }
        }
    }

    /// Writes what waits, syncs what was written, stores one text; an error leaves the rest for the next step.
    fn step(&mut self) -> Result<(), StoreError> {
        let mut inner = self.shared.lock();
        let written = inner.write_pending();
        if inner.doubtful {
            inner.write_doubtful().map_err(|e| StoreError::writing(&inner.path, &e))?;
        }
        let has_work = inner.new_name || !inner.unsynced.is_empty();
        drop(inner);
        if has_work {
            self.sync()?;
        }
        written?;
        let text = self.shared.lock().texts.pop_front();
        if let Some(text) = text
            && let Err(error) = (self.keep_text)(&text)
        {
            self.shared.lock().texts.push_front(text);
            return Err(error);
        }
        Ok(())
    }

    /// Syncs the file outside the lock, so that an entry never waits for the disk.
    fn sync(&self) -> Result<(), StoreError> {
        let inner = self.shared.lock();
        let (file, path) = (Arc::clone(&inner.file), inner.path.clone());
        let (up_to, new_name) = (inner.written_up_to(), inner.new_name);
        drop(inner);
        let folder = parent_of(&path);
        let synced = self.disk.sync(&file, &path).map_err(|e| StoreError::writing(&path, &e));
        let synced = synced.and_then(|()| match new_name {
            true => self.disk.sync_folder(&folder).map_err(|e| StoreError::writing(&folder, &e)),
            false => Ok(()),
        });
        let mut inner = self.shared.lock();
        if !Arc::ptr_eq(&file, &inner.file) {
            // Written anew to another file meanwhile: that one is yet to be synced.
            return Ok(());
        }
        if let Err(error) = synced {
            inner.doubtful = true;
            if new_name {
                inner.doubt_everything().map_err(|e| StoreError::reading(&path, &e))?;
            }
            return Err(error);
        }
        inner.new_name = false;
        inner.unsynced.retain(|line| line.seq > up_to);
        inner.kept.up_to = up_to;
        Ok(())
    }

    fn tell(&mut self, trouble: Option<StoreError>) {
        let mut inner = self.shared.lock();
        inner.kept.trouble = trouble;
        let now = inner.kept_now();
        drop(inner);
        if now != self.told {
            (self.notify)(now.clone());
            self.told = now;
        }
    }
}
