//! Proposals that a person refused, so that they are not made again at once: `shots/NAME.refused.csv`.

use crate::review::propose::Proposal;
use crate::round::slug;
use crate::store::{Expect, Limit, Store, StoreError, read_text};
use std::path::PathBuf;

/// What was refused, and how many shots stood behind it then.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Refusals(Vec<(String, usize)>);

impl Refusals {
    /// Whether a proposal stays away: it was refused, and less than half as many shots more stand behind it now.
    pub fn holds(&self, proposal: &Proposal) -> bool {
        self.0.iter().any(|(id, shots)| *id == proposal.id && 2 * proposal.shots < 3 * shots)
    }
}

fn place(store: &Store, name: &str) -> PathBuf {
    store.shelf().root().join("shots").join(format!("{}.refused.csv", slug(name)))
}

/// What this player refused; nothing where there is no such file or it cannot be read.
pub fn refusals(store: &Store, name: &str) -> Refusals {
    let Ok(file) = read_text(&place(store, name), Limit::YAML) else { return Refusals::default() };
    let (table, _) = crate::notebook::table::read_table(&file.text);
    let (id, shots) = (table.column(&["proposal"]), table.column(&["shots"]));
    let row =
        |r: &crate::notebook::table::Row<'_>| Some((r.get(id)?.text.to_string(), r.get(shots)?.text.parse().ok()?));
    Refusals(table.rows.iter().filter_map(row).collect())
}

/// Keeps refusals; gives the file.
///
/// # Errors
/// [`StoreError`] when it cannot be written.
pub fn refuse(store: &Store, name: &str, gone: &[&Proposal]) -> Result<PathBuf, StoreError> {
    let path = place(store, name);
    let (before, expect) = match read_text(&path, Limit::YAML) {
        Ok(file) => (refusals(store, name).0, Expect::AsRead(file.digest)),
        Err(_) => (Vec::new(), Expect::New),
    };
    let mut all: Vec<(String, usize)> = before.into_iter().filter(|(id, _)| gone.iter().all(|p| p.id != *id)).collect();
    all.extend(gone.iter().map(|p| (p.id.clone(), p.shots)));
    let mut text = String::from("proposal,shots\r\n");
    for (id, shots) in all {
        text.push_str(&format!("\"{}\",{shots}\r\n", id.replace('"', "\"\"")));
    }
    if let Some(folder) = path.parent() {
        store.make_folder(folder)?;
    }
    store.save(&path, text.as_bytes(), expect)?;
    Ok(path)
}
