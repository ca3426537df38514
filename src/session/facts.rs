//! What is known of a player on a hole today, for the `when` blocks.

use super::Session;
use crate::course::{Applies, Facts, Hole, Written};
use crate::sheet::{Golfer, Standing};
use crate::units::{Length, LengthUnit};

impl Session {
    /// What is known of `golfer` on `hole` today; `today` is an ISO date.
    pub fn facts<'a>(&'a self, hole: &Hole, golfer: &'a Golfer, strokes: i32, unit: LengthUnit) -> Facts<'a> {
        let day = self.day.as_ref().map(|(day, _)| day);
        Facts {
            tee: &golfer.tee,
            carry: golfer.carry.map(Length::yards),
            carry_assumed: golfer.carry_assumed,
            playing_handicap: golfer.course_handicap.map(|_| golfer.playing_handicap),
            strokes: Some(strokes),
            hole_location: day.zip(self.course.as_ref()).and_then(|(d, course)| d.areas(course, hole)),
            wind: day.and_then(|d| d.wind_on(hole)),
            shape: golfer.shape,
            hand: golfer.hand,
            player: &golfer.name,
            today: Some(&self.today),
            unit,
        }
    }
}

/// How a written thing stands to what is known.
pub fn standing(written: &Written, facts: &Facts<'_>) -> Standing {
    match written.applies(facts) {
        // Met by a figure that nobody gave: the person must see it.
        Applies::Yes if facts.carry_assumed && written.when.carry.is_some() => {
            let carry = facts.carry.unwrap_or_default().show(facts.unit);
            Standing::Assumes(format!("your carry is assumed {carry}"))
        }
        Applies::Yes => Standing::Applies,
        Applies::No(why) => Standing::Not(why),
        Applies::Unknown(condition) => Standing::Depends(condition),
    }
}
