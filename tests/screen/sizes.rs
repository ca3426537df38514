//! Every page at every size: nothing panics, nothing is drawn outside, small screens say so.

use marram::tui::story::Story;
use marram::tui::update::{Msg, update};

const WALK: [&str; 12] = ["", "w w w", "v", "a", "c", "s", "b", "b Down Right Enter 9", "b a z", "?", ":", "o"];

#[test]
fn no_size_panics_on_any_page() {
    for keys in WALK {
        let mut story = Story::example(120, 36);
        story.keys("5 4 x");
        story.keys(keys);
        for width in [1, 2, 5, 12, 19, 20, 21, 33, 40, 59, 60, 72, 79, 80, 99, 100, 120, 200] {
            for height in [1, 2, 3, 5, 6, 7, 9, 11, 12, 15, 18, 20, 23, 24, 28, 30, 34, 36, 50, 80] {
                update(&mut story.state, Msg::Resize(width, height));
                let screen = story.screen();
                if width < 20 || height < 6 {
                    assert!(
                        screen.starts_with("needs 20x6"[..usize::from(width).min(10)].trim_end()),
                        "{width}x{height}: {screen:?}"
                    );
                }
            }
        }
    }
}

#[test]
fn the_usual_sizes_show_what_matters() {
    for (width, height) in [(120, 36), (80, 24), (60, 20)] {
        let mut story = Story::example(width, height);
        story.keys(", , ,");
        let screen = story.screen();
        assert!(screen.contains("4 Saltpan"), "{width}x{height}\n{screen}");
        assert!(screen.contains("401 y") && screen.contains("par 4"), "{width}x{height}\n{screen}");
        assert!(screen.contains("gross"), "{width}x{height}\n{screen}");
        assert!(screen.contains("? keys"), "{width}x{height}\n{screen}");
        assert!(screen.contains("from the tee"), "{width}x{height}\n{screen}");
    }
}

#[test]
fn the_cursor_stands_on_the_ball() {
    let story = Story::example(120, 36);
    let mut buffer = story.buffer();
    let place = marram::tui::view::view(&story.state, &mut buffer).unwrap();
    assert_eq!(buffer.cell(place).unwrap().symbol(), "●");
}
