//! The slot: one job runs, one waits.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{SyncSender, TrySendError};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread::JoinHandle;
use std::time::Duration;

/// How often a full results channel is tried again; the receiver drains it once a frame.
const FULL_CHANNEL_WAIT: Duration = Duration::from_millis(2);

/// Which submission a result belongs to; later ones are greater.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Generation(pub u64);

/// The flag that a job's loops ask whether to give up.
#[derive(Clone, Debug, Default)]
pub struct Cancel(Arc<AtomicBool>);

impl Cancel {
    /// Asks the job to give up.
    pub fn cancel(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Whether the job is to give up.
    pub fn is_cancelled(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }

    /// The flag itself, for rooms that take no type of this one.
    pub fn flag(&self) -> &AtomicBool {
        &self.0
    }
}

/// How a job ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome<R> {
    /// It came to its end and was never asked to give up.
    Finished(R),
    /// It was asked to give up while it ran; what it returned is dropped.
    Cancelled,
    /// It panicked, with the message; the worker goes on.
    Panicked(String),
}

/// A job that ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Done<R> {
    /// Which one.
    pub generation: Generation,
    /// How.
    pub outcome: Outcome<R>,
}

type Job<R> = Box<dyn FnOnce(&Cancel) -> R + Send>;

struct Slot<R> {
    last: Generation,
    running: Option<(Generation, Cancel)>,
    waiting: Option<(Generation, Job<R>)>,
    stop: bool,
}

struct Shared<R> {
    slot: Mutex<Slot<R>>,
    changed: Condvar,
}

impl<R> Shared<R> {
    /// A slot is plain data, whole after every statement, so a poisoned lock is still good.
    fn lock(&self) -> MutexGuard<'_, Slot<R>> {
        self.slot.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A worker thread with one slot.
///
/// ```
/// use marram::jobs::{Outcome, Worker};
/// let (send, results) = std::sync::mpsc::sync_channel(4);
/// let worker = Worker::start("solver", send)?;
/// let generation = worker.submit(|_cancel| 6 * 7);
/// let done = results.recv().expect("the job ends");
/// assert_eq!((done.generation, done.outcome), (generation, Outcome::Finished(42)));
/// # Ok::<(), std::io::Error>(())
/// ```
pub struct Worker<R> {
    shared: Arc<Shared<R>>,
    thread: Option<JoinHandle<()>>,
}

impl<R: Send + 'static> Worker<R> {
    /// Starts the thread; results go to `results`, which the caller bounds.
    ///
    /// # Errors
    /// When the system starts no thread.
    pub fn start(name: &str, results: SyncSender<Done<R>>) -> std::io::Result<Self> {
        let shared = Arc::new(Shared {
            slot: Mutex::new(Slot { last: Generation(0), running: None, waiting: None, stop: false }),
            changed: Condvar::new(),
        });
        let thread = std::thread::Builder::new().name(name.to_owned()).spawn({
            let shared = Arc::clone(&shared);
            move || work(&shared, &results)
        })?;
        Ok(Self { shared, thread: Some(thread) })
    }

    /// Puts a job in the waiting place, in the stead of one that waits there; the running one goes on.
    pub fn submit(&self, job: impl FnOnce(&Cancel) -> R + Send + 'static) -> Generation {
        self.put(Box::new(job), false)
    }

    /// As [`Self::submit`], and asks the running job to give up: its result is of no use any more.
    pub fn supersede(&self, job: impl FnOnce(&Cancel) -> R + Send + 'static) -> Generation {
        self.put(Box::new(job), true)
    }

    fn put(&self, job: Job<R>, cancels: bool) -> Generation {
        let mut slot = self.shared.lock();
        slot.last.0 += 1;
        let generation = slot.last;
        let replaced = slot.waiting.replace((generation, job));
        if cancels && let Some((_, cancel)) = &slot.running {
            cancel.cancel();
        }
        drop(slot);
        self.shared.changed.notify_all();
        // What a replaced job holds is freed here, outside the lock.
        drop(replaced);
        generation
    }

    /// Asks the running job to give up and drops the waiting one.
    pub fn cancel(&self) {
        let mut slot = self.shared.lock();
        if let Some((_, cancel)) = &slot.running {
            cancel.cancel();
        }
        let dropped = slot.waiting.take();
        drop(slot);
        drop(dropped);
    }

    /// The generation of the last submission; an older result is stale.
    pub fn latest(&self) -> Generation {
        self.shared.lock().last
    }

    /// Whether a job runs or waits.
    pub fn is_busy(&self) -> bool {
        let slot = self.shared.lock();
        slot.running.is_some() || slot.waiting.is_some()
    }
}

impl<R> Drop for Worker<R> {
    fn drop(&mut self) {
        let mut slot = self.shared.lock();
        slot.stop = true;
        slot.waiting = None;
        if let Some((_, cancel)) = &slot.running {
            cancel.cancel();
        }
        drop(slot);
        self.shared.changed.notify_all();
        if let Some(thread) = self.thread.take() {
            // A worker that panicked outside a job has nothing left to give back.
            let _ = thread.join();
        }
    }
}

