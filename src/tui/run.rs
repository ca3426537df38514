//! The loop at the edge: one channel of everything that can happen, one owner of the state, effects performed before the
//! next key.

use super::behind::{Answered, Behind, Planned};
use super::desk_run::DeskThread;
use super::keymap::{Key, Keymap};
use super::lines;
use super::looks::Looks;
use super::reviewer;
use super::saver::{Saver, SaverTold};
use super::state::{Content, Notice, PupilsJob, ReviewAsk, ShelfFile, State, Tab};
use super::terminal::{self, Guard};
use super::update::today::{Ask, Told};
use super::update::{
    CourseAsk, CourseTold, DeskAsk, DeskNews, Effect, Msg, PlayerEdit, PupilsAsk, PupilsTold, pupils, scout, update,
};
use super::view::view;
use crate::jobs::{Cancel, Done, Outcome, Worker};
use crate::notebook::report::Report;
use crate::round::Event;
use crate::session::{Home, RoundWish, Session};
use crate::shelf::{self, NotEdited, Taken};
use crate::store::{
    FileChange, Kept, LastUsed, Limit, Notify, RoundLog, Settings, Store, StoreError, Trouble, Watch, read_text,
};
use crossterm::event::{Event as TerminalEvent, KeyEventKind};
use std::io;
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, SyncSender, sync_channel};
use std::thread;
use std::time::{Duration, Instant};

/// Everything that can arrive from outside.
pub(super) enum Arrival {
    Terminal(TerminalEvent),
    TerminalGone,
    /// A line that was typed or piped, in line mode.
    Typed(String),
    /// No more lines will come.
    InputEnds,
    FileChanged,
    Planned(Box<Done<Planned>>),
    Reviewed(Box<Done<(Tab, Content)>>),
    Saved(SaverTold),
    Pupils(PupilsTold),
    Told(Box<Done<Told>>),
    Answered(Box<Done<Answered>>),
    /// The pocket book was written: the words that say where, or why not.
    Book(Result<String, String>),
    Kept(Kept),
    Desk(Box<DeskNews>),
}

/// How many arrivals may wait; a storm of them makes the sender wait, not the memory grow.
const WAITING: usize = 256;

/// How long the plan in work is waited for when no more lines will come.
const LAST_PLAN: Duration = Duration::from_secs(20);

/// What shows the state to the person: the drawn screen, or lines of text.
pub(super) trait Face {
    /// Shows what is new.
    fn show(&mut self, state: &State) -> io::Result<()>;

    /// Whether each arrival is shown by itself, or what has piled up is taken first, so that a slow terminal never holds keys back.
    fn shows_each(&self) -> bool {
        false
    }
}

impl Face for Guard {
    fn show(&mut self, state: &State) -> io::Result<()> {
        draw(self, state)
    }
}

/// What to open at the start.
pub enum Start {
    /// Where the person left off, else the example.
    LeftOff,
    /// This file.
    Path(PathBuf),
    /// The desk of the competition in this folder.
    Desk(PathBuf),
}

/// The screen with what it needs of the world.
pub struct App {
    store: Store,
    settings: Settings,
    round: Option<RoundLog>,
    watch: Option<Watch>,
    arrivals: SyncSender<Arrival>,
    /// The key in hand, to be sent again when a round has been begun for it.
    in_hand: Option<Key>,
    leaving: bool,
    /// When no more lines will come: since when.
    ended: Option<Instant>,
    /// Saves the settings.
    saving: Option<thread::JoinHandle<Settings>>,
    /// What is worked out behind the screen.
    behind: Behind,
    /// Works pupils' plays out; started with the Pupils page.
    teacher: Option<Worker<()>>,
    /// Writes changed notebooks; started with the first change.
    saver: Option<Saver>,
    /// Serves the competition desk; started with the first that is opened.
    desk: Option<DeskThread>,
    /// A book is being made.
    printing: bool,
    /// Works reviews out; started with the first that is wanted.
    reviewer: Option<Worker<(Tab, Content)>>,
}

