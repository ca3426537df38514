//! Which plays are looked at from a place.

use super::choice::Choice;
use super::eval::Course;
use super::lattice::Place;
use super::terrain::Spot;
use crate::pattern::Lie;

/// Aims either side of the hole for a shot that can reach it, degrees.
const AT_GREEN: [f32; 7] = [0.0, -2.5, 2.5, -6.0, 6.0, -11.0, 11.0];
/// Aims for a shot that cannot.
const SHORT_OF_GREEN: [f32; 7] = [0.0, -4.0, 4.0, -9.0, 9.0, -14.0, 14.0];
/// Aims either side of the line to the next landing area.
const ON_LINE: [f32; 5] = [0.0, -4.0, 4.0, -9.0, 9.0];
/// Directions out of trees.
const WAYS_OUT: usize = 20;

/// How closely plays stand to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Choose {
    /// For the value of places.
    Places,
    /// For a place that a person looks at: every swing.
    Stand,
}

impl Course<'_> {
    /// Direction from a spot to the hole.
    pub fn to_pin(spot: Spot) -> f32 {
        libm::atan2f(-spot.x, -spot.y)
    }

    /// Writes the plays from `place` into `out`.
    pub fn plays(&self, place: Place, choose: Choose, out: &mut Vec<Choice>) {
        out.clear();
        if self.recovers(place) {
            out.push(Choice::Recover);
            return;
        }
        if place.lie == Lie::Trees {
            self.ways_out(place, out);
            return;
        }
        let away = place.spot.away();
        let to_pin = Self::to_pin(place.spot);
        let swings = self.hole.kit.swings(place.lie);
        let reach = swings.first().map_or(0.0, |p| p.swing.total as f32);
        let hazards = self.terrain.has_hazards();
        let ahead = self.ahead(place.spot);
        let mut last = (f32::INFINITY, f32::INFINITY);
        for (number, prepared) in swings.iter().enumerate() {
            let total = prepared.swing.total as f32;
            let at_green = (total - away).abs() <= (0.12 * away).max(6.0);
            let lay_up = total < away && total >= 0.62 * reach;
            let careful = hazards && total < away && total >= 0.2 * reach;
            let number = number as u16;
            if !(at_green || lay_up || careful) {
                continue;
            }
            let (gap, held) = match choose {
                Choose::Stand => (0.0, &mut last.0),
                Choose::Places if at_green || lay_up => ((0.06 * total).clamp(2.4, 7.0), &mut last.0),
                Choose::Places => (14.0, &mut last.1),
            };
            if *held - total < gap {
                continue;
            }
            *held = total;
            let offsets = if total > 0.85 * away { &AT_GREEN } else { &SHORT_OF_GREEN };
            let offsets = if total < 30.0 { offsets.get(..3).unwrap_or(offsets) } else { offsets };
            out.extend(offsets.iter().map(|o| Choice::Swing { swing: number, aim: to_pin + o.to_radians() }));
            if total > 0.92 * away {
                continue;
            }
            if let Some(line) = self.along_line(&ahead, place.spot, total)
                && turn(line - to_pin).abs() > 0.045
            {
                out.extend(ON_LINE.iter().map(|o| Choice::Swing { swing: number, aim: line + o.to_radians() }));
            }
        }
        if out.is_empty()
            && let Some(shortest) = swings.len().checked_sub(1)
        {
            out.push(Choice::Swing { swing: shortest as u16, aim: to_pin });
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
        let nearest =
            self.line.iter().enumerate().min_by(|(_, a), (_, b)| far(a).total_cmp(&far(b))).map_or(0, |(i, _)| i);
        self.line.iter().skip(nearest).map(|p| (far(p), *p)).collect()
    }

    /// Direction to the point of the line at this distance ahead.
    fn along_line(&self, ahead: &[(f32, Spot)], spot: Spot, total: f32) -> Option<f32> {
        let (_, p) = ahead.iter().find(|(far, _)| *far >= total)?;
        Some(libm::atan2f(p.x - spot.x, p.y - spot.y))
    }

    fn ways_out(&self, place: Place, out: &mut Vec<Choice>) {
        let to_pin = Self::to_pin(place.spot);
        let mut last = f32::INFINITY;
        for (number, prepared) in self.hole.kit.swings(place.lie).iter().enumerate() {
            let total = prepared.swing.total as f32;
            if total < 8.0 || last - total < (0.3 * total).max(5.0) {
                continue;
            }
            last = total;
            for k in 0..WAYS_OUT {
                out.push(Choice::Swing {
                    swing: number as u16,
                    aim: to_pin + std::f32::consts::TAU * k as f32 / WAYS_OUT as f32,
                });
            }
        }
        out.extend(self.unplayable(place.spot));
    }

    /// The directions that these plays span, and how far they go: for the fan of trees.
    pub fn span(&self, place: Place, plays: &[Choice]) -> Option<((f32, f32), f32)> {
        let (mut low, mut high, mut reach) = (f32::INFINITY, f32::NEG_INFINITY, 0.0_f32);
        for play in plays {
            if let Choice::Swing { swing, aim } = play
                && let Some(prepared) = self.swing(place.lie, *swing)
            {
                low = low.min(*aim);
                high = high.max(*aim);
                reach = reach.max(1.3 * prepared.swing.total as f32);
            }
        }
        (low <= high).then_some(((low - 0.3, high + 0.3), reach))
    }
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
