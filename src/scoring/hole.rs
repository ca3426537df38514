//! One hole of a card: what was entered, and the net score and points that follow.

use std::fmt;

/// What stands in one box of a card.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum HoleScore {
    /// Nothing yet.
    #[default]
    Empty,
    /// Holed out in so many strokes, penalties included; never 0.
    Gross(u8),
    /// Started and not finished: picked up.
    PickedUp,
    /// Never started.
    NotPlayed,
}

/// A text that is no hole score.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("`{0}` is no hole score; write 1 to {most}, x for picked up, . for not played", most = HoleScore::MOST)]
pub struct HoleScoreError(pub String);

impl HoleScore {
    /// The most strokes a box takes.
    pub const MOST: u8 = 50;

    /// A score of so many strokes, `None` for 0 or more than [`HoleScore::MOST`].
    pub fn gross_of(strokes: u8) -> Option<HoleScore> {
        (1..=HoleScore::MOST).contains(&strokes).then_some(HoleScore::Gross(strokes))
    }

    /// Reads a box: digits, `x` or `-` picked up, `.` not played, nothing empty.
    ///
    /// # Errors
    /// [`HoleScoreError`] for 0, more than [`HoleScore::MOST`], anything else.
    pub fn parse(text: &str) -> Result<HoleScore, HoleScoreError> {
        let trimmed = text.trim();
        match trimmed {
            "" => Ok(HoleScore::Empty),
            "x" | "X" | "-" => Ok(HoleScore::PickedUp),
            "." => Ok(HoleScore::NotPlayed),
            digits => digits
                .bytes()
                .all(|b| b.is_ascii_digit())
                .then(|| digits.parse().ok().and_then(HoleScore::gross_of))
                .flatten()
                .ok_or_else(|| HoleScoreError(trimmed.to_owned())),
        }
    }

    /// The strokes, where the hole was holed out.
    pub const fn gross(self) -> Option<u8> {
        match self {
            HoleScore::Gross(strokes) => Some(strokes),
            _ => None,
        }
    }

    /// True where something was entered.
    pub const fn is_entered(self) -> bool {
        !matches!(self, HoleScore::Empty)
    }
}

/// As it is typed: `5`, `x`, `.`, nothing.
impl fmt::Display for HoleScore {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            HoleScore::Empty => f.pad(""),
            HoleScore::Gross(strokes) => f.pad(&strokes.to_string()),
            HoleScore::PickedUp => f.pad("x"),
            HoleScore::NotPlayed => f.pad("."),
        }
    }
}

/// One hole of one player's card (or of the ball of a side).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct CardHole {
    /// The hole's number on the course.
    pub number: u8,
    /// Par for this player's card.
    pub par: u8,
    /// Strokes received here; negative: given back.
    pub strokes: i32,
    /// What was entered.
    pub score: HoleScore,
}

impl CardHole {
    /// Gross, where holed out.
    pub fn gross(&self) -> Option<i32> {
        self.score.gross().map(i32::from)
    }

    /// Net, where holed out.
    pub fn net(&self) -> Option<i32> {
        self.gross().map(|gross| net(gross, self.strokes))
    }

    /// Stableford points; a hole started or left out without a score is 0, an empty one has none yet.
    pub fn points(&self) -> Option<i32> {
        match self.score {
            HoleScore::Empty => None,
            score => Some(stableford_points(i32::from(self.par), self.strokes, score.gross().map(i32::from))),
        }
    }
}

/// Gross less the strokes received.
pub const fn net(gross: i32, strokes: i32) -> i32 {
    gross - strokes
}

/// The least gross score worth no Stableford point: par + 2 + strokes received (Rules of Handicapping 3.1b).
pub const fn net_double_bogey(par: i32, strokes: i32) -> i32 {
    par + 2 + strokes
}

/// Stableford points of a hole against `target` (par unless the Committee fixes another), net of strokes received; a hole
/// not holed out is 0.
///
/// # References
/// Rules of Golf 21.1b (2023): one over the target 1, target 2, one under 3, two 4, three 5, four 6.
pub fn stableford_points(target: i32, strokes: i32, gross: Option<i32>) -> i32 {
    gross.map_or(0, |gross| (2 + target + strokes - gross).max(0))
}
