//! The page of measuring.

use super::why::*;
use super::{Act, Command, Page, pages::HOLE};

/// What the page does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum MeasureAct {
    Open,
    Move(i8, i8),
    OtherEnd,
    FromHere,
    Tee,
    Green,
    NextThing,
    Marker,
}

const MEASURE: &[Page] = &[Page::Measure];

macro_rules! key {
    ($act:expr, $name:literal, $title:literal, $hint:literal, $keys:expr, $sentence:literal) => {
        Command {
            act: Act::Measure($act),
            name: concat!("measure-", $name),
            title: $title,
            hint: $hint,
            sentence: $sentence,
            keys: $keys,
            pages: MEASURE,
            why_not: stand_allowed,
        }
    };
}

/// The table.
pub const TABLE: &[Command] = &[
    Command {
        act: Act::Measure(MeasureAct::Open),
        name: "go-measure",
        title: "Measure",
        hint: "",
        sentence: "Measures between two places: distance, what must be carried, gaps, the front edge, a marker.",
        keys: &["n m"],
        pages: HOLE,
        why_not: stand_allowed,
    },
    key!(MeasureAct::Move(5, 0), "ahead", "Five ahead", "move", &["Right", "l"], "Moves the place five ahead."),
    key!(MeasureAct::Move(-5, 0), "back", "Five back", "", &["Left", "h"], "Moves the place five back."),
    key!(MeasureAct::Move(0, -2), "left", "Two left", "", &["Up", "k"], "Moves the place two to the left."),
    key!(MeasureAct::Move(0, 2), "right", "Two right", "", &["Down", "j"], "Moves the place two to the right."),
    key!(MeasureAct::Move(1, 0), "ahead-one", "One ahead", "", &["Shift-Right", "L"], "Moves the place one ahead."),
    key!(MeasureAct::Move(-1, 0), "back-one", "One back", "", &["Shift-Left", "H"], "Moves the place one back."),
    key!(MeasureAct::Move(0, -1), "left-one", "One left", "", &["Shift-Up", "K"], "Moves the place one to the left."),
    key!(
        MeasureAct::Move(0, 1),
        "right-one",
        "One right",
        "",
        &["Shift-Down", "J"],
        "Moves the place one to the right."
    ),
    key!(
        MeasureAct::OtherEnd,
        "other",
        "The other place",
        "other place",
        &["Space", "Tab"],
        "Moves the other of the two places from now on."
    ),
    key!(
        MeasureAct::FromHere,
        "on",
        "On from here",
        "on from here",
        &["Enter"],
        "Measures on from where the moving place is."
    ),
    key!(MeasureAct::Tee, "tee", "To the tee", "tee", &["t"], "Puts the place on the player's tee."),
    key!(
        MeasureAct::Green,
        "green",
        "To the green",
        "green",
        &["g"],
        "Puts the place on the middle of the green; again on its front, then on its back."
    ),
    key!(
        MeasureAct::NextThing,
        "next-thing",
        "Next thing",
        "thing",
        &["w"],
        "Puts the place on the near edge of the next danger, then on its far edge."
    ),
    key!(
        MeasureAct::Marker,
        "marker",
        "A marker",
        "marker",
        &["m"],
        "Types what a distance marker reads at this place: 150, or 150 front."
    ),
];
