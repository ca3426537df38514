//! One hole judged: strokes gained by every logged stroke against this player's own expectation.
//!
//! The value of a place is the strokes to come by the best play from it, solved for this player by the notebook of that day. A stroke
//! gains what that value falls by, less the stroke and its penalties. What the chosen club is worth less than the best play is the
//! *decision*; the rest is *execution*. Decisions and executions of a wholly logged hole sum to the expectation at the tee less the score.

use super::level::Level;
use super::resolve::{Ended, Known, Place, ended};
use super::stage::Stage;
use crate::pattern::Lie;
use crate::pattern::putts::average_of;
use crate::round::HoleShots;
use crate::scoring::HoleScore;
use crate::strategy::{Play, Solution, Stand};
use serde::Serialize;

/// A play whose club costs no more than this is worth the same (product.md: 0.03 strokes).
pub const SAME: f64 = 0.03;

/// A part of the game.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Part {
    /// Tee shots of holes of par 4 and more.
    Tee,
    /// Other shots from more than 30 yards of the green.
    Approach,
    /// Shots from within 30 yards of the green.
    Short,
    /// Putts.
    Putt,
    /// Penalty strokes themselves.
    Penalty,
}

impl Part {
    /// All of them, in the order of play.
    pub const ALL: [Self; 5] = [Self::Tee, Self::Approach, Self::Short, Self::Putt, Self::Penalty];

    /// Its word.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Tee => "tee",
            Self::Approach => "approach",
            Self::Short => "short",
            Self::Putt => "putt",
            Self::Penalty => "penalties",
        }
    }
}

/// How closely plays are looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Every play, as the plan is made.
    Close,
    /// The best at a first look: for seasons.
    Quick,
}

/// Where a shot went against its aim, for learning; only where both ends are known places.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Flown {
    /// Along the aim, yards.
    pub along: f64,
    /// Right of it, yards.
    pub across: f64,
    /// How far the same swing is expected to go from this lie.
    pub meant: f64,
    /// Its expected standard deviation along and across.
    pub spread: (f64, f64),
    /// Whether the aim was logged; else it is that of the club's best play.
    pub aimed: bool,
    /// Whether it is the full swing of the club.
    pub full: bool,
    /// How far right of its start it was expected to finish.
    pub curve: f64,
    /// The lie it was played from.
    #[serde(skip)]
    pub lie: Lie,
}

/// One stroke with a club, judged.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ShotReview {
    /// Number of the stroke with a club, from 1.
    pub number: usize,
    /// The club, when it was logged.
    pub club: Option<String>,
    /// Lie word.
    pub lie: &'static str,
    /// To the hole before it, yards.
    pub to_hole_yd: Option<f64>,
    /// After it; 0 in the hole.
    pub left_yd: Option<f64>,
    /// What it finished in.
    pub into: Option<&'static str>,
    /// Part of the game.
    pub part: Part,
    /// The club of the best play.
    pub planned: Option<String>,
    /// Strokes to come before it.
    pub before: Option<f64>,
    /// Strokes to come after it.
    pub after: Option<f64>,
    /// Penalty strokes.
    pub penalty: u8,
    /// Gained without the penalty strokes; `None` where the log does not go so far.
    pub gained: Option<f64>,
    /// The share of it that the choice of club made; never above 0.
    pub decision: Option<f64>,
    /// The rest.
    pub execution: Option<f64>,
    /// Against a player of the same index on plain ground, penalties included.
    pub against_index: Option<f64>,
    /// A place of it is a guess by words.
    pub about: bool,
    /// Where it went against its aim.
    pub flown: Option<Flown>,
    /// Which side of the aim it finished, from words or places: -1 left, 1 right, 0 on it.
    pub side: Option<i8>,
}

/// The putts of a hole, judged.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PuttReview {
    /// How many.
    pub count: u8,
    /// Length of the first in feet.
    pub first_ft: Option<f64>,
    /// Gained against this player's own putting.
    pub gained: Option<f64>,
    /// Against a player of the same index.
    pub against_index: Option<f64>,
}

/// What a danger took from this player.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Taken {
    /// Index of the feature; `None` for a penalty whose place is not known.
    pub feature: Option<usize>,
    /// Its name.
    pub name: String,
    /// Strokes it took.
    pub strokes: f64,
}

