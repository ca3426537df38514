//! The Bag page.

use super::pages::*;
use super::why::*;
use super::{Act, Command};

/// The table.
pub const TABLE: &[Command] = &[
    Command {
        act: Act::EditNumber,
        name: "bag-edit",
        title: "Change the number",
        hint: "change",
        sentence: "Opens the number under the cursor for typing; Enter keeps it, an empty one is assumed again.",
        keys: &["Enter"],
        pages: BAG,
        why_not: needs_player_file,
    },
    Command {
        act: Act::TypeNumber,
        name: "bag-type",
        title: "Type a number",
        hint: "",
        sentence: "Begins a new number under the cursor with this digit.",
        keys: &["0", "1", "2", "3", "4", "5", "6", "7", "8", "9"],
        pages: BAG,
        why_not: needs_player_file,
    },
    Command {
        act: Act::ClearNumber,
        name: "bag-clear",
        title: "Leave it to be assumed",
        hint: "",
        sentence: "Takes the number under the cursor out of the player's file: it is assumed again.",
        keys: &["Backspace", "Delete"],
        pages: BAG,
        why_not: needs_player_file,
    },
    Command {
        act: Act::AddClub,
        name: "bag-add",
        title: "Add a club",
        hint: "add",
        sentence: "Adds a club to the bag by its name.",
        keys: &["a"],
        pages: BAG,
        why_not: needs_player_file,
    },
    Command {
        act: Act::RemoveClub,
        name: "bag-remove",
        title: "Take a club out",
        hint: "out",
        sentence: "Takes the club under the cursor out of the bag and of the player's file.",
        keys: &["x"],
        pages: BAG,
        why_not: needs_player_file,
    },
    Command {
        act: Act::NumberLeft,
        name: "bag-left",
        title: "Number to the left",
        hint: "",
        sentence: "Moves to the number on the left.",
        keys: &["Left", "h"],
        pages: BAG,
        why_not: always,
    },
    Command {
        act: Act::NumberRight,
        name: "bag-right",
        title: "Number to the right",
        hint: "",
        sentence: "Moves to the number on the right.",
        keys: &["Right", "l"],
        pages: BAG,
        why_not: always,
    },
];
