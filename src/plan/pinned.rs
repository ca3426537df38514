//! Plays that a person has chosen and pinned: they survive, and stand beside the computed ones with their price.

use super::Aimed;
use super::solved::SolvedHole;
use crate::ground::Point;
use crate::units::{Across, Along, FromTee};
use serde::{Deserialize, Serialize};

/// The kind of file.
pub const PINS_FORMAT: &str = "pins/1";

/// A pinned play.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Pinned {
    /// The course's name.
    pub course: String,
    /// The hole.
    pub hole: u8,
    /// The player.
    pub player: String,
    /// The tee.
    pub tee: String,
    /// From where, by the player's tee; `None` on it.
    pub from: Option<(FromTee, Across)>,
    /// The club.
    pub club: String,
    /// Its length on usual fairway, yards: a part swing is found again by it.
    pub total: f64,
    /// Where it is meant to finish, by the player's tee.
    pub at: FromTee,
    /// And beside the line.
    pub across: Across,
    /// The line in words.
    pub words: String,
    /// What it was for.
    pub aimed: Aimed,
    /// What it cost against the best play when it was pinned.
    pub cost: f64,
}

impl Pinned {
    /// Whether it is the same place of the same hole for the same player and tee.
    pub fn same_place(&self, other: &Self) -> bool {
        let place = |p: &Self| (p.course.clone(), p.hole, p.player.clone(), p.tee.clone());
        place(self) == place(other) && self.from == other.from
    }
}

/// Every pinned play of a shelf.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Pins {
    /// [`PINS_FORMAT`].
    pub format: String,
    /// The plays.
    pub pins: Vec<Pinned>,
}

impl Pins {
    /// Pins a play instead of one that was pinned at the same place; the same play again is taken away. Says which happened.
    pub fn pin(&mut self, pinned: Pinned) -> bool {
        self.format = PINS_FORMAT.to_owned();
        let before = self.pins.iter().position(|p| p.same_place(&pinned)).map(|at| self.pins.remove(at));
        let again = before.is_some_and(|b| b.club == pinned.club && (b.across.0 - pinned.across.0).abs() < 1.0);
        if !again {
            self.pins.push(pinned);
        }
        !again
    }
}

impl SolvedHole {
    /// What a pinned play costs today against the best play, in the unit of what is aimed for; `None` when its club is not in the bag.
    pub fn pinned_cost(&self, pinned: &Pinned) -> Option<f64> {
        let question = self.question();
        let (line, origin) = (question.hole.ground.line(), question.origin());
        let along = |at: FromTee| Along(at.0 + origin.0.0);
        let stand = self.stand(pinned.from.map(|(at, across)| (along(at), across))).ok()?;
        let towards: Point = line.place(along(pinned.at), pinned.across);
        let name = pinned.club.split(',').next().unwrap_or_default();
        let club = self.ready().kit.pattern.clubs.iter().position(|c| c.name.eq_ignore_ascii_case(name))?;
        let play = self.solution().marked(stand, club, pinned.total, towards)?;
        let least = self.solution().plays(stand).first()?.cost;
        Some((play.cost - least).max(0.0))
    }
}
