//! Playing a hole out by chance.

use marram::ground::Point;
use marram::pattern::{Lie, normal};
use marram::strategy::{Outcome, Solution, Stand};

/// A fixed sequence of evenly spread numbers that look random (a linear congruence modulo 2^64, upper bits).
pub struct Draws(pub u64);

impl Draws {
    pub fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    pub fn normal(&mut self) -> f64 {
        normal::quantile(self.share())
    }
}

fn putts(solution: &Solution<'_>, at: Point, draws: &mut Draws) -> usize {
    let mut left = draws.share();
    for (j, p) in solution.hole().green.chances(at).iter().enumerate() {
        left -= p;
        if left < 0.0 {
            return j + 1;
        }
    }
    6
}

/// Plays the hole out with exact normal errors; strokes taken.
pub fn play_out(solution: &Solution<'_>, draws: &mut Draws) -> usize {
    let (taken, at) = play_until_green(solution, solution.tee(), draws);
    taken + at.map_or(0, |at| putts(solution, at, draws))
}

/// Strokes until the ball lies on the green.
pub fn play_to_green(solution: &Solution<'_>, stand: Stand, draws: &mut Draws) -> usize {
    play_until_green(solution, stand, draws).0
}

fn play_until_green(solution: &Solution<'_>, mut stand: Stand, draws: &mut Draws) -> (usize, Option<Point>) {
    while stand.taken < 40 {
        let play = solution.at_once(stand).unwrap();
        let (mut along, mut across) = (0.0, 0.0);
        if let Some(swing) = &play.swing {
            let mishit = draws.share() < swing.mishit;
            let (mean, deep, wide) = if mishit {
                (0.72 * swing.total, 0.15 * swing.total, swing.mishit_across())
            } else {
                (swing.total, swing.along, swing.across)
            };
            along = mean + deep * draws.normal();
            across = wide * draws.normal();
            if stand.lie == Lie::Trees && draws.share() < solution.caught(stand, &play) {
                stand.taken += 1;
                continue;
            }
        }
        match solution.outcome(stand, &play, along, across) {
            Outcome::Rests { at, kind, lost } => {
                if lost > 0.0 && draws.share() < lost {
                    stand.taken += 2;
                    continue;
                }
                stand.taken += 1;
                match kind.lie() {
                    None => return (stand.taken, Some(at)),
                    Some(lie) => (stand.at, stand.lie) = (at, lie),
                }
            }
            Outcome::Dropped { at, lie } => {
                stand.taken += 2;
                (stand.at, stand.lie) = (at, lie);
            }
            Outcome::Again => stand.taken += 2,
            Outcome::Stays => stand.taken += 1,
        }
    }
    (stand.taken, None)
}
