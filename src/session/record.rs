//! The rated tee at hand, for the scores of a record.

use super::Session;
use crate::course::Card;
use crate::handicap::Holes;
use crate::sheet::{NamedTee, golfer::tee_rating};

impl Session {
    /// The tee of the golfer looked at, rated for `card` over eighteen holes; else another tee of the course that is.
    pub fn rated_tee(&self, player: usize, card: Card) -> Option<NamedTee> {
        let course = self.course.as_ref()?;
        let every: Vec<u8> = course.holes.iter().map(|h| h.number).collect();
        let played = self.order.get(..self.holes()).unwrap_or(&self.order);
        let orders = [played, &every].into_iter().chain(course.circuits.iter().map(|c| c.holes.as_slice()));
        let own = self.golfers.get(player).map(|g| g.tee.as_str());
        let tees: Vec<&str> = own.into_iter().chain(course.tees.iter().map(|t| t.name.as_str())).collect();
        // The player's own tee over any eighteen holes comes before another tee.
        let orders: Vec<&[u8]> = orders.filter(|order| order.len() == 18).collect();
        tees.iter().find_map(|tee| {
            let rating = orders.iter().find_map(|order| tee_rating(course, tee, card, order).ok())?;
            (rating.holes == Holes::Eighteen).then(|| NamedTee {
                name: format!("the {tee} tees"),
                course: course.name.clone(),
                rating,
            })
        })
    }
}
