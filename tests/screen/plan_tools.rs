//! The solved hole on the Hole page: the plan from any stand, the tables, the map, commit first, pins, and what Rule 4.3a forbids.

use marram::plan::{COMMIT_FORMAT, MissSide};
use marram::round::{Event, Kind, RoundId, RoundState};
use marram::session::RoundWish;
use marram::tui::ask::{Answer, AskKey};
use marram::tui::story::{STORY_DAY, Story};
use marram::tui::update::{Effect, Msg, update};

/// The fourth of the example, planned.
fn saltpan() -> Story {
    let mut story = Story::example(120, 44);
    story.keys(", , ,").settle();
    story
}

#[test]
fn the_plan_follows_the_stand_and_never_blocks_a_key() {
    let mut story = saltpan();
    let tee = story.state.derived.answered.stand_plan().unwrap().clone();
    assert_eq!(tee.shot, 1);
    assert!(story.said().contains("Plan  for fewest strokes"), "{}", story.said());
    story.keys("w w w w");
    let asked = story.effects.iter().filter(|e| matches!(e, Effect::Ask(..))).count();
    assert!(asked >= 1, "asked behind the screen");
    assert!(story.said().contains("From here being worked out"), "{}", story.said());
    assert!(story.state.derived.answered.tint.is_none(), "no pattern of another place is drawn");
    story.settle();
    let here = story.state.derived.answered.stand_plan().unwrap().clone();
    assert!(here.shot >= 2 && here.to_come < tee.to_come, "{here:?}");
    let said = story.said();
    assert!(said.contains("From here  as shot 2") && said.contains("to come, net par"), "{said}");
    // Back at the tee its answer is still at hand.
    story.keys("t");
    assert_eq!(story.state.derived.answered.stand_plan(), Some(&tee));
    assert!(story.said().contains("Plan  for fewest strokes"));
}

#[test]
fn a_newer_stand_replaces_one_that_waits_and_a_late_answer_is_never_shown_elsewhere() {
    let mut story = saltpan();
    story.keys("w Right");
    let asks: Vec<AskKey> = story
        .effects
        .iter()
        .filter_map(|e| if let Effect::Ask(key, _) = e { Some((**key).clone()) } else { None })
        .collect();
    let last = story.state.answers.asked.clone().unwrap();
    assert_eq!(Some(&last), asks.last(), "the newest is the one in work");
    let first = asks.first().cloned().unwrap();
    assert_ne!(first, last);
    // The answer to the older one arrives first: it is kept, and not shown here.
    let plan = match &*story.state.derived.answered.stand.clone().unwrap_or_else(|| {
        let key = AskKey::Stand(story.state.derived.plan_key.clone().unwrap(), None);
        story.state.answers.get(&key).unwrap().clone().unwrap()
    }) {
        Answer::Stand(plan) => plan.clone(),
        other => panic!("{other:?}"),
    };
    update(&mut story.state, Msg::Answered(Box::new(first), Ok(Box::new(Answer::Stand(plan)))));
    assert!(story.state.derived.answered.stand_plan().is_none());
    assert!(story.said().contains("being worked out"), "{}", story.said());
    // A question whose work broke off is not asked for ever.
    update(&mut story.state, Msg::AnswerLost("it broke off".to_owned()));
    assert!(story.said().contains("No plan from here: it broke off"), "{}", story.said());
}

#[test]
fn every_place_has_an_answer_on_the_green_in_the_creek_and_out_of_bounds() {
    let mut story = saltpan();
    let length = story.state.current_hole().unwrap().ground.length.0;
    story.state.hole.stand = Some((marram::units::Along(length), marram::units::Across(0.0)));
    story.keys("o u o u").settle();
    assert!(story.said().contains("On the green: the putter"), "{}", story.said());
    for across in [-150.0, -60.0, 20.0, 40.0, 60.0, 150.0] {
        story.state.hole.stand = Some((marram::units::Along(120.0), marram::units::Across(across)));
        story.keys("o u o u").settle();
        let said = story.said();
        assert!(said.contains("From here  as shot"), "{across}: {said}");
    }
}

#[test]
fn the_table_of_every_club_is_ordered_and_its_differences_are_from_the_best() {
    let mut story = saltpan();
    story.keys("m c");
    let said = story.said();
    assert!(said.contains("Every club  as shot 1"), "{said}");
    assert!(said.contains("driver") && said.contains("sand wedge"), "{said}");
    let plan = story.state.derived.answered.stand_plan().unwrap();
    assert!(plan.clubs.windows(2).all(|w| w[0].total > w[1].total), "longest first");
    let least = plan.clubs.iter().map(|c| c.worse).fold(f64::INFINITY, f64::min);
    assert!(least < 0.031, "some club is within the tie of the best: {least}");
    for club in &plan.clubs {
        let weight: f64 = club.spots.iter().map(|s| s.1).sum();
        assert!((weight - 1.0).abs() < 1e-6, "{}: {weight}", club.shot.club);
        let found: f64 = club.dangers.iter().map(|d| d.1).sum::<f64>() + club.out;
        assert!(found <= 1.0 + 1e-9 && club.worse >= 0.0);
        // Strokes to come and the difference tell one story: what is worse by half a stroke takes half a stroke more.
        let best = &plan.clubs[plan.best];
        assert!((club.strokes - best.strokes - (club.worse - best.worse)).abs() < 0.03, "{}", club.shot.club);
    }
    story.keys("Esc");
    assert!(story.state.hole.panel.is_none() && story.said().contains("Plan  for"));
}

