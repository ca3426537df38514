//! Rounds on the shelf: taken up again, torn, held, killed, on disks that fail.

use crate::disks::*;
use marram::round::*;
use marram::store::*;
use marram::units::digest::Digest;
use proptest::prelude::*;
use std::fs;
use std::io::{self, BufRead, BufReader, Write};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicI64, Ordering};
use std::sync::mpsc::sync_channel;
use std::sync::{Arc, Mutex};
use std::time::Duration;

#[test]
fn a_round_is_taken_up_where_it_was_left() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let (tell, told) = sync_channel(64);
    let mut round = store.new_round(opening(&store, 1), Box::new(move |kept| drop(tell.try_send(kept)))).unwrap();
    let log = round.log.path();
    assert_eq!(log.file_name().unwrap(), "2026-05-16-corvane-links-a.log");
    assert_eq!(store.next_round_id("2026-05-16", "Corvane Links").as_str(), "2026-05-16-corvane-links-b");
    let texts = vec![
        TextOf {
            role: TextRole::Notebook,
            file: "corvane.yaml".to_owned(),
            bytes: b"format: course-notebook/1".to_vec(),
        },
        TextOf { role: TextRole::Player, file: "wren.yaml".to_owned(), bytes: b"format: player/1".to_vec() },
    ];
    round.happen(&Event::Texts(texts.iter().map(TextOf::stored).collect())).unwrap();
    assert_eq!(round.log.texts_missing(&round.state).len(), 2);
    round.log.keep_texts(texts.clone());
    for score in [4, 5, 3, 6, 4, 5] {
        assert_eq!(digit(&mut round, score).waits, None);
    }
    round.happen(&round.state.undo().unwrap()).unwrap();
    let kept = round.log.finish().unwrap();
    assert_eq!((kept.up_to, kept.waiting), (9, 0));
    assert!(told.try_iter().any(|k: Kept| k.up_to == 9), "the last acknowledgement was told");
    for text in &texts {
        let place = store.shelf().rounds().join("texts").join(Digest::of(&text.bytes).to_string());
        assert_eq!(fs::read(place).unwrap(), text.bytes);
    }

    let mut round = to_write(store.open_round(&log, silent()).unwrap());
    assert_eq!(round.problems, []);
    assert!(round.log.texts_missing(&round.state).is_empty());
    assert_eq!(round.state.resume(), Place { player: 0, position: 5 });
    round.happen(&round.state.redo().unwrap()).unwrap();
    assert_eq!(scored(&round.state), [4, 5, 3, 6, 4, 5]);
    round.happen(&Event::Closed).unwrap();
    store.save_card(&log, &RoundCard::of(&round.state)).unwrap();
    let card = fs::read_to_string(log.with_extension("yaml")).unwrap();
    assert!(card.contains("scores: 4 5 3 6 4 5 _"), "{card}");
    assert!(matches!(
        store.new_round(Opening { id: round.state.opening().id.clone(), ..opening(&store, 1) }, silent()).map(drop),
        Err(StoreError { trouble: Trouble::Held, .. })
    ));
}

#[test]
fn a_second_opener_reads_and_is_told_who_writes() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let mut round = store.new_round(opening(&store, 1), silent()).unwrap();
    digit(&mut round, 4);
    let log = round.log.path();
    // Half a line of the other program is no torn line.
    fs::OpenOptions::new().append(true).open(&log).unwrap().write_all(b"{\"seq\":3,").unwrap();
    let second = to_read(store.open_round(&log, silent()).unwrap());
    let ReadOnly::HeldBy(holder) = &second.why else { panic!("{}", second.why) };
    assert_eq!(holder.pid, std::process::id());
    assert!(second.why.to_string().contains(&format!("process {} on ", holder.pid)), "{}", second.why);
    assert!(second.why.to_string().contains("only shown"));
    assert_eq!((scored(&second.state), second.problems.len()), (vec![4], 0));
    drop(round);
    assert!(matches!(store.open_round(&log, silent()).unwrap(), RoundFile::ToWrite(_)), "free again");
}

