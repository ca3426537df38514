//! A leaf: what stands on a page, in reading order, before anything is placed. The page model and the plain text are both made
//! from it, so that paper, picture and text say the same.

use super::drawing::Drawing;
use super::putting::GreenDrawing;
use crate::ground::Surface;

/// Two or three words at the head of a leaf.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Head {
    /// The large figure at its left, as the hole's number; empty for none.
    pub figure: String,
    /// The name.
    pub name: String,
    /// What follows it in a lower voice.
    pub facts: String,
    /// Strokes received, drawn as dots; negative are given back, drawn hollow.
    pub strokes: i32,
}

/// How loud a block speaks, and whether it may be shortened.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// It is never shortened.
    Must,
    /// It is shortened last.
    Plan,
    /// It is shortened first.
    Note,
}

/// One labelled text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// The word before it.
    pub label: String,
    /// The letter it shares with the drawing.
    pub letter: Option<char>,
    /// What is said first, in bold.
    pub lead: String,
    /// The words.
    pub words: String,
    /// How it may be shortened.
    pub weight: Weight,
}

impl Entry {
    /// A labelled text.
    pub fn new(label: &str, words: impl Into<String>, weight: Weight) -> Self {
        Self { label: label.to_owned(), letter: None, lead: String::new(), words: words.into(), weight }
    }

    /// All its words.
    pub fn all(&self) -> String {
        match (self.lead.is_empty(), self.words.is_empty()) {
            (true, _) => self.words.clone(),
            (false, true) => self.lead.clone(),
            (false, false) => format!("{} {}", self.lead, self.words),
        }
    }
}

/// Where a column of a table stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Figures.
    Right,
    /// Marks.
    Centre,
}

/// A cell of a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Cell {
    /// Words.
    Words(String),
    /// Words in bold.
    Strong(String),
    /// Strokes received as dots, given back as rings.
    Dots(i32),
    /// A box to write in.
    Box,
}

impl Cell {
    /// Its words as plain text.
    pub fn plain(&self) -> String {
        match self {
            Self::Words(words) | Self::Strong(words) => words.clone(),
            Self::Dots(n) => {
                let mark = if *n < 0 { "o" } else { "*" };
                mark.repeat(n.unsigned_abs().min(9) as usize)
            }
            Self::Box => "[  ]".to_owned(),
        }
    }
}

impl From<&str> for Cell {
    fn from(words: &str) -> Self {
        Self::Words(words.to_owned())
    }
}

impl From<String> for Cell {
    fn from(words: String) -> Self {
        Self::Words(words)
    }
}

/// A table.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Table {
    /// Its headings with how each column stands and what share of the width it may grow to (0: as wide as it must).
    pub columns: Vec<(String, Align, u8)>,
    /// Its rows.
    pub rows: Vec<Vec<Cell>>,
    /// Rows that are set off by a band, by index.
    pub sums: Vec<usize>,
    /// Lines between all cells, for a card to be written in.
    pub ruled: bool,
    /// How high a row is, in line heights; 0 for as high as its words.
    pub height: f32,
}

/// A field to be filled in with a pencil.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Field {
    /// A line to write on, after its word, with its share of the room.
    Line(String, u8),
    /// A box to tick, with its word after it.
    Tick(String),
    /// A box to write a figure in, after its word.
    Box(String),
}

/// Something on a leaf.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A section's name, and a few words in a lower voice.
    Section(String, String),
    /// A large line and one below it, as on a cover.
    Title(String, String),
    /// A labelled text.
    Entry(Entry),
    /// Words across the column.
    Words(String),
    /// The same in a lower voice.
    Small(String),
    /// A warning in a box.
    Caution(String),
    /// A table.
    Table(Table),
    /// Fields to write in, after a name.
    Pencil(String, Vec<Field>),
    /// Samples of the drawing's grounds with their words.
    Key(Vec<(Sample, String)>),
    /// Room.
    Gap(f32),
    /// Pictures of greens, so many beside each other.
    Greens(usize, Vec<GreenDrawing>),
    /// Pictures of holes, so many beside each other, each with its name.
    Holes(usize, Vec<(String, Drawing)>),
}

/// What a sample of the key shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sample {
    /// A kind of ground.
    Ground(Surface),
    /// The line of the steady play.
    Steady,
    /// The line of the bold play.
    Bold,
    /// Distances to the green.
    Rings,
    /// Distances from the tee.
    FromTee,
    /// Lay-up ground.
    Layup,
    /// Today's hole.
    Pin,
    /// A stroke received.
    Stroke,
}

/// One leaf of a book.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Leaf {
    /// What it is called, as `hole 4`.
    pub name: String,
    /// Its head.
    pub head: Head,
    /// A warning of its own above everything.
    pub caution: Option<String>,
    /// The drawing beside the blocks.
    pub drawing: Option<Drawing>,
    /// What stands in the column.
    pub blocks: Vec<Block>,
    /// What stands at its foot across the page.
    pub foot: Vec<Block>,
    /// The small lines at its lower edge.
    pub colophon: Vec<String>,
}
