//! The desk at the edge: a thread that saves keyings as they are typed and looks at the folder for what others change.
//!
//! A key never waits for the disk. Of the keyings of one card only the newest is saved; what cannot be saved is kept and
//! tried again, and at the end put aside on this computer.

use super::update::{DeskAsk, DeskNews};
use crate::competition::pad::Pad;
use crate::competition::write::keying_file;
use crate::shelf::{ClosedWords, DeskFolder, Look, competition_to_open, new_competition};
use crate::store::{Store, now};
use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

/// How often the folder is looked at without a reason; drives that send no reports are seen like any other.
const POLL: Duration = Duration::from_millis(600);

/// How long no key has come before the folder is read after a save.
const QUIET: Duration = Duration::from_millis(120);

/// The thread with its way in.
pub struct DeskThread {
    asks: Option<Sender<DeskAsk>>,
    thread: Option<JoinHandle<Vec<String>>>,
}

/// Takes what the desk tells; `false` when nobody listens any more.
pub type Tell = Box<dyn Fn(DeskNews) -> bool + Send>;

impl DeskThread {
    /// Starts the thread.
    ///
    /// # Errors
    /// When the system starts no thread.
    pub fn start(store: Store, tell: Tell) -> std::io::Result<Self> {
        let (asks, asked) = channel();
        let thread = std::thread::Builder::new().name("desk".to_owned()).spawn(move || {
            let mut work = Work { store, tell, desk: None, waiting: BTreeMap::new(), trouble: None, rest: POLL };
            work.run(&asked);
            work.leave()
        })?;
        Ok(Self { asks: Some(asks), thread: Some(thread) })
    }

    /// Asks for something.
    pub fn ask(&self, ask: DeskAsk) {
        if let Some(asks) = &self.asks {
            // The thread ends only when this sender is dropped.
            let _ = asks.send(ask);
        }
    }

    /// Ends the thread; what could not be kept in the folder is said.
    pub fn finish(mut self) -> Vec<String> {
        self.asks = None;
        self.thread.take().and_then(|thread| thread.join().ok()).unwrap_or_default()
    }
}

struct Work {
    store: Store,
    tell: Tell,
    desk: Option<DeskFolder>,
    /// The newest keying of each file that is not yet saved.
    waiting: BTreeMap<String, Pad>,
    trouble: Option<String>,
    /// How long to rest between looks: long folders are looked at less often.
    rest: Duration,
}

impl Work {
    fn run(&mut self, asked: &Receiver<DeskAsk>) {
        let mut looked = Instant::now();
        let mut due = false;
        loop {
            let wait = if due { QUIET } else { POLL };
            match asked.recv_timeout(wait) {
                Ok(first) => {
                    let mut next = Some(first);
                    while let Some(ask) = next {
                        // Whatever reads the folder sees the keyings that were typed before it was asked for.
                        if !matches!(ask, DeskAsk::Key(_)) {
                            self.save();
                        }
                        due |= self.take(ask);
                        next = asked.try_recv().ok();
                    }
                    due |= self.save();
                    continue;
                }
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => return,
            }
            due |= self.save();
            if due || looked.elapsed() >= self.rest {
                self.look(false);
                looked = Instant::now();
                due = false;
            }
        }
    }

    fn say(&self, news: DeskNews) {
        // When nobody listens the channel of asks ends too.
        let _ = (self.tell)(news);
    }

    fn look(&mut self, all_the_same: bool) {
        let Some(desk) = self.desk.as_mut() else { return };
        let began = Instant::now();
        match desk.look(all_the_same) {
            Look::Same => {}
            Look::Read(seen) => self.say(DeskNews::Seen(seen)),
            Look::Gone(words) => self.say(DeskNews::Gone(words)),
        }
        self.rest = POLL.max(began.elapsed());
    }

    /// Saves what waits. Returns whether anything was saved.
    fn save(&mut self) -> bool {
        let Some(desk) = self.desk.as_mut().filter(|_| !self.waiting.is_empty()) else { return false };
        let mut words = None;
        let mut saved = false;
        let mut trouble = None;
        self.waiting.retain(|_, pad| match desk.save_keying(pad, &now()) {
            Ok(said) => {
                words = words.take().or(said);
                saved = true;
                false
            }
            Err(error) => {
                trouble = Some(error.to_string());
                true
            }
        });
        let changed = saved || trouble != self.trouble;
        self.trouble = trouble;
        if changed {
            self.say(DeskNews::Kept(self.waiting.len(), self.trouble.clone(), words));
        }
        saved
    }

