//! What the desk writes besides keyings: rulings, late acts, entries, the set-up, results.

use super::desk::DeskFolder;
use super::results::{Closed, close};
use crate::competition::read::read_field;
use crate::competition::setup_rows::{self, SetupRow};
use crate::competition::values::{Change, Ruling};
use crate::competition::write::{change_text, ruling_text};
use crate::competition::{effect, proof, show, total};
use crate::notebook::report::Report;
use crate::notebook::table::read_table;
use crate::notebook::{Diagnostic, Severity};
use crate::store::{Expect, FileText, Limit, StoreError, Trouble, read_text};
use std::path::Path;

/// An entry as it was typed: column and value.
pub type NewEntrant = Vec<(String, String)>;

/// What closing did, for the screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ClosedWords {
    /// Written, or nothing has changed.
    Done(String),
    /// There is a result and things have changed.
    NeedsReason(String),
    /// Something is missing.
    Open(String),
}

impl DeskFolder {
    /// Writes a ruling under the next free number of its card.
    ///
    /// # Errors
    /// [`StoreError`] when it cannot be written.
    pub fn rule(&mut self, ruling: &Ruling) -> Result<String, StoreError> {
        self.numbered("rulings", &ruling.id, &ruling_text(ruling), "ruling")
    }

    /// Writes a late act under the next free number of its card.
    ///
    /// # Errors
    /// [`StoreError`] when it cannot be written.
    pub fn change(&mut self, change: &Change) -> Result<String, StoreError> {
        let id = change.id.as_deref().unwrap_or("draw");
        self.numbered("changes", id, &change_text(change), change.what.words())
    }

    fn numbered(&mut self, below: &str, id: &str, text: &str, what: &str) -> Result<String, StoreError> {
        let folder = self.folder.join(below);
        if !self.folder.join("competition.yaml").is_file() {
            return Err(StoreError::reading(&self.folder, &std::io::ErrorKind::NotFound.into()));
        }
        self.store.make_folder(&folder)?;
        let mut last = None;
        for number in 1..1000 {
            let path = folder.join(format!("{id}-{number}.yaml"));
            if path.exists() {
                continue;
            }
            match self.store.save(&path, text.as_bytes(), Expect::New) {
                Ok(saved) => {
                    self.undo.push((saved.path, saved.digest, format!("the {what} of {id}")));
                    return Ok(format!("Recorded in {below}/{id}-{number}.yaml; u takes it back"));
                }
                Err(error) if error.trouble == Trouble::Exists => last = Some(error),
                Err(error) => return Err(error),
            }
        }
        Err(last.unwrap_or_else(|| StoreError::reading(&folder, &std::io::ErrorKind::AlreadyExists.into())))
    }

    /// Takes the last ruling or late act of this desk away again.
    ///
    /// # Errors
    /// Why not, in one sentence.
    pub fn take_back(&mut self) -> Result<String, String> {
        let (path, digest, what) = self.undo.last().cloned().ok_or("Nothing has been recorded at this desk yet")?;
        let closed = super::results::latest(&self.folder).ok().flatten();
        let name = path.strip_prefix(&self.folder).unwrap_or(&path).to_string_lossy().replace('\\', "/");
        if closed.is_some_and(|(manifest, _)| manifest.made_from.iter().any(|made| made.file == name)) {
            return Err(format!("{what} stands in a result that was closed: record another act instead"));
        }
        self.store.take_away(&path, digest).map_err(|error| error.to_string())?;
        self.undo.pop();
        Ok(format!("Taken back: {what}"))
    }

    /// What each lawful ruling would do.
    pub fn outcomes(&self, id: &str, round: usize, hole: u8, added: u8) -> Option<Vec<effect::Outcome>> {
        effect::outcomes(self.competition.as_ref()?, id, round, hole, added)
    }

