//! What a watch tells.

use crate::disks::*;
use marram::store::*;
use marram::units::digest::Digest;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, sync_channel};
use std::time::{Duration, Instant};

fn watched(store: &Store, files: &[&Path]) -> (Watch, Receiver<FileChange>) {
    let (send, changes) = sync_channel(8);
    let watch = store.watch(send).unwrap();
    watch.files(files.iter().map(|p| (*p).to_owned()).collect());
    // The first look must see the files as they are now.
    std::thread::sleep(Duration::from_millis(300));
    (watch, changes)
}

#[test]
fn a_change_in_another_editor_is_told_once_and_an_own_save_never() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let path = dir.path().join("corvane.yaml");
    let other = dir.path().join("heath.yaml");
    fs::write(&path, "one").unwrap();
    let (_watch, changes) = watched(&store, &[&path, &other]);

    store.save(&path, b"two", Expect::AsRead(Digest::of(b"one"))).unwrap();
    fs::write(dir.path().join("unwatched.yaml"), "x").unwrap();
    assert_eq!(
        changes.recv_timeout(Duration::from_millis(2600)).ok(),
        None,
        "our own save, and a file that nobody asked for"
    );

    // As editors do: a new file takes the name, in several steps.
    for text in ["thr", "three"] {
        fs::write(dir.path().join("tmp"), text).unwrap();
        fs::rename(dir.path().join("tmp"), &path).unwrap();
    }
    let start = Instant::now();
    let change = changes.recv_timeout(SOON).unwrap();
    assert_eq!(change, FileChange { path: path.clone(), digest: Some(Digest::of(b"three")) });
    assert!(start.elapsed() >= Duration::from_millis(100), "it waited until the folder was quiet");
    fs::write(&path, "three").unwrap();
    assert_eq!(changes.recv_timeout(Duration::from_millis(600)).ok(), None, "the same text again is no change");

    fs::write(&path, "two").unwrap();
    let change = changes.recv_timeout(SOON).unwrap();
    assert_eq!(change.digest, Some(Digest::of(b"two")), "someone put our text back: that is a change");
    fs::write(&other, "new").unwrap();
    assert_eq!(changes.recv_timeout(SOON).unwrap().path, other);
    fs::remove_file(&path).unwrap();
    assert_eq!(changes.recv_timeout(SOON).unwrap(), FileChange { path, digest: None });
}

#[test]
fn a_channel_that_is_full_loses_no_last_state() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let paths: Vec<PathBuf> = (0..5).map(|n| dir.path().join(format!("{n}.yaml"))).collect();
    let (send, changes) = sync_channel(1);
    let watch = store.watch(send).unwrap();
    watch.files(paths.clone());
    std::thread::sleep(Duration::from_millis(300));
    for path in &paths {
        fs::write(path, "text").unwrap();
    }
    let mut seen: Vec<PathBuf> = (0..5).map(|_| changes.recv_timeout(SOON).unwrap().path).collect();
    seen.sort();
    assert_eq!(seen, paths);
    drop(watch);
    assert!(changes.recv().is_err(), "dropping the watch ends it");
}
