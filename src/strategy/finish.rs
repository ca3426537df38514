//! Where one shot finishes: carry, then run; water, trees, sand and boundaries on the way.

use super::Kind;
use super::terrain::{Spot, Terrain, run_share, stops};
use crate::pattern::Swing;

/// How high trees stand, yards (from memory: a grown stand of 40 to 50 feet).
pub const TREE_HEIGHT: f32 = 14.0;
/// Yards that a ball goes on after it has met branches.
const INTO_TREES: f32 = 2.0;
/// Yards between looks along a run.
const STEP: f32 = 1.0;

/// Where a shot finishes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Finish {
    /// At rest on this kind of ground.
    Lies(Spot, Kind),
    /// In a penalty area of this colour: the last dry spot before it, and the first wet one.
    Wet {
        /// The last spot outside it.
        dry: Spot,
        /// The kind of ground there.
        ground: Kind,
        /// Where the ball finishes in it.
        at: Spot,
        /// The first spot in it.
        wet: Spot,
        /// Red or yellow.
        kind: Kind,
    },
    /// Out of bounds.
    Out(Spot),
    /// Caught by the trees it lies in, and no farther on.
    Stays,
}

/// The flight of a swing, for what it clears.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flight {
    /// Carry of the swing as meant.
    pub carry: f32,
    /// Its greatest height.
    pub apex: f32,
}

impl Flight {
    /// The flight of a swing.
    pub fn of(swing: &Swing) -> Self {
        Self { carry: swing.carry() as f32, apex: swing.apex() as f32 }
    }

    /// Heights of a shot that carries `carry`: a parabola, lower in the share that it falls short.
    #[inline]
    fn arc(self, carry: f32) -> Arc {
        let short = (carry / self.carry.max(1.0)).min(1.0);
        Arc { rise: 4.0 * self.apex * short, per_yard: 1.0 / carry.max(1.0) }
    }
}

/// The heights of one shot.
#[derive(Clone, Copy)]
struct Arc {
    rise: f32,
    per_yard: f32,
}

impl Arc {
    #[inline]
    fn low(self, at: f32) -> bool {
        let u = (at * self.per_yard).min(1.0);
        self.rise * u * (1.0 - u) < TREE_HEIGHT
    }
}

/// Stretches of trees along a line from the ball: where they begin and end, in yards.
pub type Stretches = Vec<(f32, f32)>;

/// Where the flight is stopped by trees, if it is.
#[inline]
pub fn stopped(stretches: &[(f32, f32)], flight: Flight, carry: f32) -> Option<f32> {
    let arc = flight.arc(carry);
    for (begin, end) in stretches {
        if *begin >= carry {
            break;
        }
        if arc.low(*begin) {
            return Some(*begin + INTO_TREES.min(0.5 * (end - begin)));
        }
        let out = end.min(carry);
        if arc.low(out) {
            // On the way down: halving finds where it comes below the tops.
            let (mut high, mut low) = (*begin, out);
            for _ in 0..8 {
                let middle = 0.5 * (high + low);
                if arc.low(middle) { low = middle } else { high = middle }
            }
            return Some(low);
        }
    }
    None
}

/// Stretches of trees from `from` in the direction `(s, c)` up to `reach` yards.
pub fn trees_along(terrain: &Terrain, from: Spot, dir: (f32, f32), reach: f32) -> Stretches {
    let mut found = Stretches::new();
    add_trees_along(terrain, from, dir, reach, &mut found);
    found
}

/// The same, added to `found`.
pub fn add_trees_along(terrain: &Terrain, from: Spot, (s, c): (f32, f32), reach: f32, found: &mut Stretches) {
    let mut at = 0.0_f32;
    let mut begun: Option<f32> = None;
    while at < reach {
        let spot = Spot { x: from.x + at * s, y: from.y + at * c };
        let gap = terrain.to_trees(spot);
        let inside = gap <= 2.0 && terrain.kind(spot) == Kind::Trees;
        match (inside, begun) {
            (true, None) => begun = Some(at),
            (false, Some(b)) => {
                found.push((b, at));
                begun = None;
            }
            _ => {}
        }
        at += if inside { terrain.tree_step(spot) } else { (0.85 * gap - 2.0).max(2.0) };
    }
    if let Some(b) = begun {
        found.push((b, reach));
    }
}

/// Where a ball that is struck from `from`, comes down after `carried` of the way to `to`, finishes.
pub fn finish(terrain: &Terrain, from: Spot, to: Spot, carried: f32, trees: Option<(&[(f32, f32)], Flight)>) -> Finish {
    let (dx, dy) = (to.x - from.x, to.y - from.y);
    let total = (dx * dx + dy * dy).sqrt();
    let on_line = |share: f32| Spot { x: from.x + share * dx, y: from.y + share * dy };
    if let Some((stretches, flight)) = trees
        && total > 0.0
        && let Some(at) = stopped(stretches, flight, carried * total)
    {
        return at_rest(terrain, from, on_line((at / total).min(1.0)));
    }
    let landing = on_line(carried);
    let kind = terrain.kind(landing);
    let run = run_share(kind) * (1.0 - carried) * total;
    if run <= 0.0 || total <= 0.0 {
        return at_rest(terrain, from, landing);
    }
    // As far as nothing can stop it there is no need to look.
    let (_, clear) = terrain.roll(landing.x, landing.y);
    let mut rolled = clear.min(run);
    while rolled < run {
        let spot = on_line(carried + rolled / total);
        let here = terrain.kind(spot);
        if stops(here) && rolled > 0.0 {
            return at_rest(terrain, from, spot);
        }
        rolled += STEP;
    }
    at_rest(terrain, from, on_line(carried + run / total))
}

fn at_rest(terrain: &Terrain, from: Spot, spot: Spot) -> Finish {
    match terrain.kind(spot) {
        Kind::Out => Finish::Out(spot),
        kind if kind.penalty() => {
            let (dx, dy) = (from.x - spot.x, from.y - spot.y);
            let back = (dx * dx + dy * dy).sqrt();
            let (ux, uy) = (dx / back, dy / back);
            let (mut gone, mut wet) = (terrain.wet_step(spot), spot);
            while gone < back {
                let dry = Spot { x: spot.x + gone * ux, y: spot.y + gone * uy };
                let here = terrain.kind(dry);
                if !here.penalty() && here != Kind::Out {
                    return Finish::Wet { dry, ground: here, at: spot, wet, kind };
                }
                wet = dry;
                gone += terrain.wet_step(dry);
            }
            Finish::Wet { dry: from, ground: Kind::Rough, at: spot, wet, kind }
        }
        kind => Finish::Lies(spot, kind),
    }
}

/// The spot where a ball may be dropped back on the line from the hole through where it went in (Rules of Golf 2023, 17.1d(2)); `None`
/// where there is no dry ground behind.
pub fn back_on_line(terrain: &Terrain, wet: Spot, behind: f32) -> Option<Spot> {
    let away = wet.away();
    if away <= 0.0 {
        return None;
    }
    let (ux, uy) = (wet.x / away, wet.y / away);
    let (mut back, mut spot) = (0.0, wet);
    while back < 350.0 {
        back += terrain.wet_step(spot);
        spot = Spot { x: wet.x + back * ux, y: wet.y + back * uy };
        let kind = terrain.kind(spot);
        if !kind.penalty() && kind != Kind::Out && kind != Kind::Trees {
            return Some(Spot { x: spot.x + behind * ux, y: spot.y + behind * uy });
        }
    }
    None
}
