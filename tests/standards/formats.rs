//! Stableford, Maximum Score, Par/Bogey, stroke play, four-ball and other sides: sections 3.1 and 3.6.

use super::card::{ball, side, sides_of};
use marram::handicap::{Play, Scoring};
use marram::scoring::{CardError, Format, HoleValue, MaximumScore, Side, Terms, TermsError, format, stableford_points};
use proptest::prelude::*;

fn play(name: &str, terms: Terms) -> Box<dyn Format> {
    format(Play::parse(name).unwrap(), terms).unwrap()
}

fn maximum(limit: &str, holes: usize) -> Terms {
    Terms { maximum: Some(MaximumScore::parse(limit).unwrap()), ..Terms::net(holes) }
}

fn values(game: &dyn Format, side: &Side) -> Vec<HoleValue> {
    (0..side.len()).map(|at| game.hole(std::slice::from_ref(side), 0, at).value).collect()
}

#[test]
fn stableford_on_a_card() {
    // S Rules of Golf 21.1b (2023): table; a hole returned empty or picked up is 0.
    let game = play("stableford", Terms::net(7));
    let card = side("4 4 4 4 4 4 4", "0 0 0 0 0 0 0", "x 6 5 4 3 2 1");
    let points: Vec<HoleValue> = [0, 0, 1, 2, 3, 4, 5].into_iter().map(HoleValue::Points).collect();
    assert_eq!(values(&*game, &card), points);
    assert_eq!(game.words(&[card], 0, 7), "15 points");
}

#[test]
fn the_committee_may_fix_another_target() {
    // S 21.1b: target = par unless the Committee fixes another; here bogey.
    let terms = Terms { target_over_par: 1, ..Terms::net(1) };
    assert_eq!(values(&*play("stableford", terms.clone()), &side("4", "0", "5")), [HoleValue::Points(2)]);
    assert_eq!(values(&*play("par-bogey", terms), &side("4", "0", "5")), [HoleValue::Tied]);
}

#[test]
fn stableford_state() {
    let game = play("stableford", Terms::net(18));
    let pars = ["4"; 18].join(" ");
    let none = ["0"; 18].join(" ");
    let card = [side(&pars, &none, "4 4 4 4 4 4 4 4 4 4 4 4 4 4 4 4")];
    assert_eq!(game.words(&card, 0, 0), "not started");
    assert_eq!(game.words(&card, 0, 7), "14 points after 7, two a hole");
    assert_eq!(game.chase(&card, 0, 36).unwrap(), "needs 4 points from the last two for 36");
    assert_eq!(game.chase(&card, 0, 33).unwrap(), "needs 1 point from the last two for 33");
    assert_eq!(game.chase(&card, 0, 32).unwrap(), "has 32");
    // Two holes in one on par fours are 5 points each.
    assert_eq!(game.possible(&card, 0), "from 32 to 42 is possible");
    assert_eq!(game.chase(&card, 0, 43).unwrap(), "43 is out of reach");
    let skipped = [side(&pars, &none, "4 4 _ 4 4 4 4 4 4 4 4 4 4 4 4 4 4")];
    assert_eq!(game.chase(&skipped, 0, 34).unwrap(), "needs 2 points from the 2 holes still open for 34");
    assert_eq!(game.standing(&skipped, 0, 18).skipped, Some(3));
}

