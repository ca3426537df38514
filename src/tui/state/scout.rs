//! The scout's list as it grows, and a layer's hole as it would come into the notebook.

use super::State;
use crate::plan::Question;
use crate::survey::merge::MergeHole;
use crate::survey::scout::ScoutLine;
use crate::units::digest::Digest;

/// The scout's list.
#[derive(Clone, Debug, Default)]
pub struct ScoutScreen {
    /// The line under the cursor.
    pub cursor: usize,
    /// What was found so far, ranked.
    pub lines: Vec<ScoutLine>,
    /// Holes looked at, of so many.
    pub done: (usize, usize),
    /// Holes that could not be.
    pub left: Vec<String>,
    /// The notebook it is of.
    pub notebook: Option<Digest>,
}

/// The work behind the list: the questions of each hole, this one first.
#[derive(Clone, Debug, PartialEq)]
pub struct ScoutJob {
    /// The notebook it is of.
    pub notebook: Option<Digest>,
    /// Each hole with its players.
    pub holes: Vec<(u8, Vec<(String, Question)>)>,
}

/// The page of merging.
#[derive(Clone, Debug, Default)]
pub struct MergeScreen {
    /// Which layer.
    pub layer: usize,
    /// Which of its holes.
    pub hole: usize,
    /// Lines turned away above.
    pub scroll: usize,
    /// What it would change, or why it cannot be.
    pub shown: Option<Result<MergeHole, String>>,
}

impl State {
    /// The scout's list, wherever it lies in the stack.
    pub fn scout(&self) -> Option<&ScoutScreen> {
        self.screens.iter().rev().find_map(|s| if let super::Screen::Scout(p) = s { Some(&**p) } else { None })
    }

    /// The scout's list, to be changed.
    pub fn scout_mut(&mut self) -> Option<&mut ScoutScreen> {
        self.screens.iter_mut().rev().find_map(|s| if let super::Screen::Scout(p) = s { Some(&mut **p) } else { None })
    }

    /// The page of merging, wherever it lies in the stack.
    pub fn merge(&self) -> Option<&MergeScreen> {
        self.screens.iter().rev().find_map(|s| if let super::Screen::Merge(p) = s { Some(&**p) } else { None })
    }

    /// The page of merging, to be changed.
    pub fn merge_mut(&mut self) -> Option<&mut MergeScreen> {
        self.screens.iter_mut().rev().find_map(|s| if let super::Screen::Merge(p) = s { Some(&mut **p) } else { None })
    }
}