#[test]
fn a_torn_end_is_set_aside_beside_the_log() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let mut round = store.new_round(opening(&store, 1), silent()).unwrap();
    let log = round.log.path();
    for score in [4, 5, 6] {
        digit(&mut round, score);
    }
    drop(round);
    let whole = fs::read(&log).unwrap();
    let last = whole.len() - 1 - whole[..whole.len() - 1].iter().rposition(|b| *b == b'\n').unwrap();
    for lost in [0, 1, 2, 40, last - 1, last] {
        fs::write(&log, &whole[..whole.len() - lost]).unwrap();
        let mut round = to_write(store.open_round(&log, silent()).unwrap());
        let is_torn = lost > 1 && lost < last;
        assert_eq!(round.set_aside.is_some(), is_torn, "lost {lost}");
        assert_eq!(!round.problems.is_empty(), is_torn);
        if let Some(aside) = &round.set_aside {
            assert_eq!(fs::read(aside).unwrap(), whole[whole.len() - last..whole.len() - lost]);
        }
        assert_eq!(scored(&round.state), if lost <= 1 { vec![4, 5, 6] } else { vec![4, 5] });
        digit(&mut round, 7);
        drop(round);
        let read = replay(&fs::read(&log).unwrap());
        assert_eq!(read.problems, [], "the log is whole again");
        assert_eq!(scored(&read.state.unwrap()).last(), Some(&7));
    }
}

#[test]
fn a_file_that_is_no_log_is_refused_and_untouched() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    for text in ["", "format: player/1\n", "{\"seq\":1}\n"] {
        let path = dir.path().join("x.log");
        fs::write(&path, text).unwrap();
        let error = store.open_round(&path, silent()).map(drop).unwrap_err();
        assert_eq!(error.trouble, Trouble::Unreadable, "{error}");
        assert_eq!(fs::read_to_string(&path).unwrap(), text);
    }
}

#[test]
fn on_a_full_disk_entries_wait_and_follow_in_order() {
    for no_cut in [false, true] {
        let dir = folder();
        let (store, switches) = switched(dir.path());
        let mut round = store.new_round(opening(&store, 1), silent()).unwrap();
        let log = round.log.path();
        digit(&mut round, 4);
        until("the first entry is kept", || round.log.kept().up_to == 2);
        switches.no_cut.store(no_cut, Ordering::SeqCst);
        switches.full.store(true, Ordering::SeqCst);
        for score in [5, 6, 7] {
            let appended = digit(&mut round, score);
            assert_eq!(appended.waits.unwrap().trouble, Trouble::Full);
        }
        assert_eq!(scored(&round.state), [4, 5, 6, 7], "the entries stay on the screen");
        let kept = round.log.kept();
        assert_eq!((kept.up_to, kept.waiting), (2, 3));
        assert_eq!(kept.trouble.unwrap().trouble, Trouble::Full);
        switches.full.store(false, Ordering::SeqCst);
        until("the thread tries again by itself", || round.log.kept().up_to == 5);
        assert_eq!(round.log.kept(), Kept { up_to: 5, ..Kept::default() });
        drop(round);
        let read = replay(&fs::read(&log).unwrap());
        assert_eq!(scored(&read.state.unwrap()), [4, 5, 6, 7]);
        assert_eq!(read.problems.is_empty(), !no_cut, "only remains that could not be cut off are told");
    }
}

#[test]
fn an_end_on_a_full_disk_says_so() {
    let dir = folder();
    let (store, switches) = switched(dir.path());
    let mut round = store.new_round(opening(&store, 1), silent()).unwrap();
    switches.full.store(true, Ordering::SeqCst);
    digit(&mut round, 4);
    assert_eq!(round.log.finish().unwrap_err().trouble, Trouble::Full);
    let error = store.new_round(opening(&store, 1), silent()).map(drop).unwrap_err();
    assert_eq!(error.trouble, Trouble::Full);
    assert_eq!(store.shelf().list(Sort::Round).unwrap().len(), 1, "no empty log stays behind");
}

#[test]
fn a_slow_sync_delays_no_entry_and_covers_only_what_was_written_before_it() {
    let dir = folder();
    let (waiting, waits) = sync_channel(8);
    let (let_through, through) = sync_channel(8);
    let disk = Disk::with_faults(Arc::new(SlowSync { waiting, through: Mutex::new(through) }));
    let store = Store::on_disk(Shelf::at(dir.path()), disk);
    let mut round = store.new_round(opening(&store, 1), silent()).unwrap();
    waits.recv_timeout(SOON).unwrap();
    for score in [4, 5] {
        assert_eq!(digit(&mut round, score).waits, None, "written while the disk is still busy");
    }
    assert_eq!(round.log.kept().up_to, 0);
    let_through.send(()).unwrap();
    waits.recv_timeout(SOON).unwrap();
    assert!(round.log.kept().up_to < 3, "the sync that just ended had begun before these entries");
    digit(&mut round, 6);
    let_through.send(()).unwrap();
    waits.recv_timeout(SOON).unwrap();
    assert_eq!(round.log.kept().up_to, 3);
    drop(let_through);
    assert_eq!(round.log.finish().unwrap().up_to, 4);
}