/// One hole, judged.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HoleReview {
    /// Position in playing order.
    pub position: usize,
    /// The hole's number.
    pub hole: u8,
    /// Par.
    pub par: u8,
    /// Strokes received.
    pub received: i32,
    /// What was scored.
    pub score: Option<u8>,
    /// Strokes expected at the tee.
    pub expected: f64,
    /// Expected less scored.
    pub gained: Option<f64>,
    /// The strokes with clubs.
    pub shots: Vec<ShotReview>,
    /// The putts.
    pub putts: Option<PuttReview>,
    /// What dangers took.
    pub taken: Vec<Taken>,
    /// Gained by strokes that the log does not tell of.
    pub not_told: f64,
    /// What the reader must know: half logged, impossible, not the card's score.
    pub remarks: Vec<String>,
}

impl HoleReview {
    /// Every figure of a part: strokes gained, and the same against the index.
    pub fn of_part(&self, part: Part) -> Vec<(f64, Option<f64>)> {
        match part {
            Part::Penalty => {
                self.shots.iter().filter(|s| s.penalty > 0).map(|s| (-f64::from(s.penalty), None)).collect()
            }
            Part::Putt => {
                let own = self.shots.iter().filter(|s| s.part == Part::Putt);
                let own = own.filter_map(|s| Some((s.gained?, s.against_index)));
                let putts = self.putts.iter().filter_map(|p| Some((p.gained?, p.against_index)));
                own.chain(putts).collect()
            }
            part => {
                let own = self.shots.iter().filter(|s| s.part == part);
                own.filter_map(|s| Some((s.gained?, s.against_index))).collect()
            }
        }
    }
}

/// What is judged.
pub struct Case<'c> {
    /// Position in playing order.
    pub position: usize,
    /// The log of the hole.
    pub logged: &'c HoleShots,
    /// The card's score.
    pub score: HoleScore,
    /// The player of the same index.
    pub level: &'c Level,
    /// How closely to look.
    pub look: Look,
}

/// A hole being judged.
pub(super) struct Judge<'j, 's> {
    pub(super) stage: &'j Stage,
    pub(super) solution: &'j Solution<'s>,
    pub(super) case: &'j Case<'j>,
}

/// Judges a hole.
pub fn judge(stage: &Stage, solution: &Solution<'_>, case: &Case<'_>) -> HoleReview {
    Judge { stage, solution, case }.hole()
}

impl Judge<'_, '_> {
    fn best(&self, place: &Place, taken: usize) -> Option<Play> {
        let stand = Stand { at: place.at, lie: place.lie?, taken };
        match self.case.look {
            Look::Close => self.solution.plays(stand).into_iter().next(),
            Look::Quick => self.solution.at_once(stand),
        }
    }

    /// Strokes to come from a place, with the best play where one is to be chosen.
    pub(super) fn value(&self, place: &Place, taken: usize) -> (f64, Option<Play>) {
        match place.lie {
            None => (average_of(&self.solution.hole().green.chances(place.at)), None),
            Some(_) => match self.best(place, taken) {
                Some(play) => (play.cost, Some(play)),
                None => (self.solution.value_at(place.at).unwrap_or(0.0), None),
            },
        }
    }

    fn hole(&self) -> HoleReview {
        let (stage, logged) = (self.stage, self.case.logged);
        let question = &stage.question;
        let tee = Place { at: stage.tee, lie: Some(Lie::Tee), known: Known::Placed };
        let (expected, first) = self.value(&tee, 0);
        let score = self.case.score.gross();
        let mut out = HoleReview {
            position: self.case.position,
            hole: question.hole.number,
            par: question.par,
            received: question.strokes_received,
            score,
            expected,
            gained: score.map(|s| expected - f64::from(s)),
            shots: Vec::new(),
            putts: None,
            taken: Vec::new(),
            not_told: 0.0,
            remarks: Vec::new(),
        };
        let mut here = Some((tee, expected, first));
        let mut taken = 0;
        for number in 0..logged.shots.len() {
            here = self.shot(number, here, &mut taken, &mut out);
        }
        self.putts(here, &mut out);
        self.compare(&mut out);
        out
    }

