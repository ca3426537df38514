//! A layer from its text: one person's additions to a notebook.

use super::head::{file_beside, units};
use super::tees::HOLE;
use super::written::{self, Known};
use crate::course::codes::{HOLE_TWICE, OTHER_EDITION, REPLACES_NOTHING, UNKNOWN_HOLE};
use crate::course::decode::{Fields, FileKind, Reader, quoted};
use crate::course::layer::{Layer, LayerHole};
use crate::course::merge;
use crate::course::model::Course;
use crate::notebook::{self, Diagnostic, Node, Span};

/// Keys of a layer.
pub const KEYS: &[&str] = &["format", "course", "by", "for", "edition", "units", "holes"];
/// Keys of a hole of a layer.
pub const HOLE_KEYS: &[&str] = &["hole", "aims", "dangers", "layups", "notes", "hides"];

/// Reads a layer against its course: lengths are in its own `units`, else in the course's.
///
/// Without a course only the layer itself is checked; [`Layer::course`] says which file to read first.
pub fn read_layer(text: &str, course: Option<&Course>) -> (Option<Layer>, Vec<Diagnostic>) {
    let (root, problems) = notebook::read(text);
    let mut reader = Reader::new(problems);
    let layer = root.and_then(|root| layer(&mut reader, &root, course));
    (layer, reader.finish())
}

fn layer(r: &mut Reader, root: &Node, course: Option<&Course>) -> Option<Layer> {
    if !r.preamble(root, FileKind::NotebookLayer) {
        return None;
    }
    let fields = r.fields(root, "a layer", KEYS)?;
    r.unit = course.map_or(r.unit, |c| c.units);
    r.unit = fields.read(r, "units", units).unwrap_or(r.unit);
    let file = fields.need(r, "course", "course: corvane.yaml", file_beside);
    let by = fields.read(r, "by", Reader::text);
    let for_whom = fields.read(r, "for", Reader::text);
    let edition = fields.read(r, "edition", Reader::text);
    if let (Some(ours), Some(theirs)) = (&edition, course.and_then(|c| c.edition.as_ref()))
        && ours != theirs
    {
        let message =
            format!("this layer was written for edition {}, and the notebook is {}", quoted(ours), quoted(theirs));
        r.warning(OTHER_EDITION, fields.place("edition"), message, "look it through, then write the new edition here");
    }
    let mut layer =
        Layer { course: file.unwrap_or_default(), by, for_whom, edition, holes: Vec::new(), read_only: r.later };
    let whose = layer.whose().to_owned();
    let nodes = fields.need(r, "holes", "holes:", |r, n, k| Some(r.items(n, k))).unwrap_or_default();
    for node in nodes {
        if let Some(hole) = layer_hole(r, node, course, &whose, &layer.holes) {
            layer.holes.push(hole);
        }
    }
    layer.holes.sort_by_key(|h| h.number);
    if let Some(course) = course {
        for lost in merge::lost(course, &layer) {
            let message = format!("hole {} has nothing named {}", lost.hole, quoted(&lost.id));
            let advice = match lost.hides {
                true => "it hides nothing any more: take it out, or name what to hide",
                false => "it is shown beside the rest: name what it replaces, or take `replaces` out",
            };
            r.warning(REPLACES_NOTHING, lost.span, message, advice);
        }
    }
    Some(layer)
}

fn layer_hole(
    r: &mut Reader,
    node: &Node,
    course: Option<&Course>,
    whose: &str,
    read: &[LayerHole],
) -> Option<LayerHole> {
    let fields = r.fields(node, "a hole of a layer", HOLE_KEYS)?;
    let number = fields.need(r, "hole", "hole: 4", |r, n, k| r.small(n, k, HOLE))?;
    let span = fields.get("hole").map_or(fields.span, |n| n.span);
    if read.iter().any(|h| h.number == number) {
        let message = format!("there are two holes with the number {number}");
        r.error(HOLE_TWICE, span, message, "write everything about one hole in one place; the first one is read");
        return None;
    }
    let hole = course.and_then(|course| course.hole(number));
    if let Some(course) = course.filter(|c| hole.is_none() && !c.unread.contains(&number)) {
        r.error(UNKNOWN_HOLE, span, format!("the course has no hole {number}"), course.known_holes());
    }
    let known = match course.zip(hole) {
        Some((course, hole)) => Known::of_layer(course, hole, whose),
        None => Known { layer: Some(whose), ..Known::default() },
    };
    let found = LayerHole {
        number,
        aims: fields.read(r, "aims", |r, n, k| Some(written::aims(r, n, k, &known))).unwrap_or_default(),
        dangers: fields.read(r, "dangers", |r, n, k| Some(written::dangers(r, n, k, &known))).unwrap_or_default(),
        layups: fields.read(r, "layups", |r, n, k| Some(written::layups(r, n, k, &known))).unwrap_or_default(),
        notes: fields.read(r, "notes", |r, n, k| Some(written::notes(r, n, k, &known))).unwrap_or_default(),
        hides: hides(r, &fields),
    };
    written::ids_once(r, node, number);
    Some(found)
}

/// What is hidden: under `hides` of the hole, and as `- hides: ID` in any of its lists.
fn hides(r: &mut Reader, fields: &Fields<'_>) -> Vec<(String, Span)> {
    let mut hidden = fields.read(r, "hides", Reader::texts).unwrap_or_default();
    for list in ["aims", "dangers", "layups", "notes"] {
        for item in fields.get(list).map(Node::items).unwrap_or_default() {
            if let Some(node) = item.get("hides") {
                hidden.extend(r.texts(node, "hides").unwrap_or_default());
            }
        }
    }
    hidden
}
