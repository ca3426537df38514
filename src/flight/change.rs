//! What a carry becomes in other air, wind and height, by full integration: what is shown.

use thiserror::Error;

use super::air::Air;
use super::family::{Club, Family, root};
use super::trajectory::{Landing, SHOWN_STEP_S, fly};

/// Band on every change of a carry, per cent of the change either way.
///
/// # References
/// Published laws of lift and drag, flown from one launch, differ by this much in the change that wind and air make
/// (`docs/physics.md`, "How good is it").
pub const BAND_PCT: f64 = 30.0;

/// Why there is no answer.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum No {
    /// The landing lies above the top of the flight.
    #[error("the landing lies {rise_m:.1} m up, above the top of this flight ({apex_m:.1} m)")]
    AboveApex {
        /// Landing above the ball, m.
        rise_m: f64,
        /// Top of the flight in standard still air, m.
        apex_m: f64,
    },
    /// Even the driver finishes short.
    #[error("no club reaches: the driver carries {longest_m:.1} m here")]
    Short {
        /// The driver's carry in these conditions, m.
        longest_m: f64,
    },
    /// Even the last full wedge flies past.
    #[error("the shortest full swing carries {shortest_m:.1} m here: a part swing is needed")]
    Long {
        /// The last full wedge's carry in these conditions, m.
        shortest_m: f64,
    },
}

/// A club's flight in the conditions of the day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// The flight.
    pub landing: Landing,
    /// Carry here less carry in standard still air over level ground, m.
    pub by_m: f64,
}

impl Change {
    /// Half the width of the band on the carry, m.
    pub fn band_m(&self) -> f64 {
        self.by_m.abs() * BAND_PCT / 100.0
    }

    /// The carry's band, m.
    pub fn carry_band_m(&self) -> (f64, f64) {
        (self.landing.carry_m - self.band_m(), self.landing.carry_m + self.band_m())
    }

    /// Half the width of the band on the side, m.
    pub fn side_band_m(&self) -> f64 {
        self.landing.side_m.abs() * BAND_PCT / 100.0
    }
}

impl Club {
    /// What this club's carry becomes in the air of the day, landing `rise_m` above the ball.
    ///
    /// # Errors
    /// [`No::AboveApex`] when the flight does not get as high as the landing.
    pub fn change(&self, air: &Air, rise_m: f64) -> Result<Change, No> {
        let landing =
            fly(&self.launch, air, rise_m, SHOWN_STEP_S).ok_or(No::AboveApex { rise_m, apex_m: self.still.apex_m })?;
        Ok(Change { landing, by_m: landing.carry_m - self.still.carry_m })
    }
}

impl Family {
    /// What a club's carry becomes in the air of the day. See [`Club::change`].
    ///
    /// # Errors
    /// As [`Club::change`].
    pub fn change(&self, club: &Club, air: &Air, rise_m: f64) -> Result<Change, No> {
        club.change(air, rise_m)
    }

    /// The still-air level shot to choose so that it finishes its carry at `target_m` in these conditions.
    ///
    /// # Errors
    /// No club of the family carries that far, or that short, or the landing is above every flight.
    pub fn effective_m(&self, target_m: f64, air: &Air, rise_m: f64) -> Result<f64, No> {
        self.effective_club(target_m, air, rise_m).map(|c| c.still.carry_m)
    }

    /// The member of the family that [`Family::effective_m`] names.
    ///
    /// # Errors
    /// As [`Family::effective_m`].
    pub fn effective_club(&self, target_m: f64, air: &Air, rise_m: f64) -> Result<Club, No> {
        let carry = |k: f64| fly(&self.launch(k), air, rise_m, SHOWN_STEP_S).map(|l| l.carry_m);
        let (mut first, mut last) = Self::PLACES;
        let longest = self.first_that_lands(&carry, &mut first, last, rise_m)?;
        if longest < target_m {
            return Err(No::Short { longest_m: longest });
        }
        // A high landing may be above the wedges' apex: the far end is then the last club that gets there.
        let mut shortest = carry(last);
        if shortest.is_none() {
            let (mut lands, mut fails) = (first, last);
            for _ in 0..40 {
                let mid = 0.5 * (lands + fails);
                if carry(mid).is_some() { lands = mid } else { fails = mid }
            }
            last = lands;
            shortest = carry(last);
        }
        let shortest = shortest.unwrap_or(longest);
        if shortest > target_m {
            return Err(No::Long { shortest_m: shortest });
        }
        let k = root(
            |k| carry(k).unwrap_or(0.0) - target_m,
            (first, longest - target_m),
            (last, shortest - target_m),
            1e-6,
        );
        self.at(k).ok_or(No::Short { longest_m: longest })
    }

    /// Carry of the longest club whose flight gets as high as the landing; `first` becomes its place.
    fn first_that_lands(
        &self,
        carry: &impl Fn(f64) -> Option<f64>,
        first: &mut f64,
        last: f64,
        rise_m: f64,
    ) -> Result<f64, No> {
        let mut apex_m: f64 = 0.0;
        let mut longest: Option<(f64, f64)> = None;
        for i in 0..=23 {
            let k = *first + (last - *first) * f64::from(i) / 23.0;
            match carry(k) {
                Some(c) if longest.is_none_or(|(_, best)| c > best) => longest = Some((k, c)),
                Some(_) => break,
                None => {
                    if let Some(c) = self.at(k) {
                        apex_m = apex_m.max(c.still.apex_m);
                    }
                }
            }
        }
        let (k, c) = longest.ok_or(No::AboveApex { rise_m, apex_m })?;
        *first = k;
        Ok(c)
    }
}