/// Runs the screen until the person leaves.
///
/// # Errors
/// When the terminal cannot be used, or what was to be opened cannot be read.
pub fn run(store: Store, start: &Start, today: &str) -> anyhow::Result<()> {
    let (mut app, arrived, mut state) = App::start(store, start, today, terminal::size())?;
    let mut guard = Guard::enter()?;
    draw(&mut guard, &state)?;
    // The first frame stands: what can wait has waited.
    app.watch_files(&state);
    listen(app.arrivals.clone());
    app.handle(&mut state, Msg::Resize(terminal::size().0, terminal::size().1));
    app.serve(&mut guard, &mut state, &arrived)?;
    drop(guard);
    app.leave(&state, arrived)
}

fn draw(guard: &mut Guard, state: &State) -> io::Result<()> {
    guard.terminal.draw(|frame| {
        let cursor = view(state, frame.buffer_mut());
        if let Some(place) = cursor {
            frame.set_cursor_position(place);
        }
    })?;
    Ok(())
}

/// The person's own keys from their shelf; a mistake there is said with its line, and the rest holds.
fn own_keys(store: &Store) -> (Keymap, Option<Notice>) {
    let path = store.shelf().keys();
    if !path.exists() {
        return (Keymap::default(), None);
    }
    match read_text(&path, Limit::YAML) {
        Ok(file) => {
            let (keymap, problems) = Keymap::read(&file.text);
            let name = path.display().to_string();
            let first = Report::new(&name, &file.text, &problems).to_text().lines().next().map(str::to_owned);
            (keymap, first.map(|line| Notice::warning(format!("{line} (marram check {name})"))))
        }
        Err(error) => (Keymap::default(), Some(Notice::warning(error.to_string()))),
    }
}

/// Reads the terminal on a thread of its own.
fn listen(arrivals: SyncSender<Arrival>) {
    thread::spawn(move || {
        loop {
            let arrival = match crossterm::event::read() {
                Ok(event) => Arrival::Terminal(event),
                Err(_) => Arrival::TerminalGone,
            };
            let last = matches!(arrival, Arrival::TerminalGone);
            if arrivals.send(arrival).is_err() || last {
                return;
            }
        }
    });
}

/// Works a job of pupils out, each answer sent as soon as it is known.
fn teach(job: &PupilsJob, cancel: &Cancel, arrivals: &SyncSender<Arrival>) {
    pupils::work(job, cancel, &mut |index, answer| {
        let told = PupilsTold::Answer(Box::new(job.key.clone()), index, answer);
        // A screen that is gone needs no answer.
        drop(arrivals.send(Arrival::Pupils(told)));
    });
}

impl App {
    /// The app with what is opened first; what can wait has not been begun.
    pub(super) fn start(
        store: Store,
        start: &Start,
        today: &str,
        size: (u16, u16),
    ) -> anyhow::Result<(Self, Receiver<Arrival>, State)> {
        let (arrivals, arrived) = sync_channel(WAITING);
        let behind = Behind::new(arrivals.clone());
        let (settings, trouble) = store.settings();
        let mut app = Self {
            store,
            settings,
            round: None,
            watch: None,
            arrivals,
            in_hand: None,
            leaving: false,
            ended: None,
            saving: None,
            behind,
            teacher: None,
            saver: None,
            desk: None,
            printing: false,
            reviewer: None,
        };
        let (session, mut notices) = app.open_first(start, today)?;
        notices.extend(trouble.map(|e| Notice::warning(e.to_string())));
        let looks = Looks::from_environment(|name| std::env::var(name).ok());
        let mut state = State::new(session, size, looks, today.to_owned());
        let (keymap, trouble) = own_keys(&app.store);
        state.keymap = keymap;
        notices.extend(trouble);
        match shelf::pins(&app.store) {
            Ok(pins) => state.pins = pins,
            Err(error) => notices.push(Notice::warning(error.to_string())),
        }
        state.notice = notices.pop();
        if state.session.course.is_none() {
            app.perform(&mut state, Effect::ListShelf);
        }
        if let Start::Desk(path) = start {
            state.desk_first = true;
            state.desk = Some(Box::default());
            state.screens.push(super::state::Screen::Desk);
            app.perform(&mut state, Effect::Desk(DeskAsk::Open(Some(path.clone()))));
        }
        Ok((app, arrived, state))
    }

