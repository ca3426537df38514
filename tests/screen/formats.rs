//! The live card in the formats that add up: its words after every hole, who receives strokes where, what is compared.

use super::rounds::{CALLUM, INES, TAMSIN, WREN, play, round, session, story};
use marram::round::{Event, Kind, Opening, RoundId};
use marram::scoring::MaximumScore;
use marram::session::{AskedPlay, PlayWish, RoundWish};
use marram::tui::looks::{Depth, Looks};
use marram::tui::story::{STORY_DAY, Story};
use marram::tui::update::Effect;

/// The sizes of the stories: wide, usual, pocket.
const SIZES: [(u16, u16); 3] = [(120, 36), (80, 24), (60, 20)];

/// A round at every size and once without colour: on the Hole page's strip and on the Card page.
fn at_every_size(players: &[(&str, &str)], wish: &PlayWish, keys: &str, look: impl Fn(&str, &str, &str)) {
    for (width, height) in SIZES {
        for looks in [(Depth::True, false), (Depth::None, true)] {
            let mut story = story(players, wish.clone(), width, height);
            story.state.looks = Looks { depth: looks.0, ascii: looks.1, light: false };
            story.keys(keys);
            let strip = story.screen();
            story.keys("c");
            let card = story.screen();
            if looks.1 {
                assert!(card.is_ascii(), "{:?}", card.chars().find(|c| !c.is_ascii()));
                for cell in &story.buffer().content {
                    assert_eq!(cell.fg, ratatui::style::Color::Reset);
                }
            }
            let flat = card.split_whitespace().collect::<Vec<_>>().join(" ");
            look(&strip, &card, &flat);
        }
    }
}

