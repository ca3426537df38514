//! The fall of a green: one plane, slopes noted at spots, or a small grid of heights.

/// A spot on the green, m, in any flat right-handed frame.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spot {
    /// First coordinate, m.
    pub x_m: f64,
    /// Second coordinate, m; a quarter turn to the left of the first.
    pub y_m: f64,
}

impl Spot {
    /// A spot.
    #[inline]
    pub const fn new(x_m: f64, y_m: f64) -> Spot {
        Spot { x_m, y_m }
    }

    /// Distance to another spot, m.
    #[inline]
    pub fn distance_m(self, other: Spot) -> f64 {
        let (x, y) = (other.x_m - self.x_m, other.y_m - self.y_m);
        (x * x + y * y).sqrt()
    }
}

/// Rise per metre along x and along y.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Grade {
    /// Rise per metre along x.
    pub x: f64,
    /// Rise per metre along y.
    pub y: f64,
}

impl Grade {
    /// A grade.
    #[inline]
    pub const fn new(x: f64, y: f64) -> Grade {
        Grade { x, y }
    }

    /// A fall of `pct` per cent towards a direction, degrees turned left from x.
    pub fn falling(pct: f64, towards_deg: f64) -> Grade {
        let (s, c) = libm::sincos(towards_deg.to_radians());
        Grade { x: -pct / 100.0 * c, y: -pct / 100.0 * s }
    }

    /// Size of the slope, as a ratio.
    #[inline]
    pub fn size(self) -> f64 {
        (self.x * self.x + self.y * self.y).sqrt()
    }
}

/// The slope of a green at any spot. Beyond the edge it gives the slope the ground goes on with.
pub trait Slopes: Sync {
    /// The grade at a spot.
    fn grade(&self, spot: Spot) -> Grade;
}

impl<F: Fn(Spot) -> Grade + Sync> Slopes for F {
    #[inline]
    fn grade(&self, spot: Spot) -> Grade {
        self(spot)
    }
}

/// A green that falls one way all over.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Plane(pub Grade);

impl Plane {
    /// The plane of a putt along x: `cross_pct` falls to the left of the line, `along_pct` falls towards the hole.
    pub fn of_putt(cross_pct: f64, along_pct: f64) -> Plane {
        Plane(Grade::new(-along_pct / 100.0, -cross_pct / 100.0))
    }
}

impl Slopes for Plane {
    #[inline]
    fn grade(&self, _: Spot) -> Grade {
        self.0
    }
}

/// Slopes noted at spots; between them the nearer count more (inverse square of distance, after Shepard 1968).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Spots(Vec<(Spot, Grade)>);

impl Spots {
    /// Slopes at spots; none at all is a level green.
    pub fn new(noted: Vec<(Spot, Grade)>) -> Spots {
        Spots(noted)
    }
}

impl Slopes for Spots {
    fn grade(&self, spot: Spot) -> Grade {
        let (mut weight, mut x, mut y) = (0.0, 0.0, 0.0);
        for (at, grade) in &self.0 {
            let (dx, dy) = (at.x_m - spot.x_m, at.y_m - spot.y_m);
            // Half a metre is what a person's feet average over when a slope is read.
            let w = 1.0 / (dx * dx + dy * dy + 0.25);
            weight += w;
            x += w * grade.x;
            y += w * grade.y;
        }
        if weight > 0.0 { Grade::new(x / weight, y / weight) } else { Grade::default() }
    }
}

/// Heights on a square grid, smoothed by a cubic through neighbours so that the slope has no steps. Beyond the grid the
/// slope of its edge goes on.
#[derive(Clone, Debug, PartialEq)]
pub struct HeightGrid {
    corner: Spot,
    cell_m: f64,
    columns: usize,
    rows: usize,
    /// With one more row and column on every side, continued straight on.
    padded_m: Vec<f64>,
}