    /// Where arrivals are sent to.
    pub(super) fn arrivals(&self) -> SyncSender<Arrival> {
        self.arrivals.clone()
    }

    fn notify(&self) -> Box<Notify> {
        let arrivals = self.arrivals.clone();
        // A full channel will be emptied and the next acknowledgement says the same and more.
        Box::new(move |kept| drop(arrivals.try_send(Arrival::Kept(kept))))
    }

    fn open_first(&mut self, start: &Start, today: &str) -> Result<(Session, Vec<Notice>), StoreError> {
        let path = match start {
            Start::Path(path) => Some(path.clone()),
            // A round in progress is not taken up for a desk.
            Start::Desk(_) => self.settings.last().course.as_ref().map(PathBuf::from).filter(|p| p.is_file()),
            Start::LeftOff => {
                let last = self.settings.last();
                let round = last.round.as_ref().map(PathBuf::from).filter(|p| p.is_file());
                round.or_else(|| last.course.as_ref().map(PathBuf::from).filter(|p| p.is_file()))
            }
        };
        let Some(path) = path else { return Ok((shelf::example(today), Vec::new())) };
        match self.open(&path, None, today) {
            Ok(taken) => Ok((taken.session, taken.words.into_iter().map(Notice::warning).collect())),
            Err(error) if matches!(start, Start::LeftOff | Start::Desk(_)) => {
                Ok((shelf::example(today), vec![Notice::failure(format!("{error}; the example is shown instead"))]))
            }
            Err(error) => Err(error),
        }
    }

    fn open(&mut self, path: &std::path::Path, before: Option<&Session>, today: &str) -> Result<Taken, StoreError> {
        // The round that is open is let go first: its lock may be the one that is asked for.
        if let Some(round) = self.round.take() {
            round.finish()?;
        }
        let mut taken = shelf::open(&self.store, path, before, self.settings.last(), today, self.notify())?;
        self.round = taken.round.take().map(|round| round.log);
        Ok(taken)
    }

    pub(super) fn watch_files(&mut self, state: &State) {
        let files = shelf::files_of(&state.session);
        if files.is_empty() {
            return;
        }
        if self.watch.is_none() {
            let (changes, changed) = sync_channel::<FileChange>(16);
            let arrivals = self.arrivals.clone();
            thread::spawn(move || {
                for _ in changed {
                    if arrivals.send(Arrival::FileChanged).is_err() {
                        return;
                    }
                }
            });
            self.watch = self.store.watch(changes).ok();
        }
        if let Some(watch) = &self.watch {
            watch.files(files);
        }
    }

    pub(super) fn serve(
        &mut self,
        face: &mut dyn Face,
        state: &mut State,
        arrived: &Receiver<Arrival>,
    ) -> anyhow::Result<()> {
        while !self.leaving {
            let Some(first) = self.next(arrived) else { return Ok(()) };
            self.take(first, state);
            while !self.leaving && !face.shows_each() {
                match arrived.try_recv() {
                    Ok(next) => self.take(next, state),
                    Err(_) => break,
                }
            }
            if !self.leaving {
                face.show(state)?;
            }
        }
        Ok(())
    }

    /// What arrives next; `None` when nothing more is to come.
    fn next(&self, arrived: &Receiver<Arrival>) -> Option<Arrival> {
        let Some(since) = self.ended else { return arrived.recv().ok() };
        // The lines are at an end: only the plan in work is waited for.
        while (self.printing || self.behind.is_busy() || self.reviewer.as_ref().is_some_and(Worker::is_busy))
            && since.elapsed() < LAST_PLAN
        {
            if let Ok(arrival) = arrived.recv_timeout(Duration::from_millis(20)) {
                return Some(arrival);
            }
        }
        arrived.recv_timeout(Duration::from_millis(20)).ok()
    }

