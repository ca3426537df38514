//! What a distance plays like: the club to choose in the conditions of the day, with its band.

use super::air::family;
use super::day::{Day, Reference};
use super::heights::Heights;
use crate::course::Hole;
use crate::flight::{Air, BAND_PCT, No};
use crate::ground::Point;

const YARD_M: f64 = 0.9144;

/// Who asks, in yards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Player {
    /// The longest carry.
    pub longest: f64,
    /// The air in which carries hold.
    pub measured: Reference,
}

/// A distance and what it plays like, yards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlaysLike {
    /// Straight and level.
    pub distance: f64,
    /// The carry to choose, as the player knows it.
    pub plays: f64,
    /// Half the width of its band.
    pub band: f64,
    /// Of it, what height makes.
    pub height: f64,
    /// How far right the wind takes it.
    pub drift: f64,
}

impl PlaysLike {
    /// What `from` to `to` plays like on `hole`; why not where no club carries there.
    ///
    /// # Errors
    /// In a sentence: no club reaches, or a part swing is needed.
    pub fn new(
        day: &Day,
        hole: &Hole,
        heights: &Heights,
        player: &Player,
        from: Point,
        to: Point,
    ) -> Result<Self, String> {
        let way = to - from;
        let distance = way.length();
        let rise_m = (heights.at(to) - heights.at(from)) * YARD_M;
        let (there, _) = day.densities(&player.measured);
        let there = Air::still(there);
        let air = day.air(&player.measured, hole, way.degrees());
        let family = family(player.longest * YARD_M, &there).ok_or("no flight fits this driver")?;
        let target_m = distance * YARD_M;
        let choose = |air: &Air, rise: f64| -> Result<(f64, f64), No> {
            let club = family.effective_club(target_m, air, rise)?;
            // The carry as the player knows it: in the air where it was measured.
            let known = club.change(&there, 0.0)?.landing.carry_m;
            Ok((known / YARD_M, club.change(air, rise)?.landing.side_m / YARD_M))
        };
        match choose(&air, rise_m) {
            Ok((plays, drift)) => {
                let level = choose(&air, 0.0).map_or(plays, |(plays, _)| plays);
                Ok(Self {
                    distance,
                    plays,
                    band: (plays - distance).abs() * BAND_PCT / 100.0,
                    height: plays - level,
                    drift,
                })
            }
            Err(No::Short { longest_m }) => {
                Err(format!("no club carries it: the longest carries {:.0}", longest_m / YARD_M))
            }
            Err(No::Long { shortest_m }) => {
                Err(format!("a part swing: the shortest full one carries {:.0}", shortest_m / YARD_M))
            }
            Err(other @ No::AboveApex { .. }) => Err(other.to_string()),
        }
    }
}
