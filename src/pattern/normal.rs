//! The normal law: its distribution and its quantiles.
//!
//! # References
//! Abramowitz and Stegun, *Handbook of Mathematical Functions* (1964), 26.2; the start value of the quantile is a
//! rational fit (P. J. Acklam, 2003, from memory) and is polished by one step of Halley's method, so its own error does not remain.

/// Chance that a standard normal number is at most `x`.
///
/// ```
/// assert!((marram::pattern::normal::chance_below(1.96) - 0.975).abs() < 1e-4);
/// ```
pub fn chance_below(x: f64) -> f64 {
    0.5 * libm::erfc(-x / std::f64::consts::SQRT_2)
}

/// The number below which a standard normal number falls with chance `share`, 0 < `share` < 1; beyond, ±8.
pub fn quantile(share: f64) -> f64 {
    if !(share > 0.0 && share < 1.0) {
        return if share >= 1.0 { 8.0 } else { -8.0 };
    }
    let start = start_value(share);
    let error = chance_below(start) - share;
    let step = error * (2.0 * std::f64::consts::PI).sqrt() * libm::exp(start * start / 2.0);
    start - step / (1.0 + start * step / 2.0)
}

fn start_value(p: f64) -> f64 {
    const LOW: f64 = 0.024_25;
    if p < LOW {
        tail((-2.0 * libm::log(p)).sqrt())
    } else if p > 1.0 - LOW {
        -tail((-2.0 * libm::log(1.0 - p)).sqrt())
    } else {
        let q = p - 0.5;
        let r = q * q;
        let upper = polynomial(
            r,
            &[
                -3.969_683_028_665_376e1,
                2.209_460_984_245_205e2,
                -2.759_285_104_469_687e2,
                1.383_577_518_672_69e2,
                -3.066_479_806_614_716e1,
                2.506_628_277_459_239,
            ],
        );
        let lower = polynomial(
            r,
            &[
                -5.447_609_879_822_406e1,
                1.615_858_368_580_409e2,
                -1.556_989_798_598_866e2,
                6.680_131_188_771_972e1,
                -1.328_068_155_288_572e1,
                1.0,
            ],
        );
        q * upper / lower
    }
}

fn tail(q: f64) -> f64 {
    let upper = polynomial(
        q,
        &[
            -7.784_894_002_430_293e-3,
            -3.223_964_580_411_365e-1,
            -2.400_758_277_161_838,
            -2.549_732_539_343_734,
            4.374_664_141_464_968,
            2.938_163_982_698_783,
        ],
    );
    let lower = polynomial(
        q,
        &[7.784_695_709_041_462e-3, 3.224_671_290_700_398e-1, 2.445_134_137_142_996, 3.754_408_661_907_416, 1.0],
    );
    upper / lower
}

fn polynomial(x: f64, coefficients: &[f64]) -> f64 {
    coefficients.iter().fold(0.0, |sum, c| sum * x + c)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Abramowitz and Stegun, table 26.1 and 26.5: quantiles 1.281 552, 1.644 854, 2.326 348 at 90, 95, 99 per cent.
    #[test]
    fn quantiles_are_the_published_ones() {
        for (share, x) in [(0.9, 1.281_552), (0.95, 1.644_854), (0.99, 2.326_348), (0.5, 0.0)] {
            assert!((quantile(share) - x).abs() < 1e-6);
            assert!((quantile(1.0 - share) + x).abs() < 1e-6);
        }
    }

    #[test]
    fn the_quantile_undoes_the_chance() {
        for i in 1..2000 {
            let share = f64::from(i) / 2000.0;
            assert!((chance_below(quantile(share)) - share).abs() < 1e-12);
        }
        assert!((quantile(0.0) + 8.0).abs() < 1e-12);
    }
}
