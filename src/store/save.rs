//! Saving a file so that at any moment, power cut or not, the old text or the new one is there whole.
//!
//! A temporary file in the same folder is written and synced, takes the permissions of the old file, takes its name, and the
//! folder is synced. Linux and macOS (local file systems): the rename is atomic and after the folder's sync it survives a power
//! cut. Windows: the replacement is atomic for readers; the system writes the name out in its own time. What is not carried
//! over: owner, other hard links, extended attributes.

use super::Store;
use super::error::{StoreError, Trouble};
use super::read::{Limit, parent_of, read};
use crate::units::digest::Digest;
use std::io;
use std::path::{Path, PathBuf};

/// How many backups of a file are kept.
const MOST_BACKUPS: usize = 20;

/// What is expected at the place of a save.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Expect {
    /// Nothing: the file is new.
    New,
    /// The text that was read, by its digest.
    AsRead(Digest),
    /// Whatever is there; for files that only the program writes.
    Anything,
}

/// A save that happened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saved {
    /// The file that was written, links resolved.
    pub path: PathBuf,
    /// The digest of what was written.
    pub digest: Digest,
    /// Why it might not survive a power cut right now, when the system could not say that it does.
    pub not_synced: Option<StoreError>,
}

impl Store {
    /// Whether a file could be made in a folder: one is, and is gone again.
    ///
    /// # Errors
    /// What stands in the way.
    pub fn can_write(&self, folder: &Path) -> Result<(), StoreError> {
        self.disk.temp_in(folder).map(drop).map_err(|error| StoreError::writing(folder, &error))
    }

    /// Saves `bytes` to `path`, whole or not at all. A link is followed, not replaced.
    ///
    /// # Errors
    /// [`Trouble::Changed`] when the file is not what `expect` says, [`Trouble::Exists`] for a new file that is there,
    /// [`Trouble::Full`], [`Trouble::ReadOnly`], [`Trouble::NotPermitted`] …: the old file is untouched.
    pub fn save(&self, path: &Path, bytes: &[u8], expect: Expect) -> Result<Saved, StoreError> {
        let target = resolve(path)?;
        let failed = |error: io::Error| StoreError::writing(&target, &error);
        check_expected(&target, expect)?;
        let folder = parent_of(&target);
        let mut temp = self.disk.temp_in(&folder).map_err(failed)?;
        let temp_path = temp.path().to_owned();
        self.disk.write(temp.as_file_mut(), &temp_path, bytes).map_err(failed)?;
        if expect != Expect::New
            && let Ok(metadata) = std::fs::metadata(&target)
        {
            if metadata.permissions().readonly() {
                return Err(failed(io::ErrorKind::PermissionDenied.into()));
            }
            temp.as_file().set_permissions(metadata.permissions()).map_err(failed)?;
        }
        self.disk.sync_all(temp.as_file(), &temp_path).map_err(failed)?;
        // Asked again at the last moment: writing and syncing took time.
        check_expected(&target, expect)?;
        let digest = Digest::of(bytes);
        self.own_writes.note(&target, digest);
        if let Err(error) = self.disk.persist(temp, &target, expect != Expect::New) {
            self.own_writes.forget(&target);
            return Err(failed(error));
        }
        let synced = self.disk.sync_folder(&folder);
        Ok(Saved { not_synced: synced.err().map(|e| StoreError::writing(&folder, &e)), path: target, digest })
    }

    /// Copies a file to `backups/` on the shelf before it is changed, and drops the oldest copies beyond twenty. `None` when there
    /// is nothing to copy or the newest copy is the same.
    ///
    /// # Errors
    /// [`StoreError`] when the copy could not be made; the file is untouched.
    pub fn back_up(&self, path: &Path) -> Result<Option<PathBuf>, StoreError> {
        let target = resolve(path)?;
        if !target.exists() {
            return Ok(None);
        }
        let now = read(&target, Limit::MAP)?;
        let (folder, name) = self.backup_folder(&target);
        let mut copies = numbered(&folder);
        if let Some((_, newest)) = copies.last()
            && read(newest, Limit::MAP).is_ok_and(|old| old.digest == now.digest)
        {
            return Ok(None);
        }
        self.disk.make_folders(&folder).map_err(|e| StoreError::writing(&folder, &e))?;
        let next = copies.last().map_or(1, |(number, _)| number + 1);
        let copy = folder.join(format!("{next:04}-{name}"));
        self.save(&copy, &now.bytes, Expect::New)?;
        copies.push((next, copy.clone()));
        for (_, old) in copies.iter().take(copies.len().saturating_sub(MOST_BACKUPS)) {
            // An old copy that stays is no harm.
            let _ = self.disk.remove(old);
        }
        Ok(Some(copy))
    }
}

