//! What could not be laid out, as values and in words.

use super::Drawn;
use crate::ground::{Bend, BendProblem, ShapeProblem};
use crate::notebook::Span;
use crate::units::{Across, Along, Length, LengthUnit};

/// One thing that could not be laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    /// Which piece of the sketch, by index, when it is one.
    pub piece: Option<usize>,
    /// Where it is written; the start of the file for bends, which carry no place of their own.
    pub span: Span,
    /// What is wrong.
    pub what: What,
}

/// What is wrong.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// The hole is longer than any hole.
    LineTooLong {
        /// The length that was asked for.
        length: Along,
    },
    /// A bend stands off the line.
    BendOffTheLine {
        /// Which bend.
        bend: usize,
        /// Where it stands.
        at: Along,
        /// Where the line ends.
        length: Along,
    },
    /// A bend turns too far.
    BendTooSharp {
        /// Which bend.
        bend: usize,
        /// By how many degrees.
        turn_deg: f64,
    },
    /// A tee stands at or past the middle of the green.
    GreenBehindTee {
        /// Its name.
        tee: String,
    },
    /// A tee stands absurdly far away.
    TeeTooFar {
        /// Its name.
        tee: String,
    },
    /// The green has no depth or width, or an absurd one.
    GreenWithoutArea,
    /// A bunker longer than the hole, or ground far before or past it.
    OffTheHole {
        /// Its name, or the word for its kind.
        name: String,
        /// Where it begins.
        from: Along,
        /// Where it ends.
        to: Along,
        /// Where the line ends.
        length: Along,
    },
    /// A piece of ground.
    Shape {
        /// Its name, or the word for its kind.
        name: String,
        /// Why it cannot be laid out.
        problem: ShapeProblem,
    },
}

impl Problem {
    pub(super) fn of_hole(drawn: Drawn<'_>, what: What) -> Self {
        let green = drawn.sketch.green.as_ref().map(|green| green.span);
        Self::at(green.unwrap_or_default(), what)
    }

    pub(super) const fn at(span: Span, what: What) -> Self {
        Self { piece: None, span, what }
    }

    pub(super) const fn of_piece(piece: usize, span: Span, what: What) -> Self {
        Self { piece: Some(piece), span, what }
    }
}

impl What {
    pub(super) fn bend(problem: BendProblem, bends: &[Bend], length: Along) -> Self {
        let (BendProblem::OffTheLine { bend } | BendProblem::TooSharp { bend }) = problem;
        let (at, turn_deg) = bends.get(bend).map_or((Along(0.0), 0.0), |b| (b.at, b.turn_deg));
        match problem {
            BendProblem::OffTheLine { bend } => Self::BendOffTheLine { bend, at, length },
            BendProblem::TooSharp { bend } => Self::BendTooSharp { bend, turn_deg },
        }
    }

    /// What is wrong, in one sentence without a full stop; places counted from the start of the line in `unit`.
    pub fn message(&self, unit: LengthUnit) -> String {
        let show = |at: Along| Length::yards(at.0).show(unit);
        let side = |across: Across| across.show(unit);
        match self {
            Self::LineTooLong { length } => format!("the hole would be {} long", show(*length)),
            Self::BendOffTheLine { at, length, .. } => {
                format!("the bend at {} is not on the line, which runs from 0 to {}", show(*at), show(*length))
            }
            Self::BendTooSharp { turn_deg, .. } => format!("a bend cannot turn by {} degrees", turn_deg.abs()),
            Self::GreenBehindTee { tee } => format!("the green lies behind the {tee} tee"),
            Self::TeeTooFar { tee } => format!("the {tee} tee stands impossibly far from the hole"),
            Self::GreenWithoutArea => "the green has no size".to_owned(),
            Self::OffTheHole { name, from, to, length } => {
                format!("{name} runs from {} to {}, but the hole from 0 to {}", show(*from), show(*to), show(*length))
            }
            Self::Shape { name, problem } => match problem {
                ShapeProblem::BeyondTurn { at, across, radius } => format!(
                    "{name} reaches {} at {}, but inside the bend the ground ends at {}",
                    side(*across),
                    show(*at),
                    side(*radius)
                ),
                ShapeProblem::CrossesItself { at, across } => {
                    format!("the outline of {name} crosses itself near {}, {}", show(*at), side(*across))
                }
                ShapeProblem::OutOfOrder { at } => {
                    format!("{name} runs backwards: {} does not come after the place before it", show(*at))
                }
                ShapeProblem::NoArea => format!("{name} covers nothing"),
                ShapeProblem::TooFar { at, across } => {
                    format!("{name} reaches to {}, {}, which is no part of a hole", show(*at), side(*across))
                }
            },
        }
    }

    /// What to do, in one sentence.
    pub const fn advice(&self) -> &'static str {
        match self {
            Self::LineTooLong { .. } => "check `front` of the green and the lengths of the tees",
            Self::BendOffTheLine { .. } => "give `at` as a distance along the line, from its start",
            Self::BendTooSharp { .. } => "draw it as two bends, or check the degrees; at most 150",
            Self::GreenBehindTee { .. } => "check `front` of the green, and the `length` or `starts_at` of the tee",
            Self::TeeTooFar { .. } => "check `starts_at` and `across` of the tee",
            Self::GreenWithoutArea => "give `depth` and `width` of the green, each more than 0",
            Self::OffTheHole { .. } => "check the places; they count from the start of the line",
            Self::Shape { problem, .. } => match problem {
                ShapeProblem::BeyondTurn { .. } => {
                    "bring it nearer to the line there, or end it before the bend and draw the rest after it"
                }
                ShapeProblem::CrossesItself { .. } => "give its places once round, in order",
                ShapeProblem::OutOfOrder { .. } => "give places in order from the tee towards the green",
                ShapeProblem::NoArea => "a band needs a width, a path two places and a width, an outline three places",
                ShapeProblem::TooFar { .. } => "check the number",
            },
        }
    }
}
