//! Against itself: what must hold whatever the numbers are.

use crate::holes::{GO, Seven, with_hole};
use crate::play::{Draws, play_out};
use marram::course::Card;
use marram::ground::Point;
use marram::pattern::{Bag, Pattern, Skill};
use marram::strategy::{Fineness, Kind, Kit, Lies, Plain, Stand, Table, Worth, mean, prices, solve};

fn kit(index: f64) -> Kit {
    Kit::new(Pattern::of(&Bag::default(), &Skill::of_index(index, Card::Men)), Fineness::USUAL)
}

fn printed(index: f64) -> Kit {
    Kit::new(Pattern::printed(Skill::of_index(index, Card::Men)), Fineness::USUAL)
}

fn strokes(lies: &dyn Lies, kit: &Kit, length: f64) -> f64 {
    with_hole(lies, kit, length, Fineness::USUAL, |hole| {
        let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
        solution.strokes(solution.tee())
    })
}

/// Random play of the plan agrees with its value within 3 standard errors and 0.02.
#[test]
fn random_play_agrees_with_the_value() {
    const PLAYS: usize = 6000;
    for (name, kit) in [
        ("carry and run, 10", kit(10.0)),
        ("printed, 0", printed(0.0)),
        ("printed, 28", printed(28.0)),
        ("carry and run, 36", kit(36.0)),
    ] {
        with_hole(&Seven::PLAYED, &kit, 400.0, Fineness::USUAL, |hole| {
            let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
            let value = solution.strokes(solution.tee());
            let mut draws = Draws(7);
            let scores: Vec<f64> = (0..PLAYS).map(|_| play_out(&solution, &mut draws) as f64).collect();
            let mean = scores.iter().sum::<f64>() / PLAYS as f64;
            let variance = scores.iter().map(|s| (s - mean).powi(2)).sum::<f64>() / PLAYS as f64;
            let error = (variance / PLAYS as f64).sqrt();
            println!("{name}: value {value:.3}, played {mean:.3} +- {error:.3}");
            assert!(
                (mean - value).abs() <= 3.0 * error + 0.02,
                "{name}: value {value:.3}, played {mean:.3} +- {error:.3}"
            );
        });
    }
}

/// The chances of the score sum to one, and their mean is the value to 0.01.
#[test]
fn chances_are_whole_and_mean_the_value() {
    for index in [0.0, 18.0, 36.0] {
        let kit = kit(index);
        with_hole(&Seven::PLAYED, &kit, 400.0, Fineness::USUAL, |hole| {
            let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
            let play = &solution.plays(solution.tee())[0];
            let chances = solution.chances(solution.tee(), play);
            println!("{index}: value {:.4} mean {:.4}", play.value, mean(&chances));
            assert!((chances.iter().sum::<f64>() - 1.0).abs() < 1e-9);
            assert!((mean(&chances) - play.value).abs() < 0.01, "{} {}", mean(&chances), play.value);
        });
    }
}

/// A mirrored hole gives the mirrored plan.
#[test]
fn the_mirrored_hole_gives_the_mirrored_plan() {
    let kit = kit(10.0);
    let plan = |mirrored: bool| {
        with_hole(&Seven { mirrored, ..Seven::PLAYED }, &kit, 400.0, Fineness::USUAL, |hole| {
            let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
            solution.plays(solution.tee())[0].clone()
        })
    };
    let (here, there) = (plan(false), plan(true));
    assert!((here.value - there.value).abs() < 0.002, "{} {}", here.value, there.value);
    assert_eq!(here.swing.map(|s| s.total), there.swing.map(|s| s.total));
    assert!((here.aim_deg + there.aim_deg).abs() < 0.01, "{} {}", here.aim_deg, there.aim_deg);
}

/// The grid halved moves the value by less than 0.02.
#[test]
fn a_finer_grid_gives_the_same_value() {
    for index in [0.0, 20.0] {
        let kit = kit(index);
        let value = |grid: f64| {
            let fineness = Fineness { grid, ..Fineness::USUAL };
            with_hole(&Seven::PLAYED, &kit, 400.0, fineness, |hole| {
                let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
                solution.strokes(solution.tee())
            })
        };
        let (coarse, fine) = (value(6.0), value(3.0));
        println!("{index}: {coarse:.4} {fine:.4}");
        assert!((coarse - fine).abs() < 0.02, "{index}: {coarse:.3} {fine:.3}");
    }
}

