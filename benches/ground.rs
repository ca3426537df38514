//! How fast the ground answers: laying out, exact and raster look-ups, cuts, stands, drawings.
//!
//! `cargo bench --bench ground`

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use marram::course::lay_out::{Drawn, lay_out};
use marram::course::{Form, HoleTee, Piece, Sketch, SketchGreen};
use marram::ground::ribbon::View;
use marram::ground::{Bend, Corridor, Face, Ground, Point, Raster, Ribbon, Surface, marks};
use marram::notebook::Span;
use marram::units::{Across, Along, Band, LengthUnit};

fn main() {
    divan::main();
}

fn piece(surface: Surface, name: Option<&str>, form: Form) -> Piece {
    Piece {
        id: None,
        surface,
        name: name.map(str::to_owned),
        face: Face::Usual,
        form,
        sure: None,
        seen: None,
        span: Span::default(),
    }
}

fn across(text: &str) -> Band {
    Band::read(text, LengthUnit::Yards).unwrap_or(Band { left: -1.0, right: 1.0 })
}

fn band(surface: Surface, from: f64, to: f64, text: &str) -> Piece {
    piece(surface, None, Form::Band { from: Along(from), to: Along(to), across: across(text) })
}

/// notebook.md's hole 4 with as many bunkers as a championship hole.
fn sketch() -> (Sketch, Vec<Bend>, Vec<HoleTee>) {
    let stations = [(195.0, "14L..16R"), (270.0, "19L..22R"), (390.0, "11L..12R")];
    let stations = stations.iter().map(|(at, x)| (Along(*at), across(x))).collect();
    let creek = vec![(Along(0.0), Across(40.0)), (Along(330.0), Across(52.0))];
    let mut pieces = vec![
        piece(Surface::Fairway, None, Form::Stations(stations)),
        piece(Surface::PenaltyRed, Some("the creek"), Form::Path { points: creek, width: 8.0 }),
        band(Surface::Trees, 60.0, 210.0, "30L..70L"),
        band(Surface::Out, 0.0, 440.0, "75L.."),
        band(Surface::Deep, 100.0, 190.0, "20L..28L"),
    ];
    for i in 0..10 {
        let from = 200.0 + 24.0 * f64::from(i);
        pieces.push(band(Surface::Bunker, from, from + 9.0, if i % 2 == 0 { "14L..22L" } else { "15R..21R" }));
    }
    let green = SketchGreen {
        front: Along(412.0),
        depth: 31.0,
        width: 24.0,
        across: Across(2.0),
        turned_deg: 15.0,
        up: None,
        falls: None,
        slopes: Vec::new(),
        height_grid: None,
        sure: None,
        seen: None,
        span: Span::default(),
    };
    let bends = vec![Bend { at: Along(262.0), turn_deg: 18.0 }];
    let tee = |name: &str, at: f64| HoleTee {
        name: name.to_owned(),
        length: 427.5 - at,
        at: Along(at),
        across: Across(0.0),
        span: Span::default(),
    };
    (Sketch { pieces, green: Some(green) }, bends, vec![tee("Back", 0.0), tee("Club", 27.0)])
}

fn ground() -> Ground {
    let (sketch, bends, tees) = sketch();
    lay_out(Drawn { sketch: &sketch, bends: &bends, tees: &tees, heights: &[] }).0
}

/// Places as a pattern of finishes would ask for them: spread about a point that moves down the hole.
fn finishes() -> Vec<Point> {
    (0..4096)
        .map(|i| {
            let i = f64::from(i);
            Point::new((i * 7.31) % 61.0 - 30.0, (i * 13.7) % 37.0 + (i / 80.0).floor() * 8.0)
        })
        .collect()
}

#[divan::bench]
fn lay_out_a_hole(bencher: Bencher) {
    let (sketch, bends, tees) = sketch();
    bencher.bench(|| lay_out(black_box(Drawn { sketch: &sketch, bends: &bends, tees: &tees, heights: &[] })));
}

#[divan::bench]
fn exact_look_ups(bencher: Bencher) {
    let (ground, finishes) = (ground(), finishes());
    bencher
        .counter(ItemsCount::new(finishes.len()))
        .bench(|| finishes.iter().map(|p| u32::from(ground.surface_at(*p).byte())).sum::<u32>());
}

#[divan::bench(args = [1, 2])]
fn raster_look_ups(bencher: Bencher, yards: u8) {
    let (raster, finishes) = (Raster::with_cells(&ground(), yards), finishes());
    bencher
        .counter(ItemsCount::new(finishes.len()))
        .bench(|| finishes.iter().map(|p| u32::from(raster.byte(*p))).sum::<u32>());
}

#[divan::bench(args = [1, 2])]
fn build_the_raster(bencher: Bencher, yards: u8) {
    let ground = ground();
    bencher.bench(|| Raster::with_cells(black_box(&ground), yards));
}

#[divan::bench]
fn turn_one_feature_to_rough(bencher: Bencher) {
    let raster = Raster::new(&ground());
    bencher.bench(|| raster.without(black_box(1)));
}

#[divan::bench]
fn cut_the_corridor(bencher: Bencher) {
    let ground = ground();
    bencher.bench(|| Corridor::new(black_box(&ground)));
}

#[divan::bench]
fn read_a_stand(bencher: Bencher) {
    let corridor = Corridor::new(&ground());
    bencher.bench(|| corridor.stand(black_box(Along(127.0)), Across(4.0), 1));
}

#[divan::bench(args = [(118, 30), (78, 14)])]
fn draw_the_ribbon(bencher: Bencher, size: (usize, usize)) {
    let ground = ground();
    bencher.bench(|| Ribbon::new(black_box(&ground), 1, size.0, size.1, View::AlongLine));
}

#[divan::bench]
fn draw_the_true_shape(bencher: Bencher) {
    let ground = ground();
    bencher.bench(|| Ribbon::new(black_box(&ground), 1, 118, 30, View::TrueShape));
}

#[divan::bench]
fn letter_the_dangers(bencher: Bencher) {
    let ground = ground();
    let ribbon = Ribbon::new(&ground, 1, 118, 30, View::AlongLine);
    bencher.bench(|| ribbon.letters(&marks(black_box(&ground))));
}
