//! The finder of commands: a few letters narrow the table, Enter runs.

use crate::tui::commands::{self, Command, Page};
use crate::tui::state::State;

/// What the finder holds.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Finder {
    /// The letters typed.
    pub letters: String,
    /// Which of the found commands the cursor is on.
    pub cursor: usize,
}

impl Finder {
    /// The commands of `page` that the letters fit, best first.
    pub fn found(&self, page: Page) -> Vec<&'static Command> {
        let mut found: Vec<(u32, usize, &'static Command)> = commands::all()
            .enumerate()
            .filter(|(_, c)| c.pages.contains(&page))
            .filter_map(|(i, c)| fit(&self.letters, c).map(|rank| (rank, i, c)))
            .collect();
        found.sort_by_key(|(rank, i, _)| (*rank, *i));
        found.into_iter().map(|(_, _, c)| c).collect()
    }

    /// Why the command under the cursor cannot run, if it cannot.
    pub fn why_not(&self, state: &State, page: Page) -> Option<String> {
        self.found(page).get(self.cursor).and_then(|c| (c.why_not)(state))
    }
}

/// How well letters fit a command: smaller is better, `None` not at all. Words that begin with them beat letters in
/// order somewhere inside.
fn fit(letters: &str, command: &Command) -> Option<u32> {
    let wanted = letters.trim().to_lowercase();
    if wanted.is_empty() {
        return Some(0);
    }
    let title = command.title.to_lowercase();
    let name = command.name;
    if title.starts_with(&wanted) || name.starts_with(&wanted) {
        return Some(1);
    }
    if title.split(' ').chain(name.split('-')).any(|w| w.starts_with(&wanted)) {
        return Some(2);
    }
    if title.contains(&wanted) || name.contains(&wanted) {
        return Some(3);
    }
    // One or two letters stand in every sentence somewhere.
    if wanted.chars().count() < 3 {
        return None;
    }
    if command.sentence.to_lowercase().contains(&wanted) {
        return Some(4);
    }
    let mut rest = name.chars();
    wanted.chars().filter(|c| !c.is_whitespace()).all(|c| rest.any(|n| n == c)).then_some(5)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tui::commands::Act;

    #[test]
    fn letters_narrow_and_the_best_fit_comes_first() {
        let finder = Finder { letters: "und".to_owned(), cursor: 0 };
        assert_eq!(finder.found(Page::Hole).first().map(|c| c.act), Some(Act::Undo));
        let finder = Finder { letters: "zzz".to_owned(), cursor: 0 };
        assert!(finder.found(Page::Hole).is_empty());
        assert!(Finder::default().found(Page::Hole).len() > 20);
    }
}
