//! What the Bag page remembers: the cursor, the text field, and the edits that can be taken back.

use super::State;
use crate::notebook::edit::Edit;
use crate::player::Number;
use tui_input::Input;

/// The Bag page.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BagScreen {
    /// The row under the cursor.
    pub row: usize,
    /// The number under the cursor, as a position in [`Number::ALL`].
    pub column: usize,
    /// How often the words under the table were turned on.
    pub page: usize,
    /// The text field, when one is open.
    pub field: Option<Field>,
}

/// A text field over the page.
#[derive(Clone, Debug)]
pub struct Field {
    /// What is typed.
    pub input: Input,
    /// What it is for.
    pub what: FieldFor,
    /// Why what was typed cannot be kept.
    pub message: Option<String>,
}

/// What a text field is for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FieldFor {
    /// A number of a club.
    Number(String, Number),
    /// The name of a new club.
    NewClub,
}

impl PartialEq for Field {
    fn eq(&self, other: &Self) -> bool {
        self.what == other.what
            && self.message == other.message
            && self.input.value() == other.input.value()
            && self.input.cursor() == other.input.cursor()
    }
}

impl Eq for Field {}

impl BagScreen {
    /// The number under the cursor.
    pub fn number(&self) -> Number {
        Number::ALL.get(self.column).copied().unwrap_or(Number::Carry)
    }
}

/// Changes to a player's file that can be taken back or made again, each as the edits that do it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BagEdits {
    /// The file they belong to.
    pub file: String,
    /// The edits that take a change back, the last change last.
    pub undo: Vec<Vec<Edit>>,
    /// The edits that make one again.
    pub redo: Vec<Vec<Edit>>,
}

impl BagEdits {
    fn of_this(&self, state: &State) -> bool {
        state.session.player_file(state.player).is_some_and(|f| f.name == self.file)
    }

    /// Why nothing can be taken back.
    pub fn why_no_undo(&self, state: &State) -> Option<String> {
        (self.undo.is_empty() || !self.of_this(state)).then(|| "Nothing has been changed in this bag yet.".to_owned())
    }

    /// Why nothing can be made again.
    pub fn why_no_redo(&self, state: &State) -> Option<String> {
        (self.redo.is_empty() || !self.of_this(state)).then(|| "Nothing has been undone in this bag.".to_owned())
    }
}

impl State {
    /// The Bag page, wherever it lies in the stack.
    pub fn bag_screen(&self) -> Option<&BagScreen> {
        self.screens.iter().rev().find_map(|s| if let super::Screen::Bag(bag) = s { Some(bag) } else { None })
    }

    /// The Bag page, to be changed.
    pub fn bag_screen_mut(&mut self) -> Option<&mut BagScreen> {
        self.screens.iter_mut().rev().find_map(|s| if let super::Screen::Bag(bag) = s { Some(bag) } else { None })
    }
}
