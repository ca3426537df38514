//! Finding what a person names: a path, or a name in the current folder and then on the shelf.

use super::error::{StoreError, Trouble};
use super::read::parent_of;
use super::shelf::{Found, Shelf};
use crate::round::slug;
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};

/// How much of a file is looked at to tell its kind.
const HEAD: u64 = 4096;

/// The most names that an error lists.
const MOST_NAMES: usize = 6;

/// The endings by which an argument is taken for a path.
const ENDINGS: [&str; 14] =
    ["yaml", "yml", "log", "json", "geojson", "csv", "osm", "gpx", "xml", "pbf", "pdf", "svg", "txt", "lock"];

/// The sorts of things that a name can stand for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sort {
    /// A course notebook.
    Notebook,
    /// A player.
    Player,
    /// A day sheet.
    Day,
    /// A round, by its log.
    Round,
    /// A competition, by its folder.
    Competition,
}

impl Sort {
    /// The sub-folder of the shelf; notebooks lie on the shelf itself.
    pub(super) const fn folder(self) -> Option<&'static str> {
        match self {
            Self::Notebook => None,
            Self::Player => Some("players"),
            Self::Day => Some("days"),
            Self::Round => Some("rounds"),
            Self::Competition => Some("competitions"),
        }
    }

    const fn ending(self) -> &'static str {
        match self {
            Self::Round => "log",
            _ => "yaml",
        }
    }

    /// What stands after `format:` in such a file, before the slash; a round's log has it inside.
    const fn format(self) -> &'static str {
        match self {
            Self::Notebook => "course-notebook",
            Self::Player => "player",
            Self::Day => "day-sheet",
            Self::Round => "round-log",
            Self::Competition => "competition",
        }
    }

    /// The word that messages use.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Notebook => "course notebook",
            Self::Player => "player",
            Self::Day => "day sheet",
            Self::Round => "round",
            Self::Competition => "competition",
        }
    }

    /// What `marram new` calls it.
    const fn new_word(self) -> &'static str {
        match self {
            Self::Notebook => "course",
            Self::Day => "day",
            other => other.word(),
        }
    }

    /// Where a thing of that name lies in a folder.
    pub(super) fn place_in(self, folder: &Path, name: &str) -> PathBuf {
        match self {
            Self::Competition => folder.join(name),
            _ => folder.join(format!("{name}.{}", self.ending())),
        }
    }

    /// Whether a thing of this sort lies there; a file whose kind cannot be told passes, so that its own problems are told.
    fn lies_at(self, path: &Path) -> Lies {
        if self == Self::Competition {
            return if path.join("competition.yaml").is_file() { Lies::There } else { Lies::NotThere };
        }
        if !path.is_file() {
            return Lies::NotThere;
        }
        match format_of(path) {
            Some(format) if self != Self::Round && format != self.format() => Lies::Another(format),
            _ => Lies::There,
        }
    }

    pub(super) fn list(self, folder: &Path) -> Result<Vec<Found>, StoreError> {
        let entries = std::fs::read_dir(folder).map_err(|e| StoreError::reading(folder, &e))?;
        let mut found: Vec<Found> = entries
            .flatten()
            .filter_map(|entry| {
                let path = entry.path();
                // A name that is not Unicode cannot be typed; its path still can.
                let name = match self {
                    Self::Competition => path.file_name()?.to_str()?,
                    _ if path.extension()?.to_str()? == self.ending() => path.file_stem()?.to_str()?,
                    _ => return None,
                };
                // Asked first: a pipe must not be opened.
                let there = self.lies_at(&path) == Lies::There;
                let known = matches!(self, Self::Competition | Self::Round)
                    || there && format_of(&path).as_deref() == Some(self.format());
                (there && known).then(|| Found { name: name.to_owned(), path: path.clone() })
            })
            .collect();
        found.sort();
        Ok(found)
    }
}

#[derive(Debug, PartialEq, Eq)]
enum Lies {
    There,
    NotThere,
    Another(String),
}

/// Whether an argument is a path rather than a name.
fn is_path(name: &str) -> bool {
    let known_ending = || {
        let ending = Path::new(name).extension()?.to_str()?.to_ascii_lowercase();
        ENDINGS.contains(&ending.as_str()).then_some(())
    };
    matches!(name, "." | "..") || name.contains(['/', std::path::MAIN_SEPARATOR]) || known_ending().is_some()
}

/// The kind that a file says it is, `course-notebook` of `format: course-notebook/1`.
fn format_of(path: &Path) -> Option<String> {
    let mut head = Vec::new();
    File::open(path).ok()?.take(HEAD).read_to_end(&mut head).ok()?;
    let head = String::from_utf8_lossy(&head);
    let value = head.lines().find_map(|line| line.trim_start_matches('\u{feff}').strip_prefix("format:"))?;
    let value = value.split('#').next()?.trim().trim_matches(['"', '\'']);
    let kind = value.split_once('/').map_or(value, |(kind, _)| kind);
    (!kind.is_empty()).then(|| kind.to_owned())
}

