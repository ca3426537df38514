//! The only room that touches files: find, read, save durably, lock, watch, folders.
