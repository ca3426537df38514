//! What a ball on the green is worth, from everywhere around one hole location.

use rayon::prelude::*;

use super::aim::{Line, quick_aim, usual_at_hole_m_s};
use super::chance::{PuttingSkill, chances};
use super::speed::GreenSpeed;
use super::surface::{Slopes, Spot};

/// Rings around the hole, m: close together where a yard matters.
const RINGS_M: [f64; 14] = [0.12, 0.3, 0.5, 0.75, 1.05, 1.4, 1.9, 2.5, 3.3, 4.3, 6.5, 10.0, 15.0, 24.0];
/// Directions of each ring.
const AROUND: usize = 12;
/// The rings count alone within the first, the grid alone beyond the second, m.
const BLEND_M: (f64, f64) = (3.0, 4.2);
/// Step of the rolls, s: chances need no more.
const MAP_STEP_S: f64 = 0.25;
/// What a putt that nobody can aim is worth.
const HOPELESS: f64 = 3.0;

/// What a map is made for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeaveSetting {
    /// Speed of the green.
    pub speed: GreenSpeed,
    /// Where the hole is cut.
    pub hole: Spot,
    /// Who putts.
    pub skill: PuttingSkill,
    /// Corner of least x and y of the grid of spots over the green.
    pub corner: Spot,
    /// Spacing of the grid, m; two yards are fine enough.
    pub cell_m: f64,
    /// Columns along x; 0 for rings around the hole alone.
    pub columns: usize,
    /// Rows along y.
    pub rows: usize,
}

impl LeaveSetting {
    /// Two yards.
    pub const CELL_M: f64 = 1.8288;

    /// Rings alone, without a grid: for one putt on a plane.
    pub const fn rings(speed: GreenSpeed, hole: Spot, skill: PuttingSkill) -> LeaveSetting {
        LeaveSetting { speed, hole, skill, corner: hole, cell_m: Self::CELL_M, columns: 0, rows: 0 }
    }

    /// A grid of two-yard spots over a green that lies within these corners.
    pub fn covering(speed: GreenSpeed, hole: Spot, skill: PuttingSkill, low: Spot, high: Spot) -> LeaveSetting {
        let count = |a: f64, b: f64| (((b - a) / Self::CELL_M).ceil().clamp(1.0, 80.0) as usize) + 1;
        LeaveSetting {
            corner: low,
            columns: count(low.x_m, high.x_m),
            rows: count(low.y_m, high.y_m),
            ..Self::rings(speed, hole, skill)
        }
    }
}

/// A spot of the map.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeaveSpot {
    /// Where.
    pub spot: Spot,
    /// Expected putts from there.
    pub putts: f64,
    /// Chance to hole the first.
    pub one: f64,
    /// Chance to take three or more.
    pub three_or_more: f64,
    /// False when no aim within 45 degrees holes it: the figures are then a floor, not a solution.
    pub playable: bool,
}

/// Expected putts from everywhere around one hole location, for one player.
#[derive(Clone, Debug, PartialEq)]
pub struct LeaveMap {
    setting: LeaveSetting,
    nodes: Vec<LeaveSpot>,
    /// Index of each grid spot among the nodes.
    grid: Vec<Option<usize>>,
}

/// One spot's putt before the values of its leaves are known.
struct Row {
    one: f64,
    playable: bool,
    /// Share of the leaves that falls to each node.
    to: Vec<(usize, f64)>,
    /// Strokes and chance of two or more further strokes from leaves off the green.
    off: (f64, f64),
}

impl LeaveMap {
    /// Computes the map on all processors.
    ///
    /// `on_green` says where the grid is wanted; `beyond` gives the strokes to hole out from a spot off the green, or
    /// `None` where the ball would be putted.
    pub fn new<S: Slopes + ?Sized>(
        slopes: &S,
        setting: &LeaveSetting,
        on_green: impl Fn(Spot) -> bool + Sync,
        beyond: impl Fn(Spot) -> Option<f64> + Sync,
    ) -> LeaveMap {
        let mut map = LeaveMap::layout(setting, on_green);
        let rows: Vec<Row> = map.nodes.par_iter().map(|n| map.row(slopes, n.spot, &beyond)).collect();
        map.settle(&rows);
        map
    }

