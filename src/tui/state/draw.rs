//! The page on which a hole is drawn: what is picked, the line being typed, the drawing with what it would become.

use super::State;
use crate::course::Hole;
use crate::course::write::edges::{Edge, GreenEdge, edges};
use crate::course::write::notation::Count;
use crate::course::write::sketch::Change;
use crate::ground::{Ribbon, Surface};
use std::sync::Arc;
use tui_input::Input;

/// The page.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DrawScreen {
    /// What is picked.
    pub picked: Option<Picked>,
    /// Which of its edges moves.
    pub edge: usize,
    /// The line being typed.
    pub entry: Option<Entry>,
    /// Figures are counted from the player's tee, not from the start of the line.
    pub from_tee: bool,
}

/// What is picked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Picked {
    /// A piece, by its place in the sketch.
    Piece(usize),
    /// The green.
    Green,
}

/// What a line is typed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EntryFor {
    /// A new piece of ground.
    Piece(Surface),
    /// What is picked, typed anew.
    Picked(Picked),
    /// The green.
    Green,
    /// Its falls.
    Falls,
    /// A bend.
    Bend,
    /// A height along the line.
    Height,
    /// A tee.
    Tee,
    /// The length of the line.
    Length,
    /// A hole more in the notebook.
    NewHole,
}

/// A line being typed.
#[derive(Clone, Debug)]
pub struct Entry {
    /// What for.
    pub what: EntryFor,
    /// What is typed.
    pub input: Input,
    /// Why it cannot be kept.
    pub message: Option<String>,
}

impl PartialEq for Entry {
    fn eq(&self, other: &Self) -> bool {
        self.what == other.what
            && self.message == other.message
            && self.input.value() == other.input.value()
            && self.input.cursor() == other.input.cursor()
    }
}

/// The hole as it is drawn now, with the change that is being typed.
#[derive(Clone, Debug)]
pub struct Sketched {
    /// The hole with it.
    pub hole: Hole,
    /// The drawing.
    pub ribbon: Arc<Ribbon>,
    /// What the line says so far: the change it is, or what is still missing.
    pub typed: Option<Result<Change, String>>,
    /// What of it cannot be laid out.
    pub problems: Vec<String>,
    /// What it was made from.
    pub made_from: SketchedFrom,
}

/// What a [`Sketched`] was made from.
#[derive(Clone, Debug, PartialEq)]
pub struct SketchedFrom {
    /// The notebook's text and the hole.
    pub hole: (Option<crate::units::digest::Digest>, u8),
    /// The line being typed.
    pub typed: Option<(EntryFor, String, bool)>,
    /// The cells and the shape.
    pub cells: (u16, u16, bool),
    /// The tee that turns it.
    pub tee: String,
}

impl State {
    /// The page, wherever it lies in the stack.
    pub fn draw(&self) -> Option<&DrawScreen> {
        self.screens.iter().rev().find_map(|s| if let super::Screen::Draw(d) = s { Some(&**d) } else { None })
    }

    /// The page, to be changed.
    pub fn draw_mut(&mut self) -> Option<&mut DrawScreen> {
        self.screens.iter_mut().rev().find_map(|s| if let super::Screen::Draw(d) = s { Some(&mut **d) } else { None })
    }

    /// How figures are counted on the page: in the file's unit, from the start of the line or from the player's tee.
    pub fn draw_count(&self) -> Count {
        let unit = self.session.course.as_ref().map(|c| c.units).unwrap_or_default();
        let origin = self
            .draw()
            .filter(|d| d.from_tee)
            .and_then(|_| self.derived.hole.as_ref()?.origin)
            .map_or(0.0, |origin| origin.0.0);
        Count { unit, origin }
    }

    /// What can be picked on the hole, in the order of the notebook, the green last.
    pub fn pickable(&self) -> Vec<Picked> {
        let Some(hole) = self.current_hole() else { return Vec::new() };
        let drawn = |i: &usize| hole.sketch.pieces.get(*i).is_some_and(|p| !edges(&p.form).is_empty());
        let pieces = (0..hole.sketch.pieces.len()).filter(drawn).map(Picked::Piece);
        pieces.chain(hole.sketch.green.as_ref().map(|_| Picked::Green)).collect()
    }

    /// The edge of the picked piece that moves.
    pub fn picked_edge(&self) -> Option<(usize, Edge)> {
        let draw = self.draw()?;
        let Some(Picked::Piece(index)) = draw.picked else { return None };
        let all = edges(&self.current_hole()?.sketch.pieces.get(index)?.form);
        all.get(draw.edge % all.len().max(1)).map(|e| (index, *e))
    }

    /// The edge of the green that moves, when it is picked.
    pub fn green_edge(&self) -> Option<GreenEdge> {
        let draw = self.draw().filter(|d| d.picked == Some(Picked::Green))?;
        GreenEdge::ALL.get(draw.edge % GreenEdge::ALL.len()).copied()
    }
}