#[test]
fn after_a_failed_sync_the_bytes_are_written_anew() {
    let dir = folder();
    let (store, switches) = switched(dir.path());
    let mut round = store.new_round(opening(&store, 1), silent()).unwrap();
    let log = round.log.path();
    digit(&mut round, 4);
    until("kept", || round.log.kept().up_to == 2);
    let safe = fs::metadata(&log).unwrap().len();
    switches.no_sync.store(true, Ordering::SeqCst);
    digit(&mut round, 5);
    digit(&mut round, 6);
    until("the trouble is told", || round.log.kept().trouble.is_some());
    assert_eq!(round.log.kept().up_to, 2, "nothing is called kept that was not synced");
    // What the system may do after a failed sync: forget.
    let length = fs::metadata(&log).unwrap().len();
    let file = fs::OpenOptions::new().write(true).open(&log).unwrap();
    file.set_len(safe).unwrap();
    file.set_len(length).unwrap();
    switches.no_sync.store(false, Ordering::SeqCst);
    until("kept at last", || round.log.kept().up_to == 4);
    drop(round);
    let read = replay(&fs::read(&log).unwrap());
    assert_eq!(read.problems, []);
    assert_eq!(scored(&read.state.unwrap()), [4, 5, 6]);
}

#[test]
fn a_first_sync_that_fails_casts_doubt_on_the_whole_log() {
    let dir = folder();
    let (store, switches) = switched(dir.path());
    let mut round = store.new_round(opening(&store, 1), silent()).unwrap();
    let log = round.log.path();
    for score in [4, 5] {
        digit(&mut round, score);
    }
    drop(round);
    let whole = fs::read(&log).unwrap();
    switches.no_sync.store(true, Ordering::SeqCst);
    let round = to_write(store.open_round(&log, silent()).unwrap());
    until("the trouble is told", || round.log.kept().trouble.is_some());
    fs::OpenOptions::new().write(true).open(&log).unwrap().write_all(&[0; 300]).unwrap();
    switches.no_sync.store(false, Ordering::SeqCst);
    until("kept", || round.log.kept().up_to == 3);
    assert_eq!(fs::read(&log).unwrap(), whole);
}

#[cfg(unix)]
#[test]
fn a_log_removed_or_replaced_under_the_program_loses_nothing() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let mut round = store.new_round(opening(&store, 1), silent()).unwrap();
    let log = round.log.path();
    digit(&mut round, 4);
    fs::remove_file(&log).unwrap();
    digit(&mut round, 5);
    assert_eq!(scored(&replay(&fs::read(&log).unwrap()).state.unwrap()), [4, 5], "written anew in its place");
    fs::write(dir.path().join("other"), "another file").unwrap();
    fs::rename(dir.path().join("other"), &log).unwrap();
    digit(&mut round, 6);
    let kept = round.log.finish().unwrap();
    assert_eq!(kept.up_to, 4);
    let moved = kept.moved_to.unwrap();
    assert_eq!(moved.file_name().unwrap(), "2026-05-16-corvane-links-a-rescued-1.log");
    assert_eq!(scored(&replay(&fs::read(&moved).unwrap()).state.unwrap()), [4, 5, 6]);
    assert_eq!(fs::read_to_string(&log).unwrap(), "another file", "what was put there stays");
}

