//! Against published tables and the reference on strategy. Each check names its source.

use crate::holes::{GO, Seven, with_hole};
use marram::course::Card;
use marram::pattern::{Bag, Lie, Pattern, Skill};
use marram::strategy::{Fineness, Kit, PlainHole, Solution, Stand, Worth, solve};

fn from(plain: &PlainHole, solution: &Solution<'_>, lie: Lie, yards: f64) -> f64 {
    solution.strokes(Stand { at: plain.place(lie, yards), lie, taken: 0 })
}

/// Broadie, Interfaces 42(2), 2012, average strokes to complete the hole, PGA TOUR 2003-2010 (as transcribed in the reference on
/// strategy, 1.1): tee, fairway, rough, sand, recovery.
const TOUR: &[(f64, [f64; 5])] = &[
    (50.0, [0.0, 2.66, 2.87, 2.92, 3.79]),
    (60.0, [0.0, 2.70, 2.91, 3.15, 3.83]),
    (80.0, [0.0, 2.75, 2.96, 3.24, 3.84]),
    (100.0, [2.92, 2.80, 3.02, 3.23, 3.80]),
    (120.0, [2.99, 2.85, 3.08, 3.21, 3.78]),
    (140.0, [2.97, 2.91, 3.15, 3.22, 3.80]),
    (160.0, [2.99, 2.98, 3.23, 3.28, 3.81]),
    (180.0, [3.05, 3.08, 3.31, 3.40, 3.82]),
    (200.0, [3.12, 3.19, 3.42, 3.55, 3.87]),
    (220.0, [3.17, 3.32, 3.53, 3.70, 3.92]),
    (240.0, [3.25, 3.45, 3.64, 3.84, 3.97]),
    (260.0, [3.45, 3.58, 3.74, 3.93, 4.03]),
    (280.0, [3.65, 3.69, 3.83, 4.00, 4.10]),
    (300.0, [3.71, 3.78, 3.90, 4.04, 4.20]),
    (320.0, [3.79, 3.84, 3.95, 4.12, 4.31]),
    (340.0, [3.86, 3.88, 4.02, 4.26, 4.44]),
    (360.0, [3.92, 3.95, 4.11, 4.41, 4.56]),
    (380.0, [3.96, 4.03, 4.21, 4.55, 4.66]),
    (400.0, [3.99, 4.11, 4.30, 4.69, 4.75]),
    (420.0, [4.02, 4.19, 4.40, 4.83, 4.84]),
    (440.0, [4.08, 4.27, 4.49, 4.97, 4.94]),
    (460.0, [4.17, 4.34, 4.58, 5.11, 5.03]),
];

/// Fairway and rough within 0.05 rms and 0.12 at worst over 50 to 460 yards. Exceptions named by the reference, 6.1: from the tee
/// 280 to 320 yards (a plain green can be driven, real short par 4s defend it), sand beyond 320 (par-5 bunkers with a lip).
#[test]
fn the_tour_table() {
    let plain = PlainHole::new(Skill::tour(Card::Men), 500.0);
    plain
        .ask(&GO, |solution| {
            for (column, lie, rms_limit, worst_limit) in [
                (0, Lie::Tee, 0.08, 0.13),
                (1, Lie::Fairway, 0.05, 0.12),
                (2, Lie::Rough, 0.05, 0.12),
                (3, Lie::Sand, 0.10, 0.15),
                (4, Lie::Trees, 0.07, 0.14),
            ] {
                let apart: Vec<(f64, f64)> = TOUR
                    .iter()
                    .filter(|(yards, row)| {
                        row[column] > 0.0
                            && !(lie == Lie::Tee && (280.0..=320.0).contains(yards))
                            && !(lie == Lie::Sand && *yards > 320.0)
                    })
                    .map(|(yards, row)| (*yards, from(&plain, solution, lie, *yards) - row[column]))
                    .collect();
                let rms = (apart.iter().map(|(_, d)| d * d).sum::<f64>() / apart.len() as f64).sqrt();
                let worst =
                    apart.iter().fold((0.0, 0.0), |w: (f64, f64), d| if d.1.abs() > w.1.abs() { *d } else { w });
                println!("{lie:?}: rms {rms:.3}, worst {:+.3} at {}", worst.1, worst.0);
                assert!(rms <= rms_limit, "{lie:?} rms {rms:.3}");
                assert!(worst.1.abs() <= worst_limit, "{lie:?} worst {worst:?}");
            }
        })
        .unwrap();
}