#[test]
fn the_club_looked_at_is_tinted_over_the_ribbon_and_pinned_beside_the_plan() {
    let mut story = saltpan();
    let best = story.state.derived.answered.tint.clone().unwrap();
    story.keys("] ]");
    let club = story.state.derived.answered.club().unwrap().clone();
    let other = story.state.derived.answered.tint.clone().unwrap();
    assert_ne!(best, other, "another club lies elsewhere");
    assert!(story.said().contains(&club.shot.club), "{}", story.said());
    story.keys("m p");
    let kept = story.effects.iter().filter(|e| matches!(e, Effect::KeepPins(_))).count();
    assert_eq!(kept, 1, "written once");
    story.settle();
    let said = story.said();
    let line = said.lines().find(|l| l.contains("pinned")).unwrap().to_owned();
    assert!(line.contains(&club.shot.club) && line.contains("costs"), "{line}");
    // It stands there for this tee and stand only, and survives a look at other holes.
    story.keys(",").settle();
    assert!(!story.said().contains("▪ pinned"));
    story.keys("; w").settle();
    assert!(!story.said().contains("▪ pinned"), "not from another stand");
    story.keys("t");
    assert!(story.said().contains("▪ pinned"), "{}", story.said());
    story.keys("Esc ] ] m p");
    assert!(story.said().contains("No longer pinned"), "{}", story.said());
    assert!(story.state.pins.pins.is_empty());
}

#[test]
fn formats_stand_side_by_side_and_what_if_says_what_is_saved() {
    let mut story = saltpan();
    story.keys("m f");
    assert!(story.said().contains("being worked out"));
    story.settle();
    let said = story.said();
    for format in ["for fewest strokes", "for most points", "for net par or better", "for par/bogey", "to win the hole"]
    {
        assert!(said.contains(format), "{format}: {said}");
    }
    story.keys("m w").settle();
    let said = story.said();
    for change in ["as it is", "longest club 15 longer", "no miss to the left", "a scratch player", "from the "] {
        assert!(said.contains(change), "{change}: {said}");
    }
    let key = story.state.derived.plan_key.clone().unwrap();
    let answer = story.state.answers.get(&AskKey::WhatIf(key)).unwrap().clone().unwrap();
    let Answer::WhatIf(rows) = &*answer else { panic!("{answer:?}") };
    assert!(rows[0].saves.abs() < 1e-12);
    assert!(rows[1].saves > -0.02, "a longer driver never costs: {rows:?}");
    assert!(rows[2].saves > 0.0, "a narrower pattern saves: {rows:?}");
    assert!(rows[3].saves > 0.3, "a scratch player saves much: {rows:?}");
    story.keys("Esc");
    assert!(story.state.hole.panel.is_none());
}

#[test]
fn the_map_shows_what_a_place_costs_in_tenths() {
    let mut story = saltpan();
    story.keys("m m").settle();
    let map = story.state.derived.answered.map.clone().unwrap();
    let drawing = story.state.derived.drawing.clone().unwrap();
    let losses: Vec<f64> = (0..drawing.ribbon.columns())
        .flat_map(|c| (0..drawing.ribbon.half_rows()).map(move |h| (c, h)))
        .filter_map(|(c, h)| map.loss(c, h))
        .collect();
    assert!(losses.iter().all(|l| *l >= 0.0) && losses.iter().any(|l| *l > 0.3));
    assert!(story.said().contains("tenths of a stroke worse"), "{}", story.said());
    story.keys("Esc");
    assert!(!story.state.hole.map);
}

