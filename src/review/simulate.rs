//! A hole played out by the plan with a player's scatter, and the log that such a hole leaves.

use super::chance::Dice;
use super::stage::Stage;
use crate::ground::Point;
use crate::pattern::{Lie, Swing};
use crate::round::{HoleShots, Penalty, PlayedShot, PuttsTaken, ShotLie, Spot};
use crate::strategy::{Kind, Outcome, Play, Solution, Stand};

/// The most strokes of a played hole; then it is picked up.
const MOST: usize = 15;

/// One stroke as it was played.
#[derive(Clone, Debug)]
pub struct Stroke {
    /// From where.
    pub stand: Stand,
    /// What was meant.
    pub play: Play,
    /// Where it went, against its aim.
    pub went: (f64, f64),
    /// What came of it.
    pub outcome: Outcome,
}

/// A hole as it was played.
#[derive(Clone, Debug, Default)]
pub struct Played {
    /// Strokes in all; `None` picked up.
    pub score: Option<u8>,
    /// The strokes with clubs.
    pub strokes: Vec<Stroke>,
    /// The log of it.
    pub log: HoleShots,
}

/// Who plays: the choice of a play at a stand, the true swing behind a meant one, and how the putts go.
pub trait Plays {
    /// What is played; the plan's own best unless the player knows better.
    fn choose(&mut self, solution: &Solution<'_>, stand: Stand, first: &Play) -> Play {
        let _ = (solution, stand);
        first.clone()
    }

    /// The swing that is really made.
    fn swing(&mut self, meant: &Swing) -> Swing {
        meant.clone()
    }

    /// How far right of the aim it really goes on average, as a share of its length.
    fn bias(&mut self, meant: &Swing) -> f64 {
        let _ = meant;
        0.0
    }

    /// By how many degrees of direction putts are worse: the chances from a place on the green.
    fn putts(&mut self, solution: &Solution<'_>, at: Point) -> [f64; crate::pattern::putts::MOST_PUTTS] {
        solution.hole().green.chances(at)
    }
}

/// A player who plays the plan with the pattern it was made for.
pub struct AsPlanned;

impl Plays for AsPlanned {}

/// Plays a hole out.
pub fn play_hole(stage: &Stage, solution: &Solution<'_>, player: &mut dyn Plays, dice: &mut Dice) -> Played {
    let mut out = Played::default();
    let mut stand = solution.tee();
    loop {
        if stand.taken >= MOST {
            return out;
        }
        let Some(first) = solution.at_once(stand) else { return out };
        let play = player.choose(solution, stand, &first);
        let Some(meant) = play.swing.clone() else {
            // A drop: one stroke, the ball where the play says.
            let Outcome::Rests { at, kind, .. } = solution.outcome(stand, &play, 0.0, 0.0) else { return out };
            if let Some(last) = out.log.shots.last_mut() {
                last.penalty = Some(Penalty::Unplayable);
                last.spot = Some(spot(stage, at));
                last.into = Some(word_of(kind));
            }
            stand = Stand { at, lie: kind.lie().unwrap_or(Lie::Rough), taken: stand.taken + 1 };
            continue;
        };
        let real = player.swing(&meant);
        let (along, across) = dice.swing(&real);
        let across = across + player.bias(&meant) * meant.total;
        let caught = stand.lie == Lie::Trees && dice.happens(solution.caught(stand, &play));
        let outcome = if caught { Outcome::Stays } else { solution.outcome(stand, &play, along, across) };
        let club = stage.kit.pattern.clubs.get(meant.club).map(|c| c.name.clone());
        let mut shot = PlayedShot { club, lie: Some(word(stand.lie)), ..PlayedShot::default() };
        out.strokes.push(Stroke { stand, play: play.clone(), went: (along, across), outcome });
        match outcome {
            Outcome::Rests { lost, .. } if dice.happens(lost) => {
                shot.penalty = Some(Penalty::Out);
                stand.taken += 2;
            }
            Outcome::Rests { at, kind, .. } => {
                stand.taken += 1;
                shot.spot = Some(spot(stage, at));
                shot.into = Some(word_of(kind));
                if kind == Kind::Green {
                    out.log.shots.push(shot);
                    let count = dice.putts(&player.putts(solution, at));
                    let feet = 3.0 * stage.to_hole(at);
                    let first_ft = Some((feet * 10.0).round().clamp(1.0, 2_500.0) as u16);
                    out.log.putts = Some(PuttsTaken { count, first_ft });
                    out.score = u8::try_from(stand.taken + usize::from(count)).ok();
                    return out;
                }
                stand = Stand { at, lie: kind.lie().unwrap_or(Lie::Rough), taken: stand.taken };
            }
            Outcome::Dropped { at, lie } => {
                shot.penalty = Some(Penalty::Water);
                shot.spot = Some(spot(stage, at));
                shot.into = Some(word(lie));
                stand = Stand { at, lie, taken: stand.taken + 2 };
            }
            Outcome::Again => {
                shot.penalty = Some(Penalty::Out);
                stand.taken += 2;
            }
            Outcome::Stays => {
                shot.spot = Some(spot(stage, stand.at));
                shot.into = Some(word(stand.lie));
                stand.taken += 1;
            }
        }
        out.log.shots.push(shot);
    }
}

