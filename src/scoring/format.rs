//! What every format can say of a card: the one trait, the sides and balls it looks at, the Terms it follows.

use super::{CardHole, MaximumScore};
use crate::handicap::Play;

/// One ball: its holes in the order of play. A side in foursomes, greensomes or a scramble has one.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ball {
    /// Holes in the order of play; match play may go on after the round with extra holes.
    pub holes: Vec<CardHole>,
}

/// A player or partners.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Side {
    /// The balls of the side.
    pub balls: Vec<Ball>,
    /// Match play: holes given to the opponent (conceded, or lost to the general penalty), by place from 0 in the order
    /// of play.
    pub conceded: Vec<usize>,
    /// Match play: the side gave up the match (or was disqualified) after so many holes.
    pub gave_up_after: Option<usize>,
}

impl Side {
    /// A side with these balls.
    pub fn new(balls: Vec<Ball>) -> Side {
        Side { balls, conceded: Vec::new(), gave_up_after: None }
    }

    /// The longest card of the side, in holes.
    pub fn len(&self) -> usize {
        self.balls.iter().map(|ball| ball.holes.len()).max().unwrap_or(0)
    }

    /// True when no ball has a hole.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }
}

/// Whether strokes received count; no format mixes the two.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Count {
    /// Strokes received are taken off.
    #[default]
    Net,
    /// The strokes as played.
    Gross,
}

impl Count {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Count::Net => "net",
            Count::Gross => "gross",
        }
    }
}

/// The Terms of the Competition that a format needs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Terms {
    /// Holes of the round.
    pub holes: usize,
    /// Net or gross.
    pub count: Count,
    /// Stableford and Par/Bogey: the fixed target is par and so many strokes (par unless the Committee fixes another).
    pub target_over_par: i32,
    /// The limit of Maximum Score.
    pub maximum: Option<MaximumScore>,
    /// Match play: a tie after the round is played on, hole by hole; else it stands.
    pub extra_holes: bool,
}

impl Terms {
    /// Net play over so many holes, the target par, ties of a match played on.
    pub const fn net(holes: usize) -> Terms {
        Terms { holes, count: Count::Net, target_over_par: 0, maximum: None, extra_holes: true }
    }

    /// The same, gross.
    pub fn gross(holes: usize) -> Terms {
        Terms { count: Count::Gross, ..Terms::net(holes) }
    }
}

/// What a side has on a hole, in the unit of the format.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleValue {
    /// Not known yet.
    Open,
    /// No score, in a format that needs one.
    NoScore,
    /// Strokes, net or gross as the format counts.
    Strokes(i32),
    /// Points.
    Points(i32),
    /// Won from the opponent, or from the target.
    Won,
    /// Tied.
    Tied,
    /// Lost.
    Lost,
}

/// A side's hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HoleResult {
    /// In the unit of the format.
    pub value: HoleValue,
    /// Which balls counted, as a bit for each (bit 0 the first).
    pub counted: u8,
    /// Gross of the balls that counted, added; `None` where one has no score.
    pub gross: Option<i32>,
}

impl HoleResult {
    /// True when the ball counted.
    pub const fn counts(&self, ball: usize) -> bool {
        ball < 8 && self.counted & (1 << ball) != 0
    }
}

/// Where a side stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Standing {
    /// Holes that are decided.
    pub decided: usize,
    /// Holes of the round still open.
    pub left: usize,
    /// The first hole without an entry before the last one entered, by its number.
    pub skipped: Option<u8>,
    /// Strokes, points, holes up (down below zero); `None` where a hole without a score leaves no total.
    pub figure: Option<i32>,
    /// The hole that leaves no total, by its number.
    pub no_score: Option<u8>,
    /// Strokes against par, points against two a hole; holes up as they are.
    pub against: i32,
    /// The least figure still possible at the end of the round (the best in strokes), where bounded.
    pub least: Option<i32>,
    /// The most figure still possible, where bounded.
    pub most: Option<i32>,
    /// Nothing more can change it.
    pub over: bool,
    /// Match play: holes left when it was decided.
    pub ended_with: Option<usize>,
}

