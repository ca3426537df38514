//! Fixed points that stand for the scatter of a shot: mirrored left and right, moment-matched.
//!
//! Products of Gauss-Hermite nodes put a heavy node at zero error, which an optimiser drops into the hole; points of
//! low discrepancy carry small equal weights, so that all plays share one small error of one sign.
//!
//! # References
//! J. H. Halton, *Numerische Mathematik* 2 (1960), 84-90: the sequence, here in bases 2 and 3.

use super::normal::quantile;

/// Points of the standard normal law of two independent numbers: along and across the line of play.
#[derive(Clone, Debug, PartialEq)]
pub struct Points {
    /// Errors along the line, of mean 0 and variance 1.
    pub along: Vec<f64>,
    /// Errors across it, positive to the right; each pair of neighbours differs in this sign alone.
    pub across: Vec<f64>,
}

impl Points {
    /// An even number of points, at least `count` and at least 2.
    ///
    /// ```
    /// let points = marram::pattern::Points::new(64);
    /// assert_eq!(points.along.len(), 64);
    /// assert_eq!(points.across[0], -points.across[1]);
    /// ```
    pub fn new(count: usize) -> Self {
        let pairs = count.div_ceil(2).max(1);
        let mut along: Vec<f64> = (1..=pairs).map(|i| quantile(radical_inverse(i, 2))).collect();
        let mut across: Vec<f64> = (1..=pairs).map(|i| quantile(0.5 + 0.5 * radical_inverse(i, 3))).collect();
        let n = pairs as f64;
        let mean = along.iter().sum::<f64>() / n;
        along.iter_mut().for_each(|z| *z -= mean);
        for axis in [&mut along, &mut across] {
            let spread = (axis.iter().map(|z| z * z).sum::<f64>() / n).sqrt();
            if spread > 0.0 {
                axis.iter_mut().for_each(|z| *z /= spread);
            }
        }
        Self {
            along: along.iter().flat_map(|z| [*z, *z]).collect(),
            across: across.iter().flat_map(|z| [*z, -*z]).collect(),
        }
    }

    /// How many points there are.
    pub fn len(&self) -> usize {
        self.along.len()
    }

    /// Never true: there are at least two points.
    pub fn is_empty(&self) -> bool {
        self.along.is_empty()
    }
}

fn radical_inverse(mut index: usize, base: usize) -> f64 {
    let (mut share, mut sum) = (1.0, 0.0);
    while index > 0 {
        share /= base as f64;
        sum += share * (index % base) as f64;
        index /= base;
    }
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moments_match_and_sides_mirror() {
        for count in [2, 16, 64, 80, 256] {
            let p = Points::new(count);
            assert_eq!(p.len(), count);
            let n = count as f64;
            let mean = |f: &dyn Fn(usize) -> f64| (0..count).map(f).sum::<f64>() / n;
            assert!(mean(&|i| p.along[i]).abs() < 1e-12);
            assert!(mean(&|i| p.across[i]).abs() < 1e-12);
            assert!(mean(&|i| p.along[i] * p.across[i]).abs() < 1e-12);
            assert!((mean(&|i| p.across[i].powi(2)) - 1.0).abs() < 1e-9);
            if count > 2 {
                assert!((mean(&|i| p.along[i].powi(2)) - 1.0).abs() < 1e-9);
            }
        }
    }

    /// Shares within 1 and 2 standard deviations of the normal law: 68.3 and 95.4 per cent.
    #[test]
    fn shares_are_those_of_the_normal_law() {
        let p = Points::new(512);
        for axis in [&p.along, &p.across] {
            let within = |s: f64| axis.iter().filter(|z| z.abs() < s).count() as f64 / 512.0;
            assert!((within(1.0) - 0.683).abs() < 0.015);
            assert!((within(2.0) - 0.954).abs() < 0.01);
        }
    }
}