/// Reference on strategy, 6.5: values for tests, fairway and rough at six distances, tee at three; within 0.07.
#[test]
fn values_of_the_reference() {
    const YARDS: [f64; 6] = [20.0, 40.0, 100.0, 150.0, 200.0, 300.0];
    const TEES: [f64; 3] = [150.0, 400.0, 500.0];
    type Row = (f64, Card, [(f64, f64); 6], [f64; 3]);
    const ROWS: [Row; 6] = [
        (
            0.0,
            Card::Men,
            [(2.45, 2.60), (2.69, 2.81), (2.88, 3.06), (3.09, 3.28), (3.37, 3.52), (3.93, 4.05)],
            [3.10, 4.19, 4.77],
        ),
        (
            10.0,
            Card::Men,
            [(2.73, 2.85), (2.93, 3.12), (3.30, 3.55), (3.54, 3.72), (3.83, 4.03), (4.46, 4.60)],
            [3.52, 4.82, 5.43],
        ),
        (
            20.0,
            Card::Men,
            [(2.91, 3.04), (3.18, 3.42), (3.64, 3.92), (3.94, 4.13), (4.26, 4.52), (4.97, 5.15)],
            [3.88, 5.46, 6.13],
        ),
        (
            36.0,
            Card::Men,
            [(3.19, 3.40), (3.62, 3.91), (4.23, 4.52), (4.63, 4.84), (5.01, 5.28), (5.83, 6.06)],
            [4.55, 6.45, 7.24],
        ),
        (
            0.0,
            Card::Women,
            [(2.52, 2.66), (2.72, 2.86), (3.00, 3.19), (3.24, 3.39), (3.56, 3.82), (4.14, 4.29)],
            [3.19, 4.61, 5.17],
        ),
        (
            24.0,
            Card::Women,
            [(2.96, 3.11), (3.26, 3.53), (3.84, 4.06), (4.23, 4.47), (4.73, 4.93), (5.58, 5.81)],
            [4.11, 6.29, 7.17],
        ),
    ];
    for (index, card, pairs, tees) in ROWS {
        let plain = PlainHole::new(Skill::of_index(index, card), 510.0);
        plain
            .ask(&GO, |solution| {
                let near = |lie: Lie, yards: f64, e: f64| {
                    let got = from(&plain, solution, lie, yards);
                    assert!((got - e).abs() <= 0.07, "{card:?} {index} {lie:?} {yards}: {got:.3} against {e}");
                };
                for (yards, (fairway, rough)) in YARDS.iter().zip(pairs) {
                    near(Lie::Fairway, *yards, fairway);
                    near(Lie::Rough, *yards, rough);
                }
                TEES.iter().zip(tees).for_each(|(yards, e)| near(Lie::Tee, *yards, e));
            })
            .unwrap();
    }
}

/// Reference on strategy, section 7: the hole with hazards, within 0.07 by the solver given no run, within 0.15 with carry and run apart.
#[test]
fn the_hole_with_hazards() {
    for (index, e) in [
        (-6.0, 4.169),
        (0.0, 4.448),
        (5.0, 4.813),
        (10.0, 5.174),
        (15.0, 5.543),
        (20.0, 5.950),
        (28.0, 6.628),
        (36.0, 7.322),
    ] {
        let skill = Skill::of_index(index, Card::Men);
        for (pattern, limit) in [(Pattern::printed(skill.clone()), 0.07), (Pattern::of(&Bag::default(), &skill), 0.15)]
        {
            let kit = Kit::new(pattern, Fineness::USUAL);
            let got = with_hole(&Seven::PLAYED, &kit, 400.0, Fineness::USUAL, |hole| {
                let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
                solution.strokes(solution.tee())
            });
            println!("{index}: {got:.3} against {e} ({:+.3}, limit {limit})", got - e);
            assert!((got - e).abs() <= limit, "{index}: {got:.3} against {e}");
        }
    }
}