/// Longer holes, weaker players and wider water cost more.
#[test]
fn value_grows_with_length_index_and_width_of_water() {
    let rises = |values: &[f64]| values.windows(2).all(|w| w[1] >= w[0] - 0.005);
    let player = kit(10.0);
    let lengths: Vec<f64> = [120.0, 200.0, 300.0, 400.0, 500.0, 600.0]
        .iter()
        .map(|l| strokes(&Plain { length: *l }, &player, *l))
        .collect();
    assert!(rises(&lengths), "{lengths:?}");
    let indexes: Vec<f64> = [-6.0, -2.0, 0.0, 5.0, 14.0, 22.0, 36.0, 54.0]
        .iter()
        .map(|i| strokes(&Seven::PLAYED, &kit(*i), 400.0))
        .collect();
    assert!(rises(&indexes), "{indexes:?}");
    let widths: Vec<f64> = [0.0, 5.0, 15.0, 30.0, 42.0]
        .iter()
        .map(|water| strokes(&Seven { water: *water, ..Seven::PLAYED }, &player, 400.0))
        .collect();
    println!("{lengths:?} {indexes:?} {widths:?}");
    assert!(rises(&widths), "{widths:?}");
}

fn points(par: usize, received: usize) -> Worth {
    let most = par + received + 2;
    Worth::Table(Table::new((0..=most).map(|n| (most - n) as f64).collect()).unwrap())
}

/// Reference on strategy, section 7, other objectives on the hole with hazards, par 4 (coarse points there: within 0.06).
#[test]
fn other_values_of_a_score() {
    for (index, received, fewest, most_points, net_par) in [
        (0.0, 0, 4.456, 1.573, 0.622),
        (10.0, 1, 5.197, 1.849, 0.718),
        (20.0, 1, 5.951, 1.239, 0.425),
        (28.0, 2, 6.634, 1.582, 0.545),
        (36.0, 2, 7.300, 1.122, 0.371),
    ] {
        let kit = printed(index);
        with_hole(&Seven::PLAYED, &kit, 400.0, Fineness::USUAL, |hole| {
            let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
            let strokes = solution.strokes(solution.tee());
            let fewest_play = solution.plays(solution.tee())[0].clone();
            let chances_fewest = solution.chances(solution.tee(), &fewest_play);
            let solution = solution.revalued(&points(4, received), &GO).unwrap();
            let play = solution.plays(solution.tee())[0].clone();
            let chances = solution.chances(solution.tee(), &play);
            let told = points(4, received).mean(&chances);
            let by_fewest = points(4, received).mean(&chances_fewest);
            let solution = solution.revalued(&Worth::Table(Table::at_most(4 + received)), &GO).unwrap();
            let par = solution.plays(solution.tee())[0].value;
            println!(
                "{index}: {strokes:.3} ({fewest}) {:.3} by chances {told:.3}, of the other plan {by_fewest:.3} ({most_points}) {par:.3} ({net_par})",
                play.value
            );
            assert!((strokes - fewest).abs() < 0.07);
            assert!((play.value - most_points).abs() < 0.06);
            assert!((par - net_par).abs() < 0.03);
            assert!((told - play.value).abs() < 0.01);
            assert!(by_fewest <= play.value + 0.01, "no plan gets more points than the one for points");
        });
    }
}

/// Waste, steep sand and long grass are each worse than what is milder.
#[test]
fn milder_ground_is_better_ground() {
    struct Under(Kind);
    impl Lies for Under {
        fn kind(&self, at: Point) -> Kind {
            match (Plain { length: 380.0 }).kind(at) {
                Kind::Rough if (20.0..60.0).contains(&at.right) && (200.0..250.0).contains(&at.ahead) => self.0,
                kind => kind,
            }
        }
    }
    let player = kit(12.0);
    let value = |kind: Kind| {
        with_hole(&Under(kind), &player, 380.0, Fineness::USUAL, |hole| {
            let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
            let lie = kind.lie().unwrap();
            solution.strokes(Stand { at: Point { right: 40.0, ahead: 225.0 }, lie, taken: 0 })
        })
    };
    let order = [Kind::Rough, Kind::Waste, Kind::ShallowSand, Kind::Sand, Kind::SteepSand].map(value);
    println!("{order:?} deep {}", value(Kind::Deep));
    assert!(order.windows(2).all(|w| w[1] >= w[0] - 0.01), "{order:?}");
    assert!(value(Kind::Deep) > value(Kind::Rough) + 0.2);
}

