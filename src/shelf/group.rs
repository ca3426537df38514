//! A list of pupils found with their players' files.

use crate::notebook::{Diagnostic, Lines, Severity};
use crate::player::{Pupil, read_pupils};
use crate::round::slug;
use crate::store::{Limit, Sort, Store, StoreError, read_text};
use std::path::{Path, PathBuf};

/// A group as it was found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Group {
    /// The list.
    pub file: PathBuf,
    /// Those with a file: the file and the tee of the list, to be opened with a notebook.
    pub players: Vec<(PathBuf, Option<String>)>,
    /// Those without one, by name.
    pub missing: Vec<String>,
    /// What is wrong with the list, each with its line.
    pub problems: Vec<String>,
}

/// Opens a list: a path, or a name that is looked up in the current folder and then in `pupils/` of the shelf.
///
/// # Errors
/// [`StoreError`] when there is no such list or it cannot be read at all; a line with an error is in `problems`.
pub fn open_group(store: &Store, current: &Path, list: &str) -> Result<Group, StoreError> {
    let given = current.join(list);
    let folder = store.shelf().root().join("pupils");
    let bare = !list.contains('/') && !list.ends_with(".csv");
    let places = [
        given.clone(),
        current.join(format!("{list}.csv")),
        folder.join(format!("{}.csv", slug(list))),
        folder.join(list),
    ];
    let file = places.iter().find(|p| p.is_file()).cloned();
    let file = file.unwrap_or(if bare { folder.join(format!("{list}.csv")) } else { given });
    let text = read_text(&file, Limit::YAML)?.text;
    let (pupils, problems) = read_pupils(&text);
    let lines = Lines::new(&text);
    let words = |d: &Diagnostic| format!("{}:{}: {}", file.display(), lines.place(d.span.start).line, d.message);
    let mut group = Group {
        problems: problems.iter().filter(|d| d.severity == Severity::Error).map(words).collect(),
        file: file.clone(),
        ..Group::default()
    };
    for Pupil { player, tee, .. } in pupils {
        let found = store.shelf().find(Sort::Player, &player, current);
        match found.or_else(|_| store.shelf().find(Sort::Player, &slug(&player), current)) {
            Ok(path) => group.players.push((path, tee)),
            Err(_) => group.missing.push(player),
        }
    }
    Ok(group)
}
