//! The first key of every file: `format: KIND/1`.

use super::{FORMAT_MISSING, LATER_FORMAT, Reader, UNKNOWN_FORMAT, WRONG_KIND, quoted};
use crate::notebook::{Kind, Node, did_you_mean};

/// A kind of file that a person owns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileKind {
    /// A course notebook.
    CourseNotebook,
    /// One person's additions to a notebook.
    NotebookLayer,
    /// A player.
    Player,
    /// A day sheet.
    DaySheet,
    /// A competition.
    Competition,
    /// One keying of a card.
    Keying,
    /// A ruling.
    Ruling,
    /// A dated change to a field.
    Change,
}

impl FileKind {
    /// Every kind with the word of its format and what people call it.
    pub const ALL: [(Self, &'static str, &'static str); 8] = [
        (Self::CourseNotebook, "course-notebook", "a course notebook"),
        (Self::NotebookLayer, "notebook-layer", "a layer of a notebook"),
        (Self::Player, "player", "a player"),
        (Self::DaySheet, "day-sheet", "a day sheet"),
        (Self::Competition, "competition", "a competition"),
        (Self::Keying, "keying", "a keying of a card"),
        (Self::Ruling, "ruling", "a ruling"),
        (Self::Change, "change", "a change to a field"),
    ];

    fn entry(self) -> (Self, &'static str, &'static str) {
        Self::ALL.into_iter().find(|(kind, ..)| *kind == self).unwrap_or((self, "", ""))
    }

    /// The word of its format, `course-notebook`.
    pub fn word(self) -> &'static str {
        self.entry().1
    }

    /// What people call it, `a course notebook`.
    pub fn called(self) -> &'static str {
        self.entry().2
    }

    /// The kind that a `format` names, whatever its version.
    pub fn of_format(format: &str) -> Option<Self> {
        let word = format.split('/').next()?.trim();
        Self::ALL.into_iter().find(|(_, known, _)| *known == word).map(|(kind, ..)| kind)
    }
}

impl Reader {
    /// Checks `format` and tells whether the rest can be read as `kind`. Sets [`Reader::later`].
    pub fn preamble(&mut self, root: &Node, kind: FileKind) -> bool {
        let example = format!("`format: {}/1`", kind.word());
        let Kind::Map(entries) = &root.kind else {
            if root.kind != Kind::Broken {
                let message = format!("this is not {}", kind.called());
                self.error(FORMAT_MISSING, root.span, message, format!("begin the file with {example}"));
            }
            return false;
        };
        let Some((place, entry)) = entries.iter().enumerate().find(|(_, e)| e.key == "format") else {
            let span = entries.first().map_or(root.span, |e| e.key_span);
            let message = "the file does not say its format";
            self.error(FORMAT_MISSING, span, message, format!("make {example} its first line"));
            // The keys themselves tell whether the rest is worth reading.
            return true;
        };
        if place > 0 {
            let message = "`format` is not the first key";
            self.error(FORMAT_MISSING, entry.key_span, message, format!("make {example} the first line"));
        }
        let Some(text) = self.raw(&entry.value, "format") else { return true };
        let (word, version) = text.split_once('/').unwrap_or((text, ""));
        match FileKind::of_format(word) {
            Some(found) if found != kind => {
                let message = format!("this is {}, not {}", found.called(), kind.called());
                self.error(WRONG_KIND, entry.value.span, message, format!("{} begins with {example}", kind.called()));
                false
            }
            Some(_) if version == "1" => true,
            Some(_) if is_later(version) => {
                self.later = true;
                let message = format!("written for a later marram ({})", quoted(text));
                let advice = "it is opened to read and never rewritten; what is new in it is passed over";
                self.warning(LATER_FORMAT, entry.value.span, message, advice);
                true
            }
            _ => {
                let known: Vec<String> = FileKind::ALL.iter().map(|(_, word, _)| format!("{word}/1")).collect();
                let message = format!("unknown format {}; {} begins with {example}", quoted(text), kind.called());
                self.error(UNKNOWN_FORMAT, entry.value.span, message, did_you_mean(text, &known));
                false
            }
        }
    }
}

/// `1.1`, `1.2.3`: what a later marram of the same kind would write.
fn is_later(version: &str) -> bool {
    version
        .strip_prefix("1.")
        .is_some_and(|rest| !rest.is_empty() && rest.bytes().all(|b| b.is_ascii_digit() || b == b'.'))
}
