//! What a player reads at a spot, against numbers that can be counted by hand.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use super::saltpan::{banded, bare, feature, saltpan};
use super::stand::{DangerReading, Lies, Side};
use super::stops::{Matter, next, previous};
use super::{Corridor, Feature, Ground, Point, Surface, shapes};
use crate::units::{Across, Along, FromTee};
use proptest::prelude::*;

fn about(a: f64, b: f64, by: f64) -> bool {
    (a - b).abs() <= by
}

fn with(features: Vec<Feature>) -> Corridor {
    let mut ground = bare(400.0, &[], 0.0, 0.0);
    ground.features = features;
    Corridor::new(&ground)
}

fn of(dangers: &[DangerReading], feature: usize) -> DangerReading {
    *dangers.iter().find(|danger| danger.feature == feature).unwrap()
}

#[test]
fn from_the_club_tee_kettle_is_211_to_229() {
    // notebook.md and hole-sketch.png: Kettle 238..256 along the line is 211 to 229 from the Club tee 27 along it.
    let corridor = Corridor::new(&saltpan(18.0));
    let reading = corridor.stand(Along(27.0), Across(-3.0), 1);
    assert_eq!(reading.from_tee, FromTee(0.0));
    assert_eq!(reading.lie, Surface::Tee);
    let kettle = of(&reading.dangers, 1);
    assert!(about(kettle.reach.along, 211.0, 0.01) && about(kettle.reach.straight, 211.0, 0.1), "{kettle:?}");
    assert!(about(kettle.carry.along, 229.0, 0.01) && about(kettle.carry.straight, 229.0, 0.5), "{kettle:?}");
    let Lies::Beside { side: Side::Left, room } = kettle.lies else { unreachable!("{kettle:?}") };
    // The way draws from 3L to 2R over 400.5 yards; at 256 it is 0.1L.
    assert!(about(room, 12.5, 0.5), "{room}");
    // Right of it, where its rounded corner ends at 241.5, the fairway reaches from 13L to 16R and 6 * 46.5/75 more.
    assert!(about(kettle.fairway_beside.unwrap(), 13.0 + 19.72, 0.1), "{kettle:?}");
    let creek = of(&reading.dangers, 2);
    assert_eq!((creek.reach.straight, creek.lies), (0.0, Lies::Beside { side: Side::Right, room: room_of(&creek) }));
    assert!(about(creek.carry.along, 307.0, 0.2), "its end at 330 is round: 334 less 27");
    let green = reading.green.unwrap();
    assert!(about(green.middle.along, 400.5, 0.1));
    // Two legs that would meet 30.25 beyond the arc's ends at 18 degrees: the law of cosines on 235.2 and 165.7 gives 396.2.
    assert!(about(green.middle.straight, 396.2, 0.5), "{green:?}");
    assert!(about(green.front.straight, green.middle.straight - 14.6, 0.1), "{green:?}");
    assert!(about(reading.tees[2].straight, corridor.ground().tees[2].point.distance(reading.point), 1e-9));
    assert_eq!(reading.tees[0].along, 27.0);
    assert_eq!(reading.fairway, None, "no fairway yet");
    let (pinch, how_far) = reading.pinch.unwrap();
    assert!(about(pinch.at.0, 389.0, 1.1) && about(pinch.width(), 23.1, 0.2), "{pinch:?}");
    assert!(about(how_far.along, 362.0, 1.1));
}

fn room_of(danger: &DangerReading) -> f64 {
    match danger.lies {
        Lies::Beside { room, .. } => room,
        Lies::Across { .. } => f64::NAN,
    }
}

