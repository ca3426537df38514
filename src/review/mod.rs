//! Plan against play: strokes gained and lost.
