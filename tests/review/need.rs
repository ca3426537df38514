//! The chance of a target against rounds that are played out.

use marram::review::chance::Dice;
use marram::review::simulate::{AsPlanned, play_hole};
use marram::review::stage::{REVIEWED, Stage};
use marram::review::target::{Target, needed, ways};
use marram::strategy::{Kit, Worth};
use rayon::prelude::*;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

/// The ordinary plan all the way: the chance worked out and 2,000 rounds played out agree within three standard errors and a point
/// of per cent for the points of the clouds.
#[test]
fn played_rounds_agree_with_the_chance() {
    let session = marram::shelf::example("2026-05-16");
    let never = AtomicBool::new(false);
    let person = &session.people[0];
    let kit = Arc::new(Kit::new(marram::pattern::Pattern::of(&person.bag, &person.skill()), REVIEWED));
    const ROUNDS: usize = 2000;
    let holes: Vec<_> = (0..session.order.len())
        .into_par_iter()
        .map(|position| {
            let units = session.golfers[0].units;
            let question = session.question(position, 0, None, marram::plan::Aimed::Strokes, units).unwrap();
            let stage = Stage::new(question, kit.clone()).unwrap();
            let received = session.golfers[0].strokes[position];
            let mut hole = ways(&stage, received, &never).unwrap();
            hole.ways.truncate(1);
            let played: Vec<i32> = stage
                .solved(&Worth::Strokes, &never, |solution| {
                    let mut dice = Dice::new(position as u64 + 17);
                    (0..ROUNDS)
                        .map(|_| {
                            let score = play_hole(&stage, &solution, &mut AsPlanned, &mut dice).score;
                            i32::from(score.unwrap_or(15))
                        })
                        .collect()
                })
                .unwrap();
            (hole, played)
        })
        .collect();
    let to_come: Vec<_> = holes.iter().map(|h| h.0.clone()).collect();
    for points in [28, 32, 36] {
        let target = Target::Points(points);
        let said = needed(target, 0, &to_come).chance;
        let reached = (0..ROUNDS)
            .filter(|r| {
                let total: i32 = holes.iter().map(|(h, played)| target.count(h.par, h.received, played[*r])).sum();
                target.reached(total)
            })
            .count();
        let happened = reached as f64 / ROUNDS as f64;
        let error = (said * (1.0 - said) / ROUNDS as f64).sqrt();
        assert!(
            (said - happened).abs() < 3.0 * error + 0.02,
            "{points} points: said {said:.3}, happened {happened:.3}"
        );
    }
}

/// More choice never lowers a chance, and a higher target is never likelier.
#[test]
fn chances_fall_as_targets_rise() {
    let session = marram::shelf::example("2026-05-16");
    let never = AtomicBool::new(false);
    let mut last = 1.0;
    for points in [20, 30, 36, 45] {
        let found = marram::review::need(&session, 0, Target::Points(points), &never).unwrap();
        assert!(found.chance >= found.by_plan - 1e-9 && found.chance <= last + 1e-9, "{found:?}");
        last = found.chance;
    }
}
