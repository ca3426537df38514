//! The sketch laid out in the plane; what cannot be laid out becomes a diagnostic at its piece.

use super::hole::TeeNode;
use crate::course::decode::Reader;
use crate::course::model::Sketch;
use crate::ground::{Bend, Ground, Point, Surface, TeeSpot};
use crate::units::Along;

/// Lays a hole out in the plane.
pub fn lay(
    _r: &mut Reader,
    _sketch: &Sketch,
    bends: &[Bend],
    heights: &[(Along, f64)],
    tees: &[TeeNode],
    line: f64,
    _number: u8,
) -> Ground {
    let tees = tees.iter().map(|t| TeeSpot {
        name: t.tee.name.clone(),
        at: t.tee.at,
        across: t.tee.across,
        point: Point { right: t.tee.across.0, ahead: t.tee.at.0 },
    });
    Ground {
        bends: bends.to_vec(),
        length: Along(line),
        tees: tees.collect(),
        features: Vec::new(),
        green: None,
        heights: heights.to_vec(),
    }
}

/// A kind of ground in words, with its article.
pub fn kind_words(surface: Surface) -> &'static str {
    match surface {
        Surface::Out => "out of bounds",
        Surface::PenaltyRed | Surface::PenaltyYellow => "a penalty area",
        Surface::Bunker => "a bunker",
        Surface::Green => "the green",
        Surface::Fringe => "the fringe",
        Surface::Tee => "a teeing area",
        Surface::Fairway => "a fairway",
        Surface::Trees => "a stand of trees",
        Surface::Deep => "deep ground",
        Surface::Waste => "waste ground",
        Surface::Rough => "rough",
    }
}
