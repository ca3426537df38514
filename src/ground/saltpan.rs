//! Hole 4 of notebook.md, and variations of it, for tests.
#![allow(clippy::unwrap_used)]

use super::{Bend, Face, Feature, Ground, HoleLine, Point, Polygon, Putting, Surface, TeeSpot, shapes};
use crate::units::{Across, Along, Band, LengthUnit};

pub fn band(text: &str) -> Band {
    Band::read(text, LengthUnit::Yards).unwrap()
}

pub fn feature(name: &str, surface: Surface, shapes: Vec<Polygon>) -> Feature {
    Feature { name: name.to_owned(), named: !name.is_empty(), surface, face: Face::Usual, shapes }
}

pub fn banded(line: &HoleLine, name: &str, surface: Surface, from: f64, to: f64, across: &str) -> Feature {
    feature(name, surface, vec![shapes::band(line, Along(from), Along(to), band(across)).unwrap()])
}

/// An empty hole of this length with one tee, a green 31 deep and 24 wide, and these bends.
pub fn bare(length: f64, bends: &[(f64, f64)], across: f64, turned: f64) -> Ground {
    let bends: Vec<Bend> = bends.iter().map(|(at, turn)| Bend { at: Along(*at), turn_deg: *turn }).collect();
    let line = HoleLine::new(&bends, Along(length));
    let middle = line.place(Along(length), Across(across));
    let axis_deg = line.last_heading_deg() + turned;
    let half = Point::towards(axis_deg) * 15.5;
    Ground {
        bends,
        length: Along(length),
        tees: vec![TeeSpot { name: "Back".to_owned(), at: Along(0.0), across: Across(0.0), point: Point::default() }],
        features: Vec::new(),
        green: Some(Putting {
            front: Along(length - 15.5),
            depth: 31.0,
            width: 24.0,
            middle,
            front_point: middle - half,
            back_point: middle + half,
            axis_deg,
            outline: shapes::green(middle, axis_deg, 31.0, 24.0),
            falls: None,
        }),
        heights: Vec::new(),
    }
}

/// notebook.md, hole 4, with `turn` degrees of bend instead of its 18.
pub fn saltpan(turn: f64) -> Ground {
    let bends: &[(f64, f64)] = if turn == 0.0 { &[] } else { &[(262.0, turn)] };
    let mut ground = bare(427.5, bends, 2.0, 15.0);
    let line = ground.line();
    for (name, at, across) in [("Club", 27.0, -3.0), ("Forward", 70.0, -18.0)] {
        let (at, across) = (Along(at), Across(across));
        ground.tees.push(TeeSpot { name: name.to_owned(), at, across, point: line.place(at, across) });
    }
    let stations = [(195.0, "14L..16R"), (270.0, "19L..22R"), (390.0, "11L..12R")];
    let stations: Vec<(Along, Band)> = stations.iter().map(|(at, x)| (Along(*at), band(x))).collect();
    let creek = [(Along(0.0), Across(40.0)), (Along(330.0), Across(52.0))];
    ground.features = vec![
        feature("", Surface::Fairway, vec![shapes::stations(&line, &stations).unwrap()]),
        banded(&line, "Kettle", Surface::Bunker, 238.0, 256.0, "13L..27L"),
        feature("the creek", Surface::PenaltyRed, shapes::path(&line, &creek, 8.0).unwrap()),
        banded(&line, "", Surface::Trees, 60.0, 210.0, "30L..70L"),
        banded(&line, "", Surface::Out, 0.0, 440.0, "75L.."),
    ];
    ground
}
