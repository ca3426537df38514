//! Heights along a hole, from a grid or from the fixes of a walk, and checks of what its markers and its card say.

use super::element::Map;
use super::heights::{FLAT_M, Grid};
use super::hole::SurveyedHole;
use super::measure::length_disagrees;
use super::said::What;
use crate::ground::{Flat, Point};
use crate::units::length::METRES_PER_YARD;
use crate::units::{Length, LengthUnit};

/// Heights against the start of the line.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Profile {
    /// Places of the line of play and how much higher they lie than its start, whole metres.
    pub places: Vec<(Point, f64)>,
    /// From fixes of a walk, which are rough, and not from a grid.
    pub from_walk: bool,
}

/// The heights of a hole at its start, its bends and its end; none where they are not known or all but flat.
pub fn profile(hole: &SurveyedHole, grids: &[Grid], map: &Map, flat: &Flat) -> Profile {
    let on_grid = |point: &Point| grids.iter().find_map(|grid| grid.at(flat.position(*point)));
    let measured: Option<Vec<(Point, f64)>> = hole.played.0.iter().map(|p| Some((*p, on_grid(p)?))).collect();
    if let Some(places) = measured {
        return Profile { places: against_start(places), from_walk: false };
    }
    let walked = |id: &str| {
        let element = map.elements.iter().find(|e| e.id == id)?;
        element.tags.get("ele")?.parse::<f64>().ok()
    };
    let start = hole.tees.iter().find(|t| t.point.distance(hole.played.start()) < 1e-6).and_then(|t| walked(&t.id));
    let end = hole.pins.last().and_then(|(id, _)| walked(id));
    match start.zip(end) {
        Some((start, end)) => {
            let places = vec![(hole.played.start(), start), (hole.played.end(), end)];
            Profile { places: against_start(places), from_walk: true }
        }
        None => Profile::default(),
    }
}

fn against_start(places: Vec<(Point, f64)>) -> Vec<(Point, f64)> {
    let first = places.first().map_or(0.0, |(_, height)| *height);
    let against: Vec<(Point, f64)> = places.into_iter().map(|(p, h)| (p, (h - first).round())).collect();
    // What lies within the error of such heights is no slope.
    if against.iter().all(|(_, up)| up.abs() < FLAT_M) { Vec::new() } else { against }
}

/// Where the markers of a hole, the length that the map states and the line do not agree, in words.
pub fn disagreements(hole: &SurveyedHole) -> Vec<String> {
    let mut found = Vec::new();
    let line = hole.line_yards();
    if let Some(stated) = hole.stated
        && let Some(words) = length_disagrees(stated, line, LengthUnit::Yards)
    {
        found.push(format!("{}: {words} yards", hole.id));
    }
    let middle = hole.played.end();
    for said in &hole.said {
        let What::Marker(reads) = said.what else { continue };
        let measured = said.point.distance(middle);
        // The unit of the club is not in its number: the nearer of the two is meant.
        let yards = [Length::yards(reads), Length::metres(reads)].map(Length::as_yards);
        let nearest = yards.into_iter().min_by(|a, b| (a - measured).abs().total_cmp(&(b - measured).abs()));
        let apart = nearest.map_or(0.0, |yards| (yards - measured).abs());
        if apart > 6.0_f64.max(measured * 0.03) {
            found.push(format!(
                "{}: the marker reads {reads} and stands {measured:.0} yards ({:.0} m) from the middle of the green",
                said.id,
                measured * METRES_PER_YARD
            ));
        }
    }
    found
}
