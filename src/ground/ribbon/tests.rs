//! The drawing at the sizes of terminals.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)]

use super::*;
use crate::ground::marks;
use crate::ground::saltpan::{banded, bare, saltpan};
use crate::units::{LengthUnit, TeeOrigin};
use proptest::prelude::*;

/// One letter a surface, two half-rows a line, for looking at.
fn text(ribbon: &Ribbon) -> String {
    let letter = |cell: HalfCell| match cell.surface {
        None => ' ',
        Some(Surface::Out) => '#',
        Some(Surface::PenaltyRed) => '~',
        Some(Surface::PenaltyYellow) => '=',
        Some(Surface::Bunker) => 'o',
        Some(Surface::Green) => 'G',
        Some(Surface::Fringe) => 'f',
        Some(Surface::Tee) => 'T',
        Some(Surface::Fairway) => '-',
        Some(Surface::Trees) => '^',
        Some(Surface::Deep) => '"',
        Some(Surface::Waste) => '+',
        Some(Surface::Rough) => '.',
    };
    let row = |half_row: usize| (0..ribbon.columns()).map(|c| letter(ribbon.cell(c, half_row))).collect::<String>();
    (0..ribbon.half_rows()).map(row).collect::<Vec<_>>().join("\n")
}

#[test]
fn saltpan_at_the_usual_size() {
    let drawn = text(&Ribbon::new(&saltpan(18.0), 1, 118, 30, View::AlongLine));
    // The picture that a change of the drawing must be compared with; its look was checked against hole-sketch.png.
    let expected = include_str!("saltpan_118x30.txt");
    assert_eq!(drawn, expected.trim_end(), "\n{drawn}");
}

#[test]
fn one_scale_fits_the_hole_and_shows_eighty_yards_across() {
    for (columns, half_rows) in [(118, 30), (78, 14), (40, 60), (200, 10), (20, 6)] {
        for (ground, view) in [
            (saltpan(18.0), View::AlongLine),
            (saltpan(50.0), View::TrueShape),
            (bare(120.0, &[], 0.0, 0.0), View::AlongLine),
        ] {
            let ribbon = Ribbon::new(&ground, 0, columns, half_rows, view);
            assert!(ribbon.scale() * half_rows as f64 >= ACROSS - 1e-9);
            let green = ground.green.as_ref().unwrap();
            let spots: Vec<_> =
                ground.tees.iter().map(|tee| tee.point).chain(green.outline.outer.iter().copied()).collect();
            assert!(spots.iter().all(|spot| ribbon.cell_of_point(*spot).is_some()), "{columns}x{half_rows}");
            // One of the two limits is met.
            let (left, _) = ribbon.place(0, half_rows / 2);
            let tight = (ribbon.scale() * half_rows as f64 - ACROSS).abs() < 1e-6
                || view == View::TrueShape
                || (ground.tees[0].at.0 - BEHIND - left.0 + ribbon.scale() / 2.0).abs() < 1e-6;
            assert!(tight, "{columns}x{half_rows}");
        }
    }
}

#[test]
fn a_bunker_is_as_large_as_it_is() {
    let mut ground = bare(300.0, &[], 0.0, 0.0);
    let line = ground.line();
    ground.features = vec![banded(&line, "", Surface::Bunker, 100.0, 160.0, "5L..35L")];
    let ribbon = Ribbon::new(&ground, 0, 120, 36, View::AlongLine);
    let count = ribbon.cells.iter().filter(|cell| cell.feature == Some(0)).count() as f64;
    let drawn = count * ribbon.scale() * ribbon.scale();
    // A danger wins its edge cells from a third on: at most a sixth of a half-cell more all round.
    let more = 2.0 * 90.0 * ribbon.scale() / 6.0;
    assert!(drawn > 1700.0 && drawn < 1780.0 + more, "{drawn} square yards drawn for 1,780");
}

