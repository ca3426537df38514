//! How long a plan takes: `cargo bench --bench plan`.
//!
//! The hole on screen, the plan from another stand on a solved hole, the map, prices with switch lines, formats side by side, and a whole
//! course as `marram plan` works it out.

#![allow(clippy::unwrap_used, clippy::expect_used)]

use divan::Bencher;
use marram::ground::Point;
use marram::plan::{Question, SolvedHole, compare, price, what_if};
use marram::shelf;
use marram::strategy::Fineness;
use marram::units::{Across, Along};
use rayon::prelude::*;
use std::sync::atomic::AtomicBool;

static GO: AtomicBool = AtomicBool::new(false);

fn main() {
    divan::main();
}

/// The holes of the example for its player.
fn questions() -> Vec<Question> {
    let session = shelf::example("2026-05-16");
    let units = session.golfers.first().unwrap().units;
    (0..session.order.len()).filter_map(|at| session.question(at, 0, None, session.aimed(), units)).collect()
}

fn saltpan() -> Question {
    questions().swap_remove(3)
}

fn solved() -> SolvedHole {
    SolvedHole::new(&saltpan(), Fineness::USUAL, &GO).unwrap()
}

/// The hole shown: solved and explained, without prices.
#[divan::bench]
fn one_hole(bencher: Bencher) {
    let question = saltpan();
    bencher.bench(|| SolvedHole::new(&question, Fineness::USUAL, &GO).unwrap().plan());
}

/// The plan from another stand with every club, its dangers and its pattern.
#[divan::bench]
fn from_another_stand(bencher: Bencher) {
    let hole = solved();
    bencher.bench_local(|| hole.from_stand(Some((Along(210.0), Across(6.0)))));
}

/// The value of as many places as a drawing of 120 columns has half-cells.
#[divan::bench]
fn map_of_a_drawing(bencher: Bencher) {
    let hole = solved();
    let points: Vec<Point> =
        (0..2880).map(|i| Point { right: f64::from(i / 120) * 4.0 - 48.0, ahead: f64::from(i % 120) * 4.0 }).collect();
    bencher.bench_local(|| hole.values(&points));
}

/// Prices of every danger, and the switch lines.
#[divan::bench(sample_count = 10)]
fn prices_and_switch_lines(bencher: Bencher) {
    let question = saltpan();
    let plan = solved().plan();
    bencher.bench_local(|| {
        let mut plan = plan.clone();
        price(&question, &mut plan, &GO).unwrap();
        plan
    });
}

#[divan::bench(sample_count = 10)]
fn formats_side_by_side(bencher: Bencher) {
    let question = saltpan();
    bencher.bench_local(|| compare(&question, &GO).unwrap());
}

#[divan::bench(sample_count = 10)]
fn every_what_if(bencher: Bencher) {
    let question = saltpan();
    bencher.bench_local(|| what_if(&question, &GO).unwrap());
}

/// Eighteen holes with prices and switch lines, as `marram plan` does.
#[divan::bench(sample_count = 3, sample_size = 1)]
fn a_course(bencher: Bencher) {
    let questions = questions();
    bencher.bench_local(|| {
        let plan = |question: &Question| {
            let mut plan = SolvedHole::new(question, Fineness::USUAL, &GO).unwrap().plan();
            price(question, &mut plan, &GO).unwrap();
            plan
        };
        questions.par_iter().map(plan).collect::<Vec<_>>()
    });
}
