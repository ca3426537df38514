//! Files: what is refused, what survives a kill, a full disk or a failed sync, who holds a round, what a watch tells.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use marram::course::model::Card;
use marram::round::*;
use marram::store::*;
use marram::units::digest::Digest;
use proptest::prelude::*;
use std::collections::HashMap;
use std::fs;
use std::io::{self, BufRead, BufReader, ErrorKind, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicBool, AtomicI64, Ordering};
use std::sync::mpsc::{Receiver, sync_channel};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// Long enough for a slow machine; a test that passes never waits so long.
const SOON: Duration = Duration::from_secs(30);

fn folder() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

fn opening(store: &Store, players: usize) -> Opening {
    let player = |n: usize| Entrant {
        name: format!("Player {n}"),
        file: None,
        tee: "Club".to_owned(),
        card: Card::Women,
        handicap_index: None,
        course_handicap: None,
        playing_handicap: None,
        strokes: vec![0; 18],
    };
    Opening {
        format: LOG_FORMAT.to_owned(),
        id: store.next_round_id("2026-05-16", "Corvane Links"),
        date: "2026-05-16".to_owned(),
        course_name: "Corvane Links".to_owned(),
        course: FileRef { file: "corvane.yaml".to_owned(), digest: Digest::of(b"") },
        layers: vec![],
        day: None,
        kind: Kind::Practice,
        play: None,
        allowance: None,
        holes: (1..=18).collect(),
        players: (0..players).map(player).collect(),
        no_distance_devices: false,
    }
}

fn silent() -> Box<Notify> {
    Box::new(|_| {})
}

fn digit(round: &mut OpenRound, digit: u8) -> Appended {
    let event = round.state.enter(ScoreKey::Digit(digit), round.state.place()).unwrap();
    round.happen(&event).unwrap()
}

fn to_write(file: RoundFile) -> OpenRound {
    match file {
        RoundFile::ToWrite(round) => *round,
        RoundFile::ToRead(round) => panic!("only to read: {}", round.why),
    }
}

fn to_read(file: RoundFile) -> ReadRound {
    match file {
        RoundFile::ToWrite(_) => panic!("opened to write"),
        RoundFile::ToRead(round) => *round,
    }
}

fn scored(state: &RoundState) -> Vec<u8> {
    state.card_of(0).iter().map_while(|b| b.score.gross()).collect()
}

fn until(what: &str, mut holds: impl FnMut() -> bool) {
    let start = Instant::now();
    while !holds() {
        assert!(start.elapsed() < SOON, "waited in vain for: {what}");
        std::thread::sleep(Duration::from_millis(2));
    }
}

/// A disk whose steps fail by switches.
#[derive(Default)]
struct Switches {
    full: AtomicBool,
    no_cut: AtomicBool,
    no_sync: AtomicBool,
    no_open: AtomicBool,
    /// How long each file was when it was last synced.
    synced: Mutex<HashMap<PathBuf, u64>>,
}

impl Faults for Switches {
    fn before(&self, step: Step, path: &Path) -> Option<Fault> {
        let on = |switch: &AtomicBool| switch.load(Ordering::SeqCst);
        match step {
            Step::Write(count) if on(&self.full) => Some(Fault::Short(count / 2, ErrorKind::StorageFull)),
            Step::SetLength if on(&self.no_cut) => Some(Fault::Fails(ErrorKind::Other)),
            Step::Sync | Step::SyncFolder if on(&self.no_sync) => Some(Fault::Fails(ErrorKind::Other)),
            Step::Open if on(&self.no_open) => Some(Fault::Fails(ErrorKind::PermissionDenied)),
            Step::Sync => {
                let length = fs::metadata(path).map_or(0, |m| m.len());
                self.synced.lock().unwrap().insert(path.to_owned(), length);
                None
            }
            _ => None,
        }
    }
}

fn switched(shelf: &Path) -> (Store, Arc<Switches>) {
    let switches = Arc::new(Switches::default());
    let store = Store::on_disk(Shelf::at(shelf), Disk::with_faults(switches.clone()));
    (store, switches)
}

/// A disk that dies at a step, as if the process were killed there: of a write some bytes arrive, later steps do nothing.
struct Dying {
    steps: AtomicI64,
    bytes: usize,
}

impl Faults for Dying {
    fn before(&self, _: Step, _: &Path) -> Option<Fault> {
        match self.steps.fetch_sub(1, Ordering::SeqCst) {
            1.. => None,
            0 => Some(Fault::Short(self.bytes, ErrorKind::Other)),
            _ => Some(Fault::Fails(ErrorKind::Other)),
        }
    }
}

// ---- reading -------------------------------------------------------------------------------------------------------

