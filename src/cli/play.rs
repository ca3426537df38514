//! The format of a new round on the command line: `--play`, `--allowance`, `--maximum`, `--sides`, `--count`, `--tie-stands`.

use super::handicap::allowance_of;
use crate::handicap::Play;
use crate::scoring::MaximumScore;
use crate::session::{AskedPlay, PlayWish, Session};
use clap::{Args, ValueEnum};

/// The format of a round.
#[derive(Clone, Debug, Default, Args)]
pub struct PlayArgs {
    /// The golf format of a round, like stableford, match, "four-ball match", foursomes; none for a plain count of strokes.
    /// Without it the day sheet's.
    #[arg(long, value_name = "FORMAT")]
    pub play: Option<String>,
    /// Handicap allowance in per cent instead of the recommended one; shares from low to high like 60-40 for a side.
    #[arg(long, requires = "play", allow_hyphen_values = true)]
    pub allowance: Option<String>,
    /// The maximum of Maximum Score: a number of strokes, "par + 5", "twice par", "net double bogey", or a limit a hole.
    #[arg(long, requires = "play")]
    pub maximum: Option<String>,
    /// Who plays together, one word a side: names or numbers of the players, as 1+3 2+4. Without it in the order given.
    #[arg(long, requires = "play", num_args = 1..=4)]
    pub sides: Vec<String>,
    /// What is compared.
    #[arg(long, requires = "play", value_enum)]
    pub count: Option<CountWord>,
    /// A match that is tied after the last hole stands; else it is played on.
    #[arg(long, requires = "play")]
    pub tie_stands: bool,
}

/// What is compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum CountWord {
    /// Strokes received are taken off.
    Net,
    /// The strokes as played.
    Gross,
}

impl PlayArgs {
    /// What is asked for, with the players of `session`.
    ///
    /// # Errors
    /// What is wrong with a value, quoted as typed.
    pub fn asked(&self, session: &Session) -> Result<AskedPlay, String> {
        let Some(text) = &self.play else { return Ok(AskedPlay::OfTheDay) };
        let quiet = self.allowance.is_none() && self.maximum.is_none() && self.sides.is_empty();
        if text.trim().eq_ignore_ascii_case("none") && quiet {
            return Ok(AskedPlay::Plain);
        }
        let play = Play::parse(text).map_err(|e| format!("--play {e}; or none for a plain count"))?;
        let gross = self.count == Some(CountWord::Gross);
        if gross && self.allowance.is_some() {
            return Err("--allowance: gross scores are compared, so no strokes are received".to_owned());
        }
        if self.maximum.is_some() && play.scoring != crate::handicap::Scoring::Maximum {
            return Err(format!("--maximum belongs to --play maximum; {play} has none"));
        }
        if self.tie_stands && play.scoring != crate::handicap::Scoring::Match {
            return Err(format!("--tie-stands belongs to a match; {play} is none"));
        }
        let allowance = self.allowance.as_deref().map(|text| allowance_of(text, play)).transpose();
        let maximum = self.maximum.as_deref().map(MaximumScore::parse).transpose();
        let maximum = maximum.map_err(|e| format!("--maximum {e}"))?;
        if let Some(MaximumScore::ByHole(limits)) = &maximum {
            let last = session.order.iter().copied().max().map_or(0, usize::from);
            if limits.len() < last {
                return Err(format!(
                    "--maximum has a limit for {} holes; the course goes to hole {last}",
                    limits.len()
                ));
            }
        }
        Ok(AskedPlay::Format(PlayWish {
            play,
            allowance: allowance.map_err(|e| format!("--allowance {e}"))?,
            maximum,
            gross,
            tie_stands: self.tie_stands,
            sides: self.sides(session)?,
        }))
    }

    fn sides(&self, session: &Session) -> Result<Vec<Vec<usize>>, String> {
        let mut seen = Vec::new();
        let mut sides = Vec::new();
        for word in &self.sides {
            let mut side = Vec::new();
            for name in word.split('+') {
                let player = session.player_named(name).ok_or_else(|| {
                    let names: Vec<&str> = session.golfers.iter().map(|g| g.name.as_str()).collect();
                    format!("--sides: `{name}` plays not in this round; {} do", names.join(", "))
                })?;
                if seen.contains(&player) {
                    return Err(format!("--sides: `{name}` stands on two sides"));
                }
                seen.push(player);
                side.push(player);
            }
            sides.push(side);
        }
        if !sides.is_empty() && seen.len() != session.golfers.len() {
            let left: Vec<&str> = session
                .golfers
                .iter()
                .enumerate()
                .filter(|(i, _)| !seen.contains(i))
                .map(|(_, g)| g.name.as_str())
                .collect();
            return Err(format!("--sides leaves out {}", left.join(", ")));
        }
        Ok(sides)
    }
}
