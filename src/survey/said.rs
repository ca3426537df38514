//! What somebody who walked the course said of a place: aim points, notes, what a distance marker reads.

use super::element::Map;
use super::kind::Kind;
use super::lines::HoleTrack;
use super::placed::Placed;
use super::track::metres;
use crate::ground::Point;

/// How near to a hole's line something said belongs to it.
const NEAR: f64 = metres(60.0);

/// What is said of a place.
#[derive(Clone, Debug, PartialEq)]
pub enum What {
    /// Where to aim.
    Aim,
    /// A note.
    Note,
    /// A marker that reads so much, in the unit of the course.
    Marker(f64),
}

/// Something said of a place on a hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    /// Which placed element.
    pub index: usize,
    /// Its id.
    pub id: String,
    /// What it is.
    pub what: What,
    /// The words.
    pub words: String,
    /// Where, in the plane of the course.
    pub point: Point,
}

/// What was said on each hole, and what belongs to none.
pub fn said(map: &Map, placed: &[Placed], members: &[usize], tracks: &[HoleTrack]) -> (Vec<Vec<Said>>, Vec<usize>) {
    let mut found: Vec<Vec<Said>> = vec![Vec::new(); tracks.len()];
    let mut left = Vec::new();
    for &index in members {
        let Some(item) = placed.get(index).filter(|p| matches!(p.kind, Kind::Note | Kind::Marker)) else { continue };
        let Some(element) = map.elements.get(item.element) else { continue };
        let number = element.tags.get("reads").and_then(|t| t.trim().parse::<f64>().ok());
        let what = match (&item.kind, number, element.tags.word("golf").as_deref()) {
            (Kind::Marker, Some(reads), _) => What::Marker(reads),
            (_, _, Some("aim")) => What::Aim,
            _ => What::Note,
        };
        let words = element.tags.get("name").or_else(|| element.tags.get("description")).unwrap_or_default();
        let named = element.tags.get("holes").map(|t| t.split(';').map(str::trim).collect::<Vec<_>>());
        let own = |hole: &HoleTrack| {
            let line = placed.get(hole.index).and_then(|p| map.elements.get(p.element));
            let number = line.and_then(|e| e.tags.get("ref")).and_then(|r| super::values::reference(r).number);
            line.zip(named.as_ref()).is_some_and(|(line, named)| {
                named.contains(&line.id.as_str()) || number.is_some_and(|n| named.contains(&n.to_string().as_str()))
            })
        };
        let by_name = tracks.iter().position(own);
        let nearest = || {
            let away = tracks.iter().map(|h| h.track.beside(item.middle).distance).enumerate();
            away.min_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, d)| *d <= NEAR).map(|(i, _)| i)
        };
        let home = by_name.or_else(|| if named.is_some() { None } else { nearest() });
        match home.and_then(|home| found.get_mut(home)) {
            Some(list) => list.push(Said {
                index,
                id: element.id.clone(),
                what,
                words: words.trim().to_owned(),
                point: item.middle,
            }),
            None => left.push(index),
        }
    }
    (found, left)
}
