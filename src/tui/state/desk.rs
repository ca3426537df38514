//! What the Desk remembers: the board as last read, the part looked at, the card being keyed, an open form.

use crate::competition::board::{Board, CardRow};
use crate::competition::cards::CardStatus;
use crate::competition::effect::Outcome;
use crate::competition::pad::Pad;
use crate::competition::setup_rows::SetupRow;
use crate::shelf::{Proof, Seen};
use std::sync::Arc;
use tui_input::Input;

/// The parts of the Desk page, one at a time.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Part {
    /// Every card with its status.
    #[default]
    Cards,
    /// Live orders.
    Live,
    /// The field.
    Field,
    /// Rulings and late acts.
    Acts,
    /// What is missing or disagrees.
    Problems,
    /// The set-up.
    SetUp,
    /// The results as they would be printed.
    Results,
}

impl Part {
    /// All of them in their order.
    pub const ALL: [Part; 7] =
        [Part::Cards, Part::Live, Part::Field, Part::Acts, Part::Problems, Part::SetUp, Part::Results];

    /// Its name.
    pub const fn title(self) -> &'static str {
        match self {
            Part::Cards => "Cards",
            Part::Live => "Live",
            Part::Field => "Field",
            Part::Acts => "Acts",
            Part::Problems => "Problems",
            Part::SetUp => "Set-up",
            Part::Results => "Results",
        }
    }
}

/// A competition's desk.
#[derive(Clone, Debug, Default)]
pub struct Desk {
    /// The folder, as shown.
    pub folder: String,
    /// The board as last read whole.
    pub board: Option<Arc<Board>>,
    /// Problems of the files.
    pub problems: Vec<String>,
    /// How many of them are errors.
    pub errors: usize,
    /// The set-up as rows.
    pub setup: Vec<SetupRow>,
    /// How the latest result stands.
    pub proof: Option<Proof>,
    /// Why the folder cannot be read now.
    pub gone: Option<String>,
    /// The part looked at.
    pub part: Part,
    /// Which line of each part the cursor is on.
    pub cursors: [usize; 7],
    /// Which order of the live part is shown.
    pub order: usize,
    /// Who keys.
    pub keyer: String,
    /// Who decides, as last typed.
    pub by: String,
    /// Cards keyed whose file is not yet on the disk.
    pub waiting: usize,
    /// Why they wait.
    pub trouble: Option<String>,
    /// The card being keyed.
    pub pad: Option<Pad>,
    /// The card looked at: id, round, hole by place.
    pub card: Option<(String, usize, usize)>,
    /// The ruling being considered.
    pub ruling: Option<RulingChoice>,
    /// A text: its title, its lines, lines turned away above.
    pub text: Option<(String, Vec<String>, usize)>,
    /// An open form; it sees every key first.
    pub form: Option<Form>,
}

/// A ruling being considered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RulingChoice {
    /// The card.
    pub id: String,
    /// The round, from 0.
    pub round: usize,
    /// The hole's number.
    pub hole: u8,
    /// Penalty strokes that would be added.
    pub added: u8,
    /// The lawful outcomes with their effects; empty while they are worked out.
    pub outcomes: Vec<Outcome>,
    /// The outcome under the cursor.
    pub cursor: usize,
}

/// A form of a few lines.
#[derive(Clone, Debug, Default)]
pub struct Form {
    /// What it is for.
    pub kind: FormKind,
    /// The heading.
    pub title: String,
    /// Its fields.
    pub fields: Vec<FormField>,
    /// The field that is typed in.
    pub at: usize,
    /// Why it was not taken.
    pub refused: Vec<String>,
}

/// What a form is for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum FormKind {
    /// The keyer's name; then this card is keyed: id, round, the digit that began it.
    #[default]
    Keyer,
    /// As `Keyer`, and a card is keyed next.
    KeyerThen(String, usize, Option<u8>),
    /// Find a card.
    Find,
    /// The ruling that was chosen.
    Ruling,
    /// A late act on a card.
    Act(String),
    /// A lot or play-off: event, division.
    Draw(String, Option<String>),
    /// A list to take over as the field.
    Import,
    /// A new entry.
    Enter,
    /// A value of the set-up.
    Value(Box<SetupRow>),
    /// A new event.
    Event,
    /// The reason for another result.
    Reason,
    /// A new competition.
    New,
}

/// A field of a form.
#[derive(Clone, Debug, Default)]
pub struct FormField {
    /// Its name.
    pub label: &'static str,
    /// What goes in.
    pub hint: &'static str,
    /// What is typed.
    pub input: Input,
    /// What it can be, when it is a choice.
    pub choices: &'static [&'static str],
}

