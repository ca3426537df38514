//! The only room that touches files: find, read, save durably, back up, lock, watch, folders.
//!
//! A [`Shelf`] says where everything lies; nothing on it is made before a person makes something. [`read`] and [`read_text`] take only
//! regular files of a stated size. [`Store::save`] is whole or not at all and never goes over what someone changed meanwhile.
//! [`Store::new_round`] and [`Store::open_round`] give an [`OpenRound`], whose entries are written at once and synced behind
//! ([`LogWriter`]). Every change to the disk is a [`Step`] of [`Disk`], which a test can let fail.

mod disk;
mod error;
mod find;
mod lock;
mod log_sync;
mod log_writer;
mod read;
mod rounds;
mod save;
mod settings;
mod shelf;
mod watch;

pub use disk::{Disk, Fault, Faults, Step};
pub use error::{StoreError, Trouble};
pub use find::Sort;
pub use lock::Holder;
pub use log_writer::{Appended, Kept, LogWriter, Notify};
pub use read::{FileBytes, FileText, Limit, beside, read, read_text};
pub use rounds::{OpenRound, ReadOnly, ReadRound, RoundFile, RoundLog, TextOf};
pub use save::{Backup, Expect, Saved};
pub use settings::{LastUsed, Settings};
pub use shelf::{Found, Shelf};
pub use watch::{FileChange, Watch};

use watch::OwnWrites;

/// The shelf and the disk it lies on. Cheap to clone; clones share what they know of their own writes.
#[derive(Clone, Debug)]
pub struct Store {
    shelf: Shelf,
    disk: Disk,
    own_writes: OwnWrites,
}

impl Store {
    /// The store of a shelf.
    pub fn new(shelf: Shelf) -> Self {
        Self::on_disk(shelf, Disk::default())
    }

    /// The store of a shelf on a disk of its own kind, as tests use it.
    pub fn on_disk(shelf: Shelf, disk: Disk) -> Self {
        Self { shelf, disk, own_writes: OwnWrites::default() }
    }

    /// Where things lie.
    pub const fn shelf(&self) -> &Shelf {
        &self.shelf
    }

    /// Makes a folder of the shelf, and those above it, because a person makes something in it.
    ///
    /// # Errors
    /// [`StoreError`] when it cannot be made.
    pub fn make_folder(&self, folder: &std::path::Path) -> Result<(), StoreError> {
        self.disk.make_folders(folder).map_err(|error| StoreError::writing(folder, &error))
    }
}

/// Now, as the computer's clock says it, in its time zone: `2026-05-16T09:12:03+01:00`.
pub fn now() -> String {
    chrono::Local::now().to_rfc3339_opts(chrono::SecondsFormat::Secs, false)
}

/// Today in the computer's time zone: `2026-05-16`.
pub fn today() -> String {
    chrono::Local::now().format("%Y-%m-%d").to_string()
}
