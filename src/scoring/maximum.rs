//! Maximum Score: stroke play with a limit on each hole (Rules of Golf 21.2, 2023).

use super::sides::{BallValue, Better};
use super::tally::{Unit, strokes_goal, strokes_need, strokes_words};
use super::{CardHole, Count, HoleScore, HoleValue, Terms, net_double_bogey};
use std::fmt;

/// The limit of a hole, set by the Committee.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum MaximumScore {
    /// A fixed number of strokes.
    Strokes(u8),
    /// Par and so many strokes.
    OverPar(u8),
    /// Twice par.
    TwicePar,
    /// Net double bogey: par + 2 + strokes received.
    NetDoubleBogey,
    /// A limit for each hole of the course, by its number from 1.
    ByHole(Vec<u8>),
}

/// A text that is no maximum.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "`{0}` is no maximum; write a number of strokes like 8, `par + 5`, `twice par`, `net double bogey`, or a limit for \
     each hole like `8,8,9,…`"
)]
pub struct MaximumError(pub String);

impl MaximumScore {
    /// Reads `8`, `par + 5`, `twice par`, `net double bogey`, `8,8,9,…`.
    ///
    /// # Errors
    /// [`MaximumError`] with the forms there are.
    pub fn parse(text: &str) -> Result<MaximumScore, MaximumError> {
        let fault = || MaximumError(text.trim().to_owned());
        let words = text.trim().to_lowercase().replace(['-', '_'], " ");
        let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
        let strokes = |word: &str| {
            let limit = word.trim().parse::<u8>().ok()?;
            (1..=HoleScore::MOST).contains(&limit).then_some(limit)
        };
        if words == "net double bogey" {
            return Ok(MaximumScore::NetDoubleBogey);
        }
        if words == "twice par" || words == "double par" {
            return Ok(MaximumScore::TwicePar);
        }
        if let Some(over) = words.strip_prefix("par") {
            let over = over.trim().strip_prefix('+').ok_or_else(fault)?;
            return strokes(over).map(MaximumScore::OverPar).ok_or_else(fault);
        }
        if words.contains(',') {
            let limits: Option<Vec<u8>> = words.split(',').map(strokes).collect();
            return limits.map(MaximumScore::ByHole).ok_or_else(fault);
        }
        strokes(&words).map(MaximumScore::Strokes).ok_or_else(fault)
    }

    /// The gross limit of a hole; a hole without a limit of its own has net double bogey.
    pub fn of(&self, hole: &CardHole) -> i32 {
        let par = i32::from(hole.par);
        match self {
            MaximumScore::Strokes(limit) => i32::from(*limit),
            MaximumScore::OverPar(over) => par + i32::from(*over),
            MaximumScore::TwicePar => 2 * par,
            MaximumScore::NetDoubleBogey => net_double_bogey(par, hole.strokes),
            MaximumScore::ByHole(limits) => usize::from(hole.number)
                .checked_sub(1)
                .and_then(|at| limits.get(at))
                .map_or_else(|| net_double_bogey(par, hole.strokes), |limit| i32::from(*limit)),
        }
    }
}

impl fmt::Display for MaximumScore {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            MaximumScore::Strokes(limit) => write!(f, "{limit}"),
            MaximumScore::OverPar(over) => write!(f, "par + {over}"),
            MaximumScore::TwicePar => f.write_str("twice par"),
            MaximumScore::NetDoubleBogey => f.write_str("net double bogey"),
            MaximumScore::ByHole(limits) => {
                let limits: Vec<String> = limits.iter().map(u8::to_string).collect();
                f.write_str(&limits.join(","))
            }
        }
    }
}

/// Strokes, each hole no higher than its limit; not holed out is the limit.
pub(super) struct Maximum {
    pub(super) limit: MaximumScore,
}

impl Maximum {
    fn counted(&self, hole: &CardHole, gross: i32, count: Count) -> i32 {
        match count {
            Count::Net => gross - hole.strokes,
            Count::Gross => gross,
        }
    }
}

impl Unit for Maximum {
    fn better(&self) -> Better {
        Better::Less
    }

    fn ball(&self, hole: &CardHole, terms: &Terms) -> BallValue {
        let limit = self.limit.of(hole);
        match hole.score {
            HoleScore::Empty => BallValue::Empty,
            score => {
                let gross = score.gross().map_or(limit, |gross| i32::from(gross).min(limit));
                BallValue::Figure(self.counted(hole, gross, terms.count))
            }
        }
    }

    fn gross(&self, hole: &CardHole) -> Option<i32> {
        let limit = self.limit.of(hole);
        hole.score.is_entered().then(|| hole.gross().map_or(limit, |gross| gross.min(limit)))
    }

    fn bounds(&self, hole: &CardHole, terms: &Terms) -> (Option<i32>, Option<i32>) {
        let limit = self.limit.of(hole);
        (Some(self.counted(hole, 1.min(limit), terms.count)), Some(self.counted(hole, limit, terms.count)))
    }

    fn value(&self, figure: i32) -> HoleValue {
        HoleValue::Strokes(figure)
    }

    fn level(&self, par: i32) -> i32 {
        par
    }

    fn compares(&self, count: Count) -> &'static str {
        match count {
            Count::Net => "net scores, each hole limited to the maximum before strokes received are taken off",
            Count::Gross => "gross scores, each hole limited to the maximum",
        }
    }

    fn empty_hole(&self) -> &'static str {
        "still to play; returned empty or picked up it counts the maximum"
    }

    fn words(&self, figure: i32, against: i32, decided: usize, left: usize, terms: &Terms) -> String {
        strokes_words(figure, against, decided, left, terms.count)
    }

    fn need(&self, needed: i32) -> String {
        strokes_need(needed)
    }

    fn goal(&self, target: i32, count: Count) -> String {
        strokes_goal(target, count)
    }
}