#[test]
fn a_ditch_across_the_hole_has_to_be_carried() {
    let line = bare(400.0, &[], 0.0, 0.0).line();
    let ditch = shapes::path(&line, &[(Along(210.0), Across(-60.0)), (Along(230.0), Across(60.0))], 4.0).unwrap();
    let corridor = with(vec![
        feature("ditch", Surface::PenaltyRed, ditch),
        banded(&line, "cross", Surface::Bunker, 300.0, 312.0, "20L..6R"),
        banded(&line, "burn", Surface::PenaltyYellow, 330.25, 330.75, "40L..40R"),
        banded(&line, "back", Surface::Out, 430.0, 470.0, "90L..90R"),
    ]);
    let reading = corridor.stand(Along(100.0), Across(0.0), 0);
    // The ditch's edges stand 2 off a line of slope 1/6: 2 * sqrt(1 + 1/36) along the hole from its middle at 220.
    let half = 2.0 * (1.0f64 + 1.0 / 36.0).sqrt();
    let ditch = of(&reading.dangers, 0);
    assert!(about(ditch.reach.straight, 120.0 - half, 0.01), "{ditch:?}");
    assert!(about(ditch.carry.straight, 120.0 + half, 0.01), "{ditch:?}");
    assert_eq!(ditch.lies, Lies::Across { around: None }, "60 and more either way: nobody walks round it");
    let cross = of(&reading.dangers, 1);
    assert!(about(cross.reach.straight, 200.0, 0.01) && about(cross.carry.straight, 212.0, 0.01));
    assert_eq!(cross.lies, Lies::Across { around: Some((Side::Right, 6.0)) });
    let burn = of(&reading.dangers, 2);
    assert!(about(burn.reach.straight, 230.25, 0.01) && about(burn.carry.straight, 230.75, 0.01), "{burn:?}");
    assert!(about(of(&reading.dangers, 3).reach.straight, 330.0, 0.01), "behind the green it is still ahead");
    let order: Vec<usize> = reading.dangers.iter().map(|danger| danger.feature).collect();
    assert_eq!(order, [0, 1, 2, 3]);
    let past = corridor.stand(Along(320.0), Across(0.0), 0);
    assert!(past.dangers.iter().all(|danger| danger.feature > 1), "what lies behind is left out");
    let inside = corridor.stand(Along(306.0), Across(0.0), 0);
    assert_eq!(inside.lie, Surface::Bunker);
    let cross = of(&inside.dangers, 1);
    assert_eq!(cross.reach.straight, 0.0);
    assert!(about(cross.carry.straight, 6.0, 0.01), "{cross:?}");
}

#[test]
fn round_a_bend_straight_and_along_differ_and_both_are_given() {
    let ground = bare(400.0, &[(200.0, 90.0)], 0.0, 0.0);
    let corridor = Corridor::new(&ground);
    let reading = corridor.stand(Along(0.0), Across(0.0), 0);
    let middle = reading.green.unwrap().middle;
    // Legs of 170 and an arc of radius 120/pi: both ways 170 + 120/pi.
    let leg = 170.0 + 120.0 / std::f64::consts::PI;
    assert!(about(middle.straight, leg * std::f64::consts::SQRT_2, 1e-6));
    assert!(about(middle.along, 400.0, 1e-9) && middle.differs());
    let near = corridor.stand(Along(330.0), Across(0.0), 0).green.unwrap();
    assert!(about(near.middle.straight, 70.0, 1e-9) && !near.middle.differs());
    assert!(about(near.front.straight, 70.0 - 15.5, 0.05) && about(near.back.straight, 70.0 + 15.5, 0.05));
    let on = corridor.stand(Along(405.0), Across(0.0), 0).green.unwrap();
    assert_eq!(on.front.straight, 0.0);
    assert!(about(on.back.straight, 5.0 + 15.5, 0.05), "across the middle to the other edge");
}

#[test]
fn the_fairway_is_as_wide_as_drawn_less_the_sand_in_it() {
    let corridor = Corridor::new(&saltpan(18.0));
    let at = |along: f64| corridor.fairway_at(Along(along), Across(0.0));
    assert_eq!(at(100.0), None);
    let start = at(195.0).unwrap();
    assert!(about(start.left.0, -14.0, 1e-6) && about(start.right.0, 16.0, 1e-6));
    let pinched = at(250.0).unwrap();
    assert!(about(pinched.left.0, -13.0, 0.01), "Kettle's edge: {pinched:?}");
    let wide = at(270.0).unwrap();
    assert!(about(wide.width(), 41.0, 0.01));
    // Kettle is a pinch: 32 or so beside it, 41 after it.
    let pinches = corridor.pinches(4.0);
    assert_eq!(pinches.len(), 0, "before Kettle the fairway is only 30 wide: it is no narrower beside it");
    let line = bare(400.0, &[], 0.0, 0.0).line();
    let bands: Vec<_> = [(200.0, "20L..20R"), (250.0, "9L..10R"), (300.0, "20L..20R")]
        .map(|(a, x)| (Along(a), super::saltpan::band(x)))
        .to_vec();
    let waist = with(vec![feature("", Surface::Fairway, vec![shapes::stations(&line, &bands).unwrap()])]);
    let found = waist.pinches(4.0);
    assert_eq!((found.len(), found[0].at, found[0].width()), (1, Along(250.0), 19.0));
}

