//! Repeatable random numbers, for playing holes out: the same seed, the same round.

use crate::pattern::Swing;
use crate::pattern::normal::quantile;
use crate::pattern::putts::MOST_PUTTS;

/// A source of random numbers.
///
/// # References
/// Steele, Lea and Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014: the mixing function.
#[derive(Clone, Debug)]
pub struct Dice(u64);

impl Dice {
    /// From a seed.
    pub const fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// Between 0 and 1, neither of them.
    pub fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^= z >> 31;
        ((z >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    /// A standard normal number.
    pub fn normal(&mut self) -> f64 {
        quantile(self.share())
    }

    /// Whether something of this chance happens.
    pub fn happens(&mut self, chance: f64) -> bool {
        self.share() < chance
    }

    /// Where a swing goes along its aim and across it, mishits among them.
    pub fn swing(&mut self, swing: &Swing) -> (f64, f64) {
        let lean = swing.lean.clamp(-0.95, 0.95);
        let (u, v) = (self.normal(), self.normal());
        let beside = lean * u + (1.0 - lean * lean).sqrt() * v;
        if self.happens(swing.mishit) {
            // The mishit of the model: 0.72 of the length, 0.15 of it as spread.
            ((0.72 + 0.15 * u) * swing.total, swing.mishit_across() * beside)
        } else {
            (swing.total + swing.along * u, swing.across * beside)
        }
    }

    /// How many putts, by their chances.
    pub fn putts(&mut self, chances: &[f64; MOST_PUTTS]) -> u8 {
        let mut left = self.share();
        for (n, p) in (1u8..).zip(chances) {
            if left < *p {
                return n;
            }
            left -= p;
        }
        MOST_PUTTS as u8
    }
}
