//! The `when` block of aims, dangers, lay-ups and notes: to whom and when something applies.

/// A range with open ends, both ends included: `200..`, `..200`, `10..18`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Range {
    /// The least value, if any.
    pub from: Option<f64>,
    /// The greatest value, if any.
    pub to: Option<f64>,
}

/// Where on the green today's hole is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleLocationArea {
    /// The front third.
    Front,
    /// The middle third.
    Middle,
    /// The back third.
    Back,
    /// The left half.
    Left,
    /// The right half.
    Right,
}

/// Where the wind comes from against the line of play.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WindSide {
    /// In the face.
    Into,
    /// From behind.
    With,
    /// From a side.
    Across,
}

/// A flight that bends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShotShape {
    /// Bends towards the side of the hands: right to left for a right-hander.
    Draw,
    /// Bends away.
    Fade,
    /// Neither.
    Straight,
}

/// The hand a player plays with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Hand {
    /// Right-handed.
    #[default]
    Right,
    /// Left-handed.
    Left,
}

/// All that is given must hold.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct When {
    /// From these tee sets.
    pub tees: Option<Vec<String>>,
    /// The player's driver carry, yards.
    pub carry: Option<Range>,
    /// The player's Playing Handicap; plus handicaps are negative.
    pub playing_handicap: Option<Range>,
    /// Strokes received on this hole.
    pub strokes: Option<Range>,
    /// Today's hole location lies in one of these areas.
    pub hole_location: Option<Vec<HoleLocationArea>>,
    /// Today's wind.
    pub wind: Option<Vec<WindSide>>,
    /// The player's usual shape with the driver.
    pub shape: Option<Vec<ShotShape>>,
    /// The player's hand.
    pub hand: Option<Hand>,
    /// These players by name.
    pub pupil: Option<Vec<String>>,
}