#[test]
fn one_steps_from_thing_to_thing() {
    let corridor = Corridor::new(&saltpan(18.0));
    let stops = corridor.stops();
    let has = |at: f64, what: Matter| stops.iter().any(|stop| about(stop.at.0, at, 0.02) && stop.what == what);
    assert!(has(27.0, Matter::Tee(1)));
    assert!(has(238.0, Matter::DangerBegins(1)) && has(256.0, Matter::DangerEnds(1)), "{stops:?}");
    assert!(has(195.0, Matter::FairwayBegins) && has(390.0, Matter::FairwayEnds));
    assert!(has(262.0, Matter::Bend(0)) && has(412.0, Matter::Front) && has(443.0, Matter::Back));
    let onwards = next(&stops, Along(211.0)).unwrap();
    assert_eq!(onwards.what, Matter::DangerBegins(1));
    assert_eq!(previous(&stops, onwards.at).map(|stop| stop.at.0.round()), Some(210.0), "the trees end");
    assert_eq!(next(&stops, Along(443.0)), None);
}

#[test]
fn a_wood_with_two_halves_is_two_parts_and_a_horseshoe_one() {
    let line = bare(400.0, &[], 0.0, 0.0).line();
    let mut wood = banded(&line, "wood", Surface::Trees, 100.0, 200.0, "30L..60L");
    wood.shapes.extend(banded(&line, "", Surface::Trees, 100.0, 200.0, "30R..60R").shapes);
    let places = [(100.0, -50.0), (160.0, -30.0), (200.0, 0.0), (160.0, 30.0), (100.0, 50.0)];
    let places: Vec<_> = places.iter().map(|(at, x)| (Along(*at), Across(*x))).collect();
    let horseshoe = feature("shoe", Surface::PenaltyRed, shapes::path(&line, &places, 10.0).unwrap());
    let corridor = with(vec![wood]);
    assert_eq!(corridor.parts().len(), 2);
    let reading = corridor.stand(Along(0.0), Across(0.0), 0);
    assert!(reading.dangers.iter().all(|danger| room_of(danger) == 30.0), "the hole between them is open");
    let corridor = with(vec![horseshoe]);
    assert_eq!(corridor.parts().len(), 1);
    let reading = corridor.stand(Along(0.0), Across(0.0), 0);
    assert!(about(reading.dangers[0].reach.along, 200.0 - 5.0 * (1.0f64 + 16.0 / 9.0).sqrt(), 0.1), "{reading:?}");
}

#[test]
fn past_the_green_one_looks_back() {
    let line = bare(400.0, &[], 0.0, 0.0).line();
    let corridor = with(vec![banded(&line, "pot", Surface::Bunker, 418.0, 424.0, "4L..4R")]);
    let reading = corridor.stand(Along(430.0), Across(0.0), 0);
    let pot = reading.dangers[0];
    assert!(about(pot.reach.straight, 6.0, 0.6) && about(pot.carry.straight, 12.0, 0.6), "{pot:?}");
    assert!(about(reading.green.unwrap().front.straight, 14.5, 0.1));
}

fn mirror_of(side: Side) -> Side {
    match side {
        Side::Left => Side::Right,
        Side::Right => Side::Left,
    }
}