    fn layout(setting: &LeaveSetting, on_green: impl Fn(Spot) -> bool) -> LeaveMap {
        let blank = |spot| LeaveSpot { spot, putts: 1.5, one: 0.5, three_or_more: 0.0, playable: true };
        let mut nodes = Vec::new();
        for r in RINGS_M {
            for k in 0..AROUND {
                let (s, c) = libm::sincos(std::f64::consts::TAU * k as f64 / AROUND as f64);
                nodes.push(blank(Spot::new(setting.hole.x_m + r * c, setting.hole.y_m + r * s)));
            }
        }
        let at = |i: usize, j: usize| {
            Spot::new(setting.corner.x_m + i as f64 * setting.cell_m, setting.corner.y_m + j as f64 * setting.cell_m)
        };
        let mut grid = Vec::with_capacity(setting.columns * setting.rows);
        for j in 0..setting.rows {
            for i in 0..setting.columns {
                let spot = at(i, j);
                // A spot beyond the edge still serves the cell it shares with the green.
                let near = [-1.0, 0.0, 1.0].iter().any(|dx| {
                    [-1.0, 0.0, 1.0]
                        .iter()
                        .any(|dy| on_green(Spot::new(spot.x_m + dx * setting.cell_m, spot.y_m + dy * setting.cell_m)))
                });
                // The rings serve the spots close to the hole.
                let wanted = near && spot.distance_m(setting.hole) > BLEND_M.0 - 1.5 * setting.cell_m;
                grid.push(wanted.then(|| {
                    nodes.push(blank(spot));
                    nodes.len() - 1
                }));
            }
        }
        LeaveMap { setting: *setting, nodes, grid }
    }

    fn row<S: Slopes + ?Sized>(&self, slopes: &S, spot: Spot, beyond: &(impl Fn(Spot) -> Option<f64> + Sync)) -> Row {
        let set = &self.setting;
        let line = Line { ball: spot, hole: set.hole };
        let usual = usual_at_hole_m_s(set.speed, line.length_m());
        // Where the usual pace breaks too much, a firmer putt starts nearer the line.
        let aim = [usual, 0.8, 1.1, 1.4]
            .into_iter()
            .filter(|v| *v >= usual)
            .find_map(|v| quick_aim(slopes, set.speed, &line, v, MAP_STEP_S));
        let Some(aim) = aim else {
            return Row { one: 0.0, playable: false, to: Vec::new(), off: (HOPELESS - 1.0, 1.0) };
        };
        let c = chances(slopes, set.speed, &line, &aim, &set.skill, MAP_STEP_S);
        let mut to = Vec::with_capacity(64);
        let mut off = (0.0, 0.0);
        let mut dense = vec![0.0; self.nodes.len()];
        for (at, w) in c.leaves {
            if let Some(strokes) = beyond(at) {
                off.0 += w * strokes;
                off.1 += w * (strokes - 1.0).clamp(0.0, 1.0);
            } else {
                self.shares(at, |i, share| {
                    if let Some(d) = dense.get_mut(i) {
                        *d += w * share;
                    }
                });
            }
        }
        to.extend(dense.into_iter().enumerate().filter(|(_, w)| *w > 0.0));
        Row { one: c.holed, playable: true, to, off }
    }

    /// The nodes a spot lies between, with their shares.
    fn shares(&self, spot: Spot, mut each: impl FnMut(usize, f64)) {
        let away = spot.distance_m(self.setting.hole);
        let ring =
            if self.grid.is_empty() { 1.0 } else { ((BLEND_M.1 - away) / (BLEND_M.1 - BLEND_M.0)).clamp(0.0, 1.0) };
        if ring < 1.0 && self.grid_shares(spot, 1.0 - ring, &mut each) {
            if ring > 0.0 {
                self.ring_shares(spot, away, ring, &mut each);
            }
        } else {
            self.ring_shares(spot, away, 1.0, &mut each);
        }
    }

    fn ring_shares(&self, spot: Spot, away: f64, share: f64, each: &mut impl FnMut(usize, f64)) {
        let hole = self.setting.hole;
        let outer = RINGS_M.partition_point(|r| *r < away).clamp(1, RINGS_M.len() - 1);
        let (a, b) = match (RINGS_M.get(outer - 1), RINGS_M.get(outer)) {
            (Some(a), Some(b)) => (*a, *b),
            _ => return,
        };
        let f = ((away - a) / (b - a)).clamp(0.0, 1.0);
        let turn = libm::atan2(spot.y_m - hole.y_m, spot.x_m - hole.x_m) / std::f64::consts::TAU;
        let at = turn.rem_euclid(1.0) * AROUND as f64;
        let k = (at.floor() as usize) % AROUND;
        let g = at - at.floor();
        let next = (k + 1) % AROUND;
        for (ring, wr) in [(outer - 1, 1.0 - f), (outer, f)] {
            each(ring * AROUND + k, share * wr * (1.0 - g));
            each(ring * AROUND + next, share * wr * g);
        }
    }

