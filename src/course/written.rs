//! What a professional or player wrote about a hole: aim points, dangers, lay-ups, notes.

use super::condition::{ShotShape, When};
use crate::notebook::Span;
use crate::units::{Across, Along};

/// How well a number is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sure {
    /// Stepped out.
    Paced,
    /// Measured by a laser.
    Laser,
    /// Read from a map.
    Map,
    /// Guessed: shown as "about".
    Guess,
}

/// What every written thing carries.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Written {
    /// Its identity for layers: `id`, or else its name or text.
    pub id: String,
    /// To whom and when it applies.
    pub when: When,
    /// The words.
    pub text: Option<String>,
    /// How well its numbers are known.
    pub sure: Option<Sure>,
    /// When it was seen, ISO date.
    pub seen: Option<String>,
    /// Until when it holds, ISO date.
    pub until: Option<String>,
    /// Whose layer it comes from; `None` is the notebook itself.
    pub from_layer: Option<String>,
    /// In a layer: the id of what it stands instead of, and where that id stands.
    pub replaces: Option<(String, Span)>,
    /// Where it is written.
    pub span: Span,
}

/// From where a shot is played.
#[derive(Clone, Debug, PartialEq, Default)]
pub enum From {
    /// From the tee.
    #[default]
    Tee,
    /// From a distance to the middle of the green, yards.
    ToMiddle(f64),
    /// From a place along the line.
    At(Along),
}

/// An aim point.
#[derive(Clone, Debug, PartialEq)]
pub struct Aim {
    /// Name, condition, text.
    pub written: Written,
    /// Its name, when it has one.
    pub name: Option<String>,
    /// From where.
    pub from: From,
    /// Where the ball should finish along the line.
    pub at: Option<Along>,
    /// And across.
    pub across: Option<Across>,
    /// The thing in the distance to aim at.
    pub landmark: Option<String>,
    /// The shape to play.
    pub shape: Option<ShotShape>,
}

/// A side of the hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Left as the player looks along the line.
    Left,
    /// Right.
    Right,
    /// Short.
    Short,
    /// Long.
    Long,
}

/// A danger side.
#[derive(Clone, Debug, PartialEq)]
pub struct Danger {
    /// Condition and text.
    pub written: Written,
    /// The piece of ground it is about.
    pub of: Option<String>,
    /// On which side it lies.
    pub side: Option<Side>,
}

/// Ground to leave the next shot from.
#[derive(Clone, Debug, PartialEq)]
pub struct Layup {
    /// Condition and text.
    pub written: Written,
    /// What is left to the middle of the green, yards.
    pub to_middle: Option<f64>,
    /// Or a place along the line.
    pub at: Option<Along>,
    /// Beside the line.
    pub across: Option<Across>,
}

/// Where on the hole a note is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum NoteAt {
    /// On the tee.
    #[default]
    Tee,
    /// On the way to the green.
    Approach,
    /// On and around the green.
    Green,
}

/// A note.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// Condition and text.
    pub written: Written,
    /// Where it is read.
    pub at: NoteAt,
}
