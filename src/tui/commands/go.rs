//! From page to page.

use super::pages::*;
use super::why::*;
use super::{Act, Command, Page};

/// The table.
pub const TABLE: &[Command] = &[
    Command {
        act: Act::OpenHole,
        name: "go-hole",
        title: "Hole page",
        hint: "hole page",
        sentence: "Opens the page of the hole.",
        keys: &["Enter"],
        pages: &[Page::Card],
        why_not: needs_course,
    },
    Command {
        act: Act::OpenCard,
        name: "go-card",
        title: "Card",
        hint: "card",
        sentence: "Opens the whole card.",
        keys: &["c"],
        pages: &[Page::Hole, Page::Shelf, Page::Bag, Page::Handicap],
        why_not: needs_course,
    },
    Command {
        act: Act::OpenShelf,
        name: "go-shelf",
        title: "Shelf",
        hint: "shelf",
        sentence: "Opens the shelf: notebooks, players, rounds in progress.",
        keys: &["s"],
        pages: &[Page::Hole, Page::Card, Page::Bag, Page::Handicap, Page::Desk],
        why_not: always,
    },
    Command {
        act: Act::OpenBag,
        name: "go-bag",
        title: "Bag",
        hint: "bag",
        sentence: "Opens the player's bag: every club with its numbers, where they come from, its scatter to scale.",
        keys: &["b"],
        pages: &[Page::Hole, Page::Card, Page::Shelf],
        why_not: needs_person,
    },
    Command {
        act: Act::OpenHandicap,
        name: "go-handicap",
        title: "Handicap",
        hint: "handicap",
        sentence: "Opens the record of the player with the working of the index; on the shelf, of the player under the cursor.",
        keys: &["i"],
        pages: MAIN,
        why_not: needs_player,
    },
    Command {
        act: Act::TypeScore,
        name: "score-to-come",
        title: "What if",
        hint: "what if",
        sentence: "Types a score to come and shows what it would do to the index.",
        keys: &["w"],
        pages: &[Page::Handicap],
        why_not: needs_record,
    },
    Command {
        act: Act::OpenProblems,
        name: "go-problems",
        title: "Problems",
        hint: "",
        sentence: "Lists every problem of the files that are open, each with its line and what to do.",
        keys: &["e"],
        pages: MAIN,
        why_not: needs_problems,
    },
];
