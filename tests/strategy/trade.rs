//! Facts of the trade as far as they concern plans (reference `trade-facts`). Source of every one: common practice.

use crate::holes::{GO, Seven, with_hole};
use marram::course::Card;
use marram::ground::Point;
use marram::pattern::{Bag, Lie, Pattern, Skill, Still};
use marram::strategy::{
    Fineness, Hole, Kind, Kit, LevelGreen, Lies, Plain, PlainHole, Play, Solution, Stand, Table, Worth, solve,
};

/// Ground drawn by a rule.
struct Drawn<F: Fn(f64, f64) -> Option<Kind> + Sync> {
    length: f64,
    over: F,
}

impl<F: Fn(f64, f64) -> Option<Kind> + Sync> Lies for Drawn<F> {
    fn kind(&self, at: Point) -> Kind {
        (self.over)(at.right, at.ahead).unwrap_or_else(|| Plain { length: self.length }.kind(at))
    }
}

fn skill(index: f64) -> Skill {
    Skill::of_index(index, Card::Men)
}

fn kit(skill: &Skill) -> Kit {
    Kit::new(Pattern::of(&Bag::default(), skill), Fineness::USUAL)
}

/// Solves a straight hole with the hole cut `pin` yards from the middle of the green.
fn ask<T>(
    lies: &dyn Lies,
    kit: &Kit,
    length: f64,
    pin: (f64, f64),
    worth: &Worth,
    f: impl FnOnce(&Solution<'_>) -> T,
) -> T {
    let middle = Point { right: 0.0, ahead: length };
    let hole = Point { right: pin.0, ahead: length + pin.1 };
    let green = LevelGreen { putts: &kit.pattern.putts, hole };
    let line = [Point::default(), middle];
    let hole = Hole {
        lies,
        tee: Point::default(),
        pin: hole,
        line: &line,
        green: &green,
        kit,
        conditions: &Still,
        fineness: kit.fineness,
    };
    f(&solve(hole, worth, &GO).unwrap())
}

fn strokes(lies: &dyn Lies, kit: &Kit, length: f64, pin: (f64, f64)) -> f64 {
    ask(lies, kit, length, pin, &Worth::Strokes, |s| s.strokes(s.tee()))
}

fn total(play: &Play) -> f64 {
    play.swing.as_ref().map_or(0.0, |s| s.total)
}

/// 9: with a back flag the trouble in front matters less.
#[test]
fn front_trouble_matters_less_to_a_back_flag() {
    let kit = kit(&skill(12.0));
    let bunker =
        Drawn { length: 380.0, over: |x, y| (x.abs() < 9.0 && (358.0..365.5).contains(&y)).then_some(Kind::Sand) };
    let bare = Plain { length: 380.0 };
    let price = |pin: f64| strokes(&bunker, &kit, 380.0, (0.0, pin)) - strokes(&bare, &kit, 380.0, (0.0, pin));
    let (front, back) = (price(-9.0), price(9.0));
    println!("front flag {front:.3}, back flag {back:.3}");
    assert!(back < front && front > 0.03);
}

/// 10: one club more for a back flag than for a front one.
#[test]
fn a_back_flag_takes_no_less_club() {
    for index in [0.0, 10.0, 24.0] {
        let kit = kit(&skill(index));
        let club = |pin: f64| {
            ask(&Plain { length: 380.0 }, &kit, 380.0, (0.0, pin), &Worth::Strokes, |s| {
                total(&s.plays(Stand { at: Point { right: 0.0, ahead: 240.0 }, lie: Lie::Fairway, taken: 1 })[0])
            })
        };
        assert!(club(10.0) >= club(-10.0), "{index}: {} {}", club(10.0), club(-10.0));
    }
}

/// 11: the wider a fairway, the less its sides cost there.
#[test]
fn a_wider_fairway_makes_its_sides_cheaper() {
    let kit = kit(&skill(8.0));
    let price = |half: f64| {
        let kind = move |bunkers: bool| {
            move |x: f64, y: f64| {
                let there = (190.0..270.0).contains(&y);
                if there && x.abs() < half {
                    Some(Kind::Fairway)
                } else if there && x.abs() < half + 14.0 {
                    Some(if bunkers { Kind::Sand } else { Kind::Rough })
                } else {
                    None
                }
            }
        };
        strokes(&Drawn { length: 400.0, over: kind(true) }, &kit, 400.0, (0.0, 0.0))
            - strokes(&Drawn { length: 400.0, over: kind(false) }, &kit, 400.0, (0.0, 0.0))
    };
    let prices = [9.0, 15.0, 22.0, 30.0].map(price);
    println!("{prices:.3?}");
    assert!(prices.windows(2).all(|w| w[1] <= w[0] + 0.005), "{prices:?}");
}

/// 12: a shallow face costs less than a steep one at the same place.
#[test]
fn a_steep_face_costs_more() {
    let kit = kit(&skill(12.0));
    let with = |kind: Kind| {
        let over = move |x: f64, y: f64| ((4.0..26.0).contains(&x) && (180.0..230.0).contains(&y)).then_some(kind);
        strokes(&Drawn { length: 410.0, over }, &kit, 410.0, (0.0, 0.0))
    };
    let order = [Kind::Rough, Kind::ShallowSand, Kind::Sand, Kind::SteepSand].map(with);
    println!("{order:.3?}");
    assert!(order.windows(2).all(|w| w[1] >= w[0] - 0.003), "{order:?}");
}

fn net_par(received: usize) -> Worth {
    Worth::Table(Table::at_most(4 + received))
}

/// The driver at its best aim, and the lay-up short of the water at its best.
fn bold_and_careful(solution: &Solution<'_>) -> (Play, Play) {
    let clubs = solution.clubs(solution.tee());
    let careful = clubs.iter().filter(|p| total(p) < 165.0).max_by(|a, b| total(a).total_cmp(&total(b)));
    (clubs[0].clone(), careful.unwrap().clone())
}

/// 13 and 20: a stroke received makes the careful play attractive, for net par and in a match.
#[test]
fn a_stroke_received_favours_the_careful_play() {
    let player = kit(&skill(14.0));
    with_hole(&Seven::PLAYED, &player, 400.0, Fineness::USUAL, |hole| {
        let given_up = |worth: &Worth| {
            let solution = solve(hole, worth, &GO).unwrap();
            let (bold, careful) = bold_and_careful(&solution);
            let best = solution.plays(solution.tee())[0].value;
            println!("best {best:.3} bold {:.3} careful {:.3}", bold.value, careful.value);
            (1.0 - careful.value / best, best)
        };
        let ((without, chance), (with, more)) = (given_up(&net_par(0)), given_up(&net_par(1)));
        assert!(with < without && more > chance, "{with} {without}");
        let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
        let opponent = solution.chances(solution.tee(), &solution.plays(solution.tee())[0]);
        let against = |received| given_up(&Worth::Table(Table::against(&opponent, received, 0.5)));
        let ((level, even), (up, better)) = (against(0), against(1));
        assert!(up < level && better > even, "{up} {level}");
    });
}

/// 14 and 17: a longer carry over water suits the long hitter first, and the play crosses over once.
#[test]
fn the_carry_divides_players_once() {
    // A short par 4: water before the green from 184 to 220.
    let lies = Drawn {
        length: 262.0,
        over: |x, y| (x.abs() < 70.0 && (184.0..220.0).contains(&y)).then_some(Kind::PenaltyRed),
    };
    let mut went = Vec::new();
    for drive in [200.0, 220.0, 240.0, 255.0, 270.0, 285.0, 300.0] {
        let player = kit(&Skill { drive, ..skill(4.0) });
        went.push(ask(&lies, &player, 262.0, (0.0, 0.0), &Worth::Strokes, |s| total(&s.plays(s.tee())[0]) > 232.0));
    }
    println!("{went:?}");
    assert!(!went[0] && went[went.len() - 1]);
    assert_eq!(went.windows(2).filter(|w| w[0] != w[1]).count(), 1, "{went:?}");
}

/// 15: a full swing is left unless being closer gains more; the sum decides. The tour's table (Broadie 2012): 100 yd of fairway 2.80
/// beats 50 yd of rough 2.87, and 30 yd of rough 2.70 beats both.
#[test]
fn the_sum_decides_what_to_leave() {
    let plain = PlainHole::new(Skill::tour(Card::Men), 150.0);
    plain
        .ask(&GO, |s| {
            let from = |lie, yards| s.strokes(Stand { at: plain.place(lie, yards), lie, taken: 0 });
            let (full, close, closer) = (from(Lie::Fairway, 100.0), from(Lie::Rough, 50.0), from(Lie::Rough, 30.0));
            assert!(full < close && closer < full, "{full} {close} {closer}");
        })
        .unwrap();
}

/// 16: missing on the side away from the flag leaves the easier recovery.
#[test]
fn the_side_away_from_the_flag_is_easier() {
    for index in [0.0, 12.0, 28.0] {
        let kit = kit(&skill(index));
        ask(&Plain { length: 300.0 }, &kit, 300.0, (7.0, 0.0), &Worth::Strokes, |s| {
            let from = |x: f64| s.strokes(Stand { at: Point { right: x, ahead: 300.0 }, lie: Lie::Rough, taken: 2 });
            let (away, short_sided) = (from(7.0 - 20.0), from(7.0 + 20.0));
            println!("{index}: away {away:.3}, short-sided {short_sided:.3}");
            assert!(away < short_sided);
        });
    }
}

/// 19: a hole already lost costs nothing more in Stableford: the bold play is relatively better for points.
#[test]
fn points_favour_the_bold_play() {
    let player = kit(&skill(0.0));
    with_hole(&Seven::PLAYED, &player, 400.0, Fineness::USUAL, |hole| {
        let lost = |worth: &Worth| {
            let solution = solve(hole, worth, &GO).unwrap();
            let (bold, careful) = bold_and_careful(&solution);
            bold.cost - careful.cost
        };
        let points = Worth::Table(Table::new((0..=6).map(|n| f64::from(6 - n)).collect()).unwrap());
        let (by_strokes, by_points) = (lost(&Worth::Strokes), lost(&points));
        println!("bold less careful: strokes {by_strokes:.3}, points {by_points:.3}");
        assert!(by_points < by_strokes);
    });
}
