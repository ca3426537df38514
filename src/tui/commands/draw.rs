//! The page on which a hole is drawn.

use super::why::*;
use super::{Act, Command, Page, pages::HOLE};
use crate::ground::Surface;
use crate::tui::state::EntryFor;

/// What the page does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum DrawAct {
    Open,
    Type(EntryFor),
    Retype,
    NextShape,
    PreviousShape,
    NextEdge,
    Move(i8, i8),
    Mirror,
    Remove,
    CountFrom,
    NextHole,
    PreviousHole,
    TrueShape,
}

const DRAW: &[Page] = &[Page::Draw];

macro_rules! key {
    ($act:expr, $name:literal, $title:literal, $hint:literal, $keys:expr, $sentence:literal) => {
        Command {
            act: Act::Draw($act),
            name: concat!("draw-", $name),
            title: $title,
            hint: $hint,
            sentence: $sentence,
            keys: $keys,
            pages: DRAW,
            why_not: drawing_allowed,
        }
    };
}

/// The table.
pub const TABLE: &[Command] = &[
    Command {
        act: Act::Draw(DrawAct::Open),
        name: "go-draw",
        title: "Draw the hole",
        hint: "",
        sentence: "Opens the page on which the ground of this hole is drawn by numbers and arrow keys.",
        keys: &["n d"],
        pages: HOLE,
        why_not: drawing_allowed,
    },
    key!(
        DrawAct::Type(EntryFor::Length),
        "length",
        "Length",
        "length",
        &["l"],
        "Types the length of the hole line; the green goes with it."
    ),
    key!(
        DrawAct::Type(EntryFor::Piece(Surface::Fairway)),
        "fairway",
        "Fairway",
        "fairway",
        &["f"],
        "Types a fairway by its stations: 140 16L16R 220 20L18R."
    ),
    key!(
        DrawAct::Type(EntryFor::Piece(Surface::Bunker)),
        "bunker",
        "Bunker",
        "bunker",
        &["b"],
        "Types a bunker: 238 256 13L27L, with a name and steep or shallow if you like."
    ),
    key!(
        DrawAct::Type(EntryFor::Piece(Surface::PenaltyYellow)),
        "penalty",
        "Penalty area",
        "penalty",
        &["p"],
        "Types a penalty area, as a band or as a creek: 0 40R 330 52R 8 red."
    ),
    key!(
        DrawAct::Type(EntryFor::Piece(Surface::Trees)),
        "trees",
        "Trees",
        "trees",
        &["t"],
        "Types trees, as a band or an outline."
    ),
    key!(
        DrawAct::Type(EntryFor::Piece(Surface::Out)),
        "out",
        "Out of bounds",
        "out",
        &["o"],
        "Types out of bounds: 0 440 75L reaches outwards without end."
    ),
    key!(
        DrawAct::Type(EntryFor::Green),
        "green",
        "Green",
        "green",
        &["g"],
        "Types the green: depth and width, with its front before them, its place and its turn behind them."
    ),
    key!(
        DrawAct::Type(EntryFor::Falls),
        "falls",
        "Falls of the green",
        "falls",
        &["F"],
        "Types the fall of the green in per cent and the hour of the clock face towards which it falls."
    ),
    key!(
        DrawAct::Type(EntryFor::Bend),
        "bend",
        "Bend",
        "bend",
        &["B"],
        "Types where the line turns and by how many degrees: 262 18R; 262 0 takes it out."
    ),
    key!(
        DrawAct::Type(EntryFor::Height),
        "height",
        "Height",
        "",
        &["h"],
        "Types how high the ground lies at a place against the start of the line: 262 -4."
    ),
    key!(
        DrawAct::Type(EntryFor::Piece(Surface::Deep)),
        "deep",
        "Long grass",
        "",
        &["d"],
        "Types long grass, heather or bushes."
    ),
    key!(DrawAct::Type(EntryFor::Piece(Surface::Waste)), "waste", "Waste ground", "", &["w"], "Types waste ground."),
    key!(
        DrawAct::Type(EntryFor::Tee),
        "tee",
        "Tee",
        "tee",
        &["T"],
        "Types a tee: its name, its length, its side: Club 401 3L."
    ),
    key!(DrawAct::NextShape, "next", "Next shape", "shape", &["Tab"], "Picks the next shape of the hole."),
    key!(DrawAct::PreviousShape, "previous", "Previous shape", "", &["Shift-Tab"], "Picks the shape before."),
    key!(
        DrawAct::NextEdge,
        "edge",
        "Next edge",
        "edge",
        &["Space"],
        "Picks the next edge of the shape; all of it comes first."
    ),
    key!(DrawAct::Move(1, 0), "ahead", "Move it ahead", "move", &["Right"], "Moves what is picked one ahead."),
    key!(DrawAct::Move(-1, 0), "back", "Move it back", "", &["Left"], "Moves what is picked one back."),
    key!(
        DrawAct::Move(0, -1),
        "left",
        "Move it left",
        "",
        &["Up"],
        "Moves what is picked one to the left, up the drawing."
    ),
    key!(
        DrawAct::Move(0, 1),
        "right",
        "Move it right",
        "",
        &["Down"],
        "Moves what is picked one to the right, down the drawing."
    ),
    key!(DrawAct::Move(5, 0), "ahead-five", "Five ahead", "", &["Shift-Right"], "Moves what is picked five ahead."),
    key!(DrawAct::Move(-5, 0), "back-five", "Five back", "", &["Shift-Left"], "Moves what is picked five back."),
    key!(DrawAct::Move(0, -5), "left-five", "Five left", "", &["Shift-Up"], "Moves what is picked five to the left."),
    key!(
        DrawAct::Move(0, 5),
        "right-five",
        "Five right",
        "",
        &["Shift-Down"],
        "Moves what is picked five to the right."
    ),
    key!(
        DrawAct::Retype,
        "retype",
        "Type it anew",
        "retype",
        &["Enter"],
        "Opens the line of what is picked, to be typed anew."
    ),
    key!(
        DrawAct::Mirror,
        "mirror",
        "Copy to the other side",
        "copy over",
        &["y"],
        "Copies what is picked to the other side of the line."
    ),
    key!(DrawAct::Remove, "remove", "Take it out", "out", &["x", "Delete"], "Takes what is picked out of the sketch."),
    key!(
        DrawAct::CountFrom,
        "count",
        "Count from line or tee",
        "",
        &["c"],
        "Counts figures from the start of the hole line, or from the player's tee."
    ),
    key!(
        DrawAct::TrueShape,
        "true-shape",
        "True shape",
        "",
        &["v"],
        "Turns the drawing between the ribbon and the true shape of the hole."
    ),
    key!(DrawAct::NextHole, "hole-next", "Next hole", "", &[","], "Goes to the next hole."),
    key!(DrawAct::PreviousHole, "hole-previous", "Previous hole", "", &[";"], "Goes to the previous hole."),
    key!(
        DrawAct::Type(EntryFor::NewHole),
        "new-hole",
        "New hole",
        "new hole",
        &["N"],
        "Types a hole more for the notebook: number, par, length, stroke index."
    ),
];
