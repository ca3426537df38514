//! Saves, backups and settings.

use crate::disks::*;
use marram::store::*;
use marram::units::digest::Digest;
use std::fs;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};
use std::time::{Duration, Instant};

#[test]
fn a_file_changed_meanwhile_is_never_overwritten() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let path = dir.path().join("corvane.yaml");
    let saved = store.save(&path, b"one", Expect::New).unwrap();
    assert_eq!((saved.digest, saved.not_synced), (Digest::of(b"one"), None));
    assert_eq!(store.save(&path, b"two", Expect::New).unwrap_err().trouble, Trouble::Exists);
    let read_then = read(&path, Limit::YAML).unwrap().digest;
    fs::write(&path, "someone else").unwrap();
    let error = store.save(&path, b"two", Expect::AsRead(read_then)).unwrap_err();
    assert_eq!(error.trouble, Trouble::Changed);
    assert_eq!(fs::read_to_string(&path).unwrap(), "someone else");
    let read_now = read(&path, Limit::YAML).unwrap().digest;
    store.save(&path, b"two", Expect::AsRead(read_now)).unwrap();
    fs::remove_file(&path).unwrap();
    assert_eq!(store.save(&path, b"3", Expect::AsRead(Digest::of(b"two"))).unwrap_err().trouble, Trouble::Changed);
    assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 0, "no temporary file stays");
}

#[cfg(unix)]
#[test]
fn a_save_keeps_permissions_and_links() {
    use std::os::unix::fs::{PermissionsExt, symlink};
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let real = dir.path().join("real.yaml");
    let link = dir.path().join("link.yaml");
    fs::write(&real, "one").unwrap();
    fs::set_permissions(&real, fs::Permissions::from_mode(0o640)).unwrap();
    symlink("real.yaml", &link).unwrap();
    store.save(&link, b"two", Expect::AsRead(Digest::of(b"one"))).unwrap();
    assert!(fs::symlink_metadata(&link).unwrap().is_symlink());
    assert_eq!(fs::read_to_string(&real).unwrap(), "two");
    assert_eq!(fs::metadata(&real).unwrap().permissions().mode() & 0o777, 0o640);

    fs::set_permissions(&real, fs::Permissions::from_mode(0o440)).unwrap();
    let error = store.save(&real, b"three", Expect::Anything).unwrap_err();
    assert_eq!(error.trouble, Trouble::NotPermitted, "a read-only file is not replaced behind its owner's back");

    symlink("none.yaml", dir.path().join("dangling.yaml")).unwrap();
    let error = store.save(&dir.path().join("dangling.yaml"), b"x", Expect::New).unwrap_err();
    assert_eq!(error.trouble, Trouble::Missing);
}

#[test]
fn killed_at_any_step_a_save_leaves_the_old_text_or_the_new() {
    let mut deaths = 0;
    for bytes in [0, 1, 7] {
        for steps in 0.. {
            let dir = folder();
            let path = dir.path().join("corvane.yaml");
            fs::write(&path, "the old text").unwrap();
            let dying = Arc::new(Dying { steps: AtomicI64::new(steps), bytes });
            let store = Store::on_disk(Shelf::at(dir.path()), Disk::with_faults(dying.clone()));
            let result = store.save(&path, b"the new text", Expect::AsRead(Digest::of(b"the old text")));
            let now = fs::read_to_string(&path).unwrap();
            let died = dying.steps.load(Ordering::SeqCst) < 0;
            match &result {
                Err(_) => assert_eq!(now, "the old text", "at step {steps}"),
                Ok(saved) => {
                    assert_eq!(now, "the new text");
                    assert_eq!(
                        saved.not_synced.is_some(),
                        died,
                        "at step {steps}: unsure only when the folder was not synced"
                    );
                }
            }
            if !died {
                break;
            }
            deaths += 1;
        }
    }
    assert_eq!(deaths, 3 * 5, "open, write, sync, rename, sync of the folder");
}