/// A row of the screen that begins with `label`, blanks taken together.
fn row(screen: &str, label: &str, which: usize) -> String {
    let rows: Vec<&str> = screen.lines().filter(|l| l.trim_start().starts_with(label)).collect();
    rows[which].split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_four_ball_stableford() {
    // Off 85 %: Wren 19 -> 16, Tamsin 10 -> 9, Callum +1 -> +1, Ines 32 -> 27 (Appendix C 2024).
    let players = [(WREN, "Club"), (TAMSIN, "Forward"), (CALLUM, "Back"), (INES, "Forward")];
    let wish = PlayWish::usual(play("four-ball stableford"));
    let opening = round(&players, wish.clone()).round.unwrap().opening().clone();
    let off: Vec<Option<i32>> = opening.players.iter().map(|p| p.playing_handicap).collect();
    assert_eq!(off, [Some(16), Some(9), Some(-1), Some(27)]);
    assert_eq!(opening.terms.sides, [vec![0, 1], vec![2, 3]]);
    assert_eq!((opening.play.as_deref(), opening.allowance), (Some("four-ball stableford"), Some(85)));

    at_every_size(&players, &wish, "5 5 4 6 4 x 3 5 5 5 5 6", |strip, card, flat| {
        assert!(strip.contains(" & Tamsin") && strip.contains(": 7 points after 3, 1 more than two a hole"), "{strip}");
        assert!(flat.contains("four-ball stableford, 85 % allowance; compares points"), "{card}");
        assert!(card.contains("Wren Hallam & Tamsin Orr  7 points after 3"), "{card}");
        assert!(row(card, "gross", 0).starts_with("gross 5 4 5 _"), "{card}");
    });
    let mut story = story(&players, wish, 100, 60);
    story.keys("5 5 4 6 4 x 3 5 5 5 5 6 c");
    let said = story.said();
    // The better ball of each hole: 2, 2, 3; a ball given back to par is a hollow dot on stroke index 18.
    assert!(said.contains("side    2  2  3"), "{said}");
    assert!(said.contains('○'), "{said}");
    assert!(said.contains("Callum Reive & Ines Calder  7 points after 3"), "{said}");
}

#[test]
fn what_is_needed_is_said_on_the_last_holes() {
    let mut story = story(&[(WREN, "Club")], PlayWish::usual(play("stableford")), 120, 36);
    // Wren plays off 18 at 95 %: one stroke a hole, so one over par is two points.
    let pars = [4, 3, 5, 4, 4, 3, 4, 5, 4, 4, 4, 3, 5, 4, 4, 3];
    let keys: Vec<String> = pars.iter().map(|par| (par + 1).to_string()).collect();
    story.keys(&keys.join(" "));
    let words = "32 points after 16, two a hole; needs 4 points from the last two for 36";
    assert!(story.screen().contains(words), "{}", story.screen());
    story.keys("5 6 c");
    assert!(story.said().contains("Wren Hallam  36 points"), "{}", story.said());
}

#[test]
fn foursomes_have_one_box_a_side() {
    let players = [(WREN, "Club"), (TAMSIN, "Forward"), (CALLUM, "Back"), (INES, "Forward")];
    let wish = PlayWish::usual(play("foursomes"));
    let opening = round(&players, wish.clone()).round.unwrap().opening().clone();
    // Half of the partners' unrounded Course Handicaps, rounded once, and the most that a partner's tee adds (par 74 of 72).
    assert_eq!(opening.players[0].playing_handicap, opening.players[1].playing_handicap);
    assert_eq!(opening.holders(), [0, 2]);

    at_every_size(&players, &wish, "5 5 4 4 6 5", |strip, card, flat| {
        assert!(strip.contains("Wren Hallam & Tamsin Orr: net level with par after 3"), "{strip}");
        assert!(flat.contains("50 % of the partners' sum; compares net scores"), "{card}");
        assert!(card.contains("> Wren Hallam & Tamsin Orr"), "{card}");
        assert_eq!(card.lines().filter(|l| l.starts_with("gross")).count(), 2, "{card}");
    });

    // Six digits are three holes; the partner's key goes to the side's box, and the tee alternates by holes played.
    let mut story = story(&players, wish, 100, 40);
    story.keys("5 5 4 4 6 5 p");
    assert_eq!((story.state.position, story.state.player), (3, 1));
    story.keys("4");
    assert_eq!(story.state.session.scores(1)[3].gross(), Some(4));
    assert_eq!(story.state.player, 2, "then the other side");
    story.keys("c");
    assert!(story.said().contains("from this tee Tamsin Orr, if Wren Hallam began"), "{}", story.said());
    story.keys("5");
    assert!(story.said().contains("from this tee Wren Hallam, if Wren Hallam began"), "{}", story.said());
}

#[test]
fn maximum_score_counts_no_more_than_its_limit() {
    let wish = PlayWish { maximum: Some(MaximumScore::OverPar(2)), ..PlayWish::usual(play("maximum")) };
    at_every_size(&[(WREN, "Club")], &wish, "9 4 x 5", |strip, card, flat| {
        // Par 4 3 5 4 with a stroke each: 9 counts 6 - 1, 4 counts 4 - 1, x counts 7 - 1, 5 counts 5 - 1.
        assert!(strip.contains("net 2 over par after 4"), "{strip}");
        assert!(row(card, "counts", 0).starts_with("counts 5 3 6 4"), "{card}");
        assert!(card.contains("maximum par + 2"), "{card}");
        assert!(flat.contains("each hole limited to the maximum before"), "{card}");
    });
}

#[test]
fn par_bogey_is_won_and_lost_against_par() {
    at_every_size(
        &[(WREN, "Club"), (INES, "Forward")],
        &PlayWish::usual(play("par-bogey")),
        "5 9 3 5 7 5",
        |strip, card, flat| {
            assert!(strip.contains("Wren Hallam: level after 3"), "{strip}");
            assert!(row(card, "target ", 0).starts_with("target 0 + -"), "{card}");
            assert!(flat.contains("holes won less holes lost against the target, by net scores"), "{card}");
        },
    );
}

#[test]
fn stroke_play_keeps_net_and_gross_apart() {
    let players = [(WREN, "Club")];
    at_every_size(&players, &PlayWish::usual(play("stroke")), "5 4 4", |_, card, flat| {
        assert!(flat.contains("compares net scores"), "{card}");
        assert!(card.contains("\nnet ") && !card.contains("points"), "{card}");
    });
    let gross = PlayWish { gross: true, ..PlayWish::usual(play("stroke")) };
    at_every_size(&players, &gross, "5 4 4", |strip, card, flat| {
        assert!(strip.contains("gross 1 over par after 3"), "{strip}");
        assert!(flat.contains("compares gross scores") && flat.contains("no strokes received"), "{card}");
        assert!(!card.contains("\nnet ") && !card.contains("\nstroke ") && !card.contains("points"), "{card}");
    });
}

#[test]
fn a_hole_without_a_score_leaves_no_total_and_says_which() {
    let mut story = story(&[(WREN, "Club")], PlayWish::usual(play("stroke")), 120, 36);
    story.keys("5 x 5");
    assert!(story.screen().contains("no total: hole 2 was not holed out"), "{}", story.screen());
}

#[test]
fn penalty_strokes_are_noted_to_the_score_just_entered_by_one_key() {
    let mut story = story(&[(WREN, "Club")], PlayWish::usual(play("stableford")), 120, 36);
    story.keys("6 -");
    assert_eq!(story.state.position, 1, "the focus stays where the next score goes");
    assert!(story.screen().contains("Hole 1: one of the strokes is a penalty stroke."), "{}", story.screen());
    story.keys("- c");
    assert!(story.said().contains("hole 1: 2 penalty strokes"), "{}", story.said());
    assert!(story.said().contains("gross  6p  _"), "{}", story.said());
    story.keys("u");
    assert!(story.said().contains("hole 1: 1 penalty stroke"), "{}", story.said());
    assert!(story.said().contains("Undone: hole 1 has 6, penalty strokes 1 now"), "{}", story.said());
    // All of them but one, then none again; nothing can be noted to a box without a score.
    story.keys("- - - - -");
    assert!(!story.said().contains("penalty strokes,"), "{}", story.said());
    story.keys("Down");
    let mut empty = super::rounds::story(&[(WREN, "Club")], PlayWish::usual(play("stableford")), 120, 36);
    empty.keys("-");
    assert!(empty.screen().contains("enter the score first"), "{}", empty.screen());
}

#[test]
fn an_allowance_that_was_given_is_shown_as_such() {
    let allowance = marram::handicap::Percent::new(75).map(marram::handicap::Allowance::Each);
    let wish = PlayWish { allowance, ..PlayWish::usual(play("stableford")) };
    let mut story = story(&[(WREN, "Club")], wish, 120, 36);
    story.keys("c");
    assert!(story.said().contains("75 % allowance (set for this round; recommended 95 %)"), "{}", story.said());
    assert!(story.said().contains("plays off 14"), "{}", story.said());
}

#[test]
fn a_format_that_the_players_cannot_play_is_refused_with_the_reason() {
    let two = session(&[(WREN, "Club"), (INES, "Forward")]);
    let refused = |name: &str| two.arrange(&PlayWish::usual(play(name))).unwrap_err();
    assert!(refused("four-ball match").contains("between two sides of 2 players"), "{}", refused("four-ball match"));
    assert!(refused("best 2 of 4").contains("a side has 4 players"), "{}", refused("best 2 of 4"));
    let three = session(&[(WREN, "Club"), (INES, "Forward"), (CALLUM, "Back")]);
    assert!(three.arrange(&PlayWish::usual(play("match"))).is_err());
    assert!(three.arrange(&PlayWish::usual(play("scramble 3"))).is_ok());
    let nobody = "format: player/1\nname: Nobody Known\nhandicap: { ratings: men }\n";
    let without = session(&[(WREN, "Club"), (nobody, "Club")]);
    let why = without.arrange(&PlayWish::usual(play("match"))).unwrap_err();
    assert!(why.contains("Nobody Known has no Handicap Index"), "{why}");
    let gross = PlayWish { gross: true, ..PlayWish::usual(play("match")) };
    assert!(without.arrange(&gross).is_ok(), "gross needs no handicap");
}

#[test]
fn a_practice_round_without_a_format_is_a_plain_count_at_the_full_handicap() {
    let mut story = Story::of(session(&[(WREN, "Club")]), 120, 36);
    story.keys("5 4 c");
    let opening: &Opening = story.state.session.round.as_ref().unwrap().opening();
    assert_eq!((opening.play.clone(), opening.allowance, opening.kind), (None, None, Kind::Practice));
    assert_eq!(opening.players[0].playing_handicap, Some(19));
    assert!(story.said().contains("plays off 19") && story.said().contains("points"), "{}", story.said());
    assert!(!story.said().contains("compares"), "{}", story.said());
}

#[test]
fn a_day_sheet_says_the_format_and_the_kind_when_nothing_is_typed() {
    let mut load = marram::shelf::Load::new(STORY_DAY);
    load.course("corvane.yaml", include_str!("../../sample-courses/corvane.yaml").to_owned());
    load.player("players/wren.yaml", WREN.to_owned(), Some("Club"));
    load.day("days/today.yaml", include_str!("../../sample-courses/days/2026-05-16-corvane.yaml").to_owned());
    let session = load.finish(marram::session::Home::Files);
    assert_eq!(session.golfers[0].playing_handicap, 18, "shown before the round as the format will give it");
    let id = || RoundId::next(STORY_DAY, "Corvane", |_| false);
    let opened = session.opening(id(), STORY_DAY, &RoundWish::default()).unwrap().opening;
    assert_eq!((opened.play.as_deref(), opened.kind), (Some("stableford"), Kind::Competition));
    assert_eq!((opened.players[0].playing_handicap, opened.allowance), (Some(18), Some(95)));
    let wish = RoundWish { kind: Some(Kind::Practice), play: AskedPlay::Plain };
    let opened = session.opening(id(), STORY_DAY, &wish).unwrap().opening;
    assert_eq!((opened.play, opened.kind), (None, Kind::Practice));
    assert_eq!((opened.players[0].playing_handicap, opened.players[0].strokes.iter().sum::<i32>()), (Some(19), 19));
}

#[test]
fn each_entry_is_one_event_whatever_the_format() {
    let players = [(WREN, "Club"), (CALLUM, "Back")];
    let mut story = story(&players, PlayWish::usual(play("stableford")), 80, 24);
    story.keys("5 4 x . 6");
    let scores = story.effects.iter().filter(|e| matches!(e, Effect::Append(Event::Score { .. }))).count();
    assert_eq!(scores, 5);
    assert_eq!((story.state.position, story.state.player), (2, 1));
}

#[test]
fn a_day_sheet_takes_every_format_there_is() {
    for play in marram::handicap::Play::all() {
        let sheet = format!("format: day-sheet/1\ndate: 2026-05-16\ncourse: corvane.yaml\nplay: {play}\n");
        let (day, problems) = marram::course::read_day(&sheet, None);
        assert!(problems.is_empty(), "{play}: {problems:?}");
        assert_eq!(day.unwrap().play.map(|p| super::rounds::play(&p)), Some(play));
    }
}

#[test]
fn under_the_rules_card_totals_and_state_stay() {
    let mut session = round(&[(WREN, "Club")], PlayWish::usual(play("stableford")));
    let mut opening = session.round.as_ref().unwrap().opening().clone();
    opening.kind = Kind::Competition;
    session.round = Some(marram::round::RoundState::open(opening).unwrap());
    session.refresh();
    let mut story = Story::of(session, 120, 36);
    story.keys("5 4 6");
    assert!(story.screen().contains("6 points after 3, two a hole"), "{}", story.screen());
    story.keys("c");
    assert!(
        story.said().contains("Wren Hallam  6 points after 3") && story.said().contains("points  2  2  2"),
        "{}",
        story.said()
    );
}

#[test]
fn whatever_is_typed_in_any_format_the_log_tells_the_same_round_again() {
    const KEYS: [&str; 20] =
        ["1", "3", "4", "4", "5", "5", "6", "9", "+", "x", ".", "y", "-", "u", "U", ",", ";", "p", "Down", "Backspace"];
    let four = [(WREN, "Club"), (TAMSIN, "Forward"), (CALLUM, "Back"), (INES, "Forward")];
    let mut seed = 20_260_516_u64;
    let mut next = |below: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(seed >> 33).unwrap() % below
    };
    for play in marram::handicap::Play::all() {
        let players = match (play.players(), play.scoring) {
            (1, marram::handicap::Scoring::Match) => 2,
            (1 | 2, _) => 4,
            (n, marram::handicap::Scoring::Match) if n > 2 => continue,
            (n, _) => n,
        };
        let opened = round(&four[..players], PlayWish::usual(play));
        let mut again = opened.round.clone().unwrap();
        let mut story = Story::of(opened, 80, 24);
        story.keys("c");
        for _ in 0..160 {
            story.keys(KEYS[next(KEYS.len())]);
            story.buffer();
        }
        for effect in &story.effects {
            if let Effect::Append(event) = effect {
                again.apply(event).unwrap();
            }
        }
        assert_eq!(Some(&again), story.state.session.round.as_ref(), "{play}");
        assert!(story.state.derived.live.is_some(), "{play}");
    }
}
