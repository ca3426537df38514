//! A player's clubs as the pattern takes them.

use crate::pattern::Bag;
use crate::pattern::bag::{BagClub, KnownSwing};
use crate::player::Player;
use crate::session::{ReadFile, Session};
use crate::sheet::BagSheet;

/// The clubs and part swings of a player's file; what it does not say stays open for the pattern to assume.
pub fn bag_of(player: &Player) -> Bag {
    let clubs = player
        .clubs
        .iter()
        .map(|club| BagClub {
            name: club.name.clone(),
            carry: club.shot.carry.map(|l| l.as_yards()),
            run: club.shot.run.map(|l| l.as_yards()),
            curve: club.shot.curve.map(|c| c.0),
            wide: club.shot.two_in_three.map(|s| s.wide.as_yards()),
            deep: club.shot.two_in_three.map(|s| s.deep.as_yards()),
            lean: None,
            mishits: club.shot.mishits,
        })
        .collect();
    let swings = player
        .swings
        .iter()
        .filter_map(|swing| {
            Some(KnownSwing { name: swing.name.clone(), club: swing.club.clone(), carry: swing.shot.carry?.as_yards() })
        })
        .collect();
    Bag { clubs, swings }
}

impl Session {
    /// The bag of a player as it is shown; `None` when there is no such player.
    pub fn bag_sheet(&self, player: usize) -> Option<BagSheet> {
        let person = self.people.get(player)?;
        let index = person.index.map(|i| f64::from(i.value().tenths()) / 10.0);
        Some(BagSheet::new(&person.name, &person.bag, index, &person.skill()))
    }

    /// The names of a player's clubs, the longest first, as the pattern fills them in.
    pub fn clubs(&self, player: usize) -> Vec<String> {
        let Some(person) = self.people.get(player) else { return Vec::new() };
        crate::pattern::bag::complete(&person.bag, &person.skill()).1.into_iter().map(|c| c.name).collect()
    }

    /// The file of a player, as it was read.
    pub fn player_file(&self, player: usize) -> Option<&ReadFile> {
        let reference = self.people.get(player)?.file.as_ref()?;
        self.player_files.iter().find(|f| f.name == reference.file)
    }
}
