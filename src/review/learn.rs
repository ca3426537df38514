//! What logged shots say of a club: its length, its side, its scatter and its mishits, from the assumed pattern onwards.
//!
//! **The rule.** For one club, lengths and sides are measured in standard deviations of the assumed pattern from the lie of each shot.
//! Before any shot the mean is nought, known to within the figures below, and the scatter is the assumed one, known as if from
//! [`SCATTER_SHOTS`] shots (normal-inverse-chi-squared). A shot is an ordinary one, a mishit of the model, or a slip of the pen; the chance of
//! each is worked out with the rest, and a shot counts as far as it is an ordinary one. The posterior's own 90 % intervals are shown.
//!
//! # References
//! Gelman et al., *Bayesian Data Analysis*, 3rd ed. (2013), section 3.3: normal data with a conjugate prior. Mixtures by expectation and
//! maximisation: Dempster, Laird and Rubin, *J. Royal Statistical Society B* 39 (1977).

use super::judge::Flown;
use super::mean::student;
use crate::pattern::normal::quantile;
use serde::Serialize;

/// How far a carry that the player gave may be off, as a share of the length: one standard deviation (our judgement).
pub const GIVEN_OFF: f64 = 0.03;
/// The same of one that was assumed from the index.
pub const ASSUMED_OFF: f64 = 0.06;
/// How far the side may be off, as a share of the length.
pub const SIDE_OFF: f64 = 0.03;
/// As many shots stand behind an assumed scatter.
pub const SCATTER_SHOTS: f64 = 12.0;
/// As many behind the assumed chance of a mishit.
const MISHIT_SHOTS: f64 = 24.0;
/// The chance that a logged place is a slip of the pen.
const SLIP: f64 = 0.01;
/// Fewer ordinary shots than this change nothing.
pub const FEWEST: f64 = 8.0;
/// A change is proposed only where this share of what is believed lies on one side of the present figure.
pub const PROPOSED: f64 = 0.995;

/// A figure with its 90 % interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Figure {
    /// The figure.
    pub value: f64,
    /// The low end.
    pub low: f64,
    /// The high end.
    pub high: f64,
    /// Whether it differs from the present figure beyond doubt ([`PROPOSED`]).
    pub moved: bool,
}

/// What is learnt of one club, in the measure of its assumed pattern.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Learnt {
    /// Shots that were looked at.
    pub shots: usize,
    /// How many of them count as ordinary.
    pub ordinary: f64,
    /// Length against the assumed one: 1 is the same.
    pub length: Figure,
    /// Mean side as a share of the length, right positive.
    pub side: Figure,
    /// Scatter along against the assumed one.
    pub deep: Figure,
    /// Scatter across against the assumed one.
    pub wide: Figure,
    /// Chance of a mishit.
    pub mishits: Figure,
}

/// What is believed of the mean and scatter of one direction.
#[derive(Clone, Copy, Debug)]
struct Belief {
    mean: f64,
    /// Shots behind the mean.
    kappa: f64,
    /// Shots behind the scatter.
    nu: f64,
    /// Scatter squared.
    square: f64,
}

impl Belief {
    /// Before any shot: the mean off by `off` standard deviations of a shot.
    fn before(off: f64) -> Self {
        Self { mean: 0.0, kappa: 1.0 / (off * off).max(1e-6), nu: SCATTER_SHOTS, square: 1.0 }
    }

    /// After weighted shots.
    fn after(&self, shots: impl Iterator<Item = (f64, f64)> + Clone) -> Self {
        let weight: f64 = shots.clone().map(|(w, _)| w).sum();
        if weight <= 0.0 {
            return *self;
        }
        let mean = shots.clone().map(|(w, x)| w * x).sum::<f64>() / weight;
        let squares: f64 = shots.map(|(w, x)| w * (x - mean).powi(2)).sum();
        let (kappa, nu) = (self.kappa + weight, self.nu + weight);
        let away = self.kappa * weight / kappa * mean * mean;
        Self { mean: weight * mean / kappa, kappa, nu, square: (self.nu * self.square + squares + away) / nu }
    }