fn spot(stage: &Stage, at: Point) -> Spot {
    let (along, across) = stage.line.locate(at);
    Spot { at: (along.0 * 10.0).round() as i32, across: (across.0 * 10.0).round() as i32 }
}

fn word(lie: Lie) -> ShotLie {
    match lie {
        Lie::Tee => ShotLie::Tee,
        Lie::Fairway => ShotLie::Fairway,
        Lie::Rough => ShotLie::Rough,
        Lie::Deep => ShotLie::Deep,
        Lie::Waste => ShotLie::Waste,
        Lie::ShallowSand | Lie::Sand | Lie::SteepSand => ShotLie::Sand,
        Lie::Trees => ShotLie::Trees,
    }
}

fn word_of(kind: Kind) -> ShotLie {
    kind.lie().map_or(ShotLie::Green, word)
}

/// What 10 per cent less spread of one club from one lie would save on a hole, by number of club and lie: strokes a play over
/// `plays` plays and how often it is played, to the first order (the plan stays; where it would change, a little more is saved).
///
/// # References
/// The envelope theorem: at the best plan the first-order change of its value is that of the outcome alone.
pub fn less_spread(
    stage: &Stage,
    solution: &Solution<'_>,
    plays: usize,
    dice: &mut Dice,
) -> Vec<(usize, Lie, f64, f64)> {
    let mut out: Vec<(usize, Lie, f64, f64)> = Vec::new();
    for _ in 0..plays {
        for stroke in play_hole(stage, solution, &mut AsPlanned, dice).strokes {
            let Some(swing) = &stroke.play.swing else { continue };
            // The tighter ball of the same swing: nearer to where it was meant by a tenth.
            let (along, across) = stroke.went;
            let tight = (swing.total + 0.9 * (along - swing.total), 0.9 * across);
            let after = |went: (f64, f64)| left(solution, &stroke, went);
            let saved = after((along, across)) - after(tight);
            let share = saved / plays as f64;
            let each = 1.0 / plays as f64;
            match out.iter_mut().find(|(c, l, ..)| *c == swing.club && *l == stroke.stand.lie) {
                Some(known) => (known.2, known.3) = (known.2 + share, known.3 + each),
                None => out.push((swing.club, stroke.stand.lie, share, each)),
            }
        }
    }
    out
}

/// Strokes to come after a stroke that goes so far along and across its aim, penalties included.
fn left(solution: &Solution<'_>, stroke: &Stroke, went: (f64, f64)) -> f64 {
    let here = || solution.value_at(stroke.stand.at).unwrap_or(0.0);
    match solution.outcome(stroke.stand, &stroke.play, went.0, went.1) {
        Outcome::Rests { at, lost, .. } => {
            let found = solution.value_at(at).unwrap_or_else(here);
            (1.0 - lost) * found + lost * (1.0 + here())
        }
        Outcome::Dropped { at, .. } => 1.0 + solution.value_at(at).unwrap_or_else(here),
        Outcome::Again => 1.0 + here(),
        Outcome::Stays => here(),
    }
}
