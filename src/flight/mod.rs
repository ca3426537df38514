//! Ball flight, bounce and run, air and lie. Knows no course.
//!
//! The room never predicts a carry from a launch. A player tells what a club carries, [`Family`] finds a flight that
//! carries as far, and the room answers what *changes* when the air, the wind, the height of the landing or the lie
//! changes. Every change has a band ([`BAND_PCT`]), because published laws of lift and drag differ by that much.
//!
//! # Conventions
//! SI units, with the unit in the name. A *side* is positive to the right of the line of play, a rise is positive when
//! the ball lands above where it lay. Angles in degrees.
//!
//! # What to call
//! * [`Air`], [`Wind`], [`Weather`]: the day.
//! * [`Family::of_driver`], [`Family::club`]: a player's clubs from two carries.
//! * [`Family::change`], [`Family::effective_m`]: full integration, for what is shown.
//! * [`DayClub`]: a club on a day as a table, for a solver; [`FastClub`]: the same by closed forms, without a table.
//! * [`Ground`], [`run`]: bounce and run.
//! * [`Lie`]: up, down and side hill.
//!
//! `docs/physics.md` gives equations, checks and limits.

mod air;
mod ball;
mod change;
mod day;
mod family;
mod fast;
mod lie;
mod run;
mod trajectory;
mod vector;

pub use air::{
    Air, AirError, DEFAULT_ROUGHNESS_M, GRAVITY_M_S2, ISA_DENSITY_KG_M3, ISA_PRESSURE_PA, Weather, Wind, density_kg_m3,
    station_pressure_pa,
};
pub use ball::{BALL_AREA_M2, BALL_MASS_KG, BALL_RADIUS_M, drag, lift};
pub use change::{BAND_PCT, Change, No};
pub use day::{DayClub, DayShot};
pub use family::{Club, Family, Impact, RangeError, family_start, impact_launch};
pub use fast::{FastClub, fast_change, in_fast_box};
pub use lie::{Hand, Lie};
pub use run::{
    Firmness, Ground, Impulse, MAX_SHOWN_DRAW_BACK_M, NamedGround, Run, RunWords, Slope, impact, restitution, run,
};
pub use trajectory::{Landing, Launch, SHOWN_STEP_S, TracePoint, fly, trace};
