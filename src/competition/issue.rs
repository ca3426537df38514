//! What is missing or disagrees in a competition: named, never guessed over.

/// One thing that the desk has to see to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Issue {
    /// Whether the result can be final with it.
    pub weight: Weight,
    /// A stable word, as `mismatch`.
    pub what: &'static str,
    /// The card or entrant.
    pub id: Option<String>,
    /// The name.
    pub name: Option<String>,
    /// The event.
    pub event: Option<String>,
    /// The hole.
    pub hole: Option<u8>,
    /// In one sentence without a full stop.
    pub message: String,
    /// What to do.
    pub advice: String,
}

/// How much an [`Issue`] weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// The result is not final.
    Open,
    /// Somebody should look; the result stands.
    Question,
}

impl Weight {
    /// `open`, `question`.
    pub const fn word(self) -> &'static str {
        match self {
            Weight::Open => "open",
            Weight::Question => "question",
        }
    }
}

impl Issue {
    /// Something without which the result is not final.
    pub fn open(what: &'static str, message: impl Into<String>, advice: impl Into<String>) -> Issue {
        let (message, advice) = (message.into(), advice.into());
        Issue { weight: Weight::Open, what, id: None, name: None, event: None, hole: None, message, advice }
    }

    /// Something to look at.
    pub fn question(what: &'static str, message: impl Into<String>, advice: impl Into<String>) -> Issue {
        Issue { weight: Weight::Question, ..Issue::open(what, message, advice) }
    }

    /// Whom it is about.
    #[must_use]
    pub fn of(mut self, id: &str, name: &str) -> Issue {
        (self.id, self.name) = (Some(id.to_owned()), Some(name.to_owned()));
        self
    }

    /// In which event.
    #[must_use]
    pub fn in_event(mut self, event: &str) -> Issue {
        self.event = Some(event.to_owned());
        self
    }

    /// On which hole.
    #[must_use]
    pub fn on_hole(mut self, hole: u8) -> Issue {
        self.hole = Some(hole);
        self
    }
}
