//! How long the solver takes: `cargo bench --bench strategy`.
//!
//! One hole for strokes and for a table of values, eighteen holes, the plan from another stand, chances, prices of dangers, and a bare
//! loop of look-ups to set beside them: what the memory of the machine allows.

#![allow(clippy::unwrap_used, clippy::expect_used)]

#[path = "../tests/holes/mod.rs"]
mod holes;

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use holes::{GO, Sample, Seven, sample, with_hole};
use marram::course::Card;
use marram::ground::Point;
use marram::pattern::{Bag, Lie, Pattern, Skill};
use marram::strategy::{Fineness, Kit, Lies, Plain, Stand, Table, Worth, prices, solve};
use rayon::prelude::*;

fn main() {
    divan::main();
}

fn kit_of(index: f64, fineness: Fineness) -> Kit {
    Kit::new(Pattern::of(&Bag::default(), &Skill::of_index(index, Card::Men)), fineness)
}

fn kit(index: f64) -> Kit {
    kit_of(index, Fineness::USUAL)
}

fn points() -> Worth {
    Worth::Table(Table::new((0..=7).map(|n| f64::from(7 - n)).collect()).unwrap())
}

/// The sample hole with the most pieces of ground.
fn richest() -> Sample {
    sample("ossenmoor.yaml", 0).into_iter().max_by_key(|s| s.ground.features.len()).unwrap()
}

/// Once a player, for all holes.
#[divan::bench]
fn kit_of_a_player(bencher: Bencher) {
    bencher.bench(|| kit(black_box(14.6)));
}

#[divan::bench]
fn plain_hole_strokes(bencher: Bencher) {
    let kit = kit(10.0);
    bencher.bench_local(|| {
        with_hole(&Plain { length: 400.0 }, &kit, 400.0, Fineness::USUAL, |h| solve(h, &Worth::Strokes, &GO).is_ok())
    });
}

/// The hole with hazards of the reference, total distances; then with carry and run apart.
#[divan::bench(args = [0.0, 10.0, 28.0])]
fn hazard_hole_printed(bencher: Bencher, index: f64) {
    let kit = Kit::new(Pattern::printed(Skill::of_index(index, Card::Men)), Fineness::USUAL);
    bencher.bench_local(|| {
        with_hole(&Seven::PLAYED, &kit, 400.0, Fineness::USUAL, |h| solve(h, &Worth::Strokes, &GO).is_ok())
    });
}

#[divan::bench(args = [0.0, 10.0, 28.0])]
fn hazard_hole_strokes(bencher: Bencher, index: f64) {
    let kit = kit(index);
    bencher.bench_local(|| {
        with_hole(&Seven::PLAYED, &kit, 400.0, Fineness::USUAL, |h| solve(h, &Worth::Strokes, &GO).is_ok())
    });
}

#[divan::bench]
fn sample_hole_strokes(bencher: Bencher) {
    let (kit, hole) = (kit(10.0), richest());
    bencher.bench_local(|| hole.with(&kit, |h| solve(h, &Worth::Strokes, &GO).is_ok()));
}

#[divan::bench]
fn sample_hole_points(bencher: Bencher) {
    let (kit, hole) = (kit(10.0), richest());
    bencher.bench_local(|| hole.with(&kit, |h| solve(h, &points(), &GO).is_ok()));
}

/// Solved and explained: plays, chances, steady and bold, the side not to miss.
#[divan::bench]
fn sample_hole_explained(bencher: Bencher) {
    let (kit, hole) = (kit(10.0), richest());
    bencher.bench_local(|| {
        hole.with(&kit, |h| {
            let solution = solve(h, &Worth::Strokes, &GO).unwrap();
            let pair = solution.steady_and_bold(solution.tee(), 0.03).unwrap();
            let chances = solution.chances(solution.tee(), &pair.steady);
            (chances, solution.sides(solution.tee(), &pair.steady, 15.0))
        })
    });
}

#[divan::bench]
fn eighteen_holes_on_all_cores(bencher: Bencher) {
    let (kit, holes) = (kit(10.0), sample("ossenmoor.yaml", 0));
    bencher.bench_local(|| {
        holes.par_iter().map(|s| s.with(&kit, |h| usize::from(solve(h, &Worth::Strokes, &GO).is_ok()))).sum::<usize>()
    });
}

#[divan::bench]
fn another_stand(bencher: Bencher) {
    let kit = kit(10.0);
    with_hole(&Seven::PLAYED, &kit, 400.0, Fineness::USUAL, |hole| {
        let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
        let stand = Stand { at: Point { right: 3.0, ahead: 210.0 }, lie: Lie::Fairway, taken: 1 };
        bencher.bench_local(|| solution.plays(black_box(stand)));
    });
}

#[divan::bench]
fn another_stand_at_once(bencher: Bencher) {
    let kit = kit(10.0);
    with_hole(&Seven::PLAYED, &kit, 400.0, Fineness::USUAL, |hole| {
        let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
        let stand = Stand { at: Point { right: 3.0, ahead: 210.0 }, lie: Lie::Fairway, taken: 1 };
        bencher.bench_local(|| solution.at_once(black_box(stand)));
    });
}

/// The chances of a play, the first time they are asked for.
#[divan::bench]
fn chances_from_the_tee(bencher: Bencher) {
    let (kit, hole) = (kit(10.0), richest());
    hole.with(&kit, |h| {
        bencher
            .with_inputs(|| {
                let solution = solve(h, &Worth::Strokes, &GO).unwrap();
                let play = solution.at_once(solution.tee()).unwrap();
                (solution, play)
            })
            .bench_local_refs(|(solution, play)| solution.chances(solution.tee(), play));
    });
}