#[test]
fn what_is_no_regular_file_of_its_size_is_refused_before_reading() {
    let dir = folder();
    let at = |name: &str| dir.path().join(name);
    let trouble = |path: &Path| read(path, Limit::YAML).unwrap_err().trouble;

    assert_eq!(trouble(&at("none.yaml")), Trouble::Missing);
    assert_eq!(trouble(dir.path()), Trouble::WrongSort);
    assert_eq!(trouble(Path::new("/dev/zero")), Trouble::NotRegular);
    assert!(Command::new("mkfifo").arg(at("pipe.yaml")).status().unwrap().success());
    assert_eq!(trouble(&at("pipe.yaml")), Trouble::NotRegular);

    let large = fs::File::create(at("large.yaml")).unwrap();
    large.set_len(100 << 20).unwrap();
    let error = read(&at("large.yaml"), Limit::YAML).unwrap_err();
    assert_eq!(error.trouble, Trouble::TooLarge);
    assert!(error.to_string().contains("larger than 4 MiB"), "{error}");
    assert!(read(&at("large.yaml"), Limit::MAP).unwrap_err().to_string().contains("64 MiB"));

    large.set_len(4 << 20).unwrap();
    assert_eq!(read(&at("large.yaml"), Limit::YAML).unwrap().bytes.len(), 4 << 20, "the limit itself is allowed");

    fs::write(at("latin.yaml"), b"format: player/1\nname: J\xf6rn\n").unwrap();
    let error = read_text(&at("latin.yaml"), Limit::YAML).unwrap_err();
    assert_eq!(error.trouble, Trouble::NotText);
    assert!(error.to_string().contains("byte \\xf6 at line 2, column 8"), "{error}");
}

#[test]
fn an_error_names_place_cause_and_cure_and_carries_no_escape() {
    let error = read(Path::new("/nowhere/a\u{1b}[2Jb.yaml"), Limit::YAML).unwrap_err();
    assert_eq!(
        error.to_string(),
        "/nowhere/a\\x1b[2Jb.yaml: there is no such file or folder; check the name and the folder"
    );
}

#[cfg(unix)]
#[test]
fn a_path_in_a_notebook_never_leads_out_of_its_folder() {
    use std::os::unix::fs::symlink;
    let dir = folder();
    let home = dir.path().join("courses");
    fs::create_dir_all(home.join("maps")).unwrap();
    fs::write(dir.path().join("secret"), "s").unwrap();
    fs::write(home.join("maps/corvane.geojson"), "{}").unwrap();
    symlink("../secret", home.join("out.geojson")).unwrap();
    symlink("maps/corvane.geojson", home.join("in.geojson")).unwrap();
    symlink("..", home.join("up")).unwrap();
    let notebook = home.join("corvane.yaml");
    let real = fs::canonicalize(home.join("maps/corvane.geojson")).unwrap();

    for inside in ["maps/corvane.geojson", "./maps/corvane.geojson", "in.geojson"] {
        assert_eq!(beside(&notebook, inside).unwrap(), real, "{inside}");
    }
    let absolute = real.to_str().unwrap();
    for outside in [
        "../secret",
        "maps/../../secret",
        "maps/../maps/corvane.geojson",
        "..\\secret",
        "/etc/passwd",
        "\\\\host\\share",
        "C:\\secret",
        absolute,
        "out.geojson",
        "up/secret",
        "",
        "a\0b",
    ] {
        assert_eq!(beside(&notebook, outside).unwrap_err().trouble, Trouble::Outside, "{outside:?}");
    }
    assert_eq!(beside(&notebook, "none.geojson").unwrap_err().trouble, Trouble::Missing);
}

// ---- names and places ----------------------------------------------------------------------------------------------

