//! The Day sheet page.

use super::why::*;
use super::{Act, Command, Page};

/// What the page does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum DayAct {
    Open,
    Edit,
    Type,
    Clear,
    Table,
    Export,
}

const DAY: &[Page] = &[Page::Day];

/// The table.
pub const TABLE: &[Command] = &[
    Command {
        act: Act::Day(DayAct::Edit),
        name: "day-edit",
        title: "Change it",
        hint: "change",
        sentence: "Opens what the cursor is on for typing; Enter keeps it and goes on, an empty one comes off the sheet.",
        keys: &["Enter"],
        pages: DAY,
        why_not: day_sheet,
    },
    Command {
        act: Act::Day(DayAct::Type),
        name: "day-type",
        title: "Type it",
        hint: "",
        sentence: "Begins to type where the cursor is: 14 5l is 14 on, 5 from left; f, m and b are front, middle and back.",
        keys: &["0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "f", "m", "b"],
        pages: DAY,
        why_not: day_sheet,
    },
    Command {
        act: Act::Day(DayAct::Clear),
        name: "day-clear",
        title: "Take it off the sheet",
        hint: "",
        sentence: "Takes what the cursor is on off the sheet: it is not known then.",
        keys: &["Backspace", "Delete"],
        pages: DAY,
        why_not: day_sheet,
    },
    Command {
        act: Act::Day(DayAct::Table),
        name: "day-table",
        title: "What a 12-mile wind does",
        hint: "12 mph",
        sentence: "Shows what a wind of twelve miles an hour from today's direction does to each hole, and back.",
        keys: &["t"],
        pages: DAY,
        why_not: needs_course,
    },
    Command {
        act: Act::Day(DayAct::Export),
        name: "day-export",
        title: "Write it as text and CSV",
        hint: "export",
        sentence: "Writes the sheet as plain text and as CSV beside it; text pasted on this page is read into it.",
        keys: &["E"],
        pages: DAY,
        why_not: needs_day,
    },
    Command {
        act: Act::Day(DayAct::Open),
        name: "go-day",
        title: "Day sheet",
        hint: "day",
        sentence: "Opens the day sheet: hole locations, markers, wind, air, greens, format, and what they change.",
        keys: &["d"],
        pages: &[Page::Hole, Page::Card, Page::Green],
        why_not: needs_course,
    },
];
