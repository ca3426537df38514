//! Every command, declared once: its name, keys, title, hint, sentence, and the reason why it cannot run now.
//!
//! The hint line, the key help, the finder, `marram keys` and `docs/keys.md` are made from this table.

mod annotate;
mod bag;
mod book;
mod common;
pub mod day;
mod desk;
mod draw;
mod go;
pub mod green;
mod hole;
mod measure;
mod pages;
mod plan;
mod pupils;
mod review;
mod score;
mod scout;
mod why;

pub use annotate::NoteAct;
pub use desk::DeskAct;
pub use draw::DrawAct;
pub use measure::MeasureAct;
pub use plan::PlanAct;
pub use pupils::PupilAct;
pub use review::{LogAct, ReviewAct};
pub use scout::{MergeAct, ScoutAct};

use super::state::State;

/// Why the day sheet cannot be changed now.
pub fn why_no_day(state: &State) -> Option<String> {
    why::day_sheet(state)
}

/// The places where keys have a meaning.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Page {
    /// The hole from above, the notes and the card strip.
    Hole,
    /// The whole card.
    Card,
    /// Notebooks, players and rounds.
    Shelf,
    /// The player's clubs.
    Bag,
    /// The key help.
    Help,
    /// The finder of commands.
    Finder,
    /// The problems of the files that are open.
    Problems,
    /// A player's record and the working of the index.
    Handicap,
    /// Plan against play, the season, what to learn.
    Review,
    /// The shots of the round, a line a hole.
    Shots,
    /// Everything written about a hole.
    Annotate,
    /// The drawing of a hole.
    Draw,
    /// Measuring on a hole.
    Measure,
    /// One hole for all pupils.
    Pupils,
    /// What to measure next.
    Scout,
    /// A layer taken into the notebook.
    Merge,
    /// What is known of the day.
    Day,
    /// The putting green.
    Green,
    /// A play marked before the plan shows.
    Commit,
    /// The competition desk.
    Desk,
    /// A card being keyed at the desk.
    Keying,
    /// A card looked at at the desk.
    DeskCard,
    /// A ruling being considered.
    Ruling,
    /// A proof or another text of the desk.
    DeskText,
}

impl Page {
    /// All pages, in the order of the docs.
    pub const ALL: &[Self] = &[
        Self::Hole,
        Self::Green,
        Self::Day,
        Self::Card,
        Self::Shelf,
        Self::Bag,
        Self::Handicap,
        Self::Review,
        Self::Shots,
        Self::Annotate,
        Self::Draw,
        Self::Measure,
        Self::Pupils,
        Self::Desk,
        Self::Keying,
        Self::DeskCard,
        Self::Ruling,
        Self::DeskText,
        Self::Scout,
        Self::Merge,
        Self::Help,
        Self::Finder,
        Self::Problems,
        Self::Commit,
    ];

    /// Its name on screen.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Hole => "Hole",
            Self::Card => "Card",
            Self::Shelf => "Shelf",
            Self::Bag => "Bag",
            Self::Help => "Keys",
            Self::Finder => "Commands",
            Self::Problems => "Problems",
            Self::Handicap => "Handicap",
            Self::Review => "Review",
            Self::Shots => "Shots",
            Self::Annotate => "Notes",
            Self::Draw => "Draw",
            Self::Measure => "Measure",
            Self::Pupils => "Pupils",
            Self::Scout => "Scout's list",
            Self::Merge => "Into the notebook",
            Self::Day => "Day sheet",
            Self::Green => "Green",
            Self::Commit => "Commit first",
            Self::Desk => "Desk",
            Self::Keying => "Keying",
            Self::DeskCard => "Card at the desk",
            Self::Ruling => "Ruling",
            Self::DeskText => "Text at the desk",
        }
    }
}

/// What a command does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Act {
    NextHole,
    PreviousHole,
    StandAhead,
    StandBack,
    StandLeft,
    StandRight,
    StandAheadOne,
    StandBackOne,
    StandLeftOne,
    StandRightOne,
    NextThing,
    PreviousThing,
    StandOnTee,
    Score,
    RaiseScore,
    PickedUp,
    NotPlayed,
    Conceded,
    GiveUp,
    PenaltyStroke,
    ClearScore,
    Undo,
    Redo,
    TrueShape,
    AllNotes,
    MoreNotes,
    NextPlayer,
    LookFromNextTee,
    NextAim,
    Units,
    Ascii,
    Background,
    OpenCard,
    OpenShelf,
    OpenBag,
    NumberLeft,
    NumberRight,
    EditNumber,
    TypeNumber,
    ClearNumber,
    AddClub,
    RemoveClub,
    OpenHole,
    OpenHelp,
    OpenFinder,
    OpenProblems,
    OpenHandicap,
    TypeScore,
    CloseRound,
    Note(NoteAct),
    Draw(DrawAct),
    Measure(MeasureAct),
    Pupils(PupilAct),
    WriteBook,
    Scout(ScoutAct),
    Merge(MergeAct),
    Up,
    Down,
    Choose,
    Review(ReviewAct),
    Log(LogAct),
    Back,
    Day(day::DayAct),
    Green(green::GreenAct),
    Quit,
    /// The plan's own commands.
    Plan(PlanAct),
    Desk(DeskAct),
}

