//! The program in a real terminal: it starts, draws, follows a new size, leaves the terminal clean, also after a crash;
//! a killed program loses nothing; an edited notebook is read again.

#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use std::io::{Read, Write};
use std::num::NonZeroU16;
use std::path::Path;
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};

/// A program running in a terminal that is kept as a screen.
struct Running {
    child: Box<dyn Child + Send + Sync>,
    master: Box<dyn MasterPty + Send>,
    keys: Box<dyn Write + Send>,
    screen: Arc<Mutex<vt100::Parser>>,
}

fn size(rows: u16, cols: u16) -> PtySize {
    PtySize { rows, cols, pixel_width: 0, pixel_height: 0 }
}

impl Running {
    fn start(mut command: CommandBuilder, rows: u16, cols: u16) -> Self {
        command.env("TERM", "xterm-256color");
        command.env("COLORTERM", "truecolor");
        let pair = native_pty_system().openpty(size(rows, cols)).unwrap();
        let child = pair.slave.spawn_command(command).unwrap();
        let mut reader = pair.master.try_clone_reader().unwrap();
        let keys = pair.master.take_writer().unwrap();
        let parser = vt100::Parser::new(NonZeroU16::new(rows).unwrap(), NonZeroU16::new(cols).unwrap(), 0);
        let screen = Arc::new(Mutex::new(parser));
        let fed = screen.clone();
        thread::spawn(move || {
            let mut bytes = [0; 8192];
            while let Ok(n) = reader.read(&mut bytes) {
                if n == 0 {
                    return;
                }
                fed.lock().unwrap().process(&bytes[..n]);
            }
        });
        Self { child, master: pair.master, keys, screen }
    }

    fn marram(folder: &Path, args: &[&str], rows: u16, cols: u16) -> Self {
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_marram"));
        command.args(args);
        command.env("MARRAM_FOLDER", folder);
        command.cwd(folder.parent().unwrap_or(folder));
        Self::start(command, rows, cols)
    }

    fn text(&self) -> String {
        self.screen.lock().unwrap().screen().contents()
    }

    fn alternate(&self) -> bool {
        self.screen.lock().unwrap().screen().alternate_screen()
    }

    /// Waits until the screen holds `words`.
    fn until(&self, words: &str) -> String {
        let end = Instant::now() + Duration::from_secs(20);
        while Instant::now() < end {
            let text = self.text();
            if text.contains(words) {
                return text;
            }
            thread::sleep(Duration::from_millis(20));
        }
        panic!("never saw {words:?}:\n{}", self.text());
    }

    fn press(&mut self, keys: &str) {
        self.keys.write_all(keys.as_bytes()).unwrap();
        self.keys.flush().unwrap();
    }

    fn wait(&mut self) -> u32 {
        let end = Instant::now() + Duration::from_secs(20);
        while Instant::now() < end {
            if let Some(status) = self.child.try_wait().unwrap() {
                // What was written before the end is still on its way to the screen.
                thread::sleep(Duration::from_millis(100));
                return status.exit_code();
            }
            thread::sleep(Duration::from_millis(20));
        }
        panic!("it never ended:\n{}", self.text());
    }
}

#[test]
fn it_starts_draws_follows_a_new_size_and_leaves_the_terminal_clean() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("shelf");
    let mut running = Running::marram(&folder, &[], 36, 120);
    running.until("Open Gate");
    assert!(running.alternate());
    let cursor = running.screen.lock().unwrap().screen().cursor_position();
    assert!(cursor.0 > 0, "the cursor stands on the ball, not in the corner: {cursor:?}");
    running.master.resize(size(24, 80)).unwrap();
    running.screen.lock().unwrap().screen_mut().set_size(NonZeroU16::new(24).unwrap(), NonZeroU16::new(80).unwrap());
    // A key in the very moment of a resize waits in the terminal library for the next one, so the new size is seen first.
    running.until("1 Open Gate · Club tees");
    running.press("?");
    running.until("Keys on the Hole page");
    running.press("\u{1b}");
    running.until("Open Gate");
    running.press("q");
    assert_eq!(running.wait(), 0);
    assert!(!running.alternate(), "the alternate screen was left");
    assert!(!running.screen.lock().unwrap().screen().hide_cursor());
    assert!(!folder.exists(), "looking wrote nothing");
}

