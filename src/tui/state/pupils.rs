//! The Pupils page: one hole for everybody of a list, filled in behind the screen.

use super::State;
use crate::plan::{Aimed, Question};
use crate::session::Person;
use crate::units::digest::Digest;
use std::path::PathBuf;

/// The page.
#[derive(Clone, Debug, Default)]
pub struct PupilsScreen {
    /// The row under the cursor.
    pub cursor: usize,
    /// The lists that were found: path and name.
    pub lists: Vec<(PathBuf, String)>,
    /// Which of them is shown.
    pub list: usize,
    /// The pupils of it.
    pub people: Vec<Person>,
    /// Lists were asked for and have come.
    pub listed: bool,
    /// Problems of the list, and pupils without a file.
    pub remarks: Vec<String>,
    /// The answers, by pupil.
    pub answers: Vec<Option<Answer>>,
    /// What the answers are of.
    pub key: Option<PupilsKey>,
}

/// What the answers depend on.
#[derive(Clone, Debug, PartialEq)]
pub struct PupilsKey {
    /// The notebook.
    pub notebook: Option<Digest>,
    /// The hole's number.
    pub hole: u8,
    /// What it is for.
    pub aimed: Aimed,
    /// The list.
    pub list: PathBuf,
}

/// What was worked out for one pupil.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// The play, and later the rest.
    Play(Box<PupilPlay>),
    /// Why there is none.
    None(String),
}

/// One pupil's play.
#[derive(Clone, Debug, PartialEq)]
pub struct PupilPlay {
    /// The first shot in a few words: club, line.
    pub play: String,
    /// Mean strokes.
    pub strokes: f64,
    /// The dearest danger by name with its price; `None` while it is worked out, empty name where nothing costs.
    pub price: Option<(String, f64)>,
    /// The carries at which the play becomes another: carry in yards and that play; `None` while it is worked out.
    pub crossings: Option<Vec<(f64, String)>>,
}

/// The job behind the page.
#[derive(Clone, Debug, PartialEq)]
pub struct PupilsJob {
    /// What it is of.
    pub key: PupilsKey,
    /// One question a pupil, with the driver's carry.
    pub questions: Vec<Option<(Question, f64)>>,
}

impl State {
    /// The page, wherever it lies in the stack.
    pub fn pupils(&self) -> Option<&PupilsScreen> {
        self.screens.iter().rev().find_map(|s| if let super::Screen::Pupils(p) = s { Some(&**p) } else { None })
    }

    /// The page, to be changed.
    pub fn pupils_mut(&mut self) -> Option<&mut PupilsScreen> {
        self.screens.iter_mut().rev().find_map(|s| if let super::Screen::Pupils(p) = s { Some(&mut **p) } else { None })
    }
}
