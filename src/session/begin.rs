//! The opening record of a round, from what is open.

use super::Session;
use crate::round::{Entrant, FileRef, Kind, LOG_FORMAT, Opening, RoundId};

/// The kind of a round that a score begins by itself: nothing depends on it.
pub const HOUSE_KIND: Kind = Kind::Practice;

impl Session {
    /// The opening record for these players on this course, dated by the day sheet where there is one; `None` without a
    /// course.
    pub fn opening(&self, id: RoundId, date: &str, kind: Kind) -> Option<Opening> {
        let course = self.course.as_ref()?;
        let file = self.course_file.as_ref()?;
        let reference = |f: &super::ReadFile| FileRef { file: f.name.clone(), digest: f.digest() };
        let players = self
            .people
            .iter()
            .zip(&self.golfers)
            .map(|(person, golfer)| Entrant {
                name: person.name.clone(),
                file: person.file.clone(),
                tee: golfer.tee.clone(),
                card: golfer.card,
                handicap_index: golfer.index.map(|i| i.to_string()),
                course_handicap: golfer.course_handicap.map(|c| c.rounded()),
                playing_handicap: golfer.course_handicap.map(|_| golfer.playing_handicap),
                strokes: golfer.strokes.clone(),
            })
            .collect();
        Some(Opening {
            format: LOG_FORMAT.to_owned(),
            id,
            date: self.day.as_ref().map_or_else(|| date.to_owned(), |(day, _)| day.date.clone()),
            course_name: course.name.clone(),
            course: reference(file),
            layers: self.layers.iter().map(|(_, f)| reference(f)).collect(),
            day: self.day.as_ref().map(|(_, f)| reference(f)),
            kind,
            play: None,
            allowance: None,
            holes: self.order.clone(),
            players,
            no_distance_devices: false,
        })
    }
}
