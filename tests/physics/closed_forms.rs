//! The closed forms a solver uses agree with the integration that is shown, as well as they say.

use marram::flight::*;
use marram::putting::*;

use crate::near;
use crate::reference::halton;

/// Root mean square, 95 % and worst of a list of errors.
fn spread(errors: &mut [f64]) -> (f64, f64, f64) {
    for e in errors.iter_mut() {
        *e = e.abs();
    }
    errors.sort_by(f64::total_cmp);
    let n = errors.len();
    let rms = (errors.iter().map(|e| e * e).sum::<f64>() / n as f64).sqrt();
    (rms, errors[n * 95 / 100], errors[n - 1])
}

/// A club and conditions spread evenly over what the closed forms were fitted for.
fn sample(i: u32) -> Option<(Club, Air, f64)> {
    // Driver heads of 32 to 54 m/s.
    let driver = 123.0 + 110.0 * halton(i, 2);
    let family = Family::of_driver(driver).ok()?;
    let low = family.shortest_carry_m() * 1.1;
    let club = family.club(low + (driver - low) * halton(i, 3)).ok()?;
    let wind = Wind::from(10.0 * halton(i, 5), 360.0 * halton(i, 7));
    let air = Air { density_kg_m3: ISA_DENSITY_KG_M3 * (0.75 + 0.33 * halton(i, 11)), wind };
    let s = &club.still;
    let most = 25.0_f64.min(0.20 * s.carry_m * s.descent_deg.to_radians().tan()).min(0.55 * s.apex_m);
    Some((club, air, most * (2.0 * halton(i, 13) - 1.0)))
}

#[test]
fn change_of_carry_and_side() {
    let (mut carry, mut side, mut gentle) = (Vec::new(), Vec::new(), Vec::new());
    for (club, air, rise) in (0..1500).filter_map(sample) {
        let s = &club.still;
        assert!(in_fast_box(s.carry_m, s.descent_deg, s.apex_m, &air, rise));
        let (c, y) = FastClub::new(&club).change(&air, rise).unwrap();
        let Ok(full) = club.change(&air, rise) else { continue };
        carry.push(c - full.landing.carry_m);
        side.push(y - full.landing.side_m);
        if air.wind.speed_m_s() <= 6.0 {
            gentle.push(c - full.landing.carry_m);
        }
    }
    assert!(carry.len() > 1400);
    let (rms, most, worst) = spread(&mut carry);
    assert!(rms < 0.5 && most < 1.0 && worst < 4.6, "carry: {rms} {most} {worst}");
    let (rms, most, worst) = spread(&mut side);
    assert!(rms < 0.25 && most < 0.57 && worst < 1.6, "side: {rms} {most} {worst}");
    let (rms, most, _) = spread(&mut gentle);
    assert!(rms < 0.41 && most < 0.82, "wind to 6 m/s: {rms} {most}");
}

/// Outside the box the solver's club integrates, so that it never extrapolates.
#[test]
fn outside_the_box_it_integrates() {
    let club = Family::of_driver(210.0).unwrap().club(150.0).unwrap();
    let fast = FastClub::new(&club);
    let gale = Air::STANDARD.with_wind(Wind::from(14.0, 20.0));
    let full = club.change(&gale, 3.0).unwrap().landing;
    assert_eq!(fast.change(&gale, 3.0), Some((full.carry_m, full.side_m)));
    assert_eq!(fast.change(&Air::STANDARD, 200.0), None);
}

#[test]
fn start_of_the_family() {
    let mut errors = Vec::new();
    for i in 0..300 {
        let driver = 123.0 + 110.0 * halton(i, 2);
        let shortest = Family::of_driver(driver).unwrap().launch(1.0);
        let low = fly(&shortest, &Air::STANDARD, 0.0, 0.05).unwrap().carry_m;
        let carry = low + (driver - low) * halton(i, 3);
        let launch = family_start(driver, carry);
        errors.push(fly(&launch, &Air::STANDARD, 0.0, 0.05).unwrap().carry_m - carry);
    }
    let (rms, _, worst) = spread(&mut errors);
    assert!(rms < 1.0 && worst < 2.5, "{rms} {worst}");
}

