//! What people ask of a course: a hole by number, par and length, the order of a circuit, ratings, stroke indexes.

use super::model::{Card, Circuit, Course, Hole, HoleTee, Rating, TeeRating, TeeSet};
use crate::units::TeeOrigin;

impl Course {
    /// The course with nothing of its holes: what one hole's plan needs to know of it.
    #[must_use]
    pub fn without_holes(&self) -> Self {
        Self {
            name: self.name.clone(),
            units: self.units,
            elevation: self.elevation,
            green_speed: self.green_speed,
            firmness: self.firmness,
            ground: self.ground.clone(),
            edition: self.edition.clone(),
            by: self.by.clone(),
            credit: self.credit.clone(),
            tees: self.tees.clone(),
            circuits: Vec::new(),
            landmarks: self.landmarks.clone(),
            holes: Vec::new(),
            unread: self.unread.clone(),
            read_only: self.read_only,
        }
    }

    /// The hole with this number.
    pub fn hole(&self, number: u8) -> Option<&Hole> {
        self.holes.iter().find(|h| h.number == number)
    }

    /// Advice that says which holes there are.
    pub(crate) fn known_holes(&self) -> String {
        self.holes.last().map_or_else(String::new, |h| format!("its holes go up to {}", h.number))
    }

    /// The tee set with this name.
    pub fn tee(&self, name: &str) -> Option<&TeeSet> {
        self.tees.iter().find(|t| t.name == name)
    }

    /// The tee of a hole for those who play `set`: its own, else that of the next shorter set, else of the next longer one.
    pub fn tee_on<'h>(&self, hole: &'h Hole, set: &str) -> Option<&'h HoleTee> {
        let own = self.tees.iter().position(|t| t.name == set).unwrap_or_default();
        let shorter = self.tees.iter().skip(own);
        let longer = self.tees.iter().take(own).rev();
        shorter.chain(longer).find_map(|t| hole.tee(&t.name)).or_else(|| hole.tees.first())
    }

    /// The circuit with this name.
    pub fn circuit(&self, name: &str) -> Option<&Circuit> {
        self.circuits.iter().find(|c| c.name == name)
    }

    /// Hole numbers in playing order: of the circuit, else all holes in order.
    pub fn playing_order(&self, circuit: Option<&Circuit>) -> Vec<u8> {
        match circuit {
            Some(circuit) => circuit.holes.clone(),
            None => self.holes.iter().map(|h| h.number).collect(),
        }
    }

    /// Holes in playing order. A hole that could not be read is left out.
    pub fn played(&self, circuit: Option<&Circuit>) -> Vec<&Hole> {
        self.playing_order(circuit).iter().filter_map(|n| self.hole(*n)).collect()
    }

    /// Par of the round on `card`; `None` when a hole has none.
    pub fn par(&self, card: Card, circuit: Option<&Circuit>) -> Option<u32> {
        self.whole_round(circuit)?.iter().map(|hole| hole.par.on(card).map(u32::from)).sum()
    }

    /// Length of the round from a tee, yards; `None` when a hole has no such tee.
    pub fn length(&self, tee: &str, circuit: Option<&Circuit>) -> Option<f64> {
        self.whole_round(circuit)?.iter().map(|hole| hole.tee(tee).map(|t| t.length)).sum()
    }

    /// Stroke indexes in playing order on `card`: the circuit's own, else the holes'; `None` when one is missing.
    ///
    /// The second time round, holes of a circuit without its own list repeat their index: it is for the Committee to give
    /// eighteen different ones.
    pub fn stroke_indexes(&self, card: Card, circuit: Option<&Circuit>) -> Option<Vec<u8>> {
        if let Some(own) = circuit.and_then(|c| c.stroke_index.get(card)) {
            return Some(own.clone());
        }
        self.whole_round(circuit)?.iter().map(|hole| hole.stroke_index.on(card)).collect()
    }

    /// The ratings of a tee on `card`, as far as they are known: of the circuit, else of all holes in order.
    pub fn ratings<'c>(&'c self, tee: &str, card: Card, circuit: Option<&'c Circuit>) -> Option<&'c TeeRating> {
        let sets = circuit.map_or(&self.tees, |c| &c.tees);
        sets.iter().find(|set| set.name == tee)?.ratings.get(card)
    }

    /// The rating of the holes from `first` to `last` in playing order, counted from 1: the whole round or one of its nines.
    pub fn rating_of(
        &self,
        tee: &str,
        card: Card,
        circuit: Option<&Circuit>,
        first: usize,
        last: usize,
    ) -> Option<Rating> {
        let ratings = self.ratings(tee, card, circuit)?;
        let count = self.playing_order(circuit).len();
        match (first, last) {
            (1, last) if last == count => Some(ratings.whole),
            (1, 9) => ratings.front_nine,
            (10, 18) => ratings.back_nine,
            _ => None,
        }
    }

    /// The holes of a round when every one of them could be read.
    fn whole_round(&self, circuit: Option<&Circuit>) -> Option<Vec<&Hole>> {
        // A total over some of the holes would be taken for the total.
        if circuit.is_none() && !self.unread.is_empty() {
            return None;
        }
        self.playing_order(circuit).iter().map(|number| self.hole(*number)).collect()
    }
}

impl Hole {
    /// The tee with this name on this hole.
    pub fn tee(&self, name: &str) -> Option<&HoleTee> {
        self.tees.iter().find(|t| t.name == name)
    }

    /// Where a person who plays this tee counts from.
    pub fn origin(&self, tee: &str) -> Option<TeeOrigin> {
        self.tee(tee).map(|t| TeeOrigin(t.at))
    }
}