/// One command of the table.
#[derive(Debug)]
pub struct Command {
    /// What it does.
    pub act: Act,
    /// Its name in lower case with hyphens, for the finder and the docs.
    pub name: &'static str,
    /// Its title.
    pub title: &'static str,
    /// One or two words for the hint line; empty keeps it off the line.
    pub hint: &'static str,
    /// What it does, in a sentence.
    pub sentence: &'static str,
    /// The keys; a sequence is written with a blank between its keys.
    pub keys: &'static [&'static str],
    /// Where the keys work.
    pub pages: &'static [Page],
    /// Why it cannot run now, in words; `None` when it can.
    pub why_not: fn(&State) -> Option<String>,
}

/// The tables, each by its own page or purpose, in the order of the docs and the hint line.
#[rustfmt::skip] // A line each, so that pages are added side by side.
const TABLES: &[&[Command]] = &[
    score::TABLE,
    bag::TABLE,
    hole::TABLE,
    plan::TABLE,
    day::TABLE,
    green::TABLE,
    annotate::TABLE,
    draw::TABLE,
    measure::TABLE,
    pupils::TABLE,
    desk::TABLE,
    scout::TABLE,
    review::TABLE,
    go::TABLE,
    book::TABLE,
    common::TABLE,
];

/// Every command.
pub fn all() -> impl Iterator<Item = &'static Command> {
    TABLES.iter().copied().flatten()
}

/// The command that does `act`.
pub fn of(act: Act) -> Option<&'static Command> {
    all().find(|c| c.act == act)
}

/// The keys of a command as people read them: `1–9` for the digits, else joined by a blank word.
pub fn keys_of(command: &Command) -> String {
    if matches!(command.act, Act::Score | Act::Desk(DeskAct::Score)) {
        return "1–9".to_owned();
    }
    if command.act == Act::TypeNumber {
        return "0–9".to_owned();
    }
    if command.act == Act::Day(day::DayAct::Type) {
        return "0–9 or f or m or b".to_owned();
    }
    command.keys.join(" or ")
}

/// `docs/keys.md`, whole. A test regenerates it and fails on a difference.
pub fn markdown() -> String {
    let mut out = String::from(
        "# Keys\n\nMade from the command table of the program (`marram keys --markdown`); a test keeps the two the same.\n\
         A sequence such as `o u` is two keys one after the other; while it is incomplete its continuations are shown.\n",
    );
    for page in Page::ALL.iter().copied() {
        let mut rows = String::new();
        for command in all().filter(|c| c.pages.contains(&page)) {
            rows.push_str(&format!(
                "| {} | {} | {} |\n",
                keys_of(command).replace('|', "\\|"),
                command.title,
                command.sentence
            ));
        }
        if !rows.is_empty() {
            out.push_str(&format!(
                "\n## {}\n\n| keys | command | what it does |\n| --- | --- | --- |\n{rows}",
                page.title()
            ));
        }
    }
    out.push_str("\nIn the finder, letters narrow the list, arrows move, Enter runs, Esc closes.\n");
    out
}

/// The names of all commands with their keys, a line each: what a file of one's own keys is written with.
pub fn names() -> String {
    all().map(|c| format!("{:<24} {:<14} {}\n", c.name, keys_of(c), c.title)).collect()
}

/// The keys as plain lines, for `marram keys`.
pub fn plain() -> String {
    let mut out = String::new();
    for page in Page::ALL.iter().copied() {
        let commands: Vec<_> = all().filter(|c| c.pages.contains(&page)).collect();
        if commands.is_empty() {
            continue;
        }
        out.push_str(&format!("{}\n", page.title()));
        for command in commands {
            out.push_str(&format!("  {:<22} {:<28} {}\n", keys_of(command), command.title, command.sentence));
        }
    }
    out
}
