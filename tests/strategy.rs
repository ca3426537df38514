//! Checks of the model and the solver from outside and from inside.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

use marram::course::Card;
use marram::ground::Point;
use marram::pattern::{Bag, Lie, Pattern, Skill};
use marram::strategy::{Choice, Fineness, Kit, PlainHole, solve};
mod holes;
use holes::{GO, Seven, with_hole};

#[test]
fn probe_tour() {
    let t = std::time::Instant::now();
    let plain = PlainHole::new(Skill::tour(Card::Men), 560.0);
    println!("kit {:?}", t.elapsed());
    plain
        .ask(&GO, |s| {
            println!("solve {:?} places {}", t.elapsed(), s.values.len());
            for (d, row) in TOUR {
                let lies = [Lie::Tee, Lie::Fairway, Lie::Rough, Lie::Sand, Lie::Trees];
                let mut line = format!("{d:4} ");
                for (lie, e) in lies.iter().zip(row) {
                    if *e == 0.0 {
                        line += "     -      ";
                        continue;
                    }
                    let v = s.strokes(plain.place(*lie, *d), *lie);
                    line += &format!(" {v:.2} {:+.2}", v - e);
                }
                println!("{line}");
            }
        })
        .unwrap();
    println!("all {:?}", t.elapsed());
}

#[test]
fn probe_65() {
    for (name, skill, fr, tees) in [
        (
            "M0",
            Skill::of_index(0.0, Card::Men),
            [[2.45, 2.60], [2.69, 2.81], [2.88, 3.06], [3.09, 3.28], [3.37, 3.52], [3.93, 4.05]],
            [3.10, 4.19, 4.77],
        ),
        (
            "M10",
            Skill::of_index(10.0, Card::Men),
            [[2.73, 2.85], [2.93, 3.12], [3.30, 3.55], [3.54, 3.72], [3.83, 4.03], [4.46, 4.60]],
            [3.52, 4.82, 5.43],
        ),
        (
            "M20",
            Skill::of_index(20.0, Card::Men),
            [[2.91, 3.04], [3.18, 3.42], [3.64, 3.92], [3.94, 4.13], [4.26, 4.52], [4.97, 5.15]],
            [3.88, 5.46, 6.13],
        ),
        (
            "M36",
            Skill::of_index(36.0, Card::Men),
            [[3.19, 3.40], [3.62, 3.91], [4.23, 4.52], [4.63, 4.84], [5.01, 5.28], [5.83, 6.06]],
            [4.55, 6.45, 7.24],
        ),
        (
            "F0",
            Skill::of_index(0.0, Card::Women),
            [[2.52, 2.66], [2.72, 2.86], [3.00, 3.19], [3.24, 3.39], [3.56, 3.82], [4.14, 4.29]],
            [3.19, 4.61, 5.17],
        ),
        (
            "F24",
            Skill::of_index(24.0, Card::Women),
            [[2.96, 3.11], [3.26, 3.53], [3.84, 4.06], [4.23, 4.47], [4.73, 4.93], [5.58, 5.81]],
            [4.11, 6.29, 7.17],
        ),
    ] {
        let t = std::time::Instant::now();
        let plain = PlainHole::new(skill, 510.0);
        plain
            .ask(&GO, |s| {
                let mut line = format!("{name} {:?}", t.elapsed());
                for (d, [f, r]) in [20.0, 40.0, 100.0, 150.0, 200.0, 300.0].iter().zip(fr) {
                    line += &format!(
                        " | {d} {:+.3} {:+.3}",
                        s.strokes(plain.place(Lie::Fairway, *d), Lie::Fairway) - f,
                        s.strokes(plain.place(Lie::Rough, *d), Lie::Rough) - r
                    );
                }
                for (d, e) in [150.0, 400.0, 500.0].iter().zip(tees) {
                    line += &format!(" | tee {d} {:+.3}", s.strokes(plain.place(Lie::Tee, *d), Lie::Tee) - e);
                }
                println!("{line}");
            })
            .unwrap();
    }
}

/// Broadie 2012, average strokes to complete the hole: tee, fairway, rough, sand, recovery.
const TOUR: &[(f64, [f64; 5])] = &[
    (10.0, [0.0, 2.18, 2.34, 2.43, 3.45]),
    (20.0, [0.0, 2.40, 2.59, 2.53, 3.51]),
    (30.0, [0.0, 2.52, 2.70, 2.66, 3.57]),
    (40.0, [0.0, 2.60, 2.78, 2.82, 3.71]),
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
    (500.0, [4.41, 4.50, 4.77, 5.40, 5.22]),
    (540.0, [4.65, 4.66, 4.96, 5.68, 5.41]),
];

#[test]
fn probe_7() {
    for (h, e) in [
        (-6.0, 4.169),
        (0.0, 4.448),
        (5.0, 4.813),
        (10.0, 5.174),
        (15.0, 5.543),
        (20.0, 5.950),
        (28.0, 6.628),
        (36.0, 7.322),
    ] {
        let skill = if h < 0.0 { Skill::tour(Card::Men) } else { Skill::of_index(h, Card::Men) };
        let mut line = format!("{h} {e}");
        for (fineness, model) in [
            (Fineness::USUAL, 0),
            (Fineness { grid: 3.0, weigh: 256, value: 512, shown: 1024 }, 0),
            (Fineness::COARSE, 0),
            (Fineness::USUAL, 1),
        ] {
            let pattern =
                if model == 0 { Pattern::printed(skill.clone()) } else { Pattern::of(&Bag::default(), &skill) };
            let kit = Kit::new(pattern, fineness);
            with_hole(&Seven::PLAYED, &kit, 400.0, fineness, |hole| {
                let t = std::time::Instant::now();
                let s = solve(hole, &GO).unwrap();
                let dt = t.elapsed();
                let t = std::time::Instant::now();
                let plays = s.plays(Point::default(), Lie::Tee);
                let dp = t.elapsed();
                if let Choice::Swing { swing, aim } = plays[0].choice {
                    line += &format!(
                        " | {:.3} ({:+.3}) {:.0} yd {:+.1}° n{} {:?} {:?}",
                        plays[0].strokes,
                        plays[0].strokes as f64 - e,
                        kit.swings(Lie::Tee)[swing as usize].swing.total,
                        aim.to_degrees(),
                        s.values.len(),
                        dt,
                        dp
                    );
                }
            });
        }
        println!("{line}");
    }
}
