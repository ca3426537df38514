//! What was open last: `settings.yaml` on the shelf, written lazily and only once there is something to remember.

use super::Store;
use super::error::{StoreError, Trouble};
use super::read::{Limit, read_text};
use super::save::Expect;
use crate::units::digest::Digest;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// The kind of file that the settings are.
const FORMAT: &str = "settings/1";

/// What was open last.
#[derive(Clone, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct LastUsed {
    /// The notebook, as a path.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub course: Option<String>,
    /// The log of the round, as a path.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub round: Option<String>,
    /// The player's file, as a path.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub player: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct File {
    format: String,
    #[serde(default)]
    last: LastUsed,
    /// What a later marram wrote stays as it is.
    #[serde(flatten)]
    other: BTreeMap<String, serde_yaml::Value>,
}

/// The settings of this run. Changed in memory; [`Settings::save`] writes when something changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Settings {
    file: File,
    as_read: Option<Digest>,
    changed: bool,
    read_only: bool,
}

impl Default for Settings {
    fn default() -> Self {
        Self {
            file: File { format: FORMAT.to_owned(), last: LastUsed::default(), other: BTreeMap::new() },
            as_read: None,
            changed: false,
            read_only: false,
        }
    }
}

impl Settings {
    /// What was open last.
    pub const fn last(&self) -> &LastUsed {
        &self.file.last
    }

    /// Remembers what is open now.
    pub fn remember(&mut self, last: LastUsed) {
        if self.file.last != last {
            self.file.last = last;
            self.changed = true;
        }
    }

    /// Whether [`Store::save_settings`] would write.
    pub const fn is_changed(&self) -> bool {
        self.changed && !self.read_only
    }
}

impl Store {
    /// The settings on the shelf; beginning ones when there are none, or when they cannot be read, with the reason. Settings that cannot
    /// be read are left alone: this run remembers nothing.
    pub fn settings(&self) -> (Settings, Option<StoreError>) {
        let path = self.shelf.settings();
        let text = match read_text(&path, Limit::SETTINGS) {
            Ok(text) => text,
            Err(error) if error.trouble == Trouble::Missing => return (Settings::default(), None),
            Err(error) => return (Settings { read_only: true, ..Settings::default() }, Some(error)),
        };
        match serde_yaml::from_str::<File>(&text.text) {
            Ok(file) => {
                let read_only = file.format != FORMAT;
                (Settings { file, as_read: Some(text.digest), changed: false, read_only }, None)
            }
            Err(error) => {
                let told = StoreError::new(
                    &path,
                    Trouble::Unreadable,
                    format!("the settings cannot be read: {error}"),
                    "mend or remove the file",
                );
                (Settings { read_only: true, ..Settings::default() }, Some(told))
            }
        }
    }

    /// Writes the settings when something changed; otherwise touches nothing.
    ///
    /// # Errors
    /// [`Trouble::Changed`] when another program wrote them meanwhile (the one that saves last need not win), and those of a save.
    pub fn save_settings(&self, settings: &mut Settings) -> Result<(), StoreError> {
        if !settings.is_changed() {
            return Ok(());
        }
        let path = self.shelf.settings();
        let text = serde_yaml::to_string(&settings.file)
            .map_err(|e| StoreError::new(&path, Trouble::Other, format!("the settings cannot be written: {e}"), ""))?;
        self.make_folder(self.shelf.root())?;
        let expect = settings.as_read.map_or(Expect::New, Expect::AsRead);
        let saved = self.save(&path, text.as_bytes(), expect)?;
        settings.as_read = Some(saved.digest);
        settings.changed = false;
        Ok(())
    }
}
