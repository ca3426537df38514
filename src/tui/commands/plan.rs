//! The plan on the Hole page: the value of places, every club, formats, what if, commit first, pins.

use super::pages::*;
use super::why::*;
use super::{Act, Command};
use crate::round::Ability;
use crate::tui::state::State;

/// What a command of the plan does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PlanAct {
    /// The value of places over the drawing, or the ground again.
    Map,
    /// The table of every club.
    Clubs,
    /// Formats side by side.
    Compare,
    /// The plan with something changed.
    WhatIf,
    /// Marking a play before the answer shows.
    Commit,
    /// Pins the play looked at.
    Pin,
    /// Looks at the next longer club.
    Longer,
    /// Looks at the next shorter club.
    Shorter,
    /// The Local Rule that forbids distance devices.
    LocalRule,
    /// Marks a longer club.
    MarkLonger,
    /// Marks a shorter club.
    MarkShorter,
    /// Marks a line further left.
    MarkLeft,
    /// Marks a line further right.
    MarkRight,
    /// Marks the side that must not be missed.
    MarkSide,
    /// Commits.
    MarkDone,
}

fn value_map(state: &State) -> Option<String> {
    live_plan_for(state, Ability::ValueMap)
}

fn club_table(state: &State) -> Option<String> {
    live_plan_for(state, Ability::ClubTable)
}

fn compare_formats(state: &State) -> Option<String> {
    live_plan_for(state, Ability::CompareFormats)
}

fn what_if(state: &State) -> Option<String> {
    live_plan_for(state, Ability::WhatIf)
}

fn commit_first(state: &State) -> Option<String> {
    live_plan_for(state, Ability::CommitFirst)
}

fn pattern_from_here(state: &State) -> Option<String> {
    live_plan_for(state, Ability::PatternFromStand)
}

fn pin(state: &State) -> Option<String> {
    live_plan_for(state, Ability::LivePlan)
}

/// What is worked out from a hole needs a hole that can be, and a round that allows it.
fn live_plan_for(state: &State, ability: Ability) -> Option<String> {
    needs_course(state).or_else(|| state.session.why_not(ability)).or_else(|| {
        let key = state.derived.plan_key.as_ref();
        match key {
            None => Some("there is no player to plan for".to_owned()),
            Some(key) => state.plans.why_none(key).map(str::to_owned),
        }
    })
}

/// The table.
pub const TABLE: &[Command] = &[
    Command {
        act: Act::Plan(PlanAct::Clubs),
        name: "plan-clubs",
        title: "Every club",
        hint: "",
        sentence: "Shows every club from here: its line, what it leaves, strokes to come, what it costs, the dangers it finds.",
        keys: &["m c"],
        pages: HOLE,
        why_not: club_table,
    },
    Command {
        act: Act::Plan(PlanAct::Map),
        name: "plan-map",
        title: "Map of values",
        hint: "",
        sentence: "Shows what each place costs against the best one level with it, in tenths of a stroke, or the ground again.",
        keys: &["m m"],
        pages: HOLE,
        why_not: value_map,
    },
    Command {
        act: Act::Plan(PlanAct::Compare),
        name: "plan-formats",
        title: "Formats",
        hint: "",
        sentence: "Shows the plan from the tee for every format side by side.",
        keys: &["m f"],
        pages: HOLE,
        why_not: compare_formats,
    },
    Command {
        act: Act::Plan(PlanAct::WhatIf),
        name: "plan-what-if",
        title: "What if",
        hint: "",
        sentence: "Shows the plan and its strokes with a longer driver, without the left miss, for a scratch player, from other tees.",
        keys: &["m w"],
        pages: HOLE,
        why_not: what_if,
    },
    Command {
        act: Act::Plan(PlanAct::Commit),
        name: "plan-commit",
        title: "Commit first",
        hint: "",
        sentence: "Hides the plan until you have marked club, line and the side not to miss; then shows it with the price of the difference.",
        keys: &["m k"],
        pages: HOLE,
        why_not: commit_first,
    },
    Command {
        act: Act::Plan(PlanAct::Pin),
        name: "plan-pin",
        title: "Pin",
        hint: "",
        sentence: "Pins the play looked at beside the plan, for this player, tee and stand; again takes it away.",
        keys: &["m p"],
        pages: HOLE,
        why_not: pin,
    },
    Command {
        act: Act::Plan(PlanAct::Longer),
        name: "plan-longer-club",
        title: "Longer club",
        hint: "club",
        sentence: "Shows where the next longer club would finish from here.",
        keys: &["["],
        pages: HOLE,
        why_not: pattern_from_here,
    },
    Command {
        act: Act::Plan(PlanAct::Shorter),
        name: "plan-shorter-club",
        title: "Shorter club",
        hint: "",
        sentence: "Shows where the next shorter club would finish from here.",
        keys: &["]"],
        pages: HOLE,
        why_not: pattern_from_here,
    },
    Command {
        act: Act::Plan(PlanAct::LocalRule),
        name: "round-no-distance-devices",
        title: "No distance devices",
        hint: "",
        sentence: "Says that the Committee's Local Rule (model G-5) forbids distance-measuring devices in this round, or that it does not.",
        keys: &["m l"],
        pages: HOLE,
        why_not: needs_open_round,
    },
    Command {
        act: Act::Plan(PlanAct::MarkLonger),
        name: "commit-longer",
        title: "Longer club",
        hint: "",
        sentence: "Marks the next longer club.",
        keys: &["Up", "k"],
        pages: COMMIT,
        why_not: always,
    },
    Command {
        act: Act::Plan(PlanAct::MarkShorter),
        name: "commit-shorter",
        title: "Shorter club",
        hint: "club",
        sentence: "Marks the next shorter club.",
        keys: &["Down", "j"],
        pages: COMMIT,
        why_not: always,
    },
    Command {
        act: Act::Plan(PlanAct::MarkLeft),
        name: "commit-left",
        title: "Further left",
        hint: "",
        sentence: "Marks a line two further left.",
        keys: &["Left", "h"],
        pages: COMMIT,
        why_not: always,
    },
    Command {
        act: Act::Plan(PlanAct::MarkRight),
        name: "commit-right",
        title: "Further right",
        hint: "line",
        sentence: "Marks a line two further right.",
        keys: &["Right", "l"],
        pages: COMMIT,
        why_not: always,
    },
    Command {
        act: Act::Plan(PlanAct::MarkSide),
        name: "commit-side",
        title: "Side not to miss",
        hint: "side",
        sentence: "Marks the side that must not be missed: left, right, neither.",
        keys: &["Tab", "m"],
        pages: COMMIT,
        why_not: always,
    },
    Command {
        act: Act::Plan(PlanAct::MarkDone),
        name: "commit",
        title: "Commit",
        hint: "commit",
        sentence: "Commits to what is marked and shows the plan with the price of the difference; after that goes back.",
        keys: &["Enter"],
        pages: COMMIT,
        why_not: always,
    },
];
