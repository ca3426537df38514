//! What a player at a spot asks of the hole: how far, over what, which side is clear, how wide.
//!
//! # What each number is
//! **The way** from a stand runs along the hole to the middle of the green, drawing evenly nearer from the stand's own
//! distance beside the line to the green's. At a place of the line the way lies so many yards across it; everything
//! *on*, *left of* and *right of* is meant of the way.
//!
//! **Every distance is a straight line of the plane** from the stand ([`Distance::straight`]), with the distance along
//! the line beside it ([`Distance::along`]); where they differ by [`WORTH_SAYING`] yards, as round a bend, both are to
//! be shown.
//!
//! A danger that lies **across the way** has as its *reach* the distance to where the way first enters it, and as its
//! *carry* the distance to where the way leaves it: what must fly. A danger **beside the way** has as its reach the
//! distance to the spot of the way level with its first part, and as its carry that to the spot level with its last
//! part: a ball on the way passes it between the two. A danger one stands level with has the reach 0; what
//! lies wholly behind the stand is left out. Past the middle of the green the way is the straight line back to it, and
//! only dangers on that line are read.

use super::corridor::{Corridor, Fairway, Part, Slice, edge_between, nearest_fairway};
use super::plane::{Point, edges, meeting};
use super::surface::Surface;
use crate::units::{Across, Along, FromTee, TeeOrigin};

/// A straight distance and one along the line that differ by so much are both shown, yards.
pub const WORTH_SAYING: f64 = 5.0;

/// Farther than this nobody goes round a danger that lies across the way, yards.
pub const ROUND: f64 = 60.0;

/// How far something is.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Distance {
    /// Straight through the plane, yards.
    pub straight: f64,
    /// Along the hole line, yards; negative for what lies behind.
    pub along: f64,
}

impl Distance {
    /// Whether both are worth saying: they differ by [`WORTH_SAYING`] yards or more.
    pub fn differs(&self) -> bool {
        (self.straight - self.along.abs()).abs() >= WORTH_SAYING
    }
}

/// The left or the right of the way, as the player looks along it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

/// Where a danger lies against the way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Lies {
    /// Beside it: on `side`, and the way passes it with `room` yards to spare; its other side is clear.
    Beside {
        /// The side it lies on.
        side: Side,
        /// Yards from the way to its nearest edge.
        room: f64,
    },
    /// Across it.
    Across {
        /// The side on which it can be passed, and how many yards from the way its edge lies there: the shorter of the
        /// two; `None` when both are beyond [`ROUND`].
        around: Option<(Side, f64)>,
    },
}

impl Lies {
    /// How far off the way its nearest edge lies, yards; 0 across it.
    pub const fn off_the_way(&self) -> f64 {
        match self {
            Self::Beside { room, .. } => *room,
            Self::Across { .. } => 0.0,
        }
    }
}

/// A danger as seen from a stand.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DangerReading {
    /// Which feature, by index.
    pub feature: usize,
    /// What it is.
    pub surface: Surface,
    /// See the head of this file.
    pub reach: Distance,
    /// See the head of this file.
    pub carry: Distance,
    /// Where it lies.
    pub lies: Lies,
    /// Where the piece of it that was met begins and ends along the line.
    pub from: Along,
    /// See `from`.
    pub to: Along,
    /// The nearest spot of it from the stand, straight in any direction, yards.
    pub nearest: f64,
    /// The narrowest fairway left beside it on the clear side, where it lies beside a fairway, yards.
    pub fairway_beside: Option<f64>,
}

/// The three distances to the green.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GreenReading {
    /// To where the straight line to the middle comes to the green: the player's own front edge. 0 on the green.
    pub front: Distance,
    /// To the middle.
    pub middle: Distance,
    /// To where that line leaves the green again.
    pub back: Distance,
}

/// Everything about one spot.
#[derive(Clone, Debug, PartialEq)]
pub struct StandReading {
    /// The spot along the line.
    pub at: Along,
    /// The spot across the line.
    pub across: Across,
    /// The same spot in the plane.
    pub point: Point,
    /// As the player counts it along the line.
    pub from_tee: FromTee,
    /// The ground one stands on.
    pub lie: Surface,
    /// The feature one stands in.
    pub feature: Option<usize>,
    /// The green; `None` on a hole without one.
    pub green: Option<GreenReading>,
    /// Every danger ahead, the nearest first.
    pub dangers: Vec<DangerReading>,
    /// The fairway level with the stand.
    pub fairway: Option<Fairway>,
    /// Where the fairway ahead is narrowest.
    pub pinch: Option<(Fairway, Distance)>,
    /// The distance to each tee, in the order of the ground's tees.
    pub tees: Vec<Distance>,
}

/// The way from a stand to the middle of the green.
struct Way {
    at: f64,
    across: f64,
    end: f64,
    end_across: f64,
}

