//! Matches on the live card: concessions, early ends, extra holes, giving up.

use super::rounds::{CALLUM, INES, TAMSIN, WREN, play, story};
use marram::session::PlayWish;
use marram::tui::story::Story;

const SIZES: [(u16, u16); 3] = [(120, 36), (80, 24), (60, 20)];

fn singles(width: u16, height: u16) -> Story {
    // Wren 19 and Callum +1, 100 %, off the lowest: Wren receives 20, Callum none (Appendix C 2024).
    story(&[(WREN, "Club"), (CALLUM, "Back")], PlayWish::usual(play("match")), width, height)
}

#[test]
fn a_singles_match_with_a_concession_and_an_early_end() {
    for (width, height) in SIZES {
        let mut story = singles(width, height);
        let strokes: Vec<i32> = (0..2).map(|p| story.state.session.golfers[p].strokes.iter().sum()).collect();
        assert_eq!(strokes, [20, 0]);
        // Wren gives hole 1 away; then wins ten holes: net par or better against a bogey.
        story.keys("y");
        assert_eq!((story.state.position, story.state.player), (1, 0), "a conceded hole needs no other score");
        assert!(story.screen().contains("Wren Hallam: 1 down with 17 to play"), "{}", story.screen());
        for par in [3, 5, 4, 4, 3, 4, 5, 4] {
            story.keys(&format!("{par} {}", par + 1));
        }
        assert!(story.screen().contains("7 up with 9 to play"), "{width}x{height} {}", story.screen());
        for par in [4, 4] {
            story.keys(&format!("{par} {}", par + 1));
        }
        let screen = story.screen();
        assert!(screen.contains("Wren Hallam won 9 & 7"), "{screen}");
        assert!(screen.contains("The match is over"), "{screen}");
        // Entry is still possible, and changes nothing.
        story.keys("3 3");
        assert!(!story.screen().contains("The match is over"), "said once: {}", story.screen());
        assert_eq!(story.state.session.scores(0).iter().filter(|s| s.is_entered()).count(), 11);
        story.keys("c");
        let card = story.screen();
        assert!(card.contains("hole 1: the hole conceded"), "{card}");
        assert!(card.contains("compares net scores hole by hole"), "{card}");
        assert!(card.contains("Callum Reive  lost 9 & 7"), "{card}");
    }
}

#[test]
fn a_concession_is_taken_back_and_a_conceded_stroke_is_noted() {
    let mut story = singles(120, 36);
    story.keys("y ; y");
    assert!(story.screen().contains("The hole is not given away."), "{}", story.screen());
    assert!(story.screen().contains("tied with 18 to play"), "{}", story.screen());
    story.keys("y u");
    assert!(story.said().contains("Undone: hole 1 has no score now"), "{}", story.said());
    assert_eq!((story.state.position, story.state.player), (0, 0));
    story.keys("y ; Backspace");
    assert!(story.screen().contains("tied with 18 to play"), "{}", story.screen());
    story.keys("4 4 ; y c");
    assert!(story.said().contains("hole 1: the last stroke conceded"), "{}", story.said());
    assert!(story.said().contains("gross  4c"), "{}", story.said());
    assert!(story.said().contains("1 up with 17 to play"), "{}", story.said());
}

#[test]
fn only_in_a_match_is_anything_conceded() {
    let mut story = story(&[(WREN, "Club")], PlayWish::usual(play("stableford")), 120, 36);
    story.keys("y");
    assert!(
        story.screen().contains("only in a match is a hole or a stroke conceded; in stableford x is"),
        "{}",
        story.screen()
    );
    story.keys("r g");
    assert!(story.screen().contains("only in a match"), "{}", story.screen());
}

/// Every hole tied: Wren takes her strokes, Callum plays par.
fn all_square(story: &mut Story) {
    for at in 0..18 {
        let par = story.state.derived.cards[1].lines[at].hole.par;
        let strokes = story.state.session.golfers[0].strokes[at];
        story.keys(&format!("{} {par}", i32::from(par) + strokes));
    }
}

