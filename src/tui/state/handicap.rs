//! What the Handicap page remembers, and the record that it shows.

use super::{Screen, State};
use crate::player;
use crate::sheet::{Coming, RecordSheet};
use crate::units::digest::Digest;
use chrono::NaiveDate;
use std::sync::Arc;
use tui_input::Input;

/// What the Handicap page remembers.
#[derive(Clone, Debug, Default)]
pub struct HandicapScreen {
    /// The player's file when it was opened from the shelf; else the player looked at is shown.
    pub file: Option<ShelfFile>,
    /// Lines turned away above.
    pub scroll: usize,
    /// A score to come is being typed.
    pub typing: bool,
    /// The score to come.
    pub input: Input,
}

/// A player's file from the shelf.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShelfFile {
    /// Its name.
    pub name: String,
    /// Its text.
    pub text: String,
}

/// The record on the page, with what it was made from.
#[derive(Clone, Debug)]
pub struct ShownRecord {
    /// The record; why there is none, in a sentence.
    pub sheet: Result<Arc<RecordSheet>, String>,
    /// What a score to come would do: nothing typed, sentences, or why not.
    pub what_if: Option<Result<Vec<String>, String>>,
    key: RecordKey,
}

#[derive(Clone, Debug, PartialEq, Eq)]
struct RecordKey {
    text: Option<Digest>,
    notebook: Option<Digest>,
    player: usize,
}

impl State {
    /// The Handicap page, when it is open.
    pub fn handicap_screen(&self) -> Option<&HandicapScreen> {
        self.screens.iter().rev().find_map(|s| if let Screen::Handicap(screen) = s { Some(&**screen) } else { None })
    }

    /// The text of the file whose record is shown: the shelf's, else that of the player looked at.
    fn record_text<'a>(&'a self, screen: &'a HandicapScreen) -> Option<&'a str> {
        if let Some(file) = &screen.file {
            return Some(&file.text);
        }
        let file = self.session.people.get(self.player)?.file.as_ref()?;
        let text = self.session.player_files.iter().find(|f| f.name == file.file || f.digest() == file.digest);
        text.map(|f| f.text.as_str())
    }

    /// The record for the page; what has not changed since `before` is taken over.
    pub(super) fn shown_record(&self, before: Option<ShownRecord>) -> Option<ShownRecord> {
        let screen = self.handicap_screen()?;
        let text = self.record_text(screen);
        let key = RecordKey {
            text: text.map(|t| Digest::of(t.as_bytes())),
            notebook: self.session.notebook_digest,
            player: self.player,
        };
        let kept = before.filter(|shown| shown.key == key).map(|shown| shown.sheet);
        let sheet = kept.unwrap_or_else(|| self.work_record(text));
        let typed = screen.input.value().trim();
        let what_if = match &sheet {
            Ok(sheet) if !typed.is_empty() => Some(Coming::parse(typed).and_then(|coming| sheet.what_if(coming))),
            _ => None,
        };
        Some(ShownRecord { sheet, what_if, key })
    }

    fn work_record(&self, text: Option<&str>) -> Result<Arc<RecordSheet>, String> {
        let text = text.ok_or_else(|| {
            let name = self.session.people.get(self.player).map_or("This player", |p| p.name.as_str());
            format!("{name} has no file, so there is no record; marram new player NAME makes one, `record` in it holds the rounds.")
        })?;
        let (player, problems) = player::read(text);
        let unreadable = || {
            let first = problems.first().map(|p| p.message.clone()).unwrap_or_default();
            format!("the player's file cannot be read: {first}")
        };
        let player = player.ok_or_else(unreadable)?;
        if player.record.is_empty() {
            return Err(format!(
                "{} has no record yet: add `record:` with a round a line to the file, as {{ date: {}, adjusted_gross: 91, rating: 71.2, slope: 131 }}.",
                player.name, self.today
            ));
        }
        let today = NaiveDate::parse_from_str(&self.today, "%Y-%m-%d").unwrap_or(NaiveDate::MAX);
        let tee = self.session.rated_tee(self.player, player.ratings);
        Ok(Arc::new(RecordSheet::new(&player, today, tee, &self.session.rules)))
    }
}
