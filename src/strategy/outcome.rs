//! One shot played out, and the play that is found at once.

use super::Kind;
use super::choice::Choice;
use super::finish::{Finish, finish};
use super::look::Scratch;
use super::solution::{Play, Solution, Stand};
use super::stand::Ranked;
use super::terrain::Spot;
use crate::ground::Point;
use crate::pattern::Lie;

/// What became of one shot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outcome {
    /// At rest, one stroke taken.
    Rests {
        /// Where.
        at: Point,
        /// On which ground.
        kind: Kind,
        /// Chance that it is not found: then it is played again from where it was, a penalty stroke more.
        lost: f64,
    },
    /// In a penalty area and dropped, two strokes taken.
    Dropped {
        /// Where.
        at: Point,
        /// How the ball then lies.
        lie: Lie,
    },
    /// To be played again from where it was, two strokes taken: out of bounds, or the better relief.
    Again,
    /// Left where it was by the trees it lies in, one stroke taken.
    Stays,
}

impl Solution<'_> {
    /// The best play from a stand at a first look, a few hundredths of a stroke from that of [`Self::plays`] at most: for a
    /// stand that is walked along the hole.
    pub fn at_once(&self, stand: Stand) -> Option<Play> {
        let view = self.view(stand);
        let mut scratch = Scratch::default();
        view.course.look(&view.next, view.place, view.ledger, &mut scratch);
        let fan = view.course.fan(view.place, scratch.promising());
        let cost = view.course.weigh_kept(&view.next, view.place, fan.as_ref(), view.ledger, &mut scratch);
        let [choice, ..] = scratch.kept();
        Some(self.play(&view, Ranked { choice: choice?, cost }))
    }

    /// Chance that trees leave the ball of this play where it is.
    pub fn caught(&self, stand: Stand, play: &Play) -> f64 {
        let view = self.view(stand);
        let mut caught = 0.0;
        if let Choice::Swing { swing, aim } = play.choice
            && let Some(prepared) = view.course.swing(stand.lie, swing)
        {
            view.course.each_finish(view.place, aim, prepared, &prepared.screen, |weight, end| {
                if end == Finish::Stays {
                    caught += weight;
                }
            });
        }
        f64::from(caught)
    }

    /// What becomes of the shot of a play that goes `along` its aim and `across` it (right is positive), carry and run on fairway
    /// together. A ball that trees hold back is [`Outcome::Stays`] with the chance of [`Self::caught`], which is not drawn here.
    pub fn outcome(&self, stand: Stand, play: &Play, along: f64, across: f64) -> Outcome {
        let view = self.view(stand);
        let course = view.course;
        let point = |spot: Spot| course.terrain.point(spot);
        let Choice::Swing { swing, aim } = play.choice else {
            let to = course.target(view.place, play.choice);
            return match play.choice {
                Choice::Drop { lie, .. } => Outcome::Rests { at: point(to), kind: kind_of(lie), lost: 0.0 },
                _ => Outcome::Rests { at: point(to), kind: Kind::Fairway, lost: 0.0 },
            };
        };
        let Some(prepared) = course.swing(stand.lie, swing) else { return Outcome::Stays };
        let (s, c) = libm::sincosf(aim);
        let (a, b) = (along.max(0.0) as f32, across as f32);
        let from = view.place.spot;
        let to = Spot { x: from.x + a * s + b * c, y: from.y + a * c - b * s };
        let fan = if stand.lie == Lie::Trees { None } else { course.fan_about(view.place, aim, prepared) };
        let line = fan.as_ref().map(|f| f.along(aim + b / a.max(1.0))).filter(|t| !t.is_empty());
        let carried = prepared.swing.carried as f32;
        match finish(&course.terrain, from, to, carried, line.map(|t| (t, prepared.flight))) {
            Finish::Lies(spot, kind) => Outcome::Rests { at: point(spot), kind, lost: f64::from(course.lost(kind)) },
            Finish::Wet { dry, ground, wet, kind, .. } => {
                let (value, drop) = course.relief(&view.next, (dry, ground), wet, kind);
                match drop {
                    Some((spot, ground)) if value <= view.next.again => {
                        Outcome::Dropped { at: point(spot), lie: ground.lie().unwrap_or(Lie::Fairway) }
                    }
                    _ => Outcome::Again,
                }
            }
            Finish::Out(_) => Outcome::Again,
            Finish::Stays => Outcome::Stays,
        }
    }
}

fn kind_of(lie: Lie) -> Kind {
    match lie {
        Lie::Tee | Lie::Fairway => Kind::Fairway,
        other => Kind::of_byte(other as u8),
    }
}
