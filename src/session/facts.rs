//! What is known of a player on a hole today, for the `when` blocks.

use super::Session;
use crate::course::{Applies, Course, Facts, Written, applies};
use crate::sheet::{Golfer, Standing};
use crate::units::LengthUnit;

impl Session {
    /// Answers whether a written thing applies to `golfer` on hole `number`.
    pub(super) fn asks(
        &self,
        _course: &Course,
        number: u8,
        golfer: &Golfer,
        strokes: i32,
        units: LengthUnit,
    ) -> impl Fn(&Written) -> Standing + use<> {
        let facts = Facts {
            tee: golfer.tee.clone(),
            carry: golfer.carry,
            playing_handicap: golfer.course_handicap.map(|_| golfer.playing_handicap),
            strokes,
            hole_location: self.day.as_ref().and_then(|(day, _)| day.area(number)),
            wind: None,
            shape: golfer.shape,
            hand: golfer.hand,
            player: golfer.name.clone(),
            units,
        };
        move |written| match applies(&written.when, &facts) {
            Applies::Yes => Standing::Applies,
            Applies::No(why) => Standing::Not(why),
            Applies::Unknown(condition) => Standing::Depends(condition),
        }
    }
}
