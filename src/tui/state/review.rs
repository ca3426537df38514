//! What the Review page and the Shots page remember.

use super::{Screen, State};
use crate::review::propose::Proposal;
use crate::round::{HoleShots, read_shots, write_shots};
use crate::session::Session;
use crate::units::LengthUnit;
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;
use tui_input::Input;

/// The parts of the review.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub enum Tab {
    /// This round.
    #[default]
    Round,
    /// All rounds.
    Season,
    /// What was learnt.
    Learn,
    /// What a target needs.
    Need,
    /// What to practise.
    Practise,
}

impl Tab {
    /// All of them.
    pub const ALL: [Self; 5] = [Self::Round, Self::Season, Self::Learn, Self::Need, Self::Practise];

    /// Its name.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Round => "round",
            Self::Season => "season",
            Self::Learn => "learn",
            Self::Need => "need",
            Self::Practise => "practise",
        }
    }

    /// The next one.
    #[must_use]
    pub const fn next(self) -> Self {
        match self {
            Self::Round => Self::Season,
            Self::Season => Self::Learn,
            Self::Learn => Self::Need,
            Self::Need => Self::Practise,
            Self::Practise => Self::Round,
        }
    }
}

/// What a part shows.
#[derive(Clone, Debug, PartialEq)]
pub enum Content {
    /// It is being worked out.
    Waiting,
    /// Lines, and the proposals that stand at the end of them.
    Lines(Arc<Vec<String>>, Arc<Vec<Proposal>>),
    /// Why there is nothing, in a sentence.
    Nothing(String),
}

/// What is typed on the Review page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Typed {
    /// A target.
    Target,
    /// Another figure than the one proposed.
    Figure,
}

/// What the Review page remembers.
#[derive(Clone, Debug, Default)]
pub struct ReviewScreen {
    /// The part that is shown.
    pub tab: Tab,
    /// Lines turned away above.
    pub scroll: usize,
    /// The proposal under the cursor.
    pub cursor: usize,
    /// What was worked out.
    pub content: BTreeMap<Tab, Content>,
    /// What is being typed.
    pub typing: Option<Typed>,
    /// The text field.
    pub input: Input,
    /// The target as typed last.
    pub target: String,
}

/// What is asked of the edge for the review; what it needs is in it.
#[derive(Clone, Debug, PartialEq)]
pub enum ReviewAsk {
    /// One round, by its log.
    Round(PathBuf, usize),
    /// Every round of a player.
    Season(String),
    /// What was learnt of a player's clubs, whose file is open.
    Learn(Box<Session>, usize),
    /// A target.
    Need(Box<Session>, usize, String),
    /// What to practise for the open course.
    Practise(Box<Session>, usize),
    /// A refusal to be kept.
    Refuse(String, Box<Proposal>),
}

impl ReviewAsk {
    /// The part that the answer belongs to.
    pub const fn tab(&self) -> Tab {
        match self {
            Self::Round(..) => Tab::Round,
            Self::Season(_) => Tab::Season,
            Self::Learn(..) | Self::Refuse(..) => Tab::Learn,
            Self::Need(..) => Tab::Need,
            Self::Practise(..) => Tab::Practise,
        }
    }
}

/// What the Shots page remembers.
#[derive(Clone, Debug, Default)]
pub struct ShotsScreen {
    /// The line of the hole looked at, as it is typed.
    pub input: Input,
}

impl State {
    /// The Review page, when it is open.
    pub fn review_screen(&self) -> Option<&ReviewScreen> {
        self.screens.iter().rev().find_map(|s| if let Screen::Review(screen) = s { Some(&**screen) } else { None })
    }

    /// The same, to be changed.
    pub fn review_screen_mut(&mut self) -> Option<&mut ReviewScreen> {
        self.screens
            .iter_mut()
            .rev()
            .find_map(|s| if let Screen::Review(screen) = s { Some(&mut **screen) } else { None })
    }

    /// The Shots page, when it is open.
    pub fn shots_screen(&self) -> Option<&ShotsScreen> {
        self.screens.iter().rev().find_map(|s| if let Screen::Shots(screen) = s { Some(screen) } else { None })
    }

    /// The proposal under the cursor of the Review page.
    pub fn proposal(&self) -> Option<&Proposal> {
        let screen = self.review_screen()?;
        match screen.content.get(&screen.tab)? {
            Content::Lines(_, proposals) => proposals.get(screen.cursor),
            _ => None,
        }
    }

    /// What is logged of the hole at `position` for the player looked at.
    pub fn logged(&self, position: usize) -> HoleShots {
        self.session.boxes(self.player).get(position).map(|b| b.shots.clone()).unwrap_or_default()
    }

    /// The unit in which lines of shots are typed: the player's own.
    pub fn shot_units(&self) -> LengthUnit {
        self.session.golfers.get(self.player).map(|g| g.units).unwrap_or_default()
    }

    /// The line of shots of a hole as it is logged.
    pub fn logged_line(&self, position: usize) -> String {
        write_shots(&self.logged(position), self.shot_units())
    }

    /// What the typed line means, or what is wrong with it.
    pub fn typed_shots(&self) -> Result<HoleShots, String> {
        let typed = self.shots_screen().map(|s| s.input.value().to_owned()).unwrap_or_default();
        let clubs = self.session.clubs(self.player);
        let clubs: Vec<&str> = clubs.iter().map(String::as_str).collect();
        read_shots(&typed, &clubs, self.shot_units())
    }
}
