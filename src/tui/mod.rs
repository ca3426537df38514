//! The screen: terminal guard, events, commands, keys, state, update, view.
