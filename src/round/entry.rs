//! How keys become scores.

use super::event::{Event, Place};
use super::state::{NotPossible, RoundState};
use crate::scoring::HoleScore;

/// A key where a score can be entered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ScoreKey {
    /// One digit is a score at once.
    Digit(u8),
    /// `+`: one more than the score just entered, for 10 and more; else than the score that stands in the box.
    Raise,
    /// `x`: picked up.
    PickedUp,
    /// `.`: not played.
    NotPlayed,
    /// Takes the score away.
    Clear,
}

impl ScoreKey {
    /// The key that a character is, where a score can be entered.
    pub const fn of(c: char) -> Option<Self> {
        match c {
            '0'..='9' => Some(Self::Digit(c as u8 - b'0')),
            '+' => Some(Self::Raise),
            'x' | 'X' => Some(Self::PickedUp),
            '.' => Some(Self::NotPlayed),
            _ => None,
        }
    }
}

impl RoundState {
    /// The event that `key` means with the focus on the box `at`; to be applied, and appended to the log.
    ///
    /// # Errors
    /// [`NotPossible`] with the reason.
    pub fn enter(&self, key: ScoreKey, at: Place) -> Result<Event, NotPossible> {
        self.check_open()?;
        self.card_box(at).ok_or(NotPossible::NoSuchBox)?;
        let (place, score) = match key {
            ScoreKey::Digit(0) => return Err(NotPossible::Zero),
            ScoreKey::Digit(digit) => (at, HoleScore::gross_of(digit).ok_or(NotPossible::TooMany)?),
            ScoreKey::PickedUp => (at, HoleScore::PickedUp),
            ScoreKey::NotPlayed => (at, HoleScore::NotPlayed),
            ScoreKey::Clear => (at, HoleScore::Empty),
            ScoreKey::Raise => {
                let place = self.just_entered().unwrap_or(at);
                let gross = self.card_box(place).and_then(|b| b.score.gross());
                let raised = gross.ok_or(NotPossible::NoScoreToRaise)?.saturating_add(1);
                (place, HoleScore::gross_of(raised).ok_or(NotPossible::TooMany)?)
            }
        };
        Ok(Event::Score { place, score })
    }
}
