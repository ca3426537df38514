//! The round log: events, replay, undo, the live card, what a round's kind allows.
