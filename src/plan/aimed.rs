//! What a plan is for: the golf format as a value of the hole score.

use crate::scoring::stableford_points;
use crate::strategy::{Table, Worth};
use serde::{Deserialize, Serialize};
use std::fmt;

/// What a hole is played for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Aimed {
    /// The fewest strokes on average.
    #[default]
    Strokes,
    /// The most Stableford points on average.
    Points,
    /// The best chance of net par or better.
    NetPar,
    /// Par/Bogey: holes won less holes lost against net par.
    ParBogey,
    /// Fewest strokes where the score of a hole has a limit, given as a gross score; without one net double bogey.
    Maximum(Option<u8>),
    /// The best chance of winning the hole, halves counting half, against an opponent of the same chances.
    Match,
}

impl Aimed {
    /// The word of `--format` and of the page.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Strokes => "stroke",
            Self::Points => "stableford",
            Self::NetPar => "net-par",
            Self::ParBogey => "par-bogey",
            Self::Maximum(_) => "maximum",
            Self::Match => "match",
        }
    }

    /// The next aim, round and round.
    #[must_use]
    pub const fn next(self) -> Self {
        match self {
            Self::Strokes => Self::Points,
            Self::Points => Self::NetPar,
            Self::NetPar => Self::ParBogey,
            Self::ParBogey => Self::Maximum(None),
            Self::Maximum(_) => Self::Match,
            Self::Match => Self::Strokes,
        }
    }

    /// Reads a word of `--format`, or the `play` of a day sheet.
    pub fn read(text: &str) -> Option<Self> {
        Some(match text.trim() {
            "stroke" | "strokes" => Self::Strokes,
            "stableford" => Self::Points,
            "net-par" => Self::NetPar,
            "par-bogey" => Self::ParBogey,
            "maximum" => Self::Maximum(None),
            "match" => Self::Match,
            _ => return None,
        })
    }

    /// What it asks for, in a few words beside the heading.
    pub const fn wants(self) -> &'static str {
        match self {
            Self::Strokes => "for fewest strokes",
            Self::Points => "for most points",
            Self::NetPar => "for net par or better",
            Self::ParBogey => "for par/bogey",
            Self::Maximum(_) => "for maximum score",
            Self::Match => "to win the hole",
        }
    }

    /// The unit of its value, for differences between plays.
    pub const fn unit(self) -> &'static str {
        match self {
            Self::Strokes | Self::Maximum(_) => "strokes",
            Self::Points => "points",
            Self::NetPar | Self::Match => "of chance",
            Self::ParBogey => "holes",
        }
    }

    /// Within this of the best a play is worth the same (product.md: 0.03 strokes or points, or 1 % of chance).
    pub const fn same(self) -> f64 {
        match self {
            Self::NetPar | Self::Match => 0.01,
            _ => 0.03,
        }
    }

    /// The value of a hole score for a player who receives `strokes` on a hole of `par`; `opponent` are the chances of the
    /// opponent's net scores, for a match.
    pub fn worth(self, par: u8, strokes: i32, opponent: &[f64]) -> Worth {
        let par = i32::from(par);
        let net_par = usize::try_from(par + strokes).unwrap_or(0);
        let table = |value: &dyn Fn(i32) -> f64| Table::new((0..=(par + strokes.max(0) + 6)).map(value).collect());
        let made = match self {
            Self::Strokes => return Worth::Strokes,
            Self::Points => table(&|gross| f64::from(stableford_points(par, strokes, Some(gross)))),
            Self::NetPar => Ok(Table::at_most(net_par)),
            Self::ParBogey => table(&|gross| f64::from((par + strokes - gross).signum())),
            Self::Maximum(limit) => {
                let limit = limit.map_or(par + 2 + strokes, i32::from);
                table(&|gross| -f64::from(gross.min(limit)))
            }
            Self::Match => Ok(Table::against(opponent, strokes, 0.5)),
        };
        made.map_or(Worth::Strokes, Worth::Table)
    }
}

impl fmt::Display for Aimed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}
