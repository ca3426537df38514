//! Editions and jurisdictions of the Rules of Handicapping, each difference one switch.

use crate::units::tenths::HandicapIndex;
use std::fmt;

/// The state of the rules a computation follows; [`Rules::default`] is the current one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rules {
    /// The edition the switches were taken from, for the working.
    pub edition: Edition,
    /// Course Handicap includes Course Rating less par. Off in Great Britain and Ireland until April 2024 (golf press).
    pub rating_less_par: bool,
    /// Course Handicap is rounded before the allowance. On in the 2020 text of Appendix C ("Course Handicap"), off in
    /// the 2024 one ("unrounded Course Handicap").
    pub round_course_handicap_first: bool,
    /// How a nine-hole score enters the record (Rules of Handicapping 5.1b, 2020 and 2024).
    pub nine_holes: NineHoles,
    /// Only indexes issued from the 20th score on count for the Low Handicap Index. Off: every index on record counts.
    pub low_from_twentieth: bool,
    /// The mean is rounded to a tenth before it is compared with the Low Handicap Index (wording of 5.2b).
    pub round_before_caps: bool,
    /// The exceptional-score test uses the rounded differential. Off: 5.9 says unrounded.
    pub exceptional_on_rounded: bool,
    /// An index is issued from one or two differentials, the lowest less 2.0 (Denmark).
    pub index_from_first_score: bool,
    /// The parts of a team handicap are rounded one by one before the sum. Off: summed exactly and rounded once (6.2).
    pub round_team_parts: bool,
    /// A hole never started counts net par. Off: an expected score enters through the differential (3.2, 2024); on in
    /// 2020 and where the authorised association approves (Clarification 3.2/2).
    pub not_played_is_net_par: bool,
    /// The highest index issued; never above 54.0.
    pub maximum: HandicapIndex,
}

/// An edition and where it holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Edition {
    /// Rules of Handicapping in force from 2024.
    Year2024,
    /// 2024 as played in Denmark.
    Year2024Denmark,
    /// Rules of Handicapping 2020 to 2023.
    Year2020,
    /// 2020 to March 2024 as played in Great Britain and Ireland.
    Year2020Gbi,
}

/// How a nine-hole score enters the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NineHoles {
    /// At once, with the expected differential of the other nine (2024); an official figure, here only estimated.
    Expected,
    /// Two nines are added unrounded in the order received (2020).
    Combined,
}

/// Where a player better than scratch gives strokes back.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum GiveBack {
    /// From the highest stroke index downwards (Appendix C).
    #[default]
    HighestIndexFirst,
    /// From stroke index 1 upwards, where the Committee says so.
    LowestIndexFirst,
}

impl Edition {
    /// Every edition, newest first.
    pub const ALL: [Edition; 4] =
        [Edition::Year2024, Edition::Year2024Denmark, Edition::Year2020, Edition::Year2020Gbi];

    /// The word a person writes for it.
    pub const fn name(self) -> &'static str {
        match self {
            Edition::Year2024 => "2024",
            Edition::Year2024Denmark => "2024-denmark",
            Edition::Year2020 => "2020",
            Edition::Year2020Gbi => "2020-gbi",
        }
    }
}

impl fmt::Display for Edition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

impl Rules {
    /// The switches of an edition.
    pub const fn of(edition: Edition) -> Rules {
        let old = matches!(edition, Edition::Year2020 | Edition::Year2020Gbi);
        Rules {
            edition,
            rating_less_par: !matches!(edition, Edition::Year2020Gbi),
            round_course_handicap_first: old,
            nine_holes: if old { NineHoles::Combined } else { NineHoles::Expected },
            low_from_twentieth: false,
            round_before_caps: true,
            exceptional_on_rounded: false,
            index_from_first_score: matches!(edition, Edition::Year2024Denmark),
            round_team_parts: false,
            not_played_is_net_par: old,
            maximum: HandicapIndex::MAXIMUM,
        }
    }

    /// Reads an edition's name: `2024`, `2024-denmark`, `2020`, `2020-gbi`.
    ///
    /// # Errors
    /// [`UnknownRules`] with the names there are.
    pub fn parse(text: &str) -> Result<Rules, UnknownRules> {
        let wanted = text.trim().to_lowercase().replace([' ', '_'], "-");
        Edition::ALL
            .into_iter()
            .find(|edition| edition.name() == wanted)
            .map(Rules::of)
            .ok_or_else(|| UnknownRules(text.trim().to_owned()))
    }
}

impl Default for Rules {
    fn default() -> Rules {
        Rules::of(Edition::Year2024)
    }
}

/// A name that is no edition of the rules.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is no edition of the rules; there are 2024, 2024-denmark, 2020, 2020-gbi")]
pub struct UnknownRules(pub String);
