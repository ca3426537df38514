//! The golf formats by name: how sides are made and how they are scored.

use std::fmt;

/// A golf format, as the field `play:` names it: `stroke`, `four-ball stableford`, `best 2 of 4 stableford`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Play {
    /// Who plays together.
    pub sides: Sides,
    /// What is compared.
    pub scoring: Scoring,
}

/// Who plays together, and with how many balls.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Sides {
    /// Each for themselves.
    Individual,
    /// Two partners, two balls, the better counts.
    FourBall,
    /// Two partners, one ball, alternate strokes.
    Foursomes,
    /// Both drive, then one ball alternately.
    Greensomes,
    /// Both drive, balls exchanged for the second stroke, then one ball alternately (Pinehurst, Chapman).
    Chapman,
    /// A scramble of 2, 3 or 4 players.
    Scramble(u8),
    /// The best 1, 2, 3 or 4 of four scores on each hole.
    BestOfFour(u8),
    /// Both partners' scores added on each hole.
    TotalOfTwo,
}

/// What is compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Scoring {
    /// Strokes.
    Stroke,
    /// Stableford points.
    Stableford,
    /// Holes won and lost against a fixed target.
    ParBogey,
    /// Strokes, each hole limited.
    Maximum,
    /// Holes against an opponent.
    Match,
}

impl Scoring {
    const ALL: [Scoring; 5] =
        [Scoring::Stroke, Scoring::Stableford, Scoring::ParBogey, Scoring::Maximum, Scoring::Match];

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Scoring::Stroke => "stroke",
            Scoring::Stableford => "stableford",
            Scoring::ParBogey => "par-bogey",
            Scoring::Maximum => "maximum",
            Scoring::Match => "match",
        }
    }

    fn parse(word: &str) -> Option<Scoring> {
        match word {
            "" | "stroke" | "stroke-play" => Some(Scoring::Stroke),
            "stableford" => Some(Scoring::Stableford),
            "par-bogey" | "par/bogey" => Some(Scoring::ParBogey),
            "maximum" | "maximum-score" => Some(Scoring::Maximum),
            "match" | "match-play" => Some(Scoring::Match),
            _ => None,
        }
    }
}

impl Play {
    /// An individual format.
    pub const fn individual(scoring: Scoring) -> Play {
        Play { sides: Sides::Individual, scoring }
    }

    /// Reads a format's name; words may be joined by spaces, hyphens or underscores. A side format without a scoring is
    /// stroke play.
    ///
    /// # Errors
    /// [`UnknownPlay`] with the names there are.
    pub fn parse(text: &str) -> Result<Play, UnknownPlay> {
        let joined = text.trim().to_lowercase().replace([' ', '_'], "-");
        Play::read(&joined).ok_or_else(|| UnknownPlay(text.trim().to_owned()))
    }

    fn read(joined: &str) -> Option<Play> {
        const SIDES: [(&str, Sides); 20] = [
            ("four-ball", Sides::FourBall),
            ("fourball", Sides::FourBall),
            ("foursomes", Sides::Foursomes),
            ("foursome", Sides::Foursomes),
            ("greensomes", Sides::Greensomes),
            ("greensome", Sides::Greensomes),
            ("chapman", Sides::Chapman),
            ("pinehurst", Sides::Chapman),
            ("scramble-of-2", Sides::Scramble(2)),
            ("scramble-of-3", Sides::Scramble(3)),
            ("scramble-of-4", Sides::Scramble(4)),
            ("scramble-2", Sides::Scramble(2)),
            ("scramble-3", Sides::Scramble(3)),
            ("scramble-4", Sides::Scramble(4)),
            ("scramble", Sides::Scramble(4)),
            ("best-1-of-4", Sides::BestOfFour(1)),
            ("best-2-of-4", Sides::BestOfFour(2)),
            ("best-3-of-4", Sides::BestOfFour(3)),
            ("best-4-of-4", Sides::BestOfFour(4)),
            ("total-of-2", Sides::TotalOfTwo),
        ];
        for (word, sides) in SIDES {
            let Some(rest) = joined.strip_prefix(word) else {
                continue;
            };
            let rest = match rest.strip_prefix('-') {
                Some(rest) => rest,
                None if rest.is_empty() => "",
                None => continue,
            };
            if let Some(scoring) = Scoring::parse(rest) {
                return Some(Play { sides, scoring });
            }
        }
        if joined.is_empty() {
            return None;
        }
        Scoring::parse(joined).map(Play::individual)
    }

