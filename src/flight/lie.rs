//! What a sloping lie does to the launch: geometry alone.

use super::trajectory::Launch;
use super::vector::V3;

/// Which way a player swings.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Hand {
    /// Stands on the left of the line of play.
    #[default]
    Right,
    /// The mirror image.
    Left,
}

/// A sloping lie. No published figures were found: this is geometry, and the shares say how far the swing follows the
/// slope (1 = wholly).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lie {
    /// Degrees, positive uphill, negative downhill.
    pub uphill_deg: f64,
    /// Degrees, positive with the ball above the feet, negative below.
    pub above_feet_deg: f64,
    /// Share of the slope the swing follows, 0 to 1.
    pub share: f64,
}

impl Lie {
    /// A level lie.
    pub const LEVEL: Lie = Lie { uphill_deg: 0.0, above_feet_deg: 0.0, share: 1.0 };

    /// An uphill (positive) or downhill (negative) lie.
    pub const fn uphill(deg: f64) -> Lie {
        Lie { uphill_deg: deg, above_feet_deg: 0.0, share: 1.0 }
    }

    /// A side-hill lie: ball above the feet (positive) or below them (negative).
    pub const fn above_feet(deg: f64) -> Lie {
        Lie { uphill_deg: 0.0, above_feet_deg: deg, share: 1.0 }
    }

    /// The launch from this lie: velocity and spin axis turned with the slope, speed and spin unchanged.
    pub fn launch(&self, level: &Launch, hand: Hand) -> Launch {
        let share = self.share.clamp(0.0, 1.0);
        let up = share * self.uphill_deg.clamp(-45.0, 45.0).to_radians();
        let side = share * self.above_feet_deg.clamp(-45.0, 45.0).to_radians();
        let side = match hand {
            Hand::Right => side,
            Hand::Left => -side,
        };
        // About y for up and down; about the line of play so that the loft leans left with the ball above the feet.
        let turn = |v: V3| v.rotated(V3::new(0.0, 1.0, 0.0), -up).rotated(V3::new(1.0, 0.0, 0.0), -side);
        Launch::from_vectors(turn(level.velocity()), turn(level.axis()), level.spin_rpm)
    }
}
