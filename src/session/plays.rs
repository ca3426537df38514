//! What distances from a spot play like today, for a player.

use super::Session;
use crate::ground::Point;
use crate::round::Ability;
use crate::today::{Player, PlaysLike, place_of};

/// A distance that plays like another by less than this is not worth a line, yards.
const WORTH_SAYING: f64 = 1.0;

impl Session {
    /// What the front, the hole (or the middle) and the back of the green play like from a spot; empty in play under the Rules (4.3a),
    /// where nothing is known that changes them, and where no full club carries there.
    pub fn plays_like(&self, position: usize, player: usize, from: Point) -> Vec<(&'static str, PlaysLike)> {
        let known = || {
            let course = self.course.as_ref()?;
            let hole = course.hole(*self.order.get(position)?)?;
            let person = self.people.get(player)?;
            Some((course, hole, hole.ground.green.as_ref()?, person, self.today_here()?))
        };
        let Some((course, hole, green, person, day)) = known() else { return Vec::new() };
        if self.why_not(Ability::PlaysLike).is_some() || green.outline.contains(from) {
            return Vec::new();
        }
        let Some((longest, _)) = person.driver_carry() else { return Vec::new() };
        let player = Player { longest, measured: person.measured };
        let cut = self.day.as_ref().and_then(|(sheet, _)| sheet.hole_location(hole.number));
        let middle = match cut {
            Some(location) => ("hole", place_of(green, location, course.units)),
            None => ("middle", green.middle),
        };
        let found: Vec<(&'static str, PlaysLike)> = [("front", green.front_point), middle, ("back", green.back_point)]
            .into_iter()
            .filter_map(|(name, to)| Some((name, PlaysLike::new(&day, hole, &player, from, to).ok()?)))
            .collect();
        let worth =
            found.iter().any(|(_, p)| (p.plays - p.distance).abs() >= WORTH_SAYING || p.drift.abs() >= WORTH_SAYING);
        if worth { found } else { Vec::new() }
    }
}
