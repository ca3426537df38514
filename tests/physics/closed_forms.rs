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
    let driver = 95.0 + 180.0 * halton(i, 2);
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
    println!("carry {rms} {most} {worst}");
    assert!(rms < 0.6 && most < 1.3 && worst < 5.0, "carry: {rms} {most} {worst}");
    let (rms, most, worst) = spread(&mut side);
    println!("side {rms} {most} {worst}");
    assert!(rms < 0.32 && most < 0.7 && worst < 2.0, "side: {rms} {most} {worst}");
    let (rms, most, _) = spread(&mut gentle);
    println!("gentle {rms} {most}");
    assert!(rms < 0.45 && most < 0.95, "wind to 6 m/s: {rms} {most}");
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
        let driver = 130.0 + 140.0 * halton(i, 2);
        let carry = driver * (0.35 + 0.65 * halton(i, 3));
        let launch = family_start(driver, carry);
        errors.push(fly(&launch, &Air::STANDARD, 0.0, 0.05).unwrap().carry_m - carry);
    }
    let (rms, _, worst) = spread(&mut errors);
    assert!(rms < 1.0 && worst < 2.5, "{rms} {worst}");
}

/// Least squares by normal equations.
fn fit<const N: usize>(rows: &[([f64; N], f64)]) -> [f64; N] {
    let mut a = vec![[0.0; N]; N];
    let mut b = [0.0; N];
    for (x, y) in rows {
        for i in 0..N {
            b[i] += x[i] * y;
            for j in 0..N {
                a[i][j] += x[i] * x[j];
            }
        }
    }
    for i in 0..N {
        let p = (i..N).max_by(|p, q| a[*p][i].abs().total_cmp(&a[*q][i].abs())).unwrap();
        a.swap(i, p);
        b.swap(i, p);
        for r in i + 1..N {
            let f = a[r][i] / a[i][i];
            let pivot = a[i];
            for (x, y) in a[r].iter_mut().zip(pivot) {
                *x -= f * y;
            }
            b[r] -= f * b[i];
        }
    }
    let mut x = [0.0; N];
    for i in (0..N).rev() {
        x[i] = (b[i] - (i + 1..N).map(|j| a[i][j] * x[j]).sum::<f64>()) / a[i][i];
    }
    x
}

fn landing(i: u32) -> Option<Landing> {
    let (club, air, rise) = sample(i)?;
    Some(club.change(&air, rise).ok()?.landing)
}

#[test]
fn run_probe() {
    let lands: Vec<Landing> = (0..3000).filter_map(landing).collect();
    let fresh: Vec<Landing> = (3000..4500).filter_map(landing).collect();
    for g in NamedGround::ALL {
        let runs = |l: &Landing| run(l, &g.ground(), Slope::LEVEL).run_m;
        let x10 = |l: &Landing| {
            let (v, t, s) = (l.speed_m_s / 25.0, l.descent_deg.to_radians().tan(), l.spin_ratio());
            [1.0, v, t, s, v * v, t * t, s * s, v * t, v * s, t * s]
        };
        let x20 = |l: &Landing| {
            let (v, t, s) = (l.speed_m_s / 25.0, l.descent_deg.to_radians().tan(), l.spin_ratio());
            [
                1.0,
                v,
                t,
                s,
                v * v,
                t * t,
                s * s,
                v * t,
                v * s,
                t * s,
                v * v * v,
                t * t * t,
                s * s * s,
                v * v * t,
                v * v * s,
                t * t * v,
                t * t * s,
                s * s * v,
                s * s * t,
                v * t * s,
            ]
        };
        let rows: Vec<_> = lands.iter().map(|l| (x10(l), runs(l))).collect();
        let c = fit(&rows);
        let mut e: Vec<f64> =
            fresh.iter().map(|l| x10(l).iter().zip(c).map(|(a, b)| a * b).sum::<f64>() - runs(l)).collect();
        let rows: Vec<_> = lands.iter().map(|l| (x20(l), runs(l))).collect();
        let c2 = fit(&rows);
        let mut e2: Vec<f64> =
            fresh.iter().map(|l| x20(l).iter().zip(c2).map(|(a, b)| a * b).sum::<f64>() - runs(l)).collect();
        let all: Vec<f64> = fresh.iter().map(runs).collect();
        println!(
            "RP {g:?} {:?} {:?} max {} min {}",
            spread(&mut e),
            spread(&mut e2),
            all.iter().cloned().fold(0., f64::max),
            all.iter().cloned().fold(0., f64::min)
        );
    }
}
