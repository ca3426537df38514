//! How long the solver takes: `cargo bench --bench strategy`.
//!
//! One hole for strokes and for a table of values, the plan from another stand, prices of dangers, and the bare look-ups.

#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "../tests/holes/mod.rs"]
mod holes;

use divan::{Bencher, black_box};
use holes::{GO, Seven, with_hole};
use marram::course::Card;
use marram::ground::Point;
use marram::pattern::{Bag, Lie, Pattern, Skill};
use marram::strategy::{Fineness, Kit, Plain, solve};

fn main() {
    divan::main();
}

fn kit(index: f64) -> Kit {
    Kit::new(Pattern::of(&Bag::default(), &Skill::of_index(index, Card::Men)), Fineness::USUAL)
}

#[divan::bench]
fn kit_of_a_player(bencher: Bencher) {
    bencher.bench(|| kit(black_box(14.6)));
}

#[divan::bench]
fn plain_hole_strokes(bencher: Bencher) {
    let kit = kit(10.0);
    bencher.bench_local(|| {
        with_hole(&Plain { length: 400.0 }, &kit, 400.0, Fineness::USUAL, |hole| solve(hole, &GO).unwrap().values.len())
    });
}

#[divan::bench(args = [0.0, 10.0, 28.0])]
fn hazard_hole_strokes(bencher: Bencher, index: f64) {
    let kit = kit(index);
    bencher.bench_local(|| {
        with_hole(&Seven::PLAYED, &kit, 400.0, Fineness::USUAL, |hole| solve(hole, &GO).unwrap().values.len())
    });
}

#[divan::bench]
fn another_stand(bencher: Bencher) {
    let kit = kit(10.0);
    with_hole(&Seven::PLAYED, &kit, 400.0, Fineness::USUAL, |hole| {
        let solved = solve(hole, &GO).unwrap();
        bencher.bench_local(|| solved.plays(black_box(Point { right: 3.0, ahead: 210.0 }), Lie::Fairway));
    });
}