impl Way {
    fn across(&self, at: f64) -> f64 {
        let whole = self.end - self.at;
        let share = if whole > 0.0 { ((at - self.at) / whole).clamp(0.0, 1.0) } else { 1.0 };
        self.across + (self.end_across - self.across) * share
    }
}

impl Corridor {
    /// Reads the hole from a spot for a player of tee `tee` (by index; the start of the line when there is none such).
    pub fn stand(&self, at: Along, across: Across, tee: usize) -> StandReading {
        let (ground, line) = (self.ground(), self.line());
        let point = line.place(at, across);
        let origin = TeeOrigin(ground.tees.get(tee).map_or(Along(0.0), |tee| tee.at));
        let end = ground.green.as_ref().map_or((line.length(), Across(0.0)), |green| line.locate(green.middle));
        let way = Way { at: at.0, across: across.0, end: end.0.0, end_across: end.1.0 };
        let mut dangers: Vec<DangerReading> = if way.at < way.end {
            self.parts().iter().flat_map(|part| self.read_part(part, &way, point)).collect()
        } else {
            self.read_back(point, line.place(end.0, end.1))
        };
        dangers.sort_by(|a, b| {
            (a.reach.straight.total_cmp(&b.reach.straight))
                .then(a.carry.straight.total_cmp(&b.carry.straight))
                .then(a.feature.cmp(&b.feature))
                .then(a.lies.off_the_way().total_cmp(&b.lies.off_the_way()))
        });
        let pinch = self.narrowest_ahead(&way).map(|fairway| {
            let across = way.across(fairway.at.0);
            (fairway, self.distance(point, at, fairway.at, Across(across)))
        });
        StandReading {
            at,
            across,
            point,
            from_tee: origin.from_tee(at),
            lie: ground.surface_at(point),
            feature: ground.feature_at(point),
            green: self.read_green(point, at),
            dangers,
            fairway: self.fairway_at(at, across),
            pinch,
            tees: ground
                .tees
                .iter()
                .map(|tee| Distance { straight: tee.point.distance(point), along: at.0 - tee.at.0 })
                .collect(),
        }
    }

    fn distance(&self, from: Point, from_at: Along, at: Along, across: Across) -> Distance {
        Distance { straight: self.line().place(at, across).distance(from), along: at.0 - from_at.0 }
    }

    fn read_green(&self, point: Point, at: Along) -> Option<GreenReading> {
        let green = self.ground().green.as_ref()?;
        let middle = point.distance(green.middle);
        let beyond = green.middle + (green.middle - point).unit() * (green.depth + green.width);
        let mut meets: Vec<f64> = edges(&green.outline.outer)
            .filter_map(|edge| meeting((point, beyond), edge))
            .map(|spot| spot.distance(point))
            .collect();
        meets.sort_by(f64::total_cmp);
        let inside = green.outline.contains(point);
        let front = if inside { 0.0 } else { meets.first().copied().unwrap_or(middle) };
        let back = meets.last().copied().unwrap_or(middle);
        let length = self.line().locate(green.middle).0.0;
        // Along the line the edges lie as far before and past the middle as they do on the straight line.
        let along = |straight: f64| Distance { straight, along: length - at.0 + (straight - middle) };
        Some(GreenReading { front: along(front), middle: along(middle), back: along(back) })
    }

    fn narrowest_ahead(&self, way: &Way) -> Option<Fairway> {
        self.sections()
            .iter()
            .filter(|section| section.at.0 > way.at && section.at.0 < way.end)
            .filter_map(|section| nearest_fairway(section, way.across(section.at.0)))
            .min_by(|a, b| a.width().total_cmp(&b.width()).then(a.at.0.total_cmp(&b.at.0)))
    }

    fn read_part(&self, part: &Part, way: &Way, point: Point) -> Vec<DangerReading> {
        let ahead: Vec<Slice> =
            part.slices.iter().filter(|slice| slice.at >= way.at && slice.at <= way.end + 60.0).copied().collect();
        if part.to.0 <= way.at || ahead.is_empty() {
            return Vec::new();
        }
        let spots = self.ground().features.get(part.feature);
        let nearest = spots.map_or(f64::INFINITY, |feature| feature.distance(point)).max(0.0);
        let reading = |from: f64, to: f64, lies: Lies, fairway_beside: Option<f64>| {
            let spot = |at: f64| self.distance(point, Along(way.at), Along(at), Across(way.across(at)));
            DangerReading {
                feature: part.feature,
                surface: part.surface,
                reach: if from <= way.at { Distance::default() } else { spot(from) },
                carry: spot(to),
                lies,
                from: part.from,
                to: part.to,
                nearest,
                fairway_beside,
            }
        };
        let crossings = self.crossings(part, &ahead, way);
        if !crossings.is_empty() {
            return crossings
                .into_iter()
                .map(|(from, to)| {
                    let around = around(&ahead, way);
                    reading(from, to, Lies::Across { around }, None)
                })
                .collect();
        }
        let (left, right) = room(&ahead, way);
        let (side, room) = if left <= right { (Side::Left, left) } else { (Side::Right, right) };
        let beside = self.fairway_beside(&ahead, side, way);
        vec![reading(part.from.0.max(way.at), part.to.0, Lies::Beside { side, room }, beside)]
    }