impl FormField {
    /// A field with a text in it.
    pub fn new(label: &'static str, hint: &'static str, value: &str) -> Self {
        FormField { label, hint, input: Input::new(value.to_owned()), choices: &[] }
    }

    /// A choice, the first chosen.
    pub fn choice(label: &'static str, choices: &'static [&'static str]) -> Self {
        let first = choices.first().copied().unwrap_or_default();
        FormField { label, hint: "Left and Right choose", input: Input::new(first.to_owned()), choices }
    }
}

impl Form {
    /// A form.
    pub fn new(kind: FormKind, title: impl Into<String>, fields: Vec<FormField>) -> Self {
        Form { kind, title: title.into(), fields, at: 0, refused: Vec::new() }
    }

    /// What is typed in a field, blanks around it taken away.
    pub fn value(&self, at: usize) -> String {
        self.fields.get(at).map(|f| f.input.value().trim().to_owned()).unwrap_or_default()
    }
}

impl Desk {
    /// Takes a new look over; cursors stay inside.
    pub fn take(&mut self, seen: Seen) {
        if let Some(board) = seen.board {
            // The card under the cursor stays under it while others come and go around it.
            let here = self.row().map(|row| (row.id.clone(), row.round));
            self.board = Some(board);
            if let Some((id, round)) = here
                && let Some(at) = self.rows().iter().position(|row| row.id == id && row.round == round)
                && let Some(cursor) = self.cursors.first_mut()
            {
                *cursor = at;
            }
        }
        self.problems = seen.problems;
        self.errors = seen.errors;
        self.setup = seen.setup;
        self.proof = seen.proof;
        self.gone = None;
        for part in Part::ALL {
            let last = self.length(part).saturating_sub(1);
            if let Some(cursor) = self.cursors.get_mut(part as usize) {
                *cursor = (*cursor).min(last);
            }
        }
        self.order = self.order.min(self.board.as_ref().map_or(0, |b| b.events.len()).saturating_sub(1));
    }

    /// The cards.
    pub fn rows(&self) -> &[CardRow] {
        self.board.as_ref().map_or(&[], |board| &board.cards)
    }

    /// The line of the part looked at under the cursor.
    pub fn cursor(&self) -> usize {
        self.cursors.get(self.part as usize).copied().unwrap_or(0)
    }

    /// How many lines a part has for the cursor.
    pub fn length(&self, part: Part) -> usize {
        let Some(board) = &self.board else {
            return match part {
                Part::Problems => self.problems.len(),
                Part::SetUp => self.setup.len(),
                _ => 0,
            };
        };
        match part {
            Part::Cards => board.cards.len(),
            Part::Live => board.events.get(self.order).map_or(0, |order| order.lines.len()),
            Part::Field => board.field.len(),
            Part::Acts => board.acts.len(),
            Part::Problems => board.issues.len() + self.problems.len(),
            Part::SetUp => self.setup.len(),
            Part::Results => board.notice_board.lines().count(),
        }
    }

    /// The card under the cursor of the cards part.
    pub fn row(&self) -> Option<&CardRow> {
        self.rows().get(self.cursors.first().copied().unwrap_or(0))
    }

    /// The id that the cursor is on, in any part.
    pub fn id_here(&self) -> Option<String> {
        let board = self.board.as_ref()?;
        let at = self.cursor();
        match self.part {
            Part::Cards => self.row().map(|row| row.id.clone()),
            Part::Live => board.events.get(self.order)?.lines.get(at).map(|line| line.id.clone()),
            Part::Field => board.field.get(at).map(|row| row.id.clone()),
            Part::Acts => board.acts.get(at)?.id.clone(),
            Part::Problems => board.issues.get(at)?.id.clone(),
            Part::SetUp | Part::Results => None,
        }
    }

    /// How many keyings a card needs.
    pub fn needed(&self) -> usize {
        self.board.as_ref().map_or(1, |board| board.competition.setup.keyings)
    }

    /// Whether a card waits for this keyer.
    pub fn waits_for_me(&self, row: &CardRow) -> bool {
        let mine = row.keyers.iter().any(|k| k.whole && k.keyer.eq_ignore_ascii_case(&self.keyer));
        row.without_place.is_none()
            && row.status != CardStatus::Confirmed
            && !mine
            && row.whole_keyings() < self.needed()
    }

    /// Whether what another keyer typed is hidden: until enough keyings are whole.
    pub fn is_blind(&self, row: &CardRow) -> bool {
        self.needed() > 1 && row.whole_keyings() < self.needed() && row.status != CardStatus::Confirmed
    }
}
