//! What is open: a notebook, the players on their tees, the round and where it stands. Values only, no files.

pub mod bag;
mod begin;
pub mod day_page;
mod facts;
mod live;
mod person;
mod play;
mod plays;
mod question;
mod record;

pub use begin::{HOUSE_KIND, Opened};
pub use day_page::DayRow;
pub use person::{ASSUMED_INDEX, Person, person_index};
pub use play::{Arranged, AskedPlay, PlayWish, RoundWish};

use crate::course::{Course, DaySheet, HoleNotes, Layer, Written};
use crate::handicap::Rules;
use crate::notebook::Diagnostic;
use crate::plan::Frozen;
use crate::round::{Ability, CardBox, Place, RoundState, TextRole, slug};
use crate::scoring::HoleScore;
use crate::sheet::{CardSheet, Golfer, HoleSheet};
use crate::units::LengthUnit;
use crate::units::digest::Digest;

/// A human file as it was read, with what was found wrong in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadFile {
    /// How a person names it: the path as given, or the name on the shelf.
    pub name: String,
    /// Its text.
    pub text: String,
    /// Its problems.
    pub diagnostics: Vec<Diagnostic>,
}

impl ReadFile {
    /// The digest of its text.
    pub fn digest(&self) -> Digest {
        Digest::of(self.text.as_bytes())
    }
}

/// Where what is open lives.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Home {
    /// In the program itself: the example. The first thing a person changes makes their own copy.
    #[default]
    Example,
    /// In the person's files.
    Files,
}

/// What is open.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Session {
    /// Where it lives.
    pub home: Home,
    /// The course as its notebook has it; the last good one while the file has an error.
    pub course: Option<Course>,
    /// The notebook's file.
    pub course_file: Option<ReadFile>,
    /// The digest of the notebook's text that `course` was read from.
    pub notebook_digest: Option<Digest>,
    /// The layers that were read with it, for whomever, and their files.
    /// The surveyed ground that the notebook names.
    pub ground: Option<ReadFile>,
    /// The layers that were read with it, and their files.
    pub layers: Vec<(Layer, ReadFile)>,
    /// Today's day sheet and its file.
    pub day: Option<(DaySheet, ReadFile)>,
    /// The players, one to four.
    pub people: Vec<Person>,
    /// The files of those players that have one.
    pub player_files: Vec<ReadFile>,
    /// The same on their tees, worked out.
    pub golfers: Vec<Golfer>,
    /// The hole numbers in playing order.
    pub order: Vec<u8>,
    /// The round, when one is open.
    pub round: Option<RoundState>,
    /// The plan as it was frozen before the round.
    pub frozen: Option<Frozen>,
    /// The rules edition for handicaps.
    pub rules: Rules,
    /// Why the round cannot be written here, in a sentence, when it cannot.
    pub read_only: Option<String>,
    /// The folder of the shelf, from which the files of a round are named so that the folder can be carried elsewhere.
    pub shelf: Option<String>,
    /// Today, as `2026-05-16`.
    pub today: String,
    /// Files that have problems.
    pub problems: Vec<ReadFile>,
}

impl Session {
    /// Works the golfers out again from course, people and order; a round's own strokes hold.
    pub fn refresh(&mut self) {
        let Some(course) = &self.course else {
            self.golfers.clear();
            return;
        };
        if let Some(round) = &self.round {
            self.order.clone_from(&round.opening().holes);
        } else if self.order.is_empty() || self.order.iter().any(|n| course.holes.iter().all(|h| h.number != *n)) {
            self.order = course.holes.iter().map(|h| h.number).collect();
        }
        self.golfers = self.people.iter().map(|p| p.on_tee(course, &self.order, &self.rules)).collect();
        match &self.round {
            Some(round) => {
                for (golfer, entrant) in self.golfers.iter_mut().zip(&round.opening().players) {
                    golfer.strokes.clone_from(&entrant.strokes);
                    golfer.playing_handicap = entrant.playing_handicap.unwrap_or(0);
                    if entrant.strokes.iter().any(|s| *s != 0)
                        || entrant.playing_handicap.is_some()
                        || round.opening().terms.gross
                    {
                        golfer.why_no_strokes = None;
                    }
                }
            }
            // Before a round the strokes are those that the day's format will give.
            None => {
                if let Some(Ok(arranged)) = self.play_of_the_day().map(|wish| self.arrange(&wish)) {
                    let frozen = arranged.playing.into_iter().zip(arranged.strokes);
                    for (golfer, (playing, strokes)) in self.golfers.iter_mut().zip(frozen) {
                        golfer.playing_handicap = playing.unwrap_or(0);
                        golfer.strokes = strokes;
                    }
                }
            }
        }
        self.follow_round();
    }

