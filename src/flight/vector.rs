//! Three numbers with the few operations the flight needs.

use std::ops::{Add, Mul, Neg, Sub};

/// A vector: x to the target, y to the left, z up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct V3 {
    pub x: f64,
    pub y: f64,
    pub z: f64,
}

impl V3 {
    pub const ZERO: V3 = V3::new(0.0, 0.0, 0.0);

    #[inline]
    pub const fn new(x: f64, y: f64, z: f64) -> V3 {
        V3 { x, y, z }
    }

    #[inline]
    pub fn dot(self, o: V3) -> f64 {
        self.x * o.x + self.y * o.y + self.z * o.z
    }

    #[inline]
    pub fn cross(self, o: V3) -> V3 {
        V3::new(self.y * o.z - self.z * o.y, self.z * o.x - self.x * o.z, self.x * o.y - self.y * o.x)
    }

    #[inline]
    pub fn length(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// The direction, or zero for a vector too short to have one.
    #[inline]
    pub fn unit(self) -> V3 {
        let l = self.length();
        if l > 1e-12 { self * (1.0 / l) } else { V3::ZERO }
    }

    /// Rotated about a unit axis by the right-hand rule (Rodrigues' formula).
    #[inline]
    pub fn rotated(self, axis: V3, angle_rad: f64) -> V3 {
        let (s, c) = libm::sincos(angle_rad);
        self * c + axis.cross(self) * s + axis * (axis.dot(self) * (1.0 - c))
    }
}

impl Add for V3 {
    type Output = V3;
    #[inline]
    fn add(self, o: V3) -> V3 {
        V3::new(self.x + o.x, self.y + o.y, self.z + o.z)
    }
}

impl Sub for V3 {
    type Output = V3;
    #[inline]
    fn sub(self, o: V3) -> V3 {
        V3::new(self.x - o.x, self.y - o.y, self.z - o.z)
    }
}

impl Mul<f64> for V3 {
    type Output = V3;
    #[inline]
    fn mul(self, k: f64) -> V3 {
        V3::new(self.x * k, self.y * k, self.z * k)
    }
}

impl Neg for V3 {
    type Output = V3;
    #[inline]
    fn neg(self) -> V3 {
        self * -1.0
    }
}
