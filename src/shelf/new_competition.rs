//! A new competition on the shelf, and which one to open when none is named.

use crate::course::{self, Card};
use crate::store::{Expect, Limit, Sort, Store, StoreError, read_text};
use std::path::{Path, PathBuf};
use std::time::SystemTime;

const COMPETITION: &str = include_str!("../cli/starters/competition.yaml");

/// The field of a new competition: its header with a word on each column.
pub const FIELD_STARTER: &str = include_str!("../cli/starters/field.csv");

/// The set-up of a new competition with its places filled: the notebook is the one given by path and name.
pub fn competition_starter(name: &str, notebook: Option<&(PathBuf, String)>, today: &str) -> String {
    let quoted =
        |s: &str| s.replace('\\', "\\\\").replace('"', "\\\"").chars().filter(|c| !c.is_control()).collect::<String>();
    let course = notebook.and_then(|(path, _)| course::read(&read_text(path, Limit::YAML).ok()?.text).0);
    let rated = |card, other: &str| {
        let sets = course.as_ref().map_or(&[][..], |course| course.tees.as_slice());
        let tee = sets.iter().find(|set| set.ratings.get(card).is_some()).map(|set| set.name.clone());
        format!("\"{}\"", tee.as_deref().unwrap_or(other).replace('"', ""))
    };
    COMPETITION
        .replace("{{NAME}}", &quoted(name))
        .replace("{{COURSE}}", &quoted(notebook.map_or("course", |(_, stem)| stem.as_str())))
        .replace("{{DATE}}", today)
        .replace("{{MEN}}", &rated(Card::Men, "White"))
        .replace("{{WOMEN}}", &rated(Card::Women, "Red"))
}

/// Makes a competition on the shelf for the only notebook there is; its folder.
///
/// # Errors
/// [`StoreError`] when it cannot be written, or one of that name is there.
pub fn new_competition(store: &Store, name: &str, today: &str) -> Result<PathBuf, StoreError> {
    let notebooks = store.shelf().list(Sort::Notebook).unwrap_or_default();
    let only = if let [only] = notebooks.as_slice() { Some((only.path.clone(), only.name.clone())) } else { None };
    let folder = store.shelf().place_of(Sort::Competition, name);
    store.make_folder(&folder)?;
    let text = competition_starter(name, only.as_ref(), today);
    store.save(&folder.join("competition.yaml"), text.as_bytes(), Expect::New)?;
    if !folder.join("field.csv").exists() {
        store.save(&folder.join("field.csv"), FIELD_STARTER.as_bytes(), Expect::New)?;
    }
    Ok(folder)
}

/// The competition on the shelf that was changed last.
///
/// # Errors
/// In a sentence when there is none.
pub fn competition_to_open(store: &Store) -> Result<PathBuf, String> {
    let found = store.shelf().list(Sort::Competition).map_err(|error| error.to_string())?;
    let changed = |folder: &Path| -> Option<SystemTime> {
        let names = ["competition.yaml", "field.csv", "cards", "rulings", "changes"];
        names.iter().filter_map(|name| std::fs::metadata(folder.join(name)).ok()?.modified().ok()).max()
    };
    found
        .into_iter()
        .map(|found| found.path)
        .max_by_key(|path| changed(path))
        .ok_or_else(|| "There is no competition on the shelf: N makes one".to_owned())
}
