//! A hole made ready to judge play on it: the notebook of that day, solved for this player.

use crate::ground::{HoleLine, Point};
use crate::pattern::{Lie, Still};
use crate::plan::ground::Rastered;
use crate::plan::{NoPlan, Question};
use crate::round::ShotLie;
use crate::strategy::{Fineness, Hole, Kind, Kit, LevelGreen, Lies, Play, Solution, Stand, Worth, solve};
use crate::units::{Across, Along};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

/// How finely a hole is solved for a review: differences of values that share their error.
pub const REVIEWED: Fineness = Fineness { grid: 6.0, weigh: 32, value: 64, shown: 192 };

/// One hole with its raster and the player's swings.
pub struct Stage {
    /// What the plan of that day was asked.
    pub question: Question,
    /// The ground.
    pub lies: Rastered,
    /// The player's swings.
    pub kit: Arc<Kit>,
    /// The player's tee.
    pub tee: Point,
    /// The hole.
    pub pin: Point,
    /// The hole line.
    pub line: HoleLine,
    legs: Vec<Point>,
}

impl Stage {
    /// Lays a hole out.
    ///
    /// # Errors
    /// [`NoPlan`] where it has no green or no such tee.
    pub fn new(question: Question, kit: Arc<Kit>) -> Result<Self, NoPlan> {
        let pin = question.pin_point().ok_or(NoPlan::NoGreen)?;
        let tee = question.tee_point().ok_or(NoPlan::NoTee)?;
        let ground = &question.hole.ground;
        let line = ground.line();
        let start = question.origin().0.0;
        let mut legs = vec![tee];
        legs.extend(ground.bends.iter().filter(|b| b.at.0 > start).map(|b| line.place(b.at, Across(0.0))));
        legs.push(ground.green.as_ref().map_or(pin, |g| g.middle));
        Ok(Self { lies: Rastered::new(ground), line, kit, tee, pin, legs, question })
    }

    /// Solves it and lets `f` ask.
    ///
    /// # Errors
    /// [`NoPlan`].
    pub fn solved<T>(
        &self,
        worth: &Worth,
        cancel: &AtomicBool,
        f: impl FnOnce(Solution<'_>) -> T,
    ) -> Result<T, NoPlan> {
        let green = LevelGreen { putts: &self.kit.pattern.putts, hole: self.pin };
        let hole = Hole {
            lies: &self.lies,
            tee: self.tee,
            pin: self.pin,
            line: &self.legs,
            green: &green,
            kit: &self.kit,
            conditions: &Still,
            fineness: self.kit.fineness,
        };
        solve(hole, worth, cancel).map(f).map_err(NoPlan::from)
    }

    /// The point of a place on the ribbon.
    pub fn point(&self, at: f64, across: f64) -> Point {
        self.line.place(Along(at), Across(across))
    }

    /// How far a point is from the hole, yards.
    pub fn to_hole(&self, at: Point) -> f64 {
        at.distance(self.pin)
    }

    /// The point that leaves `yards` to the hole on the line moved `across`; short of the hole unless `beyond`.
    pub fn leaving(&self, yards: f64, across: f64, beyond: bool) -> Point {
        let (pin_at, _) = self.line.locate(self.pin);
        // The distance falls steadily towards the hole along a playable line, so halving finds the place.
        let (mut near, mut far) = if beyond { (pin_at.0, pin_at.0 + 900.0) } else { (pin_at.0, pin_at.0 - 900.0) };
        for _ in 0..40 {
            let middle = 0.5 * (near + far);
            if self.to_hole(self.point(middle, across)) < yards {
                near = middle;
            } else {
                far = middle;
            }
        }
        let found = self.point(0.5 * (near + far), across);
        if (self.to_hole(found) - yards).abs() < 1.0 {
            return found;
        }
        // A ball as far beside the hole as it is from it.
        let (on, ahead) = self.line.at(pin_at);
        let _ = on;
        self.pin + ahead.to_the_right() * across.clamp(-yards, yards)
    }

    /// How a ball lies at a point when `word` is what its player called it; `None` on the green.
    pub fn lie(&self, at: Point, word: Option<ShotLie>) -> Option<Lie> {
        let kind = self.lies.kind(at);
        match word {
            Some(ShotLie::Green) => None,
            Some(ShotLie::Tee) => Some(Lie::Tee),
            Some(ShotLie::Fairway) => Some(Lie::Fairway),
            Some(ShotLie::Rough) => Some(Lie::Rough),
            Some(ShotLie::Deep) => Some(Lie::Deep),
            Some(ShotLie::Waste) => Some(Lie::Waste),
            Some(ShotLie::Trees) => Some(Lie::Trees),
            // The face of the bunker is the ground's to say, where the place is in one.
            Some(ShotLie::Sand) => Some(kind.lie().filter(|_| kind.sand()).unwrap_or(Lie::Sand)),
            None if kind == Kind::Green => None,
            None => Some(kind.lie().unwrap_or(Lie::Rough)),
        }
    }

    /// Whether a point is within 30 yards of the green (common practice for the short game).
    pub fn is_short(&self, at: Point) -> bool {
        match &self.question.hole.ground.green {
            Some(green) => green.outline.distance(at) <= 30.0,
            None => self.to_hole(at) <= 45.0,
        }
    }

    /// The number of a club of the bag by its name.
    pub fn club(&self, name: &str) -> Option<usize> {
        self.kit.pattern.clubs.iter().position(|c| c.name.trim().eq_ignore_ascii_case(name.trim()))
    }

    /// The name of the club of a play.
    pub fn name(&self, play: &Play) -> String {
        play.swing.as_ref().map_or_else(|| "a drop".to_owned(), |s| self.kit.pattern.name(s))
    }

    /// The best of a club's plays from a stand: its full swing and the length nearest to `total`, over aims about `best`.
    pub fn of_club(&self, solution: &Solution<'_>, stand: Stand, club: usize, best: &Play, total: f64) -> Option<Play> {
        let full = self.kit.swings(stand.lie).iter().find(|p| p.swing.club == club && p.swing.full)?.swing.total;
        let reach = best.target.distance(stand.at).max(1.0);
        let towards = (best.target - stand.at) * (1.0 / reach);
        let turned = |degrees: f64| stand.at + Point::towards(towards.degrees() + degrees) * reach;
        let mut lengths = vec![full];
        if (total - full).abs() > 8.0 && total < full {
            lengths.push(total.max(5.0));
        }
        let plays = lengths.iter().flat_map(|length| {
            [0.0, -4.0, 4.0].into_iter().filter_map(move |deg| solution.marked(stand, club, *length, turned(deg)))
        });
        plays.min_by(|a, b| a.cost.total_cmp(&b.cost))
    }
}
