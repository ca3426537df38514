//! The newcomer's scene on the example, key by key.

use marram::round::Event;
use marram::tui::story::Story;
use marram::tui::update::Effect;

#[test]
fn the_example_opens_on_the_first_tee_marked_as_an_example() {
    let story = Story::example(120, 36);
    let screen = story.screen();
    assert!(screen.starts_with(" 1 Open Gate"), "{screen}");
    assert!(screen.contains("example"));
    assert!(screen.contains("on the Club tee"));
    assert!(story.effects.is_empty(), "looking writes nothing");
}

#[test]
fn six_scores_one_changed_one_undone_and_the_round_stands_on_the_seventh_tee() {
    let mut story = Story::example(120, 36);
    story.keys("5 4 6 5 4 3");
    assert_eq!(story.state.position, 6, "the seventh tee");
    assert!(story.screen().starts_with(" 7 "));
    let appended = story.effects.iter().filter(|e| matches!(e, Effect::Append(Event::Score { .. }))).count();
    assert_eq!(appended, 6, "each score is written at its own key");
    assert_eq!(
        story.effects.iter().filter(|e| **e == Effect::KeepTexts).count(),
        1,
        "the texts are kept once, at the first score"
    );

    story.keys("; 4");
    assert_eq!(story.state.session.scores(0)[5].gross(), Some(4));
    story.keys("u");
    assert_eq!(story.state.session.scores(0)[5].gross(), Some(3));
    assert!(story.said().contains("Undone: hole 6 has 3 now"), "{}", story.said());
    story.keys("U");
    assert_eq!(story.state.session.scores(0)[5].gross(), Some(4));
    story.keys("c");
    assert!(story.said().contains("after 6 holes"), "{}", story.said());
    story.keys("? Esc q");
    assert!(story.effects.contains(&Effect::Quit));
}

#[test]
fn a_score_of_ten_is_nine_and_plus_and_zero_is_refused_with_the_cure() {
    let mut story = Story::example(80, 24);
    story.keys("9 +");
    assert_eq!(story.state.session.scores(0)[0].gross(), Some(10));
    assert_eq!(story.state.position, 1, "the focus has moved on");
    story.keys("0");
    assert!(story.screen().contains("for 10 press 9, then +"));
    story.keys("x .");
    let card = story.state.session.scores(0);
    assert_eq!((card[1].to_string(), card[2].to_string()), ("x".to_owned(), ".".to_owned()));
}

#[test]
fn strokes_points_and_totals_follow_the_card() {
    // Wren plays off 19 from the Club tees: hole 4 has stroke index 1, so two strokes; 5 there is net 3, three points.
    let mut story = Story::example(120, 36);
    story.keys(", , , 5");
    let card = &story.state.derived.cards[0];
    assert_eq!(card.lines[3].hole.strokes, 2);
    assert_eq!(card.lines[3].hole.points(), Some(3));
    assert_eq!(card.total().points, 3);
    assert!(story.screen().contains("one better than the handicap"), "{}", story.screen());
}

#[test]
fn the_stand_walks_and_everything_is_counted_from_the_players_own_tee() {
    let mut story = Story::example(120, 36);
    story.keys(", , ,");
    let on_tee = story.said();
    // Kettle lies 238 to 256 from the start of the line; the Club tee stands 27 along it.
    assert!(on_tee.contains("K Kettle"), "{on_tee}");
    assert!(
        on_tee.lines().any(|l| l.contains("Kettle") && l.contains("left") && l.contains("212") && l.contains("229")),
        "{on_tee}"
    );
    story.keys("Right Right");
    assert!(story.said().contains("10 from the tee, 3L of the line"), "{}", story.said());
    story.keys("Left Left");
    assert!(story.said().contains("0 from the tee"));
    story.keys("t");
    assert!(story.said().contains("on the Club tee"));
    story.keys("w");
    assert_ne!(story.state.hole.stand, None);
    story.keys("Esc");
    assert_eq!(story.state.hole.stand, None, "Esc peels the stand off");
}

#[test]
fn esc_on_the_bare_page_loses_nothing_and_q_leaves() {
    let mut story = Story::example(80, 24);
    story.keys("Esc Esc 4 Esc Esc");
    assert_eq!(story.state.session.scores(0)[0].gross(), Some(4));
    assert!(!story.effects.contains(&Effect::Quit));
}

#[test]
fn an_unknown_key_and_an_unfinished_sequence_are_answered() {
    let mut story = Story::example(80, 24);
    story.keys("z");
    assert!(story.screen().contains("z means nothing here"));
    story.keys("o");
    assert!(story.screen().contains("yards or metres"), "the continuations are shown: {}", story.screen());
    story.keys("u");
    assert!(story.screen().contains("m · par 4"), "{}", story.screen());
    story.keys("o z");
    assert!(story.screen().contains("o z means nothing here"));
}

#[test]
fn round_a_bend_both_distances_are_shown() {
    // Hole 3 of the example turns 15 degrees: 484 along the line from the Club tee, 480 straight; hole 11 and others turn more.
    let mut story = Story::example(120, 60);
    let mut shown = 0;
    for _ in 0..18 {
        let stand = story.state.derived.stand.clone().unwrap();
        let green = stand.green.unwrap();
        assert!(green.middle.straight <= green.middle.along + 0.5, "no way is shorter than the straight one");
        if green.middle.differs() {
            shown += 1;
            assert!(story.said().contains("along the line"), "{}", story.said());
        }
        story.keys(",");
    }
    assert!(shown > 0, "the example has a hole on which they differ");
}
