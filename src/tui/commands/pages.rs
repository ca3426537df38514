//! The sets of pages on which commands work.

use super::Page;

pub const HOLE: &[Page] = &[Page::Hole];
pub const HOLE_CARD: &[Page] = &[Page::Hole, Page::Card];
pub const BAG: &[Page] = &[Page::Bag];
pub const HOLE_CARD_BAG: &[Page] = &[Page::Hole, Page::Card, Page::Bag];
pub const MAIN: &[Page] = &[Page::Hole, Page::Card, Page::Shelf, Page::Bag];
pub const LISTS: &[Page] = &[Page::Shelf, Page::Bag, Page::Help, Page::Problems, Page::Handicap, Page::Review];
pub const LOOKS: &[Page] = &[Page::Hole, Page::Card, Page::Shelf, Page::Bag, Page::Handicap, Page::Review];
pub const PLAYERS: &[Page] = &[Page::Hole, Page::Card, Page::Bag, Page::Handicap];
pub const EVERYWHERE: &[Page] =
    &[Page::Hole, Page::Card, Page::Shelf, Page::Bag, Page::Handicap, Page::Review, Page::Help, Page::Problems];