    /// How many players a side has.
    pub const fn players(self) -> usize {
        match self.sides {
            Sides::Individual => 1,
            Sides::FourBall | Sides::Foursomes | Sides::Greensomes | Sides::Chapman | Sides::TotalOfTwo => 2,
            Sides::Scramble(players) => players as usize,
            Sides::BestOfFour(_) => 4,
        }
    }

    /// True where partners share one ball and so one handicap.
    pub const fn one_ball(self) -> bool {
        matches!(self.sides, Sides::Foursomes | Sides::Greensomes | Sides::Chapman | Sides::Scramble(_))
    }

    /// Every format there is, in a fixed order.
    pub fn all() -> impl Iterator<Item = Play> {
        const SIDES: [Sides; 13] = [
            Sides::Individual,
            Sides::FourBall,
            Sides::Foursomes,
            Sides::Greensomes,
            Sides::Chapman,
            Sides::Scramble(2),
            Sides::Scramble(3),
            Sides::Scramble(4),
            Sides::BestOfFour(1),
            Sides::BestOfFour(2),
            Sides::BestOfFour(3),
            Sides::BestOfFour(4),
            Sides::TotalOfTwo,
        ];
        SIDES.into_iter().flat_map(|sides| Scoring::ALL.into_iter().map(move |scoring| Play { sides, scoring }))
    }
}

/// `stroke`, `four-ball stableford`, `foursomes` (stroke play is not said of a side), `best 2 of 4 par-bogey`.
impl fmt::Display for Play {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sides = match self.sides {
            Sides::Individual => return f.pad(self.scoring.name()),
            Sides::FourBall => "four-ball".to_owned(),
            Sides::Foursomes => "foursomes".to_owned(),
            Sides::Greensomes => "greensomes".to_owned(),
            Sides::Chapman => "chapman".to_owned(),
            Sides::Scramble(players) => format!("scramble {players}"),
            Sides::BestOfFour(count) => format!("best {count} of 4"),
            Sides::TotalOfTwo => "total of 2".to_owned(),
        };
        match (self.sides, self.scoring) {
            (Sides::FourBall, scoring) => f.pad(&format!("{sides} {}", scoring.name())),
            (_, Scoring::Stroke) => f.pad(&sides),
            (_, scoring) => f.pad(&format!("{sides} {}", scoring.name())),
        }
    }
}

/// A name that is no format.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "`{0}` is no format; there are stroke, stableford, par-bogey, maximum, match, and four-ball, foursomes, greensomes, \
     chapman, scramble 2|3|4, best 1|2|3|4 of 4, total of 2, each alone or with one of the five, like `four-ball stableford`"
)]
pub struct UnknownPlay(pub String);

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;

    #[test]
    fn every_name_reads_back() {
        for play in Play::all() {
            assert_eq!(Play::parse(&play.to_string()), Ok(play));
            assert_eq!(Play::parse(&play.to_string().replace(' ', "-").to_uppercase()), Ok(play));
        }
        assert_eq!(Play::parse("four-ball"), Ok(Play { sides: Sides::FourBall, scoring: Scoring::Stroke }));
    }

    #[test]
    fn unknown_names_are_refused() {
        for text in ["", "skins", "four-balls", "scramble 5", "best 5 of 4", "foursomesmatch"] {
            assert!(Play::parse(text).is_err(), "{text}");
        }
    }
}