#[test]
fn small_features_keep_a_half_cell_each() {
    let mut ground = saltpan(18.0);
    let line = ground.line();
    for (from, across) in
        [(300.0, "1L..1R"), (303.0, "1L..1R"), (321.3, "3R..4R"), (350.0, "20L..19L"), (380.2, "5R..6R")]
    {
        ground.features.push(banded(&line, "", Surface::Bunker, from, from + 1.0, across));
    }
    let ditch = [(Along(215.0), Across(-40.0)), (Along(216.0), Across(38.0))];
    let ditch = crate::ground::shapes::path(&line, &ditch, 0.4).unwrap();
    ground.features.push(crate::ground::saltpan::feature("ditch", Surface::PenaltyYellow, ditch));
    for (columns, half_rows) in [(118, 30), (78, 14), (60, 12)] {
        for view in [View::AlongLine, View::TrueShape] {
            let ribbon = Ribbon::new(&ground, 0, columns, half_rows, view);
            for (index, feature) in ground.features.iter().enumerate() {
                let owned = ribbon.cells.iter().filter(|cell| cell.feature == Some(index)).count();
                assert!(
                    owned > 0 || feature.surface == Surface::Out || half_rows < 30,
                    "{index} at {columns}x{half_rows}\n{}",
                    text(&ribbon)
                );
                assert!(
                    owned > 0 || feature.surface != Surface::Bunker,
                    "{index} at {columns}x{half_rows}\n{}",
                    text(&ribbon)
                );
            }
            assert!(ribbon.cells.iter().any(|cell| cell.surface == Some(Surface::Green)));
            let marks = marks(&ground);
            let letters = ribbon.letters(&marks);
            for (i, letter) in letters.iter().enumerate() {
                assert_eq!(ribbon.cell(letter.column, letter.half_row).feature, Some(letter.feature));
                assert!(marks.contains(&(letter.feature, letter.letter)));
                let clash = |other: &Letter| other.column == letter.column && other.half_row / 2 == letter.half_row / 2;
                assert!(!letters[..i].iter().any(clash));
            }
        }
    }
}

#[test]
fn bends_and_distances_stand_where_they_belong() {
    let ground = saltpan(18.0);
    let ribbon = Ribbon::new(&ground, 1, 118, 30, View::AlongLine);
    let bend = ribbon.bends()[0];
    assert_eq!((bend.column, bend.half_row), ribbon.cell_of(Along(262.0), Across(0.0)).unwrap());
    assert_eq!(bend.turn_deg, 18.0);
    let from_tee = ribbon.from_tee(TeeOrigin(Along(27.0)), LengthUnit::Yards);
    assert_eq!(
        from_tee.iter().map(|tick| tick.figure).collect::<Vec<_>>(),
        (0..18).map(|i| i * 25).collect::<Vec<_>>()
    );
    for tick in &from_tee {
        let at = Along(27.0 + f64::from(tick.figure));
        assert_eq!(ribbon.cell_of(at, Across(0.0)).unwrap().0, tick.column);
    }
    let to_middle = ribbon.to_middle(LengthUnit::Metres);
    for tick in &to_middle {
        let at = Along(427.5 - f64::from(tick.figure) / 0.9144);
        assert_eq!(ribbon.cell_of(at, Across(0.0)).unwrap().0, tick.column);
    }
    assert!(to_middle.windows(2).all(|pair| pair[0].figure > pair[1].figure && pair[1].column > pair[0].column + 4));
    let wide = ribbon.fairway(ribbon.cell_of(Along(270.0), Across(0.0)).unwrap().0).unwrap();
    assert!((wide.width() - 41.0).abs() < 0.6, "{wide:?}");
    assert_eq!(ribbon.fairway(0), None);
    assert_eq!(ribbon.tees()[1], ribbon.cell_of(Along(27.0), Across(-3.0)));
}

