//! The sketch of notebook.md's hole 4 laid out, and every problem.
#![allow(clippy::unwrap_used, clippy::panic)]

use super::*;
use crate::ground::{Face, Raster};
use crate::notebook::Span;
use crate::units::{Across, Band, LengthUnit};
use proptest::prelude::*;

fn band(text: &str) -> Band {
    Band::read(text, LengthUnit::Yards).unwrap()
}

fn piece(surface: Surface, name: Option<&str>, form: Form) -> Piece {
    Piece {
        surface,
        name: name.map(str::to_owned),
        face: Face::Usual,
        form,
        id: None,
        sure: None,
        seen: None,
        span: Span { start: 1, end: 2 },
    }
}

fn banded(surface: Surface, name: Option<&str>, from: f64, to: f64, across: &str) -> Piece {
    let form = Form::Band { from: Along(from), to: Along(to), across: band(across) };
    piece(surface, name, form)
}

fn tee(name: &str, length: f64, at: f64, across: f64) -> HoleTee {
    HoleTee { name: name.to_owned(), length, at: Along(at), across: Across(across), span: Span::default() }
}

type Parts = (Sketch, Vec<Bend>, Vec<HoleTee>, Vec<(Along, f64)>);

/// notebook.md, "Course notebook", hole 4.
fn saltpan() -> Parts {
    let stations = [(195.0, "14L..16R"), (270.0, "19L..22R"), (390.0, "11L..12R")];
    let mut kettle = banded(Surface::Bunker, Some("Kettle"), 238.0, 256.0, "13L..27L");
    kettle.face = Face::Steep;
    let creek = Form::Path { points: vec![(Along(0.0), Across(40.0)), (Along(330.0), Across(52.0))], width: 8.0 };
    let sketch = Sketch {
        pieces: vec![
            piece(
                Surface::Fairway,
                None,
                Form::Stations(stations.iter().map(|(at, x)| (Along(*at), band(x))).collect()),
            ),
            kettle,
            piece(Surface::PenaltyRed, Some("the creek"), creek),
            banded(Surface::Trees, None, 60.0, 210.0, "30L..70L"),
            banded(Surface::Out, None, 0.0, 440.0, "75L.."),
        ],
        green: Some(SketchGreen {
            front: Along(412.0),
            depth: 31.0,
            width: 24.0,
            across: Across(2.0),
            turned_deg: 15.0,
            up: Some(-1.0),
            falls: Some((1.8, 7.0)),
            slopes: Vec::new(),
            height_grid: None,
            sure: None,
            seen: None,
            span: Span::default(),
        }),
    };
    let bends = vec![Bend { at: Along(262.0), turn_deg: 18.0 }];
    let tees = vec![tee("Back", 428.0, 0.0, 0.0), tee("Club", 401.0, 27.0, -3.0), tee("Forward", 356.0, 70.0, -18.0)];
    let heights = vec![(Along(0.0), 0.0), (Along(262.0), -4.0), (Along(412.0), -1.0)];
    (sketch, bends, tees, heights)
}

fn lay(sketch: &Sketch, bends: &[Bend], tees: &[HoleTee], heights: &[(Along, f64)]) -> (Ground, Vec<Problem>) {
    lay_out(Drawn { sketch, bends, tees, heights })
}

fn ground() -> Ground {
    let (sketch, bends, tees, heights) = saltpan();
    let (ground, problems) = lay(&sketch, &bends, &tees, &heights);
    assert_eq!(problems, []);
    ground
}

