//! Lists of pupils, and the players that they name.

use super::load::person;
use crate::notebook::Lines;
use crate::player;
use crate::round::{FileRef, slug};
use crate::session::{Person, Session};
use crate::store::{Limit, Store, StoreError, read_text};
use crate::units::digest::Digest;
use std::path::{Path, PathBuf};

/// A list of pupils as it was read: those whose files were found, and what is to be said of the rest.
#[derive(Clone, Debug, Default)]
pub struct PupilList {
    /// The players with their tees, in the order of the list.
    pub people: Vec<Person>,
    /// Problems of the list and players without a file.
    pub remarks: Vec<String>,
}

/// The folders in which lists and players lie: the notebook's own, then the shelf.
fn folders(store: &Store, session: &Session) -> Vec<PathBuf> {
    let notebook = session.course_file.as_ref().and_then(|f| Path::new(&f.name).parent().map(Path::to_owned));
    let mut out: Vec<PathBuf> = notebook.into_iter().filter(|p| !p.as_os_str().is_empty()).collect();
    let shelf = store.shelf().root().to_owned();
    if !out.contains(&shelf) {
        out.push(shelf);
    }
    out
}

/// The lists beside the notebook and on the shelf, by name.
pub fn pupil_lists(store: &Store, session: &Session) -> Vec<(PathBuf, String)> {
    let mut out: Vec<(PathBuf, String)> = Vec::new();
    for folder in folders(store, session) {
        let Ok(entries) = std::fs::read_dir(folder.join("pupils")) else { continue };
        let mut found: Vec<PathBuf> = entries
            .filter_map(|e| Some(e.ok()?.path()))
            .filter(|p| p.extension().is_some_and(|e| e == "csv"))
            .collect();
        found.sort();
        for path in found {
            let name = path.file_stem().and_then(|s| s.to_str()).unwrap_or_default().to_owned();
            if !out.iter().any(|(_, known)| *known == name) {
                out.push((path, name));
            }
        }
    }
    out
}

/// Reads a list with the players that it names.
///
/// # Errors
/// [`StoreError`] when the list itself cannot be read.
pub fn pupil_list(store: &Store, session: &Session, path: &Path) -> Result<PupilList, StoreError> {
    let text = read_text(path, Limit::YAML)?.text;
    let (pupils, problems) = player::read_pupils(&text);
    let name = path.file_name().and_then(|n| n.to_str()).unwrap_or_default();
    let mut out = PupilList::default();
    for problem in problems {
        let line = Lines::new(&text).place(problem.span.start).line;
        out.remarks.push(format!("{name}, line {line}: {}", problem.message));
    }
    let folders = folders(store, session);
    let usual = session.people.first().map(|p| p.tee.clone()).unwrap_or_default();
    for pupil in pupils {
        let files = folders.iter().map(|f| f.join("players").join(format!("{}.yaml", slug(&pupil.player))));
        let Some(file) = files.into_iter().find(|f| f.is_file()) else {
            out.remarks.push(format!("{} has no player's file: marram new player \"{}\"", pupil.player, pupil.player));
            continue;
        };
        let read = match read_text(&file, Limit::YAML) {
            Ok(read) => read.text,
            Err(error) => {
                out.remarks.push(error.to_string());
                continue;
            }
        };
        let (Some(player), _) = player::read(&read) else {
            out.remarks.push(format!("{} cannot be read as a player", file.display()));
            continue;
        };
        let reference = FileRef { file: file.display().to_string(), digest: Digest::of(read.as_bytes()) };
        let mut person = person(&player, reference);
        person.tee = pupil.tee.unwrap_or_else(|| usual.clone());
        if session.course.as_ref().is_some_and(|c| c.tee(&person.tee).is_none()) {
            out.remarks.push(format!("{}: the course has no {} tees; shown from {usual}", person.name, person.tee));
            person.tee.clone_from(&usual);
        }
        out.people.push(person);
    }
    Ok(out)
}
