//! A club on a day, tabulated: carry, side and run for every direction of play, for a solver that asks a million times.

use super::air::{Air, Wind};
use super::family::Club;
use super::run::{Ground, Slope, run};
use super::trajectory::{SHOWN_STEP_S, fly_to_levels};

/// Directions of the wind.
const TURNS: usize = 24;
/// Heights of the landing above the ball, m, highest first: closer where the path is flat.
const RISES_M: [f64; 17] =
    [40.0, 32.0, 26.0, 21.0, 17.0, 14.0, 11.5, 9.0, 7.0, 5.0, 2.5, 0.0, -5.0, -11.0, -18.0, -27.0, -40.0];

/// Where a shot lands and where it ends on level ground, m.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct DayShot {
    /// Carry along the line of play.
    pub carry_m: f64,
    /// Side of the landing, right positive.
    pub side_m: f64,
    /// Run after the landing, along the line of play.
    pub run_m: f64,
    /// Side gained in the run, right positive.
    pub run_side_m: f64,
}

impl DayShot {
    fn mixed(parts: &[(DayShot, f64)]) -> DayShot {
        let sum = |f: fn(&DayShot) -> f64| parts.iter().map(|(s, w)| f(s) * w).sum();
        DayShot {
            carry_m: sum(|s| s.carry_m),
            side_m: sum(|s| s.side_m),
            run_m: sum(|s| s.run_m),
            run_side_m: sum(|s| s.run_side_m),
        }
    }
}

/// A club in the air of a day, tabulated over the direction of the wind and the height of the landing.
#[derive(Clone, Debug, PartialEq)]
pub struct DayClub {
    /// One row a direction (a single one when it is still), one column a height; `None` above the flight.
    table: Vec<[Option<DayShot>; RISES_M.len()]>,
    still: bool,
}

impl DayClub {
    /// Tabulates a club: its flights are integrated, its runs followed, in `air`, whose wind counts by its speed alone.
    pub fn new(club: &Club, air: &Air, ground: &Ground) -> DayClub {
        let speed = air.wind.speed_m_s();
        let still = speed < 1e-9;
        let turns = if still { 1 } else { TURNS };
        let table = (0..turns)
            .map(|i| {
                let wind =
                    Wind { roughness_m: air.wind.roughness_m, ..Wind::from(speed, 360.0 * i as f64 / TURNS as f64) };
                let air = air.with_wind(if still { Wind::STILL } else { wind });
                fly_to_levels(&club.launch, &air, &RISES_M, SHOWN_STEP_S).map(|landing| {
                    let l = landing?;
                    let r = run(&l, ground, Slope::LEVEL);
                    Some(DayShot { carry_m: l.carry_m, side_m: l.side_m, run_m: r.run_m, run_side_m: r.side_m })
                })
            })
            .collect();
        DayClub { table, still }
    }

    /// The shot when the wind blows from `from_deg` (clockwise from the line of play: 0 in the face) and the landing lies
    /// `rise_m` above the ball. `None` when that is above the flight; heights are held within 40 m.
    pub fn shot(&self, from_deg: f64, rise_m: f64) -> Option<DayShot> {
        let rise = rise_m.clamp(RISES_M[RISES_M.len() - 1], RISES_M[0]);
        let low = RISES_M.partition_point(|r| *r > rise).clamp(1, RISES_M.len() - 1);
        let (a, b) = (*RISES_M.get(low)?, *RISES_M.get(low - 1)?);
        let f = (rise - a) / (b - a);
        let at = |turn: usize, column: usize| *self.table.get(turn % self.table.len())?.get(column)?;
        let level = |turn: usize| -> Option<DayShot> {
            let below = at(turn, low)?;
            if f == 0.0 {
                return Some(below);
            }
            Some(DayShot::mixed(&[(below, 1.0 - f), (at(turn, low - 1)?, f)]))
        };
        if self.still {
            return level(0);
        }
        let at = from_deg.rem_euclid(360.0) / 360.0 * TURNS as f64;
        let i = at.floor() as usize;
        let t = at - at.floor();
        // A cubic through four directions (Catmull and Rom 1974): winds turn carry and side as sines.
        let (t2, t3) = (t * t, t * t * t);
        Some(DayShot::mixed(&[
            (level(i + TURNS - 1)?, -0.5 * t + t2 - 0.5 * t3),
            (level(i)?, 1.0 - 2.5 * t2 + 1.5 * t3),
            (level(i + 1)?, 0.5 * t + 2.0 * t2 - 1.5 * t3),
            (level(i + 2)?, -0.5 * t2 + 0.5 * t3),
        ]))
    }
}
