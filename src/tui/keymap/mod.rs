//! Keys as people write them, and the labelled tree from key sequences to commands.
//!
//! A look-up answers [`Found::Pending`] (the keys so far begin a sequence; its continuations are shown),
//! [`Found::Command`] or [`Found::Nothing`]. The tree is built from the command table, so it can't disagree with it.

mod own;

use super::commands::{self, Command, Page};
use crate::notebook::Diagnostic;
use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};
use std::fmt;

/// One key press.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Key {
    /// A character as typed: capitals are the shifted ones.
    Char(char),
    /// Control with a lower-case letter.
    Ctrl(char),
    /// Enter.
    Enter,
    /// Escape.
    Esc,
    /// Tab.
    Tab,
    /// Shift and Tab.
    BackTab,
    /// Backspace.
    Backspace,
    /// Delete.
    Delete,
    /// An arrow.
    Up,
    /// See `Up`.
    Down,
    /// See `Up`.
    Left,
    /// See `Up`.
    Right,
    /// An arrow with Shift.
    ShiftUp,
    /// See `ShiftUp`.
    ShiftDown,
    /// See `ShiftUp`.
    ShiftLeft,
    /// See `ShiftUp`.
    ShiftRight,
    /// Home.
    Home,
    /// End.
    End,
    /// Page up.
    PageUp,
    /// Page down.
    PageDown,
}

impl Key {
    /// The key of a terminal event; `None` for what no command can use.
    pub fn from_event(event: &KeyEvent) -> Option<Self> {
        let shift = event.modifiers.contains(KeyModifiers::SHIFT);
        let arrow = |plain, shifted| Some(if shift { shifted } else { plain });
        match event.code {
            KeyCode::Char(c) if event.modifiers.contains(KeyModifiers::CONTROL) => {
                Some(Self::Ctrl(c.to_ascii_lowercase()))
            }
            KeyCode::Char(c) if shift && c.is_ascii_lowercase() => Some(Self::Char(c.to_ascii_uppercase())),
            KeyCode::Char(c) => Some(Self::Char(c)),
            KeyCode::Enter => Some(Self::Enter),
            KeyCode::Esc => Some(Self::Esc),
            KeyCode::Tab if shift => Some(Self::BackTab),
            KeyCode::Tab => Some(Self::Tab),
            KeyCode::BackTab => Some(Self::BackTab),
            KeyCode::Backspace => Some(Self::Backspace),
            KeyCode::Delete => Some(Self::Delete),
            KeyCode::Up => arrow(Self::Up, Self::ShiftUp),
            KeyCode::Down => arrow(Self::Down, Self::ShiftDown),
            KeyCode::Left => arrow(Self::Left, Self::ShiftLeft),
            KeyCode::Right => arrow(Self::Right, Self::ShiftRight),
            KeyCode::Home => Some(Self::Home),
            KeyCode::End => Some(Self::End),
            KeyCode::PageUp => Some(Self::PageUp),
            KeyCode::PageDown => Some(Self::PageDown),
            _ => None,
        }
    }

    /// Reads one key as the command table writes it: `a`, `U`, `Tab`, `Shift-Left`, `Ctrl-c`.
    pub fn read(text: &str) -> Option<Self> {
        let mut chars = text.chars();
        if let (Some(c), None) = (chars.next(), chars.next()) {
            return Some(Self::Char(c));
        }
        if let Some(c) = text.strip_prefix("Ctrl-").and_then(|t| t.chars().next()) {
            return Some(Self::Ctrl(c));
        }
        Some(match text {
            "Space" => Self::Char(' '),
            "Enter" => Self::Enter,
            "Esc" => Self::Esc,
            "Tab" => Self::Tab,
            "Shift-Tab" => Self::BackTab,
            "Backspace" => Self::Backspace,
            "Delete" => Self::Delete,
            "Up" => Self::Up,
            "Down" => Self::Down,
            "Left" => Self::Left,
            "Right" => Self::Right,
            "Shift-Up" => Self::ShiftUp,
            "Shift-Down" => Self::ShiftDown,
            "Shift-Left" => Self::ShiftLeft,
            "Shift-Right" => Self::ShiftRight,
            "Home" => Self::Home,
            "End" => Self::End,
            "PageUp" => Self::PageUp,
            "PageDown" => Self::PageDown,
            _ => return None,
        })
    }
}

impl fmt::Display for Key {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Char(' ') => f.write_str("Space"),
            Self::Char(c) => write!(f, "{c}"),
            Self::Ctrl(c) => write!(f, "Ctrl-{c}"),
            Self::BackTab => f.write_str("Shift-Tab"),
            Self::ShiftUp => f.write_str("Shift-Up"),
            Self::ShiftDown => f.write_str("Shift-Down"),
            Self::ShiftLeft => f.write_str("Shift-Left"),
            Self::ShiftRight => f.write_str("Shift-Right"),
            other => write!(f, "{other:?}"),
        }
    }
}