fn sandy(turn: f64, from: f64, long: f64, left: f64, wide: f64) -> Ground {
    let mut ground = saltpan(turn);
    let line = ground.line();
    let across = crate::units::Band { left, right: left + wide };
    if let Ok(shape) = shapes::band(&line, Along(from), Along(from + long), across) {
        ground.features.push(feature("pit", Surface::Bunker, vec![shape]));
    }
    ground
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn a_mirrored_hole_gives_mirrored_readings(
        turn in -30.0..30.0f64, from in 20.0..380.0f64, long in 3.0..60.0f64, left in -60.0..40.0f64, wide in 3.0..40.0f64,
        at in 0.0..420.0f64, across in -25.0..25.0f64,
    ) {
        let ground = sandy(turn, from, long, left, wide);
        let (one, other) = (Corridor::new(&ground), Corridor::new(&ground.mirrored()));
        let (a, b) = (one.stand(Along(at), Across(across), 1), other.stand(Along(at), Across(-across), 1));
        prop_assert_eq!(a.dangers.len(), b.dangers.len());
        for (mine, image) in a.dangers.iter().zip(&b.dangers) {
            prop_assert_eq!(mine.feature, image.feature);
            prop_assert!(about(mine.reach.straight, image.reach.straight, 1e-6));
            prop_assert!(about(mine.carry.straight, image.carry.straight, 1e-6));
            match (mine.lies, image.lies) {
                (Lies::Beside { side, room }, Lies::Beside { side: other, room: same }) => {
                    prop_assert_eq!(side, mirror_of(other));
                    prop_assert!(about(room, same, 1e-6));
                }
                (Lies::Across { around }, Lies::Across { around: other }) => {
                    prop_assert_eq!(around.is_some(), other.is_some());
                }
                _ => prop_assert!(false, "{:?} {:?}", mine, image),
            }
        }
    }

    #[test]
    fn a_danger_is_reached_before_it_is_carried_and_ends_where_its_shape_does(
        turn in -30.0..30.0f64, from in 20.0..380.0f64, long in 3.0..60.0f64, left in -60.0..40.0f64, wide in 3.0..40.0f64,
        at in 0.0..420.0f64, across in -25.0..25.0f64,
    ) {
        let ground = sandy(turn, from, long, left, wide);
        let corridor = Corridor::new(&ground);
        let reading = corridor.stand(Along(at), Across(across), 0);
        for danger in &reading.dangers {
            prop_assert!(danger.reach.along <= danger.carry.along + 1e-6, "{:?}", danger);
            prop_assert!(danger.carry.along > 0.0);
            prop_assert!(danger.nearest <= danger.carry.straight + 130.0);
        }
        let whole: Vec<_> = corridor.parts().iter().filter(|part| part.feature == 5).collect();
        if let (1, Some(part)) = (whole.len(), whole.first()) {
            // Other ground may hide its ends, never lengthen it.
            prop_assert!(part.from.0 >= from - 0.01 && part.to.0 <= from + long + 0.01, "{:?} {} {}", part.from, from, long);
        }
        for part in corridor.parts() {
            let feature = &ground.features[part.feature];
            for slice in part.slices.iter().step_by(9) {
                // Where Kettle begins or ends at this very cut, the arithmetic may fall on either side.
                if part.feature != 1 && [238.0, 256.0].contains(&slice.at) {
                    continue;
                }
                let middle = corridor.line().place(Along(slice.at), Across((slice.left + slice.right) / 2.0));
                prop_assert!(feature.distance(middle) < 1e-6);
                // At its very first and last line the arithmetic may fall on either side.
                prop_assert!(feature.distance(middle) > -1e-6 || ground.feature_at(middle) == Some(part.feature));
                if slice.at < part.from.0 + 0.01 || slice.at > part.to.0 - 0.01 {
                    continue;
                }
                let edge = corridor.line().place(Along(slice.at), Across(slice.right + 1e-4));
                prop_assert!(ground.feature_at(edge) != Some(part.feature) || slice.right > 119.0, "{:?}", edge);
            }
        }
    }
}

#[test]
fn an_empty_ground_can_be_read() {
    let mut ground = bare(0.0, &[], 0.0, 0.0);
    ground.green = None;
    ground.tees.clear();
    let reading = Corridor::new(&ground).stand(Along(10.0), Across(1.0), 3);
    assert_eq!((reading.green, reading.dangers.len(), reading.point), (None, 0, Point::new(1.0, 10.0)));
}
