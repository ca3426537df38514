//! The set-up of a competition: rounds, tees, events with their divisions and ties, as values.

use crate::course::Card;
use crate::handicap::{Allowance, GiveBack, Play, Rules};
use crate::notebook::Span;
use crate::scoring::{Count, MaximumScore};
use crate::units::tenths::Tenths;
use std::fmt;

/// What `competition.yaml` says.
#[derive(Clone, Debug, PartialEq)]
pub struct Setup {
    /// Its name.
    pub name: String,
    /// The notebook's file name, as written.
    pub course: String,
    /// Rounds in order, never empty.
    pub rounds: Vec<RoundSetup>,
    /// The day whose indexes hold.
    pub as_of: Option<String>,
    /// Edition of the Rules of Handicapping.
    pub rules: Rules,
    /// Where a player better than scratch gives strokes back.
    pub give_back: GiveBack,
    /// Tees of those whose entry names none.
    pub tees: Tees,
    /// Where the tees are written.
    pub tees_at: Span,
    /// How many keyings a card needs: 1 or 2.
    pub keyings: usize,
    /// Whether published lists show the index.
    pub publish_index: bool,
    /// Events in order, never empty.
    pub events: Vec<Event>,
    /// Prizes that somebody measured or judged, as nearest the hole.
    pub awards: Vec<Award>,
    /// Match-play draws.
    pub draws: Vec<Draw>,
}

/// One round.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RoundSetup {
    /// `2026-05-16`.
    pub date: String,
    /// Hole numbers in the order of the card, whatever hole is started from.
    pub holes: Vec<u8>,
}

/// Which tee set belongs to whom.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tees {
    /// On the men's card.
    pub men: Option<String>,
    /// On the women's card.
    pub women: Option<String>,
    /// By category; wins over men and women.
    pub by_category: Vec<(String, String)>,
}

impl Tees {
    /// Every tee that is named.
    pub fn named(&self) -> impl Iterator<Item = &str> {
        let by_category = self.by_category.iter().map(|(_, tee)| tee.as_str());
        self.men.as_deref().into_iter().chain(self.women.as_deref()).chain(by_category)
    }

    /// The tee of an entry that names none.
    pub fn of(&self, card: Card, category: Option<&str>) -> Option<&str> {
        let by_category = category
            .and_then(|own| self.by_category.iter().find(|(name, _)| name.eq_ignore_ascii_case(own)))
            .map(|(_, tee)| tee.as_str());
        by_category.or(match card {
            Card::Men => self.men.as_deref(),
            Card::Women => self.women.as_deref(),
        })
    }
}

/// One event on the field of cards.
#[derive(Clone, Debug, PartialEq)]
pub struct Event {
    /// Its name.
    pub name: String,
    /// The format.
    pub play: Play,
    /// Net or gross.
    pub count: Count,
    /// The allowance: the announced one, else the recommended one.
    pub allowance: Allowance,
    /// Whether the set-up announced it.
    pub allowance_given: bool,
    /// Divisions in order; empty: everybody together.
    pub divisions: Vec<Division>,
    /// How ties are settled, in order.
    pub ties: Vec<TieStep>,
    /// How strokes enter a comparison of part of the card.
    pub tie_strokes: TieStrokes,
    /// Hole numbers; `None`: all of the round.
    pub holes: Option<Vec<u8>>,
    /// Strokes of an event over part of the round.
    pub strokes: PartStrokes,
    /// Where its sides stand, `sides.csv`; `None`: the column `team` of the field.
    pub sides: Option<String>,
    /// The limit of Maximum Score.
    pub maximum: Option<MaximumScore>,
    /// The fixed target of Stableford and Par/Bogey is par and so many strokes.
    pub target_over_par: i32,
    /// Which rounds count, from 0; never empty.
    pub rounds: Vec<usize>,
    /// The best score of each hole over the rounds counts.
    pub eclectic: bool,
    /// Points by place in other events instead of scores.
    pub merit: Option<Merit>,
    /// Whether those from tees of a higher par receive the difference (6.2b).
    pub par_difference: bool,
    /// Where it is written.
    pub span: Span,
}