#[test]
fn commit_first_hides_the_plan_until_the_mark_is_made_and_keeps_it() {
    let mut story = saltpan();
    story.keys("m k");
    let said = story.said();
    assert!(said.contains("mark your play") && !said.contains(", net par"), "{said}");
    assert!(story.state.derived.answered.tint.is_none(), "the pattern would give it away");
    assert!(!said.contains("part swing"));
    story.keys("Down Left Left Left Tab");
    let commit = story.state.commit().unwrap();
    assert_eq!((commit.club, commit.right, commit.side), (1, -6.0, MissSide::Left));
    story.keys("Enter").settle();
    let judged = story.state.judged().unwrap().clone();
    assert!(judged.price > 0.0 && judged.marked.club == "3 wood", "{judged:?}");
    let said = story.said();
    assert!(said.contains("the plan") && said.contains("yours"), "{said}");
    let kept: Vec<_> =
        story.effects.iter().filter_map(|e| if let Effect::KeepCommitment(c) = e { Some(c) } else { None }).collect();
    assert_eq!(kept.len(), 1, "kept once");
    assert_eq!((kept[0].format.as_str(), kept[0].hole, kept[0].from), (COMMIT_FORMAT, 4, None));
    assert_eq!(kept[0].judged, judged);
    let line = serde_json::to_string(&**kept[0]).unwrap();
    // Figures come back to the last digit but one.
    let back = serde_json::from_str::<marram::plan::Commitment>(&line).unwrap();
    assert_eq!((&back.player, back.hole, &back.judged.best.words), (&kept[0].player, 4, &judged.best.words));
    assert_eq!((back.judged.side, back.judged.worse), (judged.side, judged.worse));
    assert!((back.judged.price - judged.price).abs() < 1e-12);
    story.keys("Up");
    assert!(story.said().contains("That is committed"), "{}", story.said());
    story.keys("Enter");
    assert!(story.state.commit().is_none());
}

/// A round of a kind on the example, in play: its first score is entered.
fn in_play(kind: Kind) -> Story {
    let mut story = Story::example(120, 44);
    let mut session = story.state.session.clone();
    let wish = RoundWish { kind: Some(kind), ..RoundWish::default() };
    let id = RoundId::next(STORY_DAY, "corvane", |_| false);
    let opening = session.opening(id, STORY_DAY, &wish).unwrap().opening;
    session.round = Some(RoundState::open(opening).unwrap());
    session.refresh();
    update(&mut story.state, Msg::Begun(Box::new(session)));
    story.keys("5 , ,").settle();
    story
}

#[test]
fn in_a_round_under_the_rules_all_of_it_is_out_of_reach_with_the_reason() {
    for kind in [Kind::Competition, Kind::ForHandicap] {
        let mut story = in_play(kind);
        for keys in ["m c", "m m", "m f", "m w", "m k", "m p", "[", "]"] {
            story.keys(keys);
            let said = story.said();
            assert!(said.contains("Rule 4.3a"), "{kind:?} {keys}: {said}");
        }
        assert!(story.state.hole.panel.is_none() && !story.state.hole.map && story.state.commit().is_none());
        story.keys("w w").settle();
        assert!(story.state.derived.answered.stand_plan().is_none(), "no advice from the stand");
        assert!(story.state.derived.answered.tint.is_none());
        assert!(!story.effects.iter().any(|e| matches!(e, Effect::Ask(..))), "nothing is even asked");
        // A table that was open when the round began shows nothing either.
        story.state.hole.panel = Some(marram::tui::state::Panel::Clubs);
        story.state.hole.map = true;
        story.keys("a").settle();
        assert!(story.said().contains("Rule 4.3a") && !story.said().contains("sand wedge"), "{}", story.said());
        assert!(story.state.derived.answered.map.is_none());
    }
    let mut story = in_play(Kind::Practice);
    story.keys("m c");
    assert!(story.said().contains("Every club"), "practice is free: {}", story.said());
}

#[test]
fn the_local_rule_takes_the_distances_from_the_stand_and_gives_them_back() {
    let mut story = in_play(Kind::Competition);
    assert!(story.said().contains("green   front"), "{}", story.said());
    story.keys("m l");
    let said = story.said();
    assert!(said.contains("Model Local Rule G-5") && !said.contains("green   front"), "{said}");
    assert!(story.effects.iter().any(|e| *e == Effect::Append(Event::NoDistanceDevices(true))), "it is in the log");
    story.keys("m l");
    assert!(story.said().contains("green   front"), "{}", story.said());
    let mut story = Story::example(120, 36);
    story.keys("m l");
    assert!(story.said().contains("No round is open"), "{}", story.said());
}

#[test]
fn strokes_along_the_hole_stand_under_the_distances() {
    let story = saltpan();
    let plan = story.state.derived.plan.clone().unwrap();
    assert!(plan.along.len() > 40);
    assert!(plan.along.first().unwrap().strokes > plan.along.last().unwrap().strokes + 2.0);
    assert!(story.screen().contains("strokes to come"), "{}", story.screen());
}

#[test]
fn the_written_aim_is_shown_with_its_price_where_it_differs_and_not_where_it_agrees() {
    let mut story = Story::example(120, 44);
    let (mut shown, mut silent) = (0, 0);
    for _ in 0..9 {
        story.settle();
        let plan = story.state.derived.plan.clone().unwrap();
        match &plan.professional {
            Some(aim) => {
                shown += 1;
                assert!(aim.costs > 0.05);
                assert!(story.said().contains("◇ written"), "{}", story.said());
                assert!(story.said().contains("● "), "the plan's own stands beside it");
            }
            None => {
                silent += 1;
                assert!(!story.said().contains("◇ written"));
            }
        }
        story.keys(",");
    }
    assert!(shown > 0 && silent > 0, "{shown} shown, {silent} silent");
}
