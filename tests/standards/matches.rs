//! Match play: sections 3.2 and 3.6.

use super::card::{ball, from_parts, sides_of};
use marram::handicap::Play;
use marram::scoring::{Ball, CardHole, Format, HoleScore, HoleValue, Side, Terms, format};
use proptest::prelude::*;

fn singles(holes: usize) -> Box<dyn Format> {
    format(Play::parse("match").unwrap(), Terms::net(holes)).unwrap()
}

/// A match by its holes: `+` the first side wins, `0` tied, `-` the second wins.
fn sides(results: &str) -> [Side; 2] {
    let gross = |mark: char| match mark {
        '+' => (4, 5),
        '-' => (5, 4),
        _ => (4, 4),
    };
    let marks: Vec<(u8, u8)> = results.chars().map(gross).collect();
    let ball = |of: fn(&(u8, u8)) -> u8| {
        let holes = marks.iter().enumerate().map(|(at, pair)| CardHole {
            number: u8::try_from(at % 18 + 1).unwrap(),
            par: 4,
            strokes: 0,
            score: HoleScore::Gross(of(pair)),
        });
        Side::new(vec![Ball { holes: holes.collect() }])
    };
    [ball(|pair| pair.0), ball(|pair| pair.1)]
}

fn words(holes: usize, results: &str) -> (String, String) {
    let (game, sides) = (singles(holes), sides(results));
    (game.words(&sides, 0, results.len()), game.words(&sides, 1, results.len()))
}

#[test]
fn states() {
    let pair = |a: &str, b: &str| (a.to_owned(), b.to_owned());
    // C from S Rule 3.2a: won when the lead exceeds the holes that remain.
    assert_eq!(words(18, "+++0000000000000"), pair("won 3 & 2", "lost 3 & 2"));
    assert_eq!(words(18, "++00000000000000"), pair("2 up with 2 to play", "2 down with 2 to play"));
    assert_eq!(words(18, "----------"), pair("lost 10 & 8", "won 10 & 8"));
    assert_eq!(words(18, "00000000000000000-"), pair("lost 1 down", "won 1 up"));
    assert_eq!(
        words(18, "000000000000000000"),
        pair("tied after 18, extra holes decide", "tied after 18, extra holes decide")
    );
    assert_eq!(words(18, "0000000000000000000+"), pair("won 1 up after 20 holes", "lost 1 down after 20 holes"));
    assert_eq!(words(9, "+++0000"), pair("won 3 & 2", "lost 3 & 2"));
    assert_eq!(words(18, ""), pair("tied with 18 to play", "tied with 18 to play"));
    assert_eq!(words(18, "+"), pair("1 up with 17 to play", "1 down with 17 to play"));
}

#[test]
fn holes_after_the_end_change_nothing() {
    assert_eq!(words(18, "+++0000000000000--").0, "won 3 & 2");
    // Extra holes of a match already won do not count either.
    assert_eq!(words(18, "00000000000000000+-").0, "won 1 up");
}

#[test]
fn a_tie_may_stand() {
    let game = format(Play::parse("match").unwrap(), Terms { extra_holes: false, ..Terms::net(2) }).unwrap();
    let tied = sides("00");
    assert_eq!(game.words(&tied, 0, 2), "tied");
    assert!(game.standing(&tied, 0, 2).over);
    assert!(!singles(2).standing(&tied, 0, 2).over);
}

#[test]
fn strokes_and_concessions() {
    let game = singles(6);
    // C: A 5 with a stroke, B 4 without: tied.
    let mut a = Side::new(vec![ball("4 4 4 4 4 4", "1 0 0 0 0 0", "5 3 _ x x 4")]);
    let mut b = Side::new(vec![ball("4 4 4 4 4 4", "0 0 0 0 0 0", "4 x 3 6 x _")]);
    (a.conceded, b.conceded) = (vec![1], vec![2]);
    let both = [a, b];
    let of = |at| game.hole(&both, 0, at).value;
    // S 3.2: a concession wins the hole whatever was written; picked up against a score loses it; nobody: tied (S 23.2a/1).
    assert_eq!(
        [of(0), of(1), of(2), of(3), of(4), of(5)],
        [HoleValue::Tied, HoleValue::Lost, HoleValue::Won, HoleValue::Lost, HoleValue::Tied, HoleValue::Open]
    );
    assert_eq!(game.hole(&both, 1, 1).value, HoleValue::Won);
    assert_eq!(game.words(&both, 0, 6), "1 down with 1 to play");
}

#[test]
fn a_match_given_up() {
    let game = singles(18);
    let [a, mut b] = sides("0++");
    b.gave_up_after = Some(3);
    let both = [a, b];
    assert_eq!(game.words(&both, 0, 2), "1 up with 16 to play");
    assert_eq!(game.words(&both, 0, 3), "won, the match given up after 3");
    assert_eq!(game.words(&both, 1, 3), "lost, the match given up after 3");
    assert!(game.standing(&both, 0, 3).over);
}