    fn take(&mut self, arrival: Arrival, state: &mut State) {
        let msg = match arrival {
            Arrival::Terminal(TerminalEvent::Key(key)) if key.kind != KeyEventKind::Release => {
                let Some(key) = Key::from_event(&key) else { return };
                self.in_hand = Some(key);
                Msg::Key(key)
            }
            Arrival::Terminal(TerminalEvent::Paste(text)) => Msg::Paste(text),
            Arrival::Terminal(TerminalEvent::Resize(width, height)) => Msg::Resize(width, height),
            Arrival::Terminal(_) => return,
            Arrival::Typed(line) => return self.typed(state, &line),
            Arrival::InputEnds => {
                self.ended = Some(Instant::now());
                return;
            }
            Arrival::TerminalGone => {
                self.leaving = true;
                return;
            }
            Arrival::Reviewed(done) => match done.outcome {
                // A refusal that was kept leaves the page as it is.
                Outcome::Finished((_, Content::Waiting)) | Outcome::Cancelled => return,
                Outcome::Finished((tab, content)) => Msg::Reviewed(tab, content),
                Outcome::Panicked(_) => return,
            },
            Arrival::Planned(done) => match done.outcome {
                Outcome::Finished((key, answer)) => Msg::Planned(Box::new(key), answer),
                Outcome::Cancelled | Outcome::Panicked(_) => return,
            },
            Arrival::Saved(told) => match told {
                Ok((digest, words)) => Msg::Course(CourseTold::Saved(digest, words)),
                Err(error) if error.trouble == Trouble::Changed => {
                    let (session, _) = shelf::reread(&state.session);
                    Msg::Course(CourseTold::Conflict(Box::new(session)))
                }
                Err(error) => Msg::Course(CourseTold::NotSaved(error.to_string())),
            },
            Arrival::Pupils(told) => Msg::Pupils(told),
            Arrival::Told(done) => Msg::Today(match done.outcome {
                Outcome::Finished(told) => told,
                Outcome::Cancelled | Outcome::Panicked(_) => Told::Nothing,
            }),
            Arrival::Answered(done) => match done.outcome {
                Outcome::Finished((key, answer)) => Msg::Answered(Box::new(key), answer),
                Outcome::Cancelled => return,
                Outcome::Panicked(why) => Msg::AnswerLost(why),
            },
            Arrival::Book(answer) => {
                self.printing = false;
                Msg::BookWritten(answer)
            }
            Arrival::Kept(kept) => {
                if let Some(trouble) = &kept.trouble {
                    let words = format!("not kept yet: {trouble}; {} waiting, tried again", kept.waiting);
                    self.handle(state, Msg::Trouble(words));
                }
                Msg::Kept(kept.up_to)
            }
            Arrival::Desk(news) => Msg::Desk(news),
            Arrival::FileChanged => {
                let (session, trouble) = shelf::reread(&state.session);
                let notice = match trouble {
                    Some(words) => Notice::failure(words),
                    None => Notice::word("Read again after a change on the disk."),
                };
                Msg::Reread(Box::new(session), Some(notice))
            }
        };
        self.handle(state, msg);
    }

    /// Lets the words of a line happen one after another.
    fn typed(&mut self, state: &mut State, line: &str) {
        for msg in lines::messages(state, line) {
            if self.leaving {
                return;
            }
            if let Msg::Key(key) = &msg {
                self.in_hand = Some(*key);
            }
            self.handle(state, msg);
        }
    }

    pub(super) fn handle(&mut self, state: &mut State, msg: Msg) {
        for effect in update(state, msg) {
            self.perform(state, effect);
        }
    }

