//! Holes that tests and benchmarks are played on.
#![allow(dead_code)]

use marram::ground::Point;
use marram::pattern::Still;
use marram::strategy::{Fineness, Hole, Kind, Kit, LevelGreen, Lies, Plain};
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