    /// Follows the round to the extra holes of a match, and back where a correction takes them away.
    pub fn follow_round(&mut self) {
        let Some(round) = &self.round else { return };
        let holes = round.opening().holes.len();
        if !round.opening().plays_on() && self.order.len() == holes {
            return;
        }
        self.order = round.order();
        for (player, golfer) in self.golfers.iter_mut().enumerate() {
            golfer.strokes = (0..self.order.len()).map(|at| round.opening().strokes_at(player, at)).collect();
            golfer.stroke_indexes.truncate(holes);
            let again: Vec<Option<u8>> = golfer.stroke_indexes.iter().cycle().take(self.order.len()).copied().collect();
            golfer.stroke_indexes = again;
        }
    }

    /// The texts by which a round is to be judged later: what each is of, its file, all of it.
    pub fn texts(&self) -> Vec<(TextRole, &ReadFile)> {
        let course = self.course_file.iter().map(|f| (TextRole::Notebook, f));
        let layers = self.layers.iter().map(|(_, f)| (TextRole::Layer, f));
        let players = self.player_files.iter().map(|f| (TextRole::Player, f));
        let day = self.day.iter().map(|(_, f)| (TextRole::Day, f));
        // The ground follows its notebook, because it is laid over it.
        let ground = self.ground.iter().map(|f| (TextRole::Ground, f));
        course.chain(ground).chain(layers).chain(players).chain(day).collect()
    }

    /// A file's name as a round's log has it: from the shelf where it lies there.
    pub fn name_in_log(&self, file: &ReadFile) -> String {
        let below = self.shelf.as_deref().and_then(|shelf| file.name.strip_prefix(shelf));
        below.map_or_else(|| file.name.clone(), |name| name.trim_start_matches(['/', '\\']).to_owned())
    }

    /// What was entered for a player, in playing order.
    pub fn scores(&self, player: usize) -> Vec<HoleScore> {
        self.boxes(player).iter().map(|b| b.score).collect()
    }

    /// The boxes in which a player's score stands: their own, or those of the side where it has one ball.
    pub fn boxes(&self, player: usize) -> &[CardBox] {
        self.round.as_ref().map_or(&[], |r| r.card_of(r.opening().holder(player)))
    }

    /// The player in whose boxes the score of `player` is entered.
    pub fn holder(&self, player: usize) -> usize {
        self.round.as_ref().map_or(player, |r| r.opening().holder(player))
    }

    /// The player with this name, with this number counted from 1, or the only one whose name begins so.
    pub fn player_named(&self, name: &str) -> Option<usize> {
        let name = name.trim();
        let named = |golfer: &Golfer| golfer.name.eq_ignore_ascii_case(name) || slug(&golfer.name) == slug(name);
        let by_number = || name.parse::<usize>().ok()?.checked_sub(1).filter(|n| *n < self.golfers.len());
        let begins = || {
            let mut found = (0..self.golfers.len()).filter(|i| {
                self.golfers.get(*i).is_some_and(|g| !name.is_empty() && slug(&g.name).starts_with(&slug(name)))
            });
            found.next().filter(|_| found.next().is_none())
        };
        self.golfers.iter().position(named).or_else(by_number).or_else(begins)
    }

    /// The players who have boxes on the card.
    pub fn holders(&self) -> Vec<usize> {
        match &self.round {
            Some(round) => round.opening().holders(),
            None => (0..self.golfers.len()).collect(),
        }
    }

