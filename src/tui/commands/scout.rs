//! The scout's list, and a layer taken into the notebook.

use super::why::*;
use super::{Act, Command, Page, pages::HOLE};

/// What the scout's list does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum ScoutAct {
    Open,
    Up,
    Down,
    GoThere,
}

/// What the page of merging does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum MergeAct {
    Open,
    NextHole,
    PreviousHole,
    NextLayer,
    Take,
    Up,
    Down,
}

macro_rules! key {
    ($act:expr, $page:expr, $name:literal, $title:literal, $hint:literal, $keys:expr, $why:ident, $sentence:literal) => {
        Command {
            act: $act,
            name: $name,
            title: $title,
            hint: $hint,
            sentence: $sentence,
            keys: $keys,
            pages: $page,
            why_not: $why,
        }
    };
}

const SCOUT: &[Page] = &[Page::Scout];
const MERGE: &[Page] = &[Page::Merge];

/// The table.
#[rustfmt::skip]
pub const TABLE: &[Command] = &[
    key!(Act::Scout(ScoutAct::Open), HOLE, "go-scout", "Scout's list", "", &["n s"], live_plan, "Ranks the numbers that nobody measured by how often a plausible error changes a play: what to pace next."),
    key!(Act::Scout(ScoutAct::Up), SCOUT, "scout-up", "Up", "", &["Up", "k"], always, "Moves up in the list."),
    key!(Act::Scout(ScoutAct::Down), SCOUT, "scout-down", "Down", "move", &["Down", "j"], always, "Moves down in the list."),
    key!(Act::Scout(ScoutAct::GoThere), SCOUT, "scout-go", "Go there", "go there", &["Enter"], always, "Opens the hole with the stand at the place to be measured."),
    key!(Act::Merge(MergeAct::Open), HOLE, "go-merge", "Take a layer in", "", &["n i"], needs_layer, "Shows hole by hole what a layer would change in the notebook, and takes holes in."),
    key!(Act::Merge(MergeAct::NextHole), MERGE, "merge-next", "Next hole", "hole", &["Tab", ","], always, "Shows the next hole of the layer."),
    key!(Act::Merge(MergeAct::PreviousHole), MERGE, "merge-previous", "Previous hole", "", &["Shift-Tab", ";"], always, "Shows the hole before."),
    key!(Act::Merge(MergeAct::NextLayer), MERGE, "merge-layer", "Next layer", "other layer", &["p"], always, "Shows the next layer of this notebook."),
    key!(Act::Merge(MergeAct::Up), MERGE, "merge-up", "Up", "", &["Up", "k"], always, "Turns back."),
    key!(Act::Merge(MergeAct::Down), MERGE, "merge-down", "Down", "turn", &["Down", "j"], always, "Turns on."),
    key!(Act::Merge(MergeAct::Take), MERGE, "merge-take", "Take this hole in", "take it in", &["Enter"], always, "Writes this hole of the layer into the notebook and takes it out of the layer; both are backed up first."),
];