#[test]
fn saltpan_lies_where_its_numbers_say() {
    let ground = ground();
    let line = ground.line();
    let at = |along: f64, across: f64| ground.surface_at(line.place(Along(along), Across(across)));
    assert_eq!(ground.length, Along(427.5), "front and half the depth");
    assert_eq!(at(247.0, -20.0), Surface::Bunker);
    assert_eq!(at(247.0, -13.0), Surface::Bunker, "its edge belongs to it");
    assert_eq!(at(247.0, -12.9), Surface::Fairway);
    assert_eq!(at(247.0, -27.1), Surface::Rough);
    assert_eq!(at(237.9, -20.0), Surface::Rough);
    assert_eq!(at(256.1, -20.0), Surface::Rough);
    assert_eq!(at(238.5, -13.5), Surface::Fairway, "corners are rounded");
    assert_eq!(at(165.0, 46.0), Surface::PenaltyRed, "half way along the creek");
    assert_eq!(at(165.0, 50.1), Surface::Rough);
    assert_eq!(at(165.0, 49.9), Surface::PenaltyRed);
    assert_eq!(at(333.0, 52.0), Surface::PenaltyRed, "its end is round");
    assert_eq!(at(334.1, 52.0), Surface::Rough);
    assert_eq!(at(120.0, -50.0), Surface::Trees);
    assert_eq!(at(300.0, -75.0), Surface::Out);
    assert_eq!(at(300.0, -390.0), Surface::Out, "outwards without end");
    assert_eq!(at(300.0, -74.9), Surface::Rough);
    assert_eq!(at(427.5, 2.0), Surface::Green);
    assert_eq!(at(27.0, -3.0), Surface::Tee);
    assert_eq!(at(195.0, 16.0), Surface::Fairway);
    assert_eq!(at(194.9, 0.0), Surface::Rough, "the fairway is square at its ends");
    assert_eq!(at(330.0, -15.0), Surface::Fairway, "half way from 19L to 11L");
    assert_eq!(at(330.0, -15.1), Surface::Rough);
    let names: Vec<&str> = ground.features.iter().map(|f| f.name.as_str()).collect();
    assert_eq!(names, ["fairway", "Kettle", "the creek", "trees left", "out of bounds left"]);
    assert_eq!(ground.feature_at(line.place(Along(247.0), Across(-14.0))), Some(1));
    assert!((ground.height_at(Along(131.0)) + 2.0).abs() < 1e-12);
}

#[test]
fn areas_are_those_of_the_figures() {
    let ground = ground();
    let area = |index: usize| ground.features[index].area();
    // A rectangle of 18 by 14 less four corners of radius 3.5: 4 r^2 - pi r^2; an ellipse: pi a b.
    let kettle = 18.0 * 14.0 - (4.0 - std::f64::consts::PI) * 3.5 * 3.5;
    // Past 232 the line bends right, so the left side fans out by 4.5 degrees over the bunker's reach beyond it.
    let fan = 1.0 + (20.0 / (60.0 / 18f64.to_radians()));
    assert!((area(1) - kettle * fan).abs() < 4.0, "{} {}", area(1), kettle * fan);
    let green = ground.green.as_ref().unwrap();
    let ellipse = std::f64::consts::PI * 31.0 * 24.0 / 4.0;
    assert!((green.outline.area() - ellipse).abs() < 0.01 * ellipse);
    assert!((green.front_point.distance(green.back_point) - 31.0).abs() < 1e-9);
    assert!((green.axis_deg - 33.0).abs() < 1e-9, "15 to the right of the last leg, itself turned by 18");
    // 7 on the clock is 210 degrees from straight on.
    assert!((green.falls.unwrap().1 - 228.0).abs() < 1e-9);
    // Trees on the straight leg: 150 by 40 with corners of 5.
    let trees = 150.0 * 40.0 - (4.0 - std::f64::consts::PI) * 25.0;
    assert!((area(3) - trees).abs() < 2.0);
}

#[test]
fn the_raster_is_what_the_shapes_say() {
    let ground = ground();
    for cells in [1, 2] {
        let raster = Raster::with_cells(&ground, cells);
        for index in 0..raster.bytes().len() {
            let middle = raster.middle(index);
            assert_eq!(raster.surface(middle), ground.surface_at(middle), "{middle:?}");
            assert_eq!(raster.feature(middle), ground.feature_at(middle), "{middle:?}");
        }
        let bare = raster.without(1);
        for index in 0..bare.bytes().len() {
            let middle = bare.middle(index);
            assert_eq!(bare.surface(middle), ground.surface_without(1, middle), "{middle:?}");
        }
    }
}

#[test]
fn a_mirrored_sketch_gives_the_mirrored_raster() {
    let (sketch, bends, tees, heights) = saltpan();
    let mirrored = mirror(&sketch);
    let bends_mirrored: Vec<Bend> = bends.iter().map(|b| Bend { turn_deg: -b.turn_deg, ..*b }).collect();
    let tees_mirrored: Vec<HoleTee> = tees.iter().map(|t| tee(&t.name, t.length, t.at.0, -t.across.0)).collect();
    let ground = lay(&sketch, &bends, &tees, &heights).0;
    let mirror = lay(&mirrored, &bends_mirrored, &tees_mirrored, &heights).0;
    let (raster, image) = (Raster::new(&ground), Raster::new(&mirror));
    for index in 0..raster.bytes().len() {
        let middle = raster.middle(index);
        assert_eq!(raster.surface(middle), image.surface(middle.mirrored()), "{middle:?}");
    }
}