#[test]
fn what_is_still_possible() {
    let possible = |results: &str| singles(18).possible(&sides(results), 0);
    assert_eq!(possible("++00000000000000"), "at best won 3 & 1, cannot lose in the round");
    assert_eq!(possible("--00000000000000"), "must win all 2 holes left to tie, at worst lost 3 & 1");
    assert_eq!(possible("+00000000000000"), "at best won 3 & 1, at worst lost 2 down");
    assert_eq!(possible(""), "at best won 10 & 8, at worst lost 10 & 8");
    assert_eq!(possible("+++0000000000000"), "won 3 & 2");
}

#[test]
fn a_skipped_hole_keeps_the_match_open() {
    let [mut a, b] = sides("+++0000000000000");
    a.balls[0].holes[5].score = HoleScore::Empty;
    let both = [a, b];
    // Three up with two and the skipped one to play.
    assert_eq!(singles(18).words(&both, 0, 16), "3 up with 3 to play");
    assert_eq!(singles(18).standing(&both, 0, 16).skipped, Some(6));
}

#[test]
fn four_ball_and_one_ball_matches() {
    let game = format(Play::parse("four-ball match").unwrap(), Terms::net(3)).unwrap();
    let both = [
        sides_of(vec![ball("4 4 4", "0 0 0", "5 x x"), ball("4 4 4", "1 0 0", "5 5 x")]),
        sides_of(vec![ball("4 4 4", "0 0 0", "4 4 x"), ball("4 4 4", "0 0 0", "x _ 4")]),
    ];
    // C: net 4 against 4; 5 against 4; nobody against 4 (S 23.2a: no score loses the hole).
    let of = |at| game.hole(&both, 0, at).value;
    assert_eq!([of(0), of(1), of(2)], [HoleValue::Tied, HoleValue::Lost, HoleValue::Lost]);
    assert_eq!(game.words(&both, 1, 2), "1 up with 1 to play");
    assert_eq!(game.words(&both, 1, 3), "won 2 up");
    let game = format(Play::parse("foursomes match").unwrap(), Terms::net(1)).unwrap();
    let both = [from_parts(&[4], &[1], &[5]), from_parts(&[4], &[0], &[5])];
    assert_eq!(game.words(&both, 0, 1), "won 1 up");
    assert_eq!((game.on_the_tee(0), game.on_the_tee(1)), (Some(0), Some(1)));
}

proptest! {
    /// The match is over exactly when the lead exceeds the holes left, and both sides say the same.
    #[test]
    fn over_exactly_when_the_lead_exceeds_the_holes_left(results in "[+0-]{18}", after in 0_usize..=18) {
        let (game, both) = (singles(18), sides(&results));
        // An independent walk over the marks.
        let (mut lead, mut over) = (0_i32, None);
        for (at, mark) in results.chars().take(after).enumerate() {
            lead += match mark { '+' => 1, '-' => -1, _ => 0 };
            if lead.abs() > 17 - i32::try_from(at).unwrap() {
                over = Some((lead, 17 - at));
                break;
            }
        }
        let (ours, theirs) = (game.standing(&both, 0, after), game.standing(&both, 1, after));
        prop_assert_eq!(ours.over, over.is_some());
        prop_assert_eq!(ours.figure, Some(over.map_or(lead, |(lead, _)| lead)));
        prop_assert_eq!(ours.ended_with, over.map(|(_, left)| left));
        prop_assert_eq!(ours.figure.map(|f| -f), theirs.figure);
        prop_assert_eq!(ours.least.map(|f| -f), theirs.most);
    }

    /// A stroke more never makes a side's match worse.
    #[test]
    fn a_stroke_more_never_loses_a_hole(gross in prop::collection::vec((1_u8..9, 1_u8..9), 9), playing in 0_i32..9) {
        let game = format(Play::parse("match").unwrap(), Terms { extra_holes: false, ..Terms::net(9) }).unwrap();
        let index = marram::handicap::StrokeIndexes::new(&[1, 2, 3, 4, 5, 6, 7, 8, 9]).unwrap();
        let (ours, theirs): (Vec<u8>, Vec<u8>) = gross.into_iter().unzip();
        let values = |playing| {
            let strokes = marram::handicap::strokes_by_hole(playing, &index);
            let both = [from_parts(&[4; 9], &strokes, &ours), from_parts(&[4; 9], &[0; 9], &theirs)];
            (0..9).map(|at| match game.hole(&both, 0, at).value {
                HoleValue::Won => 1, HoleValue::Tied => 0, _ => -1,
            }).sum::<i32>()
        };
        prop_assert!(values(playing + 1) >= values(playing));
    }
}