    /// Everything that can be said of a line.
    pub fn explain(&self, id: &str) -> Option<String> {
        let competition = self.competition.as_ref()?;
        proof::explain(competition, &total(competition), id)
    }

    /// The start sheet.
    pub fn start_sheet(&self) -> Option<String> {
        self.competition.as_ref().map(|competition| show::start_sheet(competition))
    }

    fn field_text(&self) -> Result<FileText, StoreError> {
        read_text(&self.folder.join("field.csv"), Limit::YAML)
    }

    /// The problems of a list for this competition; empty when it can be used whole.
    fn judge(&self, name: &str, text: &str) -> Result<usize, Vec<String>> {
        let setup = read_text(&self.folder.join("competition.yaml"), Limit::YAML)
            .ok()
            .and_then(|file| crate::competition::read::read_setup(&file.text).0);
        let holes = setup.as_ref().and_then(|s| s.rounds.first()).map_or_else(Vec::new, |round| round.holes.clone());
        let net = setup.as_ref().is_none_or(|setup| {
            setup.events.iter().any(|e| e.count == crate::scoring::Count::Net && e.merit.is_none())
        });
        let (field, mut problems) = read_field(text, &holes, net);
        if let (Some(competition), Some(setup)) = (&self.competition, &setup) {
            problems.extend(crate::competition::read::check_tees(setup, &field, &competition.course).1);
        }
        let errors: Vec<Diagnostic> = problems.into_iter().filter(|p| p.severity == Severity::Error).collect();
        if errors.is_empty() {
            Ok(field.len())
        } else {
            Err(Report::new(name, text, &errors).to_text().lines().map(str::to_owned).collect())
        }
    }

    /// Takes a list over as the field, whole or not at all.
    ///
    /// # Errors
    /// Every problem with file, line and column; the field is as it was.
    pub fn import(&mut self, path: &Path) -> Result<String, Vec<String>> {
        let one = |error: StoreError| vec![error.to_string()];
        let list = read_text(path, Limit::YAML).map_err(one)?;
        let entries = self.judge(&path.display().to_string(), &list.text)?;
        if entries == 0 {
            return Err(vec![format!("{}: there is no entry in it", path.display())]);
        }
        let ids = |text: &str| read_field(text, &[], false).0.into_iter().map(|e| e.id).collect::<Vec<_>>();
        let there = ids(&list.text);
        let mut keyed: Vec<String> = std::fs::read_dir(self.folder.join("cards"))
            .into_iter()
            .flatten()
            .flatten()
            .map(|entry| entry.file_name().to_string_lossy().into_owned())
            .collect();
        keyed.sort();
        let before = self.field_text().ok();
        let known = before.as_ref().map(|file| ids(&file.text)).unwrap_or_default();
        let lost: Vec<String> = keyed.into_iter().filter(|id| known.contains(id) && !there.contains(id)).collect();
        if !lost.is_empty() {
            return Err(vec![format!(
                "the list lacks {}, whose cards have come in: nothing was changed",
                lost.join(", ")
            )]);
        }
        let place = self.folder.join("field.csv");
        let expect = before.as_ref().map_or(Expect::New, |file| Expect::AsRead(file.digest));
        self.store.back_up(&place).map_err(one)?;
        self.store.save(&place, list.text.as_bytes(), expect).map_err(one)?;
        Ok(format!("The field has {entries} entries from {}", path.display()))
    }

    /// Adds an entry at the end of the field.
    ///
    /// # Errors
    /// Why not; the field is as it was.
    pub fn enter(&mut self, entry: &NewEntrant) -> Result<String, Vec<String>> {
        let one = |error: StoreError| vec![error.to_string()];
        let file = self.field_text().map_err(one)?;
        let mut text = with_entry(&file.text, entry)?;
        let entries = self.judge("field.csv", &text).map_err(|mut problems| {
            problems.insert(0, "The entry was not added:".to_owned());
            problems
        })?;
        if file.text.contains("\r\n") {
            text = text.replace("\r\n", "\n").replace('\n', "\r\n");
        }
        self.store.save(&self.folder.join("field.csv"), text.as_bytes(), Expect::AsRead(file.digest)).map_err(one)?;
        Ok(format!("Entered; the field has {entries} entries"))
    }