    /// Judges one shot; gives where the next is played from.
    fn shot(
        &self,
        number: usize,
        here: Option<(Place, f64, Option<Play>)>,
        taken: &mut usize,
        out: &mut HoleReview,
    ) -> Option<(Place, f64, Option<Play>)> {
        let (stage, logged) = (self.stage, self.case.logged);
        let shot = logged.shots.get(number)?;
        let mut here = here;
        // The lie that was logged wins over the ground of the map.
        if let (Some(word), Some((place, _, _))) = (shot.lie, here.as_ref()) {
            let lie = stage.lie(place.at, Some(word));
            if lie != place.lie && !(number == 0 && word == crate::round::ShotLie::Tee) {
                let place = Place { lie, ..*place };
                let (value, play) = self.value(&place, *taken);
                here = Some((place, value, play));
            }
        }
        let stroke = *taken;
        let penalty = u8::from(shot.penalty.is_some());
        *taken += 1 + usize::from(penalty);
        let place = here.as_ref().map(|h| h.0);
        let best = here.as_ref().and_then(|h| h.2.as_ref());
        let chosen = self.chosen(number, place.as_ref(), best, stroke);
        let meant = chosen.as_ref().or(best);
        let end = ended(stage, logged, number, place.as_ref(), meant.map(|p| p.target));
        let after = match &end {
            Ended::Lies(next) => Some(Some(*next)),
            Ended::Again => place.map(Some),
            Ended::Holed => Some(None),
            Ended::Unknown => None,
        };
        let next = after.flatten().map(|next| match end {
            Ended::Again => (next, here.as_ref().map_or(0.0, |h| h.1), best.cloned()),
            _ => {
                // The first putt's own length is better known than the place of the ball.
                let (value, play) = self.value(&next, *taken);
                (next, value, play)
            }
        });
        let before = here.as_ref().map(|h| h.1);
        let left = after.map(|a| if a.is_none() { 0.0 } else { next.as_ref().map_or(0.0, |n| n.1) });
        let gained = before.zip(left).map(|(b, a)| b - a - 1.0);
        let decision = match (best, &chosen) {
            (Some(best), Some(chosen)) => {
                let cost = self.cost_of(best, chosen, place.as_ref(), stroke);
                Some(if cost <= SAME { 0.0 } else { -cost })
            }
            _ => None,
        };
        let part = match place {
            Some(Place { lie: None, .. }) => Part::Putt,
            Some(p) if p.lie == Some(Lie::Tee) && out.par >= 4 => Part::Tee,
            Some(p) if stage.is_short(p.at) => Part::Short,
            _ if number == 0 && out.par >= 4 => Part::Tee,
            _ => Part::Approach,
        };
        let at = |p: &Place| (p.lie, stage.to_hole(p.at));
        let against_index = place.and_then(|p| {
            let end = after?.map(|next| at(&next));
            Some(self.case.level.gained(at(&p), end, f64::from(penalty)))
        });
        let about = |p: &Place| p.known == Known::About;
        let finish = match end {
            Ended::Lies(p) => Some(p),
            _ => None,
        };
        let flown = self.flown(number, place.as_ref(), finish.as_ref(), meant);
        self.danger(shot.penalty, finish.as_ref(), gained, *taken, out);
        out.shots.push(ShotReview {
            number: number + 1,
            club: shot.club.clone(),
            lie: place.map_or("?", |p| p.lie.map_or("green", Lie::word)),
            to_hole_yd: place.map(|p| stage.to_hole(p.at)),
            left_yd: match (&end, finish) {
                (Ended::Holed, _) => Some(0.0),
                (Ended::Again, _) => place.map(|p| stage.to_hole(p.at)),
                (_, finish) => finish.map(|p| stage.to_hole(p.at)),
            },
            into: finish.map(|p| p.lie.map_or("green", Lie::word)),
            part,
            planned: best.map(|p| stage.name(p)),
            before,
            after: left,
            penalty,
            gained,
            decision,
            execution: gained.map(|g| g - decision.unwrap_or(0.0)),
            against_index,
            about: place.as_ref().is_some_and(about) || finish.as_ref().is_some_and(about),
            side: side_of(shot, flown.as_ref()),
            flown,
        });
        next
    }

    /// The play that was chosen, by its club and, where it was logged, its aim.
    fn chosen(&self, number: usize, here: Option<&Place>, best: Option<&Play>, taken: usize) -> Option<Play> {
        let shot = self.case.logged.shots.get(number)?;
        let (here, best) = (here?, best?);
        let stand = Stand { at: here.at, lie: here.lie?, taken };
        let club = self.stage.club(shot.club.as_deref()?)?;
        if let Some(aim) = shot.aim {
            let at = self.stage.point(f64::from(aim.at) / 10.0, f64::from(aim.across) / 10.0);
            return self.solution.marked(stand, club, at.distance(here.at), at);
        }
        if best.swing.as_ref().is_some_and(|s| s.club == club) {
            return Some(best.clone());
        }
        self.stage.of_club(self.solution, stand, club, best, best.target.distance(here.at))
    }

