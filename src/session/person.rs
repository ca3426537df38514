//! A player as chosen for a round: who, on which tee.

use crate::course::{Card, Course, Hand, ShotShape};
use crate::handicap::{Percent, Rules};
use crate::pattern::bag::{complete, longest_carry};
use crate::pattern::{Bag, Skill, Source};
use crate::player::Measured;
use crate::round::FileRef;
use crate::sheet::Golfer;
use crate::sheet::golfer::Entry;
use crate::units::LengthUnit;
use crate::units::tenths::HandicapIndex;

/// The index assumed where a player has none.
pub const ASSUMED_INDEX: f64 = 18.0;

/// A player's Handicap Index as the pattern takes it; that of 18 where there is none (cli.md).
pub fn person_index(person: &Person) -> f64 {
    person.index.map_or(ASSUMED_INDEX, |i| f64::from(i.value().tenths()) / 10.0)
}

/// A player and the tee they play.
#[derive(Clone, Debug, PartialEq)]
pub struct Person {
    /// The name.
    pub name: String,
    /// Their file, when there is one.
    pub file: Option<FileRef>,
    /// Whose card.
    pub card: Card,
    /// The index.
    pub index: Option<HandicapIndex>,
    /// The tee set.
    pub tee: String,
    /// The unit they read.
    pub units: LengthUnit,
    /// The hand they play with.
    pub hand: Hand,
    /// The driver's carry, yards, when they gave one.
    pub carry: Option<f64>,
    /// The driver's shape, when they gave one.
    pub shape: Option<ShotShape>,
    /// The clubs; empty is all assumed.
    pub bag: Bag,
    /// The air in which the carries were measured.
    pub measured: Measured,
    /// Assumed because no player was named, and said so.
    pub assumed: bool,
}

impl Person {
    /// The player assumed where none is named: index 18.0 on the men's card (cli.md).
    pub fn assumed(tee: &str, units: LengthUnit) -> Self {
        Self {
            name: "a player of index 18".to_owned(),
            file: None,
            card: Card::Men,
            index: HandicapIndex::parse("18.0").ok(),
            tee: tee.to_owned(),
            units,
            hand: Hand::Right,
            carry: None,
            shape: None,
            bag: Bag::default(),
            measured: Measured::default(),
            assumed: true,
        }
    }

    /// The pattern's skill behind what is assumed: that of the index, of 18 where there is none (cli.md).
    pub fn skill(&self) -> Skill {
        Skill::of_index(self.index.map_or(ASSUMED_INDEX, |i| f64::from(i.value().tenths()) / 10.0), self.card)
    }

    /// The driver's carry in yards: as given, else as the pattern assumes it from the other clubs or the index; `None`
    /// where nothing is known to assume it from.
    pub fn driver_carry(&self) -> Option<(f64, Source)> {
        if let Some(carry) = self.carry {
            return Some((carry, Source::Given));
        }
        if self.index.is_none() && self.bag.clubs.iter().all(|c| c.carry.is_none()) {
            return None;
        }
        longest_carry(&complete(&self.bag, &self.skill()).1)
    }

    /// On their tee, with strokes worked out by the full Course Handicap (practice and singles: 100 %).
    pub fn on_tee(&self, course: &Course, order: &[u8], rules: &Rules) -> Golfer {
        let carry = self.driver_carry();
        let entry = Entry {
            name: &self.name,
            card: self.card,
            index: self.index,
            given: None,
            allowance: Percent::FULL,
            units: self.units,
            hand: self.hand,
            carry: carry.map(|(yards, _)| yards),
            carry_assumed: carry.is_some_and(|(_, from)| from == Source::Assumed),
            shape: self.shape,
        };
        Golfer::new(course, &self.tee, order, &entry, rules)
    }
}