#[test]
fn a_tie_is_played_on_hole_by_hole_and_a_correction_takes_the_extra_hole_away() {
    for (width, height) in SIZES {
        let mut story = singles(width, height);
        all_square(&mut story);
        assert!(story.screen().contains("Tied: the match goes on, extra hole 1 is hole 1."), "{}", story.screen());
        assert_eq!((story.state.position, story.state.session.order.len()), (18, 19));
        // The first extra hole is tied with the stroke of hole 1, the second is won.
        story.keys("5 4");
        assert_eq!(story.state.session.order.len(), 20);
        assert_eq!(story.state.session.order[19], 2);
        story.keys("3 3");
        assert!(story.screen().contains("won 1 up after 20 holes"), "{}", story.screen());
        assert_eq!(story.state.session.order.len(), 20, "no further hole");
        // Totals are those of the round.
        assert_eq!(story.state.derived.cards[1].total().gross, 72);
        story.keys("c");
        assert!(story.screen().contains("won 1 up after 20 holes"), "{}", story.screen());
        // Hole 18 corrected: the match was won there, and the extra holes are gone from the card, not from the log.
        story.keys("; ; ; ; 4");
        let card = story.said();
        assert!(card.contains("won 1 up") && !card.contains("after 20"), "{card}");
        assert_eq!(story.state.session.order.len(), 18);
        story.keys("u");
        assert!(story.said().contains("won 1 up after 20 holes"), "{}", story.said());
    }
}

#[test]
fn a_tie_stands_where_the_terms_say_so() {
    let wish = PlayWish { tie_stands: true, ..PlayWish::usual(play("match")) };
    let mut story = story(&[(WREN, "Club"), (CALLUM, "Back")], wish, 120, 36);
    all_square(&mut story);
    assert!(story.screen().contains("Callum Reive: tied"), "{}", story.screen());
    assert_eq!(story.state.session.order.len(), 18);
    story.keys("c");
    assert!(story.said().contains("a tie stands"), "{}", story.said());
}

#[test]
fn a_match_is_given_up_and_that_is_taken_back() {
    let mut story = singles(120, 36);
    story.keys("4 4 4 3 5 6 r g");
    let screen = story.screen();
    assert!(screen.contains("The match is over: Callum Reive won, the match given up after 3"), "{screen}");
    assert!(screen.contains("Wren Hallam: lost, the match given up after 3"), "{screen}");
    story.keys("r g");
    assert!(!story.screen().contains("given up after"), "{}", story.screen());
}

#[test]
fn a_four_ball_match_takes_strokes_from_the_lowest_of_four() {
    // 90 % each: 19.x -> 17, 10.x -> 9, -1 -> -1, 32.x -> 29; off the lowest: 18, 10, 0, 30; par 74 of 72 adds 2 to the women.
    let players = [(WREN, "Club"), (TAMSIN, "Forward"), (CALLUM, "Back"), (INES, "Forward")];
    let mut story = story(&players, PlayWish::usual(play("four-ball match")), 120, 50);
    let opening = story.state.session.round.as_ref().unwrap().opening().clone();
    let playing: Vec<i32> = opening.players.iter().map(|p| p.playing_handicap.unwrap()).collect();
    let received: Vec<i32> = opening.players.iter().map(|p| p.strokes.iter().sum()).collect();
    let lowest = playing.iter().min().unwrap();
    assert_eq!(received, playing.iter().map(|p| p - lowest).collect::<Vec<_>>());
    assert!(playing[1] >= 11 && playing[2] == -1, "{playing:?}");
    // The better net ball wins the hole; one partner may pick up.
    story.keys("4 x 4 6 c");
    assert!(story.said().contains("Wren Hallam & Tamsin Orr  1 up with 17 to play"), "{}", story.said());
    assert!(story.said().contains("match  1u"), "{}", story.said());
}