    fn perform(&mut self, state: &mut State, effect: Effect) {
        match effect {
            Effect::Begin => self.begin(state),
            Effect::KeepTexts => {
                if let Some(round) = &self.round {
                    round.keep_texts(shelf::keep_texts(&state.session));
                }
            }
            Effect::EditPlayer(edit) => self.edit_player(state, edit),
            Effect::Course(ask) => self.course(state, ask),
            Effect::Pupils(ask) => self.pupils(state, ask),
            Effect::Append(event) => self.append(state, &event),
            Effect::ListShelf => {
                let items = shelf::list(&self.store);
                self.handle(state, Msg::Shelf(items));
            }
            Effect::ReadPlayer(path) => match crate::store::read_text(&path, crate::store::Limit::YAML) {
                Ok(file) => {
                    let file = ShelfFile { name: path.display().to_string(), text: file.text };
                    self.handle(state, Msg::PlayerRead(file));
                }
                Err(error) => self.handle(state, Msg::Trouble(error.to_string())),
            },
            Effect::OpenExample => {
                if let Some(round) = self.round.take()
                    && let Err(error) = round.finish()
                {
                    self.handle(state, Msg::Trouble(error.to_string()));
                }
                let session = shelf::example(&state.today);
                self.handle(state, Msg::Opened(Box::new(session), None));
            }
            Effect::Open(path) => {
                let today = state.today.clone();
                let before = state.session.clone();
                match self.open(&path, Some(&before), &today) {
                    Ok(taken) => {
                        let notice = taken.words.into_iter().next_back().map(Notice::warning);
                        self.handle(state, Msg::Opened(Box::new(taken.session), notice));
                        self.remember(state);
                        self.watch_files(state);
                    }
                    Err(error) => self.handle(state, Msg::Trouble(error.to_string())),
                }
            }
            Effect::Today(ask) => self.today(state, ask),
            Effect::Plan(key, question) => self.behind.plan(*key, question),
            Effect::Price(key, question, made) => self.behind.price(*key, question, made),
            Effect::Ask(key, question) => self.behind.ask(*key, question),
            Effect::KeepPins(pins) => {
                if let Err(error) = shelf::keep_pins(&self.store, &pins) {
                    self.handle(state, Msg::Trouble(format!("pinned here only: {error}")));
                }
            }
            Effect::KeepCommitment(commitment) => {
                if let Err(error) = shelf::keep_commitment(&self.store, &commitment) {
                    self.handle(state, Msg::Trouble(format!("what you committed to was not kept: {error}")));
                }
            }
            Effect::WriteBook { player, plans } => self.write_book(state, player, plans),
            Effect::Review(ask) => self.review(*ask, state.today.clone()),
            Effect::WriteCard => match shelf::write_card(&self.store, &state.session) {
                Ok(Some(path)) => {
                    self.handle(state, Msg::Closed(format!("The round is closed; its card is {}", path.display())))
                }
                Ok(None) => {}
                Err(error) => self.handle(state, Msg::Trouble(error.to_string())),
            },
            Effect::Desk(ask) => self.desk(state, ask),
            Effect::Quit => self.leaving = true,
        }
    }

    /// Hands the desk's thread what is asked of it.
    fn desk(&mut self, state: &mut State, ask: DeskAsk) {
        if self.desk.is_none() {
            let arrivals = self.arrivals.clone();
            let tell = move |news| arrivals.send(Arrival::Desk(Box::new(news))).is_ok();
            match DeskThread::start(self.store.clone(), Box::new(tell)) {
                Ok(thread) => self.desk = Some(thread),
                Err(error) => return self.handle(state, Msg::Trouble(format!("the desk cannot be opened: {error}"))),
            }
        }
        if let Some(desk) = &self.desk {
            desk.ask(ask);
        }
    }

    /// Gives the reviewer a job; a part that is still being worked out is done first.
    fn review(&mut self, ask: ReviewAsk, today: String) {
        if self.reviewer.is_none() {
            let (results, done) = sync_channel::<Done<(Tab, Content)>>(4);
            let arrivals = self.arrivals.clone();
            thread::spawn(move || {
                for result in done {
                    if arrivals.send(Arrival::Reviewed(Box::new(result))).is_err() {
                        return;
                    }
                }
            });
            self.reviewer = Worker::start("reviewer", results).ok();
        }
        if let Some(reviewer) = &self.reviewer {
            let store = self.store.clone();
            reviewer.submit(move |cancel| (ask.tab(), reviewer::answer(&store, &ask, &today, cancel)));
        }
    }

    /// Makes the example the person's own for a change, or has a text written behind the screen.
    fn course(&mut self, state: &mut State, ask: CourseAsk) {
        match ask {
            CourseAsk::OwnCopy(edit) => match shelf::own_copy(&self.store, &state.session) {
                Ok(Some(copy)) => {
                    self.handle(state, Msg::Course(CourseTold::Copied(Box::new(copy.session), edit, copy.words)));
                    self.remember(state);
                    self.watch_files(state);
                }
                Ok(None) => {}
                Err(error) => self.handle(state, Msg::Trouble(error.to_string())),
            },
            CourseAsk::Take(hole, texts) => self.take_in(state, hole, &texts),
            CourseAsk::Save(text) => {
                if self.saver.is_none() {
                    let arrivals = self.arrivals.clone();
                    let tell = move |told| drop(arrivals.send(Arrival::Saved(told)));
                    self.saver = Saver::start(self.store.clone(), tell).ok();
                }
                match &self.saver {
                    Some(saver) => saver.save(text),
                    None => self.handle(state, Msg::Trouble("nothing can be written: no thread starts".to_owned())),
                }
                self.watch_files(state);
            }
        }
    }