#[test]
fn a_name_is_looked_up_here_and_then_on_the_shelf() {
    let (shelf_dir, here) = (folder(), folder());
    let shelf = Shelf::at(shelf_dir.path());
    for (path, format) in [
        ("corvane.yaml", "course-notebook/1"),
        ("corvane.wren.yaml", "notebook-layer/1"),
        ("players/wren.yaml", "player/1"),
        ("players/corvane.yaml", "player/1"),
        ("days/2026-05-16-corvane.yaml", "day-sheet/1"),
        ("competitions/spring/competition.yaml", "competition/1"),
    ] {
        let path = shelf_dir.path().join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, format!("# by hand\nformat: {format} # a kind\n")).unwrap();
    }
    let find = |sort, name: &str| shelf.find(sort, name, here.path());
    let on_shelf = |name: &str| shelf_dir.path().join(name);

    assert_eq!(find(Sort::Notebook, "corvane").unwrap(), on_shelf("corvane.yaml"));
    assert_eq!(find(Sort::Notebook, "Corvane").unwrap(), on_shelf("corvane.yaml"));
    assert_eq!(find(Sort::Player, "wren").unwrap(), on_shelf("players/wren.yaml"));
    assert_eq!(find(Sort::Competition, "spring").unwrap(), on_shelf("competitions/spring"));
    let names = |sort| shelf.list(sort).unwrap().into_iter().map(|f| f.name).collect::<Vec<_>>();
    assert_eq!(names(Sort::Notebook), ["corvane"], "a layer is no notebook");
    assert_eq!(names(Sort::Player), ["corvane", "wren"]);

    fs::write(here.path().join("corvane.yaml"), "format: course-notebook/1\n").unwrap();
    assert_eq!(find(Sort::Notebook, "corvane").unwrap(), here.path().join("corvane.yaml"), "here goes first");
    assert_eq!(
        find(Sort::Player, "corvane").unwrap(),
        on_shelf("players/corvane.yaml"),
        "a notebook here is no player"
    );
    assert_eq!(find(Sort::Player, "./corvane.yaml").unwrap(), here.path().join("./corvane.yaml"), "a path is a path");

    let error = find(Sort::Player, "wern").unwrap_err();
    assert!(error.to_string().contains("no player named `wern`") && error.cure == "did you mean `wren`?", "{error}");
    let error = find(Sort::Player, "zzz").unwrap_err();
    assert_eq!(error.cure, "there are: corvane, wren");
    let error = find(Sort::Day, "heath").unwrap_err();
    assert_eq!(error.cure, "there are: 2026-05-16-corvane");
    let error = find(Sort::Round, "a").unwrap_err();
    assert_eq!(error.cure, "there is none yet; `marram new round NAME` writes one");
    let error = find(Sort::Notebook, "./corvnae.yaml").unwrap_err();
    assert_eq!((error.trouble, error.cure.as_str()), (Trouble::Missing, "did you mean `corvane.yaml`?"));
}

#[test]
fn a_pipe_on_the_shelf_hangs_nobody() {
    let dir = folder();
    assert!(Command::new("mkfifo").arg(dir.path().join("corvane.yaml")).status().unwrap().success());
    let shelf = Shelf::at(dir.path());
    assert_eq!(shelf.list(Sort::Notebook).unwrap(), []);
    assert_eq!(shelf.find(Sort::Notebook, "corvane", dir.path()).unwrap_err().trouble, Trouble::UnknownName);
}

#[test]
fn looking_makes_nothing() {
    let dir = folder();
    let root = dir.path().join("not there");
    let store = Store::new(Shelf::at(&root));
    let (mut settings, trouble) = store.settings();
    assert_eq!(trouble, None);
    store.save_settings(&mut settings).unwrap();
    for sort in [Sort::Notebook, Sort::Player, Sort::Day, Sort::Round, Sort::Competition] {
        assert_eq!(store.shelf().list(sort).unwrap(), []);
        store.shelf().find(sort, "corvane", &root).unwrap_err();
    }
    let id = store.next_round_id("2026-05-16", "Corvane Links");
    assert!(store.open_round(&store.round_log(&id), silent()).is_err());
    assert!(!root.exists());
}

/// Not a test by itself: says where the shelf is, in a process with the variables that the next test sets.
#[test]
fn child_says_where_the_shelf_is() {
    if std::env::var_os("MARRAM_TEST_SHELF").is_some() {
        println!("shelf={}", Shelf::locate(None).unwrap().root().display());
        let option = Shelf::locate(Some(Path::new("/from/option"))).unwrap();
        println!("option={}", option.root().display());
    }
}

#[cfg(target_os = "linux")]
#[test]
fn the_shelf_is_where_option_variable_or_system_say() {
    let place = |set: &[(&str, &str)]| {
        let mut command = Command::new(std::env::current_exe().unwrap());
        command.args(["--exact", "child_says_where_the_shelf_is", "--nocapture"]);
        command.env("MARRAM_TEST_SHELF", "1").env_remove("MARRAM_FOLDER").env_remove("XDG_DATA_HOME");
        command.env("HOME", "/home/wren").envs(set.iter().copied());
        let text = String::from_utf8(command.output().unwrap().stdout).unwrap();
        assert!(text.contains("option=/from/option\n"), "the option wins: {text}");
        text.lines().find_map(|l| l.split_once("shelf=")).unwrap().1.to_owned()
    };
    assert_eq!(place(&[]), "/home/wren/.local/share/marram");
    assert_eq!(place(&[("XDG_DATA_HOME", "/data")]), "/data/marram");
    assert_eq!(place(&[("MARRAM_FOLDER", "/my/shelf"), ("XDG_DATA_HOME", "/data")]), "/my/shelf");
    assert_eq!(place(&[("MARRAM_FOLDER", "")]), "/home/wren/.local/share/marram");
}

// ---- saving --------------------------------------------------------------------------------------------------------

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

// ---- rounds --------------------------------------------------------------------------------------------------------

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
            .args(["--exact", "child_that_scores_until_it_is_killed", "--nocapture"])
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

// ---- watching ------------------------------------------------------------------------------------------------------

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