    /// Density of a shot.
    fn density(&self, x: f64) -> f64 {
        let square = self.square * (1.0 + 1.0 / self.kappa);
        let z = (x - self.mean) / square.sqrt();
        libm::exp(-0.5 * z * z) / (square * 2.0 * std::f64::consts::PI).sqrt()
    }

    /// Less sure by what is not known of which shots were ordinary: `shots` are weights and places.
    ///
    /// # References
    /// Louis, *J. Royal Statistical Society B* 44 (1982): information missing in a mixture.
    fn less_missing(&self, before: &Self, shots: impl Iterator<Item = (f64, f64)>) -> Self {
        let (mut of_mean, mut of_scatter) = (0.0, 0.0);
        for (weight, x) in shots {
            let z = (x - self.mean) / self.square.sqrt();
            let doubt = weight * (1.0 - weight);
            of_mean += doubt * z * z;
            of_scatter += doubt * (z * z - 1.0).powi(2) / 2.0;
        }
        let (kappa, nu) = ((self.kappa - of_mean).max(before.kappa), (self.nu - of_scatter).max(before.nu));
        Self { kappa, nu, ..*self }
    }

    /// The mean, within the share.
    fn mean_within(&self, share: f64) -> (f64, f64) {
        let half = student(0.5 + share / 2.0, self.nu) * (self.square / self.kappa).sqrt();
        (self.mean - half, self.mean + half)
    }

    /// The scatter, within the share.
    fn scatter_within(&self, share: f64) -> (f64, f64) {
        let at = |p: f64| (self.nu * self.square / chi_squared(p, self.nu)).sqrt();
        (at(0.5 + share / 2.0), at(0.5 - share / 2.0))
    }
}

/// Quantile of chi-squared.
///
/// # References
/// Wilson and Hilferty, *Proc. National Academy of Sciences* 17 (1931): the cube root is nearly normal; within 0.5 % from ten degrees on.
fn chi_squared(share: f64, degrees: f64) -> f64 {
    let a = 2.0 / (9.0 * degrees);
    degrees * (1.0 - a + quantile(share) * a.sqrt()).powi(3).max(1e-6)
}

