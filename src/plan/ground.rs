//! The ground of a hole as the solver looks it up: one raster of a yard a cell.

use crate::ground::{Face, Ground, Point, Raster, Surface};
use crate::strategy::{Kind, Lies};

/// The kinds of ground of one hole.
pub struct Rastered {
    raster: Raster,
    faces: Vec<Face>,
}

impl Rastered {
    /// Lays the raster of `ground`.
    pub fn new(ground: &Ground) -> Self {
        Self { raster: Raster::new(ground), faces: ground.features.iter().map(|f| f.face).collect() }
    }

    /// The same with one piece of ground turned to rough.
    #[must_use]
    pub fn without(&self, feature: usize) -> Self {
        Self { raster: self.raster.without(feature), faces: self.faces.clone() }
    }

    /// The piece of ground at a point.
    pub fn piece(&self, at: Point) -> Option<usize> {
        self.raster.feature(at)
    }
}

impl Lies for Rastered {
    fn kind(&self, at: Point) -> Kind {
        let surface = self.raster.surface(at);
        let face = if surface == Surface::Bunker {
            self.raster.feature(at).and_then(|f| self.faces.get(f)).copied().unwrap_or_default()
        } else {
            Face::Usual
        };
        Kind::of(surface, face)
    }
}
