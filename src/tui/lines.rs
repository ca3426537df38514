//! Line mode: the same program without a drawing, for screen readers, bare terminals and pipes.
//!
//! A line holds keys with blanks between them (`5 4`, `Tab`, `o u`), a run of digits (`544` is three scores), or the name of a
//! command (`go-card`). Where a text field is open the whole line is its text. An empty line says the whole page again. After
//! each line only what changed is printed.

use super::commands::{self, Command};
use super::keymap::Key;
use super::run::{App, Arrival, Face, Start};
use super::state::{Notice, State};
use super::update::Msg;
use super::view::plain;
use crate::store::Store;
use std::collections::HashMap;
use std::io::{self, BufRead, Write};
use std::sync::mpsc::SyncSender;
use std::thread;

/// The size a page is laid out for: it decides only how long lines are.
const SIZE: (u16, u16) = (100, 36);

/// The longest line that is read; more is a paste by mistake.
const LONGEST: usize = 4096;

/// Runs line mode until the person leaves or the lines end. `asks` prints a prompt.
///
/// # Errors
/// When what was to be opened cannot be read, or nothing can be printed.
pub fn run(
    store: Store,
    start: &Start,
    today: &str,
    input: Box<dyn BufRead + Send>,
    out: &mut dyn Write,
    asks: bool,
) -> anyhow::Result<()> {
    let (mut app, arrived, mut state) = App::start(store, start, today, SIZE)?;
    let mut face = Lines { out, asks, said: Vec::new(), title: String::new() };
    face.show(&state)?;
    app.watch_files(&state);
    listen(input, app.arrivals());
    app.handle(&mut state, Msg::Resize(SIZE.0, SIZE.1));
    app.serve(&mut face, &mut state, &arrived)?;
    app.leave(&state, arrived)
}

/// Reads lines on a thread of its own.
fn listen(mut input: Box<dyn BufRead + Send>, arrivals: SyncSender<Arrival>) {
    thread::spawn(move || {
        loop {
            let mut bytes = Vec::new();
            let read = io::Read::take(&mut input, LONGEST as u64).read_until(b'\n', &mut bytes);
            let arrival = match read {
                Ok(0) | Err(_) => Arrival::InputEnds,
                Ok(_) => Arrival::Typed(String::from_utf8_lossy(&bytes).trim_end_matches(['\n', '\r']).to_owned()),
            };
            let last = matches!(arrival, Arrival::InputEnds);
            if arrivals.send(arrival).is_err() || last {
                return;
            }
        }
    });
}

/// What a typed line asks for.
pub(super) fn messages(state: &State, line: &str) -> Vec<Msg> {
    if state.takes_text() {
        return match line.trim() {
            "Esc" => vec![Msg::Key(Key::Esc)],
            text => text.chars().map(|c| Msg::Key(Key::Char(c))).chain([Msg::Key(Key::Enter)]).collect(),
        };
    }
    if line.trim().is_empty() {
        return vec![Msg::Resize(SIZE.0, SIZE.1)];
    }
    let mut out = Vec::new();
    for word in line.split_whitespace() {
        if let Some(key) = Key::read(word) {
            out.push(Msg::Key(key));
        } else if word.chars().all(|c| c.is_ascii_digit() || matches!(c, 'x' | '.' | '+' | '-')) {
            out.extend(word.chars().map(|c| Msg::Key(Key::Char(c))));
        } else if let Some(command) = named(word) {
            out.push(Msg::Named(command));
        } else {
            let words = format!(
                "{word} means nothing here: type keys such as 5 or Tab, a command such as go-card, or ? for help"
            );
            out.push(Msg::Say(Notice::warning(words)));
            break;
        }
    }
    out
}

fn named(word: &str) -> Option<&'static Command> {
    commands::all().find(|c| c.name == word)
}

/// Prints what changed.
struct Lines<'a> {
    out: &'a mut dyn Write,
    asks: bool,
    said: Vec<String>,
    title: String,
}

impl Face for Lines<'_> {
    fn show(&mut self, state: &State) -> io::Result<()> {
        let page = plain::page(state);
        let title = format!("{} {}", state.page().title(), page.first().cloned().unwrap_or_default());
        let whole = title != self.title || page == self.said;
        if whole {
            writeln!(self.out, "== {}", state.page().title())?;
        }
        for line in if whole { page.clone() } else { changed(&self.said, &page) } {
            writeln!(self.out, "{line}")?;
        }
        (self.said, self.title) = (page, title);
        if self.asks {
            write!(self.out, "> ")?;
        }
        self.out.flush()
    }

    fn shows_each(&self) -> bool {
        true
    }
}

/// The lines of `after` that `before` did not have, in their order.
fn changed(before: &[String], after: &[String]) -> Vec<String> {
    let mut had: HashMap<&str, usize> = HashMap::new();
    for line in before {
        *had.entry(line).or_default() += 1;
    }
    let mut out = Vec::new();
    for line in after {
        match had.get_mut(line.as_str()) {
            Some(left) if *left > 0 => *left -= 1,
            _ if line.trim().is_empty() => {}
            _ => out.push(line.clone()),
        }
    }
    out
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn lines(of: &[&str]) -> Vec<String> {
        of.iter().map(|s| (*s).to_owned()).collect()
    }

    #[test]
    fn only_what_is_new_is_printed_and_repeats_are_counted() {
        let before = lines(&["a", "b", "b", "", "c"]);
        let after = lines(&["a", "b", "b", "b", "", "", "d"]);
        assert_eq!(changed(&before, &after), lines(&["b", "d"]));
        assert_eq!(changed(&after, &after), Vec::<String>::new());
    }

    fn said(piped: &str) -> String {
        let home = tempfile::tempdir().unwrap();
        let store = Store::new(crate::store::Shelf::locate(Some(home.path())).unwrap());
        let mut out = Vec::new();
        let input = Box::new(io::Cursor::new(piped.to_owned().into_bytes()));
        run(store, &Start::LeftOff, "2026-05-16", input, &mut out, false).unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn a_round_is_kept_from_a_pipe() {
        let text = said("545\ngo-card\nu\nnonsense\nq\n");
        assert!(text.contains("Hole 4"), "three scores lead to the fourth tee:\n{text}");
        assert!(text.contains("== Card"), "{text}");
        assert!(text.contains("nonsense means nothing here"), "{text}");
        assert!(!text.contains('\x1b'), "no escape sequence is printed");
    }

    #[test]
    fn a_text_field_takes_the_whole_line() {
        let text = said(":\nproblems\nb\n");
        assert!(text.contains("== Commands"), "{text}");
        assert!(text.contains("== Bag"), "the finder took its line and b opened the bag:\n{text}");
    }
}