    /// Changes one value of the set-up, or adds an event (`row` is `None`).
    ///
    /// # Errors
    /// Why not; the set-up is as it was.
    pub fn set_up(&mut self, row: Option<&SetupRow>, typed: &str) -> Result<String, String> {
        let place = self.folder.join("competition.yaml");
        let file = read_text(&place, Limit::YAML).map_err(|error| error.to_string())?;
        let text = match row {
            Some(row) => setup_rows::set(&file.text, row, typed)?,
            None => setup_rows::add_event(&file.text, typed)?,
        };
        self.store.back_up(&place).map_err(|error| error.to_string())?;
        self.store.save(&place, text.as_bytes(), Expect::AsRead(file.digest)).map_err(|error| error.to_string())?;
        Ok("Written in competition.yaml".to_owned())
    }

    /// Writes the results.
    ///
    /// # Errors
    /// Why they could not be written.
    pub fn close(&mut self, reason: Option<&str>, at: &str) -> Result<ClosedWords, String> {
        let opened = self.open().map_err(|error| error.to_string())?;
        let sound = opened.is_sound();
        let Some(competition) = opened.competition.as_ref().filter(|_| sound) else {
            return Ok(ClosedWords::Open("a file has an error: see the problems".to_owned()));
        };
        let mut totals = total(competition);
        totals.issues.extend(opened.issues.iter().cloned());
        if !totals.is_final() {
            let open = totals.issues.iter().filter(|i| i.weight == crate::competition::issue::Weight::Open).count();
            return Ok(ClosedWords::Open(format!("{open} things are missing or disagree: see the problems")));
        }
        match close(&self.store, &opened, competition, &totals, reason, at).map_err(|error| error.to_string())? {
            Closed::Unchanged(proof) => Ok(ClosedWords::Done(proof.words())),
            Closed::NeedsReason(proof) => Ok(ClosedWords::NeedsReason(proof.words())),
            Closed::Written(manifest, _) => Ok(ClosedWords::Done(format!(
                "Result {} is written to {}: notice board, spreadsheet, Markdown, web page, scores for the record",
                manifest.result,
                self.folder.join("results").display()
            ))),
        }
    }
}

/// The list with an entry behind its last row, in its own columns; a column it lacks is refused.
fn with_entry(text: &str, entry: &NewEntrant) -> Result<String, Vec<String>> {
    let (table, _) = read_table(text);
    let header = text.lines().find(|line| !line.trim().is_empty() && !line.starts_with('#')).unwrap_or_default();
    let delimiter = [',', ';', '\t'].into_iter().max_by_key(|c| header.matches(*c).count()).unwrap_or(',');
    let mut cells = vec![String::new(); table.columns.len()];
    for (column, value) in entry.iter().filter(|(_, value)| !value.trim().is_empty()) {
        let names: &[&str] = match column.as_str() {
            "ratings" => &["ratings", "gender"],
            "handicap_index" => &["handicap_index", "index"],
            own => &[own],
        };
        match table.column(names).and_then(|at| cells.get_mut(at)) {
            Some(cell) => *cell = crate::competition::show::csv_field(value.trim(), false),
            None => return Err(vec![format!("field.csv has no column `{column}`: add it to the header first")]),
        }
    }
    let cells: Vec<String> = cells
        .into_iter()
        .map(|cell| if cell.contains(delimiter) && !cell.starts_with('"') { format!("\"{cell}\"") } else { cell })
        .collect();
    let gap = if text.ends_with('\n') || text.is_empty() { "" } else { "\n" };
    Ok(format!("{text}{gap}{}\n", cells.join(&delimiter.to_string())))
}