#[test]
fn maximum_score() {
    // C from S 21.2: limit 8, none/9/8/7 count 8 8 8 7.
    let game = play("maximum", maximum("8", 4));
    let card = side("4 4 4 4", "0 0 0 0", "x 9 8 7");
    let strokes: Vec<HoleValue> = [8, 8, 8, 7].into_iter().map(HoleValue::Strokes).collect();
    assert_eq!(values(&*game, &card), strokes);
    let cards = [card];
    assert_eq!((0..4).map(|at| game.hole(&cards, 0, at).gross.unwrap()).sum::<i32>(), 31);
    // C: the limit first, then the strokes received.
    let card = side("4 4 5", "1 2 0", "9 9 9");
    for (limit, expected) in [
        ("8", [7, 6, 8]),
        ("par + 3", [6, 5, 8]),
        ("twice par", [7, 6, 9]),
        ("net double bogey", [6, 6, 7]),
        ("7,8,9", [6, 6, 9]),
    ] {
        let strokes: Vec<HoleValue> = expected.into_iter().map(HoleValue::Strokes).collect();
        assert_eq!(values(&*play("maximum", maximum(limit, 3)), &card), strokes, "{limit}");
    }
    assert_eq!(format(Play::individual(Scoring::Maximum), Terms::net(18)).err(), Some(TermsError::NoMaximum));
    for text in ["", "0", "par", "par + x", "99", "8,9,", "triple bogey"] {
        assert!(MaximumScore::parse(text).is_err(), "{text}");
    }
    for text in ["8", "par + 5", "twice par", "net double bogey", "7,8,9"] {
        assert_eq!(MaximumScore::parse(text).unwrap().to_string(), text);
    }
}

#[test]
fn maximum_score_state() {
    let game = play("maximum", maximum("8", 3));
    let card = [side("4 4 4", "0 0 0", "5 x _")];
    assert_eq!(game.words(&card, 0, 3), "net 5 over par after 2");
    assert_eq!(game.possible(&card, 0), "from net 14 to net 21 is possible");
    assert_eq!(game.chase(&card, 0, 17).unwrap(), "needs 4 or better on the last hole for net 17");
    assert_eq!(game.chase(&card, 0, 21).unwrap(), "has net 21");
}

#[test]
fn par_bogey() {
    // C from S 21.3: target 4, none/3/4/5; gross 5 with a stroke ties.
    let game = play("par-bogey", Terms::net(5));
    let card = side("4 4 4 4 4", "0 0 0 0 1", "x 3 4 5 5");
    assert_eq!(
        values(&*game, &card),
        [HoleValue::Lost, HoleValue::Won, HoleValue::Tied, HoleValue::Lost, HoleValue::Tied]
    );
    assert_eq!(game.words(std::slice::from_ref(&card), 0, 5), "1 down on the card");
    assert_eq!(game.words(std::slice::from_ref(&card), 0, 2), "level after 2");
    // C: any score that loses the hole loses it alike (S 21.3b exception).
    let worse = side("4 4 4 4 4", "0 0 0 0 1", "9 3 4 8 5");
    assert_eq!(values(&*game, &worse), values(&*game, &card));
    let open = [side("4 4 4 4 4", "0 0 0 0 1", "3 3 _ _ _")];
    assert_eq!(game.chase(&open, 0, 3).unwrap(), "needs 1 up on the last three for 3 up");
    assert_eq!(game.chase(&open, 0, 1).unwrap(), "needs 1 down on the last three for 1 up");
    assert_eq!(game.possible(&open, 0), "from 1 down to 5 up is possible");
}

#[test]
fn stroke_play() {
    let net = play("stroke", Terms::net(3));
    let gross = play("stroke", Terms::gross(3));
    let card = [side("4 3 5", "1 0 1", "5 3 6")];
    assert_eq!(net.words(&card, 0, 3), "net 12, level with par");
    assert_eq!(gross.words(&card, 0, 3), "gross 14, 2 over par");
    assert_eq!(gross.words(&card, 0, 1), "gross 1 over par after 1");
    assert_eq!(net.chase(&card, 0, 11).unwrap(), "missed net 11 by 1");
    let open = [side("4 3 5", "1 0 1", "5 _ _")];
    assert_eq!(net.chase(&open, 0, 12).unwrap(), "needs 8 or better on the last two for net 12");
    assert_eq!(net.possible(&open, 0), "no better than net 5 is possible");
    // S Rule 3.3c: a hole not holed out leaves no total.
    let picked_up = [side("4 3 5", "1 0 1", "5 x 6")];
    assert_eq!(net.words(&picked_up, 0, 3), "no total: hole 2 was not holed out");
    assert_eq!(net.standing(&picked_up, 0, 3).figure, None);
    assert_eq!(values(&*net, &picked_up[0])[1], HoleValue::NoScore);
}

