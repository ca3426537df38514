//! The kinds of ground that make a difference to a shot, and where each of them lies.

use crate::ground::{Face, Point, Surface};
use crate::pattern::Lie;

/// A kind of ground as the solver tells them apart. Those from [`Kind::Fairway`] to [`Kind::Trees`] carry the number of their [`Lie`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[repr(u8)]
pub enum Kind {
    /// The putting green.
    Green = 0,
    /// Fairway, fringe, tees.
    Fairway = 1,
    /// Rough.
    Rough = 2,
    /// Long grass.
    Deep = 3,
    /// Waste ground.
    Waste = 4,
    /// A bunker with a low face.
    ShallowSand = 5,
    /// An ordinary bunker.
    Sand = 6,
    /// A bunker with a high face.
    SteepSand = 7,
    /// Trees.
    Trees = 8,
    /// A red penalty area.
    PenaltyRed = 9,
    /// A yellow penalty area.
    PenaltyYellow = 10,
    /// Out of bounds.
    Out = 11,
}

impl Kind {
    const ALL: [Self; 12] = [
        Self::Green,
        Self::Fairway,
        Self::Rough,
        Self::Deep,
        Self::Waste,
        Self::ShallowSand,
        Self::Sand,
        Self::SteepSand,
        Self::Trees,
        Self::PenaltyRed,
        Self::PenaltyYellow,
        Self::Out,
    ];

    /// The kind with this number; a number of none is rough.
    pub fn of_byte(byte: u8) -> Self {
        Self::ALL.get(usize::from(byte)).copied().unwrap_or(Self::Rough)
    }

    /// The kind that a surface and the face of its bunker make.
    pub const fn of(surface: Surface, face: Face) -> Self {
        match surface {
            Surface::Out => Self::Out,
            Surface::PenaltyRed => Self::PenaltyRed,
            Surface::PenaltyYellow => Self::PenaltyYellow,
            Surface::Bunker => match face {
                Face::Shallow => Self::ShallowSand,
                Face::Usual => Self::Sand,
                Face::Steep => Self::SteepSand,
            },
            Surface::Green => Self::Green,
            Surface::Fringe | Surface::Tee | Surface::Fairway => Self::Fairway,
            Surface::Trees => Self::Trees,
            Surface::Deep => Self::Deep,
            Surface::Waste => Self::Waste,
            Surface::Rough => Self::Rough,
        }
    }

    /// The lie of a ball on it; `None` on the green, in a penalty area and out of bounds.
    pub fn lie(self) -> Option<Lie> {
        match self {
            Self::Green | Self::PenaltyRed | Self::PenaltyYellow | Self::Out => None,
            _ => Lie::ALL.get(self as usize).copied(),
        }
    }

    /// Whether it is a penalty area.
    pub const fn penalty(self) -> bool {
        matches!(self, Self::PenaltyRed | Self::PenaltyYellow)
    }

    /// Whether it is sand of a bunker.
    pub const fn sand(self) -> bool {
        matches!(self, Self::ShallowSand | Self::Sand | Self::SteepSand)
    }
}

/// Where each kind of ground lies, in the plane of the hole.
pub trait Lies: Sync {
    /// The kind of ground at a point; defined everywhere.
    fn kind(&self, at: Point) -> Kind;
}

/// The plain hole of the printed model: a fairway 32 yards wide up to an elliptical green of 28 by 24 with the hole in its middle at
/// `length` straight ahead, rough elsewhere (reference on strategy, section 5).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plain {
    /// From the tee to the hole.
    pub length: f64,
}

impl Plain {
    /// Half the width of the fairway.
    pub const HALF_FAIRWAY: f64 = 16.0;
}

impl Lies for Plain {
    fn kind(&self, at: Point) -> Kind {
        let (x, y) = (at.right, at.ahead - self.length);
        if (x / 12.0).powi(2) + (y / 14.0).powi(2) <= 1.0 {
            Kind::Green
        } else if x.abs() <= Self::HALF_FAIRWAY && y <= 0.0 {
            Kind::Fairway
        } else {
            Kind::Rough
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_and_lies_share_their_numbers() {
        for (i, kind) in Kind::ALL.iter().enumerate() {
            assert_eq!(*kind as usize, i);
            assert_eq!(Kind::of_byte(i as u8), *kind);
            if let Some(lie) = kind.lie() {
                assert_eq!(lie as usize, i);
            }
        }
        assert_eq!(Kind::of(Surface::Bunker, Face::Steep).lie(), Some(Lie::SteepSand));
        assert_eq!(Kind::of(Surface::Fringe, Face::Usual), Kind::Fairway);
        assert_eq!(Kind::Green.lie(), None);
    }
}