    /// Takes a hole of a layer into the notebook. The notebook comes first: should the second text fail, a note stands twice and
    /// none is lost.
    fn take_in(&mut self, state: &mut State, hole: u8, texts: &[shelf::CourseText]) {
        for text in texts {
            if let Err(error) = shelf::save_course(&self.store, text) {
                return self.handle(state, Msg::Trouble(error.to_string()));
            }
        }
        let (session, _) = shelf::reread(&state.session);
        let words =
            format!("Hole {hole} is in the notebook now; both files were backed up, marram restore puts them back");
        self.handle(state, Msg::Course(CourseTold::Taken(Box::new(session), words)));
        self.watch_files(state);
    }

    /// Finds and reads pupils, and works their plays out beside the planner.
    fn pupils(&mut self, state: &mut State, ask: PupilsAsk) {
        match ask {
            PupilsAsk::List => {
                let lists = shelf::pupil_lists(&self.store, &state.session);
                self.handle(state, Msg::Pupils(PupilsTold::Lists(lists)));
            }
            PupilsAsk::Read(path) => match shelf::pupil_list(&self.store, &state.session, &path) {
                Ok(list) => self.handle(state, Msg::Pupils(PupilsTold::Read(list.people, list.remarks))),
                Err(error) => self.handle(state, Msg::Trouble(error.to_string())),
            },
            PupilsAsk::Work(job) => {
                let arrivals = self.arrivals.clone();
                self.teach(move |cancel| teach(&job, cancel, &arrivals));
            }
            PupilsAsk::Scout(job) => {
                let arrivals = self.arrivals.clone();
                self.teach(move |cancel| {
                    scout::work(&job, cancel, &mut |number, found| {
                        // A screen that is gone needs no answer.
                        drop(arrivals.send(Arrival::Pupils(PupilsTold::Scouted(job.notebook, number, found))));
                    });
                });
            }
        }
    }

    /// Gives the worker beside the planner a job; what it was at is called off.
    fn teach(&mut self, job: impl FnOnce(&Cancel) + Send + 'static) {
        if self.teacher.is_none() {
            let (results, done) = sync_channel::<Done<()>>(4);
            thread::spawn(move || for _ in done {});
            self.teacher = Worker::start("pupils", results).ok();
        }
        if let Some(teacher) = &self.teacher {
            teacher.supersede(job);
        }
    }

    /// Does what a page of the day asks for.
    fn today(&mut self, state: &mut State, ask: Ask) {
        match ask {
            Ask::Edit(edit) => match shelf::edit_day(&self.store, &state.session, &edit.edits) {
                Ok(done) => {
                    let told = Told::Edited(Box::new(done.session), edit, done.inverse, done.words);
                    self.handle(state, Msg::Today(told));
                    self.remember(state);
                    self.watch_files(state);
                }
                Err(NotEdited::OwnDiffers { session, words }) => {
                    self.handle(state, Msg::Reread(session, Some(Notice::warning(words))));
                    self.watch_files(state);
                }
                Err(error) => self.handle(state, Msg::Trouble(error.to_string())),
            },
            Ask::Export => {
                let notice = match shelf::export_day(&self.store, &state.session) {
                    Ok(words) => Notice::word(words),
                    Err(error) => Notice::failure(error.to_string()),
                };
                self.handle(state, Msg::Say(notice));
            }
            Ask::Hole(..) | Ask::Green(..) => self.behind.today(ask),
        }
    }

