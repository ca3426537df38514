//! Disks that fail, and what the tests of this folder share.

use marram::course::model::Card;
use marram::round::*;
use marram::store::*;
use marram::units::digest::Digest;
use std::collections::HashMap;
use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, AtomicI64, Ordering};
use std::sync::mpsc::{Receiver, SyncSender};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

/// Long enough for a slow machine; a test that passes never waits so long.
pub const SOON: Duration = Duration::from_secs(30);

pub fn folder() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

pub fn opening(store: &Store, players: usize) -> Opening {
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
        terms: RoundTerms::default(),
        no_distance_devices: false,
    }
}

pub fn silent() -> Box<Notify> {
    Box::new(|_| {})
}

pub fn digit(round: &mut OpenRound, digit: u8) -> Appended {
    let event = round.state.enter(ScoreKey::Digit(digit), round.state.place()).unwrap();
    round.happen(&event).unwrap()
}

pub fn to_write(file: RoundFile) -> OpenRound {
    match file {
        RoundFile::ToWrite(round) => *round,
        RoundFile::ToRead(round) => panic!("only to read: {}", round.why),
    }
}

pub fn to_read(file: RoundFile) -> ReadRound {
    match file {
        RoundFile::ToWrite(_) => panic!("opened to write"),
        RoundFile::ToRead(round) => *round,
    }
}

pub fn scored(state: &RoundState) -> Vec<u8> {
    state.card_of(0).iter().map_while(|b| b.score.gross()).collect()
}

pub fn until(what: &str, mut holds: impl FnMut() -> bool) {
    let start = Instant::now();
    while !holds() {
        assert!(start.elapsed() < SOON, "waited in vain for: {what}");
        std::thread::sleep(Duration::from_millis(2));
    }
}

/// A disk whose steps fail by switches.
#[derive(Default)]
pub struct Switches {
    pub full: AtomicBool,
    pub no_cut: AtomicBool,
    pub no_sync: AtomicBool,
    pub no_open: AtomicBool,
    /// How long each file was when it was last synced.
    pub synced: Mutex<HashMap<PathBuf, u64>>,
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

pub fn switched(shelf: &Path) -> (Store, Arc<Switches>) {
    let switches = Arc::new(Switches::default());
    let store = Store::on_disk(Shelf::at(shelf), Disk::with_faults(switches.clone()));
    (store, switches)
}

/// A disk that dies at a step, as if the process were killed there: of a write some bytes arrive, later steps do nothing.
pub struct Dying {
    pub steps: AtomicI64,
    pub bytes: usize,
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

/// A disk whose syncs wait until they are let through, one by one.
pub struct SlowSync {
    pub waiting: SyncSender<()>,
    pub through: Mutex<Receiver<()>>,
}

impl Faults for SlowSync {
    fn before(&self, step: Step, _: &Path) -> Option<Fault> {
        if step == Step::Sync {
            self.waiting.send(()).unwrap_or(());
            // When the test is over, everything goes through.
            self.through.lock().unwrap().recv_timeout(SOON).unwrap_or(());
        }
        None
    }
}