#[test]
fn killed_at_any_step_a_round_keeps_what_was_acknowledged() {
    for bytes in [0, 1, 50] {
        for steps in 0..200 {
            let dir = folder();
            let dying = Arc::new(Dying { steps: AtomicI64::new(steps), bytes });
            let store = Store::on_disk(Shelf::at(dir.path()), Disk::with_faults(dying.clone()));
            let mut written = Vec::new();
            let round = store.new_round(opening(&store, 1), silent());
            let was_opened = round.is_ok();
            if let Ok(mut round) = round {
                for score in [4, 5, 6, 7] {
                    if digit(&mut round, score).waits.is_none() {
                        written.push(score);
                    }
                }
                drop(round);
            }
            let store = Store::new(Shelf::at(dir.path()));
            let logs = store.shelf().list(Sort::Round).unwrap();
            if was_opened {
                let round = to_write(store.open_round(&logs[0].path, silent()).unwrap());
                assert!(scored(&round.state).starts_with(&written), "killed at {steps}: {written:?}");
            }
            if dying.steps.load(Ordering::SeqCst) > 0 {
                assert_eq!(written, [4, 5, 6, 7]);
                assert!(steps > 8, "died at fewer steps than there are");
                break;
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// A power cut: the disk has at least what was synced, and any part of the rest.
    #[test]
    fn a_power_cut_takes_nothing_that_was_kept(scores in prop::collection::vec(1..=9u8, 1..18), pause in 0..4u64, rest in any::<prop::sample::Index>()) {
        let dir = folder();
        let (store, switches) = switched(dir.path());
        let mut round = store.new_round(opening(&store, 1), silent()).unwrap();
        let log = round.log.path();
        for score in &scores {
            digit(&mut round, *score);
            std::thread::sleep(Duration::from_millis(pause));
        }
        let kept = round.log.kept().up_to;
        let synced = switches.synced.lock().unwrap().get(&log).copied().unwrap_or(0);
        let bytes = fs::read(&log).unwrap();
        drop(round);
        let synced = usize::try_from(synced).unwrap();
        let cut = synced + rest.index(bytes.len() - synced + 1);
        let read = replay(&bytes[..cut]);
        prop_assert!(read.chain.next_seq() > kept, "kept {} but {} are there", kept, read.chain.next_seq() - 1);
        if let Some(state) = read.state {
            prop_assert!(scores.starts_with(&scored(&state)));
        }
    }
}

/// Not a test by itself: the process that the next test kills.
#[test]
fn child_that_scores_until_it_is_killed() {
    let Some(root) = std::env::var_os("MARRAM_TEST_KILL") else { return };
    let store = Store::new(Shelf::at(root));
    let say = |line: String| {
        let mut out = io::stdout().lock();
        writeln!(out, "{line}").and_then(|()| out.flush()).unwrap();
    };
    let mut round = match store.shelf().list(Sort::Round).unwrap().first() {
        Some(found) => to_write(store.open_round(&found.path, silent()).unwrap()),
        None => store.new_round(opening(&store, 2), silent()).unwrap(),
    };
    for n in 0_usize.. {
        let place = Place { player: n % 2, position: n / 2 % 18 };
        let event = match n % 7 {
            6 => round.state.undo(),
            _ => round.state.enter(ScoreKey::Digit(u8::try_from(n % 9 + 1).unwrap()), place),
        };
        let appended = round.happen(&event.unwrap()).unwrap();
        assert_eq!(appended.waits, None);
        say(format!("ack {} {}", appended.seq, round.log.kept().up_to));
    }
}

#[test]
fn a_killed_program_loses_nothing_that_it_acknowledged() {
    let dir = folder();
    let store = Store::new(Shelf::at(dir.path()));
    let mut before = 0;
    for kill_after in [1, 5, 37, 400] {
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "rounds::child_that_scores_until_it_is_killed", "--nocapture"])
            .env("MARRAM_TEST_KILL", dir.path())
            .stdout(Stdio::piped())
            .spawn()
            .unwrap();
        let mut lines = BufReader::new(child.stdout.take().unwrap()).lines().map_while(Result::ok);
        let ack = |line: String| -> Option<(u64, u64)> {
            let (_, numbers) = line.split_once("ack ")?;
            let (seq, kept) = numbers.split_once(' ')?;
            Some((seq.parse().ok()?, kept.parse().ok()?))
        };
        let mut last = (0, 0);
        let mut count = 0;
        while count < kill_after {
            if let Some(now) = ack(lines.next().expect("the child goes on until it is killed")) {
                last = now;
                count += 1;
            }
        }
        let log = store.shelf().list(Sort::Round).unwrap().remove(0).path;
        let while_it_runs = to_read(store.open_round(&log, silent()).unwrap());
        let ReadOnly::HeldBy(holder) = &while_it_runs.why else { panic!("{}", while_it_runs.why) };
        assert_eq!(holder.pid, child.id());
        child.kill().unwrap();
        child.wait().unwrap();
        last = lines.filter_map(ack).last().unwrap_or(last);
        assert!(last.0 >= last.1, "nothing is kept before it is written");
        assert!(last.0 > before, "the child went on where the log ended");

        let read = replay(&fs::read(&log).unwrap());
        assert_eq!(read.problems.iter().filter(|p| !matches!(p.what, Problem::Torn { .. })).count(), 0);
        let there = read.chain.next_seq() - 1;
        assert!(there >= last.0, "acknowledged {} and found {there}", last.0);
        let round = to_write(store.open_round(&log, silent()).unwrap());
        assert_eq!(round.state.next_seq(), there + 1);
        before = there;
    }
}