#[test]
fn four_ball() {
    let game = play("four-ball stroke", Terms::net(1));
    let hole = |a: (&str, &str), b: (&str, &str)| {
        let pair = sides_of(vec![ball("4", a.0, a.1), ball("4", b.0, b.1)]);
        game.hole(&[pair], 0, 0)
    };
    // C from S 23: A 5 with a stroke, B 4 without.
    assert_eq!(hole(("1", "5"), ("0", "4")).value, HoleValue::Strokes(4));
    // C: A picked up, B 6 with a stroke.
    assert_eq!(hole(("0", "x"), ("1", "6")).value, HoleValue::Strokes(5));
    // S 23.2a: neither holed out.
    assert_eq!(hole(("0", "x"), ("1", "x")).value, HoleValue::NoScore);
    // S Clarification 23.2b/1: both made 4, B had a stroke, the card has 4 for A only: A's score counts.
    let card = hole(("0", "4"), ("1", "_"));
    assert_eq!((card.value, card.counts(0), card.counts(1), card.gross), (HoleValue::Strokes(4), true, false, Some(4)));
    // With both written B's net 3 counts, and the gross of B.
    let card = hole(("0", "4"), ("1", "4"));
    assert_eq!((card.value, card.counts(1), card.gross), (HoleValue::Strokes(3), true, Some(4)));
    // The better points and the better result count likewise.
    let pair = [sides_of(vec![ball("4 4", "0 1", "4 x"), ball("4 4", "1 0", "4 5")])];
    assert_eq!(play("four-ball stableford", Terms::net(2)).words(&pair, 0, 2), "4 points");
    assert_eq!(play("four-ball par-bogey", Terms::net(2)).words(&pair, 0, 2), "level on the card");
}

#[test]
fn one_ball_and_several() {
    // S 22.3 (M wording): tee shots alternate by holes played; C: 1 0 1 … from the second partner is the other way round.
    let foursomes = play("foursomes", Terms::net(2));
    assert_eq!((0..3).map(|at| foursomes.on_the_tee(at)).collect::<Vec<_>>(), [Some(0), Some(1), Some(0)]);
    for name in ["foursomes", "greensomes", "chapman", "scramble 4"] {
        let game = play(name, Terms::net(2));
        let card = [side("4 5", "1 0", "5 5")];
        assert_eq!(game.check(&card), Ok(()));
        assert_eq!(game.words(&card, 0, 2), "net 9, level with par", "{name}");
    }
    // C: best n of four.
    let four = || vec![ball("4", "0", "5"), ball("4", "1", "5"), ball("4", "0", "x"), ball("4", "2", "7")];
    for (count, value, counted) in [
        (1, HoleValue::Strokes(4), 0b0010),
        (2, HoleValue::Strokes(9), 0b0011),
        (3, HoleValue::Strokes(14), 0b1011),
        (4, HoleValue::NoScore, 0),
    ] {
        let game = play(&format!("best {count} of 4"), Terms::net(1));
        let result = game.hole(&[sides_of(four())], 0, 0);
        assert_eq!((result.value, result.counted), (value, counted), "{count}");
    }
    let points = play("best 2 of 4 stableford", Terms::net(1));
    assert_eq!(points.words(&[sides_of(four())], 0, 1), "3 points");
    assert_eq!(points.standing(&[sides_of(four())], 0, 1).against, -1);
    let all = play("best 4 of 4 stableford", Terms::net(1));
    assert_eq!(all.words(&[sides_of(four())], 0, 1), "4 points");
    // C: total of two.
    let pair = [sides_of(vec![ball("4", "0", "5"), ball("4", "1", "5")])];
    assert_eq!(play("total of 2", Terms::net(1)).words(&pair, 0, 1), "net 9, 1 over par");
}