    /// How many holes the round has without extra holes.
    pub fn holes(&self) -> usize {
        self.round.as_ref().map_or(self.order.len(), |r| r.opening().holes.len())
    }

    /// The card of each player.
    pub fn cards(&self) -> Vec<CardSheet> {
        let Some(course) = &self.course else { return Vec::new() };
        self.golfers
            .iter()
            .enumerate()
            .map(|(i, golfer)| {
                // One ball is scored by the card of the side's first player.
                let golfer = self.golfers.get(self.holder(i)).unwrap_or(golfer);
                CardSheet::new(course, golfer, &self.order, self.holes(), self.boxes(i))
            })
            .collect()
    }

    /// The hole at `position` for a player, lengths in `units`; `tee` looks from another tee than the player's.
    pub fn hole_sheet(
        &self,
        position: usize,
        player: usize,
        tee: Option<&str>,
        units: LengthUnit,
    ) -> Option<HoleSheet> {
        let course = self.course.as_ref()?;
        let number = self.order.get(position)?;
        let hole = course.holes.iter().find(|h| h.number == *number)?;
        let mut golfer = self.golfers.get(player)?.clone();
        let strokes = golfer.strokes.get(position).copied().unwrap_or(0);
        if let Some(tee) = tee {
            tee.clone_into(&mut golfer.tee);
        }
        // Nothing is counted from a tee that is not there.
        let asked = golfer.tee.clone();
        if let Some(tee) = course.tee_on(hole, &asked) {
            golfer.tee.clone_from(&tee.name);
        }
        let facts = self.facts(hole, &golfer, strokes, units);
        // A layer that is meant for somebody is shown to nobody else; where no player is named yet, all are.
        let nobody = self.people.get(player).is_some_and(|p| p.assumed);
        let layers = self.layers.iter().map(|(layer, _)| layer).filter(|layer| nobody || layer.is_for(&golfer.name));
        let notes = HoleNotes::with_layers(hole, layers);
        let stands = |written: &Written| facts::standing(written, &facts);
        let sheet = HoleSheet::new(course, hole, &notes, &golfer, strokes, units, &stands);
        Some(HoleSheet { instead_of: (asked != sheet.tee).then_some(asked), ..sheet })
    }

    /// Where the next score goes.
    pub fn place(&self) -> Place {
        self.round.as_ref().map_or(Place::default(), RoundState::place)
    }

    /// Why `ability` is off in this round, in one line; `None` when it is on.
    pub fn why_not(&self, ability: Ability) -> Option<String> {
        self.round.as_ref().and_then(|r| r.allows(ability).err()).map(|why| why.to_string())
    }

    /// Why no score can be entered; `None` when one can. Without a round a score begins one.
    pub fn why_no_score(&self) -> Option<String> {
        if let Some(reason) = &self.read_only {
            return Some(reason.clone());
        }
        match &self.round {
            Some(round) if round.is_closed() => Some("The round is closed.".to_owned()),
            Some(_) => None,
            None if self.golfers.is_empty() => Some("There is no player.".to_owned()),
            None => None,
        }
    }

    /// Why nothing can be undone.
    pub fn why_no_undo(&self) -> Option<String> {
        self.read_only.clone().or_else(|| match &self.round {
            None => Some("Nothing has been entered yet.".to_owned()),
            Some(round) => round.undo().err().map(|e| e.to_string()),
        })
    }

    /// Why nothing can be done again.
    pub fn why_no_redo(&self) -> Option<String> {
        self.read_only.clone().or_else(|| match &self.round {
            None => Some("Nothing has been undone.".to_owned()),
            Some(round) => round.redo().err().map(|e| e.to_string()),
        })
    }

    /// Why there is no round to close.
    pub fn why_no_close(&self) -> Option<String> {
        self.read_only.clone().or_else(|| match &self.round {
            None => Some("No round is open; the first score begins one.".to_owned()),
            Some(round) if round.is_closed() => Some("The round is closed already.".to_owned()),
            Some(_) => None,
        })
    }
}
