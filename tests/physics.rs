//! Flight and putting against published values, goldens and properties.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]
use marram::flight::*;

#[test]
fn probe() {
    let rho = 1.2255;
    for (s, l, w) in [(70., 11., 2600.), (60., 14., 4000.), (50., 18., 6500.), (40., 26., 8500.), (30., 33., 9000.)] {
        let launch = Launch::straight(s, l, w);
        let f = fly(&launch, &Air::still(rho), 0.0, 0.02).unwrap();
        println!(
            "{:.4} apex {:.4} t {:.4} desc {:.3} v {:.4}",
            f.carry_m, f.apex_m, f.time_s, f.descent_deg, f.speed_m_s
        );
        for a in [0.0, 180., 90.] {
            let air = Air::still(rho).with_wind(Wind::from(5.0, a));
            let f = fly(&launch, &air, 0.0, 0.02).unwrap();
            print!("   {:.4} {:.4}", f.carry_m, f.side_m);
        }
        for r in [10.0, -10.0] {
            print!("   {:.4}", fly(&launch, &Air::still(rho), r, 0.02).unwrap().carry_m);
        }
        println!();
    }
    let mut l = Launch::straight(60., 14., 4000.);
    l.axis_deg = 10.0;
    println!("{:?}", fly(&l, &Air::still(rho), 0.0, 0.02).unwrap());
    let f = fly(&Launch::straight(70., 11., 2600.), &Air::still(rho), 0.0, 0.02).unwrap();
    for (n, g) in Ground::NAMED {
        println!("{n} {:?}", run(&f, &g, Slope::LEVEL));
    }
    for a in [0.03, -0.03] {
        println!("{a} {:?}", run(&f, &Ground::FAIRWAY_MEDIUM, Slope { along: a, right: 0. }));
    }
    for (d, c) in
        [(150., 150.), (150., 120.), (150., 90.), (150., 60.), (250., 250.), (250., 200.), (250., 150.), (250., 100.)]
    {
        let y = 0.9144;
        let fam = Family::of_driver(d * y).unwrap();
        let c = fam.club(c * y).unwrap();
        println!("{:.2} {:.2} {:.0}", c.launch.speed_m_s, c.launch.launch_deg, c.launch.spin_rpm);
    }
    println!(
        "{:?}",
        fast_change(
            150.,
            45.,
            &Air { density_kg_m3: 1.225 * 0.9, wind: Wind { tail_m_s: -5., to_right_m_s: -3., roughness_m: 0.03 } },
            5.0
        )
    );
}
#[test]
fn probe2() {
    println!("SPIN {}", fly(&Launch::straight(70., 11., 2600.), &Air::still(1.2255), 0.0, 0.02).unwrap().spin_rpm);
}
use marram::putting::*;
#[test]
fn probe3() {
    for (st, l, c, a) in [
        (10., 3., 2., 0.),
        (10., 3., 2., 2.),
        (10., 3., 2., -2.),
        (10., 6., 2., 0.),
        (8., 6., 3., -2.),
        (12., 6., 2., 2.),
        (12., 9., 1., -1.),
        (9., 12., 1.5, 0.),
    ] {
        let s = GreenSpeed::stimp(st).unwrap();
        let r = aim(&Plane::of_putt(c, a), s, &Line::along_x(l), 0.3);
        println!("{:?} {:?}", r, closed_form(s, l, c / 100., a / 100., 0.3).map(|x| x.0));
    }
    let better = PuttingSkill { direction_sd_deg: 1.0, length_sd: 0.065, grows: false };
    let weaker = PuttingSkill { direction_sd_deg: 1.5, length_sd: 0.085, grows: false };
    for (sk, st, l, c, a) in [
        (better, 11., 2., 0., 0.),
        (better, 11., 3.66, 0., 0.),
        (better, 11., 3.66, 2., 1.5),
        (better, 11., 3.66, 2., -1.5),
        (weaker, 9., 2., 0., 0.),
        (weaker, 9., 3.66, 0., 0.),
        (better, 11., 10., 2., 0.),
    ] {
        for p in [0.1, 0.2, 0.3, 0.45, 0.6, 0.9, 1.2] {
            let s = GreenSpeed::stimp(st).unwrap();
            let pl = Plane::of_putt(c, a);
            let line = Line::along_x(l);
            let r = aim(&pl, s, &line, p).unwrap();
            let ch = chances(&pl, s, &line, &r, &sk, 0.02);
            let ch2 = chances(&pl, s, &line, &r, &sk, 0.08);
            print!("{:.3}/{:.3} ", ch.holed, ch2.holed);
        }
        println!();
    }
    let s = GreenSpeed::stimp(10.).unwrap();
    for sk in [PuttingSkill::TOUR, PuttingSkill::men(18.0)] {
        let map = LeaveMap::new(&Plane::default(), &LeaveSetting::rings(s, Spot::default(), sk), |_| true, |_| None);
        for ft in [1., 2., 3., 4., 5., 6., 8., 10., 15., 20., 30., 40., 50., 60.] {
            let sp = Spot::new(-ft * 0.3048, 0.);
            println!("{ft} E {:.3} P1 {:.3} P3 {:.3}", map.putts(sp), map.one_putt(sp), map.three_or_more(sp));
        }
    }
}