fn mirror(sketch: &Sketch) -> Sketch {
    let side = |x: &Across| Across(-x.0);
    let turned = |b: &Band| Band { left: -b.right, right: -b.left };
    let places = |points: &[(Along, Across)]| points.iter().map(|(at, x)| (*at, side(x))).collect();
    let mut mirrored = sketch.clone();
    for piece in &mut mirrored.pieces {
        piece.form = match &piece.form {
            Form::Stations(stations) => Form::Stations(stations.iter().map(|(at, b)| (*at, turned(b))).collect()),
            Form::Band { from, to, across } => Form::Band { from: *from, to: *to, across: turned(across) },
            Form::Path { points, width } => Form::Path { points: places(points), width: *width },
            Form::Outline(points) => Form::Outline(places(points)),
            Form::Surveyed { coloured } => Form::Surveyed { coloured: *coloured },
        };
    }
    if let Some(green) = &mut mirrored.green {
        green.across = side(&green.across);
        green.turned_deg = -green.turned_deg;
    }
    mirrored
}

fn one(piece: Piece, bends: &[Bend]) -> Vec<What> {
    let (mut sketch, _, tees, heights) = saltpan();
    sketch.pieces = vec![piece];
    let (ground, problems) = lay(&sketch, bends, &tees, &heights);
    assert_eq!(ground.features.len() + problems.len(), 1);
    problems.into_iter().map(|p| p.what).collect()
}

#[test]
fn what_cannot_be_laid_out_is_reported_and_the_rest_stands() {
    let (_, bends, ..) = saltpan();
    let sharp = [Bend { at: Along(262.0), turn_deg: 80.0 }];
    let shape = |what: &What| match what {
        What::Shape { problem, .. } => *problem,
        other => panic!("{other:?}"),
    };
    let beyond = one(banded(Surface::Trees, None, 240.0, 300.0, "30R..60R"), &sharp);
    assert!(matches!(shape(&beyond[0]), ShapeProblem::BeyondTurn { .. }));
    assert!(beyond[0].message(LengthUnit::Yards).contains("43R"), "{}", beyond[0].message(LengthUnit::Yards));
    assert_eq!(one(banded(Surface::Trees, None, 240.0, 300.0, "30R..40R"), &sharp), []);
    assert_eq!(one(banded(Surface::Out, None, 0.0, 440.0, "35R.."), &sharp), []);
    let backwards = one(banded(Surface::Bunker, None, 250.0, 240.0, "3L..9L"), &bends);
    assert!(matches!(shape(&backwards[0]), ShapeProblem::OutOfOrder { .. }));
    let tie = [(200.0, 0.0), (220.0, 20.0), (220.0, 0.0), (200.0, 20.0)];
    let tie = Form::Outline(tie.iter().map(|(at, x)| (Along(*at), Across(*x))).collect());
    let crossing = one(piece(Surface::Bunker, Some("Tie"), tie), &bends);
    assert!(matches!(shape(&crossing[0]), ShapeProblem::CrossesItself { .. }));
    assert_eq!(crossing[0].message(LengthUnit::Yards), "the outline of Tie crosses itself near 210, 10R");
    let nothing = Form::Path { points: vec![(Along(3.0), Across(0.0))], width: 3.0 };
    assert_eq!(shape(&one(piece(Surface::Waste, None, nothing), &bends)[0]), ShapeProblem::NoArea);
    let long = one(banded(Surface::Bunker, None, 10.0, 600.0, "3L..9L"), &bends);
    assert!(matches!(long[0], What::OffTheHole { .. }));
    let far = one(banded(Surface::Deep, None, 10.0, 60.0, "3L..99999L"), &bends);
    assert!(matches!(shape(&far[0]), ShapeProblem::TooFar { .. }));
}

#[test]
fn bends_tees_and_greens_that_cannot_be_are_reported() {
    let (mut sketch, _, mut tees, heights) = saltpan();
    let wild = [Bend { at: Along(900.0), turn_deg: 20.0 }];
    tees[2].at = Along(430.0);
    let (ground, problems) = lay(&sketch, &wild, &tees, &heights);
    assert!(problems.iter().any(|p| matches!(p.what, What::BendOffTheLine { .. })));
    assert!(problems.iter().any(|p| matches!(&p.what, What::GreenBehindTee { tee } if tee == "Forward")));
    assert_eq!(ground.features.len(), 5);
    if let Some(green) = &mut sketch.green {
        green.depth = f64::NAN;
    }
    let (ground, problems) = lay(&sketch, &[], &tees, &heights);
    assert!(problems.iter().any(|p| p.what == What::GreenWithoutArea));
    assert!(ground.green.is_none());
    assert!(Raster::new(&ground).rows() > 0);
    let (empty, problems) = lay(&Sketch::default(), &[], &[], &[]);
    assert_eq!(problems, []);
    assert!(Raster::new(&empty).rows() > 0, "an empty hole can still be drawn");
}

