//! Entrants, keyings, rulings and changes as they were written.

use crate::course::Card;
use crate::notebook::Span;
use crate::scoring::HoleScore;
use crate::units::tenths::HandicapIndex;
use std::fmt;

/// Why somebody has no place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Status {
    /// No return.
    NoReturn,
    /// Withdrawn.
    Withdrawn,
    /// Disqualified.
    Disqualified,
    /// Did not start.
    NoShow,
}

impl Status {
    /// NR, WD, DQ, NS in the order of results.
    pub const ALL: [Status; 4] = [Status::NoReturn, Status::Withdrawn, Status::Disqualified, Status::NoShow];

    /// `NR`.
    pub const fn code(self) -> &'static str {
        match self {
            Status::NoReturn => "NR",
            Status::Withdrawn => "WD",
            Status::Disqualified => "DQ",
            Status::NoShow => "NS",
        }
    }

    /// `no return`.
    pub const fn words(self) -> &'static str {
        match self {
            Status::NoReturn => "no return",
            Status::Withdrawn => "withdrawn",
            Status::Disqualified => "disqualified",
            Status::NoShow => "no show",
        }
    }

    /// Reads a code or its words in any case.
    pub fn parse(text: &str) -> Option<Status> {
        let folded = text.trim().to_lowercase().replace(['-', '_'], " ");
        Status::ALL.into_iter().find(|s| s.code().to_lowercase() == folded || s.words() == folded)
    }
}

impl fmt::Display for Status {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.code())
    }
}

/// One entrant of the field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entrant {
    /// Made from the name where none is written.
    pub id: String,
    /// The name.
    pub name: String,
    /// Whose ratings.
    pub card: Card,
    /// The index, frozen at the stated day.
    pub index: Option<HandicapIndex>,
    /// A Course Handicap that was given.
    pub course_handicap: Option<i32>,
    /// A Playing Handicap that was given.
    pub playing_handicap: Option<i32>,
    /// The tee, where the entry names one.
    pub tee: Option<String>,
    /// Where the tee is written.
    pub tee_at: Option<Span>,
    /// The category.
    pub category: Option<String>,
    /// The side, where the field has a column for it.
    pub team: Option<String>,
    /// The group on the start sheet.
    pub group: Option<String>,
    /// `09:12`.
    pub start_time: Option<String>,
    /// The hole started from.
    pub start_hole: Option<u8>,
    /// Why there will be no place.
    pub status: Option<Status>,
    /// Results written in the field, in the order of the round's holes; empty: none.
    pub scores: Vec<HoleScore>,
    /// The row.
    pub span: Span,
}

/// Partners.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SideEntry {
    /// Its id.
    pub id: String,
    /// Its name, where one is written.
    pub name: Option<String>,
    /// Ids of its players in order.
    pub players: Vec<String>,
    /// The row.
    pub span: Span,
}

/// One keying of one card by one keyer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Keying {
    /// The file, for messages.
    pub file: String,
    /// The card: an entrant, or a side with one ball.
    pub id: String,
    /// Who keyed it.
    pub keyer: String,
    /// When, as written.
    pub at: Option<String>,
    /// The round, from 0.
    pub round: usize,
    /// Scores in the order of the round's holes; holes not yet keyed are missing at the end.
    pub scores: Vec<HoleScore>,
    /// The total that stands on the card, as a check.
    pub written_total: Option<u16>,
    /// Whether the marker certified; `None`: not said.
    pub marker: Option<bool>,
    /// Whether the player certified; `None`: not said.
    pub player: Option<bool>,
    /// Who mended it after the card was looked at again.
    pub mended_by: Option<String>,
    /// The file seems to be a copy that a synchronisation made of another.
    pub copy: bool,
}

/// What the Committee decided on one returned score.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ruling {
    /// The file, for messages.
    pub file: String,
    /// The card.
    pub id: String,
    /// The round, from 0.
    pub round: usize,
    /// The hole.
    pub hole: u8,
    /// What was returned; `Empty`: nothing.
    pub returned: HoleScore,
    /// What stands.
    pub stands: Stands,
    /// The Rule, as written.
    pub rule: Option<String>,
    /// Why.
    pub why: Option<String>,
    /// Who decided.
    pub by: Option<String>,
    /// When.
    pub at: Option<String>,
}

/// The lawful outcomes of a wrong score (Rules of Golf 3.3b(3), 2023), and of a breach that costs the hole (21.2c, 21.3c).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stands {
    /// The score as returned, also where fewer strokes were taken.
    AsReturned,
    /// Penalty strokes the player did not know of are added.
    Added(u8),
    /// Fewer were returned than taken, or nothing: disqualified.
    Disqualified,
    /// No score on this hole: 0 points, the maximum, the hole lost.
    NoScore,
}

/// A late act.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The file, for messages.
    pub file: String,
    /// Whom it is about; `None` for a lot or play-off.
    pub id: Option<String>,
    /// When.
    pub at: String,
    /// Who recorded it.
    pub by: Option<String>,
    /// What changes.
    pub what: What,
    /// What it was, as written.
    pub from: Option<String>,
    /// Why.
    pub why: Option<String>,
    /// Only in this event.
    pub event: Option<String>,
    /// Only in this division.
    pub division: Option<String>,
    /// Who saw it.
    pub witness: Option<String>,
}

/// What a late act changes, with its new value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    /// No place for this reason; `None` takes one back.
    Status(Option<Status>),
    /// The Handicap Index.
    Index(HandicapIndex),
    /// The Playing Handicap, for every event.
    PlayingHandicap(i32),
    /// The tee.
    Tee(String),
    /// The category.
    Category(String),
    /// The group.
    Group(String),
    /// The start time.
    StartTime(String),
    /// The hole started from.
    StartHole(u8),
    /// The name.
    Name(String),
    /// The Committee confirmed the card.
    Confirmed,
    /// A lot was drawn: ids from first to last.
    Lot(Vec<String>),
    /// A play-off was played: ids from first to last.
    PlayOff(Vec<String>),
}

impl What {
    /// What changes, in words.
    pub fn words(&self) -> &'static str {
        match self {
            What::Status(_) => "status",
            What::Index(_) => "index",
            What::PlayingHandicap(_) => "playing handicap",
            What::Tee(_) => "tee",
            What::Category(_) => "category",
            What::Group(_) => "group",
            What::StartTime(_) => "start time",
            What::StartHole(_) => "start hole",
            What::Name(_) => "name",
            What::Confirmed => "confirmed",
            What::Lot(_) => "lot",
            What::PlayOff(_) => "play-off",
        }
    }

    /// The new value in words.
    pub fn to(&self) -> String {
        match self {
            What::Status(status) => status.map_or_else(|| "none".to_owned(), |s| s.words().to_owned()),
            What::Index(index) => index.to_string(),
            What::PlayingHandicap(value) => crate::units::tenths::whole_handicap_text(*value),
            What::Tee(text) | What::Category(text) | What::Group(text) | What::StartTime(text) | What::Name(text) => {
                text.clone()
            }
            What::StartHole(hole) => hole.to_string(),
            What::Confirmed => "yes".to_owned(),
            What::Lot(ids) | What::PlayOff(ids) => ids.join(", "),
        }
    }
}
