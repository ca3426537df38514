//! The Pupils page.

use super::why::*;
use super::{Act, Command, Page, pages::HOLE};

/// What the page does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum PupilAct {
    Open,
    Up,
    Down,
    NextList,
}

const PUPILS: &[Page] = &[Page::Pupils];

/// The table.
pub const TABLE: &[Command] = &[
    Command {
        act: Act::Pupils(PupilAct::Open),
        name: "go-pupils",
        title: "Pupils",
        hint: "pupils",
        sentence: "Opens this hole for all pupils of a list: play, price, and the carry at which the play becomes another.",
        keys: &["P"],
        pages: HOLE,
        why_not: live_plan,
    },
    Command {
        act: Act::Pupils(PupilAct::Up),
        name: "pupils-up",
        title: "Up",
        hint: "",
        sentence: "Moves up in the list.",
        keys: &["Up", "k"],
        pages: PUPILS,
        why_not: always,
    },
    Command {
        act: Act::Pupils(PupilAct::Down),
        name: "pupils-down",
        title: "Down",
        hint: "move",
        sentence: "Moves down in the list.",
        keys: &["Down", "j"],
        pages: PUPILS,
        why_not: always,
    },
    Command {
        act: Act::Pupils(PupilAct::NextList),
        name: "pupils-list",
        title: "Next list",
        hint: "other list",
        sentence: "Shows the next list of pupils on the shelf.",
        keys: &["p"],
        pages: PUPILS,
        why_not: always,
    },
];
