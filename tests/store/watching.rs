//! What a watch tells.

use crate::disks::*;
use marram::store::*;
use marram::units::digest::Digest;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, sync_channel};
use std::time::{Duration, Instant};

/// A watch of files with the text that the caller has of them.
fn watched(store: &Store, files: &[(&Path, Option<&str>)]) -> (Watch, Receiver<FileChange>) {
    let (send, changes) = sync_channel(8);
    let watch = store.watch(send).unwrap();
    let of = |(path, text): &(&Path, Option<&str>)| ((*path).to_owned(), text.map(|t| Digest::of(t.as_bytes())));
    watch.files(files.iter().map(of).collect());
    (watch, changes)
}

/// Waits for the news that `path` holds `text`; a slow machine may see a text between.
fn told(changes: &Receiver<FileChange>, path: &Path, text: Option<&str>) -> usize {
    let last = FileChange { path: path.to_owned(), digest: text.map(|t| Digest::of(t.as_bytes())) };
    let mut news = 1;
    while changes.recv_timeout(SOON).expect("the change is told") != last {
        news += 1;
    }
    news
}

#[test]
fn a_change_in_another_editor_is_told_and_an_own_save_never() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let path = dir.path().join("corvane.yaml");
    let other = dir.path().join("heath.yaml");
    fs::write(&path, "one").unwrap();
    let (_watch, changes) = watched(&store, &[(&path, Some("one")), (&other, None)]);

    store.save(&path, b"two", Expect::AsRead(Digest::of(b"one"))).unwrap();
    fs::write(dir.path().join("unwatched.yaml"), "x").unwrap();
    // Longer than the regular look.
    let news = changes.recv_timeout(Duration::from_millis(2600)).ok();
    assert_eq!(news, None, "our own save, and a file that nobody asked for");

    // As editors do: a new file takes the name.
    let start = Instant::now();
    fs::write(dir.path().join("tmp"), "three").unwrap();
    fs::rename(dir.path().join("tmp"), &path).unwrap();
    told(&changes, &path, Some("three"));
    assert!(start.elapsed() >= Duration::from_millis(150), "it waited until the folder was quiet");

    fs::write(&path, "two").unwrap();
    told(&changes, &path, Some("two"));
    fs::write(&other, "new").unwrap();
    told(&changes, &other, Some("new"));
    fs::remove_file(&path).unwrap();
    told(&changes, &path, None);
}

#[test]
fn the_same_text_again_is_no_change() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let path = dir.path().join("corvane.yaml");
    fs::write(&path, "one").unwrap();
    let (_watch, changes) = watched(&store, &[(&path, Some("one"))]);
    fs::write(dir.path().join("tmp"), "one").unwrap();
    fs::rename(dir.path().join("tmp"), &path).unwrap();
    assert_eq!(changes.recv_timeout(Duration::from_millis(800)).ok(), None);
}

#[test]
fn what_changed_before_the_watch_began_is_told_at_once() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let (path, gone) = (dir.path().join("corvane.yaml"), dir.path().join("gone.yaml"));
    fs::write(&path, "newer than what was read").unwrap();
    let (watch, changes) = watched(&store, &[(&path, Some("as read")), (&gone, Some("as read"))]);
    let mut news = [changes.recv_timeout(SOON).unwrap(), changes.recv_timeout(SOON).unwrap()];
    news.sort_by(|a, b| a.path.cmp(&b.path));
    assert_eq!((&news[0].path, news[0].digest.is_some()), (&path, true));
    assert_eq!((&news[1].path, news[1].digest), (&gone, None));
    watch.files(vec![]);
    fs::write(&path, "again").unwrap();
    assert_eq!(changes.recv_timeout(Duration::from_millis(500)).ok(), None, "watched no more");
}

#[test]
fn many_steps_of_one_save_are_one_change() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let path = dir.path().join("corvane.yaml");
    let (_watch, changes) = watched(&store, &[(&path, None)]);
    // Without a wait between, each step comes well before the folder has been quiet.
    for n in 0..200 {
        fs::write(&path, format!("step {n}")).unwrap();
    }
    let news = told(&changes, &path, Some("step 199"));
    assert!(news <= 20, "200 steps made {news} changes");
}

#[test]
fn a_channel_that_is_full_loses_no_last_state() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let paths: Vec<PathBuf> = (0..5).map(|n| dir.path().join(format!("{n}.yaml"))).collect();
    let (send, changes) = sync_channel(1);
    let watch = store.watch(send).unwrap();
    watch.files(paths.iter().map(|p| (p.clone(), None)).collect());
    for path in &paths {
        fs::write(path, "text").unwrap();
    }
    let mut seen: Vec<PathBuf> = (0..5).map(|_| changes.recv_timeout(SOON).unwrap().path).collect();
    seen.sort();
    assert_eq!(seen, paths);
    drop(watch);
    assert!(changes.recv().is_err(), "dropping the watch ends it");
}