#[test]
fn every_format_says_what_it_needs() {
    for each in Play::all() {
        let game = format(each, maximum("net double bogey", 18)).unwrap();
        assert!(!game.needs().is_empty() && !game.empty_hole().is_empty() && !game.ends().is_empty());
        let compared = game.compares();
        assert!(compared.contains("net") || compared.contains("received"), "{each}: {compared}");
        let gross = format(each, Terms { count: marram::scoring::Count::Gross, ..maximum("8", 18) }).unwrap();
        assert!(gross.compares().contains("gross"), "{each}: {}", gross.compares());
    }
}

#[test]
fn a_card_that_does_not_fit() {
    let game = play("four-ball match", Terms::net(1));
    let pair = sides_of(vec![ball("4", "0", "5"), ball("4", "0", "5")]);
    assert_eq!(game.check(&[pair.clone(), pair.clone()]), Ok(()));
    assert!(matches!(game.check(std::slice::from_ref(&pair)), Err(CardError::Sides { wanted: 2, found: 1, .. })));
    let alone = side("4", "0", "5");
    assert!(matches!(game.check(&[pair.clone(), alone]), Err(CardError::Balls { side: 2, wanted: 2, found: 1, .. })));
    let longer = play("four-ball stroke", Terms::net(2));
    assert!(matches!(longer.check(&[pair]), Err(CardError::Holes { wanted: 2, found: 1, .. })));
}

proptest! {
    /// Nine and nine make eighteen, in every format that adds up.
    #[test]
    fn nine_and_nine_make_eighteen(gross in prop::collection::vec(1_u8..12, 18), playing in -5_i32..50) {
        let index = marram::handicap::StrokeIndexes::new(&[5, 13, 1, 11, 17, 3, 15, 7, 9, 6, 14, 2, 12, 18, 4, 16, 8, 10]).unwrap();
        let strokes = marram::handicap::strokes_by_hole(playing, &index);
        let card = super::card::from_parts(&[4; 18], &strokes, &gross);
        let front = super::card::from_parts(&[4; 9], &strokes[..9], &gross[..9]);
        let back = super::card::from_parts(&[4; 9], &strokes[9..], &gross[9..]);
        for name in ["stroke", "stableford", "par-bogey", "maximum"] {
            let of = |side: &Side, holes| {
                play(name, maximum("8", holes)).standing(std::slice::from_ref(side), 0, holes).figure.unwrap()
            };
            prop_assert_eq!(of(&front, 9) + of(&back, 9), of(&card, 18));
        }
    }

    /// What is possible holds the figure that comes about, and every point is accounted for.
    #[test]
    fn the_end_lies_within_what_was_possible(gross in prop::collection::vec(1_u8..9, 18), after in 0_usize..18) {
        let card = [super::card::from_parts(&[4; 18], &[1; 18], &gross)];
        for name in ["stroke", "stableford", "par-bogey", "maximum"] {
            let game = play(name, maximum("8", 18));
            let (now, end) = (game.standing(&card, 0, after), game.standing(&card, 0, 18));
            let figure = end.figure.unwrap();
            prop_assert!(now.least.is_none_or(|least| least <= figure));
            prop_assert!(now.most.is_none_or(|most| figure <= most));
            prop_assert_eq!((end.least, end.most, end.left), (Some(figure), Some(figure), 0));
            prop_assert_eq!(now.left, 18 - after);
        }
        let points: i32 = gross.iter().map(|g| stableford_points(4, 1, Some(i32::from(*g)))).sum();
        prop_assert_eq!(play("stableford", Terms::net(18)).standing(&card, 0, 18).figure, Some(points));
    }
}