    /// Does what was asked. Returns whether the folder is to be read soon.
    fn take(&mut self, ask: DeskAsk) -> bool {
        match ask {
            DeskAsk::Key(pad) => {
                self.waiting.insert(keying_file(&pad.id, &pad.keyer, pad.round), *pad);
                return false;
            }
            DeskAsk::Open(path) => {
                self.open(path);
                return false;
            }
            DeskAsk::New(name) => {
                match new_competition(&self.store, &name, &crate::store::today()) {
                    Ok(path) => {
                        self.open(Some(path));
                        self.say(DeskNews::Said("Made; the set-up and the field are yours to fill".to_owned()));
                    }
                    Err(error) => self.say(DeskNews::Refused(vec![error.to_string()])),
                }
                return false;
            }
            other => {
                let Some(desk) = self.desk.as_mut() else { return false };
                let news = answer(desk, other);
                self.say(news);
            }
        }
        self.look(false);
        false
    }

    fn open(&mut self, path: Option<PathBuf>) {
        let path = match path.map_or_else(|| competition_to_open(&self.store), Ok) {
            Ok(path) => path,
            Err(words) => return self.say(DeskNews::NotOpened(words)),
        };
        let current = std::env::current_dir().unwrap_or_default();
        let desk = DeskFolder::new(self.store.clone(), &path, &current);
        self.say(DeskNews::Opened(desk.folder().display().to_string()));
        self.desk = Some(desk);
        self.look(true);
    }

    /// Saves what is left, in the folder or aside on this computer.
    fn leave(&mut self) -> Vec<String> {
        self.save();
        let Some(desk) = &self.desk else { return Vec::new() };
        let aside = self.waiting.values().map(|pad| match desk.keep_aside(pad, &now()) {
            Ok(path) => format!(
                "the card of {} could not be written to the competition; its keying is kept in {}",
                pad.name,
                path.display()
            ),
            Err(error) => format!(
                "the card of {} could not be written anywhere ({error}); it was:\n{}",
                pad.name,
                pad.text(&now())
            ),
        });
        aside.collect()
    }
}

fn answer(desk: &mut DeskFolder, ask: DeskAsk) -> DeskNews {
    let at = now();
    let done = |result: Result<String, String>| match result {
        Ok(words) => DeskNews::Said(words),
        Err(words) => DeskNews::Refused(vec![words]),
    };
    match ask {
        DeskAsk::Rule(mut ruling) => {
            ruling.at = Some(at);
            done(desk.rule(&ruling).map_err(|error| error.to_string()))
        }
        DeskAsk::Change(mut change) => {
            change.at = at;
            done(desk.change(&change).map_err(|error| error.to_string()))
        }
        DeskAsk::TakeBack => done(desk.take_back()),
        DeskAsk::Outcomes(id, round, hole, added) => {
            let outcomes = desk.outcomes(&id, round, hole, added).unwrap_or_default();
            DeskNews::Outcomes(id, hole, added, outcomes)
        }
        DeskAsk::Explain(id) => match desk.explain(&id) {
            Some(text) => DeskNews::Text(format!("Proof of place: {id}"), text),
            None => DeskNews::Refused(vec![format!("there is no line of {id}")]),
        },
        DeskAsk::StartSheet => match desk.start_sheet() {
            Some(text) => DeskNews::Text("Start sheet".to_owned(), text),
            None => DeskNews::Refused(vec!["no competition can be read".to_owned()]),
        },
        DeskAsk::Import(path) => match desk.import(&path) {
            Ok(words) => DeskNews::Said(words),
            Err(words) => DeskNews::Refused(words),
        },
        DeskAsk::Enter(entry) => match desk.enter(&entry) {
            Ok(words) => DeskNews::Said(words),
            Err(words) => DeskNews::Refused(words),
        },
        DeskAsk::SetUp(row, typed) => done(desk.set_up(row.as_deref(), &typed)),
        DeskAsk::Close(reason) => match desk.close(reason.as_deref(), &at) {
            Ok(ClosedWords::Done(words)) => DeskNews::Said(words),
            Ok(ClosedWords::NeedsReason(words)) => DeskNews::NeedsReason(words),
            Ok(ClosedWords::Open(words)) => DeskNews::Refused(vec![format!("Not closed: {words}")]),
            Err(words) => DeskNews::Refused(vec![words]),
        },
        DeskAsk::Key(_) | DeskAsk::Open(_) | DeskAsk::New(_) => DeskNews::Said(String::new()),
    }
}
