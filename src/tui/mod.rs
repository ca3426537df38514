//! The screen: terminal guard, events, commands, keys, state, update, view.
//!
//! One noun across three files: `state/hole.rs`, `update/hole.rs`, `view/hole.rs`. [`update::update`] turns a message into a
//! new state and effects as data, [`run`] performs the effects, [`view::view`] draws the state and works nothing out.

pub mod ask;
mod behind;
pub mod commands;
pub mod desk_run;
pub mod keymap;
pub mod lines;
pub mod looks;
mod reviewer;
pub mod run;
mod saver;
pub mod state;
pub mod story;
pub mod terminal;
pub mod update;
pub mod view;