fn work<R>(shared: &Shared<R>, results: &SyncSender<Done<R>>) {
    while let Some((generation, job, cancel)) = next_job(shared) {
        // A job's own state is dropped with it, so nothing half-changed is seen after a panic.
        let outcome = match catch_unwind(AssertUnwindSafe(|| job(&cancel))) {
            Ok(_) if cancel.is_cancelled() => Outcome::Cancelled,
            Ok(result) => Outcome::Finished(result),
            Err(panic) => Outcome::Panicked(panic_message(panic.as_ref())),
        };
        shared.lock().running = None;
        if !deliver(shared, results, Done { generation, outcome }) {
            return;
        }
    }
}

fn next_job<R>(shared: &Shared<R>) -> Option<(Generation, Job<R>, Cancel)> {
    let mut slot = shared.lock();
    loop {
        if slot.stop {
            return None;
        }
        if let Some((generation, job)) = slot.waiting.take() {
            let cancel = Cancel::default();
            slot.running = Some((generation, cancel.clone()));
            return Some((generation, job, cancel));
        }
        slot = shared.changed.wait(slot).unwrap_or_else(PoisonError::into_inner);
    }
}

/// Sends a result without ever hanging on a receiver that no longer drains: the drop of the worker must be able to join.
fn deliver<R>(shared: &Shared<R>, results: &SyncSender<Done<R>>, mut done: Done<R>) -> bool {
    loop {
        match results.try_send(done) {
            Ok(()) => return true,
            Err(TrySendError::Disconnected(_)) => return false,
            Err(TrySendError::Full(back)) => done = back,
        }
        let slot = shared.lock();
        if slot.stop {
            return false;
        }
        drop(shared.changed.wait_timeout(slot, FULL_CHANNEL_WAIT));
    }
}

fn panic_message(panic: &(dyn std::any::Any + Send)) -> String {
    panic
        .downcast_ref::<&str>()
        .map(|text| (*text).to_owned())
        .or_else(|| panic.downcast_ref::<String>().cloned())
        .unwrap_or_else(|| "no message".to_owned())
}

#[cfg(test)]
#[allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
mod tests {
    use super::*;
    use std::sync::mpsc::{Receiver, sync_channel};

    const SOON: Duration = Duration::from_secs(20);

    /// A job that tells when it runs and ends when told or cancelled.
    fn held() -> (impl FnOnce(&Cancel) -> u32 + Send, Receiver<()>, SyncSender<u32>) {
        let (started, has_started) = sync_channel(1);
        let (end, ends) = sync_channel(1);
        let job = move |cancel: &Cancel| {
            started.send(()).unwrap();
            loop {
                if cancel.is_cancelled() {
                    return 0;
                }
                if let Ok(value) = ends.recv_timeout(Duration::from_millis(1)) {
                    return value;
                }
            }
        };
        (job, has_started, end)
    }

    #[test]
    fn a_newer_job_replaces_the_waiting_one_and_the_running_one_goes_on() {
        let (send, results) = sync_channel(4);
        let worker = Worker::start("test", send).unwrap();
        let (job, started, end) = held();
        let first = worker.submit(job);
        started.recv_timeout(SOON).unwrap();
        for n in 100..200 {
            worker.submit(move |_| n);
        }
        let last = worker.latest();
        end.send(7).unwrap();
        let done = [results.recv_timeout(SOON).unwrap(), results.recv_timeout(SOON).unwrap()];
        assert_eq!(
            done,
            [
                Done { generation: first, outcome: Outcome::Finished(7) },
                Done { generation: last, outcome: Outcome::Finished(199) },
            ]
        );
        assert!(results.recv_timeout(Duration::from_millis(20)).is_err(), "the replaced ones never ran");
        assert!(!worker.is_busy());
    }

    #[test]
    fn superseding_cancels_the_running_job() {
        let (send, results) = sync_channel(4);
        let worker = Worker::start("test", send).unwrap();
        let (job, started, _end) = held();
        worker.submit(job);
        started.recv_timeout(SOON).unwrap();
        worker.supersede(|_| 2);
        assert_eq!(results.recv_timeout(SOON).unwrap().outcome, Outcome::Cancelled);
        assert_eq!(results.recv_timeout(SOON).unwrap().outcome, Outcome::Finished(2));
    }

    #[test]
    fn a_panic_is_a_result_and_the_worker_goes_on() {
        let (send, results) = sync_channel(4);
        let worker = Worker::start("test", send).unwrap();
        worker.submit(|_| -> u32 { panic!("no such hole") });
        assert_eq!(results.recv_timeout(SOON).unwrap().outcome, Outcome::Panicked("no such hole".to_owned()));
        worker.submit(|_| 3);
        assert_eq!(results.recv_timeout(SOON).unwrap().outcome, Outcome::Finished(3));
    }

    #[test]
    fn dropping_joins_with_a_running_a_waiting_and_an_undelivered_job() {
        let (send, results) = sync_channel(0);
        let worker = Worker::start("test", send.clone()).unwrap();
        worker.submit(|_| 1);
        std::thread::sleep(Duration::from_millis(10));
        drop(worker);
        let worker = Worker::start("test", send).unwrap();
        let (job, started, _end) = held();
        worker.submit(job);
        started.recv_timeout(SOON).unwrap();
        worker.submit(|_| 2);
        drop(worker);
        assert!(results.try_recv().is_err());
    }
}