    /// Shares among the four grid spots around; false when the grid does not reach there.
    fn grid_shares(&self, spot: Spot, share: f64, each: &mut impl FnMut(usize, f64)) -> bool {
        let s = &self.setting;
        let u = (spot.x_m - s.corner.x_m) / s.cell_m;
        let v = (spot.y_m - s.corner.y_m) / s.cell_m;
        if !(u >= 0.0 && v >= 0.0 && u <= (s.columns - 1) as f64 && v <= (s.rows - 1) as f64) {
            return false;
        }
        let i = (u.floor() as usize).min(s.columns.saturating_sub(2));
        let j = (v.floor() as usize).min(s.rows.saturating_sub(2));
        let (f, g) = (u - i as f64, v - j as f64);
        let corners = [
            (i, j, (1.0 - f) * (1.0 - g)),
            (i + 1, j, f * (1.0 - g)),
            (i, j + 1, (1.0 - f) * g),
            (i + 1, j + 1, f * g),
        ];
        let node = |i: usize, j: usize| self.grid.get(j * s.columns + i).copied().flatten();
        let known: f64 = corners.iter().filter(|(i, j, _)| node(*i, *j).is_some()).map(|c| c.2).sum();
        if known < 0.25 {
            return false;
        }
        for (i, j, w) in corners {
            if let Some(n) = node(i, j) {
                each(n, share * w / known);
            }
        }
        true
    }

    /// Solves putts = 1 + leaves' putts by sweeps; the leaves of any putt lie mostly nearer than the putt.
    fn settle(&mut self, rows: &[Row]) {
        for (n, r) in self.nodes.iter_mut().zip(rows) {
            n.one = r.one;
            n.playable = r.playable;
            n.putts = 1.0 + 1.1 * (1.0 - r.one);
        }
        for _ in 0..60 {
            let mut moved: f64 = 0.0;
            for (i, r) in rows.iter().enumerate() {
                let rest: f64 = r.to.iter().map(|(k, w)| w * self.nodes.get(*k).map_or(HOPELESS, |n| n.putts)).sum();
                let putts = (1.0 + r.off.0 + rest).min(9.0);
                if let Some(n) = self.nodes.get_mut(i) {
                    moved = moved.max((n.putts - putts).abs());
                    n.putts = putts;
                }
            }
            if moved < 1e-6 {
                break;
            }
        }
        for (i, r) in rows.iter().enumerate() {
            let again: f64 = r.to.iter().map(|(k, w)| w * (1.0 - self.nodes.get(*k).map_or(0.0, |n| n.one))).sum();
            if let Some(n) = self.nodes.get_mut(i) {
                n.three_or_more = (r.off.1 + again).clamp(0.0, 1.0);
            }
        }
    }

    fn mean(&self, spot: Spot, of: impl Fn(&LeaveSpot) -> f64) -> f64 {
        let mut sum = 0.0;
        self.shares(spot, |i, w| sum += w * self.nodes.get(i).map_or(0.0, &of));
        sum
    }

    /// Expected putts from a spot. Between the spots of the map it is interpolated; at the hole it is 1.
    pub fn putts(&self, spot: Spot) -> f64 {
        self.mean(spot, |n| n.putts)
    }

    /// Chance to hole the first putt from a spot.
    pub fn one_putt(&self, spot: Spot) -> f64 {
        self.mean(spot, |n| n.one)
    }

    /// Chance to take three or more from a spot.
    pub fn three_or_more(&self, spot: Spot) -> f64 {
        self.mean(spot, |n| n.three_or_more)
    }

    /// Chance that the misses of a putt need two more putts, given where they lie.
    pub fn three_after(&self, leaves: &[(Spot, f64)]) -> f64 {
        leaves.iter().map(|(s, w)| w * (1.0 - self.one_putt(*s))).sum::<f64>().clamp(0.0, 1.0)
    }

    /// Expected putts at one distance all round the hole: degrees turned left from x, and putts. The least is the safe
    /// side of the hole.
    pub fn around(&self, distance_m: f64, directions: usize) -> Vec<(f64, f64)> {
        (0..directions)
            .map(|k| {
                let deg = 360.0 * k as f64 / directions as f64;
                let (s, c) = libm::sincos(deg.to_radians());
                let hole = self.setting.hole;
                let spot = Spot::new(hole.x_m + distance_m * c, hole.y_m + distance_m * s);
                (deg, self.putts(spot))
            })
            .collect()
    }

    /// The spots of the map: rings around the hole first, then the grid row by row.
    pub fn spots(&self) -> &[LeaveSpot] {
        &self.nodes
    }

    /// What the map was made for.
    pub fn setting(&self) -> &LeaveSetting {
        &self.setting
    }
}
