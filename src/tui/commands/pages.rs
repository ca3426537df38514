//! The sets of pages on which commands work.

use super::Page;

pub const HOLE: &[Page] = &[Page::Hole];
pub const HOLE_CARD: &[Page] = &[Page::Hole, Page::Card];
pub const BAG: &[Page] = &[Page::Bag];
pub const HOLE_NOTES: &[Page] = &[Page::Hole, Page::Annotate];
pub const HOLE_CARD_NOTES: &[Page] = &[Page::Hole, Page::Card, Page::Annotate];
pub const UNDO: &[Page] = &[Page::Hole, Page::Card, Page::Bag, Page::Day, Page::Annotate, Page::Draw];
pub const HOLE_CARD_BAG: &[Page] = &[Page::Hole, Page::Card, Page::Bag, Page::Day];
pub const MAIN: &[Page] = &[Page::Hole, Page::Card, Page::Shelf, Page::Bag];
pub const WITH_UNITS: &[Page] =
    &[Page::Hole, Page::Card, Page::Shelf, Page::Bag, Page::Day, Page::Green, Page::Measure, Page::Pupils];
pub const LISTS: &[Page] =
    &[Page::Shelf, Page::Bag, Page::Help, Page::Problems, Page::Handicap, Page::Review, Page::Day];
pub const LOOKS: &[Page] = &[
    Page::Hole,
    Page::Card,
    Page::Shelf,
    Page::Bag,
    Page::Handicap,
    Page::Review,
    Page::Day,
    Page::Green,
    Page::Measure,
    Page::Pupils,
    Page::Desk,
    Page::Keying,
    Page::DeskCard,
    Page::Ruling,
    Page::DeskText,
    Page::Scout,
    Page::Merge,
];
pub const PLAYERS: &[Page] = &[Page::Hole, Page::Card, Page::Bag, Page::Handicap];
pub const EVERYWHERE: &[Page] = &[
    Page::Hole,
    Page::Card,
    Page::Shelf,
    Page::Bag,
    Page::Handicap,
    Page::Review,
    Page::Help,
    Page::Problems,
    Page::Day,
    Page::Green,
    Page::Commit,
    Page::Annotate,
    Page::Draw,
    Page::Measure,
    Page::Pupils,
    Page::Desk,
    Page::Keying,
    Page::DeskCard,
    Page::Ruling,
    Page::DeskText,
    Page::Scout,
    Page::Merge,
];
pub const COMMIT: &[Page] = &[Page::Commit];
pub const EVERYWHERE_BUT_OVERLAYS: &[Page] = &[
    Page::Hole,
    Page::Card,
    Page::Shelf,
    Page::Bag,
    Page::Handicap,
    Page::Review,
    Page::Problems,
    Page::Day,
    Page::Green,
    Page::Annotate,
    Page::Draw,
    Page::Measure,
    Page::Pupils,
    Page::Desk,
    Page::Keying,
    Page::DeskCard,
    Page::Ruling,
    Page::DeskText,
    Page::Scout,
    Page::Merge,
];
