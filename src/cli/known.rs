//! What is known of the person's own player, for commands where nothing is typed.

use super::World;
use super::values::{Known, Skill};
use crate::course::Card;
use crate::session::bag::bag_of;
use crate::shelf;
use crate::store::{Limit, read_text};

/// The only player on the shelf, else the last used; nothing where there is none or it cannot be read.
pub fn known(world: &World<'_>) -> Known {
    let (settings, _) = world.store.settings();
    let player = shelf::player_for(&world.store, settings.last())
        .and_then(|path| read_text(&path, Limit::YAML).ok())
        .and_then(|file| crate::player::read(&file.text).0);
    let Some(player) = player else { return Known::default() };
    let index = player.index.map(|i| f64::from(i.tenths()) / 10.0);
    let skill = index.map(|index| match player.ratings {
        Card::Men => Skill::Men(index),
        Card::Women => Skill::Women(index),
    });
    // The driver's carry as given, else as the rest of the bag and the index mean it.
    let pattern = || {
        let skill = crate::pattern::Skill::of_index(index?, player.ratings);
        let (_, clubs, _) = crate::pattern::bag::complete(&bag_of(&player), &skill);
        crate::pattern::bag::longest_carry(&clubs).map(|(yards, _)| yards)
    };
    let driver = player.carry().map(|c| c.as_yards()).or_else(pattern);
    Known {
        unit: Some(player.units),
        driver_carry_m: driver.map(|yards| yards * 0.9144),
        skill,
        player: Some(player.name),
    }
}
