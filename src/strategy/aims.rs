//! Which plays are looked at from a place.

use super::choice::Choice;
use super::eval::Course;
use super::lattice::Place;
use super::terrain::Spot;
use crate::pattern::Lie;

/// Degrees between aims at a first look, for a shot that can reach the hole.
const AT_GREEN: f32 = 2.75;
/// The same for a shot that cannot.
const SHORT_OF_GREEN: f32 = 4.5;
/// Directions out of trees.
const WAYS_OUT: usize = 20;
/// A line to the next landing area nearer to the line to the hole than this is the same, radians.
const SAME_LINE: f32 = 0.045;

/// How closely plays stand to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choose {
    /// For the value of places.
    Places,
    /// For a place that a person looks at: every swing.
    Stand,
}

/// A swing and a direction about which to aim it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bearing {
    /// Number of the swing.
    pub swing: u16,
    /// The direction, radians.
    pub aim: f32,
    /// The step between aims about it, radians.
    pub step: f32,
}

impl Bearing {
    /// The play aimed `steps` to the right of it.
    pub fn play(self, steps: f32) -> Choice {
        Choice::Swing { swing: self.swing, aim: self.aim + steps * self.step }
    }
}

impl Course<'_> {
    /// Direction from a spot to the hole.
    pub fn to_pin(spot: Spot) -> f32 {
        libm::atan2f(-spot.x, -spot.y)
    }

    /// Writes the swings worth a look from `place` into `out`, each about the line to the hole and, where it is another, the line to
    /// where the hole goes on.
    pub fn bearings(&self, place: Place, choose: Choose, out: &mut Vec<Bearing>) {
        out.clear();
        let away = place.spot.away();
        let to_pin = Self::to_pin(place.spot);
        let swings = self.hole.kit.swings(place.lie);
        let reach = swings.first().map_or(0.0, |p| self.meant(&p.swing, place.spot, to_pin));
        let hazards = self.terrain.has_hazards();
        let ahead = self.ahead(place.spot);
        // Far from the line half as many swings will do.
        let apart = if place.far { 2.0 } else { 1.0 };
        let (mut last, mut last_careful) = (f32::INFINITY, f32::INFINITY);
        for (number, prepared) in swings.iter().enumerate() {
            let total = self.meant(&prepared.swing, place.spot, to_pin);
            let at_green = (total - away).abs() <= (0.12 * away).max(6.0);
            let lay_up = total < away && total >= 0.62 * reach;
            // Short of trouble a full swing may be too much.
            let careful = hazards && total < away && total >= 0.2 * reach;
            if !(at_green || lay_up || careful) {
                continue;
            }
            let (gap, held) = match choose {
                Choose::Stand => (0.0, &mut last),
                Choose::Places if at_green || lay_up => ((0.06 * total).clamp(2.4, 7.5) * apart, &mut last),
                Choose::Places => (15.0 * apart, &mut last_careful),
            };
            if *held - total < gap {
                continue;
            }
            *held = total;
            let degrees = if total > 0.85 * away { AT_GREEN } else { SHORT_OF_GREEN };
            let bearing = Bearing { swing: number as u16, aim: to_pin, step: degrees.to_radians() };
            out.push(bearing);
            if total <= 0.92 * away
                && let Some(line) = along_line(&ahead, place.spot, total)
                && turn(line - to_pin).abs() > SAME_LINE
            {
                out.push(Bearing { aim: to_pin + turn(line - to_pin), ..bearing });
            }
        }
        if out.is_empty()
            && let Some(shortest) = swings.len().checked_sub(1)
        {
            out.push(Bearing { swing: shortest as u16, aim: to_pin, step: AT_GREEN.to_radians() });
        }
    }

    /// The hole line ahead of a spot with the distance to each point of it; empty where the line is straight.
    fn ahead(&self, spot: Spot) -> Vec<(f32, Spot)> {
        if self.hole.line.len() <= 2 {
            return Vec::new();
        }
        let far = |p: &Spot| {
            let (dx, dy) = (p.x - spot.x, p.y - spot.y);
            (dx * dx + dy * dy).sqrt()
        };
        let mut line: Vec<(f32, Spot)> = self.line.iter().map(|p| (far(p), *p)).collect();
        let nearest = line.iter().enumerate().min_by(|(_, a), (_, b)| a.0.total_cmp(&b.0)).map_or(0, |(i, _)| i);
        line.drain(..nearest);
        line
    }

    /// Direction to the point of the hole line this far ahead, where the line bends.
    pub fn line_at(&self, spot: Spot, total: f32) -> Option<f32> {
        along_line(&self.ahead(spot), spot, total)
    }

    /// Ways out of trees: directions that are not quite shut, and drops for a ball that cannot be played.
    pub fn ways_out(&self, place: Place, out: &mut Vec<Choice>) {
        out.clear();
        let to_pin = Self::to_pin(place.spot);
        let swings = self.hole.kit.swings(Lie::Trees);
        let farthest = swings.first().map_or(0.0, |p| p.swing.total as f32);
        let ways: Vec<(f32, f32)> = (0..WAYS_OUT)
            .map(|k| {
                let aim = to_pin + std::f32::consts::TAU * k as f32 / WAYS_OUT as f32;
                (aim, self.through(place.spot, aim, farthest))
            })
            .collect();
        let least = ways.iter().map(|(_, through)| *through).fold(f32::INFINITY, f32::min);
        for (aim, through) in ways {
            if through > (1.5 * least + 10.0).max(30.0) {
                continue;
            }
            let mut last = f32::INFINITY;
            for (number, prepared) in swings.iter().enumerate() {
                let total = prepared.swing.total as f32;
                if total >= through + 6.0 && total <= 0.75 * last {
                    last = total;
                    out.push(Choice::Swing { swing: number as u16, aim });
                }
            }
        }
        if out.is_empty() {
            out.push(Choice::Swing { swing: 0, aim: to_pin });
        }
        out.extend(self.unplayable(place.spot));
    }

    /// The directions that these plays span, and how far they go: for the fan of trees.
    pub fn span<'p>(&self, lie: Lie, plays: impl Iterator<Item = &'p Choice>) -> Option<((f32, f32), f32)> {
        let (mut low, mut high, mut reach) = (f32::INFINITY, f32::NEG_INFINITY, 0.0_f32);
        for play in plays {
            if let Choice::Swing { swing, aim } = play
                && let Some(prepared) = self.swing(lie, *swing)
            {
                low = low.min(*aim);
                high = high.max(*aim);
                reach = reach.max(1.2 * prepared.swing.total as f32);
            }
        }
        (low <= high).then_some(((low - 0.25, high + 0.25), reach))
    }
}

/// Direction to the point of the line at this distance ahead.
fn along_line(ahead: &[(f32, Spot)], spot: Spot, total: f32) -> Option<f32> {
    let (_, p) = ahead.iter().find(|(far, _)| *far >= total)?;
    Some(libm::atan2f(p.x - spot.x, p.y - spot.y))
}

/// An angle brought to within half a turn.
pub fn turn(angle: f32) -> f32 {
    let half = std::f32::consts::PI;
    let whole = 2.0 * half;
    let mut angle = angle % whole;
    if angle > half {
        angle -= whole;
    } else if angle < -half {
        angle += whole;
    }
    angle
}