    /// What the chosen play is worth less than the best, both looked at alike.
    fn cost_of(&self, best: &Play, chosen: &Play, here: Option<&Place>, taken: usize) -> f64 {
        let same = best.swing.as_ref().map(|s| s.club) == chosen.swing.as_ref().map(|s| s.club);
        if same && (best.target.distance(chosen.target) < 1.0) {
            return 0.0;
        }
        let alike = || {
            let place = here?;
            let swing = best.swing.as_ref()?;
            let stand = Stand { at: place.at, lie: place.lie?, taken };
            self.solution.marked(stand, swing.club, swing.total, best.target)
        };
        let best_cost = match self.case.look {
            Look::Close => best.cost,
            Look::Quick => alike().map_or(best.cost, |p| p.cost),
        };
        (chosen.cost - best_cost).max(0.0)
    }

    fn putts(&self, here: Option<(Place, f64, Option<Play>)>, out: &mut HoleReview) {
        let Some(putts) = self.case.logged.putts else { return };
        let logged = putts.first_ft.map(|tenths| f64::from(tenths) / 10.0);
        let by_place = || {
            let (place, _, _) = here.as_ref()?;
            (place.known >= Known::Distance && place.lie.is_none()).then(|| 3.0 * self.stage.to_hole(place.at))
        };
        let first_ft = logged.or_else(by_place);
        let own = first_ft.map(|ft| self.stage.kit.pattern.putts.average(ft / 3.0));
        // Strokes must telescope: the last shot left what the putts begin with.
        let own = match (own, &here) {
            (Some(_), Some((place, value, _))) if place.lie.is_none() && place.known >= Known::Distance => Some(*value),
            (own, _) => own,
        };
        let count = f64::from(putts.count);
        if putts.count > 0 {
            out.putts = Some(PuttReview {
                count: putts.count,
                first_ft,
                gained: own.map(|o| o - count),
                against_index: first_ft.map(|ft| self.case.level.putting(ft) - count),
            });
        }
    }

    /// Sets the log against the card.
    fn compare(&self, out: &mut HoleReview) {
        let logged = self.case.logged;
        let told: f64 = out.shots.iter().filter_map(|s| s.gained.map(|g| g - f64::from(s.penalty))).sum::<f64>()
            + out.putts.and_then(|p| p.gained).unwrap_or(0.0);
        out.not_told = out.gained.map_or(0.0, |g| g - told);
        if logged.is_empty() {
            return;
        }
        let strokes = logged.strokes();
        match out.score.map(usize::from) {
            Some(score) if strokes > score => {
                out.remarks.push(format!("{strokes} strokes are logged and the card says {score}; the card counts"));
            }
            Some(score) if strokes < score => {
                out.remarks.push(format!("{} of {score} strokes are not logged", score - strokes));
            }
            None if self.case.score == HoleScore::PickedUp => {
                out.remarks.push("picked up: what was logged is judged".to_owned())
            }
            None => out.remarks.push("no score on the card; what was logged is judged".to_owned()),
            _ => {}
        }
        if out.shots.iter().any(|s| s.gained.is_none()) {
            out.remarks
                .push("where a ball finished is not known, so its stroke and the next are not judged".to_owned());
        }
        if out.shots.iter().any(|s| s.about) {
            out.remarks.push("some places are known by words only: about".to_owned());
        }
        for shot in &logged.shots {
            if let Some(club) = shot.club.as_deref()
                && self.stage.club(club).is_none()
                && !crate::pattern::bag::is_putter(club)
            {
                out.remarks.push(format!("{club} was not in the bag of that day, so its choice is not judged"));
            }
        }
    }
}

fn side_of(shot: &crate::round::PlayedShot, flown: Option<&Flown>) -> Option<i8> {
    use crate::round::LeftRight;
    match (shot.side, flown) {
        (Some(LeftRight::Left), _) => Some(-1),
        (Some(LeftRight::Right), _) => Some(1),
        (None, Some(flown)) if flown.across.abs() < 0.02 * flown.meant => Some(0),
        (None, Some(flown)) => Some(if flown.across < 0.0 { -1 } else { 1 }),
        (None, None) => None,
    }
}