/// Five dangers, coarse points, all cores.
#[divan::bench]
fn five_prices(bencher: Bencher) {
    let (kit, hole) = (kit_of(10.0, Fineness::COARSE), richest());
    let dangers: Vec<usize> = hole
        .ground
        .features
        .iter()
        .enumerate()
        .filter(|(_, f)| f.surface.is_danger())
        .map(|(i, _)| i)
        .take(5)
        .collect();
    hole.with(&kit, |h| {
        bencher.bench_local(|| {
            let lies: Vec<_> = dangers.iter().map(|f| hole.lies.without(*f)).collect();
            let without: Vec<&dyn Lies> = lies.iter().map(|l| l as &dyn Lies).collect();
            prices(h, &without, &GO)
        });
    });
}

/// Bare look-ups at scattered cells of a raster the size of a hole's.
#[divan::bench]
fn bare_look_ups(bencher: Bencher) {
    const WIDE: usize = 150;
    const LONG: usize = 330;
    let cells: Vec<f32> = (0..WIDE * LONG).map(|i| (i % 97) as f32).collect();
    let cloud: Vec<(f32, f32)> =
        (0..80).map(|i| ((i * 37 % 80) as f32 - 40.0, (i * 53 % 80) as f32 * 0.5 - 20.0)).collect();
    const PLAYS: usize = 700 * 40;
    bencher.counter(ItemsCount::new(PLAYS * 80)).bench_local(|| {
        let mut total = 0.0;
        for play in 0..PLAYS {
            let (x, y) = (60.0 + (play % 31) as f32, 60.0 + (play % 211) as f32);
            let (s, c) = (0.1, 0.995);
            for (a, b) in &cloud {
                let i = (x + 0.5 * (a * s + b * c)).max(0.0).min(WIDE as f32 - 1.0) as i32 as usize;
                let j = (y + 0.5 * (a * c - b * s)).max(0.0).min(LONG as f32 - 1.0) as i32 as usize;
                total += cells.get(j * WIDE + i).copied().unwrap_or_default();
            }
        }
        black_box(total)
    });
}

/// The solver's own look-ups of one marked play, run and all: 640 points.
#[divan::bench]
fn look_ups_of_a_play(bencher: Bencher) {
    let kit = kit(10.0);
    with_hole(&Plain { length: 400.0 }, &kit, 400.0, Fineness::USUAL, |hole| {
        let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
        let stand = solution.tee();
        let to = Point { right: 0.0, ahead: 220.0 };
        bencher.counter(ItemsCount::new(640_usize)).bench_local(|| solution.marked(black_box(stand), 0, 225.0, to));
    });
}

/// The holes of a sample course solved for strokes: level greens in still air, then with the whole of a day sheet (wind, air, heights,
/// firmness, falls, hole locations). Allowed: half as long again.
#[divan::bench(args = [false, true], sample_count = 10)]
fn eighteen_holes_of_a_day(bencher: Bencher, windy: bool) {
    use marram::pattern::Still;
    use marram::plan::Question;
    use marram::plan::ground::Rastered;
    use marram::strategy::{Hole, LevelGreen};
    use marram::today::Day;
    let (course, _) = marram::course::read(include_str!("../sample-courses/corvane.yaml"));
    let course = course.unwrap();
    let sheet = include_str!("../sample-courses/days/2026-05-16-corvane.yaml");
    let (sheet, _) = marram::course::read_day(sheet, Some(&course));
    let sheet = sheet.unwrap();
    let kit = kit(14.6);
    let ready: Vec<_> = course
        .holes
        .iter()
        .map(|hole| {
            let mut question = Question::new(&course, hole, "Club", Card::Men, 14.6, Bag::default());
            question.day = Day::of(&course, Some(&sheet));
            question.cut = sheet.hole_location(hole.number).cloned();
            let pin = question.pin_point().unwrap();
            let (air, green) = (question.air(&kit.pattern), question.green(pin, &kit.pattern));
            let line = vec![question.tee_point().unwrap(), hole.ground.green.as_ref().unwrap().middle];
            (Rastered::new(&hole.ground), air, green, pin, line)
        })
        .collect();
    bencher.counter(ItemsCount::new(ready.len())).bench_local(|| {
        ready
            .iter()
            .filter(|(lies, air, green, pin, line)| {
                let level = LevelGreen { putts: &kit.pattern.putts, hole: *pin };
                let hole = Hole {
                    lies,
                    tee: line[0],
                    pin: *pin,
                    line,
                    green: if windy { green } else { &level },
                    kit: &kit,
                    conditions: if windy { air } else { &Still },
                    fineness: Fineness::USUAL,
                };
                solve(hole, &Worth::Strokes, &GO).is_ok()
            })
            .count()
    });
}

/// What the solver asks of a day for one shot.
#[divan::bench]
fn a_change_of_the_day(bencher: Bencher) {
    use marram::pattern::Conditions;
    let (course, _) = marram::course::read(include_str!("../sample-courses/corvane.yaml"));
    let course = course.unwrap();
    let (sheet, _) =
        marram::course::read_day(include_str!("../sample-courses/days/2026-05-16-corvane.yaml"), Some(&course));
    let day = marram::today::Day::of(&course, sheet.as_ref());
    let kit = kit(14.6);
    let hole = &course.holes[3];
    let air = marram::today::HoleAir::new(&day, hole, kit.pattern.longest_carry(Lie::Tee), &Default::default());
    let swing = &kit.pattern.swings(Lie::Fairway)[4];
    bencher.bench(|| air.change(black_box(swing), black_box(Point::new(3.0, 180.0)), black_box(0.1)));
}
