//! What can go wrong with a file: the place, the cause, the cure.

use crate::units::plain_text::plain;
use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

/// The kinds of trouble, for those who act on them rather than show them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Trouble {
    /// Nothing is there.
    Missing,
    /// No file, player, round … of that name.
    UnknownName,
    /// A folder stands where a file is needed, or the other way round.
    WrongSort,
    /// Not a regular file: a pipe, a device, a socket.
    NotRegular,
    /// Larger than its kind may be.
    TooLarge,
    /// Not UTF-8.
    NotText,
    /// The system does not permit it.
    NotPermitted,
    /// The folder or the whole disk is read-only.
    ReadOnly,
    /// The disk or the quota is full.
    Full,
    /// The file is not what it was when it was read.
    Changed,
    /// Something is there already.
    Exists,
    /// A path of a file that leads out of its folder.
    Outside,
    /// Another program holds it.
    Held,
    /// It was written by a later marram, or by no marram.
    Unreadable,
    /// The system reported something else.
    Other,
}

/// A problem with a file or folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StoreError {
    /// Which file or folder.
    pub place: PathBuf,
    /// Its kind.
    pub trouble: Trouble,
    /// What is wrong, without a full stop.
    pub what: String,
    /// What to do, without a full stop; empty when the cause says it.
    pub cure: String,
}

impl StoreError {
    pub(super) fn new(place: &Path, trouble: Trouble, what: impl Into<String>, cure: impl Into<String>) -> Self {
        Self { place: place.to_owned(), trouble, what: what.into(), cure: cure.into() }
    }

    /// What the system reported while the file was being read.
    pub fn reading(place: &Path, error: &io::Error) -> Self {
        Self::of(place, error, "read")
    }

    /// What the system reported while the file was being written.
    pub(super) fn writing(place: &Path, error: &io::Error) -> Self {
        Self::of(place, error, "written")
    }

    fn of(place: &Path, error: &io::Error, done: &str) -> Self {
        use io::ErrorKind as K;
        let (trouble, what, cure) = match error.kind() {
            K::NotFound => {
                (Trouble::Missing, "there is no such file or folder".to_owned(), "check the name and the folder")
            }
            K::PermissionDenied => (
                Trouble::NotPermitted,
                format!("it may not be {done}: the system does not permit it"),
                if done == "read" {
                    "change the permissions of the file, or take a copy that you own"
                } else {
                    "change the permissions of the folder, or choose another with --folder"
                },
            ),
            K::ReadOnlyFilesystem => {
                (Trouble::ReadOnly, "the disk is read-only".to_owned(), "choose another folder with --folder")
            }
            K::StorageFull | K::QuotaExceeded => (
                Trouble::Full,
                "the disk is full".to_owned(),
                "make room; what was entered stays here until it can be written",
            ),
            K::FileTooLarge => {
                (Trouble::Full, "the disk takes no file of that size".to_owned(), "choose another folder with --folder")
            }
            K::IsADirectory => (Trouble::WrongSort, "this is a folder, not a file".to_owned(), "name a file in it"),
            K::NotADirectory => (
                Trouble::WrongSort,
                "a file stands where a folder is needed".to_owned(),
                "move it away, or choose another folder with --folder",
            ),
            K::AlreadyExists => {
                (Trouble::Exists, "something of that name is there already".to_owned(), "choose another name")
            }
            _ => (
                Trouble::Other,
                format!("it could not be {done}: {error}"),
                "try again; if it stays so, copy the folder to another disk",
            ),
        };
        Self::new(place, trouble, what, cure)
    }
}

impl fmt::Display for StoreError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = self.place.to_string_lossy();
        write!(f, "{}: {}", plain(&place), plain(&self.what))?;
        if self.cure.is_empty() { Ok(()) } else { write!(f, "; {}", plain(&self.cure)) }
    }
}

impl std::error::Error for StoreError {}
