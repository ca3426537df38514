//! What a player's file says, as values.

use crate::course::{Card, Hand, ShotShape};
use crate::notebook::Span;
use crate::units::tenths::{HandicapIndex, Tenths};
use crate::units::{Across, Length, LengthUnit};

/// A player.
#[derive(Clone, Debug, PartialEq)]
pub struct Player {
    /// The name.
    pub name: String,
    /// Handicap Index in exact tenths, plus handicaps negative; `None` when there is none.
    pub index: Option<Tenths>,
    /// Whose ratings, par and stroke index apply.
    pub ratings: Card,
    /// The unit of the file, and in which the person reads.
    pub units: LengthUnit,
    /// The hand.
    pub hand: Hand,
    /// In which air the carries were measured.
    pub carries_measured: Option<Measured>,
    /// The bag in the order of the file; empty when it is to be assumed.
    pub clubs: Vec<Club>,
    /// Part swings that are really practised.
    pub swings: Vec<Swing>,
    /// The rounds behind the index, in the order of the file.
    pub record: Vec<Score>,
    /// Written for a later marram: it may be read and never rewritten.
    pub read_only: bool,
}

/// The air in which carries were measured.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Measured {
    /// Degrees Celsius.
    pub temperature_c: Option<f64>,
    /// Above sea level.
    pub height: Option<Length>,
    /// At sea level, hectopascals.
    pub pressure_hpa: Option<f64>,
}

/// The box that holds two shots in three, each way; mishits are left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Across the line.
    pub wide: Length,
    /// Along it.
    pub deep: Length,
}

/// What is known of a shot.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Shot {
    /// How far it flies.
    pub carry: Option<Length>,
    /// How far it runs on.
    pub run: Option<Length>,
    /// Where a usual shot finishes beside where it starts, positive right.
    pub curve: Option<Across>,
    /// The box of two in three.
    pub two_in_three: Option<Spread>,
    /// The chance of a mishit, 0 to 1.
    pub mishits: Option<f64>,
}

/// A club.
#[derive(Clone, Debug, PartialEq)]
pub struct Club {
    /// Its name as the player writes it, `7 iron`.
    pub name: String,
    /// What is known of a full shot with it.
    pub shot: Shot,
    /// Where it is written.
    pub span: Span,
}

/// A part swing.
#[derive(Clone, Debug, PartialEq)]
pub struct Swing {
    /// Its name, `half wedge`.
    pub name: String,
    /// The club it is made with.
    pub club: String,
    /// What is known of it.
    pub shot: Shot,
    /// Where it is written.
    pub span: Span,
}

/// A round of the record, for checking and not official.
#[derive(Clone, Debug, PartialEq)]
pub struct Score {
    /// ISO date.
    pub date: String,
    /// Where, when it is written.
    pub course: Option<String>,
    /// From which tee, when it is written.
    pub tee: Option<String>,
    /// Adjusted gross score.
    pub adjusted_gross: u16,
    /// Course Rating of what was played.
    pub rating: Tenths,
    /// Slope Rating of what was played.
    pub slope: u16,
    /// Playing conditions calculation, -1 to 3.
    pub pcc: i8,
    /// How many holes were played.
    pub holes: u8,
    /// The official Score Differential, when the player took it over.
    pub differential: Option<Tenths>,
    /// Where it is written.
    pub span: Span,
}

impl Player {
    /// The index as the trade writes it, `14.6` or `+1.3`.
    pub fn index_text(&self) -> Option<String> {
        self.index.and_then(HandicapIndex::new).map(|index| index.to_string())
    }

    /// The club from the tee: the driver, else the longest whose carry is given.
    pub fn longest(&self) -> Option<&Club> {
        let driver = self.clubs.iter().find(|c| c.name.trim().eq_ignore_ascii_case("driver"));
        driver.or_else(|| {
            let carry = |c: &&Club| c.shot.carry.map_or(f64::NEG_INFINITY, Length::as_yards);
            self.clubs.iter().filter(|c| c.shot.carry.is_some()).max_by(|a, b| carry(a).total_cmp(&carry(b)))
        })
    }

    /// The driver's carry, as conditions of notes ask for it; `None` when the player does not give it.
    pub fn carry(&self) -> Option<Length> {
        self.longest()?.shot.carry
    }

    /// The usual shape with the driver: a curve of less than two yards is straight (our convention).
    pub fn shape(&self) -> Option<ShotShape> {
        let right = self.longest()?.shot.curve?.0;
        Some(if right.abs() < 2.0 {
            ShotShape::Straight
        } else if (right > 0.0) == (self.hand == Hand::Right) {
            ShotShape::Fade
        } else {
            ShotShape::Draw
        })
    }
}