    /// Writes a change of a player's file; what was typed stays in its field when it cannot be written.
    fn edit_player(&mut self, state: &mut State, edit: PlayerEdit) {
        match shelf::edit_player(&self.store, &state.session, edit.player, &edit.edits) {
            Ok(done) => {
                self.handle(state, Msg::PlayerEdited(Box::new(done.session), edit, done.inverse, done.words));
                self.remember(state);
                self.watch_files(state);
            }
            Err(NotEdited::OwnDiffers { session, words }) => {
                self.handle(state, Msg::Reread(session, Some(Notice::warning(words))));
                self.watch_files(state);
            }
            Err(error) => self.handle(state, Msg::Trouble(error.to_string())),
        }
    }

    /// Makes the pocket book on a thread of its own, so that no key waits for its plans.
    fn write_book(&mut self, state: &State, player: usize, plans: bool) {
        self.printing = true;
        let (store, session, arrivals) = (self.store.clone(), state.session.clone(), self.arrivals.clone());
        thread::spawn(move || {
            let answer = shelf::write_book(&store, &session, player, plans).map_err(|e| e.to_string());
            // When nobody listens any more the person has left.
            let _ = arrivals.send(Arrival::Book(answer));
        });
    }

    /// Begins a round for the key in hand, then lets the key happen.
    fn begin(&mut self, state: &mut State) {
        match shelf::begin(&self.store, &state.session, &RoundWish::default(), self.notify()) {
            Ok(begun) => {
                self.round = Some(begun.round.log);
                self.handle(state, Msg::Begun(Box::new(begun.session)));
                self.remember(state);
                self.watch_files(state);
                if let Some(key) = self.in_hand.take() {
                    self.handle(state, Msg::Key(key));
                }
                self.handle(state, Msg::Say(begun.of_play.map_or_else(|| Notice::word(begun.words), Notice::warning)));
            }
            Err(error) => {
                let words = format!("nothing was entered: {error}");
                self.handle(state, Msg::Trouble(words));
            }
        }
    }

    fn append(&mut self, state: &mut State, event: &Event) {
        let Some(round) = &self.round else { return };
        if let Some(error) = round.append(event).waits {
            self.handle(state, Msg::Trouble(format!("not written yet, tried again: {error}")));
        }
    }

    /// Remembers what is open, in memory; written when leaving.
    fn remember(&mut self, state: &State) {
        if state.session.home == Home::Example {
            return;
        }
        let closed = state.session.round.as_ref().is_some_and(|r| r.is_closed());
        let player = state.session.people.get(state.player).and_then(|p| p.file.as_ref()).map(|f| f.file.clone());
        self.settings.remember(LastUsed {
            course: state.session.course_file.as_ref().map(|f| f.name.clone()),
            round: self.round.as_ref().filter(|_| !closed).map(|r| r.path().display().to_string()),
            player: player.or_else(|| self.settings.last().player.clone()),
        });
        if !self.settings.is_changed() {
            return;
        }
        // A program that is killed still opens where the person left off. The save is synced, so it happens beside the keys.
        self.adopt_saved_settings();
        let (store, mut settings) = (self.store.clone(), self.settings.clone());
        self.saving = Some(thread::spawn(move || {
            // A failure here loses nothing that was typed.
            let _ = store.save_settings(&mut settings);
            settings
        }));
    }

    /// Takes the settings over from the thread that saved them, if one did.
    fn adopt_saved_settings(&mut self) {
        if let Some(saved) = self.saving.take().and_then(|saving| saving.join().ok()) {
            let wanted = self.settings.last().clone();
            self.settings = saved;
            self.settings.remember(wanted);
        }
    }

    /// Keeps what is left and says on the ordinary screen what could not be kept.
    pub(super) fn leave(mut self, state: &State, arrived: Receiver<Arrival>) -> anyhow::Result<()> {
        self.remember(state);
        self.adopt_saved_settings();
        // Nobody takes news any more: what the desk's thread still tells must not hold it up.
        drop(arrived);
        let not_kept = self.desk.take().map(DeskThread::finish).unwrap_or_default();
        for words in &not_kept {
            eprintln!("marram: {words}");
        }
        let not_written = self.saver.take().and_then(Saver::finish);
        if let Some(round) = self.round.take() {
            round.finish()?;
        }
        match not_written {
            Some(error) => Err(anyhow::anyhow!("the last change of the notebook is not written: {error}")),
            None => Ok(()),
        }
    }
}
