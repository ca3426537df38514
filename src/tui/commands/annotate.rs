//! Everything written about a hole: from the Hole page behind `n`, and its own page.

use super::pages::*;
use super::why::*;
use super::{Act, Command, Page};
use crate::course::write::Sort;

/// What the page does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum NoteAct {
    Open,
    Add(Sort),
    Edit,
    Remove,
    MoveHere,
    WhereTo,
    Up,
    Down,
}

const NOTES: &[Page] = &[Page::Annotate];

macro_rules! add {
    ($sort:ident, $name:literal, $title:literal, $hint:literal, $sentence:literal, $from_hole:literal, $here:literal) => {
        [
            Command {
                act: Act::Note(NoteAct::Add(Sort::$sort)),
                name: concat!("add-", $name),
                title: $title,
                hint: "",
                sentence: $sentence,
                keys: &[$from_hole],
                pages: HOLE,
                why_not: needs_course,
            },
            Command {
                act: Act::Note(NoteAct::Add(Sort::$sort)),
                name: concat!("notes-add-", $name),
                title: $title,
                hint: $hint,
                sentence: $sentence,
                keys: &[$here],
                pages: NOTES,
                why_not: needs_course,
            },
        ]
    };
}

const ADD: [[Command; 2]; 6] = [
    add!(Note, "note", "Note", "note", "Writes a note for where the stand is: tee, approach or green.", "n n", "n"),
    add!(Aim, "aim", "Aim point", "aim", "Writes an aim point at the stand.", "n a", "a"),
    add!(
        Danger,
        "danger",
        "Danger",
        "danger",
        "Writes a danger: the ground next to the stand, and its side.",
        "n g",
        "g"
    ),
    add!(Layup, "layup", "Lay-up", "lay-up", "Writes a lay-up at the stand.", "n l", "y"),
    add!(Walk, "walk", "Walk", "walk", "Writes the way in to the green and out of it.", "n w", "i"),
    add!(Caution, "caution", "Caution", "caution", "Writes the hole's line of warning.", "n c", "c"),
];

/// The table.
pub const TABLE: &[Command] = &{
    let [[n1, n2], [a1, a2], [g1, g2], [l1, l2], [w1, w2], [c1, c2]] = ADD;
    [
        n1,
        a1,
        g1,
        l1,
        w1,
        c1,
        Command {
            act: Act::Note(NoteAct::Open),
            name: "go-notes",
            title: "Everything written",
            hint: "",
            sentence: "Opens all that is written about this hole, to be changed, moved and taken out.",
            keys: &["n e"],
            pages: HOLE,
            why_not: needs_course,
        },
        Command {
            act: Act::Note(NoteAct::Edit),
            name: "notes-edit",
            title: "Change it",
            hint: "change",
            sentence: "Opens the thing under the cursor for typing; Enter keeps it, Esc leaves it.",
            keys: &["Enter"],
            pages: NOTES,
            why_not: needs_course,
        },
        n2,
        a2,
        g2,
        l2,
        w2,
        c2,
        Command {
            act: Act::Note(NoteAct::MoveHere),
            name: "notes-move",
            title: "Move it to the stand",
            hint: "move here",
            sentence: "Moves the aim point or lay-up under the cursor to the stand.",
            keys: &["m"],
            pages: NOTES,
            why_not: needs_course,
        },
        Command {
            act: Act::Note(NoteAct::Remove),
            name: "notes-remove",
            title: "Take it out",
            hint: "out",
            sentence: "Takes the thing under the cursor out of its file; in your own layer it hides what the notebook says.",
            keys: &["x", "Delete"],
            pages: NOTES,
            why_not: needs_course,
        },
        Command {
            act: Act::Note(NoteAct::WhereTo),
            name: "notes-where",
            title: "Notebook or own layer",
            hint: "where",
            sentence: "Changes between writing into the notebook and into the player's own layer over it.",
            keys: &["n o"],
            pages: HOLE,
            why_not: own_layer,
        },
        Command {
            act: Act::Note(NoteAct::WhereTo),
            name: "notes-where-here",
            title: "Notebook or own layer",
            hint: "where",
            sentence: "Changes between writing into the notebook and into the player's own layer over it.",
            keys: &["o"],
            pages: NOTES,
            why_not: own_layer,
        },
        Command {
            act: Act::Note(NoteAct::Up),
            name: "notes-up",
            title: "Up",
            hint: "",
            sentence: "Moves up in the list.",
            keys: &["Up", "k"],
            pages: NOTES,
            why_not: always,
        },
        Command {
            act: Act::Note(NoteAct::Down),
            name: "notes-down",
            title: "Down",
            hint: "",
            sentence: "Moves down in the list.",
            keys: &["Down", "j"],
            pages: NOTES,
            why_not: always,
        },
    ]
};