/// A copy of a file as it was before a change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Backup {
    /// Counted up; the greatest is the newest.
    pub number: u32,
    /// Where the copy lies.
    pub path: PathBuf,
}

impl Store {
    /// The folder of a file's backups, and the name of the file.
    fn backup_folder(&self, target: &Path) -> (PathBuf, String) {
        let name = target.file_name().unwrap_or_default().to_string_lossy().into_owned();
        // A file that is gone is found by its folder, so that it can be put back.
        let whole = std::fs::canonicalize(target)
            .or_else(|_| std::fs::canonicalize(parent_of(target)).map(|folder| folder.join(&name)))
            .unwrap_or_else(|_| target.to_owned());
        let mark = Digest::of(whole.as_os_str().as_encoded_bytes()).short(8);
        (self.shelf.root().join("backups").join(format!("{name}-{mark}")), name)
    }

    /// The backups of a file, oldest first.
    ///
    /// # Errors
    /// [`StoreError`] when the file is a link that leads nowhere.
    pub fn backups(&self, path: &Path) -> Result<Vec<Backup>, StoreError> {
        let target = resolve(path)?;
        let (folder, _) = self.backup_folder(&target);
        Ok(numbered(&folder).into_iter().map(|(number, path)| Backup { number, path }).collect())
    }

    /// Puts a backup back in the place of its file. What is there now is backed up first, so that this can be undone too.
    ///
    /// # Errors
    /// [`StoreError`]; the file is then as it was.
    pub fn restore(&self, path: &Path, backup: &Backup) -> Result<Saved, StoreError> {
        let copy = read(&backup.path, Limit::MAP)?;
        let now = resolve(path)?;
        let expect = if now.exists() { Expect::AsRead(read(&now, Limit::MAP)?.digest) } else { Expect::New };
        self.back_up(path)?;
        self.save(path, &copy.bytes, expect)
    }
}

/// The backups in a folder, oldest first.
fn numbered(folder: &Path) -> Vec<(u32, PathBuf)> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let mut copies: Vec<(u32, PathBuf)> = entries
        .filter_map(|entry| {
            let name = entry.file_name().to_string_lossy().into_owned();
            Some((name.split_once('-')?.0.parse().ok()?, entry.path()))
        })
        .collect();
    copies.sort();
    copies
}

/// The file that a path means, links resolved, so that a save never replaces a link by a file.
fn resolve(path: &Path) -> Result<PathBuf, StoreError> {
    match std::fs::symlink_metadata(path) {
        Ok(metadata) if metadata.is_symlink() => std::fs::canonicalize(path).map_err(|error| {
            let mut told = StoreError::reading(path, &error);
            if told.trouble == Trouble::Missing {
                told.what = "the link leads to a file that is not there".to_owned();
                told.cure = "mend or remove the link".to_owned();
            }
            told
        }),
        _ => Ok(path.to_owned()),
    }
}

fn check_expected(target: &Path, expect: Expect) -> Result<(), StoreError> {
    let there = std::fs::symlink_metadata(target).is_ok();
    match expect {
        Expect::New if there => Err(StoreError::writing(target, &io::ErrorKind::AlreadyExists.into())),
        Expect::Anything if target.is_dir() => Err(StoreError::writing(target, &io::ErrorKind::IsADirectory.into())),
        Expect::New | Expect::Anything => Ok(()),
        Expect::AsRead(_) if !there => Err(changed(target, "the file was removed since it was read")),
        Expect::AsRead(digest) => {
            // A file that outgrew every limit is also not the one that was read.
            let same = read(target, Limit::MAP)?.digest == digest;
            if same { Ok(()) } else { Err(changed(target, "the file was changed since it was read")) }
        }
    }
}

fn changed(target: &Path, what: &str) -> StoreError {
    StoreError::new(target, Trouble::Changed, what, "nothing was written; read it again and make the change there")
}