/// Sample holes with bends, creeks, trees, heather and blind carries: mirrored holes give mirrored plans, and random play agrees with
/// the value there too.
#[test]
fn sample_holes_are_played_as_they_are_valued() {
    const PLAYS: usize = 1500;
    let kit = kit(14.0);
    for (file, wanted) in [("ossenmoor.yaml", [0, 3, 10]), ("tarnholt.yaml", [1, 3, 7]), ("corvane.yaml", [3, 7, 14])] {
        let holes = crate::holes::sample(file, 0);
        for sample in wanted.iter().filter_map(|i| holes.get(*i)) {
            sample.with(&kit, |hole| {
                let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
                let play = solution.plays(solution.tee())[0].clone();
                let chances = solution.chances(solution.tee(), &play);
                let mut draws = Draws(3);
                let scores: Vec<f64> = (0..PLAYS).map(|_| play_out(&solution, &mut draws) as f64).collect();
                let played = scores.iter().sum::<f64>() / PLAYS as f64;
                let error = marram::strategy::deviation(&chances) / (PLAYS as f64).sqrt();
                let there = sample.mirrored(0).unwrap();
                let (mirrored, turned) = there.with(&kit, |hole| {
                    let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
                    let play = solution.plays(solution.tee())[0].clone();
                    (play.value, play.aim_deg)
                });
                println!(
                    "{}: {:.3} chances {:.3} played {played:.3} +- {error:.3} mirrored {mirrored:.3} aim {:.1} {turned:.1}",
                    sample.name,
                    play.value,
                    mean(&chances),
                    play.aim_deg
                );
                assert!((played - play.value).abs() <= 3.0 * error + 0.02, "{}", sample.name);
                assert!((mean(&chances) - play.value).abs() <= 0.02, "{}", sample.name);
                assert!((mirrored - play.value).abs() <= 0.004, "{}", sample.name);
                assert!((turned + play.aim_deg).abs() <= 0.6, "{}", sample.name);
            });
        }
    }
}

/// Prices come out the same on any number of threads, are never below zero, and what costs most is found often.
#[test]
fn prices_do_not_depend_on_threads() {
    let kit = Kit::new(Pattern::of(&Bag::default(), &Skill::of_index(14.0, Card::Men)), Fineness::COARSE);
    let holes = crate::holes::sample("corvane.yaml", 0);
    let sample = &holes[3];
    let dangers: Vec<usize> =
        (0..sample.ground.features.len()).filter(|f| sample.ground.features[*f].surface.is_danger()).collect();
    let lies: Vec<_> = dangers.iter().map(|f| sample.lies.without(*f)).collect();
    let without: Vec<&dyn Lies> = lies.iter().map(|l| l as &dyn Lies).collect();
    sample.with(&kit, |hole| {
        let on = |threads: usize| {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
            pool.install(|| prices(hole, &without, &GO)).unwrap()
        };
        let (one, four) = (on(1), on(4));
        assert_eq!(one, four);
        let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
        let play = solution.plays(solution.tee())[0].clone();
        let finds = solution.finds(solution.tee(), &play, sample.ground.features.len(), &|at| sample.lies.piece(at));
        for (feature, price) in dangers.iter().zip(&one.1) {
            println!("{}: {price:.3}, found {:.3}", sample.ground.features[*feature].name, finds[*feature]);
            assert!((0.0..1.5).contains(price));
            assert!((0.0..=1.0).contains(&finds[*feature]));
            assert!(*price < 0.03 || finds[*feature] > 0.005, "what costs is found");
        }
        assert!(one.1.iter().any(|p| *p > 0.05), "{:?}", one.1);
    });
}
