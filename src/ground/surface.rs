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
