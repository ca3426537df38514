//! Colour carries nothing alone; plain characters are enough; text from files cannot reach the terminal.

use marram::session::Home;
use marram::shelf::Load;
use marram::tui::looks::{Depth, Looks};
use marram::tui::story::Story;
use ratatui::style::Color;

fn with(depth: Depth, ascii: bool, light: bool) -> Story {
    let mut story = Story::example(120, 36);
    story.state.looks = Looks { depth, ascii, light };
    story
}

#[test]
fn without_colour_no_cell_has_one() {
    let mut story = with(Depth::None, false, false);
    story.keys(", , , w w 4 c");
    for cell in &story.buffer().content {
        assert_eq!((cell.fg, cell.bg), (Color::Reset, Color::Reset));
    }
}

#[test]
fn sixteen_colours_use_only_named_ones() {
    let mut story = with(Depth::Sixteen, false, false);
    story.keys(", , ,");
    for cell in &story.buffer().content {
        assert!(!matches!(cell.fg, Color::Rgb(..) | Color::Indexed(_)), "{cell:?}");
        assert!(!matches!(cell.bg, Color::Rgb(..) | Color::Indexed(_)), "{cell:?}");
    }
}

#[test]
fn plain_characters_are_plain_on_every_page() {
    for keys in ["", "w w", "v", "a", "c", "s", "b", "b 9 9 9 Enter", "?", ": u n"] {
        let mut story = with(Depth::None, true, false);
        story.keys(", , , 5 4");
        story.keys(keys);
        let screen = story.screen();
        assert!(screen.is_ascii(), "{keys}: {:?}", screen.chars().find(|c| !c.is_ascii()));
    }
}

#[test]
fn a_light_background_has_colours_of_its_own() {
    let dark = with(Depth::True, false, false).buffer();
    let light = with(Depth::True, false, true).buffer();
    assert_ne!(dark, light);
}

#[test]
fn the_ground_is_told_apart_without_colour() {
    let mut story = with(Depth::None, false, false);
    story.keys(", , ,");
    let screen = story.screen();
    for texture in ['♠', '░', '∴', '▓', '≈'] {
        assert!(screen.contains(texture), "{texture}\n{screen}");
    }
}

#[test]
fn text_from_a_file_carries_no_escape_to_the_screen() {
    let text = "format: course-notebook/1
course: { name: \"Links\\e[31m\", units: yards }
tees: [ { name: \"Back\\a\" } ]
holes:
  - hole: 1
    name: \"One\\e]0;title\\a\"
    par: 3
    stroke_index: 1
    tees: { \"Back\\a\": 160 }
    sketch: { green: { front: 148, depth: 24, width: 20 } }
    caution: \"mind\\e[2Jthe road\"
    notes: [ { at: tee, text: \"a\\u0007b\\u009bc\" } ]
";
    let mut load = Load::new("2026-05-16");
    load.course("links.yaml", text.to_owned());
    let mut story = Story::of(load.finish(Home::Files), 100, 30);
    for keys in ["", "c", "?", "e"] {
        story.keys("Esc");
        story.keys(keys);
        for cell in &story.buffer().content {
            assert!(!cell.symbol().chars().any(char::is_control), "{:?}", cell.symbol());
        }
        assert!(!story.said().chars().any(|c| c.is_control() && c != '\n'), "{}", story.said());
    }
}