impl HeightGrid {
    /// A grid from its corner of least x and y: row by row, each row along x. `None` unless there are at least two
    /// columns and rows, the heights fill them, and every figure is finite.
    pub fn new(corner: Spot, cell_m: f64, columns: usize, heights_m: Vec<f64>) -> Option<HeightGrid> {
        let rows = heights_m.len().checked_div(columns)?;
        let good = columns >= 2
            && rows >= 2
            && rows.checked_mul(columns) == Some(heights_m.len())
            && cell_m.is_finite()
            && cell_m > 0.0
            && corner.x_m.is_finite()
            && corner.y_m.is_finite()
            && heights_m.iter().all(|h| h.is_finite());
        if !good {
            return None;
        }
        let on = |line: &[f64]| -> Vec<f64> {
            let end = |a: Option<&f64>, b: Option<&f64>| 2.0 * a.unwrap_or(&0.0) - b.unwrap_or(&0.0);
            let before = end(line.first(), line.get(1));
            let after = end(line.last(), line.get(line.len().saturating_sub(2)));
            std::iter::once(before).chain(line.iter().copied()).chain(std::iter::once(after)).collect()
        };
        let wide: Vec<Vec<f64>> = heights_m.chunks_exact(columns).map(on).collect();
        let beyond = |edge: Option<&Vec<f64>>, inner: Option<&Vec<f64>>| -> Vec<f64> {
            edge.into_iter().flatten().zip(inner.into_iter().flatten()).map(|(a, b)| 2.0 * a - b).collect()
        };
        let mut padded_m = beyond(wide.first(), wide.get(1));
        padded_m.extend(wide.iter().flatten());
        padded_m.extend(beyond(wide.last(), wide.get(rows - 2)));
        Some(HeightGrid { corner, cell_m, columns, rows, padded_m })
    }

    /// Height and grade at a spot.
    #[inline]
    fn sample(&self, spot: Spot) -> (f64, Grade) {
        let u = (spot.x_m - self.corner.x_m) / self.cell_m;
        let v = (spot.y_m - self.corner.y_m) / self.cell_m;
        let (cu, cv) = (u.clamp(0.0, (self.columns - 1) as f64), v.clamp(0.0, (self.rows - 1) as f64));
        // Truncation is the floor here, as both are at least zero.
        let (i, j) = ((cu as usize).min(self.columns - 2), (cv as usize).min(self.rows - 2));
        let (wu, du) = cubic(cu - i as f64);
        let (wv, dv) = cubic(cv - j as f64);
        let wide = self.columns + 2;
        let (mut h, mut gx, mut gy) = (0.0, 0.0, 0.0);
        for (b, (wb, db)) in wv.into_iter().zip(dv).enumerate() {
            let start = (j + b) * wide + i;
            let Some([p, q, r, s]) = self.padded_m.get(start..start + 4).and_then(|x| <[f64; 4]>::try_from(x).ok())
            else {
                continue;
            };
            let row = wu[0] * p + wu[1] * q + wu[2] * r + wu[3] * s;
            h += wb * row;
            gy += db * row;
            gx += wb * (du[0] * p + du[1] * q + du[2] * r + du[3] * s);
        }
        let grade = Grade::new(gx / self.cell_m, gy / self.cell_m);
        (h + grade.x * (u - cu) * self.cell_m + grade.y * (v - cv) * self.cell_m, grade)
    }

    /// Height at a spot, m.
    pub fn height_m(&self, spot: Spot) -> f64 {
        self.sample(spot).0
    }
}

/// Weights of four neighbours and their slopes at `f` between the middle two.
///
/// # References
/// Catmull and Rom 1974, cubic through the points with slopes of central differences.
#[inline]
fn cubic(f: f64) -> ([f64; 4], [f64; 4]) {
    let (f2, f3) = (f * f, f * f * f);
    (
        [-0.5 * f + f2 - 0.5 * f3, 1.0 - 2.5 * f2 + 1.5 * f3, 0.5 * f + 2.0 * f2 - 1.5 * f3, -0.5 * f2 + 0.5 * f3],
        [-0.5 + 2.0 * f - 1.5 * f2, -5.0 * f + 4.5 * f2, 0.5 + 4.0 * f - 4.5 * f2, -f + 1.5 * f2],
    )
}

impl Slopes for HeightGrid {
    #[inline]
    fn grade(&self, spot: Spot) -> Grade {
        self.sample(spot).1
    }
}
