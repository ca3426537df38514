//! Notices: one line that says what happened, and stays until the next key.

/// How grave a notice is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// Something went as asked.
    Word,
    /// Something needs a person's eye.
    Warning,
    /// Something failed; nothing typed was lost.
    Failure,
}

/// One line for the person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// How grave.
    pub weight: Weight,
    /// The words.
    pub words: String,
}

impl Notice {
    /// A plain word.
    pub fn word(words: impl Into<String>) -> Self {
        Self { weight: Weight::Word, words: words.into() }
    }

    /// A warning.
    pub fn warning(words: impl Into<String>) -> Self {
        Self { weight: Weight::Warning, words: words.into() }
    }

    /// A failure.
    pub fn failure(words: impl Into<String>) -> Self {
        Self { weight: Weight::Failure, words: words.into() }
    }
}
