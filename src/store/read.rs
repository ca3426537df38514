//! Reading files that others wrote: only regular files, never more than their kind may have, nothing outside their folder.

use super::error::{StoreError, Trouble};
use crate::units::digest::Digest;
use std::fs::{File, Metadata};
use std::io::Read;
use std::path::{Component, Path, PathBuf};

/// How large a file of a kind may be, in bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limit(pub u64);

impl Limit {
    /// Files that people write: 4 MiB.
    pub const YAML: Self = Self(4 << 20);
    /// Surveyed ground and other maps, and logs: 64 MiB.
    pub const MAP: Self = Self(64 << 20);
    /// The program's own small files, which need no guard at this size.
    pub const SETTINGS: Self = Self(16 << 10);

    fn words(self) -> String {
        if self.0 >= 1 << 20 { format!("{} MiB", self.0 >> 20) } else { format!("{} KiB", self.0 >> 10) }
    }
}

/// A file as it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileBytes {
    /// Where.
    pub path: PathBuf,
    /// All of it.
    pub bytes: Vec<u8>,
    /// The digest of the bytes, by which a later save knows whether it changed meanwhile.
    pub digest: Digest,
}

/// A text file as it was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileText {
    /// Where.
    pub path: PathBuf,
    /// All of it; a byte order mark, where there is one, is still in front.
    pub text: String,
    /// The digest of the bytes.
    pub digest: Digest,
}

/// Reads a file of at most `limit` bytes. Anything but a regular file is refused before it is opened, one that is too large
/// before it is read.
///
/// # Errors
/// [`StoreError`] with place, cause and cure.
pub fn read(path: &Path, limit: Limit) -> Result<FileBytes, StoreError> {
    let failed = |error| StoreError::reading(path, &error);
    let metadata = std::fs::metadata(path).map_err(failed)?;
    check_sort(path, &metadata, limit)?;
    let file = File::open(path).map_err(failed)?;
    let mut bytes = Vec::new();
    // One byte more tells a file that grew from one that just fits.
    let read = file.take(limit.0 + 1).read_to_end(&mut bytes).map_err(failed)?;
    if u64::try_from(read).unwrap_or(u64::MAX) > limit.0 {
        return Err(too_large(path, limit));
    }
    Ok(FileBytes { path: path.to_owned(), digest: Digest::of(&bytes), bytes })
}

/// Reads a text file of at most `limit` bytes.
///
/// # Errors
/// As [`read`], and [`Trouble::NotText`] with line and column of the first byte that is not UTF-8.
pub fn read_text(path: &Path, limit: Limit) -> Result<FileText, StoreError> {
    let FileBytes { path, bytes, digest } = read(path, limit)?;
    match String::from_utf8(bytes) {
        Ok(text) => Ok(FileText { path, text, digest }),
        Err(error) => Err(not_text(&path, error.as_bytes(), error.utf8_error().valid_up_to())),
    }
}

fn check_sort(path: &Path, metadata: &Metadata, limit: Limit) -> Result<(), StoreError> {
    if metadata.is_dir() {
        return Err(StoreError::new(path, Trouble::WrongSort, "this is a folder, not a file", "name a file in it"));
    }
    if !metadata.is_file() {
        return Err(StoreError::new(
            path,
            Trouble::NotRegular,
            "this is not a regular file but a pipe, a device or a socket",
            "save what it holds to a file first",
        ));
    }
    if metadata.len() > limit.0 {
        return Err(too_large(path, limit));
    }
    Ok(())
}

fn too_large(path: &Path, limit: Limit) -> StoreError {
    StoreError::new(
        path,
        Trouble::TooLarge,
        format!("the file is larger than {}, the most that such a file may have", limit.words()),
        "check that it is the file you mean",
    )
}

fn not_text(path: &Path, bytes: &[u8], valid: usize) -> StoreError {
    let before = bytes.get(..valid).unwrap_or_default();
    let line = before.iter().filter(|b| **b == b'\n').count() + 1;
    let start = before.iter().rposition(|b| *b == b'\n').map_or(0, |p| p + 1);
    let column = String::from_utf8_lossy(before.get(start..).unwrap_or_default()).chars().count() + 1;
    let byte = bytes.get(valid).copied().unwrap_or_default();
    StoreError::new(
        path,
        Trouble::NotText,
        format!("byte \\x{byte:02x} at line {line}, column {column} is not UTF-8"),
        "save the file as UTF-8 in your editor",
    )
}

/// The place of a file that another file names, as `ground: corvane.geojson`: it must be a relative path that stays in the folder of
/// the naming file, links followed.
///
/// # Errors
/// [`Trouble::Outside`] for an absolute path, one with `..`, or a link that leads out; [`Trouble::Missing`] when it is not there.
pub fn beside(naming_file: &Path, named: &str) -> Result<PathBuf, StoreError> {
    let outside = |what: &str| {
        StoreError::new(
            Path::new(named),
            Trouble::Outside,
            what,
            "keep the file in the folder of the notebook and name it from there",
        )
    };
    let relative = Path::new(named);
    // A backslash or a drive would be a way out on another system, and files travel.
    let drive = named.as_bytes().get(1) == Some(&b':');
    if named.is_empty() || named.contains('\0') {
        return Err(outside("this names no file"));
    }
    if relative.is_absolute() || named.starts_with(['/', '\\']) || drive {
        return Err(outside("an absolute path leads out of the notebook's folder"));
    }
    let climbs = named.split(['/', '\\']).any(|part| part == "..");
    let plain = relative.components().all(|c| matches!(c, Component::Normal(_) | Component::CurDir));
    if climbs || !plain {
        return Err(outside("a path with `..` leads out of the notebook's folder"));
    }
    let folder = parent_of(naming_file);
    let folder = std::fs::canonicalize(&folder).map_err(|e| StoreError::reading(&folder, &e))?;
    let named_place = folder.join(relative);
    let place = std::fs::canonicalize(&named_place).map_err(|e| StoreError::reading(&named_place, &e))?;
    if place.starts_with(&folder) { Ok(place) } else { Err(outside("a link leads out of the notebook's folder")) }
}

/// The folder of a file, `.` for a bare name.
pub(super) fn parent_of(path: &Path) -> PathBuf {
    match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    }
}
