//! The sketch laid out in the plane; what cannot be laid out becomes a diagnostic at its piece.

use super::hole::TeeNode;
use crate::course::codes::{
    BEND_OUTSIDE, BEYOND_HOLE, BEYOND_TURN, CROSSES_ITSELF, GREEN_BEFORE_TEE, LONGER_THAN_HOLE, NOT_IN_ORDER,
    TOO_FEW_POINTS,
};
use crate::course::decode::{Code, OUT_OF_RANGE, Reader};
use crate::course::lay_out::{Drawn, Problem, What, lay_out};
use crate::course::model::{HoleTee, Sketch};
use crate::ground::{Bend, Ground, ShapeProblem, Surface};
use crate::units::Along;

/// Lays a hole out in the plane. A piece that cannot be laid out is reported and left out of the ground.
pub fn lay(r: &mut Reader, sketch: &Sketch, bends: &[Bend], tees: &[TeeNode], heights: &[(Along, f64)]) -> Ground {
    let tees: Vec<HoleTee> = tees.iter().map(|t| t.tee.clone()).collect();
    let (ground, problems) = lay_out(Drawn { sketch, bends, tees: &tees, heights });
    for problem in problems {
        let code = code(&problem, sketch);
        r.error(code, problem.span, problem.what.message(r.unit), problem.what.advice());
    }
    ground
}

fn code(problem: &Problem, sketch: &Sketch) -> Code {
    match &problem.what {
        What::LineTooLong { .. } | What::BendTooSharp { .. } | What::TeeTooFar { .. } | What::GreenWithoutArea => {
            OUT_OF_RANGE
        }
        What::BendOffTheLine { .. } => BEND_OUTSIDE,
        What::GreenBehindTee { .. } => GREEN_BEFORE_TEE,
        What::OffTheHole { from, to, length, .. } => {
            let piece = problem.piece.and_then(|index| sketch.pieces.get(index));
            let bunker = piece.is_some_and(|piece| piece.surface == Surface::Bunker);
            if bunker && to.0 - from.0 > length.0 { LONGER_THAN_HOLE } else { BEYOND_HOLE }
        }
        What::Shape { problem, .. } => match problem {
            ShapeProblem::BeyondTurn { .. } => BEYOND_TURN,
            ShapeProblem::CrossesItself { .. } => CROSSES_ITSELF,
            ShapeProblem::OutOfOrder { .. } => NOT_IN_ORDER,
            ShapeProblem::NoArea => TOO_FEW_POINTS,
            ShapeProblem::TooFar { .. } => BEYOND_HOLE,
        },
    }
}
