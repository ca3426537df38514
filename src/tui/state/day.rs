//! What the Day sheet page remembers, and what the day was found to change, hole by hole.

use super::{PlanKey, Screen, State};
use crate::course::day_write::Field;
use crate::notebook::edit::Edit;
use crate::plan::HoleToday;
use crate::round::Ability;
use crate::session::DayRow;
use tui_input::Input;

/// The most holes kept: a few days of a course.
const KEPT: usize = 120;

/// The Day sheet page.
#[derive(Clone, Debug, Default)]
pub struct DayScreen {
    /// The row under the cursor.
    pub row: usize,
    /// What is being typed.
    pub input: Option<Input>,
    /// Why what was typed cannot be kept.
    pub message: Option<String>,
    /// The table of a 12-mile wind instead of the holes.
    pub table: bool,
}

/// Changes of the sheet that can be taken back or made again.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DayEdits {
    /// The edits that take a change back, the last change last.
    pub undo: Vec<Vec<Edit>>,
    /// The edits that make one again.
    pub redo: Vec<Vec<Edit>>,
}

/// What the day changes, by what it was worked out from.
#[derive(Clone, Debug, Default)]
pub struct DayHoles {
    made: Vec<(PlanKey, Result<HoleToday, String>)>,
    /// The one that is being worked out.
    pub asked: Option<PlanKey>,
}

impl DayHoles {
    /// What was found for a key.
    pub fn get(&self, key: &PlanKey) -> Option<&Result<HoleToday, String>> {
        self.made.iter().find(|(k, _)| k == key).map(|(_, found)| found)
    }

    /// Keeps what was found.
    pub fn keep(&mut self, key: PlanKey, found: Result<HoleToday, String>) {
        if self.asked.as_ref() == Some(&key) {
            self.asked = None;
        }
        self.made.push((key, found));
        if self.made.len() > KEPT {
            self.made.drain(..1);
        }
    }
}

impl State {
    /// The Day sheet page, wherever it lies in the stack.
    pub fn day_screen(&self) -> Option<&DayScreen> {
        self.screens.iter().rev().find_map(|s| if let Screen::Day(day) = s { Some(&**day) } else { None })
    }

    /// The Day sheet page, to be changed.
    pub fn day_screen_mut(&mut self) -> Option<&mut DayScreen> {
        self.screens.iter_mut().rev().find_map(|s| if let Screen::Day(day) = s { Some(&mut **day) } else { None })
    }

    /// The rows of the page, while it is open.
    pub fn shown_day_rows(&self) -> Vec<DayRow> {
        if self.day_screen().is_none() {
            return Vec::new();
        }
        crate::shelf::day_text(&self.session).map(|text| self.session.day_rows(&text)).unwrap_or_default()
    }

    /// What the day changes on each hole in playing order, as far as it was found.
    pub fn shown_day_holes(&self) -> Vec<(u8, Option<Result<HoleToday, String>>)> {
        if self.day_screen().is_none() {
            return Vec::new();
        }
        let order = self.session.order.iter().enumerate();
        order
            .map(|(position, number)| {
                let found = self.plan_key_at(position).and_then(|key| self.day_holes.get(&key).cloned());
                (*number, found)
            })
            .collect()
    }

    /// The next hole to work out while the page is open: none in play under the Rules, and none without a day sheet.
    pub fn next_day_hole(&self) -> Option<(PlanKey, crate::plan::Question)> {
        let off = self.day_screen().is_none()
            || self.session.day.is_none()
            || self.session.why_not(Ability::LivePlan).is_some()
            || self.day_holes.asked.is_some();
        if off {
            return None;
        }
        let missing =
            |position: &usize| self.plan_key_at(*position).is_some_and(|key| self.day_holes.get(&key).is_none());
        let position = (0..self.session.order.len()).find(missing)?;
        self.plan_question_at(position)
    }

    /// The hole under the cursor of the page, as a position in playing order.
    pub fn day_position(&self) -> Option<usize> {
        let screen = self.day_screen()?;
        let row = self.derived.day.rows.get(screen.row)?;
        let Field::Hole(number) = row.field else { return None };
        self.session.order.iter().position(|n| *n == number)
    }
}

/// What the page shows, worked out from the state.
#[derive(Clone, Debug, Default)]
pub struct DayShown {
    /// Every thing of the sheet.
    pub rows: Vec<DayRow>,
    /// What the day changes, by hole.
    pub holes: Vec<(u8, Option<Result<HoleToday, String>>)>,
}
