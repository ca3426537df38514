//! Times of flight and putting. Wanted: a flight under 20 µs, an aim under 200 µs, the leave map of a green under 100 ms.
#![allow(clippy::unwrap_used)]

use divan::{Bencher, black_box};
use marram::flight::*;
use marram::putting::*;

fn main() {
    divan::main();
}

fn windy() -> Air {
    Air::STANDARD.with_wind(Wind::from(6.0, 40.0))
}

fn seven() -> (Family, Club) {
    let family = Family::of_driver(210.0).unwrap();
    let club = family.club(147.0).unwrap();
    (family, club)
}

#[divan::bench]
fn flight_still(b: Bencher) {
    let l = Launch::straight(70.0, 11.0, 2600.0);
    b.bench(|| fly(black_box(&l), &Air::STANDARD, 0.0, SHOWN_STEP_S));
}

#[divan::bench]
fn flight_in_wind(b: Bencher) {
    let l = Launch::straight(70.0, 11.0, 2600.0);
    let air = windy();
    b.bench(|| fly(black_box(&l), &air, 5.0, SHOWN_STEP_S));
}

#[divan::bench]
fn run_on_the_level(b: Bencher) {
    let (_, club) = seven();
    b.bench(|| run(black_box(&club.still), &Ground::FAIRWAY_FIRM, Slope::LEVEL));
}

#[divan::bench]
fn run_on_a_slope(b: Bencher) {
    let (_, club) = seven();
    b.bench(|| run(black_box(&club.still), &Ground::FAIRWAY_FIRM, Slope { along: -0.02, right: 0.01 }));
}

#[divan::bench]
fn family_and_club(b: Bencher) {
    b.bench(|| Family::of_driver(black_box(210.0)).unwrap().club(147.0));
}

#[divan::bench]
fn effective_distance(b: Bencher) {
    let (family, _) = seven();
    let air = windy();
    b.bench(|| family.effective_m(black_box(147.0), &air, 5.0));
}

#[divan::bench]
fn change_by_closed_form(b: Bencher) {
    let club = FastClub::new(&seven().1);
    let air = windy();
    b.bench(|| club.change(black_box(&air), 5.0));
}

#[divan::bench]
fn day_club_table(b: Bencher) {
    let (_, club) = seven();
    let air = windy();
    b.bench(|| DayClub::new(black_box(&club), &air, &Ground::FAIRWAY_MEDIUM));
}

#[divan::bench]
fn day_club_shot(b: Bencher) {
    let day = DayClub::new(&seven().1, &windy(), &Ground::FAIRWAY_MEDIUM);
    b.bench(|| day.shot(black_box(37.0), 4.0));
}

fn green() -> GreenSpeed {
    GreenSpeed::stimp(10.0).unwrap()
}

/// A green of heights every three yards that falls to its front with a swale.
fn heights() -> HeightGrid {
    let at = |i: usize, j: usize| 0.055 * j as f64 + 0.02 * ((i as f64 - 5.0) * (i as f64 - 5.0)) / 3.0;
    let all = (0..12).flat_map(|j| (0..11).map(move |i| at(i, j))).collect();
    HeightGrid::new(Spot::default(), 2.7432, 11, all).unwrap()
}

#[divan::bench]
fn aim_on_a_plane(b: Bencher) {
    let plane = Plane::of_putt(2.0, 1.0);
    let line = Line::along_x(6.0);
    b.bench(|| aim(black_box(&plane), green(), &line, 0.45));
}

#[divan::bench]
fn aim_on_heights(b: Bencher) {
    let grid = heights();
    let line = Line { ball: Spot::new(8.0, 8.0), hole: Spot::new(12.0, 15.0) };
    b.bench(|| aim(black_box(&grid), green(), &line, 0.45));
}

#[divan::bench]
fn aim_from_far(b: Bencher) {
    let plane = Plane::of_putt(2.0, 2.0);
    let line = Line::along_x(18.0);
    b.bench(|| aim(black_box(&plane), green(), &line, 0.3));
}

#[divan::bench]
fn chances_of_a_putt(b: Bencher) {
    let plane = Plane::of_putt(2.0, 1.0);
    let line = Line::along_x(6.0);
    let a = aim(&plane, green(), &line, 0.45).unwrap();
    b.bench(|| chances(black_box(&plane), green(), &line, &a, &PuttingSkill::TOUR, STEP_S));
}

/// A green of 30 by 33 yards, spots two yards apart.
fn map<S: Slopes>(slopes: &S) -> LeaveMap {
    let setting = LeaveSetting::covering(
        green(),
        Spot::new(12.0, 18.0),
        PuttingSkill::men(12.0),
        Spot::default(),
        Spot::new(27.4, 30.2),
    );
    LeaveMap::new(slopes, &setting, |s| (0.0..27.4).contains(&s.x_m) && (0.0..30.2).contains(&s.y_m), |_| None)
}

#[divan::bench]
fn leave_map_of_a_plane() -> LeaveMap {
    map(&Plane(Grade::new(0.005, 0.02)))
}

#[divan::bench]
fn leave_map_of_heights(b: Bencher) {
    let grid = heights();
    b.bench(|| map(&grid));
}

#[divan::bench]
fn leave_map_lookup(b: Bencher) {
    let m = map(&Plane(Grade::new(0.005, 0.02)));
    b.bench(|| m.putts(black_box(Spot::new(9.0, 11.0))));
}
