//! What is worked out behind the screen: plans and prices on one worker, quick questions about solved holes on another.

use super::ask::{Answer, AskKey, Holes};
use super::run::Arrival;
use super::state::PlanKey;
use super::update::today::{Ask, Told};
use crate::jobs::{Cancel, Done, Worker};
use crate::plan::{GreenPicture, HolePlan, NoPlan, Question, hole_today, price};
use std::sync::Arc;
use std::sync::mpsc::{SyncSender, sync_channel};
use std::thread;

/// What the planner gives back: the key of the question and its answer.
pub type Planned = (PlanKey, Result<Box<HolePlan>, String>);
/// What the other worker gives back.
pub type Answered = (AskKey, Result<Box<Answer>, String>);

/// The workers, each started with the first thing that is wanted of it.
pub(super) struct Behind {
    arrivals: SyncSender<Arrival>,
    planner: Option<Worker<Planned>>,
    asker: Option<Worker<Answered>>,
    of_the_day: Option<Worker<Told>>,
    holes: Holes,
}

impl Behind {
    /// Nothing is started yet; results go to `arrivals`.
    pub(super) fn new(arrivals: SyncSender<Arrival>) -> Self {
        Self { arrivals, planner: None, asker: None, of_the_day: None, holes: Holes::default() }
    }

    /// Whether something is in work.
    pub(super) fn is_busy(&self) -> bool {
        self.planner.as_ref().is_some_and(Worker::is_busy)
            || self.asker.as_ref().is_some_and(Worker::is_busy)
            || self.of_the_day.as_ref().is_some_and(Worker::is_busy)
    }

    /// Works a plan out; what the planner was at for another hole is called off.
    pub(super) fn plan(&mut self, key: PlanKey, question: Box<Question>) {
        let (holes, of) = (self.holes.clone(), key.clone());
        self.planned(key, move |cancel| {
            let solved = holes.solved(&of, &question, cancel.flag())?;
            Ok(Box::new(solved.plan()))
        });
    }

    /// Adds prices and switch lines to a plan.
    pub(super) fn price(&mut self, key: PlanKey, question: Box<Question>, mut made: Box<HolePlan>) {
        self.planned(key, move |cancel| price(&question, &mut made, cancel.flag()).map(|()| made));
    }

    fn planned(&mut self, key: PlanKey, job: impl FnOnce(&Cancel) -> Result<Box<HolePlan>, NoPlan> + Send + 'static) {
        let arrivals = self.arrivals.clone();
        let start = || worker("planner", arrivals, |done| Arrival::Planned(Box::new(done)));
        if self.planner.is_none() {
            self.planner = start();
        }
        if let Some(planner) = &self.planner {
            planner.supersede(move |cancel| (key, job(cancel).map_err(|e| e.to_string())));
        }
    }

    /// Answers a question; one that waits is replaced, the running one goes on: it takes a few milliseconds.
    pub(super) fn ask(&mut self, key: AskKey, question: Box<Question>) {
        let arrivals = self.arrivals.clone();
        let start = || worker("asker", arrivals, |done| Arrival::Answered(Box::new(done)));
        if self.asker.is_none() {
            self.asker = start();
        }
        if let Some(asker) = &self.asker {
            let holes = self.holes.clone();
            asker.submit(move |cancel| {
                let answer = holes.answer(&key, &question, cancel.flag());
                (key, answer.map(Box::new).map_err(|e| e.to_string()))
            });
        }
    }

    /// Works out what the day changes on a hole, or a green; the job in work goes on.
    pub(super) fn today(&mut self, ask: Ask) {
        let arrivals = self.arrivals.clone();
        if self.of_the_day.is_none() {
            self.of_the_day = worker("of the day", arrivals, |done| Arrival::Told(Box::new(done)));
        }
        let Some(worker) = &self.of_the_day else { return };
        match ask {
            Ask::Hole(key, question) => {
                worker.submit(move |cancel| {
                    let found = hole_today(&question, cancel.flag()).map_err(|e| e.to_string());
                    Told::Hole(key, found)
                });
            }
            Ask::Green(key, question) => {
                worker.submit(move |cancel| {
                    let found = GreenPicture::new(&question, cancel.flag()).map(Arc::new).map_err(|e| e.to_string());
                    Told::Green(key, found)
                });
            }
            Ask::Edit(_) | Ask::Export => {}
        }
    }
}

/// A worker whose results arrive with everything else.
fn worker<R: Send + 'static>(
    name: &str,
    arrivals: SyncSender<Arrival>,
    arrival: impl Fn(Done<R>) -> Arrival + Send + 'static,
) -> Option<Worker<R>> {
    let (results, done) = sync_channel::<Done<R>>(4);
    thread::spawn(move || {
        for result in done {
            if arrivals.send(arrival(result)).is_err() {
                return;
            }
        }
    });
    Worker::start(name, results).ok()
}