#[test]
fn the_true_shape_is_level_from_tee_to_green_and_a_sharp_bend_folds_the_ribbon() {
    let mut ground = bare(400.0, &[(200.0, 90.0)], 0.0, 0.0);
    ground.features = vec![banded(&ground.line(), "", Surface::Bunker, 300.0, 330.0, "10L..30L")];
    let shape = Ribbon::new(&ground, 0, 118, 40, View::TrueShape);
    let tee = shape.spot_of(ground.tees[0].point);
    let green = shape.spot_of(ground.green.as_ref().unwrap().middle);
    assert!((tee.1 - green.1).abs() < 1e-9 && green.0 > tee.0);
    let corner = shape.spot(Along(200.0), Across(0.0));
    assert!(corner.1 < tee.1 - 10.0, "the line runs out to the left first, which is at the top: {corner:?} {tee:?}");
    assert!(shape.from_tee(TeeOrigin::default(), LengthUnit::Yards).is_empty());
    assert!(shape.cells.iter().all(|cell| cell.surface.is_some()), "every half-cell is a piece of the plane");
    let ribbon = Ribbon::new(&ground, 0, 118, 40, View::AlongLine);
    let (column, half_row) = ribbon.cell_of(Along(200.0), Across(50.0)).unwrap();
    assert_eq!(ribbon.cell(column, half_row).surface, None, "beyond the turning centre at 38R");
    for ribbon in [&ribbon, &shape] {
        let owned: Vec<_> = (0..118 * 40).filter(|i| ribbon.cells[*i].feature == Some(0)).collect();
        assert!(
            owned.iter().all(|i| {
                let (at, across) = ribbon.place(i % 118, i / 118);
                (295.0..335.0).contains(&at.0) && (-35.0..-5.0).contains(&across.0)
            }),
            "{}",
            text(ribbon)
        );
    }
}

#[test]
fn any_size_is_drawn() {
    let mut empty = bare(0.0, &[], 0.0, 0.0);
    empty.green = None;
    empty.tees.clear();
    for ground in [saltpan(18.0), empty] {
        for columns in 0..5 {
            for half_rows in 0..5 {
                for view in [View::AlongLine, View::TrueShape] {
                    let ribbon = Ribbon::new(&ground, 9, columns, half_rows, view);
                    assert_eq!(ribbon.cells.len(), columns * half_rows);
                    assert_eq!(ribbon.cell(columns, 0).surface, None);
                    let _ = (ribbon.bends(), ribbon.letters(&marks(&ground)), ribbon.to_middle(LengthUnit::Yards));
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(12))]

    #[test]
    fn a_mirrored_hole_is_drawn_upside_down(
        turn in -30.0..30.0f64, true_shape in any::<bool>(), columns in 20usize..130, half_rows in 6usize..40,
    ) {
        let view = if true_shape { View::TrueShape } else { View::AlongLine };
        let ground = saltpan(turn);
        let (one, other) = (Ribbon::new(&ground, 1, columns, half_rows, view), Ribbon::new(&ground.mirrored(), 1, columns, half_rows, view));
        for half_row in 0..half_rows {
            for column in 0..columns {
                prop_assert_eq!(one.cell(column, half_row), other.cell(column, half_rows - 1 - half_row), "{} {}", column, half_row);
            }
        }
    }

    #[test]
    fn a_half_cell_leads_to_its_place_and_back(
        turn in -30.0..30.0f64, true_shape in any::<bool>(), column in 0usize..118, half_row in 0usize..30,
    ) {
        let view = if true_shape { View::TrueShape } else { View::AlongLine };
        let ground = saltpan(turn);
        let ribbon = Ribbon::new(&ground, 1, 118, 30, view);
        let (at, across) = ribbon.place(column, half_row);
        prop_assert_eq!(ribbon.cell_of(at, across), Some((column, half_row)));
        prop_assert_eq!(ribbon.cell_of_point(ribbon.point(column, half_row)), Some((column, half_row)));
        prop_assert!(ground.line().place(at, across).distance(ribbon.point(column, half_row)) < 1e-6);
    }

    #[test]
    fn what_fills_a_half_cell_is_what_is_drawn(turn in -30.0..30.0f64, true_shape in any::<bool>()) {
        let view = if true_shape { View::TrueShape } else { View::AlongLine };
        let ground = saltpan(turn);
        let ribbon = Ribbon::new(&ground, 1, 118, 30, view);
        for half_row in 0..30 {
            for column in (half_row % 3..118).step_by(3) {
                let spot = ribbon.point(column, half_row);
                let far_from_edges = ground.features.iter().all(|f| f.distance(spot).abs() > ribbon.scale())
                    && ground.tees.iter().all(|tee| tee.point.distance(spot) > 2.0 * ribbon.scale())
                    && ground.green.as_ref().unwrap().outline.distance(spot).abs() > ribbon.scale();
                if far_from_edges {
                    prop_assert_eq!(ribbon.cell(column, half_row).surface, Some(ground.surface_at(spot)), "{} {}", column, half_row);
                }
            }
        }
    }
}
