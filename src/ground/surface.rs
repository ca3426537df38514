//! The kinds of ground a ball can lie on.

/// A kind of ground. Where shapes overlap the **first** of this list wins (notebook.md, "Every kind of ground").
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[repr(u8)]
pub enum Surface {
    /// Out of bounds (Rules of Golf 2023, 18.2).
    Out = 0,
    /// A red penalty area (Rule 17): lateral relief is allowed.
    PenaltyRed = 1,
    /// A yellow penalty area (Rule 17): back on the line, or stroke and distance.
    PenaltyYellow = 2,
    /// A bunker (Rule 12).
    Bunker = 3,
    /// The putting green (Rule 13).
    Green = 4,
    /// The fringe of the green.
    Fringe = 5,
    /// A teeing area, mown like fairway.
    Tee = 6,
    /// The fairway.
    Fairway = 7,
    /// Trees and bushes that stop or block a ball.
    Trees = 8,
    /// Long grass, heather, gorse: a ball is found but hardly advanced.
    Deep = 9,
    /// Waste ground: sand and scrub that is not a bunker.
    Waste = 10,
    /// Everything else.
    Rough = 11,
}

impl Surface {
    /// Every kind, in order of precedence: the first wins where shapes overlap.
    pub const ALL: [Self; 12] = [
        Self::Out,
        Self::PenaltyRed,
        Self::PenaltyYellow,
        Self::Bunker,
        Self::Green,
        Self::Fringe,
        Self::Tee,
        Self::Fairway,
        Self::Trees,
        Self::Deep,
        Self::Waste,
        Self::Rough,
    ];

    /// The kind with this number, as a raster holds it; rough for a number that is none.
    pub const fn from_byte(byte: u8) -> Self {
        match byte {
            0 => Self::Out,
            1 => Self::PenaltyRed,
            2 => Self::PenaltyYellow,
            3 => Self::Bunker,
            4 => Self::Green,
            5 => Self::Fringe,
            6 => Self::Tee,
            7 => Self::Fairway,
            8 => Self::Trees,
            9 => Self::Deep,
            10 => Self::Waste,
            _ => Self::Rough,
        }
    }

    /// Its number, as a raster holds it.
    pub const fn byte(self) -> u8 {
        self as u8
    }

    /// Whether a player would rather not find a ball there: it has a reach, a carry, a letter and a price.
    pub const fn is_danger(self) -> bool {
        matches!(
            self,
            Self::Out | Self::PenaltyRed | Self::PenaltyYellow | Self::Bunker | Self::Trees | Self::Deep | Self::Waste
        )
    }

    /// The word for it in a sentence.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Out => "out of bounds",
            Self::PenaltyRed => "red penalty area",
            Self::PenaltyYellow => "yellow penalty area",
            Self::Bunker => "bunker",
            Self::Green => "green",
            Self::Fringe => "fringe",
            Self::Tee => "teeing area",
            Self::Fairway => "fairway",
            Self::Trees => "trees",
            Self::Deep => "long grass",
            Self::Waste => "waste",
            Self::Rough => "rough",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_byte_leads_back_to_its_kind_and_the_order_is_that_of_precedence() {
        for pair in Surface::ALL.windows(2) {
            assert!(pair[0] < pair[1]);
        }
        for surface in Surface::ALL {
            assert_eq!(Surface::from_byte(surface.byte()), surface);
        }
    }
}
