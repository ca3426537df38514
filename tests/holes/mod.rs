//! Holes that tests and benchmarks are played on.
#![allow(dead_code)]

use marram::ground::{Ground, Point};
use marram::pattern::Still;
use marram::plan::ground::Rastered;
use marram::strategy::{Fineness, Hole, Kind, Kit, LevelGreen, Lies, Plain};
use marram::units::Across;
use std::sync::atomic::AtomicBool;

/// Nothing calls off a test.
pub static GO: AtomicBool = AtomicBool::new(false);

/// The hole with hazards of the reference on strategy, section 7: water right of the line 170 to 310 yards out, out of bounds 42
/// left, greenside bunkers, trees 60 right.
pub struct Seven {
    /// Left and right exchanged.
    pub mirrored: bool,
    /// Width of the water, yards.
    pub water: f64,
    /// From the tee to the hole.
    pub length: f64,
}

impl Seven {
    /// As printed.
    pub const PLAYED: Self = Self { mirrored: false, water: 42.0, length: 400.0 };
}

impl Lies for Seven {
    fn kind(&self, at: Point) -> Kind {
        let x = if self.mirrored { -at.right } else { at.right };
        let (y, u) = (at.ahead, at.ahead - self.length);
        if x < -42.0 {
            return Kind::Out;
        }
        if (18.0..18.0 + self.water).contains(&x) && (170.0..=310.0).contains(&y) {
            return Kind::PenaltyRed;
        }
        let left = (-28.0..=-15.0).contains(&x) && (-8.0..=8.0).contains(&u);
        let right = (15.0..=28.0).contains(&x) && (-2.0..=12.0).contains(&u);
        if left || right {
            return Kind::Sand;
        }
        match (Plain { length: self.length }).kind(Point { right: x, ahead: y }) {
            Kind::Rough if x > 60.0 => Kind::Trees,
            kind => kind,
        }
    }
}

/// A straight hole of this length over `lies`.
pub fn with_hole<T>(lies: &dyn Lies, kit: &Kit, length: f64, fineness: Fineness, f: impl FnOnce(Hole<'_>) -> T) -> T {
    let pin = Point { right: 0.0, ahead: length };
    let line = [Point::default(), pin];
    let green = LevelGreen { putts: &kit.pattern.putts, hole: pin };
    f(Hole { lies, tee: Point::default(), pin, line: &line, green: &green, kit, conditions: &Still, fineness })
}

/// A hole of a sample course as a plan lays it out.
pub struct Sample {
    /// Course and hole, for messages.
    pub name: String,
    /// Its ground.
    pub ground: Ground,
    /// The raster of it.
    pub lies: Rastered,
    /// The tee.
    pub tee: Point,
    /// The middle of the green.
    pub pin: Point,
    /// The tee, the bends, the middle of the green.
    pub line: Vec<Point>,
}

impl Sample {
    /// A hole from the tee set in this place of its list (the last where there are fewer).
    pub fn new(name: String, ground: Ground, tee: usize) -> Option<Self> {
        let pin = ground.green.as_ref()?.middle;
        let spot = ground.tees.get(tee).or(ground.tees.last())?;
        let (start, line) = (spot.at.0, ground.line());
        let bends = ground.bends.iter().filter(|b| b.at.0 > start).map(|b| line.place(b.at, Across(0.0)));
        let line = std::iter::once(spot.point).chain(bends).chain([pin]).collect();
        Some(Self { name, lies: Rastered::new(&ground), tee: spot.point, pin, line, ground })
    }

    /// Left and right exchanged.
    pub fn mirrored(&self, tee: usize) -> Option<Self> {
        Self::new(format!("{}, mirrored", self.name), self.ground.mirrored(), tee)
    }

    /// The hole for a player.
    pub fn with<T>(&self, kit: &Kit, f: impl FnOnce(Hole<'_>) -> T) -> T {
        let green = LevelGreen { putts: &kit.pattern.putts, hole: self.pin };
        f(Hole {
            lies: &self.lies,
            tee: self.tee,
            pin: self.pin,
            line: &self.line,
            green: &green,
            kit,
            conditions: &Still,
            fineness: kit.fineness,
        })
    }
}

/// The holes of a sample course, from one of its tee sets.
pub fn sample(file: &str, tee: usize) -> Vec<Sample> {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("sample-courses").join(file);
    let text = std::fs::read_to_string(path).unwrap_or_default();
    let (course, _) = marram::course::read(&text);
    let holes = course.into_iter().flat_map(|c| c.holes);
    holes.filter_map(|h| Sample::new(format!("{file} {}", h.number), h.ground, tee)).collect()
}
