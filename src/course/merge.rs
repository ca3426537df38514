//! The notebook and its layers as they are shown together, with whose note each is.

use super::layer::{Layer, LayerHole};
use super::model::{Course, Hole};
use super::written::{Aim, Danger, Layup, Note, Written};
use crate::notebook::Span;

/// Everything written about one hole, by the notebook and by its layers.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct HoleNotes {
    /// The hole's number.
    pub number: u8,
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
    /// Which of the layers, by place.
    pub layer: usize,
    /// Whose layer it is.
    pub whose: String,
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

/// Lays the layers over the notebook in the given order. Gives what is written about each hole of the course, and what
/// a layer replaces or hides and no longer finds: that is then shown beside the rest, so nothing is lost.
pub fn merge(course: &Course, layers: &[Layer]) -> (Vec<HoleNotes>, Vec<Lost>) {
    let mut merged: Vec<HoleNotes> = course.holes.iter().map(HoleNotes::of).collect();
    let mut lost = Vec::new();
    for (place, layer) in layers.iter().enumerate() {
        for hole in &layer.holes {
            if let Some(notes) = merged.iter_mut().find(|n| n.number == hole.number) {
                let missing = notes.add(hole);
                lost.extend(missing.into_iter().map(|(id, span, hides)| Lost {
                    layer: place,
                    whose: layer.whose().to_owned(),
                    hole: hole.number,
                    id,
                    hides,
                    span,
                }));
            }
        }
    }
    (merged, lost)
}

/// The course with the layers laid over it, for those who show one hole at a time; see [`merge`].
pub fn with_layers(course: &Course, layers: &[Layer]) -> (Course, Vec<Lost>) {
    let (merged, lost) = merge(course, layers);
    let mut course = course.clone();
    for (hole, notes) in course.holes.iter_mut().zip(merged) {
        hole.aims = notes.aims;
        hole.dangers = notes.dangers;
        hole.layups = notes.layups;
        hole.notes = notes.notes;
    }
    (course, lost)
}

impl HoleNotes {
    fn of(hole: &Hole) -> Self {
        Self {
            number: hole.number,
            aims: hole.aims.clone(),
            dangers: hole.dangers.clone(),
            layups: hole.layups.clone(),
            notes: hole.notes.clone(),
        }
    }

    /// Adds what a layer says. Gives what was not found: id, place, whether it was to be hidden.
    fn add(&mut self, layer: &LayerHole) -> Vec<(String, Span, bool)> {
        let mut lost = Vec::new();
        for (id, span) in &layer.hides {
            let gone =
                hide::<Aim>(self, id) | hide::<Danger>(self, id) | hide::<Layup>(self, id) | hide::<Note>(self, id);
            if !gone {
                lost.push((id.clone(), *span, true));
            }
        }
        self.lay(&layer.aims, &mut lost);
        self.lay(&layer.dangers, &mut lost);
        self.lay(&layer.layups, &mut lost);
        self.lay(&layer.notes, &mut lost);
        lost
    }

    fn lay<T: Said>(&mut self, added: &[T], lost: &mut Vec<(String, Span, bool)>) {
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
                    lost.push((id.clone(), *span, false));
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
