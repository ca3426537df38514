//! A course notebook from its text: small decoders, one file a noun, that report every problem and go on.

mod checks;
pub mod day;
mod ground;
pub(crate) mod head;
mod hole;
mod layer;
mod sketch;
mod tees;
pub(crate) mod when;
mod written;

pub use day::read_day;
pub use layer::read_layer;

use super::codes::NO_HOLES;
use super::decode::{FileKind, Reader};
use super::model::{Card, Course};
use crate::notebook::{self, Diagnostic, Node};

/// Keys of the file itself.
pub const KEYS: &[&str] = &["format", "course", "tees", "circuits", "landmarks", "holes"];

/// Reads a course notebook. Gives what could be understood and every problem in the order of the file.
///
/// A hole that cannot be read is left out and named in [`Course::unread`]; the others stay. `None` when no hole can be
/// read, or when the text is not a course notebook at all.
///
/// ```
/// let text = "format: course-notebook/1
/// course: { name: Links, units: yards }
/// tees: [ { name: Back } ]
/// holes:
///   - { hole: 1, par: 3, stroke_index: 1, tees: { Back: 160 } }
/// ";
/// let (course, problems) = marram::course::read(text);
/// assert_eq!(course.map(|c| c.holes.len()), Some(1));
/// assert_eq!(problems.iter().map(|p| p.code).collect::<Vec<_>>(), ["hole-count"]);
/// ```
pub fn read(text: &str) -> (Option<Course>, Vec<Diagnostic>) {
    let (root, problems) = notebook::read(text);
    let mut reader = Reader::new(problems);
    let course = root.and_then(|root| course(&mut reader, &root));
    (course, reader.finish())
}

fn course(r: &mut Reader, root: &Node) -> Option<Course> {
    if !r.preamble(root, FileKind::CourseNotebook) {
        return None;
    }
    let file = r.fields(root, "a course notebook", KEYS)?;
    let head = head::course(r, &file);
    let hole_nodes = match file.need(r, "holes", "holes:", |r, n, k| Some(r.items(n, k))) {
        Some(nodes) => nodes,
        None => &[],
    };
    let tees = tees::tee_sets(r, &file, hole_nodes.len());
    let landmarks = file.read(r, "landmarks", |r, n, k| Some(head::landmarks(r, n, k, false))).unwrap_or_default();
    let frame = hole::Frame { tees: &tees, landmarks: &landmarks, survey: head.ground.is_some() };
    let holes = hole::holes(r, hole_nodes, &frame);
    let circuits =
        file.read(r, "circuits", |r, n, k| Some(tees::circuits(r, n, k, &frame, &holes))).unwrap_or_default();
    if holes.read.is_empty() {
        if file.get("holes").is_some() {
            let advice = "write at least one hole with its number, par, stroke index and tees";
            if holes.unnumbered == 0 && !holes.unread.is_empty() && holes.unread.len() == holes.not_known {
                let message = "no hole of this notebook has tees yet";
                r.warning(NO_HOLES, file.place("holes"), message, advice);
            } else {
                r.error(NO_HOLES, file.place("holes"), "no hole of this notebook can be read", advice);
            }
        }
        return None;
    }
    for card in Card::BOTH {
        checks::stroke_indexes(r, &holes, card);
    }
    checks::sequence(r, &holes);
    Some(Course {
        name: head.name,
        units: r.unit,
        elevation: head.elevation,
        green_speed: head.green_speed,
        firmness: head.firmness,
        ground: head.ground,
        credit: head.credit,
        edition: head.edition,
        by: head.by,
        tees,
        circuits,
        landmarks,
        holes: holes.read.into_iter().map(|h| h.hole).collect(),
        unread: holes.unread,
        read_only: r.later,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every key that is read stands in the page about files, as a word of its own or in one of its examples.
    #[test]
    fn every_key_is_documented() {
        let page = include_str!("../../../docs/notebook.md");
        let lists = [
            KEYS,
            head::KEYS,
            head::HOLE_LANDMARK_KEYS,
            tees::TEE_KEYS,
            tees::RATING_KEYS,
            tees::CIRCUIT_KEYS,
            hole::KEYS,
            hole::TEE_KEYS,
            hole::BEND_KEYS,
            hole::HEIGHT_KEYS,
            hole::WALK_KEYS,
            sketch::KEYS,
            sketch::BUNKER_KEYS,
            sketch::PENALTY_KEYS,
            sketch::GREEN_KEYS,
            sketch::SLOPE_KEYS,
            sketch::GRID_KEYS,
            written::AIM_KEYS,
            written::DANGER_KEYS,
            written::LAYUP_KEYS,
            written::NOTE_KEYS,
            when::KEYS,
            layer::KEYS,
            layer::HOLE_KEYS,
            day::KEYS,
            day::WIND_KEYS,
        ];
        let absent: Vec<&&str> = lists
            .into_iter()
            .flatten()
            .filter(|key| !page.contains(&format!("`{key}`")) && !page.contains(&format!("{key}: ")))
            .collect();
        assert!(absent.is_empty(), "{absent:?}");
    }
}
