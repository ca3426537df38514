//! The screen's speed: a key with its draw on the Hole page at 120x36, and the first frame from process start.
//!
//! Targets (issue 1 of 9): update plus draw under 2 ms median and 5 ms worst of 1,000 keys; first frame under 30 ms.
//! `cargo bench --bench screen`

#![allow(clippy::expect_used)]

use divan::{Bencher, black_box};
use marram::tui::keymap::Key;
use marram::tui::story::Story;
use std::io::Read;
use std::time::{Duration, Instant};

fn main() {
    thousand_keys();
    first_frame();
    divan::main();
}

/// Keys of a person at work: walking, holes, notes, scores.
const KEYS: [&str; 20] = [
    "Right", "Right", "Up", "w", ",", "Right", "a", "a", "5", "Left", "Down", "w", "w", "4", "v", "v", "t", ";", "c",
    "Esc",
];

fn typed() -> Vec<Key> {
    KEYS.iter().filter_map(|k| Key::read(k)).collect()
}

/// The median and the worst of 1,000 keys, each with its draw.
fn thousand_keys() {
    let mut story = Story::example(120, 36);
    let keys = typed();
    let mut times: Vec<Duration> = (0..1000)
        .map(|i| {
            let start = Instant::now();
            story.press(keys[i % keys.len()]);
            black_box(story.buffer());
            start.elapsed()
        })
        .collect();
    times.sort_unstable();
    println!("1,000 keys with their draw at 120x36: median {:?}, worst {:?}", times[500], times[999]);
}

/// From process start to the first frame in a terminal, and the memory it holds then.
fn first_frame() {
    let mut times = Vec::new();
    let mut memory = String::new();
    for _ in 0..20 {
        let home = tempfile::tempdir().expect("a folder");
        let pair = portable_pty::native_pty_system()
            .openpty(portable_pty::PtySize { rows: 36, cols: 120, pixel_width: 0, pixel_height: 0 })
            .expect("a terminal");
        let mut command = portable_pty::CommandBuilder::new(env!("CARGO_BIN_EXE_marram"));
        command.env("MARRAM_FOLDER", home.path().join("shelf"));
        command.env("TERM", "xterm-256color");
        command.env("COLORTERM", "truecolor");
        let mut reader = pair.master.try_clone_reader().expect("a reader");
        let start = Instant::now();
        let mut child = pair.slave.spawn_command(command).expect("marram starts");
        let (mut seen, mut bytes) = (Vec::new(), [0; 65536]);
        // The hint line is drawn last.
        while !String::from_utf8_lossy(&seen).contains("shelf") {
            let n = reader.read(&mut bytes).expect("it draws");
            seen.extend_from_slice(&bytes[..n]);
        }
        times.push(start.elapsed());
        if let Some(id) = child.process_id() {
            let status = std::fs::read_to_string(format!("/proc/{id}/status")).unwrap_or_default();
            memory = status.lines().find(|l| l.starts_with("VmRSS")).unwrap_or_default().to_owned();
        }
        let _ = child.kill();
        let _ = child.wait();
    }
    times.sort_unstable();
    println!("first frame from process start: median {:?}, worst {:?}; {memory}", times[10], times[19]);
}

#[divan::bench]
fn key_and_draw(bencher: Bencher<'_, '_>) {
    let mut story = Story::example(120, 36);
    let keys = typed();
    let mut i = 0;
    bencher.bench_local(|| {
        i += 1;
        story.press(keys[i % keys.len()]);
        story.buffer()
    });
}

#[divan::bench]
fn draw_alone(bencher: Bencher<'_, '_>) {
    let story = Story::example(120, 36);
    bencher.bench(|| story.buffer());
}

#[divan::bench]
fn open_the_example() {
    black_box(marram::shelf::example("2026-05-16"));
}
