//! Closing a competition: results with digests of what they were made from, and the proof that they still hold.

use super::competition::Opened;
use crate::competition::{Competition, Totals, show};
use crate::store::{Expect, Limit, Store, StoreError, read};
use crate::units::digest::Digest;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::path::{Path, PathBuf};

/// What a result says of itself: `results/result-N.json`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Manifest {
    /// `marram/result/1`.
    pub schema: String,
    /// 1 for the first.
    pub result: u32,
    /// When it was closed.
    pub at: String,
    /// Why there is another one.
    pub reason: Option<String>,
    /// The files it was made from.
    pub made_from: Vec<NamedDigest>,
    /// The files that were written with it.
    pub files: Vec<NamedDigest>,
    /// The result itself, as `marram total --json` gives it.
    pub total: Value,
}

/// A file and its digest.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct NamedDigest {
    /// Its name in the competition's folder.
    pub file: String,
    /// SHA-256.
    pub digest: Digest,
}

/// How the latest result stands against the files as they are now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proof {
    /// Which result.
    pub result: u32,
    /// When it was closed.
    pub at: String,
    /// Files that are new, gone or other than they were.
    pub changed: Vec<String>,
    /// Files of the result that are no longer as they were written.
    pub touched: Vec<String>,
    /// The total made now is the one that was closed.
    pub same_total: bool,
}

impl Proof {
    /// Whether the result is proved: same files, same total.
    pub fn holds(&self) -> bool {
        self.changed.is_empty() && self.touched.is_empty() && self.same_total
    }

    /// In one sentence.
    pub fn words(&self) -> String {
        let Proof { result, at, .. } = self;
        if self.holds() {
            return format!("result {result} of {at} is proved: the same files give the same total");
        }
        let mut parts = Vec::new();
        if !self.changed.is_empty() {
            let total = if self.same_total { "the total is the same" } else { "the total is another" };
            parts.push(format!("changed since: {}; {total}", self.changed.join(", ")));
        } else if !self.same_total {
            parts.push("the same files give another total now".to_owned());
        }
        if !self.touched.is_empty() {
            parts.push(format!("no longer as it was written: {}", self.touched.join(", ")));
        }
        format!("result {result} of {at}: {}", parts.join("; "))
    }
}

/// The latest result of a competition's folder; `None` where none was closed.
///
/// # Errors
/// [`StoreError`] when it cannot be read.
pub fn latest(folder: &Path) -> Result<Option<(Manifest, PathBuf)>, StoreError> {
    let results = folder.join("results");
    let entries = match std::fs::read_dir(&results) {
        Ok(entries) => entries,
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(StoreError::reading(&results, &error)),
    };
    let number = |path: &PathBuf| -> Option<u32> {
        path.file_name()?.to_str()?.strip_prefix("result-")?.strip_suffix(".json")?.parse().ok()
    };
    let newest = entries.flatten().map(|entry| entry.path()).filter_map(|path| Some((number(&path)?, path))).max();
    let Some((_, path)) = newest else { return Ok(None) };
    let file = read(&path, Limit::MAP)?;
    match serde_json::from_slice::<Manifest>(&file.bytes) {
        Ok(manifest) => Ok(Some((manifest, path))),
        Err(error) => {
            Err(StoreError::reading(&path, &std::io::Error::other(format!("this is no result of marram: {error}"))))
        }
    }
}

/// Compares the latest result with the files as they are.
pub fn prove(manifest: &Manifest, opened: &Opened, competition: &Competition, totals: &Totals<'_>) -> Proof {
    let mut changed = Vec::new();
    for (name, digest) in &opened.digests {
        match manifest.made_from.iter().find(|old| old.file == *name) {
            Some(old) if old.digest == *digest => {}
            Some(_) => changed.push(name.clone()),
            None => changed.push(format!("{name} (new)")),
        }
    }
    let gone = manifest.made_from.iter().filter(|old| !opened.digests.iter().any(|(name, _)| *name == old.file));
    changed.extend(gone.map(|old| format!("{} (gone)", old.file)));
    let touched = manifest
        .files
        .iter()
        .filter(|old| read(&opened.folder.join(&old.file), Limit::MAP).map_or(true, |now| now.digest != old.digest))
        .map(|old| old.file.clone())
        .collect();
    let same_total = events(&manifest.total) == events(&show::json(competition, totals));
    Proof { result: manifest.result, at: manifest.at.clone(), changed, touched, same_total }
}

fn events(total: &Value) -> Option<&Value> {
    total.get("events")
}

/// What closing did.
#[derive(Clone, Debug)]
pub enum Closed {
    /// Nothing has changed since this result.
    Unchanged(Proof),
    /// There is a result and things have changed: a reason is needed.
    NeedsReason(Proof),
    /// Written.
    Written(Manifest, Vec<PathBuf>),
}

/// Writes the results. The manifest comes last, so that a close that was cut short is no result.
///
/// # Errors
/// [`StoreError`] when a file cannot be written; what was there stays.
pub fn close(
    store: &Store,
    opened: &Opened,
    competition: &Competition,
    totals: &Totals<'_>,
    reason: Option<&str>,
    at: &str,
) -> Result<Closed, StoreError> {
    let before = latest(&opened.folder)?;
    let mut number = 1;
    if let Some((manifest, _)) = &before {
        let proof = prove(manifest, opened, competition, totals);
        if proof.holds() {
            return Ok(Closed::Unchanged(proof));
        }
        if reason.is_none() {
            return Ok(Closed::NeedsReason(proof));
        }
        number = manifest.result + 1;
    }
    let folder = opened.folder.join("results");
    store.make_folder(&folder)?;
    let record = show::record_csv(&show::for_record(competition, totals), false);
    let texts = [
        (format!("result-{number}.txt"), show::board(competition, totals)),
        (format!("result-{number}.csv"), show::csv(competition, totals, false)),
        (format!("result-{number}-spreadsheet.csv"), show::csv(competition, totals, true)),
        (format!("result-{number}.md"), show::markdown(competition, totals)),
        (format!("result-{number}.html"), show::html(competition, totals)),
        (format!("record-{number}.csv"), record),
    ];
    let mut files = Vec::new();
    let mut paths = Vec::new();
    for (name, text) in texts {
        // Without its manifest a file of this number is left from a close that was cut short.
        let saved = store.save(&folder.join(&name), text.as_bytes(), Expect::Anything)?;
        files.push(NamedDigest { file: format!("results/{name}"), digest: saved.digest });
        paths.push(saved.path);
    }
    let made_from = opened.digests.iter().map(|(file, digest)| NamedDigest { file: file.clone(), digest: *digest });
    let manifest = Manifest {
        schema: "marram/result/1".to_owned(),
        result: number,
        at: at.to_owned(),
        reason: reason.map(str::to_owned),
        made_from: made_from.collect(),
        files,
        total: show::json(competition, totals),
    };
    let text = serde_json::to_string_pretty(&manifest).unwrap_or_default();
    let saved = store.save(&folder.join(format!("result-{number}.json")), text.as_bytes(), Expect::New)?;
    paths.push(saved.path);
    Ok(Closed::Written(manifest, paths))
}
