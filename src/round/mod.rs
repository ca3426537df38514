//! The round log: events, replay, undo, the live card, what a round's kind allows.
//!
//! While a round is open its truth is the log: one JSON object a line, appended and never rewritten. [`replay`] turns the
//! bytes of a log into a [`RoundState`] and the problems found on the way; [`RoundState`] turns a key into an [`Event`]
//! ([`RoundState::enter`], [`RoundState::undo`]) and applies it; [`Chain`] turns an event into the next line. The room
//! reads no clock and touches no file: the time of a line is an argument, and `store` writes the lines.
//!
//! Undo is itself an event, so it survives a restart. Scores are kept as entered; what they are worth is for `scoring`.

mod allow;
mod card;
mod entry;
mod event;
mod hole_score;
mod id;
mod line;
mod notation;
mod played;
mod played_shot;
mod replay;
mod state;

pub use crate::scoring::HoleScore;
pub use allow::{Ability, Stage, WhyNot, allows};
pub use card::{CARD_FORMAT, HoleDetail, PlayerCard, RoundCard};
pub use entry::ScoreKey;
pub use event::{
    Detail, Entrant, Event, FileRef, Kind, LOG_FORMAT, MOST_HOLES, MOST_PLAYERS, Opening, Place, RoundTerms,
    StoredText, TextRole,
};
pub use id::{NotARoundId, RoundId, slug};
pub use line::{Chain, LogLine, read_line};
pub use notation::{club_name, read_shots, write_shots};
pub use played_shot::{HoleShots, LeftRight, MOST_SHOTS, Penalty, PlayedShot, PuttsTaken, ShortLong, ShotLie, Spot};
pub use replay::{LogProblem, Problem, Replay, replay};
pub use state::{CardBox, LONGEST_NOTE, NotPossible, RoundState};
