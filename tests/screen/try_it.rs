use super::rounds::*;
use marram::handicap::Play;
use marram::session::PlayWish;
#[test]
fn show() {
    for (play, players, keys) in [
        (
            "four-ball stableford",
            vec![(WREN, "Club"), (TAMSIN, "Forward"), (CALLUM, "Back"), (INES, "Forward")],
            "5 5 4 6 4 x 3 5 5 5 5 6",
        ),
        ("match", vec![(WREN, "Club"), (CALLUM, "Back")], "5 4 4 4 6 5 y 4 5"),
        ("foursomes", vec![(WREN, "Club"), (TAMSIN, "Forward"), (CALLUM, "Back"), (INES, "Forward")], "5 5 4 4 6 5"),
        ("maximum", vec![(WREN, "Club")], "9 4 x 5 -"),
        ("par-bogey", vec![(WREN, "Club"), (INES, "Forward")], "5 6 4 4 6 6"),
        ("stroke", vec![(WREN, "Club")], "5 4 4 4 6 5 5 4 5 4 5 6 4"),
    ] {
        for (w, h) in [(120, 36), (80, 24), (60, 20)] {
            let mut s = story(&players, PlayWish::usual(Play::parse(play).unwrap()), w, h);
            s.keys(keys);
            println!("=== {play} {w}x{h}\n{}", s.screen());
            s.keys("c");
            println!("{}", s.screen());
        }
    }
}