impl Shelf {
    /// What `name` stands for: a path when it has a `/` or an ending like `.yaml`; else a name in the folder `current`, then on the
    /// shelf.
    ///
    /// # Errors
    /// [`Trouble::UnknownName`] or [`Trouble::Missing`], naming what is near.
    pub fn find(&self, sort: Sort, name: &str, current: &Path) -> Result<PathBuf, StoreError> {
        if is_path(name) {
            let path = if Path::new(name).is_absolute() { PathBuf::from(name) } else { current.join(name) };
            // A dangling link and a pipe are for the reader to refuse.
            return if std::fs::symlink_metadata(&path).is_ok() { Ok(path) } else { Err(missing_path(&path)) };
        }
        let mut folders = vec![current.to_owned()];
        folders.extend(sort.folder().map(|folder| current.join(folder)));
        folders.push(self.folder_of(sort));
        let mut another = None;
        for spelled in [name.to_owned(), slug(name)] {
            for folder in &folders {
                let path = sort.place_in(folder, &spelled);
                match sort.lies_at(&path) {
                    Lies::There => return Ok(path),
                    Lies::Another(format) => another = Some((path, format)),
                    Lies::NotThere => {}
                }
            }
        }
        match another {
            Some((path, format)) => Err(StoreError::new(
                &path,
                Trouble::UnknownName,
                format!("this is a {format}, not a {}", sort.word()),
                format!("name a {}, or write one with `marram new {} NAME`", sort.word(), sort.new_word()),
            )),
            None => Err(self.unknown(sort, name, &folders)),
        }
    }

    fn unknown(&self, sort: Sort, name: &str, folders: &[PathBuf]) -> StoreError {
        let mut names: Vec<String> =
            folders.iter().flat_map(|f| sort.list(f).unwrap_or_default()).map(|f| f.name).collect();
        names.sort();
        names.dedup();
        let word = sort.word();
        let near = nearest(name, &names);
        let cure = if !near.is_empty() {
            format!("did you mean {}?", near.join(", "))
        } else if names.is_empty() {
            format!("there is none yet; `marram new {} NAME` writes one", sort.new_word())
        } else {
            let more = if names.len() > MOST_NAMES { " …" } else { "" };
            names.truncate(MOST_NAMES);
            format!("there are: {}{more}", names.join(", "))
        };
        StoreError::new(
            &self.folder_of(sort),
            Trouble::UnknownName,
            format!("no {word} named `{name}` here or in the current folder"),
            cure,
        )
    }
}

fn missing_path(path: &Path) -> StoreError {
    let folder = parent_of(path);
    let wanted = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let entries = std::fs::read_dir(&folder).into_iter().flatten().flatten();
    let names: Vec<String> = entries.map(|e| e.file_name().to_string_lossy().into_owned()).collect();
    let near = nearest(&wanted, &names);
    let (what, cure) = if !folder.is_dir() {
        ("there is no such folder", "check the name and the folder".to_owned())
    } else if near.is_empty() {
        ("there is no such file", "check the name and the folder".to_owned())
    } else {
        ("there is no such file", format!("did you mean {}?", near.join(", ")))
    };
    StoreError::new(path, Trouble::Missing, what, cure)
}

/// The names nearest to `wanted`, at most three, nearest first.
fn nearest(wanted: &str, names: &[String]) -> Vec<String> {
    let wanted = wanted.to_lowercase();
    let most = (wanted.chars().count() / 3).max(1);
    let mut near: Vec<(usize, &String)> = names
        .iter()
        .filter_map(|name| {
            let lower = name.to_lowercase();
            let begins = wanted.chars().count() >= 2 && (lower.contains(&wanted) || wanted.starts_with(&lower));
            let steps = distance(&wanted, &lower);
            (begins || steps <= most).then_some((if begins { 0 } else { steps }, name))
        })
        .collect();
    near.sort();
    near.into_iter().take(3).map(|(_, name)| format!("`{name}`")).collect()
}

/// How many letters differ between two words: replaced, left out, put in, or two neighbours exchanged (optimal string alignment).
fn distance(a: &str, b: &str) -> usize {
    let (a, b): (Vec<char>, Vec<char>) = (a.chars().collect(), b.chars().collect());
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, y) in b.iter().enumerate() {
            let at = |row: &[usize], j: usize| row.get(j).copied().unwrap_or(usize::MAX / 2);
            let mut best = (at(&last, j) + usize::from(x != y)).min(at(&last, j + 1) + 1).min(at(&row, j) + 1);
            let exchanged = i > 0 && j > 0 && a.get(i - 1) == Some(y) && b.get(j - 1) == Some(x);
            if exchanged {
                best = best.min(at(&before, j - 1) + 1);
            }
            row.push(best);
        }
        before = std::mem::replace(&mut last, row);
    }
    last.last().copied().unwrap_or(0)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn a_path_has_a_slash_or_an_ending() {
        for path in ["a/b", "./corvane", "corvane.yaml", "X.GeoJSON", ".", ".."] {
            assert!(is_path(path), "{path}");
        }
        for name in ["corvane", "St. Marram", "2026-05-16-corvane-links-a", "wren.hallam"] {
            assert!(!is_path(name), "{name}");
        }
    }

    #[test]
    fn near_names() {
        let names = ["corvane", "saltpan", "heath"].map(str::to_owned);
        assert_eq!(nearest("corvnae", &names), ["`corvane`"]);
        assert_eq!(nearest("Corvane Links", &names), ["`corvane`"]);
        assert_eq!(nearest("salt", &names), ["`saltpan`"]);
        assert!(nearest("zz", &names).is_empty());
        assert_eq!(distance("ab", "ba"), 1);
        assert_eq!(distance("", "abc"), 3);
        assert_eq!(distance("kitten", "sitting"), 3);
    }
}
