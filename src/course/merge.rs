//! The notebook and its layers as they are shown together, with whose note each is.

use super::layer::{Layer, LayerHole};
use super::model::{Course, Hole};
use super::written::{Aim, Danger, Layup, Note, Written};
use crate::notebook::Span;

/// Everything written about one hole, by the notebook and by its layers.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct HoleNotes {
    /// Aim points.
    pub aims: Vec<Aim>,
    /// Dangers.
    pub dangers: Vec<Danger>,
    /// Lay-ups.
    pub layups: Vec<Layup>,
    /// Notes.
    pub notes: Vec<Note>,
}

/// Something a layer replaces or hides and no longer finds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lost {
    /// On which hole.
    pub hole: u8,
    /// What it looks for.
    pub id: String,
    /// Whether it would have hidden it, rather than replaced it.
    pub hides: bool,
    /// Where it says so in the layer.
    pub span: Span,
}

/// A thing with words.
trait Said: Clone {
    fn written(&self) -> &Written;
    fn list(notes: &mut HoleNotes) -> &mut Vec<Self>;
}

macro_rules! said {
    ($($kind:ty => $list:ident),*) => {$(
        impl Said for $kind {
            fn written(&self) -> &Written {
                &self.written
            }
            fn list(notes: &mut HoleNotes) -> &mut Vec<Self> {
                &mut notes.$list
            }
        }
    )*};
}
said!(Aim => aims, Danger => dangers, Layup => layups, Note => notes);

/// What a layer replaces or hides on the holes of the course and no longer finds. What it replaces so is shown beside the
/// rest, so nothing is lost.
pub fn lost(course: &Course, layer: &Layer) -> Vec<Lost> {
    let holes = layer.holes.iter().filter_map(|said| Some((course.hole(said.number)?, said)));
    holes.flat_map(|(hole, said)| HoleNotes::of(hole).add(said)).collect()
}

impl HoleNotes {
    /// Lays layers over what the notebook says of a hole, in the given order.
    pub fn with_layers<'l>(hole: &Hole, layers: impl IntoIterator<Item = &'l Layer>) -> Self {
        let mut notes = Self::of(hole);
        for said in layers.into_iter().flat_map(|l| &l.holes).filter(|said| said.number == hole.number) {
            notes.add(said);
        }
        notes
    }

    fn of(hole: &Hole) -> Self {
        Self {
            aims: hole.aims.clone(),
            dangers: hole.dangers.clone(),
            layups: hole.layups.clone(),
            notes: hole.notes.clone(),
        }
    }

    /// Adds what a layer says. Gives what was not found.
    fn add(&mut self, layer: &LayerHole) -> Vec<Lost> {
        let mut lost = Vec::new();
        for (id, span) in &layer.hides {
            let gone =
                hide::<Aim>(self, id) | hide::<Danger>(self, id) | hide::<Layup>(self, id) | hide::<Note>(self, id);
            if !gone {
                lost.push(Lost { hole: layer.number, id: id.clone(), hides: true, span: *span });
            }
        }
        self.lay(layer.number, &layer.aims, &mut lost);
        self.lay(layer.number, &layer.dangers, &mut lost);
        self.lay(layer.number, &layer.layups, &mut lost);
        self.lay(layer.number, &layer.notes, &mut lost);
        lost
    }

    fn lay<T: Said>(&mut self, hole: u8, added: &[T], lost: &mut Vec<Lost>) {
        for item in added {
            let Some((id, span)) = &item.written().replaces else {
                T::list(self).push(item.clone());
                continue;
            };
            let list = T::list(self);
            match list.iter().position(|old| old.written().id == *id) {
                Some(place) => {
                    if let Some(old) = list.get_mut(place) {
                        *old = item.clone();
                    }
                    // One name may stand for several, each for its own players; all of them are replaced.
                    let mut index = 0;
                    list.retain(|old| {
                        index += 1;
                        index - 1 == place || old.written().id != *id
                    });
                }
                None => {
                    lost.push(Lost { hole, id: id.clone(), hides: false, span: *span });
                    list.push(item.clone());
                }
            }
        }
    }
}

fn hide<T: Said>(notes: &mut HoleNotes, id: &str) -> bool {
    let list = T::list(notes);
    let before = list.len();
    list.retain(|item| item.written().id != id);
    list.len() < before
}
