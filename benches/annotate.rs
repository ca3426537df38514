//! Writing in the screen on a notebook with 200 notes: an edit shown, an edit durable, a frame while a hole is drawn.
//!
//! Targets (issue 6, 4 of 9): shown within 16 ms, durable within 150 ms, a redraw while drawing under 5 ms.
//! `cargo bench --bench annotate`

#![allow(clippy::expect_used)]

use divan::black_box;
use marram::notebook::edit::{Edit, Path, Value};
use marram::session::{Home, Session};
use marram::shelf::{CourseText, Load, edit_course, save_course};
use marram::store::{Shelf, Store};
use marram::tui::keymap::Key;
use marram::tui::story::{STORY_DAY, Story};
use marram::tui::update::{CourseAsk, Effect};
use marram::units::digest::Digest;
use std::time::{Duration, Instant};

const CORVANE: &str = include_str!("../sample-courses/corvane.yaml");

/// The sample with notes added until there are 200.
fn session(name: &str) -> Session {
    let mut load = Load::new(STORY_DAY);
    load.course(name, CORVANE.to_owned());
    let mut session = load.finish(Home::Files);
    let notes = |s: &Session| s.course.iter().flat_map(|c| &c.holes).map(|h| h.notes.len()).sum::<usize>();
    let mut edits = Vec::new();
    for i in notes(&session)..200 {
        let place = Path::new().key("holes").of("hole", &(i % 18 + 1).to_string()).key("notes");
        let text =
            format!("Note {i}: what a professional writes about a place, in a sentence or two, no longer than this.");
        edits.push(Edit::push(place, Value::map([("at", "approach"), ("text", text.as_str())])));
    }
    session = edit_course(&session, name, &edits, None).expect("notes are added").session;
    assert_eq!(notes(&session), 200);
    session
}

fn report(what: &str, mut times: Vec<Duration>) {
    times.sort_unstable();
    println!("{what}: median {:?}, worst {:?} of {}", times[times.len() / 2], times[times.len() - 1], times.len());
}

fn main() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("corvane.yaml");
    let name = file.display().to_string();
    let opened = session(&name);
    let text = opened.course_file.as_ref().expect("a notebook").text.clone();
    std::fs::write(&file, &text).expect("written");
    let store = Store::new(Shelf::at(folder.path()));

    let mut story = Story::of(opened.clone(), 120, 36);
    let (mut shown, mut durable) = (Vec::new(), Vec::new());
    let mut on_disk = Digest::of(text.as_bytes());
    for _ in 0..100 {
        story.keys("n n").types("Typed on the course: keep left of the flag.");
        let start = Instant::now();
        story.press(Key::Enter);
        black_box(story.buffer());
        shown.push(start.elapsed());
        // Other pages may have asked for something after the save.
        let saves = story.effects.drain(..).rev().find_map(|effect| match effect {
            Effect::Course(CourseAsk::Save(asked)) => Some(asked),
            _ => None,
        });
        let Some(asked) = saves else { continue };
        let asked = CourseText { base: Some(on_disk), ..asked };
        save_course(&store, &asked).expect("saved");
        on_disk = Digest::of(asked.text.as_bytes());
        durable.push(start.elapsed());
        story.keys("u");
    }
    report("an edit on a notebook of 200 notes, from Enter to its frame at 120x36", shown);
    report("the same, from Enter to durable on the disk, one after the other", durable);

    let mut story = Story::of(opened.clone(), 120, 36);
    story.keys(", , , n d b");
    let mut typing = Vec::new();
    for _ in 0..20 {
        for c in "238 256 13L27L Kettle steep".chars() {
            let start = Instant::now();
            story.press(Key::Char(c));
            black_box(story.buffer());
            typing.push(start.elapsed());
        }
        story.press(Key::Ctrl('u'));
    }
    report("a key of a line on the Draw page with its frame at 120x36", typing);

    let mut story = Story::of(opened, 120, 36);
    story.keys(", , , n d Tab Tab Space");
    let mut moving = Vec::new();
    for i in 0..100 {
        let start = Instant::now();
        story.press(if i % 20 < 10 { Key::Right } else { Key::Left });
        black_box(story.buffer());
        moving.push(start.elapsed());
    }
    report("an edge moved by an arrow, an edit of the notebook each, with its frame", moving);
    divan::main();
}
