//! One program at a time writes a round: a lock on a file of its own beside the log, and who holds it.

use super::disk::Disk;
use super::error::StoreError;
use serde::{Deserialize, Serialize};
use std::fmt;
use std::fs::{File, TryLockError};
use std::io::{Read, Seek, SeekFrom};
use std::path::{Path, PathBuf};

/// Who holds a lock.
#[derive(Clone, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Holder {
    /// The process.
    pub pid: u32,
    /// The computer.
    pub host: String,
    /// Since when, as that computer's clock said.
    pub since: String,
}

impl fmt::Display for Holder {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.pid == 0 {
            return f.write_str("another program");
        }
        let since = self.since.get(..16).unwrap_or(&self.since).replace('T', " ");
        write!(f, "another marram (process {} on {}, since {since})", self.pid, self.host)
    }
}

/// What became of an attempt to lock.
#[derive(Debug)]
pub enum Locking {
    /// It is ours until the [`Lock`] is dropped.
    Ours(Lock),
    /// Another program has it.
    HeldBy(Holder),
}

/// A held lock; the system releases it when it is dropped or the process ends, however it ends.
#[derive(Debug)]
pub struct Lock {
    file: File,
    /// Whether the file system locks at all; on some network drives it does not, and two programs could write at once.
    pub effective: bool,
}

impl Lock {
    /// Tries to take the lock for `path`, on the file `path` + `.lock`, which is left behind: removing it would let two programs hold two.
    ///
    /// # Errors
    /// [`StoreError`] when the lock's file cannot be made.
    pub(super) fn take(disk: &Disk, path: &Path, holder: &Holder) -> Result<Locking, StoreError> {
        let lock_path = lock_path(path);
        let failed = |error| StoreError::writing(&lock_path, &error);
        let mut file = disk.open_lock(&lock_path).map_err(failed)?;
        match file.try_lock() {
            Ok(()) => {
                let told = write_holder(disk, &mut file, &lock_path, holder);
                // A full disk only takes the name of the holder away, not the lock.
                drop(told);
                Ok(Locking::Ours(Self { file, effective: true }))
            }
            Err(TryLockError::WouldBlock) => Ok(Locking::HeldBy(read_holder(&mut file))),
            Err(TryLockError::Error(error)) if error.kind() == std::io::ErrorKind::Unsupported => {
                Ok(Locking::Ours(Self { file, effective: false }))
            }
            Err(TryLockError::Error(error)) => Err(failed(error)),
        }
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        // Nobody holds it any more; the system unlocks at the close in any case.
        let _ = self.file.set_len(0);
        let _ = self.file.unlock();
    }
}

fn lock_path(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(".lock");
    PathBuf::from(name)
}

fn write_holder(disk: &Disk, file: &mut File, path: &Path, holder: &Holder) -> std::io::Result<()> {
    file.set_len(0)?;
    file.seek(SeekFrom::Start(0))?;
    disk.write(&*file, path, serde_json::to_string(holder)?.as_bytes())
}

/// The holder as the file tells it; one without a process when it cannot be read.
fn read_holder(file: &mut File) -> Holder {
    let mut text = String::new();
    let read = file.seek(SeekFrom::Start(0)).and_then(|_| file.take(4096).read_to_string(&mut text));
    read.ok().and_then(|_| serde_json::from_str(&text).ok()).unwrap_or_default()
}

/// This process as a holder, now.
pub(super) fn this_process() -> Holder {
    let from_system = || std::fs::read_to_string("/proc/sys/kernel/hostname").ok();
    let from_environment = || std::env::var("HOSTNAME").or_else(|_| std::env::var("COMPUTERNAME")).ok();
    let host = from_system().or_else(from_environment).map(|h| h.trim().to_owned());
    Holder {
        pid: std::process::id(),
        host: host.filter(|h| !h.is_empty()).unwrap_or_else(|| "this computer".to_owned()),
        since: super::now(),
    }
}
