//! Holes and bags that nobody wants: each gets an answer or a clear refusal.

use crate::holes::{GO, with_hole};
use marram::course::Card;
use marram::ground::Point;
use marram::pattern::{Bag, BagClub, Lie, Pattern, Skill};
use marram::strategy::{
    BadHole, Fineness, Kind, Kit, Lies, Plain, Solution, Stand, Table, Unsolved, Worth, mean, solve,
};
use std::sync::atomic::AtomicBool;

struct Drawn<F: Fn(f64, f64) -> Kind + Sync>(F);

impl<F: Fn(f64, f64) -> Kind + Sync> Lies for Drawn<F> {
    fn kind(&self, at: Point) -> Kind {
        (self.0)(at.right, at.ahead)
    }
}

fn kit(index: f64) -> Kit {
    Kit::new(Pattern::of(&Bag::default(), &Skill::of_index(index, Card::Men)), Fineness::USUAL)
}

fn green(x: f64, y: f64, length: f64) -> bool {
    (x / 12.0).powi(2) + ((y - length) / 14.0).powi(2) <= 1.0
}

fn answer<T>(lies: &dyn Lies, kit: &Kit, length: f64, f: impl FnOnce(Result<Solution<'_>, Unsolved>) -> T) -> T {
    with_hole(lies, kit, length, Fineness::USUAL, |hole| f(solve(hole, &Worth::Strokes, &GO)))
}

#[test]
fn holes_of_30_and_900_yards_are_planned() {
    let kit = kit(18.0);
    for (length, least, most) in [(30.0, 2.5, 3.6), (900.0, 7.5, 11.0)] {
        answer(&Plain { length }, &kit, length, |s| {
            let s = s.unwrap();
            let value = s.strokes(s.tee());
            assert!((least..most).contains(&value), "{length}: {value}");
        });
    }
    for length in [3.0, 1500.0, f64::NAN] {
        answer(&Plain { length }, &kit, length, |s| {
            let refusal = s.err().unwrap();
            assert!(matches!(refusal, Unsolved::Bad(BadHole::Length(_))), "{length}");
            assert!(refusal.to_string().contains("check"), "{refusal}");
        });
    }
}

#[test]
fn a_hole_without_green_and_a_tee_in_water_are_refused_with_the_cure() {
    let kit = kit(18.0);
    answer(&Drawn(|_, _| Kind::Fairway), &kit, 350.0, |s| {
        let refusal = s.err().unwrap();
        assert_eq!(refusal, Unsolved::Bad(BadHole::NoGreen));
        assert!(refusal.to_string().contains("give `green`"));
    });
    for kind in [Kind::PenaltyRed, Kind::PenaltyYellow, Kind::Out, Kind::Sand, Kind::Trees] {
        let lies = Drawn(move |x, y| {
            if green(x, y, 350.0) {
                Kind::Green
            } else if y < 20.0 {
                kind
            } else {
                Kind::Fairway
            }
        });
        answer(&lies, &kit, 350.0, |s| {
            let refusal = s.err().unwrap();
            assert_eq!(refusal, Unsolved::Bad(BadHole::Tee(kind)));
            assert!(refusal.to_string().contains("move the tee"));
        });
    }
}

#[test]
fn no_fairway_is_played_from_the_rough() {
    let kit = kit(18.0);
    let rough = Drawn(|x, y| if green(x, y, 400.0) { Kind::Green } else { Kind::Rough });
    let bare = answer(&Plain { length: 400.0 }, &kit, 400.0, |s| s.map(|s| s.strokes(s.tee())).unwrap());
    answer(&rough, &kit, 400.0, |s| {
        let s = s.unwrap();
        let value = s.strokes(s.tee());
        assert!(value > bare + 0.1 && value < bare + 1.0, "{value} against {bare}");
    });
}

/// An island green in a yellow penalty area: dropped on the tee's side, the shot is played again, and the value stays finite.
#[test]
fn an_island_green_is_finite() {
    for index in [0.0, 18.0, 54.0] {
        let kit = kit(index);
        let island = Drawn(|x, y| {
            let away = x.hypot(y - 140.0);
            if green(x, y, 140.0) {
                Kind::Green
            } else if away < 17.0 {
                Kind::Rough
            } else if away < 70.0 {
                Kind::PenaltyYellow
            } else {
                Kind::Fairway
            }
        });
        answer(&island, &kit, 140.0, |s| {
            let s = s.unwrap();
            let play = s.plays(s.tee())[0].clone();
            let chances = s.chances(s.tee(), &play);
            println!("{index}: {:.2}, mean of chances {:.2}", play.value, mean(&chances));
            assert!((3.0..16.0).contains(&play.value), "{index}: {}", play.value);
            assert!((mean(&chances) - play.value).abs() < 0.05);
        });
    }
}

/// No club reaches over the water: the plan lays up before it, and the answer is finite and says so by its value.
#[test]
fn a_carry_that_no_club_reaches_is_laid_up_to() {
    let kit = kit(30.0);
    let lies = Drawn(|x, y| {
        if green(x, y, 420.0) {
            Kind::Green
        } else if (190.0..400.0).contains(&y) {
            Kind::PenaltyYellow
        } else {
            Kind::Fairway
        }
    });
    answer(&lies, &kit, 420.0, |s| {
        let s = s.unwrap();
        let play = &s.plays(s.tee())[0];
        assert!(play.swing.as_ref().is_some_and(|w| w.total < 190.0), "{play:?}");
        let carries = s.carries(s.tee());
        println!("{carries:?} {}", play.value);
        assert_eq!(carries.len(), 1);
        assert!(!carries[0].reached && (carries[0].to_yd - 400.0).abs() < 3.0);
    });
    answer(&Plain { length: 420.0 }, &kit, 420.0, |s| {
        assert!(s.unwrap().carries(Stand { at: Point::default(), lie: Lie::Tee, taken: 0 }).is_empty())
    });
}

#[test]
fn out_of_bounds_on_both_sides_and_everywhere_else_is_survived() {
    let kit = kit(36.0);
    let lane = Drawn(|x, y| {
        if green(x, y, 380.0) {
            Kind::Green
        } else if x.abs() < 15.0 && (-20.0..400.0).contains(&y) {
            Kind::Fairway
        } else {
            Kind::Out
        }
    });
    answer(&lane, &kit, 380.0, |s| {
        let s = s.unwrap();
        let play = &s.plays(s.tee())[0];
        println!("lane: {:.2} {:?}", play.value, play.swing.as_ref().map(|w| w.total));
        assert!(play.value.is_finite() && play.value > 7.0);
        assert!((s.chances(s.tee(), play).iter().sum::<f64>() - 1.0).abs() < 1e-9);
    });
}

#[test]
fn bags_of_no_spread_and_of_absurd_spread_are_answered_and_said() {
    let bag = |wide: f64, deep: f64| Bag {
        clubs: ["driver", "7 iron", "pitching wedge"]
            .map(|name| BagClub { name: name.into(), wide: Some(wide), deep: Some(deep), ..BagClub::default() })
            .to_vec(),
        swings: Vec::new(),
    };
    let skill = Skill::of_index(12.0, Card::Men);
    for (bag, said) in
        [(bag(0.0, 0.0), true), (bag(5000.0, 900.0), true), (bag(22.0, 22.0), false), (Bag::default(), true)]
    {
        let kit = Kit::new(Pattern::of(&bag, &skill), Fineness::USUAL);
        assert_eq!(!kit.pattern.remarks.is_empty(), said, "{:?}", kit.pattern.remarks);
        answer(&Plain { length: 380.0 }, &kit, 380.0, |s| {
            let s = s.unwrap();
            let value = s.strokes(s.tee());
            assert!((3.0..9.0).contains(&value), "{value}");
        });
    }
}

#[test]
fn work_is_called_off() {
    let kit = kit(10.0);
    let stop = AtomicBool::new(true);
    with_hole(&Plain { length: 400.0 }, &kit, 400.0, Fineness::USUAL, |hole| {
        assert!(matches!(solve(hole, &Worth::Strokes, &stop), Err(Unsolved::CalledOff)));
        let solution = solve(hole, &Worth::Strokes, &GO).unwrap();
        assert!(solution.revalued(&Worth::Table(Table::at_most(4)), &stop).is_err());
    });
}
