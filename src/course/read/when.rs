//! The `when` block.

use super::tees::known_tee;
use crate::course::condition::{Hand, HoleLocationArea, ShotShape, When, WindSide};
use crate::course::decode::Reader;
use crate::course::model::TeeSet;
use crate::notebook::Node;

/// Keys of a `when` block.
pub const KEYS: &[&str] =
    &["tees", "carry", "playing_handicap", "strokes", "hole_location", "wind", "shape", "hand", "pupil"];
/// Words of areas of the green.
pub const AREAS: &[(&str, HoleLocationArea)] = &[
    ("front", HoleLocationArea::Front),
    ("middle", HoleLocationArea::Middle),
    ("back", HoleLocationArea::Back),
    ("left", HoleLocationArea::Left),
    ("right", HoleLocationArea::Right),
];
const WINDS: &[(&str, WindSide)] = &[("into", WindSide::Into), ("with", WindSide::With), ("across", WindSide::Across)];
/// Words of shot shapes.
pub const SHAPES: &[(&str, ShotShape)] =
    &[("draw", ShotShape::Draw), ("fade", ShotShape::Fade), ("straight", ShotShape::Straight)];
/// Words of hands.
pub const HANDS: &[(&str, Hand)] = &[("right", Hand::Right), ("left", Hand::Left)];

/// Reads a `when` block; `tees` are the course's tee sets, `None` when no course is at hand.
pub fn when(r: &mut Reader, node: &Node, tees: Option<&[TeeSet]>) -> Option<When> {
    let fields = r.fields(node, "`when`", KEYS)?;
    let tee_names = fields.read(r, "tees", |r, n, k| {
        let mut names = r.texts(n, k)?;
        if let Some(tees) = tees {
            names.retain(|(name, span)| known_tee(r, tees, name, *span));
        }
        Some(names.into_iter().map(|(name, _)| name).collect())
    });
    Some(When {
        tees: tee_names,
        carry: fields.read(r, "carry", Reader::length_range),
        playing_handicap: fields.read(r, "playing_handicap", Reader::handicap_range),
        strokes: fields.read(r, "strokes", Reader::count_range),
        hole_location: fields.read(r, "hole_location", |r, n, k| r.one_or_more(n, k, |r, n, k| r.word(n, k, AREAS))),
        wind: fields.read(r, "wind", |r, n, k| r.one_or_more(n, k, |r, n, k| r.word(n, k, WINDS))),
        shape: fields.read(r, "shape", |r, n, k| r.one_or_more(n, k, |r, n, k| r.word(n, k, SHAPES))),
        hand: fields.read(r, "hand", |r, n, k| r.word(n, k, HANDS)),
        pupil: fields.read(r, "pupil", |r, n, k| Some(r.texts(n, k)?.into_iter().map(|(name, _)| name).collect())),
    })
}