/// Learns from the shots of one club. `off` is how far its carry may be off as a share of its length ([`GIVEN_OFF`] or
/// [`ASSUMED_OFF`]), `mishits` the chance of a mishit that is assumed.
pub fn learn(shots: &[Flown], off: f64, mishits: f64) -> Learnt {
    let usable: Vec<&Flown> =
        shots.iter().filter(|s| s.full && s.meant > 0.0 && s.spread.0 > 0.0 && s.spread.1 > 0.0).collect();
    let n = usable.len();
    let mean_of = |f: &dyn Fn(&Flown) -> f64, otherwise: f64| {
        if n == 0 { otherwise } else { usable.iter().map(|s| f(s)).sum::<f64>() / n as f64 }
    };
    // One standard deviation of a shot as a share of its length.
    let along_share = mean_of(&|s| s.spread.0 / s.meant, 0.08);
    let across_share = mean_of(&|s| s.spread.1 / s.meant, 0.08);
    let measured: Vec<(f64, f64, f64, f64)> = usable
        .iter()
        .map(|s| ((s.along - s.meant) / s.spread.0, s.across / s.spread.1, s.meant / s.spread.0, s.meant / s.spread.1))
        .collect();
    let (before_u, before_v) = (Belief::before(off / along_share), Belief::before(SIDE_OFF / across_share));
    let prior_mishits = (MISHIT_SHOTS * mishits, MISHIT_SHOTS * (1.0 - mishits));
    let (mut u, mut v, mut q) = (before_u, before_v, mishits);
    let mut weights = vec![1.0 - mishits; n];
    let normal = |x: f64, mean: f64, sd: f64| {
        let z = (x - mean) / sd;
        libm::exp(-0.5 * z * z) / (sd * (2.0 * std::f64::consts::PI).sqrt())
    };
    let mut missed = 0.0;
    for _ in 0..40 {
        missed = 0.0;
        for (weight, (along, across, long, wide)) in weights.iter_mut().zip(&measured) {
            let ordinary = (1.0 - q) * u.density(*along) * v.density(*across);
            // The mishit of the model, in the measure of an ordinary shot.
            let spread = 2.2f64.min((0.25 * wide).max(1.0));
            let mishit = q * normal(*along, -0.28 * long, 0.15 * long) * normal(*across, 0.0, spread);
            // A slip lies anywhere up to twice the length and as far to either side.
            let slip = SLIP / (2.0 * long * 2.0 * wide);
            let all = ordinary + mishit + slip;
            *weight = if all > 0.0 { ordinary / all } else { 0.0 };
            missed += if all > 0.0 { mishit / all } else { 0.0 };
        }
        u = before_u.after(weights.iter().copied().zip(measured.iter().map(|m| m.0)));
        v = before_v.after(weights.iter().copied().zip(measured.iter().map(|m| m.1)));
        let (a, b) = (prior_mishits.0 + missed, prior_mishits.1 + weights.iter().sum::<f64>());
        q = a / (a + b);
    }
    let ordinary: f64 = weights.iter().sum();
    let u = u.less_missing(&before_u, weights.iter().copied().zip(measured.iter().map(|m| m.0)));
    let v = v.less_missing(&before_v, weights.iter().copied().zip(measured.iter().map(|m| m.1)));
    let enough = ordinary >= FEWEST;
    let wide_share = 2.0 * PROPOSED - 1.0;
    let outside = |at: f64, (low, high): (f64, f64)| enough && (at < low || at > high);
    let figure = |value: f64, (low, high): (f64, f64), moved: bool| Figure { value, low, high, moved };
    let scaled = |(low, high): (f64, f64), by: f64, plus: f64| (plus + low * by, plus + high * by);
    let doubt: f64 = weights.iter().map(|w| w * (1.0 - w)).sum();
    let (a, b) = (prior_mishits.0 + missed, prior_mishits.1 + (ordinary - doubt).max(0.0));
    let beta_sd = (q * (1.0 - q) / (a + b + 1.0)).sqrt();
    let beta = |share: f64| {
        let half = quantile(0.5 + share / 2.0) * beta_sd;
        ((q - half).max(0.0), (q + half).min(1.0))
    };
    Learnt {
        shots: n,
        ordinary,
        length: figure(
            1.0 + u.mean * along_share,
            scaled(u.mean_within(0.9), along_share, 1.0),
            outside(0.0, u.mean_within(wide_share)),
        ),
        side: figure(
            v.mean * across_share,
            scaled(v.mean_within(0.9), across_share, 0.0),
            outside(0.0, v.mean_within(wide_share)),
        ),
        deep: figure(u.square.sqrt(), u.scatter_within(0.9), outside(1.0, u.scatter_within(wide_share))),
        wide: figure(v.square.sqrt(), v.scatter_within(0.9), outside(1.0, v.scatter_within(wide_share))),
        mishits: figure(q, beta(0.9), outside(mishits, beta(wide_share))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::review::chance::Dice;

    /// A player of true length `length`, side and scatter against the assumed pattern of a 7 iron: 150 yards, 12 along, 10 across.
    fn shots(dice: &mut Dice, n: usize, length: f64, side: f64, deep: f64, wide: f64, q: f64) -> Vec<Flown> {
        let meant = 150.0;
        (0..n)
            .map(|_| {
                let (u, v) = (dice.normal(), dice.normal());
                let (along, across) = if dice.happens(q) {
                    (meant * (0.72 + 0.15 * u), 22.0 * v)
                } else {
                    (meant * length + 12.0 * deep * u, meant * side + 10.0 * wide * v)
                };
                Flown {
                    along,
                    across,
                    meant,
                    spread: (12.0, 10.0),
                    aimed: true,
                    full: true,
                    curve: 0.0,
                    lie: crate::pattern::Lie::Fairway,
                }
            })
            .collect()
    }

    fn chi(dice: &mut Dice, degrees: usize) -> f64 {
        (0..degrees).map(|_| dice.normal().powi(2)).sum()
    }

    /// Players drawn as the rule believes them to be: its 90 % intervals hold the truth of 85 to 95 per cent of 500.
    #[test]
    fn intervals_hold_the_truth_as_often_as_they_say() {
        let mut dice = Dice::new(7);
        for n in [12, 40, 120] {
            let mut held = [0; 5];
            for _ in 0..500 {
                let scatter = |dice: &mut Dice| (SCATTER_SHOTS / chi(dice, SCATTER_SHOTS as usize)).sqrt();
                let (deep, wide) = (scatter(&mut dice), scatter(&mut dice));
                // The rule believes a mean to be off in proportion to the scatter itself (conjugate prior).
                let length = 1.0 + ASSUMED_OFF * deep * dice.normal();
                let side = SIDE_OFF * wide * dice.normal();
                let q = 0.1;
                let seen = learn(&shots(&mut dice, n, length, side, deep, wide, q), ASSUMED_OFF, 0.1);
                let truths = [length, side, deep, wide, q];
                let figures = [seen.length, seen.side, seen.deep, seen.wide, seen.mishits];
                for (count, (truth, figure)) in held.iter_mut().zip(truths.iter().zip(figures)) {
                    *count += i32::from(figure.low <= *truth && *truth <= figure.high);
                }
            }
            for (name, count) in ["length", "side", "deep", "wide"].iter().zip(held) {
                assert!((425..=475).contains(&count), "{name} with {n} shots: {count} of 500");
            }
            // A chance that is what was assumed lies nearer the middle of what is believed than one drawn at random.
            assert!(held.get(4).is_some_and(|c| *c >= 425), "mishits with {n} shots: {held:?}");
        }
    }

    #[test]
    fn known_parameters_are_found_again() {
        let mut dice = Dice::new(11);
        let seen = learn(&shots(&mut dice, 400, 1.07, -0.04, 1.3, 0.8, 0.12), ASSUMED_OFF, 0.08);
        assert!((seen.length.value - 1.07).abs() < 0.01, "{seen:?}");
        assert!((seen.side.value + 0.04).abs() < 0.008, "{seen:?}");
        assert!((seen.deep.value - 1.3).abs() < 0.12 && (seen.wide.value - 0.8).abs() < 0.08, "{seen:?}");
        assert!((seen.mishits.value - 0.12).abs() < 0.04, "{seen:?}");
        assert!(seen.length.moved && seen.side.moved && seen.deep.moved && seen.wide.moved);
    }

    /// 500 players whose club is what was assumed: hardly a change is proposed, and none moves far.
    #[test]
    fn noise_moves_nothing() {
        let mut dice = Dice::new(3);
        let (mut proposed, mut mean) = (0, 0.0);
        for _ in 0..500 {
            let seen = learn(&shots(&mut dice, 30, 1.0, 0.0, 1.0, 1.0, 0.1), ASSUMED_OFF, 0.1);
            let moved = [seen.length, seen.side, seen.deep, seen.wide].iter().filter(|f| f.moved).count();
            proposed += i32::from(moved > 0);
            mean += (seen.length.value - 1.0) / 500.0;
        }
        assert!(proposed <= 25, "{proposed} of 500 were told to change something");
        assert!(mean.abs() < 0.004, "{mean}");
    }

    #[test]
    fn slips_and_few_shots_change_nothing() {
        let mut dice = Dice::new(5);
        let mut seen = shots(&mut dice, 30, 1.0, 0.0, 1.0, 1.0, 0.05);
        let before = learn(&seen, ASSUMED_OFF, 0.05);
        if let Some(first) = seen.first_mut() {
            (first.along, first.across) = (290.0, 140.0);
        }
        let after = learn(&seen, ASSUMED_OFF, 0.05);
        assert!((before.length.value - after.length.value).abs() < 0.01);
        assert!((before.wide.value - after.wide.value).abs() < 0.08, "{before:?} {after:?}");
        let few = learn(&shots(&mut dice, 5, 1.2, 0.1, 2.0, 2.0, 0.0), ASSUMED_OFF, 0.1);
        assert!(!few.length.moved && !few.wide.moved);
        let none = learn(&[], ASSUMED_OFF, 0.1);
        assert!((none.length.value - 1.0).abs() < 1e-12 && none.shots == 0);
    }
}
