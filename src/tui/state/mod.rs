//! What the screen knows: one owner of everything, derived values kept with what they were made from.

mod annotate;
mod answers;
mod bag;
mod course_edits;
mod day;
mod derived;
mod desk;
mod draw;
pub mod fields;
mod finder;
mod green;
mod handicap;
mod measure;
mod notice;
mod plans;
mod pupils;
mod review;
mod scout;
mod screens;

pub use annotate::{AnnotateScreen, Form, FormField, WrittenThings};
pub use answers::{Answered, Answers, CommitScreen, Panel, Tint, ValueMap};
pub use bag::{BagEdits, BagScreen, Field, FieldFor};
pub use course_edits::{CourseEdits, DoneEdit, MOST_UNDO, Mark, Unsaved, Where};
pub use day::{DayEdits, DayHoles, DayScreen, DayShown};
pub use derived::{Derived, Drawing};
pub use desk::{Desk, Form as DeskForm, FormField as DeskField, FormKind, Part, RulingChoice};
pub use draw::{DrawScreen, Entry, EntryFor, Picked, Sketched, SketchedFrom};
pub use finder::Finder;
pub use green::{GreenScreen, GreenShown, Greens};
pub use handicap::{HandicapScreen, ShelfFile, ShownRecord};
pub use measure::{MeasureScreen, Measured};
pub use notice::{Notice, Weight};
pub use plans::{PlanKey, Plans};
pub use pupils::{Answer, PupilPlay, PupilsJob, PupilsKey, PupilsScreen};
pub use review::{Content, ReviewAsk, ReviewScreen, ShotsScreen, Tab, Typed};
pub use scout::{MergeScreen, ScoutJob, ScoutScreen};
pub use screens::{HoleScreen, Screen};

use super::commands::Page;
use super::keymap::{Key, Keymap};
use super::looks::Looks;
use crate::plan::Pins;
use crate::session::Session;
use crate::shelf::ShelfItem;
use crate::units::LengthUnit;

/// The state of the screen.
#[derive(Clone, Debug)]
pub struct State {
    /// Columns and rows.
    pub size: (u16, u16),
    /// How the terminal is drawn on.
    pub looks: Looks,
    /// What is open.
    pub session: Session,
    /// The position in playing order that is looked at.
    pub position: usize,
    /// The player looked at.
    pub player: usize,
    /// The unit lengths are shown in, when another than the player's was chosen.
    pub units: Option<LengthUnit>,
    /// The stack of screens over the Hole page; the last is on top.
    pub screens: Vec<Screen>,
    /// The Hole page itself, always at the bottom.
    pub hole: HoleScreen,
    /// One line for the person.
    pub notice: Option<Notice>,
    /// The keys of this person.
    pub keymap: Keymap,
    /// The keys of an unfinished sequence.
    pub pending: Vec<Key>,
    /// What lies on the shelf, as last listed.
    pub shelf: Vec<ShelfItem>,
    /// Up to which line of the log everything is synced.
    pub kept: u64,
    /// Today, as `2026-05-16`.
    pub today: String,
    /// What was changed in the player's bag and can be taken back.
    pub bag_edits: BagEdits,
    /// Changes of the notebook and its layers.
    pub course_edits: CourseEdits,
    /// Plans worked out in the background.
    pub plans: Plans,
    /// What was changed on the day sheet and can be taken back.
    pub day_edits: DayEdits,
    /// What the day changes, worked out in the background.
    pub day_holes: DayHoles,
    /// Greens worked out in the background.
    pub greens: Greens,
    /// What the solved hole was asked and answered.
    pub answers: Answers,
    /// Plays that were pinned.
    pub pins: Pins,
    /// The competition desk, when one is open.
    pub desk: Option<Box<Desk>>,
    /// The player whose pocket book is being made.
    pub book: Option<usize>,
    /// The program was opened for the desk, so nothing lies under it.
    pub desk_first: bool,
    /// Values worked out from all of this.
    pub derived: Derived,
}

