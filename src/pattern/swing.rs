//! One swing from one lie: how far, how it scatters, and the points that stand for it.

use super::{Lie, Points};

/// Mean length of a mishit as a share of the length meant (reference on strategy, section 5).
const MISHIT_LENGTH: f64 = 0.72;
/// One standard deviation of a mishit's length.
const MISHIT_SPREAD: f64 = 0.15;

/// A swing with a club from a lie. Yards; across is positive to the right of the aim.
#[derive(Clone, Debug, PartialEq)]
pub struct Swing {
    /// Which club of the bag, counted from the longest.
    pub club: usize,
    /// Whether it is the club's full swing, against one eased to a shorter length.
    pub full: bool,
    /// From which lie.
    pub lie: Lie,
    /// Carry and run on fairway together.
    pub total: f64,
    /// The share of `total` that is carried through the air.
    pub carried: f64,
    /// One standard deviation along the line.
    pub along: f64,
    /// One standard deviation across it.
    pub across: f64,
    /// Correlation of length with direction: positive when the long ones go right.
    pub lean: f64,
    /// Chance of a mishit.
    pub mishit: f64,
    /// How far right of its start a usual shot finishes.
    pub curve: f64,
}

impl Swing {
    /// The carry.
    pub fn carry(&self) -> f64 {
        self.total * self.carried
    }

    /// The run on fairway.
    pub fn run(&self) -> f64 {
        self.total - self.carry()
    }

    /// One standard deviation across the line of a mishit.
    pub fn mishit_across(&self) -> f64 {
        (2.2 * self.across).min(self.across.max(self.total / 4.0))
    }

    /// The greatest height of the flight, a share of the carry that falls from wedge to driver.
    pub fn apex(&self) -> f64 {
        let carry = self.carry();
        if self.lie == Lie::Trees {
            0.05 * carry
        } else {
            // A scratch driver of 225 reaches about 28 yards, a wedge of 100 about 25, a bogey driver of 180 about 23 (from memory).
            carry * (0.26 - 0.000_6 * carry).max(0.11)
        }
    }
}

/// A cloud holds a multiple of so many points, so that they can be worked on several at once.
pub const LANES: usize = 8;

/// The points of one swing about its own line: where each would finish on endless fairway.
#[derive(Clone, Debug, PartialEq)]
pub struct Cloud {
    /// Along the line from the ball, carry and run.
    pub along: Vec<f32>,
    /// Across it.
    pub across: Vec<f32>,
    /// Weights; they sum to one. The last points may be there to fill up and weigh nothing.
    pub weights: Vec<f32>,
    /// The share of each length that is carried.
    pub carried: f32,
    /// The middle of the ordinary shots along the line.
    pub meant: f32,
    /// The widest angle of a point to the line, as its tangent.
    pub slant: f32,
}

impl Cloud {
    /// The scatter of `swing` on two sets of points, for ordinary shots and for mishits.
    pub fn new(swing: &Swing, ordinary: &Points, mishits: &Points) -> Self {
        let q = swing.mishit.clamp(0.0, 0.9);
        let lean = swing.lean.clamp(-0.95, 0.95);
        let upright = (1.0 - lean * lean).sqrt();
        let (mut along, mut across, mut weights) = (Vec::new(), Vec::new(), Vec::new());
        let mut add = |mean: f64, spread: f64, wide: f64, share: f64, points: &Points| {
            for (u, v) in points.along.iter().zip(&points.across) {
                along.push((mean + spread * u).max(0.0) as f32);
                across.push((wide * (lean * u + upright * v)) as f32);
                weights.push((share / points.len() as f64) as f32);
            }
        };
        add(swing.total, swing.along, swing.across, 1.0 - q, ordinary);
        if q > 0.0 {
            add(MISHIT_LENGTH * swing.total, MISHIT_SPREAD * swing.total, swing.mishit_across(), q, mishits);
        }
        let slant = along.iter().zip(&across).map(|(a, b)| b.abs() / a.max(1.0)).fold(0.0, f32::max);
        while along.len() % LANES != 0 {
            along.push(swing.total as f32);
            across.push(0.0);
            weights.push(0.0);
        }
        Self { along, across, weights, carried: swing.carried as f32, meant: swing.total as f32, slant }
    }

    /// How many points there are, those that weigh nothing included.
    pub fn len(&self) -> usize {
        self.along.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.along.is_empty()
    }

    /// Weight of point `i`.
    pub fn weight_of(&self, i: usize) -> f32 {
        self.weights.get(i).copied().unwrap_or_default()
    }
}