    /// The dangers on the straight line back to the middle of the green, from a spot past it.
    fn read_back(&self, point: Point, middle: Point) -> Vec<DangerReading> {
        let whole = point.distance(middle);
        let step = 0.5;
        let mut met: Vec<(usize, f64, f64)> = Vec::new();
        for i in 0..(whole / step) as usize {
            let walked = i as f64 * step;
            let Some(feature) = self.ground().feature_at(point + (middle - point) * (walked / whole)) else { continue };
            match met.last_mut() {
                Some(last) if last.0 == feature && walked - last.2 < 1.5 * step => last.2 = walked,
                _ => met.push((feature, walked, walked)),
            }
        }
        let at = self.line().locate(point).0.0;
        let distance = |straight: f64| {
            let spot = point + (middle - point) * (straight / whole);
            Distance { straight, along: self.line().locate(spot).0.0 - at }
        };
        met.into_iter()
            .filter_map(|(feature, from, to)| {
                let found = self.ground().features.get(feature)?;
                let (reach, carry) = (distance(from), distance(to + step));
                found.surface.is_danger().then(|| DangerReading {
                    feature,
                    surface: found.surface,
                    reach,
                    carry,
                    lies: Lies::Across { around: None },
                    from: Along(at + carry.along),
                    to: Along(at + reach.along),
                    nearest: found.distance(point).max(0.0),
                    fairway_beside: None,
                })
            })
            .collect()
    }

    /// Where the way runs through a part: from where to where along the line, each time.
    fn crossings(&self, part: &Part, ahead: &[Slice], way: &Way) -> Vec<(f64, f64)> {
        let mut found: Vec<(f64, f64)> = Vec::new();
        let on = |slice: &Slice| {
            let across = way.across(slice.at);
            slice.left <= across && across <= slice.right
        };
        for slice in ahead.iter().filter(|slice| on(slice)) {
            match found.last_mut() {
                Some(last) if slice.at - last.1 <= 1.5 => last.1 = slice.at,
                _ => found.push((slice.at, slice.at)),
            }
        }
        for (from, to) in &mut found {
            *from = if *from - 1.0 <= way.at && self.on_way(part.feature, way.at, way) {
                way.at
            } else {
                self.way_edge(part, *from, -1.0, way).max(way.at)
            };
            *to = self.way_edge(part, *to, 1.0, way);
        }
        found
    }

    fn on_way(&self, feature: usize, at: f64, way: &Way) -> bool {
        let point = self.line().place(Along(at), Across(way.across(at)));
        self.ground().feature_at(point) == Some(feature)
    }

    /// The edge of a part on the way, found between two cuts.
    fn way_edge(&self, part: &Part, inside: f64, step: f64, way: &Way) -> f64 {
        edge_between(inside, inside + step, |at| self.on_way(part.feature, at, way))
    }

    /// The narrowest fairway left on the clear side of a danger.
    fn fairway_beside(&self, ahead: &[Slice], side: Side, way: &Way) -> Option<f64> {
        let mut least: Option<f64> = None;
        let mut sections = self.sections().iter();
        for slice in ahead {
            let Some(section) = sections.find(|section| section.at.0 >= slice.at) else { break };
            let Some(fairway) = nearest_fairway(section, way.across(slice.at)) else { continue };
            let left = match side {
                Side::Left => fairway.right.0 - fairway.left.0.max(slice.right),
                Side::Right => fairway.right.0.min(slice.left) - fairway.left.0,
            };
            least = Some(least.map_or(left, |least| least.min(left)).max(0.0));
        }
        least
    }
}

/// How far a part keeps off the way on its left and on its right; infinite on a side where it never lies.
fn room(ahead: &[Slice], way: &Way) -> (f64, f64) {
    ahead.iter().fold((f64::INFINITY, f64::INFINITY), |(left, right), slice| {
        let across = way.across(slice.at);
        if slice.right < across {
            (left.min(across - slice.right), right)
        } else {
            (left, right.min(slice.left - across))
        }
    })
}

/// The shorter way round a part that the way crosses: past its farthest edge to the left or to the right.
fn around(ahead: &[Slice], way: &Way) -> Option<(Side, f64)> {
    let (left, right) = ahead.iter().fold((0.0f64, 0.0f64), |(left, right), slice| {
        let across = way.across(slice.at);
        (left.max(across - slice.left), right.max(slice.right - across))
    });
    let (side, shift) = if left < right { (Side::Left, left) } else { (Side::Right, right) };
    (shift <= ROUND).then_some((side, shift))
}
