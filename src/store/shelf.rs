//! The shelf: the folder where notebooks, players, days, rounds, plans and competitions lie.

use super::error::{StoreError, Trouble};
use super::find::Sort;
use std::path::{Path, PathBuf};

/// The variable that names the shelf when no option does.
const VARIABLE: &str = "MARRAM_FOLDER";

/// Where everything lies. Knowing a place makes nothing there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shelf {
    root: PathBuf,
}

/// Something on the shelf.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Found {
    /// The name by which it is found.
    pub name: String,
    /// The file, or the folder of a competition.
    pub path: PathBuf,
}

impl Shelf {
    /// The shelf in this folder.
    pub fn at(root: impl Into<PathBuf>) -> Self {
        Self { root: root.into() }
    }

    /// The shelf of this run: `--folder`, else the variable `MARRAM_FOLDER`, else the data folder of the system.
    ///
    /// # Errors
    /// When none of them is known, as for a user without a home folder.
    pub fn locate(option: Option<&Path>) -> Result<Self, StoreError> {
        let variable = std::env::var_os(VARIABLE).filter(|value| !value.is_empty());
        if let Some(folder) = option.map(Path::to_owned).or_else(|| variable.map(PathBuf::from)) {
            // Kept whole, so that a later change of the current folder does not move the shelf.
            let whole = std::path::absolute(&folder).map_err(|e| StoreError::reading(&folder, &e))?;
            return Ok(Self::at(whole));
        }
        match directories::ProjectDirs::from("", "", "marram") {
            Some(folders) => Ok(Self::at(folders.data_dir())),
            None => Err(StoreError::new(
                Path::new("~"),
                Trouble::Missing,
                "this user has no home folder, so there is no shelf",
                format!("name a folder with --folder DIR or {VARIABLE}"),
            )),
        }
    }

    /// The folder of the shelf; notebooks lie in it.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// `players/`
    pub fn players(&self) -> PathBuf {
        self.root.join("players")
    }

    /// `days/`
    pub fn days(&self) -> PathBuf {
        self.root.join("days")
    }

    /// `rounds/`
    pub fn rounds(&self) -> PathBuf {
        self.root.join("rounds")
    }

    /// `plans/`
    pub fn plans(&self) -> PathBuf {
        self.root.join("plans")
    }

    /// `competitions/`
    pub fn competitions(&self) -> PathBuf {
        self.root.join("competitions")
    }

    /// `settings.yaml`
    pub fn settings(&self) -> PathBuf {
        self.root.join("settings.yaml")
    }

    /// `keys.yaml`: a person's own keys.
    pub fn keys(&self) -> PathBuf {
        self.root.join("keys.yaml")
    }

    /// The folder of one sort of thing.
    pub fn folder_of(&self, sort: Sort) -> PathBuf {
        match sort.folder() {
            Some(folder) => self.root.join(folder),
            None => self.root.clone(),
        }
    }

    /// Where a new thing of that sort and name lies.
    pub fn place_of(&self, sort: Sort, name: &str) -> PathBuf {
        sort.place_in(&self.folder_of(sort), &crate::round::slug(name))
    }

    /// All things of a sort on the shelf, by name; none where the folder is missing.
    ///
    /// # Errors
    /// When the folder is there and cannot be read.
    pub fn list(&self, sort: Sort) -> Result<Vec<Found>, StoreError> {
        let folder = self.folder_of(sort);
        if folder.exists() { sort.list(&folder) } else { Ok(Vec::new()) }
    }
}