/// A group of the field with its own result.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Division {
    /// Its name.
    pub name: String,
    /// Least and greatest index, each in or out.
    pub index: Option<(Option<Tenths>, Option<Tenths>)>,
    /// A category.
    pub category: Option<String>,
    /// Whose ratings.
    pub ratings: Option<Card>,
    /// Where it is written.
    pub span: Span,
}

/// An order of merit: points for places.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Merit {
    /// The events whose places count.
    pub of: Vec<String>,
    /// Points for place 1, 2, …; nothing behind the last.
    pub points: Vec<u32>,
    /// Only so many best results count; `None`: all.
    pub best: Option<usize>,
}

/// Strokes of an event over part of the round.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PartStrokes {
    /// Those that fall on these holes when the whole round's are allocated.
    #[default]
    AsOnTheEighteen,
    /// The nine has its own Course and Playing Handicap, allocated on its nine holes.
    AsANine,
}

/// How strokes enter a comparison of part of the card, in an event that counts net.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TieStrokes {
    /// The share of the Playing Handicap, fractions kept: a half, a third, a sixth, an eighteenth.
    Fractions,
    /// Those allocated to the holes compared.
    Allotted,
}

/// One step in which a tie is settled.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TieStep {
    /// The last round alone, where there are several.
    LastRound,
    /// So many holes from the end of the card.
    Last(u8),
    /// One hole after the other from the end of the card.
    HoleByHole,
    /// The lower Playing Handicap.
    LowerHandicap,
    /// A play-off, recorded.
    PlayOff,
    /// A lot, recorded with its witness.
    Lot,
    /// The place is shared.
    Share,
}

impl fmt::Display for TieStep {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            TieStep::LastRound => f.pad("last round"),
            TieStep::Last(1) => f.pad("last hole"),
            TieStep::Last(holes) => f.pad(&format!("last {holes}")),
            TieStep::HoleByHole => f.pad("hole by hole"),
            TieStep::LowerHandicap => f.pad("lower handicap"),
            TieStep::PlayOff => f.pad("play-off"),
            TieStep::Lot => f.pad("lot"),
            TieStep::Share => f.pad("share"),
        }
    }
}

impl TieStep {
    /// Reads `last 9`, `last hole`, `hole by hole`, `lot`, `share`…
    pub fn parse(text: &str) -> Option<TieStep> {
        let words = text.trim().to_lowercase().replace(['-', '_'], " ");
        Some(match words.as_str() {
            "last round" => TieStep::LastRound,
            "last hole" | "last one" | "last 1" => TieStep::Last(1),
            "last nine" => TieStep::Last(9),
            "last six" => TieStep::Last(6),
            "last three" => TieStep::Last(3),
            "hole by hole" => TieStep::HoleByHole,
            "lower handicap" => TieStep::LowerHandicap,
            "play off" | "playoff" => TieStep::PlayOff,
            "lot" => TieStep::Lot,
            "share" | "shared" => TieStep::Share,
            other => {
                let holes = other.strip_prefix("last ")?.trim_end_matches(" holes").parse().ok()?;
                (1..=36).contains(&holes).then_some(TieStep::Last(holes))?
            }
        })
    }
}

/// A match-play draw.
#[derive(Clone, Debug, PartialEq)]
pub struct Draw {
    /// Its name, format and allowance, as of an event.
    pub event: Event,
    /// Ids in the order of the bracket, `bye` where nobody is met.
    pub order: Vec<String>,
    /// Winners round by round.
    pub winners: Vec<Vec<String>>,
}

/// A prize that somebody measured or judged.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Award {
    /// Its name, `nearest the hole`.
    pub name: String,
    /// The hole it is for.
    pub hole: Option<u8>,
    /// The winner's id; `None` until somebody has won it.
    pub id: Option<String>,
    /// What was measured, as written.
    pub measure: Option<String>,
    /// Where it is written.
    pub span: Span,
}
