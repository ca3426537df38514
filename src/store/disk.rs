//! Every change that marram makes to a disk goes through here, one step at a time, so that a test can let any step fail.

use std::fmt;
use std::fs::{File, OpenOptions};
use std::io::{self, Seek, SeekFrom, Write};
use std::path::Path;
use std::sync::Arc;
use tempfile::NamedTempFile;

/// A step that changes something on the disk, or makes a change durable.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Step {
    /// A file is created or opened to be written.
    Open,
    /// So many bytes are written.
    Write(usize),
    /// A file is synced.
    Sync,
    /// A file is cut to a length.
    SetLength,
    /// A temporary file takes its name.
    Rename,
    /// A folder is synced.
    SyncFolder,
    /// A folder is made.
    MakeFolder,
    /// A file is removed.
    Remove,
}

/// What happens to a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// It fails with this kind of error and changes nothing.
    Fails(io::ErrorKind),
    /// Of a write, only so many bytes reach the disk before the error.
    Short(usize, io::ErrorKind),
}

/// Decides which steps fail; the disk of a test.
pub trait Faults: Send + Sync {
    /// Asked before each step; `None` lets it happen.
    fn before(&self, step: Step, path: &Path) -> Option<Fault>;
}

/// The disk as marram writes to it.
#[derive(Clone, Default)]
pub struct Disk {
    faults: Option<Arc<dyn Faults>>,
}

impl fmt::Debug for Disk {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = if self.faults.is_some() { "Disk(with faults)" } else { "Disk" };
        f.write_str(name)
    }
}

impl Disk {
    /// A disk on which `faults` happen.
    pub fn with_faults(faults: Arc<dyn Faults>) -> Self {
        Self { faults: Some(faults) }
    }

    fn step(&self, step: Step, path: &Path) -> io::Result<()> {
        match self.faults.as_ref().and_then(|f| f.before(step, path)) {
            None => Ok(()),
            Some(Fault::Fails(kind) | Fault::Short(_, kind)) => Err(kind.into()),
        }
    }

    /// Creates a file that must not exist, to read and append.
    pub(super) fn create_new(&self, path: &Path) -> io::Result<File> {
        self.step(Step::Open, path)?;
        OpenOptions::new().read(true).append(true).create_new(true).open(path)
    }

    /// Opens a file that exists, to read and append.
    pub(super) fn open_append(&self, path: &Path) -> io::Result<File> {
        self.step(Step::Open, path)?;
        OpenOptions::new().read(true).append(true).open(path)
    }

    /// A file made when it is missing, to be locked.
    pub(super) fn open_lock(&self, path: &Path) -> io::Result<File> {
        self.step(Step::Open, path)?;
        OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path)
    }

    /// A temporary file in the folder where it is to take its name, with the permissions of a new file.
    pub(super) fn temp_in(&self, folder: &Path) -> io::Result<NamedTempFile> {
        self.step(Step::Open, folder)?;
        let mut builder = tempfile::Builder::new();
        builder.prefix(".marram-").suffix(".tmp");
        #[cfg(unix)]
        let builder = {
            use std::os::unix::fs::PermissionsExt;
            // As any program's new file: what the umask leaves.
            builder.permissions(std::fs::Permissions::from_mode(0o666))
        };
        builder.tempfile_in(folder)
    }

    pub(super) fn write(&self, mut file: &File, path: &Path, bytes: &[u8]) -> io::Result<()> {
        match self.faults.as_ref().and_then(|f| f.before(Step::Write(bytes.len()), path)) {
            None => file.write_all(bytes),
            Some(Fault::Fails(kind)) => Err(kind.into()),
            Some(Fault::Short(count, kind)) => {
                file.write_all(bytes.get(..count).unwrap_or(bytes))?;
                Err(kind.into())
            }
        }
    }

    /// Opens a file that exists, to write over bytes of it.
    pub(super) fn open_over(&self, path: &Path) -> io::Result<File> {
        self.step(Step::Open, path)?;
        OpenOptions::new().write(true).open(path)
    }

    /// Writes over the bytes that stand at `offset` of a file opened so.
    pub(super) fn write_over(&self, mut file: &File, path: &Path, offset: u64, bytes: &[u8]) -> io::Result<()> {
        file.seek(SeekFrom::Start(offset))?;
        self.write(file, path, bytes)
    }

    /// Waits until the bytes of a file are on the disk.
    pub(super) fn sync(&self, file: &File, path: &Path) -> io::Result<()> {
        self.step(Step::Sync, path)?;
        file.sync_data()
    }

    /// Waits until the bytes and the attributes of a file are on the disk.
    pub(super) fn sync_all(&self, file: &File, path: &Path) -> io::Result<()> {
        self.step(Step::Sync, path)?;
        file.sync_all()
    }

    pub(super) fn set_length(&self, file: &File, path: &Path, length: u64) -> io::Result<()> {
        self.step(Step::SetLength, path)?;
        file.set_len(length)
    }

    /// Gives a temporary file its name; with `replaces` over what stands there.
    pub(super) fn persist(&self, temp: NamedTempFile, path: &Path, replaces: bool) -> io::Result<File> {
        self.step(Step::Rename, path)?;
        let result = if replaces { temp.persist(path) } else { temp.persist_noclobber(path) };
        result.map_err(|e| e.error)
    }

    /// Waits until the names in a folder are on the disk. Windows needs and offers no such step.
    pub(super) fn sync_folder(&self, folder: &Path) -> io::Result<()> {
        self.step(Step::SyncFolder, folder)?;
        if cfg!(windows) {
            return Ok(());
        }
        match File::open(folder)?.sync_all() {
            // Some network file systems cannot sync a folder and do not need to.
            Err(e) if matches!(e.kind(), io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported) => Ok(()),
            other => other,
        }
    }

    /// Makes a folder and those above it, where they are missing.
    pub(super) fn make_folders(&self, folder: &Path) -> io::Result<()> {
        if folder.is_dir() {
            return Ok(());
        }
        self.step(Step::MakeFolder, folder)?;
        std::fs::create_dir_all(folder)?;
        // The parent is what holds the new name.
        folder.parent().map_or(Ok(()), |parent| self.sync_folder(parent))
    }

    pub(super) fn remove(&self, path: &Path) -> io::Result<()> {
        self.step(Step::Remove, path)?;
        std::fs::remove_file(path)
    }
}