#[test]
fn pieces_of_one_name_are_one_feature() {
    let (mut sketch, bends, tees, heights) = saltpan();
    sketch.pieces.push(banded(Surface::PenaltyRed, Some("the creek"), 350.0, 360.0, "20R..40R"));
    let ground = lay(&sketch, &bends, &tees, &heights).0;
    assert_eq!(ground.features.len(), 5);
    assert_eq!(ground.features[2].shapes.len(), 2, "the creek round the bend is one shape");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn any_sketch_is_laid_out_or_reported_and_its_raster_is_exact(
        turn in -100.0..100.0f64,
        at in 1.0..420.0f64,
        places in prop::collection::vec((-50.0..500.0f64, -90.0..90.0f64), 2..7),
        edges in (-120.0..120.0f64, 1.0..90.0f64),
        stretch in (0.0..300.0f64, 1.0..200.0f64),
    ) {
        let (mut sketch, _, tees, heights) = saltpan();
        let places: Vec<(Along, Across)> = places.iter().map(|(a, x)| (Along(a.round()), Across(x.round()))).collect();
        let band = Band { left: edges.0, right: edges.0 + edges.1 };
        let from = Along(stretch.0);
        let to = Along(stretch.0 + stretch.1);
        sketch.pieces.push(piece(Surface::Waste, None, Form::Path { points: places.clone(), width: edges.1 / 4.0 }));
        sketch.pieces.push(piece(Surface::Deep, None, Form::Outline(places)));
        sketch.pieces.push(piece(Surface::Bunker, None, Form::Band { from, to, across: band }));
        sketch.pieces.push(piece(Surface::Out, None, Form::Band {
            from, to, across: Band { left: band.right.abs(), right: f64::INFINITY },
        }));
        let bends = [Bend { at: Along(at), turn_deg: turn }];
        let (ground, _) = lay(&sketch, &bends, &tees, &heights);
        let raster = Raster::with_cells(&ground, 2);
        for index in (0..raster.bytes().len()).step_by(11) {
            let middle = raster.middle(index);
            prop_assert_eq!(raster.surface(middle), ground.surface_at(middle), "{:?}", middle);
            prop_assert_eq!(raster.feature(middle), ground.feature_at(middle), "{:?}", middle);
        }
    }

    #[test]
    fn an_open_side_is_the_ground_nearest_to_its_stretch_of_the_line(
        turn in -100.0..100.0f64, at in 40.0..380.0f64, edge in 10.0..80.0f64,
        from in 0.0..300.0f64, long in 5.0..200.0f64,
        along in -20.0..440.0f64, across in -200.0..200.0f64,
    ) {
        let line = HoleLine::new(&[Bend { at: Along(at), turn_deg: turn }], Along(427.5));
        let open = Band { left: f64::NEG_INFINITY, right: -edge };
        let to = from + long;
        if let Ok(shape) = shapes::band(&line, Along(from), Along(to), open) {
            let point = line.place(Along(along), Across(across));
            let (found, aside) = line.locate(point);
            let clear_of_edges = (found.0 - from).abs() > 6.0 && (found.0 - to).abs() > 6.0 && (aside.0 + edge).abs() > 0.1
                && (line.reach(found, aside.0).abs() - aside.0.abs()) > 6.0 && aside.0 > -380.0;
            if clear_of_edges {
                let inside = found.0 > from && found.0 < to && aside.0 < -edge;
                prop_assert_eq!(shape.contains(point), inside, "{:?} {:?}", found, aside);
            }
        }
    }

    #[test]
    fn a_path_holds_what_lies_within_half_its_width(
        places in prop::collection::vec((0.0..200.0f64, -60.0..60.0f64), 2..6),
        width in 1.0..20.0f64, right in -80.0..80.0f64, ahead in -20.0..220.0f64,
    ) {
        let line = HoleLine::new(&[], Along(400.0));
        let points: Vec<(Along, Across)> = places.iter().map(|(a, x)| (Along(*a), Across(*x))).collect();
        let polygons = shapes::path(&line, &points, width).unwrap();
        let point = Point::new(right, ahead);
        let distance = points
            .windows(2)
            .map(|w| crate::ground::plane::nearest_on(line.place(w[0].0, w[0].1), line.place(w[1].0, w[1].1), point).distance(point))
            .fold(f64::INFINITY, f64::min);
        // Round ends and joints are drawn with short straight edges.
        if (distance - width / 2.0).abs() > 0.02 * width {
            let inside = polygons.iter().any(|p| p.contains(point));
            prop_assert_eq!(inside, distance < width / 2.0, "{} {}", distance, width);
        }
    }
}