#[test]
fn a_program_killed_while_scoring_loses_nothing() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("shelf");
    let mut running = Running::marram(&folder, &[], 36, 120);
    running.until("Open Gate");
    for key in ["5", "4", "6", "5", "4", "3"] {
        running.press(key);
    }
    running.until(" 7 ");
    running.until("kept");
    running.child.kill().unwrap();
    running.wait();
    let mut again = Running::marram(&folder, &[], 36, 120);
    let text = again.until("Wren Hallam");
    assert!(text.trim_start().starts_with("7 "), "it stands on the seventh tee:\n{text}");
    again.press("c");
    let card = again.until("after 6 holes");
    assert!(card.contains("27"), "5 4 6 5 4 3 is 27:\n{card}");
    again.press("q");
    assert_eq!(again.wait(), 0);
    let copies: Vec<_> = std::fs::read_dir(&folder).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert!(copies.iter().any(|n| n == "corvane.yaml"), "their own copy: {copies:?}");
}

#[test]
fn a_second_program_on_the_round_says_who_holds_it_and_only_shows_it() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("shelf");
    let mut first = Running::marram(&folder, &[], 36, 120);
    first.until("Open Gate");
    first.press("5");
    first.until("kept");
    let mut second = Running::marram(&folder, &[], 36, 120);
    second.until("only shown");
    second.press("4");
    second.until("Score:");
    second.press("q");
    second.wait();
    first.press("q");
    assert_eq!(first.wait(), 0);
}

#[test]
fn a_mistake_made_in_an_editor_is_named_with_its_line_and_mended_again() {
    let home = tempfile::tempdir().unwrap();
    let folder = home.path().join("shelf");
    let made = std::process::Command::new(env!("CARGO_BIN_EXE_marram"))
        .args(["new", "course", "Test Links"])
        .env("MARRAM_FOLDER", &folder)
        .output()
        .unwrap();
    assert!(made.status.success(), "{made:?}");
    let file = folder.join("test-links.yaml");
    let mut running = Running::marram(&folder, &["open", "test-links"], 36, 120);
    running.until("1 First");
    let good = std::fs::read_to_string(&file).unwrap();
    std::fs::write(&file, good.replacen("name: First", "name: First\n    parr: 4", 1)).unwrap();
    let text = running.until("parr");
    assert!(text.contains("test-links.yaml:"), "{text}");
    assert!(text.contains("1 First"), "the last good state stays:\n{text}");
    running.press("e");
    running.until("did you mean");
    running.press("\u{1b}");
    std::fs::write(&file, good.replacen("name: First", "name: Longshore", 1)).unwrap();
    running.until("1 Longshore");
    running.press("q");
    assert_eq!(running.wait(), 0);
}

/// Not a test of its own: what [`a_crash_gives_the_terminal_back`] runs in its terminal.
#[test]
fn crash_child() {
    if std::env::var_os("MARRAM_CRASH_CHILD").is_none() {
        return;
    }
    let mut guard = marram::tui::terminal::Guard::enter().unwrap();
    guard.terminal.draw(|frame| frame.render_widget("about to crash", frame.area())).unwrap();
    thread::sleep(Duration::from_millis(300));
    panic!("a mistake of ours");
}

#[test]
fn a_crash_gives_the_terminal_back() {
    let mut command = CommandBuilder::new(std::env::current_exe().unwrap());
    command.args(["--exact", "crash_child", "--nocapture", "--test-threads", "1"]);
    command.env("MARRAM_CRASH_CHILD", "1");
    let mut running = Running::start(command, 24, 80);
    running.until("about to crash");
    assert!(running.alternate());
    assert_ne!(running.wait(), 0);
    assert!(!running.alternate());
    let text = running.until("a mistake of ours");
    assert!(!text.contains("about to crash"), "the message stands on the ordinary screen:\n{text}");
}
