//! The page of everything written about a hole, and the form in which one thing of it is written.

use super::State;
use super::course_edits::Where;
use crate::course::write::{Sort, Thing, things};
use crate::notebook;
use crate::units::digest::Digest;
use tui_input::Input;

/// The page of notes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AnnotateScreen {
    /// The thing under the cursor.
    pub cursor: usize,
    /// The form, when one is open.
    pub form: Option<Box<Form>>,
    /// It was opened for this form alone and closes with it.
    pub only_form: bool,
}

/// A field of a form.
#[derive(Clone, Debug)]
pub struct FormField {
    /// Its key, with `when.` before those of the condition.
    pub key: &'static str,
    /// What is typed.
    pub input: Input,
    /// What was written when the form was opened, as it was shown.
    pub was: String,
    /// What stands there on the disk now, when that is something else.
    pub theirs: Option<String>,
}

impl PartialEq for FormField {
    fn eq(&self, other: &Self) -> bool {
        self.key == other.key
            && self.was == other.was
            && self.theirs == other.theirs
            && self.input.value() == other.input.value()
            && self.input.cursor() == other.input.cursor()
    }
}

/// A form for one thing.
#[derive(Clone, Debug, PartialEq)]
pub struct Form {
    /// What it is for.
    pub sort: Sort,
    /// The hole.
    pub hole: u8,
    /// Where it will be written.
    pub place: Where,
    /// The thing that is changed; `None` for a new one.
    pub of: Option<Thing>,
    /// What it stands instead of, in a layer.
    pub replaces: Option<String>,
    /// Its fields.
    pub fields: Vec<FormField>,
    /// The field with the focus.
    pub at: usize,
    /// Why what was typed cannot be kept, or what happened to the file meanwhile.
    pub message: Option<String>,
    /// The file was changed meanwhile: both are shown.
    pub both: bool,
}

impl Form {
    /// The text of a field as typed.
    pub fn typed(&self, key: &str) -> &str {
        self.fields.iter().find(|f| f.key == key).map_or("", |f| f.input.value())
    }

    /// Whether anything was typed.
    pub fn is_changed(&self) -> bool {
        self.fields.iter().any(|f| f.input.value() != f.was)
    }
}

/// Everything written about the hole on screen, with the files it stands in.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct WrittenThings {
    /// In the order of the hole: each with its file.
    pub things: Vec<(Where, Thing)>,
    made_from: Option<(u8, Vec<Digest>)>,
}

impl State {
    /// The page of notes, wherever it lies in the stack.
    pub fn annotate(&self) -> Option<&AnnotateScreen> {
        self.screens.iter().rev().find_map(|s| if let super::Screen::Annotate(a) = s { Some(&**a) } else { None })
    }

    /// The page of notes, to be changed.
    pub fn annotate_mut(&mut self) -> Option<&mut AnnotateScreen> {
        self.screens
            .iter_mut()
            .rev()
            .find_map(|s| if let super::Screen::Annotate(a) = s { Some(&mut **a) } else { None })
    }

    /// The form, when one is open.
    pub fn form(&self) -> Option<&Form> {
        self.annotate()?.form.as_deref()
    }

    /// Everything written about the hole, taken over from `before` where the files are the same.
    pub fn written_things(&self, before: WrittenThings) -> WrittenThings {
        let (Some(hole), Some(notebook)) = (self.current_hole(), &self.session.course_file) else {
            return WrittenThings::default();
        };
        let whom = self.session.golfers.get(self.player).map(|g| g.name.clone()).unwrap_or_default();
        let nobody = self.session.people.get(self.player).is_none_or(|p| p.assumed);
        let layers = self.session.layers.iter().filter(|(layer, _)| nobody || layer.is_for(&whom)).map(|(_, f)| f);
        let files: Vec<_> = std::iter::once(notebook).chain(layers).collect();
        let made_from = (hole.number, files.iter().map(|f| f.digest()).collect());
        if before.made_from.as_ref() == Some(&made_from) {
            return before;
        }
        let mut found = Vec::new();
        for (index, file) in files.into_iter().enumerate() {
            let name = std::path::Path::new(&file.name).file_name().and_then(|n| n.to_str()).unwrap_or_default();
            let place = if index == 0 { Where::Notebook } else { Where::Beside(name.to_owned()) };
            if let (Some(root), _) = notebook::read(&file.text) {
                found.extend(things(&root, hole.number).into_iter().map(|t| (place.clone(), t)));
            }
        }
        found.sort_by_key(|(_, thing)| thing.sort);
        WrittenThings { things: found, made_from: Some(made_from) }
    }
}
