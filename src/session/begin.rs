//! The opening record of a round, from what is open.

use super::{Arranged, AskedPlay, RoundWish, Session};
use crate::course::day;
use crate::round::{Entrant, FileRef, Kind, LOG_FORMAT, Opening, RoundId, RoundTerms};

/// The kind of a round that a score begins by itself: nothing depends on it.
pub const HOUSE_KIND: Kind = Kind::Practice;

/// A round as it would be opened.
#[derive(Clone, Debug, PartialEq)]
pub struct Opened {
    /// The opening record.
    pub opening: Opening,
    /// What the person should know of its format, in a sentence.
    pub words: Option<String>,
}

impl Session {
    /// The opening record for these players on this course, dated by the day sheet where there is one. Kind and format are
    /// those asked for, else the day sheet's; a day sheet's format that these players cannot play is left out, and said.
    ///
    /// # Errors
    /// Why it cannot be opened: no notebook, or a format asked for that these players cannot play.
    pub fn opening(&self, id: RoundId, date: &str, wish: &RoundWish) -> Result<Opened, String> {
        let none = "no notebook is open to begin a round on";
        let course = self.course.as_ref().ok_or(none)?;
        let file = self.course_file.as_ref().ok_or(none)?;
        let reference = |f: &super::ReadFile| FileRef { file: f.name.clone(), digest: f.digest() };
        let day = self.day.as_ref().map(|(day, _)| day);
        let (arranged, words) = self.arranged(&wish.play)?;
        let (play, allowance, terms) = match &arranged {
            None => (None, None, RoundTerms::default()),
            Some(a) => (Some(a.play.to_string()), a.allowance, a.terms.clone()),
        };
        let players = self.people.iter().zip(&self.golfers).enumerate().map(|(i, (person, golfer))| {
            let given = arranged.as_ref().map(|a| (a.playing.get(i).copied().flatten(), a.strokes.get(i).cloned()));
            let (playing_handicap, strokes) = match given {
                Some((playing, strokes)) => (playing, strokes.unwrap_or_default()),
                None => (golfer.course_handicap.map(|c| c.rounded()), golfer.strokes_at_full()),
            };
            Entrant {
                name: person.name.clone(),
                file: person.file.clone(),
                tee: golfer.tee.clone(),
                card: golfer.card,
                handicap_index: golfer.index.map(|i| i.to_string()),
                course_handicap: golfer.course_handicap.map(|c| c.rounded()),
                playing_handicap,
                strokes,
            }
        });
        let opening = Opening {
            format: LOG_FORMAT.to_owned(),
            id,
            date: day.map_or_else(|| date.to_owned(), |day| day.date.clone()),
            course_name: course.name.clone(),
            course: reference(file),
            layers: self.layers.iter().map(|(_, f)| reference(f)).collect(),
            day: self.day.as_ref().map(|(_, f)| reference(f)),
            kind: wish.kind.or_else(|| day.map(|day| kind_of(day.kind))).unwrap_or(HOUSE_KIND),
            play,
            allowance,
            holes: self.order.clone(),
            players: players.collect(),
            terms,
            no_distance_devices: false,
        };
        Ok(Opened { opening, words })
    }

    /// The format asked for, laid out; and a word about it.
    fn arranged(&self, asked: &AskedPlay) -> Result<(Option<Arranged>, Option<String>), String> {
        let arranged = match asked {
            AskedPlay::Plain => return Ok((None, None)),
            AskedPlay::Format(wish) => self.arrange(wish)?,
            AskedPlay::OfTheDay => match self.play_of_the_day().map(|wish| self.arrange(&wish)) {
                None => return Ok((None, None)),
                Some(Ok(arranged)) => arranged,
                Some(Err(why)) => {
                    return Ok((
                        None,
                        Some(format!("the day sheet's format was left out, strokes are counted: {why}")),
                    ));
                }
            },
        };
        let words = (!arranged.in_the_table).then(|| {
            format!("the published table has no allowance for {}; that of the nearest format was taken", arranged.play)
        });
        Ok((Some(arranged), words))
    }
}

/// The kind of a round as its day sheet says it.
fn kind_of(kind: day::RoundKind) -> Kind {
    match kind {
        day::RoundKind::Practice => Kind::Practice,
        day::RoundKind::ForHandicap => Kind::ForHandicap,
        day::RoundKind::Competition => Kind::Competition,
    }
}