/// What a sequence of keys means on a page.
#[derive(Clone, Debug)]
pub enum Found {
    /// A command.
    Command(&'static Command, Key),
    /// The beginning of longer sequences: each next key and its command.
    Pending(Vec<(Key, &'static Command)>),
    /// Nothing is bound to it.
    Nothing,
}

/// The sequences of one binding text: `o u` is two keys, `a` one.
fn sequence(text: &str) -> Vec<Key> {
    text.split(' ').filter_map(Key::read).collect()
}

/// The keys of this person: the table of commands with their own keys over it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Keymap {
    own: own::Own,
}

impl Keymap {
    /// Reads a person's file of keys. What cannot be used is named, and the rest holds.
    pub fn read(text: &str) -> (Self, Vec<Diagnostic>) {
        let (own, problems) = own::read(text);
        (Self { own }, problems)
    }

    /// The keys of a command as people read them: `1–9` for the digits, else joined by a word.
    pub fn words(&self, command: &Command) -> String {
        match self.own.get(command.name) {
            Some(keys) => keys.join(" or "),
            None => commands::keys_of(command),
        }
    }

    /// The first key of a command, for the hint line; empty when it has none.
    pub fn first(&self, command: &Command) -> String {
        self.own
            .get(command.name)
            .map_or_else(|| command.keys.first().map(|k| (*k).to_owned()), |keys| keys.first().cloned())
            .unwrap_or_default()
    }

    /// Whether the person's own keys differ from the table's for this command.
    pub fn is_own(&self, command: &Command) -> bool {
        self.own.contains_key(command.name)
    }

    /// Whether a sequence of a command of the table was given to another command on this page.
    fn is_taken(&self, page: Page, command: &Command, keys: &[Key]) -> bool {
        !self.own.is_empty()
            && commands::all()
                .filter(|c| c.name != command.name && c.pages.contains(&page))
                .filter_map(|c| self.own.get(c.name))
                .flatten()
                .any(|given| own::hides(&sequence(given), keys))
    }

    /// Looks up `keys` on `page`. The table is short, so a scan is quicker than any index would be to build.
    pub fn find(&self, page: Page, keys: &[Key]) -> Found {
        let mut next = Vec::new();
        for command in commands::all().filter(|c| c.pages.contains(&page)) {
            let given = self.is_own(command);
            for binding in own::of(&self.own, command) {
                let bound = sequence(&binding);
                if !bound.starts_with(keys) || !given && self.is_taken(page, command, &bound) {
                    continue;
                }
                match bound.get(keys.len()) {
                    Some(key) => next.push((*key, command)),
                    None => {
                        if let Some(last) = keys.last() {
                            return Found::Command(command, *last);
                        }
                    }
                }
            }
        }
        if next.is_empty() { Found::Nothing } else { Found::Pending(next) }
    }
}

/// Bindings that hide one another on a page: the same sequence twice, or one that begins another.
pub fn clashes() -> Vec<String> {
    let mut out = Vec::new();
    for page in Page::ALL {
        let bound: Vec<(Vec<Key>, &Command)> = commands::all()
            .filter(|c| c.pages.contains(page))
            .flat_map(|c| c.keys.iter().map(move |k| (sequence(k), c)))
            .collect();
        for (i, (a, first)) in bound.iter().enumerate() {
            for (b, second) in bound.iter().skip(i + 1) {
                if a.starts_with(b) || b.starts_with(a) {
                    out.push(format!("{page:?}: {} and {} share {a:?}", first.name, second.name));
                }
            }
        }
    }
    out
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn no_key_means_two_things_on_one_page() {
        assert_eq!(clashes(), Vec::<String>::new());
    }

    #[test]
    fn every_binding_in_the_table_can_be_typed_and_printed() {
        for command in commands::all() {
            for binding in command.keys {
                for word in binding.split(' ') {
                    let key = Key::read(word).unwrap();
                    assert_eq!(key.to_string(), word);
                }
            }
        }
    }

    #[test]
    fn own_keys_win_and_leave_the_rest_alone() {
        let (map, problems) =
            Keymap::read("format: keys/1\nkeys:\n  go-card: C\n  redo: [ Ctrl-y, u ]\n  undo: Ctrl-z\n");
        assert_eq!(problems, Vec::new());
        let name = |keys: &str| match map.find(Page::Hole, &sequence(keys)) {
            Found::Command(command, _) => command.name,
            Found::Pending(_) => "pending",
            Found::Nothing => "nothing",
        };
        assert_eq!((name("C"), name("c")), ("go-card", "nothing"));
        assert_eq!((name("u"), name("Ctrl-y"), name("Ctrl-z"), name("U")), ("redo", "redo", "undo", "nothing"));
        assert_eq!((name("o"), name("o u"), name("5")), ("pending", "look-units", "score"));
    }

    #[test]
    fn mistakes_in_a_file_of_keys_are_named_with_their_line() {
        for (text, line, words) in [
            ("format: course-notebook/1\n", 1, "not the format"),
            ("format: keys/1\nkeys:\n  go-crad: C\n", 3, "no command `go-crad`"),
            ("format: keys/1\nkeys:\n  go-card: Strg-C\n", 3, "is not a key"),
            ("format: keys/1\nkeys:\n  go-card: [ C, 5 ]\n", 3, "is a score"),
            ("format: keys/1\nkeys:\n  go-card: Esc\n", 3, "cannot be given away"),
            ("format: keys/1\nfont: 3\n", 2, "not a key of this file"),
            ("format: keys/1\nkeys:\n  go-card: s\n", 3, "only key of `go-shelf`"),
        ] {
            let (_, problems) = Keymap::read(text);
            let said: Vec<&str> = problems.iter().map(|p| p.message.as_str()).collect();
            let found = problems.iter().find(|p| p.message.contains(words));
            let at = found.map(|p| 1 + text.get(..p.span.start).unwrap().matches('\n').count());
            assert_eq!(at, Some(line), "{text}: {said:?}");
        }
        let (map, problems) = Keymap::read("format: keys/1\nkeys:\n  go-crad: C\n  undo: Ctrl-z\n");
        assert_eq!(problems.len(), 1);
        assert!(matches!(map.find(Page::Hole, &[Key::Ctrl('z')]), Found::Command(c, _) if c.name == "undo"));
        assert!(problems.iter().any(|p| p.advice.contains("go-card")));
    }
}
