//! Everything about a hole that is laid out before it is solved.

use super::Hole;
use super::eval::Course;
use super::field::Greens;
use super::lattice::Lattice;
use super::mesh::Mesh;
use super::terrain::{Spot, Terrain};

/// Lays the rasters of a hole and the places whose value is held.
pub fn course<'a>(hole: Hole<'a>) -> Course<'a> {
    let terrain = Terrain::new(&hole);
    let lattice = Lattice::new(&hole, &terrain);
    let mesh = Mesh::new(&terrain, &lattice);
    let greens = Greens::new(&terrain, hole.green);
    let line = close_line(&hole, &terrain);
    Course { hole, terrain, lattice, mesh, greens, line }
}

/// The hole line by steps of four yards, from its start to the hole.
fn close_line(hole: &Hole<'_>, terrain: &Terrain) -> Vec<Spot> {
    const STEP: f32 = 4.0;
    let mut points: Vec<Spot> = hole.line.iter().map(|p| terrain.spot(*p)).collect();
    if let Some(last) = points.last_mut()
        && points_to_pin(*last)
    {
        // The last leg is played to the hole, not to the middle of the green.
        *last = Spot { x: 0.0, y: 0.0 };
    }
    if points.len() < 2 {
        points = vec![terrain.spot(hole.tee), Spot { x: 0.0, y: 0.0 }];
    }
    let mut line = Vec::new();
    for leg in points.windows(2) {
        let [a, b] = leg else { continue };
        let (dx, dy) = (b.x - a.x, b.y - a.y);
        let length = (dx * dx + dy * dy).sqrt();
        let steps = (length / STEP).ceil().max(1.0) as usize;
        line.extend(
            (0..steps).map(|i| Spot { x: a.x + dx * i as f32 / steps as f32, y: a.y + dy * i as f32 / steps as f32 }),
        );
    }
    line.extend(points.last());
    line
}

fn points_to_pin(last: Spot) -> bool {
    last.away() < 60.0
}