/// A card that does not fit its format.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum CardError {
    /// Wrong number of sides.
    #[error("{play} is played between {wanted} sides; the card has {found}")]
    Sides {
        /// The format.
        play: Play,
        /// Sides it needs.
        wanted: usize,
        /// Sides on the card.
        found: usize,
    },
    /// Wrong number of balls.
    #[error("a side in {play} has {wanted} on the card; side {side} has {found}", wanted = balls(*wanted))]
    Balls {
        /// The format.
        play: Play,
        /// The side, from 1.
        side: usize,
        /// Balls it needs.
        wanted: usize,
        /// Balls it has.
        found: usize,
    },
    /// Too few holes.
    #[error("the round has {wanted} holes; a card of side {side} has {found}")]
    Holes {
        /// The side, from 1.
        side: usize,
        /// Holes of the round.
        wanted: usize,
        /// Holes on the card.
        found: usize,
    },
}

fn balls(count: usize) -> String {
    if count == 1 { "one ball".to_owned() } else { format!("{count} balls") }
}

/// A golf format: what it needs on the card, what it makes of it, and where each side stands, in its own words.
///
/// `after` counts holes in the order of play: the state is that after so many holes, later entries left out.
pub trait Format: Send + Sync {
    /// Its name.
    fn play(&self) -> Play;
    /// The Terms it follows.
    fn terms(&self) -> &Terms;
    /// The figure that is compared: `net scores`, `points`.
    fn compares(&self) -> &'static str;
    /// What each hole of a card needs.
    fn needs(&self) -> String;
    /// What an empty hole means.
    fn empty_hole(&self) -> &'static str;
    /// When it is over.
    fn ends(&self) -> &'static str;
    /// What a side has on the hole `at` (from 0, in the order of play).
    fn hole(&self, sides: &[Side], side: usize, at: usize) -> HoleResult;
    /// Where a side stands after so many holes.
    fn standing(&self, sides: &[Side], side: usize, after: usize) -> Standing;
    /// The same in the words of the format: `2 up with 3 to play`.
    fn words(&self, sides: &[Side], side: usize, after: usize) -> String;
    /// What a side needs for `target`: `needs 4 points from the last two for 36`; `None` where a match has no target.
    fn chase(&self, sides: &[Side], side: usize, target: i32) -> Option<String>;
    /// What is still possible: `17 to 37 points are possible`, `cannot lose in the round`.
    fn possible(&self, sides: &[Side], side: usize) -> String;
    /// Which partner plays from the tee of the hole `at`, where that alternates.
    fn on_the_tee(&self, _at: usize) -> Option<usize> {
        None
    }

    /// Whether a card fits.
    ///
    /// # Errors
    /// [`CardError`] for sides, balls or holes that are missing or too many.
    fn check(&self, sides: &[Side]) -> Result<(), CardError> {
        let play = self.play();
        let matched = play.scoring == crate::handicap::Scoring::Match;
        if sides.is_empty() || (matched && sides.len() != 2) {
            let wanted = if matched { 2 } else { 1 };
            return Err(CardError::Sides { play, wanted, found: sides.len() });
        }
        let wanted = if play.one_ball() { 1 } else { play.players() };
        for (at, side) in sides.iter().enumerate() {
            if side.balls.len() != wanted {
                return Err(CardError::Balls { play, side: at + 1, wanted, found: side.balls.len() });
            }
            for ball in &side.balls {
                if ball.holes.len() < self.terms().holes {
                    let wanted = self.terms().holes;
                    return Err(CardError::Holes { side: at + 1, wanted, found: ball.holes.len() });
                }
            }
        }
        Ok(())
    }
}
