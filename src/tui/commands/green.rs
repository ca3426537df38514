//! The Green page.

use super::why::*;
use super::{Act, Command, Page};

/// What the page does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum GreenAct {
    Open,
    Ahead,
    Back,
    Left,
    Right,
    AheadOne,
    BackOne,
    LeftOne,
    RightOne,
    ToLeave,
    Falls,
}

const GREEN: &[Page] = &[Page::Green];

const fn walk(act: GreenAct, name: &'static str, title: &'static str, keys: &'static [&'static str]) -> Command {
    Command {
        act: Act::Green(act),
        name,
        title,
        hint: if matches!(act, GreenAct::Ahead) { "ball" } else { "" },
        sentence: "Moves the ball over the green: by two yards, with Shift by half a yard.",
        keys,
        pages: GREEN,
        why_not: green_read,
    }
}

/// The table.
pub const TABLE: &[Command] = &[
    walk(GreenAct::Ahead, "ball-on", "Ball towards the back", &["Up", "k"]),
    walk(GreenAct::Back, "ball-back", "Ball towards the front", &["Down", "j"]),
    walk(GreenAct::Left, "ball-left", "Ball to the left", &["Left", "h"]),
    walk(GreenAct::Right, "ball-right", "Ball to the right", &["Right", "l"]),
    walk(GreenAct::AheadOne, "ball-on-a-little", "A little towards the back", &["Shift-Up", "K"]),
    walk(GreenAct::BackOne, "ball-back-a-little", "A little towards the front", &["Shift-Down", "J"]),
    walk(GreenAct::LeftOne, "ball-left-a-little", "A little to the left", &["Shift-Left", "H"]),
    walk(GreenAct::RightOne, "ball-right-a-little", "A little to the right", &["Shift-Right", "L"]),
    Command {
        act: Act::Green(GreenAct::ToLeave),
        name: "ball-ideal",
        title: "Ball to the ideal leave",
        hint: "ideal leave",
        sentence: "Puts the ball where the approach is best left.",
        keys: &["t"],
        pages: GREEN,
        why_not: green_read,
    },
    Command {
        act: Act::Green(GreenAct::Falls),
        name: "green-falls",
        title: "Falls or leaves",
        hint: "falls",
        sentence: "Draws the falls of the green, or what a ball there is worth.",
        keys: &["f"],
        pages: GREEN,
        why_not: green_read,
    },
    Command {
        act: Act::Green(GreenAct::Open),
        name: "go-green",
        title: "Green",
        hint: "green",
        sentence: "Opens the green: falls, hole location, edges, what a leave is worth, and the read of a putt; on the Day sheet, of the hole under the cursor.",
        keys: &["g"],
        pages: &[Page::Hole, Page::Day],
        why_not: needs_course,
    },
];
