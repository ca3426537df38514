//! What must hold for every shot and every putt.

use marram::flight::*;
use marram::putting::*;
use proptest::prelude::*;

use crate::near;

fn launches() -> impl Strategy<Value = Launch> {
    (20.0..80.0, 5.0..45.0, 500.0..11_000.0, -25.0..25.0, -20.0..20.0).prop_map(
        |(speed_m_s, launch_deg, spin_rpm, axis_deg, start_deg): (f64, f64, f64, f64, f64)| Launch {
            speed_m_s,
            launch_deg,
            spin_rpm,
            axis_deg,
            start_deg,
        },
    )
}

fn airs() -> impl Strategy<Value = Air> {
    (0.85..1.35, 0.0..15.0, 0.0..360.0)
        .prop_map(|(density_kg_m3, v, from): (f64, f64, f64)| Air { density_kg_m3, wind: Wind::from(v, from) })
}

fn greens() -> impl Strategy<Value = (GreenSpeed, Plane, f64)> {
    (7.0..13.0, -2.5..2.5, -2.5..2.5, 0.5..15.0).prop_map(|(feet, cross, along, length): (f64, f64, f64, f64)| {
        (GreenSpeed::stimp(feet).unwrap(), Plane::of_putt(cross, along), length)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: std::env::var("CASES").map_or(64, |v| v.parse().unwrap()), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn mirrored_shots(l in launches(), air in airs(), rise in -15.0..5.0) {
        let mirror = Launch { axis_deg: -l.axis_deg, start_deg: -l.start_deg, ..l };
        let wind = Wind { to_right_m_s: -air.wind.to_right_m_s, ..air.wind };
        let (a, b) = (fly(&l, &air, rise, 0.05), fly(&mirror, &air.with_wind(wind), rise, 0.05));
        prop_assert_eq!(a.is_some(), b.is_some());
        if let (Some(a), Some(b)) = (a, b) {
            near(a.carry_m, b.carry_m, 1e-9);
            near(a.side_m, -b.side_m, 1e-9);
            let slope = Slope { along: 0.02, right: 0.03 };
            let (r, s) = (run(&a, &Ground::FAIRWAY_FIRM, slope), run(&b, &Ground::FAIRWAY_FIRM, Slope { right: -0.03, ..slope }));
            near(r.run_m, s.run_m, 1e-6);
            near(r.side_m, -s.side_m, 1e-6);
        }
    }

    #[test]
    fn no_wind_is_no_wind(l in launches(), from in 0.0..360.0) {
        let zero = Air::STANDARD.with_wind(Wind::from(0.0, from));
        prop_assert_eq!(fly(&l, &zero, 0.0, 0.05), fly(&l, &Air::STANDARD, 0.0, 0.05));
        // A breath of wind is as near to none as it is small.
        let breath = Air::STANDARD.with_wind(Wind::from(1e-9, from));
        near(fly(&l, &breath, 0.0, 0.05).unwrap().carry_m, fly(&l, &Air::STANDARD, 0.0, 0.05).unwrap().carry_m, 1e-6);
    }

    #[test]
    fn energy_never_grows_in_still_air(l in launches(), rho in 0.8..1.4) {
        let (_, points) = trace(&l, &Air::still(rho), 0.0, 0.02).unwrap();
        let energy = |p: &TracePoint| 0.5 * p.speed_m_s * p.speed_m_s + GRAVITY_M_S2 * p.height_m;
        for w in points.windows(2) {
            prop_assert!(energy(&w[1]) <= energy(&w[0]) + 1e-7);
            prop_assert!(w[1].spin_rpm <= w[0].spin_rpm + 1e-9);
            prop_assert!(w[1].time_s > w[0].time_s);
        }
    }

    #[test]
    fn a_higher_landing_is_shorter(l in launches(), air in airs(), low in -20.0..10.0, more in 0.1..10.0) {
        // With the wind across or behind: into a gale a steep ball comes back at the end.
        let air = air.with_wind(Wind { tail_m_s: air.wind.tail_m_s.max(-2.0), ..air.wind });
        let straight = Launch { start_deg: 0.0, axis_deg: 0.0, ..l };
        if let (Some(a), Some(b)) = (fly(&straight, &air, low, 0.05), fly(&straight, &air, low + more, 0.05)) {
            prop_assert!(b.carry_m < a.carry_m);
            prop_assert!(b.time_s < a.time_s);
        }
    }

    #[test]
    fn more_wind_in_the_face_is_shorter(driver in 130.0..250.0, share in 0.45..1.0, v in 0.0..12.0, more in 0.2..4.0) {
        let club = Family::of_driver(driver).unwrap().club(driver * share).unwrap();
        let carry = |v: f64| club.change(&Air::STANDARD.with_wind(Wind::from(v, 0.0)), 0.0).unwrap().landing.carry_m;
        prop_assert!(carry(v + more) < carry(v));
    }

    #[test]
    fn effective_distance_comes_back(driver in 130.0..250.0, share in 0.4..0.95, air in airs(), rise in -12.0..8.0) {
        let family = Family::of_driver(driver).unwrap();
        let target = driver * share;
        match family.effective_m(target, &air, rise) {
            Ok(m) => {
                let club = family.club(m).unwrap();
                near(club.change(&air, rise).unwrap().landing.carry_m, target, 1e-3);
            }
            Err(No::Short { longest_m }) => prop_assert!(longest_m < target),
            Err(No::Long { shortest_m }) => prop_assert!(shortest_m > target),
            Err(No::AboveApex { .. }) => prop_assert!(rise > 0.0),
        }
    }

    #[test]
    fn any_figure_is_answered_or_refused(
        speed in any::<f64>(), angle in any::<f64>(), spin in any::<f64>(), rho in any::<f64>(), rise in any::<f64>(),
    ) {
        let l = Launch { axis_deg: angle, start_deg: spin, ..Launch::straight(speed, angle, spin) };
        let _ = fly(&l, &Air { density_kg_m3: rho, wind: Wind::from(speed, angle) }, rise, 0.05);
        let _ = Family::of_driver(speed).map(|f| f.club(angle).map(|c| c.change(&Air::still(rho), rise)));
        let _ = Weather { temperature_c: speed, humidity: angle, height_m: spin, sea_level_pa: rho, wind: Wind::STILL }.air();
        if let Ok(green) = GreenSpeed::stimp(7.0 + spin.abs() % 5.0) {
            let _ = aim(&Plane(Grade::new(angle, rho)), green, &Line { ball: Spot::new(speed, rise), hole: Spot::default() }, rho);
        }
    }

    #[test]
    fn a_run_ends_on_the_level(l in launches()) {
        let landing = fly(&l, &Air::STANDARD, 0.0, 0.05).unwrap();
        let mut last = f64::NEG_INFINITY;
        for g in [Ground::FAIRWAY_SOFT, Ground::FAIRWAY_MEDIUM, Ground::FAIRWAY_FIRM, Ground::FAIRWAY_BAKED] {
            let r = run(&landing, &g, Slope::LEVEL);
            prop_assert!(r.stops && r.run_m.is_finite() && r.hops < 60);
            // Firmer runs further for a ball that runs forward at all.
            if landing.descent_deg < 42.0 && landing.spin_rpm < 4000.0 {
                prop_assert!(r.run_m > last, "{} after {last}", r.run_m);
            }
            last = r.run_m;
        }
    }

    #[test]
    fn mirrored_putts((speed, plane, length) in greens()) {
        let mirrored = Plane(Grade::new(plane.0.x, -plane.0.y));
        let line = Line::along_x(length);
        match (aim(&plane, speed, &line, 0.3), aim(&mirrored, speed, &line, 0.3)) {
            (Ok(a), Ok(b)) => {
                near(a.aim_m, -b.aim_m, 1e-6);
                near(a.start_m_s, b.start_m_s, 1e-6);
            }
            (a, b) => prop_assert_eq!(a.is_ok(), b.is_ok()),
        }
    }

    #[test]
    fn putts_do_not_know_north((speed, plane, length) in greens(), turn in 0.0..std::f64::consts::TAU) {
        let (s, c) = turn.sin_cos();
        let grade = Grade::new(plane.0.x * c - plane.0.y * s, plane.0.x * s + plane.0.y * c);
        let line = Line { ball: Spot::new(3.0, -2.0), hole: Spot::new(3.0 + length * c, -2.0 + length * s) };
        match (aim(&plane, speed, &Line::along_x(length), 0.45), aim(&Plane(grade), speed, &line, 0.45)) {
            (Ok(a), Ok(b)) => near(a.aim_m, b.aim_m, 1e-5),
            (a, b) => prop_assert_eq!(a.is_ok(), b.is_ok()),
        }
    }

    #[test]
    fn aimed_putts_pass_over_the_hole((speed, plane, length) in greens()) {
        if let Ok(a) = aim(&plane, speed, &Line::along_x(length), 0.3) {
            let (s, c) = (-a.right_rad).sin_cos();
            let (points, _) = path(&plane, speed, Spot::default(), (a.start_m_s * c, a.start_m_s * s), 0.02);
            let hole = Spot::new(length, 0.0);
            let off = points.iter().map(|p| p.distance_m(hole)).fold(f64::INFINITY, f64::min);
            prop_assert!(off < 0.02, "{off}");
        }
    }

    #[test]
    fn energy_never_grows_on_a_green((speed, plane, _) in greens(), v in 0.3..4.0, turn in 0.0..std::f64::consts::TAU) {
        // Five sevenths of gravity is what a rolling ball has; at rest it has lost all it could.
        let (s, c) = turn.sin_cos();
        let (points, rest) = path(&plane, speed, Spot::default(), (v * c, v * s), 0.05);
        prop_assert!(rest.stops);
        let height = |p: Spot| plane.0.x * p.x_m + plane.0.y * p.y_m;
        let rolled: f64 = points.windows(2).map(|w| w[0].distance_m(w[1])).sum();
        let lost = 0.5 * v * v - 5.0 / 7.0 * GRAVITY_M_S2 * height(rest.spot);
        // What is lost is the resistance along the path, which a polygon of points measures a little short.
        near(lost / (speed.deceleration_m_s2() * rolled), 1.0, 0.01);
    }

    #[test]
    fn a_harder_putt_rolls_further((speed, plane, _) in greens(), v in 0.3..3.0, more in 0.05..1.0) {
        let far = |v: f64| roll(&plane, speed, Spot::default(), (v, 0.0)).spot.distance_m(Spot::default());
        prop_assert!(far(v + more) > far(v));
    }

    #[test]
    fn chances_are_chances((speed, plane, length) in greens(), index in -5.0..54.0) {
        let skill = PuttingSkill::men(index);
        let line = Line::along_x(length);
        if let Ok(a) = aim(&plane, speed, &line, usual_past_m(length)) {
            let c = chances(&plane, speed, &line, &a, &skill, STEP_S);
            let missed: f64 = c.leaves.iter().map(|l| l.1).sum();
            near(c.holed + missed, 1.0, 1e-9);
            prop_assert!((0.0..=1.0).contains(&c.holed) && (0.0..=1.0).contains(&c.short));
            let coarse = chances(&plane, speed, &line, &a, &skill, 0.25);
            near(coarse.holed, c.holed, 0.015);
        }
    }

    #[test]
    fn capture_falls_with_speed_and_distance(v in 0.0..1.7, more in 0.01..0.5, g in -0.05..0.05) {
        let grade = Grade::new(g, 0.0);
        prop_assert!(half_width_m(v + more, grade, (1.0, 0.0)) <= half_width_m(v, grade, (1.0, 0.0)));
        let b = 0.05 * v;
        prop_assert!(capture_speed_m_s(b + 0.01, grade, (1.0, 0.0)) <= capture_speed_m_s(b, grade, (1.0, 0.0)));
        // The two are one law read both ways.
        let w = half_width_m(v, grade, (1.0, 0.0));
        if w > 0.0 {
            near(capture_speed_m_s(w, grade, (1.0, 0.0)), v, 1e-9);
        }
    }

    #[test]
    fn brede_gives_the_green_back(feet in 6.0..14.0, share in 0.0..0.6) {
        let speed = GreenSpeed::stimp(feet).unwrap();
        let plane = Plane(Grade::new(share * speed.resistance(), 0.0));
        let roll_ft = |way: f64| roll(&plane, speed, Spot::default(), (1.8288 * way, 0.0)).spot.x_m.abs() / 0.3048;
        near(brede_stimp_ft(roll_ft(1.0), roll_ft(-1.0)) / feet, 1.0, 5e-3);
    }

    #[test]
    fn a_grid_of_a_plane_is_the_plane(gx in -0.04..0.04, gy in -0.04..0.04, x in -3.0..9.0, y in -3.0..9.0) {
        let heights = (0..5).flat_map(|j| (0..4).map(move |i| gx * 2.0 * f64::from(i) + gy * 2.0 * f64::from(j)));
        let grid = HeightGrid::new(Spot::default(), 2.0, 4, heights.collect()).unwrap();
        let g = grid.grade(Spot::new(x, y));
        near(g.x, gx, 1e-12);
        near(g.y, gy, 1e-12);
        let one = Spots::new(vec![(Spot::new(1.0, 1.0), Grade::new(gx, gy))]).grade(Spot::new(x, y));
        near(one.x, gx, 1e-12);
        near(one.y, gy, 1e-12);
    }
}

/// The slope of a grid is the derivative of its height, everywhere inside.
#[test]
fn grade_is_the_derivative_of_height() {
    let heights: Vec<f64> = (0..30).map(|i| 0.1 * f64::from((i * 7) % 11) / 11.0).collect();
    let grid = HeightGrid::new(Spot::new(-1.0, 2.0), 1.5, 6, heights).unwrap();
    for i in 0..60 {
        let s = Spot::new(-0.9 + 0.11 * f64::from(i), 2.1 + 0.095 * f64::from(i));
        let h = 1e-5;
        let g = grid.grade(s);
        near(
            g.x,
            (grid.height_m(Spot::new(s.x_m + h, s.y_m)) - grid.height_m(Spot::new(s.x_m - h, s.y_m))) / (2.0 * h),
            1e-6,
        );
        near(
            g.y,
            (grid.height_m(Spot::new(s.x_m, s.y_m + h)) - grid.height_m(Spot::new(s.x_m, s.y_m - h))) / (2.0 * h),
            1e-6,
        );
    }
    assert!(HeightGrid::new(Spot::default(), 1.0, 1, vec![0.0; 4]).is_none());
    assert!(HeightGrid::new(Spot::default(), 1.0, 3, vec![0.0; 7]).is_none());
    assert!(HeightGrid::new(Spot::default(), 0.0, 2, vec![0.0; 4]).is_none());
    assert!(HeightGrid::new(Spot::default(), 1.0, 2, vec![f64::NAN; 4]).is_none());
}

/// A tier between two levels: the read and the map follow slopes that differ over the green.
#[test]
fn a_tiered_green() {
    let tier = |s: Spot| Grade::new(0.0, if (0.0..2.0).contains(&s.y_m) { 0.06 } else { 0.0 });
    let speed = GreenSpeed::stimp(9.0).unwrap();
    let hole = Spot::new(0.0, 5.0);
    let up = read(&tier, speed, &Line { ball: Spot::new(0.0, -4.0), hole }, 0.3, &Doubt::SURVEYED).unwrap();
    near(up.rise_m, 0.12, 0.01);
    near(up.cups, 0.0, 1e-6);
    assert!(up.plays_longer_m > 0.8, "{up:?}");
    let low = Spot::new(-10.0, -6.0);
    let high = Spot::new(10.0, 9.0);
    let setting = LeaveSetting::covering(speed, hole, PuttingSkill::men(12.0), low, high);
    let map = LeaveMap::new(&tier, &setting, |s| s.x_m.abs() < 9.0 && (-5.0..8.0).contains(&s.y_m), |_| None);
    // From the lower level it is farther than the same length along the upper one.
    assert!(map.putts(Spot::new(0.0, -3.0)) > map.putts(Spot::new(8.0, 5.0)));
    for s in map.spots() {
        assert!((1.0..4.0).contains(&s.putts) && (0.0..=1.0).contains(&s.one), "{s:?}");
    }
}

/// The band of a read holds the read, and words grow with the cups.
#[test]
fn bands_and_words() {
    let speed = GreenSpeed::stimp(10.0).unwrap();
    for cross in [-3.0, -0.4, 0.0, 0.4, 3.0] {
        let r = read(&Plane::of_putt(cross, 1.0), speed, &Line::along_x(4.0), 0.3, &Doubt::NOTED).unwrap();
        let (low, high) = (r.cups_band.0.unwrap(), r.cups_band.1.unwrap());
        assert!(low <= r.cups && r.cups <= high && high - low > 0.5, "{r:?}");
        near(r.rise_m, -0.04, 1e-9);
    }
    for (cups, words) in [
        (0.05, "straight"),
        (-0.3, "inside the left edge"),
        (0.5, "right edge"),
        (1.0, "half a cup outside right"),
        (-1.5, "one cup outside left"),
        (3.0, "2.5 cups outside right"),
    ] {
        assert_eq!(break_words(cups), words);
    }
}

/// Where an aim is refused, no aim within 45 degrees exists: searched angle by angle, without the solver.
#[test]
fn refused_aims_do_not_exist() {
    let (mut solved, mut refused, mut wrong) = (0, 0, Vec::new());
    for i in 0..72 {
        let h = |b| crate::reference::halton(i, b);
        let speed = GreenSpeed::stimp(4.0 + 11.0 * h(2)).unwrap();
        let length = 0.2 + 30.0 * h(3) * h(3);
        let critical = speed.critical_grade_pct();
        let plane = Plane::of_putt(1.4 * critical * (2.0 * h(5) - 1.0), critical * (0.98 - 2.0 * h(7)));
        let past = [0.0, 0.1, 0.45, 1.5][i as usize % 4];
        match aim(&plane, speed, &Line::along_x(length), past) {
            Ok(_) => solved += 1,
            Err(NoAim::TooMuchBreak { .. }) => {
                refused += 1;
                if let Some(deg) = searched(&plane, speed, length, past) {
                    wrong.push(format!("{deg:.1} {length:.2} {past} {:.1} {plane:?}", speed.stimp_ft()));
                }
            }
            Err(e) => wrong.push(e.to_string()),
        }
    }
    assert!(solved > 35 && refused > 8 && wrong.is_empty(), "{solved} solved, {refused} refused, {wrong:?}");
}

/// The angle, degrees, at which a ball started so hard that it comes to the hole's line at the wanted speed crosses the
/// hole, if there is one.
fn searched(plane: &Plane, speed: GreenSpeed, length: f64, past: f64) -> Option<f64> {
    let g = plane.0;
    let q = 1.0 + g.x * g.x + g.y * g.y;
    let want2 = 2.0 * past * (speed.deceleration_m_s2() / q.sqrt() + 5.0 / 7.0 * GRAVITY_M_S2 * g.x / q);
    // Where it crosses the line, and at what speed squared.
    let cross = |deg: f64, v0: f64| -> Option<(f64, f64)> {
        let (s, c) = deg.to_radians().sin_cos();
        let (points, _) = path(plane, speed, Spot::default(), (v0 * c, -v0 * s), 0.04);
        let k = points.windows(2).position(|w| w[1].x_m >= length)?;
        let (p, r) = (points[k], points[k + 1]);
        let f = (length - p.x_m) / (r.x_m - p.x_m);
        let y = p.y_m + f * (r.y_m - p.y_m);
        // Energy: what started less what the slope and the path took.
        let mut rolled: f64 = points[..=k].windows(2).map(|w| w[0].distance_m(w[1])).sum();
        rolled += f * p.distance_m(r);
        let up = g.x * length + g.y * y;
        let v2 =
            v0 * v0 - 2.0 * 5.0 / 7.0 * GRAVITY_M_S2 * up / q - 2.0 * speed.deceleration_m_s2() / q.sqrt() * rolled;
        Some((y, v2))
    };
    let side = if g.y <= 0.0 { 1.0 } else { -1.0 };
    let mut last: Option<f64> = None;
    for step in 0..=23 {
        let deg = side * 2.0 * f64::from(step).min(22.5);
        let (mut slow, mut hard) = (0.0, 20.0);
        for _ in 0..26 {
            let mid = 0.5 * (slow + hard);
            if cross(deg, mid).is_some_and(|(_, v2)| v2 >= want2) { hard = mid } else { slow = mid }
        }
        let (y, v2) = cross(deg, hard)?;
        // On a slope that keeps it moving a ball may come to the line only faster than wanted.
        if (v2 - want2).abs() > 0.02 {
            last = None;
            continue;
        }
        let y = y * side;
        if last.is_some_and(|l: f64| l > 0.0 && y <= 0.0) {
            return Some(deg);
        }
        last = Some(y);
    }
    None
}