/// A club's table of a day against the integration it was made from, between its entries: wind, height and run.
#[test]
fn table_of_a_day() {
    let (mut carry, mut side, mut total) = (Vec::new(), Vec::new(), Vec::new());
    for c in 0..6 {
        let family = Family::of_driver(130.0 + 20.0 * f64::from(c)).unwrap();
        let club = family.club(family.driver_carry_m() * (0.5 + 0.1 * f64::from(c % 6).min(4.9))).unwrap();
        let air = Air { density_kg_m3: 1.0 + 0.04 * f64::from(c), wind: Wind::from(3.0 + 2.0 * f64::from(c), 0.0) };
        let ground = NamedGround::ALL[c as usize].ground();
        let day = DayClub::new(&club, &air, &ground);
        for i in 0..60 {
            let (from, rise) = (360.0 * halton(i, 2), -20.0 + 32.0 * halton(i, 3));
            let here = air.with_wind(Wind::from(air.wind.speed_m_s(), from));
            let Some(shot) = day.shot(from, rise) else { continue };
            let l = fly(&club.launch, &here, rise, SHOWN_STEP_S).unwrap();
            let r = run(&l, &ground, Slope::LEVEL);
            // Near its top a flight is too flat for any table.
            if rise > 0.55 * l.apex_m {
                continue;
            }
            carry.push(shot.carry_m - l.carry_m);
            side.push(shot.side_m - l.side_m);
            total.push(shot.carry_m + shot.run_m - l.carry_m - r.run_m);
        }
    }
    assert!(carry.len() > 300);
    for (name, errors, rms, worst) in
        [("carry", &mut carry, 0.08, 0.2), ("side", &mut side, 0.02, 0.08), ("total", &mut total, 0.25, 1.6)]
    {
        let got = spread(errors);
        assert!(got.0 < rms && got.2 < worst, "{name}: {got:?}");
    }
    let still = DayClub::new(&Family::of_driver(210.0).unwrap().club(150.0).unwrap(), &Air::STANDARD, &Ground::ROUGH);
    near(still.shot(33.0, 0.0).unwrap().carry_m, 150.0, 1e-6);
    assert_eq!(still.shot(0.0, 40.0), None);
}

/// The run on the level, in closed form, meets the integrated run on a slope as the slope goes to nothing.
#[test]
fn run_on_the_level_and_on_hardly_a_slope() {
    for g in NamedGround::ALL.map(NamedGround::ground) {
        for i in 0..20 {
            let Some((club, air, rise)) = sample(i) else { continue };
            let Ok(c) = club.change(&air, rise) else { continue };
            let (level, tilted) =
                (run(&c.landing, &g, Slope::LEVEL), run(&c.landing, &g, Slope { along: 1e-7, right: 1e-7 }));
            near(level.run_m, tilted.run_m, 2e-3);
            near(level.side_m, tilted.side_m, 2e-3);
        }
    }
}

/// The first-order aim against the roll: Stimp 8 to 12, 1.5 to 12 m, grades to 3 %. It is a start and a check.
#[test]
fn first_order_aim() {
    let (mut all, mut gentle) = (Vec::new(), Vec::new());
    for stimp in [8.0, 10.0, 12.0] {
        let speed = GreenSpeed::stimp(stimp).unwrap();
        for length in [1.5, 3.0, 6.0, 9.0, 12.0] {
            for cross in [0.5, 1.0, 2.0, 3.0] {
                for along in [-3.0, -1.5, 0.0, 1.5, 3.0] {
                    let Ok(a) = aim(&Plane::of_putt(cross, along), speed, &Line::along_x(length), 0.3) else {
                        continue;
                    };
                    let y = closed_form(speed, length, cross / 100.0, along / 100.0, 0.3).unwrap().0;
                    all.push(y - a.aim_m);
                    if a.aim_m < 0.1 * length {
                        gentle.push(y - a.aim_m);
                    }
                }
            }
        }
    }
    let (rms, _, worst) = spread(&mut all);
    assert!(all.len() > 280 && rms < 0.3 && worst < 2.5, "{} {rms} {worst}", all.len());
    let (rms, _, worst) = spread(&mut gentle);
    assert!(gentle.len() > 120 && rms < 0.06 && worst < 0.3, "{} {rms} {worst}", gentle.len());
}
