//! The example inside the program: an invented course, an invented player, a round on the first tee.

use super::load::Load;
use crate::session::{Home, Session};

/// A file of the example: its place on the shelf when a person's own copy is made, and its text.
pub struct ExampleFile {
    /// The place below the shelf's folder.
    pub place: &'static str,
    /// The text.
    pub text: &'static str,
}

/// The files of the example.
pub const EXAMPLE_FILES: [ExampleFile; 3] = [
    ExampleFile { place: "corvane.yaml", text: include_str!("../../sample-courses/corvane.yaml") },
    ExampleFile {
        place: "corvane.wren-hallam.yaml",
        text: include_str!("../../sample-courses/corvane.wren-hallam.yaml"),
    },
    ExampleFile {
        place: "players/wren-hallam.yaml",
        text: include_str!("../../sample-courses/players/wren-hallam.yaml"),
    },
];

/// The text of a file of the example.
pub fn example_text(place: &str) -> Option<&'static str> {
    EXAMPLE_FILES.iter().find(|f| f.place == place).map(|f| f.text)
}

/// The example, opened: nothing is read from the disk and nothing written.
pub fn example(today: &str) -> Session {
    let mut load = Load::new(today);
    let [course, layer, player] = &EXAMPLE_FILES;
    load.course(course.place, course.text.to_owned());
    load.layer(layer.place, layer.text.to_owned());
    load.player(player.place, player.text.to_owned(), Some("Club"));
    load.finish(Home::Example)
}
