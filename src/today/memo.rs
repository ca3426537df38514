//! Answers kept by what they were made from: a table of a day or of a green serves eighteen holes and every look at them.

use std::sync::{Arc, Mutex, PoisonError};

/// A few answers with their keys, the last used last.
pub struct Memo<K, V> {
    most: usize,
    kept: Mutex<Vec<(K, Arc<V>)>>,
}

impl<K: PartialEq, V> Memo<K, V> {
    /// Keeps at most so many.
    pub const fn new(most: usize) -> Self {
        Self { most, kept: Mutex::new(Vec::new()) }
    }

    /// The answer for `key`, made by `make` when it is not at hand. Two threads may make the same one; either serves.
    pub fn get(&self, key: K, make: impl FnOnce() -> V) -> Arc<V> {
        // The list is whole after every statement, so a poisoned lock is still good.
        let lock = || self.kept.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, found)) = lock().iter().find(|(k, _)| *k == key) {
            return Arc::clone(found);
        }
        let made = Arc::new(make());
        let mut kept = lock();
        if kept.len() >= self.most {
            kept.remove(0);
        }
        kept.push((key, Arc::clone(&made)));
        made
    }
}
