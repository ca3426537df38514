//! The forecast ledger: every chance that a plan stated, and what happened.

use super::round::RoundReview;
use crate::pattern::normal::quantile;
use serde::Serialize;

/// One forecast.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Forecast {
    /// The chance that was stated.
    pub said: f64,
    /// Whether it happened.
    pub happened: bool,
}

/// Forecasts of about one chance.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Shelf {
    /// Mean of what was said.
    pub said: f64,
    /// Share that happened.
    pub happened: f64,
    /// How many.
    pub n: usize,
    /// The 90 % interval of the share (Wilson).
    pub within: (f64, f64),
}

/// What became of forecasts.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Ledger {
    /// All of them together; `None` of none.
    pub all: Option<Shelf>,
    /// By the chance stated, five steps.
    pub steps: Vec<Shelf>,
    /// Mean square of said less happened (Brier's score); 0 is perfect, 0.25 is a coin.
    pub brier: Option<f64>,
}

impl Ledger {
    /// Of some forecasts.
    pub fn of(forecasts: &[Forecast]) -> Self {
        let steps = (0..5).filter_map(|i| {
            let (from, to) = (f64::from(i) / 5.0, f64::from(i + 1) / 5.0);
            shelf(forecasts.iter().filter(|f| f.said >= from && (f.said < to || i == 4)))
        });
        let n = forecasts.len();
        let square = |f: &Forecast| (f.said - f64::from(u8::from(f.happened))).powi(2);
        Self {
            all: shelf(forecasts.iter()),
            steps: steps.collect(),
            brier: (n > 0).then(|| forecasts.iter().map(square).sum::<f64>() / n as f64),
        }
    }

    /// `said 71 %, happened 64 % in 50 holes (53 to 74 %)`.
    pub fn words(&self) -> String {
        self.all.map_or_else(|| "no forecasts yet".to_owned(), |s| s.words())
    }
}

impl Shelf {
    /// In words.
    pub fn words(&self) -> String {
        let percent = |x: f64| format!("{:.0}", 100.0 * x);
        let verdict = if self.said > self.within.1 {
            "; said too much"
        } else if self.said < self.within.0 {
            "; said too little"
        } else {
            ""
        };
        format!(
            "said {} %, happened {} % in {} holes ({} to {} %{verdict})",
            percent(self.said),
            percent(self.happened),
            self.n,
            percent(self.within.0),
            percent(self.within.1),
        )
    }
}

fn shelf<'f>(forecasts: impl Iterator<Item = &'f Forecast>) -> Option<Shelf> {
    let all: Vec<&Forecast> = forecasts.collect();
    let n = all.len() as f64;
    if all.is_empty() {
        return None;
    }
    let said = all.iter().map(|f| f.said).sum::<f64>() / n;
    let happened = all.iter().filter(|f| f.happened).count() as f64 / n;
    // Wilson, *J. American Statistical Association* 22 (1927): holds for few cases and for shares near 0 and 1.
    let z = quantile(0.95);
    let centre = (happened + z * z / (2.0 * n)) / (1.0 + z * z / n);
    let half = z / (1.0 + z * z / n) * (happened * (1.0 - happened) / n + z * z / (4.0 * n * n)).sqrt();
    Some(Shelf { said, happened, n: all.len(), within: ((centre - half).max(0.0), (centre + half).min(1.0)) })
}

/// The forecasts of net par or better in rounds that were judged with their chances.
pub fn forecasts(reviews: &[RoundReview]) -> Vec<Forecast> {
    let mut out = Vec::new();
    for review in reviews {
        for (hole, chances) in review.holes.iter().zip(&review.chances) {
            let Some(score) = hole.score else { continue };
            let target = i32::from(hole.par) + hole.received;
            let Ok(target) = usize::try_from(target) else { continue };
            if chances.is_empty() {
                continue;
            }
            let said: f64 = chances.iter().take(target + 1).sum();
            out.push(Forecast { said: said.clamp(0.0, 1.0), happened: usize::from(score) <= target });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_fair_forecaster_is_called_fair_and_a_boaster_is_not() {
        let fair: Vec<Forecast> = (0..100).map(|i| Forecast { said: 0.7, happened: i % 10 < 7 }).collect();
        let ledger = Ledger::of(&fair);
        assert!(!ledger.words().contains("too"), "{}", ledger.words());
        assert!((ledger.brier.unwrap_or(1.0) - 0.21).abs() < 1e-9);
        let boast: Vec<Forecast> = (0..100).map(|i| Forecast { said: 0.7, happened: i % 10 < 4 }).collect();
        assert!(Ledger::of(&boast).words().contains("too much"));
        assert_eq!(Ledger::of(&[]).words(), "no forecasts yet");
        // Wilson's interval of 0 in 10 at 90 %: 0 to 0.213 (by hand: z = 1.645).
        let none: Vec<Forecast> = (0..10).map(|_| Forecast { said: 0.1, happened: false }).collect();
        let within = Ledger::of(&none).all.map(|s| s.within).unwrap_or_default();
        assert!(within.0 < 1e-12 && (within.1 - 0.213).abs() < 0.001, "{within:?}");
    }
}
