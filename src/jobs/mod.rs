//! A worker thread with one running and one waiting job, cancel and generations.
