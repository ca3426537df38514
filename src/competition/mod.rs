//! Entries, cards, totals and ties as plain values.
//!
//! Readers (`read`) turn a competition's files into values; [`total()`] makes cards, handicaps, places and proofs of them;
//! `show` writes results. Nothing here touches a file or the clock.

pub mod board;
pub mod cards;
pub mod codes;
mod draws;
pub mod effect;
pub mod entries;
pub mod handicaps;
pub mod issue;
pub mod late;
pub mod merit;
pub mod needs;
mod order;
pub mod pad;
pub mod proof;
pub mod ratings;
pub mod read;
pub mod result;
pub mod setup;
pub mod setup_rows;
pub mod show;
pub mod total;
pub mod units;
pub mod values;
pub mod words;
pub mod write;

pub use total::{Totals, total};

use crate::course::Course;
use setup::Setup;
use std::collections::BTreeMap;
use values::{Change, Entrant, Keying, Ruling, SideEntry};

/// A competition as its files say it.
#[derive(Clone, Debug)]
pub struct Competition {
    /// The set-up.
    pub setup: Setup,
    /// The course.
    pub course: Course,
    /// The field as it was entered.
    pub field: Vec<Entrant>,
    /// Sides by the file they stand in; those of the field's column `team` under an empty name.
    pub sides: BTreeMap<String, Vec<SideEntry>>,
    /// Keyings.
    pub keyings: Vec<Keying>,
    /// Rulings.
    pub rulings: Vec<Ruling>,
    /// Late acts.
    pub changes: Vec<Change>,
}
