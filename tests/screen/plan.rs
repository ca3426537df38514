//! The plan on the Hole page.

use marram::tui::story::Story;
use marram::tui::update::{Effect, Msg, update};

#[test]
fn the_plan_is_asked_for_behind_the_screen_and_then_shown_with_its_prices() {
    let mut story = Story::example(120, 44);
    story.keys(", , ,");
    assert!(story.effects.iter().any(|e| matches!(e, Effect::Plan(..))), "no key waits for a plan");
    assert!(story.said().contains("being worked out"), "{}", story.said());
    story.settle();
    let said = story.said();
    assert!(said.contains("Plan  for fewest strokes"), "{said}");
    assert!(said.contains("the mast"), "the line is spoken by a landmark: {said}");
    assert!(said.contains("net par"), "{said}");
    assert!(said.contains("cost"), "{said}");
    let plan = story.state.derived.plan.clone().unwrap();
    let sum: f64 = plan.chances().iter().sum();
    assert!((sum - 1.0).abs() < 1e-6, "{sum}");
    let play = &plan.plays[0];
    let mean: f64 = play.chances.iter().enumerate().map(|(n, p)| n as f64 * p).sum();
    assert!((mean - play.expected_strokes).abs() < 0.01);
    assert!(plan.prices.windows(2).all(|w| w[0].strokes >= w[1].strokes), "dearest first");
    assert!(plan.prices.iter().all(|p| p.strokes >= 0.0 && (0.0..=1.0).contains(&p.chance)));
}

#[test]
fn a_plan_once_made_is_kept_and_a_stale_one_never_shown_on_another_hole() {
    let mut story = Story::example(120, 36);
    story.settle();
    let first = story.state.derived.plan.clone().unwrap();
    story.keys(",");
    let question =
        story.effects.iter().find_map(|e| if let Effect::Plan(k, _) = e { Some(k.clone()) } else { None }).unwrap();
    // The answer for hole 1 arrives once more while hole 2 is on screen.
    let (key, _) = {
        story.keys(";");
        story.state.plan_question().unwrap()
    };
    story.keys(",");
    update(&mut story.state, Msg::Planned(Box::new(key), Ok(Box::new((*first).clone()))));
    assert_eq!(story.state.derived.plan, None, "hole 2 has no plan yet");
    assert_eq!(question.hole, 2);
    story.keys(";");
    assert!(story.state.derived.plan.is_some(), "hole 1 has its own at once");
}
