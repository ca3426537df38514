//! Writes changed notebooks and layers behind the screen: the newest text of a file takes the place of one that waits, and each
//! stands on the one before, so nothing of somebody else's is ever written over.

use crate::shelf::{CourseText, save_course};
use crate::store::{Store, StoreError};
use crate::units::digest::Digest;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread::JoinHandle;

/// What became of a text: its digest with words when it may not survive a power cut, or why it was not written.
pub type SaverTold = Result<(Digest, Option<String>), StoreError>;

#[derive(Default)]
struct Queue {
    waiting: Vec<CourseText>,
    ends: bool,
}

struct Shared {
    queue: Mutex<Queue>,
    changed: Condvar,
}

impl Shared {
    fn lock(&self) -> MutexGuard<'_, Queue> {
        self.queue.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The thread that writes.
pub struct Saver {
    shared: Arc<Shared>,
    thread: Option<JoinHandle<Option<StoreError>>>,
}

impl Saver {
    /// Starts it; `tell` hears of every text.
    ///
    /// # Errors
    /// When the system starts no thread.
    pub fn start(store: Store, tell: impl Fn(SaverTold) + Send + 'static) -> std::io::Result<Self> {
        let shared = Arc::new(Shared { queue: Mutex::new(Queue::default()), changed: Condvar::new() });
        let thread = std::thread::Builder::new().name("saver".to_owned()).spawn({
            let shared = Arc::clone(&shared);
            move || serve(&shared, &store, &tell)
        })?;
        Ok(Self { shared, thread: Some(thread) })
    }

    /// Asks for a text to be written.
    pub fn save(&self, asked: CourseText) {
        let mut queue = self.shared.lock();
        let mut asked = Some(asked);
        // A file's texts go one after the other, so only its last one may take a later one in.
        let file = asked.as_ref().map(|a| a.file.clone()).unwrap_or_default();
        if let Some(last) = queue.waiting.iter_mut().rev().find(|w| w.file == file) {
            asked = asked.and_then(|later| last.then(later));
        }
        queue.waiting.extend(asked);
        drop(queue);
        self.shared.changed.notify_all();
    }

    /// Waits until everything is written; gives the last failure.
    pub fn finish(mut self) -> Option<StoreError> {
        self.shared.lock().ends = true;
        self.shared.changed.notify_all();
        self.thread.take().and_then(|t| t.join().ok()).flatten()
    }
}

fn serve(shared: &Shared, store: &Store, tell: &dyn Fn(SaverTold)) -> Option<StoreError> {
    let mut failed = None;
    loop {
        let mut queue = shared.lock();
        while queue.waiting.is_empty() && !queue.ends {
            queue = shared.changed.wait(queue).unwrap_or_else(PoisonError::into_inner);
        }
        if queue.waiting.is_empty() {
            return failed;
        }
        let asked = queue.waiting.remove(0);
        let ends = queue.ends;
        drop(queue);
        let told = save_course(store, &asked).map(|words| (Digest::of(asked.text.as_bytes()), words));
        failed = told.as_ref().err().cloned();
        // Nobody listens any more when the program ends, and a full channel would wait for ever.
        if !ends {
            tell(told);
        }
    }
}
