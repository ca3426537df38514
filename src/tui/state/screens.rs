//! The stack of screens: the top one sees a key first.

use super::{
    AnnotateScreen, BagScreen, CommitScreen, DayScreen, DrawScreen, Finder, GreenScreen, HandicapScreen, MeasureScreen,
    MergeScreen, Panel, PupilsScreen, ReviewScreen, ScoutScreen, ShotsScreen,
};
use crate::plan::Aimed;
use crate::tui::commands::Page;
use crate::units::{Across, Along};

/// What the Hole page remembers.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HoleScreen {
    /// The spot being considered; `None` is the player's tee.
    pub stand: Option<(Along, Across)>,
    /// The true shape instead of the ribbon.
    pub true_shape: bool,
    /// What does not apply is shown too.
    pub all_notes: bool,
    /// How many lines of text are turned away above.
    pub more: usize,
    /// What the plan is for, when another aim than the day's was chosen.
    pub aimed: Option<Aimed>,
    /// Another tee to look from.
    pub tee: Option<String>,
    /// The table over the text.
    pub panel: Option<Panel>,
    /// The value of places is drawn.
    pub map: bool,
    /// The club looked at, when it is another than the plan's.
    pub club: Option<String>,
}

/// A screen over the Hole page.
#[derive(Clone, Debug)]
pub enum Screen {
    /// The whole card.
    Card {
        /// Lines turned away above.
        scroll: usize,
    },
    /// The shelf.
    Shelf {
        /// The item under the cursor.
        cursor: usize,
    },
    /// The player's bag.
    Bag(BagScreen),
    /// The key help of the page below.
    Help {
        /// Lines turned away above.
        scroll: usize,
    },
    /// The finder of the page below.
    Finder(Finder),
    /// The problems of the open files.
    Problems {
        /// Lines turned away above.
        scroll: usize,
    },
    /// A player's record and index.
    Handicap(Box<HandicapScreen>),
    /// The review.
    Review(Box<ReviewScreen>),
    /// The shots of the round.
    Shots(ShotsScreen),
    /// Everything written about a hole.
    Annotate(Box<AnnotateScreen>),
    /// The drawing of a hole.
    Draw(Box<DrawScreen>),
    /// Measuring.
    Measure(Box<MeasureScreen>),
    /// One hole for all pupils.
    Pupils(Box<PupilsScreen>),
    /// What to measure next.
    Scout(Box<ScoutScreen>),
    /// A layer taken into the notebook.
    Merge(Box<MergeScreen>),
    /// The day sheet.
    Day(Box<DayScreen>),
    /// The green.
    Green(GreenScreen),
    /// Marking a play before the answer shows.
    Commit(Box<CommitScreen>),
    /// The competition desk.
    Desk,
    /// A card being keyed.
    Keying,
    /// A card looked at.
    DeskCard,
    /// A ruling being considered.
    Ruling,
    /// A text of the desk.
    DeskText,
}

impl Screen {
    /// The page that its keys belong to.
    pub const fn page(&self) -> Page {
        match self {
            Self::Card { .. } => Page::Card,
            Self::Shelf { .. } => Page::Shelf,
            Self::Bag(_) => Page::Bag,
            Self::Help { .. } => Page::Help,
            Self::Finder(_) => Page::Finder,
            Self::Problems { .. } => Page::Problems,
            Self::Handicap(_) => Page::Handicap,
            Self::Review(_) => Page::Review,
            Self::Shots(_) => Page::Shots,
            Self::Annotate(_) => Page::Annotate,
            Self::Draw(_) => Page::Draw,
            Self::Measure(_) => Page::Measure,
            Self::Pupils(_) => Page::Pupils,
            Self::Scout(_) => Page::Scout,
            Self::Merge(_) => Page::Merge,
            Self::Day(_) => Page::Day,
            Self::Green(_) => Page::Green,
            Self::Commit(_) => Page::Commit,
            Self::Desk => Page::Desk,
            Self::Keying => Page::Keying,
            Self::DeskCard => Page::DeskCard,
            Self::Ruling => Page::Ruling,
            Self::DeskText => Page::DeskText,
        }
    }

    /// Whether a text field is open, so that letters are text and no commands.
    pub fn takes_text(&self) -> bool {
        match self {
            Self::Finder(_) => true,
            Self::Bag(bag) => bag.field.is_some(),
            Self::Handicap(handicap) => handicap.typing,
            Self::Review(review) => review.typing.is_some(),
            Self::Shots(_) => true,
            Self::Day(page) => page.input.is_some(),
            Self::Annotate(page) => page.form.is_some(),
            Self::Draw(page) => page.entry.is_some(),
            Self::Measure(page) => page.marker.is_some(),
            _ => false,
        }
    }
}
