//! The round that is open, in its format.

use super::Session;
use crate::scoring::Side;
use crate::sheet::{CardSheet, LiveCard, live::SideName};

impl Session {
    /// The live state in the round's format, `cards` by player as [`Session::cards`] gives them; `None` without a round or
    /// with a plain count of strokes.
    pub fn live(&self, cards: &[CardSheet]) -> Option<LiveCard> {
        let round = self.round.as_ref()?;
        let opening = round.opening();
        let rules = opening.rules_of_play()?;
        let par = |player: usize, position: usize| {
            cards.get(player).and_then(|card| card.lines.get(position)).map_or(4, |line| line.hole.par)
        };
        let sides: Vec<Side> = round.sides(par);
        rules.check(&sides).ok()?;
        let names = opening.sides().into_iter().map(|players| SideName { name: opening.names(&players), players });
        Some(LiveCard::new(rules.as_ref(), opening.terms_words(), &sides, names.collect()))
    }
}
