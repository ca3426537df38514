//! Paper from what is open.

use super::pages::*;
use super::why::*;
use super::{Act, Command};

/// The table.
pub const TABLE: &[Command] = &[Command {
    act: Act::WriteBook,
    name: "book-write",
    title: "Pocket book",
    hint: "book",
    sentence: "Writes the pocket book of the player looked at as a PDF on the shelf, and says where.",
    keys: &["B"],
    pages: PLAYERS,
    why_not: book_allowed,
}];