impl State {
    /// The state at the start, standing where the session says.
    pub fn new(session: Session, size: (u16, u16), looks: Looks, today: String) -> Self {
        let mut state = Self {
            size,
            looks,
            session,
            position: 0,
            player: 0,
            units: None,
            screens: Vec::new(),
            hole: HoleScreen::default(),
            notice: None,
            keymap: Keymap::default(),
            pending: Vec::new(),
            shelf: Vec::new(),
            kept: 0,
            today,
            bag_edits: BagEdits::default(),
            course_edits: CourseEdits::default(),
            plans: Plans::default(),
            day_edits: DayEdits::default(),
            day_holes: DayHoles::default(),
            greens: Greens::default(),
            answers: Answers::default(),
            pins: Pins::default(),
            desk: None,
            book: None,
            desk_first: false,
            derived: Derived::default(),
        };
        state.stand_where_the_round_is();
        state.show_why_nothing_opens();
        state
    }

    /// Goes to the hole on which the round goes on, on its tee.
    pub fn stand_where_the_round_is(&mut self) {
        let place = self.session.round.as_ref().map_or_else(Default::default, |r| r.resume());
        self.position = place.position;
        self.player = place.player;
        if let Some(round) = &self.session.round {
            self.kept = round.next_seq().saturating_sub(1);
        }
        self.hole =
            HoleScreen { all_notes: self.hole.all_notes, true_shape: self.hole.true_shape, ..HoleScreen::default() };
        self.refresh();
    }

    /// Where no hole of a notebook can be read, its problems are what there is to see.
    pub fn show_why_nothing_opens(&mut self) {
        if self.session.course.is_none() && !self.session.problems.is_empty() {
            self.screens.push(Screen::Problems { scroll: 0 });
        }
    }

    /// The page whose keys work now.
    pub fn page(&self) -> Page {
        match self.screens.last() {
            Some(screen) => screen.page(),
            None if self.session.course.is_none() => Page::Shelf,
            None => Page::Hole,
        }
    }

    /// The page under what lies over it (help and finder).
    pub fn page_below(&self) -> Page {
        self.screens
            .iter()
            .rev()
            .map(Screen::page)
            .find(|p| !matches!(p, Page::Help | Page::Finder))
            .unwrap_or(if self.session.course.is_none() { Page::Shelf } else { Page::Hole })
    }

    /// Whether a text field is open, so that letters are text and no commands.
    pub fn takes_text(&self) -> bool {
        self.screens.last().is_some_and(Screen::takes_text)
            || self.desk.as_ref().is_some_and(|desk| desk.form.is_some())
    }

    /// The unit lengths are shown in: the one chosen, else the player's, else the course's.
    pub fn shown_units(&self) -> LengthUnit {
        self.units
            .or_else(|| self.session.golfers.get(self.player).map(|g| g.units))
            .or_else(|| self.session.course.as_ref().map(|c| c.units))
            .unwrap_or_default()
    }

    /// The hole looked at.
    pub fn current_hole(&self) -> Option<&crate::course::Hole> {
        let number = self.session.order.get(self.position)?;
        self.session.course.as_ref()?.holes.iter().find(|h| h.number == *number)
    }

    /// Works everything derived out again.
    pub fn refresh(&mut self) {
        let before = std::mem::take(&mut self.derived);
        self.derived = Derived::of(self, before);
        self.derived.plan_key = self.plan_question().map(|(key, _)| key);
        self.derived.plan = self.shown_plan();
        let written = std::mem::take(&mut self.derived.written);
        self.derived.written =
            if self.annotate().is_some() { self.written_things(written) } else { WrittenThings::default() };
        let sketched = self.derived.sketched.take();
        self.derived.sketched = self.sketched(sketched);
        self.derived.measured = self.measured();
        self.derived.day = DayShown { rows: self.shown_day_rows(), holes: self.shown_day_holes() };
        let green = std::mem::take(&mut self.derived.green);
        self.derived.green = self.shown_green(green);
        self.follow_answers();
    }
}