#[test]
fn a_full_disk_and_a_read_only_folder_are_told() {
    let dir = folder();
    let (store, switches) = switched(dir.path());
    let path = dir.path().join("corvane.yaml");
    switches.full.store(true, Ordering::SeqCst);
    let error = store.save(&path, b"text", Expect::New).unwrap_err();
    assert_eq!(error.trouble, Trouble::Full);
    assert!(error.to_string().contains("the disk is full; make room"), "{error}");
    switches.full.store(false, Ordering::SeqCst);
    switches.no_open.store(true, Ordering::SeqCst);
    let error = store.save(&path, b"text", Expect::New).unwrap_err();
    assert_eq!(error.trouble, Trouble::NotPermitted);
    assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 0);
}

/// The system's own refusal, where the test does not run as a user whom nothing is refused.
#[cfg(unix)]
#[test]
fn a_folder_without_write_permission_keeps_everything_readable() {
    use std::os::unix::fs::PermissionsExt;
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let mut round = store.new_round(opening(&store, 1), silent()).unwrap();
    let log = round.log.path();
    digit(&mut round, 4);
    round.log.finish().unwrap();
    let rounds = store.shelf().rounds();
    fs::set_permissions(&rounds, fs::Permissions::from_mode(0o555)).unwrap();
    fs::set_permissions(&log, fs::Permissions::from_mode(0o444)).unwrap();
    fs::remove_file(rounds.join(log.file_name().unwrap()).with_extension("log.lock")).unwrap_or(());
    let everything_allowed = fs::write(rounds.join("probe"), "").is_ok();
    let opened = store.open_round(&log, silent()).unwrap();
    if everything_allowed {
        to_write(opened);
    } else {
        let round = to_read(opened);
        assert!(matches!(round.why, ReadOnly::NotWritable(_)), "{}", round.why);
        assert_eq!(scored(&round.state), [4]);
    }
    fs::set_permissions(&rounds, fs::Permissions::from_mode(0o755)).unwrap();
}

#[test]
fn backups_are_numbered_and_the_oldest_go() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path().join("shelf")));
    let path = dir.path().join("corvane.yaml");
    assert_eq!(store.back_up(&path).unwrap(), None);
    for n in 1..=25 {
        fs::write(&path, format!("text {n}")).unwrap();
        let copy = store.back_up(&path).unwrap().unwrap();
        assert_eq!(fs::read_to_string(&copy).unwrap(), format!("text {n}"));
        assert_eq!(store.back_up(&path).unwrap(), None, "the same text is not copied twice");
    }
    let copies = fs::read_dir(dir.path().join("shelf/backups")).unwrap().next().unwrap().unwrap().path();
    let mut names: Vec<String> =
        fs::read_dir(copies).unwrap().map(|e| e.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    assert_eq!(names.len(), 20);
    assert_eq!((names[0].as_str(), names[19].as_str()), ("0006-corvane.yaml", "0025-corvane.yaml"));
}

#[test]
fn settings_are_remembered_and_never_trampled() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let (mut settings, _) = store.settings();
    let last = LastUsed { course: Some("corvane.yaml".to_owned()), ..LastUsed::default() };
    settings.remember(last.clone());
    assert!(!store.shelf().settings().exists(), "written lazily");
    store.save_settings(&mut settings).unwrap();
    let (mut again, _) = store.settings();
    assert_eq!(again.last(), &last);
    again.remember(last.clone());
    assert!(!again.is_changed());

    let text = fs::read_to_string(store.shelf().settings()).unwrap();
    fs::write(store.shelf().settings(), format!("{text}theme: dark\n")).unwrap();
    let (mut again, _) = store.settings();
    again.remember(LastUsed::default());
    store.save_settings(&mut again).unwrap();
    assert!(fs::read_to_string(store.shelf().settings()).unwrap().contains("theme: dark"));
    settings.remember(LastUsed { round: Some("r".to_owned()), ..last });
    assert_eq!(store.save_settings(&mut settings).unwrap_err().trouble, Trouble::Changed);

    fs::write(store.shelf().settings(), "[".repeat(16 << 10)).unwrap();
    let start = Instant::now();
    let (mut broken, trouble) = store.settings();
    assert_eq!(trouble.unwrap().trouble, Trouble::Unreadable);
    assert!(start.elapsed() < Duration::from_secs(5), "a hostile file of this size takes no long time");
    broken.remember(LastUsed { course: Some("x".to_owned()), ..LastUsed::default() });
    store.save_settings(&mut broken).unwrap();
    assert!(fs::read_to_string(store.shelf().settings()).unwrap().starts_with("[["), "left as it is");
}
