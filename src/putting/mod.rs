//! Roll on a slope, capture and read. Knows no course.
//!
//! # Conventions
//! SI units, with the unit in the name. Spots lie in any flat right-handed frame (turning left is turning from x to y);
//! a [`Grade`] is the rise per metre along x and along y. An *aim* or a *break* is positive to the right of the line
//! from ball to hole. Slopes may differ over the green: [`Slopes`] is implemented by [`Plane`], [`Spots`],
//! [`HeightGrid`] and by any `Fn(Spot) -> Grade`.
//!
//! # What to call
//! * [`aim`]: where to start a putt and how hard, by integration; [`closed_form`] is its first-order check.
//! * [`roll`], [`path`]: where a ball goes.
//! * [`chances`]: to hole it, and where the misses lie.
//! * [`LeaveMap`]: expected putts from everywhere around one hole location, computed once.
//! * [`read`]: a putt as a person gives it: length, rise, break in cups with a band, pace.
//!
//! Grain is not modelled: no usable published model exists. `docs/physics.md` gives equations, checks and limits.

mod aim;
mod chance;
mod hole;
mod leave;
mod read;
mod roll;
mod speed;
mod surface;

pub use aim::{Aim, Line, NoAim, aim, aim_at_speed, closed_form, usual_at_hole_m_s, usual_past_m};
pub use chance::{Chances, PuttingSkill, chances};
pub use hole::{CENTRE_CAPTURE_M_S, HOLE_RADIUS_M, capture_speed_m_s, half_width_m};
pub use leave::{LeaveMap, LeaveSetting, LeaveSpot};
pub use read::{Doubt, Read, break_words, profile, read, rise_m};
pub use roll::{Rest, STEP_S, path, roll};
pub use speed::{GreenSpeed, HoleAdvice, SpeedError, brede_stimp_ft, hole_advice};
pub use surface::{Grade, HeightGrid, Plane, Slopes, Spot, Spots};
