//! A second, plain implementation of the equations, to check the first and to ask what it has no reason to answer:
//! density by the long formula, a ball with other drag, a very small step.

/// Density by CIPM-2007 (Picard et al. 2008, Metrologia 45; constants as in three open implementations), kg/m³.
pub fn cipm_density(t: f64, p: f64, h: f64) -> f64 {
    let k = t + 273.15;
    let psv = (1.2378847e-5 * k * k - 1.9121316e-2 * k + 33.93711047 - 6343.1645 / k).exp();
    let f = 1.00062 + 3.14e-8 * p + 5.6e-7 * t * t;
    let x = h * f * psv / p;
    let z = 1.0
        - p / k
            * (1.58123e-6 - 2.9331e-8 * t
                + 1.1043e-10 * t * t
                + (5.707e-6 - 2.051e-8 * t) * x
                + (1.9898e-4 - 2.376e-6 * t) * x * x)
        + (p / k) * (p / k) * (1.83e-11 - 0.765e-8 * x * x);
    p * 0.02896546 / (z * 8.314472 * k) * (1.0 - x * (1.0 - 18.01528 / 28.96546))
}

/// Still-air carry (m) and share of spin left, in two dimensions, with an extra drag coefficient.
pub fn plain_flight(speed: f64, launch_deg: f64, rpm: f64, rho: f64, extra_drag: f64, dt: f64) -> (f64, f64) {
    let (m, r, g) = (0.04593, 0.04267 / 2.0, 9.80665);
    let k = rho * std::f64::consts::PI * r * r / (2.0 * m);
    let first_spin = rpm * std::f64::consts::TAU / 60.0;
    // x, z, vx, vz, spin
    let rate = |s: [f64; 5]| {
        let u = (s[2] * s[2] + s[3] * s[3]).sqrt();
        let q: f64 = (s[4] * r / u).clamp(0.03, 1.13);
        let cd = 0.7510 * q.powi(4) - 1.760 * q.powi(3) + 1.098 * q.powi(2) + 0.2148 * q + 0.2049 + extra_drag;
        let cl = -0.2158 * q.powi(4) + 1.006 * q.powi(3) - 1.644 * q.powi(2) + 1.250 * q + 0.0616;
        let cl = cl * (s[4] * r / u / 0.03).min(1.0);
        [
            s[2],
            s[3],
            -k * u * (cd * s[2] + cl * s[3]),
            -k * u * (cd * s[3] - cl * s[2]) - g,
            -2.0e-5 * rho / 1.225 * u * s[4] / r,
        ]
    };
    let add = |s: [f64; 5], d: [f64; 5], h: f64| std::array::from_fn(|i| s[i] + d[i] * h);
    let a = launch_deg.to_radians();
    let mut s = [0.0, 0.0, speed * a.cos(), speed * a.sin(), first_spin];
    loop {
        let k1 = rate(s);
        let k2 = rate(add(s, k1, dt / 2.0));
        let k3 = rate(add(s, k2, dt / 2.0));
        let k4 = rate(add(s, k3, dt));
        let n: [f64; 5] = std::array::from_fn(|i| s[i] + dt / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i]));
        if n[1] <= 0.0 {
            // The last piece by Newton on height over a step of its own length.
            let f = s[1] / (s[1] - n[1]);
            let mut h = f * dt;
            for _ in 0..4 {
                let k1 = rate(s);
                let k2 = rate(add(s, k1, h / 2.0));
                let k3 = rate(add(s, k2, h / 2.0));
                let k4 = rate(add(s, k3, h));
                let e: [f64; 5] = std::array::from_fn(|i| s[i] + h / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i]));
                h -= e[1] / e[3];
                if e[1].abs() < 1e-12 {
                    return (e[0], e[4] / first_spin);
                }
            }
            let e: [f64; 5] = add(s, rate(s), h);
            return (e[0], e[4] / first_spin);
        }
        s = n;
    }
}

/// Points that fill a box evenly (Halton 1960), the same on every machine.
pub fn halton(index: u32, base: u32) -> f64 {
    let (mut i, mut f, mut r) = (index + 1, 1.0, 0.0);
    while i > 0 {
        f /= f64::from(base);
        r += f * f64::from(i % base);
        i /= base;
    }
    r
}
